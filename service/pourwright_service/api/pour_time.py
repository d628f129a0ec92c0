"""POST /v1/pour-time."""

from typing import Any

from ..engine.answer import Answer
from ..engine.decide import levers
from ..engine.decide.pot import PotCase
from ..engine.decide.pour_time import LAWS, RATE_BANDS, PourTimeCase, decide_pour_time
from .common import MouldBody, PropertiesBody, gravity_field
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
    refused_at,
    within,
)

_SHARE = within(0.0, 1.0, low_open=True)


class PotBody(Body):
    """The pot (crucible, ladle) that carries the metal from the furnace to the mould."""

    makes = PotCase
    mouth_diameter = Quantity("length", "Width of its mouth, where the metal's heat leaves.")
    metal_mass = Quantity("mass", "Metal in it; left out, what is poured.")
    wall_area = Quantity(
        "area", "Bare hot wall that radiates too; left out, only the open metal does.", bound=at_least(0.0)
    )
    emissivity_low = Number("Emissivity of the metal's surface when clean.", bound=_SHARE)
    emissivity_high = Number("Emissivity of the metal's surface under oxide.", bound=_SHARE)
    wall_emissivity_low = Number("Least emissivity of the wall.", bound=within(0.0, 1.0))
    wall_emissivity_high = Number("Greatest emissivity of the wall.", bound=within(0.0, 1.0))
    temperature = Quantity(
        "temperature",
        "The metal's, in the furnace just before it is drawn; left out, the pouring temperature.",
    )
    lowest_temperature = Quantity("temperature", "Below this it is no longer poured.")
    delay = Quantity("time", "From the furnace to the last mould.", bound=at_least(0.0))
    depth = Quantity("length", "Depth of metal over the nozzle of a pot that pours from its bottom.")
    nozzle_diameter = Quantity("length", "Diameter of that nozzle.")
    nozzle_coefficient = Number("Discharge coefficient of that nozzle.", bound=above(0.0))

    def make(self, data: dict[str, Any]) -> Any:
        for kind in ("emissivity", "wall_emissivity"):
            low, high = data.get(f"{kind}_low"), data.get(f"{kind}_high")
            if low is not None and high is not None and low > high:
                raise refused_at(f"{kind}_low", "inconsistent", "the low end lies above the high end")
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


class PotResult(Result):
    """The metal in the pot; low and high come from a clean and an oxidised surface."""

    seconds_left_low = Quantity("time", "Least time until the metal is too cold.", bound=at_least(0.0))
    seconds_left_high = Quantity("time", "Longest time until then.")
    cooling_rate_low = Quantity("cooling_rate", "Slowest cooling at the start.")
    cooling_rate_high = Quantity("cooling_rate", "Fastest cooling at the start.")
    start_temperature = Quantity("temperature", "The metal's when the seconds begin to count.")
    lowest_temperature = Quantity("temperature", "Below this it is no longer poured.")
    tapping_temperature_low = Quantity(
        "temperature", "How hot it must leave the furnace to arrive at the pouring temperature, at least."
    )
    tapping_temperature_high = Quantity("temperature", "The same, at most; null: no heat would do.")
    delay = Quantity("time", "From the furnace to the last mould.")
    nozzle_flow = Quantity("flow", "Flow through the nozzle of the full pot.")
    nozzle_mass_flow = Quantity("mass_flow", "The same as mass.")
    emptying_time = Quantity("time", "Time in which the pot runs out through its nozzle.")


class PourTimeResult(Result):
    """Pour time, the window that it lies in, temperatures, and the pot."""

    pour_time = Quantity("time", "The recommended time, or the one given.")
    by_laws = Quantity("time", "What the published laws give before the window is looked at.")
    moved = Flag("Whether the time was moved into the window, or differs from the laws'.")
    laws = Nested(LawResult, "The published laws side by side.", many=True, required=True)
    rate_factor = Number("Factor b of the light-metal law, for kg and s.")
    window = Nested(WindowResult, "The window.", required=True)
    freezing_time = Quantity("time", "Freezing time of the thinnest section.")
    rise_velocity = Quantity("velocity", "Height of the casting over the pour time.")
    pouring_rate = Quantity("mass_flow", "Mass over the pour time.")
    poured_mass = Quantity("mass", "Mass poured.")
    volume = Quantity("volume", "Volume poured.")
    critical_velocity = Quantity("velocity", "Speed in the gates above which the metal's front breaks up.")
    pouring_temperature = Quantity("temperature", "Temperature of the metal as it is poured.")
    pouring_low = Quantity("temperature", "Bottom of the alloy's pouring range.")
    pouring_high = Quantity("temperature", "Top of the alloy's pouring range.")
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
        "a printed exercise: grey iron by mass and wall": {
            "family": "iron",
            "poured_mass": "10 kg",
            "thickness": "10 mm",
        },
    },
)
def pour_time(case: PourTimeCase) -> Answer:
    return decide_pour_time(case)
