"""Freezing and riser over HTTP: units, the resolved request, what is missing, faults, the working."""

from fractions import Fraction
from typing import Any

import pytest
from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.published.published_rows import pose

PLATE = {"name": "plate", "shape": "plate", "length": "180 mm", "width": "70 mm", "thickness": "12 mm"}
BOSS = {
    "name": "boss",
    "shape": "cylinder",
    "diameter": "40 mm",
    "height": "30 mm",
    "joins": [{"to": "plate", "area": "1256 mm^2"}],
}
BUSH = {
    "name": "bush",
    "shape": "tube",
    "outer_diameter": "60 mm",
    "inner_diameter": "25 mm",
    "height": "50 mm",
    "faces": {"inside": "cored"},
}
ALLOYS = ["C81100", "C21000", "C83600", "C90500", "C87300", "C95400", "C85400", "356", "A356", "413", "ZA-12"]
ALLOYS += ["grey iron"]


def ask(client: FlaskClient, path: str, body: dict[str, Any], query: str = "") -> dict[str, Any]:
    response = client.post(path + query, json=body)
    assert response.status_code == 200, response.get_json()
    answer: dict[str, Any] = response.get_json()
    return answer


def faults(client: FlaskClient, path: str, body: dict[str, Any]) -> list[str]:
    response = client.post(path, json=body)
    assert response.status_code == 422, response.get_json()
    return [error["pointer"] for error in response.get_json()["errors"]]


def in_inches(told: Any) -> Any:
    """The same request with every length and area in inches, to the last digit of a double."""
    if isinstance(told, dict):
        return {key: in_inches(inner) for key, inner in told.items()}
    if isinstance(told, list):
        return [in_inches(inner) for inner in told]
    if isinstance(told, str) and told.endswith((" mm", " mm^2")):
        number, unit = told.split(" ")
        power = 2 if unit.endswith("2") else 1
        return {"value": float(Fraction(number) / Fraction(254, 10) ** power), "unit": f"in{unit[2:]}"}
    return told


@pytest.mark.parametrize("alloy", ALLOYS)
@pytest.mark.parametrize("riser", [{}, {"position": "side"}, {"shape": "ball"}, {"neck": {"length": "8 mm"}}])
def test_inches_or_millimetres_the_same_riser(client: FlaskClient, alloy: str, riser: dict[str, Any]) -> None:
    body = {
        "alloy": alloy,
        "mould": {"medium": "oil-bonded sand"},
        "sections": [PLATE, BOSS, BUSH],
        "riser": {**riser, "section": "boss"},
    }
    metric, inches = ask(client, "/v1/riser", body), ask(client, "/v1/riser", in_inches(body))
    assert inches["verdict"] == metric["verdict"]
    assert inches["result"]["diameter"] == metric["result"]["diameter"]
    assert inches["result"]["governs"] == metric["result"]["governs"]
    assert [check["verdict"] for check in inches["checks"]] == [
        check["verdict"] for check in metric["checks"]
    ]


@given(sides=st.tuples(*[st.decimals("0.3", "9", places=3)] * 3), alloy=st.sampled_from(ALLOYS))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_an_inch_is_25_4_mm_to_the_last_bit(sides: tuple[Any, ...], alloy: str) -> None:
    def answer(scale: Fraction, unit: str) -> dict[str, Any]:
        names = ("length", "width", "height")
        sizes = {
            name: {"value": float(Fraction(side) * scale), "unit": unit}
            for name, side in zip(names, sides, strict=True)
        }
        told = {"alloy": alloy, "mould": {"medium": "silica sand"}}
        return pose("/v1/riser", {**told, "sections": [{"name": "block", "shape": "bar", **sizes}]})

    inches, metric = answer(Fraction(1), "in"), answer(Fraction(254, 10), "mm")
    assert inches["result"] == metric["result"]
    assert inches["checks"] == metric["checks"]


@pytest.mark.parametrize("path", ["/v1/freezing", "/v1/riser"])
def test_the_system_of_units_never_changes_a_decision(client: FlaskClient, path: str) -> None:
    body = {"alloy": "C87300", "mould": {"medium": "green sand"}, "sections": [PLATE, BOSS]}
    metric, us = ask(client, path, body), ask(client, path, body, "?units=us")
    assert us["verdict"] == metric["verdict"]
    assert [c["verdict"] for c in us["checks"]] == [c["verdict"] for c in metric["checks"]]
    if path == "/v1/riser":
        found = us["result"]["diameter"]
        assert found["unit"] == "in"
        assert found["value"] * 25.4 == pytest.approx(metric["result"]["diameter"]["value"], rel=1e-12)


@pytest.mark.parametrize("alloy", ALLOYS)
@pytest.mark.parametrize("path", ["/v1/freezing", "/v1/riser"])
@pytest.mark.parametrize("medium", ["silica sand", "plaster", "iron chill"])
def test_the_resolved_request_gives_the_same_answer(
    client: FlaskClient, path: str, alloy: str, medium: str
) -> None:
    body = {"alloy": alloy, "mould": {"medium": medium}, "sections": [PLATE, BOSS, BUSH]}
    answer = ask(client, path, body)
    again = ask(client, path, answer["resolved"])
    for part in ("verdict", "message", "result", "checks", "resolved"):
        assert again[part] == answer[part], part
    assert again["defaults"] == []


def test_without_a_mould_the_mould_is_asked_for(client: FlaskClient) -> None:
    for path in ("/v1/freezing", "/v1/riser"):
        answer = ask(client, path, {"alloy": "C87300", "sections": [PLATE]})
        assert answer["verdict"] == "unknown"
        assert [missing["pointer"] for missing in answer["missing"]] == ["/mould/medium"]
        assert "mould" in answer["message"]


def test_without_a_metal_the_metal_is_asked_for(client: FlaskClient) -> None:
    for path in ("/v1/freezing", "/v1/riser"):
        answer = ask(client, path, {"mould": {"medium": "plaster"}, "sections": [PLATE]})
        assert answer["verdict"] == "unknown"
        assert "/alloy" in [missing["pointer"] for missing in answer["missing"]]


def test_a_riser_of_nothing_is_an_answer(client: FlaskClient) -> None:
    answer = ask(client, "/v1/riser", {})
    assert answer["verdict"] == "unknown"
    assert answer["result"]["diameter"] is None
    assert "/sections" in [missing["pointer"] for missing in answer["missing"]]


def test_faults_are_told_with_their_place(client: FlaskClient) -> None:
    told = {"alloy": "A356", "mould": {"medium": "silica sand"}, "sections": [PLATE, BOSS]}
    assert faults(client, "/v1/freezing", {**told, "feeds_to": "hub"}) == ["/feeds_to"]
    assert faults(client, "/v1/riser", {**told, "riser": {"section": "hub"}}) == ["/riser/section"]
    assert faults(client, "/v1/riser", {**told, "riser": {"height": "50 mm"}}) == ["/riser/height"]
    ball = {"shape": "ball", "faces": {"top": "insulated"}}
    assert faults(client, "/v1/riser", {**told, "riser": ball}) == ["/riser/faces/top"]
    shut = {**BUSH, "faces": {"inside": "cored", "outside": "insulated", "ends": "insulated"}}
    assert faults(client, "/v1/freezing", {**told, "sections": [shut]}) == ["/sections/0/faces"]


def test_the_working_of_a_riser_can_be_followed(client: FlaskClient) -> None:
    body = {"alloy": "C87300", "mould": {"medium": "oil-bonded sand"}, "sections": [PLATE, BOSS]}
    answer = ask(client, "/v1/riser", body, "?working=true")
    lines = answer["working"]
    last = [line for line in lines if line["scope"] == ["riser"] and "freezing_time" in line["formula"]]
    (riser,) = last
    assert riser["result"]["value"] == pytest.approx(answer["result"]["freezing_time"]["value"], rel=1e-12)
    casting = [line["result"]["value"] for line in lines if line["scope"][:1] == ["casting under the riser"]]
    assert any(
        value == pytest.approx(answer["result"]["casting_time"]["value"], rel=1e-12) for value in casting
    )
    assert all(line["source"]["grade"] != "unknown" for line in lines)


RIB = {
    "name": "rib",
    "shape": "bar",
    "length": "180 mm",
    "width": "12 mm",
    "height": "60 mm",
    "joins": [{"to": "plate", "area": "2160 mm^2", "kind": "T", "fillet": "6 mm", "angle": "90 deg"}],
}
SAND = {"alloy": "C87300", "mould": {"medium": "oil-bonded sand"}}


def test_a_junction_is_told_with_its_circle_and_its_fillets(client: FlaskClient) -> None:
    """A T of equal walls with a fillet of half the wall: 1.5 walls (derived, exact geometry)."""
    answer = ask(client, "/v1/freezing", {**SAND, "sections": [PLATE, RIB]})
    (found,) = answer["result"]["junctions"]
    assert (found["wall"], found["branch"], found["kind"]) == ("plate", "rib", "tee")
    assert found["circle"]["value"] == pytest.approx(18.0)
    assert found["angle"] == {"value": 90.0, "unit": "deg"}
    assert found["most_fillet"]["value"] == pytest.approx(6.0)
    assert not any("/joins/" in default["pointer"] for default in answer["defaults"])
    (check,) = (check for check in answer["checks"] if check["id"] == "junction-hot-spot")
    assert check["subject"] == "/sections/1/joins/0"
    assert check["message"].startswith("Where rib meets plate a circle of 18 mm fits")
    again = ask(client, "/v1/freezing", answer["resolved"])
    assert again["result"] == answer["result"]


def test_a_word_that_no_junction_has_is_refused_with_the_words_there_are(client: FlaskClient) -> None:
    for wrong, place in (
        ({"kind": "knot"}, "kind"),
        ({"angle": "10 deg"}, "angle"),
        ({"angle": 90}, "angle"),
    ):
        rib = {**RIB, "joins": [{"to": "plate", "area": "2160 mm^2", **wrong}]}
        body = {**SAND, "sections": [PLATE, rib]}
        assert faults(client, "/v1/freezing", body) == [f"/sections/1/joins/0/{place}"]


def test_a_hole_cools_here_and_is_cored_in_a_plan_and_both_say_so(client: FlaskClient) -> None:
    tube = {key: value for key, value in BUSH.items() if key != "faces"}
    for path in ("/v1/freezing", "/v1/riser"):
        told = ask(client, path, {**SAND, "sections": [tube]})["defaults"]
        (hole,) = (default for default in told if default["pointer"] == "/sections/0/faces/inside")
        assert hole["value"] == "cooling"
        assert "plan" in hole["note"]
    planned = ask(client, "/v1/plan", {**SAND, "part": {"sections": [tube]}})["defaults"]
    (hole,) = (default for default in planned if default["pointer"] == "/part/sections/0/faces/inside")
    assert hole["value"] == "cored"


def test_a_plan_tells_the_junctions_of_its_part(client: FlaskClient) -> None:
    rib = {**RIB, "joins": [{"to": "plate", "area": "2160 mm^2", "kind": "cross"}]}
    answer = ask(client, "/v1/plan", {**SAND, "part": {"sections": [PLATE, rib]}})
    (found,) = answer["result"]["freezing"]["junctions"]
    assert found["kind"] == "cross"
    pointers = {default["pointer"] for default in answer["defaults"]}
    assert "/part/sections/1/joins/0/fillet" in pointers
    spots = [check for check in answer["checks"] if check["id"] == "junction-hot-spot"]
    assert [(check["subject"], check["verdict"]) for check in spots] == [("/part/sections/1/joins/0", "warn")]
