"""A mesh cut by levels: its section at every height, and the lift of metal under the cope.

Heights are measured upwards from the lowest point of the mesh in the pouring position, in the
mesh's length unit. Everything follows from the vertical part of each triangle's normal: what of a
closed surface lies above a level has, on balance, exactly the section at that level facing up.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .mesh import Mesh, axis_of, doubled_normals

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

MAX_LEVELS = 2000
"""More levels than this are refused."""

_AT_ONCE = 1_000_000


@dataclass(frozen=True, slots=True)
class _Slopes:
    """Triangles that are not vertical: the plan area each shows from above (negative if it faces
    down), and the heights of its lowest, middle and highest corner."""

    plan: Floats
    low: Floats
    middle: Floats
    high: Floats

    def pick(self, which: NDArray[np.bool_] | Indices) -> "_Slopes":
        return _Slopes(self.plan[which], self.low[which], self.middle[which], self.high[which])


def _slopes(mesh: Mesh, up: str) -> _Slopes:
    axis, sign = axis_of(up)
    plan = sign / 2.0 * np.concatenate([normals[axis] for normals in doubled_normals(mesh.triangles)])
    leaning = plan != 0.0
    a, b, c = (sign * mesh.triangles[leaning, corner, axis] - mesh.extents(up).lowest for corner in range(3))
    less, more = np.minimum(a, b), np.maximum(a, b)
    middle = np.maximum(less, np.minimum(more, c))
    return _Slopes(plan[leaning], np.minimum(less, c), middle, np.maximum(more, c))


def _share_above(cut: _Slopes, level: Floats | float) -> Floats:
    """The share of each triangle's area above a level that passes through it."""
    reach = cut.high - cut.low
    # One corner above the level: a triangle like the whole; two above: the whole less such a one.
    over = (cut.high - level) ** 2 / (reach * np.maximum(cut.high - cut.middle, 1e-300))
    under = (level - cut.low) ** 2 / (reach * np.maximum(cut.middle - cut.low, 1e-300))
    return np.where(level >= cut.middle, over, 1.0 - under)


def section_profile(mesh: Mesh, up: str, heights: Sequence[float] | Floats) -> Floats:
    """Area of the body's horizontal section just above each height; never negative.

    ``heights`` in any order, above the lowest point, in the mesh's unit; areas in its square.
    The mesh must be watertight. Raises ValueError for too many heights or an unknown ``up``.
    """
    levels = np.asarray(heights, dtype=np.float64)
    if levels.ndim != 1 or len(levels) > MAX_LEVELS or not np.all(np.isfinite(levels)):
        raise ValueError(f"heights must be at most {MAX_LEVELS} finite numbers")
    order = np.argsort(levels, kind="stable")
    levels = levels[order]
    slopes = _slopes(mesh, up)
    # A triangle that is horizontal at a level lies just below it; any other begins there.
    below = np.searchsorted(levels, slopes.low, side="right")
    level = slopes.high == slopes.low
    below[level] = np.searchsorted(levels, slopes.low[level], side="left")
    whole = np.bincount(below, weights=slopes.plan, minlength=len(levels) + 1)
    areas = whole[::-1].cumsum()[::-1][1:].copy()
    ends = np.searchsorted(levels, slopes.high, side="left")
    for triangle, number in _crossings(below, np.maximum(ends, below)):
        cut = slopes.pick(triangle)
        share = cut.plan * _share_above(cut, levels[number])
        areas += np.bincount(number, weights=share, minlength=len(levels))
    found = np.empty_like(areas)
    found[order] = np.maximum(areas, 0.0)
    return found


def _crossings(starts: Indices, ends: Indices) -> Iterator[tuple[Indices, Indices]]:
    """Every pair of a triangle and a level from its start to its end, some at a time."""
    counts = ends - starts
    (crossing,) = np.nonzero(counts)
    done = np.cumsum(counts[crossing])
    first = 0
    while first < len(crossing):
        before = done[first - 1] if first else 0
        last = max(int(np.searchsorted(done, before + _AT_ONCE, side="right")), first + 1)
        some = crossing[first:last]
        triangle = np.repeat(some, counts[some])
        offset = np.arange(len(triangle)) - np.repeat(np.cumsum(counts[some]) - counts[some], counts[some])
        yield triangle, starts[triangle] + offset
        first = last


def lift_integral(mesh: Mesh, up: str, parting_height: float, head_level: float) -> float:
    """Integral of (H - z) n_z dA over the metal's faces in the cope, in the mesh's unit cubed.

    n points out of the metal and z upwards; H is ``head_level``, the level of the metal in the
    basin, and the cope lies above ``parting_height`` (both heights above the lowest point).
    Times density and gravity it is the force of the metal on the cope's sand: faces that look up
    push it up, faces that look down push it down. A face in the parting itself bears on the cope
    if it looks up, on the drag if it looks down.
    """
    whole, above, middle = _in_cope(mesh, up, parting_height)
    return float(np.sum(whole.plan * above * (head_level - middle)))


def upward_area(mesh: Mesh, up: str, parting_height: float) -> float:
    """Plan area of the metal's faces in the cope that look up, in the mesh's unit squared.

    A face that lies above another counts beside it.
    """
    whole, above, _ = _in_cope(mesh, up, parting_height)
    return float(np.sum(np.maximum(whole.plan, 0.0) * above))


def _in_cope(mesh: Mesh, up: str, parting: float) -> tuple[_Slopes, Floats, Floats]:
    """Slopes that reach into the cope, the share of each above the parting, and the mean height
    of that share."""
    slopes = _slopes(mesh, up)
    low, high = mesh.box
    rounding = 1e-6 * float(max(np.max(np.abs(low)), np.max(np.abs(high))))
    flat = (np.abs(slopes.low - parting) <= rounding) & (np.abs(slopes.high - parting) <= rounding)
    bears = np.where(flat, slopes.plan > 0.0, slopes.high > parting)
    slopes, flat = slopes.pick(bears), flat[bears]
    whole = flat | (slopes.low >= parting)
    cut = slopes.pick(~whole)
    share, centre = np.ones_like(slopes.plan), (slopes.low + slopes.middle + slopes.high) / 3.0
    above = _share_above(cut, parting)
    # Two corners above: the mean height of the whole is that of both parts, weighted.
    lower = (cut.low + 2.0 * parting) / 3.0
    rest = (centre[~whole] - (1.0 - above) * lower) / np.maximum(above, 1e-300)
    centre[~whole] = np.where(parting >= cut.middle, (cut.high + 2.0 * parting) / 3.0, rest)
    share[~whole] = above
    return slopes, share, centre
