"""Kernels of the heat: one stage of a step for a slab of cells, and what decides the next step.

Arrays (x, y, z), float32. Temperatures are kelvin above the solidus. ``metal`` is the volume of
metal in a cell (m^3), ``rest`` the heat capacity of whatever else is in it (J/K); a cell's heat is
metal times the metal's heat by volume, plus rest times temperature. ``along_x`` holds at i, j, k
the conductance (W/K) from that cell to i + 1, j, k; likewise along_y, along_z; the last along its
axis is 0. The outermost cells all round only pad the arrays: nothing leads to them.
"""

import numpy as np
from numpy.typing import NDArray

from ..compiled import compiled, compiled_loosely

Singles = NDArray[np.float32]

AT_ONCE = 512
"""Cells worked on in one run: their scratch stays in the fastest cache."""


@compiled_loosely
def stage(
    first: int,
    last: int,
    rows: int,
    cells: int,
    before: Singles,
    after: Singles,
    warm: Singles,
    cooled: Singles,
    along_x: Singles,
    along_y: Singles,
    along_z: Singles,
    metal: Singles,
    rest: Singles,
    solid_capacity: np.float32,
    temperatures: Singles,
    heats: Singles,
    capacities: Singles,
    keep: np.float32,
    step: np.float32,
    begun: np.float32,
    start: np.float32,
    end: np.float32,
    watched: np.float32,
    solid_at: Singles,
    nearly_at: Singles,
) -> None:
    """One stage for the cells with x index ``first`` up to ``last``; all arrays flat.

    rows, cells: how many there are along y and z. before: heat (J) at the last stage; after: in,
    heat at the stage before that, out, at this one: before + keep (before - after) + step times
    the heat flowing in. warm, cooled: temperatures at the last and this stage, which hold at the
    times ``start`` and ``end``. Where the temperature falls through the solidus in between, or
    through ``watched`` above it, the time goes into solid_at or nearly_at.
    """
    plane, zero = rows * cells, np.float32(0.0)
    inflow = np.empty(AT_ONCE, np.float32)
    slope, base, foot = np.empty_like(inflow), np.empty_like(inflow), np.empty_like(inflow)
    second, third = temperatures[1], heats[1]
    freezing, liquid = capacities[0], capacities[1]
    for i in range(first, last):
        place, stop = i * plane + cells, (i + 1) * plane - cells
        while place < stop:
            # Long runs over few arrays in each loop: so the compiler can prove the arrays apart
            # and use vectors, and little is left over at the end of a run.
            count = min(AT_ONCE, stop - place)
            here = warm[place:][:count]
            left, right = warm[place - plane :][:count], warm[place + plane :][:count]
            to_left, to_right = along_x[place - plane :][:count], along_x[place:][:count]
            for k in range(count):
                inflow[k] = to_left[k] * (left[k] - here[k]) + to_right[k] * (right[k] - here[k])
            front, back = warm[place - cells :][:count], warm[place + cells :][:count]
            to_front, to_back = along_y[place - cells :][:count], along_y[place:][:count]
            for k in range(count):
                inflow[k] += to_front[k] * (front[k] - here[k]) + to_back[k] * (back[k] - here[k])
            below, above = warm[place - 1 :][:count], warm[place + 1 :][:count]
            downward, upward = along_z[place - 1 :][:count], along_z[place:][:count]
            for k in range(count):
                inflow[k] += downward[k] * (below[k] - here[k]) + upward[k] * (above[k] - here[k])
            old, new, now = before[place:][:count], after[place:][:count], cooled[place:][:count]
            share, other = metal[place:][:count], rest[place:][:count]
            for k in range(count):
                new[k] = old[k] + keep * (old[k] - new[k]) + step * inflow[k]
            holds_metal = False
            for k in range(count):
                holds_metal |= share[k] > zero
            if not holds_metal:
                for k in range(count):
                    now[k] = new[k] / other[k]
                place += count
                continue
            if temperatures.shape[0] == 2:
                for k in range(count):
                    top = share[k] * third + other[k] * second
                    is_liquid = new[k] > top
                    capacity = liquid if is_liquid else (solid_capacity if new[k] < zero else freezing)
                    over = new[k] - (top if is_liquid else zero)
                    now[k] = (second if is_liquid else zero) + over / (share[k] * capacity + other[k])
            else:
                for k in range(count):
                    slope[k], base[k], foot[k] = share[k] * solid_capacity + other[k], zero, zero
                for piece in range(temperatures.shape[0]):
                    height, heat, capacity = temperatures[piece], heats[piece], capacities[piece]
                    for k in range(count):
                        bottom = share[k] * heat + other[k] * height
                        reached = new[k] > bottom
                        slope[k] = share[k] * capacity + other[k] if reached else slope[k]
                        base[k] = bottom if reached else base[k]
                        foot[k] = height if reached else foot[k]
                for k in range(count):
                    now[k] = foot[k] + (new[k] - base[k]) / slope[k]
            crossing = False
            for k in range(count):
                crossing |= ((here[k] > zero) & (now[k] <= zero)) | (
                    (here[k] > watched) & (now[k] <= watched)
                )
            if crossing:
                solid, nearly = solid_at[place:][:count], nearly_at[place:][:count]
                for k in range(count):
                    if here[k] > zero and now[k] <= zero and solid[k] <= begun:
                        solid[k] = start + (end - start) * here[k] / (here[k] - now[k])
                    if here[k] > watched and now[k] <= watched and nearly[k] <= begun:
                        fallen = (here[k] - watched) / (here[k] - now[k])
                        nearly[k] = start + (end - start) * fallen
            place += count


@compiled_loosely
def stages(
    first: int,
    last: int,
    rows: int,
    cells: int,
    before: Singles,
    after: Singles,
    warm: Singles,
    cooled: Singles,
    along_x: Singles,
    along_y: Singles,
    along_z: Singles,
    metal: Singles,
    rest: Singles,
    solid_capacity: np.float32,
    temperatures: Singles,
    heats: Singles,
    capacities: Singles,
    figures: Singles,
    watched: np.float32,
    solid_at: Singles,
    nearly_at: Singles,
) -> None:
    """Several stages one after another, each a slab of cells behind the one before it.

    figures (stages, 5): keep, step, begun, start, end of each stage. While a slab is in the
    cache, all stages pass over it: memory is read once for all of them. What a stage writes, the
    stage before it no longer needs. Heat and temperature of the last stage are in after and
    cooled if the number of stages is odd, else in before and warm.
    """
    count = figures.shape[0]
    for place in range(first, last + count - 1):
        for number in range(count):
            i = place - number
            if not first <= i < last:
                continue
            if number % 2 == 0:
                old, new, here, now = before, after, warm, cooled
            else:
                old, new, here, now = after, before, cooled, warm
            stage(
                i, i + 1, rows, cells, old, new, here, now, along_x, along_y, along_z, metal, rest,
                solid_capacity, temperatures, heats, capacities, figures[number, 0], figures[number, 1],
                figures[number, 2], figures[number, 3], figures[number, 4], watched, solid_at, nearly_at,
            )  # fmt: skip


@compiled
def quickest(
    along_x: Singles,
    along_y: Singles,
    along_z: Singles,
    metal: Singles,
    rest: Singles,
    least_capacity: np.float32,
) -> float:
    """The largest ratio (1/s) of the conductances round a cell to its least heat capacity."""
    most = 0.0
    for i in range(1, metal.shape[0] - 1):
        for j in range(1, metal.shape[1] - 1):
            for k in range(1, metal.shape[2] - 1):
                around = along_x[i - 1, j, k] + along_x[i, j, k] + along_y[i, j - 1, k]
                around += along_y[i, j, k] + along_z[i, j, k - 1] + along_z[i, j, k]
                most = max(most, around / (metal[i, j, k] * least_capacity + rest[i, j, k]))
    return most


@compiled
def still_liquid(warm: Singles, metal: Singles, first: int) -> int:
    """The x index of a slab, from ``first`` on and round again, that holds metal not yet solid; -1
    if there is none."""
    slabs = warm.shape[0] - 2
    for n in range(slabs):
        i: int = 1 + (first - 1 + n) % slabs
        for j in range(1, warm.shape[1] - 1):
            for k in range(1, warm.shape[2] - 1):
                if warm[i, j, k] > 0.0 and metal[i, j, k] > 0.0:
                    return i
    return -1
