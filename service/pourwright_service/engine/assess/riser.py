"""Given a casting and a riser of known size: does the riser freeze last, and can it give enough?

Only forward. The riser may stand on the casting (its foot then takes cooling surface from the
section below it) or beside it. Numbers may be floats or NumPy arrays.
"""

from dataclasses import dataclass, replace

import numpy as np

from ..checks import Check, check_kind
from ..formula import paused, step
from ..formulas import freezing, riser
from ..ledger import Say
from .freezing import Body, Cooling, Frozen, freeze, time_to_freeze

FREEZES_LAST = check_kind(
    "riser-freezes-last",
    "The riser stays liquid longer than the casting",
    kind="time",
    sense="at least",
    source="RISER-TIME",
    margin=True,
)
MODULUS = check_kind(
    "riser-modulus",
    "The riser's modulus exceeds the casting's",
    kind="length",
    sense="at least",
    source="RISER-STEPS",
    margin=True,
)
VOLUME = check_kind(
    "riser-volume",
    "The riser holds enough metal to make up the shrinkage",
    kind="volume",
    sense="at least",
    source="DERIVED",
    margin=True,
)
FOOT = check_kind(
    "riser-foot",
    "The riser fits on the face it stands on",
    kind="length",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
NECK_ORDER = check_kind(
    "neck-freezes-between",
    "The neck stays open until the casting is solid",
    kind="ratio",
    sense="at least",
    source="RISER-NECK",
    margin=True,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserInputs:
    """Everything that does not depend on the riser's size.

    ``bodies`` are the casting's sections; ``stands_on`` names the one under a top riser and
    ``face_area`` (m^2) is the flat face that it offers. A casting known only by modulus or time
    is one body without a stand. ``casting_time`` (s), where given, replaces the computed one.
    ``shrinkage`` is None where it is not known. ``face_width`` (m) limits the foot.
    """

    cooling: Cooling
    bodies: tuple[Body, ...]
    casting_volume: float
    casting_modulus: float | None
    casting_time: float | None
    stands_on: str | None
    face: str | None
    face_area: float | None
    face_width: float | None
    shrinkage: float | None
    shrinkage_spread: float | None
    feeding_efficiency: float
    sleeve_ratio: float
    time_ratio: float
    modulus_ratio: float
    shape: str
    position: str
    cooling_ends: float
    density: float | None
    density_liquid: float | None
    cavity_factor: float
    neck_ratio: float | None
    neck_needed: float | None
    criteria: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserDecision:
    """The riser's size, m. A ball has no height of its own; a dome's is the straight part."""

    diameter: float
    height: float
    neck: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserAssessment:
    """What that riser does: m^3, m^2, m, s, kg; ratios without unit."""

    volume: float
    modulus: float
    time: float
    casting_modulus: float
    casting_time: float
    last_section: str
    volume_needed: float | None
    volume_by_three: float | None
    casting_mass: float | None
    riser_mass: float | None
    yield_ratio: float | None
    foot_area: float
    checks: tuple[Check, ...]


def riser_volume(shape: str, diameter: float, height: float) -> float:
    """Volume (m^3) of a riser of this shape."""
    if shape == "ball":
        return riser.ball_riser_volume(diameter)
    if shape == "domed":
        return riser.domed_riser_volume(diameter, height)
    return riser.cylinder_riser_volume(diameter, height)


def riser_body(shape: str, diameter: float, height: float, cooling_ends: float) -> Body:
    """The riser as the mould sees it."""
    volume = riser_volume(shape, diameter, height)
    if shape == "ball":
        area, curvature = riser.ball_riser_area(diameter), riser.ball_riser_curvature(diameter)
    elif shape == "domed":
        area = riser.domed_riser_area(diameter, height, cooling_ends)
        curvature = riser.domed_riser_curvature(diameter, height, cooling_ends)
    else:
        area = riser.cylinder_riser_area(diameter, height, cooling_ends)
        curvature = riser.cylinder_riser_curvature(diameter, height, cooling_ends)
    return Body(name="riser", volume=volume, cooling_area=area, curvature=curvature)


def under_riser(inputs: RiserInputs, diameter: float) -> tuple[float, float, str]:
    """Modulus (m) and time (s) of the casting with this riser standing on it, and its last section.

    The foot takes its area off the section it stands on, at most the flat face offered.
    """
    if not inputs.bodies:
        return _known_casting(inputs)
    frozen: list[Frozen] = []
    for body in inputs.bodies:
        if body.name == inputs.stands_on and inputs.face_area is not None:
            foot = np.minimum(np.pi / 4.0 * diameter**2, inputs.face_area)
            body = replace(body, cooling_area=body.cooling_area - foot)
        frozen.append(freeze(inputs.cooling, body))
    last = max(frozen, key=lambda one: (float(np.mean(one.time)), one.body.name))
    modulus = inputs.casting_modulus if inputs.casting_modulus is not None else last.modulus
    time = inputs.casting_time if inputs.casting_time is not None else last.time
    return modulus, time, last.body.name


def _known_casting(inputs: RiserInputs) -> tuple[float, float, str]:
    if inputs.casting_modulus is None:
        raise ValueError("neither sections nor a modulus")
    time = inputs.casting_time
    if time is None:
        time = time_to_freeze(inputs.cooling, inputs.casting_modulus, 0.0)
    return inputs.casting_modulus, time, "casting"


def volume_needed(inputs: RiserInputs) -> float | None:
    """Least riser volume (m^3) that the shrinkage asks for; None unknown, 0 where metal expands,
    infinity where the efficiency cannot meet the shrinkage."""
    if inputs.shrinkage is None:
        return None
    if np.all(np.asarray(inputs.shrinkage) <= 0.0):
        return 0.0
    if np.ndim(inputs.shrinkage) == 0 and inputs.shrinkage >= inputs.feeding_efficiency:
        return float("inf")
    return riser.volume_for_feeding(inputs.shrinkage, inputs.casting_volume, inputs.feeding_efficiency)


def assess_riser(inputs: RiserInputs, decision: RiserDecision) -> RiserAssessment:
    """Judge one riser. Raises OutOfRange where the foot leaves the casting no cooling surface."""
    with step("casting", "under the riser"):
        casting_modulus, casting_time, last = under_riser(inputs, decision.diameter)
    with step("riser", ""):
        body = riser_body(inputs.shape, decision.diameter, decision.height, inputs.cooling_ends)
        plain = freezing.section_modulus(body.volume, body.cooling_area)
        shape = freezing.shape_curvature(body.curvature, body.volume, body.cooling_area)
        modulus = plain * inputs.sleeve_ratio
        time = time_to_freeze(inputs.cooling, modulus, shape)
        needed = volume_needed(inputs)
        by_three = None
        if inputs.shrinkage is not None:
            with paused():
                by_three = riser.volume_by_three(max(inputs.shrinkage, 0.0), inputs.casting_volume)
    checks = [
        _check_time(inputs, time, casting_time, last),
        _check_modulus(inputs, modulus, casting_modulus),
    ]
    if needed is not None and np.all(np.isfinite(needed)):
        checks.append(_check_volume(body.volume, needed, inputs))
    checks = [check for check in checks if _CRITERION[check.kind.id] in inputs.criteria]
    if inputs.stands_on is not None and inputs.face_width is not None:
        checks.append(_check_foot(decision.diameter, inputs.face_width, inputs.stands_on))
    if decision.neck is not None and inputs.neck_ratio is not None and inputs.neck_needed is not None:
        checks.append(_check_neck(decision.neck, casting_modulus, inputs.neck_needed))
    masses = _masses(inputs, body.volume)
    return RiserAssessment(
        volume=body.volume,
        modulus=modulus,
        time=time,
        casting_modulus=casting_modulus,
        casting_time=casting_time,
        last_section=last,
        volume_needed=needed,
        volume_by_three=by_three,
        casting_mass=masses[0],
        riser_mass=masses[1],
        yield_ratio=masses[2],
        foot_area=np.pi / 4.0 * decision.diameter**2,
        checks=tuple(checks),
    )


_CRITERION = {"riser-freezes-last": "time", "riser-modulus": "modulus", "riser-volume": "volume"}


def _masses(inputs: RiserInputs, volume: float) -> tuple[float | None, float | None, float | None]:
    """Casting after freezing, riser as poured, and the yield of the two as poured."""
    if inputs.density_liquid is None:
        return None, None, None
    poured = riser.mass_of(inputs.density_liquid, volume)
    cavity = riser.mass_of(inputs.density_liquid, inputs.casting_volume * inputs.cavity_factor)
    if inputs.density is None:
        return cavity, poured, riser.feeding_yield(cavity, poured)
    casting = riser.mass_of(inputs.density, inputs.casting_volume)
    left = poured - (casting - cavity)
    return casting, poured, riser.feeding_yield(casting, left)


def _check_time(inputs: RiserInputs, time: float, casting_time: float, last: str) -> Check:
    needed = inputs.time_ratio * casting_time
    parts: dict[str, tuple[float, str] | str] = {
        "r": (time, "time"),
        "c": (casting_time, "time"),
        "n": (needed, "time"),
        "last": last,
    }
    return FREEZES_LAST.judge(
        time,
        needed,
        subject="/riser",
        ok=Say("The riser freezes last: {r} against {c} for {last}.", **parts),
        bad=Say(
            "The riser freezes too soon to feed the casting: {r} against {c} for {last}; "
            "it should last {n}. Make it larger, or give it a sleeve.",
            **parts,
        ),
    )


def _check_modulus(inputs: RiserInputs, modulus: float, casting_modulus: float) -> Check:
    needed = inputs.modulus_ratio * casting_modulus
    parts: dict[str, tuple[float, str] | str] = {
        "r": (modulus, "length"),
        "c": (casting_modulus, "length"),
        "n": (needed, "length"),
    }
    return MODULUS.judge(
        modulus,
        needed,
        subject="/riser",
        ok=Say("The riser is chunky enough: modulus {r} against {c} for the casting.", **parts),
        bad=Say(
            "The riser is too slim: modulus {r}, needed {n} (the casting's heaviest part has {c}).", **parts
        ),
    )


def _check_volume(volume: float, needed: float, inputs: RiserInputs) -> Check:
    parts: dict[str, tuple[float, str] | str] = {
        "v": (volume, "volume"),
        "n": (needed, "volume"),
        "b": (inputs.shrinkage or 0.0, "fraction"),
        "e": (inputs.feeding_efficiency, "fraction"),
    }
    return VOLUME.judge(
        volume,
        needed,
        subject="/riser",
        ok=Say("The riser holds enough metal: {v}, and {n} is needed.", **parts),
        bad=Say(
            "The riser runs dry before the casting is solid: it holds {v} and needs {n} "
            "to make up {b} of shrinkage when it can give {e} of itself.",
            **parts,
        ),
    )


def _check_foot(diameter: float, width: float, stands_on: str) -> Check:
    parts: dict[str, tuple[float, str] | str] = {
        "d": (diameter, "length"),
        "w": (width, "length"),
        "s": stands_on,
    }
    return FOOT.judge(
        diameter,
        width,
        subject="/riser",
        ok=Say("The riser fits on {s}.", **parts),
        bad=Say(
            "The riser is wider than the face of {s} it stands on ({d} on {w}): the rest of its foot rests "
            "on sand. Use a neck, a side riser or a taller, slimmer one.",
            **parts,
        ),
    )


def _check_neck(neck: float, casting_modulus: float, needed: float) -> Check:
    with paused():
        least = riser.neck_thickness(needed, casting_modulus)
    ratio = neck / least * needed
    parts: dict[str, tuple[float, str] | str] = {
        "t": (neck, "length"),
        "n": (least, "length"),
        "r": (ratio, "ratio"),
    }
    return NECK_ORDER.judge(
        ratio,
        needed,
        subject="/riser/neck",
        ok=Say("The neck stays open until the casting is solid ({t} thick).", **parts),
        bad=Say("The neck freezes shut before the casting is solid: {t} thick, needed {n}.", **parts),
    )
