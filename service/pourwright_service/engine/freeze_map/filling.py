"""A mould with its bodies as cells that hold heat and pass it on."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..geometry.voxel_grid import Grid
from ..geometry.voxels import Voxels
from .heat import Conduction, spread_apart
from .substances import Medium, Metal

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]

FIRST = 0.05
"""Steps begin as if the time were this share of what heat needs to cross a cell of mould."""


@dataclass(frozen=True, slots=True, eq=False)
class Filling:
    """The case to solve, and how much of each cell's volume in the block is metal."""

    case: Conduction
    share: Singles


def fill(
    voxels: Voxels, grid: Grid, substances: Sequence[Metal | Medium], metal: Metal, mould: Medium
) -> Filling:
    """Put the bodies' substances into a grid's cells at the moment when the mould is full.

    ``substances``: one for each of the voxels' bodies, ``metal`` itself for every body of metal.
    The conductivities must be those the voxels were made with.
    """
    block = grid.inside
    widths = [grid.widths(axis).astype(np.float32) for axis in range(3)]
    volumes = widths[0][:, None, None] * widths[1][:, None] * widths[2]
    volume_of_metal, rest, heat, *along = spread_apart(6, grid.shape)
    share, capacity, warmth = _mixed(voxels.shares, substances, metal, mould)
    rest[...] = volumes * np.float32(mould.heat_capacity)
    heat[...] = rest * np.float32(mould.start_temperature - metal.solidus)
    even = np.float32(voxels.block.cell**3)
    volume_of_metal[block] = share * even
    rest[block] = capacity * even
    full = metal.heat_at(metal.start_temperature)
    heat[block] = volume_of_metal[block] * np.float32(full) + warmth * even
    for axis, conductance in enumerate(along):
        _link(conductance, axis, widths, mould.conductivity, voxels.links[axis], block)
    first = FIRST * voxels.block.cell**2 * mould.heat_capacity / mould.conductivity
    return Filling(
        Conduction(metal, volume_of_metal, rest, (along[0], along[1], along[2]), heat, first), share
    )


def _mixed(
    shares: Singles, substances: Sequence[Metal | Medium], metal: Metal, mould: Medium
) -> tuple[Singles, Singles, Singles]:
    """By volume of cell: the share of metal, the heat capacity of the rest, and the rest's heat at
    the start counted from the solidus."""
    share = np.zeros(shares.shape[1:], np.float32)
    capacity, warmth = np.zeros_like(share), np.zeros_like(share)
    sand = 1.0 - shares.sum(axis=0)
    for filled, substance in ((sand, mould), *zip(shares, substances, strict=True)):
        if isinstance(substance, Medium):
            held = filled * np.float32(substance.heat_capacity)
            capacity += held
            warmth += held * np.float32(substance.start_temperature - metal.solidus)
        else:
            share += filled
    return share, np.maximum(capacity, 0.0), warmth


def _link(
    conductance: Singles,
    axis: int,
    widths: Sequence[Singles],
    mould_conductivity: float,
    extra: Singles,
    block: tuple[slice, slice, slice],
) -> None:
    """Conductances towards the next cell along an axis: the resistance of as much mould, and what
    the bodies change of it."""
    shape = [1, 1, 1]
    shape[axis] = -1
    gaps = np.append((widths[axis][:-1] + widths[axis][1:]) / 2.0, widths[axis][-1]).astype(np.float32)
    resistance = (gaps / np.float32(mould_conductivity)).reshape(shape)
    first, second = (other for other in range(3) if other != axis)
    one, two = [1, 1, 1], [1, 1, 1]
    one[first], two[second] = -1, -1
    areas = widths[first].reshape(one) * widths[second].reshape(two)
    conductance[...] = areas / resistance
    even = areas[tuple(piece if other != axis else slice(None) for other, piece in enumerate(block))]
    inner = resistance[tuple(block[axis] if other == axis else slice(None) for other in range(3))]
    conductance[block] = even / (inner + extra)
    # The heat never comes so far: no link to the outermost cells, so that its sum can be checked.
    for place in (0, -2, -1):
        outer = [slice(None)] * 3
        outer[axis] = slice(place, place + 1 or None)
        conductance[tuple(outer)] = 0.0
