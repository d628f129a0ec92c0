"""Requests with something wrong, for the remedies; between them every lever is of use at least once."""

from typing import Any

from pourwright_service.api.draw import FAIRLEAD

from .test_plan import BLOCK, JOB, PLATE, STOCK

SLAB = {"name": "slab", "shape": "plate", "length": "120 mm", "width": "80 mm", "thickness": "30 mm"}
PIN = {"name": "pin", "shape": "cylinder", "diameter": "60 mm", "height": "60 mm"}
LUMP = {"name": "lump", "shape": "plate", "length": "60 mm", "width": "40 mm", "thickness": "35 mm"}
BRONZE = {"alloy": "C87300", "mould": {"medium": "oil-bonded sand"}}
LIGHT = {"alloy": "A356", "mould": {"medium": "oil-bonded sand"}}
CHAIN = [
    {"name": "web", "shape": "plate", "length": "30 cm", "width": "10 cm", "thickness": "1 cm"},
    {
        "name": "boss",
        "shape": "cylinder",
        "diameter": "40 mm",
        "height": "40 mm",
        "joins": [{"to": "web", "area": "10 cm^2"}],
    },
    {
        "name": "hub",
        "shape": "cylinder",
        "diameter": "60 mm",
        "height": "60 mm",
        "joins": [{"to": "web", "area": "15 cm^2"}],
    },
]
POUR = {"alloy": "356", "poured_mass": "10 kg", "pour_time": "3.8 s", "sprue_height": "150 mm"}
BOLTS = {"Cu": 96.0, "Si": 3.0, "Mn": 0.9, "Fe": 0.1}
PLATE_PLAN = {**BRONZE, "part": {"sections": [PLATE]}}
LOW = {"length": "300 mm", "width": "250 mm", "heights": ["30 mm"]}

LUMPS = [
    {
        "name": "hub",
        "shape": "cylinder",
        "diameter": "60 mm",
        "height": "50 mm",
        "joins": [{"to": "web", "area": "6 cm^2"}],
    },
    {"name": "web", "shape": "plate", "length": "150 mm", "width": "60 mm", "thickness": "10 mm"},
    {
        "name": "boss",
        "shape": "cylinder",
        "diameter": "50 mm",
        "height": "45 mm",
        "joins": [{"to": "web", "area": "5 cm^2"}],
    },
]


def corner(fillet: str) -> list[dict[str, Any]]:
    """Two walls that meet at a corner."""
    join = {"to": "upright", "area": "12 cm^2", "kind": "corner", "fillet": fillet}
    wall = {"shape": "plate", "length": "100 mm", "width": "80 mm", "thickness": "12 mm"}
    return [{**wall, "name": "foot", "joins": [join]}, {**wall, "name": "upright"}]


POTS = [
    {"name": "small", "brim_volume": "0.5 L", "mass": "1.2 kg", "condition": "sound"},
    {"name": "large", "brim_volume": "1.5 L", "mass": "2.4 kg", "condition": "sound"},
]
MELT = {"alloy": "C87300", "melt_mass": "4.2 kg", "pouring_temperature": "1150 degC"}


def melted(shop: dict[str, Any], **more: Any) -> tuple[str, dict[str, Any]]:
    """A melt of silicon bronze in some shop."""
    return "/v1/melt", {**MELT, **more, "shop": shop}


FAILING: dict[str, tuple[str, dict[str, Any]]] = {
    "crucible too small": melted({"crucibles": POTS}, crucible="small"),
    "cracked crucible": melted(
        {"crucibles": [POTS[1], {**POTS[1], "name": "old", "condition": "cracked"}]}, crucible="old"
    ),
    "crucible too heavy": melted({"crucibles": POTS}, melt_mass="7.5 kg"),
    "burner too weak": melted({"furnace": {"fuel": "propane", "power": "1 kW"}}),
    "too little time": melted({"furnace": {"fuel": "propane", "power": "10 kW"}}, time="20 min"),
    "gas runs out": melted(
        {"furnace": {"fuel": "propane", "power": "20 kW"}, "bottle": {"contents": "0.4 kg"}}
    ),
    "gas runs out, weighed": melted(
        {"furnace": {"fuel": "propane", "power": "20 kW"}, "bottle": {"weight": "11.9 kg", "tare": "11.5 kg"}}
    ),
    "bottle grows cold": melted(
        {
            "furnace": {"fuel": "propane", "power": "60 kW"},
            "bottle": {"contents": "5 kg", "gas_pressure": "3 bar"},
        },
        melt_mass="5 kg",
        start_temperature="0 degC",
    ),
    "more poured than melted": melted({}, poured_mass="5 kg"),
    "too few ingot moulds": melted(
        {"ingot_moulds": [{"name": "bar", "volume": "0.1 L", "count": 1}]}, poured_mass="1 kg"
    ),
    "web between boss and hub": ("/v1/freezing", {"mould_constant": "4 min/cm^2", "sections": CHAIN}),
    "poured too cold": ("/v1/freezing", {**BRONZE, "sections": [SLAB], "pouring_temperature": "900 degC"}),
    "poured too hot": ("/v1/freezing", {**BRONZE, "sections": [SLAB], "pouring_temperature": "1300 degC"}),
    "riser too small": (
        "/v1/riser",
        {**BRONZE, "sections": [SLAB], "riser": {"diameter": "50 mm", "height": "50 mm"}},
    ),
    "riser too low": (
        "/v1/riser",
        {**BRONZE, "sections": [SLAB], "riser": {"diameter": "90 mm", "height": "20 mm"}},
    ),
    "riser that runs dry": (
        "/v1/riser",
        {
            **LIGHT,
            "sections": [SLAB],
            "riser": {"diameter": "46 mm", "height": "46 mm", "criteria": ["volume"]},
        },
    ),
    "neck too thin": (
        "/v1/riser",
        {
            **BRONZE,
            "sections": [SLAB],
            "riser": {"position": "side", "neck": {"thickness": "10 mm", "length": "40 mm"}},
        },
    ),
    "neck too thick": (
        "/v1/riser",
        {
            **BRONZE,
            "sections": [SLAB],
            "riser": {
                "position": "side",
                "diameter": "70 mm",
                "height": "70 mm",
                "neck": {"thickness": "69 mm", "length": "60 mm"},
            },
        },
    ),
    "foot wider than the face": ("/v1/riser", {**LIGHT, "sections": [{**LUMP, "width": "48 mm"}]}),
    "sprue too low": (
        "/v1/gating",
        {
            **POUR,
            "sprue_height": "60 mm",
            "casting": {"height": "160 mm", "above_gate": "100 mm"},
            "ratio": {"sprue": 1, "runner": 2, "gate": 2},
        },
    ),
    "head too low": (
        "/v1/gating",
        {
            "alloy": "356",
            "poured_mass": "10 kg",
            "pour_time": "3.8 s",
            "head": "100 mm",
            "casting": {"height": "160 mm", "above_gate": "90 mm"},
        },
    ),
    "fixed ratio": ("/v1/gating", {**POUR, "ratio": {"sprue": 1, "runner": 1, "gate": 1}}),
    "gates too small": ("/v1/gating", {**POUR, "gate": {"area": "8 cm^2"}, "runner": {"area": "7 cm^2"}}),
    "runner too narrow": ("/v1/gating", {**POUR, "ratio": {"sprue": 1, "runner": 1, "gate": 5}}),
    "runner made too narrow": ("/v1/gating", {**POUR, "runner": {"area": "7 cm^2"}}),
    "gated high up": ("/v1/gating", {**POUR, "casting": {"height": "90 mm", "above_gate": "30 mm"}}),
    "carried cold": (
        "/v1/pour-time",
        {
            **BRONZE,
            "poured_mass": "1 kg",
            "thickness": "12 mm",
            "pouring_temperature": "1000 degC",
            "pot": {"mouth_diameter": "150 mm", "metal_mass": "1 kg", "lowest_temperature": "990 degC"},
        },
    ),
    "poured from high up into thin walls": (
        "/v1/gating",
        {
            "alloy": "C87300",
            "poured_mass": "4 kg",
            "pour_time": "9 s",
            "sprue_height": "300 mm",
            "casting": {"height": "50 mm", "above_gate": "0 mm", "wall_thickness": "5 mm"},
            "gate_position": "top",
        },
    ),
    "coarse steps": (
        "/v1/gating",
        {**POUR, "poured_mass": "0.3 kg", "pour_time": "3 s", "rounding_step": "8 mm"},
    ),
    "sprue too narrow at the top": (
        "/v1/gating",
        {**POUR, "sprue": {"mouth_area": "9 cm^2"}, "basin_depth": "20 mm"},
    ),
    "no time for the pour": (
        "/v1/pour-time",
        {
            **BRONZE,
            "poured_mass": "4 kg",
            "thickness": "12 mm",
            "thinnest": "3 mm",
            "height": "80 mm",
            "gate_edge": "20 mm",
            "pot": {"mouth_diameter": "110 mm", "delay": "60 s"},
        },
    ),
    "poured too slowly": (
        "/v1/pour-time",
        {**BRONZE, "poured_mass": "4 kg", "thickness": "5 mm", "height": "80 mm", "pour_time": "60 s"},
    ),
    "poured too fast": (
        "/v1/pour-time",
        {
            **BRONZE,
            "poured_mass": "4 kg",
            "thickness": "12 mm",
            "height": "80 mm",
            "gate_edge": "200 mm",
            "pour_time": "1 s",
        },
    ),
    "carried for too long": (
        "/v1/pour-time",
        {
            **BRONZE,
            "poured_mass": "4 kg",
            "thickness": "12 mm",
            "pot": {"mouth_diameter": "110 mm", "delay": "300 s", "temperature": "1150 degC"},
        },
    ),
    "plan with a crucible too small": (
        "/v1/plan",
        {**JOB, "shop": {"crucibles": [{"name": "pot", "brim_volume": "0.2 L"}]}},
    ),
    "plan with flasks too low": ("/v1/plan", {**PLATE_PLAN, "shop": {"flasks": [LOW]}}),
    "plan with flasks too narrow": (
        "/v1/plan",
        {
            **PLATE_PLAN,
            "shop": {"flasks": [{"length": "220 mm", "width": "140 mm", "heights": ["100 mm", "150 mm"]}]},
        },
    ),
    "plan without a riser": ("/v1/plan", {**PLATE_PLAN, "riser": {"position": "none"}}),
    "plan with a riser too small": (
        "/v1/plan",
        {**PLATE_PLAN, "riser": {"diameter": "30 mm", "height": "30 mm"}},
    ),
    "plan with a fixed ratio and a low sprue": (
        "/v1/plan",
        {
            **PLATE_PLAN,
            "gating": {"ratio": {"sprue": 1, "runner": 1, "gate": 1}, "sprue_height": "45 mm"},
        },
    ),
    "plan of a block that yields little": (
        "/v1/plan",
        {**JOB, "part": {"sections": [BLOCK]}, "stock": STOCK},
    ),
    "stock without silicon": (
        "/v1/charge",
        {"alloy": "C87300", "melt_mass": "3 kg", "stock": [{"name": "bolts", "composition_percent": BOLTS}]},
    ),
    "stock too small": (
        "/v1/charge",
        {
            "alloy": "C87300",
            "melt_mass": "3 kg",
            "stock": [{"name": "ingot", "alloy": "C87300", "available": "1.9 kg"}],
        },
    ),
    "more charged than there is": (
        "/v1/charge",
        {
            "alloy": "C87300",
            "melt_mass": "2 kg",
            "stock": [
                {"name": "ingot", "alloy": "C87300", "available": "1.9 kg", "charged": "2.1 kg"},
                {"name": "more ingot", "alloy": "C87300", "available": "1 kg"},
            ],
        },
    ),
    "a lot too small": (
        "/v1/charge",
        {
            "alloy": "C87300",
            "melt_mass": "2 kg",
            "stock": [
                {"name": "ingot", "alloy": "C87300", "charged": "2.1 kg"},
                {"name": "bolts", "composition_percent": BOLTS, "charged": "3 g"},
            ],
        },
    ),
    "plan from stock without silicon": (
        "/v1/plan",
        {**PLATE_PLAN, "stock": [{"name": "bolts", "composition_percent": BOLTS, "price": "2 /kg"}]},
    ),
    "gates too thick to run full": (
        "/v1/gating",
        {**POUR, "casting": {"height": "90 mm", "above_gate": "30 mm"}, "gate": {"thickness": "40 mm"}},
    ),
    "too little edge": ("/v1/gating", {**POUR, "gate": {"edge": "100 mm", "thickness": "5 mm"}}),
    "runner too short for its gates": (
        "/v1/gating",
        {**POUR, "gates": 6, "runner": {"length": "40 mm"}, "casting": {"height": "60 mm"}},
    ),
    "runner longer than the pour": (
        "/v1/gating",
        {**POUR, "poured_mass": "1 kg", "runner": {"length": "900 mm"}, "casting": {"height": "60 mm"}},
    ),
    "one vent for a large mould": (
        "/v1/gating",
        {**POUR, "casting": {"height": "60 mm"}, "vents": {"count": 1, "diameter": "2 mm"}},
    ),
    "small drills": ("/v1/gating", {**POUR, "cutters": ["8 mm", "10 mm", "12 mm"]}),
    "gates shared out unevenly": (
        "/v1/gating",
        {
            "alloy": "356",
            "pour_time": "4 s",
            "sprue_height": "150 mm",
            "castings": [
                {"name": "large", "height": "60 mm", "volume": "400 cm^3", "gates": 1},
                {"name": "small", "height": "40 mm", "volume": "100 cm^3", "gates": 4},
            ],
        },
    ),
    "sharp corner": ("/v1/freezing", {**BRONZE, "sections": corner("1 mm")}),
    "fillet too large": ("/v1/freezing", {**BRONZE, "sections": corner("18 mm")}),
    "shrinkage that no metal has": (
        "/v1/riser",
        {**BRONZE, "sections": [SLAB], "properties": {"solidification_shrinkage": "11 %"}},
    ),
    "riser on a face to be kept": (
        "/v1/riser",
        {**BRONZE, "sections": [{**PIN, "keep_off": ["top", "bottom"]}], "riser": {"position": "top"}},
    ),
    "one riser for two lumps far apart": (
        "/v1/riser",
        {
            "alloy": "C95400",
            "mould": {"medium": "oil-bonded sand"},
            "sections": LUMPS,
            "several": False,
            "distances": [{"section": "hub", "to": "boss", "distance": "200 mm"}],
        },
    ),
    "pot too small for its moulds": (
        "/v1/pour-time",
        {
            **BRONZE,
            "poured_mass": "4 kg",
            "thickness": "12 mm",
            "pot": {"mouth_diameter": "110 mm", "moulds": 3, "metal_mass": "9 kg"},
        },
    ),
    "moulds too far apart": (
        "/v1/pour-time",
        {
            **BRONZE,
            "poured_mass": "1 kg",
            "thickness": "12 mm",
            "thinnest": "4 mm",
            "pot": {"mouth_diameter": "110 mm", "moulds": 4, "between": "60 s"},
        },
    ),
    "wall too thin": (
        "/v1/pour-time",
        {"alloy": "356", "poured_mass": "2 kg", "thickness": "8 mm", "thinnest": "1.5 mm"},
    ),
    "riser too small on the freeze map": (
        "/v1/freeze-maps",
        {
            "mesh": {"id": FAIRLEAD, "length_unit": "mm", "up": "-z"},
            **BRONZE,
            "riser": {"diameter": "32 mm", "height": "40 mm"},
            "cells": 15_000,
        },
    ),
    "riser that does not touch the casting": (
        "/v1/freeze-maps",
        {
            "mesh": {"id": FAIRLEAD, "length_unit": "mm", "up": "-z"},
            **BRONZE,
            "riser": {"diameter": "56 mm", "height": "56 mm", "at": ["0 mm", "80 mm", "0 mm"]},
            "cells": 15_000,
        },
    ),
    "two melts and too little for the first": (
        "/v1/charge/melts",
        {
            "melts": [
                {"name": "bronze", "alloy": "C87300", "melt_mass": "2 kg"},
                {"name": "copper", "alloy": "C81100", "melt_mass": "2 kg"},
            ],
            "stock": [
                {"name": "pipe", "composition_percent": {"Cu": 99.9, "P": 0.02}, "available": "3 kg"},
                {"name": "ingot", "alloy": "C87300", "available": "1 kg"},
            ],
        },
    ),
    "sand too wet": (
        "/v1/sand",
        {
            "system": "green sand",
            "sand_mass": "40 kg",
            "sample": {"wet_mass": "200 g", "dry_mass": "186 g"},
            "burnt_share": "10 %",
        },
    ),
    "sand wetted too much": (
        "/v1/sand",
        {"system": "green sand", "sand_mass": "40 kg", "water_share": "8 %"},
    ),
    "sand too dry and too lean": (
        "/v1/sand",
        {"system": "green sand", "sand_mass": "40 kg", "water_share": "1 %", "binder_share": "3 %"},
    ),
    "pot too long on the way": (
        "/v1/pour-time",
        {
            **BRONZE,
            "poured_mass": "3.8 kg",
            "thickness": "12 mm",
            "pot": {"mouth_diameter": "120 mm", "metal_mass": "4.2 kg", "delay": "600 s"},
        },
    ),
    "sand of clay": (
        "/v1/sand",
        {"system": "green sand", "sand_mass": "40 kg", "binder_share": "30 %"},
    ),
    "too little sand": (
        "/v1/sand",
        {
            "system": "oil-bonded sand",
            "sand_mass": "10 kg",
            "flask": {"length": "300 mm", "width": "250 mm", "height": "175 mm"},
        },
    ),
    "a pattern too fine, too steep and too lean": (
        "/v1/pattern",
        {
            "length": "200 mm",
            "width": "100 mm",
            "height": "10 mm",
            "alloy": "A356",
            "tolerance": "0.5 mm",
            "draft_degrees": 0.2,
            "machining": "0.5 mm",
            "machined_faces": {"height": 1},
        },
    ),
    "thin all over": ("/v1/pour-time", {"alloy": "356", "poured_mass": "1 kg", "thickness": "1.5 mm"}),
}
"""Path and request by what is wrong with it."""
