"""Metal cut off from its riser: against a second way of finding it, and on bodies whose answer is plain."""

import numpy as np
import pytest
import trimesh
from scipy.ndimage import gaussian_filter, label

from pourwright_service.engine.freeze_map.feeding import cut_off, open_until
from pourwright_service.engine.freeze_map.mapping import Body, FreezeMap, freeze_map
from pourwright_service.engine.geometry.voxel_grid import block_with, grid_round
from pourwright_service.engine.geometry.voxels import RayQuality, VoxelQuality
from tests.engine.freeze_cases import BRONZE, constant, medium, metal, moved

AROUND = np.ones((3, 3, 3))


def made_of(times: np.ndarray, owners: np.ndarray) -> FreezeMap:
    """A map of cells 2 mm wide with these times (NaN: no metal) and owners."""
    size = 0.002 * np.array(times.shape)
    block = block_with(np.zeros(3) + 0.008, size - 0.008, 0.002)
    assert block.counts == times.shape
    rays = RayQuality(1, 0.0, 0.0, 0.0)
    return FreezeMap(
        grid=grid_round(block, 0.02),
        times=times.astype(np.float32),
        shares=np.isfinite(times).astype(np.float32),
        owners=owners.astype(np.int8),
        rates=np.ones_like(times, np.float32),
        freezing_range=100.0,
        end=float(np.nanmax(times)),
        quality=VoxelQuality((rays, rays, rays), (1.0,), (True,), 0),
        cells=times.size,
        resolved=1.0,
        steps=1,
        stages=1,
        imbalance=0.0,
    )


@pytest.mark.parametrize("seed", range(6))
def test_ways_are_those_that_flooding_finds(seed: int) -> None:
    """Second way: the liquid at each moment is labelled, and what does not hang on the riser is closed."""
    random = np.random.default_rng(seed)
    times = 10.0 + 90.0 * random.random((14, 12, 11))
    times = gaussian_filter(times, 1.0)
    times = 100.0 * (times - times.min()) / (times.max() - times.min()) + 1.0
    times[random.random(times.shape) < 0.3] = np.nan
    owners = np.where(np.isfinite(times), 0, -1)
    owners[:3, :3, :3][np.isfinite(times[:3, :3, :3])] = 1
    found = made_of(times, owners)
    opened = open_until(found, (1,))
    expected = np.where(np.isfinite(times), 0.0, np.nan)
    for moment in np.unique(found.times[np.isfinite(found.times)]):
        liquid = found.times >= moment
        pieces, _ = label(liquid, AROUND)
        fed = np.isin(pieces, np.unique(pieces[(owners == 1) & liquid])) & liquid
        expected[fed] = moment
    metal_cells = np.isfinite(times)
    assert opened[metal_cells] == pytest.approx(expected[metal_cells], abs=1e-5)


def test_two_hills_with_a_saddle_between() -> None:
    """Times 40 at one hill, 60 at the riser's, 25 on the saddle: the hill is alone from 25 to 40."""
    line = np.array([10.0, 20.0, 30.0, 40.0, 30.0, 25.0, 35.0, 50.0, 60.0, 55.0])
    times = np.full((18, 9, 9), np.nan)
    times[4:14, 4, 4] = line
    owners = np.where(np.isfinite(times), 0, -1)
    owners[11:14, 4, 4] = 1
    (pool,) = cut_off(made_of(times, owners), (1,))
    assert pool.closed == 25.0
    assert pool.solid == 40.0
    assert pool.volume == pytest.approx(3 * 0.002**3)  # those with 30, 40, 30
    assert pool.place == pytest.approx((0.015, 0.009, 0.009))


def test_metal_that_no_riser_touches_is_cut_off_from_the_start() -> None:
    times = np.full((14, 12, 9), np.nan)
    times[4:6, 4:6, 4] = 10.0
    times[8:10, 6:8, 4] = 20.0
    owners = np.where(np.isfinite(times), 0, -1)
    owners[8:10, 6:8, 4] = 1
    (pool,) = cut_off(made_of(times, owners), (1,))
    assert pool.closed == 0.0
    assert pool.volume == pytest.approx(4 * 0.002**3)
    assert cut_off(made_of(times, owners), (0, 1)) == ()


@pytest.mark.parametrize(("web", "apart"), [(0.008, True), (0.030, False)])
def test_a_lump_behind_a_thin_web_is_cut_off(web: float, apart: bool) -> None:
    """Two blocks and a web: a thin web freezes first and shuts the far block off, one as thick as
    they are does not. Common practice, no source."""
    near = trimesh.creation.box((0.03, 0.03, 0.03))
    far = moved(near, (0.08, 0.0, 0.0))
    bridge = moved(trimesh.creation.box((0.052, 0.03, web)), (0.04, 0.0, 0.0))
    casting = trimesh.boolean.union([near, far, bridge], engine="manifold")
    riser = moved(trimesh.creation.box((0.045, 0.045, 0.05)), (0.0, 0.0, 0.04))
    bodies = [
        Body("casting", np.ascontiguousarray(casting.triangles), metal(BRONZE)),
        Body("riser", np.ascontiguousarray(riser.triangles), metal(BRONZE)),
    ]
    pools = cut_off(freeze_map(bodies, medium(), 64_000, mould_constant=constant(BRONZE)), (1,))
    if not apart:
        assert sum(pool.volume for pool in pools) < 0.01 * casting.volume
        return
    first = pools[0]
    assert first.place[0] == pytest.approx(0.08, abs=0.004)
    assert 0.5 * far.volume < first.volume < 1.05 * far.volume
    assert 0.0 < first.closed < 0.5 * first.solid
