"""What freezes last, and where little metal can follow the shrinkage."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..formulas.freeze_map import equivalent_modulus, gradient_over_root_rate
from .mapping import FreezeMap

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]

LATEST = 0.05
"""The last to freeze are this share of the metal."""

NARROWEST_RANGE = 5.0
"""Below so many kelvin of freezing range the cooling rate at its end cannot be told."""


@dataclass(frozen=True, slots=True)
class LastRegion:
    """Metal that hangs together and is among the last to freeze.

    ``place`` m: its middle, weighted by volume; ``hottest`` m: where it freezes last; ``low``,
    ``high`` m: its box; ``volume`` m^3; ``time`` s: when its last metal is solid;
    ``equivalent_modulus`` m: of a plate that freezes in that time; ``bodies``: numbers of the
    bodies it lies in, the one with most of it first.
    """

    place: tuple[float, float, float]
    hottest: tuple[float, float, float]
    low: tuple[float, float, float]
    high: tuple[float, float, float]
    volume: float
    time: float
    equivalent_modulus: float
    bodies: tuple[int, ...]


def last_regions(
    found: FreezeMap, mould_constant: float, bodies: tuple[int, ...] | None = None
) -> tuple[LastRegion, ...]:
    """The latest 5 % of the metal, piece by piece, the last to freeze first.

    ``mould_constant`` (s/m^2) of a plate in the same mould turns times into moduli. ``bodies``:
    look only at the metal of these, by number; all without it. Cells that share a face, an edge
    or a corner hang together.
    """
    from scipy.ndimage import find_objects, label  # here, because they are slow to load

    counted = np.isfinite(found.times)
    if bodies is not None:
        counted &= np.isin(found.owners, bodies)
    if not np.any(counted):
        return ()
    late = counted & (found.times >= _late_from(found.times[counted], found.shares[counted]))
    pieces, _ = label(late, np.ones((3, 3, 3)))
    regions = []
    boxes: Any = find_objects(pieces)
    for number, box in enumerate(boxes, start=1):
        corner = np.array([side.start for side in box])
        cells = np.argwhere(pieces[box] == number) + corner
        regions.append(_region(found, cells, mould_constant))
    return tuple(sorted(regions, key=lambda region: (-region.time, -region.volume)))


def _late_from(times: Singles, shares: Singles) -> float:
    """The time after which the latest 5 % of the metal's volume freezes."""
    order = np.argsort(times)
    volume = np.cumsum(shares[order], dtype=np.float64)
    place = int(np.searchsorted(volume, (1.0 - LATEST) * volume[-1]))
    return float(times[order[min(place, len(order) - 1)]])


def _region(found: FreezeMap, cells: NDArray[np.int64], mould_constant: float) -> LastRegion:
    x, y, z = cells.T
    times, shares, owners = (array[x, y, z] for array in (found.times, found.shares, found.owners))
    side, origin = found.block.cell, found.block.origin
    centres = origin + (cells + 0.5) * side
    hottest = int(np.argmax(times))
    owning, counts = np.unique(owners, return_counts=True)
    time = float(times[hottest])
    return LastRegion(
        place=_point(np.average(centres, axis=0, weights=shares)),
        hottest=_point(centres[hottest]),
        low=_point(origin + cells.min(axis=0) * side),
        high=_point(origin + (cells.max(axis=0) + 1) * side),
        volume=float(shares.sum(dtype=np.float64)) * side**3,
        time=time,
        equivalent_modulus=equivalent_modulus(time, mould_constant),
        bodies=tuple(int(body) for body in owning[np.argsort(-counts, kind="stable")]),
    )


def _point(values: Floats) -> tuple[float, float, float]:
    x, y, z = (float(value) for value in values)
    return x, y, z


def feeding_figure(found: FreezeMap) -> Floats | None:
    """Temperature gradient over the root of the cooling rate at the end of freezing, for each cell.

    (x, y, z) in K^0.5 s^0.5/m, NaN where there is no metal or its neighbours are not either; None
    for a freezing range so narrow that the rate cannot be told. The gradient is the cooling rate
    times the gradient of the time of freezing: on the surface that is freezing the temperature is
    the same everywhere.
    """
    if found.freezing_range < NARROWEST_RANGE:
        return None
    times = found.times.astype(np.float64)
    x, y, z = (_slope(times, axis, found.block.cell) for axis in range(3))
    delay = np.sqrt(x**2 + y**2 + z**2)
    known = np.isfinite(delay) & np.isfinite(found.rates)
    figure = np.full(times.shape, np.nan)
    # A formula takes arrays as well, though it is annotated for the single number.
    gradients: Any = delay[known]
    rates: Any = found.rates[known].astype(np.float64)
    figure[known] = gradient_over_root_rate(gradients, rates)
    return figure


def _slope(times: Floats, axis: int, cell: float) -> Floats:
    """Change of the time along an axis (s/m), from both neighbours or the one that is metal."""
    step = np.diff(times, axis=axis) / cell
    edge = np.full_like(np.take(times, [0], axis=axis), np.nan)
    before, after = (np.concatenate(pair, axis=axis) for pair in ((edge, step), (step, edge)))
    both = (before + after) / 2.0
    return np.where(np.isfinite(both), both, np.where(np.isfinite(before), before, after))
