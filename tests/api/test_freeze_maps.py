"""Freeze maps over HTTP: the invented fairlead with two risers, pictures, limits, unfit meshes."""

import base64
import hashlib
import io
from typing import Any

import numpy as np
import pytest
import trimesh
from flask.testing import FlaskClient
from PIL import Image

from pourwright_service.engine.decide.freeze_maps import MOST_CELLS
from pourwright_service.engine.geometry.stl import written

from .test_plan_map import SCENARIO, stored

Json = dict[str, Any]


def request(client: FlaskClient, **more: Any) -> Json:
    name = stored(client, (SCENARIO / "fairlead.stl").read_bytes())
    return {
        "mesh": {"id": name, "length_unit": "mm", "up": "-z"},
        "alloy": "C87300",
        "mould": {"medium": "oil-bonded sand"},
        **more,
    }


def ask(client: FlaskClient, sent: Json) -> Json:
    response = client.post("/v1/freeze-maps?remedies=none", json=sent)
    assert response.status_code == 200, response.get_json()
    answer: Json = response.get_json()
    return answer


@pytest.mark.parametrize(("size", "verdict"), [("56 mm", "pass"), ("32 mm", "fail")])
def test_a_riser_outlasts_the_fairlead_or_not(client: FlaskClient, size: str, verdict: str) -> None:
    answer = ask(client, request(client, riser={"diameter": size, "height": size}))
    (judged,) = [one for one in answer["checks"] if one["id"] == "riser-last-on-map"]
    assert judged["verdict"] == verdict
    found = answer["result"]["map"]
    assert (found["riser_end"]["value"] > found["casting_end"]["value"]) == (verdict == "pass")
    assert found["imbalance"] == pytest.approx(0.0, abs=2e-4)


def test_slices_are_pictures_of_the_casting(client: FlaskClient) -> None:
    answer = ask(client, request(client, slices=True, riser={"diameter": "56 mm", "height": "56 mm"}))
    slices = answer["result"]["slices"]
    assert [one["across"] for one in slices] == ["x", "y", "z"]
    for one in slices:
        picture = Image.open(io.BytesIO(base64.b64decode(one["png"])))
        assert picture.format == "PNG"
        assert max(picture.size) >= 240
        points = np.asarray(picture).reshape(-1, 3)
        sand = np.all(points == (225, 225, 225), axis=1)
        assert 0.05 < sand.mean() < 0.95
    assert not ask(client, request(client))["result"]["slices"]


def test_finer_cells_tell_the_same_place(client: FlaskClient) -> None:
    coarse, fine = (ask(client, request(client, cells=cells))["result"]["map"] for cells in (30_000, 150_000))
    assert fine["cell"]["value"] < coarse["cell"]["value"]
    assert fine["end"]["value"] == pytest.approx(coarse["end"]["value"], rel=0.12)
    for axis in "xyz":
        assert fine["regions"][0][axis]["value"] == pytest.approx(
            coarse["regions"][0][axis]["value"], abs=4.0
        )


def test_a_pattern_is_smaller_by_its_contraction(client: FlaskClient) -> None:
    part, pattern = request(client), request(client)
    pattern["mesh"] = {**pattern["mesh"], "represents": "pattern"}
    whole, less = (ask(client, one)["result"]["map"]["end"]["value"] for one in (part, pattern))
    # Chvorinov: time goes by the square of the size; the pouring temperature goes by the walls.
    assert less / whole == pytest.approx(1.0208**-2, rel=0.02)


def test_a_mould_constant_of_ones_own_sets_the_times(client: FlaskClient) -> None:
    usual = ask(client, request(client))["result"]["map"]
    slow = ask(client, request(client, mould_constant="20 min/cm^2"))["result"]["map"]
    assert slow["end"]["value"] > 1.5 * usual["end"]["value"]
    assert slow["modulus"]["value"] == pytest.approx(usual["modulus"]["value"], rel=0.15)


def test_too_many_cells_are_refused_with_the_limit(client: FlaskClient) -> None:
    response = client.post("/v1/freeze-maps", json=request(client, cells=MOST_CELLS + 1))
    assert response.status_code == 422
    (fault,) = response.get_json()["errors"]
    assert fault["pointer"] == "/cells"
    assert str(MOST_CELLS) in fault["detail"]


def test_what_cannot_be_mapped_is_said(client: FlaskClient) -> None:
    answer = ask(client, {**request(client), "mould": {}})
    assert answer["verdict"] == "unknown"
    assert answer["result"]["map"] is None
    body = trimesh.creation.box((40.0, 30.0, 20.0)).subdivide()
    open_ = written(np.asarray(body.triangles)[: len(body.triangles) // 2])
    name = hashlib.sha256(open_).hexdigest()
    put = client.put(f"/v1/meshes/{name}", data=open_)
    if put.status_code == 201:
        sent = request(client)
        sent["mesh"]["id"] = name
        assert ask(client, sent)["verdict"] in ("fail", "unknown")
    else:
        assert put.status_code == 422


def test_an_unknown_mesh_is_not_found(client: FlaskClient) -> None:
    sent = request(client)
    sent["mesh"]["id"] = "0" * 64
    response = client.post("/v1/freeze-maps", json=sent)
    assert response.status_code == 404
    assert response.get_json()["errors"][0]["pointer"] == "/mesh/id"
