"""Kernels of the columns: where they cross triangles, and what of each column is metal.

Corners are told by their coordinates in a frame of three rows; in plan they are counted in cells,
so that columns stand at whole numbers. An edge is cut from its lower end, so both of its triangles
cut it at the same place, and a row meets an edge unless it passes through its upper end.
"""

import math

import numpy as np
from numpy.typing import NDArray

from ..compiled import compiled

Floats = NDArray[np.float64]
Longs = NDArray[np.int64]
Bytes = NDArray[np.int8]


@compiled
def reach(triangles: Floats, frame: Floats, low: Floats, high: Floats) -> None:
    """Least and greatest coordinates of triangles (n, 3, 3) in a frame go to ``low`` and ``high``."""
    low[:], high[:] = np.inf, -np.inf
    for n in range(triangles.shape[0]):
        for corner in range(3):
            x, y, z = triangles[n, corner, 0], triangles[n, corner, 1], triangles[n, corner, 2]
            for axis in range(3):
                at = frame[axis, 0] * x + frame[axis, 1] * y + frame[axis, 2] * z
                low[axis] = min(low[axis], at)
                high[axis] = max(high[axis], at)


@compiled
def _cut(xa: float, ya: float, xb: float, yb: float, row: float) -> float:
    """Where the edge from its lower end a to its upper end b crosses a row; never beyond its ends."""
    at = xa + (row - ya) * ((xb - xa) / (yb - ya))
    return max(min(xa, xb), min(max(xa, xb), at))


@compiled
def crossings(
    triangles: Floats,
    frame: Floats,
    grid: Floats,
    shape: tuple[int, int],
    starts: Longs,
    heights: Floats,
    ways: Bytes,
    most: int,
) -> int:
    """Where columns cross triangles, filled in from ``starts`` of each column on, which move on.

    ``grid`` is the plan's origin and step (u, v, du, dv). ``ways`` is 1 where the triangle faces up.
    With ``heights`` empty they are only counted, in ``starts``. Returns how many there are, or -1
    when they are more than ``most``.
    """
    count = 0
    work = 0
    corner = np.empty((3, 3))
    for n in range(triangles.shape[0]):
        for k in range(3):
            x, y, z = triangles[n, k, 0], triangles[n, k, 1], triangles[n, k, 2]
            for axis in range(3):
                corner[k, axis] = frame[axis, 0] * x + frame[axis, 1] * y + frame[axis, 2] * z
            for axis in range(2):
                corner[k, axis] = (corner[k, axis] - grid[axis]) / grid[2 + axis]
        least = min(corner[0, 0], corner[1, 0], corner[2, 0])
        greatest = max(corner[0, 0], corner[1, 0], corner[2, 0])
        if math.ceil(least) >= math.ceil(greatest):
            continue
        a, b, c = 0, 1, 2
        turned = 1
        if corner[a, 1] > corner[b, 1]:
            a, b, turned = b, a, -turned
        if corner[b, 1] > corner[c, 1]:
            b, c, turned = c, b, -turned
        if corner[a, 1] > corner[b, 1]:
            a, b, turned = b, a, -turned
        low, middle, high = corner[a, 1], corner[b, 1], corner[c, 1]
        first, last = max(math.ceil(low), 0), min(math.ceil(high), shape[1])
        if first >= last:
            continue
        work += last - first
        if work > most:
            return -1
        ux, uy, uz = corner[1, 0] - corner[0, 0], corner[1, 1] - corner[0, 1], corner[1, 2] - corner[0, 2]
        vx, vy, vz = corner[2, 0] - corner[0, 0], corner[2, 1] - corner[0, 1], corner[2, 2] - corner[0, 2]
        area = ux * vy - uy * vx
        across = (uz * vy - uy * vz) / area if area != 0.0 else 0.0
        along = (ux * vz - uz * vx) / area if area != 0.0 else 0.0
        floor = min(corner[0, 2], corner[1, 2], corner[2, 2])
        roof = max(corner[0, 2], corner[1, 2], corner[2, 2])
        for row in range(first, last):
            long = _cut(corner[a, 0], low, corner[c, 0], high, row)
            if row < middle:
                short = _cut(corner[a, 0], low, corner[b, 0], middle, row)
            else:
                short = _cut(corner[b, 0], middle, corner[c, 0], high, row)
            begin = max(math.ceil(min(long, short)), 0)
            end = min(math.ceil(max(long, short)), shape[0])
            if end <= begin:
                continue
            count += end - begin
            if count > most:
                return -1
            way = turned if short > long else -turned
            for column in range(begin, end):
                at = starts[row * shape[0] + column]
                starts[row * shape[0] + column] += 1
                if heights.shape[0] == 0:
                    continue
                rise = across * (column - corner[0, 0]) + along * (row - corner[0, 1])
                heights[at] = max(floor, min(roof, corner[0, 2] + rise))
                ways[at] = way
    return count


@compiled
def _sort(heights: Floats, ways: Bytes) -> None:
    """Put crossings of a column in the order of their heights: insertion, over far steps first if many."""
    step = 1
    while step < len(heights) // 9:
        step = 3 * step + 1
    while step > 0:
        for n in range(step, len(heights)):
            height, way = heights[n], ways[n]
            k = n
            while k >= step and heights[k - step] > height:
                heights[k], ways[k] = heights[k - step], ways[k - step]
                k -= step
            heights[k], ways[k] = height, way
        step //= 3


@compiled
def spans(
    ends: Longs,
    heights: Floats,
    ways: Bytes,
    thin: float,
    top: Floats,
    bottom: Floats,
    gap_column: Longs,
    gap_low: Floats,
    gap_high: Floats,
) -> tuple[int, int, int]:
    """Sort each column's crossings (which end at ``ends``) and tell metal from sand.

    Fills in top, bottom and the gaps of sand that are thicker than ``thin``. Returns how many gaps
    there are, how many columns meet the surface, and how many of them do not balance.
    """
    gaps, met, bad = 0, 0, 0
    begin = 0
    for column in range(ends.shape[0]):
        end = ends[column]
        top[column], bottom[column] = np.nan, np.nan
        balance = 0
        for n in range(begin, end):
            balance += ways[n]
        _sort(heights[begin:end], ways[begin:end])
        met += end > begin
        if balance != 0:
            bad += 1
        elif end > begin and heights[end - 1] - heights[begin] > thin:
            bottom[column], top[column] = heights[begin], heights[end - 1]
            inside = 0
            for n in range(begin, end - 1):
                inside -= ways[n]
                if inside <= 0 and heights[n + 1] - heights[n] > thin:
                    gap_column[gaps], gap_low[gaps], gap_high[gaps] = column, heights[n], heights[n + 1]
                    gaps += 1
        begin = end
    return gaps, met, bad
