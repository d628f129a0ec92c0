"""Choosing a riser: the caller's own, or the smallest that serves, rounded up to what can be made."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..assess.riser import RiserAssessment, RiserDecision, RiserInputs, assess_riser, bodies_under
from ..bounds import OutOfRange
from ..formula import paused, step
from ..geometry.sections import Fault, SectionFault
from ..ledger import Ledger, Say
from .freezing import Order, Sections, freezing_order
from .riser_inputs import RiserShape
from .riser_least import least_metal_ratio
from .riser_size import NoRiser, size_neck, size_riser, swallowed, volume_diameter

TRIES = 50
"""Rounding steps that are tried beyond the first: a larger foot asks for a larger riser."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserChoice:
    """A chosen riser with the inputs it was judged on; ``why_not`` where there is none.

    ``needless`` says that none is needed, because nothing has to be fed.
    """

    inputs: RiserInputs
    decision: RiserDecision | None
    assessment: RiserAssessment | None
    needed: Mapping[str, float | None]
    governs: str | None
    why_not: Say | None
    needless: bool
    height_ratio: float
    shrinkage_ends: tuple[float, float] | None
    volume_diameters: tuple[float | None, float | None] | None


def choose_riser(inputs: RiserInputs, shape: RiserShape, ledger: Ledger) -> RiserChoice:
    """Take the caller's riser, or find the smallest that serves and round it up.

    Raises SectionFault for a height without a diameter, which leaves the search nothing to scale.
    """
    if shape.height is not None and shape.diameter is None:
        detail = "a height alone does not size a riser: give height_to_diameter, or the diameter too"
        raise SectionFault((Fault(ledger.place("/riser/height"), "not_possible", detail),))
    height_ratio = _height_ratio(inputs, shape, ledger)
    decision: RiserDecision | None = None
    assessment: RiserAssessment | None = None
    needed: Mapping[str, float | None] = {}
    governs: str | None = None
    why_not: Say | None = None
    needless = False
    with paused():
        try:
            neck = size_neck(inputs)
            found = size_riser(inputs, height_ratio, neck)
            needed, governs, diameter = found.diameters, found.governs, found.diameter
            needless = diameter == 0.0
        except NoRiser as none:
            needed, why_not, diameter, neck = none.diameters, none.why, None, inputs.neck_thickness
    if shape.diameter is not None:
        height = shape.height if shape.height is not None else height_ratio * shape.diameter
        decision = RiserDecision(diameter=shape.diameter, height=height, neck=neck)
        governs, needless = None, False
    elif needless:
        why_not, governs = Say("No riser is needed: this metal does not shrink as it freezes."), None
    elif diameter is not None:
        decision = _rounded(inputs, shape, diameter, height_ratio, neck, ledger)
        why_not = None if decision else swallowed(inputs)
    if decision is not None:
        try:
            assessment, why_not = assess_riser(inputs, decision), None
        except OutOfRange:
            # The caller's own riser leaves the section under it no surface that cools.
            decision, why_not = None, swallowed(inputs)
    ends = _shrinkage_ends(inputs)
    with paused():
        diameters = [volume_diameter(inputs, height_ratio, end) for end in ends] if ends else []
    return RiserChoice(
        inputs=inputs,
        decision=decision,
        assessment=assessment,
        needed=needed,
        governs=governs if decision else None,
        why_not=why_not,
        needless=needless,
        height_ratio=height_ratio,
        shrinkage_ends=ends,
        volume_diameters=(diameters[0], diameters[1]) if ends else None,
    )


def order_under(
    choices: Sequence[RiserChoice],
    sections: Sections,
    order: Order,
    place: str = "",
    also: tuple[str, ...] = (),
) -> Order:
    """The order of freezing with the risers standing where they were put; ``order`` is the one without.

    ``place`` is the pointer of the object that holds the sections; ``also`` are sections that are
    fed without metal coming through others: the other risers', and those that feed themselves.
    """
    standing = [one for one in choices if one.decision is not None and one.assessment is not None]
    changed = {
        body.name: body
        for one in standing
        for body in bodies_under(one.inputs, one.decision.foot if one.decision else 0.0)
        if body.name == one.inputs.stands_on
    }
    bodies = tuple(changed.get(body.name, body) for body in sections.bodies)
    under = {one.inputs.stands_on for one in standing} - {None}
    with step("feed path", ""):
        return freezing_order(
            choices[0].inputs.cooling,
            replace(sections, bodies=bodies),
            order.target,
            place,
            also=also,
            stands_on=[name for name in under if name],
        )


def _height_ratio(inputs: RiserInputs, shape: RiserShape, ledger: Ledger) -> float:
    if shape.diameter is not None and shape.height is not None:
        return shape.height / shape.diameter
    if inputs.shape == "ball":
        return 1.0
    if shape.least_metal and shape.height_to_diameter is None and shape.diameter is None:
        with paused():
            least = least_metal_ratio(inputs)
        return ledger.use(
            "/riser/height_to_diameter",
            None,
            least,
            "ratio",
            provenance="computed",
            source="DERIVED",
            note="the proportions that take the least metal and meet every criterion",
        )
    return ledger.use(
        "/riser/height_to_diameter",
        shape.height_to_diameter,
        1.0,
        "ratio",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="as tall as wide: least metal where both ends cool; with one end blocked that is 0.5",
    )


def _rounded(
    inputs: RiserInputs,
    shape: RiserShape,
    diameter: float,
    height_ratio: float,
    neck: float | None,
    ledger: Ledger,
) -> RiserDecision | None:
    """Round the diameter up to the step, and on until the rounded riser meets its criteria.

    A larger foot takes more of the casting's cooling surface, so one step may not be enough, and
    there may be none that serves although one between two steps would: None.
    """
    step_size = ledger.use(
        "/riser/rounding_step",
        shape.rounding_step,
        0.001,
        "length",
        provenance="common practice",
        source="COMMON-PRACTICE",
    )
    if step_size == 0.0:
        return RiserDecision(diameter=diameter, height=height_ratio * diameter, neck=neck)
    first = max(math.ceil(diameter / step_size - 1e-9), 1)
    for steps in range(first, first + TRIES):
        size = steps * step_size
        decision = RiserDecision(diameter=size, height=height_ratio * size, neck=neck)
        try:
            with paused():
                judged = assess_riser(inputs, decision)
        except OutOfRange:
            return None
        sized = [check for check in judged.checks if check.kind.id in SIZED_BY]
        if all(check.verdict == "pass" for check in sized):
            return decision
    return None


SIZED_BY = ("riser-freezes-last", "riser-modulus", "riser-volume")
"""The checks that a larger riser can mend."""


def _shrinkage_ends(inputs: RiserInputs) -> tuple[float, float] | None:
    """The two ends of an estimated shrinkage, where the volume criterion is used."""
    spread = inputs.shrinkage_spread
    if not spread or inputs.shrinkage is None or "volume" not in inputs.criteria:
        return None
    return inputs.shrinkage - spread, inputs.shrinkage + spread
