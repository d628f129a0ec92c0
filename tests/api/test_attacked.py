"""What an attacker of the running service found: no fault of ours, and nothing absurd that passes."""

import hashlib
from collections.abc import Sequence
from io import BytesIO
from typing import Any

import pytest
import trimesh
from flask.testing import FlaskClient

SAND = {"alloy": "C87300", "mould": {"medium": "green sand"}}
PLATE = {"name": "p", "shape": "plate", "length": "200 mm", "width": "120 mm", "thickness": "15 mm"}


def stored(client: FlaskClient, *boxes: tuple[Sequence[float], Sequence[float]]) -> str:
    """The id of a stored mesh of boxes, each by its sides and its middle (mm)."""
    parts = [
        trimesh.creation.box(sides, trimesh.transformations.translation_matrix(at)) for sides, at in boxes
    ]
    data = trimesh.util.concatenate(parts).export(file_type="stl")
    name = hashlib.sha256(data).hexdigest()
    assert client.put(f"/v1/meshes/{name}", data=data).status_code in (200, 201)
    return name


def mesh(name: str, unit: str = "mm") -> dict[str, Any]:
    return {"id": name, "length_unit": unit, "up": "+z"}


ORIGIN = (0.0, 0.0, 0.0)
FAR = [
    pytest.param([((3000.0, 10.0, 10.0), ORIGIN)], id="a bar of three metres"),
    pytest.param(
        [((60.0, 40.0, 20.0), ORIGIN), ((5.0, 5.0, 5.0), (1e4, 0.0, 0.0))], id="bodies ten metres apart"
    ),
]


@pytest.mark.parametrize("boxes", FAR)
def test_a_part_too_far_stretched_for_the_map_says_so(client: FlaskClient, boxes: Any) -> None:
    name = stored(client, *boxes)
    map_ = client.post("/v1/freeze-maps", json={**SAND, "mesh": mesh(name)})
    assert (map_.status_code, map_.get_json()["verdict"]) == (200, "unknown")
    plan = client.post("/v1/plan", json={**SAND, "part": {"mesh": mesh(name)}})
    assert plan.status_code == 200
    assert plan.get_json()["verdict"] in ("unknown", "fail")


def test_a_body_that_is_in_the_file_twice_is_said(client: FlaskClient) -> None:
    once = ((60.0, 40.0, 20.0), ORIGIN)
    answer = client.post(
        "/v1/freeze-maps", json={**SAND, "mesh": mesh(stored(client, once, once))}
    ).get_json()
    assert answer["verdict"] == "fail"
    assert "twice" in answer["message"]
    sound = client.post("/v1/freeze-maps", json={**SAND, "mesh": mesh(stored(client, once))}).get_json()
    assert {check["id"]: check["verdict"] for check in sound["checks"]}["mesh-sound"] == "pass"


def test_a_mesh_in_the_wrong_unit_is_refused(client: FlaskClient) -> None:
    name = stored(client, ((300.0, 40.0, 20.0), ORIGIN))
    reply = client.post("/v1/plan", json={**SAND, "part": {"mesh": mesh(name, "m")}})
    assert reply.status_code == 422
    assert reply.get_json()["errors"][0]["pointer"] == "/part/mesh/length_unit"


REFUSED: list[tuple[str, dict[str, Any], str]] = [
    (
        "melt",
        {"alloy": "C87300", "melt_mass": "4 kg", "pouring_temperature": "20 degC"},
        "/pouring_temperature",
    ),
    (
        "melt",
        {"alloy": "C87300", "melt_mass": "4 kg", "pouring_temperature": "900 degC"},
        "/pouring_temperature",
    ),
    ("melt", {"alloy": "A356", "melt_mass": "5 kg", "start_temperature": "600 degC"}, "/start_temperature"),
    ("melt", {"alloy": "A356", "melt_mass": "5 kg", "start_temperature": "1e9 degC"}, "/start_temperature"),
    (
        "freezing",
        {**SAND, "sections": [PLATE], "properties": {"liquidus": "500 degC", "solidus": "900 degC"}},
        "/properties/solidus",
    ),
    (
        "freezing",
        {**SAND, "sections": [PLATE], "properties": {"density": "1e9 kg/m^3"}},
        "/properties/density",
    ),
    (
        "riser",
        {**SAND, "sections": [PLATE], "properties": {"latent_heat": "1e-9 J/kg"}},
        "/properties/latent_heat",
    ),
    (
        "plan",
        {**SAND, "part": {"sections": [PLATE]}, "properties": {"surface_tension": "1e9 N/m"}},
        "/properties/surface_tension",
    ),
    ("pattern", {"alloy": "A356", "length": "1e9 mm", "width": "1 mm", "height": "1 mm"}, "/length"),
    ("freezing", {**SAND, "sections": [{**PLATE, "name": "x\u202ey"}]}, "/sections/0/name"),
]


@pytest.mark.parametrize(("path", "request_", "pointer"), REFUSED, ids=[f"{r[0]}{r[2]}" for r in REFUSED])
def test_what_no_foundry_has_is_refused_where_it_stands(
    client: FlaskClient, path: str, request_: dict[str, Any], pointer: str
) -> None:
    reply = client.post(f"/v1/{path}", json=request_)
    assert reply.status_code == 422
    assert pointer in {fault["pointer"] for fault in reply.get_json()["errors"]}


def test_a_pot_that_waits_too_long_fails(client: FlaskClient) -> None:
    """A pot left for ten minutes passed once, for no tapping heat was found and none was asked for."""
    request = {**SAND, "poured_mass": "3.8 kg", "thickness": "12 mm"}
    verdicts = {}
    for delay in ("5 s", "600 s", "24 h"):
        pot = {"mouth_diameter": "120 mm", "metal_mass": "4.2 kg", "delay": delay}
        answer = client.post("/v1/pour-time", json={**request, "pot": pot}).get_json()
        verdicts[delay] = {c["id"]: c["verdict"] for c in answer["checks"]}["pot-waits-too-long"]
    assert verdicts == {"5 s": "pass", "600 s": "fail", "24 h": "fail"}


def test_an_analysis_that_names_nothing_is_none(client: FlaskClient) -> None:
    stock = [{"name": "a", "composition_percent": {}}]
    request = {"limits_percent": {"Pb": [0, 1]}, "melt_mass": "1 kg", "stock": stock}
    reply = client.post("/v1/charge", json=request)
    assert reply.status_code == 422 or reply.get_json()["verdict"] in ("fail", "unknown")


def test_castings_without_metal_are_no_division(client: FlaskClient) -> None:
    castings = [
        {"name": "a", "height": "20 mm", "volume": "1e-12 m^3", "above_gate": "100 m"},
        {"name": "b", "height": "20 mm", "volume": "10 cm^3", "above_gate": "1 m"},
    ]
    request = {"alloy": "A356", "pour_time": "4 s", "sprue_height": "150 mm", "castings": castings}
    assert client.post("/v1/gating", json=request).status_code in (200, 422)


def test_many_joins_and_many_faults_are_bounded(client: FlaskClient) -> None:
    pins = [
        {
            "name": f"c{i}",
            "shape": "cylinder",
            "diameter": "25 mm",
            "height": "30 mm",
            "joins": [{"to": f"c{k}", "area": "0.01 cm^2"} for k in range(max(0, i - 50), i)],
        }
        for i in range(100)
    ]
    reply = client.post("/v1/freezing?remedies=all", json={**SAND, "sections": pins})
    assert reply.status_code == 422
    assert "joins" in reply.get_json()["detail"]
    faulty = client.post("/v1/freezing", json={f"k{i}": 1 for i in range(20_000)})
    assert faulty.status_code == 422
    assert len(faulty.data) < 200_000
    assert len(faulty.get_json()["errors"]) == 200


def test_a_broken_body_is_the_callers_fault(client: FlaskClient) -> None:
    class Broken(BytesIO):
        def read(self, size: int | None = -1) -> bytes:
            raise OSError(f"invalid chunk size, {size} wanted")

    reply = client.post(
        "/v1/freezing", input_stream=Broken(), content_type="application/json", content_length=9
    )
    assert reply.status_code == 400
