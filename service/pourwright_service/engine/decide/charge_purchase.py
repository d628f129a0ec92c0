"""What to buy where the stock alone does not do: pure metals and master alloys of the trade."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil

import numpy as np

from ..assess.charge import ChargeDecision, ChargeInputs
from ..assess.charge_intervals import Array, Flags
from ..ledger import Ledger
from ..tables.purchases import PURCHASES
from .charge_case import ChargeCase, StockItem
from .charge_mend import smallest_purchase
from .charge_stock import prepare_charge

STEP = 0.001
"""Purchases are rounded up to whole grams, kg."""

CARRIED = 0.05
"""An element of at least this share is one that a purchase is bought for."""


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
    of the table helps. What the melt lacks beside its aim is offered first, and its base metal;
    then everything that it is meant to hold. (A little tin would dilute the copper of a yellow
    brass with less mass than the zinc that it lost, but no founder would call that mending it.)

    Where the limits are narrower than what melting may lose, as in the wrought brasses, no purchase is
    certain; a charge that breaks them is then mended at middle recoveries.
    """
    if decision.outcome in (inputs.margin, "given", "robust"):
        return ()
    stock = (*case.stock, *offers())
    wide = prepare_charge(
        replace(case, stock=stock, melt_mass=inputs.melt_mass, margin=inputs.margin), Ledger()
    )
    usable = dict(zip(inputs.places, inputs.usable.tolist(), strict=True))
    fit = np.array([usable.get(place, True) for place in wide.places])
    offered = np.array([place >= len(case.stock) for place in wide.places])
    wanted, lacking = _wanted(wide), _lacking(inputs, decision)
    robust = inputs.margin == "robust"
    for sure in (True, False) if robust and decision.outcome == "nearest" else (robust,):
        for elements in (wanted & np.isin(wide.elements, lacking), wanted):
            stray = ((wide.composition >= CARRIED) & ~elements).any(axis=1)
            masses = smallest_purchase(replace(wide, usable=fit & ~(offered & stray)), offered, robust=sure)
            if masses is not None:
                return _bought(wide, masses, offered)
    return ()


def _targets(inputs: ChargeInputs) -> Array:
    """What each element's share (E) is meant to be; NaN for one that is only limited."""
    low, high = inputs.minima, inputs.maxima
    middle = np.where(low > 0.0, np.where(high < 1.0, 0.5 * (low + high), low), np.nan)
    return np.where(inputs.aim > 0.0, inputs.aim, middle)


def _wanted(inputs: ChargeInputs) -> Flags:
    """The elements (E flags) that the melt is meant to hold."""
    return np.isfinite(_targets(inputs))


def _lacking(inputs: ChargeInputs, decision: ChargeDecision) -> list[str]:
    """The elements of which the chosen charge brings less than is meant, and the base metal."""
    targets = np.nan_to_num(_targets(inputs))
    masses = decision.masses @ (inputs.composition * inputs.recovery)
    short = masses < targets * masses.sum()
    short[int(targets.argmax())] = True
    return [element for element, lacks in zip(inputs.elements, short, strict=True) if lacks]


def _bought(inputs: ChargeInputs, masses: Array, offered: Flags) -> tuple[Purchase, ...]:
    """What is bought, in whole grams, the most first."""
    by_name = {offer.name: offer for offer in PURCHASES.values()}
    bought = [
        Purchase(
            name=inputs.items[k],
            kind=by_name[inputs.items[k]].kind,
            mass=STEP * ceil(masses[k] / STEP - 1e-6),
            composition_percent=by_name[inputs.items[k]].composition,
        )
        for k in np.flatnonzero(offered & (masses > 0.0))
    ]
    return tuple(sorted(bought, key=lambda purchase: (-purchase.mass, purchase.name)))
