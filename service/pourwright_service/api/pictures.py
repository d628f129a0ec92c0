"""Slices of a freeze map as PNG pictures (ISO/IEC 15948), small enough to travel inside JSON."""

import base64
import io
import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..engine.decide.freeze_map_slices import Slice
from ..engine.ledger import Say
from .sentences import render

LEAST = 240
"""Points of a picture's longer side, at least; its scale comes on top."""

SAND, OTHER, LINE, PAPER, INK = (225, 225, 225), (170, 170, 170), (20, 20, 20), (255, 255, 255), (0, 0, 0)

SCALE = 22
"""Height of the scale of times under the picture."""

_ANCHORS = np.array(
    [(68, 1, 84), (59, 82, 139), (33, 145, 140), (94, 201, 98), (253, 231, 37)], dtype=np.float64
)
"""From dark to light in even steps of brightness, told apart by people who see few colours as well."""

Pixels = NDArray[np.uint8]


def colours(share: NDArray[Any]) -> Pixels:
    """Colours (..., 3) for times as shares of the latest one."""
    place = np.clip(share, 0.0, 1.0) * (len(_ANCHORS) - 1)
    below = np.minimum(place.astype(int), len(_ANCHORS) - 2)
    part = (place - below)[..., None]
    mixed: Pixels = np.rint(_ANCHORS[below] * (1.0 - part) + _ANCHORS[below + 1] * part).astype(np.uint8)
    return mixed


def png(piece: Slice) -> str:
    """A slice as a PNG in base64: dark metal freezes first, light last; sand light grey, cores and chills
    grey; a line between bodies, a cross at what freezes last, and under it the scale of times."""
    from PIL import Image, ImageDraw  # here, because only pictures need it

    known = np.isfinite(piece.times)
    points = colours(np.where(known, piece.times, 0.0) / piece.end)
    points[~known] = np.where(piece.owners[~known][:, None] > 0, OTHER, SAND)
    times_larger = max(1, math.ceil(LEAST / max(piece.times.shape)))
    wide = _wider(points, times_larger)
    wide[_borders(np.kron(piece.owners, np.ones((times_larger, times_larger), np.int8)))] = LINE
    height, width = wide.shape[:2]
    whole: Pixels = np.full((height + 2 * SCALE, max(width, LEAST), 3), PAPER, np.uint8)
    whole[:height] = SAND
    whole[:height, :width] = wide
    left, right = 8, whole.shape[1] - 8
    whole[height + 6 : height + SCALE - 4, left:right] = colours(np.linspace(0.0, 1.0, right - left))
    image = Image.fromarray(whole)
    pen = ImageDraw.Draw(image)
    x, y = ((place + 0.5) * times_larger for place in reversed(piece.spot))
    for colour, thick in ((PAPER, 3), (INK, 1)):
        pen.line((x - 7, y, x + 7, y), colour, thick)
        pen.line((x, y - 7, x, y + 7), colour, thick)
    line = height + SCALE + 3
    pen.text((left, line), "0", INK)
    pen.text(
        (whole.shape[1] // 2, line), f"to the right {piece.right},  upwards {piece.up}", INK, anchor="ma"
    )
    pen.text((right, line), render(Say("{t}", t=(piece.end, "time"))), INK, anchor="ra")
    buffer = io.BytesIO()
    image.save(buffer, format="PNG", optimize=True)
    return base64.b64encode(buffer.getvalue()).decode("ascii")


def _wider(points: Pixels, times: int) -> Pixels:
    return points.repeat(times, axis=0).repeat(times, axis=1)


def _borders(owners: NDArray[Any]) -> NDArray[np.bool_]:
    """The points at which another body begins to the right or below."""
    found: NDArray[np.bool_] = np.zeros(owners.shape, np.bool_)
    found[:, :-1] |= owners[:, :-1] != owners[:, 1:]
    found[:-1] |= owners[:-1] != owners[1:]
    return found
