"""The thinnest wall of a mesh: on bodies whose wall is plain by their geometry."""

from pathlib import Path

import numpy as np
import pytest
import trimesh

from pourwright_service.engine.geometry.mesh import read_stl
from pourwright_service.engine.geometry.walls import thinnest_wall
from tests.engine.freeze_cases import turned

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"

BODIES = {
    "plate": (trimesh.creation.box((180.0, 70.0, 12.0)), 12.0),
    "thin plate": (trimesh.creation.box((90.0, 60.0, 5.0)), 5.0),
    "cube": (trimesh.creation.box((50.0, 50.0, 50.0)), 50.0),
    "ball": (trimesh.creation.icosphere(4, 20.0), 40.0),
    "rod": (trimesh.creation.cylinder(10.0, 80.0, sections=64), 20.0),
    "pipe": (trimesh.creation.annulus(15.0, 20.0, 60.0, sections=96), 5.0),
    "cup": (
        trimesh.boolean.difference(
            [
                trimesh.creation.box((80.0, 80.0, 60.0)),
                trimesh.creation.box(bounds=((-34.0, -34.0, -22.0), (34.0, 34.0, 40.0))),
            ],
            engine="manifold",
        ),
        6.0,
    ),
}


@pytest.mark.parametrize("name", BODIES)
@pytest.mark.parametrize("angle", [0.0, 0.5])
def test_a_wall_is_found_however_the_body_lies(name: str, angle: float) -> None:
    solid, wall = BODIES[name]
    found = thinnest_wall(np.ascontiguousarray(turned(solid, angle).triangles))
    assert found == pytest.approx(wall, rel=0.12 if angle else 0.04)


def test_it_does_not_depend_on_the_triangles_nor_the_unit() -> None:
    plate, _ = BODIES["plate"]
    coarse = thinnest_wall(np.ascontiguousarray(plate.triangles))
    fine = thinnest_wall(np.ascontiguousarray(plate.subdivide_to_size(5.0).triangles))
    assert coarse is not None
    assert fine == pytest.approx(coarse, rel=0.02)
    assert thinnest_wall(np.ascontiguousarray(plate.triangles / 1000.0)) == pytest.approx(coarse / 1000.0)


def test_the_fairleads_foot_is_its_thinnest_wall() -> None:
    """The invented fairlead's foot is 12 mm thick."""
    mesh = read_stl((SCENARIO / "fairlead.stl").read_bytes())
    assert thinnest_wall(mesh.triangles) == pytest.approx(12.0, rel=0.03)


def test_a_rib_counts_and_a_mere_edge_does_not() -> None:
    block = trimesh.creation.box((80.0, 80.0, 40.0))
    rib = trimesh.creation.box(bounds=((-40.0, -2.5, 19.0), (40.0, 2.5, 40.0)))
    ribbed = trimesh.boolean.union([block, rib], engine="manifold")
    assert thinnest_wall(np.ascontiguousarray(ribbed.triangles)) == pytest.approx(5.0, rel=0.1)
    wedge = trimesh.creation.box((80.0, 80.0, 40.0))
    corner = trimesh.creation.box(bounds=((39.0, -50.0, -30.0), (60.0, 50.0, 30.0)))
    bevelled = trimesh.boolean.difference([wedge, turned(corner, 0.05)], engine="manifold")
    assert thinnest_wall(np.ascontiguousarray(bevelled.triangles)) == pytest.approx(40.0, rel=0.05)


def test_what_rays_cannot_tell_is_not_told() -> None:
    sheet = trimesh.creation.box((400.0, 300.0, 1.0))
    assert thinnest_wall(np.ascontiguousarray(sheet.triangles)) is None
    ball = np.random.default_rng(1).permutation(np.array(BODIES["ball"][0].triangles))
    assert thinnest_wall(np.ascontiguousarray(ball[: len(ball) // 2])) is None
