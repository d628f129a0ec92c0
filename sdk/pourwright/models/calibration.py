# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of calibration."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal, NotRequired, TypedDict

from ..quantity import FractionInput, JsonObject, QuantityInput
from .common import MouldInput, PropertiesInput
from .sections import SectionInput


class TrialReadingInput(TypedDict):
    """A trial casting that froze in a measured time."""

    name: NotRequired[str]
    """What you call it."""
    section: NotRequired[SectionInput]
    """The trial casting, as a simple body."""
    modulus: NotRequired[QuantityInput]
    """Its modulus, volume over cooling surface, instead of the section; it counts as flat."""
    freezing_time: QuantityInput
    """From the full mould until it was solid."""
    time_spread: NotRequired[FractionInput]
    """How far that time may be off, a share of it."""
    modulus_spread: NotRequired[FractionInput]
    """How far the modulus may be off, a share of it."""


class RiserReadingInput(TypedDict):
    """A riser cut open, and the hollow that it was left with."""

    name: NotRequired[str]
    """What you call it."""
    volume: NotRequired[QuantityInput]
    """Its volume as poured; left out, a cylinder's of diameter and height."""
    diameter: NotRequired[QuantityInput]
    """Its diameter."""
    height: NotRequired[QuantityInput]
    """Its height as poured."""
    piped_volume: NotRequired[QuantityInput]
    """Volume of the hollow, by filling it with water or dry sand."""
    pipe_depth: NotRequired[QuantityInput]
    """Depth of the hollow from the level of the poured metal, instead."""
    pipe_diameter: NotRequired[QuantityInput]
    """Width of the hollow at its mouth; left out, the riser's diameter."""
    pipe_shape: NotRequired[Literal["cone", "bowl", "flat"]]
    """The hollow's shape: a third, a half, or all of the cylinder round it; left out, a cone."""
    had_metal_left: NotRequired[bool]
    """Whether it could have given more (the casting came out sound and the hollow ends well above it): it
    then shows a least value only. Left out, it was drained as far as it could be."""
    spread: NotRequired[FractionInput]
    """How far the drained share may be off, a share of it."""


class ChargedItemInput(TypedDict):
    """What went into the pot."""

    name: str
    """What you call it."""
    mass: QuantityInput
    """How much of it was charged."""
    composition_percent: NotRequired[Mapping[str, float | Sequence[float]]]
    """What it is made of, per cent of mass by element: a number, or [low, high] where it is not certain. The
    rest to 100 % counts as 'rest'."""
    alloy: NotRequired[str]
    """The alloy that it is; its nominal composition is taken."""


class HeatReadingInput(TypedDict):
    """One heat, weighed and perhaps analysed."""

    name: NotRequired[str]
    """What you call it."""
    items: Sequence[ChargedItemInput | JsonObject]
    """All that was charged."""
    poured: NotRequired[QuantityInput]
    """Metal poured into moulds."""
    castings: NotRequired[QuantityInput]
    """What came out of the moulds, gating, risers and spillings included; instead of poured."""
    pig: NotRequired[QuantityInput]
    """Metal that was left and poured into ingots."""
    analysis_percent: NotRequired[Mapping[str, float]]
    """Analysis of the melt, per cent of mass by element."""
    mass_spread: NotRequired[FractionInput]
    """How far each weight may be off, a share of it."""
    analysis_spread: NotRequired[FractionInput]
    """How far each analysed share may be off, a share of it."""
    analysis_floor_percent: NotRequired[float]
    """Per cent of mass by which any analysed share may be off beside that."""


class LengthReadingInput(TypedDict):
    """One length, on the pattern and on the cold casting."""

    name: NotRequired[str]
    """What you call it."""
    pattern: QuantityInput
    """On the pattern (rapping and draft left out)."""
    casting: QuantityInput
    """The same on the cold casting."""
    length_spread: NotRequired[QuantityInput]
    """How far either may be off."""


class RiserKindInput(TypedDict):
    """The kind of riser that was tried."""

    shape: NotRequired[Literal["cylinder", "domed", "ball"]]
    """Its shape; left out, a cylinder."""
    sleeved: NotRequired[bool]
    """Whether it stood in an insulating sleeve."""
    feeding_efficiency: NotRequired[FractionInput]
    """Share of itself that you expected it to give; left out, what is told of its kind."""


class SpreadsInput(TypedDict):
    """How far off, each way, 5 to 95 per cent of cases."""

    mould_constant: NotRequired[FractionInput]
    """Of the mould constant, a share of it."""
    feeding_efficiency: NotRequired[FractionInput]
    """Of the feeding efficiency, a share of it."""
    contraction: NotRequired[FractionInput]
    """Of the contraction, points of it."""


class ScatterInput(TypedDict):
    """How much each differs from one casting or heat to the next, each way, 5 to 95 per cent of cases."""

    mould_constant: NotRequired[FractionInput]
    """Of the mould constant, a share of it."""
    feeding_efficiency: NotRequired[FractionInput]
    """Of the feeding efficiency, a share of it."""
    contraction: NotRequired[FractionInput]
    """Of the contraction, points of it."""
    recovery: NotRequired[FractionInput]
    """Of a recovery, a share of it."""


class CalibrationRequest(TypedDict):
    """What was measured (any of trials, risers, heats, lengths), and what was expected before."""

    trials: NotRequired[Sequence[TrialReadingInput | JsonObject]]
    """Trial castings: they tell the mould constant."""
    risers: NotRequired[Sequence[RiserReadingInput | JsonObject]]
    """Risers of one kind, cut open: they tell the feeding efficiency."""
    heats: NotRequired[Sequence[HeatReadingInput | JsonObject]]
    """Heats of one base metal: they tell recoveries and the melting loss."""
    lengths: NotRequired[Sequence[LengthReadingInput | JsonObject]]
    """Lengths of patterns and castings: they tell the contraction."""
    alloy: NotRequired[str]
    """The alloy of all that was measured."""
    properties: NotRequired[PropertiesInput | JsonObject]
    """Properties of the metal that you know better; they win."""
    mould: NotRequired[MouldInput | JsonObject]
    """What the moulds were made of."""
    mould_constant: NotRequired[QuantityInput]
    """What you reckoned with until now; left out, it follows from metal and mould."""
    pouring_temperature: NotRequired[QuantityInput]
    """How hot the trial castings were poured."""
    temperature_fall: NotRequired[QuantityInput]
    """How much the metal cooled until the mould was full."""
    curvature: NotRequired[bool]
    """Whether curved surfaces are corrected for; left out, the kind of metal decides."""
    riser: NotRequired[RiserKindInput | JsonObject]
    """The kind of riser that was tried."""
    recovery_percent: NotRequired[float | Sequence[float] | Mapping[str, float | Sequence[float]]]
    """Recoveries that you reckoned with until now, per cent by element; left out, the tables'."""
    spreads: NotRequired[SpreadsInput | JsonObject]
    """How far off what was expected may be; recoveries carry their own range."""
    scatter: NotRequired[ScatterInput | JsonObject]
    """How much each differs from one casting or heat to the next."""
