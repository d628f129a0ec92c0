"""A calibration as a table: what was expected, what the trials make of it, and what to send from now on."""

from __future__ import annotations

import json
from typing import Any

from ..models.calibration_result import (
    CalibrationResult,
    ContractionEstimateResult,
    EfficiencyEstimateResult,
    MouldConstantEstimateResult,
    RecoveryEstimateResult,
    YieldEstimateResult,
)
from .figures import shown
from .layout import pairs, paragraph, table, titled

_Estimate = (
    MouldConstantEstimateResult
    | EfficiencyEstimateResult
    | ContractionEstimateResult
    | RecoveryEstimateResult
    | YieldEstimateResult
)


def calibration_lines(result: CalibrationResult, width: int) -> list[str]:
    """The tables of a calibration."""
    found: list[tuple[str, _Estimate]] = []
    for name, estimate in (
        ("mould constant", result.mould_constant),
        ("feeding efficiency", result.feeding_efficiency),
        ("contraction", result.contraction),
        ("out of the pot", result.melting_yield),
    ):
        if estimate is not None:
            found.append((name, estimate))
    found += [(f"recovery of {one.element}", one) for one in result.recoveries]
    cells = [
        [
            name,
            _span(one.expected_low, one.expected_high),
            shown(one.value),
            _span(one.low, one.high),
            _span(one.next_low, one.next_high),
            shown(one.weight),
        ]
        for name, one in found
    ]
    heads = ["", "was expected", "is now", "between", "the next one", "trials' share"]
    readings = [
        [name, reading.name, shown(reading.value), _span(reading.low, reading.high), shown(reading.misfit)]
        for name, one in found
        for reading in one.readings
    ]
    return [
        *titled("your figures", table(heads, cells, width)),
        *titled(
            "what each trial says alone",
            table(["of the", "trial", "says", "between", "times off the rest"], readings, width),
        ),
        *titled("found in the melt, but charged by nothing", _names(result.not_charged, width)),
        *titled("send from now on", _use(result, width)),
    ]


def _span(low: Any, high: Any) -> str:
    return "-" if low is None or high is None else f"{shown(low)} to {shown(high)}"


def _names(elements: tuple[str, ...], width: int) -> list[str]:
    return paragraph(", ".join(elements), width, first="  ", rest="  ") if elements else []


def _use(result: CalibrationResult, width: int) -> list[str]:
    """The parts of later requests, as JSON with enough digits for people."""
    rows = [(", ".join(use.calls), json.dumps(_short(use.merge), ensure_ascii=False)) for use in result.use]
    return pairs(rows, width)


def _short(value: Any) -> Any:
    """Four digits of every number."""
    if isinstance(value, float):
        return float(f"{value:.4g}")
    if isinstance(value, dict):
        return {name: _short(inner) for name, inner in value.items()}
    return [_short(inner) for inner in value] if isinstance(value, list) else value
