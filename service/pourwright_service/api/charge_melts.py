"""POST /v1/charge/melts."""

from typing import Any

from ..engine.answer import Answer
from ..engine.decide import levers
from ..engine.decide.charge_melts import MeltCase, MeltsCase, decide_melts
from .charge import RECOVERY, REST, ChargeLine, ElementLine, LimitLine, PurchaseLine, StockBody
from .charge_makes import UseLine, nothing_decided
from .registry import endpoint
from .schemas import (
    AlloyField,
    Body,
    Choice,
    Nested,
    Number,
    Quantity,
    RangeMap,
    Result,
    Text,
    at_least,
    refused_at,
    within,
)

MOST_MELTS = 10

MOST_LINES = 400
"""So many melts times stock items are taken: they are solved together, in the time of a request."""


class MeltBody(Body):
    """One melt wanted, by its alloy or its limits."""

    makes = MeltCase
    name = Text("What you call it; left out, its number and alloy.")
    alloy = AlloyField("The alloy wanted; its limits are looked up.")
    limits_percent = RangeMap(
        "Limits of the melt, per cent of mass by element: [low, high], null where there is none. They "
        "replace the alloy's.",
        also=REST,
        open_ended=True,
    )
    unnamed_percent = Number(
        "What all elements together may make that the alloy does not name, per cent; more is warned of.",
        bound=within(0.0, 100.0),
    )
    melt_mass = Quantity("mass", "Molten metal wanted, after loss.", required=True)


class MeltsRequest(Body):
    """The melts of a pour day, and the one stock that they are made from."""

    makes = MeltsCase
    melts = Nested(MeltBody, "The melts.", many=True, min_items=1, max_items=MOST_MELTS, required=True)
    stock = Nested(StockBody, "The stock.", many=True, min_items=1, max_items=200, required=True)
    recovery_percent = RangeMap(
        "What is left in the melt of each element charged, per cent: a number, or [low, high]; one figure "
        "instead of the map stands for all. Left out, the tables' by each melt's base metal.",
        bound=RECOVERY,
        also=REST,
        for_all=True,
    )
    margin = Choice(
        ("robust", "nominal"),
        "Whether limits are kept wherever recoveries and compositions fall in their ranges (robust, the "
        "default), or at the middle of the ranges.",
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
        lines = len(data["melts"]) * len(data["stock"])
        if lines > MOST_LINES:
            detail = f"melts times stock items may be {MOST_LINES} at most; this is {lines}: split the day"
            raise refused_at("melts", "too_many_items", detail)
        return super().make(data)


class MeltLine(Result):
    """One melt and its charge."""

    name = Text("What it is called.", required=True)
    alloy = Text("The alloy; null where limits were given alone.")
    outcome = Choice(
        ("robust", "nominal", "short", "nearest", "none"),
        "Whether its limits are kept for certain (robust), at middle recoveries (nominal), kept with less "
        "metal than is wanted (short), kept as nearly as what is left over allows (nearest), or there is "
        "nothing to charge (none).",
        required=True,
    )
    wanted = Quantity("mass", "The melt wanted.", required=True)
    melt_mass = Quantity("mass", "The melt at middle recoveries.", required=True)
    melt_mass_low = Quantity("mass", "The melt at the lowest recoveries.")
    shortfall = Quantity("mass", "What is lacking to it, at middle recoveries.", required=True)
    cost = Quantity("money", "Cost of its charge; null where a price is unknown.")
    charge = Nested(ChargeLine, "What is charged, in the order of the stock.", many=True)
    composition = Nested(ElementLine, "The melt by element, the richest first.", many=True)
    binding = Nested(LimitLine, "Limits that it lies on or, where it is the nearest, breaks.", many=True)
    purchase = Nested(
        PurchaseLine,
        "Where the stock does not make it: the smallest purchase that does, beside what the other melts "
        "leave; prices are not known here.",
        many=True,
    )


class MeltsResult(Result):
    """The charges of all melts, and what is left of the stock."""

    margin = Choice(("robust", "nominal"), "How limits are kept.")
    cost = Quantity(
        "money", "Cost of all charges but those that are only the nearest; null where a price is unknown."
    )
    cost_at_middle = Quantity("money", "What they would cost with limits kept at middle recoveries only.")
    price_of_certainty = Quantity("money", "The difference of the two; null where not all are certain.")
    melts = Nested(MeltLine, "The melts, in the order they were sent.", many=True)
    left = Nested(
        UseLine,
        "What is left of each item of which there is an end; a charge that is only the nearest takes none.",
        many=True,
    )


@endpoint(
    "POST",
    "/v1/charge/melts",
    operation="charge_melts",
    tag="Charge",
    summary="Charges of several melts from one stock",
    description=(
        "The cheapest charges, all together, of several melts that share one stock: each keeps the limits "
        "of its own alloy, and no item is used twice. Where the stock does not make all of them, as much of "
        "each is made as can be within its limits, and it is said which fall short or cannot be made, and "
        "what is nearest."
    ),
    request=MeltsRequest,
    answer=MeltsResult,
    levers=levers.MELTS,
    examples={
        "silicon bronze and copper from one bench": {
            "currency": "EUR",
            "melts": [
                {"name": "fairlead", "alloy": "C87300", "melt_mass": "3 kg"},
                {"name": "grounding plate", "alloy": "C81100", "melt_mass": "1 kg"},
            ],
            "stock": [
                {
                    "name": "salvaged bolts",
                    "composition_percent": {"Cu": 96.0, "Si": 3.0, "Mn": 0.9, "Fe": 0.1},
                    "available": "4.2 kg",
                    "price": "2 /kg",
                },
                {
                    "name": "copper pipe",
                    "composition_percent": {"Cu": 99.9, "P": 0.02},
                    "available": "2 kg",
                    "price": "6 /kg",
                    "form": "tube",
                },
                {
                    "name": "silicon lumps",
                    "composition_percent": {"Si": 98.5, "Fe": 0.5},
                    "available": "0.2 kg",
                    "price": "9 /kg",
                },
                {
                    "name": "manganese copper",
                    "composition_percent": {"Cu": 70, "Mn": 30},
                    "kind": "master alloy",
                    "available": "0.2 kg",
                    "price": "25 /kg",
                },
            ],
        },
    },
)
def charge_melts(case: MeltsCase) -> Answer:
    return decide_melts(case)
