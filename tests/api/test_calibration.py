"""POST /v1/calibration over HTTP: what it gives goes into later requests; what does not fit is refused."""

from typing import Any

import pytest
from flask.testing import FlaskClient

CUBE = {"name": "cube", "shape": "bar", "length": "50 mm", "width": "50 mm", "height": "50 mm"}
TRIAL = {"section": CUBE, "freezing_time": "155 s"}
RISER = {"diameter": "60 mm", "height": "60 mm", "piped_volume": "27 cm^3"}
ITEM = {"name": "ingot", "mass": "5 kg", "alloy": "C87300"}
HEAT = {"items": [ITEM], "poured": "4.9 kg", "analysis_percent": {"Si": 3.7, "Mn": 0.9}}
LENGTH = {"pattern": "204 mm", "casting": "199.9 mm"}

PLATE = {"name": "plate", "shape": "plate", "length": "200 mm", "width": "120 mm", "thickness": "15 mm"}
BRONZE = {"alloy": "C87300", "mould": {"medium": "oil-bonded sand"}}
STOCK = {"stock": [{"name": "ingot", "alloy": "C87300", "available": "9 kg"}]}
LATER: dict[str, dict[str, Any]] = {
    "freezing": {**BRONZE, "sections": [PLATE]},
    "riser": {**BRONZE, "sections": [PLATE]},
    "pour-time": {**BRONZE, "poured_mass": "3 kg", "thickness": "15 mm"},
    "plan": {**BRONZE, "part": {"sections": [PLATE]}},
    "charge": {"alloy": "C87300", "melt_mass": "4 kg", **STOCK},
    "charge/makes": STOCK,
}


def ask(client: FlaskClient, path: str, body: Any) -> dict[str, Any]:
    reply = client.post(f"/v1/{path}", json=body)
    assert reply.status_code == 200, reply.get_json()
    answer: dict[str, Any] = reply.get_json()
    return answer


def merged(target: dict[str, Any], patch: dict[str, Any]) -> dict[str, Any]:
    """JSON Merge Patch, RFC 7396, section 2."""
    made = dict(target)
    for name, value in patch.items():
        if value is None:
            made.pop(name, None)
        elif isinstance(value, dict):
            inner = made.get(name)
            made[name] = merged(inner if isinstance(inner, dict) else {}, value)
        else:
            made[name] = value
    return made


def leaves(patch: dict[str, Any], pointer: str = "") -> list[str]:
    """Pointers of the quantities and ranges in a patch."""
    if "unit" in patch:
        return [pointer]
    found = []
    for name, value in patch.items():
        where = f"{pointer}/{name}"
        found += leaves(value, where) if isinstance(value, dict) else [where]
    return found


@pytest.fixture
def calibrated(client: FlaskClient) -> dict[str, Any]:
    everything = {"trials": [TRIAL], "risers": [RISER], "heats": [HEAT], "lengths": [LENGTH]}
    return ask(client, "calibration", {**BRONZE, **everything})


@pytest.mark.parametrize("units", ["metric", "us"])
def test_every_call_takes_what_is_for_it(client: FlaskClient, units: str) -> None:
    everything = {"trials": [TRIAL], "risers": [RISER], "heats": [HEAT], "lengths": [LENGTH]}
    answer = ask(client, f"calibration?units={units}", {**BRONZE, **everything})
    named = set()
    for use in answer["result"]["use"]:
        for call in use["calls"]:
            after = ask(client, call, merged(LATER[call], use["merge"]))
            chosen = {default["pointer"] for default in after["defaults"]}
            assert not chosen & set(leaves(use["merge"])), call
            named.add(call)
    assert named == set(LATER)


def test_what_is_merged_is_what_is_used(client: FlaskClient, calibrated: dict[str, Any]) -> None:
    result = calibrated["result"]
    plan = LATER["plan"]
    for use in result["use"]:
        if "plan" in use["calls"]:
            plan = merged(plan, use["merge"])
    freezing = LATER["freezing"]
    for use in result["use"]:
        if "freezing" in use["calls"]:
            freezing = merged(freezing, use["merge"])
    told = ask(client, "freezing", freezing)["result"]
    assert told["mould_constant_from"] == "given"
    assert told["mould_constant"]["value"] == pytest.approx(result["mould_constant"]["value"]["value"])
    resolved = ask(client, "plan", plan)["resolved"]
    assert resolved["riser"]["feeding_efficiency"] == result["feeding_efficiency"]["value"]
    assert resolved["properties"]["contraction"] == result["contraction"]["value"]


def test_every_default_can_be_said_otherwise(client: FlaskClient, calibrated: dict[str, Any]) -> None:
    again = ask(client, "calibration", calibrated["resolved"])
    assert again["defaults"] == []
    assert again["result"] == calibrated["result"]


def test_a_better_clock_narrows_the_answer(client: FlaskClient) -> None:
    def width(spread: str) -> float:
        told = ask(client, "calibration", {"trials": [{**TRIAL, "time_spread": spread}]})
        return float(told["result"]["mould_constant"]["spread"]["value"])

    widths = [width(spread) for spread in ("1 %", "5 %", "20 %", "100 %")]
    assert widths == sorted(widths)


def test_the_answer_is_the_expectation_of_the_next(client: FlaskClient) -> None:
    """Two trials together, or one after the other with the first's answer as what is expected."""
    other = {"modulus": "9 mm", "freezing_time": "190 s"}
    both = ask(client, "calibration", {"trials": [TRIAL, other]})["result"]["mould_constant"]
    first = ask(client, "calibration", {"trials": [TRIAL]})["result"]["mould_constant"]
    second = ask(
        client,
        "calibration",
        {
            "trials": [other],
            "mould_constant": first["value"],
            "spreads": {"mould_constant": first["spread"]},
        },
    )["result"]["mould_constant"]
    for name in ("value", "low", "high", "spread"):
        assert second[name]["value"] == pytest.approx(both[name]["value"], rel=1e-9)


HOSTILE = [
    ({"trials": [{"freezing_time": "155 s"}]}, "/trials/0/section", "inconsistent"),
    ({"trials": [{**TRIAL, "modulus": "8 mm"}]}, "/trials/0/modulus", "inconsistent"),
    ({"trials": [{**TRIAL, "freezing_time": "0 s"}]}, "/trials/0/freezing_time", "out_of_bounds"),
    ({"trials": [{**TRIAL, "time_spread": 0}]}, "/trials/0/time_spread", "out_of_bounds"),
    ({"trials": [TRIAL] * 201}, "/trials", "too_many_items"),
    (
        {"trials": [{**TRIAL, "section": {**CUBE, "faces": {"top": "joined", "bottom": "melted"}}}]},
        "/trials/0/section/faces/bottom",
        "not_a_choice",
    ),
    ({"risers": [{"diameter": "60 mm", "piped_volume": "1 cm^3"}]}, "/risers/0/height", "inconsistent"),
    ({"risers": [{"volume": "1 L", "pipe_depth": "1 cm"}]}, "/risers/0/pipe_diameter", "inconsistent"),
    ({"risers": [{**RISER, "pipe_depth": "3 mm"}]}, "/risers/0/pipe_depth", "inconsistent"),
    ({"heats": [{"items": [ITEM]}]}, "/heats/0/poured", "missing_field"),
    ({"heats": [{"items": [], "poured": "1 kg"}]}, "/heats/0/items", "too_few_items"),
    (
        {"heats": [{**HEAT, "items": [{"name": "x", "mass": "1 kg"}]}]},
        "/heats/0/items/0/composition_percent",
        "missing_field",
    ),
    (
        {"heats": [{**HEAT, "analysis_percent": {"Si": 120}}]},
        "/heats/0/analysis_percent/Si",
        "out_of_bounds",
    ),
    ({"lengths": [{"pattern": "200 mm", "casting": "20 mm"}]}, "/lengths/0/casting", "inconsistent"),
    ({"scatter": {"recoveries": "2 %"}}, "/scatter/recoveries", "unknown_field"),
]


@pytest.mark.parametrize(("body", "pointer", "code"), HOSTILE)
def test_a_clear_refusal(client: FlaskClient, body: Any, pointer: str, code: str) -> None:
    reply = client.post("/v1/calibration", json=body)
    assert reply.status_code == 422
    assert (pointer, code) in [(fault["pointer"], fault["code"]) for fault in reply.get_json()["errors"]]


def test_a_trial_that_no_face_cools_is_refused_where_it_stands(client: FlaskClient) -> None:
    faces = dict.fromkeys(("top", "bottom", "sides", "ends"), "insulated")
    body = {"trials": [TRIAL, {**TRIAL, "section": {**CUBE, "faces": faces}}]}
    reply = client.post("/v1/calibration", json=body)
    assert reply.status_code == 422
    assert all(fault["pointer"].startswith("/trials/1/section") for fault in reply.get_json()["errors"])


EXTREME = [
    {
        "trials": [
            {"modulus": "1e-9 mm", "freezing_time": "1e20 s"},
            {"modulus": "1e9 m", "freezing_time": "1 s"},
        ]
    },
    {"trials": [{**TRIAL, "time_spread": 10, "modulus_spread": 10}], "scatter": {"mould_constant": 10}},
    {"trials": [{**TRIAL, "time_spread": 1e-6, "modulus_spread": 1e-6}], "scatter": {"mould_constant": 1e-6}},
    {"risers": [{"volume": "1 mm^3", "piped_volume": "1e6 m^3"}]},
    {"heats": [{"items": [ITEM], "pig": "1e9 kg", "analysis_percent": {"Si": 100, "Fe": 0}}]},
    {"heats": [{"items": [ITEM], "poured": "1e-9 kg", "analysis_percent": {"Si": 1e-9}}]},
    {"lengths": [{"pattern": "1 mm", "casting": "1.9 mm", "length_spread": "1 m"}]},
    {"heats": [HEAT], "recovery_percent": 100},
    {"trials": [TRIAL], "alloy": "grey iron"},
    {"trials": [TRIAL], "alloy": "A356", "mould": {"medium": "iron chill"}},
    {},
]


@pytest.mark.parametrize("body", EXTREME)
def test_strange_figures_are_answered_or_refused_never_a_fault(client: FlaskClient, body: Any) -> None:
    reply = client.post("/v1/calibration?working=true", json=body)
    assert reply.status_code in (200, 422), reply.get_json()


def test_two_hundred_of_each_are_quick(client: FlaskClient) -> None:
    import time

    many = {
        "trials": [TRIAL] * 200,
        "risers": [RISER] * 200,
        "lengths": [LENGTH] * 200,
        "heats": [HEAT] * 200,
    }
    began = time.perf_counter()
    ask(client, "calibration", {**BRONZE, **many})
    assert time.perf_counter() - began < 10.0
