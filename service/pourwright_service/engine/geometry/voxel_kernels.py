"""Kernels of the voxels: where rays cross triangles, and how long they run in which body.

Rays run along one axis (w) on a lattice over the other two (u, v), so placed that they lie at whole
numbers of ray steps. All lengths along a ray are in cells.
"""

import numpy as np
from numpy.typing import NDArray

from ..compiled import compiled

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]
Integers = NDArray[np.int32]
Bytes = NDArray[np.int8]
Longs = NDArray[np.int64]

RAYS = 4
"""Rays along each side of a cell's face: 16 for each cell and axis."""


@compiled
def measure(triangles: Floats, low: Floats, high: Floats) -> float:
    """Volume enclosed by triangles (n, 3, 3); their least and greatest coordinates go to low, high."""
    low[:], high[:] = np.inf, -np.inf
    for n in range(triangles.shape[0]):
        for corner in range(3):
            for axis in range(3):
                low[axis] = min(low[axis], triangles[n, corner, axis])
                high[axis] = max(high[axis], triangles[n, corner, axis])
    x, y, z = (low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0, (low[2] + high[2]) / 2.0
    six = 0.0
    for n in range(triangles.shape[0]):
        ax, ay, az = triangles[n, 0, 0] - x, triangles[n, 0, 1] - y, triangles[n, 0, 2] - z
        bx, by, bz = triangles[n, 1, 0] - x, triangles[n, 1, 1] - y, triangles[n, 1, 2] - z
        cx, cy, cz = triangles[n, 2, 0] - x, triangles[n, 2, 1] - y, triangles[n, 2, 2] - z
        six += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
    return six / 6.0


@compiled
def _left(au: float, av: float, bu: float, bv: float, u: float, v: float) -> bool:
    """Whether a point lies left of the directed edge a to b.

    The edge is always looked at from its lower end, so that both its triangles get the same
    answer; a point on the line counts as moved by a hair to the right and a smaller hair up.
    """
    turned = av > bv or (av == bv and au > bu)
    if turned:
        au, av, bu, bv = bu, bv, au, av
    side = (bu - au) * (v - av) - (bv - av) * (u - au)
    on_left = side > 0.0 or (side == 0.0 and av == bv)
    return on_left != turned


@compiled
def crossings(
    triangles: Floats,
    axis: int,
    origin: Floats,
    cell: float,
    counts: tuple[int, int],
    body: int,
    rays: Integers,
    depths: Singles,
    marks: Bytes,
    filled: int,
) -> int:
    """Enter every crossing of a ray with a triangle from place ``filled`` on; the places needed.

    triangles (n, 3, 3); ``counts``: rays along u and v. A crossing is its ray's number, its depth
    in cells, and a mark: body + 1 where the ray enters, negative where it leaves. What does not
    fit into the arrays is counted but not entered.
    """
    first, second = (axis + 1) % 3, (axis + 2) % 3
    scale = RAYS / cell
    for n in range(triangles.shape[0]):
        au = (triangles[n, 0, first] - origin[first]) * scale - 0.5
        bu = (triangles[n, 1, first] - origin[first]) * scale - 0.5
        cu = (triangles[n, 2, first] - origin[first]) * scale - 0.5
        u_low = int(np.ceil(min(au, bu, cu)))
        u_high = int(np.floor(max(au, bu, cu)))
        if u_low > u_high:
            continue
        av = (triangles[n, 0, second] - origin[second]) * scale - 0.5
        bv = (triangles[n, 1, second] - origin[second]) * scale - 0.5
        cv = (triangles[n, 2, second] - origin[second]) * scale - 0.5
        v_low = int(np.ceil(min(av, bv, cv)))
        v_high = int(np.floor(max(av, bv, cv)))
        if v_low > v_high:
            continue
        area = (bu - au) * (cv - av) - (cu - au) * (bv - av)
        if area == 0.0:
            continue
        aw = (triangles[n, 0, axis] - origin[axis]) / cell
        bw = (triangles[n, 1, axis] - origin[axis]) / cell
        cw = (triangles[n, 2, axis] - origin[axis]) / cell
        slope_u = ((bw - aw) * (cv - av) - (cw - aw) * (bv - av)) / area
        slope_v = ((cw - aw) * (bu - au) - (bw - aw) * (cu - au)) / area
        low, high = min(aw, bw, cw), max(aw, bw, cw)
        facing = area > 0.0
        for i in range(max(u_low, 0), min(u_high, counts[0] - 1) + 1):
            for j in range(max(v_low, 0), min(v_high, counts[1] - 1) + 1):
                if (
                    _left(au, av, bu, bv, i, j) == facing
                    and _left(bu, bv, cu, cv, i, j) == facing
                    and _left(cu, cv, au, av, i, j) == facing
                ):
                    if filled < rays.shape[0]:
                        depth = aw + slope_u * (i - au) + slope_v * (j - av)
                        rays[filled] = i * counts[1] + j
                        depths[filled] = min(max(depth, low), high)
                        marks[filled] = -(body + 1) if facing else body + 1
                    filled += 1
    return filled


@compiled
def in_order(
    rays: Integers, depths: Singles, marks: Bytes, starts: Longs, sorted_depths: Singles, sorted_marks: Bytes
) -> None:
    """Sort crossings by ray and depth; ``starts`` (rays + 1), zeros at first, tells where each begins."""
    for n in range(rays.shape[0]):
        starts[rays[n] + 1] += 1
    for n in range(starts.shape[0] - 1):
        starts[n + 1] += starts[n]
    ends = starts[:-1].copy()
    for n in range(rays.shape[0]):
        place = ends[rays[n]]
        ends[rays[n]] = place + 1
        depth, mark = depths[n], marks[n]
        while place > starts[rays[n]] and sorted_depths[place - 1] > depth:
            sorted_depths[place] = sorted_depths[place - 1]
            sorted_marks[place] = sorted_marks[place - 1]
            place -= 1
        sorted_depths[place] = depth
        sorted_marks[place] = mark


@compiled
def _judge(marks: Bytes, first: int, last: int, by_parity: Bytes) -> int:
    """How a ray is to be read: 0 by winding, 1 by parity for some body, 2 not at all.

    ``by_parity`` is set for bodies whose windings do not end at 0 or fall below it, though they
    are crossed an even number of times (a triangle the wrong way about).
    """
    verdict = 0
    for body in range(by_parity.shape[0]):
        winding, least, count = 0, 0, 0
        for n in range(first, last):
            if abs(marks[n]) == body + 1:
                winding += 1 if marks[n] > 0 else -1
                least = min(least, winding)
                count += 1
        by_parity[body] = 0
        if winding != 0 or least < 0:
            if count % 2 == 1:
                return 2
            by_parity[body] = 1
            verdict = 1
    return verdict


@compiled
def _stretch(lengths: Singles, whole: Integers, body: int, start: float, end: float) -> None:
    """Add a stretch of ray (in half cells) to a body: broken pieces at once, whole ones as a step."""
    top = lengths.shape[1] - 1
    start, end = min(max(start, 0.0), top), min(max(end, 0.0), top)
    i, j = int(start), int(end)
    if i == j:
        lengths[body, i] += end - start
    else:
        lengths[body, i] += i + 1 - start
        lengths[body, j] += end - j
        whole[body, i + 1] += 1
        whole[body, j] -= 1


@compiled
def sweep(
    starts: Longs,
    depths: Singles,
    marks: Bytes,
    rays_v: int,
    extra: Singles,
    sums: Singles,
    weights: Singles,
    links: Singles,
    alone: Floats,
    tally: Longs,
) -> None:
    """Follow every ray through the bodies; where several overlap the first of them is there.

    All arrays start at 0. sums (bodies, u, v, w): the length in each body, summed over the good
    rays of a cell; weights (u, v): how many those are. alone (bodies): the length in each body,
    whatever overlaps it. links (u, v, w): mean of length times ``extra`` (bodies, resistivity
    above the mould's) from a cell's centre to the next one's; NaN where no ray was good. tally:
    rays that cross anything, bad rays, rays read by parity, rays with an overlap within one body.
    """
    bodies, cells_u, cells_v, cells = sums.shape
    lengths = np.zeros((bodies, 2 * cells + 2), np.float32)
    whole = np.zeros((bodies, 2 * cells + 2), np.int32)
    by_parity = np.zeros(bodies, np.int8)
    winding, crossed = np.zeros(bodies, np.int64), np.zeros(bodies, np.int64)
    resistance = np.zeros(2 * cells + 2, np.float32)
    for i in range(cells_u):
        for j in range(cells_v):
            good, touched = 0, False
            for ray in range(RAYS * RAYS):
                number = (RAYS * i + ray // RAYS) * rays_v + RAYS * j + ray % RAYS
                first, last = starts[number], starts[number + 1]
                if first == last:
                    good += 1
                    continue
                tally[0] += 1
                verdict = _judge(marks, first, last, by_parity)
                if verdict == 2:
                    tally[1] += 1
                    continue
                if verdict == 1:
                    tally[2] += 1
                good += 1
                touched = True
                layered = False
                winding[:] = 0
                crossed[:] = 0
                for n in range(first, last):
                    body = abs(marks[n]) - 1
                    winding[body] += 1 if marks[n] > 0 else -1
                    crossed[body] += 1
                    layered |= winding[body] > 1
                    if n + 1 == last or depths[n + 1] <= depths[n]:
                        continue
                    there = -1
                    for other in range(bodies - 1, -1, -1):
                        inside = crossed[other] % 2 == 1 if by_parity[other] else winding[other] > 0
                        if inside:
                            there = other
                            alone[other] += depths[n + 1] - depths[n]
                    if there >= 0:
                        _stretch(lengths, whole, there, 2.0 * depths[n], 2.0 * depths[n + 1])
                if layered:
                    tally[3] += 1
            weights[i, j] = good
            if good == 0:
                links[i, j, :] = np.nan
                continue
            if not touched:
                continue
            resistance[:] = 0.0
            for body in range(bodies):
                full = 0
                for k in range(2 * cells):
                    full += whole[body, k]
                    half = (lengths[body, k] + full) / 2.0
                    sums[body, i, j, k // 2] += half
                    resistance[k] += half * extra[body]
                lengths[body, :] = 0.0
                whole[body, :] = 0
            for k in range(cells - 1):
                links[i, j, k] = (resistance[2 * k + 1] + resistance[2 * k + 2]) / good
