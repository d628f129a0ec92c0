# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of catalogue."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..quantity import Quantity
from .reference import CitedSource


@dataclass(frozen=True, slots=True)
class AliasResult:
    """Another name of an alloy."""

    name: str
    """The name."""
    relation: Literal["same", "near"]
    """near: lends its properties, never its limits."""
    source: CitedSource
    """Who says so."""


@dataclass(frozen=True, slots=True)
class AlloySummaryResult:
    """An alloy in brief."""

    id: str
    """Its id."""
    name: str
    """Its name."""
    designation: str
    """The standard's designation."""
    family: str
    """Base metal."""
    group: str
    """Group within the family."""
    freezing_class: str
    """How wide its freezing range is: short, middle or long."""
    aliases: tuple[AliasResult, ...]
    """Other names."""


@dataclass(frozen=True, slots=True)
class AlloySummaryList:
    """A list of alloys."""

    items: tuple[AlloySummaryResult, ...]
    """The alloys."""
    next: str | None
    """Address of the rest of the list; null: the list is whole."""


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


@dataclass(frozen=True, slots=True)
class ShareResult:
    """What an alloy holds of one element, per cent of mass."""

    element: str
    """Symbol of the element."""
    minimum: CellResult | None
    """Least, where there is a limit."""
    nominal: CellResult | None
    """Usual, where there is a figure."""
    maximum: CellResult | None
    """Most, where there is a limit."""


@dataclass(frozen=True, slots=True)
class AlloyResult:
    """An alloy with every figure that is known of it."""

    id: str
    """Its id."""
    name: str
    """Its name."""
    designation: str
    """The standard's designation."""
    family: str
    """Base metal."""
    group: str
    """Group within the family."""
    freezing_class: str
    """How wide its freezing range is: short, middle or long."""
    aliases: tuple[AliasResult, ...]
    """Other names."""
    properties: tuple[CellResult, ...]
    """Its properties."""
    composition: tuple[ShareResult, ...]
    """Its composition."""
    others_each: CellResult | None
    """Most of any element not named."""
    others_total: CellResult | None
    """Most of all elements not named together."""
    use: str
    """What it is used for."""
    corrosion: str
    """Where it lasts and where not."""
    melt_hazards: str
    """What its melt can do to people."""


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


@dataclass(frozen=True, slots=True)
class ElementList:
    """A list of elements."""

    items: tuple[ElementResult, ...]
    """The elements."""
    next: str | None
    """Address of the rest of the list; null: the list is whole."""
