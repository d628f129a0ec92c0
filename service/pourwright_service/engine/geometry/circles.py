"""Circles: the largest one that fits in where walls meet, which is where metal stays liquid longest.

Walls are flat and go on; a fillet is the radius with which the hollow of the sand is rounded.
Functions take floats or NumPy arrays alike. Source: DERIVED (plane geometry, exact).
"""

import math
from typing import Any

import numpy as np

from ..bounds import above, at_least, within
from ..formula import Metre, Radian, formula

_POSITIVE = above(0.0)
SHARPEST_ANGLE = math.pi / 6.0
WIDEST_ANGLE = 5.0 * math.pi / 6.0
"""Angles between walls for which the circles are told."""


@formula(
    "D = where(min(t, w) + r - max(t, w)/2 > -cos(a) (max(t, w)/2 + r),"
    " 2 (t + w + (3 - cos(a)) r - sqrt((t + w + (3 - cos(a)) r)**2 - (t + r)**2 - (w + r)**2"
    " - 2 cos(a) (t + r) (w + r) + sin(a)**2 r**2))/(1 + cos(a)), max(t, w))",
    symbols={"t": "wall", "w": "other_wall", "r": "fillet", "a": "angle"},
    source="DERIVED",
    place="geometry: the circle touches the two outer faces, sharp outside, and the fillet",
    valid={
        "wall": _POSITIVE,
        "other_wall": _POSITIVE,
        "fillet": at_least(0.0),
        "angle": within(SHARPEST_ANGLE, WIDEST_ANGLE),
    },
)
def corner_circle(wall: Metre, other_wall: Metre, fillet: Metre, angle: Radian) -> Metre:
    """Diameter of the largest circle in a corner of two walls (an L), sharp outside.

    wall: t, m, above 0. other_wall: w, m, above 0. fillet: r, m, at least 0. angle: a, rad, from
    pi/6 to 5 pi/6, between the walls. Returns D, m: at least the thicker wall, in which a much
    thinner one leaves no mark. Source: DERIVED (geometry).

    >>> round(corner_circle(1.0, 1.0, 0.0, math.pi / 2), 4)
    1.1716
    """
    cosine = np.cos(angle)
    thick, thin = np.maximum(wall, other_wall), np.minimum(wall, other_wall)
    near, far = wall + fillet, other_wall + fillet
    middle = wall + other_wall + (3.0 - cosine) * fillet
    rest = near**2 + far**2 + 2.0 * cosine * near * far - np.sin(angle) ** 2 * fillet**2
    corner = 2.0 * (middle - np.sqrt(middle**2 - rest)) / (1.0 + cosine)
    reached = thin + fillet - thick / 2.0 > -cosine * (thick / 2.0 + fillet)
    circle: Any = np.where(reached, corner, thick)
    return circle if np.ndim(circle) else float(circle)


@formula(
    "D = where((t + r - ((w/2 + r)**2/sin(a)**2 + (t + r)**2 - r**2)/(2 (t + 2 r))) sin(a)**2"
    " >= (w/2 + r) cos(a), ((w/2 + r)**2/sin(a)**2 + (t + r)**2 - r**2)/(t + 2 r), c)",
    symbols={"t": "wall", "w": "branch", "r": "fillet", "a": "angle", "c": "corner"},
    source="DERIVED",
    place="geometry: the circle touches the far face and both fillets",
    valid={
        "wall": _POSITIVE,
        "branch": _POSITIVE,
        "fillet": at_least(0.0),
        "angle": within(SHARPEST_ANGLE, math.pi / 2.0),
        "corner": _POSITIVE,
    },
)
def tee_circle(wall: Metre, branch: Metre, fillet: Metre, angle: Radian, corner: Metre) -> Metre:
    """Diameter of the largest circle where a branch stands on a wall that goes on (a T).

    wall: t, m, above 0, the one that goes on. branch: w, m, above 0, the one that ends on it.
    fillet: r, m, at least 0, on both sides. angle: a, rad, from pi/6 to pi/2, the sharper one
    between them. corner: c, m, above 0, the circle of the corner that the two make on the blunt
    side, which decides where the branch is thick or leans far over. Returns D, m.
    Source: DERIVED (geometry).

    >>> tee_circle(1.0, 1.0, 0.0, math.pi / 2, 1.1716)
    1.25
    """
    half = (branch / 2.0 + fillet) / np.sin(angle)
    tee = (half**2 + (wall + fillet) ** 2 - fillet**2) / (wall + 2.0 * fillet)
    lean = (branch / 2.0 + fillet) * np.cos(angle)
    circle: Any = np.where((wall + fillet - tee / 2.0) * np.sin(angle) ** 2 >= lean, tee, corner)
    return circle if np.ndim(circle) else float(circle)


@formula(
    "D = 2 (sqrt((t/2 + r)**2 + (w/2 + r)**2) - r)",
    symbols={"t": "wall", "w": "other_wall", "r": "fillet"},
    source="DERIVED",
    place="geometry: the circle touches four fillets",
    valid={"wall": _POSITIVE, "other_wall": _POSITIVE, "fillet": at_least(0.0)},
)
def cross_circle(wall: Metre, other_wall: Metre, fillet: Metre) -> Metre:
    """Diameter of the largest circle where two walls cross squarely (a +).

    wall: t, m, above 0. other_wall: w, m, above 0. fillet: r, m, at least 0. Returns D, m.
    Source: DERIVED (geometry).

    >>> round(cross_circle(1.0, 1.0, 0.0), 4)
    1.4142
    """
    reach: float = np.hypot(wall / 2.0 + fillet, other_wall / 2.0 + fillet)
    return 2.0 * (reach - fillet)


@formula(
    "D = 2 (2/sqrt(3) (t/2 + r) - r)",
    symbols={"t": "wall", "r": "fillet"},
    source="DERIVED",
    place="geometry: the circle touches three fillets, 120 degrees apart",
    valid={"wall": _POSITIVE, "fillet": at_least(0.0)},
)
def wye_circle(wall: Metre, fillet: Metre) -> Metre:
    """Diameter of the largest circle where three equal walls meet at 120 degrees (a Y).

    wall: t, m, above 0. fillet: r, m, at least 0. Returns D, m. Source: DERIVED (geometry).

    >>> round(wye_circle(1.0, 0.0), 4)
    1.1547
    """
    return 2.0 * (2.0 / math.sqrt(3.0) * (wall / 2.0 + fillet) - fillet)
