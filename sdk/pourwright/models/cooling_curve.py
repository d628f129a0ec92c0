# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of cooling curve."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import FractionInput, JsonObject, Quantity, QuantityInput, Series
from .calibration_result import UseResult
from .sections import SectionInput


class CoolingCurveRequest(TypedDict):
    """The log of a thermocouple in a sample cup, from the pour until well after all is solid."""

    times: Series | JsonObject
    """When each reading was taken; they rise."""
    temperatures: Series | JsonObject
    """What was read."""
    alloy: NotRequired[str]
    """The alloy that it should be; its liquidus is compared."""
    ladder: NotRequired[Literal["Al-Mg", "Al-Si", "Cu-Zn"]]
    """The two elements that it is made of: the liquidus then tells how much of the second it holds."""
    section: NotRequired[SectionInput]
    """The metal in the cup, as a simple body: it tells the cup's mould constant."""
    modulus: NotRequired[QuantityInput]
    """Its modulus, volume over cooling surface, instead of the section."""
    modulus_spread: NotRequired[FractionInput]
    """How far the modulus may be off, a share of it."""
    smoothing: NotRequired[QuantityInput]
    """Time over which the rate of cooling is smoothed; left out, by the noise."""
    surroundings: NotRequired[QuantityInput]
    """Temperature of the room; left out, 20 degC."""
    thermocouple_error: NotRequired[QuantityInput]
    """How far the thermocouple may be off, each way, 5 to 95 per cent; left out, a type K of class 1."""
    correction: NotRequired[QuantityInput]
    """Added to every reading: what a pure metal's arrest has told of the thermocouple."""


@dataclass(frozen=True, slots=True)
class ArrestResult:
    """A temperature at which the curve bends or rests; the interval is 5 to 95 per cent."""

    value: Quantity
    """The temperature."""
    low: Quantity
    """Low end."""
    high: Quantity
    """High end."""
    time: Quantity
    """When it began."""
    until: Quantity | None
    """When a rest ended; null for a bend."""
    undercooling: Quantity
    """How far the metal fell below it before."""


@dataclass(frozen=True, slots=True)
class FreezingTimeResult:
    """From the hottest reading until all is solid; the interval is 5 to 95 per cent."""

    value: Quantity
    """The time."""
    low: Quantity
    """Low end."""
    high: Quantity
    """High end."""


@dataclass(frozen=True, slots=True)
class LadderResult:
    """How much of the second element the liquidus tells, per cent of mass; 5 to 95 per cent."""

    base: str
    """The metal."""
    element: str
    """The second element."""
    value_percent: float | None
    """How much of it; null below the ladder's last step."""
    low_percent: float | None
    """Low end; null below the last step."""
    high_percent: float | None
    """High end; null below the last step."""


@dataclass(frozen=True, slots=True)
class CupResult:
    """The mould constant of the cup; the interval is 5 to 95 per cent."""

    value: Quantity
    """The constant."""
    low: Quantity
    """Low end."""
    high: Quantity
    """High end."""
    spread: Quantity
    """Half-width, a share of the value."""


@dataclass(frozen=True, slots=True)
class CoolingCurveResult:
    """What the curve tells; null where it tells nothing."""

    hottest: Quantity | None
    """The hottest reading, smoothed."""
    liquidus: ArrestResult | None
    """Where it starts to freeze."""
    eutectic: ArrestResult | None
    """The second rest, at which the last of it freezes; null where none is."""
    solidus: ArrestResult | None
    """Where it is solid: the last rest, or the last bend."""
    freezing_range: Quantity | None
    """From liquidus to solidus."""
    freezing_time: FreezingTimeResult | None
    """How long it took to freeze."""
    composition: LadderResult | None
    """Composition by the liquidus; null without a ladder."""
    mould_constant: CupResult | None
    """Of the cup, by the bare rule; null without its modulus or section."""
    noise: Quantity
    """Standard deviation of the readings' noise."""
    use: tuple[UseResult, ...]
    """What later requests can be told. The mould constant holds for moulds of the cup's own sand, with walls
    as thick beside their metal; castings of your own tell more (/v1/calibration)."""
