"""Whether triangles close to a body: by hashing edges, without sorting where all is well.

Corners that lie in the same place (as single-precision numbers, which is what STL holds) are the
same corner.
"""

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


def shells(corners: Hashes) -> int:
    """How many surfaces there are that hang together by corners."""
    from scipy.sparse import coo_array  # here, because it is slow to load and only meshes need it
    from scipy.sparse.csgraph import connected_components

    _, corner = np.unique(corners.ravel(), return_inverse=True)
    rows = corner.reshape(-1, 3)
    count = int(corner.max()) + 1
    ends = np.concatenate((rows[:, 1], rows[:, 2]))
    starts = np.concatenate((rows[:, 0], rows[:, 0]))
    links = coo_array((np.ones(len(ends), dtype=np.int8), (starts, ends)), shape=(count, count))
    found, _ = connected_components(links, directed=False)
    return int(found)
