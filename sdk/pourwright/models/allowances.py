# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of allowances."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..quantity import Quantity
from .catalogue import CellResult


@dataclass(frozen=True, slots=True)
class SizeStepResult:
    """The figures of one step of sizes."""

    over: Quantity
    """Sizes over this."""
    to: Quantity
    """Up to and with this."""
    grades: tuple[CellResult, ...]
    """The figure of each grade, named by the grade."""
    finer: CellResult | None
    """How many grades finer than those of large sizes short runs hold here."""


@dataclass(frozen=True, slots=True)
class GradesResult:
    """The grades that a way of moulding holds."""

    process: str
    """Way of moulding."""
    family: str
    """Family of metal."""
    low: CellResult | None
    """Finest casting grade, for sizes over 25 mm."""
    high: CellResult | None
    """Coarsest casting grade, for sizes over 25 mm."""
    usual: int | None
    """The casting grade to reckon with: the middle, the coarser of two."""
    machining_low: CellResult | None
    """Smallest machining grade, counted from 1 for A; there is no I."""
    machining_high: CellResult | None
    """Largest machining grade, counted the same way."""
    usual_machining: Literal["A", "B", "C", "D", "E", "F", "G", "H", "J", "K"] | None
    """The machining grade to reckon with."""


@dataclass(frozen=True, slots=True)
class FoundryToleranceResult:
    """One line of a job foundry's list, to either side."""

    feature: str
    """What it is for."""
    length_over: Quantity | None
    """Lengths over this."""
    length_to: Quantity | None
    """Up to this; null: no end."""
    area_over: Quantity | None
    """Areas across the parting plane over this."""
    area_to: Quantity | None
    """Up to this."""
    tolerance: CellResult | None
    """Plus or minus this."""
    share: CellResult | None
    """Plus or minus this share of the length."""


@dataclass(frozen=True, slots=True)
class MachiningPracticeResult:
    """What shops leave on a face, without grades."""

    id: str
    """Which castings."""
    family: str
    """Family of metal."""
    low: CellResult
    """Least."""
    high: CellResult | None
    """Most."""


@dataclass(frozen=True, slots=True)
class DraftResult:
    """How far faces along the draw lean."""

    id: str
    """Which faces, or which work."""
    low: CellResult | None
    """Least angle."""
    high: CellResult | None
    """Most."""
    taper_low: CellResult | None
    """Least widening over depth."""
    taper_high: CellResult | None
    """Most."""


@dataclass(frozen=True, slots=True)
class DraftDepthResult:
    """How far a face leans out over its whole depth."""

    draw: Quantity
    """Depth of draw."""
    draft: CellResult
    """By this much at its end."""


@dataclass(frozen=True, slots=True)
class ContractionReportResult:
    """What one source says of one metal."""

    metal: str
    """The metal as the source names it."""
    report: str
    """Which source, in short."""
    casting: Literal["any", "small", "large"]
    """Which castings."""
    low: CellResult
    """Least linear contraction."""
    high: CellResult
    """Most linear contraction."""


@dataclass(frozen=True, slots=True)
class ContractionResult:
    """Linear contraction of a group of metals, from the mould to the cold casting."""

    family: str
    """Family of metal."""
    group: str
    """Group within the family; any: the family as a whole."""
    used: CellResult | None
    """What calculations take for an alloy of the group without its own figure."""
    low: Quantity
    """Least that is reported."""
    high: Quantity
    """Most that is reported."""
    reports: tuple[ContractionReportResult, ...]
    """All reports."""


@dataclass(frozen=True, slots=True)
class AllowancesResult:
    """What a pattern is made larger by, and how near the casting comes to its drawing."""

    casting_tolerances: tuple[SizeStepResult, ...]
    """Total tolerance, half of it to either side, by nominal size."""
    casting_grades: tuple[GradesResult, ...]
    """Grades by way of moulding and metal."""
    foundry_tolerances: tuple[FoundryToleranceResult, ...]
    """What one job foundry promises, far finer."""
    machining_allowances: tuple[SizeStepResult, ...]
    """Metal on each machined face, by the largest size."""
    machining_practice: tuple[MachiningPracticeResult, ...]
    """Metal left for machining, as shops report it."""
    draft: tuple[DraftResult, ...]
    """Draft by face and work."""
    draft_by_depth: tuple[DraftDepthResult, ...]
    """Draft by depth of draw."""
    contraction: tuple[ContractionResult, ...]
    """Contraction by metal."""
