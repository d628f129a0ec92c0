"""Why no more of an item is charged: one lot more of it is forced in, and what happens is told.

Either the charge stays within its limits and something is lost by it (money, scrap, nearness to the
aim), or no charge with that lot keeps the limits, and the limit that gives way first is named.
"""

from dataclasses import replace

import numpy as np

from ..assess.charge import ChargeDecision, ChargeInputs, Side
from ..assess.charge_intervals import Array
from ..ledger import Say
from .charge_matrices import (
    ABSENT_OR,
    DIVIDED,
    PARTS,
    PIECES,
    ZERO_LIMIT,
    Program,
    as_decided,
    assemble,
    band_of,
    limit_of,
    limit_rows,
    tails_of,
)
from .charge_mend import broken_by, elastic
from .charge_solve import solved

SHARE = 0.02
"""Of what has no smallest lot, this share of the melt is forced in."""

NOTHING = 1e-6
"""A mass below this share of the melt is none."""

ALIKE = 1e-3
"""Two charges whose costs differ by less than this share cost the same."""


def reasons(inputs: ChargeInputs, decision: ChargeDecision) -> dict[int, Say]:
    """By item (its place in ``inputs``), why no more of it is charged.

    Items that are used up, or may not be used at all, are left out; so is everything where the
    charge was the caller's own, or is only the nearest.
    """
    if decision.outcome in ("given", "nearest"):
        return {}
    robust = decision.outcome == "robust"
    inputs = as_decided(inputs, decision.masses)
    program = assemble(inputs, robust=robust)
    least = NOTHING * inputs.melt_mass
    found = {}
    for k in np.flatnonzero(inputs.usable[: inputs.heel]).tolist():
        left = float(inputs.available[k] - decision.masses[k])
        more = inputs.piece[k] or min(inputs.lot[k] or SHARE * inputs.melt_mass, left)
        if inputs.all_or_nothing[k]:
            more = left
        if left > least and more <= left + least:
            found[k] = _reason(inputs, decision, program, k, float(more), robust=robust)
    return found


def _reason(
    inputs: ChargeInputs, decision: ChargeDecision, program: Program, k: int, more: float, *, robust: bool
) -> Say:
    """What one lot (``more``, kg) of item ``k`` does beyond what is charged of it."""
    wanted = float(decision.masses[k]) + more
    found = solved(_with_at_least(program, k, wanted))
    if found is None:
        melt = _no_larger(program, decision.masses)
        return _breaks(inputs, melt, _with_at_least(melt, k, wanted), k, more, robust=robust)
    masses = program.masses(found.values)
    return _costs(inputs, decision, masses, k, more, robust=robust)


def _with_at_least(program: Program, k: int, least: float) -> Program:
    """The program with no less than ``least`` (kg) of item ``k``."""
    least /= float(program.unit[k])
    floor, kinds = program.floor.copy(), program.kinds.copy()
    counted = kinds[k] == PIECES
    floor[k] = np.ceil(least - 1e-6) if counted else min(least, float(program.ceiling[k]))
    kinds[k] = PIECES if counted else DIVIDED
    return replace(program, floor=floor, kinds=kinds)


# --- it could be charged, but at a price --------------------------------------------------------


def _costs(
    inputs: ChargeInputs, decision: ChargeDecision, masses: Array, k: int, more: float, *, robust: bool
) -> Say:
    lot = "{lot} more of it" if decision.masses[k] > 0.0 else "{lot} of it"
    told = {"lot": (more, "mass")}
    worse = _worse(inputs, decision.masses, masses)
    if worse is None:
        return Say(f"not needed: {lot} would do as well as what is charged, and no better", **told)
    what, by = worse
    if what == "aim":
        return Say(f"{lot} would take the melt farther from its aim", **told)
    if what == "unpriced":
        return Say("has no price, so it is the last resort")
    because = _because(inputs, decision.masses, masses, k, robust=robust)
    if what == "new":
        first = "scrap comes first: " if inputs.new_metal[k] else ""
        say = Say(f"{first}{lot} would take {{by}} more of bought metal", by=by, **told)
        return say if inputs.new_metal[k] else say.then(because)
    return Say(f"too dear: {lot} would make the charge dearer by {{by}}", by=by, **told).then(because)


def _worse(inputs: ChargeInputs, before: Array, after: Array) -> tuple[str, tuple[float, str]] | None:
    """The first of the charge's aims that the forced lot fails, and by how much; None for none of them."""
    melt = inputs.melt_mass
    if inputs.objective == "closest_to_aim":
        away = aim_distance(inputs, after) - aim_distance(inputs, before)
        if away > NOTHING:
            return "aim", (away, "ratio")
    if inputs.objective == "most_scrap":
        new = float((after - before) @ inputs.new_metal)
        if new > NOTHING * melt:
            return "new", (new, "mass")
    unpriced = float((after - before) @ np.isnan(inputs.price))
    if unpriced > NOTHING * melt and not np.isnan(inputs.price).all():
        return "unpriced", (unpriced, "mass")
    price = np.nan_to_num(inputs.price)
    dearer = float((after - before) @ price)
    if dearer > ALIKE * float(before @ price):
        return "money", (dearer, "money")
    return None


def _because(inputs: ChargeInputs, before: Array, masses: Array, k: int, *, robust: bool) -> Say:
    """What about the item makes it so: the limit that it presses on hardest, what would be left over, or
    only its price."""
    metal = inputs.composition * inputs.recovery
    pig = float((masses @ metal).sum()) - inputs.melt_mass
    larger = float(((masses - before) @ metal).sum()) > SHARE * inputs.melt_mass
    left = {"pig": (pig, "mass")}
    rows, labels = limit_rows(inputs, robust=robust)
    limits = np.array([limit_of(inputs, label) for label in labels])
    touched = np.abs(rows @ masses) <= NOTHING * np.maximum(limits, NOTHING) * masses.sum()
    pressing = np.where(touched & (rows[:, k] < 0.0), rows[:, k] / np.maximum(limits, ZERO_LIMIT), 0.0)
    if pressing.any():
        side = labels[int(pressing.argmin())]
        told: dict[str, tuple[float, str] | str] = {
            "element": inputs.elements[side[0]],
            "own": (float(metal[k, side[0]] / metal[k].sum()), "fraction"),
            "limit": (limit_of(inputs, side), "fraction"),
        }
        if side[1] == "minimum":
            return Say("(it brings {own} {element}, and the melt needs {limit})", **told)
        if larger:
            words = (
                "(it brings {own} {element}, and the melt may hold {limit}: thinned that far {pig} is over)"
            )
            return Say(words, **told, **left)
        return Say("(it brings {own} {element}, and the melt may hold {limit})", **told)
    if larger:
        return Say("({pig} would be left over)", **left)
    price = (float(inputs.price[k]), "price")
    return Say("(at {price} it is dearer than what it would replace)", price=price)


def aim_distance(inputs: ChargeInputs, masses: Array) -> float:
    """How far a charge's melt at middle recoveries is from its aim: each element's distance over the
    width of its limits, added up; NaN where nothing is aimed at."""
    aimed = np.flatnonzero(np.isfinite(inputs.aim))
    if not aimed.size:
        return float("nan")
    metal = masses @ (inputs.composition * inputs.recovery)
    share = metal / metal.sum()
    bands = np.array([band_of(inputs, int(e)) for e in aimed])
    return float((np.abs(share[aimed] - inputs.aim[aimed]) / bands).sum())


# --- it cannot be charged -----------------------------------------------------------------------


def _no_larger(program: Program, masses: Array) -> Program:
    """The program of a melt no larger than these masses make."""
    melt = program.labels.index((-1, "melt"))
    high = program.high.copy()
    made = float(program.rows[melt, : program.items] @ (masses / program.unit))
    high[melt] = max(made, float(program.low[melt])) * (1.0 + NOTHING)
    return replace(program, high=high)


def _breaks(
    inputs: ChargeInputs, program: Program, forced: Program, k: int, more: float, *, robust: bool
) -> Say:
    """The limit that gives way when the lot is forced in, and how much of the item there is room for.

    The melt is no larger than the one chosen: what a lot would do to ten times the metal helps nobody.
    """
    wanted = float(forced.floor[k] * forced.unit[k])
    lot = "one lot more, {lot}," if wanted > more * (1.0 + ALIKE) else "one lot, {lot},"
    if inputs.piece[k]:
        lot = lot.replace("lot", "piece", 1)
    told: dict[str, tuple[float, str] | str] = {"lot": (more, "mass")}
    wide, sides = elastic(inputs, forced)
    found = solved(replace(wide, costs=wide.costs[:1]))
    broken: tuple[Side, ...] = () if found is None else broken_by(inputs, sides, found.values)
    if found is None or not broken:
        return Say("there is no room for {lot} of it beside what has to go in", **told)
    masses = forced.masses(found.values)
    element, side = max(broken, key=lambda one: _missed(inputs, masses, one, robust=robust))
    share = _share(inputs, masses, (element, side), robust=robust)
    told |= {
        "element": inputs.elements[element],
        "share": (share, "fraction"),
        "limit": (limit_of(inputs, (element, side)), "fraction"),
    }
    say = Say(f"{lot} would bring {{element}} to {{share}}, and the melt may hold {{limit}}", **told)
    if side == "minimum":
        say = Say(f"{lot} would bring {{element}} down to {{share}}, and the melt needs {{limit}}", **told)
    return say.then(_room(inputs, program, k))


def _room(inputs: ChargeInputs, program: Program, k: int) -> Say:
    """How much of item ``k`` a charge may hold where lots and pieces are left aside."""
    free = replace(
        program,
        costs=(np.where(np.arange(len(program.floor)) == k, -1.0, 0.0),),
        floor=np.where(program.kinds == ABSENT_OR, 0.0, program.floor),
        ceiling=np.minimum(program.ceiling, 20.0 * PARTS),
        kinds=np.full(len(program.kinds), DIVIDED),
    )
    found = solved(free)
    most = 0.0 if found is None else float(program.masses(found.values)[k])
    if most <= 1e-4 * inputs.melt_mass:
        return Say("(there is no room for any of it)")
    lot = float(inputs.piece[k] or inputs.lot[k])
    if most < lot * (1.0 - NOTHING):
        kind = "one piece" if inputs.piece[k] else "its smallest lot"
        return Say(f"(there is room for {{most}}, less than {kind})", most=(most, "mass"))
    return Say("(there is room for {most} in all)", most=(most, "mass"))


def _share(inputs: ChargeInputs, masses: Array, side: Side, *, robust: bool) -> float:
    """An element's share of the melt at the end that its limit is about."""
    own, others = tails_of(inputs, side, robust=robust)
    part = float(masses @ own)
    return part / (part + float(masses @ others))


def _missed(inputs: ChargeInputs, masses: Array, side: Side, *, robust: bool) -> float:
    """By how much of its band a limit is missed."""
    return abs(_share(inputs, masses, side, robust=robust) - limit_of(inputs, side)) / band_of(
        inputs, side[0]
    )
