"""The charges of several melts as one joint program, so that no item is promised twice."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from ..assess.charge import ChargeAssessment, ChargeDecision, ChargeInputs, assess_charge
from ..assess.charge_intervals import Array
from .charge import choose_charge
from .charge_matrices import PARTS, Program, assemble, touched_limits, widen
from .charge_mend import WORTHWHILE
from .charge_solve import SearchStopped, solve, solved

Outcome = Literal["robust", "nominal", "short", "nearest", "none"]

NEAR = 1e-3
"""Joint charges that no others can better by more than this share are good enough: many melts make many
whole numbers, and the last cent takes the longest to find."""

ENOUGH = 1e-6
"""What is lacking of a melt below this share of it is the rounding of floats."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Melted:
    """One melt as it was found.

    ``outcome``: limits kept for certain (``robust``) or at middle recoveries (``nominal``); kept, but
    less metal than is wanted (``short``); kept as nearly as what is left over allows (``nearest``);
    or nothing can be charged (``none``; then ``found`` is None).
    """

    name: str
    inputs: ChargeInputs
    decision: ChargeDecision
    outcome: Outcome
    found: ChargeAssessment | None


# --- choosing -------------------------------------------------------------------------------------


def choose_melts(names: Sequence[str], inputs: Sequence[ChargeInputs]) -> list[Melted]:
    """The charges of all melts, which share one stock, in their order.

    The inputs are those of each melt as if it had the stock to itself.
    """
    for sure in _margins(inputs):
        masses = joint_masses(inputs, sure)
        if masses is not None:
            return [
                _melted(name, one, found, "robust" if certain else "nominal", robust=certain)
                for name, one, found, certain in zip(names, inputs, masses, sure, strict=True)
            ]
    sure = [_alone(one) for one in inputs]
    shorter = joint_masses(inputs, sure, short=True) or [np.zeros(len(one.items)) for one in inputs]
    kept = [
        found if _metal(one, found) >= WORTHWHILE * one.melt_mass else np.zeros(len(found))
        for one, found in zip(inputs, shorter, strict=True)
    ]
    left = np.maximum(inputs[0].available - np.sum(kept, axis=0), 0.0)
    return [
        _melted(name, one, masses, _reached(one, masses, robust=certain), robust=certain)
        if masses.any()
        else _from_what_is_left(name, replace(one, available=left))
        for name, one, masses, certain in zip(names, inputs, kept, sure, strict=True)
    ]


def _reached(inputs: ChargeInputs, masses: Array, *, robust: bool) -> Outcome:
    """What a melt within its limits comes to."""
    least = float(masses @ inputs.ends.metal_low) if robust else _metal(inputs, masses)
    if least < inputs.melt_mass * (1.0 - ENOUGH):
        return "short"
    return "robust" if robust else "nominal"


def _margins(inputs: Sequence[ChargeInputs]) -> list[list[bool]]:
    """Which melts to keep for certain, the best first: all; those that can be; none."""
    if inputs[0].margin == "nominal":
        return [[False] * len(inputs)]
    tries = [[True] * len(inputs), [_alone(one) for one in inputs], [False] * len(inputs)]
    return [tried for k, tried in enumerate(tries) if tried not in tries[:k]]


def _alone(inputs: ChargeInputs) -> bool:
    """Whether this melt, with the stock to itself, can be kept in its limits for certain."""
    return inputs.margin == "robust" and solved(assemble(inputs, robust=True)) is not None


def _metal(inputs: ChargeInputs, masses: Array) -> float:
    return float((masses @ (inputs.composition * inputs.recovery)).sum())


def _melted(name: str, inputs: ChargeInputs, masses: Array, outcome: Outcome, *, robust: bool) -> Melted:
    decision = ChargeDecision(masses=masses, binding=touched_limits(inputs, masses, robust=robust))
    found = assess_charge(inputs, decision)
    return Melted(name=name, inputs=inputs, decision=decision, outcome=outcome, found=found)


def _from_what_is_left(name: str, inputs: ChargeInputs) -> Melted:
    """The nearest charge of a melt from what the others leave."""
    decision = choose_charge(replace(inputs, minimum_use=np.zeros(len(inputs.items))))
    if not decision.masses.any():
        return Melted(name=name, inputs=inputs, decision=decision, outcome="none", found=None)
    found = assess_charge(inputs, decision)
    kept: Outcome = "robust" if decision.outcome == "robust" else "nominal"
    outcome: Outcome = "nearest" if decision.outcome == "nearest" else kept
    return Melted(name=name, inputs=inputs, decision=decision, outcome=outcome, found=found)


# --- the joint program ----------------------------------------------------------------------------


def joint_masses(
    inputs: Sequence[ChargeInputs], sure: Sequence[bool], *, short: bool = False
) -> list[Array] | None:
    """Masses (n, kg) of every melt at the least total cost; None where nothing is feasible.

    ``sure``: which melts are kept for certain. ``short``: melts may come out smaller than they are
    wanted, by as little as can be, all shares of a melt counting alike.
    """
    program = joined(inputs, sure)
    if short:
        program = _shorter(program)
    try:
        found = solve(program)
    except SearchStopped:
        return None
    return None if found is None else np.split(program.masses(found.values), len(inputs))


def joined(inputs: Sequence[ChargeInputs], sure: Sequence[bool]) -> Program:
    """The programs of several melts as one: their items one after the other, and rows that share the
    stock (which all have in the same order). What has to be used, any melt may use."""
    freed = [replace(one, minimum_use=np.zeros(len(one.items))) for one in inputs]
    programs = [assemble(one, robust=robust) for one, robust in zip(freed, sure, strict=True)]
    unit = np.concatenate([program.unit for program in programs])
    parts = unit * PARTS / sum(one.melt_mass for one in inputs)
    items = len(inputs[0].items)
    shared = np.tile(np.eye(items), len(inputs)) * parts
    scale = parts / unit
    least = np.where(inputs[0].usable, inputs[0].minimum_use, 0.0) * scale[:items]
    most = inputs[0].available * scale[:items]
    price = np.tile(inputs[0].price, len(inputs))
    unpriced = np.isnan(price)
    costs = [parts * unpriced] if unpriced.any() else []
    if (price > 0.0).any():
        costs.append(parts * np.nan_to_num(price) / np.nanmax(price))
    return Program(
        costs=tuple(costs or [parts]),
        rows=np.vstack((_side_by_side([program.rows for program in programs]), shared)),
        low=np.concatenate((*(program.low for program in programs), least)),
        high=np.concatenate((*(program.high for program in programs), most)),
        floor=np.concatenate([program.floor for program in programs]),
        ceiling=np.concatenate([program.ceiling for program in programs]),
        kinds=np.concatenate([program.kinds for program in programs]),
        unit=unit,
        items=len(unit),
        gap=NEAR,
        labels=(*(label for program in programs for label in program.labels), *[(-6, "stock")] * items),
    )


def _side_by_side(blocks: Sequence[Array]) -> Array:
    """Blocks down the diagonal of one array, nothing beside them."""
    whole = np.zeros(np.sum([block.shape for block in blocks], axis=0))
    row = column = 0
    for block in blocks:
        whole[row : row + block.shape[0], column : column + block.shape[1]] = block
        row, column = row + block.shape[0], column + block.shape[1]
    return whole


def _shorter(program: Program) -> Program:
    """The program with every melt allowed to fall short, at a price of its share that is lacking."""
    melts = [row for row, label in enumerate(program.labels) if label == (-1, "melt")]
    wide = widen(program, len(melts))
    rows = wide.rows.copy()
    lacking = np.zeros(rows.shape[1])
    for extra, row in enumerate(melts):
        rows[row, len(program.floor) + extra] = 1.0
    lacking[len(program.floor) :] = 1.0
    return replace(wide, rows=rows, costs=(lacking, *wide.costs))
