"""Shapes of risers: volume, cooling surface and curvature as functions of diameter and height.

``cooling_ends`` counts the flat ends that lose heat (0 to 2; an end that rests on the casting with
part of its area counts by the rest). Functions take floats or NumPy arrays alike.
"""

import numpy as np

from ..bounds import above, within
from ..formula import CubicMetre, Metre, Ratio, SquareMetre, formula

_POSITIVE = above(0.0)
_ENDS = within(0.0, 2.0)
_SIZES = {"diameter": _POSITIVE, "height": _POSITIVE}
_FACES = {**_SIZES, "cooling_ends": _ENDS}


@formula(
    "A = pi D h + pi/4 D**2 e",
    symbols={"D": "diameter", "h": "height", "e": "cooling_ends"},
    source="DERIVED",
    place="geometry",
    valid=_FACES,
)
def cylinder_riser_area(diameter: Metre, height: Metre, cooling_ends: Ratio) -> SquareMetre:
    """Cooling surface of a cylindrical riser.

    diameter: D, m, above 0. height: h, m, above 0. cooling_ends: e, from 0 to 2. Returns A, m^2.
    Source: DERIVED (geometry).

    >>> round(cylinder_riser_area(0.1, 0.1, 2.0) * 1e4, 2)
    471.24
    """
    return np.pi * diameter * height + np.pi / 4.0 * diameter**2 * cooling_ends


@formula(
    "K = pi h + 0.602 pi D e",
    symbols={"h": "height", "D": "diameter", "e": "cooling_ends"},
    source="DERIVED",
    place="mean curvature 1/D over the side, and 0.602 for each metre of cooling edge",
    valid=_FACES,
)
def cylinder_riser_curvature(diameter: Metre, height: Metre, cooling_ends: Ratio) -> Metre:
    """Mean curvature of a cylindrical riser summed over its cooling surface, edges included.

    diameter: D, m, above 0. height: h, m, above 0. cooling_ends: e, from 0 to 2. Returns K, m.
    Source: DERIVED; 0.602 is the exact heat of a right-angled wedge.

    >>> v, a = np.pi / 4.0, cylinder_riser_area(1.0, 1.0, 2.0)
    >>> round(cylinder_riser_curvature(1.0, 1.0, 2.0) * v / a**2, 3)
    0.245
    """
    return np.pi * height + 0.602 * np.pi * diameter * cooling_ends


@formula(
    "V = pi/4 D**2 h + pi/12 D**3",
    symbols={"D": "diameter", "h": "height"},
    source="DERIVED",
    place="geometry: a cylinder under a half ball",
    valid=_SIZES,
)
def domed_riser_volume(diameter: Metre, height: Metre) -> CubicMetre:
    """Volume of a riser with a hemispherical top.

    diameter: D, m, above 0. height: h, m, above 0, of the straight part. Returns V, m^3.
    Source: DERIVED (geometry).

    >>> round(domed_riser_volume(0.1, 0.1) * 1e6, 1)
    1047.2
    """
    return np.pi / 4.0 * diameter**2 * height + np.pi / 12.0 * diameter**3


@formula(
    "A = pi D h + pi/2 D**2 + pi/4 D**2 e",
    symbols={"D": "diameter", "h": "height", "e": "cooling_ends"},
    source="DERIVED",
    place="geometry: a cylinder under a half ball; e counts its flat foot",
    valid={**_SIZES, "cooling_ends": within(0.0, 1.0)},
)
def domed_riser_area(diameter: Metre, height: Metre, cooling_ends: Ratio) -> SquareMetre:
    """Cooling surface of a riser with a hemispherical top.

    diameter: D, m, above 0. height: h, m, above 0, of the straight part. cooling_ends: e, from 0
    to 1 (the foot). Returns A, m^2. Source: DERIVED (geometry).

    >>> v, a = domed_riser_volume(1.0, 1.0), domed_riser_area(1.0, 1.0, 0.0)
    >>> round(v / a, 4)
    0.2222
    """
    return np.pi * diameter * height + np.pi / 2.0 * diameter**2 + np.pi / 4.0 * diameter**2 * cooling_ends


@formula(
    "K = pi h + pi D + 0.602 pi D e",
    symbols={"h": "height", "D": "diameter", "e": "cooling_ends"},
    source="DERIVED",
    place="mean curvature 1/D over the side and 2/D over the half ball, and the foot's edge",
    valid={**_SIZES, "cooling_ends": within(0.0, 1.0)},
)
def domed_riser_curvature(diameter: Metre, height: Metre, cooling_ends: Ratio) -> Metre:
    """Mean curvature of a riser with a hemispherical top, summed over its cooling surface.

    diameter: D, m, above 0. height: h, m, above 0, of the straight part. cooling_ends: e, from 0
    to 1 (the foot). Returns K, m. Source: DERIVED.

    >>> round(domed_riser_curvature(1.0, 1.0, 0.0), 3)
    6.283
    """
    return np.pi * height + np.pi * diameter + 0.602 * np.pi * diameter * cooling_ends


@formula(
    "K = 2 pi D",
    symbols={"D": "diameter"},
    source="DERIVED",
    place="mean curvature 2/D over the surface",
    valid={"diameter": _POSITIVE},
)
def ball_riser_curvature(diameter: Metre) -> Metre:
    """Mean curvature of a ball-shaped riser summed over its surface.

    diameter: D, m, above 0. Returns K, m. Source: DERIVED.

    >>> round(ball_riser_curvature(1.0), 4)
    6.2832
    """
    return 2.0 * np.pi * diameter


@formula(
    "A = D**2/2 (min(w/D, 1) sqrt(1 - min(w/D, 1)**2) + asin(min(w/D, 1)))",
    symbols={"D": "diameter", "w": "width"},
    source="DERIVED",
    place="geometry: a disc on the middle of a strip",
    valid={"diameter": _POSITIVE, "width": _POSITIVE},
)
def disc_on_strip(diameter: Metre, width: Metre) -> SquareMetre:
    """Area of a round foot that rests on a face of this width, the foot's middle on the face's.

    diameter: D, m, above 0. width: w, m, above 0. Returns A, m^2: the whole disc where it is no
    wider than the face. Source: DERIVED (geometry).

    >>> round(disc_on_strip(0.060, 0.020) * 1e6, 1)
    1177.4
    """
    share = np.minimum(width / diameter, 1.0)
    return diameter**2 / 2.0 * (share * np.sqrt(1.0 - share**2) + np.arcsin(share))
