"""Transient conduction with freezing, stepped explicitly with long steps of many short stages.

Runge-Kutta-Legendre steps of first order are stable up to (s^2 + s)/2 times the explicit step for
s stages, and keep the heat exactly. Steps grow with the time: everything here slows down as the
root of time does.
"""

import math
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .substances import Metal

Singles = NDArray[np.float32]

Work = Callable[[int, int], None]
"""Work on the slabs of cells from one x index up to another."""

Accuracy = Literal["draft", "normal", "fine"]

STEP: dict[Accuracy, float] = {"draft": 0.05, "normal": 0.03, "fine": 0.02}
"""Each step is this share of the time since the mould was filled."""

SAFETY = 0.95
"""Of the longest stable step so much is used."""

WATCHED_SHARE = 0.1
"""The cooling rate at the end of freezing is taken over this share of the freezing range."""

MOST_STAGES = 1000
"""More stages in one step mean that the metal hardly cools any more."""

_APART = 1040  # numbers of 4 bytes: arrays a power of two apart would share the cache's places


class NotFrozen(RuntimeError):
    """The mould cannot take the metal's heat, or takes it endlessly slowly."""


@dataclass(frozen=True, slots=True, eq=False)
class Conduction:
    """A body of metal in its mould as cells (x, y, z), float32; see :mod:`.heat_kernels`.

    ``metal`` m^3 and ``rest`` J/K in each cell, ``along`` the conductances W/K towards the next
    cell along x, y, z, ``warm`` the temperatures at the start in kelvin above the solidus.
    ``heat`` J is the heat of each cell counted from the solidus, which in a cell of two
    substances is not that of one temperature. ``first`` s: steps are as long as if the time were
    at least this.
    """

    substance: Metal
    metal: Singles
    rest: Singles
    along: tuple[Singles, Singles, Singles]
    heat: Singles
    first: float

    @property
    def shape(self) -> tuple[int, int, int]:
        """Cells along x, y, z."""
        x, y, z = self.metal.shape
        return x, y, z


@dataclass(frozen=True, slots=True, eq=False)
class Frozen:
    """When every cell froze.

    ``solid_at`` (s): when a cell was last seen to fall through the solidus; 0 where it was never
    above. ``nearly_at``: the same for ``watched`` kelvin above the solidus. ``end`` s, when the
    last metal was solid. ``imbalance``: heat lost or gained by rounding, as a share of what the
    metal gave up.
    """

    solid_at: Singles
    nearly_at: Singles
    watched: float
    end: float
    steps: int
    stages: int
    imbalance: float


def spread_apart(count: int, shape: tuple[int, int, int]) -> list[Singles]:
    """Arrays of zeros that do not hinder one another in the processor's cache."""
    size = math.prod(shape)
    store = np.zeros(count * (size + _APART), np.float32)
    return [store[n * (size + _APART) : n * (size + _APART) + size].reshape(shape) for n in range(count)]


def freeze(case: Conduction, accuracy: Accuracy = "normal", threads: int = 1) -> Frozen:
    """Conduct heat until all metal is solid.

    ``threads``: slabs of cells worked on at the same time. Raises NotFrozen if the mould cannot
    take the heat.
    """
    from . import heat_kernels as kernels  # here, because numba is slow to load

    substance, (x, y, z) = case.substance, case.shape
    fields = spread_apart(6, (x, y, z))
    before, after, warm, cooled, solid_at, nearly_at = (field.reshape(-1) for field in fields)
    still = [array.reshape(-1) for array in (*case.along, case.metal, case.rest)]
    before[:] = case.heat.reshape(-1)
    after[:] = before
    warm[:] = temperatures_of(before, still[3], still[4], substance)
    cooled[:] = warm
    curve = (np.float32(substance.solid_capacity), *(
        np.array(row, np.float32) for row in (substance.temperatures, substance.heats, substance.capacities)
    ))  # fmt: skip
    watched = WATCHED_SHARE * substance.freezing_range
    least = np.float32(substance.least_capacity)
    longest = SAFETY / kernels.quickest(*case.along, case.metal, case.rest, least)
    started = _heat_inside(before, case.shape)
    if started >= 0.0:
        raise NotFrozen("the mould cannot take the heat: all together would stay above the solidus")
    time, steps, stages, liquid = 0.0, 0, 0, 1
    with _threads(threads, x) as run:
        while (liquid := kernels.still_liquid(warm.reshape(x, y, z), case.metal, liquid)) >= 0:
            span = STEP[accuracy] * max(time, case.first)
            count = stages_for(span, longest)
            if count > MOST_STAGES:
                raise NotFrozen(f"the metal is still liquid after {time:.4g} s")
            reached = time
            for number in range(1, count + 1):
                keep, share, sure = _weights(number, count)
                figures = (keep, share * span, time, reached, time + sure * span, watched)
                arguments = (y, z, before, after, warm, cooled, *still, *curve, *map(np.float32, figures))
                run(partial(_slab, kernels.stage, (*arguments, solid_at, nearly_at)))
                before, after, warm, cooled, reached = after, before, cooled, warm, figures[4]
            time, steps, stages = time + span, steps + 1, stages + count
    given = float(still[3].sum(dtype=np.float64)) * substance.heat_at(substance.start_temperature)
    lost = _heat_inside(before, case.shape) - started
    end = float(solid_at[still[3] > 0.0].max())
    return Frozen(fields[4], fields[5], watched, end, steps, stages, abs(lost) / given)


def stages_for(span: float, longest: float) -> int:
    """Stages for a step of ``span`` s where the longest plain explicit one is ``longest`` s."""
    return max(math.ceil((math.sqrt(1.0 + 8.0 * span / longest) - 1.0) / 2.0), 2)


def _weights(number: int, count: int) -> tuple[float, float, float]:
    """Of stage ``number`` of ``count``: how much of the last change it keeps, its share of the
    step's inflow, and the share of the step after which it holds."""
    squares = count * count + count
    return (
        (number - 1) / number,
        (2 * number - 1) / number * 2.0 / squares,
        (number * number + number) / squares,
    )


def _slab(stage: Callable[..., None], arguments: tuple[object, ...], first: int, last: int) -> None:
    stage(first, last, *arguments)


def _heat_inside(heat: Singles, shape: tuple[int, int, int]) -> float:
    """Heat (J) of all cells but the outermost."""
    return float(heat.reshape(shape)[1:-1, 1:-1, 1:-1].sum(dtype=np.float64))


def temperatures_of(heat: Singles, metal: Singles, rest: Singles, substance: Metal) -> Singles:
    """Temperatures of cells (kelvin above the solidus) from their heat (J)."""
    found = heat / (metal * np.float32(substance.solid_capacity) + rest)
    for height, full, capacity in zip(
        substance.temperatures, substance.heats, substance.capacities, strict=True
    ):
        base = metal * np.float32(full) + rest * np.float32(height)
        slope = metal * np.float32(capacity) + rest
        found = np.where(heat > base, np.float32(height) + (heat - base) / slope, found)
    return found.astype(np.float32)


@contextmanager
def _threads(threads: int, slabs: int) -> Iterator[Callable[[Work], None]]:
    """How to run work over all inner slabs: at once, or shared among threads."""
    if threads <= 1:
        yield lambda work: work(1, slabs - 1)
        return
    parts = [1 + (slabs - 2) * part // threads for part in range(threads + 1)]
    with ThreadPoolExecutor(threads - 1) as pool:

        def run(work: Work) -> None:
            others = [pool.submit(work, *pair) for pair in pairwise(parts[1:])]
            work(parts[0], parts[1])
            for other in others:
                other.result()

        yield run
