# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of charge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypeAlias, TypedDict

from ..quantity import JsonObject, Quantity, QuantityInput

StockInputKind: TypeAlias = Literal[
    "scrap",
    "return",
    "ingot",
    "pure metal",
    "master alloy",
    "returns",
    "sprues",
    "pure",
]

StockInputForm: TypeAlias = Literal[
    "lumps",
    "bar",
    "rod",
    "plate",
    "sheet",
    "tube",
    "hollow",
    "turnings",
    "wire",
    "ingot",
    "casting",
    "fittings",
    "bolts",
    "shot",
    "powder",
    "pipe",
    "swarf",
    "chips",
]

StockInputCondition: TypeAlias = Sequence[
    Literal[
        "clean",
        "galvanised",
        "plated",
        "sealed",
        "damp",
        "oily",
        "painted",
        "galvanized",
    ]
]


class StockInput(TypedDict):
    """One kind of metal in stock, by its composition or by the alloy that it is."""

    name: str
    """What you call it."""
    composition_percent: NotRequired[Mapping[str, float | Sequence[float]]]
    """What it is made of, per cent of mass by element: a number, or [low, high] where it is not certain. The
    rest to 100 % counts as 'rest'."""
    alloy: NotRequired[str]
    """The alloy that it is; its nominal composition is taken."""
    available: NotRequired[QuantityInput]
    """How much of it there is; left out, as much as is wanted."""
    price: NotRequired[QuantityInput]
    """Its price; left out, it is unknown and not free."""
    piece: NotRequired[QuantityInput]
    """Mass of one piece, where only whole pieces are charged."""
    pieces: NotRequired[int]
    """How many such pieces there are."""
    kind: NotRequired[StockInputKind]
    """What sort of stock it is; left out, a master alloy is told by its name, an ingot by its form or alloy,
    a pure metal by its composition, and anything else is scrap."""
    form: NotRequired[StockInputForm]
    """Its form."""
    condition: NotRequired[StockInputCondition]
    """What is on it or in it."""
    minimum_use: NotRequired[QuantityInput]
    """At least so much of it has to be used."""
    all_or_nothing: NotRequired[bool]
    """It is charged whole or not at all."""
    smallest_lot: NotRequired[QuantityInput]
    """It is used in at least this mass or not at all; 0 for any mass."""
    recovery_percent: NotRequired[float | Sequence[float] | Mapping[str, float | Sequence[float]]]
    """What of it is left in the melt, per cent by element, or one figure for all; it comes before the general
    recoveries."""
    charged: NotRequired[QuantityInput]
    """How much of it you have decided to charge. Where any item has this, nothing is chosen: the charge is
    only judged."""


class HeelInput(TypedDict):
    """Metal that is already molten in the pot; it is counted as it lies, with no further loss."""

    mass: QuantityInput
    """How much of it there is."""
    composition_percent: NotRequired[Mapping[str, float | Sequence[float]]]
    """What it is made of, per cent of mass by element: a number, or [low, high] where it is not certain. The
    rest to 100 % counts as 'rest'."""
    alloy: NotRequired[str]
    """The alloy that it is; its nominal composition is taken."""


class ChargeRequest(TypedDict):
    """A melt, by its alloy or its limits, and the stock that it is to be made from."""

    alloy: NotRequired[str]
    """The alloy wanted; its limits are looked up."""
    limits_percent: NotRequired[Mapping[str, float | Sequence[float | None]]]
    """Limits of the melt, per cent of mass by element: [low, high], null where there is none. They replace
    the alloy's."""
    unnamed_percent: NotRequired[float]
    """What all elements together may make that the alloy does not name, per cent; more is warned of."""
    aim_percent: NotRequired[Mapping[str, float]]
    """The composition aimed at; left out, the alloy's nominal one."""
    melt_mass: QuantityInput
    """Molten metal wanted, after loss, the heel included."""
    stock: Sequence[StockInput | JsonObject]
    """The stock."""
    heel: NotRequired[HeelInput | JsonObject]
    """What is already molten in the pot."""
    recovery_percent: NotRequired[float | Sequence[float] | Mapping[str, float | Sequence[float]]]
    """What is left in the melt of each element charged, per cent: a number, or [low, high]; one figure
    instead of the map stands for all. Left out, the tables' by base metal and form."""
    margin: NotRequired[Literal["robust", "nominal"]]
    """Whether limits are kept wherever recoveries and compositions fall in their ranges (robust, the
    default), or at the middle of the ranges."""
    objective: NotRequired[Literal["least_cost", "most_scrap", "closest_to_aim"]]
    """What the best charge is. The default is least cost, and most scrap where no item has a price."""
    smallest_lot: NotRequired[QuantityInput]
    """Scrap and ingot are used in at least this mass or not at all; the default is 2 % of the melt."""
    smallest_addition: NotRequired[QuantityInput]
    """Pure metals and master alloys are used in at least this mass or not at all; the default is 5 g."""
    currency: NotRequired[str]
    """Name of the money that prices are in, such as EUR."""
    explain: NotRequired[bool]
    """Whether to work out of each stock item why no more of it is charged: one lot more is forced in, and
    what breaks, or what it costs, is told. It takes a solve for each; the default is yes for up to 12
    items."""
    relaxation: NotRequired[bool]
    """Whether to work out what each limit costs: it is widened by a tenth of itself and the charge solved
    again. The default is no."""


@dataclass(frozen=True, slots=True)
class ChargeLine:
    """One stock item and what is charged of it."""

    item: str
    """The item's name."""
    place: int
    """Its place in the stock, from 0."""
    kind: Literal["scrap", "return", "ingot", "pure metal", "master alloy"]
    """What sort of stock it is."""
    mass: Quantity
    """How much of it is charged."""
    pieces: int | None
    """How many pieces that is; null where it can be divided."""
    share: Quantity
    """Its share of the charge, the heel left out."""
    cost: Quantity | None
    """What that costs; null where its price is unknown."""
    why: str | None
    """Why no more of it is charged, or nothing; null where it is used up, or was not worked out."""


@dataclass(frozen=True, slots=True)
class ElementLine:
    """One element of the melt."""

    element: str
    """The element; 'rest' is what no analysis names."""
    nominal_percent: float
    """Its share at middle recoveries."""
    low_percent: float
    """Its share at worst, on the low side."""
    high_percent: float
    """Its share at worst, on the high side."""
    minimum_percent: float | None
    """The least it may be; null where there is no limit."""
    maximum_percent: float | None
    """The most it may be; null where there is no limit."""
    aim_percent: float | None
    """What is aimed at; null where nothing is."""


@dataclass(frozen=True, slots=True)
class LossLine:
    """What is lost of one element in melting: zinc as white fume, others as dross."""

    element: str
    """The element; 'rest' is what no analysis names."""
    mass: Quantity
    """At middle recoveries."""
    mass_low: Quantity
    """At the highest recoveries."""
    mass_high: Quantity
    """At the lowest recoveries."""


@dataclass(frozen=True, slots=True)
class LimitLine:
    """A limit of the melt."""

    element: str
    """The element."""
    side: Literal["minimum", "maximum"]
    """Which of its limits."""
    limit_percent: float
    """The limit."""


@dataclass(frozen=True, slots=True)
class RelaxedLine:
    """A limit, widened by a tenth of itself, and what the charge would then cost."""

    element: str
    """The element."""
    side: Literal["minimum", "maximum"]
    """Which of its limits."""
    limit_percent: float
    """The limit."""
    widened_percent: float
    """The limit as widened."""
    keeps: bool
    """Whether a charge from this stock then keeps every limit."""
    cost: Quantity | None
    """Cost of the best charge then; null where there is none or a price is unknown."""
    saving: Quantity | None
    """How much less that is; null where either cost is unknown."""


@dataclass(frozen=True, slots=True)
class PurchaseLine:
    """Something to buy."""

    name: str
    """The trade's name for it."""
    kind: Literal["scrap", "return", "ingot", "pure metal", "master alloy"]
    """What sort of metal it is."""
    mass: Quantity
    """How much of it, at least."""
    composition_percent: Mapping[str, float | None]
    """Its usual composition."""


@dataclass(frozen=True, slots=True)
class ChargeResult:
    """The charge, what it melts down to, and what it costs."""

    outcome: Literal["robust", "nominal", "nearest", "given"] | None
    """Whether limits are kept for certain (robust), at middle recoveries (nominal), as nearly as this stock
    allows (nearest), or the charge was the caller's own (given)."""
    margin: Literal["robust", "nominal"] | None
    """What was asked for."""
    objective: Literal["least_cost", "most_scrap", "closest_to_aim"] | None
    """What the best charge is."""
    charge: tuple[ChargeLine, ...] | None
    """Every stock item, in the order it was sent."""
    composition: tuple[ElementLine, ...] | None
    """The melt by element, the richest first."""
    scrap_ratio: Quantity | None
    """Scrap and returns as a share of what is charged."""
    aim_distance: float | None
    """How far the melt is from its aim: each element's distance over the width of its limits, added up; 0 is
    the aim itself."""
    charged_mass: Quantity | None
    """All that is charged, the heel left out."""
    heel_mass: Quantity | None
    """What was in the pot already."""
    melt_mass: Quantity | None
    """The melt at middle recoveries, heel included."""
    melt_mass_low: Quantity | None
    """The melt at the lowest recoveries."""
    melt_mass_high: Quantity | None
    """The melt at the highest recoveries."""
    loss: Quantity | None
    """What is lost in melting, at middle recoveries."""
    loss_ratio: Quantity | None
    """That as a share of charge and heel."""
    losses: tuple[LossLine, ...] | None
    """That loss by element, the most first."""
    pig: Quantity | None
    """What is left over for the pig mould, at middle recoveries."""
    shortfall: Quantity | None
    """What is lacking to the melt wanted, at middle recoveries."""
    cost: Quantity | None
    """Cost of the charge; null where a price is unknown."""
    pig_cost: Quantity | None
    """The pig's part of it."""
    cost_for_certain: Quantity | None
    """Cost of the best charge that keeps the limits for certain."""
    cost_at_middle: Quantity | None
    """Cost of the best charge that keeps them at middle recoveries."""
    price_of_certainty: Quantity | None
    """The difference of the two."""
    binding: tuple[LimitLine, ...] | None
    """Limits that the charge lies on or, where it is the nearest, breaks."""
    doubtful: tuple[LimitLine, ...] | None
    """Limits that no charge from this stock keeps for certain."""
    relaxation: tuple[RelaxedLine, ...] | None
    """What limits cost, the dearest first; null where not asked for. Where whole pieces or smallest lots
    decide, limits that the charge does not touch may be among them."""
    largest_melt: Quantity | None
    """Where the stock does not do: the most metal within limits that it makes; 0 for none."""
    metal_at_hand: Quantity | None
    """Where the stock does not do: what all of it melts down to."""
    purchase: tuple[PurchaseLine, ...] | None
    """The smallest purchase that would do; prices are not known here."""
