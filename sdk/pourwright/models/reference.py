# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of reference."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias


@dataclass(frozen=True, slots=True)
class SymbolResult:
    """A symbol of a formula."""

    symbol: str
    """The symbol."""
    name: str
    """What it stands for."""
    kind: str
    """Its physical kind."""
    unit: str
    """Its SI unit; empty for a bare number."""
    valid: str
    """The range in which the formula may be believed, in metric units."""


CitedSourceGrade: TypeAlias = Literal[
    "standard",
    "handbook",
    "data sheet",
    "textbook",
    "journal",
    "computed",
    "derived",
    "common practice",
    "from memory",
    "estimated by rule",
]


@dataclass(frozen=True, slots=True)
class CitedSource:
    """A source and the place in it."""

    key: str
    """The source's key in /v1/sources."""
    grade: CitedSourceGrade
    """How far the figure may be trusted."""
    place: str
    """Where in the source; may be empty."""


@dataclass(frozen=True, slots=True)
class FormulaResult:
    """One formula of the engine."""

    id: str
    """Its id, as the working names it."""
    subject: str
    """The subject it belongs to."""
    name: str
    """Its name."""
    description: str
    """What it says."""
    expression: str
    """The formula, written as it is evaluated, in SI units."""
    symbols: tuple[SymbolResult, ...]
    """Its symbols."""
    result: SymbolResult
    """What comes out."""
    empirical: str | None
    """The units that its constants need; null: holds in any consistent units."""
    identity: str | None
    """What must vanish, where the result has no closed form."""
    source: CitedSource
    """Where it comes from."""


@dataclass(frozen=True, slots=True)
class FormulaList:
    """A list of formulas."""

    items: tuple[FormulaResult, ...]
    """The formulas."""
    next: str | None
    """Address of the rest of the list; null: the list is whole."""


@dataclass(frozen=True, slots=True)
class CheckKindResult:
    """A kind of check."""

    id: str
    """Its id; never reused."""
    title: str
    """What is asked."""
    kind: str
    """Physical kind of the numbers compared."""
    passes: Literal["at least", "at most"]
    """Passes if the value is this, compared with the limit."""
    otherwise: Literal["warn", "fail"]
    """The verdict if it does not pass."""
    has_margin: bool
    """Whether the ratio of value and limit means something."""
    source: CitedSource
    """Where the rule comes from."""


@dataclass(frozen=True, slots=True)
class CheckKindList:
    """A list of checks."""

    items: tuple[CheckKindResult, ...]
    """The checks."""
    next: str | None
    """Address of the rest of the list; null: the list is whole."""


SourceResultGrade: TypeAlias = Literal[
    "standard",
    "handbook",
    "data sheet",
    "textbook",
    "journal",
    "computed",
    "derived",
    "common practice",
    "from memory",
    "estimated by rule",
]


@dataclass(frozen=True, slots=True)
class SourceResult:
    """A source of figures, rules or formulas."""

    key: str
    """The key by which everything names it."""
    author: str
    """Author or publisher; may be empty."""
    title: str
    """Title."""
    year: str
    """Year; empty where none is printed."""
    address: str
    """Where it can be read; may be empty."""
    grade: SourceResultGrade
    """How far it may be trusted."""


@dataclass(frozen=True, slots=True)
class SourceList:
    """A list of sources."""

    items: tuple[SourceResult, ...]
    """The sources."""
    next: str | None
    """Address of the rest of the list; null: the list is whole."""
