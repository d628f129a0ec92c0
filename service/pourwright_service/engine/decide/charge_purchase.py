"""What to buy where the stock alone does not do: pure metals and master alloys of the trade."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Any

import numpy as np

from ..assess.charge import ChargeDecision, ChargeInputs
from ..assess.charge_intervals import Array, Flags
from ..ledger import Ledger
from ..tables.purchases import PURCHASES, Offer
from ..tables.recoveries import Recovery, recovery
from .charge_case import ChargeCase, Ranges, StockItem
from .charge_mend import smallest_purchase
from .charge_stock import prepare_charge

STEP = 0.001
"""Purchases are rounded up to whole grams, kg."""

CARRIED = 0.05
"""An element of at least this share is one that a purchase is bought for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """One thing to buy: ``mass`` in kg, composition and recoveries in per cent.

    ``form`` and ``recovery_percent`` are None where they are nothing out of the ordinary. No price
    is known.
    """

    name: str
    kind: str
    mass: float
    composition_percent: Mapping[str, float]
    form: str | None = None
    recovery_percent: Ranges | None = None

    def as_stock(self) -> dict[str, Any]:
        """The purchase as a stock item of a request: plain values, the mass in kg and divisible at will.

        Its price is for the caller to fill in; added without one, the charge is found and its cost is
        not.
        """
        item = {
            "name": self.name,
            "kind": self.kind,
            "form": self.form,
            "composition_percent": dict(self.composition_percent),
            "recovery_percent": {e: list(pair) for e, pair in (self.recovery_percent or {}).items()},
            "available": self.mass,
            "smallest_lot": 0.0,
        }
        return {key: value for key, value in item.items() if value not in (None, {})}


def offers(case: ChargeCase, family: str | None) -> tuple[StockItem, ...]:
    """Everything that can be bought, as stock without end and without a price.

    ``family`` is the melt's base metal. What comes in lumps has the recoveries of lumps, unless the
    caller has said otherwise; a recovery that is the tables' own says nothing otherwise, so that a
    request with its defaults filled in buys the same.
    """
    return tuple(
        StockItem(
            name=offer.name,
            kind=offer.kind,
            form=offer.form or None,
            composition_percent={element: (share, share) for element, share in offer.composition.items()},
            recovery_percent=_of_its_form(offer, case, family),
        )
        for offer in PURCHASES.values()
    )


def _of_its_form(offer: Offer, case: ChargeCase, family: str | None) -> Ranges | None:
    """The recoveries that an offer's form has of its own, per cent; None where it has none."""
    general = case.recovery_percent or {}
    found: dict[str, tuple[float | None, float | None]] = {}
    for element in offer.composition:
        usual = _percent_range(recovery(family, element))
        if general.get(element, general.get("*", usual)) != usual:
            continue
        own = _percent_range(recovery(family, element, offer.form or None))
        if own != usual:
            found[element] = own
    return found or None


def _percent_range(known: Recovery) -> tuple[float, float]:
    return 100.0 * known.low.value, 100.0 * known.high.value


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
    stock = (*case.stock, *offers(case, inputs.family))
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
                return _bought(wide, stock, masses, offered)
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


def _bought(
    inputs: ChargeInputs, stock: Sequence[StockItem], masses: Array, offered: Flags
) -> tuple[Purchase, ...]:
    """What is bought, in whole grams, the most first."""
    bought = []
    for k in np.flatnonzero(offered & (masses > 0.0)):
        offer = stock[inputs.places[k]]
        bought.append(
            Purchase(
                name=offer.name,
                kind=PURCHASES[offer.name].kind,
                mass=STEP * ceil(masses[k] / STEP - 1e-6),
                composition_percent=PURCHASES[offer.name].composition,
                form=offer.form,
                recovery_percent=offer.recovery_percent,
            )
        )
    return tuple(sorted(bought, key=lambda purchase: (-purchase.mass, purchase.name)))
