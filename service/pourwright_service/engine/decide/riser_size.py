"""Finding the least diameter that meets each criterion.

A riser of given proportions has a modulus proportional to its diameter, a curvature that does not
depend on it and a volume that goes with its cube, so each criterion gives a diameter in closed
form once the casting's own modulus and time are known. Those depend on the foot, so the search
starts without a foot and goes upward only; it ends where nothing changes, or finds that the foot
outruns the riser.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ..assess.freezing import time_to_freeze
from ..assess.riser import RiserInputs, riser_body, under_riser, volume_needed
from ..bounds import OutOfRange
from ..formulas import freezing, riser
from ..ledger import Say

ROUNDS = 400


class NoRiser(Exception):
    """No diameter meets the criteria; ``why`` says so, with what would help."""

    def __init__(self, why: Say, diameters: Mapping[str, float | None]) -> None:
        self.why, self.diameters = why, diameters
        super().__init__(why.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """The least diameter (m), the one that each criterion asks for, and which governs."""

    diameter: float
    diameters: Mapping[str, float | None]
    governs: str


def size_riser(inputs: RiserInputs, height_ratio: float) -> Size:
    """The least diameter that meets ``inputs.criteria``.

    Raises NoRiser where there is none, OutOfRange for impossible inputs.
    """
    unit = riser_body(inputs.shape, 1.0, height_ratio, inputs.cooling_ends)
    modulus = freezing.section_modulus(unit.volume, unit.cooling_area) * inputs.sleeve_ratio
    shape = freezing.shape_curvature(unit.curvature, unit.volume, unit.cooling_area)
    time = time_to_freeze(inputs.cooling, modulus, shape)
    volumes = _volume_diameters(inputs, unit.volume)
    diameter = volumes["volume"] or 0.0 if "volume" in inputs.criteria else 0.0
    asked: dict[str, float | None] = {}
    for _ in range(ROUNDS):
        try:
            casting_modulus, casting_time, _ = under_riser(inputs, diameter)
        except OutOfRange:
            raise NoRiser(_swallowed(inputs), {**asked, **volumes}) from None
        asked = {
            "time": math.sqrt(inputs.time_ratio * casting_time / time),
            "modulus": inputs.modulus_ratio * casting_modulus / modulus,
        }
        asked.update(volumes)
        if "volume" in inputs.criteria and volumes["volume"] is None:
            raise NoRiser(_too_thirsty(inputs), asked)
        used = {name: asked[name] or 0.0 for name in inputs.criteria}
        governs = max(sorted(used), key=lambda name: used[name])
        least = max(diameter, used[governs])
        if least <= diameter * (1.0 + 1e-12):
            return Size(diameter=diameter, diameters=asked, governs=governs)
        diameter = least
    raise NoRiser(_swallowed(inputs), asked)


def _volume_diameters(inputs: RiserInputs, unit_volume: float) -> dict[str, float | None]:
    needed = volume_needed(inputs)
    if needed is None or inputs.shrinkage is None:
        return {"volume": None, "volume_x3": None}
    by_three = riser.volume_by_three(max(inputs.shrinkage, 0.0), inputs.casting_volume)
    return {
        "volume": None if math.isinf(needed) else (needed / unit_volume) ** (1.0 / 3.0),
        "volume_x3": (by_three / unit_volume) ** (1.0 / 3.0),
    }


def _swallowed(inputs: RiserInputs) -> Say:
    return Say(
        "No plain riser of these proportions on {where} can freeze last: the wider it is, the more of the "
        "casting's cooling surface its foot covers. Make it shorter for its width (height_to_diameter), set "
        "it on a neck, give it a sleeve, or put it beside the casting (position side).",
        where=inputs.stands_on or "the casting",
    )


def _too_thirsty(inputs: RiserInputs) -> Say:
    return Say(
        "No riser of this kind can give enough: the metal shrinks {b} and the riser can give only {e} of "
        "itself. Use a sleeve or a domed riser.",
        b=(inputs.shrinkage or 0.0, "fraction"),
        e=(inputs.feeding_efficiency, "fraction"),
    )
