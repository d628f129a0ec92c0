"""The proportions of a riser that take the least metal and meet every criterion."""

import math

from ..assess.riser import RiserInputs, riser_volume
from ..bounds import OutOfRange
from .riser_size import NoRiser, size_neck, size_riser

LOWEST, TALLEST, PER_UNIT = 4, 100, 20
"""Height over width is looked for between 0.2 and 5, in twentieths: the least is flat, and a twentieth
more or less takes no more than a few parts in a thousand."""

SETTLED = 1e-6
"""How far a search is driven that only compares proportions."""

USUAL = 1.0
"""Height over width where proportions make no difference, or none will do."""


def least_metal_ratio(inputs: RiserInputs) -> float:
    """Height over width of the smallest riser by volume that meets ``inputs.criteria``.

    Where the volume criterion governs, several proportions take the same metal; of those the one
    that freezes last is taken. Proportions for which there is no riser count as too low: a foot
    that takes too much of the casting's surface gets smaller as the riser gets taller.
    """
    if "time" not in inputs.criteria and "modulus" not in inputs.criteria:
        return USUAL
    try:
        neck = size_neck(inputs)
    except NoRiser:
        return USUAL
    tried: dict[int, tuple[float, float]] = {}

    def metal(steps: int) -> tuple[float, float]:
        """Volume of the riser (rounded against the last bits), and by the freezing criteria alone."""
        if steps not in tried:
            tried[steps] = _metal(inputs, steps / PER_UNIT, neck)
        return tried[steps]

    low, high = LOWEST, TALLEST
    while low < high:
        middle = (low + high) // 2
        if math.isinf(metal(middle)[0]) or metal(middle + 1) < metal(middle):
            low = middle + 1
        else:
            high = middle
    # A foot that meets the edge of its face makes a second hollow, and the usual riser may lie in it.
    best = min((low, round(USUAL * PER_UNIT)), key=metal)
    return USUAL if math.isinf(metal(best)[0]) else best / PER_UNIT


def _metal(inputs: RiserInputs, ratio: float, neck: float | None) -> tuple[float, float]:
    try:
        size = size_riser(inputs, ratio, neck, settled=SETTLED)
    except (NoRiser, OutOfRange):
        return math.inf, math.inf
    freezing = max(size.diameters[name] or 0.0 for name in ("time", "modulus") if name in inputs.criteria)
    volume = riser_volume(inputs.shape, size.diameter, ratio * size.diameter) if size.diameter else 0.0
    alone = riser_volume(inputs.shape, freezing, ratio * freezing) if freezing else 0.0
    return float(f"{volume:.6e}"), alone
