# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of charge makes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import JsonObject, Quantity, QuantityInput
from .charge import LimitLine, StockInput


class MakesRequest(TypedDict):
    """A stock of which nobody knows yet what it is good for."""

    stock: Sequence[StockInput | JsonObject]
    """The stock."""
    melt_mass: NotRequired[QuantityInput]
    """Molten metal wanted, after loss; left out, as much as the stock makes of each alloy."""
    alloys: NotRequired[Sequence[str]]
    """The alloys to look at; left out, all of the table."""
    whole: NotRequired[int]
    """So many of the best are worked out again with whole pieces and smallest lots; the others leave them
    aside. The default is 5."""
    margin: NotRequired[Literal["robust", "nominal"]]
    """Whether limits are kept wherever recoveries and compositions fall in their ranges (robust, the
    default), or at the middle of the ranges. What is not certain of anything is shown at the middle."""
    recovery_percent: NotRequired[float | Sequence[float] | Mapping[str, float | Sequence[float]]]
    """What is left in the melt of each element charged, per cent: a number, or [low, high]; one figure
    instead of the map stands for all. Left out, the tables' by each alloy's base metal."""
    smallest_lot: NotRequired[QuantityInput]
    """Scrap and ingot are used in at least this mass or not at all; left out, 2 % of each melt."""
    smallest_addition: NotRequired[QuantityInput]
    """Pure metals and master alloys are used in at least this mass or not at all; left out, 5 g."""
    currency: NotRequired[str]
    """Name of the money that prices are in, such as EUR."""


@dataclass(frozen=True, slots=True)
class UseLine:
    """A stock item and a mass of it."""

    item: str
    """The item's name."""
    place: int
    """Its place in the stock, from 0."""
    mass: Quantity
    """How much of it."""


@dataclass(frozen=True, slots=True)
class MakesLine:
    """One alloy that the stock makes."""

    alloy: str
    """The alloy."""
    name: str
    """Its name."""
    certain: bool
    """Whether its limits are kept wherever the recoveries fall."""
    whole: bool
    """Whether whole pieces and smallest lots are kept."""
    enough: bool | None
    """Whether it is as much as is wanted; null where nothing was said."""
    melt_mass: Quantity
    """The melt at middle recoveries."""
    used_mass: Quantity
    """What is charged for it."""
    stock_ratio: Quantity | None
    """That as a share of the stock; null where some of it has no end."""
    cost: Quantity | None
    """Cost of the charge; null where a price is unknown."""
    cost_per_mass: Quantity | None
    """Cost by mass of the melt; null where a price is unknown."""
    binding: tuple[LimitLine, ...] | None
    """Limits that it lies on: they keep the rest of the stock out."""
    charge: tuple[UseLine, ...] | None
    """What is charged; null beyond the best few that are worked out whole."""


@dataclass(frozen=True, slots=True)
class CannotLine:
    """One alloy that the stock does not make, and one limit that stands in the way."""

    alloy: str
    """The alloy."""
    name: str
    """Its name."""
    element: str | None
    """The element; null where no single limit is to blame: mostly the stock holds too much that the alloy
    does not name."""
    side: Literal["minimum", "maximum"] | None
    """Which of its limits."""
    limit_percent: float | None
    """The limit."""
    nearest_percent: float | None
    """The nearest that any one item comes to it, melted alone; null where one item would keep this limit and
    breaks another."""


@dataclass(frozen=True, slots=True)
class MakesResult:
    """What the stock makes and what it does not."""

    margin: Literal["robust", "nominal"] | None
    """How limits are kept."""
    stock_mass: Quantity | None
    """All that lies in stock and may be melted; null where some has no end."""
    makes: tuple[MakesLine, ...] | None
    """Alloys that it makes, the best first: certain ones before others, then by the share of the stock (or of
    the melt wanted) that they use, then by cost."""
    cannot: tuple[CannotLine, ...] | None
    """Alloys that it does not make, by name."""
