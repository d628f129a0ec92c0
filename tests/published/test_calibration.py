"""Published trial castings and heats, posed to the service as they are printed.

A trial of an exercise has no expectation before it, so that its own constant is the answer; what
follows from the constant is then asked of POST /v1/freezing with the part that the answer gives for it.
"""

from typing import Any

import pytest

from .published_rows import check_row, number, pose, rows

ROWS = rows("calibration")

TRIAL_THEN_CASTING = ["CH-03", "CH-08", "CH-11", "CH-19"]
"""Exercises of freezing.json in which the constant of a trial gives the time of another casting."""


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_published_case(row: dict[str, Any]) -> None:
    check_row(row)


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_the_resolved_request_gives_the_same_answer(row: dict[str, Any]) -> None:
    answer = pose(row["path"], row["request"])
    again = pose(row["path"], answer["resolved"])
    assert again["result"] == answer["result"]
    assert again["checks"] == answer["checks"]


@pytest.mark.parametrize("row", [row for row in rows("freezing") if row["id"] in TRIAL_THEN_CASTING])
def test_the_constant_merged_into_the_next_request_gives_the_printed_time(row: dict[str, Any]) -> None:
    trial = row["request"]["trial"]
    (use,) = pose("/v1/calibration", {"trials": [trial]})["result"]["use"]
    assert "freezing" in use["calls"]
    answer = pose("/v1/freezing", {"sections": row["request"]["sections"], **use["merge"]})
    wanted = next(
        one for one in row["expected"] if one["at"] == "/result/freezing_time" and "over" not in one
    )
    got = number(answer, wanted["at"], wanted["unit"])
    assert got == pytest.approx(wanted["value"], rel=wanted["tolerance"])


def test_steel_in_an_iron_mould_is_told_from_steel_in_sand() -> None:
    """Encyclopaedia Britannica's ingot mould, 0.25 min/cm^2, beside the sheet's sand, 2.14: taken for
    trials of one mould they must be doubted."""
    ingot = next(row for row in ROWS if row["id"] == "K-03 ingot mould")["request"]["trials"]
    sand = next(row for row in ROWS if row["id"] == "K-01 constant")["request"]["trials"]
    mixed = pose("/v1/calibration", {"trials": [*ingot, *sand]})
    assert mixed["verdict"] == "warn"
    doubted = {
        check["subject"]
        for check in mixed["checks"]
        if check["id"] == "trial-agrees" and check["verdict"] == "warn"
    }
    assert "/trials/3" in doubted
    assert pose("/v1/calibration", {"trials": ingot})["verdict"] == "pass"


def test_what_shop_practice_says_of_silicon_lies_in_what_is_expected() -> None:
    """Silicon lost in a cupola is usually 10 per cent (chestofbooks.com, Shop Practice, volume 2):
    a heat of iron that lost as much agrees with what the tables expect of iron."""
    heat = {
        "items": [{"name": "pig iron", "mass": "100 kg", "composition_percent": {"Fe": 94, "Si": 2.0}}],
        "poured": "97 kg",
        "analysis_percent": {"Si": 1.8 / 0.97},
    }
    answer = pose("/v1/calibration", {"heats": [heat]})
    assert answer["verdict"] == "pass"
    (silicon,) = answer["result"]["recoveries"]
    assert silicon["readings"][0]["value"]["value"] == pytest.approx(90.0)
    assert silicon["low"]["value"] < 90.0 < silicon["high"]["value"]


def test_every_row_says_where_it_stands_and_why_its_tolerance() -> None:
    for row in ROWS:
        assert row["kind"] in ("printed", "derived")
        assert row["source"]
        assert row["place"]
        assert row["reason"]
        assert row["expected"]
    assert len({row["id"] for row in ROWS}) == len(ROWS)
