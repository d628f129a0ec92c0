# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of pour time."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import JsonObject, Quantity, QuantityInput
from .common import MouldInput, PropertiesInput


class PotInput(TypedDict):
    """The pot (crucible, ladle) that carries the metal from the furnace to the mould."""

    mouth_diameter: NotRequired[QuantityInput]
    """Width of its mouth, where the metal's heat leaves."""
    metal_mass: NotRequired[QuantityInput]
    """Metal in it; left out, what is poured."""
    wall_area: NotRequired[QuantityInput]
    """Bare hot wall that radiates too; left out, only the open metal does."""
    emissivity_low: NotRequired[float]
    """Emissivity of the metal's surface when clean."""
    emissivity_high: NotRequired[float]
    """Emissivity of the metal's surface under oxide."""
    wall_emissivity_low: NotRequired[float]
    """Least emissivity of the wall."""
    wall_emissivity_high: NotRequired[float]
    """Greatest emissivity of the wall."""
    temperature: NotRequired[QuantityInput]
    """The metal's, in the furnace just before it is drawn; left out, the pouring temperature."""
    lowest_temperature: NotRequired[QuantityInput]
    """Below this it is no longer poured."""
    delay: NotRequired[QuantityInput]
    """From the furnace to the last mould."""
    depth: NotRequired[QuantityInput]
    """Depth of metal over the nozzle of a pot that pours from its bottom."""
    nozzle_diameter: NotRequired[QuantityInput]
    """Diameter of that nozzle."""
    nozzle_coefficient: NotRequired[float]
    """Discharge coefficient of that nozzle."""


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


@dataclass(frozen=True, slots=True)
class PotResult:
    """The metal in the pot; low and high come from a clean and an oxidised surface."""

    seconds_left_low: Quantity | None
    """Least time until the metal is too cold."""
    seconds_left_high: Quantity | None
    """Longest time until then."""
    cooling_rate_low: Quantity | None
    """Slowest cooling at the start."""
    cooling_rate_high: Quantity | None
    """Fastest cooling at the start."""
    start_temperature: Quantity | None
    """The metal's when the seconds begin to count."""
    lowest_temperature: Quantity | None
    """Below this it is no longer poured."""
    tapping_temperature_low: Quantity | None
    """How hot it must leave the furnace to arrive at the pouring temperature, at least."""
    tapping_temperature_high: Quantity | None
    """The same, at most; null: no heat would do."""
    delay: Quantity | None
    """From the furnace to the last mould."""
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
    laws: tuple[LawResult, ...]
    """The published laws side by side."""
    rate_factor: float | None
    """Factor b of the light-metal law, for kg and s."""
    window: WindowResult
    """The window."""
    freezing_time: Quantity | None
    """Freezing time of the thinnest section."""
    rise_velocity: Quantity | None
    """Height of the casting over the pour time."""
    pouring_rate: Quantity | None
    """Mass over the pour time."""
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
    pot: PotResult | None
    """The pot; null where the request speaks of none."""
