"""POST /v1/gating."""

from itertools import pairwise
from typing import Any

from ..engine.answer import Answer
from ..engine.assess.gating_layout import FRAME
from ..engine.decide import levers
from ..engine.decide.gating import GatingCase, decide_gating
from ..engine.decide.gating_case import (
    MOST_GATES,
    POSITIONS,
    FilledCase,
    GateCase,
    GatingWishes,
    LayerCase,
    LossesCase,
    ProfileCase,
    RatioCase,
    RunnerCase,
    SprueCase,
    VentCase,
)
from .common import PropertiesBody, gravity_field
from .gating_result import SHAPES, GatingResult
from .registry import endpoint
from .schemas import (
    FINITE,
    AlloyField,
    Body,
    Choice,
    Count,
    Nested,
    Number,
    Quantities,
    Quantity,
    Text,
    above,
    at_least,
    refused_at,
    within,
)

_PROPORTION = within(0.0, 20.0)

CONTRADICTIONS = (
    ("poured_mass", "volume"),
    ("pour_time", "flow"),
    ("choke_area", "choke_diameter"),
    ("basin_depth", "entry_velocity"),
    ("discharge_coefficient", "loss_coefficient"),
    ("discharge_coefficient", "losses"),
    ("loss_coefficient", "losses"),
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


class ProfileBody(Body):
    """The casting's section at a level; between two of them it changes evenly."""

    makes = ProfileCase
    level = Quantity("length", "Level over the casting's lowest point.", bound=at_least(0.0), required=True)
    area = Quantity("area", "Section there, of all metal at this level.", bound=at_least(0.0), required=True)


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
    volume = Quantity("volume", "What one of them holds, instead of its section.")
    layers = Nested(
        LayerBody, "Layers from the bottom up, where the section is not even; instead of height.", many=True
    )
    profile = Nested(
        ProfileBody,
        "Sections from the lowest level, 0, up; the same level twice is a step. Instead of height.",
        many=True,
    )
    wall_thickness = Quantity("length", "Its wall: how thick a gate may be, how fast metal must rise.")
    count = Count("How many equal ones hang on the sprue.", low=1, high=100)

    def make(self, data: dict[str, Any]) -> Any:
        given = [name for name in ("height", "layers", "profile") if data.get(name)]
        if len(given) > 1:
            raise refused_at(given[1], "inconsistent", "give height, layers or profile")
        sized = [name for name in ("section_area", "volume", "layers", "profile") if data.get(name)]
        if len(sized) > 1:
            raise refused_at(sized[1], "inconsistent", "give section_area, volume, layers or profile")
        check_profile(data.get("profile") or ())
        return super().make(data)


def check_profile(points: tuple[ProfileCase, ...]) -> None:
    """Refuse a profile that does not climb from level 0, or that holds nothing."""
    if not points:
        return
    if points[0].level != 0.0:
        raise refused_at("profile/0/level", "inconsistent", "the first level is the lowest point: 0")
    for index, (one, other) in enumerate(pairwise(points), 1):
        if other.level < one.level:
            raise refused_at(f"profile/{index}/level", "inconsistent", "levels go upwards")
    top = points[-1].level
    held = [one.area + other.area for one, other in pairwise(points) if other.level > one.level]
    if not held or sum(held) <= 0.0:
        raise refused_at("profile", "inconsistent", "the profile needs some height and some section")
    if top < 1e-6:
        raise refused_at("profile", "inconsistent", "the profile is too low to hold metal")


class HungCastingBody(FilledBody):
    """One kind of casting among several on a sprue."""

    name = Text("What to call it.")
    gates = Count("Gates on each; left out, by the metal it takes.", low=1, high=20)


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
    edge = Quantity("length", "Edge that each casting offers to gates; they may take a third of it.")


class LossesBody(Body):
    """Losses on the metal's way, to be added up to a discharge coefficient."""

    makes = LossesCase
    entry_radius = Quantity(
        "length", "How round the edge of the sprue's mouth is; 0: sharp.", bound=at_least(0.0)
    )
    roughness = Quantity("length", "Grain of the mould's face.", bound=at_least(0.0))
    turns = Count("Sharp right-angled turns in the runner itself.", high=20)
    filter_loss = Number(
        "What a filter in the runner costs, in velocity heads there, by its maker's card.",
        bound=at_least(0.0),
    )


class VentsBody(Body):
    """What is wanted of the vents, and what lets air out anyway."""

    makes = VentCase
    count = Count("How many, where they are already made: then only judged.", high=1000)
    diameter = Quantity("length", "How wide each is.")
    back_pressure = Quantity("pressure", "How much the pent-up air may press.")
    air_temperature = Quantity("temperature", "How hot the air leaves.")
    coefficient = Number("Share of the loss-free flow of air that a vent passes.", bound=within(0.05, 1.0))
    open_area = Quantity("area", "Open risers and flow-offs, all together.", bound=at_least(0.0))


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
    gates = Count("How many gates; with several equal castings, on each of them.", low=1, high=100)
    ratio = Nested(RatioBody, "Gating ratio; left out, the gates are sized by the critical velocity.")
    discharge_coefficient = Number(
        "Share of the loss-free flow that passes the choke; 1 for exercises without losses.", bound=above(0.0)
    )
    loss_coefficient = Number(
        "Losses by entry, bends and friction in velocity heads of the choke, instead of a coefficient.",
        bound=at_least(0.0),
    )
    losses = Nested(
        LossesBody,
        "Add up the losses by entry, turns and friction of this very system, instead of a coefficient.",
    )
    choke_area = Quantity("area", "Area of the narrowest place, where it is already made: then only judged.")
    choke_diameter = Quantity("length", "The same as a diameter.")
    sprue = Nested(SprueBody, "What is wanted of the sprue.")
    runner = Nested(RunnerBody, "What is wanted of the runner.")
    gate = Nested(GateBody, "What is wanted of the gates.")
    vents = Nested(VentsBody, "What is wanted of the vents.")
    cutters = Quantities(
        "length",
        "Sizes of the drills and cutters at hand: sprue and runner are made as wide as the next one.",
        max_items=100,
    )
    well_area_ratio = Number("Area of the well under the sprue over the sprue's foot.", bound=_PROPORTION)
    well_depth_ratio = Number(
        "Depth of the well, from the foot of the sprue, over the runner's height.", bound=_PROPORTION
    )
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
    castings = Nested(
        HungCastingBody,
        "Several kinds on one sprue, in the order of their gates along the runner.",
        many=True,
        max_items=20,
    )

    def make(self, data: dict[str, Any]) -> Any:
        castings = data.get("castings") or ()
        if castings and data.get("casting") is not None:
            raise refused_at("castings", "inconsistent", "give casting or castings, not both")
        if castings and data.get("gates") is not None:
            raise refused_at("gates", "inconsistent", "say in castings how many gates each has")
        casting = data.get("casting")
        alike: tuple[FilledCase, ...] = castings or ((casting,) if casting is not None else ())
        gates = sum(one.count * (one.gates or data.get("gates") or 1) for one in alike)
        if gates > MOST_GATES:
            raise refused_at(
                "castings" if castings else "gates", "out_of_bounds", f"at most {MOST_GATES} gates on a sprue"
            )
        return super().make(data)


@endpoint(
    "POST",
    "/v1/gating",
    operation="gating",
    tag="Casting",
    summary="Sprue, runner and gates that fill a mould in the time wanted",
    description=(
        "Sizes the choke by the exact integral of the falling head, tapers the sprue, and makes the gates "
        "wide enough for the metal to enter quietly; or, where a ratio or sizes are given, judges them. "
        "Several castings may hang on one sprue; sections may change with height in any way. The discharge "
        "coefficient is the usual one, the caller's, or added up from the losses of the system. Vents are "
        "sized for the air that must leave. Metal in the gating system is told by part, and the layout draws "
        f"every channel. {FRAME} Filters are not sized: no capacity of theirs is published; give the "
        "maker's loss under losses."
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
        "three castings on one sprue, losses added up, cut with the drills at hand": {
            "alloy": "356",
            "poured_mass": "2.4 kg",
            "pour_time": "2.6 s",
            "sprue_height": "100 mm",
            "losses": {"entry_radius": "5 mm"},
            "cutters": ["8 mm", "10 mm", "12 mm", "16 mm", "20 mm", "25 mm", "32 mm", "50 mm"],
            "castings": [
                {
                    "name": "cheek",
                    "count": 2,
                    "profile": [
                        {"level": "0 mm", "area": "60 cm^2"},
                        {"level": "20 mm", "area": "60 cm^2"},
                        {"level": "20 mm", "area": "20 cm^2"},
                        {"level": "50 mm", "area": "10 cm^2"},
                    ],
                    "above_gate": "50 mm",
                    "wall_thickness": "10 mm",
                },
                {
                    "name": "lug",
                    "height": "30 mm",
                    "volume": "80 cm^3",
                    "above_gate": "30 mm",
                    "wall_thickness": "10 mm",
                },
            ],
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
