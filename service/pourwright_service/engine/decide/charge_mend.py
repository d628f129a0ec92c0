"""Where no charge keeps all limits: the nearest that can be had, and the smallest purchase that mends it."""

from dataclasses import dataclass, replace

import numpy as np

from ..assess.charge import ChargeInputs, Side
from ..assess.charge_intervals import Array, Flags
from .charge_matrices import (
    ABSENT_OR,
    DIVIDED,
    PARTS,
    ZERO_LIMIT,
    Program,
    assemble,
    band_of,
    limit_of,
    widen,
)
from .charge_solve import SearchStopped, solve

WORTHWHILE = 0.01
"""A melt within limits that is smaller than this share of what is asked for is none."""

SHORT = 1e-9
"""So much less than all there is may be asked for, that rounding does not make it too much."""

BROKEN = 1e-7
"""A limit missed by less than this share of its band is kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """The nearest charge: masses (n, kg), the limits it breaks, and how far from the best they may be."""

    masses: Array
    broken: tuple[Side, ...]
    gap: float = 0.0


def metal_at_hand(inputs: ChargeInputs) -> float:
    """What all usable stock melts down to at middle recoveries, kg; inf where some has no end."""
    metal = (inputs.composition * inputs.recovery).sum(axis=1)
    there = inputs.usable & (metal > 0.0)
    whole = np.where(inputs.piece > 0.0, inputs.piece, 1.0)
    counts = np.where(inputs.piece > 0.0, np.floor(inputs.available / whole + 1e-9), inputs.available)
    return float((metal[there] * (whole * counts)[there]).sum())


def largest_melt(inputs: ChargeInputs, *, robust: bool) -> float:
    """The most metal within limits, kg, up to what is asked for."""
    program = assemble(inputs, robust=robust, melt=0.0)
    melt = program.labels.index((-1, "melt"))
    high = program.high.copy()
    high[melt] = PARTS
    cost = -program.rows[melt]
    try:
        found = solve(replace(program, costs=(cost,), high=high), ties=False)
    except SearchStopped:
        return 0.0
    return 0.0 if found is None else float(-cost @ found.values) / PARTS * inputs.melt_mass


def doubtful_limits(
    inputs: ChargeInputs, *, robust: bool = True, melt: float | None = None
) -> tuple[Side, ...]:
    """The limits that no charge keeps (for certain, where ``robust``), whole pieces and lots left aside.

    ``melt`` (kg) replaces the melt asked for.
    """
    program, sides = elastic(inputs, assemble(inputs, robust=robust, melt=melt))
    floor = np.where(program.kinds == ABSENT_OR, 0.0, program.floor)
    program = replace(program, costs=program.costs[:1], floor=floor, kinds=np.full(len(floor), DIVIDED))
    try:
        found = solve(program, ties=False)
    except SearchStopped:
        found = None
    return () if found is None else broken_by(inputs, sides, found.values)


def nearest_charge(inputs: ChargeInputs) -> Nearest:
    """The charge of least violation, each limit's counted by its band; ties go to the cheapest.

    Where the stock does not make the melt at all, the largest melt within limits comes first.
    """
    at_hand = metal_at_hand(inputs)
    if at_hand < inputs.melt_mass:
        sure = inputs.margin == "robust"
        within = largest_melt(inputs, robust=sure)
        if within > WORTHWHILE * inputs.melt_mass:
            program = assemble(inputs, robust=sure, melt=within * (1.0 - SHORT))
            try:
                found = solve(program)
            except SearchStopped:
                found = None
            if found is not None:
                return Nearest(masses=program.masses(found.values), broken=(), gap=found.gap)
    wanted = min(inputs.melt_mass, at_hand * (1.0 - SHORT))
    program, sides = elastic(inputs, assemble(inputs, robust=False, melt=wanted))
    try:
        found = solve(program)
    except SearchStopped:
        found = None
    if found is None:
        return Nearest(masses=np.zeros(len(inputs.items)), broken=(), gap=1.0)
    return Nearest(
        masses=program.masses(found.values),
        broken=broken_by(inputs, sides, found.values),
        gap=found.gap,
    )


def broken_by(inputs: ChargeInputs, sides: list[Side], values: Array) -> tuple[Side, ...]:
    """The limits that give way, by the variables that come last."""
    gives = values[len(values) - len(sides) :]
    return tuple(
        side
        for side, give in zip(sides, gives, strict=True)
        if give > BROKEN * PARTS * band_of(inputs, side[0])
    )


def elastic(inputs: ChargeInputs, program: Program) -> tuple[Program, list[Side]]:
    """The program with every limit allowed to give, at a price of one per band, and those limits.

    The variables that say how much they give come last; an equation may give on either side.
    """
    limited = [k for k, (element, _) in enumerate(program.labels) if element >= 0]
    both = [k for k in limited if np.isfinite(program.high[k])]
    sides = [program.labels[k] for k in limited] + [(program.labels[k][0], "maximum") for k in both]
    wide = widen(program, len(sides))
    rows = wide.rows.copy()
    price = np.zeros(rows.shape[1])
    for extra, k in enumerate((*limited, *both)):
        column = len(program.floor) + extra
        give = 1.0 / (limit_of(inputs, program.labels[k]) or ZERO_LIMIT)
        rows[k, column] = give if extra < len(limited) else -give
        price[column] = 1.0 / band_of(inputs, program.labels[k][0])
    return replace(wide, rows=rows, costs=(price, *wide.costs)), sides


def smallest_purchase(inputs: ChargeInputs, offered: Flags, *, robust: bool) -> Array | None:
    """Masses (n, kg) of a charge within limits that buys the least mass of the ``offered`` items (n flags).

    None where no purchase mends it.
    """
    program = assemble(inputs, robust=robust)
    per_variable = program.unit / (inputs.melt_mass / PARTS)
    bought = np.zeros(len(program.floor))
    bought[: program.items] = np.where(offered, per_variable, 0.0)
    program = replace(program, costs=(bought, *program.costs))
    try:
        found = solve(program)
    except SearchStopped:
        return None
    return None if found is None else program.masses(found.values)
