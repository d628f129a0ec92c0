"""Answers of every subject as one text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..models.charge import ChargeResult
from ..models.charge_makes import MakesResult
from ..models.charge_melts import MeltsResult
from ..models.plan_result import PlanResult
from ..reading import read
from .charge import charge_lines, makes_lines, melts_lines
from .envelope import answer_lines
from .plan import plan_lines
from .results import result_lines


def answer_text(subject: str, data: Mapping[str, Any], width: int, *, all_defaults: bool = False) -> str:
    """An answer for a terminal of ``width`` columns; ``data`` is its JSON."""
    if subject == "plan":
        body = plan_lines(read(PlanResult, data["result"]), width)
    elif subject == "charge":
        body = charge_lines(read(ChargeResult, data["result"]), width)
    elif subject == "makes":
        body = makes_lines(read(MakesResult, data["result"]), width)
    elif subject == "melts":
        body = melts_lines(read(MeltsResult, data["result"]), width)
    else:
        body = result_lines(data["result"], width)
    return "\n".join(answer_lines(data, width, body, all_defaults=all_defaults))


def plan_text(data: Mapping[str, Any], width: int) -> str:
    """The answer of a plan."""
    return answer_text("plan", data, width)
