"""A gas bottle: what is left in it, and how much gas its liquid can give before it is too cold.

The liquid boils off with heat that it takes through the wetted wall from the air, and with its own as
it cools. Temperatures are kelvin; functions take floats or NumPy arrays alike.
"""

from typing import Any

import numpy as np

from ..bounds import above, at_least, within
from ..formula import (
    JoulePerKilogram,
    JoulePerKilogramKelvin,
    Kelvin,
    KelvinDifference,
    Kilogram,
    KilogramPerCubicMetre,
    KilogramPerSecond,
    Metre,
    Ratio,
    Second,
    SquareMetre,
    WattPerSquareMetreKelvin,
    formula,
)

_POSITIVE = above(0.0)


@formula(
    "m = max(0, W - T)",
    symbols={"W": "weight", "T": "tare"},
    source="DERIVED",
    place="weighed bottle less its tare",
    valid={"weight": _POSITIVE, "tare": _POSITIVE},
)
def bottle_contents(weight: Kilogram, tare: Kilogram) -> Kilogram:
    """What is in a bottle, by its weight.

    weight: W, kg, above 0, of the bottle as it stands. tare: T, kg, above 0, stamped on it. Returns m,
    kg. Source: DERIVED.

    >>> bottle_contents(18.5, 11.0)
    7.5
    """
    return np.maximum(0.0, weight - tare)


@formula(
    "T = 1/(1/T_b - R ln(p)/L)",
    symbols={"T_b": "boiling_point", "R": "gas_constant", "p": "pressure_ratio", "L": "latent_heat"},
    source="CLAUSIUS-CLAPEYRON",
    place="integrated with a constant heat of vaporisation",
    valid={
        "boiling_point": within(100.0, 400.0),
        "gas_constant": within(50.0, 500.0),
        "pressure_ratio": within(0.1, 30.0),
        "latent_heat": within(2.5e5, 1e6),
    },
)
def boiling_temperature(
    boiling_point: Kelvin,
    gas_constant: JoulePerKilogramKelvin,
    pressure_ratio: Ratio,
    latent_heat: JoulePerKilogram,
) -> Kelvin:
    """Temperature at which a liquid boils under a pressure.

    boiling_point: T_b, K, from 100 to 400, under one atmosphere. gas_constant: R, J/(kg K), from 50 to
    500, of the gas by mass. pressure_ratio: p, from 0.1 to 30, absolute, in atmospheres. latent_heat: L,
    J/kg, from 250000 to 1e6, of vaporisation. Returns T, K; OutOfRange where no temperature would do.
    Source: CLAUSIUS-CLAPEYRON.

    >>> round(boiling_temperature(231.0, 188.55, 8.26, 428e3))
    294
    """
    inverse: Any = 1.0 / boiling_point - gas_constant * np.log(pressure_ratio) / latent_heat
    inverse = np.where(inverse > 0.0, inverse, np.nan)
    return 1.0 / inverse


@formula(
    "A = 4 m/(rho D) + pi D**2/4",
    symbols={"m": "contents", "rho": "density", "D": "diameter"},
    source="DERIVED",
    place="an upright cylinder's wall as high as the liquid, and its bottom",
    valid={"contents": at_least(0.0), "density": _POSITIVE, "diameter": _POSITIVE},
)
def wetted_area(contents: Kilogram, density: KilogramPerCubicMetre, diameter: Metre) -> SquareMetre:
    """Wall of an upright bottle that its liquid wets.

    contents: m, kg, at least 0. density: rho, kg/m^3, above 0, of the liquid. diameter: D, m, above 0.
    Returns A, m^2. Source: DERIVED.

    >>> round(wetted_area(11.0, 503.0, 0.3), 3)
    0.362
    """
    return 4.0 * contents / (density * diameter) + np.pi * diameter**2 / 4.0


@formula(
    "r = U A d/L",
    symbols={
        "U": "heat_transfer",
        "A": "wetted_area",
        "d": "temperature_difference",
        "L": "latent_heat",
    },
    source="LP-GAS-DRAW-OFF",
    place="the form behind the table: draw-off grows with wetted surface and temperature",
    valid={
        "heat_transfer": _POSITIVE,
        "wetted_area": _POSITIVE,
        "temperature_difference": at_least(0.0),
        "latent_heat": _POSITIVE,
    },
)
def lasting_draw_off(
    heat_transfer: WattPerSquareMetreKelvin,
    wetted_area: SquareMetre,
    temperature_difference: KelvinDifference,
    latent_heat: JoulePerKilogram,
) -> KilogramPerSecond:
    """Gas that a bottle gives for ever without growing colder than allowed.

    heat_transfer: U, W/(m^2 K), above 0, air to liquid. wetted_area: A, m^2, above 0.
    temperature_difference: d, K, at least 0, from the air down to the coldest liquid that still gives its
    pressure. latent_heat: L, J/kg, above 0. Returns r, kg/s. Source: LP-GAS-DRAW-OFF.

    >>> round(3600 * lasting_draw_off(12.0, 0.36, 40.0, 428e3), 2)
    1.45
    """
    return heat_transfer * wetted_area * temperature_difference / latent_heat


@formula(
    "t = (m c + M c_s)/(U A)",
    symbols={
        "m": "contents",
        "c": "specific_heat",
        "M": "shell_mass",
        "c_s": "shell_specific_heat",
        "U": "heat_transfer",
        "A": "wetted_area",
    },
    source="DERIVED",
    place="heat balance of liquid and shell",
    valid={
        "contents": at_least(0.0),
        "specific_heat": _POSITIVE,
        "shell_mass": at_least(0.0),
        "shell_specific_heat": _POSITIVE,
        "heat_transfer": _POSITIVE,
        "wetted_area": _POSITIVE,
    },
)
def cooling_constant(
    contents: Kilogram,
    specific_heat: JoulePerKilogramKelvin,
    shell_mass: Kilogram,
    shell_specific_heat: JoulePerKilogramKelvin,
    heat_transfer: WattPerSquareMetreKelvin,
    wetted_area: SquareMetre,
) -> Second:
    """Time constant with which a bottle comes to its lasting temperature.

    contents: m, kg, at least 0. specific_heat: c, J/(kg K), above 0, of the liquid. shell_mass: M, kg,
    at least 0. shell_specific_heat: c_s, J/(kg K), above 0. heat_transfer: U, W/(m^2 K), above 0.
    wetted_area: A, m^2, above 0. Returns t, s. Source: DERIVED.

    >>> round(cooling_constant(10.0, 2400.0, 12.0, 470.0, 12.0, 0.36))
    6861
    """
    heat = contents * specific_heat + shell_mass * shell_specific_heat
    return heat / (heat_transfer * wetted_area)


@formula(
    "r = r_0/(1 - exp(-t/t_c))",
    symbols={"r_0": "lasting", "t": "time", "t_c": "cooling_constant"},
    source="DERIVED",
    place="heat balance of the bottle, cooling from the air's temperature at a steady draw-off",
    valid={
        "lasting": at_least(0.0),
        "time": _POSITIVE,
        "cooling_constant": _POSITIVE,
    },
)
def draw_off_for(lasting: KilogramPerSecond, time: Second, cooling_constant: Second) -> KilogramPerSecond:
    """Steady draw-off with which a bottle has just grown too cold after a while.

    lasting: r_0, kg/s, at least 0, what it gives for ever. time: t, s, above 0. cooling_constant:
    t_c, s, above 0. Returns r, kg/s. Source: DERIVED.

    >>> round(3600 * draw_off_for(4e-4, 1800.0, 6861.0), 2)
    6.24
    """
    return lasting / -np.expm1(-time / cooling_constant)


@formula(
    "t = -t_c ln(1 - r_0/r)",
    symbols={"t_c": "cooling_constant", "r_0": "lasting", "r": "draw_off"},
    source="DERIVED",
    place="the same, solved for the time; none where the draw-off lasts",
    valid={"cooling_constant": _POSITIVE, "lasting": at_least(0.0), "draw_off": _POSITIVE},
)
def time_until_cold(
    cooling_constant: Second, lasting: KilogramPerSecond, draw_off: KilogramPerSecond
) -> Second:
    """Time after which a bottle drawn upon steadily has grown too cold.

    cooling_constant: t_c, s, above 0. lasting: r_0, kg/s, at least 0, what it gives for ever. draw_off:
    r, kg/s, above 0. Returns t, s; OutOfRange where the draw-off lasts for ever. Source: DERIVED.

    >>> round(time_until_cold(6861.0, 4e-4, 6.25 / 3600))
    1797
    """
    left: Any = 1.0 - lasting / draw_off
    left = np.where(left > 0.0, left, np.nan)
    return -cooling_constant * np.log(left)
