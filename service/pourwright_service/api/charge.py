"""POST /v1/charge."""

from typing import Any

from ..engine.answer import Answer
from ..engine.decide import levers
from ..engine.decide.charge import ChargeCase, Heel, StockItem, decide_charge
from ..engine.decide.charge_stock import KINDS, MOST_PERCENT
from .registry import endpoint
from .schemas import (
    AlloyField,
    Body,
    Choice,
    Choices,
    Count,
    Flag,
    Nested,
    Number,
    PercentMap,
    Quantity,
    RangeMap,
    Result,
    Sentence,
    Text,
    at_least,
    refused,
    refused_at,
    within,
)

FORMS = (
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
)
CONDITIONS = ("clean", "galvanised", "plated", "sealed", "damp", "oily", "painted")
REST = ("rest",)


class CompositionField(RangeMap):
    """A composition in per cent of mass; what is missing to 100 % is ``rest``."""

    def __init__(self, description: str) -> None:
        super().__init__(description, also=REST)

    def load_value(self, value: Any) -> dict[str, Any]:
        loaded = super().load_value(value)
        least = sum(low for low, _ in loaded.values())
        if least > MOST_PERCENT * (1.0 + 1e-12):
            raise refused("out_of_bounds", f"the shares add up to {least:g} %, more than {MOST_PERCENT} %")
        return loaded


RECOVERY = within(0.0, 100.0, low_open=True)
COMPOSITION = (
    "What it is made of, per cent of mass by element: a number, or [low, high] where it is not certain. "
    "The rest to 100 % counts as 'rest'."
)


class StockBody(Body):
    """One kind of metal in stock, by its composition or by the alloy that it is."""

    makes = StockItem
    name = Text("What you call it.", required=True)
    composition_percent = CompositionField(COMPOSITION)
    alloy = AlloyField("The alloy that it is; its nominal composition is taken.")
    available = Quantity("mass", "How much of it there is; left out, as much as is wanted.")
    price = Quantity("price", "Its price; left out, it is unknown and not free.", bound=at_least(0.0))
    piece = Quantity("mass", "Mass of one piece, where only whole pieces are charged.")
    pieces = Count("How many such pieces there are.", low=1, high=100_000)
    kind = Choice(
        KINDS,
        "What sort of stock it is; left out, a master alloy is told by its name, an ingot by its form or "
        "alloy, a pure metal by its composition, and anything else is scrap.",
        aliases={"returns": "return", "sprues": "return", "pure": "pure metal"},
    )
    form = Choice(FORMS, "Its form.", aliases={"pipe": "tube", "swarf": "turnings", "chips": "turnings"})
    condition = Choices(CONDITIONS, "What is on it or in it.", aliases={"galvanized": "galvanised"})
    minimum_use = Quantity("mass", "At least so much of it has to be used.", bound=at_least(0.0))
    all_or_nothing = Flag("It is charged whole or not at all.")
    smallest_lot = Quantity(
        "mass", "It is used in at least this mass or not at all; 0 for any mass.", bound=at_least(0.0)
    )
    recovery_percent = RangeMap(
        "What of it is left in the melt, per cent by element, or one figure for all; it comes before "
        "the general recoveries.",
        bound=RECOVERY,
        also=REST,
        for_all=True,
    )
    charged = Quantity(
        "mass",
        "How much of it you have decided to charge. Where any item has this, nothing is chosen: the "
        "charge is only judged.",
        bound=at_least(0.0),
    )

    def make(self, data: dict[str, Any]) -> Any:
        available, piece, pieces = data.get("available"), data.get("piece"), data.get("pieces")
        if pieces is not None and piece is None and available is None:
            raise refused_at("piece", "inconsistent", "give the mass of one piece, or of all of them")
        if piece is not None:
            counted = None if pieces is None else piece * pieces
            available = counted if available is None else min(available, counted or available)
        if data.get("all_or_nothing") and available is None:
            raise refused_at("available", "inconsistent", "all or nothing of how much? Say how much there is")
        least = data.get("minimum_use")
        if least is not None and available is not None and least > available:
            raise refused_at("minimum_use", "inconsistent", "more has to be used than there is")
        return super().make(data)


class HeelBody(Body):
    """Metal that is already molten in the pot; it is counted as it lies, with no further loss."""

    makes = Heel
    mass = Quantity("mass", "How much of it there is.", required=True)
    composition_percent = CompositionField(COMPOSITION)
    alloy = AlloyField("The alloy that it is; its nominal composition is taken.")


class ChargeRequest(Body):
    """A melt, by its alloy or its limits, and the stock that it is to be made from."""

    makes = ChargeCase
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
    aim_percent = PercentMap("The composition aimed at; left out, the alloy's nominal one.", also=REST)
    melt_mass = Quantity("mass", "Molten metal wanted, after loss, the heel included.", required=True)
    stock = Nested(StockBody, "The stock.", many=True, min_items=1, max_items=200, required=True)
    heel = Nested(HeelBody, "What is already molten in the pot.")
    recovery_percent = RangeMap(
        "What is left in the melt of each element charged, per cent: a number, or [low, high]; one "
        "figure instead of the map stands for all. Left out, the tables' by base metal and form.",
        bound=RECOVERY,
        also=REST,
        for_all=True,
    )
    margin = Choice(
        ("robust", "nominal"),
        "Whether limits are kept wherever recoveries and compositions fall in their ranges (robust, the "
        "default), or at the middle of the ranges.",
    )
    objective = Choice(
        ("least_cost", "most_scrap", "closest_to_aim"),
        "What the best charge is. The default is least cost, and most scrap where no item has a price.",
    )
    smallest_lot = Quantity(
        "mass",
        "Scrap and ingot are used in at least this mass or not at all; the default is 2 % of the melt.",
        bound=at_least(0.0),
    )
    smallest_addition = Quantity(
        "mass",
        "Pure metals and master alloys are used in at least this mass or not at all; the default is 5 g.",
        bound=at_least(0.0),
    )
    currency = Text("Name of the money that prices are in, such as EUR.", longest=12)
    explain = Flag(
        "Whether to work out of each stock item why no more of it is charged: one lot more is forced in, "
        "and what breaks, or what it costs, is told. It takes a solve for each; the default is yes for up "
        "to 12 items."
    )
    relaxation = Flag(
        "Whether to work out what each limit costs: it is widened by a tenth of itself and the charge "
        "solved again. The default is no."
    )

    def make(self, data: dict[str, Any]) -> Any:
        heel, limits = data.get("heel"), data.get("limits_percent") or {}
        if heel is not None and heel.mass >= data["melt_mass"]:
            raise refused_at("heel/mass", "inconsistent", "the heel alone is more than the melt wanted")
        least = sum(low or 0.0 for low, _ in limits.values())
        if least > MOST_PERCENT:
            raise refused_at("limits_percent", "inconsistent", f"the lower limits add up to {least:g} %")
        return super().make(data)


class ChargeLine(Result):
    """One stock item and what is charged of it."""

    item = Text("The item's name.", required=True)
    place = Count("Its place in the stock, from 0.", required=True)
    kind = Choice(KINDS, "What sort of stock it is.", required=True)
    mass = Quantity("mass", "How much of it is charged.", required=True)
    pieces = Count("How many pieces that is; null where it can be divided.")
    share = Quantity("fraction", "Its share of the charge, the heel left out.", required=True)
    cost = Quantity("money", "What that costs; null where its price is unknown.")
    why = Sentence(
        "Why no more of it is charged, or nothing; null where it is used up, or was not worked out."
    )


class ElementLine(Result):
    """One element of the melt."""

    element = Text("The element; 'rest' is what no analysis names.", required=True)
    nominal_percent = Number("Its share at middle recoveries.", required=True)
    low_percent = Number("Its share at worst, on the low side.", required=True)
    high_percent = Number("Its share at worst, on the high side.", required=True)
    minimum_percent = Number("The least it may be; null where there is no limit.")
    maximum_percent = Number("The most it may be; null where there is no limit.")
    aim_percent = Number("What is aimed at; null where nothing is.")


class LimitLine(Result):
    """A limit of the melt."""

    element = Text("The element.", required=True)
    side = Choice(("minimum", "maximum"), "Which of its limits.", required=True)
    limit_percent = Number("The limit.", required=True)


class RelaxedLine(LimitLine):
    """A limit, widened by a tenth of itself, and what the charge would then cost."""

    widened_percent = Number("The limit as widened.", required=True)
    keeps = Flag("Whether a charge from this stock then keeps every limit.", required=True)
    cost = Quantity("money", "Cost of the best charge then; null where there is none or a price is unknown.")
    saving = Quantity("money", "How much less that is; null where either cost is unknown.")


class LossLine(Result):
    """What is lost of one element in melting: zinc as white fume, others as dross."""

    element = Text("The element; 'rest' is what no analysis names.", required=True)
    mass = Quantity("mass", "At middle recoveries.", required=True)
    mass_low = Quantity("mass", "At the highest recoveries.", required=True)
    mass_high = Quantity("mass", "At the lowest recoveries.", required=True)


class PurchaseLine(Result):
    """Something to buy."""

    name = Text("The trade's name for it.", required=True)
    kind = Choice(KINDS, "What sort of metal it is.", required=True)
    mass = Quantity("mass", "How much of it, at least.", required=True)
    composition_percent = PercentMap("Its usual composition.", required=True)


class ChargeResult(Result):
    """The charge, what it melts down to, and what it costs."""

    outcome = Choice(
        ("robust", "nominal", "nearest", "given"),
        "Whether limits are kept for certain (robust), at middle recoveries (nominal), as nearly as this "
        "stock allows (nearest), or the charge was the caller's own (given).",
    )
    margin = Choice(("robust", "nominal"), "What was asked for.")
    objective = Choice(("least_cost", "most_scrap", "closest_to_aim"), "What the best charge is.")
    charge = Nested(ChargeLine, "Every stock item, in the order it was sent.", many=True)
    composition = Nested(ElementLine, "The melt by element, the richest first.", many=True)
    scrap_ratio = Quantity("fraction", "Scrap and returns as a share of what is charged.")
    aim_distance = Number(
        "How far the melt is from its aim: each element's distance over the width of its limits, added up; "
        "0 is the aim itself."
    )
    charged_mass = Quantity("mass", "All that is charged, the heel left out.")
    heel_mass = Quantity("mass", "What was in the pot already.")
    melt_mass = Quantity("mass", "The melt at middle recoveries, heel included.")
    melt_mass_low = Quantity("mass", "The melt at the lowest recoveries.")
    melt_mass_high = Quantity("mass", "The melt at the highest recoveries.")
    loss = Quantity("mass", "What is lost in melting, at middle recoveries.")
    loss_ratio = Quantity("fraction", "That as a share of charge and heel.")
    losses = Nested(LossLine, "That loss by element, the most first.", many=True)
    pig = Quantity("mass", "What is left over for the pig mould, at middle recoveries.")
    shortfall = Quantity("mass", "What is lacking to the melt wanted, at middle recoveries.")
    cost = Quantity("money", "Cost of the charge; null where a price is unknown.")
    pig_cost = Quantity("money", "The pig's part of it.")
    cost_for_certain = Quantity("money", "Cost of the best charge that keeps the limits for certain.")
    cost_at_middle = Quantity("money", "Cost of the best charge that keeps them at middle recoveries.")
    price_of_certainty = Quantity("money", "The difference of the two.")
    binding = Nested(
        LimitLine, "Limits that the charge lies on or, where it is the nearest, breaks.", many=True
    )
    doubtful = Nested(LimitLine, "Limits that no charge from this stock keeps for certain.", many=True)
    relaxation = Nested(
        RelaxedLine,
        "What limits cost, the dearest first; null where not asked for. Where whole pieces or smallest lots "
        "decide, limits that the charge does not touch may be among them.",
        many=True,
    )
    largest_melt = Quantity(
        "mass", "Where the stock does not do: the most metal within limits that it makes; 0 for none."
    )
    metal_at_hand = Quantity("mass", "Where the stock does not do: what all of it melts down to.")
    purchase = Nested(
        PurchaseLine, "The smallest purchase that would do; prices are not known here.", many=True
    )


@endpoint(
    "POST",
    "/v1/charge",
    operation="charge",
    tag="Charge",
    summary="Which mix of the stock makes this melt",
    description=(
        "The cheapest charge (or the one of most scrap, or nearest to the aim) whose melt keeps every "
        "limit, losses counted element by element. By default it keeps them wherever the recoveries fall "
        "in their ranges, and the price of that certainty is given. Whole pieces, smallest lots, a heel "
        "and least uses are honoured. Where the stock does not do, the nearest charge is given, what "
        "binds it, and the smallest purchase that mends it. A charge already decided (charged) is judged "
        "alone."
    ),
    request=ChargeRequest,
    answer=ChargeResult,
    levers=levers.CHARGE,
    examples={
        "silicon bronze from bolts, ingot and silicon": {
            "alloy": "C87300",
            "melt_mass": "4.2 kg",
            "margin": "robust",
            "currency": "EUR",
            "stock": [
                {
                    "name": "salvaged bolts",
                    "composition_percent": {"Cu": 96.0, "Si": 3.0, "Mn": 0.9, "Fe": 0.1},
                    "available": "4.2 kg",
                    "price": "2 /kg",
                },
                {"name": "ingot", "alloy": "C87300", "piece": "1.5 kg", "pieces": 3, "price": "14 /kg"},
                {
                    "name": "silicon lumps",
                    "composition_percent": {"Si": 98.5, "Fe": 0.5},
                    "available": "0.2 kg",
                    "price": "9 /kg",
                },
            ],
            "recovery_percent": {"Si": [90, 98], "Mn": [82, 96]},
        },
        "a blending problem with no loss": {
            "limits_percent": {"Pb": [30, 30], "Zn": [30, 30], "Sn": [40, 40]},
            "melt_mass": "1 kg",
            "recovery_percent": 100,
            "stock": [
                {"name": "a", "composition_percent": {"Pb": 10, "Zn": 10, "Sn": 80}, "price": "4.1 /kg"},
                {"name": "b", "composition_percent": {"Pb": 10, "Zn": 30, "Sn": 60}, "price": "4.3 /kg"},
                {"name": "d", "composition_percent": {"Pb": 60, "Zn": 30, "Sn": 10}, "price": "6.0 /kg"},
            ],
        },
    },
)
def charge(case: ChargeCase) -> Answer:
    return decide_charge(case)
