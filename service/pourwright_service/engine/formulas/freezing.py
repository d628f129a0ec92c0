"""Freezing: how long a section takes, from its shape, the metal and the mould.

The mould takes the heat; the metal's own temperature is nearly even inside a sand casting. All
temperatures are kelvin. Functions take floats or NumPy arrays alike.
"""

import numpy as np

from ..bounds import above, at_least
from ..formula import (
    CubicMetre,
    JoulePerKilogram,
    JoulePerKilogramKelvin,
    Kelvin,
    KelvinDifference,
    KilogramPerCubicMetre,
    Metre,
    Ratio,
    Second,
    SecondPerSquareMetre,
    SquareMetre,
    SquareMetrePerSecond,
    WattPerMetreKelvin,
    formula,
)

_POSITIVE = above(0.0)


@formula(
    "M = V/A",
    symbols={"V": "volume", "A": "cooling_area"},
    source="CHVORINOV-1940",
    place="the ratio of volume to cooling surface",
    valid={"volume": _POSITIVE, "cooling_area": _POSITIVE},
)
def section_modulus(volume: CubicMetre, cooling_area: SquareMetre) -> Metre:
    """Modulus of a section: its volume over the surface through which it loses heat.

    volume: V, m^3, above 0. cooling_area: A, m^2, above 0. Returns M, m.
    Source: CHVORINOV-1940.

    >>> round(section_modulus(600e-6, 760e-4) * 1000, 3)
    7.895
    """
    return volume / cooling_area


@formula(
    "T_f = T_s + (T_l - T_s)/5",
    symbols={"T_s": "solidus", "T_l": "liquidus"},
    source="ADAMS-1953",
    place="abstract: one fifth of the way up from solidus to liquidus",
    valid={"solidus": _POSITIVE, "liquidus": _POSITIVE},
)
def freezing_temperature(solidus: Kelvin, liquidus: Kelvin) -> Kelvin:
    """The one temperature at which a metal with a freezing range may be taken to freeze.

    solidus: T_s, K, above 0. liquidus: T_l, K, above 0. Returns T_f, K.
    Source: ADAMS-1953.

    >>> round(freezing_temperature(854 + 273.15, 1010 + 273.15) - 273.15, 1)
    885.2
    """
    return solidus + (liquidus - solidus) / 5.0


@formula(
    "H = c_l (T_m - T_l) + L + c_m (T_l - T_s)",
    symbols={
        "c_l": "specific_heat_liquid",
        "T_m": "filled_temperature",
        "T_l": "liquidus",
        "L": "latent_heat",
        "c_m": "specific_heat_freezing",
        "T_s": "solidus",
    },
    source="ADAMS-1953",
    place="superheat is added to the latent heat; the range term by heat balance",
    valid={
        "specific_heat_liquid": at_least(0.0),
        "filled_temperature": _POSITIVE,
        "liquidus": _POSITIVE,
        "latent_heat": _POSITIVE,
        "specific_heat_freezing": at_least(0.0),
        "solidus": _POSITIVE,
    },
)
def heat_to_freeze(
    specific_heat_liquid: JoulePerKilogramKelvin,
    filled_temperature: Kelvin,
    liquidus: Kelvin,
    latent_heat: JoulePerKilogram,
    specific_heat_freezing: JoulePerKilogramKelvin,
    solidus: Kelvin,
) -> JoulePerKilogram:
    """Heat that one kilogram gives up from the full mould to fully solid.

    specific_heat_liquid: c_l, J/(kg K), at least 0. filled_temperature: T_m, K, above 0, the
    metal's temperature when the mould is full. liquidus: T_l, K, above 0. latent_heat: L, J/kg,
    above 0. specific_heat_freezing: c_m, J/(kg K), at least 0, between solidus and liquidus.
    solidus: T_s, K, above 0. Returns H, J/kg. Where a source gives the total heat between
    liquidus and solidus, c_m is 0. Source: ADAMS-1953.

    >>> round(heat_to_freeze(1080.0, 993.15, 933.15, 397e3, 0.0, 933.15) / 397e3, 4)
    1.1632
    """
    superheat = specific_heat_liquid * (filled_temperature - liquidus)
    return superheat + latent_heat + specific_heat_freezing * (liquidus - solidus)


@formula(
    "C = pi/4 (rho_l H/(T_f - T_0))**2/(k rho c)",
    symbols={
        "rho_l": "density_liquid",
        "H": "heat",
        "T_f": "freezing_temperature",
        "T_0": "start_temperature",
        "k": "mould_conductivity",
        "rho": "mould_density",
        "c": "mould_specific_heat",
    },
    source="GHOSH-MALLIK",
    place="ch. 2, example 2.5 (plane mould), with H for the latent heat",
    valid={
        "density_liquid": _POSITIVE,
        "heat": _POSITIVE,
        "freezing_temperature": _POSITIVE,
        "start_temperature": _POSITIVE,
        "mould_conductivity": _POSITIVE,
        "mould_density": _POSITIVE,
        "mould_specific_heat": _POSITIVE,
    },
)
def mould_constant(
    density_liquid: KilogramPerCubicMetre,
    heat: JoulePerKilogram,
    freezing_temperature: Kelvin,
    start_temperature: Kelvin,
    mould_conductivity: WattPerMetreKelvin,
    mould_density: KilogramPerCubicMetre,
    mould_specific_heat: JoulePerKilogramKelvin,
) -> SecondPerSquareMetre:
    """Mould constant of Chvorinov's rule from the properties of metal and mould.

    density_liquid: rho_l, kg/m^3, above 0, at the liquidus. heat: H, J/kg, above 0.
    freezing_temperature: T_f, K, above 0. start_temperature: T_0, K, above 0, of the mould.
    mould_conductivity: k, W/(m K), above 0. mould_density: rho, kg/m^3, above 0.
    mould_specific_heat: c, J/(kg K), above 0. Returns C, s/m^2. The sand's conductivity alone is
    known to about 30 %. Source: GHOSH-MALLIK.

    >>> round(mould_constant(7850.0, 272e3, 1813.15, 301.15, 0.8655, 1600.0, 1170.0) / 1e5, 3)
    9.667
    """
    metal = density_liquid * heat / (freezing_temperature - start_temperature)
    return np.pi / 4.0 * metal**2 / (mould_conductivity * mould_density * mould_specific_heat)


@formula(
    "C = t/M**2",
    symbols={"t": "freezing_time", "M": "modulus"},
    source="CHVORINOV-1940",
    place="the rule solved for its constant",
    valid={"freezing_time": _POSITIVE, "modulus": _POSITIVE},
)
def mould_constant_from_trial(freezing_time: Second, modulus: Metre) -> SecondPerSquareMetre:
    """Mould constant from a trial casting that froze in a measured time.

    freezing_time: t, s, above 0. modulus: M, m, above 0. Returns C, s/m^2.
    Source: CHVORINOV-1940.

    >>> round(mould_constant_from_trial(155.0, 0.05 / 6) / 1e6, 3)
    2.232
    """
    return freezing_time / modulus**2


@formula(
    "t = C M**2",
    symbols={"C": "mould_constant", "M": "modulus"},
    source="CHVORINOV-1940",
    place="the rule itself",
    valid={"mould_constant": _POSITIVE, "modulus": _POSITIVE},
)
def bare_freezing_time(mould_constant: SecondPerSquareMetre, modulus: Metre) -> Second:
    """Freezing time by Chvorinov's bare rule, as if every surface were plane.

    mould_constant: C, s/m^2, above 0. modulus: M, m, above 0. Returns t, s.
    Source: CHVORINOV-1940.

    >>> round(bare_freezing_time(4 * 60 * 1e4, 600e-6 / 760e-4) / 60, 2)
    2.49
    """
    return mould_constant * modulus**2


@formula(
    "alpha = k/(rho c)",
    symbols={"k": "conductivity", "rho": "density", "c": "specific_heat"},
    source="DERIVED",
    place="definition",
    valid={"conductivity": _POSITIVE, "density": _POSITIVE, "specific_heat": _POSITIVE},
)
def diffusivity(
    conductivity: WattPerMetreKelvin,
    density: KilogramPerCubicMetre,
    specific_heat: JoulePerKilogramKelvin,
) -> SquareMetrePerSecond:
    """Thermal diffusivity.

    conductivity: k, W/(m K), above 0. density: rho, kg/m^3, above 0. specific_heat: c,
    J/(kg K), above 0. Returns alpha, m^2/s. Source: DERIVED (definition).

    >>> round(diffusivity(0.8655, 1600.0, 1170.0) * 1e7, 3)
    4.623
    """
    return conductivity / (density * specific_heat)


@formula(
    "lambda = (T_f - T_0) rho c/(rho_l H)",
    symbols={
        "T_f": "freezing_temperature",
        "T_0": "start_temperature",
        "rho": "mould_density",
        "c": "mould_specific_heat",
        "rho_l": "density_liquid",
        "H": "heat",
    },
    source="GHOSH-MALLIK",
    place="ch. 2, example 2.5",
    valid={
        "freezing_temperature": _POSITIVE,
        "start_temperature": _POSITIVE,
        "mould_density": _POSITIVE,
        "mould_specific_heat": _POSITIVE,
        "density_liquid": _POSITIVE,
        "heat": _POSITIVE,
    },
)
def mould_heat_ratio(
    freezing_temperature: Kelvin,
    start_temperature: Kelvin,
    mould_density: KilogramPerCubicMetre,
    mould_specific_heat: JoulePerKilogramKelvin,
    density_liquid: KilogramPerCubicMetre,
    heat: JoulePerKilogram,
) -> Ratio:
    """Heat a volume of mould takes up at the freezing temperature, over what the metal gives.

    freezing_temperature: T_f, K, above 0. start_temperature: T_0, K, above 0. mould_density:
    rho, kg/m^3, above 0. mould_specific_heat: c, J/(kg K), above 0. density_liquid: rho_l,
    kg/m^3, above 0. heat: H, J/kg, above 0. Returns lambda. Source: GHOSH-MALLIK.

    >>> round(mould_heat_ratio(1813.15, 301.15, 1600.0, 1170.0, 7850.0, 272e3), 4)
    1.3256
    """
    mould = (freezing_temperature - start_temperature) * mould_density * mould_specific_heat
    return mould / (density_liquid * heat)


@formula(
    "phi = sqrt(k rho c/(k_0 rho_0 c_0))",
    symbols={
        "k": "conductivity",
        "rho": "density",
        "c": "specific_heat",
        "k_0": "mould_conductivity",
        "rho_0": "mould_density",
        "c_0": "mould_specific_heat",
    },
    source="CARSLAW-JAEGER",
    place="ch. XI: freezing against a half space of another material",
    valid={
        "conductivity": _POSITIVE,
        "density": _POSITIVE,
        "specific_heat": _POSITIVE,
        "mould_conductivity": _POSITIVE,
        "mould_density": _POSITIVE,
        "mould_specific_heat": _POSITIVE,
    },
)
def contact_ratio(
    conductivity: WattPerMetreKelvin,
    density: KilogramPerCubicMetre,
    specific_heat: JoulePerKilogramKelvin,
    mould_conductivity: WattPerMetreKelvin,
    mould_density: KilogramPerCubicMetre,
    mould_specific_heat: JoulePerKilogramKelvin,
) -> Ratio:
    """How much better the frozen metal carries heat to the mould's face than the mould carries it off.

    conductivity: k, W/(m K), above 0; density: rho, kg/m^3, above 0; specific_heat: c, J/(kg K),
    above 0: of the metal. mould_conductivity: k_0, W/(m K), above 0. mould_density: rho_0,
    kg/m^3, above 0. mould_specific_heat: c_0, J/(kg K), above 0. Returns phi. Of the
    way from the mould's temperature to the freezing temperature the face loses 1 to 5 % at phi = 5
    and 19 to 36 % at 1 (Stefan numbers 0.5 to 2). Source: CARSLAW-JAEGER.

    >>> round(contact_ratio(83.0, 7850.0, 670.0, 0.8655, 1600.0, 1170.0), 2)
    16.41
    """
    return np.sqrt(
        conductivity * density * specific_heat / (mould_conductivity * mould_density * mould_specific_heat)
    )


@formula(
    "s = sqrt(t_b/t_a)",
    symbols={"t_a": "time", "t_b": "time_towards_riser"},
    source="DERIVED",
    place="the ratio of moduli of two similar sections with these freezing times",
    valid={"time": _POSITIVE, "time_towards_riser": _POSITIVE},
)
def feed_step(time: Second, time_towards_riser: Second) -> Ratio:
    """Step from a section to its neighbour on the way to the riser, as a ratio of moduli.

    time: t_a, s, above 0, of the section. time_towards_riser: t_b, s, above 0, of the neighbour.
    Returns s. Source: DERIVED (Chvorinov's rule for equal mould constants).

    >>> feed_step(100.0, 121.0)
    1.1
    """
    return np.sqrt(time_towards_riser / time)


@formula(
    "dT = T_m - T_l",
    symbols={"T_m": "filled_temperature", "T_l": "liquidus"},
    source="DERIVED",
    place="definition",
    valid={"filled_temperature": _POSITIVE, "liquidus": _POSITIVE},
)
def superheat(filled_temperature: Kelvin, liquidus: Kelvin) -> KelvinDifference:
    """Superheat: how far the metal is above its liquidus when the mould is full.

    filled_temperature: T_m, K, above 0. liquidus: T_l, K, above 0. Returns dT, K.
    Source: DERIVED (definition).

    >>> round(superheat(1400.0, 1300.0), 1)
    100.0
    """
    return filled_temperature - liquidus
