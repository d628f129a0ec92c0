"""Answers of every subject as one text."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from ..models.alloys import AlloyResult, AlloySummaryList
from ..models.calibration_result import CalibrationResult
from ..models.charge import ChargeResult
from ..models.charge_makes import MakesResult
from ..models.charge_melts import MeltsResult
from ..models.draw import DrawResult
from ..models.freeze_maps import FreezeMapResult
from ..models.freezing import FreezingResult
from ..models.gating_result import GatingResult
from ..models.melt import MeltResult
from ..models.pattern import PatternSizesResult
from ..models.plan_result import PlanResult
from ..models.pour_time import PourTimeResult
from ..models.riser import RiserResult
from ..models.sand import SandResult
from ..reading import read
from .alloys import alloy_text, alloys_text
from .calibration import calibration_lines
from .charge import charge_lines, makes_lines, melts_lines
from .draw import draw_lines
from .envelope import answer_lines
from .freeze_map import freeze_map_lines
from .freezing import freezing_lines
from .gating import gating_answer_lines
from .melt import melt_lines
from .pattern import pattern_lines
from .plan import plan_lines
from .pour_time import pour_time_lines
from .results import result_lines
from .riser import riser_lines
from .sand import sand_lines

_LAID_OUT: dict[str, tuple[Any, Callable[[Any, int], Iterable[str]]]] = {
    "draw": (DrawResult, draw_lines),
    "plan": (PlanResult, plan_lines),
    "freezing": (FreezingResult, freezing_lines),
    "freeze-map": (FreezeMapResult, freeze_map_lines),
    "riser": (RiserResult, riser_lines),
    "gating": (GatingResult, gating_answer_lines),
    "pour-time": (PourTimeResult, pour_time_lines),
    "charge": (ChargeResult, charge_lines),
    "makes": (MakesResult, makes_lines),
    "melts": (MeltsResult, melts_lines),
    "melt": (MeltResult, melt_lines),
    "sand": (SandResult, sand_lines),
    "pattern": (PatternSizesResult, pattern_lines),
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
