"""Shapes: volumes and surfaces of the simple bodies a casting is made of, in closed form.

Also the heat that an edge draws beside its two faces. Functions take floats or NumPy arrays alike.
"""

import math
from typing import Any

import numpy as np

from ..bounds import above, at_least, within
from ..formula import CubicMetre, Metre, Ratio, SquareMetre, formula

_POSITIVE = above(0.0)


@formula(
    "V = L W h",
    symbols={"L": "length", "W": "width", "h": "height"},
    source="DERIVED",
    place="geometry",
    valid={"length": _POSITIVE, "width": _POSITIVE, "height": _POSITIVE},
)
def block_volume(length: Metre, width: Metre, height: Metre) -> CubicMetre:
    """Volume of a plate, bar or block.

    length: L, m, above 0. width: W, m, above 0. height: h, m, above 0. Returns V, m^3.
    Source: DERIVED (geometry).

    >>> round(block_volume(0.3, 0.1, 0.02) * 1e6, 6)
    600.0
    """
    return length * width * height


@formula(
    "A = L W",
    symbols={"L": "length", "W": "width"},
    source="DERIVED",
    place="geometry",
    valid={"length": _POSITIVE, "width": _POSITIVE},
)
def rectangle_area(length: Metre, width: Metre) -> SquareMetre:
    """Area of a rectangular face.

    length: L, m, above 0. width: W, m, above 0. Returns A, m^2. Source: DERIVED (geometry).

    >>> round(rectangle_area(0.3, 0.1) * 1e4, 6)
    300.0
    """
    return length * width


@formula(
    "A = pi/4 D**2",
    symbols={"D": "diameter"},
    source="DERIVED",
    place="geometry",
    valid={"diameter": at_least(0.0)},
)
def disc_area(diameter: Metre) -> SquareMetre:
    """Area of a round flat face.

    diameter: D, m, at least 0. Returns A, m^2. Source: DERIVED (geometry).

    >>> round(disc_area(0.026) * 1e6, 2)
    530.93
    """
    return math.pi / 4.0 * diameter**2


@formula(
    "V = pi/4 D**2 h",
    symbols={"D": "diameter", "h": "height"},
    source="DERIVED",
    place="geometry",
    valid={"diameter": _POSITIVE, "height": _POSITIVE},
)
def cylinder_volume(diameter: Metre, height: Metre) -> CubicMetre:
    """Volume of a cylinder.

    diameter: D, m, above 0. height: h, m, above 0. Returns V, m^3. Source: DERIVED (geometry).

    >>> round(cylinder_volume(0.5, 0.02) * 1e9)
    3926991
    """
    return math.pi / 4.0 * diameter**2 * height


@formula(
    "A = pi D h",
    symbols={"D": "diameter", "h": "height"},
    source="DERIVED",
    place="geometry",
    valid={"diameter": _POSITIVE, "height": _POSITIVE},
)
def cylinder_side_area(diameter: Metre, height: Metre) -> SquareMetre:
    """Area of a round wall, outside or inside.

    diameter: D, m, above 0. height: h, m, above 0. Returns A, m^2. Source: DERIVED (geometry).

    >>> round(cylinder_side_area(0.1, 0.1) * 1e4, 2)
    314.16
    """
    return math.pi * diameter * height


@formula(
    "V = pi/4 (D**2 - d**2) h",
    symbols={"D": "outer_diameter", "d": "inner_diameter", "h": "height"},
    source="DERIVED",
    place="geometry",
    valid={"outer_diameter": _POSITIVE, "inner_diameter": _POSITIVE, "height": _POSITIVE},
)
def tube_volume(outer_diameter: Metre, inner_diameter: Metre, height: Metre) -> CubicMetre:
    """Volume of a tube.

    outer_diameter: D, m, above 0. inner_diameter: d, m, above 0 and less than D. height: h, m,
    above 0. Returns V, m^3. Source: DERIVED (geometry).

    >>> round(tube_volume(0.05, 0.03, 0.04) * 1e6, 3)
    50.265
    """
    return math.pi / 4.0 * (outer_diameter**2 - inner_diameter**2) * height


@formula(
    "A = pi/4 (D**2 - d**2)",
    symbols={"D": "outer_diameter", "d": "inner_diameter"},
    source="DERIVED",
    place="geometry",
    valid={"outer_diameter": _POSITIVE, "inner_diameter": _POSITIVE},
)
def annulus_area(outer_diameter: Metre, inner_diameter: Metre) -> SquareMetre:
    """Area of the flat end of a tube or ring.

    outer_diameter: D, m, above 0. inner_diameter: d, m, above 0 and less than D. Returns A, m^2.
    Source: DERIVED (geometry).

    >>> round(annulus_area(0.05, 0.03) * 1e6, 2)
    1256.64
    """
    return math.pi / 4.0 * (outer_diameter**2 - inner_diameter**2)


@formula(
    "V = pi/6 D**3",
    symbols={"D": "diameter"},
    source="DERIVED",
    place="geometry",
    valid={"diameter": _POSITIVE},
)
def sphere_volume(diameter: Metre) -> CubicMetre:
    """Volume of a ball.

    diameter: D, m, above 0. Returns V, m^3. Source: DERIVED (geometry).

    >>> round(sphere_volume(0.1) * 1e6, 2)
    523.6
    """
    return math.pi / 6.0 * diameter**3


@formula(
    "A = pi D**2",
    symbols={"D": "diameter"},
    source="DERIVED",
    place="geometry",
    valid={"diameter": _POSITIVE},
)
def sphere_area(diameter: Metre) -> SquareMetre:
    """Surface of a ball.

    diameter: D, m, above 0. Returns A, m^2. Source: DERIVED (geometry).

    >>> round(sphere_area(0.1) * 1e4, 2)
    314.16
    """
    return math.pi * diameter**2


@formula(
    "V = pi/12 (D**2 + D d + d**2) h",
    symbols={"D": "lower_diameter", "d": "upper_diameter", "h": "height"},
    source="DERIVED",
    place="geometry",
    valid={"lower_diameter": at_least(0.0), "upper_diameter": at_least(0.0), "height": _POSITIVE},
)
def cone_volume(lower_diameter: Metre, upper_diameter: Metre, height: Metre) -> CubicMetre:
    """Volume of a cone, whole or cut off.

    lower_diameter: D, m, at least 0. upper_diameter: d, m, at least 0. height: h, m, above 0.
    Returns V, m^3. Source: DERIVED (geometry).

    >>> round(cone_volume(0.026, 0.022, 0.06) * 1e6, 2)
    27.21
    """
    sizes = lower_diameter**2 + lower_diameter * upper_diameter + upper_diameter**2
    return math.pi / 12.0 * sizes * height


@formula(
    "A = pi/2 (D + d) sqrt(h**2 + (D - d)**2/4)",
    symbols={"D": "lower_diameter", "d": "upper_diameter", "h": "height"},
    source="DERIVED",
    place="geometry",
    valid={"lower_diameter": at_least(0.0), "upper_diameter": at_least(0.0), "height": _POSITIVE},
)
def cone_side_area(lower_diameter: Metre, upper_diameter: Metre, height: Metre) -> SquareMetre:
    """Area of the sloping wall of a cone, whole or cut off.

    lower_diameter: D, m, at least 0. upper_diameter: d, m, at least 0. height: h, m, above 0.
    Returns A, m^2. Source: DERIVED (geometry).

    >>> round(cone_side_area(0.026, 0.022, 0.06) * 1e6, 1)
    4526.4
    """
    slant: float = np.sqrt(height**2 + (lower_diameter - upper_diameter) ** 2 / 4.0)
    return math.pi / 2.0 * (lower_diameter + upper_diameter) * slant


@formula(
    "A = sqrt(3)/2 s**2",
    symbols={"s": "across_flats"},
    source="DERIVED",
    place="geometry",
    valid={"across_flats": _POSITIVE},
)
def hexagon_area(across_flats: Metre) -> SquareMetre:
    """Area of a regular hexagon.

    across_flats: s, m, above 0. Returns A, m^2. Source: DERIVED (geometry).

    >>> round(hexagon_area(0.03) * 1e6, 2)
    779.42
    """
    return math.sqrt(3.0) / 2.0 * across_flats**2


@formula(
    "A = 2 sqrt(3) s h",
    symbols={"s": "across_flats", "h": "height"},
    source="DERIVED",
    place="geometry",
    valid={"across_flats": _POSITIVE, "height": _POSITIVE},
)
def hexagon_side_area(across_flats: Metre, height: Metre) -> SquareMetre:
    """Area of the six flats of a hexagonal bar.

    across_flats: s, m, above 0. height: h, m, above 0. Returns A, m^2.
    Source: DERIVED (geometry).

    >>> round(hexagon_side_area(0.03, 0.02) * 1e6, 2)
    2078.46
    """
    return 2.0 * math.sqrt(3.0) * across_flats * height


@formula(
    "V = sqrt(3)/2 s**2 h",
    symbols={"s": "across_flats", "h": "height"},
    source="DERIVED",
    place="geometry",
    valid={"across_flats": _POSITIVE, "height": _POSITIVE},
)
def hexagon_volume(across_flats: Metre, height: Metre) -> CubicMetre:
    """Volume of a hexagonal bar.

    across_flats: s, m, above 0. height: h, m, above 0. Returns V, m^3.
    Source: DERIVED (geometry).

    >>> round(hexagon_volume(0.03, 0.02) * 1e9, 1)
    15588.5
    """
    return math.sqrt(3.0) / 2.0 * across_flats**2 * height


_ORDINATES = 0.025 * (2.0 * np.arange(200) + 1.0)


@formula(
    "E = 0.4 sum(n, 0, 199, exp(-0.05 pi (2 n + 1)) (1 - exp(-0.05 (pi - a) (2 n + 1)))"
    "/((1 - exp(-0.05 pi (2 n + 1))) (1 + exp(-0.05 (2 pi - a) (2 n + 1)))))",
    symbols={"a": "metal_angle"},
    source="BERG-SRISATKUNARAJAH-1990",
    place="the corner's term of the heat content of a polygon, with the angle of the sand 2 pi - a",
    valid={"metal_angle": within(math.pi / 6.0, 3.0 * math.pi / 2.0)},
)
def edge_coefficient(metal_angle: Ratio) -> Ratio:
    """Heat that one metre of an edge draws beside what its two faces draw, as mean curvature.

    metal_angle: a, the angle (radians) inside the metal, from pi/6 to 3 pi/2. Returns E: metres
    of curvature integral for a metre of edge; 0 for a flat (a = pi), 16/(9 sqrt(3)) - 4/(3 pi)
    = 0.602 for a square outer edge, -4/pi for a square inner corner. The integral of
    4 sinh((pi - a) x)/(sinh(pi x) cosh((2 pi - a) x)) over x from 0 is summed at midpoints; its
    integrand is analytic, so the sum is exact to 1e-12. Source: BERG-SRISATKUNARAJAH-1990.

    >>> round(edge_coefficient(math.pi / 2), 5)
    0.60199
    """
    angle = np.asarray(metal_angle, dtype=np.float64)[..., np.newaxis]
    flat = np.exp(-2.0 * math.pi * _ORDINATES)
    bent = np.exp(-2.0 * (math.pi - angle) * _ORDINATES)
    sand = np.exp(-2.0 * (2.0 * math.pi - angle) * _ORDINATES)
    total: Any = 0.4 * np.sum(flat * (1.0 - bent) / ((1.0 - flat) * (1.0 + sand)), axis=-1)
    return total if total.ndim else float(total)


SQUARE_EDGE = 16.0 / (9.0 * math.sqrt(3.0)) - 4.0 / (3.0 * math.pi)
"""The edge coefficient of a square outer edge in closed form, 0.60199."""
