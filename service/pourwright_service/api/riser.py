"""POST /v1/riser."""

from ..engine.answer import Answer
from ..engine.decide import levers
from ..engine.decide.riser import RiserCase, decide_riser
from ..engine.decide.riser_inputs import CastingCase, NeckCase, RiserShape, SleeveCase
from .common import MouldBody, PropertiesBody
from .freezing import TrialBody
from .registry import endpoint
from .schemas import (
    AlloyField,
    Body,
    Choice,
    Choices,
    Flag,
    Nested,
    Number,
    Quantity,
    Result,
    Text,
    above,
    at_least,
    within,
)
from .sections import sections_field

END_STATES = ("cooling", "insulated", "joined")
CRITERIA = ("time", "modulus", "volume")


class SleeveBody(Body):
    """An insulating sleeve round the riser."""

    makes = SleeveCase
    modulus_ratio = Number(
        "How many times the sleeve raises the riser's modulus, by its maker.",
        bound=within(1.0, 5.0),
        required=True,
    )


class NeckBody(Body):
    """The channel between riser and casting."""

    makes = NeckCase
    length = Quantity("length", "Length of the neck.")
    thickness = Quantity("length", "Thickness of a round or square neck, where it is already made.")


class RiserFacesBody(Body):
    """What the riser's flat ends do."""

    top = Choice(END_STATES, "The top: cooling in the open, or insulated (covered).")
    bottom = Choice(END_STATES, "The foot: joined to the casting, cooling in sand, or insulated.")


class RiserBody(Body):
    """What is wanted of the riser; everything may be left to the engine."""

    makes = RiserShape
    position = Choice(("top", "side"), "On the casting, or beside it.")
    section = Text("The section that a top riser stands on; left out, the last to freeze.")
    face = Text("The face of that section that it stands on (pointing up in the mould).")
    shape = Choice(("cylinder", "domed", "ball"), "Shape of the riser; a domed one has a half ball on top.")
    height_to_diameter = Number("Height (a dome's straight part) over diameter.", bound=within(0.2, 5.0))
    diameter = Quantity("length", "Diameter, where the riser is already made: it is then only judged.")
    height = Quantity("length", "Its height (a dome's straight part); only beside a diameter.")
    faces = Nested(RiserFacesBody, "What its flat ends do.")
    sleeve = Nested(SleeveBody, "An insulating sleeve.")
    neck = Nested(NeckBody, "A neck between riser and casting; a side riser and a ball always have one.")
    feeding_efficiency = Quantity(
        "fraction", "Share of itself that the riser can give.", bound=within(0.0, 1.0, low_open=True)
    )
    time_ratio = Number("How many times longer than the casting it must stay liquid.", bound=above(0.0))
    modulus_ratio = Number("How many times the casting's modulus it must have.", bound=above(0.0))
    criteria = Choices(CRITERIA, "The criteria that size it; the largest riser is taken.")
    shrinkage_spread = Quantity(
        "fraction", "Points by which the shrinkage may be off, either way.", bound=within(0.0, 0.2)
    )
    rounding_step = Quantity(
        "length", "The diameter is rounded up to a whole number of these; 0 leaves it.", bound=at_least(0.0)
    )


class CastingBody(Body):
    """A casting by its figures; beside sections they win over what would follow from those."""

    makes = CastingCase
    volume = Quantity("volume", "Its volume.", required=True)
    modulus = Quantity("length", "Modulus of its heaviest part; the volume criterion does without.")
    freezing_time = Quantity("time", "How long that part takes to freeze.")


class RiserRequest(Body):
    """A casting (as sections, or by its figures) and what is wanted of its riser."""

    makes = RiserCase
    sections = sections_field("The casting, as simple bodies.")
    casting = Nested(CastingBody, "The casting by its figures, instead of sections or beside them.")
    riser = Nested(RiserBody, "What is wanted of the riser.")
    alloy = AlloyField("The alloy; its properties are looked up.")
    properties = Nested(PropertiesBody, "Properties of the metal that you know better; they win.")
    mould = Nested(MouldBody, "What the mould is made of.")
    mould_constant = Quantity(
        "mould_constant", "Chvorinov's constant, where you have one; it replaces the properties."
    )
    trial = Nested(TrialBody, "A trial casting from which the mould constant follows.")
    pouring_temperature = Quantity("temperature", "How hot the metal leaves the crucible.")
    temperature_fall = Quantity("temperature_difference", "How much it cools until the mould is full.")
    curvature = Flag("Whether curved surfaces are corrected for; left out, the kind of metal decides.")


class CriterionResult(Result):
    """The diameter that one criterion asks for."""

    criterion = Choice((*CRITERIA, "volume_x3"), "The criterion.", required=True)
    diameter = Quantity("length", "Least diameter by it, before rounding; null where it has no answer.")
    used = Flag("Whether it helped to size the riser.", required=True)


class RiserResult(Result):
    """The riser and how it stands beside the casting."""

    position = Choice(("top", "side"), "On the casting, or beside it.")
    shape = Choice(("cylinder", "domed", "ball"), "Shape of the riser.")
    section = Text("The section that it stands on.")
    face = Text("The face that it stands on.")
    diameter = Quantity("length", "Diameter.")
    height = Quantity("length", "Height (of a dome its straight part).")
    neck = Quantity("length", "Thickness of the round or square neck.")
    cut_off_area = Quantity("area", "Area to be cut through when the riser is taken off.")
    volume = Quantity("volume", "Volume of the riser.")
    modulus = Quantity("length", "Modulus of the riser, sleeve included.")
    freezing_time = Quantity("time", "When the riser is solid.")
    casting_volume = Quantity("volume", "Volume of the casting that it feeds.")
    casting_modulus = Quantity("length", "Modulus of the casting's heaviest part under this riser.")
    casting_time = Quantity("time", "When that part is solid.")
    last_section = Text("The casting's last section to freeze.")
    shrinkage = Quantity("fraction", "Shrinkage to feed, from the full mould to solid.")
    feeding_efficiency = Quantity("fraction", "Share of itself that the riser can give.")
    method = Choice(("bare", "curvature"), "Chvorinov's rule as printed, or corrected for curved surfaces.")
    mould_constant = Quantity("mould_constant", "Mould constant used.")
    criteria = Nested(CriterionResult, "The criteria side by side.", many=True, required=True)
    governs = Choice(CRITERIA, "The criterion that asks for the largest riser.")
    shrinkage_low = Quantity("fraction", "Low end of an estimated shrinkage.", bound=at_least(-1.0))
    shrinkage_high = Quantity("fraction", "High end of an estimated shrinkage.")
    volume_diameter_low = Quantity("length", "Diameter by volume at the low end.")
    volume_diameter_high = Quantity("length", "Diameter by volume at the high end; null: no riser can.")
    casting_mass = Quantity("mass", "Mass of the casting.")
    riser_mass = Quantity("mass", "Mass of the riser as poured.")
    riser_left_mass = Quantity("mass", "What is left of it when the casting has taken what it lacks.")
    yield_ratio = Quantity("fraction", "Casting over casting and riser left.")


@endpoint(
    "POST",
    "/v1/riser",
    operation="riser",
    tag="Casting",
    summary="The riser that keeps feeding the casting",
    description=(
        "The smallest riser that freezes after the casting and holds enough metal, by four criteria side "
        "by side, rounded up to what can be made and judged as it will be made. A riser that is already "
        "made (diameter, height) is judged alone."
    ),
    request=RiserRequest,
    answer=RiserResult,
    levers=levers.RISER,
    examples={
        "a slab in silicon bronze, riser on top": {
            "alloy": "C87300",
            "mould": {"medium": "oil-bonded sand"},
            "sections": [
                {"name": "slab", "shape": "plate", "length": "120 mm", "width": "80 mm", "thickness": "30 mm"}
            ],
            "riser": {"position": "top", "face": "top", "height_to_diameter": 1.0},
        },
        "a textbook's cube by modulus alone": {
            "casting": {"volume": "3375 cm^3", "modulus": "2.5 cm"},
            "riser": {"position": "side", "criteria": ["modulus"], "modulus_ratio": 1.0},
        },
    },
)
def riser(case: RiserCase) -> Answer:
    return decide_riser(case)
