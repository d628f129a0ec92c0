# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of charge melts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import JsonObject, Quantity, QuantityInput
from .charge import ChargeLine, ElementLine, LimitLine, PurchaseLine, StockInput
from .charge_makes import UseLine


class MeltInput(TypedDict):
    """One melt wanted, by its alloy or its limits."""

    name: NotRequired[str]
    """What you call it; left out, its number and alloy."""
    alloy: NotRequired[str]
    """The alloy wanted; its limits are looked up."""
    limits_percent: NotRequired[Mapping[str, float | Sequence[float | None]]]
    """Limits of the melt, per cent of mass by element: [low, high], null where there is none. They replace
    the alloy's."""
    unnamed_percent: NotRequired[float]
    """What all elements together may make that the alloy does not name, per cent; more is warned of."""
    melt_mass: QuantityInput
    """Molten metal wanted, after loss."""


class MeltsRequest(TypedDict):
    """The melts of a pour day, and the one stock that they are made from."""

    melts: Sequence[MeltInput | JsonObject]
    """The melts."""
    stock: Sequence[StockInput | JsonObject]
    """The stock."""
    recovery_percent: NotRequired[float | Sequence[float] | Mapping[str, float | Sequence[float]]]
    """What is left in the melt of each element charged, per cent: a number, or [low, high]; one figure
    instead of the map stands for all. Left out, the tables' by each melt's base metal."""
    margin: NotRequired[Literal["robust", "nominal"]]
    """Whether limits are kept wherever recoveries and compositions fall in their ranges (robust, the
    default), or at the middle of the ranges."""
    smallest_lot: NotRequired[QuantityInput]
    """Scrap and ingot are used in at least this mass or not at all; left out, 2 % of each melt."""
    smallest_addition: NotRequired[QuantityInput]
    """Pure metals and master alloys are used in at least this mass or not at all; left out, 5 g."""
    currency: NotRequired[str]
    """Name of the money that prices are in, such as EUR."""


@dataclass(frozen=True, slots=True)
class MeltLine:
    """One melt and its charge."""

    name: str
    """What it is called."""
    alloy: str | None
    """The alloy; null where limits were given alone."""
    outcome: Literal["robust", "nominal", "short", "nearest", "none"]
    """Whether its limits are kept for certain (robust), at middle recoveries (nominal), kept with less metal
    than is wanted (short), kept as nearly as what is left over allows (nearest), or there is nothing to
    charge (none)."""
    wanted: Quantity
    """The melt wanted."""
    melt_mass: Quantity
    """The melt at middle recoveries."""
    melt_mass_low: Quantity | None
    """The melt at the lowest recoveries."""
    shortfall: Quantity
    """What is lacking to it, at middle recoveries."""
    cost: Quantity | None
    """Cost of its charge; null where a price is unknown."""
    charge: tuple[ChargeLine, ...] | None
    """What is charged, in the order of the stock."""
    composition: tuple[ElementLine, ...] | None
    """The melt by element, the richest first."""
    binding: tuple[LimitLine, ...] | None
    """Limits that it lies on or, where it is the nearest, breaks."""
    purchase: tuple[PurchaseLine, ...] | None
    """Where the stock does not make it: the smallest purchase that does, beside what the other melts leave;
    prices are not known here."""


@dataclass(frozen=True, slots=True)
class MeltsResult:
    """The charges of all melts, and what is left of the stock."""

    margin: Literal["robust", "nominal"] | None
    """How limits are kept."""
    cost: Quantity | None
    """Cost of all charges but those that are only the nearest; null where a price is unknown."""
    cost_at_middle: Quantity | None
    """What they would cost with limits kept at middle recoveries only."""
    price_of_certainty: Quantity | None
    """The difference of the two; null where not all are certain."""
    melts: tuple[MeltLine, ...] | None
    """The melts, in the order they were sent."""
    left: tuple[UseLine, ...] | None
    """What is left of each item of which there is an end; a charge that is only the nearest takes none."""
