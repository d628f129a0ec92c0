"""Published gating exercises, posed to the service as they are printed."""

from typing import Any

import pytest

from .published_rows import check_row, client, number, pose, rows

ROWS = rows("gating")


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_published_case(row: dict[str, Any]) -> None:
    check_row(row)


SHORTCUTS = [row for row in ROWS if "ratio" in row]


@pytest.mark.parametrize("row", SHORTCUTS, ids=[row["id"] for row in SHORTCUTS])
def test_mean_head_shortcut_is_short_by_as_much_as_its_formulas_say(row: dict[str, Any]) -> None:
    answer = pose(row["path"], row["request"])
    shortcut = number(answer, "/result/mean_head_time", "s")
    assert shortcut / number(answer, "/result/fill_time", "s") == pytest.approx(row["ratio"], abs=5e-4)


def test_a_discharge_of_045_needs_a_choke_178_times_that_of_08() -> None:
    """Follows from the two ends of the foundry lexicon's ranges (anschnittberechnung): 0.8/0.45."""
    areas = []
    for coefficient in (0.8, 0.45):
        answer = pose(
            "/v1/gating",
            {
                "volume": "1 L",
                "pour_time": "4 s",
                "head": "200 mm",
                "discharge_coefficient": coefficient,
                "properties": {"gate_velocity": "0.5 m/s"},
                "rounding_step": "0 mm",
            },
        )
        areas.append(number(answer, "/result/choke_area", "cm^2"))
    assert areas[1] / areas[0] == pytest.approx(1.78, abs=0.005)


@pytest.mark.parametrize("ratio", ["1:4:4", [1, 4, 4], {"sprue": 1, "choke": 4, "gate": 4}])
def test_a_ratio_whose_parts_have_no_names_is_refused(ratio: Any) -> None:
    """A student page prints R:S:C 4:8:3 with its first two parts swapped: bare ratios mislead."""
    response = client().post("/v1/gating", json={"head": "200 mm", "ratio": ratio})
    assert response.status_code == 422
    assert response.get_json()["errors"][0]["pointer"].startswith("/ratio")


def test_every_row_says_where_it_stands_and_why_its_tolerance() -> None:
    for row in ROWS:
        assert row["kind"] in ("printed", "derived")
        assert row["source"]
        assert row["place"]
        assert row["reason"]
        assert row["expected"] or "ratio" in row
    assert len({row["id"] for row in ROWS}) == len(ROWS) >= 70
