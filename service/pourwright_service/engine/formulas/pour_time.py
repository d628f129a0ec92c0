"""Pour time and temperature: published laws, and the window they must lie in.

The laws are experience written as arithmetic: their constants hold in kilograms, millimetres and
seconds only. Functions take floats or NumPy arrays alike; temperatures are kelvin.
"""

import numpy as np

from ..bounds import above, within
from ..formula import (
    CubicMetre,
    Kelvin,
    Kilogram,
    KilogramPerSecond,
    Metre,
    MetrePerSecond,
    Ratio,
    Second,
    SquareMetre,
    formula,
)

_POSITIVE = above(0.0)
_SHARE = within(0.0, 1.0, low_open=True)

LARGEST_POUR = 450.0
"""Mass in kg up to which the square-root law for iron and copper alloys is published."""

THIN_LAW, HEAVY_LAW = 0.003, 0.018
"""Thickness in m between which the factor of the light-metal law is interpolated."""


# --- published laws -----------------------------------------------------------------------------


@formula(
    "t = K (1.41 + 1000 T/14.59) sqrt(W)",
    symbols={"K": "fluidity_factor", "T": "thickness", "W": "mass"},
    source="POUR-TIME-SHEET",
    place="grey iron below 450 kg; K is the fluidity in inches over 40",
    empirical="constants for W in kg and T in mm (here T in m, hence 1000), t in s",
    valid={"fluidity_factor": _POSITIVE, "thickness": _POSITIVE, "mass": within(0.0, 450.0, low_open=True)},
)
def iron_pour_time(fluidity_factor: Ratio, thickness: Metre, mass: Kilogram) -> Second:
    """Pour time of an iron casting by its mass and wall thickness.

    fluidity_factor: K, above 0, 1 for iron of ordinary fluidity. thickness: T, m, above 0.
    mass: W, kg, above 0 and at most 450. Returns t, s. Source: POUR-TIME-SHEET.

    >>> round(iron_pour_time(1.0, 0.010, 10.0), 2)
    6.63
    """
    return fluidity_factor * (1.41 + 1000.0 * thickness / 14.59) * np.sqrt(mass)


@formula(
    "t = K cbrt(W)",
    symbols={"K": "copper_factor", "W": "mass"},
    source="POUR-TIME-COPPER",
    place="K 2.80 tin bronze, 1.90 brass",
    empirical="K in s for each cube root of a kg: W in kg, t in s",
    valid={"copper_factor": _POSITIVE, "mass": _POSITIVE},
)
def copper_pour_time(copper_factor: Ratio, mass: Kilogram) -> Second:
    """Pour time of a copper alloy by its mass alone.

    copper_factor: K, above 0, 2.80 for bronzes and 1.90 for brasses. mass: W, kg, above 0.
    Returns t, s. Source: POUR-TIME-COPPER.

    >>> round(copper_pour_time(2.80, 10.0), 2)
    6.03
    """
    return copper_factor * np.cbrt(mass)


@formula(
    "b = 0.997 - 0.155 min(1, max(0, ln(T/0.003)/ln(3))) - 0.371 min(1, max(0, ln(T/0.009)/ln(2)))",
    symbols={"T": "thickness"},
    source="POUR-TIME-RATES",
    place="b 1.48, 1.25, 0.70 in pounds (0.997, 0.842, 0.471 in kg) below 6, 6 to 12, above 12 mm",
    empirical="T in m; b for mass in kg and time in s",
    valid={"thickness": _POSITIVE},
)
def light_metal_factor(thickness: Metre) -> Ratio:
    """Factor of the light-metal law, without the jumps of the printed steps.

    The three printed factors are taken to hold at 3, 9 and 18 mm, linear between them in the
    logarithm of thickness and held beyond. thickness: T, m, above 0. Returns b, for kg and s.
    Source: POUR-TIME-RATES.

    >>> [round(light_metal_factor(t), 3) for t in (0.003, 0.009, 0.018)]
    [0.997, 0.842, 0.471]
    """
    thin = np.log(thickness / 0.003) / np.log(3.0)
    heavy = np.log(thickness / 0.009) / np.log(2.0)
    to_middle = 0.155 * np.minimum(1.0, np.maximum(0.0, thin))
    return 0.997 - to_middle - 0.371 * np.minimum(1.0, np.maximum(0.0, heavy))


@formula(
    "t = sqrt(W)/b",
    symbols={"b": "rate_factor", "W": "mass"},
    source="POUR-TIME-RATES",
    place="pouring rate b sqrt(W) for light metals",
    empirical="b for W in kg and t in s",
    valid={"rate_factor": _POSITIVE, "mass": _POSITIVE},
)
def light_metal_pour_time(rate_factor: Ratio, mass: Kilogram) -> Second:
    """Pour time of a light-metal casting poured at the rate b sqrt(W).

    rate_factor: b, above 0, for kg and s. mass: W, kg, above 0. Returns t, s.
    Source: POUR-TIME-RATES.

    >>> round(light_metal_pour_time(0.842, 5.0), 2)
    2.66
    """
    return np.sqrt(mass) / rate_factor


@formula(
    "t = sqrt(t_1 t_2)",
    symbols={"t_1": "first_time", "t_2": "second_time"},
    source="COMMON-PRACTICE",
    place="two published laws that differ by up to 2.4 times: the middle of their ratio",
    valid={"first_time": _POSITIVE, "second_time": _POSITIVE},
)
def middle_pour_time(first_time: Second, second_time: Second) -> Second:
    """Geometric mean of the times that two laws give.

    first_time: t_1, s, above 0. second_time: t_2, s, above 0. Returns t, s.
    Source: COMMON-PRACTICE.

    >>> middle_pour_time(2.0, 8.0)
    4.0
    """
    return np.sqrt(first_time * second_time)


# --- the window ---------------------------------------------------------------------------------


@formula(
    "t = x t_f",
    symbols={"x": "freezing_share", "t_f": "freezing_time"},
    source="COMMON-PRACTICE",
    place="the mould is full before a fifth of the thinnest section's freezing time has gone",
    valid={"freezing_share": _SHARE, "freezing_time": _POSITIVE},
)
def slowest_time_before_freezing(freezing_share: Ratio, freezing_time: Second) -> Second:
    """Longest pour that still fills the thinnest section.

    freezing_share: x, above 0 and at most 1. freezing_time: t_f, s, above 0, of the thinnest
    section. Returns t, s. Source: COMMON-PRACTICE.

    >>> slowest_time_before_freezing(0.2, 50.0)
    10.0
    """
    return freezing_share * freezing_time


@formula(
    "v = where(T < 0.004, 0.05, where(T < 0.010, 0.03, where(T <= 0.040, 0.02, 0.01)))",
    symbols={"T": "thickness"},
    source="RISE-VELOCITY",
    place="50 mm/s below 4 mm, 30 to 10 mm, 20 to 40 mm, 10 above; found for iron",
    empirical="T in m, v in m/s",
    valid={"thickness": _POSITIVE},
)
def least_rise_velocity(thickness: Metre) -> MetrePerSecond:
    """Slowest rise of the metal in the mould that leaves no laps on a wall of this thickness.

    thickness: T, m, above 0. Returns v, m/s. Source: RISE-VELOCITY.

    >>> [least_rise_velocity(t) for t in (0.003, 0.006, 0.012, 0.050)]
    [0.05, 0.03, 0.02, 0.01]
    """
    steps = 2.0 * (thickness >= 0.004) + 1.0 * (thickness >= 0.010) + 1.0 * (thickness > 0.040)
    return 0.01 * (5.0 - steps)


@formula(
    "t = c/(s v)",
    symbols={"c": "height", "s": "casting_share", "v": "rise_velocity"},
    source="DERIVED",
    place="the metal climbs the height of the casting while the casting's share of it runs in",
    valid={"height": _POSITIVE, "casting_share": _SHARE, "rise_velocity": _POSITIVE},
)
def slowest_time_by_rise(height: Metre, casting_share: Ratio, rise_velocity: MetrePerSecond) -> Second:
    """Longest pour in which the metal still rises in the casting at the velocity asked for.

    height: c, m, above 0, of the casting as it stands. casting_share: s, above 0 and at most 1, of
    the metal poured. rise_velocity: v, m/s, above 0. Returns t, s. Source: DERIVED.

    >>> slowest_time_by_rise(0.060, 0.5, 0.020)
    6.0
    """
    return height / (casting_share * rise_velocity)


@formula(
    "A = x T L",
    symbols={"x": "edge_share", "T": "gate_thickness", "L": "gate_edge"},
    source="COMMON-PRACTICE",
    place="gates over at most a third of the edge, or the mould between them gets too hot",
    valid={"edge_share": _SHARE, "gate_thickness": _POSITIVE, "gate_edge": _POSITIVE},
)
def largest_gate_area(edge_share: Ratio, gate_thickness: Metre, gate_edge: Metre) -> SquareMetre:
    """Largest area of gates that the casting has room for.

    edge_share: x, above 0 and at most 1. gate_thickness: T, m, above 0. gate_edge: L, m, above 0,
    the edge offered to gates. Returns A, m^2. Source: COMMON-PRACTICE.

    >>> round(largest_gate_area(1 / 3, 0.0072, 0.180) * 1e6)
    432
    """
    return edge_share * gate_thickness * gate_edge


@formula(
    "t = V/(v_c A)",
    symbols={"V": "volume", "v_c": "critical_velocity", "A": "gate_area"},
    source="DERIVED",
    place="continuity at the gate's critical velocity",
    valid={"volume": _POSITIVE, "critical_velocity": _POSITIVE, "gate_area": _POSITIVE},
)
def fastest_time_by_gates(
    volume: CubicMetre, critical_velocity: MetrePerSecond, gate_area: SquareMetre
) -> Second:
    """Shortest pour in which the metal still enters at no more than its critical velocity.

    volume: V, m^3, above 0. critical_velocity: v_c, m/s, above 0. gate_area: A, m^2, above 0.
    Returns t, s. Source: DERIVED.

    >>> round(fastest_time_by_gates(480e-6, 0.40, 432e-6), 2)
    2.78
    """
    return volume / (critical_velocity * gate_area)


@formula(
    "v = c/(s t)",
    symbols={"c": "height", "s": "casting_share", "t": "time"},
    source="DERIVED",
    place="mean rise of the metal in the casting",
    valid={"height": _POSITIVE, "casting_share": _SHARE, "time": _POSITIVE},
)
def mean_rise_velocity(height: Metre, casting_share: Ratio, time: Second) -> MetrePerSecond:
    """Mean velocity at which metal rises in the casting.

    height: c, m, above 0, of the casting as it stands. casting_share: s, above 0 and at most 1, of
    the metal poured. time: t, s, above 0, of the whole pour. Returns v, m/s. Source: DERIVED.

    >>> mean_rise_velocity(0.060, 0.5, 6.0)
    0.02
    """
    return height / (casting_share * time)


@formula(
    "R = W/t",
    symbols={"W": "mass", "t": "time"},
    source="DERIVED",
    place="mass over time",
    valid={"mass": _POSITIVE, "time": _POSITIVE},
)
def pouring_rate(mass: Kilogram, time: Second) -> KilogramPerSecond:
    """Mean rate at which metal is poured.

    mass: W, kg, above 0. time: t, s, above 0. Returns R, kg/s. Source: DERIVED.

    >>> pouring_rate(10.0, 4.0)
    2.5
    """
    return mass / time


# --- temperature --------------------------------------------------------------------------------


@formula(
    "T_p = T_h - (T_h - T_b) min(1, max(0, ln(x/0.005)/ln(8)))",
    symbols={"x": "thickness", "T_b": "pouring_low", "T_h": "pouring_high"},
    source="COMMON-PRACTICE",
    place="top of the alloy's range for walls of 5 mm, bottom for 40 mm, linear in the logarithm between",
    empirical="5 mm and 40 mm; x in m",
    valid={"thickness": _POSITIVE, "pouring_low": _POSITIVE, "pouring_high": _POSITIVE},
)
def pouring_temperature_for_thickness(thickness: Metre, pouring_low: Kelvin, pouring_high: Kelvin) -> Kelvin:
    """Pouring temperature within the alloy's range, hotter for thin walls.

    thickness: x, m, above 0. pouring_low: T_b, K, above 0, bottom of the range. pouring_high:
    T_h, K, above 0, its top. Returns T_p, K. Source: COMMON-PRACTICE.

    >>> [round(pouring_temperature_for_thickness(x, 1283.0, 1450.0)) for x in (0.005, 0.020, 0.040)]
    [1450, 1339, 1283]
    """
    share = np.log(thickness / 0.005) / np.log(8.0)
    return pouring_high - (pouring_high - pouring_low) * np.minimum(1.0, np.maximum(0.0, share))
