"""Transient conduction with freezing, stepped explicitly with long steps of many short stages.

Runge-Kutta-Legendre steps of first order are stable up to (s^2 + s)/2 times the explicit step for
s stages, and keep the heat exactly. Steps grow with the time: everything here slows down as the
root of time does.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .substances import Metal

Singles = NDArray[np.float32]

Accuracy = Literal["draft", "normal", "fine"]

STEP: dict[Accuracy, float] = {"draft": 0.05, "normal": 0.03, "fine": 0.02}
"""Each step is this share of the time since the mould was filled."""

SAFETY = 0.95
"""Of the longest stable step so much is used."""

WATCHED_SHARE = 0.1
"""The cooling rate at the end of freezing is taken over this share of the freezing range."""

TOGETHER = 8
"""So many stages pass over each slab of cells while it is in the cache."""

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


def freeze(case: Conduction, accuracy: Accuracy = "normal") -> Frozen:
    """Conduct heat until all metal is solid. Raises NotFrozen if the mould cannot take the heat."""
    from . import heat_kernels as kernels  # here, because numba is slow to load

    substance, (x, y, z) = case.substance, case.shape
    fields = spread_apart(6, (x, y, z))
    before, after, warm, cooled, solid_at, nearly_at = (field.reshape(-1) for field in fields)
    along = [conductance.reshape(-1) for conductance in case.along]
    metal, rest = case.metal.reshape(-1), case.rest.reshape(-1)
    if not (metal > 0.0).any():
        raise NotFrozen("the metal is too thin for the cells of the map, or its bodies lie too far apart")
    before[:] = case.heat.reshape(-1)
    after[:] = before
    warm[:] = temperatures_of(before, metal, rest, substance)
    cooled[:] = warm
    solid_capacity = np.float32(substance.solid_capacity)
    heights, heats, capacities = (
        np.array(row, np.float32) for row in (substance.temperatures, substance.heats, substance.capacities)
    )
    watched = np.float32(WATCHED_SHARE * substance.freezing_range)
    least = np.float32(substance.least_capacity)
    fields_along = [conductance.reshape(x, y, z) for conductance in along]
    cells = (metal.reshape(x, y, z), rest.reshape(x, y, z))
    longest = SAFETY / kernels.quickest(
        fields_along[0], fields_along[1], fields_along[2], cells[0], cells[1], least
    )
    if not longest > 0.0:
        raise NotFrozen("single precision cannot hold properties so far apart")
    started = _heat_inside(before, case.shape)
    if started >= 0.0:
        raise NotFrozen("the mould cannot take the heat: all together would stay above the solidus")
    time, steps, stages, liquid = 0.0, 0, 0, 1
    while (liquid := kernels.still_liquid(warm.reshape(x, y, z), cells[0], liquid)) >= 0:
        span = STEP[accuracy] * max(time, case.first)
        count = stages_for(span, longest)
        if count > MOST_STAGES:
            raise NotFrozen(f"the metal is still liquid after {time:.4g} s")
        figures = _figures(count, time, span)
        for group in np.split(figures, range(TOGETHER, count, TOGETHER)):
            kernels.stages(
                1, x - 1, y, z, before, after, warm, cooled, along[0], along[1], along[2], metal, rest,
                solid_capacity, heights, heats, capacities, group, watched, solid_at, nearly_at,
            )  # fmt: skip
            if len(group) % 2:
                before, after, warm, cooled = after, before, cooled, warm
        time, steps, stages = time + span, steps + 1, stages + count
    given = float(metal.sum(dtype=np.float64)) * substance.heat_at(substance.start_temperature)
    lost = _heat_inside(before, case.shape) - started
    end = float(solid_at[metal > 0.0].max())
    return Frozen(fields[4], fields[5], float(watched), end, steps, stages, abs(lost) / given)


def stages_for(span: float, longest: float) -> int:
    """Stages for a step of ``span`` s where the longest plain explicit one is ``longest`` s."""
    return max(math.ceil((math.sqrt(1.0 + 8.0 * span / longest) - 1.0) / 2.0), 2)


def _figures(count: int, time: float, span: float) -> Singles:
    """For each of a step's stages (rows): how much of the last change it keeps, the time (s) its
    inflow lasts, when the step began, and when the stage before it and the stage itself hold."""
    number = np.arange(1, count + 1)
    squares = count * count + count
    ends = time + span * (number * number + number) / squares
    inflow = (2 * number - 1) / number * 2.0 / squares * span
    begun, starts = np.full(count, time), np.concatenate(([time], ends[:-1]))
    return np.stack(((number - 1) / number, inflow, begun, starts, ends), axis=1).astype(np.float32)


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
