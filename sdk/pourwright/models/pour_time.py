# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of pour time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import JsonObject, Quantity, QuantityInput
from .common import MouldInput, PropertiesInput


class MouldPourInput(TypedDict):
    """One of several moulds that are poured from the pot, in their order."""

    name: NotRequired[str]
    """What you call it."""
    mass: NotRequired[QuantityInput]
    """Metal that it takes; left out, poured_mass."""
    pour_time: NotRequired[QuantityInput]
    """Its pour time; left out, the one of this answer."""
    wait: NotRequired[QuantityInput]
    """From the end of the pour before it; left out, pot.between."""
    thinnest: NotRequired[QuantityInput]
    """Its thinnest section; left out, that of the request."""


class PotInput(TypedDict):
    """The pot (crucible, ladle) that carries the metal, and the moulds that are poured from it."""

    mouth_diameter: NotRequired[QuantityInput]
    """Width of its mouth, where the metal's heat leaves."""
    metal_mass: NotRequired[QuantityInput]
    """Metal in it; left out, what is poured, into all its moulds."""
    wall_area: NotRequired[QuantityInput]
    """Hot wall and bottom that the metal touches: their outside radiates too. Left out, those of a plain
    cylinder as wide as the mouth; 0 for a pot lagged on the outside."""
    wall_thickness: NotRequired[QuantityInput]
    """Thickness of the wall of a crucible lifted hot out of the furnace. Its heat goes to the metal at the
    slow end of the answer, at the fast end it does not."""
    emissivity_low: NotRequired[float]
    """Emissivity of the metal's surface when clean."""
    emissivity_high: NotRequired[float]
    """Emissivity of the metal's surface under oxide."""
    wall_emissivity_low: NotRequired[float]
    """Least emissivity of the wall."""
    wall_emissivity_high: NotRequired[float]
    """Greatest effective emissivity of the wall."""
    temperature: NotRequired[QuantityInput]
    """The metal's, in the furnace just before it is drawn; left out, the pouring temperature."""
    lowest_temperature: NotRequired[QuantityInput]
    """Below this it is no longer poured."""
    delay: NotRequired[QuantityInput]
    """From the furnace to the first mould."""
    depth: NotRequired[QuantityInput]
    """Depth of metal over the nozzle of a pot that pours from its bottom."""
    nozzle_diameter: NotRequired[QuantityInput]
    """Diameter of that nozzle."""
    nozzle_coefficient: NotRequired[float]
    """Discharge coefficient of that nozzle."""
    moulds: NotRequired[int]
    """How many moulds, all like this one, are poured from it."""
    pours: NotRequired[Sequence[MouldPourInput | JsonObject]]
    """The moulds poured from it one by one, instead of their number."""
    between: NotRequired[QuantityInput]
    """From the end of one pour to the start of the next."""


class PourTimeRequest(TypedDict):
    """What is poured, how thick its walls are, and what limits the time."""

    alloy: NotRequired[str]
    """The alloy; its properties and pouring range are looked up."""
    family: NotRequired[Literal["iron", "copper", "aluminium", "zinc"]]
    """The family of metals whose law of pour time applies, without an alloy."""
    properties: NotRequired[PropertiesInput | JsonObject]
    """Properties of the metal that you know better; they win."""
    gravity: NotRequired[QuantityInput]
    """Gravity; left out, 9.80665 m/s^2. Printed exercises often use 9.81 or 10."""
    poured_mass: NotRequired[QuantityInput]
    """Metal poured into this mould, gating and risers included."""
    volume: NotRequired[QuantityInput]
    """The same as a volume of liquid, instead of its mass."""
    thickness: NotRequired[QuantityInput]
    """The wall that makes up most of the casting."""
    thinnest: NotRequired[QuantityInput]
    """Its thinnest section, where that is another."""
    wall_at_gate: NotRequired[QuantityInput]
    """The wall that the gates meet, where that is another."""
    height: NotRequired[QuantityInput]
    """How tall the casting stands in the mould."""
    outline: NotRequired[QuantityInput]
    """Its whole outline at the parting: no more edge than this can be offered to gates."""
    casting_volume: NotRequired[QuantityInput]
    """What the casting alone holds; left out, all that is poured counts as rising in it."""
    freezing_time: NotRequired[QuantityInput]
    """Freezing time of the thinnest section."""
    mould: NotRequired[MouldInput | JsonObject]
    """What the mould is made of; the thinnest section's freezing time follows."""
    mould_constant: NotRequired[QuantityInput]
    """Chvorinov's constant, instead of the mould."""
    pouring_temperature: NotRequired[QuantityInput]
    """How hot you pour; left out, by the walls' thickness."""
    pour_time: NotRequired[QuantityInput]
    """The pour time, where you have one: it is then only judged."""
    gate_edge: NotRequired[QuantityInput]
    """Length of edge at the parting that is offered to gates."""
    gate_thickness: NotRequired[QuantityInput]
    """Thickness of the gates; left out, 0.6 of the wall that they meet."""
    fluidity_factor: NotRequired[float]
    """K of the law by mass and wall: fluidity in inches over 40."""
    copper_factor: NotRequired[float]
    """K of the cube-root law for copper alloys, s and kg."""
    rate_band: NotRequired[Literal["thin", "middle", "heavy"]]
    """A printed step of the light-metal law (below 6 mm, 6 to 12, above 12) instead of its smooth form."""
    pot: NotRequired[PotInput | JsonObject]
    """The pot that carries the metal; its cooling is then told."""


@dataclass(frozen=True, slots=True)
class LawResult:
    """A published law and what it says."""

    law: str
    """What the law goes by."""
    time: Quantity
    """Pour time by it."""
    source: str
    """Source key."""


@dataclass(frozen=True, slots=True)
class PublishedLawResult:
    """One of all the published laws: what it says, and whether it speaks of this pour."""

    law: str
    """What the law goes by."""
    formula: str
    """The law; W in kg, t in s."""
    time: Quantity | None
    """Pour time by it; null where it cannot be told."""
    time_high: Quantity | None
    """The other end, where its factor is printed as a range."""
    applies: bool
    """Whether it was printed for such a metal, mass and wall."""
    used: bool
    """Whether the recommendation is made of it."""
    why: str | None
    """Why it does not apply, or is only shown."""
    source: str
    """Source key."""
    grade: str
    """How far the source may be trusted."""


@dataclass(frozen=True, slots=True)
class RuleResult:
    """A rule that sets an end of the window."""

    rule: Literal["freezing", "rise", "gates"]
    """Which rule."""
    end: Literal["slow", "fast"]
    """Which end it sets."""
    time: Quantity
    """The end by this rule."""
    governs: bool
    """Whether this rule sets the end."""
    words: str
    """The rule in words."""
    source: str
    """Source key."""
    grade: str
    """How far the source may be trusted."""


@dataclass(frozen=True, slots=True)
class WindowResult:
    """The ends between which the pour time should lie; null where not known."""

    slowest: Quantity | None
    """Slow end: the nearer of the next two."""
    governs: Literal["freezing", "rise"] | None
    """Which of them it is."""
    by_freezing: Quantity | None
    """A fifth of the thinnest section's freezing time."""
    by_rise: Quantity | None
    """Longest in which metal rises fast enough to leave no laps."""
    least_rise: Quantity | None
    """Least rise for walls of this thickness."""
    fastest: Quantity | None
    """Fast end: quiet gates as wide as there is room for."""
    gate_area: Quantity | None
    """Largest area of gates that there is room for."""
    not_checked: tuple[Literal["freezing", "rise", "gates"], ...]
    """Limits left out, because the request says too little: mould, height or gate_edge."""
    rules: tuple[RuleResult, ...]
    """Every rule that sets an end."""
    in_words: str | None
    """The window as a caster would say it; null where neither end is known."""


@dataclass(frozen=True, slots=True)
class ThinnestWallResult:
    """How thin a wall still fills, by computation and by what foundries report."""

    fills: Quantity | None
    """Thinnest flat wall that is just filled in the pour time."""
    thinnest: Quantity | None
    """The casting's thinnest section."""
    published_least: Quantity | None
    """Least wall that is reported for this metal and mould."""
    published_usual: Quantity | None
    """Upper end of the usual least."""
    published_for: str | None
    """The metal and mould that was reported."""
    source: str | None
    """Source key of what is reported."""
    grade: str | None
    """How far that source may be trusted."""


@dataclass(frozen=True, slots=True)
class PouringAtResult:
    """How hot to pour a wall of some thickness."""

    thickness: Quantity
    """The wall."""
    temperature: Quantity
    """How hot to pour it."""


@dataclass(frozen=True, slots=True)
class TradePouringResult:
    """What the trade reports of how hot such metals are poured; null where a report says nothing."""

    metal: str
    """The metals that the report is of."""
    heavy_low: Quantity | None
    """Heavy castings, from."""
    heavy_high: Quantity | None
    """Heavy castings, to."""
    light_low: Quantity | None
    """Light castings, from."""
    light_high: Quantity | None
    """Light castings, to."""
    superheat_low: Quantity | None
    """Over the liquidus, from."""
    superheat_high: Quantity | None
    """Over the liquidus, to."""
    source: str
    """Source key."""
    grade: str
    """How far the source may be trusted."""


@dataclass(frozen=True, slots=True)
class MouldReachedResult:
    """One mould poured from the pot; low under oxide, high with a clean surface."""

    name: str
    """Its name."""
    mass: Quantity
    """Metal that it takes."""
    wait: Quantity
    """From the end of the pour before it."""
    pour_time: Quantity
    """Its pour time."""
    begun_low: Quantity
    """The metal's when its pour begins, at least."""
    begun_high: Quantity
    """The same, at most."""
    full_low: Quantity
    """The metal's in the pot when the mould is full, at least."""
    full_high: Quantity
    """The same, at most."""
    needed_temperature: Quantity | None
    """Lowest at which its thinnest section still fills."""
    thinnest_wall: Quantity | None
    """Thinnest flat wall that metal at full_low still fills."""


@dataclass(frozen=True, slots=True)
class PotResult:
    """The metal in the pot; low and high come from a clean and an oxidised surface."""

    seconds_left_low: Quantity | None
    """Least time within which the last mould must be full, or its metal is too cold."""
    seconds_left_high: Quantity | None
    """Longest such time."""
    seconds_needed: Quantity | None
    """What carrying, waiting and pouring take."""
    cooling_rate_low: Quantity | None
    """Slowest cooling at the start."""
    cooling_rate_high: Quantity | None
    """Fastest cooling at the start."""
    start_temperature: Quantity | None
    """The metal's when the seconds begin to count."""
    lowest_temperature: Quantity | None
    """Below this it is no longer poured."""
    tapping_temperature_low: Quantity | None
    """How hot it must leave the furnace for the last mould to be begun at the pouring temperature, at
    least."""
    tapping_temperature_high: Quantity | None
    """The same, at most; null: no heat would do."""
    first_mould_low: Quantity | None
    """How hot it then meets the first mould, at least."""
    first_mould_high: Quantity | None
    """The same, at most."""
    delay: Quantity | None
    """From the furnace to the first mould."""
    moulds: tuple[MouldReachedResult, ...]
    """The moulds in their order."""
    cost_of_waiting: str | None
    """What it costs to be late."""
    nozzle_flow: Quantity | None
    """Flow through the nozzle of the full pot."""
    nozzle_mass_flow: Quantity | None
    """The same as mass."""
    emptying_time: Quantity | None
    """Time in which the pot runs out through its nozzle."""


@dataclass(frozen=True, slots=True)
class PourTimeResult:
    """Pour time, the window that it lies in, temperatures, and the pot."""

    pour_time: Quantity | None
    """The recommended time, or the one given."""
    by_laws: Quantity | None
    """What the published laws give before the window is looked at."""
    moved: bool | None
    """Whether the time was moved into the window, or differs from the laws'."""
    built_time: Quantity | None
    """Time in which the gating laid out for it really fills the mould."""
    laws: tuple[LawResult, ...]
    """The published laws that the recommendation is made of."""
    published_laws: tuple[PublishedLawResult, ...]
    """All published laws, those used and those that apply first."""
    rate_factor: float | None
    """Factor b of the light-metal law, for kg and s."""
    window: WindowResult
    """The window."""
    thinnest_wall: ThinnestWallResult | None
    """The thinnest wall that fills; null where nothing is known."""
    freezing_time: Quantity | None
    """Freezing time of the thinnest section."""
    rise_velocity: Quantity | None
    """Height of the casting over the pour time."""
    pouring_rate: Quantity | None
    """Mass over the pour time."""
    outline: Quantity | None
    """Its whole outline at the parting, where it is known."""
    poured_mass: Quantity | None
    """Mass poured."""
    volume: Quantity | None
    """Volume poured."""
    critical_velocity: Quantity | None
    """Speed in the gates above which the metal's front breaks up."""
    pouring_temperature: Quantity | None
    """Temperature of the metal as it is poured."""
    pouring_low: Quantity | None
    """Bottom of the alloy's pouring range."""
    pouring_high: Quantity | None
    """Top of the alloy's pouring range."""
    pouring_by_thickness: tuple[PouringAtResult, ...]
    """How hot to pour walls of other thickness."""
    pouring_practice: tuple[TradePouringResult, ...]
    """How hot the trade pours such metals."""
    pot: PotResult | None
    """The pot; null where the request speaks of none."""


class CarriedPotInput(TypedDict):
    """The pot (crucible, ladle) that carries the metal from the furnace to the mould."""

    mouth_diameter: NotRequired[QuantityInput]
    """Width of its mouth, where the metal's heat leaves."""
    metal_mass: NotRequired[QuantityInput]
    """Metal in it; left out, what is poured, into all its moulds."""
    wall_area: NotRequired[QuantityInput]
    """Hot wall and bottom that the metal touches: their outside radiates too. Left out, those of a plain
    cylinder as wide as the mouth; 0 for a pot lagged on the outside."""
    wall_thickness: NotRequired[QuantityInput]
    """Thickness of the wall of a crucible lifted hot out of the furnace. Its heat goes to the metal at the
    slow end of the answer, at the fast end it does not."""
    emissivity_low: NotRequired[float]
    """Emissivity of the metal's surface when clean."""
    emissivity_high: NotRequired[float]
    """Emissivity of the metal's surface under oxide."""
    wall_emissivity_low: NotRequired[float]
    """Least emissivity of the wall."""
    wall_emissivity_high: NotRequired[float]
    """Greatest effective emissivity of the wall."""
    temperature: NotRequired[QuantityInput]
    """The metal's, in the furnace just before it is drawn; left out, the pouring temperature."""
    lowest_temperature: NotRequired[QuantityInput]
    """Below this it is no longer poured."""
    delay: NotRequired[QuantityInput]
    """From the furnace to the first mould."""
    depth: NotRequired[QuantityInput]
    """Depth of metal over the nozzle of a pot that pours from its bottom."""
    nozzle_diameter: NotRequired[QuantityInput]
    """Diameter of that nozzle."""
    nozzle_coefficient: NotRequired[float]
    """Discharge coefficient of that nozzle."""
