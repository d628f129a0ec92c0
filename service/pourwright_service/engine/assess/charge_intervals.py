"""The ends of what a charge item may leave in the melt, exact for intervals of both kinds.

Recoveries vary one by one; the composition of an item varies inside its intervals with the shares
always adding up to one. An element's share of a melt is least where the element itself is at its
low end and everything else leaves the most metal that the remaining share allows, and the other
way round: filling the remaining share with the best-recovered elements first is a fractional
knapsack, so its greedy filling is the optimum. Everything stays linear in the masses charged.
"""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Array: TypeAlias = npt.NDArray[np.float64]
Flags: TypeAlias = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Extremes:
    """Metal left in the melt per mass charged, at the ends of the intervals.

    ``own_low`` and ``others_high`` belong together (n items x E elements): the element least, all
    else most; ``own_high`` and ``others_low`` the other way. ``metal_low`` and ``metal_high`` (n)
    are the ends of all metal together. ``loss_low`` and ``loss_high`` (n, E) are the ends of what
    is lost of each element.
    """

    own_low: Array
    others_high: Array
    own_high: Array
    others_low: Array
    metal_low: Array
    metal_high: Array
    loss_low: Array
    loss_high: Array


def extremes(
    share_low: Array, share_high: Array, share: Array, recovery_low: Array, recovery_high: Array
) -> Extremes:
    """The ends for n items of E elements, ``rest`` included.

    All arguments are (n, E) ratios from 0 to 1; ``share`` lies between its ends and every row of
    it sums to one.
    """
    own_low, own_high = share * recovery_low, share * recovery_high
    loss_low, loss_high = share * (1.0 - recovery_high), share * (1.0 - recovery_low)
    metal_low, metal_high = own_low.sum(axis=1), own_high.sum(axis=1)
    others_low = metal_low[:, None] - own_low
    others_high = metal_high[:, None] - own_high
    loose = np.flatnonzero((share_high > share_low).any(axis=1))
    if loose.size:
        low, high = share_low[loose], share_high[loose]
        bad, good = recovery_low[loose], recovery_high[loose]
        least = np.maximum(low, 1.0 - (high.sum(axis=1)[:, None] - high))
        most = np.minimum(high, 1.0 - (low.sum(axis=1)[:, None] - low))
        own_low[loose], own_high[loose] = least * bad, most * good
        loss_low[loose], loss_high[loose] = least * (1.0 - good), most * (1.0 - bad)
        others_high[loose] = _others(low, high, 1.0 - least, good, best=True)
        others_low[loose] = _others(low, high, 1.0 - most, bad, best=False)
        whole = np.ones(loose.size)
        metal_low[loose] = filled(low, high, whole, bad, best=False)
        metal_high[loose] = filled(low, high, whole, good, best=True)
    return Extremes(
        own_low=own_low,
        others_high=others_high,
        own_high=own_high,
        others_low=others_low,
        metal_low=metal_low,
        metal_high=metal_high,
        loss_low=loss_low,
        loss_high=loss_high,
    )


def filled(low: Array, high: Array, budget: Array, value: Array, *, best: bool) -> Array:
    """Greatest (or least) sum of value x share with shares between ``low`` and ``high``.

    ``low``, ``high``, ``value``: (..., E). ``budget``: (...), what the shares add up to.
    """
    order = np.argsort(-value if best else value, axis=-1, kind="stable")
    room = np.take_along_axis(high - low, order, axis=-1)
    worth = np.take_along_axis(value, order, axis=-1)
    before = np.cumsum(room, axis=-1) - room
    spare = (budget - low.sum(axis=-1))[..., None]
    taken = np.clip(spare - before, 0.0, room)
    result: Array = (value * low).sum(axis=-1) + (worth * taken).sum(axis=-1)
    return result


def _others(low: Array, high: Array, budget: Array, value: Array, *, best: bool) -> Array:
    """For each element in turn, the metal of all the others; ``budget`` (n, E) is their share."""
    count, elements = low.shape
    apart = ~np.eye(elements, dtype=bool)
    shape = (count, elements, elements)
    return filled(
        np.where(apart, low[:, None, :], 0.0),
        np.where(apart, high[:, None, :], 0.0),
        budget,
        np.broadcast_to(value[:, None, :], shape),
        best=best,
    )
