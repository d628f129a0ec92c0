"""Published blending problems and charge arithmetic, posed to the service as they are printed."""

from typing import Any

import pytest

from pourwright_service.engine.formulas.charge import (
    addition_needed,
    addition_needed_with_dilution,
    base_of_charge,
    charge_for_melt,
    phosphorus_for_oxygen,
    share_of_melt,
    total_from_share,
)
from pourwright_service.engine.tables.elements import ELEMENTS

from .published_rows import check_row, number, pose, rows

ROWS = rows("charge")


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_published_case(row: dict[str, Any]) -> None:
    check_row(row)


SURE = [row for row in ROWS if "recovery_percent" in row["request"]]


@pytest.mark.parametrize("row", SURE, ids=[row["id"] for row in SURE])
def test_the_same_problem_at_middle_recoveries_is_the_same(row: dict[str, Any]) -> None:
    """Without ranges there is nothing for certainty to cost."""
    nominal = pose(row["path"], {**row["request"], "margin": "nominal"})
    robust = pose(row["path"], row["request"])
    assert nominal["result"]["charge"] == robust["result"]["charge"]


def test_rules_of_percentage_as_formulas() -> None:
    """Shop Practice, volume 2, Foundry Practical Data, Using Percentage: rules 2, 3, 4a and 4b; digits as
    printed there, the last one cut off and not rounded."""
    assert share_of_melt(9.0, 75.0) == pytest.approx(0.12, rel=1e-12)
    assert total_from_share(68.0, 0.15) == pytest.approx(453.33, abs=0.005)
    assert base_of_charge(465.0, 0.35) == pytest.approx(344.4, abs=0.05)
    assert charge_for_melt(526.0, 0.23) == pytest.approx(683.116, abs=0.001)


def atomic_weight(symbol: str) -> float:
    weight = ELEMENTS[symbol].value("atomic_weight")
    assert weight is not None
    return weight


def test_phosphorus_takes_up_oxygen_as_the_reaction_says() -> None:
    """Derived from 5 Cu2O + 2 P -> 10 Cu + P2O5, chinacopperalloys.com on C12200, and the atomic weights
    30.974 and 15.999: 2 x 30.974 of phosphorus take up 5 x 15.999 of oxygen."""
    assert atomic_weight("P") == pytest.approx(30.974, abs=0.001)
    assert phosphorus_for_oxygen(atomic_weight("P"), 1.0, 15.999) == pytest.approx(0.7744, abs=5e-5)


def test_phosphor_copper_for_two_hundredths_of_a_per_cent() -> None:
    """Derived: 0.02 kg of phosphorus for 100 kg of copper stand in 0.02/0.15 kg of a 15 per cent master
    alloy. The service counts it into the 100 kg."""
    without_dilution = addition_needed(100.0, 0.0002, 0.0, 1.0, 0.15)
    assert without_dilution == pytest.approx(0.1333, abs=5e-5)
    answer = pose(
        "/v1/charge",
        {
            "limits_percent": {"P": [0.02, None]},
            "melt_mass": "100 kg",
            "recovery_percent": 100,
            "smallest_lot": "0 kg",
            "stock": [
                {"name": "copper", "composition_percent": {"Cu": 100}, "price": "8 /kg"},
                {"name": "phosphor copper", "composition_percent": {"Cu": 85, "P": 15}, "price": "12 /kg"},
            ],
        },
    )
    asked = number(answer, "/result/charge/1/mass", "kg")
    assert asked == pytest.approx(0.02 / 0.15, rel=1e-9)
    assert asked + number(answer, "/result/charge/0/mass", "kg") == pytest.approx(100.0, rel=1e-9)


def test_manganese_for_a_bath() -> None:
    """Derived from the definition of a share: 14 lb of manganese at a recovery of 80 per cent from metal of
    95 per cent take 14/(0.80 x 0.95) = 18.42 lb."""
    assert addition_needed(100.0, 0.14, 0.0, 0.80, 0.95) == pytest.approx(18.42, abs=0.005)


def test_an_addition_with_its_own_mass_counted_makes_the_share() -> None:
    """Derived from the definition of a share: put in, the addition gives what was asked for."""
    mass = addition_needed_with_dilution(100.0, 0.04, 0.03, 0.9, 0.98, 0.91)
    assert (100.0 * 0.03 + mass * 0.9 * 0.98) / (100.0 + mass * 0.91) == pytest.approx(0.04, rel=1e-12)
    assert mass > addition_needed(100.0, 0.04, 0.03, 0.9, 0.98)


def test_every_row_says_where_it_stands_and_why_its_tolerance() -> None:
    for row in ROWS:
        assert row["kind"] in ("printed", "derived")
        assert row["source"]
        assert row["place"]
        assert row["reason"]
        assert row["expected"]
    assert len({row["id"] for row in ROWS}) == len(ROWS) >= 25
    assert sum(row["kind"] == "printed" for row in ROWS) >= 15
