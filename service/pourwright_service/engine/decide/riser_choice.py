"""Choosing a riser: the caller's own, or the smallest that serves, rounded up to what can be made."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..assess.riser import RiserAssessment, RiserDecision, RiserInputs, assess_riser
from ..bounds import OutOfRange
from ..formula import paused
from ..formulas import riser as formulas
from ..ledger import Ledger, Say
from .riser_inputs import RiserShape
from .riser_size import NoRiser, size_riser


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserChoice:
    """A chosen riser with the inputs it was judged on; ``why_not`` where none could be had."""

    inputs: RiserInputs
    decision: RiserDecision | None
    assessment: RiserAssessment | None
    needed: Mapping[str, float | None]
    governs: str | None
    why_not: Say | None
    height_ratio: float
    shrinkage_ends: tuple[float, float] | None
    volume_diameters: tuple[float | None, float | None] | None


def choose_riser(inputs: RiserInputs, shape: RiserShape, ledger: Ledger) -> RiserChoice:
    """Take the caller's riser, or find the smallest that serves and round it up."""
    height_ratio = _height_ratio(shape, inputs.shape, ledger)
    why_not: Say | None = None
    decision: RiserDecision | None = None
    assessment: RiserAssessment | None = None
    needed: dict[str, float | None] = {}
    governs: str | None = None
    with paused():
        try:
            found = size_riser(inputs, height_ratio)
            needed, governs = dict(found.diameters), found.governs
            diameter: float | None = found.diameter
        except NoRiser as none:
            diameter, why_not = None, none.why
            needed = dict(none.diameters)
    if shape.diameter is not None:
        height = shape.height if shape.height is not None else height_ratio * shape.diameter
        decision = RiserDecision(diameter=shape.diameter, height=height, neck=None)
        decision, assessment = _judged(inputs, shape, decision)
        why_not, governs = None, None
    elif diameter is not None:
        decision, assessment = _rounded(inputs, shape, diameter, height_ratio, ledger)
    ends, diameters = _shrinkage_ends(inputs, height_ratio)
    return RiserChoice(
        inputs=inputs,
        decision=decision,
        assessment=assessment,
        needed=needed,
        governs=governs,
        why_not=why_not,
        height_ratio=height_ratio,
        shrinkage_ends=ends,
        volume_diameters=diameters,
    )


def _height_ratio(shape: RiserShape, kind: str, ledger: Ledger) -> float:
    if shape.diameter is not None and shape.height is not None:
        return shape.height / shape.diameter
    if kind == "ball":
        return 1.0
    return ledger.use(
        "/riser/height_to_diameter",
        shape.height_to_diameter,
        1.0,
        "ratio",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="least metal: 0.5 where one end is blocked, 1 where both cool",
    )


def _rounded(
    inputs: RiserInputs, shape: RiserShape, diameter: float, height_ratio: float, ledger: Ledger
) -> tuple[RiserDecision, RiserAssessment]:
    """Round the diameter up to the step, and on until the rounded riser passes its criteria.

    A larger foot takes more of the casting's cooling surface, so one step may not be enough.
    """
    step = ledger.use(
        "/riser/rounding_step",
        shape.rounding_step,
        0.001,
        "length",
        provenance="common practice",
        source="COMMON-PRACTICE",
    )
    for extra in range(50):
        size = diameter if step == 0.0 else (math.ceil(diameter / step - 1e-9) + extra) * step
        decision = RiserDecision(diameter=size, height=height_ratio * size, neck=None)
        with paused():
            _, trial = _judged(inputs, shape, decision)
        if step == 0.0 or all(check.verdict != "fail" for check in trial.checks):
            break
    return _judged(inputs, shape, decision)


def _judged(
    inputs: RiserInputs, shape: RiserShape, decision: RiserDecision
) -> tuple[RiserDecision, RiserAssessment]:
    """Add the neck that the casting under this riser needs, and assess."""
    if inputs.neck_ratio is not None:
        neck = shape.neck.thickness if shape.neck else None
        if neck is None:
            with paused():
                bare = assess_riser(inputs, decision)
                neck = formulas.neck_thickness(inputs.neck_ratio, bare.casting_modulus)
        decision = RiserDecision(diameter=decision.diameter, height=decision.height, neck=neck)
    return decision, assess_riser(inputs, decision)


def _shrinkage_ends(
    inputs: RiserInputs, height_ratio: float
) -> tuple[tuple[float, float] | None, tuple[float | None, float | None] | None]:
    """For an estimated b: its two ends and the diameter that the volume criterion asks at each."""
    spread = inputs.shrinkage_spread
    if not spread or not inputs.shrinkage or "volume" not in inputs.criteria:
        return None, None
    ends = (inputs.shrinkage - spread, inputs.shrinkage + spread)
    diameters: list[float | None] = []
    with paused():
        for end in ends:
            try:
                alone = replace(inputs, shrinkage=end, criteria=("volume",))
                diameters.append(size_riser(alone, height_ratio).diameter)
            except (NoRiser, OutOfRange):
                diameters.append(None)
    return ends, (diameters[0], diameters[1])
