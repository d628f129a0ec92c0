# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of calibration result."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..quantity import JsonObject, Quantity


@dataclass(frozen=True, slots=True)
class MouldConstantEstimateReadingResult:
    """What one measurement alone says of the mould constant."""

    place: str
    """Where it stands in the request."""
    name: str
    """What it is called."""
    misfit: float | None
    """Standard deviations off everything else; null where there is nothing else."""
    value: Quantity | None
    """What it says."""
    low: Quantity | None
    """Low end of its own uncertainty."""
    high: Quantity | None
    """High end."""


@dataclass(frozen=True, slots=True)
class MouldConstantEstimateResult:
    """The mould constant: expectation and trials together, intervals 5 to 95 per cent."""

    spread: Quantity | None
    """Half-width of low to high: a share of the value; of a contraction points."""
    next_spread: Quantity | None
    """The same for the next casting or heat."""
    weight: Quantity
    """Share of the certainty that comes from the trials."""
    goes_to: str | None
    """The field of later requests that it belongs to; null where there is none."""
    value: Quantity | None
    """The middle: as likely more as less."""
    low: Quantity | None
    """Low end."""
    high: Quantity | None
    """High end."""
    next_low: Quantity | None
    """Low end for the next casting or heat, which differs from the middle."""
    next_high: Quantity | None
    """High end for the next."""
    expected: Quantity | None
    """What was expected before the trials; null where nothing was."""
    expected_low: Quantity | None
    """Its low end."""
    expected_high: Quantity | None
    """Its high end."""
    readings: tuple[MouldConstantEstimateReadingResult, ...]
    """What each trial alone says."""
    method: Literal["bare", "curvature"] | None
    """Chvorinov's rule as printed, or corrected for curved surfaces."""


@dataclass(frozen=True, slots=True)
class EfficiencyEstimateReadingResult:
    """What one measurement alone says of the feeding efficiency."""

    place: str
    """Where it stands in the request."""
    name: str
    """What it is called."""
    misfit: float | None
    """Standard deviations off everything else; null where there is nothing else."""
    value: Quantity | None
    """What it says."""
    low: Quantity | None
    """Low end of its own uncertainty."""
    high: Quantity | None
    """High end."""


@dataclass(frozen=True, slots=True)
class EfficiencyEstimateResult:
    """The feeding efficiency: expectation and trials together, intervals 5 to 95 per cent."""

    spread: Quantity | None
    """Half-width of low to high: a share of the value; of a contraction points."""
    next_spread: Quantity | None
    """The same for the next casting or heat."""
    weight: Quantity
    """Share of the certainty that comes from the trials."""
    goes_to: str | None
    """The field of later requests that it belongs to; null where there is none."""
    value: Quantity | None
    """The middle: as likely more as less."""
    low: Quantity | None
    """Low end."""
    high: Quantity | None
    """High end."""
    next_low: Quantity | None
    """Low end for the next casting or heat, which differs from the middle."""
    next_high: Quantity | None
    """High end for the next."""
    expected: Quantity | None
    """What was expected before the trials; null where nothing was."""
    expected_low: Quantity | None
    """Its low end."""
    expected_high: Quantity | None
    """Its high end."""
    readings: tuple[EfficiencyEstimateReadingResult, ...]
    """What each trial alone says."""


@dataclass(frozen=True, slots=True)
class ContractionEstimateReadingResult:
    """What one measurement alone says of the contraction."""

    place: str
    """Where it stands in the request."""
    name: str
    """What it is called."""
    misfit: float | None
    """Standard deviations off everything else; null where there is nothing else."""
    value: Quantity | None
    """What it says."""
    low: Quantity | None
    """Low end of its own uncertainty."""
    high: Quantity | None
    """High end."""


@dataclass(frozen=True, slots=True)
class ContractionEstimateResult:
    """The contraction: expectation and trials together, intervals 5 to 95 per cent."""

    spread: Quantity | None
    """Half-width of low to high: a share of the value; of a contraction points."""
    next_spread: Quantity | None
    """The same for the next casting or heat."""
    weight: Quantity
    """Share of the certainty that comes from the trials."""
    goes_to: str | None
    """The field of later requests that it belongs to; null where there is none."""
    value: Quantity | None
    """The middle: as likely more as less."""
    low: Quantity | None
    """Low end."""
    high: Quantity | None
    """High end."""
    next_low: Quantity | None
    """Low end for the next casting or heat, which differs from the middle."""
    next_high: Quantity | None
    """High end for the next."""
    expected: Quantity | None
    """What was expected before the trials; null where nothing was."""
    expected_low: Quantity | None
    """Its low end."""
    expected_high: Quantity | None
    """Its high end."""
    readings: tuple[ContractionEstimateReadingResult, ...]
    """What each trial alone says."""


@dataclass(frozen=True, slots=True)
class RecoveryEstimateReadingResult:
    """What one measurement alone says of the recovery of an element."""

    place: str
    """Where it stands in the request."""
    name: str
    """What it is called."""
    misfit: float | None
    """Standard deviations off everything else; null where there is nothing else."""
    value: Quantity | None
    """What it says."""
    low: Quantity | None
    """Low end of its own uncertainty."""
    high: Quantity | None
    """High end."""


@dataclass(frozen=True, slots=True)
class RecoveryEstimateResult:
    """The recovery of an element: expectation and trials together, intervals 5 to 95 per cent."""

    spread: Quantity | None
    """Half-width of low to high: a share of the value; of a contraction points."""
    next_spread: Quantity | None
    """The same for the next casting or heat."""
    weight: Quantity
    """Share of the certainty that comes from the trials."""
    goes_to: str | None
    """The field of later requests that it belongs to; null where there is none."""
    value: Quantity | None
    """The middle: as likely more as less."""
    low: Quantity | None
    """Low end."""
    high: Quantity | None
    """High end."""
    next_low: Quantity | None
    """Low end for the next casting or heat, which differs from the middle."""
    next_high: Quantity | None
    """High end for the next."""
    expected: Quantity | None
    """What was expected before the trials; null where nothing was."""
    expected_low: Quantity | None
    """Its low end."""
    expected_high: Quantity | None
    """Its high end."""
    readings: tuple[RecoveryEstimateReadingResult, ...]
    """What each trial alone says."""
    element: str
    """The element."""


@dataclass(frozen=True, slots=True)
class YieldEstimateReadingResult:
    """What one measurement alone says of the metal that comes out of what is charged."""

    place: str
    """Where it stands in the request."""
    name: str
    """What it is called."""
    misfit: float | None
    """Standard deviations off everything else; null where there is nothing else."""
    value: Quantity | None
    """What it says."""
    low: Quantity | None
    """Low end of its own uncertainty."""
    high: Quantity | None
    """High end."""


@dataclass(frozen=True, slots=True)
class YieldEstimateResult:
    """The metal that comes out of what is charged: expectation and trials together, intervals 5 to 95 per
    cent.
    """

    spread: Quantity | None
    """Half-width of low to high: a share of the value; of a contraction points."""
    next_spread: Quantity | None
    """The same for the next casting or heat."""
    weight: Quantity
    """Share of the certainty that comes from the trials."""
    goes_to: str | None
    """The field of later requests that it belongs to; null where there is none."""
    value: Quantity | None
    """The middle: as likely more as less."""
    low: Quantity | None
    """Low end."""
    high: Quantity | None
    """High end."""
    next_low: Quantity | None
    """Low end for the next casting or heat, which differs from the middle."""
    next_high: Quantity | None
    """High end for the next."""
    expected: Quantity | None
    """What was expected before the trials; null where nothing was."""
    expected_low: Quantity | None
    """Its low end."""
    expected_high: Quantity | None
    """Its high end."""
    readings: tuple[YieldEstimateReadingResult, ...]
    """What each trial alone says."""


@dataclass(frozen=True, slots=True)
class MeltingLossResult:
    """Metal lost in melting, a share of what is charged."""

    value: Quantity
    """The middle."""
    low: Quantity
    """Low end, 5 per cent."""
    high: Quantity
    """High end, 95 per cent."""


@dataclass(frozen=True, slots=True)
class UseResult:
    """A part of later requests."""

    calls: tuple[str, ...]
    """The calls that take it: freezing for /v1/freezing, and so on."""
    merge: JsonObject
    """Merge this into the request (JSON Merge Patch, RFC 7396)."""


@dataclass(frozen=True, slots=True)
class CalibrationResult:
    """What the trials tell, and where it goes."""

    mould_constant: MouldConstantEstimateResult | None
    """The mould constant; null without trials."""
    feeding_efficiency: EfficiencyEstimateResult | None
    """The feeding efficiency; null without a drained riser."""
    contraction: ContractionEstimateResult | None
    """The contraction; null without lengths."""
    recoveries: tuple[RecoveryEstimateResult, ...]
    """Recoveries of the elements charged and analysed."""
    melting_yield: YieldEstimateResult | None
    """What comes out of the pot; null without heats."""
    melting_loss: MeltingLossResult | None
    """The rest of it: what melting loses."""
    not_charged: tuple[str, ...]
    """Elements in an analysis that nothing charged is said to hold."""
    use: tuple[UseResult, ...]
    """What later requests can be told: for recoveries the range of the next heat, for the others the middle.
    A mould constant found with the correction for curved surfaces goes with the same alloy and mould."""
