"""Curvature: how much sooner a section freezes because the mould around it is not flat.

Sand around a convex surface has room to spread the heat, sand in a hollow has not. The heat drawn
is taken to two terms in the square root of time; for a ball that is exact, for a long cylinder it
errs by 1 %. Functions take floats or NumPy arrays alike.
"""

import numpy as np

from ..bounds import above, within
from ..formula import CubicMetre, Metre, Ratio, Second, SecondPerSquareMetre, SquareMetre, formula

_POSITIVE = above(0.0)


@formula(
    "g = K V/A**2",
    symbols={"K": "curvature", "V": "volume", "A": "cooling_area"},
    source="DERIVED",
    place="second term of the heat drawn by a curved surface, made free of units",
    valid={"volume": _POSITIVE, "cooling_area": _POSITIVE},
)
def shape_curvature(curvature: Metre, volume: CubicMetre, cooling_area: SquareMetre) -> Ratio:
    """How much a shape's curvature quickens its freezing: 0 plane, 1/4 long cylinder, 1/3 sphere.

    curvature: K, m, any finite: the mean curvature (k1 + k2)/2 summed over the cooling surface
    (1/m times m^2), outward convex positive, plus 0.602 for each metre of cooling outer edge. volume: V, m^3,
    above 0. cooling_area: A, m^2, above 0. Returns g. Source: DERIVED; the two limits agree with
    the forms of GHOSH-MALLIK.

    >>> import math
    >>> r = 0.05
    >>> round(shape_curvature(4 * math.pi * r, 4 / 3 * math.pi * r**3, 4 * math.pi * r**2), 4)
    0.3333
    """
    return curvature * volume / cooling_area**2


@formula(
    "beta = lambda/sqrt(pi) + sqrt(lambda**2/pi + lambda g)",
    symbols={"lambda": "heat_ratio", "g": "shape_curvature"},
    source="GHOSH-MALLIK",
    place="ch. 2: beta = lambda (2/sqrt(pi) + g/beta), its positive root",
    valid={"heat_ratio": _POSITIVE, "shape_curvature": within(-0.3, 2.0)},
)
def freezing_number(heat_ratio: Ratio, shape_curvature: Ratio) -> Ratio:
    """beta = (V/A)/sqrt(alpha t) of a curved section: the positive root of its heat balance.

    heat_ratio: lambda, above 0. shape_curvature: g, from -0.3 to 2. Returns beta. For g = 0 it
    is the plane mould's 2 lambda/sqrt(pi). Source: GHOSH-MALLIK.

    >>> round(freezing_number(1.3256, 0.0), 4)
    1.4958
    """
    plane = heat_ratio / np.sqrt(np.pi)
    return plane + np.sqrt(plane**2 + heat_ratio * shape_curvature)


@formula(
    "t = C (2 lambda M/(sqrt(pi) beta))**2",
    symbols={
        "C": "mould_constant",
        "M": "modulus",
        "lambda": "heat_ratio",
        "beta": "freezing_number",
    },
    source="GHOSH-MALLIK",
    place="ch. 2: t goes as 1/beta**2, and beta = 2 lambda/sqrt(pi) for a plane mould",
    valid={
        "mould_constant": _POSITIVE,
        "modulus": _POSITIVE,
        "heat_ratio": _POSITIVE,
        "freezing_number": _POSITIVE,
    },
)
def curved_freezing_time(
    mould_constant: SecondPerSquareMetre, modulus: Metre, heat_ratio: Ratio, freezing_number: Ratio
) -> Second:
    """Freezing time of a section whose surface is curved: the bare rule times (plane beta/beta)^2.

    mould_constant: C, s/m^2, above 0. modulus: M, m, above 0. heat_ratio: lambda, above 0.
    freezing_number: beta, above 0. Returns t, s. With C from properties this is
    ((V/A)/beta)^2/alpha; with C from a trial it keeps the trial. Source: GHOSH-MALLIK.

    >>> round(curved_freezing_time(9.667e5, 0.05, 1.3256, freezing_number(1.3256, 0.0)))
    2417
    """
    plane = 2.0 / np.sqrt(np.pi) * heat_ratio
    return mould_constant * (plane * modulus / freezing_number) ** 2


@formula(
    "M_p = 2 lambda M/(sqrt(pi) beta)",
    symbols={"lambda": "heat_ratio", "M": "modulus", "beta": "freezing_number"},
    source="DERIVED",
    place="the bare rule solved for the modulus at the curved section's time",
    valid={"heat_ratio": _POSITIVE, "modulus": _POSITIVE, "freezing_number": _POSITIVE},
)
def plane_modulus(heat_ratio: Ratio, modulus: Metre, freezing_number: Ratio) -> Metre:
    """Modulus of the plane plate that freezes in the same time as a curved section.

    heat_ratio: lambda, above 0. modulus: M, m, above 0. freezing_number: beta, above 0. Returns
    M_p, m. A trial casting that is not a plate gives the mould constant by this modulus.
    Source: DERIVED.

    >>> round(plane_modulus(1.3256, 0.05 / 3, freezing_number(1.3256, 1 / 3)), 5)
    0.01426
    """
    return 2.0 / np.sqrt(np.pi) * heat_ratio * modulus / freezing_number


@formula(
    "l = -3 lambda/(4 pi)",
    symbols={"lambda": "heat_ratio"},
    source="DERIVED",
    place="where the second term of the heat drawn is a quarter of the first",
    valid={"heat_ratio": _POSITIVE},
)
def hollowest_curvature(heat_ratio: Ratio) -> Ratio:
    """The most hollow surface for which two terms tell the heat that the mould draws.

    heat_ratio: lambda, above 0. Returns l, a shape curvature g. There the mould in the hollow has
    taken 0.95 of what it can hold by the two terms, and 0.89 by the exact series of a cylinder;
    beyond it the terms soon have no root. Source: DERIVED.

    >>> round(hollowest_curvature(1.0), 3)
    -0.239
    """
    return -0.75 * heat_ratio / np.pi
