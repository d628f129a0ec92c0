"""Until when liquid metal leads from a riser to each place of the casting."""

from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .mapping import FreezeMap

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

TOLERANCE = 0.02
"""Metal that is solid within this share of the whole time after its way has closed counts as fed."""

_NEIGHBOURS = [step for step in product((-1, 0, 1), repeat=3) if step > (0, 0, 0)]
"""One of each pair of opposite steps to the 26 cells that share a face, an edge or a corner."""


@dataclass(frozen=True, slots=True)
class CutOff:
    """Metal that hangs together and is still liquid when its last liquid way to the riser closes.

    ``place`` m: its middle, weighted by volume; ``volume`` m^3; ``closed`` s, when the way closes;
    ``solid`` s, when the last of it is solid.
    """

    place: tuple[float, float, float]
    volume: float
    closed: float
    solid: float


def cut_off(found: FreezeMap, risers: tuple[int, ...]) -> tuple[CutOff, ...]:
    """Metal outside the risers (bodies by number) that they cannot feed to the end, largest first.

    A way is open until the first of its cells is fully solid: mush is taken to let metal through, so
    what is found is the least that is cut off.
    """
    from scipy.ndimage import find_objects, label  # here, because they are slow to load

    closed = open_until(found, risers)
    with np.errstate(invalid="ignore"):
        alone = found.times - closed > TOLERANCE * found.end
    alone &= ~np.isin(found.owners, risers)
    pieces, _ = label(alone, np.ones((3, 3, 3)))
    pools = []
    boxes: Any = find_objects(pieces)
    for number, box in enumerate(boxes, start=1):
        inside = pieces[box] == number
        pools.append(_pool(found, box, inside, float(closed[box][inside].min())))
    return tuple(sorted(pools, key=lambda pool: (-pool.volume, pool.place)))


def _pool(found: FreezeMap, box: tuple[slice, ...], inside: NDArray[np.bool_], closes: float) -> CutOff:
    """A piece of cut-off metal, as much of it as is liquid when its way ``closes``."""
    times, shares = found.times[box], found.shares[box].astype(np.float64)
    cells = np.argwhere(inside & (times > closes))
    x, y, z = cells.T
    corner = np.array([side.start for side in box])
    centres = found.block.origin + (cells + corner + 0.5) * found.block.cell
    middle = np.average(centres, axis=0, weights=shares[x, y, z])
    return CutOff(
        place=(float(middle[0]), float(middle[1]), float(middle[2])),
        volume=float(shares[x, y, z].sum()) * found.block.cell**3,
        closed=closes,
        solid=float(times[x, y, z].max()),
    )


def open_until(found: FreezeMap, risers: tuple[int, ...]) -> Floats:
    """For each cell (x, y, z) until when (s) liquid metal leads from there to a riser; 0 where none ever
    does, NaN where there is no metal.

    That is the way whose first cell to freeze freezes last. All such ways together are a spanning tree.
    """
    from scipy.sparse import coo_array  # here, because they are slow to load
    from scipy.sparse.csgraph import breadth_first_order, minimum_spanning_tree

    metal = np.isfinite(found.times)
    times = np.concatenate(([found.end], found.times[metal].astype(np.float64)))
    numbers = np.zeros(metal.shape, np.int64)
    numbers[metal] = np.arange(1, len(times))
    sources = numbers[metal & np.isin(found.owners, risers)]
    pairs = [np.stack((np.zeros_like(sources), sources)), *(_pairs(numbers, step) for step in _NEIGHBOURS)]
    one, two = np.concatenate(pairs, axis=1)
    # A link is as late as the earlier of its cells; the latest are to be the lightest, none without weight.
    weights = 2.0 * found.end - np.minimum(times[one], times[two])
    weights[: len(sources)] = 0.5 * found.end
    links = coo_array((weights, (one, two)), shape=(len(times), len(times))).tocsr()
    order, before = breadth_first_order(minimum_spanning_tree(links), 0, directed=False)
    until = np.zeros(len(times))
    until[0] = np.inf
    for cell, last in zip(order[1:].tolist(), before[order[1:]].tolist(), strict=True):
        until[cell] = min(until[last], times[cell])
    opened = np.full(metal.shape, np.nan)
    opened[metal] = until[1:]
    return opened


def _pairs(numbers: Whole, step: tuple[int, ...]) -> Whole:
    """Cells of metal and their neighbours that many cells on, (2, n)."""
    here = tuple(slice(max(-move, 0), min(-move, 0) or None) for move in step)
    there = tuple(slice(max(move, 0), min(move, 0) or None) for move in step)
    both = (numbers[here] > 0) & (numbers[there] > 0)
    return np.stack((numbers[here][both], numbers[there][both]))
