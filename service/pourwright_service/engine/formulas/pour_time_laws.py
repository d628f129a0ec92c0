"""Published laws of pour time that are shown for comparison, and the walls that a pour time fills.

The laws are experience written as arithmetic: their constants hold in kilograms, millimetres and
seconds only. None of them makes the recommendation; that is :mod:`.pour_time`. Functions take
floats or NumPy arrays alike; temperatures are kelvin.
"""

from typing import Any

import numpy as np

from ..bounds import above, within
from ..formula import (
    JoulePerKilogram,
    JoulePerKilogramKelvin,
    Kelvin,
    Kilogram,
    Metre,
    Ratio,
    Second,
    SecondPerSquareMetre,
    formula,
)

_POSITIVE = above(0.0)
_SHARE = within(0.0, 1.0, low_open=True)


@formula(
    "b = where(T < 0.006, 0.997, where(T <= 0.012, 0.842, 0.471))",
    symbols={"T": "thickness"},
    source="POUR-TIME-RATES",
    place="b 1.48, 1.25, 0.70 in pounds (0.997, 0.842, 0.471 in kg) below 6, 6 to 12, above 12 mm",
    empirical="T in m; b for mass in kg and time in s",
    valid={"thickness": _POSITIVE},
)
def stepped_light_metal_factor(thickness: Metre) -> Ratio:
    """Factor of the light-metal law as it is printed, with its jumps at 6 and 12 mm.

    thickness: T, m, above 0. Returns b, for kg and s. Source: POUR-TIME-RATES.

    >>> [stepped_light_metal_factor(t) for t in (0.005, 0.009, 0.020)]
    [0.997, 0.842, 0.471]
    """
    factor: Any = np.where(thickness < 0.006, 0.997, np.where(thickness <= 0.012, 0.842, 0.471))
    return factor


@formula(
    "t = K cbrt(W)",
    symbols={"K": "ductile_factor", "W": "mass"},
    source="POUR-TIME-DUCTILE",
    place="K from 2.5 to 3.5 for ductile iron",
    empirical="K in s for each cube root of a kg: W in kg, t in s",
    valid={"ductile_factor": _POSITIVE, "mass": _POSITIVE},
)
def ductile_iron_pour_time(ductile_factor: Ratio, mass: Kilogram) -> Second:
    """Pour time of a ductile-iron casting by its mass alone.

    ductile_factor: K, above 0, from 2.5 to 3.5. mass: W, kg, above 0. Returns t, s.
    Source: POUR-TIME-DUCTILE.

    >>> round(ductile_iron_pour_time(2.5, 10.0), 1)
    5.4
    """
    return ductile_factor * np.cbrt(mass)


@formula(
    "t = K (1.236 + 1000 T/16.65) cbrt(W)",
    symbols={"K": "fluidity_factor", "T": "thickness", "W": "mass"},
    source="POUR-TIME-MEMORY",
    place="grey iron above 450 kg; K is the fluidity in inches over 40",
    empirical="constants for W in kg and T in mm (here T in m, hence 1000), t in s",
    valid={"fluidity_factor": _POSITIVE, "thickness": _POSITIVE, "mass": _POSITIVE},
)
def heavy_iron_pour_time(fluidity_factor: Ratio, thickness: Metre, mass: Kilogram) -> Second:
    """Pour time of a heavy iron casting; at 450 kg a third of what the law for lighter ones gives.

    fluidity_factor: K, above 0, 1 for iron of ordinary fluidity. thickness: T, m, above 0.
    mass: W, kg, above 0. Returns t, s. Source: POUR-TIME-MEMORY.

    >>> round(heavy_iron_pour_time(1.0, 0.020, 450.0), 1)
    18.7
    """
    return fluidity_factor * (1.236 + 1000.0 * thickness / 16.65) * np.cbrt(mass)


@formula(
    "t = (2.4335 - 0.3953 log10(W)) sqrt(W)",
    symbols={"W": "mass"},
    source="POUR-TIME-MEMORY",
    place="steel castings",
    empirical="constants for W in kg, t in s",
    valid={"mass": within(0.0, 450_000.0, low_open=True)},
)
def steel_pour_time(mass: Kilogram) -> Second:
    """Pour time of a steel casting by its mass alone.

    mass: W, kg, above 0 and at most 450000. Returns t, s.
    Source: POUR-TIME-MEMORY.

    >>> round(steel_pour_time(100.0), 2)
    16.43
    """
    return (2.4335 - 0.3953 * np.log10(mass)) * np.sqrt(mass)


@formula(
    "K = where(T < 0.0025, 1.62, where(T < 0.0035, 1.68, where(T < 0.008, 1.85, 2.2)))",
    symbols={"T": "thickness"},
    source="POUR-TIME-MEMORY",
    place="K 1.62, 1.68, 1.85, 2.20 for walls to 2.5, 3.5, 8 and 15 mm",
    empirical="T in m; K for mass in kg and time in s",
    valid={"thickness": within(0.0015, 0.015)},
)
def intricate_factor(thickness: Metre) -> Ratio:
    """Factor of the law for thin and intricate castings.

    thickness: T, m, from 0.0015 to 0.015. Returns K, for kg and s. Source: POUR-TIME-MEMORY.

    >>> [intricate_factor(t) for t in (0.002, 0.003, 0.005, 0.010)]
    [1.62, 1.68, 1.85, 2.2]
    """
    thicker: Any = np.where(thickness < 0.008, 1.85, 2.20)
    factor: Any = np.where(thickness < 0.0025, 1.62, np.where(thickness < 0.0035, 1.68, thicker))
    return factor


@formula(
    "t = K cbrt(W)",
    symbols={"K": "intricate_factor", "W": "mass"},
    source="POUR-TIME-MEMORY",
    place="thin and intricate castings below 450 kg",
    empirical="K in s for each cube root of a kg: W in kg, t in s",
    valid={"intricate_factor": _POSITIVE, "mass": _POSITIVE},
)
def intricate_pour_time(intricate_factor: Ratio, mass: Kilogram) -> Second:
    """Pour time of a thin and intricate casting.

    intricate_factor: K, above 0. mass: W, kg, above 0. Returns t, s. Source: POUR-TIME-MEMORY.

    >>> round(intricate_pour_time(1.85, 8.0), 2)
    3.7
    """
    return intricate_factor * np.cbrt(mass)


# --- walls that fill ------------------------------------------------------------------------------


@formula(
    "T = 2 sqrt(t/(x C))",
    symbols={"t": "time", "x": "freezing_share", "C": "mould_constant"},
    source="DERIVED",
    place="a plate of modulus T/2 whose share x of the freezing time C (T/2)^2 is just the pour time",
    valid={"time": _POSITIVE, "freezing_share": _SHARE, "mould_constant": _POSITIVE},
)
def thinnest_wall(time: Second, freezing_share: Ratio, mould_constant: SecondPerSquareMetre) -> Metre:
    """Thinnest flat wall that is still filled in a pour of this length.

    time: t, s, above 0, of the pour. freezing_share: x, above 0 and at most 1, of its freezing time
    within which a wall must be full. mould_constant: C, s/m^2, above 0. Returns T, m.
    Source: DERIVED.

    >>> round(thinnest_wall(5.0, 0.2, 1e6), 4)
    0.01
    """
    return 2.0 * np.sqrt(time / (freezing_share * mould_constant))


@formula(
    "T_n = max(T_l, T_m + H (sqrt(t/(x t_f)) - 1)/c)",
    symbols={
        "T_l": "liquidus",
        "T_m": "filled_temperature",
        "H": "heat",
        "t": "time",
        "x": "freezing_share",
        "t_f": "freezing_time",
        "c": "specific_heat_liquid",
    },
    source="DERIVED",
    place="a freezing time grows with the square of the heat that the metal brings",
    valid={
        "liquidus": _POSITIVE,
        "filled_temperature": _POSITIVE,
        "heat": _POSITIVE,
        "time": _POSITIVE,
        "freezing_share": _SHARE,
        "freezing_time": _POSITIVE,
        "specific_heat_liquid": _POSITIVE,
    },
)
def temperature_that_fills(
    liquidus: Kelvin,
    filled_temperature: Kelvin,
    heat: JoulePerKilogram,
    time: Second,
    freezing_share: Ratio,
    freezing_time: Second,
    specific_heat_liquid: JoulePerKilogramKelvin,
) -> Kelvin:
    """Lowest temperature at which the metal still fills a wall in a pour of this length.

    liquidus: T_l, K, above 0. filled_temperature: T_m, K, above 0, for which the wall's freezing
    time is known. heat: H, J/kg, above 0, that the metal then gives up until it is solid. time: t,
    s, above 0, of the pour. freezing_share: x, above 0 and at most 1. freezing_time: t_f, s, above
    0. specific_heat_liquid: c, J/(kg K), above 0. Returns T_n, K, not below T_l. Source: DERIVED.

    >>> round(temperature_that_fills(1250.0, 1400.0, 3e5, 4.0, 0.2, 21.0, 500.0))
    1386
    """
    share = np.sqrt(time / (freezing_share * freezing_time))
    return np.maximum(liquidus, filled_temperature + heat * (share - 1.0) / specific_heat_liquid)
