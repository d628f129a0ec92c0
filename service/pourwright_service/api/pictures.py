"""Slices of a freeze map as PNG pictures (ISO/IEC 15948), small enough to travel inside JSON."""

import base64
import io
from typing import Any

import numpy as np
from numpy.typing import NDArray

LEAST = 240
"""Points of a picture's longer side, at least."""

SAND = (225, 225, 225)

_ANCHORS = np.array(
    [(68, 1, 84), (59, 82, 139), (33, 145, 140), (94, 201, 98), (253, 231, 37)], dtype=np.float64
)
"""From dark to light in even steps of brightness, told apart by people who see few colours as well."""


def png(times: NDArray[Any], end: float) -> str:
    """The times of a plane (s, NaN in the sand) as a PNG in base64: dark freezes first, light last."""
    from PIL import Image  # here, because only pictures need it

    known = np.isfinite(times)
    share = np.clip(np.where(known, times, 0.0) / end, 0.0, 1.0) * (len(_ANCHORS) - 1)
    below = np.minimum(share.astype(int), len(_ANCHORS) - 2)
    part = (share - below)[..., None]
    colours = _ANCHORS[below] * (1.0 - part) + _ANCHORS[below + 1] * part
    colours[~known] = SAND
    times_larger = max(1, -(-LEAST // max(times.shape)))
    pixels = np.kron(np.rint(colours).astype(np.uint8), np.ones((times_larger, times_larger, 1), np.uint8))
    buffer = io.BytesIO()
    Image.fromarray(pixels).save(buffer, format="PNG", optimize=True)
    return base64.b64encode(buffer.getvalue()).decode("ascii")
