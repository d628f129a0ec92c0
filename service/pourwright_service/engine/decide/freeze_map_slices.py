"""Planes through a freeze map, to be looked at."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..freeze_map.mapping import FreezeMap
from .plan_map import Frame, Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Slice:
    """A plane through the place that freezes last.

    ``times`` s, NaN outside the metal, and ``owners`` (bodies by number, -1 the mould): rows from the
    top down, columns to the right. ``across`` is the axis of the file that the plane is square to, ``at``
    where it cuts it (m); ``right`` and ``up`` are the axes of the file along the picture, such as ``-z``.
    ``cell`` m, the side of a point; ``spot`` row and column of the place; ``end`` s, the latest time of
    the whole map.
    """

    across: str
    at: float
    right: str
    up: str
    cell: float
    times: Any
    owners: Any
    spot: tuple[int, int]
    end: float


def slices(found: FreezeMap, place: Point, frame: Frame) -> tuple[Slice, ...]:
    """The three planes through a place (m, upright), the casting upright in those that stand."""
    block = found.block
    cell = ((np.array(place) - block.origin) / block.cell).astype(int)
    index = np.clip(cell, 0, np.array(block.counts) - 1)
    end = float(np.nanmax(found.times))
    made = []
    for axis in range(3):
        one, two = (other for other in range(3) if other != axis)
        times, owners = (
            np.take(array, int(index[axis]), axis=axis).T[::-1] for array in (found.times, found.owners)
        )
        across = _name(axis, frame)
        made.append(
            Slice(
                across=across[1],
                at=frame.in_file(place)["xyz".index(across[1])],
                right=_name(one, frame),
                up=_name(two, frame),
                cell=block.cell,
                times=times,
                owners=owners,
                spot=(block.counts[two] - 1 - int(index[two]), int(index[one])),
                end=end,
            )
        )
    return tuple(made)


def _name(axis: int, frame: Frame) -> str:
    """The axis of the file that an upright axis runs along, with its sense."""
    step = [0.0, 0.0, 0.0]
    step[axis] = 1.0
    turned = frame.in_file(step)
    number = max(range(3), key=lambda each: abs(turned[each]))
    return ("+" if turned[number] > 0.0 else "-") + "xyz"[number]
