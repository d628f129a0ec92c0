"""POST /v1/plan."""

import dataclasses
from typing import Any

from ..engine.answer import Answer
from ..engine.decide import levers
from ..engine.decide.plan import decide_plan
from ..engine.decide.plan_case import (
    ChargeWishes,
    CoreCase,
    MeshUse,
    PartCase,
    PlanCase,
    PlanRiser,
)
from ..engine.decide.pour_time import PourTimeWishes
from ..engine.geometry.mesh import UPS
from .charge import ChargeRequest, HeelBody, StockBody
from .common import MouldBody, PropertiesBody, gravity_field
from .gating import GatingWishesBody
from .meshes import MeshIdField, stored_mesh
from .plan_result import PlanResult
from .pour_time import CarriedPotBody, PourTimeRequest
from .registry import endpoint
from .riser import RiserBody
from .schemas import (
    FINITE,
    AlloyField,
    Body,
    Choice,
    Flag,
    Nested,
    Quantities,
    Quantity,
    Text,
    at_least,
    refused_at,
)
from .sections import sections_field
from .shop import ShopBody

LENGTH_UNITS = {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": 0.0254, "ft": 0.3048}


LEAST_SIZE, MOST_SIZE = 1e-3, 100.0
"""m: the longest side of a casting; beyond, the length unit is wrong."""


class MeshUseBody(Body):
    """A stored mesh as this part uses it."""

    place = "/part/mesh/id"
    """Where the id stands in the request."""

    id = MeshIdField("SHA-256 of the mesh file; upload it first with PUT /v1/meshes/{sha256}.", required=True)
    length_unit = Choice(
        tuple(LENGTH_UNITS), "The length unit that the file's numbers are in.", required=True
    )
    represents = Choice(
        ("part", "pattern"), "What the mesh shows: the cold casting (default), or a pattern already enlarged."
    )
    up = Choice(UPS, "The axis of the file that points upwards in the mould; +z if left out.")

    def make(self, data: dict[str, Any]) -> Any:
        mesh, metres = stored_mesh(data["id"], self.place), LENGTH_UNITS[data["length_unit"]]
        low, high = mesh.box
        size = float(max(high - low)) * metres
        if not LEAST_SIZE <= size <= MOST_SIZE:
            told = f"in {data['length_unit']} the mesh would be {size:.3g} m long: look at the length unit"
            raise refused_at("length_unit", "out_of_bounds", told)
        return MeshUse(
            id=data["id"],
            mesh=mesh,
            length_unit=data["length_unit"],
            metres=metres,
            represents=data.get("represents") or "part",
            up=data.get("up") or "+z",
        )


class CoreCaseBody(Body):
    """A core and how it lies in the metal."""

    makes = CoreCase
    name = Text("What you call it.", required=True)
    volume = Quantity("volume", "Its volume within the metal.")
    diameter = Quantity("length", "Diameter of a round core, instead of its volume.")
    length = Quantity("length", "Length of a round core within the metal.")
    lies = Choice(
        ("lying", "standing"),
        "lying: metal gets under it and lifts it; standing: it passes through from bottom to top, seated "
        "in a print, and metal does not get under it.",
    )
    density = Quantity("density", "Bulk density of the core.")


class PartBody(Body):
    """The part: sections (three numbers are enough for a first plan), a mesh, or both."""

    makes = PartCase
    mesh = Nested(MeshUseBody, "A mesh: gives exact volume, size and lift.")
    sections = sections_field("The part as simple bodies: they give freezing times and the riser.")
    volume = Quantity("volume", "Volume of the cold casting, where you know it better.")
    height = Quantity("length", "Height as it lies in the mould.")
    length = Quantity("length", "Longer side in plan.")
    width = Quantity("length", "Shorter side in plan.")
    wall = Quantity(
        "length",
        "The thinnest wall that the metal has to fill; left out, the thinnest section's, or the mesh's.",
    )
    height_in_cope = Quantity(
        "length", "How far it stands above the parting; 0: all of it lies in the drag.", bound=at_least(0.0)
    )
    parting_area = Quantity("area", "Its section in the parting plane.", bound=at_least(0.0))
    volume_in_cope = Quantity("volume", "Its volume above the parting.", bound=at_least(0.0))
    cores = Nested(
        CoreCaseBody,
        "Its cores; left out, those that stand in cored bores of the sections.",
        many=True,
        max_items=50,
    )


class PlanRiserBody(RiserBody):
    """What is wanted of the riser; everything may be left to the engine."""

    makes = PlanRiser
    position = Choice(
        ("top", "side", "none"),
        "On the casting, beside it, or none: the plan then says what the casting lacks.",
    )
    open = Flag("Whether its top is open; a closed one is covered by sand and adds to the lift.")
    several = Flag(
        "Whether heavy sections that it cannot reach get risers of their own; they do unless told otherwise."
    )
    at = Quantities(
        "length",
        "With a mesh, x, y and z in the axes of its file: on the freeze map the riser stands on the highest "
        "metal over or under that place; left out, over the middle of what freezes last.",
        bound=FINITE,
        min_items=3,
        max_items=3,
    )


def _only(source: type[Body], target: type, skip: tuple[str, ...] = ()) -> dict[str, Any]:
    """The fields of one body that build another object too."""
    names = [field.name for field in dataclasses.fields(target) if field.name not in skip]
    declared: dict[str, Any] = source._declared_fields
    return {name: declared[name] for name in names if name in declared}


PourBody: type[Body] = type(
    "PourBody",
    (Body,),
    {
        "__module__": __name__,
        "__doc__": "What is wanted of the pour.",
        "makes": PourTimeWishes,
        **_only(PourTimeRequest, PourTimeWishes),
    },
)
ChargeWishesBody: type[Body] = type(
    "ChargeWishesBody",
    (Body,),
    {
        "__module__": __name__,
        "__doc__": "How the charge is chosen from the stock.",
        "makes": ChargeWishes,
        **_only(ChargeRequest, ChargeWishes),
    },
)


class PlanRequest(Body):
    """A part, an alloy and a mould; stock and shop where charge, crucible and flask are wanted."""

    makes = PlanCase
    part = Nested(PartBody, "The part.", required=True)
    alloy = AlloyField("The alloy; its properties and limits are looked up.")
    properties = Nested(PropertiesBody, "Properties of the metal that you know better; they win.")
    mould = Nested(MouldBody, "What the mould is made of.")
    mould_constant = Quantity("mould_constant", "Chvorinov's constant, where you have one.")
    pouring_temperature = Quantity("temperature", "How hot the metal leaves the crucible.")
    temperature_fall = Quantity("temperature_difference", "How much it cools until the mould is full.")
    curvature = Flag("Whether curved surfaces are corrected for; left out, the kind of metal decides.")
    gravity = gravity_field()
    freeze_map = Flag(
        "Whether the mesh is frozen in a coarse freeze map; it is, unless this is false. Without sections "
        "the riser follows from the map."
    )
    gating = Nested(GatingWishesBody, "What is wanted of sprue, runner and gates.")
    pour = Nested(PourBody, "What is wanted of the pour.")
    pot = Nested(
        CarriedPotBody,
        "The pot that carries the metal; left out, the crucible chosen, if its mouth is known.",
    )
    riser = Nested(PlanRiserBody, "What is wanted of the riser.")
    stock = Nested(StockBody, "The stock to melt.", many=True, max_items=200)
    charge = Nested(ChargeWishesBody, "How the charge is chosen.")
    heel = Nested(HeelBody, "What is already molten in the pot.")
    shop = Nested(ShopBody, "What the workshop has.")
    currency = Text("Name of the money that prices are in, such as EUR.", longest=12)
    title = Text("What you call this job; it is given back as it is.")

    def make(self, data: dict[str, Any]) -> Any:
        gating = data.get("gating")
        if gating is not None and gating.choke_area is not None and gating.choke_diameter is not None:
            raise refused_at("gating/choke_diameter", "inconsistent", "give choke_area or choke_diameter")
        return super().make(data)


SECTIONS: list[dict[str, Any]] = [
    {"name": "foot", "shape": "plate", "length": "180 mm", "width": "70 mm", "thickness": "12 mm"},
    {
        "name": "saddle",
        "shape": "bar",
        "length": "60 mm",
        "width": "40 mm",
        "height": "24 mm",
        "joins": [{"to": "foot", "area": "2400 mm^2"}],
    },
]
"""Part of the invented boat-yard fairlead, for the examples."""


@endpoint(
    "POST",
    "/v1/plan",
    operation="plan",
    tag="Plan",
    summary="The whole pour plan of a part, consistent with itself",
    description=(
        "Order of freezing, riser, pattern scale, what is poured, how hot and in what time, through which "
        "gating, from which charge, in which crucible and flask, and what must lie on the cope. The parts "
        "of the plan are iterated until they agree. Times and riser come from the sections; a mesh alone "
        "gives volume, size and lift, and leaves the riser unknown."
    ),
    request=PlanRequest,
    answer=PlanResult,
    levers=levers.PLAN,
    examples={
        "three numbers: a plain plate": {
            "alloy": "A356",
            "mould": {"medium": "green sand"},
            "part": {
                "sections": [
                    {
                        "name": "plate",
                        "shape": "plate",
                        "length": "200 mm",
                        "width": "120 mm",
                        "thickness": "15 mm",
                    }
                ]
            },
        },
        "a fairlead with stock and shop (invented)": {
            "alloy": "C87300",
            "mould": {"medium": "oil-bonded sand"},
            "part": {"sections": SECTIONS, "height_in_cope": "0 mm"},
            "gating": {"gate_position": "parting", "gates": 2},
            "riser": {"section": "foot", "face": "bottom", "height_to_diameter": 1.0},
            "currency": "EUR",
            "stock": [
                {
                    "name": "salvaged bolts",
                    "composition_percent": {"Cu": 96.0, "Si": 3.0, "Mn": 0.9, "Fe": 0.1},
                    "available": "4.2 kg",
                    "price": "2 /kg",
                },
                {"name": "ingot", "alloy": "C87300", "piece": "1.5 kg", "pieces": 3, "price": "14 /kg"},
                {
                    "name": "silicon lumps",
                    "composition_percent": {"Si": 98.5, "Fe": 0.5},
                    "available": "0.2 kg",
                    "price": "9 /kg",
                },
            ],
            "shop": {
                "crucibles": [
                    {"name": "small", "brim_volume": "0.8 L", "mouth_diameter": "110 mm"},
                    {"name": "middle", "brim_volume": "1.5 L", "mouth_diameter": "130 mm"},
                ],
                "flasks": [{"length": "300 mm", "width": "250 mm", "heights": ["75 mm", "100 mm", "150 mm"]}],
            },
        },
    },
)
def plan(case: PlanCase) -> Answer:
    return decide_plan(case)
