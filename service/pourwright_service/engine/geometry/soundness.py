"""Whether triangles close to a body: by hashing edges, without sorting where all is well.

Corners that lie in the same place (as single-precision numbers, which is what STL holds) are the
same corner.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Hashes = NDArray[np.uint64]

_AT_ONCE = 8192
_ODD = tuple(
    np.uint64(number)
    for number in (0x9E3779B97F4A7C15, 0xC2B2AE3D27D4EB4F, 0x165667B19E3779F9, 0xD6E8FEB86659FD93)
)
_SIDES = ((0, 1), (1, 2), (2, 0))


def _mixed(hashes: Hashes) -> Hashes:
    """Spread every bit over all others, in place (a product wraps at 2^64, as wanted)."""
    hashes ^= hashes >> np.uint64(32)
    hashes *= _ODD[3]
    hashes ^= hashes >> np.uint64(29)
    return hashes


def corner_hashes(triangles: Floats) -> Hashes:
    """A number for each corner, (n, 3): the same for corners in the same place, and only then
    (but for a chance of 1 in 10^8 in a mesh of a million triangles)."""
    found = np.empty(triangles.shape[:2], dtype=np.uint64)
    for start in range(0, len(triangles), _AT_ONCE):
        piece = triangles[start : start + _AT_ONCE].astype(np.float32) + np.float32(0.0)  # -0.0 is 0.0
        bits = piece.view(np.uint32).astype(np.uint64)
        found[start : start + _AT_ONCE] = _mixed(
            bits[..., 0] * _ODD[0] + bits[..., 1] * _ODD[1] + bits[..., 2] * _ODD[2]
        )
    return found


def _sides(corners: Hashes, side: tuple[int, int]) -> tuple[Hashes, NDArray[np.int64]]:
    """For one side of each triangle: the hash of its edge, and which way it is run (1, -1; 0 for
    an edge whose ends are the same corner)."""
    first = np.ascontiguousarray(corners[:, side[0]])
    second = np.ascontiguousarray(corners[:, side[1]])
    edge = _mixed((first + second) * _ODD[0] ^ first * second)
    return edge, np.subtract(first < second, first > second, dtype=np.int64)


def balanced(corners: Hashes) -> bool:
    """Whether every edge is run as often one way as the other: the surface is closed and its
    triangles agree which side is out. The signed hashes of all edges must sum to 0."""
    total = 0
    for start in range(0, len(corners), _AT_ONCE):
        piece = corners[start : start + _AT_ONCE]
        for side in _SIDES:
            edge, way = _sides(piece, side)
            total += int((edge * way.view(np.uint64)).sum(dtype=np.uint64))
    return total % 2**64 == 0


def edge_faults(corners: Hashes) -> tuple[int, int]:
    """How many edges are open (an odd number of triangles), and how many are flipped (run more
    often one way than the other by an even number of triangles)."""
    pairs = [_sides(corners, side) for side in _SIDES]
    edges = np.concatenate([edge for edge, _ in pairs])
    ways = np.concatenate([way for _, way in pairs])
    edges, ways = edges[ways != 0], ways[ways != 0]
    order = np.argsort(edges, kind="stable")
    edges, ways = edges[order], ways[order]
    starts = np.flatnonzero(np.concatenate(([True], edges[1:] != edges[:-1])))
    counts = np.diff(np.append(starts, len(edges)))
    sums = np.add.reduceat(ways, starts)
    odd = counts % 2 == 1
    return int(np.count_nonzero(odd)), int(np.count_nonzero(~odd & (sums != 0)))


def twins(corners: Hashes) -> int:
    """How many triangles lie in the very place of another: a body that is in the file twice."""
    names = _mixed(corners.sum(axis=1, dtype=np.uint64) * _ODD[0] ^ corners.prod(axis=1, dtype=np.uint64))
    names.sort()
    return int(np.count_nonzero(names[1:] == names[:-1]))


@dataclass(frozen=True, slots=True)
class Hole:
    """Open edges that hang together: how many, their middle, and the size of their box."""

    edges: int
    centre: tuple[float, float, float]
    size: float


def holes(triangles: Floats, corners: Hashes) -> tuple[Hole, ...]:
    """The holes of a surface that does not close, the largest first, in its own length unit."""
    pairs = [_sides(corners, side) for side in _SIDES]
    edges = np.concatenate([edge for edge, _ in pairs])
    proper = np.concatenate([way for _, way in pairs]) != 0
    _, inverse, counts = np.unique(edges, return_inverse=True, return_counts=True)
    (open_,) = np.nonzero((counts[inverse] % 2 == 1) & proper)
    if not len(open_):
        return ()
    side, triangle = np.divmod(open_, len(corners))
    ends = np.array(_SIDES)[side]
    start, end = corners[triangle, ends[:, 0]], corners[triangle, ends[:, 1]]
    names, numbered = np.unique(np.concatenate((start, end)), return_inverse=True)
    found, label = connected(len(names), numbered[: len(start)], numbered[len(start) :])
    of_edge = label[numbered[: len(start)]]
    both = np.concatenate((triangles[triangle, ends[:, 0]], triangles[triangle, ends[:, 1]]))
    twice = np.concatenate((of_edge, of_edge))
    made = []
    for number in range(found):
        at = both[twice == number]
        low, high = at.min(axis=0), at.max(axis=0)
        middle = (low + high) / 2.0
        made.append(
            Hole(
                int(np.count_nonzero(of_edge == number)),
                (float(middle[0]), float(middle[1]), float(middle[2])),
                float(np.linalg.norm(high - low)),
            )
        )
    return tuple(sorted(made, key=lambda hole: (-hole.size, hole.centre)))


def shells(corners: Hashes) -> tuple[int, NDArray[np.int32]]:
    """How many surfaces there are that hang together by corners, and to which each triangle belongs."""
    _, corner = np.unique(corners.ravel(), return_inverse=True)
    rows = corner.reshape(-1, 3)
    ends = np.concatenate((rows[:, 1], rows[:, 2]))
    starts = np.concatenate((rows[:, 0], rows[:, 0]))
    found, label = connected(int(corner.max()) + 1, starts, ends)
    return found, label[rows[:, 0]]


def connected(
    count: int, starts: NDArray[np.int64], ends: NDArray[np.int64]
) -> tuple[int, NDArray[np.int32]]:
    """Which of ``count`` points hang together by links: how many groups, and each point's group."""
    from scipy.sparse import coo_array  # here, because it is slow to load and only meshes need it
    from scipy.sparse.csgraph import connected_components

    links = coo_array((np.ones(len(ends), dtype=np.int8), (starts, ends)), shape=(count, count))
    found, label = connected_components(links, directed=False)
    return int(found), label
