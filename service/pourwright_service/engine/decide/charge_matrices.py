"""The charge as a linear program: rows for the limits, bounds for the stock, costs for the aim.

Masses are counted in thousandths of the melt asked for and every limit's row is divided by its
limit, so that a solver's fixed tolerance is small beside the smallest limit. A variable is the
mass of an item, or the number of its pieces; variables for deviations follow the items.
"""

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from ..assess.charge import ChargeInputs, Side
from ..assess.charge_intervals import Array

PARTS = 1000.0
"""The melt asked for, in the units of the program."""

MOST = 20.0 * PARTS
"""No item that must be absent or of a least size is charged beyond twenty times the melt."""

ZERO_LIMIT = 1e-4
"""What a limit of nothing at all counts as where something is divided by it: 0.01 %."""

TOUCHED = 1e-7
"""A limit nearer than this share of itself holds the charge where it is."""

DIVIDED, PIECES, ABSENT_OR = 0, 1, 2
"""Kinds of variable, numbered as the solver does: any mass; a count; zero or within bounds."""


UNNAMED_ROW = (-5, "unnamed")
"""Labels the row of all elements together that the specification does not name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Program:
    """Minimise each of ``costs`` in turn, subject to low <= rows @ v <= high and floor <= v <= ceiling.

    R rows by V variables; ``kinds`` (V). The first ``items`` variables times ``unit`` (items) are
    masses in kg. ``labels`` (R) names each row: (element index, "minimum" or "maximum"), or
    (-1, "melt"), or UNNAMED_ROW. ``gap``: a charge of whole pieces that no other can better by more
    than this share is the best.
    """

    costs: tuple[Array, ...]
    rows: Array
    low: Array
    high: Array
    floor: Array
    ceiling: Array
    kinds: npt.NDArray[np.int64]
    unit: Array
    items: int
    labels: tuple[tuple[int, str], ...]
    gap: float = 1e-6

    def masses(self, values: Array) -> Array:
        """Masses of the items in kg."""
        found: Array = values[: self.items] * self.unit
        return found


def limit_rows(inputs: ChargeInputs, *, robust: bool) -> tuple[Array, list[tuple[int, str]]]:
    """One row per limit and item, ``row @ mass >= 0`` where the limit is kept.

    The element at its worst end against everything else at the other (robust), or all at the
    middle. Returns ((L, n), labels).
    """
    if robust:
        ends = inputs.ends
        own_low, others_high = ends.own_low.T, ends.others_high.T
        own_high, others_low = ends.own_high.T, ends.others_low.T
    else:
        own_low = own_high = (inputs.composition * inputs.recovery).T
        others_high = others_low = own_low.sum(axis=0) - own_low
    least = np.flatnonzero(inputs.minima > 0.0)
    most = np.flatnonzero(inputs.maxima < 1.0)
    low, high = inputs.minima[least, None], inputs.maxima[most, None]
    rows = np.vstack(
        (
            own_low[least] * (1.0 - low) - low * others_high[least],
            high * others_low[most] - own_high[most] * (1.0 - high),
        )
    )
    labels = [(int(e), "minimum") for e in least] + [(int(e), "maximum") for e in most]
    return rows, labels


def touched_limits(inputs: ChargeInputs, masses: Array, *, robust: bool) -> tuple[Side, ...]:
    """The limits that the charge lies on."""
    rows, labels = limit_rows(inputs, robust=robust)
    melt = float(masses.sum())
    return tuple(
        label
        for label, slack in zip(labels, rows @ masses, strict=True)
        if abs(slack) <= TOUCHED * max(limit_of(inputs, label), TOUCHED) * melt
    )


def unnamed_row(inputs: ChargeInputs) -> Array:
    """``row @ mass >= 0`` (n) where the elements that nobody named stay as few as they should.

    At middle recoveries, as the check of it; ``rest`` is not an element.
    """
    metal = inputs.composition * inputs.recovery
    strange = ~inputs.named
    strange[-1] = False
    row: Array = inputs.unnamed_limit * metal.sum(axis=1) - metal[:, strange].sum(axis=1)
    return row


def as_decided(inputs: ChargeInputs, masses: Array) -> ChargeInputs:
    """The inputs with unnamed elements allowed for, where the charge holds more of them than it should:
    it was chosen so because nothing better was to be had."""
    if not np.isfinite(inputs.unnamed_limit):
        return inputs
    few = float(unnamed_row(inputs) @ masses) >= -1e-9 * float(masses.sum())
    return inputs if few else replace(inputs, unnamed_limit=np.inf)


def tails_of(inputs: ChargeInputs, label: tuple[int, str], *, robust: bool) -> tuple[Array, Array]:
    """Metal (n) left per mass of each item: of the limit's element and of everything else, at the ends
    that the limit has to stand (robust), or at the middle."""
    element, side = label
    if not robust:
        metal = inputs.composition * inputs.recovery
        return metal[:, element], metal.sum(axis=1) - metal[:, element]
    ends = inputs.ends
    if side == "minimum":
        return ends.own_low[:, element], ends.others_high[:, element]
    return ends.own_high[:, element], ends.others_low[:, element]


def limit_of(inputs: ChargeInputs, label: tuple[int, str]) -> float:
    """The limit that a row stands for, a ratio."""
    element, side = label
    return float(inputs.minima[element] if side == "minimum" else inputs.maxima[element])


def band_of(inputs: ChargeInputs, element: int) -> float:
    """What a violation of an element's limits is measured by: the width between them; a maximum
    alone by itself, a minimum alone by its distance to 100 %; never less than 0.01 %."""
    low, high = float(inputs.minima[element]), float(inputs.maxima[element])
    if low <= 0.0:
        band = high
    elif high >= 1.0:
        band = 1.0 - low
    else:
        band = high - low or low
    return max(band, ZERO_LIMIT)


def assemble(inputs: ChargeInputs, *, robust: bool, melt: float | None = None) -> Program:
    """The program of a charge. ``melt`` (kg) replaces the melt asked for in its row."""
    scale = inputs.melt_mass / PARTS
    unit = np.where(inputs.piece > 0.0, inputs.piece, scale)
    per_variable = unit / scale
    rows, labels = limit_rows(inputs, robust=robust)
    limits = np.array([limit_of(inputs, label) or ZERO_LIMIT for label in labels])
    rows = rows / limits[:, None] if labels else rows
    kept = np.flatnonzero((rows < 0.0).any(axis=1))
    metal = inputs.ends.metal_low if robust else (inputs.composition * inputs.recovery).sum(axis=1)
    rows = np.vstack((rows[kept], metal)) * per_variable
    labels = [labels[k] for k in kept] + [(-1, "melt")]
    low = np.zeros(len(labels))
    low[-1] = PARTS if melt is None else melt / scale
    if np.isfinite(inputs.unnamed_limit):
        strange = unnamed_row(inputs) / max(inputs.unnamed_limit, ZERO_LIMIT)
        if (strange < 0.0).any():
            rows = np.vstack((rows, strange * per_variable))
            low = np.append(low, 0.0)
            labels.append(UNNAMED_ROW)
    high = np.full(len(labels), np.inf)
    rows, low, high, labels = _without_twins(inputs, rows, low, high, labels)
    floor, ceiling, kinds = _bounds(inputs, unit)
    program = Program(
        costs=(),
        rows=rows,
        low=low,
        high=high,
        floor=floor,
        ceiling=ceiling,
        kinds=kinds,
        unit=unit,
        items=len(inputs.items),
        labels=tuple(labels),
    )
    return _with_costs(inputs, program, per_variable)


def _without_twins(
    inputs: ChargeInputs, rows: Array, low: Array, high: Array, labels: list[tuple[int, str]]
) -> tuple[Array, Array, Array, list[tuple[int, str]]]:
    """A minimum equal to its maximum, at one recovery, is one equation and not two rows."""
    drop = []
    for k, (element, side) in enumerate(labels):
        if side != "maximum" or inputs.minima[element] != inputs.maxima[element]:
            continue
        twin = labels.index((element, "minimum")) if (element, "minimum") in labels else -1
        if twin >= 0 and np.allclose(rows[k], -rows[twin], rtol=1e-12, atol=1e-12):
            high[twin] = 0.0
            drop.append(k)
    if not drop:
        return rows, low, high, labels
    kept = [k for k in range(len(labels)) if k not in drop]
    return rows[kept], low[kept], high[kept], [labels[k] for k in kept]


def _bounds(inputs: ChargeInputs, unit: Array) -> tuple[Array, Array, npt.NDArray[np.int64]]:
    floor = inputs.minimum_use / unit
    ceiling = np.where(inputs.usable, inputs.available, 0.0) / unit
    counted = inputs.piece > 0.0
    whole = inputs.all_or_nothing & inputs.usable
    floor = np.where(counted, np.ceil(floor - 1e-9), floor)
    ceiling = np.where(counted, np.floor(ceiling + 1e-9), ceiling)
    lots = np.minimum(inputs.lot / unit, ceiling)
    forced = floor > 0.0
    kinds = np.where(counted, PIECES, DIVIDED)
    either = ~forced & ~counted & (lots > 0.0)
    floor = np.where(forced & ~counted, np.maximum(floor, lots), np.where(either, lots, floor))
    kinds = np.where(either | (whole & ~forced), ABSENT_OR, kinds)
    floor = np.where(whole, ceiling, floor)
    floor[inputs.heel :] = ceiling[inputs.heel :]
    kinds[inputs.heel :] = DIVIDED
    ceiling = np.where(kinds == ABSENT_OR, np.minimum(ceiling, MOST), ceiling)
    return floor, ceiling, np.where((kinds == ABSENT_OR) & (ceiling <= 0.0), DIVIDED, kinds)


def _with_costs(inputs: ChargeInputs, program: Program, per_variable: Array) -> Program:
    """The objectives in their order; each later one only breaks the ties of those before it."""
    unpriced = np.isnan(inputs.price)
    price = np.where(unpriced, 0.0, inputs.price)
    top = price.max() or 1.0
    costs: list[Array] = []
    if inputs.objective == "most_scrap" and inputs.new_metal.any():
        costs.append(per_variable * inputs.new_metal)
    if unpriced.any():
        costs.append(per_variable * unpriced)
    if price.any():
        costs.append(per_variable * price / top)
    if not costs:
        costs.append(per_variable * 1.0)
    program = replace(program, costs=tuple(costs))
    if inputs.objective == "closest_to_aim":
        return _towards_aim(inputs, program, per_variable)
    return program


def _towards_aim(inputs: ChargeInputs, program: Program, per_variable: Array) -> Program:
    """Deviations from the aim at middle recoveries, as masses, each over its element's band."""
    aimed = np.flatnonzero(np.isfinite(inputs.aim))
    own = (inputs.composition * inputs.recovery).T
    offset = (own[aimed] - inputs.aim[aimed, None] * own.sum(axis=0)) * per_variable
    bands = np.array([band_of(inputs, int(e)) for e in aimed])
    count = len(aimed)
    program = widen(program, count)
    eye = np.eye(count)
    rows = np.vstack((np.hstack((offset, eye)), np.hstack((-offset, eye))))
    program = add_rows(program, rows, np.zeros(2 * count), np.full(2 * count, np.inf), (-2, "aim"))
    deviation = np.concatenate((np.zeros(program.items), 1.0 / bands))
    return replace(program, costs=(deviation, *program.costs))


def widen(program: Program, count: int) -> Program:
    """The program with ``count`` more variables, 0 or more, that stand in no row and cost nothing."""
    none = np.zeros((len(program.low), count))
    return replace(
        program,
        rows=np.hstack((program.rows, none)),
        floor=np.concatenate((program.floor, np.zeros(count))),
        ceiling=np.concatenate((program.ceiling, np.full(count, np.inf))),
        kinds=np.concatenate((program.kinds, np.full(count, DIVIDED))),
        costs=tuple(np.concatenate((cost, np.zeros(count))) for cost in program.costs),
    )


def add_rows(program: Program, rows: Array, low: Array, high: Array, label: tuple[int, str]) -> Program:
    """The program with more rows, all under one label."""
    return replace(
        program,
        rows=np.vstack((program.rows, rows)),
        low=np.concatenate((program.low, low)),
        high=np.concatenate((program.high, high)),
        labels=(*program.labels, *[label] * len(rows)),
    )
