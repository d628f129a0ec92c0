"""The thinnest wall of a mesh, by rays from its surface inwards.

A ray starts on the surface, square to it, and ends where it leaves the metal again: that is the wall
there. The way is followed through voxels that know how much of them is metal, so that it costs the
same for a mesh of any number of triangles, and the end is found to a small part of a cell.
"""

import numpy as np
from numpy.typing import NDArray

from .stl import MeshFault
from .voxel_grid import block_round
from .voxels import measured, voxelise

Floats = NDArray[np.float64]

CELLS = 150_000
"""Cells of the block that the rays go through."""

RAYS = 1000

THIN = 0.05
"""So thin or thinner are the walls under this share of the surface: a mere point of an edge is no wall."""

LEAST_CELLS = 1.5
"""A wall must be so many cells wide to be told."""

_SPREAD = (0.7548776662466927, 0.5698402909980532)
"""Steps of points that fill a square evenly: the powers of 1/1.3247, the root of x^3 = x + 1."""


def thinnest_wall(triangles: Floats) -> float | None:
    """The wall, in the mesh's own unit, that a twentieth of the surface has at most.

    triangles (n, 3, 3), closed. None where a wall is too thin for the cells, or the surface has too
    many holes.
    """
    low, high, _ = measured(triangles)
    block = block_round(low, high, CELLS)
    try:
        shares = voxelise([triangles], block, [1.0], 1.0).shares[0]
    except MeshFault:
        return None
    points, normals = _on_surface(triangles)
    start = (points - block.origin) / block.cell - 0.5
    walls = _ways(shares, start, -normals) * block.cell
    wall = float(np.quantile(walls, THIN))
    return wall if wall >= LEAST_CELLS * block.cell else None


def _on_surface(triangles: Floats) -> tuple[Floats, Floats]:
    """Points spread evenly over the surface, and the outward unit normals there, (RAYS, 3) each."""
    sides = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    doubled = np.cross(*sides)
    areas = np.linalg.norm(doubled, axis=1)
    sums = np.cumsum(areas)
    chosen = np.searchsorted(sums, (np.arange(RAYS) + 0.5) / RAYS * sums[-1])
    chosen = np.minimum(chosen, len(triangles) - 1)
    u, v = (np.arange(1, RAYS + 1) * step % 1.0 for step in _SPREAD)
    beyond = u + v > 1.0
    u, v = np.where(beyond, 1.0 - u, u), np.where(beyond, 1.0 - v, v)
    points = triangles[chosen, 0] + u[:, None] * sides[0][chosen] + v[:, None] * sides[1][chosen]
    return points, doubled[chosen] / areas[chosen, None]


def _ways(shares: NDArray[np.float32], start: Floats, along: Floats) -> Floats:
    """How far it is (in cells) from each start (in cells) along a direction to where the metal ends; 0 where
    it ends within half a cell."""
    from scipy.ndimage import map_coordinates  # here, because it is slow to load

    steps = 0.5 + np.arange(int(np.linalg.norm(shares.shape)) + 1)
    places = start[:, :, None] + along[:, :, None] * steps
    seen = map_coordinates(shares, np.moveaxis(places, 1, 0), order=1, mode="constant")
    out = np.argmax(seen < 0.5, axis=1)
    rays = np.arange(len(start))
    after, before = seen[rays, out], seen[rays, np.maximum(out - 1, 0)]
    part = (before - 0.5) / np.maximum(before - after, 1e-9)
    return np.where(out > 0, steps[np.maximum(out - 1, 0)] + part, 0.0)
