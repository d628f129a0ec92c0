"""The grid of a freeze map: even cells round the bodies, wider ones further out in the mould."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

BORDER = 4
"""Even cells between the bodies' box and the first wider cell, on each side."""

RATIO = 1.15
"""Each cell further out is so much wider than the one before."""

WIDEST = 8.0
"""No cell is wider than so many even ones."""


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """Even cells that hold all bodies: least corner (m), side of a cell (m), cells along each axis."""

    origin: Floats
    cell: float
    counts: tuple[int, int, int]


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """A block inside its mould: edges of the cells along each axis (m), cells + 1 of them.

    ``start`` are the indices of the block's first cell. The outermost cells all round only pad the
    arrays.
    """

    edges: tuple[Floats, Floats, Floats]
    block: Block
    start: tuple[int, int, int]

    @property
    def shape(self) -> tuple[int, int, int]:
        """Cells along each axis."""
        x, y, z = (len(edges) - 1 for edges in self.edges)
        return x, y, z

    @property
    def inside(self) -> tuple[slice, slice, slice]:
        """Where the block lies in the grid."""
        x, y, z = (
            slice(start, start + count) for start, count in zip(self.start, self.block.counts, strict=True)
        )
        return x, y, z

    def widths(self, axis: int) -> Floats:
        """Widths of the cells along an axis, m."""
        return np.diff(self.edges[axis])

    def centres(self, axis: int) -> Floats:
        """Coordinates of the cells' centres along an axis, m."""
        edges = self.edges[axis]
        return (edges[:-1] + edges[1:]) / 2.0


def block_round(low: Floats, high: Floats, cells: int) -> Block:
    """The block of at most ``cells`` even cells round a box (m), its border included.

    Raises ValueError for a box without extent or too few cells.
    """
    return block_with(low, high, _finest(low, high, lambda cell: _even(low, high, cell), cells))


def grid_for(low: Floats, high: Floats, cells: int, reach: float) -> Grid:
    """The grid of at most ``cells`` cells in all round a box (m), ``reach`` (m) of mould about it.

    Raises ValueError for a box without extent or too few cells.
    """

    def counts(cell: float) -> Floats:
        return _even(low, high, cell) + 2 * len(_outer(cell, reach))

    return grid_round(block_with(low, high, _finest(low, high, counts, cells)), reach)


def _even(low: Floats, high: Floats, cell: float) -> Floats:
    """Even cells along each axis, the border included."""
    return np.ceil((high - low) / cell - 1e-9) + 2.0 * BORDER


def _finest(low: Floats, high: Floats, counts: Callable[[float], Floats], cells: int) -> float:
    """The smallest cell with which no more than so many cells are counted."""
    size = np.asarray(high) - np.asarray(low)
    if not np.all(size > 0.0):
        raise ValueError("a grid needs a box with extent")
    fine, coarse = float(size.max()) / cells, float(size.max())
    if np.prod(counts(coarse)) > cells:
        raise ValueError(f"{cells} cells are too few: the coarsest grid has {np.prod(counts(coarse)):.0f}")
    for _ in range(40):
        middle = float(np.sqrt(fine * coarse))
        if np.prod(counts(middle)) > cells:
            fine = middle
        else:
            coarse = middle
    return coarse


def block_with(low: Floats, high: Floats, cell: float) -> Block:
    """The block of even cells of a given side (m) round a box (m), the box in its middle."""
    x, y, z = (int(count) for count in _even(low, high, cell))
    origin = (np.asarray(low) + np.asarray(high)) / 2.0 - np.array((x, y, z)) * cell / 2.0
    return Block(origin, float(cell), (x, y, z))


def grid_round(block: Block, reach: float) -> Grid:
    """The block with mould round it, ``reach`` (m) deep beyond the bodies' box."""
    outer = _outer(block.cell, reach)
    beyond = np.cumsum(outer)

    def edges(axis: int) -> Floats:
        low = block.origin[axis]
        even = low + block.cell * np.arange(block.counts[axis] + 1)
        return np.concatenate((low - beyond[::-1], even, even[-1] + beyond))

    return Grid((edges(0), edges(1), edges(2)), block, (len(outer),) * 3)


def _outer(cell: float, reach: float) -> list[float]:
    """Widths of the cells beyond the even ones, outwards; the last only pads."""
    widths, width, total = [], cell, BORDER * cell
    while total < reach:
        width = min(width * RATIO, WIDEST * cell)
        widths.append(width)
        total += width
    return [*widths, width]
