"""Charge: which mix of the stock makes this melt, for certain if it can be had."""

from dataclasses import replace
from typing import TypeAlias

import numpy as np

from ..answer import Answer, answer
from ..assess.charge import ChargeAssessment, ChargeDecision, ChargeInputs, assess_charge
from ..assess.charge_intervals import Array
from ..assess.hazards import hazards_of_melt, hazards_of_pour
from ..cautions import unnamed_rest
from ..ledger import Ledger, MissingValue, Say
from .charge_answer import charge_result, charge_sentence
from .charge_case import ChargeCase, Heel, StockItem
from .charge_hazards import hazards_of_charged
from .charge_matrices import Program, assemble, touched_limits
from .charge_mend import doubtful_limits, nearest_charge
from .charge_purchase import mend_charge
from .charge_relax import relax
from .charge_solve import SearchStopped, solve, start_together
from .charge_stock import charged_places, prepare_charge
from .charge_why import reasons

__all__ = [
    "ChargeCase",
    "Heel",
    "StockItem",
    "choose_charge",
    "decide_charge",
    "given_charge",
    "lack_prices",
    "lost_of",
    "mend_charge",
    "prepare_charge",
    "unnamed_metal",
]

Found: TypeAlias = tuple[Array | None, float]
"""Masses of the best charge, or None, and by what share a better one may beat them."""

EXPLAINED = 12
"""With so many stock items or fewer, it is worked out of each why no more of it is charged."""

HIDDEN = 2e-4
"""Less than this share of unnamed metal in the melt (0.02 %) hides nothing that matters."""


def decide_charge(case: ChargeCase) -> Answer:
    """Answer a charge request. Raises ValueError for a composition beyond 100.5 %."""
    ledger = Ledger()
    try:
        inputs = prepare_charge(case, ledger)
    except MissingValue as missing:
        return answer(ledger, {}, [], missing.missing.why)
    decision = given_charge(case, inputs) or choose_charge(inputs)
    if not decision.masses.any():
        return answer(ledger, {}, [], Say("Nothing in this stock can be charged."), "fail")
    hazards_of_charged(case.stock, charged_places(inputs, decision.masses), ledger)
    found = assess_charge(inputs, decision)
    purchase = mend_charge(case, inputs, decision)
    lack_prices(inputs, decision, ledger)
    melt = {e: 100.0 * share for e, share in zip(inputs.elements, found.share, strict=True)}
    hazards_of_melt(melt, None, ledger, name=case.alloy or "the melt", lost=lost_of(inputs, found))
    hazards_of_pour(ledger, melt_mass=found.melt_mass)
    unnamed_metal(inputs, decision, found, ledger)
    result = charge_result(
        inputs,
        decision,
        found,
        purchase,
        why=reasons(inputs, decision) if explained(case, ledger) else None,
        relaxed=relax(inputs, decision) if case.relaxation else None,
    )
    return answer(ledger, result, list(found.checks), *charge_sentence(inputs, decision, found, purchase))


def explained(case: ChargeCase, ledger: Ledger) -> bool:
    """Whether it is worked out why no more of an item is charged, which takes a solve for each."""
    return ledger.use(
        "/explain",
        case.explain,
        len(case.stock) <= EXPLAINED,
        "flag",
        provenance="rule",
        source="COMMON-PRACTICE",
        note=f"yes for up to {EXPLAINED} stock items",
    )


def unnamed_metal(
    inputs: ChargeInputs, decision: ChargeDecision, found: ChargeAssessment, ledger: Ledger
) -> None:
    """Caution where the rest of an analysis, were it all one element that the analysis does not name,
    would bring that element over its limit."""
    if found.share_high[-1] <= HIDDEN:
        return
    metal = decision.masses[:, None] * inputs.ends.own_high[:, -1:]
    hidden = (metal * ~inputs.told).sum(axis=0) / found.melt_mass_low
    reach = np.array(found.share_high) + hidden
    over = (reach > inputs.maxima) & (hidden > HIDDEN)
    over[-1] = False
    if not over.any():
        return
    ratio = np.where(over, reach / np.maximum(inputs.maxima, HIDDEN), 0.0)
    worst = int(ratio.argmax())
    strange = np.where(~inputs.told[:, worst], metal[:, 0], 0.0)
    richest = int(strange.argmax())
    place = inputs.places[richest]
    ledger.caution(
        unnamed_rest(
            ledger.place("/heel" if place < 0 else f"/stock/{place}") + "/composition_percent",
            inputs.items[richest],
            ", ".join(inputs.elements[e] for e in np.argsort(-ratio, kind="stable")[: int(over.sum())]),
            inputs.elements[worst],
            (float(hidden[worst]), float(reach[worst]), float(inputs.maxima[worst])),
        )
    )


def lost_of(inputs: ChargeInputs, found: ChargeAssessment) -> dict[str, tuple[float, float]]:
    """What is lost of each element in melting: expected, and at most (kg)."""
    return {
        element: (lost, most)
        for element, lost, most in zip(inputs.elements, found.lost, found.lost_high, strict=True)
    }


def given_charge(case: ChargeCase, inputs: ChargeInputs) -> ChargeDecision | None:
    """The charge that the caller has decided on, or None where it is to be chosen."""
    if all(item.charged is None for item in case.stock):
        return None
    heel = [case.heel.mass] if case.heel else []
    masses = [case.stock[place].charged or 0.0 for place in inputs.places if place >= 0]
    return ChargeDecision(masses=np.array(masses + heel))


def choose_charge(inputs: ChargeInputs) -> ChargeDecision:
    """The best charge by the objective that keeps every limit for certain (margin ``robust``).

    Where no charge does, the best that keeps them at middle recoveries; where none does that
    either, the nearest that can be had. Elements that the specification does not name are kept few if
    that is possible at all; if it is not, a check warns of them.
    """
    chosen = _chosen(inputs)
    if chosen.outcome != "nearest" or not np.isfinite(inputs.unnamed_limit):
        return chosen
    loose = _chosen(replace(inputs, unnamed_limit=np.inf))
    return chosen if loose.outcome == "nearest" and chosen.masses.any() else loose


def _chosen(inputs: ChargeInputs) -> ChargeDecision:
    (middle, gap), (certain, certain_gap) = _both_solved(inputs)
    robust = inputs.margin == "robust"
    if robust and certain is not None:
        return ChargeDecision(
            masses=certain,
            outcome="robust",
            certain=certain,
            middle=middle,
            binding=touched_limits(inputs, certain, robust=True),
            gap=certain_gap,
        )
    if middle is not None:
        return ChargeDecision(
            masses=middle,
            outcome="nominal",
            certain=certain,
            middle=middle,
            doubtful=doubtful_limits(inputs) if robust else (),
            binding=touched_limits(inputs, middle, robust=False),
            gap=max(gap, certain_gap) if robust else gap,
        )
    nearest = nearest_charge(inputs)
    return ChargeDecision(
        masses=nearest.masses,
        outcome="nearest",
        binding=nearest.broken + touched_limits(inputs, nearest.masses, robust=False),
        gap=nearest.gap,
    )


def _both_solved(inputs: ChargeInputs) -> tuple[Found, Found]:
    """The best charges at middle recoveries and for certain."""
    nominal = assemble(inputs, robust=False)
    if not _uncertain(inputs):
        found = _solved(nominal, None)
        return found, found
    robust = assemble(inputs, robust=True)
    nominal_start, robust_start = start_together(nominal, robust)
    certain = _solved(robust, robust_start)
    # Where the certain charge is taken, only the cost of the other is told: any of equal ones will do.
    asked = inputs.margin == "robust" and certain[0] is not None
    return _solved(nominal, nominal_start, ties=not asked), certain


def _solved(program: Program, start: Array | None, *, ties: bool = True) -> Found:
    try:
        found = solve(program, start, ties=ties)
    except SearchStopped:
        return None, 1.0
    return (None, 0.0) if found is None else (program.masses(found.values), found.gap)


def _uncertain(inputs: ChargeInputs) -> bool:
    """Whether any recovery or composition is an interval."""
    ends = inputs.ends
    return not (
        np.array_equal(ends.own_low, ends.own_high) and np.array_equal(ends.others_low, ends.others_high)
    )


def lack_prices(inputs: ChargeInputs, decision: ChargeDecision, ledger: Ledger) -> None:
    """Note the prices without which the cost is unknown; nothing is asked of a stock without any."""
    known = ~np.isnan(inputs.price[: inputs.heel])
    if not known.any():
        return
    used = decision.masses[: inputs.heel] > 0.0
    for k in np.flatnonzero(used & ~known):
        why = Say(
            "The charge is worked out, but not what it costs: {name} has no price.", name=inputs.items[k]
        )
        ledger.lack(f"/stock/{inputs.places[k]}/price", why)
