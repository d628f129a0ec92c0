"""Pattern: how large it must be for a part, what an old part used as a pattern gives, what its mass tells."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from ..answer import Answer, answer
from ..assess.pattern import AXES, PatternAssessment, PatternInputs, assess_pattern
from ..formulas import pattern
from ..ledger import Ledger, MissingValue, Say
from ..tables.allowances import contraction_range, outside_draft
from ..tables.tolerances import grade_range, machining_allowance, tolerance, usual_grade
from .metal import Metal, metal_of

PROCESS = "hand-moulded clay-bonded sand"
PROCESSES = (PROCESS, "chemically bonded sand")


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternCase:
    """A part and how it is to be made; SI, None where nothing is said.

    ``machined_faces`` counts the machined ends of each axis, ``hindrance`` is the share of the contraction
    that is held back along it. ``master_contraction`` is that of a metal pattern cast from the one asked for.
    """

    length: float | None = None
    width: float | None = None
    height: float | None = None
    alloy: str | None = None
    properties: Mapping[str, float | None] = field(default_factory=dict)
    machined_faces: Mapping[str, float] = field(default_factory=dict)
    machining: float | None = None
    hindrance: Mapping[str, float] = field(default_factory=dict)
    master_contraction: float | None = None
    draft_degrees: float | None = None
    rapping: float | None = None
    process: str | None = None
    tolerance: float | None = None
    pattern_mass: float | None = None
    pattern_density: float | None = None


def decide_pattern(case: PatternCase) -> Answer:
    """Answer a pattern request."""
    ledger = Ledger()
    metal = metal_of(case.alloy, case.properties, ledger)
    why = Say("How much larger the pattern must be is the metal's contraction: name the alloy, or give it.")
    try:
        contraction = metal.need("contraction", why)
        inputs = _inputs(case, metal, contraction, ledger)
    except MissingValue as missing:
        return answer(ledger, {}, [], missing.missing.why)
    done = None if inputs is None else assess_pattern(inputs)
    free = pattern.pattern_scale(contraction)
    told = _reported(metal)
    result = {
        "contraction": contraction,
        "contraction_low": told[0] if told else None,
        "contraction_high": told[1] if told else None,
        "scale": free * (1.0 + (case.master_contraction or 0.0)),
        "volume_ratio": pattern.cavity_volume(free, 1.0),
        **_sizes(inputs, done, contraction),
        **_masses(case, metal, free, ledger),
    }
    checks = list(done.checks) if done else []
    return answer(ledger, result, checks, _sentence(result))


def _reported(metal: Metal) -> tuple[float, float] | None:
    return contraction_range(metal.family, metal.group) if metal.family else None


def _inputs(case: PatternCase, metal: Metal, contraction: float, ledger: Ledger) -> PatternInputs | None:
    """Everything the sizes follow from; None where only a mass is asked for."""
    given = {"length": case.length, "width": case.width, "height": case.height}
    finished = {axis: size for axis, size in given.items() if size is not None}
    if not finished and case.pattern_mass is not None:
        return None
    lacking = [
        ledger.lack(f"/{axis}", Say("Give the finished part's {axis}.", axis=axis))
        for axis in AXES
        if axis not in finished
    ]
    if lacking:
        raise MissingValue(lacking[0])
    process = ledger.use(
        "/process", case.process, PROCESS, "text", provenance="common practice", source="COMMON-PRACTICE"
    )
    largest = max(finished.values())
    faces = {axis: float(case.machined_faces.get(axis, 0.0)) for axis in AXES}
    usual = _usual_machining(process, metal.family, largest)
    grade = usual_grade(process, metal.family, largest) if metal.family else None
    held = tolerance(grade, largest) if grade is not None else None
    machining = case.machining
    if machining is None and any(faces.values()):
        if usual is None:
            why = Say("Say how much is machined off each face: no table covers this metal or size.")
            raise MissingValue(ledger.lack("/machining", why))
        machining = ledger.use(
            "/machining",
            None,
            usual[0],
            "length",
            provenance="common practice",
            source=usual[1],
            note=f"grade {usual[2]} of ISO 8062's table for the largest size",
        )
    low, high = outside_draft()
    least_draft, most_draft = math.degrees(low.value), math.degrees(high.value)
    return PatternInputs(
        finished=finished,
        machined_faces=faces,
        machining=machining or 0.0,
        casting_tolerance=held.value if held else 0.0,
        contraction=contraction,
        master_scale=1.0 + (case.master_contraction or 0.0),
        hindrance={axis: case.hindrance.get(axis, 0.0) for axis in AXES},
        draft_degrees=ledger.use(
            "/draft_degrees",
            case.draft_degrees,
            0.5 * (least_draft + most_draft),
            "ratio",
            provenance=low.provenance,
            source=low.source,
            note=f"outside faces take {least_draft:.3g} to {most_draft:.3g} degrees",
        ),
        least_draft=least_draft,
        rapping=ledger.use(
            "/rapping",
            case.rapping,
            0.0,
            "length",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="what rapping widens the mould by; nothing is taken off for it",
        ),
        usual_machining=usual[0] if usual else None,
        wanted_tolerance=case.tolerance,
        held_tolerance=held.value if held else None,
    )


def _usual_machining(process: str, family: str | None, size: float) -> tuple[float, str, str] | None:
    """Metal to leave on a machined face (m) by the middle grade of the process, its source and grade."""
    found = grade_range(process, family) if family else None
    letter = found.usual_machining if found is not None else None
    if letter is None:
        return None
    cell = machining_allowance(letter, size)
    return None if cell is None else (cell.value, cell.source, letter)


def _sizes(
    inputs: PatternInputs | None, done: PatternAssessment | None, contraction: float
) -> dict[str, Any]:
    if inputs is None or done is None:
        return {"axes": [], "draft": None, "held_tolerance": None}
    lines = []
    for axis in AXES:
        free = contraction * (1.0 - inputs.hindrance[axis])
        finished = inputs.finished[axis]
        lines.append(
            {
                "axis": axis,
                "finished": finished,
                "pattern": done.bare[axis],
                "at_the_parting": done.sizes[axis],
                "part_as_pattern_gives": finished / (1.0 + free),
                "build_up": (done.bare[axis] - finished) / 2.0,
            }
        )
    return {"axes": lines, "draft": done.draft, "held_tolerance": inputs.held_tolerance}


def _masses(case: PatternCase, metal: Metal, scale: float, ledger: Ledger) -> dict[str, Any]:
    if case.pattern_mass is None:
        return {"casting_mass": None}
    if case.pattern_density is None:
        ledger.lack("/pattern_density", Say("Say how dense the pattern's material is: weigh a block of it."))
        return {"casting_mass": None}
    density = metal.get("density")
    if density is None:
        ledger.lack("/properties/density", Say("The casting's mass follows from the metal's density."))
        return {"casting_mass": None}
    mass = pattern.casting_by_pattern_mass(case.pattern_mass, density, case.pattern_density, scale)
    return {"casting_mass": mass}


def _sentence(result: Mapping[str, Any]) -> Say:
    axes = result["axes"]
    parts: dict[str, tuple[float, str] | str] = {"s": (result["contraction"], "fraction")}
    words = "The metal contracts {s}"
    if axes:
        words += ": make the pattern {l} by {w} by {h}, and {d} wider on each side at the parting for draft"
        for key, line in zip(("l", "w", "h"), axes, strict=True):
            parts[key] = (line["pattern"], "length")
        parts["d"] = (result["draft"], "length")
    if result["casting_mass"] is not None:
        words += "; the casting from a solid pattern of this mass weighs {m}"
        parts["m"] = (result["casting_mass"], "mass")
    return Say(f"{words}.", **parts)
