"""Answers of every subject as one text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..models.alloys import AlloyResult, AlloySummaryList
from ..models.plan_result import PlanResult
from ..models.pour_time import PourTimeResult
from ..reading import read
from .alloys import alloy_text, alloys_text
from .envelope import answer_lines
from .plan import plan_lines
from .pour_time import pour_time_lines
from .results import result_lines


def answer_text(subject: str, data: Mapping[str, Any], width: int, *, all_defaults: bool = False) -> str:
    """An answer for a terminal of ``width`` columns; ``data`` is its JSON."""
    if subject == "plan":
        body = plan_lines(read(PlanResult, data["result"]), width)
    elif subject == "pour-time":
        body = pour_time_lines(read(PourTimeResult, data["result"]), width)
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
