"""Risers, cores, chills, sleeves and bad meshes in a freeze map over HTTP.

Expected is what the trade expects of them (common practice, no source), and limits that follow from
the mesh itself.
"""

from typing import Any

import numpy as np
import pytest
import trimesh
from flask.testing import FlaskClient

from pourwright.patch import patched
from pourwright_service.engine.geometry.stl import written

from .test_freeze_maps import request
from .test_plan_map import check, plan, stored

Json = dict[str, Any]


def ask(client: FlaskClient, sent: Json, remedies: str = "none") -> Json:
    response = client.post(f"/v1/freeze-maps?remedies={remedies}", json=sent)
    assert response.status_code == 200, response.get_json()
    answer: Json = response.get_json()
    return answer


def put(client: FlaskClient, solid: trimesh.Trimesh) -> str:
    return stored(client, written(np.asarray(solid.triangles)))


def box(*size: float, at: tuple[float, float, float] = (0.0, 0.0, 0.0)) -> trimesh.Trimesh:
    solid = trimesh.creation.box(size)
    solid.apply_translation(at)
    return solid


def block(client: FlaskClient, solid: trimesh.Trimesh | None = None, **more: Any) -> Json:
    """A bar 100 x 40 x 40 mm in A356, or another body, to be frozen."""
    name = put(client, box(100.0, 40.0, 40.0) if solid is None else solid)
    return {
        "mesh": {"id": name, "length_unit": "mm"},
        "alloy": "A356",
        "mould": {"medium": "green sand"},
        "pouring_temperature": "720 degC",
        "cells": 30_000,
        **more,
    }


def verdict(answer: Json, name: str) -> str | None:
    found = check(answer, name)
    return None if found is None else str(found["verdict"])


@pytest.mark.parametrize(("size", "where"), [("56 mm", "riser"), ("32 mm", "casting")])
def test_the_last_metal_lies_in_a_riser_that_serves(client: FlaskClient, size: str, where: str) -> None:
    answer = ask(client, request(client, riser={"diameter": size, "height": size}))
    assert answer["result"]["last"][0]["body"] == where
    assert verdict(answer, "map-feeds-casting") == ("pass" if where == "riser" else "warn")


def test_a_small_riser_is_mended_by_the_least_diameter(client: FlaskClient) -> None:
    sent = request(client, riser={"diameter": "32 mm", "height": "40 mm"}, cells=20_000)
    answer = ask(client, sent, "failed")
    assert answer["remedies"]
    for remedy in answer["remedies"]:
        (change,) = remedy["patch"]
        after = ask(client, patched(sent, remedy["patch"]))
        one_less = {**change, "value": {**change["value"], "value": change["value"]["value"] - 1.0}}
        before = ask(client, patched(sent, [one_less]))
        for mended in remedy["mends"]:
            assert verdict(after, mended["check"]) == "pass"
        assert any(verdict(before, mended["check"]) != "pass" for mended in remedy["mends"])
    assert not ask(client, {**sent, "cells": 100_000}, "failed")["remedies"], (
        "finer maps are not tried again and again"
    )


def test_a_riser_of_twice_the_casting_outlasts_it_and_one_of_half_does_not(client: FlaskClient) -> None:
    for diameter, passes in (("80 mm", "pass"), ("20 mm", "fail")):
        answer = ask(client, block(client, riser={"diameter": diameter, "height": diameter}))
        assert verdict(answer, "riser-last-on-map") == passes


def test_a_riser_stands_where_it_is_put(client: FlaskClient) -> None:
    riser = {"diameter": "60 mm", "height": "60 mm", "at": ["30 mm", "0 mm", "0 mm"]}
    found = ask(client, block(client, riser=riser))["result"]["map"]
    assert [found[f"riser_{axis}"]["value"] for axis in "xyz"] == pytest.approx([30.0, 0.0, 20.0])
    aside = ask(client, block(client, riser={**riser, "at": ["0 mm", "200 mm", "0 mm"]}))
    assert verdict(aside, "map-feeds-casting") == "warn"
    assert aside["result"]["map"]["cut_share"]["value"] == pytest.approx(100.0, abs=1.0)


def test_a_riser_may_be_a_mesh(client: FlaskClient) -> None:
    body = {
        "role": "riser",
        "name": "square riser",
        "id": put(client, box(60.0, 60.0, 60.0, at=(0, 0, 50.0))),
    }
    answer = ask(client, block(client, bodies=[body]))
    assert answer["result"]["last"][0]["body"] == "square riser"
    assert verdict(answer, "riser-last-on-map") == "pass"
    assert answer["result"]["map"]["riser_x"] is None


def test_a_chill_pushes_the_last_metal_away(client: FlaskClient) -> None:
    chill = {
        "role": "chill",
        "id": put(client, box(20.0, 40.0, 40.0, at=(60.0, 0.0, 0.0))),
        "medium": {"medium": "iron chill"},
    }
    plain, chilled = (ask(client, block(client, bodies=bodies))["result"] for bodies in ([], [chill]))
    assert plain["map"]["regions"][0]["x"]["value"] == pytest.approx(0.0, abs=3.0)
    assert chilled["map"]["regions"][0]["x"]["value"] < -8.0
    assert chilled["map"]["end"]["value"] < plain["map"]["end"]["value"]


def test_a_sleeve_keeps_a_riser_liquid(client: FlaskClient) -> None:
    """The same riser, bare and in a sleeve that conducts a fifth of what sand does."""
    outer = trimesh.creation.annulus(20.0, 30.0, 40.0)
    outer.apply_translation((0.0, 0.0, 40.0))
    medium = {
        "conductivity": "0.15 W/(m K)",
        "density": "500 kg/m^3",
        "specific_heat": "1000 J/(kg K)",
        "start_temperature": "20 degC",
    }
    sleeve = {"role": "sleeve", "id": put(client, outer), "medium": medium}
    riser = {"diameter": "40 mm", "height": "40 mm", "at": ["0 mm", "0 mm", "0 mm"]}
    bare, kept = (
        ask(client, block(client, riser=riser, bodies=bodies))["result"]["map"] for bodies in ([], [sleeve])
    )
    assert kept["riser_end"]["value"] > 1.1 * bare["riser_end"]["value"]
    assert kept["end"]["value"] == pytest.approx(bare["end"]["value"], rel=0.02), "the casting alone"


def test_a_core_of_the_mould_is_as_good_as_none(client: FlaskClient) -> None:
    tube = trimesh.creation.annulus(15.0, 35.0, 40.0)
    core = {"role": "core", "id": put(client, trimesh.creation.cylinder(15.0, 40.0))}
    ends = [
        ask(client, block(client, tube, bodies=bodies))["result"]["map"]["end"]["value"]
        for bodies in ([], [core])
    ]
    assert ends[1] == pytest.approx(ends[0], rel=0.02)
    zircon = {**core, "medium": {"medium": "zircon sand"}}
    better = ask(client, block(client, tube, bodies=[zircon]))["result"]["map"]["end"]["value"]
    assert better < ends[0], "zircon sand takes up more heat"


def test_what_a_further_body_lacks_is_told_at_its_place(client: FlaskClient) -> None:
    name = put(client, box(20.0, 40.0, 40.0, at=(60.0, 0.0, 0.0)))
    answer = ask(client, block(client, bodies=[{"role": "chill", "id": name}]))
    assert answer["verdict"] == "unknown"
    assert [one["pointer"] for one in answer["missing"]] == ["/bodies/0/medium"]
    unknown = client.post("/v1/freeze-maps", json=block(client, bodies=[{"role": "core", "id": "0" * 64}]))
    assert unknown.status_code == 404
    assert unknown.get_json()["errors"][0]["pointer"] == "/bodies/0/id"


def test_the_feeding_figure_owns_up_to_its_threshold(client: FlaskClient) -> None:
    result = ask(client, request(client))["result"]["feeding"]
    # Niyama and others, 1982, from memory: 1 K^0.5 min^0.5/cm, for steel
    assert result["threshold_of_steel"]["value"] == pytest.approx(60.0**0.5 / 10.0)
    assert "No threshold is published for this alloy" in result["doubt"]
    subject, name = result["formula"].split(".")
    formulas = client.get("/v1/formulas").get_json()["items"]
    assert any(name in str(one) and subject in str(one) for one in formulas)
    pure = block(client, properties={"liquidus": "660 degC", "solidus": "660 degC"})
    assert ask(client, pure)["result"]["feeding"] is None


def test_an_inside_out_mesh_is_read_and_overlapping_shells_are_one(client: FlaskClient) -> None:
    whole = ask(client, block(client))["result"]["map"]["end"]["value"]
    turned = box(100.0, 40.0, 40.0)
    turned.invert()
    assert ask(client, block(client, turned))["result"]["map"]["end"]["value"] == pytest.approx(whole)
    both = trimesh.util.concatenate(
        [box(60.0, 40.0, 40.0, at=(-20.0, 0, 0)), box(60.0, 40.0, 40.0, at=(20.0, 0, 0))]
    )
    answer = ask(client, block(client, both))
    assert answer["result"]["map"]["end"]["value"] == pytest.approx(whole, rel=0.01)
    assert answer["result"]["quality"]["overlapping_rays"]["value"] > 10.0


def test_a_flipped_triangle_is_owned_up_to(client: FlaskClient) -> None:
    solid = box(100.0, 40.0, 40.0).subdivide().subdivide().subdivide()
    triangles = np.array(solid.triangles)
    triangles[7] = triangles[7, ::-1]
    answer = ask(
        client, {**block(client), "mesh": {"id": stored(client, written(triangles)), "length_unit": "mm"}}
    )
    assert verdict(answer, "mesh-sound") in ("warn", "fail")
    assert answer["result"]["quality"]["parity_rays"]["value"] > 0.0
    whole = ask(client, block(client))["result"]["map"]["end"]["value"]
    assert answer["result"]["map"]["end"]["value"] == pytest.approx(whole, rel=0.01)


@pytest.mark.parametrize("kept", [0.98, 0.6])
def test_a_mesh_with_holes_is_doubted_or_refused(client: FlaskClient, kept: float) -> None:
    solid = box(100.0, 40.0, 40.0).subdivide().subdivide().subdivide()
    triangles = np.random.default_rng(3).permutation(np.array(solid.triangles))
    triangles = triangles[: int(kept * len(triangles))]
    answer = ask(
        client, {**block(client), "mesh": {"id": stored(client, written(triangles)), "length_unit": "mm"}}
    )
    if kept > 0.9:
        assert verdict(answer, "map-surface-closed") == "warn"
        assert answer["result"]["quality"]["lost_rays"]["value"] > 1.0
    else:
        assert answer["result"]["map"] is None
        assert any("holes" in one["message"] for one in answer["missing"])


def test_a_sheet_thinner_than_the_cells_is_said_and_no_fault(client: FlaskClient) -> None:
    sheet = box(400.0, 300.0, 0.8)
    answer = ask(client, block(client, sheet, cells=5_000))
    assert answer["result"]["map"] is None
    assert any("no cell" in one["message"] for one in answer["missing"])
    part = {"mesh": {"id": put(client, sheet), "length_unit": "mm"}}
    plain = plan(client, {"alloy": "A356", "mould": {"medium": "green sand"}, "part": part})
    assert plain["result"]["freeze_map"] is None
    section = {
        "name": "sheet",
        "shape": "plate",
        "length": "400 mm",
        "width": "300 mm",
        "thickness": "0.8 mm",
    }
    both = plan(
        client,
        {"alloy": "A356", "mould": {"medium": "green sand"}, "part": {**part, "sections": [section]}},
    )
    assert "/part/mesh" not in {one["pointer"] for one in both["missing"]}


def test_walls_hardly_wider_than_the_cells_are_owned_up_to(client: FlaskClient) -> None:
    cup = trimesh.boolean.difference(
        [box(80.0, 80.0, 60.0), box(72.0, 72.0, 60.0, at=(0.0, 0.0, 4.0))], engine="manifold"
    )
    coarse, fine = (ask(client, block(client, cup, cells=cells)) for cells in (10_000, 250_000))
    assert verdict(coarse, "map-cells-fine-enough") == "warn"
    assert verdict(fine, "map-cells-fine-enough") == "pass"


@pytest.mark.parametrize(
    "odd",
    [
        {"properties": {"solidus": "1700 degC"}},
        {"pouring_temperature": "200 degC"},
        {"mould": {"medium": "green sand", "density": "0.3 kg/m^3"}},
        {"mould": {"medium": "plaster", "density": "7 kg/m^3", "start_temperature": "212 degC"}},
        {"mould": {"medium": "green sand", "start_temperature": "1200 degC"}},
        {"properties": {"density_liquid": "20 kg/m^3"}, "mould": {"medium": "iron chill"}},
        {"riser": {"diameter": "0.02 mm", "height": "8000 mm"}},
        {"riser": {"diameter": "9000 mm", "height": "0.1 mm"}},
    ],
)
def test_odd_requests_are_answered_and_ask_for_no_endless_grid(client: FlaskClient, odd: Json) -> None:
    """Each of these once filled the memory, ran for minutes, or divided by nothing."""
    answer = ask(client, block(client, slices=True, files=["vti", "glb"], **odd))
    assert answer["result"]["map"] is not None or answer["missing"]
