"""POST /v1/riser."""

from typing import Any

from ..engine.answer import Answer
from ..engine.decide import levers
from ..engine.decide.riser import RiserCase, decide_riser
from ..engine.decide.riser_alternatives import KINDS
from ..engine.decide.riser_feeding import DistanceCase
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
    Sentence,
    Sentences,
    Text,
    Texts,
    above,
    at_least,
    refused_at,
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
    least_metal = Flag(
        "Whether the height is found that takes the least metal; a told height_to_diameter wins."
    )
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


class DistanceBody(Body):
    """How far apart two heavy sections are."""

    makes = DistanceCase
    section = Text("A heavy section.", required=True)
    to = Text("The other, where the riser stands.", required=True)
    distance = Quantity("length", "Length of the thinner metal between the two.", required=True)


class RiserRequest(Body):
    """A casting (as sections, or by its figures) and what is wanted of its riser."""

    makes = RiserCase

    def make(self, data: dict[str, Any]) -> Any:
        risers = data.get("risers") or ()
        if risers and data.get("riser") is not None:
            raise refused_at("risers", "inconsistent", "give riser or risers, not both")
        named = [one.section for one in risers]
        if len(named) > 1:
            for index, name in enumerate(named):
                if name is None:
                    said = "which section it is next to is needed where there are several risers"
                    raise refused_at(f"risers/{index}/section", "missing_field", said)
                if name in named[:index]:
                    said = "another of the risers is already next to this section"
                    raise refused_at(f"risers/{index}/section", "inconsistent", said)
            if not data.get("sections"):
                raise refused_at("sections", "missing_field", "several risers need a casting of sections")
        return super().make(data)

    sections = sections_field("The casting, as simple bodies.")
    casting = Nested(CastingBody, "The casting by its figures, instead of sections or beside them.")
    riser = Nested(RiserBody, "What is wanted of the riser; also of those added for other heavy sections.")
    risers = Nested(
        RiserBody,
        "Several risers, each next to its section, instead of riser.",
        many=True,
        max_items=20,
        min_items=1,
    )
    several = Flag(
        "Whether heavy sections that the riser cannot reach get risers of their own; they do unless told "
        "otherwise."
    )
    distances = Nested(
        DistanceBody,
        "How far apart heavy sections are, where one riser might feed both.",
        many=True,
        max_items=50,
    )
    alternatives = Flag("Whether other risers that would do are shown beside the main one.")
    sleeve_ratio = Number(
        "How many times a sleeve at hand raises a riser's modulus; for the alternative with a sleeve.",
        bound=within(1.0, 5.0),
    )
    metal_price = Quantity(
        "price", "What the metal costs; risers are then told in money too.", bound=at_least(0.0)
    )
    return_value = Quantity(
        "fraction", "What returned metal is worth, as a share of the price.", bound=within(0.0, 1.0)
    )
    currency = Text("Name of the money that the price is in, such as EUR.", longest=12)
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


class RiserEntry(Result):
    """One of the casting's risers."""

    subject = Text(
        "How checks name it: its place in the request, or its name where it was added.", required=True
    )
    section = Text("The section that it is next to.")
    feeds = Texts("The sections that it feeds, by name.", required=True)
    through = Texts("Heavy sections among them that it feeds through thinner metal.", required=True)
    why = Sentence("Why it is there, or what else it feeds; null for the main riser alone.")
    position = Choice(("top", "side"), "On the casting, or beside it.")
    shape = Choice(("cylinder", "domed", "ball"), "Its shape.")
    face = Text("The face that it stands on.")
    free_faces = Texts("Faces of that section that may bear a riser or its neck.", required=True)
    diameter = Quantity("length", "Diameter; null where there is none that would do.")
    height = Quantity("length", "Height (of a dome its straight part).")
    neck = Quantity("length", "Thickness of its round or square neck.")
    cut_off_area = Quantity("area", "Area to be cut through when it is taken off.")
    volume = Quantity("volume", "Its volume.")
    modulus = Quantity("length", "Its modulus, sleeve included.")
    freezing_time = Quantity("time", "When it is solid.")
    casting_volume = Quantity("volume", "Volume of the casting that it feeds.")
    casting_modulus = Quantity("length", "Modulus of the heaviest part that it feeds.")
    casting_time = Quantity("time", "When that part is solid.")
    last_section = Text("The last of its sections to freeze.")
    governs = Choice(CRITERIA, "The criterion that asks for the largest riser.")
    riser_mass = Quantity("mass", "Its mass as poured.")
    riser_left_mass = Quantity("mass", "What is left of it when it has fed.")
    metal_cost = Quantity("money", "Cost of its metal when what is left is returned; null without a price.")
    why_not = Sentence("Why there is none that would do.")


class AlternativeResult(Result):
    """One riser that would do instead of the main one, or why it would not."""

    kind = Choice(KINDS, "What is different about it.", required=True)
    serves = Flag("Whether it passes.", required=True)
    position = Choice(("top", "side"), "On the casting, or beside it.")
    shape = Choice(("cylinder", "domed", "ball"), "Its shape.")
    diameter = Quantity("length", "Diameter.")
    height = Quantity("length", "Height (of a dome its straight part).")
    neck = Quantity("length", "Thickness of its round or square neck.")
    volume = Quantity("volume", "Its volume.")
    cut_off_area = Quantity("area", "Area to be cut through when it is taken off.")
    governs = Choice(CRITERIA, "The criterion that asks for the largest riser.")
    riser_mass = Quantity("mass", "Metal poured into it.")
    riser_left_mass = Quantity("mass", "What is left of it when it has fed.")
    yield_ratio = Quantity("fraction", "Casting over casting and riser left.")
    metal_cost = Quantity("money", "Cost of its metal when what is left is returned; null without a price.")
    why_not = Sentence("Why it would not do.")


class FeedingResult(Result):
    """How this metal is fed, and all risers together."""

    freezing_class = Choice(("short", "middle", "long"), "How wide the metal's freezing range is.")
    reason = Sentence("How the metal freezes, and what that asks of its risers.", required=True)
    distance = Sentence("Whether it was judged how far a riser feeds, and why not.", required=True)
    isolated = Texts("Heavy sections that the main riser cannot reach, the heaviest first.", required=True)
    self_fed = Texts("Those of them that feed themselves, because the metal expands.", required=True)
    unfed = Texts("Those of them that no riser feeds.", required=True)
    advice = Sentences("What else would do, for each of them.", required=True)
    casting_mass = Quantity("mass", "Mass of the whole casting.")
    riser_mass = Quantity("mass", "Mass of all risers as poured.")
    riser_left_mass = Quantity("mass", "What is left of them.")
    yield_ratio = Quantity("fraction", "Casting over casting and all risers left.")
    metal_cost = Quantity("money", "Cost of the metal of all risers; null without a price.")


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
    risers = Nested(RiserEntry, "All risers of the casting, the main one first.", many=True, required=True)
    feeding = Nested(FeedingResult, "How the casting is fed; null where it is known by its figures alone.")
    alternatives = Nested(
        AlternativeResult,
        "Other risers beside the main one, those that serve first and least metal first, if asked for.",
        many=True,
        required=True,
    )


_DUMB_BELL: dict[str, Any] = {
    "mould": {"medium": "oil-bonded sand"},
    "sections": [
        {
            "name": "boss",
            "shape": "cylinder",
            "diameter": "60 mm",
            "height": "60 mm",
            "joins": [{"to": "web", "area": "600 mm^2"}],
        },
        {"name": "web", "shape": "plate", "length": "120 mm", "width": "60 mm", "thickness": "10 mm"},
        {
            "name": "hub",
            "shape": "cylinder",
            "diameter": "50 mm",
            "height": "50 mm",
            "joins": [{"to": "web", "area": "500 mm^2"}],
        },
    ],
    "riser": {"position": "side"},
}


@endpoint(
    "POST",
    "/v1/riser",
    operation="riser",
    tag="Casting",
    summary="The riser that keeps feeding the casting",
    description=(
        "The smallest riser that freezes after the casting and holds enough metal, by four criteria side "
        "by side, rounded up to what can be made and judged as it will be made. A riser that is already "
        "made (diameter, height) is judged alone. Heavy sections that metal cannot reach get risers of their "
        "own, by how the metal freezes; the fields of a single riser are then those of the main one and of "
        "what it feeds."
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
        "two heavy bosses on a thin web, in A356": {"alloy": "A356", "alternatives": True, **_DUMB_BELL},
        "the same in red brass C83600": {"alloy": "C83600", **_DUMB_BELL},
        "the same in a grey iron that expands": {
            "alloy": "grey iron",
            "properties": {"solidification_shrinkage": "-1.5 %"},
            **_DUMB_BELL,
        },
        "the same in aluminium bronze C95400, close together": {
            "alloy": "C95400",
            "distances": [{"section": "hub", "to": "boss", "distance": "15 mm"}],
            **_DUMB_BELL,
        },
        "a textbook's cube by modulus alone": {
            "casting": {"volume": "3375 cm^3", "modulus": "2.5 cm"},
            "riser": {"position": "side", "criteria": ["modulus"], "modulus_ratio": 1.0},
        },
    },
)
def riser(case: RiserCase) -> Answer:
    return decide_riser(case)
