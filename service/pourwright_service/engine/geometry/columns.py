"""A mesh looked at along a direction: where each column of a grid enters and leaves metal.

Columns stand along the direction, one through the middle of every cell of a grid over the body's
outline. A shared edge is cut at the same place from either of its triangles, so a closed body is
entered as often as it is left in every column. Heights are measured along the direction from the
body's lowest point; all lengths are in the mesh's own unit.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .mesh import Mesh, MeshFault

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

COLUMNS = 256
"""Columns along the longer side of the outline, unless told otherwise."""

LEAST_COLUMNS = 16
"""No side has fewer columns, and no grid is made coarser than this along its longer side."""

MOST_CROSSINGS = 3_000_000
"""More crossings of columns and triangles make the grid coarser."""

_SHIFT = np.array([0.0137, 0.0171])
"""Columns stand so far (in cells) beside the middle: a wall is seldom exactly there."""
_THIN = 1e-6
"""Metal or sand thinner than this share of the height is rounding."""


@dataclass(frozen=True, eq=False)
class Columns:
    """The columns of a body along a direction.

    ``frame`` holds as rows the two plan axes and the direction, unit vectors in the mesh's axes.
    Column number i + nx j of ``shape`` (nx, ny) stands at ``origin + (i, j) * step`` in plan;
    ``base`` is the coordinate along the direction from which heights count, ``height`` the body's.
    ``top`` and ``bottom``, (nx ny), are the highest and lowest metal, NaN where there is none.
    Gaps are sand between metal of the same column, sorted by column: ``gap_column``, ``gap_low``,
    ``gap_high``. ``bad`` is the share of columns left out because they do not leave metal as often
    as they enter it: the mesh is open there.
    """

    frame: Floats
    shape: tuple[int, int]
    origin: tuple[float, float]
    step: tuple[float, float]
    base: float
    height: float
    top: Floats
    bottom: Floats
    gap_column: Indices
    gap_low: Floats
    gap_high: Floats
    bad: float

    @property
    def cell(self) -> float:
        """Plan area of a column."""
        return self.step[0] * self.step[1]

    @property
    def metal(self) -> NDArray[np.bool_]:
        """Whether a column meets metal, (nx ny)."""
        return np.isfinite(self.top)

    @property
    def volume(self) -> float:
        """Volume of the metal as the columns see it."""
        whole = float(np.nansum(self.top - self.bottom))
        return self.cell * (whole - float(np.sum(self.gap_high - self.gap_low)))

    def rim(self) -> NDArray[np.bool_]:
        """Columns of metal beside one without, (nx ny)."""
        nx, ny = self.shape
        metal = np.pad(self.metal.reshape(ny, nx), 1)
        all_round = metal[:-2, 1:-1] & metal[2:, 1:-1] & metal[1:-1, :-2] & metal[1:-1, 2:]
        rim: NDArray[np.bool_] = (metal[1:-1, 1:-1] & ~all_round).ravel()
        return rim

    def place(self, column: float, row: float, height: float) -> tuple[float, float, float]:
        """A point of the grid in the mesh's own axes; ``column`` and ``row`` may lie between columns."""
        plan = (self.origin[0] + column * self.step[0], self.origin[1] + row * self.step[1])
        x, y, z = np.array([*plan, self.base + height]) @ self.frame
        return float(x), float(y), float(z)


def frame_of(direction: Sequence[float]) -> Floats:
    """Two plan axes and the direction itself, as unit vectors in rows. ValueError for no direction."""
    along = np.asarray(direction, dtype=np.float64)
    length = float(np.linalg.norm(along)) if along.shape == (3,) else 0.0
    if not (length > 0.0 and math.isfinite(length)):
        raise ValueError("a direction is three finite numbers that are not all 0")
    along = along / length
    first = np.zeros(3)
    first[int(np.argmin(np.abs(along)))] = 1.0
    first -= along * float(first @ along)
    first /= float(np.linalg.norm(first))
    second = np.array(
        [
            along[1] * first[2] - along[2] * first[1],
            along[2] * first[0] - along[0] * first[2],
            along[0] * first[1] - along[1] * first[0],
        ]
    )
    return np.stack((first, second, along)) + 0.0


def columns_of(mesh: Mesh, direction: Sequence[float], count: int = COLUMNS) -> Columns:
    """Columns of a mesh along a direction (any length), ``count`` along the longer side in plan.

    The grid is made coarser where triangles lie over one another too often. Raises MeshFault
    ``mesh_tangled`` if even the coarsest is not enough, ``mesh_no_volume`` for a sheet, and
    ValueError for a direction of no length.
    """
    from . import column_kernels as kernels  # here, because numba is slow to load

    frame = frame_of(direction)
    triangles = np.require(mesh.triangles, np.float64, ["C", "W"])  # one kind of array, compiled once
    low, high = np.empty(3), np.empty(3)
    kernels.reach(triangles, frame, low, high)
    size = high - low
    if float(size.min()) <= _THIN * float(size.max()):
        raise MeshFault("mesh_no_volume", "this mesh is flat: it is a sheet, not a body")
    none, no_ways = np.empty(0), np.empty(0, dtype=np.int8)
    while True:
        longer = float(max(size[0], size[1]))
        nx, ny = (max(LEAST_COLUMNS, round(count * float(side) / longer)) for side in size[:2])
        step = size[:2] / (nx, ny)
        grid = np.concatenate((low[:2] + (0.5 + _SHIFT) * step, step))
        counts = np.zeros(nx * ny, dtype=np.int64)
        total = kernels.crossings(triangles, frame, grid, (nx, ny), counts, none, no_ways, MOST_CROSSINGS)
        if total >= 0:
            break
        if count <= LEAST_COLUMNS:
            detail = "too many triangles of this mesh lie over one another to look through it"
            raise MeshFault("mesh_tangled", detail)
        count = max(LEAST_COLUMNS, count // 2)
    heights, ways = np.empty(total), np.empty(total, dtype=np.int8)
    ends = np.cumsum(counts) - counts
    kernels.crossings(triangles, frame, grid, (nx, ny), ends, heights, ways, MOST_CROSSINGS)
    heights -= low[2]
    top, bottom = np.empty(nx * ny), np.empty(nx * ny)
    column, gap_low, gap_high = np.empty(total, dtype=np.int64), np.empty(total), np.empty(total)
    gaps, met, bad = kernels.spans(
        ends, heights, ways, _THIN * float(size[2]), top, bottom, column, gap_low, gap_high
    )
    return Columns(
        frame=frame,
        shape=(nx, ny),
        origin=(float(grid[0]), float(grid[1])),
        step=(float(grid[2]), float(grid[3])),
        base=float(low[2]),
        height=float(size[2]),
        top=top,
        bottom=bottom,
        gap_column=column[:gaps],
        gap_low=gap_low[:gaps],
        gap_high=gap_high[:gaps],
        bad=bad / max(1, met),
    )


def warm() -> None:
    """Compile the kernels, or load them from disk, before the first request comes."""
    corners = np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])
    faces = np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    columns_of(Mesh(corners[faces]), (0.0, 0.0, 1.0), LEAST_COLUMNS)
