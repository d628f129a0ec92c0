"""The freeze map's figures: equivalent modulus, reach of the heat, risk at the end of freezing.

Functions take floats or NumPy arrays alike.
"""

import numpy as np

from ..bounds import above, at_least
from ..formula import (
    KelvinPerSecond,
    Metre,
    RootKelvinSecondPerMetre,
    Second,
    SecondPerMetre,
    SecondPerSquareMetre,
    SquareMetrePerSecond,
    formula,
)

_POSITIVE = above(0.0)


@formula(
    "M = sqrt(t/C)",
    symbols={"t": "freezing_time", "C": "mould_constant"},
    source="CHVORINOV-1940",
    place="the rule solved for the modulus",
    valid={"freezing_time": at_least(0.0), "mould_constant": _POSITIVE},
)
def equivalent_modulus(freezing_time: Second, mould_constant: SecondPerSquareMetre) -> Metre:
    """Modulus of the plane plate that freezes in the same time as a place of the map.

    freezing_time: t, s, at least 0. mould_constant: C, s/m^2, above 0, of a plate in the same
    mould. Returns M, m. Source: CHVORINOV-1940.

    >>> round(equivalent_modulus(100.0, 1.0e6), 4)
    0.01
    """
    return np.sqrt(freezing_time / mould_constant)


@formula(
    "d = 5/2 sqrt(alpha t)",
    symbols={"alpha": "diffusivity", "t": "freezing_time"},
    source="CARSLAW-JAEGER",
    place="ch. II: a half space heated at its face; beyond this 8 % of the rise at the face remain",
    valid={"diffusivity": _POSITIVE, "freezing_time": _POSITIVE},
)
def mould_reach(diffusivity: SquareMetrePerSecond, freezing_time: Second) -> Metre:
    """Depth of mould that the heat of a casting needs while it freezes.

    diffusivity: alpha, m^2/s, above 0, of the mould. freezing_time: t, s, above 0. Returns d, m.
    At the end of that time the rise there is 1 - erf(5/4) = 0.08 of the rise at the face.
    Source: CARSLAW-JAEGER.

    >>> round(mould_reach(4.6e-7, 100.0), 4)
    0.017
    """
    return 2.5 * np.sqrt(diffusivity * freezing_time)


@formula(
    "N = n sqrt(R)",
    symbols={"n": "delay_gradient", "R": "cooling_rate"},
    source="NIYAMA-1982",
    place="G/sqrt(R) with the temperature's gradient G = n R on the surface that is freezing",
    valid={"delay_gradient": at_least(0.0), "cooling_rate": _POSITIVE},
)
def gradient_over_root_rate(
    delay_gradient: SecondPerMetre, cooling_rate: KelvinPerSecond
) -> RootKelvinSecondPerMetre:
    """Temperature gradient over the square root of the cooling rate at the end of freezing.

    delay_gradient: n, s/m, at least 0, how fast the time of freezing grows along the way.
    cooling_rate: R, K/s, above 0. Returns N, K^0.5 s^0.5/m. Where it is small little metal can
    follow the shrinkage. The published threshold, 1 K^0.5 min^0.5/cm, is one for steel.
    Source: NIYAMA-1982.

    >>> round(gradient_over_root_rate(4000.0, 0.04), 1)
    800.0
    """
    return delay_gradient * np.sqrt(cooling_rate)
