"""Checks: one question with a number on either side, and the verdict that follows.

The catalogue of kinds is filled by the assess modules when they load; ids are never reused.
``slack`` is signed in the check's own unit: zero or more passes. Numbers may be NumPy arrays
(the sampler's); a verdict exists only for scalars.
"""

from dataclasses import dataclass
from typing import Literal

from .ledger import Say

Verdict = Literal["pass", "warn", "fail", "unknown"]

_ORDER: dict[Verdict, int] = {"pass": 0, "warn": 1, "unknown": 2, "fail": 3}

ROUNDING = 1e-9
"""A check is not failed by the last bits of a float: this much of the limit is forgiven."""


def worst(verdicts: list[Verdict]) -> Verdict:
    """The worst of several verdicts; ``pass`` for none."""
    return max(verdicts, key=_ORDER.__getitem__, default="pass")


@dataclass(frozen=True, slots=True)
class CheckKind:
    """One entry of the catalogue.

    ``sense`` says which side passes; ``else_`` is the verdict of a check that does not pass;
    ``margin`` declares that value/limit (or its inverse) is a meaningful ratio.
    """

    id: str
    title: str
    kind: str
    sense: Literal["at least", "at most"]
    else_: Literal["warn", "fail"]
    source: str
    margin: bool = False

    def judge(
        self,
        value: float,
        limit: float,
        *,
        subject: str,
        ok: Say,
        bad: Say,
        warn_limit: float | None = None,
        doubtful: Say | None = None,
    ) -> "Check":
        """Compare ``value`` with ``limit``.

        ``warn_limit`` is a second, laxer limit: between the two the verdict is ``warn`` (and the
        message ``doubtful``), beyond it ``else_``.
        """
        sign = 1.0 if self.sense == "at least" else -1.0
        slack = sign * (value - limit)
        second = None if warn_limit is None else sign * (value - warn_limit)
        return Check(self, subject, value, limit, slack, second, ok, bad, doubtful or bad)


@dataclass(frozen=True, slots=True)
class Check:
    """A judged check; see :class:`CheckKind`."""

    kind: CheckKind
    subject: str
    value: float
    limit: float
    slack: float
    second_slack: float | None
    ok: Say
    bad: Say
    doubtful: Say

    @property
    def verdict(self) -> Verdict:
        if self.slack >= -ROUNDING * max(abs(self.limit), 1e-12):
            return "pass"
        if self.second_slack is not None and self.second_slack >= -ROUNDING * abs(self.limit):
            return "warn"
        return self.kind.else_

    @property
    def message(self) -> Say:
        verdict = self.verdict
        if verdict == "pass":
            return self.ok
        return self.doubtful if verdict == "warn" and self.kind.else_ == "fail" else self.bad

    @property
    def margin(self) -> float | None:
        """value/limit, turned so that more is better; None where it means nothing."""
        top, bottom = (self.value, self.limit) if self.kind.sense == "at least" else (self.limit, self.value)
        if not self.kind.margin or bottom <= 0:
            return None
        return top / bottom


CHECKS: dict[str, CheckKind] = {}
"""The catalogue by id."""


def check_kind(
    id: str,
    title: str,
    *,
    kind: str,
    sense: Literal["at least", "at most"],
    source: str,
    else_: Literal["warn", "fail"] = "fail",
    margin: bool = False,
) -> CheckKind:
    """Enter a kind of check in the catalogue; an id is used once (ValueError otherwise)."""
    if id in CHECKS:
        raise ValueError(f"check id {id} is already used")
    CHECKS[id] = CheckKind(id, title, kind, sense, else_, source, margin)
    return CHECKS[id]
