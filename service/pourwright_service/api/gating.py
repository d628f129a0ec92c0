"""POST /v1/gating."""

from typing import Any

from ..engine.answer import Answer
from ..engine.decide import levers
from ..engine.decide.gating import GatingCase, decide_gating
from ..engine.decide.gating_case import (
    POSITIONS,
    FilledCase,
    GateCase,
    GatingWishes,
    LayerCase,
    RatioCase,
    RunnerCase,
    SprueCase,
)
from .common import PropertiesBody, gravity_field
from .registry import endpoint
from .schemas import (
    FINITE,
    AlloyField,
    Body,
    Choice,
    Count,
    Nested,
    Number,
    Quantity,
    Result,
    Series,
    Text,
    above,
    at_least,
    refused_at,
    within,
)

SHAPES = ("round", "square")

_PROPORTION = within(0.0, 20.0)

CONTRADICTIONS = (
    ("poured_mass", "volume"),
    ("pour_time", "flow"),
    ("choke_area", "choke_diameter"),
    ("basin_depth", "entry_velocity"),
    ("discharge_coefficient", "loss_coefficient"),
)
"""Pairs of fields that say the same in two ways."""


class RatioBody(Body):
    """A gating ratio with its parts by name; '1:4:4' alone does not say which part is which."""

    makes = RatioCase
    sprue = Number("Part of the sprue's foot.", bound=above(0.0), required=True)
    runner = Number("Part of the runner before the first gate.", bound=above(0.0), required=True)
    gate = Number("Part of all gates together.", bound=above(0.0), required=True)


class LayerBody(Body):
    """A layer of even section of the casting as it stands in the mould."""

    makes = LayerCase
    height = Quantity("length", "Its height.", required=True)
    volume = Quantity("volume", "What it holds.")
    section_area = Quantity("area", "Its section, instead of its volume.")

    def make(self, data: dict[str, Any]) -> Any:
        if (data.get("volume") is None) == (data.get("section_area") is None):
            raise refused_at("volume", "inconsistent", "give either the volume of the layer or its section")
        return super().make(data)


class FilledBody(Body):
    """The casting, risers included, as it stands in the mould."""

    makes = FilledCase
    height = Quantity("length", "From its lowest to its highest point.")
    above_gate = Quantity(
        "length",
        "Its highest point over the gate: 0 or less for a top gate, its height for a bottom gate.",
        bound=FINITE,
    )
    section_area = Quantity("area", "Its level section; left out, the poured volume over its height.")
    layers = Nested(
        LayerBody, "Layers from the bottom up, where the section is not even; instead of height.", many=True
    )
    wall_thickness = Quantity("length", "Its wall: how thick a gate may be, how fast metal must rise.")

    def make(self, data: dict[str, Any]) -> Any:
        if data.get("layers") and ("height" in data or "section_area" in data):
            raise refused_at("layers", "inconsistent", "give layers, or height and section_area")
        return super().make(data)


class SprueBody(Body):
    """What is wanted of the sprue."""

    makes = SprueCase
    shape = Choice(SHAPES, "Shape of its section.")
    mouth_area = Quantity("area", "Area of its mouth, where it is already made.")


class RunnerBody(Body):
    """What is wanted of the runner."""

    makes = RunnerCase
    area = Quantity("area", "Its area before the first gate, where it is already made.")
    length = Quantity("length", "From the sprue to the last gate.", bound=at_least(0.0))
    extension = Quantity("length", "How far it goes on past the last gate.", bound=at_least(0.0))


class GateBody(Body):
    """What is wanted of the gates."""

    makes = GateCase
    area = Quantity("area", "Area of all gates together, where they are already made.")
    thickness = Quantity("length", "Thickness of each gate.")
    length = Quantity("length", "From runner to casting.", bound=at_least(0.0))


class GatingWishesBody(Body):
    """What is wanted of sprue, runner and gates, and the head that drives the metal."""

    makes = GatingWishes
    head = Quantity("length", "Head over the gate; used as it is.")
    sprue_height = Quantity("length", "From the gate to the sprue's mouth; the basin's depth is added.")
    basin_depth = Quantity("length", "Metal kept over the sprue's mouth.", bound=at_least(0.0))
    entry_velocity = Quantity(
        "velocity", "Speed at which metal enters the sprue's mouth, instead of a depth.", bound=at_least(0.0)
    )
    gate_position = Choice(POSITIONS, "Where the gates meet the casting.")
    gates = Count("How many gates.", low=1, high=100)
    ratio = Nested(RatioBody, "Gating ratio; left out, the gates are sized by the critical velocity.")
    discharge_coefficient = Number(
        "Share of the loss-free flow that passes the choke; 1 for exercises without losses.", bound=above(0.0)
    )
    loss_coefficient = Number(
        "Losses by entry, bends and friction in velocity heads of the choke, instead of a coefficient.",
        bound=at_least(0.0),
    )
    choke_area = Quantity("area", "Area of the narrowest place, where it is already made: then only judged.")
    choke_diameter = Quantity("length", "The same as a diameter.")
    sprue = Nested(SprueBody, "What is wanted of the sprue.")
    runner = Nested(RunnerBody, "What is wanted of the runner.")
    gate = Nested(GateBody, "What is wanted of the gates.")
    well_area_ratio = Number("Area of the well under the sprue over the sprue's foot.", bound=_PROPORTION)
    well_depth_ratio = Number("Depth of the well over the runner's height.", bound=_PROPORTION)
    basin_width_ratio = Number(
        "Width of the pouring cup's brim over the sprue's mouth; 0: nothing stays in it.", bound=_PROPORTION
    )
    viscosity = Quantity("viscosity", "Viscosity of the liquid metal, for the Reynolds number.")
    rounding_step = Quantity(
        "length", "Sizes are rounded up to whole numbers of this; 0 leaves them.", bound=at_least(0.0)
    )

    def make(self, data: dict[str, Any]) -> Any:
        for one, other in CONTRADICTIONS:
            if one in data and other in data:
                raise refused_at(other, "inconsistent", f"give {one} or {other}, not both")
        return super().make(data)


class GatingRequest(GatingWishesBody):
    """What is to be filled, under which head, and what is wanted of sprue, runner and gates."""

    makes = GatingCase
    alloy = AlloyField("The alloy; its density and critical gate velocity are looked up.")
    properties = Nested(PropertiesBody, "Properties of the metal that you know better; they win.")
    gravity = gravity_field()
    poured_mass = Quantity("mass", "All metal that runs through this sprue, gating included.")
    volume = Quantity("volume", "The same as a volume of liquid, instead of its mass.")
    pour_time = Quantity("time", "Time in which the mould is to fill.")
    flow = Quantity("flow", "Flow at the start, instead of a time.")
    casting = Nested(FilledBody, "What is filled; left out, it fills under the full head throughout.")


class SprueResult(Result):
    """The sprue."""

    shape = Choice(SHAPES, "Shape of its section.", required=True)
    height = Quantity("length", "From gate to mouth.")
    basin_depth = Quantity("length", "Metal over its mouth.")
    exit_size = Quantity("length", "Diameter or side at its foot.", required=True)
    exit_area = Quantity("area", "Area at its foot.", required=True)
    exit_velocity = Quantity("velocity", "Speed of the metal at its foot.", required=True)
    reynolds = Number("Reynolds number at its foot.")
    mouth_size = Quantity("length", "Diameter or side at its mouth.")
    mouth_area = Quantity("area", "Area at its mouth.")
    mouth_area_needed = Quantity("area", "Least area at its mouth that lets the sprue run full.")
    mouth_pressure = Quantity("pressure", "Pressure in its mouth over the air's; negative draws in air.")


class RunnerResult(Result):
    """The runner."""

    width = Quantity("length", "Width.", required=True)
    heights = Series("length", "Height before the first gate, the second and so on.", required=True)
    areas = Series("area", "Areas there.", required=True)
    velocity = Quantity("velocity", "Speed of the metal before the first gate.", required=True)
    length = Quantity("length", "From the sprue to the last gate.", required=True)
    extension = Quantity("length", "Past the last gate.", required=True)


class GatesResult(Result):
    """The gates."""

    count = Count("How many.", required=True)
    width = Quantity("length", "Width of each.", required=True)
    thickness = Quantity("length", "Thickness of each.", required=True)
    area = Quantity("area", "Area of all together.", required=True)
    velocity = Quantity("velocity", "Speed of the metal in them at the start, its fastest.", required=True)
    quiet_head = Quantity("length", "Largest head at which gates of this share of the choke run quietly.")


class RatioResult(Result):
    """Areas as parts of the sprue's foot."""

    sprue = Number("Sprue's foot.", required=True)
    runner = Number("Runner before the first gate.", required=True)
    gate = Number("All gates.", required=True)
    series_share = Quantity(
        "fraction", "What all places in a row pass, as a share of the narrowest alone.", required=True
    )


class TradeRatioResult(Result):
    """A ratio that the trade reports for this kind of metal."""

    metal = Text("What it was used for.", required=True)
    sprue = Number("Sprue's foot.", required=True)
    runner = Number("Runner.", required=True)
    gate = Number("Gates.", required=True)
    source = Text("Source key.", required=True)
    place = Text("What the source says of it.")


class MetalResult(Result):
    """Liquid metal that stays in the gating system."""

    sprue = Quantity("volume", "In the sprue.")
    well = Quantity("volume", "In the well under it.")
    runner = Quantity("volume", "In the runner and its extension.")
    gates = Quantity("volume", "In the gates.")
    basin = Quantity("volume", "In the pouring cup.")
    volume = Quantity("volume", "All parts that are known.", required=True)
    mass = Quantity("mass", "The same as a mass.")


class GatingResult(Result):
    """The gating system, how it fills the mould, and what it holds."""

    gate_position = Choice(POSITIONS, "Where the gates meet the casting.")
    head = Quantity("length", "Head over the gate.")
    effective_head = Quantity("length", "Steady head that fills in the same time: the exact integral.")
    mean_head = Quantity("length", "The textbooks' mean head, for comparison; never used.")
    head_left = Quantity("length", "Head over the highest metal when the mould is full.")
    discharge_coefficient = Number("Discharge coefficient of the choke.")
    volume = Quantity("volume", "Metal through the choke.")
    choke_at = Choice(("sprue", "runner", "gates"), "Where the narrowest place is.")
    choke_area = Quantity("area", "Its area.")
    choke_velocity = Quantity("velocity", "Speed of the metal there at the full head.")
    fill_time = Quantity("time", "Time in which the mould fills, by the exact integral.")
    mean_head_time = Quantity("time", "What the mean head would give, for comparison.")
    flow_start = Quantity("flow", "Flow at the start.")
    flow_end = Quantity("flow", "Flow when the mould is full.")
    rise_velocity = Quantity("velocity", "Height of the casting over its fill time.")
    slowest_rise = Quantity("velocity", "Slowest rise of the metal in the mould.")
    free_fall = Quantity("length", "How far metal drops from the gate to the floor of the mould.")
    critical_velocity = Quantity("velocity", "Speed above which the metal's front breaks up.")
    critical_fall = Quantity("length", "Free fall that gives this speed.")
    sprue = Nested(SprueResult, "The sprue.")
    runner = Nested(RunnerResult, "The runner.")
    gates = Nested(GatesResult, "The gates.")
    ratio = Nested(RatioResult, "Areas as parts.")
    trade_ratios = Nested(
        TradeRatioResult, "Ratios reported for this kind of metal, to compare with.", many=True, required=True
    )
    metal = Nested(MetalResult, "Liquid metal that stays in the gating system.")


@endpoint(
    "POST",
    "/v1/gating",
    operation="gating",
    tag="Casting",
    summary="Sprue, runner and gates that fill a mould in the time wanted",
    description=(
        "Sizes the choke by the exact integral of the falling head, tapers the sprue, and makes the gates "
        "wide enough for the metal to enter quietly; or, where a ratio or sizes are given, judges them. "
        "Metal in the gating system is told by part, so that it can be added to what is poured."
    ),
    request=GatingRequest,
    answer=GatingResult,
    levers=levers.GATING,
    examples={
        "a bottom-gated block with a named ratio": {
            "alloy": "356",
            "poured_mass": "10 kg",
            "pour_time": "3.8 s",
            "sprue_height": "150 mm",
            "casting": {"height": "60 mm", "above_gate": "60 mm"},
            "gate_position": "bottom",
            "ratio": {"sprue": 1, "runner": 4, "gate": 4},
            "discharge_coefficient": 0.8,
        },
        "gates by critical velocity, casting in the drag and riser in the cope": {
            "alloy": "C87300",
            "poured_mass": "3.8 kg",
            "pour_time": "4.4 s",
            "sprue_height": "75 mm",
            "gate_position": "parting",
            "casting": {
                "layers": [
                    {"height": "72 mm", "volume": "245 cm^3"},
                    {"height": "56 mm", "volume": "138 cm^3"},
                ],
                "above_gate": "56 mm",
                "wall_thickness": "12 mm",
            },
            "gates": 2,
        },
        "a printed exercise: the sprue is given": {
            "choke_diameter": "10 mm",
            "head": "250 mm",
            "volume": "1000 cm^3",
            "discharge_coefficient": 1,
            "gravity": "9.81 m/s^2",
        },
    },
)
def gating(case: GatingCase) -> Answer:
    return decide_gating(case)
