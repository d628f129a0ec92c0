# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of limits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from .catalogue import CellResult


@dataclass(frozen=True, slots=True)
class ExposureLimitResult:
    """One figure of one authority. Local law and its authority come first."""

    substance: str
    """What is in the air."""
    formula: str
    """Its formula."""
    element: str
    """The metal it is counted as or holds; may be empty."""
    names: tuple[str, ...]
    """Other names of the substance."""
    form: str
    """fume, dust, fume and dust, or gas."""
    fraction: str
    """What of it counts: total, inhalable, respirable, or gas."""
    authority: str
    """Who set it."""
    year: str
    """Year of the figure or of the page that prints it; may be empty."""
    kind: Literal["limit", "action level", "immediate danger"]
    """limit; action level: where an employer must begin to act; immediate danger: where escape itself is in
    doubt."""
    averaging: Literal["8 h", "15 min", "ceiling"]
    """Time over which it is averaged."""
    concentration: CellResult | None
    """The figure by mass in a volume of air."""
    volume_share: CellResult | None
    """The figure by volume, of a gas."""


@dataclass(frozen=True, slots=True)
class ExposureLimitList:
    """A list of exposure limits."""

    items: tuple[ExposureLimitResult, ...]
    """The exposure limits."""
    next: str | None
    """Address of the rest of the list; null: the list is whole."""
