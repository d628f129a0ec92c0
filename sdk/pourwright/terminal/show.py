"""Answers of every subject as one text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..models.draw import DrawResult
from ..models.plan_result import PlanResult
from ..models.pour_time import PourTimeResult
from ..reading import read
from .draw import draw_lines
from .envelope import answer_lines
from .plan import plan_lines
from .pour_time import pour_time_lines
from .results import result_lines


def answer_text(subject: str, data: Mapping[str, Any], width: int, *, all_defaults: bool = False) -> str:
    """An answer for a terminal of ``width`` columns; ``data`` is its JSON."""
    if subject == "plan":
        body = plan_lines(read(PlanResult, data["result"]), width)
    elif subject == "draw":
        body = draw_lines(read(DrawResult, data["result"]), width)
    elif subject == "pour-time":
        body = pour_time_lines(read(PourTimeResult, data["result"]), width)
    else:
        body = result_lines(data["result"], width)
    return "\n".join(answer_lines(data, width, body, all_defaults=all_defaults))


def plan_text(data: Mapping[str, Any], width: int) -> str:
    """The answer of a plan."""
    return answer_text("plan", data, width)
