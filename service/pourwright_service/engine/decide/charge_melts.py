"""Several melts from one stock: one joint program, so that no item is promised twice.

Every melt keeps its own limits, with certainty where that can be had; only the stock is shared. The
least total cost is sought. Where the stock does not make all of them, as much of each is made as can
be within its limits, and a melt of which nothing can be made gets the nearest charge from what is
left over.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ..answer import Answer, answer
from ..assess.charge import ChargeInputs, Margin
from ..assess.charge_intervals import Array
from ..assess.hazards import hazards_of_melt, hazards_of_pour
from ..checks import Check, Verdict
from ..ledger import Ledger, MissingValue, Say
from .charge_answer import charge_lines, composition_lines, listed, side_line
from .charge_case import ChargeCase, Ranges, StockItem
from .charge_hazards import hazards_of_charged
from .charge_melts_mend import purchase_for
from .charge_melts_solve import ENOUGH, Melted, choose_melts, joint_masses
from .charge_purchase import Purchase
from .charge_relax import cost_of
from .charge_stock import charged_places, known_stock, prepare_charge

TOLD = 3
"""So many melts are spoken of in the sentence."""

UNMADE = ("nearest", "none")
"""Outcomes of a melt that is not to be charged: what is shown of it is not taken from the stock."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeltCase:
    """One melt wanted: ``melt_mass`` (kg) is molten, after loss."""

    melt_mass: float
    name: str | None = None
    alloy: str | None = None
    limits_percent: Ranges | None = None
    unnamed_percent: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MeltsCase:
    """Melts wanted, and the one stock that they are to be made from."""

    melts: tuple[MeltCase, ...]
    stock: tuple[StockItem, ...]
    margin: Margin | None = None
    recovery_percent: Ranges | None = None
    smallest_lot: float | None = None
    smallest_addition: float | None = None
    currency: str | None = None


def decide_melts(case: MeltsCase) -> Answer:
    """Answer several melts from one stock."""
    ledger = Ledger()
    stock = known_stock(case.stock, ledger)
    margin: Margin = ledger.use(
        "/margin", case.margin, "robust", "text", provenance="rule", source="COMMON-PRACTICE"
    )
    try:
        inputs = [_prepared(case, k, stock, margin, ledger) for k in range(len(case.melts))]
    except MissingValue as missing:
        return answer(ledger, {}, [], missing.missing.why)
    if not stock:
        return answer(ledger, {}, [], Say("There is nothing in this stock that may be melted."), "fail")
    names = [
        melt.name or f"melt {k + 1}" + (f" ({melt.alloy})" if melt.alloy else "")
        for k, melt in enumerate(case.melts)
    ]
    melted = choose_melts(names, inputs)
    charged = set().union(*(charged_places(one.inputs, one.decision.masses) for one in melted))
    hazards_of_charged(case.stock, charged, ledger)
    _hazards(melted, ledger)
    made = [one for one in melted if one.outcome not in UNMADE]
    purchases = _purchases(case, stock, melted, margin)
    cost = float(sum(cost_of(one.inputs, one.decision.masses) for one in made))
    middle = np.nan
    if all(one.outcome == "robust" for one in melted):
        apart = joint_masses(inputs, [False] * len(inputs))
        middle = cost if apart is None else sum(map(cost_of, inputs, apart))
    result = {
        "margin": margin,
        "cost": cost,
        "cost_at_middle": middle,
        "price_of_certainty": cost - middle,
        "melts": [
            _melt_line(one, melt, purchase)
            for one, melt, purchase in zip(melted, case.melts, purchases, strict=True)
        ],
        "left": _left(melted, inputs[0].available),
    }
    return answer(ledger, result, _checks(melted), *_sentence(melted, purchases))


def _prepared(
    case: MeltsCase, k: int, stock: Sequence[tuple[int, StockItem]], margin: Margin, ledger: Ledger
) -> ChargeInputs:
    """The inputs of one melt; places are those of the whole stock."""
    apart = Ledger()
    asked = _alone_case(case, k, stock, margin)
    here = ledger.seen_from(_=f"/melts/{k}")
    try:
        inputs = prepare_charge(asked, apart, harmless=True)
    except MissingValue as missing:
        raise MissingValue(here.lack(missing.missing.pointer, missing.missing.why)) from missing
    for pointer in ("/limits_percent", "/unnamed_percent"):
        if pointer in apart.defaults:
            where = here.place(pointer)
            ledger.defaults[where] = replace(apart.defaults[pointer], pointer=where)
    return replace(inputs, places=tuple(stock[row][0] for row in inputs.places))


def _alone_case(
    case: MeltsCase, k: int, stock: Sequence[tuple[int, StockItem]], margin: Margin
) -> ChargeCase:
    """One melt as if it had the stock to itself."""
    melt = case.melts[k]
    return ChargeCase(
        alloy=melt.alloy,
        limits_percent=melt.limits_percent,
        unnamed_percent=melt.unnamed_percent,
        melt_mass=melt.melt_mass,
        stock=tuple(item for _, item in stock),
        margin=margin,
        objective="least_cost",
        recovery_percent=case.recovery_percent,
        smallest_lot=case.smallest_lot,
        smallest_addition=case.smallest_addition,
    )


def _purchases(
    case: MeltsCase, stock: Sequence[tuple[int, StockItem]], melted: Sequence[Melted], margin: Margin
) -> list[tuple[Purchase, ...]]:
    """What would mend each melt that fails, from what the others leave; nothing for the others."""
    taken = [one.decision.masses * (one.outcome not in UNMADE) for one in melted]
    row = {place: number for number, (place, _) in enumerate(stock)}
    found: list[tuple[Purchase, ...]] = []
    for k, one in enumerate(melted):
        if one.outcome in ("robust", "nominal"):
            found.append(())
            continue
        left = one.inputs.available if one.outcome in UNMADE else melted[0].inputs.available
        if one.outcome == "short":
            others = [masses for other, masses in enumerate(taken) if other != k]
            left = np.maximum(left - np.sum(others, axis=0), 0.0) if others else left
        inputs = replace(one.inputs, places=tuple(row[place] for place in one.inputs.places))
        found.append(purchase_for(_alone_case(case, k, stock, margin), inputs, left))
    return found


# --- the answer -----------------------------------------------------------------------------------


def _hazards(melted: Sequence[Melted], ledger: Ledger) -> None:
    """Cautions of every melt, and the prices without which the cost is not known."""
    most = 0.0
    for k, one in enumerate(melted):
        if one.found is None:
            continue
        most = max(most, one.found.melt_mass)
        shares = zip(one.inputs.elements, one.found.share, strict=True)
        melt = {element: 100.0 * share for element, share in shares}
        hazards_of_melt(melt, None, ledger, name=one.name, pointer=f"/melts/{k}")
        unpriced = np.isnan(one.inputs.price) & (one.decision.masses > 0.0)
        if np.isnan(one.inputs.price).all():
            continue
        for item in np.flatnonzero(unpriced).tolist():
            why = Say(
                "The charges are worked out, but not what they cost: {name} has no price.",
                name=one.inputs.items[item],
            )
            ledger.lack(f"/stock/{one.inputs.places[item]}/price", why)
    hazards_of_pour(ledger, melt_mass=most or None)


def _melt_line(one: Melted, melt: MeltCase, purchase: Sequence[Purchase]) -> dict[str, Any]:
    inputs, decision, found = one.inputs, one.decision, one.found
    made = 0.0 if found is None else found.melt_mass
    lines = [] if found is None else charge_lines(inputs, decision, found)
    return {
        "name": one.name,
        "alloy": melt.alloy,
        "outcome": one.outcome,
        "wanted": melt.melt_mass,
        "melt_mass": made,
        "melt_mass_low": None if found is None else found.melt_mass_low,
        "shortfall": melt.melt_mass - made if made < melt.melt_mass * (1.0 - ENOUGH) else 0.0,
        "cost": cost_of(inputs, decision.masses),
        "charge": sorted((line for line in lines if line["mass"]), key=lambda line: line["place"]),
        "composition": [] if found is None else composition_lines(inputs, found),
        "binding": [side_line(inputs, side) for side in decision.binding],
        "purchase": list(purchase),
    }


def _left(melted: Sequence[Melted], stock: Array) -> list[dict[str, Any]]:
    """What is left of each item (of which there was ``stock``, kg) that has an end, in the stock's order."""
    inputs = melted[0].inputs
    left = stock.copy()
    for one in melted:
        if one.outcome not in UNMADE:
            left = left - one.decision.masses
    lines = [
        {"item": inputs.items[k], "place": inputs.places[k], "mass": max(float(left[k]), 0.0)}
        for k in np.flatnonzero(np.isfinite(left)).tolist()
    ]
    return sorted(lines, key=lambda line: line["place"])


def _checks(melted: Sequence[Melted]) -> list[Check]:
    """The checks of all melts; their places are those of the whole request."""
    found = []
    for k, one in enumerate(melted):
        for check in one.found.checks if one.found else ():
            shared = check.subject.startswith("/stock")
            found.append(check if shared else replace(check, subject=f"/melts/{k}{check.subject}"))
    return found


def _sentence(melted: Sequence[Melted], purchases: Sequence[Sequence[Purchase]]) -> tuple[Say, Verdict]:
    failed = [
        (one, purchase)
        for one, purchase in zip(melted, purchases, strict=True)
        if one.outcome in ("short", "nearest", "none")
    ]
    if failed:
        say = Say("This stock does not make all of the melts.")
        for one, purchase in failed[:TOLD]:
            say = say.then(_failed(one))
            if purchase:
                say = say.then(listed("To mend that, buy", [(p.mass, p.name) for p in purchase], "b"))
        return say, "fail"
    say = _charged(melted[0])
    for one in melted[1:TOLD]:
        say = say.then(_charged(one))
    if all(one.outcome == "robust" for one in melted):
        return say.then(Say("Every limit is kept even where the recoveries fall out badly.")), "pass"
    doubtful = ", ".join(one.name for one in melted if one.outcome == "nominal")
    if melted[0].inputs.margin == "nominal":
        return say.then(Say("Every limit is kept at middle recoveries.")), "pass"
    unsure = Say("No charge is certain of {names}: take a sample before you pour.", names=doubtful)
    return say.then(unsure), "warn"


def _charged(one: Melted) -> Say:
    pairs = sorted(zip(one.decision.masses.tolist(), one.inputs.items, strict=True), reverse=True)
    return listed(f"For {one.name}, charge", [pair for pair in pairs if pair[0] > 0.0], "m")


def _failed(one: Melted) -> Say:
    wanted = (one.inputs.melt_mass, "mass")
    if one.found is None:
        return Say("{name}: nothing is left that it could be made of.", name=one.name)
    if one.outcome == "short":
        made = (one.found.melt_mass, "mass")
        return Say("{name} comes to {made} of the {wanted} wanted.", name=one.name, made=made, wanted=wanted)
    for check in one.found.checks:
        if check.verdict == "fail":
            return Say("{name} cannot be made:", name=one.name).then(check.message)
    return Say("{name} cannot be made within its limits.", name=one.name)
