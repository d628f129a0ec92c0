"""Trials as a caller states them: SI numbers, None where nothing was said."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..geometry.sections import Section
from .charge_case import Ranges
from .heat import MouldCase


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialReading:
    """A trial casting, by section or modulus (m), that froze in a measured time (s)."""

    freezing_time: float
    section: Section | None = None
    modulus: float | None = None
    name: str | None = None
    time_spread: float | None = None
    modulus_spread: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserReading:
    """A riser cut open: its volume (m^3) or diameter and height (m), and the hollow it was left with.

    ``had_metal_left``: it could have given more, so what it gave is a least value only.
    """

    volume: float | None = None
    diameter: float | None = None
    height: float | None = None
    piped_volume: float | None = None
    pipe_depth: float | None = None
    pipe_diameter: float | None = None
    pipe_shape: str | None = None
    had_metal_left: bool | None = None
    name: str | None = None
    spread: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargedItem:
    """What was put into the pot: kg, and its composition."""

    name: str
    mass: float
    composition_percent: Ranges | None = None
    alloy: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatReading:
    """One heat, weighed (kg) and perhaps analysed (per cent of mass by element)."""

    items: tuple[ChargedItem, ...]
    poured: float | None = None
    castings: float | None = None
    pig: float | None = None
    analysis_percent: Mapping[str, float] | None = None
    name: str | None = None
    mass_spread: float | None = None
    analysis_spread: float | None = None
    analysis_floor_percent: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthReading:
    """The same length on the pattern and on the cold casting (m)."""

    pattern: float
    casting: float
    name: str | None = None
    length_spread: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserKind:
    """The kind of riser that was tried, and what was expected of it."""

    shape: str | None = None
    sleeved: bool | None = None
    feeding_efficiency: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Spreads:
    """Half-widths, 5 to 95 per cent: shares of the value; of contraction, points."""

    mould_constant: float | None = None
    feeding_efficiency: float | None = None
    recovery: float | None = None
    contraction: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CalibrationCase:
    """Trials, and what was expected before them.

    ``spreads`` says how far off the expectations may be, ``scatter`` how much the quantities differ
    from one casting or heat to the next.
    """

    trials: tuple[TrialReading, ...] = ()
    risers: tuple[RiserReading, ...] = ()
    heats: tuple[HeatReading, ...] = ()
    lengths: tuple[LengthReading, ...] = ()
    alloy: str | None = None
    properties: Mapping[str, float | None] = field(default_factory=dict)
    mould: MouldCase = field(default_factory=MouldCase)
    mould_constant: float | None = None
    pouring_temperature: float | None = None
    temperature_fall: float | None = None
    curvature: bool | None = None
    riser: RiserKind = field(default_factory=RiserKind)
    recovery_percent: Ranges | None = None
    spreads: Spreads = field(default_factory=Spreads)
    scatter: Spreads = field(default_factory=Spreads)
