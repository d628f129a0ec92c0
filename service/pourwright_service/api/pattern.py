"""POST /v1/pattern."""

from ..engine.answer import Answer
from ..engine.decide.pattern import PROCESSES, PatternCase, decide_pattern
from ..engine.decide.pattern_levers import PATTERN
from .common import PropertiesBody
from .registry import endpoint
from .schemas import (
    AlloyField,
    Body,
    Choice,
    Nested,
    Number,
    NumberMap,
    Quantity,
    Result,
    Text,
    at_least,
    within,
)

AXES = ("length", "width", "height")


class PatternRequest(Body):
    """A finished part, and how its pattern is to be made."""

    makes = PatternCase
    length = Quantity("length", "Of the finished part, or of an old one that is to be copied.")
    width = Quantity("length", "Its width.")
    height = Quantity("length", "Its height, the way the pattern is drawn.")
    alloy = AlloyField("The alloy; its contraction is looked up.")
    properties = Nested(PropertiesBody, "Properties of the metal that you know better, such as contraction.")
    machined_faces = NumberMap(
        "How many of the two ends of each axis are machined; none if left out.",
        names=AXES,
        bound=within(0.0, 2.0),
    )
    machining = Quantity("length", "Taken off each machined face; left out, by table.", bound=at_least(0.0))
    hindrance = NumberMap(
        "Share of the contraction that a core or the mould holds back along each axis: 0, free (the "
        "default), to 1.",
        names=AXES,
        bound=within(0.0, 1.0),
    )
    master_contraction = Quantity(
        "fraction",
        "Contraction of a metal pattern that is cast from the one asked for (a master).",
        bound=within(0.0, 0.05),
    )
    draft_degrees = Number("Draft of the sides, degrees.", bound=within(0.0, 45.0))
    rapping = Quantity("length", "What rapping widens the mould by.", bound=at_least(0.0))
    process = Choice(PROCESSES, "How it is moulded; it says which tolerance is held.")
    tolerance = Quantity("length", "Total tolerance wanted on the largest size.")
    pattern_mass = Quantity("mass", "Mass of a solid pattern, wax or print.")
    pattern_density = Quantity("density", "Density of its material.")


class PatternAxisLine(Result):
    """One axis of the pattern."""

    axis = Text("Which.", required=True)
    finished = Quantity("length", "The finished part.", required=True)
    pattern = Quantity("length", "The pattern, machining and contraction counted.", required=True)
    at_the_parting = Quantity("length", "The same at the parting, with draft, less rapping.", required=True)
    part_as_pattern_gives = Quantity(
        "length", "What a casting measures for which the part itself was moulded.", required=True
    )
    build_up = Quantity(
        "length", "What the part must be built up by on each end to serve as the pattern.", required=True
    )


class PatternSizesResult(Result):
    """How large the pattern must be."""

    contraction = Quantity("fraction", "Linear contraction used.")
    contraction_low = Quantity("fraction", "Least that is reported for this kind of metal.")
    contraction_high = Quantity("fraction", "Most that is reported.")
    scale = Number("Factor on every free length; the scale of a printed pattern.")
    volume_ratio = Number("Mould's cavity over casting, by volume.")
    axes = Nested(PatternAxisLine, "Axis by axis.", many=True)
    draft = Quantity("length", "Draft on one side, over the whole height.")
    held_tolerance = Quantity("length", "Total tolerance that this moulding holds on the largest size.")
    casting_mass = Quantity("mass", "Mass of the casting, from the pattern's.")


@endpoint(
    "POST",
    "/v1/pattern",
    operation="pattern",
    tag="Casting",
    summary="How large the pattern must be",
    description=(
        "Machining, contraction (free or held back, axis by axis), draft and rapping on a finished part; the "
        "scale of a printed pattern; what an old part used as a pattern would give, and what it must be "
        "built up by; the casting's mass from that of a solid pattern, wax or print; the tolerance that this "
        "way of moulding holds."
    ),
    request=PatternRequest,
    answer=PatternSizesResult,
    levers=PATTERN,
    examples={
        "a bracket machined on one face": {
            "length": "180 mm",
            "width": "70 mm",
            "height": "40 mm",
            "alloy": "C87300",
            "machined_faces": {"height": 1},
        },
        "too fine for hand-moulded sand": {
            "length": "200 mm",
            "width": "100 mm",
            "height": "10 mm",
            "alloy": "A356",
            "tolerance": "0.5 mm",
        },
        "a wax by its mass": {"alloy": "C87300", "pattern_mass": "120 g", "pattern_density": "0.97 g/cm^3"},
    },
)
def pattern(case: PatternCase) -> Answer:
    return decide_pattern(case)
