"""Published exercises on cores and copes, posed to the plan as they are printed.

They tell the metal's density, a head and an area: the rest of a plan stays unknown, and the answer
says so. A density in lb/in^3 or a specific weight is put in SI by arithmetic alone.
"""

from typing import Any

import pytest

from .published_rows import check_row, pose, rows

ROWS = rows("plan")


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_published_case(row: dict[str, Any]) -> None:
    check_row(row)


def test_a_margin_near_the_printed_one_is_laid_on_the_cope() -> None:
    """Shop Practice vol. 2, Green-sand molding part 4: where 104.8 lb are needed, use 150 lb."""
    (default,) = [
        one
        for one in pose("/v1/plan", ROWS[0]["request"])["defaults"]
        if one["pointer"] == "/shop/cope_safety_factor"
    ]
    assert default["value"] == pytest.approx(150.0 / 104.8, rel=0.03)


def test_every_row_says_where_it_stands_and_why_its_tolerance() -> None:
    for row in ROWS:
        assert row["kind"] in ("printed", "derived")
        assert row["source"]
        assert row["place"]
        assert row["reason"]
        assert row["expected"]
    assert len({row["id"] for row in ROWS}) == len(ROWS) >= 7
