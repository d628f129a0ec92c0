# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of catalogue."""

from __future__ import annotations

from dataclasses import dataclass

from ..quantity import Quantity
from .reference import CitedSource


@dataclass(frozen=True, slots=True)
class ConflictResult:
    """What another source says of the same figure."""

    value: Quantity | float | None
    """The other figure."""
    printed: float
    """As printed there."""
    unit: str
    """Unit as printed there."""
    source: CitedSource
    """Where it is printed."""


@dataclass(frozen=True, slots=True)
class CellResult:
    """One figure of a table."""

    name: str
    """What the figure is."""
    value: Quantity | float | None
    """The figure in the units asked for."""
    printed: float
    """The figure as its source prints it."""
    unit: str
    """Unit as printed."""
    source: CitedSource
    """Where it comes from."""
    spread: float | None
    """Half-width as a fraction of the value, where one is known."""
    conflicts: tuple[ConflictResult, ...]
    """Figures that were not chosen."""
    choice: str
    """Why this one, where there was a choice."""
    checked: str
    """What it was compared with; may be empty."""


@dataclass(frozen=True, slots=True)
class WallResult:
    """The thinnest walls that fill in this medium."""

    family: str
    """Base metal."""
    least: CellResult
    """The thinnest that is reported."""
    usual: CellResult | None
    """Upper end of the usual least."""
    any_sand: bool
    """True where the report is of sand in general."""


@dataclass(frozen=True, slots=True)
class MouldResult:
    """A moulding medium."""

    id: str
    """Its id."""
    name: str
    """Its name."""
    names: tuple[str, ...]
    """Other names that requests may use."""
    insulating: bool
    """False for a metal chill, to which the formulas of sand do not apply."""
    properties: tuple[CellResult, ...]
    """Its properties."""
    lacking: tuple[str, ...]
    """Properties for which no figure was found."""
    least_walls: tuple[WallResult, ...]
    """The thinnest walls that fill in it, by metal."""


@dataclass(frozen=True, slots=True)
class MouldList:
    """A list of moulding media."""

    items: tuple[MouldResult, ...]
    """The moulding media."""
    next: str | None
    """Address of the rest of the list; null: the list is whole."""


@dataclass(frozen=True, slots=True)
class ElementResult:
    """A chemical element."""

    symbol: str
    """Its symbol."""
    name: str
    """Its name."""
    oxide: str
    """The oxide that its fume is; may be empty."""
    properties: tuple[CellResult, ...]
    """Its properties."""
    lacking: tuple[str, ...]
    """Properties for which no figure was found."""


@dataclass(frozen=True, slots=True)
class ElementList:
    """A list of elements."""

    items: tuple[ElementResult, ...]
    """The elements."""
    next: str | None
    """Address of the rest of the list; null: the list is whole."""


@dataclass(frozen=True, slots=True)
class WordsResult:
    """Something that a table says in words."""

    name: str
    """What it is about."""
    text: str
    """The words."""
    source: CitedSource
    """Where they come from."""
