"""Voxels: against exact volumes, exact shares, a mesh library's solids, and broken meshes."""

import numpy as np
import pytest
import trimesh

from pourwright_service.engine.geometry.mesh import MeshFault
from pourwright_service.engine.geometry.voxel_grid import (
    BORDER,
    RATIO,
    WIDEST,
    block_round,
    block_with,
    grid_for,
    grid_round,
)
from pourwright_service.engine.geometry.voxels import Voxels, measured, voxelise

METAL, SAND = 40.0, 0.8


def turned(body: trimesh.Trimesh, angle: float = 0.7) -> trimesh.Trimesh:
    body.apply_transform(trimesh.transformations.rotation_matrix(angle, (1.0, 2.0, 3.0)))
    return body


def voxels_of(*bodies: np.ndarray, cells: int = 60_000) -> Voxels:
    points = np.concatenate(bodies).reshape(-1, 3)
    block = block_round(points.min(axis=0), points.max(axis=0), cells)
    return voxelise([np.ascontiguousarray(body) for body in bodies], block, [METAL] * len(bodies), SAND)


BODIES = {
    "ball": trimesh.creation.icosphere(subdivisions=4, radius=0.04),
    "box": turned(trimesh.creation.box((0.08, 0.05, 0.03))),
    "torus": turned(trimesh.creation.torus(0.04, 0.012)),
    "thin plate": turned(trimesh.creation.box((0.08, 0.08, 0.002))),
}


@pytest.mark.parametrize("name", sorted(BODIES))
def test_the_cells_hold_the_volume_of_the_mesh(name: str) -> None:
    body = BODIES[name]
    found = voxels_of(body.triangles)
    held = float(found.shares.sum(dtype=np.float64)) * found.block.cell**3
    assert held == pytest.approx(body.volume, rel=1e-5)
    # Before they are scaled the rays alone must be near.
    assert found.quality.volumes[0] == pytest.approx(1.0, abs=3e-3)
    assert found.quality.scaled == (True,)
    assert found.quality.verdict == "pass"
    assert found.quality.unseen == 0
    assert found.shares.min() >= 0.0
    assert found.shares.max() <= 1.0


def test_measures_agree_with_a_mesh_library() -> None:
    for body in BODIES.values():
        low, high, volume = measured(np.ascontiguousarray(body.triangles))
        assert volume == pytest.approx(body.volume)
        assert (low, high) == tuple(pytest.approx(ends) for ends in body.bounds)


def test_shares_and_links_of_a_box_are_exact() -> None:
    # A box whose faces lie at known places between the cells' edges: 2.3 by 3.6 by 4.5 cells.
    body = trimesh.creation.box((2.3, 3.6, 4.5)).triangles
    low, high = body.min(axis=(0, 1)), body.max(axis=(0, 1))
    block = block_with(low, high, 1.0)
    found = voxelise([body], block, [METAL], SAND)

    def covered(axis: int) -> np.ndarray:
        edges = block.origin[axis] + np.arange(block.counts[axis] + 1)
        return np.clip(np.minimum(edges[1:], high[axis]) - np.maximum(edges[:-1], low[axis]), 0.0, 1.0)

    exact = np.multiply.outer(np.multiply.outer(covered(0), covered(1)), covered(2))
    # Rays lie a quarter of a cell apart: a face along them may be off by half of that.
    assert np.abs(found.shares[0] - exact).max() < 0.1
    middle = tuple(count // 2 for count in block.counts)
    for axis in range(3):
        line = tuple(slice(None) if other == axis else middle[other] for other in range(3))
        link = found.links[axis][line]
        centres = block.origin[axis] + np.arange(block.counts[axis]) + 0.5
        metal = np.clip(np.minimum(centres[1:], high[axis]) - np.maximum(centres[:-1], low[axis]), 0.0, None)
        # In series: metal over its conductivity and sand over its own, less as much sand.
        assert link[:-1] == pytest.approx(metal * (1.0 / METAL - 1.0 / SAND), abs=1e-5)
        assert link[-1] == 0.0


def test_where_bodies_overlap_the_first_is_there() -> None:
    first = trimesh.creation.box((0.04, 0.04, 0.04))
    second = trimesh.creation.box((0.04, 0.04, 0.04))
    second.apply_translation((0.02, 0.0, 0.0))
    found = voxels_of(first.triangles, second.triangles)
    volumes = found.shares.sum(axis=(1, 2, 3), dtype=np.float64) * found.block.cell**3
    assert volumes[0] == pytest.approx(6.4e-5, rel=3e-3)
    assert volumes[1] == pytest.approx(3.2e-5, rel=0.02)
    assert found.shares.sum(axis=0).max() <= 1.0 + 1e-6
    other = voxels_of(second.triangles, first.triangles)
    volumes = other.shares.sum(axis=(1, 2, 3), dtype=np.float64) * other.block.cell**3
    assert volumes[0] == pytest.approx(6.4e-5, rel=3e-3)


def test_shells_of_one_body_may_overlap() -> None:
    # By parity the common part would be hollow.
    two = [trimesh.creation.icosphere(subdivisions=4, radius=0.03) for _ in range(2)]
    two[1].apply_translation((0.03, 0.0, 0.0))
    found = voxels_of(np.concatenate([shell.triangles for shell in two]))
    lens = np.pi * (0.06 - 0.03) ** 2 * (0.03**2 + 4.0 * 0.03 * 0.03) / (12.0 * 0.03)
    held = found.shares.sum(dtype=np.float64) * found.block.cell**3
    assert held == pytest.approx(2.0 * two[0].volume - lens, rel=5e-3)
    assert min(axis.overlap for axis in found.quality.axes) > 0.05
    assert found.quality.scaled == (False,)


def test_a_hollow_stays_hollow() -> None:
    inner = trimesh.creation.icosphere(subdivisions=3, radius=0.02)
    found = voxels_of(np.concatenate((BODIES["ball"].triangles, inner.triangles[:, ::-1])))
    held = found.shares.sum(dtype=np.float64) * found.block.cell**3
    assert held == pytest.approx(BODIES["ball"].volume - inner.volume, rel=1e-4)


def test_one_triangle_in_twenty_missing_hardly_matters() -> None:
    ball = trimesh.creation.icosphere(subdivisions=6, radius=0.04).triangles
    whole = voxels_of(ball)
    kept = np.random.default_rng(5).random(len(ball)) > 0.05
    found = voxelise([np.ascontiguousarray(ball[kept])], whole.block, [METAL], SAND)
    wrong = (found.shares > 0.5) != (whole.shares > 0.5)
    assert np.count_nonzero(wrong) / np.count_nonzero(whole.shares > 0.5) < 0.003
    assert found.quality.verdict == "warn"
    # Both ends of every ray have one chance in twenty to be missing.
    for axis in found.quality.axes:
        assert axis.bad == pytest.approx(2 * 0.05 * 0.95, abs=0.02)
    assert not any(np.isnan(link).any() for link in found.links)


def test_a_mesh_full_of_holes_is_refused() -> None:
    ball = trimesh.creation.icosphere(subdivisions=5, radius=0.04).triangles
    kept = np.random.default_rng(5).random(len(ball)) > 0.2
    with pytest.raises(MeshFault) as caught:
        voxels_of(ball[kept])
    assert caught.value.code == "mesh_not_closed"


def test_triangles_the_wrong_way_about_are_read_by_parity() -> None:
    ball = BODIES["ball"].triangles.copy()
    ball[::50] = ball[::50, ::-1]
    found = voxels_of(ball)
    assert max(axis.parity for axis in found.quality.axes) > 0.02
    assert max(axis.bad for axis in found.quality.axes) == 0.0
    wrong = np.abs(found.shares - voxels_of(BODIES["ball"].triangles).shares) > 0.05
    assert np.count_nonzero(wrong) == 0


def test_rays_along_edges_and_through_corners_are_not_lost() -> None:
    # Faces, edges and corners lie exactly on the lattice of rays (at odd eighths of a cell).
    body = trimesh.creation.box((2.25, 2.25, 2.25)).subdivide().subdivide().triangles
    found = voxelise([body], block_with(body.min(axis=(0, 1)), body.max(axis=(0, 1)), 0.5), [METAL], SAND)
    assert [axis.bad for axis in found.quality.axes] == [0.0, 0.0, 0.0]
    assert found.shares.sum(dtype=np.float64) * 0.125 == pytest.approx(2.25**3, rel=1e-5)


def test_what_makes_no_sense_is_refused() -> None:
    ball = BODIES["ball"].triangles
    block = block_round(np.full(3, -0.01), np.full(3, 0.01), 5000)
    with pytest.raises(ValueError, match="sticks out"):
        voxelise([ball], block, [METAL], SAND)
    with pytest.raises(ValueError, match="bodies"):
        voxelise([], block, [], SAND)
    with pytest.raises(ValueError, match="extent"):
        block_round(np.zeros(3), np.array([1.0, 1.0, 0.0]), 5000)
    with pytest.raises(ValueError, match="too few"):
        block_round(np.zeros(3), np.ones(3), 500)


def test_the_grid_widens_outwards() -> None:
    low, high, reach = np.zeros(3), np.array([0.1, 0.05, 0.02]), 0.04
    grid = grid_for(low, high, 100_000, reach)
    assert 70_000 < np.prod(grid.shape) <= 100_000
    cell = grid.block.cell
    for axis in range(3):
        widths = grid.widths(axis)
        inside = grid.inside[axis]
        assert widths[inside] == pytest.approx(cell)
        assert widths.max() <= WIDEST * cell * (1 + 1e-9)
        ratios = widths[inside.stop : -1] / widths[inside.stop - 1 : -2]
        assert np.all(ratios <= RATIO * (1 + 1e-9))
        # All but the padding cells reach as far as was asked for.
        assert low[axis] - grid.edges[axis][1] >= reach * (1 - 1e-9)
        assert grid.edges[axis][-2] - high[axis] >= reach * (1 - 1e-9)
    even = grid_round(grid.block, 0.0)
    assert even.shape == tuple(count + 2 for count in grid.block.counts)
    assert grid.block.counts[2] >= 0.02 / cell + 2 * BORDER
