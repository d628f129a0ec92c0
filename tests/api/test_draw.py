"""Draw over HTTP: the answer's shape, units, what is refused and where it points."""

import hashlib
import io
import time
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh
from flask.testing import FlaskClient

from pourwright_service.api.draw import FAIRLEAD
from pourwright_service.engine.geometry import columns

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"


def stored(client: FlaskClient, body: bytes) -> str:
    name = hashlib.sha256(body).hexdigest()
    assert client.put(f"/v1/meshes/{name}", data=body).status_code in (200, 201)
    return name


def stl(triangles: np.ndarray) -> bytes:
    """Triangles (n, 3, 3) as binary STL."""
    records = np.zeros(len(triangles), [("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("more", "<u2")])
    records["corners"] = triangles
    return b"test".ljust(80) + len(triangles).to_bytes(4, "little") + records.tobytes()


def ask(client: FlaskClient, request: dict[str, Any], query: str = "") -> dict[str, Any]:
    reply = client.post(f"/v1/draw{query}", json=request)
    assert reply.status_code == 200, reply.text
    answer: dict[str, Any] = reply.get_json()
    return answer


def test_the_example_s_mesh_is_the_shipped_one() -> None:
    assert hashlib.sha256((SCENARIO / "fairlead.stl").read_bytes()).hexdigest() == FAIRLEAD


def test_the_fairlead_is_drawn_from_its_flat_back(client: FlaskClient) -> None:
    mesh = {"id": stored(client, (SCENARIO / "fairlead.stl").read_bytes()), "length_unit": "mm"}
    answer = ask(client, {"mesh": mesh})
    assert answer["message"].startswith("Draw it along z, parting at its foot: nothing hinders.")
    best = answer["result"]["best"]
    assert (best["along"], best["direction"]) == ("z", [0.0, 0.0, 1.0])
    assert best["parting_height"] == {"value": 0.0, "unit": "mm"}
    assert answer["result"]["volume"]["value"] == pytest.approx(246.858, rel=1e-5)
    assert answer["result"]["undercuts"] == []
    lying = ask(client, {"mesh": {**mesh, "up": "+x"}})
    assert lying["verdict"] == "fail"
    assert "Drawn along z nothing is shut in: turn it." in lying["message"]
    (place,) = lying["result"]["undercuts"]
    assert place["centre"][2]["unit"] == "mm"
    inches = ask(client, {"mesh": {**mesh, "up": "+x"}}, "?units=us")["result"]["undercuts"][0]
    assert inches["centre"][2]["value"] * 25.4 == pytest.approx(place["centre"][2]["value"])
    assert inches["volume"]["value"] * 16.387064 == pytest.approx(place["volume"]["value"])


def test_the_file_s_unit_and_a_pattern_s_scale_the_answer(client: FlaskClient) -> None:
    name = stored(client, stl(trimesh.creation.torus(40, 12).triangles))
    found = {
        unit: ask(client, {"mesh": {"id": name, "length_unit": unit, "up": "+x"}})["result"]["judged"]
        for unit in ("mm", "cm", "in")
    }
    for unit, factor in (("cm", 10.0), ("in", 25.4)):
        assert found[unit]["trapped"]["value"] == pytest.approx(found["mm"]["trapped"]["value"] * factor**3)
        assert found[unit]["height"]["value"] == pytest.approx(found["mm"]["height"]["value"] * factor)


REFUSED: dict[str, tuple[dict[str, Any], str, str]] = {
    "both up and direction": ({"direction": [0, 0, 1]}, "/direction", "inconsistent"),
    "no direction": ({"direction": [0, 0, 0], "mesh": {}}, "/direction", "out_of_bounds"),
    "two numbers": ({"direction": [0, 1], "mesh": {}}, "/direction", "not_an_array"),
    "words": ({"direction": ["0", "0", "1"], "mesh": {}}, "/direction", "not_an_array"),
    "flags": ({"direction": [True, False, False], "mesh": {}}, "/direction", "not_an_array"),
    "an object": ({"direction": {"z": 1}, "mesh": {}}, "/direction", "not_an_array"),
    "an immense direction": ({"direction": [1e300, 0, 0], "mesh": {}}, "/direction", "out_of_bounds"),
    "a parting of no direction": (
        {"parting_height": "3 mm", "mesh": {}},
        "/parting_height",
        "inconsistent",
    ),
    "a parting in the air": ({"parting_height": "2 m"}, "/parting_height", "out_of_range"),
    "a parting below": ({"parting_height": "-1 mm"}, "/parting_height", "out_of_bounds"),
    "too fine a grid": ({"columns": 5000}, "/columns", "out_of_bounds"),
    "no draft": ({"draft_degrees": 0}, "/draft_degrees", "out_of_bounds"),
    "draft in words": ({"draft_degrees": "1 degree"}, "/draft_degrees", "not_a_number"),
    "another up": ({"mesh": {"up": "z"}}, "/mesh/up", "not_a_choice"),
    "an unknown field": ({"parting": 3}, "/parting", "unknown_field"),
}


@pytest.mark.parametrize(("more", "pointer", "code"), REFUSED.values(), ids=REFUSED)
def test_what_is_refused_says_where(
    client: FlaskClient, more: dict[str, Any], pointer: str, code: str
) -> None:
    name = stored(client, stl(trimesh.creation.box((30, 20, 10)).triangles))
    mesh: dict[str, Any] = {"id": name, "length_unit": "mm"}
    mesh |= more.get("mesh", {"up": "+z"})
    reply = client.post("/v1/draw", json={**more, "mesh": mesh})
    assert reply.status_code == 422
    assert reply.content_type == "application/problem+json"
    assert [(fault["pointer"], fault["code"]) for fault in reply.get_json()["errors"]] == [(pointer, code)]


def test_a_mesh_that_is_not_there_is_asked_for(client: FlaskClient) -> None:
    reply = client.post("/v1/draw", json={"mesh": {"id": "0" * 64, "length_unit": "mm"}})
    assert (reply.status_code, reply.get_json()["errors"][0]["pointer"]) == (404, "/mesh/id")


def test_a_tangled_mesh_is_a_problem(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    name = stored(client, stl(trimesh.creation.box((30, 20, 10)).triangles))
    monkeypatch.setattr(columns, "MOST_CROSSINGS", 100)
    reply = client.post("/v1/draw", json={"mesh": {"id": name, "length_unit": "mm"}})
    assert reply.status_code == 422
    assert reply.get_json()["errors"] == [
        {
            "pointer": "/mesh/id",
            "code": "mesh_tangled",
            "detail": "too many triangles of this mesh lie over one another to look through it",
        }
    ]


def slabs(count: int) -> np.ndarray:
    """So many flat boxes, all in the same place but for a hair."""
    box = trimesh.creation.box((100, 100, 50)).triangles
    return np.concatenate([box + np.array([0.0, 0.0, 1e-3 * n]) for n in range(count)])


def splinters(count: int) -> np.ndarray:
    """So many thin blades along the diagonal."""
    turn = trimesh.transformations.rotation_matrix(np.pi / 4, (0, 0, 1))
    blade = trimesh.creation.box((140, 0.01, 0.01)).apply_transform(turn).triangles
    return np.concatenate([blade + np.array([0.01 * n, 0.0, 0.02 * (n % 50)]) for n in range(count)])


HOSTILE = {
    "slabs upon slabs": slabs(4000),
    "splinters": splinters(4000),
    "an open shell": trimesh.creation.icosphere(subdivisions=3, radius=20).triangles[::2],
    "a needle": trimesh.creation.box((1e-3, 1e-3, 1e3)).triangles,
    "far away": trimesh.creation.box((30, 20, 10)).triangles + 1e5,
    "inside out in part": np.concatenate(
        (trimesh.creation.box((30, 20, 10)).triangles, trimesh.creation.box((3, 3, 30)).triangles[:, ::-1])
    ),
}


@pytest.mark.parametrize("triangles", HOSTILE.values(), ids=HOSTILE)
def test_meshes_that_nobody_should_send_are_answered_or_refused(
    client: FlaskClient, triangles: np.ndarray
) -> None:
    body = io.BytesIO(stl(triangles)).read()
    name = hashlib.sha256(body).hexdigest()
    if client.put(f"/v1/meshes/{name}", data=body).status_code != 201:
        pytest.fail("the mesh is meant to be stored")
    began = time.perf_counter()
    reply = client.post("/v1/draw", json={"mesh": {"id": name, "length_unit": "mm"}})
    assert time.perf_counter() - began < 20.0, "a limit holds it"
    assert reply.status_code in (200, 422)
    if reply.status_code == 200:
        answer = reply.get_json()
        assert all(way["undercut"]["value"] >= 0.0 for way in answer["result"]["directions"])
    else:
        assert reply.get_json()["errors"][0]["code"] in ("mesh_tangled", "mesh_no_volume")
