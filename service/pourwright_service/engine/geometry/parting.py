"""Parting a body along a direction: the sand that a pattern drawn that way would tear out.

The halves of a mould part at a level plane. A column's sand between two pieces of metal is
*trapped*: no parting frees it. Sand over metal that lies below the parting *hangs* from the upper
half, sand under metal that lies above it *stands* on the lower half: they come away only if
the parting follows the metal there. All of it together is the undercut of a flat parting,

    sum of max(top - p, 0) dA - (metal above p) + sum of max(p - bottom, 0) dA - (metal below p).

Lengths are in the mesh's unit; heights count from the body's lowest point along the direction.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .columns import Columns
from .levels import section_profile
from .mesh import Mesh, doubled_normals
from .soundness import connected

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]
Sort = Literal["trapped", "hanging", "standing"]

MOST_REGIONS = 20
"""Regions of undercut that are named."""

MOST_FACES = 6
"""Large flat faces whose directions are tried."""

_LARGE_FACE = 0.03
"""A flat face of at least this share of the surface is large."""
_SAME_WAY = float(np.cos(np.radians(1.0)))
_NARROW = 1.2
"""Regions with fewer neighbourhoods per column than this are narrower than two columns."""
_LEVELS = 33


@dataclass(frozen=True, slots=True)
class Region:
    """Undercut sand that hangs together.

    ``centre`` is its middle in the mesh's own axes; ``length``, ``width`` (plan) and ``height``
    (along the direction) the sides of its box; ``low`` and ``high`` its heights. ``inside`` says that it is
    nowhere at the edge of the body's outline.
    """

    sort: Sort
    volume: float
    centre: tuple[float, float, float]
    length: float
    width: float
    height: float
    low: float
    high: float
    inside: bool


@dataclass(frozen=True, slots=True)
class Parting:
    """A level parting: its height, the undercut there by sort, and what the grid cannot tell.

    ``regions`` are all that are wide enough for the grid, the largest first; ``trapped``, ``hanging`` and
    ``standing`` their volumes. ``noise`` is a cube of the grid for every column of the outline's
    rim: undercut below it may come from the grid or from the facets of a round surface.
    """

    height: float
    trapped: float
    hanging: float
    standing: float
    noise: float
    regions: tuple[Region, ...]

    @property
    def undercut(self) -> float:
        """All undercut of this flat parting."""
        return self.trapped + self.hanging + self.standing


def raw_undercut(columns: Columns, heights: Sequence[float] | Floats) -> Floats:
    """Undercut of flat partings at heights, every column counted however narrow."""
    top, bottom = columns.top[columns.metal], columns.bottom[columns.metal]
    found = _beyond(np.asarray(heights, dtype=np.float64), top, bottom)
    return columns.cell * (found + float(np.sum(columns.gap_high - columns.gap_low)))


def _beyond(heights: Floats, top: Floats, bottom: Floats) -> Floats:
    """Sum of max(p - top, 0) and max(bottom - p, 0) over columns, for each p of heights."""
    top, bottom = np.sort(top), np.sort(bottom)[::-1]
    tops, bottoms = (np.concatenate(([0.0], np.cumsum(side))) for side in (top, bottom))
    under = np.searchsorted(top, heights, side="left")
    over = len(bottom) - np.searchsorted(bottom[::-1], heights, side="right")
    beyond: Floats = np.maximum(under * heights - tops[under] + bottoms[over] - over * heights, 0.0)
    return beyond


def noise_of(columns: Columns) -> float:
    """What the grid cannot tell from nothing: a cube of it for every column of the outline's rim."""
    return float(np.count_nonzero(columns.rim())) * float(columns.cell**1.5)


def least_parting(mesh: Mesh, columns: Columns) -> float:
    """The height of the flat parting with the least undercut.

    Where several heights are as good to within a tenth of the noise, the one with the largest
    section of the metal; where that is the same too, the body's top, else its foot (a flat back and a
    pattern in one piece), else the highest.
    """
    metal = columns.metal
    top, bottom = columns.top[metal], columns.bottom[metal]
    if not len(top):
        return columns.height / 2.0
    heights = np.sort(np.clip(np.concatenate((top, bottom, [0.0, columns.height])), 0.0, columns.height))
    beyond = _beyond(heights, top, bottom)
    (good,) = np.nonzero(beyond <= beyond.min() + 0.1 * noise_of(columns) / columns.cell)
    kept = heights[good]
    picked = kept[np.linspace(0, len(kept) - 1, _LEVELS).round().astype(np.int64)]
    tried = np.unique(np.concatenate((np.linspace(kept[0], kept[-1], _LEVELS), picked)))
    turned = mesh if _upright(columns.frame) else Mesh(mesh.triangles @ columns.frame.T)
    return _largest(turned, columns, tried)


def _upright(frame: Floats) -> bool:
    return bool(np.max(np.abs(frame[2])) == 1.0)


def _up(frame: Floats) -> str:
    """The direction as a word, for a mesh that stands along one of its axes, else turned to z."""
    if not _upright(frame):
        return "+z"
    axis = int(np.argmax(np.abs(frame[2])))
    return f"{'+' if frame[2, axis] > 0.0 else '-'}{'xyz'[axis]}"


def _largest(mesh: Mesh, columns: Columns, heights: Floats) -> float:
    """The height at which the section just above or just below is largest; of equals an end of the
    body, else the highest."""
    edge = 1e-6 * columns.height
    both = np.concatenate((heights - edge, heights + edge))
    areas = section_profile(mesh, _up(columns.frame), np.clip(both, 0.0, columns.height))
    area = np.maximum(areas[: len(heights)], areas[len(heights) :])
    (best,) = np.nonzero(area >= area.max() * (1.0 - 1e-5))
    ends = (float(heights[best[-1]]), float(heights[best[0]]))
    if ends[1] <= edge < columns.height - edge > ends[0]:
        return ends[1]
    return ends[0]


def part_at(columns: Columns, height: float, *, loose: bool = True) -> Parting:
    """The undercut of a flat parting at a height, region by region; if not ``loose``, only what is
    trapped, which is the same at every height."""
    top, bottom = columns.top, columns.bottom
    (hangs,) = np.nonzero((top < height) & loose)
    (stands,) = np.nonzero((bottom > height) & loose)
    over, under = np.full(len(hangs), height), np.full(len(stands), height)
    found = [
        *_regions(columns, "trapped", columns.gap_column, columns.gap_low, columns.gap_high),
        *_regions(columns, "hanging", hangs, top[hangs], over),
        *_regions(columns, "standing", stands, under, bottom[stands]),
    ]
    found.sort(key=lambda region: (-region.volume, region.centre))
    volumes = {
        sort: sum(r.volume for r in found if r.sort == sort) for sort in ("trapped", "hanging", "standing")
    }
    return Parting(
        height=height,
        trapped=volumes["trapped"],
        hanging=volumes["hanging"],
        standing=volumes["standing"],
        noise=noise_of(columns),
        regions=tuple(found),
    )


def _regions(columns: Columns, sort: Sort, column: Indices, low: Floats, high: Floats) -> list[Region]:
    """Pieces of columns (sorted by column) that touch sideways, joined; narrow ones are left out."""
    if not len(column):
        return []
    nx, ny = columns.shape
    # Below 1, so that a column's number and a height in it are told by one number.
    reach = 1.001 * columns.height
    pairs = [
        _touching(column, low / reach, high / reach, step, has)
        for step, has in ((1, column % nx < nx - 1), (nx, column < nx * (ny - 1)))
    ]
    first, second = (np.concatenate([pair[side] for pair in pairs]) for side in (0, 1))
    count, label = connected(len(column), first, second)
    size = np.bincount(label, minlength=count)
    links = np.bincount(label[first], minlength=count)
    volume = columns.cell * np.bincount(label, weights=high - low, minlength=count)
    least = 8.0 * columns.cell**1.5
    (wide,) = np.nonzero((links > _NARROW * size) & (volume > least))
    rim = columns.rim()
    order = np.argsort(label, kind="stable")
    ends = np.cumsum(size)
    made = []
    for number in wide:
        own = order[ends[number] - size[number] : ends[number]]
        i, j = column[own] % nx, column[own] // nx
        bottom, top = float(low[own].min()), float(high[own].max())
        sides = sorted(
            (float(np.ptp(i) + 1) * columns.step[0], float(np.ptp(j) + 1) * columns.step[1]), reverse=True
        )
        middle = columns.place(
            (float(i.min()) + float(i.max())) / 2.0,
            (float(j.min()) + float(j.max())) / 2.0,
            (bottom + top) / 2.0,
        )
        inside = not bool(rim[column[own]].any())
        made.append(
            Region(sort, float(volume[number]), middle, sides[0], sides[1], top - bottom, bottom, top, inside)
        )
    return made


def _touching(
    column: Indices, low: Floats, high: Floats, step: int, has: NDArray[np.bool_]
) -> tuple[Indices, Indices]:
    """Pieces that touch a piece of the column ``step`` further on (where there ``has`` one).

    ``low`` and ``high`` lie between 0 and 1. Pieces of a column do not overlap and are in order, so those
    that touch a piece follow one another.
    """
    (left,) = np.nonzero(has)
    begin = np.searchsorted(column + high, column[left] + step + low[left], side="right")
    end = np.searchsorted(column + low, column[left] + step + high[left], side="left")
    number = np.maximum(end - begin, 0)
    first = np.repeat(left, number)
    offset = np.arange(len(first)) - np.repeat(np.cumsum(number) - number, number)
    return first, np.repeat(begin, number) + offset


def face_directions(mesh: Mesh) -> tuple[tuple[float, float, float], ...]:
    """Directions square to the large flat faces, the largest first; a direction stands for its opposite."""
    normals = np.concatenate(list(doubled_normals(mesh.triangles)), axis=1)
    size = np.sqrt((normals * normals).sum(axis=0))
    proper = size > 0.0
    normals, size = normals[:, proper], size[proper]
    unit = normals / size
    # Opposite faces count together: the component that is clearly not 0 is made positive.
    sign = np.where(np.abs(unit[2]) > 0.01, unit[2], np.where(np.abs(unit[1]) > 0.01, unit[1], unit[0]))
    unit = np.where(sign < 0.0, -unit, unit)
    steps = np.rint((unit + 1.0) * 50.0).astype(np.int64)
    key = (steps[0] * 101 + steps[1]) * 101 + steps[2]
    areas = np.bincount(key, weights=size)
    large = np.argsort(-areas, kind="stable")[: 8 * MOST_FACES]
    found: list[Floats] = []
    for number in large:
        if areas[number] < _LARGE_FACE * float(size.sum()):
            break
        inside = key == number
        mean = (unit[:, inside] * size[inside]).sum(axis=1)
        mean /= float(np.linalg.norm(mean))
        if all(abs(float(mean @ other)) < _SAME_WAY for other in found):
            found.append(mean)
    return tuple((float(x), float(y), float(z)) for x, y, z in found[:MOST_FACES])
