"""POST /v1/freezing."""

from ..engine.answer import Answer
from ..engine.decide import levers
from ..engine.decide.freezing import FreezingCase, TrialCase, decide_freezing
from ..engine.geometry.sections import JOIN_KINDS
from .common import MouldBody, PropertiesBody
from .registry import endpoint
from .schemas import AlloyField, Body, Choice, Count, Flag, Nested, Number, Quantity, Result, Text, Texts
from .sections import section_field, sections_field


class TrialBody(Body):
    """A trial casting of known shape that froze in a measured time in the same kind of mould."""

    makes = TrialCase
    section = section_field("The trial casting.", required=True)
    freezing_time = Quantity("time", "How long it took to freeze.", required=True)


class FreezingRequest(Body):
    """A casting as sections, and either a mould constant, a trial, or metal and mould by name."""

    makes = FreezingCase
    sections = sections_field("The casting, as simple bodies.", required=True)
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
    feeds_to = Text("The section that the riser stands on; left out, the one that freezes last.")


class SectionResult(Result):
    """When one section freezes."""

    name = Text("Name of the section.", required=True)
    volume = Quantity("volume", "Volume of one piece.", required=True)
    cooling_area = Quantity("area", "Surface that loses heat to the mould.", required=True)
    cored_area = Quantity("area", "Surface that touches a core.", required=True)
    core_factor = Number("How well the cored faces cool compared with the mould; 1 is as well.")
    modulus = Quantity("length", "Volume over cooling surface, cores counted at their worth.")
    thickness = Quantity("length", "The wall that the pour must fill.")
    shape_curvature = Number("g = K V/A^2: 0 flat, 1/4 long cylinder, 1/3 sphere.")
    bare_time = Quantity("time", "Freezing time by Chvorinov's bare rule.")
    freezing_time = Quantity("time", "Freezing time.")
    rank = Count("Place in the order of freezing; 1 freezes first.")


class FeedStepResult(Result):
    """One step of the way of the feed metal."""

    start = Text("The section that is fed.", required=True)
    end = Text("The neighbour that feeds it.", required=True)
    step = Number("Ratio of their moduli by freezing time; 1.1 or more feeds well.", required=True)
    feeds = Choice(
        ("well", "doubtful", "cut off"),
        "What that is worth: at least 1.1 feeds well, below 0.8 the section is cut off.",
        required=True,
    )
    way = Texts("The whole way, from the section to the last one or the one under the riser.", required=True)


class JunctionResult(Result):
    """Where two sections meet: the largest circle that fits in, and what follows from it."""

    wall = Text("The section that goes on past the junction.", required=True)
    branch = Text("The section that ends there.", required=True)
    kind = Choice(JOIN_KINDS, "How they meet.", required=True)
    wall_thickness = Quantity("length", "Thickness of the wall behind the junction.", required=True)
    branch_thickness = Quantity("length", "Thickness of the branch.", required=True)
    angle = Quantity("angle", "Angle between them, of a corner or a tee.")
    fillet = Quantity("length", "Radius of the fillet.")
    circle = Quantity("length", "Diameter of the largest circle in the junction.", required=True)
    circle_ratio = Number("Circle over the thicker wall; above 1.5 is a hot spot.", required=True)
    most_modulus = Quantity("length", "The most that the modulus of the place can be.")
    most_time_ratio = Number(
        "The most by which the place freezes later than the thicker wall; conduction in two dimensions "
        "says less, the less the larger the fillet.",
        required=True,
    )
    most_freezing_time = Quantity("time", "When the place is solid at the latest.")
    least_fillet = Quantity("length", "The least fillet that is good: a third of the thinner wall.")
    most_fillet = Quantity("length", "The largest fillet that is good: half of the thinner wall.")


class FreezingResult(Result):
    """Order of freezing."""

    volume = Quantity("volume", "Volume of the whole casting.", required=True)
    mould_constant = Quantity("mould_constant", "Mould constant used.")
    mould_constant_from = Choice(("given", "trial", "properties"), "Where the mould constant came from.")
    method = Choice(("bare", "curvature"), "Chvorinov's rule as printed, or corrected for curved surfaces.")
    pouring_temperature = Quantity("temperature", "Pouring temperature used.")
    filled_temperature = Quantity("temperature", "Temperature of the metal when the mould is full.")
    freezing_temperature = Quantity("temperature", "Temperature at which it is taken to freeze.")
    heat_to_freeze = Quantity("latent_heat", "Heat that the metal gives up from full mould to solid.")
    sections = Nested(SectionResult, "The sections, in the order of the request.", many=True, required=True)
    last_to_freeze = Text("The section that freezes last.")
    freezing_time = Quantity("time", "When it is solid.")
    feed_path = Nested(
        FeedStepResult, "For each section that is joined, its best way to the last.", many=True, required=True
    )
    apart = Texts("Sections that no join connects to it: each must be fed by itself.", required=True)
    junctions = Nested(
        JunctionResult,
        "Where sections meet, by their names; no section's own time contains it.",
        many=True,
        required=True,
    )


@endpoint(
    "POST",
    "/v1/freezing",
    operation="freezing",
    tag="Casting",
    summary="Which section freezes last, and when",
    description=(
        "Modulus and freezing time of every section, the order of freezing, whether feed metal can reach "
        "each section, and how heavy the metal is where sections meet. The mould constant is taken as "
        "given, from a trial casting, or computed from the properties of metal and mould."
    ),
    request=FreezingRequest,
    answer=FreezingResult,
    levers=levers.FREEZING,
    examples={
        "a plate with a known mould constant": {
            "mould_constant": "4 min/cm^2",
            "sections": [
                {"name": "plate", "shape": "plate", "length": "30 cm", "width": "10 cm", "thickness": "2 cm"}
            ],
        },
        "a boss on a plate, in silicon bronze": {
            "alloy": "C87300",
            "mould": {"medium": "oil-bonded sand"},
            "sections": [
                {
                    "name": "plate",
                    "shape": "plate",
                    "length": "180 mm",
                    "width": "70 mm",
                    "thickness": "12 mm",
                },
                {
                    "name": "boss",
                    "shape": "cylinder",
                    "diameter": "40 mm",
                    "height": "30 mm",
                    "joins": [{"to": "plate", "area": "1256 mm^2"}],
                },
            ],
        },
        "a rib on a plate, with its fillet": {
            "alloy": "A356",
            "mould": {"medium": "green sand"},
            "sections": [
                {
                    "name": "plate",
                    "shape": "plate",
                    "length": "200 mm",
                    "width": "100 mm",
                    "thickness": "12 mm",
                },
                {
                    "name": "rib",
                    "shape": "bar",
                    "length": "200 mm",
                    "width": "12 mm",
                    "height": "60 mm",
                    "joins": [{"to": "plate", "area": "2400 mm^2", "kind": "tee", "fillet": "5 mm"}],
                },
            ],
        },
    },
)
def freezing(case: FreezingCase) -> Answer:
    return decide_freezing(case)
