"""The plan over HTTP: units, the resolved request, meshes, and requests that nobody would send."""

import hashlib
import json
import math
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from pourwright.patch import patched
from pourwright_service.api.registry import REGISTRY
from tests.api.plan_requests import Requests, is_place

ROOT = Path(__file__).parents[2]
PLATE = {"name": "plate", "shape": "plate", "length": "200 mm", "width": "120 mm", "thickness": "15 mm"}
BLOCK = {
    "name": "block",
    "shape": "bar",
    "length": "60 mm",
    "width": "50 mm",
    "height": "80 mm",
    "bores": [{"diameter": "30 mm"}],
}
STOCK = [
    {"name": "copper", "composition_percent": {"Cu": 99.9}, "piece": "12 g", "pieces": 400, "price": "6 /kg"},
    {"name": "brass", "composition_percent": {"Cu": 70, "Zn": 30}, "piece": "6.5 g", "price": "4 /kg"},
]
JOB = {
    "alloy": "C21000",
    "mould": {"medium": "oil-bonded sand"},
    "part": {"sections": [BLOCK]},
    "gating": {"gate_position": "bottom"},
    "stock": STOCK,
    "shop": {"crucibles": [{"name": "pot", "brim_volume": "1 L"}], "fuel": "propane"},
}


def ask(client: FlaskClient, request: dict[str, Any], query: str = "") -> dict[str, Any]:
    response = client.post(f"/v1/plan{query}", json=request)
    assert response.status_code == 200, response.get_json()
    answer: dict[str, Any] = response.get_json()
    return answer


def errors(client: FlaskClient, request: dict[str, Any]) -> list[tuple[str, str]]:
    response = client.post("/v1/plan", json=request)
    assert response.status_code == 422, response.get_json()
    return [(error["pointer"], error["code"]) for error in response.get_json()["errors"]]


def numbers(found: Any, path: str = "") -> dict[str, float]:
    """Every number of an answer by its place."""
    if isinstance(found, dict):
        inner = [numbers(value, f"{path}/{name}") for name, value in found.items()]
        return {place: value for part in inner for place, value in part.items()}
    if isinstance(found, list):
        inner = [numbers(value, f"{path}/{index}") for index, value in enumerate(found)]
        return {place: value for part in inner for place, value in part.items()}
    if isinstance(found, bool) or not isinstance(found, int | float):
        return {}
    return {path: float(found)}


def same(first: dict[str, Any], second: dict[str, Any]) -> None:
    """The same answer, to the last digits."""
    assert second["verdict"] == first["verdict"]
    assert second["message"] == first["message"]
    told = [[(check["id"], check["verdict"]) for check in answer["checks"]] for answer in (first, second)]
    assert told[1] == told[0]
    ours, theirs = numbers(first["result"]), numbers(second["result"])
    assert theirs.keys() == ours.keys()
    for place, value in ours.items():
        assert theirs[place] == pytest.approx(value, rel=1e-9, abs=1e-15), place


# --- units and the resolved request ---------------------------------------------------------------


def test_inches_and_millimetres_decide_the_same(client: FlaskClient) -> None:
    def part(unit: str, factor: float) -> dict[str, Any]:
        sizes = {name: f"{value * factor!r} {unit}" for name, value in INCHES.items()}
        bore = {"diameter": f"{1.25 * factor!r} {unit}"}
        return {**JOB, "part": {"sections": [{**BLOCK, **sizes, "bores": [bore]}]}}

    same(ask(client, part("mm", 25.4)), ask(client, part("in", 1.0)))


INCHES = {"length": 2.5, "width": 2.0, "height": 3.0}


def test_the_system_of_units_changes_no_decision(client: FlaskClient) -> None:
    metric, us = ask(client, JOB), ask(client, JOB, "?units=us")
    assert us["verdict"] == metric["verdict"]
    sprue = us["result"]["gating"]["sprue"]["exit_size"]
    assert sprue["unit"] == "in"
    assert sprue["value"] * 25.4 == pytest.approx(metric["result"]["gating"]["sprue"]["exit_size"]["value"])
    assert " lb" in us["message"]


EXAMPLES = REGISTRY.endpoints["plan"].examples


@pytest.mark.parametrize("request_", [JOB, *EXAMPLES.values()], ids=["block", *EXAMPLES])
def test_the_resolved_request_gives_the_same_answer(client: FlaskClient, request_: dict[str, Any]) -> None:
    answer = ask(client, request_)
    assert answer["defaults"]
    again = ask(client, answer["resolved"])
    same(answer, again)
    assert again["defaults"] == []


def test_a_working_is_told_for_the_whole_plan(client: FlaskClient) -> None:
    lines = ask(client, JOB, "?working=true")["working"]
    used = {line["formula"] for line in lines}
    assert {"mould.core_net_lift", "bores.bored_volume", "pattern.pattern_scale"} <= used


# --- meshes ---------------------------------------------------------------------------------------


def test_the_shipped_fairlead_and_its_sections_agree(client: FlaskClient) -> None:
    """The scenario's own job, mesh and sections together."""
    job = json.loads((ROOT / "deploy/scenario/fairlead_plan.json").read_text(encoding="utf-8"))
    told = json.loads((ROOT / "deploy/scenario/meshes.json").read_text(encoding="utf-8"))
    mesh = job["part"]["mesh"]
    name = mesh.pop("file")
    data = (ROOT / "deploy/scenario" / name).read_bytes()
    mesh["id"] = hashlib.sha256(data).hexdigest()
    assert client.put(f"/v1/meshes/{mesh['id']}", data=data).status_code in (200, 201)
    answer = ask(client, job)
    assert answer["verdict"] in ("pass", "warn")
    assert answer["missing"] == []
    volume = answer["result"]["part"]["volume"]
    assert volume["unit"] == "cm^3"
    assert volume["value"] == pytest.approx(told[name]["volume"] / 1000.0)
    assert answer["result"]["part"]["height"]["value"] == pytest.approx(72.0)
    assert (answer["checks"][0]["id"], answer["checks"][0]["verdict"]) == ("can-be-drawn", "pass")
    mesh["up"] = "+x"
    lying = ask(client, job)
    assert (lying["checks"][0]["subject"], lying["checks"][0]["verdict"]) == ("/part/mesh/up", "fail")
    assert lying["message"] == lying["checks"][0]["message"]
    (turn,) = (one for one in lying["remedies"] if one["mends"][0]["check"] == "can-be-drawn")
    assert turn["patch"] == [{"op": "add", "path": "/part/mesh/up", "value": "+z"}]
    assert ask(client, patched(job, turn["patch"]))["checks"][0]["verdict"] == "pass"


def test_a_mesh_that_is_not_there_is_asked_for(client: FlaskClient) -> None:
    request = {"part": {"mesh": {"id": "0" * 64, "length_unit": "mm"}}, "alloy": "A356"}
    response = client.post("/v1/plan", json=request)
    assert response.status_code == 404
    assert response.get_json()["errors"][0]["pointer"] == "/part/mesh/id"


# --- what is refused, and where it points -----------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "pointer", "code"),
    [
        ({"bores": [{"diameter": "60 mm"}]}, "/part/sections/0/bores/0/diameter", "inconsistent"),
        ({"bores": [{"diameter": "3 mm", "axis": "round"}]}, "/part/sections/0/bores/0/axis", "not_a_choice"),
        ({"bores": [{"diameter": 30}]}, "/part/sections/0/bores/0/diameter", "no_unit"),
        ({"bores": [{}]}, "/part/sections/0/bores/0/diameter", "missing_field"),
        ({"faces": {"top": "hot"}}, "/part/sections/0/faces/top", "not_a_choice"),
        ({"joins": [{"to": "x", "area": "1 cm^2"}]}, "/part/sections/0/joins/0/to", "not_a_choice"),
    ],
)
def test_a_fault_of_a_section_is_shown_in_the_plans_request(
    client: FlaskClient, change: dict[str, Any], pointer: str, code: str
) -> None:
    assert (pointer, code) in errors(client, {**JOB, "part": {"sections": [{**BLOCK, **change}]}})


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"riser": {"section": "nowhere"}}, "/riser/section"),
        ({"riser": {"height": "50 mm"}}, "/riser/height"),
        ({"riser": {"position": "under"}}, "/riser/position"),
        ({"gating": {"choke_area": "1 cm^2", "choke_diameter": "11 mm"}}, "/gating/choke_diameter"),
        (
            {
                "gating": {"gate_position": "bottom", "sprue_height": "20 mm", "basin_depth": "0 mm"},
                "part": {"sections": [BLOCK], "height_in_cope": "0 mm"},
            },
            "/gating/sprue_height",
        ),
        ({"pouring_temperature": "3000 degC"}, "/pouring_temperature"),
        ({"part": {"sections": [BLOCK], "wall": "0 mm"}}, "/part/wall"),
        ({"shop": {"flasks": [{"length": "1 m", "width": "1 m"}]}}, "/shop/flasks/0/heights"),
    ],
)
def test_a_wish_that_cannot_be_points_at_itself(
    client: FlaskClient, change: dict[str, Any], pointer: str
) -> None:
    assert pointer in [place for place, _ in errors(client, {**JOB, **change})]


def test_an_upright_bore_has_many_names(client: FlaskClient) -> None:
    def lift(bore: dict[str, Any]) -> Any:
        answer = ask(client, {**JOB, "part": {"sections": [{**BLOCK, "bores": [bore]}]}})
        return answer["result"]["mould"]["cores"]

    upright = lift({"diameter": "30 mm"})
    assert lift({"diameter": "30 mm", "axis": "upright"}) == upright
    assert lift({"diameter": "30 mm", "axis": "height", "cored": True, "count": 1}) == upright
    assert lift({"diameter": "30 mm", "cored": False}) == []
    assert lift({"diameter": "30 mm", "axis": "width"})[0]["counted"] is True


# --- requests that nobody would send ------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(8))
def test_any_request_that_the_schema_takes_is_answered_or_refused_at_a_field(
    client: FlaskClient, seed: int
) -> None:
    schema = REGISTRY.endpoints["plan"].request
    requests = Requests(seed)
    answered = 0
    for _ in range(30):
        request = requests.plan()
        response = client.post("/v1/plan", json=request)
        found = response.get_json()
        assert response.status_code in (200, 422), request
        if response.status_code == 422:
            for error in found["errors"]:
                assert error["pointer"], (error, request)
                assert is_place(schema, error["pointer"], request), (error, request)
            continue
        answered += 1
        assert all(math.isfinite(value) for value in numbers(found).values()), request
        assert found["missing"] or found["verdict"] != "unknown"
        places = [one["pointer"] for one in (*found["missing"], *found["defaults"])]
        places += [caution["subject"] for caution in found["cautions"]]
        for place in places:
            assert is_place(schema, place, request), (place, request)
        for check in found["checks"]:
            assert is_place(schema, check["subject"], found["resolved"]), (check, request)
        masses = numbers(found["result"].get("masses") or {})
        if "/poured/value" in masses:
            assert masses["/poured/value"] > 0.0
        if not (found["result"].get("charge") or {}).get("purchase"):
            same(found, ask(client, found["resolved"]))
    assert answered > 5
