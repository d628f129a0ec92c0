# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of docs."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ProblemResult:
    """An entry of the catalogue of problems."""

    type: str
    """Address of the problem's page."""
    code: str
    """Its code; never reused."""
    status: int
    """Its HTTP status."""
    title: str
    """The problem in a few words."""
    detail: str
    """What it means and what to do."""


@dataclass(frozen=True, slots=True)
class FaultCodeResult:
    """A code that a single fault may have."""

    code: str
    """The code."""
    meaning: str
    """What it means."""


@dataclass(frozen=True, slots=True)
class ProblemsResult:
    """The catalogue of problems."""

    items: tuple[ProblemResult, ...]
    """Every problem."""
    next: str | None
    """Always null: the list is whole."""
    fault_codes: tuple[FaultCodeResult, ...]
    """Every code of a single fault."""
