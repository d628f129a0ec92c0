"""The freeze map of a mould: bodies in, times of freezing out."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..formulas.freeze_map import mould_reach
from ..geometry.voxel_grid import Block, Grid, block_round, grid_for, grid_round
from ..geometry.voxels import VoxelQuality, measured, voxelise
from .filling import fill
from .heat import Accuracy, NotFrozen, freeze
from .substances import Medium, Metal

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]

COUNTED = 0.5
"""A cell counts as metal if at least this share of it is."""

FIRST_CELLS = 5000
"""Even cells of the first map, which only tells how long the freezing takes."""

FARTHEST = 6.0
"""The heat may spread into the mould by so many times the longest side of the bodies' box."""

LATER = 1.2
"""A finer map may freeze so much later than the first one."""


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """One body in the mould: its closed surface, triangles (n, 3, 3) in metres, and its substance.

    The bodies of a mould are stated in an order; where two overlap the first is there.
    """

    name: str
    triangles: Floats
    substance: Metal | Medium


@dataclass(frozen=True, slots=True, eq=False)
class FreezeMap:
    """When the metal of each cell of the block was fully solid.

    ``times`` (x, y, z) s, NaN where less than half of the cell is metal. ``shares``: metal's part
    of each cell. ``owners``: which body each cell belongs to, by number, -1 for the mould.
    ``rates`` K/s: cooling at the end of freezing, NaN likewise. ``end`` s. ``cells`` counts the
    whole grid's. ``resolved`` is the share of the metal's volume that lies in cells with a time:
    far below 1 the cells are too coarse for the walls. ``imbalance`` is the heat lost to rounding
    as a share of the metal's.
    """

    grid: Grid
    times: Singles
    shares: Singles
    owners: NDArray[np.int8]
    rates: Singles
    freezing_range: float
    end: float
    quality: VoxelQuality
    cells: int
    resolved: float
    steps: int
    stages: int
    imbalance: float

    @property
    def block(self) -> Block:
        """The even cells that the arrays are about."""
        return self.grid.block


def freeze_map(
    bodies: Sequence[Body],
    mould: Medium,
    cells: int,
    *,
    mould_constant: float,
    accuracy: Accuracy = "normal",
) -> FreezeMap:
    """Freeze a mould in about ``cells`` cells, those of the mould round the bodies included.

    ``mould_constant`` (s/m^2) of metal and mould tells how far the heat may go at most; how far
    it does is told by a first map of few cells. All bodies of metal hold the same metal. Raises
    ValueError if there is none or they differ, MeshFault for a surface with too many holes,
    NotFrozen if the mould cannot take the heat.
    """
    metals = [body.substance for body in bodies if isinstance(body.substance, Metal)]
    if not metals or any(other != metals[0] for other in metals):
        raise ValueError("a mould holds one metal, in one body at least")
    boxes = [measured(body.triangles)[:2] for body in bodies]
    low: Floats = np.array([box[0] for box in boxes]).min(axis=0)
    high: Floats = np.array([box[1] for box in boxes]).max(axis=0)
    # No section is thicker than the least side of the box, nor freezes later than such a plate.
    widest = mould_constant * (float(np.min(high - low)) / 2.0) ** 2
    diffusivity = mould.conductivity / mould.heat_capacity
    reach = _checked(mould_reach(diffusivity, widest), low, high)
    first = grid_round(block_round(low, high, FIRST_CELLS), reach)
    # Metal too thin for the first map's cells freezes no later than a plate as thick as they are.
    thin = mould_constant * (first.block.cell / 2.0) ** 2
    end = max(map_on(first, bodies, mould, "draft").end, min(thin, widest))
    reach = _checked(mould_reach(diffusivity, LATER * end), low, high)
    try:
        grid = grid_for(low, high, cells, reach)
    except ValueError as fault:
        raise NotFrozen(str(fault)) from fault
    return map_on(grid, bodies, mould, accuracy)


def _checked(reach: float, low: Floats, high: Floats) -> float:
    """The reach of the heat (m), if a grid can hold it."""
    if not reach <= FARTHEST * float(np.max(high - low)):
        raise NotFrozen("the heat would spread too far into such a mould before the metal is solid")
    return reach


def map_on(grid: Grid, bodies: Sequence[Body], mould: Medium, accuracy: Accuracy = "normal") -> FreezeMap:
    """Freeze a mould on a given grid; see :func:`freeze_map`."""
    metal = next(body.substance for body in bodies if isinstance(body.substance, Metal))
    conductivities = [body.substance.conductivity for body in bodies]
    triangles = [body.triangles for body in bodies]
    voxels = voxelise(triangles, grid.block, conductivities, mould.conductivity)
    filling = fill(voxels, grid, [body.substance for body in bodies], metal, mould)
    frozen = freeze(filling.case, accuracy)
    inside = grid.inside
    counted = filling.share >= COUNTED
    times = np.where(counted, frozen.solid_at[inside], np.float32(np.nan))
    spans = frozen.solid_at[inside] - frozen.nearly_at[inside]
    with np.errstate(divide="ignore", invalid="ignore"):
        rates = np.where(counted & (spans > 0.0), np.float32(frozen.watched) / spans, np.float32(np.nan))
    owners = np.where(voxels.shares.sum(axis=0) >= COUNTED, voxels.shares.argmax(axis=0), -1).astype(np.int8)
    return FreezeMap(
        grid=grid,
        times=times,
        shares=filling.share,
        owners=owners,
        rates=rates,
        freezing_range=metal.freezing_range,
        end=frozen.end,
        quality=voxels.quality,
        cells=math.prod(grid.shape),
        resolved=float(filling.share[counted].sum(dtype=np.float64) / filling.share.sum(dtype=np.float64)),
        steps=frozen.steps,
        stages=frozen.stages,
        imbalance=frozen.imbalance,
    )
