"""Finding the least diameter that meets each criterion.

A riser of given proportions has a modulus proportional to its diameter, a curvature that does not
depend on it and a volume that goes with its cube, so each criterion gives a diameter in closed
form once the casting's own modulus and time are known. Those depend on the foot, and how much of
the foot rests on sand depends on the diameter, so the search starts without a foot and goes upward
only; it ends where nothing changes, or finds that the foot leaves nothing to cool.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ..assess.freezing import time_to_freeze
from ..assess.riser import (
    LONG_NECK,
    CastingState,
    RiserInputs,
    cooling_ends,
    riser_body,
    riser_volume,
    under_riser,
    untouched,
)
from ..bounds import OutOfRange
from ..formulas import curvature, freezing, riser
from ..ledger import Say

ROUNDS = 4000
"""Rounds of the search; most need ten, a foot that only just does not outrun its riser many."""

SHORT_NECK_MADE = 0.75
"""Modulus of a short neck over the casting's as it is made: the middle of 0.6 to 0.9."""


class NoRiser(Exception):
    """No diameter meets the criteria; ``why`` says so, with what would help."""

    def __init__(self, why: Say, diameters: Mapping[str, float | None]) -> None:
        self.why, self.diameters = why, diameters
        super().__init__(why.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """The least diameter (m; 0 where no riser is needed), what each criterion asks, and which governs."""

    diameter: float
    diameters: Mapping[str, float | None]
    governs: str


def size_riser(
    inputs: RiserInputs, height_ratio: float, neck: float | None, *, settled: float = 1e-12
) -> Size:
    """The least diameter that meets ``inputs.criteria``, with a neck of this thickness (m) or none.

    The search ends where a round adds no more than the share ``settled``.
    Raises NoRiser where there is none, OutOfRange for impossible inputs.
    """
    volume = volume_diameter(inputs, height_ratio, inputs.shrinkage)
    by_volume = {"volume": volume, "volume_x3": three_times_diameter(inputs, height_ratio)}
    diameter = volume or 0.0 if "volume" in inputs.criteria else 0.0
    asked: dict[str, float | None] = {}
    others = untouched(inputs)
    one = _one_across(inputs, height_ratio, inputs.cooling_ends)
    for _ in range(ROUNDS):
        try:
            casting = under_riser(inputs, diameter if neck is None else neck, others)
        except OutOfRange:
            raise NoRiser(swallowed(inputs), {**asked, **by_volume}) from None
        ends = cooling_ends(inputs, diameter) if diameter > 0.0 else inputs.cooling_ends
        if ends != inputs.cooling_ends:
            one = _one_across(inputs, height_ratio, ends)
        asked = {**_by_freezing(inputs, casting, one), **by_volume}
        if "volume" in inputs.criteria and volume is None:
            raise NoRiser(_too_thirsty(inputs), asked)
        used = {name: asked[name] or 0.0 for name in inputs.criteria}
        governs = max(sorted(used), key=lambda name: used[name])
        least = max(diameter, used[governs])
        if least <= diameter * (1.0 + settled):
            return Size(diameter=diameter, diameters=asked, governs=governs)
        diameter = least
    raise NoRiser(swallowed(inputs), asked)


def _one_across(inputs: RiserInputs, height_ratio: float, ends: float) -> tuple[float, float]:
    """Modulus (m) and time (s) of a riser 1 m across with so many cooling ends."""
    unit = riser_body(inputs.shape, 1.0, height_ratio, ends)
    modulus = freezing.section_modulus(unit.volume, unit.cooling_area) * inputs.sleeve_ratio
    shape = curvature.shape_curvature(unit.curvature, unit.volume, unit.cooling_area)
    return modulus, time_to_freeze(inputs.cooling, modulus, shape)


def _by_freezing(
    inputs: RiserInputs, casting: CastingState, one: tuple[float, float]
) -> dict[str, float | None]:
    """Diameters by time and by modulus; ``one`` is modulus and time of a riser 1 m across."""
    modulus, time = one
    by_time = by_modulus = None
    if casting.time is not None:
        by_time = math.sqrt(inputs.time_ratio * casting.time / time)
    if casting.modulus is not None:
        by_modulus = inputs.modulus_ratio * casting.modulus / modulus
    return {"time": by_time, "modulus": by_modulus}


def size_neck(inputs: RiserInputs) -> float | None:
    """Thickness (m) of the neck: the caller's, or the least that stays open; None without one.

    A neck whose length is told and turns out shorter than half its thickness may be thinner.
    Raises NoRiser where the neck of a top riser would take all of the casting's cooling surface.
    """
    if not inputs.necked:
        return None
    if inputs.neck_thickness is not None:
        return inputs.neck_thickness
    if inputs.neck_length is not None:
        short = _neck(inputs, SHORT_NECK_MADE)
        if short is not None and inputs.neck_length < short / 2.0:
            return short
    return _neck(inputs, LONG_NECK)


def _neck(inputs: RiserInputs, ratio: float) -> float | None:
    """Least thickness (m) of a neck of this modulus ratio; its own foot is reckoned with."""
    thickness = 0.0
    for _ in range(ROUNDS):
        try:
            casting = under_riser(inputs, thickness)
        except OutOfRange:
            break
        if casting.modulus is None:
            return None
        least = riser.neck_thickness(ratio, casting.modulus)
        if least <= thickness * (1.0 + 1e-12):
            return thickness
        thickness = least
    raise NoRiser(swallowed(inputs), {})


def volume_diameter(inputs: RiserInputs, height_ratio: float, shrinkage: float | None) -> float | None:
    """Diameter (m) by the volume criterion: 0 where the metal expands, None where it has no answer."""
    if shrinkage is None or shrinkage >= inputs.feeding_efficiency:
        return None
    if shrinkage <= 0.0:
        return 0.0
    needed = riser.volume_for_feeding(shrinkage, inputs.casting_volume, inputs.feeding_efficiency)
    return float((needed / riser_volume(inputs.shape, 1.0, height_ratio)) ** (1.0 / 3.0))


def three_times_diameter(inputs: RiserInputs, height_ratio: float) -> float | None:
    """Diameter (m) by the textbooks' three times the shrinkage; shown, never used."""
    if inputs.shrinkage is None:
        return None
    needed = riser.volume_by_three(max(inputs.shrinkage, 0.0), inputs.casting_volume)
    return float((needed / riser_volume(inputs.shape, 1.0, height_ratio)) ** (1.0 / 3.0))


def swallowed(inputs: RiserInputs) -> Say:
    """Why no riser of these proportions will do on the face it stands on."""
    return Say(
        "No riser can stand on {where} like this: its foot covers the surface through which that section "
        "cools, so the section would not freeze before it. Set it on a neck, make it taller for its width "
        "(height_to_diameter), choose another face, or put it beside the casting (position side).",
        where=inputs.stands_on or "the casting",
    )


def _too_thirsty(inputs: RiserInputs) -> Say:
    return Say(
        "No riser of this kind can give enough: the metal shrinks {b} and the riser can give only {e} of "
        "itself. Use a sleeve or a domed riser.",
        b=(inputs.shrinkage or 0.0, "fraction"),
        e=(inputs.feeding_efficiency, "fraction"),
    )
