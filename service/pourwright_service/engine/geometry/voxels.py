"""Voxels: how much of every cell each body fills, and how the heat's way between cells is shared.

A cell on the surface is never wholly in or out. Rays along the three axes, 16 to a cell, measure
exactly how much of their length lies in which body; a cell's share is the mean over its rays. A
ray that enters a body and never leaves it has met a hole in the mesh: it is dropped and counted.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .stl import MeshFault
from .voxel_grid import Block

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]

DOUBTFUL_RAYS = 0.01
"""Above this share of dropped rays along an axis the mesh is doubtful."""

HOPELESS_RAYS = 0.10
"""Above this share along two axes or more the mesh is refused."""

TRUSTED_VOLUME = 0.02
"""Cells are scaled to the mesh's volume if they differ from it by no more than this."""

MOST_BODIES = 64


@dataclass(frozen=True, slots=True)
class RayQuality:
    """What the rays along one axis met: how many crossed a body, and which share of these was
    dropped (``bad``), read by parity because triangles are the wrong way about (``parity``), or
    went through metal twice over where shells of one body overlap (``overlap``)."""

    rays: int
    bad: float
    parity: float
    overlap: float


@dataclass(frozen=True, slots=True)
class VoxelQuality:
    """How far the voxels may be trusted.

    ``axes``: for rays along x, y, z. ``volumes``: for each body the rays' volume over the mesh's
    own (None where the mesh encloses none). ``scaled``: which bodies' partial cells were scaled
    to the mesh's volume. ``unseen``: cells through which no good ray went along any axis.
    """

    axes: tuple[RayQuality, RayQuality, RayQuality]
    volumes: tuple[float | None, ...]
    scaled: tuple[bool, ...]
    unseen: int

    @property
    def verdict(self) -> Literal["pass", "warn"]:
        """``warn`` where more than 1 % of the rays along an axis were dropped."""
        return "warn" if any(axis.bad > DOUBTFUL_RAYS for axis in self.axes) else "pass"


@dataclass(frozen=True, slots=True, eq=False)
class Voxels:
    """Bodies in a block of cells.

    ``shares`` (bodies, x, y, z): part of each cell's volume that each body fills, float32.
    ``links``: for x, y, z an array (x, y, z) of the resistance (m^2 K/W) from each cell's centre
    to the next one's along that axis, less that of as much mould; the last along the axis is 0.
    """

    block: Block
    shares: Singles
    links: tuple[Singles, Singles, Singles]
    quality: VoxelQuality


def voxelise(
    bodies: Sequence[Floats], block: Block, conductivities: Sequence[float], mould_conductivity: float
) -> Voxels:
    """Fill a block's cells with bodies, each a closed surface of triangles (n, 3, 3) in metres.

    Where bodies overlap the one named first is there. ``conductivities`` of the bodies and the
    mould, W/(m K). Raises MeshFault ``mesh_not_closed`` where more than 10 % of the rays along
    two axes or more had to be dropped; ValueError for no bodies, too many, or a body that sticks
    out of the block.
    """
    if not 0 < len(bodies) <= MOST_BODIES or len(bodies) != len(conductivities):
        raise ValueError(f"1 to {MOST_BODIES} bodies, each with a conductivity")
    bodies = [_plain(triangles) for triangles in bodies]
    own = []
    for triangles in bodies:
        low, high, volume = measured(triangles)
        end = block.origin + block.cell * np.array(block.counts)
        if np.any(low < block.origin) or np.any(high > end):
            raise ValueError("a body sticks out of the block")
        own.append(volume)
    extra = (1.0 / np.asarray(conductivities) - 1.0 / mould_conductivity).astype(np.float32)
    shares = np.zeros((len(bodies), *block.counts), np.float32)
    weights = np.zeros(block.counts, np.float32)
    alone = np.zeros((3, len(bodies)))
    links: list[Singles] = []
    axes: list[RayQuality] = []
    for axis in range(3):
        seen, weight, link, quality = _scan(bodies, block, axis, extra, alone[axis])
        shares += np.moveaxis(seen, (1, 2, 3), _places(axis, 1))
        weights += np.moveaxis(weight[:, :, None], (0, 1, 2), _places(axis, 0))
        links.append(np.ascontiguousarray(np.moveaxis(link, (0, 1, 2), _places(axis, 0))))
        axes.append(quality)
    if sum(axis.bad > HOPELESS_RAYS for axis in axes) > 1:
        worst = max(axis.bad for axis in axes)
        detail = f"the surface has holes: {100.0 * worst:.0f} % of the rays that enter it never leave it"
        raise MeshFault("mesh_not_closed", detail)
    unseen = int(np.count_nonzero(weights == 0.0))
    shares /= np.maximum(weights, 1.0)
    found = [_good_mean(alone[:, number], axes) for number in range(len(bodies))]
    volumes, scaled = _to_volume(own, found, shares, block.cell**3)
    for axis in range(3):
        _fill_in(links[axis], axis, shares, extra)
        links[axis] *= np.float32(block.cell)
    x, y, z = axes
    return Voxels(
        block, shares, (links[0], links[1], links[2]), VoxelQuality((x, y, z), volumes, scaled, unseen)
    )


def _plain(triangles: Floats) -> Floats:
    """The same as the kernels are compiled for: a read-only array would have them compiled anew."""
    return np.require(triangles, np.float64, ["C", "W"])


def measured(triangles: Floats) -> tuple[Floats, Floats, float]:
    """Least and greatest coordinates of triangles (n, 3, 3), and the volume that they enclose."""
    from . import voxel_kernels as kernels  # here, because numba is slow to load

    low, high = np.empty(3), np.empty(3)
    volume = kernels.measure(_plain(triangles), low, high)
    return low, high, volume


def _places(axis: int, offset: int) -> tuple[int, int, int]:
    """Where a scan's own axes u, v, w belong in x, y, z, behind ``offset`` other axes."""
    return ((axis + 1) % 3 + offset, (axis + 2) % 3 + offset, axis + offset)


def _scan(
    bodies: Sequence[Floats], block: Block, axis: int, extra: Singles, alone: Floats
) -> tuple[Singles, Singles, Singles, RayQuality]:
    """One axis' rays: lengths in each body, good rays, links (all in u, v, w), and their quality."""
    from . import voxel_kernels as kernels  # here, because numba is slow to load

    u, v, w = (block.counts[(axis + step) % 3] for step in (1, 2, 3))
    lattice = (kernels.RAYS * u, kernels.RAYS * v)
    room = 4 * lattice[0] * lattice[1] * len(bodies)
    while True:
        rays, depths = np.empty(room, np.int32), np.empty(room, np.float32)
        marks = np.empty(room, np.int8)
        filled = 0
        for number, triangles in enumerate(bodies):
            filled = kernels.crossings(
                triangles, axis, block.origin, block.cell, lattice, number, rays, depths, marks, filled
            )
        if filled <= room:
            break
        room = filled
    starts = np.zeros(lattice[0] * lattice[1] + 1, np.int64)
    ordered, signed = np.empty(filled, np.float32), np.empty(filled, np.int8)
    kernels.in_order(rays[:filled], depths[:filled], marks[:filled], starts, ordered, signed)
    seen = np.zeros((len(bodies), u, v, w), np.float32)
    weights, links = np.zeros((u, v), np.float32), np.zeros((u, v, w), np.float32)
    tally = np.zeros(4, np.int64)
    kernels.sweep(starts, ordered, signed, lattice[1], extra, seen, weights, links, alone, tally)
    alone *= block.cell**3 / kernels.RAYS**2
    crossing = max(int(tally[0]), 1)
    bad, parity, overlap = (float(count) / crossing for count in tally[1:])
    return seen, weights, links, RayQuality(int(tally[0]), bad, parity, overlap)


def _good_mean(volumes: Floats, axes: Sequence[RayQuality]) -> float:
    """A body's volume by the rays, each axis' made up for the rays it dropped."""
    return float(
        np.mean([volume / max(1.0 - axis.bad, 0.1) for volume, axis in zip(volumes, axes, strict=True)])
    )


def _to_volume(
    own: Sequence[float], found: Sequence[float], shares: Singles, cell: float
) -> tuple[tuple[float | None, ...], tuple[bool, ...]]:
    """Scale the partial cells of every body that can be believed to its mesh's own volume."""
    volumes: list[float | None] = []
    scaled: list[bool] = []
    for number, (exact, volume) in enumerate(zip(own, found, strict=True)):
        ratio = volume / exact if exact > 0.0 else None
        volumes.append(ratio)
        sound = ratio is not None and abs(ratio - 1.0) <= TRUSTED_VOLUME
        scaled.append(sound)
        if sound:
            share = shares[number]
            partial = (share > 0.0) & (share < 1.0)
            held = float(share[partial].sum(dtype=np.float64)) * cell
            others = shares.sum(axis=0)[partial] - share[partial]
            wanted = share[partial] * np.float32(1.0 + (exact - volume) / max(held, cell))
            share[partial] = np.clip(wanted, 0.0, 1.0 - others)
    return tuple(volumes), tuple(scaled)


def _fill_in(links: Singles, axis: int, shares: Singles, extra: Singles) -> None:
    """Give a link that no good ray followed the mean of its two cells, in cells."""
    lost = np.isnan(links)
    if np.any(lost):
        mean = np.tensordot(extra, shares, axes=1)
        halves = np.zeros_like(mean)
        before, after = [slice(None)] * 3, [slice(None)] * 3
        before[axis], after[axis] = slice(None, -1), slice(1, None)
        halves[tuple(before)] = (mean[tuple(before)] + mean[tuple(after)]) / 2.0
        links[lost] = halves[lost]
