"""Gating and pour time over HTTP: units, defaults filled in, contradictions, the working."""

from typing import Any

import pytest
from flask.testing import FlaskClient

GATING = {
    "alloy": "C87300",
    "poured_mass": "3.8 kg",
    "pour_time": "4.4 s",
    "sprue_height": "75 mm",
    "casting": {"height": "128 mm", "above_gate": "56 mm", "wall_thickness": "12 mm"},
    "gates": 2,
}
SAME_IN_US_UNITS = {
    "alloy": "C87300",
    "poured_mass": {"value": 3.8 / 0.45359237, "unit": "lb"},
    "pour_time": "4.4 s",
    "sprue_height": {"value": 75 / 25.4, "unit": "in"},
    "casting": {
        "height": {"value": 128 / 25.4, "unit": "in"},
        "above_gate": {"value": 56 / 25.4, "unit": "in"},
        "wall_thickness": {"value": 12 / 25.4, "unit": "in"},
    },
    "gates": 2,
}
LOW, HIGH = ({"level": level, "area": "50 cm^2"} for level in ("0 mm", "40 mm"))
SEVERAL = {
    "alloy": "356",
    "poured_mass": "2.4 kg",
    "pour_time": "2.6 s",
    "sprue_height": "100 mm",
    "losses": {"turns": 1},
    "cutters": ["10 mm", "1/2 in", "20 mm", "40 mm"],
    "vents": {"diameter": "4 mm"},
    "castings": [
        {"name": "cheek", "count": 2, "above_gate": "40 mm", "profile": [LOW, HIGH]},
        {"height": "30 mm", "volume": "80 cm^3", "wall_thickness": "10 mm"},
    ],
}
POUR = {
    "alloy": "356",
    "poured_mass": "2.5 kg",
    "thickness": "6 mm",
    "height": "50 mm",
    "gate_edge": "120 mm",
    "mould": {"medium": "green sand"},
    "pot": {"mouth_diameter": "120 mm"},
}


def ask(client: FlaskClient, path: str, body: dict[str, Any], query: str = "") -> dict[str, Any]:
    response = client.post(path + query, json=body)
    assert response.status_code == 200, response.get_json()
    answer: dict[str, Any] = response.get_json()
    return answer


def test_inches_and_millimetres_make_the_same_decisions(client: FlaskClient) -> None:
    metric = ask(client, "/v1/gating", GATING)
    american = ask(client, "/v1/gating", SAME_IN_US_UNITS)
    shown = ask(client, "/v1/gating", GATING, "?units=us")
    for part, size in (("sprue", "exit_size"), ("sprue", "mouth_size"), ("gates", "width")):
        assert american["result"][part][size] == metric["result"][part][size]
        inches = shown["result"][part][size]
        assert inches["unit"] == "in"
        assert inches["value"] * 25.4 == pytest.approx(metric["result"][part][size]["value"], rel=1e-12)


@pytest.mark.parametrize(
    ("path", "body"), [("/v1/gating", GATING), ("/v1/gating", SEVERAL), ("/v1/pour-time", POUR)]
)
def test_the_resolved_request_gives_the_same_answer(client: FlaskClient, path: str, body: Any) -> None:
    first = ask(client, path, body)
    again = ask(client, path, first["resolved"])
    assert again["result"] == first["result"]
    assert again["verdict"] == first["verdict"]
    assert again["defaults"] == []


@pytest.mark.parametrize(
    ("path", "more", "pointer"),
    [
        ("/v1/gating", {"volume": "1 L"}, "/volume"),
        ("/v1/gating", {"flow": "1 L/s"}, "/flow"),
        ("/v1/gating", {"discharge_coefficient": 0.8, "loss_coefficient": 1}, "/loss_coefficient"),
        ("/v1/gating", {"basin_depth": "40 mm", "entry_velocity": "1 m/s"}, "/entry_velocity"),
        ("/v1/gating", {"choke_area": "1 cm^2", "choke_diameter": "11 mm"}, "/choke_diameter"),
        (
            "/v1/gating",
            {"casting": {"height": "10 mm", "layers": [{"height": "5 mm", "volume": "1 cm^3"}]}},
            "/casting/layers",
        ),
        ("/v1/gating", {"casting": {"layers": [{"height": "5 mm"}]}}, "/casting/layers/0/volume"),
        ("/v1/gating", {"ratio": {"sprue": 1, "runner": 4}}, "/ratio/gate"),
        ("/v1/gating", {"discharge_coefficient": 0.8, "losses": {}}, "/losses"),
        ("/v1/gating", {"castings": [{"height": "10 mm", "volume": "9 cm^3"}]}, "/castings"),
        ("/v1/gating", {"casting": {"height": "10 mm", "count": 100}, "gates": 9}, "/gates"),
        (
            "/v1/gating",
            {"casting": {"section_area": "9 cm^2", "height": "10 mm", "volume": "9 cm^3"}},
            "/casting/volume",
        ),
        ("/v1/gating", {"casting": {"profile": [LOW, HIGH], "height": "10 mm"}}, "/casting/profile"),
        ("/v1/gating", {"casting": {"profile": [HIGH, LOW]}}, "/casting/profile/0/level"),
        ("/v1/gating", {"casting": {"profile": [LOW, HIGH, LOW]}}, "/casting/profile/2/level"),
        ("/v1/gating", {"casting": {"profile": [LOW]}}, "/casting/profile"),
        ("/v1/pour-time", {"volume": "1 L"}, "/volume"),
        (
            "/v1/pour-time",
            {"pot": {"emissivity_low": 0.5, "emissivity_high": 0.2}},
            "/pot/emissivity_low",
        ),
    ],
)
def test_contradictions_are_refused_where_they_stand(
    client: FlaskClient, path: str, more: dict[str, Any], pointer: str
) -> None:
    body = {**(GATING if path == "/v1/gating" else POUR), **more}
    response = client.post(path, json=body)
    assert response.status_code == 422
    assert [fault["pointer"] for fault in response.get_json()["errors"]] == [pointer]


def test_a_casting_that_holds_more_than_is_poured_is_a_problem(client: FlaskClient) -> None:
    body = {**GATING, "casting": {"height": "100 mm", "section_area": "1 m^2"}}
    response = client.post("/v1/gating", json=body)
    assert response.status_code == 422
    assert [fault["pointer"] for fault in response.get_json()["errors"]] == ["/poured_mass"]


@pytest.mark.parametrize(
    ("path", "body", "wanted"),
    [
        ("/v1/gating", GATING, {"gating.choke_area", "gating.fill_time", "channels.sprue_mouth_area"}),
        (
            "/v1/pour-time",
            POUR,
            {"pour_time.light_metal_pour_time", "pour_time.fastest_time_by_gates", "pot.pot_cooling_time"},
        ),
    ],
)
def test_the_working_shows_the_formulas_used(
    client: FlaskClient, path: str, body: dict[str, Any], wanted: set[str]
) -> None:
    answer = ask(client, path, body, "?working=true")
    assert wanted <= {line["formula"] for line in answer["working"]}


def test_the_layout_is_in_the_readers_units_and_holds_the_metal(client: FlaskClient) -> None:
    for query, unit in (("", "mm"), ("?units=us", "in")):
        result = ask(client, "/v1/gating", SEVERAL, query)["result"]
        drawn = result["layout"]["channels"]
        assert {channel["start"][axis]["unit"] for channel in drawn for axis in "xyz"} == {unit}
        metal = sum(channel["volume"]["value"] for channel in drawn if channel["holds_metal"])
        assert metal == pytest.approx(result["metal"]["volume"]["value"], rel=1e-9)
    assert "z up" in result["layout"]["frame"]


def test_losses_and_castings_are_told(client: FlaskClient) -> None:
    result = ask(client, "/v1/gating", SEVERAL)["result"]
    assert sum(one["share"]["value"] for one in result["losses"]) == pytest.approx(100.0)
    assert [one["gates"] for one in result["castings"]] == [2, 1]
    assert result["castings"][0]["volume"]["value"] == pytest.approx(200.0)
    assert result["sprue"]["exit_size"]["value"] in (10.0, 12.7, 20.0, 40.0)


def test_a_plan_takes_losses_cutters_and_vents(client: FlaskClient) -> None:
    plan = {
        "alloy": "A356",
        "mould": {"medium": "green sand"},
        "part": {
            "sections": [
                {
                    "name": "plate",
                    "shape": "plate",
                    "length": "200 mm",
                    "width": "120 mm",
                    "thickness": "15 mm",
                }
            ]
        },
        "gating": {"losses": {}, "cutters": ["12 mm", "16 mm", "20 mm", "25 mm", "32 mm"], "gates": 2},
    }
    answer = ask(client, "/v1/plan", plan)
    gating = answer["result"]["gating"]
    assert gating["sprue"]["exit_size"]["value"] in (12.0, 16.0, 20.0, 25.0, 32.0)
    assert gating["losses"][-1]["place"] == "way out"
    assert gating["vents"]["open_area"]["value"] > 0.0
    drawn = gating["layout"]["channels"]
    metal = sum(channel["volume"]["value"] for channel in drawn if channel["holds_metal"])
    assert metal == pytest.approx(gating["metal"]["volume"]["value"], rel=1e-9)
    again = ask(client, "/v1/plan", answer["resolved"])
    assert again["result"] == answer["result"]
