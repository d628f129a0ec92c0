"""The charge: against a second solver, against draws, and what must hold of any charge."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pulp
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from pourwright_service.engine.assess.charge import ChargeInputs, assess_charge
from pourwright_service.engine.assess.charge_intervals import extremes
from pourwright_service.engine.decide.charge import (
    ChargeCase,
    StockItem,
    choose_charge,
    decide_charge,
    prepare_charge,
)
from pourwright_service.engine.ledger import Ledger
from tests.engine.charges import random_case

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning:pulp")

SEEDS = st.integers(0, 2**32 - 1)


def inputs_of(case: ChargeCase) -> ChargeInputs:
    return prepare_charge(case, Ledger())


def exactly(**percent: float) -> Mapping[str, tuple[float | None, float | None]]:
    return {element: (share, share) for element, share in percent.items()}


# --- a second solver ------------------------------------------------------------------------------


def least_cost_by_cbc(case: ChargeCase, *, robust: bool) -> float | None:
    """The least cost by PuLP and CBC, from the request alone; None where nothing is feasible.

    Written a second time from the definition of the margin: an element's minimum at its own lowest
    recovery against the highest of all others, and the other way round.
    """
    recovery = case.recovery_percent or {}
    problem = pulp.LpProblem("charge", pulp.LpMinimize)
    masses = []
    for k, item in enumerate(case.stock):
        most = 400.0 if item.available is None else item.available
        if item.piece is not None:
            count = pulp.LpVariable(f"n{k}", 0, int(most / item.piece + 1e-9), cat="Integer")
            masses.append(item.piece * count)
            continue
        mass = pulp.LpVariable(f"m{k}", 0, most)
        masses.append(mass + 0.0)
        least = most if item.all_or_nothing else min(item.smallest_lot or 0.0, most)
        if least > 0.0:
            there = pulp.LpVariable(f"z{k}", cat="Binary")
            problem += mass <= most * there
            problem += mass >= least * there
    problem += pulp.lpSum(item.price * mass for item, mass in zip(case.stock, masses, strict=True))

    def after(element: str, end: int) -> pulp.LpAffineExpression:
        low, high = recovery[element]
        part = (low / 100.0, 0.005 * (low + high), high / 100.0)[end]
        return pulp.lpSum(
            part * share(item, element) * mass for item, mass in zip(case.stock, masses, strict=True)
        )

    def share(item: StockItem, element: str) -> float:
        named = {e: ends[0] / 100.0 for e, ends in (item.composition_percent or {}).items()}
        return 1.0 - sum(named.values()) if element == "rest" else named[element]

    worst, best = (0, 2) if robust else (1, 1)
    elements = [*(case.limits_percent or {}), "rest"]
    problem += pulp.lpSum(after(element, worst) for element in elements) >= case.melt_mass
    for element, (low, high) in (case.limits_percent or {}).items():
        others = [other for other in elements if other != element]
        if low is not None:
            whole = after(element, worst) + pulp.lpSum(after(other, best) for other in others)
            problem += after(element, worst) >= low / 100.0 * whole
        if high is not None:
            whole = after(element, best) + pulp.lpSum(after(other, worst) for other in others)
            problem += after(element, best) <= high / 100.0 * whole
    status = problem.solve(pulp.PULP_CBC_CMD(msg=False, gapRel=1e-9, threads=1))
    return float(pulp.value(problem.objective)) if pulp.LpStatus[status] == "Optimal" else None


def cost_of(masses: np.ndarray | None, inputs: ChargeInputs) -> float | None:
    return None if masses is None else float(masses @ inputs.price)


@pytest.mark.parametrize("seed", range(25))
@pytest.mark.parametrize("pieces", [False, True])
def test_least_cost_is_that_of_a_second_solver(seed: int, pieces: bool) -> None:
    """CBC, another method by other authors. 1e-5: its own tolerances on pieces and lots."""
    case = random_case(np.random.default_rng(seed), items=6, elements=4, pieces=pieces)
    inputs = inputs_of(case)
    chosen = choose_charge(inputs)
    for masses, robust in ((chosen.certain, True), (chosen.middle, False)):
        other = least_cost_by_cbc(case, robust=robust)
        mine = cost_of(masses, inputs)
        assert (mine is None) == (other is None)
        if mine is not None:
            assert mine == pytest.approx(other, rel=1e-5)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 300))
def test_least_cost_of_larger_stocks_is_that_of_a_second_solver(seed: int) -> None:
    case = random_case(np.random.default_rng(seed), items=15, elements=6, pieces=seed % 2 == 0)
    inputs = inputs_of(case)
    chosen = choose_charge(inputs)
    for masses, robust in ((chosen.certain, True), (chosen.middle, False)):
        other = least_cost_by_cbc(case, robust=robust)
        mine = cost_of(masses, inputs)
        assert (mine is None) == (other is None)
        if mine is not None:
            assert mine == pytest.approx(other, rel=1e-5)


# --- intervals ------------------------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_ends_of_a_composition_are_those_of_a_linear_program(seed: int) -> None:
    """The greedy filling against a general solver, item by item and element by element."""
    rng = np.random.default_rng(seed)
    middle = rng.dirichlet(np.ones(5), size=3)
    low, high = (
        middle * rng.uniform(0.6, 1.0, (3, 5)),
        np.minimum(middle * rng.uniform(1.0, 1.5, (3, 5)), 1.0),
    )
    bad, good = rng.uniform(0.5, 0.8, (3, 5)), rng.uniform(0.8, 1.0, (3, 5))
    found = extremes(low, high, middle, bad, good)
    for i in range(3):
        bounds = np.column_stack((low[i], high[i]))
        for e in range(5):
            own = np.eye(5)[e] == 1.0
            for limit in (0.05, 0.3, 0.7):
                # The row of a limit is least where the share is: minimise it over all compositions.
                weight = np.where(own, bad[i] * (1.0 - limit), -limit * good[i])
                worst = linprog(weight, A_eq=np.ones((1, 5)), b_eq=[1.0], bounds=bounds)
                mine = found.own_low[i, e] * (1.0 - limit) - limit * found.others_high[i, e]
                assert mine == pytest.approx(worst.fun, abs=1e-12)
                weight = np.where(own, good[i] * (1.0 - limit), -limit * bad[i])
                worst = linprog(-weight, A_eq=np.ones((1, 5)), b_eq=[1.0], bounds=bounds)
                mine = found.own_high[i, e] * (1.0 - limit) - limit * found.others_low[i, e]
                assert mine == pytest.approx(-worst.fun, abs=1e-12)
        least = linprog(bad[i], A_eq=np.ones((1, 5)), b_eq=[1.0], bounds=bounds)
        assert found.metal_low[i] == pytest.approx(least.fun, abs=1e-12)


def compositions(rng: np.random.Generator, low: np.ndarray, high: np.ndarray, draws: int) -> np.ndarray:
    """Random compositions (draws, E) inside their intervals, ends favoured, adding up to one.

    Elements are drawn in random order, each within what the others still allow.
    """
    drawn = np.zeros((draws, len(low)))
    room = np.full(draws, 1.0)
    order = rng.permutation(len(low))
    for k, e in enumerate(order):
        later = order[k + 1 :]
        least = np.maximum(low[e], room - high[later].sum())
        most = np.minimum(high[e], room - low[later].sum())
        part = np.clip(rng.uniform(-0.5, 1.5, draws), 0.0, 1.0)
        drawn[:, e] = least + part * np.maximum(most - least, 0.0)
        room = room - drawn[:, e]
    return drawn


def worst_of_draws(case: ChargeCase, rng: np.random.Generator, draws: int) -> float | None:
    """How far (as a share of the melt) any draw of recoveries and compositions breaks a limit;
    None where the case has no robust charge."""
    inputs = inputs_of(case)
    chosen = choose_charge(inputs)
    if chosen.outcome != "robust":
        return None
    recovery = case.recovery_percent or {}
    ends = np.array([recovery[element] for element in inputs.elements]) / 100.0
    part = np.clip(rng.uniform(-0.5, 1.5, (draws, len(ends))), 0.0, 1.0)
    kept = ends[:, 0] + part * (ends[:, 1] - ends[:, 0])
    masses = np.zeros((draws, len(inputs.elements)))
    for k, place in enumerate(inputs.places):
        told = case.stock[place].composition_percent or {}
        low = np.array([(told.get(e, (0.0, 0.0))[0] or 0.0) / 100.0 for e in inputs.elements])
        high = np.array([(told.get(e, (0.0, 0.0))[1] or 0.0) / 100.0 for e in inputs.elements])
        low[-1], high[-1] = max(0.0, 1.0 - high[:-1].sum()), 1.0 - low[:-1].sum()
        masses += chosen.masses[k] * compositions(rng, low, high, draws) * kept
    melt = masses.sum(axis=1)
    share = masses / melt[:, None]
    over = [share[:, e] - inputs.maxima[e] for e in range(len(inputs.elements))]
    under = [inputs.minima[e] - share[:, e] for e in range(len(inputs.elements))]
    return float(max(np.max(over), np.max(under), np.max(case.melt_mass - melt) / case.melt_mass))


def feasible_draws(wanted: int, draws: int, first: int) -> tuple[int, float]:
    """How many robust charges were drawn, and the worst violation among all draws."""
    met, worst, seed = 0, -1.0, first
    while met < wanted:
        rng = np.random.default_rng(seed)
        broken = worst_of_draws(random_case(rng, ranges=seed % 2 == 0), rng, draws)
        seed += 1
        if broken is not None:
            met, worst = met + 1, max(worst, broken)
    return met, worst


def test_robust_charges_stay_in_limits_in_every_draw() -> None:
    met, worst = feasible_draws(wanted=20, draws=2000, first=0)
    assert met == 20
    assert worst <= 1e-9


@pytest.mark.long
def test_two_hundred_robust_charges_stay_in_limits_in_ten_thousand_draws() -> None:
    met, worst = feasible_draws(wanted=200, draws=10_000, first=1000)
    assert met == 200
    assert worst <= 1e-9


def test_least_cost_at_the_middle_breaks_limits_in_some_draws() -> None:
    """The test above can fail: charges chosen at middle recoveries lie on their limits."""
    broken = 0
    for seed in range(40):
        rng = np.random.default_rng(seed)
        case = random_case(rng)
        robust = inputs_of(case)
        middle = choose_charge(robust).middle
        if middle is not None:
            found = assess_charge(robust, replace(choose_charge(robust), masses=middle))
            broken += any(check.verdict != "pass" for check in found.checks)
    assert broken > 20


# --- what holds of any charge -----------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(SEEDS, st.booleans())
def test_order_of_stock_does_not_matter(seed: int, pieces: bool) -> None:
    rng = np.random.default_rng(seed)
    case = random_case(rng, pieces=pieces)
    shuffled = replace(case, stock=tuple(case.stock[k] for k in rng.permutation(len(case.stock))))
    first, second = decide_charge(case).result, decide_charge(shuffled).result
    masses = {line["item"]: line["mass"] for line in first["charge"]}
    assert {line["item"]: line["mass"] for line in second["charge"]} == masses
    assert first["composition"] == second["composition"]


@settings(max_examples=60, deadline=None)
@given(SEEDS, st.booleans(), st.booleans())
def test_masses_add_up(seed: int, pieces: bool, ranges: bool) -> None:
    case = random_case(np.random.default_rng(seed), pieces=pieces, ranges=ranges)
    result = decide_charge(case).result
    scale = result["charged_mass"]
    assert sum(line["mass"] for line in result["charge"]) == pytest.approx(scale, rel=1e-9)
    assert result["melt_mass"] + result["loss"] == pytest.approx(scale, rel=1e-9)
    over = result["pig"] - result["shortfall"]
    assert case.melt_mass + over == pytest.approx(result["melt_mass"], rel=1e-9)
    assert sum(row["nominal_percent"] for row in result["composition"]) == pytest.approx(100.0, rel=1e-9)
    assert sum(line["share"] for line in result["charge"]) == pytest.approx(1.0, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(SEEDS, st.booleans())
def test_every_charge_keeps_what_was_asked_of_it(seed: int, ranges: bool) -> None:
    case = random_case(np.random.default_rng(seed), pieces=True, ranges=ranges)
    answer = decide_charge(case)
    outcome = answer.result["outcome"]
    failed = {check.kind.id for check in answer.checks if check.verdict != "pass"}
    if outcome == "robust":
        assert not failed
    elif outcome == "nominal":
        assert all(check.verdict != "fail" for check in answer.checks)
        assert answer.verdict == "warn"
    else:
        assert answer.verdict == "fail"
    for line in answer.result["charge"]:
        item, mass = case.stock[line["place"]], line["mass"]
        most = np.inf if item.available is None else item.available
        assert 0.0 <= mass <= most * (1.0 + 1e-9)
        if item.piece is not None:
            assert mass == pytest.approx(line["pieces"] * item.piece, rel=1e-9)
        elif item.all_or_nothing:
            assert mass == 0.0 or mass == pytest.approx(most, rel=1e-9)
        elif item.smallest_lot:
            assert mass == 0.0 or mass >= min(item.smallest_lot, most) * (1.0 - 1e-9)


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_melts_of_any_size_are_made_alike(seed: int) -> None:
    """Twice the melt from twice the stock is the same charge twice."""
    case = random_case(np.random.default_rng(seed))
    double = replace(
        case,
        melt_mass=2.0 * case.melt_mass,
        stock=tuple(replace(item, available=item.available and 2.0 * item.available) for item in case.stock),
    )
    once, twice = choose_charge(inputs_of(case)), choose_charge(inputs_of(double))
    assert twice.outcome == once.outcome
    np.testing.assert_allclose(twice.masses, 2.0 * once.masses, rtol=1e-7, atol=1e-9)


def test_samples_of_recoveries_are_assessed_as_arrays() -> None:
    """One row of an array of samples gives what the same numbers give alone."""
    case = replace(random_case(np.random.default_rng(3)), margin="nominal")
    inputs = inputs_of(case)
    chosen = choose_charge(inputs)
    rng = np.random.default_rng(4)
    drawn = inputs.recovery * rng.uniform(0.95, 1.0, (50, *inputs.recovery.shape))
    many = assess_charge(replace(inputs, recovery=drawn), chosen)
    one = assess_charge(replace(inputs, recovery=drawn[7]), chosen)
    assert np.shape(many.melt_mass) == (50,)
    assert many.melt_mass[7] == pytest.approx(one.melt_mass)
    for all_samples, alone in zip(many.share, one.share, strict=True):
        assert all_samples[7] == pytest.approx(alone)
    for all_samples, alone in zip(many.checks, one.checks, strict=True):
        assert np.broadcast_to(all_samples.slack, 50)[7] == pytest.approx(alone.slack)
