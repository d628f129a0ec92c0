"""The freeze map in a plan: a mesh is enough, and the riser is judged where the mesh freezes last.

The bands are those of a methods engineer's hand plan of the invented fairlead.
"""

import hashlib
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh
from flask.testing import FlaskClient

from pourwright.patch import patched
from pourwright_service.engine.geometry.stl import written

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"
Json = dict[str, Any]


def stored(client: FlaskClient, data: bytes) -> str:
    name = hashlib.sha256(data).hexdigest()
    assert client.put(f"/v1/meshes/{name}", data=data).status_code in (200, 201)
    return name


def job(client: FlaskClient, file: str = "fairlead.stl", *, sections: bool = False, **more: Any) -> Json:
    made: Json = json.loads((SCENARIO / "fairlead_plan.json").read_text(encoding="utf-8"))
    made["part"]["mesh"] = {
        "id": stored(client, (SCENARIO / file).read_bytes()),
        "length_unit": "mm",
        "up": "-z",
    }
    if not sections:
        del made["part"]["sections"]
        made["riser"] = {}
    return {**made, **more}


def plan(client: FlaskClient, request: Json, query: str = "") -> Json:
    response = client.post(f"/v1/plan{query}", json=request)
    assert response.status_code == 200, response.get_json()
    answer: Json = response.get_json()
    return answer


def check(answer: Json, name: str) -> Json | None:
    return next((one for one in answer["checks"] if one["id"] == name), None)


def test_a_plan_needs_only_the_mesh(client: FlaskClient) -> None:
    answer = plan(client, job(client))
    assert answer["verdict"] in ("pass", "warn"), answer["message"]
    assert not answer["missing"]
    result = answer["result"]
    assert 48.0 <= result["riser"]["diameter"]["value"] <= 66.0
    assert result["masses"]["poured"]["value"] == pytest.approx(3.8, rel=0.15)
    found = result["freeze_map"]
    assert found["riser_end"]["value"] > found["casting_end"]["value"]
    last = found["regions"][0]
    assert abs(last["x"]["value"]) < 15.0, "in the saddle"
    assert 5.0 < last["z"]["value"] < 36.0
    judged = check(answer, "riser-last-on-map")
    assert judged is not None
    assert judged["verdict"] == "pass"
    # not V/A of the mesh, which is 5.8 mm
    assert result["riser"]["casting_modulus"]["value"] > 6.5


def test_a_riser_by_the_whole_mesh_freezes_first_and_is_mended(client: FlaskClient) -> None:
    small = job(client, riser={"diameter": "32 mm", "height": "32 mm"})
    answer = plan(client, small)
    judged = check(answer, "riser-last-on-map")
    assert judged is not None
    assert judged["verdict"] == "fail"
    whole = [one for one in answer["remedies"] if one["verdict"] in ("pass", "warn")]
    assert whole
    for remedy in whole:
        assert "riser-last-on-map" in {one["check"] for one in remedy["mends"]}
        after = plan(client, patched(small, remedy["patch"]), "?remedies=none")
        mended = check(after, "riser-last-on-map")
        assert mended is not None
        assert mended["verdict"] == "pass"


def test_sections_and_map_are_compared(client: FlaskClient) -> None:
    both = plan(client, job(client, sections=True))
    agree = check(both, "sections-match-map")
    assert agree is not None
    assert agree["verdict"] == "pass"
    light = job(client, sections=True)
    light["part"]["sections"] = [
        {"name": "foot", "shape": "plate", "length": "180 mm", "width": "70 mm", "thickness": "12 mm"}
    ]
    light["riser"] = {}
    told = check(plan(client, light), "sections-match-map")
    assert told is not None
    assert told["verdict"] == "warn"


def test_a_riser_in_the_wrong_place_is_told_and_moved(client: FlaskClient) -> None:
    aside = job(client, riser={"at": ["0 mm", "90 mm", "0 mm"]})
    answer = plan(client, aside, "?remedies=all")
    assert answer["result"]["freeze_map"]["riser_y"]["value"] == pytest.approx(90.0)
    judged = check(answer, "map-feeds-casting")
    assert judged is not None
    assert judged["verdict"] == "warn"
    (moved,) = [one for one in answer["remedies"] if "stand over what freezes last" in one["message"]]
    after = plan(client, patched(aside, moved["patch"]))
    assert abs(after["result"]["freeze_map"]["riser_y"]["value"]) < 5.0
    mended = check(after, "map-feeds-casting")
    assert mended is not None
    assert mended["verdict"] == "pass"


def test_a_pocket_in_the_heaviest_place_spares_riser_metal(client: FlaskClient) -> None:
    """The invented fairlead's pocket takes 12.8 cm^3 out of what freezes last (derived)."""
    plain, pocket = (plan(client, job(client, file)) for file in ("fairlead.stl", "fairlead_pocket.stl"))
    ends = [one["result"]["freeze_map"]["end"]["value"] for one in (plain, pocket)]
    assert ends[1] < 0.9 * ends[0]
    risers = [one["result"]["masses"]["riser"]["value"] for one in (plain, pocket)]
    assert risers[1] < risers[0]
    judged = check(pocket, "riser-last-on-map")
    assert judged is not None
    assert judged["verdict"] == "pass"


def test_a_lump_that_the_riser_cannot_feed_is_found(client: FlaskClient) -> None:
    """Two lumps on a thin web: one riser feeds one of them. A web as thick as they are lets it feed both.
    Common practice, no source."""
    found = {}
    for web in (8.0, 40.0):
        lumps = [
            trimesh.creation.box(bounds=((x - 20.0, -20.0, -20.0), (x + 20.0, 20.0, 20.0))) for x in (0, 110)
        ]
        bridge = trimesh.creation.box(bounds=((0.0, -20.0, -web / 2.0), (110.0, 20.0, web / 2.0)))
        body = trimesh.boolean.union([*lumps, bridge], engine="manifold")
        request = {
            "alloy": "A356",
            "mould": {"medium": "green sand"},
            "part": {
                "mesh": {"id": stored(client, written(np.asarray(body.triangles))), "length_unit": "mm"}
            },
        }
        answer = plan(client, request, "?remedies=none")
        judged = check(answer, "map-feeds-casting")
        assert judged is not None
        found[web] = judged["verdict"], answer["result"]["freeze_map"]
        assert answer["result"]["part"]["wall"]["value"] == pytest.approx(web, rel=0.15)
    assert found[40.0][0] == "pass"
    verdict, mapped = found[8.0]
    assert verdict == "warn"
    lump = mapped["cut_off"][0]
    # the riser stands over one of the two, on the side away from the web that cools it; the other is cut off
    assert abs(lump["x"]["value"] - mapped["riser_x"]["value"]) == pytest.approx(110.0, abs=16.0)
    assert lump["volume"]["value"] > 25.0


def test_the_map_can_be_left_out(client: FlaskClient) -> None:
    answer = plan(client, job(client, freeze_map=False))
    assert answer["result"]["freeze_map"] is None
    assert answer["verdict"] == "unknown"
    assert "/part/sections" in {one["pointer"] for one in answer["missing"]}


def test_an_open_mesh_gets_no_map(client: FlaskClient) -> None:
    body = trimesh.creation.box((40.0, 30.0, 20.0)).subdivide()
    name = stored(client, written(np.asarray(body.triangles)[:-4]))
    request = {
        "alloy": "A356",
        "mould": {"medium": "green sand"},
        "part": {"mesh": {"id": name, "length_unit": "mm", "up": "+z"}},
    }
    answer = plan(client, request)
    assert answer["result"]["freeze_map"] is None
    sound = check(answer, "mesh-sound")
    assert sound is not None
    assert sound["verdict"] == "fail"


@pytest.mark.parametrize("up", ["+x", "-y", "+z"])
def test_a_place_is_told_in_the_axes_of_the_file(client: FlaskClient, up: str) -> None:
    """A thin plate with a ball at one corner freezes last in the ball, however it lies."""
    plate = trimesh.creation.box((80.0, 60.0, 6.0))
    ball = trimesh.creation.icosphere(3, 12.0)
    ball.apply_translation((28.0, 18.0, 0.0))
    body = trimesh.boolean.union([plate, ball], engine="manifold")
    name = stored(client, written(np.asarray(body.triangles)))
    request = {
        "alloy": "A356",
        "mould": {"medium": "green sand"},
        "part": {"mesh": {"id": name, "length_unit": "mm", "up": up}},
        "riser": {"position": "none"},
    }
    last = plan(client, request)["result"]["freeze_map"]["regions"][0]
    place = [last[axis]["value"] for axis in "xyz"]
    assert place == pytest.approx([28.0, 18.0, 0.0], abs=6.0), "inside the ball"


def test_the_same_request_gets_the_same_answer(client: FlaskClient) -> None:
    request = job(client)
    first, again = (client.post("/v1/plan", json=request).data for _ in range(2))
    assert first == again
    resolved = plan(client, request)["resolved"]
    assert plan(client, resolved)["result"] == plan(client, request)["result"]
