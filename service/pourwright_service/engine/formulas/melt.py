"""Heat to melt metal, the fuel and the time that it takes, and the melt in its crucible."""

import numpy as np

from ..bounds import above, at_least, within
from ..formula import (
    CubicMetre,
    HeatingValue,
    Joule,
    JoulePerKilogram,
    JoulePerKilogramKelvin,
    Kelvin,
    Kilogram,
    KilogramPerCubicMetre,
    Money,
    MoneyPerCubicMetre,
    MoneyPerJoule,
    Ratio,
    Second,
    Watt,
    formula,
)

_POSITIVE = above(0.0)
_SHARE = within(0.0, 1.0, low_open=True)


@formula(
    "h = c_s max(0, T_s - T_0) + c_m max(0, T_l - max(T_s, T_0)) + L + c_l (T_p - T_l)",
    symbols={
        "c_s": "mean_specific_heat",
        "T_s": "solidus",
        "T_0": "start_temperature",
        "c_m": "specific_heat_freezing",
        "T_l": "liquidus",
        "L": "latent_heat",
        "c_l": "specific_heat_liquid",
        "T_p": "pouring_temperature",
    },
    source="GROOVER-MELT",
    place="solid heating, heat of fusion, superheat; the range between solidus and liquidus added",
    valid={
        "mean_specific_heat": _POSITIVE,
        "solidus": _POSITIVE,
        "start_temperature": _POSITIVE,
        "specific_heat_freezing": at_least(0.0),
        "liquidus": _POSITIVE,
        "latent_heat": at_least(0.0),
        "specific_heat_liquid": at_least(0.0),
        "pouring_temperature": _POSITIVE,
    },
)
def heat_content(
    mean_specific_heat: JoulePerKilogramKelvin,
    solidus: Kelvin,
    start_temperature: Kelvin,
    specific_heat_freezing: JoulePerKilogramKelvin,
    liquidus: Kelvin,
    latent_heat: JoulePerKilogram,
    specific_heat_liquid: JoulePerKilogramKelvin,
    pouring_temperature: Kelvin,
) -> JoulePerKilogram:
    """Heat that a kilogram of metal takes up from cold to pouring heat.

    mean_specific_heat: c_s, J/(kg K), above 0, mean of the solid up to the solidus. solidus: T_s, K,
    above 0. start_temperature: T_0, K, above 0. specific_heat_freezing: c_m, J/(kg K), at least 0,
    between solidus and liquidus. liquidus: T_l, K, above 0. latent_heat: L, J/kg, at least 0.
    specific_heat_liquid: c_l, J/(kg K), at least 0. pouring_temperature: T_p, K, above 0.
    Returns h, J/kg. Source: GROOVER-MELT.

    >>> round(heat_content(900.0, 933.15, 298.15, 0.0, 933.15, 398e3, 900.0, 1073.15))
    1095500
    """
    solid = mean_specific_heat * np.maximum(0.0, solidus - start_temperature)
    soft = specific_heat_freezing * np.maximum(0.0, liquidus - np.maximum(solidus, start_temperature))
    return solid + soft + latent_heat + specific_heat_liquid * (pouring_temperature - liquidus)


@formula(
    "Q = m h",
    symbols={"m": "mass", "h": "heat_content"},
    source="DERIVED",
    place="definition",
    valid={"mass": at_least(0.0), "heat_content": at_least(0.0)},
)
def heat_of_melt(mass: Kilogram, heat_content: JoulePerKilogram) -> Joule:
    """Heat that a charge of metal takes up.

    mass: m, kg, at least 0. heat_content: h, J/kg, at least 0. Returns Q, J.
    Source: DERIVED (definition).

    >>> heat_of_melt(2.0, 1e6)
    2000000.0
    """
    return mass * heat_content


@formula(
    "Q = m c max(0, T_1 - T_0)",
    symbols={"m": "mass", "c": "specific_heat", "T_1": "hot_temperature", "T_0": "start_temperature"},
    source="DERIVED",
    place="definition of the specific heat",
    valid={
        "mass": at_least(0.0),
        "specific_heat": _POSITIVE,
        "hot_temperature": _POSITIVE,
        "start_temperature": _POSITIVE,
    },
)
def stored_heat(
    mass: Kilogram, specific_heat: JoulePerKilogramKelvin, hot_temperature: Kelvin, start_temperature: Kelvin
) -> Joule:
    """Heat that a cold lining or crucible takes up until it is hot.

    mass: m, kg, at least 0. specific_heat: c, J/(kg K), above 0. hot_temperature: T_1, K, above 0,
    its mean when hot. start_temperature: T_0, K, above 0. Returns Q, J. Source: DERIVED.

    >>> stored_heat(20.0, 1000.0, 800.0, 300.0)
    10000000.0
    """
    return mass * specific_heat * np.maximum(0.0, hot_temperature - start_temperature)


@formula(
    "F = Q/e + S/a",
    symbols={"Q": "metal_heat", "e": "efficiency", "S": "stored", "a": "available_heat"},
    source="DERIVED",
    place="each heat over the share of the fuel's heat that reaches it",
    valid={
        "metal_heat": at_least(0.0),
        "efficiency": _SHARE,
        "stored": at_least(0.0),
        "available_heat": _SHARE,
    },
)
def fuel_heat(metal_heat: Joule, efficiency: Ratio, stored: Joule, available_heat: Ratio) -> Joule:
    """Heat of fuel or current that a heat of metal takes, with what a cold furnace swallows.

    metal_heat: Q, J, at least 0. efficiency: e, above 0 and at most 1, share that reaches the metal in a
    hot furnace. stored: S, J, at least 0, into lining and crucible. available_heat: a, above 0 and at
    most 1, share that stays in the furnace and does not leave with the burnt gas. Returns F, J.
    Source: DERIVED.

    >>> fuel_heat(3e6, 0.15, 4e6, 0.4)
    30000000.0
    """
    return metal_heat / efficiency + stored / available_heat


@formula(
    "m = F/H",
    symbols={"F": "fuel_heat", "H": "heating_value"},
    source="DERIVED",
    place="definition of the heating value",
    valid={"fuel_heat": at_least(0.0), "heating_value": _POSITIVE},
)
def fuel_mass(fuel_heat: Joule, heating_value: HeatingValue) -> Kilogram:
    """Mass of fuel that gives a heat.

    fuel_heat: F, J, at least 0. heating_value: H, J/kg, above 0. Returns m, kg. Source: DERIVED.

    >>> fuel_mass(1e8, 5e7)
    2.0
    """
    return fuel_heat / heating_value


@formula(
    "t = F/P",
    symbols={"F": "fuel_heat", "P": "power"},
    source="INDUCTION-TIME",
    place="energy needed over power",
    valid={"fuel_heat": at_least(0.0), "power": _POSITIVE},
)
def melting_time(fuel_heat: Joule, power: Watt) -> Second:
    """Time in which a burner or a supply gives a heat.

    fuel_heat: F, J, at least 0. power: P, W, above 0. Returns t, s. Source: INDUCTION-TIME.

    >>> melting_time(560 * 3.6e6, 500e3) / 60
    67.2
    """
    return fuel_heat / power


@formula(
    "P = F/t",
    symbols={"F": "fuel_heat", "t": "time"},
    source="INDUCTION-TIME",
    place="energy needed over time",
    valid={"fuel_heat": at_least(0.0), "time": _POSITIVE},
)
def power_needed(fuel_heat: Joule, time: Second) -> Watt:
    """Power that gives a heat within a time.

    fuel_heat: F, J, at least 0. time: t, s, above 0. Returns P, W. Source: INDUCTION-TIME.

    >>> power_needed(6e7, 2000.0)
    30000.0
    """
    return fuel_heat / time


@formula(
    "t = (m h + (M - m) c max(0, T_p - T_l))/(e P)",
    symbols={
        "m": "lump_mass",
        "h": "heat_content",
        "M": "melt_mass",
        "c": "specific_heat_liquid",
        "T_p": "pouring_temperature",
        "T_l": "liquidus",
        "e": "efficiency",
        "P": "power",
    },
    source="DERIVED",
    place="the lump cold, the rest molten at its liquidus, both to pouring heat",
    valid={
        "lump_mass": at_least(0.0),
        "heat_content": at_least(0.0),
        "melt_mass": _POSITIVE,
        "specific_heat_liquid": at_least(0.0),
        "pouring_temperature": _POSITIVE,
        "liquidus": _POSITIVE,
        "efficiency": _SHARE,
        "power": _POSITIVE,
    },
)
def last_lump_time(
    lump_mass: Kilogram,
    heat_content: JoulePerKilogram,
    melt_mass: Kilogram,
    specific_heat_liquid: JoulePerKilogramKelvin,
    pouring_temperature: Kelvin,
    liquidus: Kelvin,
    efficiency: Ratio,
    power: Watt,
) -> Second:
    """Time from the last lump until the whole melt is at pouring heat.

    lump_mass: m, kg, at least 0, cold. heat_content: h, J/kg, at least 0. melt_mass: M, kg, above 0,
    lump included. specific_heat_liquid: c, J/(kg K), at least 0. pouring_temperature: T_p, K, above 0.
    liquidus: T_l, K, above 0. efficiency: e, above 0 and at most 1. power: P, W, above 0. Returns t, s.
    Source: DERIVED.

    >>> round(last_lump_time(0.5, 7e5, 4.0, 500.0, 1450.0, 1300.0, 0.15, 30e3))
    136
    """
    superheat = specific_heat_liquid * np.maximum(0.0, pouring_temperature - liquidus)
    return (lump_mass * heat_content + (melt_mass - lump_mass) * superheat) / (efficiency * power)


@formula(
    "f = V/V_b",
    symbols={"V": "volume", "V_b": "brim_volume"},
    source="DERIVED",
    place="definition",
    valid={"volume": _POSITIVE, "brim_volume": _POSITIVE},
)
def crucible_filling(volume: CubicMetre, brim_volume: CubicMetre) -> Ratio:
    """How full a crucible is.

    volume: V, m^3, above 0, of liquid metal. brim_volume: V_b, m^3, above 0. Returns f, 1 for
    full to the brim. Source: DERIVED (definition).

    >>> crucible_filling(0.75e-3, 1e-3)
    0.75
    """
    return volume / brim_volume


@formula(
    "n = ln(1 - f)/ln(1 - r)",
    symbols={"f": "filling", "r": "bulk_share"},
    source="DERIVED",
    place="each charge fills with scrap, up to the brim, what the melt leaves free",
    valid={
        "filling": within(0.0, 1.0, low_open=True, high_open=True),
        "bulk_share": within(0.0, 1.0, low_open=True, high_open=True),
    },
)
def charges_needed(filling: Ratio, bulk_share: Ratio) -> Ratio:
    """How many times a crucible has to be filled up with scrap; the next whole number does it.

    filling: f, above 0 and less than 1, of the crucible when all is molten. bulk_share: r, above 0 and
    less than 1, bulk density of the scrap over the melt's density. Returns n. Source: DERIVED.

    >>> round(charges_needed(0.75, 0.5), 9)
    2.0
    """
    return np.log(1.0 - filling) / np.log(1.0 - bulk_share)


@formula(
    "V_b = m/(rho f)",
    symbols={"m": "mass", "rho": "density_liquid", "f": "filling"},
    source="DERIVED",
    place="definition",
    valid={"mass": _POSITIVE, "density_liquid": _POSITIVE, "filling": _SHARE},
)
def brim_volume_for(mass: Kilogram, density_liquid: KilogramPerCubicMetre, filling: Ratio) -> CubicMetre:
    """What a crucible holds to the brim that holds a mass when it is so full.

    mass: m, kg, above 0. density_liquid: rho, kg/m^3, above 0. filling: f, above 0 and at most 1.
    Returns V_b, m^3. Source: DERIVED (definition).

    >>> brim_volume_for(6.0, 8000.0, 0.75)
    0.001
    """
    return mass / (density_liquid * filling)


@formula(
    "K = V p",
    symbols={"V": "volume", "p": "price"},
    source="DERIVED",
    place="definition of a price",
    valid={"volume": at_least(0.0), "price": at_least(0.0)},
)
def cost_by_volume(volume: CubicMetre, price: MoneyPerCubicMetre) -> Money:
    """Cost of a volume of fuel.

    volume: V, m^3, at least 0. price: p, money/m^3, at least 0. Returns K, money. Source: DERIVED.

    >>> cost_by_volume(0.002, 1500.0)
    3.0
    """
    return volume * price


@formula(
    "K = F p",
    symbols={"F": "fuel_heat", "p": "price"},
    source="DERIVED",
    place="definition of a price",
    valid={"fuel_heat": at_least(0.0), "price": at_least(0.0)},
)
def cost_by_energy(fuel_heat: Joule, price: MoneyPerJoule) -> Money:
    """Cost of a heat of fuel or current.

    fuel_heat: F, J, at least 0. price: p, money/J, at least 0. Returns K, money. Source: DERIVED.

    >>> round(cost_by_energy(36e6, 0.3 / 3.6e6), 9)
    3.0
    """
    return fuel_heat * price
