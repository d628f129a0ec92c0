# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of practice."""

from __future__ import annotations

from dataclasses import dataclass

from ..quantity import Quantity
from .catalogue import CellResult
from .reference import CitedSource


@dataclass(frozen=True, slots=True)
class PouringPracticeResult:
    """Pouring temperatures that are reported for a group of metals."""

    id: str
    """Which metals."""
    family: str
    """Family of metal."""
    group: str
    """Group within the family; any: the family as a whole."""
    figures: tuple[CellResult, ...]
    """For heavy and light castings, or above the liquidus."""


@dataclass(frozen=True, slots=True)
class ReportedRatioResult:
    """A gating ratio that is reported: areas of sprue, runner and gates, as parts."""

    id: str
    """What was cast."""
    family: str
    """Family of metal."""
    group: str
    """Group within the family; any: the family as a whole."""
    sprue: float
    """Part of the sprue's foot."""
    runner: float
    """Part of all runners."""
    gate: float
    """Part of all gates."""
    source: CitedSource
    """Who reports it."""


@dataclass(frozen=True, slots=True)
class LeastWallResult:
    """The thinnest wall that fills."""

    medium: str
    """Moulding medium; any sand: every sand that has no row of its own."""
    family: str
    """Family of metal."""
    least: CellResult
    """Least that is reported."""
    usual: CellResult | None
    """Upper end of the usual least."""


@dataclass(frozen=True, slots=True)
class ZincPressureResult:
    """How hard zinc presses out of liquid brass."""

    zinc_percent: float
    """Zinc in the copper, per cent of mass; 100: pure zinc."""
    temperature: Quantity
    """Temperature of the melt."""
    pressure: CellResult
    """Pressure of zinc vapour; at 1 atm it boils."""


@dataclass(frozen=True, slots=True)
class PracticeResult:
    """What the trade does and sees."""

    pouring: tuple[PouringPracticeResult, ...]
    """Pouring temperatures by group."""
    gating_ratios: tuple[ReportedRatioResult, ...]
    """Gating ratios."""
    least_walls: tuple[LeastWallResult, ...]
    """Thin walls by medium and metal."""
    zinc_pressures: tuple[ZincPressureResult, ...]
    """Vapour of zinc over brass."""
