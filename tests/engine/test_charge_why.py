"""Why an item stays in stock, what a limit costs, what nobody named: each against the question put again."""

from dataclasses import replace
from itertools import combinations
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourwright_service.api.sentences import render
from pourwright_service.engine.answer import Answer
from pourwright_service.engine.decide.charge import (
    ChargeCase,
    Heel,
    StockItem,
    choose_charge,
    decide_charge,
    prepare_charge,
)
from pourwright_service.engine.decide.charge_matrices import limit_rows
from pourwright_service.engine.decide.charge_why import reasons
from pourwright_service.engine.ledger import Ledger
from tests.engine.charges import random_case
from tests.engine.test_charge_jobs import (
    BOLTS,
    FITTINGS,
    LUMPS,
    PURE,
    YARD,
    charged,
    exactly,
    line_of,
    share_of,
    why_of,
)

SEEDS = st.integers(0, 2**32 - 1)


# --- why not ----------------------------------------------------------------------------------------


def test_the_fittings_are_left_out_for_their_zinc() -> None:
    """By hand: a lot is 2 % of 4.2 kg, 84 g; 35.5 % of that is zinc, of which 99 % stays at most, in a
    melt that comes to 4.2 kg at the least: 0.084 x 0.355 x 0.99/4.2 = 0.703 %. Room there is for 0.25 %
    of 4.2 kg over 0.355 x 0.99, 29.9 g."""
    why = why_of(decide_charge(YARD), "fittings")
    assert why == (
        "one lot, 84 g, would bring Zn to 0.702 %, and the melt may hold 0.25 % (there is room for 29.9 g, "
        "less than its smallest lot)"
    )
    assert pytest.approx(0.00702, rel=2e-3) == 0.084 * 0.355 * 0.99 / 4.2
    assert pytest.approx(0.0299, rel=2e-3) == 0.0025 * 4.2 / (0.355 * 0.99)


def test_an_ingot_is_too_dear_by_what_it_costs_more() -> None:
    """10 kg of bronze from copper and tin at 8 and 30 a kilogram; a kilogram of ready bronze at 20 with
    the same tin takes the place of 0.91 of one and 0.09 of the other: 20 - 9.98 dearer."""
    ready = StockItem(
        name="ready", composition_percent=exactly(Cu=91.0, Sn=9.0), price=20.0, smallest_lot=1.0
    )
    answer = decide_charge(replace(PURE, stock=(*PURE.stock, ready)))
    assert why_of(answer, "ready").startswith("too dear: 1 kg of it would make the charge dearer by 10.02")
    cheaper = replace(ready, price=9.98)
    answer = decide_charge(replace(PURE, stock=(*PURE.stock, cheaper)))
    spare = next(line for line in answer.result["charge"] if not line["mass"])
    assert why_of(answer, spare["item"]).startswith("not needed")


def test_more_tin_would_bring_the_melt_over_its_limit() -> None:
    """At 9 % tin is at its least; a lot of 2 kg more does not fit under 10 %."""
    tin = replace(PURE.stock[1], smallest_lot=0.5, available=3.0)
    why = why_of(decide_charge(replace(PURE, stock=(replace(PURE.stock[0], available=9.2), tin))), "tin")
    assert why.startswith("one lot more, 500 g, would bring Sn to")
    assert "the melt may hold 10 %" in why


def test_a_lot_that_only_fits_a_larger_melt_says_what_is_left_over() -> None:
    answer = decide_charge(replace(YARD, melt_mass=2.0))
    assert "too dear: 40 g of it" in why_of(answer, "fittings")
    assert "thinned that far" in why_of(answer, "fittings")
    assert "is over" in why_of(answer, "fittings")


def test_scrap_comes_before_bought_metal_where_scrap_is_what_counts() -> None:
    answer = decide_charge(replace(YARD, melt_mass=2.0, objective="most_scrap"))
    assert why_of(answer, "ingot").startswith("scrap comes first: 1.5 kg of it would take")
    answer = decide_charge(replace(YARD, melt_mass=2.0, objective="closest_to_aim"))
    assert why_of(answer, "copper pipe") == "40 g of it would take the melt farther from its aim"


def test_what_is_used_up_needs_no_reason() -> None:
    answer = decide_charge(YARD)
    assert line_of(answer, "salvaged bolts")["mass"] == pytest.approx(4.2)
    assert line_of(answer, "salvaged bolts")["why"] is None


def test_reasons_are_worked_out_for_a_short_stock_or_on_request() -> None:
    spare = tuple(replace(FITTINGS, name=f"fittings {k}") for k in range(12))
    long = replace(YARD, stock=(*YARD.stock, *spare))
    assert why_of(decide_charge(long), "fittings 3") == "brings 33.8 % Zn, and the melt may hold 0.25 %"
    asked = decide_charge(replace(long, explain=True))
    assert why_of(asked, "fittings 3").startswith("one lot, 84 g, would bring Zn to 0.702 %")
    assert why_of(decide_charge(replace(YARD, explain=False)), "ingot") == "not needed"


@settings(max_examples=25, deadline=None)
@given(SEEDS, st.booleans())
def test_every_reason_is_true_when_the_lot_is_asked_for(seed: int, pieces: bool) -> None:
    """The lot is put into the request as a least use: what was said to break breaks, and what was said
    to be dearer is dearer by what was said."""
    case = random_case(np.random.default_rng(seed), pieces=pieces)
    inputs = prepare_charge(case, Ledger())
    chosen = choose_charge(inputs)
    for k, say in reasons(inputs, chosen).items():
        lot = say.parts["lot"]
        assert isinstance(lot, tuple)
        item = case.stock[inputs.places[k]]
        least = float(chosen.masses[k]) + lot[0]
        most = None if item.available is None else max(item.available, least)
        forced = replace(item, minimum_use=least * (1.0 - 1e-9), available=most)
        stock = tuple(forced if k2 == inputs.places[k] else other for k2, other in enumerate(case.stock))
        again = choose_charge(prepare_charge(replace(case, stock=stock), Ledger()))
        words = render(say)
        if "dearer by" in words:
            by = say.parts["by"]
            assert isinstance(by, tuple)
            assert again.outcome == chosen.outcome
            before, after = chosen.masses @ inputs.price, again.masses @ inputs.price
            assert after - before == pytest.approx(by[0], rel=1e-4, abs=1e-4)
        elif "would bring" in words or "no room" in words:
            assert again.outcome != chosen.outcome
        else:
            assert words.startswith("not needed")
            assert again.masses @ inputs.price == pytest.approx(chosen.masses @ inputs.price, rel=2e-3)


# --- what limits cost -------------------------------------------------------------------------------


def test_a_tenth_less_tin_saves_what_arithmetic_says() -> None:
    """10 kg at 9 % tin cost 9.1 x 8 + 0.9 x 30 = 99.8; at 8.1 %, 9.19 x 8 + 0.81 x 30 = 97.82. The copper
    limit of 90 % does not bind."""
    answer = decide_charge(replace(PURE, relaxation=True))
    (line,) = answer.result["relaxation"]
    assert (line["element"], line["side"]) == ("Sn", "minimum")
    assert (line["limit_percent"], line["widened_percent"]) == (9.0, pytest.approx(8.1))
    assert line["cost"] == pytest.approx(97.82)
    assert line["saving"] == pytest.approx(1.98)
    assert decide_charge(PURE).result["relaxation"] is None


@settings(max_examples=25, deadline=None)
@given(SEEDS, st.booleans())
def test_a_widened_limit_costs_what_the_request_with_that_limit_costs(seed: int, pieces: bool) -> None:
    case = replace(random_case(np.random.default_rng(seed), pieces=pieces), relaxation=True)
    answer = decide_charge(case)
    for line in answer.result["relaxation"]:
        limits = dict(case.limits_percent or {})
        low, high = limits[line["element"]]
        wide = line["widened_percent"]
        limits[line["element"]] = (wide, high) if line["side"] == "minimum" else (low, wide)
        again = decide_charge(replace(case, limits_percent=limits))
        robust = answer.result["outcome"] == "robust" or answer.result["outcome"] == "nearest"
        cost = again.result["cost_for_certain" if robust else "cost_at_middle"]
        assert line["keeps"] == (not np.isnan(cost))
        if line["keeps"]:
            assert line["cost"] == pytest.approx(cost, rel=1e-5)
            if answer.result["outcome"] != "nearest":
                assert line["saving"] >= -1e-6 * answer.result["cost"]


def test_the_limit_that_brings_in_whole_ingots_is_found_though_it_is_not_touched() -> None:
    """Without the master alloy only ingots hold manganese enough; with a tenth less of it bolts do."""
    answer = decide_charge(replace(YARD, stock=YARD.stock[:2] + YARD.stock[4:5], relaxation=True))
    first = answer.result["relaxation"][0]
    assert (first["element"], first["side"]) == ("Mn", "minimum")
    assert first["saving"] > 0.5 * answer.result["cost"]


# --- against all corners ----------------------------------------------------------------------------


def cheapest_corner(case: ChargeCase) -> float | None:
    """The least cost among all corners of a small robust charge, found by solving for every one.

    A corner is where as many rows or bounds are met exactly as there are items; nothing here is shared
    with the search but the rows themselves, which other tests check.
    """
    inputs = prepare_charge(case, Ledger())
    rows, _ = limit_rows(inputs, robust=True)
    count = len(inputs.items)
    there = np.where(np.isfinite(inputs.available), inputs.available, 1e3)
    walls = np.vstack((rows, inputs.ends.metal_low, np.eye(count), -np.eye(count)))
    least = np.concatenate((np.zeros(len(rows)), [inputs.melt_mass], np.zeros(count), -there))
    best: float | None = None
    for chosen in combinations(range(len(walls)), count):
        corner = walls[list(chosen)]
        if abs(np.linalg.det(corner)) < 1e-12:
            continue
        masses = np.linalg.solve(corner, least[list(chosen)])
        if (walls @ masses >= least - 1e-7).all():
            cost = float(masses @ inputs.price)
            best = cost if best is None else min(best, cost)
    return best


@pytest.mark.parametrize("seed", range(30))
def test_the_robust_charge_is_the_cheapest_of_all_corners(seed: int) -> None:
    case = random_case(np.random.default_rng(seed), items=4, elements=3, ranges=True)
    inputs = prepare_charge(case, Ledger())
    certain = choose_charge(inputs).certain
    best = cheapest_corner(case)
    assert (certain is None) == (best is None)
    if certain is not None:
        assert certain @ inputs.price == pytest.approx(best, rel=1e-6)


# --- the aim, the unnamed, the sample ---------------------------------------------------------------


def test_the_distance_to_the_aim_is_told_and_is_least_where_that_is_asked_for() -> None:
    """By hand: tin may lie between 9 and 10 %, so 9.6 % is 0.6 of that width from 9 %."""
    case = replace(PURE, aim_percent={"Sn": 9.6})
    assert decide_charge(case).result["aim_distance"] == pytest.approx(0.6)
    close = decide_charge(replace(case, objective="closest_to_aim"))
    assert close.result["aim_distance"] == pytest.approx(0.0, abs=1e-9)
    row = next(row for row in close.result["composition"] if row["element"] == "Sn")
    assert row["aim_percent"] == 9.6


def test_the_share_of_scrap_is_told() -> None:
    result = decide_charge(YARD).result
    assert result["scrap_ratio"] == pytest.approx(4.2 / result["charged_mass"])


def cautions_of(answer: Answer) -> dict[str, Any]:
    return {caution.code: caution for caution in answer.cautions}


def test_metal_that_no_analysis_names_is_cautioned_of() -> None:
    """1 % of the bolts is named by nobody; all of it lead, the melt would hold five times what it may."""
    vague = replace(BOLTS, composition_percent=exactly(Cu=95.0, Si=3.0, Mn=0.9, Fe=0.1))
    told = cautions_of(decide_charge(replace(YARD, stock=(vague, *YARD.stock[1:]))))["unnamed-metal"]
    assert told.subject == "/stock/0/composition_percent"
    assert "salvaged bolts" in render(told.text)
    assert "all of it Pb" in render(told.why)
    assert "0.2 % is allowed" in render(told.why)
    assert "unnamed-metal" not in cautions_of(decide_charge(YARD))


def test_an_element_that_the_analysis_names_does_not_hide() -> None:
    """The same bolts with lead and zinc named as nought: what is left over may not be those."""
    named = {**exactly(Cu=95.0, Si=3.0, Mn=0.9, Fe=0.1), **exactly(Pb=0.0, Zn=0.0)}
    vague = replace(BOLTS, composition_percent=named)
    assert "unnamed-metal" not in cautions_of(decide_charge(replace(YARD, stock=(vague, *YARD.stock[1:]))))


def test_a_heel_of_unnamed_metal_is_cautioned_of_where_it_lies() -> None:
    heel = Heel(mass=1.0, composition_percent=exactly(Cu=93.0, Si=4.0, Mn=1.0))
    told = cautions_of(decide_charge(replace(YARD, heel=heel)))["unnamed-metal"]
    assert told.subject == "/heel/composition_percent"


def test_elements_that_the_alloy_does_not_name_are_kept_few_where_they_can_be() -> None:
    """Cheap bolts with 1.5 % cobalt: with pipe and clean bolts at hand they are thinned to the 0.5 % that
    is common practice; alone they are charged and warned of."""
    made_of = exactly(Cu=93.8, Si=3.8, Mn=0.9, Co=1.5)
    odd = replace(BOLTS, name="odd bolts", composition_percent=made_of, price=1.0, available=None)
    both = decide_charge(replace(YARD, margin="nominal", stock=(odd, *YARD.stock)))
    assert both.verdict == "pass"
    assert charged(both)["odd bolts"] > 0.5
    assert share_of(both, "Co") == pytest.approx(0.5)
    alone = decide_charge(replace(YARD, margin="nominal", stock=(odd,)))
    assert alone.verdict == "warn"
    assert share_of(alone, "Co") > 1.0


def test_red_brass_melted_alone_cannot_be_certain_and_is_told_why() -> None:
    """Copper of 84 to 86 %, and zinc that may lose up to 15 %: no purchase narrows what melting takes."""
    ingot = StockItem(name="ingot", alloy="C23000", price=10.0)
    said = render(decide_charge(ChargeCase(alloy="C23000", melt_mass=5.0, stock=(ingot,))).message)
    assert "What melting takes moves Cu anywhere from" in said
    assert "and the limits leave only 84 % to 86 %" in said
    assert said.endswith("take a sample before you pour.")


# --- the purchase as stock --------------------------------------------------------------------------


def test_a_purchase_is_a_stock_item_of_plain_values() -> None:
    lean = replace(BOLTS, composition_percent=exactly(Cu=97.0, Si=2.0, Mn=1.0), available=None)
    answer = decide_charge(ChargeCase(alloy="C87300", melt_mass=4.0, stock=(lean,)))
    silicon = next(bought for bought in answer.result["purchase"] if "silicon" in bought.name)
    assert silicon.as_stock() == {
        "name": silicon.name,
        "kind": silicon.kind,
        "form": "lumps",
        "composition_percent": dict(silicon.composition_percent),
        "recovery_percent": {"Si": [85.0, 95.0]},
        "available": silicon.mass,
        "smallest_lot": 0.0,
    }
    assert LUMPS.form == "lumps"
