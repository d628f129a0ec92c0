"""Kernels made ready: compiled, or read from the disk where an earlier process left them."""

import numpy as np

from ..geometry import columns
from ..geometry.voxel_grid import block_round, grid_round
from .mapping import Body, map_on
from .substances import Medium, freezing_metal

_FACES = ((0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5))


def warm() -> None:
    """Run every kernel once on a small cube, so that no request waits for a compiler.

    Call it before a service answers: a quarter of a second, or some seconds the first time on a
    machine. The compiled code is kept in ``NUMBA_CACHE_DIR``, else beside its modules.
    """
    corners = np.array([[x, y, z] for x in (0.0, 0.02) for y in (0.0, 0.02) for z in (0.0, 0.02)])
    faces = [(a, *pair) for a, b, c, d in _FACES for pair in ((b, c), (c, d))]
    cube = corners[np.array(faces)]
    metal = freezing_metal(
        density=7000.0,
        conductivity=50.0,
        specific_heat_solid=500.0,
        specific_heat_freezing=500.0,
        specific_heat_liquid=500.0,
        latent_heat=200e3,
        solidus=1200.0,
        liquidus=1250.0,
        start_temperature=1300.0,
    )
    grid = grid_round(block_round(cube.min(axis=(0, 1)), cube.max(axis=(0, 1)), 2000), 0.02)
    columns.warm()
    map_on(grid, [Body("cube", cube, metal)], Medium(0.8, 1.8e6, 293.0), "draft")
