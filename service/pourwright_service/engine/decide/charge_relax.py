"""What each limit costs: widened by a tenth of itself, and the charge solved again.

A charge of whole pieces and smallest lots has no prices of its limits to read off, and where it is
divisible such a price holds only for the next gram; so the question is put and answered.
"""

from dataclasses import dataclass, replace

import numpy as np

from ..assess.charge import ChargeDecision, ChargeInputs, Side
from ..assess.charge_intervals import Array
from .charge_matrices import DIVIDED, as_decided, assemble, limit_of, limit_rows
from .charge_solve import solved

WIDER = 0.1
"""A limit is widened by this share of itself."""

CENT = 1e-6
"""A saving of less than this share of the cost is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxed:
    """One limit widened: ratios; ``cost`` and ``saving`` in money, NaN where there is no charge or a
    price is unknown. ``keeps``: whether a charge then keeps every limit."""

    side: Side
    limit: float
    widened: float
    keeps: bool
    cost: float
    saving: float


def relax(inputs: ChargeInputs, decision: ChargeDecision) -> tuple[Relaxed, ...]:
    """Each binding limit widened, the greatest saving first.

    Where whole pieces or smallest lots decide, a limit may hold the charge without being touched:
    then every limit is tried, and those that save nothing are left out. A limit of nothing has no
    tenth, and a charge that the caller decided is not solved again: neither is here.
    """
    if decision.outcome == "given":
        return ()
    inputs = as_decided(inputs, decision.masses)
    robust = decision.outcome == "robust" or (decision.outcome == "nearest" and inputs.margin == "robust")
    before = cost_of(inputs, decision.masses)
    counted = bool((assemble(inputs, robust=robust).kinds != DIVIDED).any())
    sides = limit_rows(inputs, robust=robust)[1] if counted else list(dict.fromkeys(decision.binding))
    found = []
    for side in sides:
        if limit_of(inputs, side) <= 0.0:
            continue
        tried = _widened(inputs, side, before, robust=robust)
        worth = tried.keeps and (decision.outcome == "nearest" or tried.saving > CENT * abs(before))
        if worth or side in decision.binding:
            found.append(tried)
    order = {element: place for place, element in enumerate(inputs.elements)}
    return tuple(
        sorted(
            found,
            key=lambda one: (-np.nan_to_num(one.saving), order[inputs.elements[one.side[0]]], one.side[1]),
        )
    )


def _widened(inputs: ChargeInputs, side: Side, before: float, *, robust: bool) -> Relaxed:
    element, which = side
    limit = limit_of(inputs, side)
    minima, maxima = inputs.minima.copy(), inputs.maxima.copy()
    if which == "minimum":
        minima[element] = widened = limit * (1.0 - WIDER)
    else:
        maxima[element] = widened = min(limit * (1.0 + WIDER), 1.0)
    program = assemble(replace(inputs, minima=minima, maxima=maxima), robust=robust)
    found = solved(program)
    cost = np.nan if found is None else cost_of(inputs, program.masses(found.values))
    return Relaxed(
        side=side,
        limit=limit,
        widened=widened,
        keeps=found is not None,
        cost=float(cost),
        saving=float(before - cost),
    )


def cost_of(inputs: ChargeInputs, masses: Array | None) -> float:
    """Cost of a charge; NaN where there is none, or where a price is unknown."""
    if masses is None:
        return float("nan")
    return float(np.where(masses > 0.0, masses * inputs.price, 0.0).sum())
