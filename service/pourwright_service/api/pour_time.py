"""POST /v1/pour-time."""

from typing import Any

from ..engine.answer import Answer
from ..engine.decide import levers
from ..engine.decide.pot import MouldPourCase, PotCase
from ..engine.decide.pour_time import LAWS, RATE_BANDS, PourTimeCase, decide_pour_time
from .common import MouldBody, PropertiesBody, gravity_field
from .registry import endpoint
from .schemas import (
    AlloyField,
    Body,
    Choice,
    Choices,
    Count,
    Flag,
    Nested,
    Number,
    Quantity,
    Result,
    Sentence,
    Text,
    above,
    at_least,
    refused_at,
    within,
)

_SHARE = within(0.0, 1.0, low_open=True)


class MouldPourBody(Body):
    """One of several moulds that are poured from the pot, in their order."""

    makes = MouldPourCase
    name = Text("What you call it.", longest=60)
    mass = Quantity("mass", "Metal that it takes; left out, poured_mass.")
    pour_time = Quantity("time", "Its pour time; left out, the one of this answer.")
    wait = Quantity("time", "From the end of the pour before it; left out, pot.between.", bound=at_least(0.0))
    thinnest = Quantity("length", "Its thinnest section; left out, that of the request.")


class CarriedPotBody(Body):
    """The pot (crucible, ladle) that carries the metal from the furnace to the mould."""

    makes = PotCase
    mouth_diameter = Quantity("length", "Width of its mouth, where the metal's heat leaves.")
    metal_mass = Quantity("mass", "Metal in it; left out, what is poured, into all its moulds.")
    wall_area = Quantity(
        "area",
        "Hot wall and bottom that the metal touches: their outside radiates too. Left out, those of a plain "
        "cylinder as wide as the mouth; 0 for a pot lagged on the outside.",
        bound=at_least(0.0),
    )
    wall_thickness = Quantity(
        "length",
        "Thickness of the wall of a crucible lifted hot out of the furnace. Its heat goes to the metal at "
        "the slow end of the answer, at the fast end it does not.",
        bound=at_least(0.0),
    )
    emissivity_low = Number("Emissivity of the metal's surface when clean.", bound=_SHARE)
    emissivity_high = Number("Emissivity of the metal's surface under oxide.", bound=_SHARE)
    wall_emissivity_low = Number("Least emissivity of the wall.", bound=within(0.0, 1.0))
    wall_emissivity_high = Number("Greatest effective emissivity of the wall.", bound=within(0.0, 1.0))
    temperature = Quantity(
        "temperature",
        "The metal's, in the furnace just before it is drawn; left out, the pouring temperature.",
    )
    lowest_temperature = Quantity("temperature", "Below this it is no longer poured.")
    delay = Quantity("time", "From the furnace to the first mould.", bound=at_least(0.0))
    depth = Quantity("length", "Depth of metal over the nozzle of a pot that pours from its bottom.")
    nozzle_diameter = Quantity("length", "Diameter of that nozzle.")
    nozzle_coefficient = Number("Discharge coefficient of that nozzle.", bound=above(0.0))

    def make(self, data: dict[str, Any]) -> Any:
        for kind in ("emissivity", "wall_emissivity"):
            low, high = data.get(f"{kind}_low"), data.get(f"{kind}_high")
            if low is not None and high is not None and low > high:
                raise refused_at(f"{kind}_low", "inconsistent", "the low end lies above the high end")
        return super().make(data)


class PotBody(CarriedPotBody):
    """The pot (crucible, ladle) that carries the metal, and the moulds that are poured from it."""

    moulds = Count("How many moulds, all like this one, are poured from it.", low=1, high=50)
    pours = Nested(
        MouldPourBody,
        "The moulds poured from it one by one, instead of their number.",
        many=True,
        max_items=50,
    )
    between = Quantity("time", "From the end of one pour to the start of the next.", bound=at_least(0.0))

    def make(self, data: dict[str, Any]) -> Any:
        if data.get("moulds") is not None and data.get("pours"):
            raise refused_at("pours", "inconsistent", "give moulds (how many) or pours (each), not both")
        return super().make(data)


class PourTimeRequest(Body):
    """What is poured, how thick its walls are, and what limits the time."""

    makes = PourTimeCase
    alloy = AlloyField("The alloy; its properties and pouring range are looked up.")
    family = Choice(tuple(LAWS), "The family of metals whose law of pour time applies, without an alloy.")
    properties = Nested(PropertiesBody, "Properties of the metal that you know better; they win.")
    gravity = gravity_field()
    poured_mass = Quantity("mass", "Metal poured into this mould, gating and risers included.")
    volume = Quantity("volume", "The same as a volume of liquid, instead of its mass.")
    thickness = Quantity("length", "The wall that makes up most of the casting.")
    thinnest = Quantity("length", "Its thinnest section, where that is another.")
    wall_at_gate = Quantity("length", "The wall that the gates meet, where that is another.")
    height = Quantity("length", "How tall the casting stands in the mould.")
    outline = Quantity(
        "length", "Its whole outline at the parting: no more edge than this can be offered to gates."
    )
    casting_volume = Quantity(
        "volume", "What the casting alone holds; left out, all that is poured counts as rising in it."
    )
    freezing_time = Quantity("time", "Freezing time of the thinnest section.")
    mould = Nested(MouldBody, "What the mould is made of; the thinnest section's freezing time follows.")
    mould_constant = Quantity("mould_constant", "Chvorinov's constant, instead of the mould.")
    pouring_temperature = Quantity("temperature", "How hot you pour; left out, by the walls' thickness.")
    pour_time = Quantity("time", "The pour time, where you have one: it is then only judged.")
    gate_edge = Quantity("length", "Length of edge at the parting that is offered to gates.")
    gate_thickness = Quantity("length", "Thickness of the gates; left out, 0.6 of the wall that they meet.")
    fluidity_factor = Number("K of the law by mass and wall: fluidity in inches over 40.", bound=above(0.0))
    copper_factor = Number("K of the cube-root law for copper alloys, s and kg.", bound=above(0.0))
    rate_band = Choice(
        tuple(RATE_BANDS),
        "A printed step of the light-metal law (below 6 mm, 6 to 12, above 12) instead of its smooth form.",
    )
    pot = Nested(PotBody, "The pot that carries the metal; its cooling is then told.")

    def make(self, data: dict[str, Any]) -> Any:
        if "poured_mass" in data and "volume" in data:
            raise refused_at("volume", "inconsistent", "give poured_mass or volume, not both")
        return super().make(data)


class LawResult(Result):
    """A published law and what it says."""

    law = Text("What the law goes by.", required=True)
    time = Quantity("time", "Pour time by it.", required=True)
    source = Text("Source key.", required=True)


class PublishedLawResult(Result):
    """One of all the published laws: what it says, and whether it speaks of this pour."""

    law = Text("What the law goes by.", required=True)
    formula = Text("The law; W in kg, t in s.", required=True)
    time = Quantity("time", "Pour time by it; null where it cannot be told.")
    time_high = Quantity("time", "The other end, where its factor is printed as a range.")
    applies = Flag("Whether it was printed for such a metal, mass and wall.", required=True)
    used = Flag("Whether the recommendation is made of it.", required=True)
    why = Sentence("Why it does not apply, or is only shown.")
    source = Text("Source key.", required=True)
    grade = Text("How far the source may be trusted.", required=True)


class RuleResult(Result):
    """A rule that sets an end of the window."""

    rule = Choice(("freezing", "rise", "gates"), "Which rule.", required=True)
    end = Choice(("slow", "fast"), "Which end it sets.", required=True)
    time = Quantity("time", "The end by this rule.", required=True)
    governs = Flag("Whether this rule sets the end.", required=True)
    words = Sentence("The rule in words.", required=True)
    source = Text("Source key.", required=True)
    grade = Text("How far the source may be trusted.", required=True)


class WindowResult(Result):
    """The ends between which the pour time should lie; null where not known."""

    slowest = Quantity("time", "Slow end: the nearer of the next two.")
    governs = Choice(("freezing", "rise"), "Which of them it is.")
    by_freezing = Quantity("time", "A fifth of the thinnest section's freezing time.")
    by_rise = Quantity("time", "Longest in which metal rises fast enough to leave no laps.")
    least_rise = Quantity("velocity", "Least rise for walls of this thickness.")
    fastest = Quantity("time", "Fast end: quiet gates as wide as there is room for.")
    gate_area = Quantity("area", "Largest area of gates that there is room for.")
    not_checked = Choices(
        ("freezing", "rise", "gates"),
        "Limits left out, because the request says too little: mould, height or gate_edge.",
        required=True,
    )
    rules = Nested(RuleResult, "Every rule that sets an end.", many=True, required=True)
    in_words = Sentence("The window as a caster would say it; null where neither end is known.")


class ThinnestWallResult(Result):
    """How thin a wall still fills, by computation and by what foundries report."""

    fills = Quantity("length", "Thinnest flat wall that is just filled in the pour time.")
    thinnest = Quantity("length", "The casting's thinnest section.")
    published_least = Quantity("length", "Least wall that is reported for this metal and mould.")
    published_usual = Quantity("length", "Upper end of the usual least.")
    published_for = Text("The metal and mould that was reported.")
    source = Text("Source key of what is reported.")
    grade = Text("How far that source may be trusted.")


class PouringAtResult(Result):
    """How hot to pour a wall of some thickness."""

    thickness = Quantity("length", "The wall.", required=True)
    temperature = Quantity("temperature", "How hot to pour it.", required=True)


class TradePouringResult(Result):
    """What the trade reports of how hot such metals are poured; null where a report says nothing."""

    metal = Text("The metals that the report is of.", required=True)
    heavy_low = Quantity("temperature", "Heavy castings, from.")
    heavy_high = Quantity("temperature", "Heavy castings, to.")
    light_low = Quantity("temperature", "Light castings, from.")
    light_high = Quantity("temperature", "Light castings, to.")
    superheat_low = Quantity("temperature_difference", "Over the liquidus, from.")
    superheat_high = Quantity("temperature_difference", "Over the liquidus, to.")
    source = Text("Source key.", required=True)
    grade = Text("How far the source may be trusted.", required=True)


class MouldReachedResult(Result):
    """One mould poured from the pot; low under oxide, high with a clean surface."""

    name = Text("Its name.", required=True)
    mass = Quantity("mass", "Metal that it takes.", required=True)
    wait = Quantity("time", "From the end of the pour before it.", bound=at_least(0.0), required=True)
    pour_time = Quantity("time", "Its pour time.", required=True)
    begun_low = Quantity("temperature", "The metal's when its pour begins, at least.", required=True)
    begun_high = Quantity("temperature", "The same, at most.", required=True)
    full_low = Quantity(
        "temperature", "The metal's in the pot when the mould is full, at least.", required=True
    )
    full_high = Quantity("temperature", "The same, at most.", required=True)
    needed_temperature = Quantity("temperature", "Lowest at which its thinnest section still fills.")
    thinnest_wall = Quantity("length", "Thinnest flat wall that metal at full_low still fills.")


class PotResult(Result):
    """The metal in the pot; low and high come from a clean and an oxidised surface."""

    seconds_left_low = Quantity(
        "time",
        "Least time within which the last mould must be full, or its metal is too cold.",
        bound=at_least(0.0),
    )
    seconds_left_high = Quantity("time", "Longest such time.")
    seconds_needed = Quantity("time", "What carrying, waiting and pouring take.", bound=at_least(0.0))
    cooling_rate_low = Quantity("cooling_rate", "Slowest cooling at the start.")
    cooling_rate_high = Quantity("cooling_rate", "Fastest cooling at the start.")
    start_temperature = Quantity("temperature", "The metal's when the seconds begin to count.")
    lowest_temperature = Quantity("temperature", "Below this it is no longer poured.")
    tapping_temperature_low = Quantity(
        "temperature",
        "How hot it must leave the furnace for the last mould to be begun at the pouring temperature, at "
        "least.",
    )
    tapping_temperature_high = Quantity("temperature", "The same, at most; null: no heat would do.")
    first_mould_low = Quantity("temperature", "How hot it then meets the first mould, at least.")
    first_mould_high = Quantity("temperature", "The same, at most.")
    delay = Quantity("time", "From the furnace to the first mould.")
    moulds = Nested(MouldReachedResult, "The moulds in their order.", many=True, required=True)
    cost_of_waiting = Sentence("What it costs to be late.")
    nozzle_flow = Quantity("flow", "Flow through the nozzle of the full pot.")
    nozzle_mass_flow = Quantity("mass_flow", "The same as mass.")
    emptying_time = Quantity("time", "Time in which the pot runs out through its nozzle.")


class PourTimeResult(Result):
    """Pour time, the window that it lies in, temperatures, and the pot."""

    pour_time = Quantity("time", "The recommended time, or the one given.")
    by_laws = Quantity("time", "What the published laws give before the window is looked at.")
    moved = Flag("Whether the time was moved into the window, or differs from the laws'.")
    built_time = Quantity("time", "Time in which the gating laid out for it really fills the mould.")
    laws = Nested(
        LawResult, "The published laws that the recommendation is made of.", many=True, required=True
    )
    published_laws = Nested(
        PublishedLawResult,
        "All published laws, those used and those that apply first.",
        many=True,
        required=True,
    )
    rate_factor = Number("Factor b of the light-metal law, for kg and s.")
    window = Nested(WindowResult, "The window.", required=True)
    thinnest_wall = Nested(ThinnestWallResult, "The thinnest wall that fills; null where nothing is known.")
    freezing_time = Quantity("time", "Freezing time of the thinnest section.")
    rise_velocity = Quantity("velocity", "Height of the casting over the pour time.")
    pouring_rate = Quantity("mass_flow", "Mass over the pour time.")
    outline = Quantity("length", "Its whole outline at the parting, where it is known.")
    poured_mass = Quantity("mass", "Mass poured.")
    volume = Quantity("volume", "Volume poured.")
    critical_velocity = Quantity("velocity", "Speed in the gates above which the metal's front breaks up.")
    pouring_temperature = Quantity("temperature", "Temperature of the metal as it is poured.")
    pouring_low = Quantity("temperature", "Bottom of the alloy's pouring range.")
    pouring_high = Quantity("temperature", "Top of the alloy's pouring range.")
    pouring_by_thickness = Nested(
        PouringAtResult, "How hot to pour walls of other thickness.", many=True, required=True
    )
    pouring_practice = Nested(
        TradePouringResult, "How hot the trade pours such metals.", many=True, required=True
    )
    pot = Nested(PotResult, "The pot; null where the request speaks of none.")


@endpoint(
    "POST",
    "/v1/pour-time",
    operation="pour_time",
    tag="Casting",
    summary="How fast to pour, how hot, and how long the pot stays hot enough",
    description=(
        "Puts the published laws of pour time side by side, moves their time into the window between too "
        "slow (the thinnest section freezes, laps form) and too fast (no room for quiet gates), and tells "
        "the pouring temperature by wall thickness and the cooling of the pot as an interval."
    ),
    request=PourTimeRequest,
    answer=PourTimeResult,
    levers=levers.POUR_TIME,
    examples={
        "a silicon bronze casting with its pot": {
            "alloy": "C87300",
            "poured_mass": "3.8 kg",
            "thickness": "12 mm",
            "height": "128 mm",
            "gate_edge": "180 mm",
            "mould": {"medium": "oil-bonded sand"},
            "pot": {"mouth_diameter": "120 mm", "metal_mass": "4.2 kg", "delay": "20 s"},
        },
        "four aluminium moulds from one pot, the thin-walled one last": {
            "alloy": "356",
            "poured_mass": "1.6 kg",
            "thickness": "6 mm",
            "height": "120 mm",
            "gate_edge": "360 mm",
            "outline": "600 mm",
            "mould": {"medium": "green sand"},
            "pot": {
                "mouth_diameter": "160 mm",
                "metal_mass": "7 kg",
                "delay": "25 s",
                "between": "20 s",
                "pours": [
                    {"name": "hub"},
                    {"name": "plate"},
                    {"name": "bracket", "mass": "1.2 kg"},
                    {"name": "grille", "thinnest": "4 mm"},
                ],
            },
        },
        "a printed exercise: grey iron by mass and wall": {
            "family": "iron",
            "poured_mass": "10 kg",
            "thickness": "10 mm",
        },
    },
)
def pour_time(case: PourTimeCase) -> Answer:
    return decide_pour_time(case)
