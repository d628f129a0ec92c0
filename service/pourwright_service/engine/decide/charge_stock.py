"""From a case as a caller states it to the arrays that charge and assess work on.

Stock is put into one order (by name, then by everything else), so that no answer depends on the
order in which it was sent.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ..assess.charge import ChargeInputs
from ..assess.charge_intervals import Array, Flags, extremes
from ..ledger import Ledger, MissingValue, Say
from ..tables.recoveries import RECOVERIES, recovery
from .charge_case import BASES, ChargeCase, Ranges, StockItem, Target, target_of
from .charge_hazards import ranges_of, refused_places

REST = "rest"

MOST_PERCENT = 100.5
"""A composition may add up to this much; up to here it is an analysis rounded up, and is scaled."""

PURE = 0.98
"""From this share on an item is a pure element."""

LOT_SHARE = 0.02
"""The smallest lot of scrap and ingot, as a share of the melt."""

SMALLEST_ADDITION = 0.005
"""The smallest lot of a pure element or a master alloy, kg."""

KINDS = ("scrap", "return", "ingot", "pure metal", "master alloy")
NEW_METAL = frozenset(("ingot", "pure metal", "master alloy"))
ADDITIONS = frozenset(("pure metal", "master alloy"))


def prepare_charge(case: ChargeCase, ledger: Ledger, *, harmless: bool = False) -> ChargeInputs:
    """Everything resolved: compositions, recoveries, lots, limits, as arrays in one order.

    ``harmless``: the stock's hazards have been looked through already, and nothing of it is refused.
    Raises MissingValue without a specification, ValueError for a composition beyond 100.5 %.
    """
    target = target_of(case, ledger)
    order = _canonical(case.stock)
    items = [case.stock[i] for i in order]
    boxes = [
        ranges_of(item.composition_percent, item.alloy, f"/stock/{i}", item.name, ledger)
        for i, item in zip(order, items, strict=True)
    ]
    refused = set() if harmless else refused_places(items, order, boxes, ledger)
    usable = [
        box is not None and ledger.place(f"/stock/{i}") not in refused
        for i, box in zip(order, boxes, strict=True)
    ]
    if case.heel is not None:
        boxes.append(_heelranges_of(case, ledger))
    found = {element for box in boxes if box for element in box} | set(target.limits) | set(target.aim)
    elements = (*sorted(found - {REST}), REST)
    share_low, share_high, share, told = _compositions(boxes, elements)
    family = target.family or _richest(share[: len(items)], elements)
    good_low, good_high = _recoveries(case, items, order, elements, family, share, ledger)
    kinds = _kinds(items, order, share, elements, family, ledger)
    minima, maxima = _limits(target, elements)
    amounts = [_amounts(item) for item in items]
    heel = [case.heel.mass] if case.heel else []
    none = [0.0] * len(heel)
    priced = any(item.price is not None for item in items)
    return ChargeInputs(
        items=(*(item.name for item in items), *("heel" for _ in heel)),
        places=(*order, *(-1 for _ in heel)),
        kinds=(*kinds, *("heel" for _ in heel)),
        elements=elements,
        composition=share,
        recovery=0.5 * (good_low + good_high),
        ends=extremes(share_low, share_high, share, good_low, good_high),
        minima=minima,
        maxima=maxima,
        aim=np.array([target.aim.get(e, np.nan) / 100.0 for e in elements]),
        named=np.array([e in target.named for e in elements]),
        told=told,
        family=family,
        unnamed_limit=target.unnamed / 100.0,
        price=np.array([np.nan if item.price is None else item.price for item in items] + none),
        available=np.array([available for _, available in amounts] + heel),
        minimum_use=np.array([item.minimum_use or 0.0 for item in items] + heel),
        lot=np.array(_lots(case, items, kinds, ledger) + none),
        piece=np.array([piece for piece, _ in amounts] + none),
        all_or_nothing=np.array([item.all_or_nothing for item in items] + [False] * len(heel)),
        usable=np.array(usable + [True] * len(heel)),
        new_metal=np.array([kind in NEW_METAL for kind in kinds] + [False] * len(heel)),
        heel=len(items),
        melt_mass=case.melt_mass,
        margin=ledger.use(
            "/margin", case.margin, "robust", "text", provenance="rule", source="COMMON-PRACTICE"
        ),
        objective=ledger.use(
            "/objective",
            case.objective,
            "least_cost" if priced else "most_scrap",
            "text",
            provenance="rule",
            source="COMMON-PRACTICE",
            note="" if priced else "no item has a price",
        ),
    )


def charged_places(inputs: ChargeInputs, masses: Array) -> set[int]:
    """Where in the request the items stand of which something is charged; the heel is none of them."""
    return {inputs.places[row] for row in np.flatnonzero(masses > 0.0).tolist() if inputs.places[row] >= 0}


def known_stock(stock: Sequence[StockItem], ledger: Ledger) -> list[tuple[int, StockItem]]:
    """The stock that may be charged, with its places: every composition filled in, and what is refused
    or of unknown composition left out, which the ledger is told of."""
    boxes = [
        ranges_of(item.composition_percent, item.alloy, f"/stock/{i}", item.name, ledger)
        for i, item in enumerate(stock)
    ]
    refused = refused_places(stock, range(len(stock)), boxes, ledger)
    return [
        (i, replace(item, composition_percent=box))
        for i, (item, box) in enumerate(zip(stock, boxes, strict=True))
        if box is not None and ledger.place(f"/stock/{i}") not in refused
    ]


def _heelranges_of(case: ChargeCase, ledger: Ledger) -> Ranges:
    assert case.heel is not None
    box = ranges_of(case.heel.composition_percent, case.heel.alloy, "/heel", "the heel", ledger)
    if box is None:
        why = Say("The heel's composition is not known, so nothing can be said of the melt.")
        raise MissingValue(ledger.lack("/heel/composition_percent", why))
    return box


def _richest(share: Array, elements: Sequence[str]) -> str | None:
    """The family of the element that the stock holds most of."""
    most = elements[int(share.mean(axis=0).argmax())]
    return next((family for family, element in BASES.items() if element == most), None)


def _canonical(stock: Sequence[StockItem]) -> list[int]:
    """Places of the stock in the order of names; equal names by all that is known of them."""
    names = [item.name for item in stock]
    if len(set(names)) == len(names):
        return sorted(range(len(stock)), key=names.__getitem__)
    return sorted(range(len(stock)), key=lambda i: (names[i], repr(stock[i])))


def _amounts(item: StockItem) -> tuple[float, float]:
    """Mass of one piece (0: divisible) and mass available (inf: no end)."""
    piece, available = item.piece or 0.0, item.available
    if item.pieces is not None:
        if not piece and available is not None:
            piece = available / item.pieces
        counted = piece * item.pieces
        available = counted if available is None else min(available, counted)
    return piece, np.inf if available is None else available


def _compositions(
    boxes: Sequence[Ranges | None], elements: Sequence[str]
) -> tuple[Array, Array, Array, Flags]:
    """Lowest, highest and middle shares (n, E), ``rest`` filling up to one, and which of them were told.

    Shares that add up to a little more than one are scaled down. The middle of wide intervals is
    drawn towards their low ends until it adds up to one.
    """
    column = {element: k for k, element in enumerate(elements)}
    lows, highs, names = ([[nothing] * len(elements) for _ in boxes] for nothing in (0.0, 0.0, False))
    for box, lowest, highest, named in zip(boxes, lows, highs, names, strict=True):
        for element, (least, most) in (box or {}).items():
            k = column[element]
            lowest[k], highest[k], named[k] = least or 0.0, 100.0 if most is None else most, True
    low, high, told = np.array(lows) / 100.0, np.array(highs) / 100.0, np.array(names)
    over = low.sum(axis=1)
    if over.max(initial=0.0) > MOST_PERCENT / 100.0 * (1.0 + 1e-12):
        raise ValueError(f"a composition adds up to more than {MOST_PERCENT} %")
    scale = np.maximum(over, 1.0)[:, None]
    low, high = low / scale, high / scale
    room = 1.0 - low.sum(axis=1)
    high = np.minimum(high, low + np.maximum(room, 0.0)[:, None])
    spread = 0.5 * (high - low)
    wide = spread.sum(axis=1)
    middle = low + spread * np.where(wide > room, room / np.where(wide > 0.0, wide, 1.0), 1.0)[:, None]
    left = 1.0 - middle.sum(axis=1)
    others_high = high[:, :-1].sum(axis=1)
    middle[:, -1] += np.maximum(left, 0.0)
    loose = wide > 0.0
    rest_low = np.maximum(low[:, -1], 1.0 - others_high)
    low[:, -1] = np.where(loose, np.minimum(rest_low, middle[:, -1]), middle[:, -1])
    high[:, -1] = np.where(loose, np.maximum(1.0 - low[:, :-1].sum(axis=1), middle[:, -1]), middle[:, -1])
    return low, high, middle, told


def _recoveries(
    case: ChargeCase,
    items: Sequence[StockItem],
    order: Sequence[int],
    elements: Sequence[str],
    family: str | None,
    share: Array,
    ledger: Ledger,
) -> tuple[Array, Array]:
    """Low and high recoveries (n, E): the item's own, else the general ones, else the table's."""
    general = case.recovery_percent or {}
    everything = general.get("*")
    ranges: dict[str, tuple[float, float]] = {}
    chosen: dict[str, tuple[float, float]] = {}
    for element in elements:
        told = general.get(element, everything)
        if told is None:
            known = recovery(family, element)
            told = chosen[element] = (100.0 * known.low.value, 100.0 * known.high.value)
        ranges[element] = _pair(told)
    _enter(chosen, case.recovery_percent is None, "/recovery_percent", family, ledger)
    low = np.tile([ranges[e][0] for e in elements], (len(share), 1))
    high = np.tile([ranges[e][1] for e in elements], (len(share), 1))
    for row, item in enumerate(items):
        own = item.recovery_percent or {}
        special: dict[str, tuple[float, float]] = {}
        if item.form is not None and "*" not in own:
            for column, element in enumerate(elements):
                decided = element in own or element not in chosen
                if decided or f"{family}/{element}/{item.form}" not in RECOVERIES:
                    continue
                if share[row, column] > 0.0:
                    known = recovery(family, element, item.form)
                    special[element] = (100.0 * known.low.value, 100.0 * known.high.value)
        place = f"/stock/{order[row]}/recovery_percent"
        _enter(special, item.recovery_percent is None, place, family, ledger)
        if own or special:
            for column, element in enumerate(elements):
                told = own.get(element, own.get("*", special.get(element)))
                if told is not None:
                    low[row, column], high[row, column] = _pair(told)
    low[len(items) :] = high[len(items) :] = 100.0
    return low / 100.0, high / 100.0


def _pair(told: tuple[float | None, float | None]) -> tuple[float, float]:
    low, high = told
    return (0.0 if low is None else low), (100.0 if high is None else high)


def _enter(
    chosen: Mapping[str, tuple[float, float]], whole: bool, pointer: str, family: str | None, ledger: Ledger
) -> None:
    """Report recoveries that came from the table: as one map, or beside those the caller gave."""
    note = f"melted in {family}" if family in BASES else "melted in any metal"
    if whole and chosen:
        ledger.use(
            pointer, None, dict(chosen), "map", provenance="from memory", source="FROM-MEMORY", note=note
        )
    elif chosen:
        for element, pair in chosen.items():
            ledger.use(
                f"{pointer}/{element}",
                None,
                pair,
                "range",
                provenance="from memory",
                source="FROM-MEMORY",
                note=note,
            )


def _kinds(
    items: Sequence[StockItem],
    order: Sequence[int],
    share: Array,
    elements: Sequence[str],
    family: str | None,
    ledger: Ledger,
) -> list[str]:
    """Scrap, unless it is called a master alloy, or is an ingot, or an element of its own that is not the
    melt's base."""
    base = BASES.get(family or "", "")
    alone = (share[:, :-1] >= PURE) & (np.array(elements[:-1]) != base)
    pure = alone.any(axis=1).tolist()
    kinds: list[str] = []
    for row, item in enumerate(items):
        kind = item.kind
        if kind is None:
            ingot = item.form == "ingot" or (item.alloy is not None and item.form is None)
            master = "master alloy" in item.name.casefold()
            kind = "master alloy" if master else "pure metal" if pure[row] else "ingot" if ingot else "scrap"
            if kind != "scrap":
                pointer = f"/stock/{order[row]}/kind"
                ledger.use(pointer, None, kind, "text", provenance="rule", source="COMMON-PRACTICE")
        kinds.append(kind)
    return kinds


def _lots(case: ChargeCase, items: Sequence[StockItem], kinds: Sequence[str], ledger: Ledger) -> list[float]:
    """The least mass in which each item is used; what comes in pieces has its piece for it, and of
    less than a lot all may be used."""
    lot = ledger.use(
        "/smallest_lot",
        case.smallest_lot,
        LOT_SHARE * case.melt_mass,
        "mass",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="2 % of the melt",
    )
    addition = ledger.use(
        "/smallest_addition",
        case.smallest_addition,
        SMALLEST_ADDITION,
        "mass",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="what kitchen scales can be trusted with",
    )
    lots: list[float] = []
    for item, kind in zip(items, kinds, strict=True):
        piece, available = _amounts(item)
        least = addition if kind in ADDITIONS else lot
        least = least if item.smallest_lot is None else item.smallest_lot
        lots.append(0.0 if piece else min(least, available))
    return lots


def _limits(target: Target, elements: Sequence[str]) -> tuple[Array, Array]:
    """Lower and upper limits (E) as ratios, 0 and 1 where there are none."""
    low, high = [], []
    for element in elements:
        least, most = target.limits.get(element, (None, None))
        if most is None and element not in target.named and element != REST:
            most = target.each_unnamed
        low.append((least or 0.0) / 100.0)
        high.append(1.0 if most is None else min(most / 100.0, 1.0))
    return np.array(low), np.array(high)
