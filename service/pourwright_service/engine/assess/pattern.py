"""A pattern as it will be made: its sizes axis by axis, and whether draft, machining and tolerance do."""

from collections.abc import Mapping
from dataclasses import dataclass

from ..checks import Check, check_kind
from ..formulas import pattern
from ..ledger import Say

AXES = ("length", "width", "height")

DRAFT = check_kind(
    "pattern-draft-enough",
    "The pattern draws from the sand without tearing it",
    kind="ratio",
    sense="at least",
    source="COMMON-PRACTICE",
    else_="warn",
)
MACHINING = check_kind(
    "pattern-machining-enough",
    "Enough is left on to be machined",
    kind="length",
    sense="at least",
    source="COMMON-PRACTICE",
    else_="warn",
)
TOLERANCE = check_kind(
    "pattern-tolerance-kept",
    "This way of moulding holds the tolerance wanted",
    kind="length",
    sense="at least",
    source="COMMON-PRACTICE",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternInputs:
    """A finished part and what is allowed on it; SI, by axis where it is a mapping.

    ``master_scale`` is a master's own factor, ``least_draft`` what outside faces take at least (degrees);
    ``casting_tolerance`` is counted only where something is machined. ``usual_machining``,
    ``wanted_tolerance`` and ``held_tolerance`` are None where nothing is known or wanted.
    """

    finished: Mapping[str, float]
    machined_faces: Mapping[str, float]
    machining: float
    casting_tolerance: float
    contraction: float
    master_scale: float
    hindrance: Mapping[str, float]
    draft_degrees: float
    least_draft: float
    rapping: float
    usual_machining: float | None
    wanted_tolerance: float | None
    held_tolerance: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternAssessment:
    """Sizes (m) by axis without and with draft and rapping, the draft of a side, and the checks."""

    bare: Mapping[str, float]
    sizes: Mapping[str, float]
    draft: float
    checks: tuple[Check, ...]


def assess_pattern(inputs: PatternInputs) -> PatternAssessment:
    """Measure the pattern and judge it."""
    bare = {
        axis: inputs.master_scale
        * pattern.pattern_with_allowances(
            inputs.finished[axis],
            inputs.machined_faces[axis],
            inputs.machining,
            inputs.casting_tolerance if inputs.machined_faces[axis] else 0.0,
            inputs.contraction,
            inputs.hindrance[axis],
        )
        for axis in AXES
    }
    draft = pattern.draft_on_a_side(bare["height"], inputs.draft_degrees)
    sizes = {axis: bare[axis] + (0.0 if axis == "height" else 2.0 * draft - inputs.rapping) for axis in AXES}
    checks = [_draft(inputs, draft)]
    if inputs.usual_machining is not None and any(inputs.machined_faces.values()):
        checks.append(_machining(inputs, inputs.usual_machining))
    if inputs.wanted_tolerance is not None and inputs.held_tolerance is not None:
        checks.append(_tolerance(inputs.wanted_tolerance, inputs.held_tolerance))
    return PatternAssessment(bare=bare, sizes=sizes, draft=draft, checks=tuple(checks))


def _draft(inputs: PatternInputs, draft: float) -> Check:
    parts: dict[str, tuple[float, str] | str] = {
        "a": (inputs.draft_degrees, "ratio"),
        "d": (draft, "length"),
        "least": (inputs.least_draft, "ratio"),
    }
    return DRAFT.judge(
        inputs.draft_degrees,
        inputs.least_draft,
        subject="/draft_degrees",
        ok=Say("A draft of {a} degrees, {d} on a side, draws cleanly.", **parts),
        bad=Say(
            "A draft of {a} degrees tears the sand when the pattern is drawn: give it {least} degree or more "
            "on outside faces, and more in pockets.",
            **parts,
        ),
    )


def _machining(inputs: PatternInputs, usual: float) -> Check:
    parts: dict[str, tuple[float, str] | str] = {
        "m": (inputs.machining, "length"),
        "usual": (usual, "length"),
    }
    return MACHINING.judge(
        inputs.machining,
        usual,
        subject="/machining",
        ok=Say("{m} on each machined face is enough.", **parts),
        bad=Say("{m} on each machined face may not clean up; a casting of this size wants {usual}.", **parts),
    )


def _tolerance(wanted: float, held: float) -> Check:
    parts: dict[str, tuple[float, str] | str] = {"w": (wanted, "length"), "held": (held, "length")}
    return TOLERANCE.judge(
        wanted,
        held,
        subject="/tolerance",
        ok=Say("A total tolerance of {w} is held: this way of moulding holds {held}.", **parts),
        bad=Say(
            "A total tolerance of {w} is finer than the {held} that this way of moulding holds: machine what "
            "must fit, or mould it more finely.",
            **parts,
        ),
    )
