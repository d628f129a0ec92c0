# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of health."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class HealthResult:
    """A sign of life."""

    status: Literal["ok"]
    """The process answers."""
    engine_version: str
    """Version of the engine."""


@dataclass(frozen=True, slots=True)
class ReadyResult:
    """What a request needs is there."""

    status: Literal["ready"]
    """Requests can be served."""
    tables_version: str
    """Changes when any figure of the tables does."""
    alloys: int
    """Alloys in the tables."""
    sources: int
    """Sources that the tables and formulas name."""
