"""Answers of every subject as one text."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from ..models.alloys import AlloyResult, AlloySummaryList
from ..models.calibration_result import CalibrationResult
from ..models.charge import ChargeResult
from ..models.charge_makes import MakesResult
from ..models.charge_melts import MeltsResult
from ..models.plan_result import PlanResult
from ..models.pour_time import PourTimeResult
from ..reading import read
from .alloys import alloy_text, alloys_text
from .calibration import calibration_lines
from .charge import charge_lines, makes_lines, melts_lines
from .envelope import answer_lines
from .plan import plan_lines
from .pour_time import pour_time_lines
from .results import result_lines

_LAID_OUT: dict[str, tuple[Any, Callable[[Any, int], Iterable[str]]]] = {
    "plan": (PlanResult, plan_lines),
    "pour-time": (PourTimeResult, pour_time_lines),
    "charge": (ChargeResult, charge_lines),
    "makes": (MakesResult, makes_lines),
    "melts": (MeltsResult, melts_lines),
    "calibration": (CalibrationResult, calibration_lines),
}
"""Results with a layout of their own; any other is laid out by its shape."""


def answer_text(subject: str, data: Mapping[str, Any], width: int, *, all_defaults: bool = False) -> str:
    """An answer for a terminal of ``width`` columns; ``data`` is its JSON."""
    if subject in _LAID_OUT:
        model, lines = _LAID_OUT[subject]
        body = lines(read(model, data["result"]), width)
    else:
        body = result_lines(data["result"], width)
    return "\n".join(answer_lines(data, width, body, all_defaults=all_defaults))


def plan_text(data: Mapping[str, Any], width: int) -> str:
    """The answer of a plan."""
    return answer_text("plan", data, width)


def alloys_page(data: Mapping[str, Any], width: int, *, left_out: bool = False) -> str:
    """The answer of /v1/alloys."""
    return alloys_text(read(AlloySummaryList, data), width, left_out=left_out)


def alloy_page(data: Mapping[str, Any], width: int) -> str:
    """The answer of /v1/alloys/{id}."""
    return alloy_text(read(AlloyResult, data), width)
