"""Given a casting and a riser of known size: does the riser freeze last, and can it give enough?

Only forward. The riser may stand on the casting (its foot, or its neck, then takes cooling surface
from the section below it) or beside it. Numbers may be floats or NumPy arrays.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from ..bounds import OutOfRange
from ..checks import Check
from ..formula import paused, step
from ..formulas import curvature, freezing, riser, riser_shapes
from ..formulas.amounts import mass_of
from ..geometry import shapes
from .freezing import Body, Cooling, Frozen, cores_suffice, freeze, plain, time_to_freeze
from .properties import check_iron_shrinkage, check_shrinkage
from .riser_checks import (
    check_face,
    check_foot,
    check_modulus,
    check_neck,
    check_neck_in_riser,
    check_reach,
    check_time,
    check_volume,
)

RIM = 0.95
"""A face of which the foot covers this share has no free rim left that would cool faster."""

LAST_BITS = 1e-9
"""Share of a cooling surface that is rounding, not surface."""

LONG_NECK, SHORT_NECK = 1.1, 0.6
"""Least modulus of a neck over that of the casting; a neck is short below half its own thickness,
where riser and casting keep it hot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserInputs:
    """Everything that does not depend on the riser's size.

    ``bodies`` are the casting's sections; ``stands_on`` names the one under a top riser,
    ``face_area`` (m^2) is the flat face that it offers, ``face_share`` metal over metal and
    holes in it, ``face_edges`` (m) what that face's edges add to the section's curvature, and
    ``face_width`` (m) what the foot should fit into, ``face_across`` (m) how far the end of a ring
    reaches over its hole. A casting
    known only by modulus or time is no body. ``feeds_first`` is the section that the riser is next
    to, ``kept_off`` its faces that must stay free, ``free_faces`` those that may bear a riser or a
    neck. ``casting_modulus`` and ``casting_time``, where given,
    replace the computed ones. ``shrinkage`` is what is fed from the full mould on,
    ``freezing_shrinkage`` the part of it on freezing; None where not known. ``neck_length`` and
    ``neck_thickness`` (m) are the caller's; ``foot_joined`` says that the riser's own foot is one
    with the casting, as far as the face below it goes. ``unreached`` are sections that no join leads to.
    """

    cooling: Cooling
    bodies: tuple[Body, ...]
    casting_volume: float
    casting_modulus: float | None
    casting_time: float | None
    stands_on: str | None
    face: str | None
    face_area: float | None
    face_edges: float
    face_width: float | None
    shrinkage: float | None
    freezing_shrinkage: float | None
    shrinkage_spread: float | None
    shrinkage_given: bool
    iron: bool
    feeding_efficiency: float
    sleeve_ratio: float
    time_ratio: float
    modulus_ratio: float
    shape: str
    position: str
    cooling_ends: float
    foot_joined: bool
    density: float | None
    density_liquid: float | None
    cavity_factor: float
    necked: bool
    neck_length: float | None
    neck_thickness: float | None
    criteria: tuple[str, ...]
    unreached: tuple[str, ...]
    face_share: float = 1.0
    face_across: float | None = None
    feeds_first: str = ""
    kept_off: tuple[str, ...] = ()
    free_faces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserDecision:
    """The riser's size, m. A ball has no height of its own; a dome's is the straight part."""

    diameter: float
    height: float
    neck: float | None

    @property
    def foot(self) -> float:
        """Diameter (m) of what joins the riser to the casting: its neck, or the riser itself."""
        return self.diameter if self.neck is None else self.neck


@dataclass(frozen=True, slots=True, kw_only=True)
class CastingState:
    """The casting under its riser: modulus (m) and time (s) of what freezes last, None if not known."""

    modulus: float | None
    time: float | None
    last: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Masses:
    """kg: the cold casting, the riser as poured and what is left of it; the yield has no unit."""

    casting: float
    riser: float
    riser_left: float
    yield_ratio: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserAssessment:
    """What that riser does: m^3, m^2, m, s; ``masses`` is None where the density is not known."""

    volume: float
    modulus: float
    time: float
    casting_modulus: float | None
    casting_time: float | None
    last_section: str
    foot_area: float
    masses: Masses | None
    checks: tuple[Check, ...]


def riser_volume(shape: str, diameter: float, height: float) -> float:
    """Volume (m^3) of a riser of this shape."""
    if shape == "ball":
        return shapes.sphere_volume(diameter)
    if shape == "domed":
        return riser_shapes.domed_riser_volume(diameter, height)
    return shapes.cylinder_volume(diameter, height)


def riser_body(shape: str, diameter: float, height: float, cooling_ends: float) -> Body:
    """The riser as the mould sees it."""
    volume = riser_volume(shape, diameter, height)
    if shape == "ball":
        area = shapes.sphere_area(diameter)
        bend = riser_shapes.ball_riser_curvature(diameter)
    elif shape == "domed":
        area = riser_shapes.domed_riser_area(diameter, height, cooling_ends)
        bend = riser_shapes.domed_riser_curvature(diameter, height, cooling_ends)
    else:
        area = riser_shapes.cylinder_riser_area(diameter, height, cooling_ends)
        bend = riser_shapes.cylinder_riser_curvature(diameter, height, cooling_ends)
    return Body(name="riser", volume=volume, cooling_area=area, curvature=bend)


def foot_area(inputs: RiserInputs, foot: float) -> float:
    """Area (m^2) over which a foot of this diameter (m) is one with the casting.

    On a face at most the flat area offered, and no wider than the face; of a bored face the same
    share is metal under the foot as beside it. On the end of a ring it stands on the wall, or
    over the hole where more metal is met so.
    """
    if inputs.face_area is None or inputs.face_width is None:
        return np.pi / 4.0 * foot**2
    if np.all(np.asarray(foot) == 0.0):
        return 0.0
    with paused():
        across = inputs.face_width if inputs.face_across is None else inputs.face_across
        on_face = inputs.face_share * riser_shapes.disc_on_strip(foot, across)
        if inputs.face_across is not None:
            on_face = np.maximum(on_face, riser_shapes.disc_on_strip(foot, inputs.face_width))
        return plain(np.minimum(on_face, inputs.face_area))


def covers_hole(inputs: RiserInputs, foot: float) -> bool:
    """Whether a foot of this diameter (m) reaches right over the hole of the ring it stands on."""
    if inputs.face_across is None or inputs.face_width is None:
        return False
    return bool(np.any(foot > inputs.face_across - 2.0 * inputs.face_width))


def cooling_ends(inputs: RiserInputs, diameter: float) -> float:
    """Flat ends of the riser that cool, counting what of its foot rests on sand beside the casting."""
    if not inputs.foot_joined or inputs.stands_on is None:
        return inputs.cooling_ends
    disc = np.pi / 4.0 * diameter**2
    return inputs.cooling_ends + plain(np.clip(1.0 - foot_area(inputs, diameter) / disc, 0.0, 1.0))


def bodies_under(inputs: RiserInputs, foot: float) -> tuple[Body, ...]:
    """The sections with a foot of this diameter (m) standing on one of them.

    The foot takes its area off that section's cooling surface; where it covers the face, the
    face's edges no longer cool faster than the rest.
    """
    if inputs.stands_on is None or inputs.face_area is None:
        return inputs.bodies
    covered = foot_area(inputs, foot)
    lost = plain(np.where(covered >= RIM * inputs.face_area, inputs.face_edges, 0.0))
    return tuple(
        _covered(body, covered, lost) if body.name == inputs.stands_on else body for body in inputs.bodies
    )


def _covered(body: Body, area: float, edges: float) -> Body:
    """A body that loses this much cooling surface (m^2) and curvature (m)."""
    left = body.cooling_area - area
    left = plain(np.where(left > LAST_BITS * body.cooling_area, left, 0.0))
    return replace(body, cooling_area=left, curvature=body.curvature - edges)


def untouched(inputs: RiserInputs) -> dict[str, Frozen]:
    """The sections that no foot touches, frozen once for all risers that are tried."""
    bodies = [body for body in inputs.bodies if body.name != inputs.stands_on]
    return {body.name: freeze(inputs.cooling, body) for body in bodies}


def under_riser(inputs: RiserInputs, foot: float, others: Mapping[str, Frozen] | None = None) -> CastingState:
    """The casting with a foot of this diameter (m) standing on it.

    ``others`` are sections that are frozen already; see :func:`untouched`. Raises OutOfRange
    where the foot leaves a section no surface that cools.
    """
    if not inputs.bodies:
        time = inputs.casting_time
        if time is None and inputs.casting_modulus is not None:
            time = time_to_freeze(inputs.cooling, inputs.casting_modulus, 0.0)
        return CastingState(modulus=inputs.casting_modulus, time=time, last="the casting")
    bodies = bodies_under(inputs, foot)
    for body in bodies:
        if np.ndim(body.cooling_area) == 0 and not cores_suffice(inputs.cooling, body):
            raise OutOfRange("cooling_area", 0.0, "some surface that cools beside the foot", "under_riser")
    known = others or {}
    frozen = [known.get(body.name) or freeze(inputs.cooling, body) for body in bodies]
    last = max(frozen, key=lambda one: (float(np.mean(one.time)), one.body.name))
    return CastingState(
        modulus=last.modulus if inputs.casting_modulus is None else inputs.casting_modulus,
        time=last.time if inputs.casting_time is None else inputs.casting_time,
        last=last.body.name,
    )


def neck_ratio_needed(length: float | None, thickness: float) -> float:
    """Least modulus of a neck of this length and thickness (m) over the casting's."""
    if length is None:
        return LONG_NECK
    return plain(np.where(length < thickness / 2.0, SHORT_NECK, LONG_NECK))


def assess_riser(inputs: RiserInputs, decision: RiserDecision) -> RiserAssessment:
    """Judge one riser. Raises OutOfRange where the foot leaves the casting no cooling surface."""
    with step("casting", "under the riser"):
        casting = under_riser(inputs, decision.foot)
    with step("riser", ""):
        ends = cooling_ends(inputs, decision.diameter)
        body = riser_body(inputs.shape, decision.diameter, decision.height, ends)
        bare = freezing.section_modulus(body.volume, body.cooling_area)
        shape = curvature.shape_curvature(body.curvature, body.volume, body.cooling_area)
        modulus = bare * inputs.sleeve_ratio
        time = time_to_freeze(inputs.cooling, modulus, shape)
        checks = _size_checks(inputs, casting, body.volume, modulus, time)
        checks += _place_checks(inputs, decision, casting, modulus)
        masses = _masses(inputs, body.volume)
    return RiserAssessment(
        volume=body.volume,
        modulus=modulus,
        time=time,
        casting_modulus=casting.modulus,
        casting_time=casting.time,
        last_section=casting.last,
        foot_area=foot_area(inputs, decision.foot),
        masses=masses,
        checks=tuple(checks),
    )


def _size_checks(
    inputs: RiserInputs, casting: CastingState, volume: float, modulus: float, time: float
) -> list[Check]:
    """The criteria that are asked for."""
    checks = []
    if "time" in inputs.criteria and casting.time is not None:
        checks.append(check_time(time, casting.time, inputs.time_ratio, casting.last))
    if "modulus" in inputs.criteria and casting.modulus is not None:
        checks.append(check_modulus(modulus, casting.modulus, inputs.modulus_ratio))
    if "volume" in inputs.criteria and inputs.shrinkage is not None:
        needed = riser.metal_to_feed(inputs.shrinkage, inputs.casting_volume, volume)
        given = riser.metal_from_riser(inputs.feeding_efficiency, volume)
        checks.append(check_volume(given, needed, inputs.shrinkage, inputs.feeding_efficiency))
        if inputs.freezing_shrinkage is not None and inputs.iron:
            checks.append(check_iron_shrinkage(inputs.freezing_shrinkage, inputs.shrinkage_given))
        elif inputs.freezing_shrinkage is not None:
            checks.append(check_shrinkage(inputs.freezing_shrinkage))
    return checks


def _place_checks(
    inputs: RiserInputs, decision: RiserDecision, casting: CastingState, modulus: float
) -> list[Check]:
    """Foot, neck, and whether metal can get from the riser to every section."""
    checks = []
    if inputs.stands_on is not None and inputs.face_width is not None:
        over = covers_hole(inputs, decision.foot)
        checks.append(check_foot(decision.foot, inputs.face_width, inputs.stands_on, over))
    if inputs.kept_off:
        checks.append(check_face(inputs.feeds_first, inputs.face, inputs.free_faces, inputs.kept_off))
    if decision.neck is not None and casting.modulus is not None:
        needed = neck_ratio_needed(inputs.neck_length, decision.neck)
        checks.append(check_neck(decision.neck, casting.modulus, needed))
        if np.all(needed == LONG_NECK):
            checks.append(check_neck_in_riser(decision.neck, modulus))
    if len(inputs.bodies) > 1:
        checks.append(check_reach(inputs.unreached, len(inputs.bodies)))
    return checks


def _masses(inputs: RiserInputs, volume: float) -> Masses | None:
    """Cold casting, riser as poured and left, and their yield.

    What the casting takes from the riser is what its cavity lacks; a riser that holds less leaves
    the casting short by the rest.
    """
    if inputs.density_liquid is None:
        return None
    poured = mass_of(inputs.density_liquid, volume)
    cavity = mass_of(inputs.density_liquid, inputs.casting_volume * inputs.cavity_factor)
    casting = cavity
    if inputs.density is not None:
        casting = plain(np.minimum(mass_of(inputs.density, inputs.casting_volume), cavity + poured))
    left = plain(np.maximum(cavity + poured - casting, 0.0))
    ratio = riser.feeding_yield(casting, left)
    return Masses(casting=casting, riser=poured, riser_left=left, yield_ratio=ratio)
