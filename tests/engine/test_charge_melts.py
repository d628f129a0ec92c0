"""Several melts from one stock: against a second solver, and what must hold of any of them."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from pourwright_service.api.sentences import render
from pourwright_service.engine.answer import Answer
from pourwright_service.engine.decide.charge import ChargeCase, StockItem, decide_charge, prepare_charge
from pourwright_service.engine.decide.charge_melts import MeltCase, MeltsCase, decide_melts
from pourwright_service.engine.ledger import Ledger
from tests.engine.charges import random_case
from tests.engine.test_charge_jobs import BOLTS, LUMPS, MANGANESE, PIPE, PURE, YARD, exactly

SEEDS = st.integers(0, 2**32 - 1)

BENCH = MeltsCase(
    melts=(
        MeltCase(name="fairlead", alloy="C87300", melt_mass=3.0),
        MeltCase(name="plate", alloy="C81100", melt_mass=1.0),
    ),
    stock=YARD.stock,
)
"""Two castings from the invented boat yard's stock."""


def used(answer: Answer) -> dict[int, float]:
    """Mass of every stock item that all melts take together."""
    total: dict[int, float] = {}
    for melt in answer.result["melts"]:
        if melt["outcome"] != "nearest":
            for line in melt["charge"]:
                total[line["place"]] = total.get(line["place"], 0.0) + line["mass"]
    return total


def random_melts(seed: int, *, pieces: bool = False) -> MeltsCase:
    """Two or three melts of the same random stock, each with its own limits."""
    rng = np.random.default_rng(seed)
    first = random_case(rng, items=6, elements=4, pieces=pieces)
    melts = [MeltCase(melt_mass=6.0, limits_percent=first.limits_percent)]
    for k in range(int(rng.integers(1, 3))):
        other = random_case(np.random.default_rng(seed + 17 * k + 1), items=6, elements=4, width=0.8)
        melts.append(MeltCase(melt_mass=float(rng.uniform(2.0, 8.0)), limits_percent=other.limits_percent))
    return MeltsCase(
        melts=tuple(melts),
        stock=first.stock,
        recovery_percent=first.recovery_percent,
        smallest_lot=0.0,
        smallest_addition=0.0,
    )


def test_two_castings_from_one_bench() -> None:
    answer = decide_melts(BENCH)
    assert answer.verdict == "pass"
    fairlead, plate = answer.result["melts"]
    assert {line["item"] for line in fairlead["charge"]} >= {"salvaged bolts", "silicon lumps"}
    assert "copper pipe" in {line["item"] for line in plate["charge"]}
    assert answer.result["cost"] == pytest.approx(fairlead["cost"] + plate["cost"])
    assert answer.result["price_of_certainty"] > 0.0
    assert render(answer.message).startswith("For fairlead, charge")


def test_the_scarce_item_goes_where_it_saves_most() -> None:
    """By hand: 5 kg of cheap bronze with 9 % tin. Melt one may be any bronze of 9 to 10 %, melt two has to
    hold 4 to 5 %, 5 kg each. Bronze in melt one saves 9.98 - 5 a kilogram, in melt two the same as far
    as its tin goes; all of it is used, and the cost is 2 x 5 kg of what is asked, less that saving."""
    bronze = StockItem(
        name="bronze", composition_percent=exactly(Cu=91.0, Sn=9.0), price=5.0, available=5.0, kind="scrap"
    )
    case = MeltsCase(
        melts=(
            MeltCase(melt_mass=5.0, limits_percent={"Sn": (9.0, 10.0)}),
            MeltCase(melt_mass=5.0, limits_percent={"Sn": (4.0, 5.0)}),
        ),
        stock=(*PURE.stock, bronze),
        recovery_percent={"*": (100.0, 100.0)},
        smallest_lot=0.0,
        smallest_addition=0.0,
    )
    answer = decide_melts(case)
    assert used(answer)[2] == pytest.approx(5.0)
    plain = 5.0 * (0.91 * 8.0 + 0.09 * 30.0) + 5.0 * (0.96 * 8.0 + 0.04 * 30.0)
    assert answer.result["cost"] == pytest.approx(plain - 5.0 * (9.98 - 5.0))


def test_one_melt_alone_is_the_charge_itself() -> None:
    one = replace(BENCH, melts=BENCH.melts[:1])
    alone = decide_charge(ChargeCase(alloy="C87300", melt_mass=3.0, stock=YARD.stock))
    together = decide_melts(one)
    assert together.result["cost"] == pytest.approx(alone.result["cost"], rel=1e-3)
    assert together.result["melts"][0]["outcome"] == alone.result["outcome"]


@settings(max_examples=30, deadline=None)
@given(SEEDS, st.booleans())
def test_no_item_is_promised_twice(seed: int, pieces: bool) -> None:
    case = random_melts(seed, pieces=pieces)
    answer = decide_melts(case)
    left = {line["place"]: line["mass"] for line in answer.result["left"]}
    for place, mass in used(answer).items():
        item = case.stock[place]
        if item.available is not None:
            assert mass <= item.available * (1.0 + 1e-7)
        if place in left:
            assert left[place] == pytest.approx(max((item.available or 0.0) - mass, 0.0), abs=1e-6)
        if item.piece:
            assert mass / item.piece == pytest.approx(round(mass / item.piece), abs=1e-6)


@settings(max_examples=30, deadline=None)
@given(SEEDS)
def test_every_melt_keeps_what_is_said_of_it(seed: int) -> None:
    answer = decide_melts(random_melts(seed))
    for k, melt in enumerate(answer.result["melts"]):
        checks = [check for check in answer.checks if check.subject.startswith(f"/melts/{k}/limits")]
        if melt["outcome"] == "robust":
            assert all(check.verdict == "pass" for check in checks)
            assert melt["melt_mass_low"] >= melt["wanted"] * (1.0 - 1e-6)
        elif melt["outcome"] in ("nominal", "short"):
            assert all(check.verdict in ("pass", "warn") for check in checks)
            assert (melt["shortfall"] > 0.0) == (melt["melt_mass"] < melt["wanted"] * (1.0 - 1e-6))


@settings(max_examples=20, deadline=None)
@given(SEEDS)
def test_order_of_stock_does_not_matter(seed: int) -> None:
    case = random_melts(seed)
    order = np.random.default_rng(seed).permutation(len(case.stock))
    one = decide_melts(case).result
    other = decide_melts(replace(case, stock=tuple(case.stock[k] for k in order))).result
    for mine, theirs in zip(one["melts"], other["melts"], strict=True):
        masses = {line["item"]: line["mass"] for line in mine["charge"]}
        assert {line["item"]: line["mass"] for line in theirs["charge"]} == masses
        assert mine["outcome"] == theirs["outcome"]


def least_cost_by_linprog(case: MeltsCase) -> float | None:
    """The joint robust cost, written a second time as one program in kilograms from the definition of the
    margin; None where it is infeasible."""
    recovery = case.recovery_percent or {}
    names = [element for element in recovery if element != "rest"]
    count, melts = len(case.stock), len(case.melts)
    shares = np.array(
        [[(item.composition_percent or {})[element][0] / 100.0 for element in names] for item in case.stock]
    )
    shares = np.column_stack((shares, 1.0 - shares.sum(axis=1)))
    low, high = np.array([recovery[element] for element in (*names, "rest")]).T / 100.0
    rows, bounds = [], []
    for m, melt in enumerate(case.melts):
        here = slice(m * count, (m + 1) * count)

        def row(weights: np.ndarray, here: slice = here) -> np.ndarray:
            line = np.zeros(count * melts)
            line[here] = weights
            return line

        rows.append(row(-(shares @ low)))
        bounds.append(-melt.melt_mass)
        for element, (least, most) in (melt.limits_percent or {}).items():
            k = names.index(element)
            others = np.delete(np.arange(len(names) + 1), k)
            if least is not None:
                own, rest = shares[:, k] * low[k], shares[:, others] @ high[others]
                rows.append(row(least / 100.0 * (own + rest) - own))
                bounds.append(0.0)
            if most is not None:
                own, rest = shares[:, k] * high[k], shares[:, others] @ low[others]
                rows.append(row(own - most / 100.0 * (own + rest)))
                bounds.append(0.0)
    for k, item in enumerate(case.stock):
        if item.available is not None:
            rows.append(np.tile(np.eye(count)[k], melts))
            bounds.append(item.available)
    price = np.tile([item.price for item in case.stock], melts)
    found = linprog(price, A_ub=np.array(rows), b_ub=bounds, method="highs-ipm")
    return float(found.fun) if found.status == 0 else None


@pytest.mark.parametrize("seed", range(40))
def test_least_cost_is_that_of_a_second_program(seed: int) -> None:
    case = random_melts(seed)
    answer = decide_melts(case)
    best = least_cost_by_linprog(case)
    certain = all(melt["outcome"] == "robust" for melt in answer.result["melts"])
    assert certain == (best is not None)
    if best is not None:
        assert answer.result["cost"] == pytest.approx(best, rel=2e-6)


def test_too_little_for_both_says_which_falls_short() -> None:
    case = MeltsCase(
        melts=(MeltCase(alloy="C87300", melt_mass=8.0), MeltCase(alloy="C65500", melt_mass=6.0)),
        stock=YARD.stock,
    )
    answer = decide_melts(case)
    assert answer.verdict == "fail"
    short = [melt for melt in answer.result["melts"] if melt["outcome"] == "short"]
    assert short
    assert all(melt["shortfall"] > 0.1 for melt in short)
    assert "does not make all of the melts" in render(answer.message)
    assert f"{short[0]['name']} comes to" in render(answer.message)


def test_a_melt_that_cannot_be_made_gets_its_nearest_and_takes_nothing() -> None:
    case = MeltsCase(
        melts=(BENCH.melts[0], MeltCase(name="pulley", alloy="356", melt_mass=1.0)), stock=YARD.stock
    )
    answer = decide_melts(case)
    assert answer.verdict == "fail"
    good, bad = answer.result["melts"]
    assert (good["outcome"], bad["outcome"]) == ("robust", "nearest")
    assert "pulley cannot be made: Too" in render(answer.message)
    assert answer.result["cost"] == pytest.approx(good["cost"])
    left = {line["item"]: line["mass"] for line in answer.result["left"]}
    taken = {line["item"]: line["mass"] for line in good["charge"]}
    assert left["salvaged bolts"] == pytest.approx(4.2 - taken["salvaged bolts"])


def test_a_melt_that_cannot_be_certain_does_not_take_certainty_from_the_other() -> None:
    case = MeltsCase(
        melts=(
            BENCH.melts[1],
            MeltCase(name="rod", alloy="C36000", melt_mass=0.5),
        ),
        stock=YARD.stock,
    )
    answer = decide_melts(case)
    assert answer.verdict == "warn"
    assert [melt["outcome"] for melt in answer.result["melts"]] == ["robust", "nominal"]
    assert "No charge is certain of rod" in render(answer.message)


def test_least_use_may_be_met_by_either_melt() -> None:
    must = replace(PIPE, minimum_use=1.5, price=60.0)
    stock = (BOLTS, must, LUMPS, MANGANESE)
    answer = decide_melts(replace(BENCH, stock=stock))
    assert used(answer)[1] >= 1.5 - 1e-6


def test_a_melt_without_limits_is_asked_for_them() -> None:
    answer = decide_melts(replace(BENCH, melts=(*BENCH.melts, MeltCase(melt_mass=1.0))))
    assert answer.verdict == "unknown"
    assert [missing.pointer for missing in answer.missing] == ["/melts/2/limits_percent"]


def test_defaults_are_told_melt_by_melt() -> None:
    answer = decide_melts(BENCH)
    told = {default.pointer for default in answer.defaults}
    assert {"/melts/0/limits_percent", "/melts/1/limits_percent", "/margin"} <= told
    assert {"/stock/1/composition_percent"} <= told
    inputs = prepare_charge(ChargeCase(alloy="C87300", melt_mass=3.0, stock=YARD.stock), Ledger())
    assert inputs.family == "copper"
