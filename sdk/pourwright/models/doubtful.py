# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of doubtful."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from .catalogue import CellResult


@dataclass(frozen=True, slots=True)
class DoubtfulFigureResult:
    """A figure that is from memory or estimated by rule."""

    table: str
    """The table it stands in."""
    row: str
    """Its row."""
    column: str
    """Its column."""
    grade: Literal["from memory", "estimated by rule"]
    """Why it is doubtful."""
    figure: CellResult
    """The figure and all that is known of it."""


@dataclass(frozen=True, slots=True)
class DoubtfulWordsResult:
    """A column of words that no publication stands behind."""

    table: str
    """The table."""
    column: str
    """The column."""
    grade: str
    """How far it may be trusted."""


@dataclass(frozen=True, slots=True)
class DoubtfulFigureList:
    """The doubtful figures of all tables."""

    items: tuple[DoubtfulFigureResult, ...]
    """The figures, by table."""
    words: tuple[DoubtfulWordsResult, ...]
    """Columns of words of the same sort."""
    from_memory: int
    """How many figures are from memory."""
    estimated_by_rule: int
    """How many are estimated by rule."""
    tables_version: str
    """Changes when any figure of the tables does."""
    next: str | None
    """Address of the rest of the list; null: the list is whole."""
