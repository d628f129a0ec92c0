"""Solving the charge's program with HiGHS, and making its answer exact and the only one.

A vertex found by the solver is computed again from its own active rows, so that limits hold to
the last digits. The same vertex proves itself the only optimum where every price of leaving it is
strict; where it is not, a second solve takes the fewest items, earlier names before later ones.
Searches stop after a count of nodes, never after a time.
"""

from dataclasses import dataclass, replace

import numpy as np

from ..assess.charge_intervals import Array
from .charge_matrices import ABSENT_OR, DIVIDED, PARTS, PIECES, Program, add_rows, widen

NODES, MANY = 1000, 40
"""Branch-and-bound nodes after which the best charge found so far is taken, and said to be that; fewer, in
proportion, with more whole numbers than this: each node then takes longer."""

STEPS = 12
"""Linear programs that a search by hand may take before the general one is called."""

TIE_NODES = 200
"""Nodes spent on finding the charge of fewest items among equals."""

ACTIVE = 1e-6
"""A row or bound this near, in thousandths of the melt, counts as touched."""

SAME = 1e-9
"""Costs that differ by less than this ratio are equal."""

LESSER = 1e-4
"""Weight of an objective beside the one before it, while whole numbers are searched for."""

STEEP = 1e-3
"""Rows are up to a thousand times longer than costs, so their prices are that much smaller."""

OBJECTIVE = (-3, "objective")
COUNTED = (-4, "items counted")

FEWEST_OF = 40
"""With more items than this to choose from, the fewest are not searched for."""

FEW = 4.0
"""Among equals, no charge is sought that uses more of one item than four times the melt."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """Values of all variables, and by what share a better charge may still beat them (``gap``)."""

    values: Array
    gap: float = 0.0


class SearchStopped(Exception):
    """The search for whole pieces or lots spent its nodes before it found any charge at all."""


def start_together(first: Program, second: Program) -> tuple[Array | None, Array | None]:
    """Optima of two programs of one objective each from one call of the solver, whose setting up
    takes longer than its work. Counts and lots are left aside; None where they are not both had."""
    if len(first.costs) != 1 or len(second.costs) != 1:
        return None, None
    split = len(first.floor)
    corner = np.zeros((len(first.low), len(second.floor)))
    other = np.zeros((len(second.low), split))
    both = replace(
        first,
        rows=np.block([[first.rows, corner], [other, second.rows]]),
        low=np.concatenate((first.low, second.low)),
        high=np.concatenate((first.high, second.high)),
        floor=np.concatenate((set_free(first).floor, set_free(second).floor)),
        ceiling=np.concatenate((first.ceiling, second.ceiling)),
        kinds=np.full(split + len(second.floor), DIVIDED),
    )
    try:
        found = _highs(both, np.concatenate((first.costs[0], second.costs[0])))
    except SearchStopped:
        return None, None
    return (None, None) if found is None else (found.values[:split], found.values[split:])


def solve(program: Program, start: Array | None = None, *, ties: bool = True) -> Solution | None:
    """The optimum of the program, objective after objective; None where nothing is feasible.

    ``start``: the first objective's optimum, counts and lots left aside, where it is known.
    ``ties``: among equals take the fewest items. Raises SearchStopped.
    """
    values, only, last = _in_order(set_free(program), start)
    if values is None:
        return None
    if ties and not only:
        whole = replace(last, floor=program.floor, kinds=program.kinds)
        values = _fewest_items(whole, program.costs[-1], values)
    if _broken_most(program, values) < 0:
        return Solution(values=values)
    return _searched(program, None if len(program.costs) > 1 else values, ties=ties)


def solved(program: Program) -> Solution | None:
    """One optimum of the program, any of equal ones; None also where the search was stopped."""
    try:
        return solve(program, ties=False)
    except SearchStopped:
        return None


def _in_order(program: Program, start: Array | None = None) -> tuple[Array | None, bool, Program]:
    """Solve a program without whole numbers for each objective in turn.

    Returns the values, whether they are the only optimum, and the program of the last objective,
    in which the earlier ones are rows.
    """
    values: Array | None = None
    for k, cost in enumerate(program.costs):
        if start is None:
            raw = _highs(program, cost)
            if raw is None:
                break
            start = raw.values
        values, only = _vertex(program, cost, start)
        start = None
        if only or k + 1 == len(program.costs):
            return values, only, program
        program = _no_dearer(program, cost, values)
    return values, values is not None, program


def _searched(program: Program, root: Array | None, *, ties: bool) -> Solution | None:
    """Solve a program with counts and lots, then once more with those fixed.

    The search weighs all objectives at once, each a small part of the one before; with counts and
    lots fixed they are then taken strictly in turn. ``root``: the optimum without counts and lots,
    where there is one objective alone.
    """
    together = sum(
        (LESSER**k * cost for k, cost in enumerate(program.costs)), start=np.zeros(len(program.floor))
    )
    equal = ties and _equal_prices(program)
    found = _branched(program, together, root)
    if found is not None and root is not None and not equal:
        return found
    found = found or _highs(program, together)
    if found is None:
        return None
    values = found.values
    if equal:
        values = _fewest_items(program, together, values)
    settled = _in_order(_settled(program, values))[0]
    return Solution(values=values if settled is None else settled, gap=found.gap)


def _branched(program: Program, cost: Array, root: Array | None) -> Solution | None:
    """Branch and bound by hand, for the small cases that it settles in a few steps.

    A general search costs more to set up than a few linear programs take. None where the steps do
    not suffice, or nothing is feasible.
    """
    best: Array | None = None
    least = np.inf
    stack = [set_free(program)]
    for _ in range(STEPS):
        if not stack:
            return None if best is None else Solution(values=best)
        node, values = stack.pop(), root
        if values is None:
            found = _highs(node, cost)
            if found is None:
                continue
            values = _vertex(node, cost, found.values)[0]
        root = None
        reached = float(cost @ values)
        if reached >= least - program.gap * abs(least):
            continue
        broken = _broken_most(program, values)
        if broken < 0:
            best, least = values, reached
        else:
            stack += _branches(program, node, broken, float(values[broken]))
    return None


def set_free(program: Program) -> Program:
    """The program with counts and lots set free: anything from zero to the ceiling."""
    if not program.kinds.any():
        return program
    free = np.where(program.kinds == ABSENT_OR, 0.0, program.floor)
    return replace(program, floor=free, kinds=np.full(len(free), DIVIDED))


def _broken_most(program: Program, values: Array) -> int:
    """The variable farthest from a whole count or an allowed lot; -1 where all are in order."""
    if not program.kinds.any():
        return -1
    counted, lots = program.kinds == PIECES, program.kinds == ABSENT_OR
    away = np.where(counted, np.abs(values - np.round(values)), 0.0)
    inside = lots & (values > 0.0) & (values < program.floor)
    away = np.where(inside, np.minimum(values, program.floor - values), away)
    worst = int(away.argmax())
    return worst if away[worst] > ACTIVE else -1


def _branches(program: Program, node: Program, k: int, value: float) -> list[Program]:
    """The two halves of a program about a variable, the nearer one last, to be looked at first."""
    down, up = (np.floor(value), np.ceil(value)) if program.kinds[k] == PIECES else (0.0, program.floor[k])
    ceiling, floor = node.ceiling.copy(), node.floor.copy()
    ceiling[k], floor[k] = down, up
    halves = [replace(node, ceiling=ceiling), replace(node, floor=floor)]
    return halves if up - value < value - down else halves[::-1]


def _settled(program: Program, values: Array) -> Program:
    """The program with its counts and its choices of absent items as in ``values``."""
    counts = np.where(program.kinds == PIECES, np.round(values), values)
    absent = (program.kinds == ABSENT_OR) & (values < 0.5 * program.floor)
    counted = program.kinds == PIECES
    return replace(
        program,
        floor=np.where(counted, counts, np.where(absent, 0.0, program.floor)),
        ceiling=np.where(counted, counts, np.where(absent, 0.0, program.ceiling)),
        kinds=np.full(len(values), DIVIDED),
    )


def _no_dearer(program: Program, cost: Array, values: Array) -> Program:
    best = float(cost @ values)
    room = SAME * max(abs(best), 1.0)
    return add_rows(program, cost[None, :], np.array([-np.inf]), np.array([best + room]), OBJECTIVE)


def _highs(program: Program, cost: Array, nodes: int | None = None) -> Solution | None:
    """One call of the solver; None where nothing is feasible.

    Without whole numbers presolving costs more than it saves. Raises SearchStopped where the solver
    gives no answer.
    """
    from scipy import optimize  # a third of a second that only charges need

    whole = int(np.count_nonzero(program.kinds != DIVIDED))
    if nodes is None:
        nodes = NODES * MANY // max(whole, MANY)
    result = optimize.milp(
        c=cost,
        integrality=program.kinds,
        bounds=optimize.Bounds(program.floor, program.ceiling),
        constraints=optimize.LinearConstraint(program.rows, program.low, program.high),
        options={"mip_rel_gap": program.gap, "node_limit": nodes} if whole else {"presolve": False},
    )
    if result.x is not None:
        values = np.clip(np.asarray(result.x, dtype=float), 0.0, program.ceiling)
        return Solution(values=values, gap=0.0 if result.status == 0 else float(result.mip_gap or 0.0))
    if result.status == 2:
        return None
    if whole:
        raise SearchStopped
    return _by_interior_point(program, cost)


def _by_interior_point(program: Program, cost: Array) -> Solution | None:
    """The same by the other method: the simplex method cannot always prove that nothing is feasible."""
    from scipy import optimize

    above, below = np.isfinite(program.high), np.isfinite(program.low)
    result = optimize.linprog(
        cost,
        A_ub=np.vstack((program.rows[above], -program.rows[below])),
        b_ub=np.concatenate((program.high[above], -program.low[below])),
        bounds=list(zip(program.floor.tolist(), program.ceiling.tolist(), strict=True)),
        method="highs-ipm",
    )
    if result.status == 0:
        return Solution(values=np.clip(np.asarray(result.x, dtype=float), 0.0, program.ceiling))
    if result.status == 2:
        return None
    raise SearchStopped


def _vertex(program: Program, cost: Array, values: Array) -> tuple[Array, bool]:
    """The vertex at ``values`` computed from its active rows, and whether it is the only optimum."""
    at_floor = values <= program.floor + ACTIVE
    at_ceiling = values >= program.ceiling - ACTIVE
    free = np.flatnonzero(~at_floor & ~at_ceiling)
    level = program.rows @ values
    on_low, on_high = level <= program.low + ACTIVE, level >= program.high - ACTIVE
    touched = np.flatnonzero(on_low | on_high)
    exact = np.where(at_floor, program.floor, np.where(at_ceiling, program.ceiling, values))
    aim = np.where(on_low, program.low, program.high)[touched]
    core = program.rows[np.ix_(touched, free)]
    miss = aim - program.rows[touched] @ exact
    square = len(free) == len(touched)
    try:
        exact[free] += np.linalg.solve(core, miss) if square else np.linalg.lstsq(core, miss, rcond=None)[0]
        if not _feasible(program, exact):
            return values, False
        prices = np.linalg.solve(core.T, cost[free]) if square else None
    except np.linalg.LinAlgError:
        return values, False
    if prices is None:
        return exact, False
    leaving = cost - program.rows[touched].T @ prices
    least = 1e-9 * float(np.abs(cost).max())
    strict = np.where(at_floor, leaving, -leaving) > least
    strict |= program.floor == program.ceiling
    strict[free] = True
    signed = np.where(on_low[touched], prices, -prices)
    priced = (signed > least * STEEP) | (on_low & on_high)[touched]
    return exact, bool(strict.all() and priced.all())


def _feasible(program: Program, values: Array) -> bool:
    level = program.rows @ values
    slack = 1e-4 * ACTIVE
    return bool(
        (values >= program.floor - slack).all()
        and (values <= program.ceiling + slack).all()
        and (level >= program.low - slack).all()
        and (level <= program.high + slack).all()
    )


def _equal_prices(program: Program) -> bool:
    """Whether two items cost the same per unit, so that charges may tie."""
    cost = program.costs[-1][: program.items]
    usable = cost[program.ceiling[: program.items] > 0.0]
    return len(np.unique(np.round(usable, 9))) < len(usable)


def _fewest_items(program: Program, cost: Array, values: Array) -> Array:
    """Of all charges that cost no more, the one of fewest items, earlier names first.

    Falls back on ``values`` where the search, which is kept short, finds none.
    """
    either = program.kinds == ABSENT_OR
    may_be_absent = (program.floor <= 0.0) | either
    may_be_absent[program.items :] = False
    chosen = np.flatnonzero(may_be_absent & (program.ceiling > 0.0))
    count, whole = len(chosen), len(values)
    if not 0 < count <= FEWEST_OF:
        return values
    kinds = np.where(either, DIVIDED, program.kinds)
    counted = widen(replace(program, floor=np.where(either, 0.0, program.floor), kinds=kinds), count)
    counted = _no_dearer(counted, np.concatenate((cost, np.zeros(count))), np.append(values, np.zeros(count)))
    counted = replace(
        counted,
        ceiling=np.concatenate((program.ceiling, np.ones(count))),
        kinds=np.concatenate((kinds, np.full(count, PIECES))),
    )
    most = np.minimum(program.ceiling[chosen], max(FEW * PARTS, float(values.max())))
    least = np.where(either, program.floor, 0.0)[chosen]
    items = np.zeros((count, whole))
    items[np.arange(count), chosen] = 1.0
    none, any_more = np.zeros(count), np.full(count, np.inf)
    counted = add_rows(counted, np.hstack((items, np.diag(-most))), -any_more, none, COUNTED)
    counted = add_rows(counted, np.hstack((items, np.diag(-least))), none, any_more, COUNTED)
    weight = np.concatenate((np.zeros(whole), 1.0 + np.arange(count) / (count * count + 1.0)))
    try:
        found = _highs(counted, weight, TIE_NODES)
        if found is None:
            return values
        absent = np.zeros(whole, dtype=bool)
        absent[chosen] = found.values[whole:] < 0.5
        kept = replace(
            program,
            floor=np.where(absent, 0.0, program.floor),
            ceiling=np.where(absent, 0.0, program.ceiling),
            kinds=kinds,
        )
        again = _highs(kept, cost)
    except SearchStopped:
        return values
    best = float(cost @ values)
    if again is None or float(cost @ again.values) > best + 1e-6 * max(abs(best), 1.0):
        return values
    return again.values if (kinds == PIECES).any() else _vertex(kept, cost, again.values)[0]
