"""POST /v1/charge/makes."""

from collections.abc import Sequence
from typing import Any

from ..engine.answer import Answer
from ..engine.decide.charge_case import StockItem
from ..engine.decide.charge_makes import WHOLE, MakesCase, decide_makes
from .charge import RECOVERY, REST, LimitLine, StockBody
from .fields import check_items, each
from .registry import endpoint
from .schemas import (
    AlloyField,
    Body,
    Choice,
    Count,
    Flag,
    Nested,
    Number,
    Quantity,
    RangeMap,
    Result,
    Text,
    at_least,
    refused_at,
)

MOST_ALLOYS = 200


class AlloysField(AlloyField):
    """A list of alloys, each by id, name or alias."""

    def load_value(self, value: Any) -> Any:
        check_items(value, 1, MOST_ALLOYS)
        return tuple(dict.fromkeys(each(value, super().load_value)))

    def request_document(self) -> dict[str, Any]:
        items = super().request_document()
        return {"type": "array", "items": items, "minItems": 1, "maxItems": MOST_ALLOYS}


class MakesRequest(Body):
    """A stock of which nobody knows yet what it is good for."""

    makes = MakesCase
    stock = Nested(StockBody, "The stock.", many=True, min_items=1, max_items=200, required=True)
    melt_mass = Quantity(
        "mass", "Molten metal wanted, after loss; left out, as much as the stock makes of each alloy."
    )
    alloys = AlloysField("The alloys to look at; left out, all of the table.")
    whole = Count(
        "So many of the best are worked out again with whole pieces and smallest lots; the others leave "
        f"them aside. The default is {WHOLE}.",
        low=0,
        high=20,
    )
    margin = Choice(
        ("robust", "nominal"),
        "Whether limits are kept wherever recoveries and compositions fall in their ranges (robust, the "
        "default), or at the middle of the ranges. What is not certain of anything is shown at the middle.",
    )
    recovery_percent = RangeMap(
        "What is left in the melt of each element charged, per cent: a number, or [low, high]; one figure "
        "instead of the map stands for all. Left out, the tables' by each alloy's base metal.",
        bound=RECOVERY,
        also=REST,
        for_all=True,
    )
    smallest_lot = Quantity(
        "mass",
        "Scrap and ingot are used in at least this mass or not at all; left out, 2 % of each melt.",
        bound=at_least(0.0),
    )
    smallest_addition = Quantity(
        "mass",
        "Pure metals and master alloys are used in at least this mass or not at all; left out, 5 g.",
        bound=at_least(0.0),
    )
    currency = Text("Name of the money that prices are in, such as EUR.", longest=12)

    def make(self, data: dict[str, Any]) -> Any:
        nothing_decided(data["stock"])
        return super().make(data)


def nothing_decided(stock: Sequence[StockItem]) -> None:
    """Refuse a charge that is already decided where one is to be found."""
    for place, item in enumerate(stock):
        if item.charged is not None:
            raise refused_at(f"stock/{place}/charged", "inconsistent", "here the charge is still to be found")


class UseLine(Result):
    """A stock item and a mass of it."""

    item = Text("The item's name.", required=True)
    place = Count("Its place in the stock, from 0.", required=True)
    mass = Quantity("mass", "How much of it.", required=True)


class MakesLine(Result):
    """One alloy that the stock makes."""

    alloy = Text("The alloy.", required=True)
    name = Text("Its name.", required=True)
    certain = Flag("Whether its limits are kept wherever the recoveries fall.", required=True)
    whole = Flag("Whether whole pieces and smallest lots are kept.", required=True)
    enough = Flag("Whether it is as much as is wanted; null where nothing was said.")
    melt_mass = Quantity("mass", "The melt at middle recoveries.", required=True)
    used_mass = Quantity("mass", "What is charged for it.", required=True)
    stock_ratio = Quantity("fraction", "That as a share of the stock; null where some of it has no end.")
    cost = Quantity("money", "Cost of the charge; null where a price is unknown.")
    cost_per_mass = Quantity("price", "Cost by mass of the melt; null where a price is unknown.")
    binding = Nested(LimitLine, "Limits that it lies on: they keep the rest of the stock out.", many=True)
    charge = Nested(
        UseLine, "What is charged; null beyond the best few that are worked out whole.", many=True
    )


class CannotLine(Result):
    """One alloy that the stock does not make, and one limit that stands in the way."""

    alloy = Text("The alloy.", required=True)
    name = Text("Its name.", required=True)
    element = Text(
        "The element; null where no single limit is to blame: mostly the stock holds too much that the "
        "alloy does not name."
    )
    side = Choice(("minimum", "maximum"), "Which of its limits.")
    limit_percent = Number("The limit.")
    nearest_percent = Number(
        "The nearest that any one item comes to it, melted alone; null where one item would keep this limit "
        "and breaks another."
    )


class MakesResult(Result):
    """What the stock makes and what it does not."""

    margin = Choice(("robust", "nominal"), "How limits are kept.")
    stock_mass = Quantity("mass", "All that lies in stock and may be melted; null where some has no end.")
    makes = Nested(
        MakesLine,
        "Alloys that it makes, the best first: certain ones before others, then by the share of the stock "
        "(or of the melt wanted) that they use, then by cost.",
        many=True,
    )
    cannot = Nested(CannotLine, "Alloys that it does not make, by name.", many=True)


@endpoint(
    "POST",
    "/v1/charge/makes",
    operation="charge_makes",
    tag="Charge",
    summary="Which alloys this stock can make",
    description=(
        "Every alloy of the table whose limits a mix of this stock keeps, ranked by the share of the stock "
        "that goes into it: how much of it, what it costs, which limits keep the rest of the stock out. Of "
        "the others, one limit that stands in the way. The best few are worked out with whole pieces and "
        "smallest lots."
    ),
    request=MakesRequest,
    answer=MakesResult,
    examples={
        "a bucket of fittings and pipe": {
            "currency": "EUR",
            "stock": [
                {
                    "name": "fittings",
                    "composition_percent": {"Cu": 61.5, "Zn": 35.5, "Pb": 2.8, "Fe": 0.2},
                    "available": "0.8 kg",
                    "price": "3 /kg",
                },
                {
                    "name": "copper pipe",
                    "composition_percent": {"Cu": 99.9, "P": 0.02},
                    "available": "2 kg",
                    "price": "6 /kg",
                    "form": "tube",
                },
            ],
        },
    },
)
def charge_makes(case: MakesCase) -> Answer:
    return decide_makes(case)
