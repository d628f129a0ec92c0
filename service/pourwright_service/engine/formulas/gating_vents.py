"""Vents: the air that metal drives out of a mould, and the holes that let it go.

Slow enough to count as incompressible: a back pressure of a few hundred pascals is a thousandth of
the air's own. Functions take floats or NumPy arrays alike.
"""

import numpy as np

from ..bounds import above, at_least, within
from ..formula import (
    CubicMetrePerSecond,
    Kelvin,
    KilogramPerCubicMetre,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Pascal,
    Ratio,
    SquareMetre,
    formula,
)

_POSITIVE = above(0.0)


@formula(
    "p = s rho g H",
    symbols={"s": "share", "rho": "density_liquid", "g": "gravity", "H": "head"},
    source="DERIVED",
    place="a share of the pressure that drives the metal",
    valid={
        "share": within(0.0, 1.0, low_open=True),
        "density_liquid": _POSITIVE,
        "gravity": _POSITIVE,
        "head": _POSITIVE,
    },
)
def allowed_back_pressure(
    share: Ratio, density_liquid: KilogramPerCubicMetre, gravity: MetrePerSecondSquared, head: Metre
) -> Pascal:
    """Pressure of pent-up air that takes no more than a share of the head.

    share: s, above 0 and at most 1. density_liquid: rho, kg/m^3, above 0. gravity: g, m/s^2, above 0.
    head: H, m, above 0. Returns p, Pa. Source: DERIVED.

    >>> round(allowed_back_pressure(0.02, 7800.0, 9.81, 0.115))
    176
    """
    return share * density_liquid * gravity * head


@formula(
    "rho = rho_0 T_0/T",
    symbols={"rho_0": "air_density", "T_0": "air_temperature", "T": "hot_temperature"},
    source="ISO-2533",
    place="the gas law at the air's own pressure",
    valid={"air_density": _POSITIVE, "air_temperature": _POSITIVE, "hot_temperature": _POSITIVE},
)
def hot_air_density(
    air_density: KilogramPerCubicMetre, air_temperature: Kelvin, hot_temperature: Kelvin
) -> KilogramPerCubicMetre:
    """Density of air that has been heated at the air's own pressure.

    air_density: rho_0, kg/m^3, above 0, of the cold air. air_temperature: T_0, K, above 0.
    hot_temperature: T, K, above 0. Returns rho, kg/m^3. Source: ISO-2533.

    >>> round(hot_air_density(1.225, 288.15, 1250.0), 3)
    0.282
    """
    return air_density * air_temperature / hot_temperature


@formula(
    "q = Q T/T_0",
    symbols={"Q": "metal_flow", "T": "hot_temperature", "T_0": "air_temperature"},
    source="DERIVED",
    place="each volume of metal drives out its own of air, which grows as it is heated",
    valid={"metal_flow": at_least(0.0), "hot_temperature": _POSITIVE, "air_temperature": _POSITIVE},
)
def air_flow(
    metal_flow: CubicMetrePerSecond, hot_temperature: Kelvin, air_temperature: Kelvin
) -> CubicMetrePerSecond:
    """Air that must leave a mould while metal runs in.

    metal_flow: Q, m^3/s, at least 0. hot_temperature: T, K, above 0, at which it leaves.
    air_temperature: T_0, K, above 0, at which it stood in the mould. Returns q, m^3/s.
    Source: DERIVED.

    >>> round(air_flow(1e-4, 586.3, 293.15), 6)
    0.0002
    """
    return metal_flow * hot_temperature / air_temperature


@formula(
    "v = C sqrt(2 p/rho)",
    symbols={"C": "vent_coefficient", "p": "back_pressure", "rho": "gas_density"},
    source="ORIFICE",
    place="incompressible flow through an orifice",
    valid={"vent_coefficient": _POSITIVE, "back_pressure": _POSITIVE, "gas_density": _POSITIVE},
)
def vent_velocity(
    vent_coefficient: Ratio, back_pressure: Pascal, gas_density: KilogramPerCubicMetre
) -> MetrePerSecond:
    """Flow of gas over the area of the hole that lets it out.

    vent_coefficient: C, above 0. back_pressure: p, Pa, above 0. gas_density: rho, kg/m^3, above 0.
    Returns v, m/s. Source: ORIFICE.

    >>> round(vent_velocity(0.6, 176.0, 0.282), 1)
    21.2
    """
    return vent_coefficient * np.sqrt(2.0 * back_pressure / gas_density)


@formula(
    "p = rho/2 (q/(C A))**2",
    symbols={"rho": "gas_density", "q": "air_flow", "C": "vent_coefficient", "A": "area"},
    source="ORIFICE",
    place="incompressible flow through an orifice, solved for the pressure",
    valid={
        "gas_density": _POSITIVE,
        "air_flow": at_least(0.0),
        "vent_coefficient": _POSITIVE,
        "area": _POSITIVE,
    },
)
def vent_pressure(
    gas_density: KilogramPerCubicMetre,
    air_flow: CubicMetrePerSecond,
    vent_coefficient: Ratio,
    area: SquareMetre,
) -> Pascal:
    """Pressure of the pent-up air over the air outside.

    gas_density: rho, kg/m^3, above 0. air_flow: q, m^3/s, at least 0. vent_coefficient: C, above 0.
    area: A, m^2, above 0, of all vents. Returns p, Pa. Source: ORIFICE.

    >>> round(vent_pressure(0.282, 4.2e-4, 0.6, 20e-6))
    173
    """
    return 0.5 * gas_density * (air_flow / (vent_coefficient * area)) ** 2
