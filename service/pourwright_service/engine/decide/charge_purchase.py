"""What to buy where the stock alone does not do: pure metals and master alloys of the trade."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil

import numpy as np

from ..assess.charge import ChargeDecision, ChargeInputs
from ..ledger import Ledger
from ..tables.purchases import PURCHASES
from .charge_case import ChargeCase, StockItem
from .charge_mend import smallest_purchase
from .charge_stock import prepare_charge

STEP = 0.001
"""Purchases are rounded up to whole grams, kg."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """One thing to buy: ``mass`` in kg, composition in per cent."""

    name: str
    kind: str
    mass: float
    composition_percent: Mapping[str, float]


def offers() -> tuple[StockItem, ...]:
    """Everything that can be bought, as stock without end and without a price."""
    return tuple(
        StockItem(
            name=offer.name,
            kind=offer.kind,
            form=offer.form or None,
            composition_percent={element: (share, share) for element, share in offer.composition.items()},
        )
        for offer in PURCHASES.values()
    )


def mend_charge(case: ChargeCase, inputs: ChargeInputs, decision: ChargeDecision) -> tuple[Purchase, ...]:
    """The smallest purchase with which the limits are kept the way that was asked for.

    Nothing where they are kept already, where the caller decided the charge, or where no purchase
    of the table helps.
    """
    if decision.outcome in (inputs.margin, "given", "robust"):
        return ()
    stock = (*case.stock, *offers())
    wide = prepare_charge(
        replace(case, stock=stock, melt_mass=inputs.melt_mass, margin=inputs.margin), Ledger()
    )
    usable = dict(zip(inputs.places, inputs.usable.tolist(), strict=True))
    offered = np.array([place >= len(case.stock) for place in wide.places])
    wide = replace(wide, usable=np.array([usable.get(place, True) for place in wide.places]))
    masses = smallest_purchase(wide, offered, robust=inputs.margin == "robust")
    if masses is None:
        return ()
    by_name = {offer.name: offer for offer in PURCHASES.values()}
    bought = [
        Purchase(
            name=wide.items[k],
            kind=by_name[wide.items[k]].kind,
            mass=STEP * ceil(masses[k] / STEP - 1e-6),
            composition_percent=by_name[wide.items[k]].composition,
        )
        for k in np.flatnonzero(offered & (masses > 0.0))
    ]
    return tuple(sorted(bought, key=lambda purchase: (-purchase.mass, purchase.name)))
