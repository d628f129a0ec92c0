"""What a bucket can make: against the charge itself, alloy by alloy."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourwright_service.api.sentences import render
from pourwright_service.engine.answer import Answer
from pourwright_service.engine.decide.charge import ChargeCase, StockItem, choose_charge, prepare_charge
from pourwright_service.engine.decide.charge_makes import MakesCase, decide_makes
from pourwright_service.engine.ledger import Ledger
from pourwright_service.engine.tables.alloys import ALLOYS
from tests.engine.test_charge_jobs import BOLTS, FITTINGS, INGOT, PIPE, YARD, exactly

BUCKET = MakesCase(stock=YARD.stock)
"""The invented boat yard's stock, of which nobody said what is wanted."""


def made(answer: Answer) -> dict[str, dict]:
    return {line["alloy"]: line for line in answer.result["makes"]}


def failed(answer: Answer) -> dict[str, dict]:
    return {line["alloy"]: line for line in answer.result["cannot"]}


def test_the_boat_yards_bucket_makes_silicon_bronzes_and_copper() -> None:
    """As a caster would read it: all but the fittings makes the bronze that the bolts are; the zinc of the
    fittings goes only into the older bronze that allows it; pipe alone makes copper."""
    answer = decide_makes(BUCKET)
    assert answer.verdict == "pass"
    lines = made(answer)
    assert list(lines)[:3] == ["C87200", "C87300", "C65500"]
    assert "fittings" not in {use["item"] for use in lines["C87300"]["charge"]}
    assert lines["C87300"]["certain"]
    assert lines["C87300"]["whole"]
    assert {use["item"] for use in lines["C11000"]["charge"]} == {"copper pipe"}
    assert render(answer.message).startswith("This stock makes 6 of the 40 alloys. First comes C87200")


def test_every_alloy_is_either_made_or_not() -> None:
    answer = decide_makes(BUCKET)
    both = [*made(answer), *failed(answer)]
    assert sorted(both) == sorted(alloy for alloy, row in ALLOYS.items() if row.limits and not row.near)


def test_what_cannot_be_made_says_which_limit_and_how_near_the_stock_comes() -> None:
    cannot = failed(decide_makes(BUCKET))
    assert (cannot["C90500"]["element"], cannot["C90500"]["side"]) == ("Sn", "minimum")
    assert cannot["C90500"]["nearest_percent"] == 0.0
    assert (cannot["356"]["element"], cannot["356"]["nearest_percent"]) == ("Al", 0.0)
    assert cannot["ZA-12"]["element"] == "Zn"
    assert cannot["ZA-12"]["nearest_percent"] == pytest.approx(35.5, abs=0.05)


def test_silicon_bolts_are_no_gilding_metal_though_their_copper_would_do() -> None:
    """Gilding metal names no silicon, and 3 % of it make another metal."""
    bolts = replace(BOLTS, composition_percent=exactly(Cu=95.3, Si=3.8, Mn=0.9))
    answer = decide_makes(MakesCase(stock=(bolts,), alloys=("C21000",)))
    assert answer.verdict == "fail"
    assert failed(answer)["C21000"]["element"] is None


def test_order_of_the_stock_does_not_matter() -> None:
    forward = decide_makes(BUCKET)
    backward = decide_makes(replace(BUCKET, stock=BUCKET.stock[::-1]))
    for one, other in zip(forward.result["makes"], backward.result["makes"], strict=True):
        assert {**one, "charge": None} == {**other, "charge": None}
        uses = {use["item"]: use["mass"] for use in one["charge"] or ()}
        assert {use["item"]: use["mass"] for use in other["charge"] or ()} == uses
    assert forward.result["cannot"] == backward.result["cannot"]


@pytest.mark.parametrize("margin", ["robust", "nominal"])
def test_what_is_wanted_is_made_at_the_cost_of_the_charge_itself(margin: str) -> None:
    """4 kg of each alloy: the same cost as asking for a charge of it, whole pieces and lots kept."""
    case = replace(BUCKET, melt_mass=4.0, whole=20, margin=margin)
    lines = made(decide_makes(case))
    full = [
        alloy for alloy, line in lines.items() if line["enough"] and line["certain"] == (margin == "robust")
    ]
    assert len(full) >= 3
    for alloy in full:
        asked = ChargeCase(alloy=alloy, melt_mass=4.0, stock=YARD.stock, margin=case.margin)
        chosen = choose_charge(prepare_charge(asked, Ledger()))
        assert chosen.outcome == margin
        inputs = prepare_charge(asked, Ledger())
        assert lines[alloy]["cost"] == pytest.approx(
            float(chosen.masses @ np.nan_to_num(inputs.price)), rel=1e-5
        )


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_the_largest_melt_can_be_charged_and_a_larger_one_cannot(seed: int) -> None:
    """Random scrap about silicon bronze; the charge is asked for a little less than is said, and a little
    more."""
    rng = np.random.default_rng(seed)
    stock = tuple(
        StockItem(
            name=f"lot {k}",
            composition_percent=exactly(
                Cu=round(float(rng.uniform(90.0, 95.0)), 2),
                Si=round(float(rng.uniform(1.0, 4.8)), 2),
                Zn=round(float(0.2 * rng.random() if k else 0.0), 2),
            ),
            available=round(float(rng.uniform(0.5, 5.0)), 2),
            price=round(float(rng.uniform(2.0, 12.0)), 2),
            smallest_lot=0.0,
        )
        for k in range(4)
    )
    answer = decide_makes(MakesCase(stock=stock, alloys=("C65500",), whole=0, margin="nominal"))
    largest = answer.result["makes"][0]["melt_mass"] if answer.result["makes"] else 0.0
    for share, expected in ((0.999, "nominal"), (1.001, "nearest")):
        wanted = max(largest, 0.2) * share
        asked = ChargeCase(alloy="C65500", melt_mass=wanted, stock=stock, margin="nominal", smallest_lot=0.0)
        chosen = choose_charge(prepare_charge(asked, Ledger()))
        unnamed = chosen.outcome == "nominal" and expected == "nearest"
        if largest == 0.0 or unnamed:
            continue
        assert chosen.outcome == expected


def test_without_an_end_of_the_stock_a_melt_must_be_named() -> None:
    endless = replace(PIPE, available=None)
    answer = decide_makes(MakesCase(stock=(BOLTS, endless)))
    assert answer.verdict == "unknown"
    assert [missing.pointer for missing in answer.missing] == ["/stock/1/available"]
    named = decide_makes(MakesCase(stock=(BOLTS, endless), melt_mass=3.0))
    assert made(named)["C11000"]["enough"]
    assert made(named)["C11000"]["stock_ratio"] is None


def test_dangerous_and_unknown_stock_is_left_out() -> None:
    bad = StockItem(name="spring", composition_percent=exactly(Cu=97.5, Be=2.0), available=1.0)
    unknown = StockItem(name="mystery", available=1.0)
    answer = decide_makes(MakesCase(stock=(bad, unknown, INGOT)))
    assert answer.verdict == "fail"
    assert answer.result["stock_mass"] == pytest.approx(4.5)
    assert [missing.pointer for missing in answer.missing] == ["/stock/1/composition_percent"]
    assert [use["place"] for use in made(answer)["C87300"]["charge"]] == [2]
    nothing = decide_makes(MakesCase(stock=(bad,)))
    assert nothing.verdict == "fail"
    assert not nothing.result["makes"]


def test_brass_that_is_only_right_at_middle_recoveries_is_said_to_be_that() -> None:
    answer = decide_makes(
        MakesCase(
            stock=(FITTINGS, StockItem(name="zinc", composition_percent=exactly(Zn=99.9), available=0.1)),
            alloys=("C36000",),
        )
    )
    assert answer.verdict == "warn"
    assert not made(answer)["C36000"]["certain"]
    assert "none is certain" in render(answer.message)
