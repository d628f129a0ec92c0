"""What each stock item is made of, and what of it can hurt someone."""

from collections.abc import Collection, Sequence

from ..assess.hazards import StockPiece, hazards_of_stock
from ..ledger import Ledger, Say
from ..tables.alloys import find_alloy
from .charge_case import Ranges, StockItem, told_by


def ranges_of(
    given: Ranges | None, alloy: str | None, pointer: str, name: str, ledger: Ledger
) -> Ranges | None:
    """The composition as ranges in per cent; None, and noted as missing, where nobody knows it."""
    if given:
        return given
    if given is not None:
        alloy = None  # an analysis that names nothing says nothing
    known = find_alloy(alloy) if alloy else None
    if known is None or known.near:
        why = Say("What {name} is made of is not known, so it is not charged. Have it analysed.", name=name)
        if known is not None:
            why = Say(
                "Of {alloy} only its neighbour {near}'s properties are known, not what it is made of, so "
                "{name} is not charged. Give its analysis; if {near} is near enough for you, say that.",
                alloy=known.id,
                near=known.near or "",
                name=name,
            )
        ledger.lack(f"{pointer}/composition_percent", why)
        return None
    provenance, source = told_by(known)
    return ledger.use(
        f"{pointer}/composition_percent",
        None,
        {element: (share, share) for element, share in known.nominal.items()},
        "map",
        provenance=provenance,
        source=source,
        note=f"nominal composition of {known.id}",
    )


def refused_places(
    items: Sequence[StockItem], order: Sequence[int], boxes: Sequence[Ranges | None], ledger: Ledger
) -> set[str]:
    """Enter the refusals of the stock; returns their places. They hold whether it is charged or not: such
    a thing should not lie near a furnace."""
    hazards_of_stock(_pieces(items, order, boxes), ledger, only_refusals=True)
    return {caution.subject for caution in ledger.cautions.values() if caution.severity == "refuse"}


def hazards_of_charged(stock: Sequence[StockItem], charged: Collection[int], ledger: Ledger) -> None:
    """Enter the cautions of the items at these places of the stock: only what is melted can hurt."""
    order = sorted(charged)
    items = [stock[i] for i in order]
    apart = Ledger()
    boxes = [ranges_of(item.composition_percent, item.alloy, "", item.name, apart) for item in items]
    hazards_of_stock(_pieces(items, order, boxes), ledger)


def _pieces(
    items: Sequence[StockItem], order: Sequence[int], boxes: Sequence[Ranges | None]
) -> list[StockPiece]:
    return [
        StockPiece(
            name=item.name,
            pointer=f"/stock/{place}",
            composition=box or {},
            form=", ".join((*([item.form] if item.form else []), *item.condition)),
        )
        for place, item, box in zip(order, items, boxes, strict=True)
    ]
