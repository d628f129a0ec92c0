"""Moulding sand: what to add so that it holds, and is no wetter than it should be."""

from ..bounds import above, at_least, within
from ..formula import CubicMetre, Kilogram, KilogramPerCubicMetre, Ratio, formula

_POSITIVE = above(0.0)
_NOT_NEGATIVE = at_least(0.0)
_SHARE = within(0.0, 1.0, high_open=True)


@formula(
    "w = (a - b)/a",
    symbols={"a": "wet_mass", "b": "dry_mass"},
    source="DERIVED",
    place="definition: what a sample loses in drying, over the sample as it was",
    valid={"wet_mass": _POSITIVE, "dry_mass": _POSITIVE},
)
def moisture_by_drying(wet_mass: Kilogram, dry_mass: Kilogram) -> Ratio:
    """Moisture of sand from weighing a sample before and after drying.

    wet_mass: a, kg, above 0. dry_mass: b, kg, above 0. Returns w, a share of the moist sand.
    Source: DERIVED (definition).

    >>> round(moisture_by_drying(0.100, 0.096), 4)
    0.04
    """
    return 1.0 - dry_mass / wet_mass


@formula(
    "w = a/(a + m)",
    symbols={"a": "water", "m": "rest"},
    source="DERIVED",
    place="definition: water over everything",
    valid={"water": _NOT_NEGATIVE, "rest": _POSITIVE},
)
def moisture_of_mix(water: Kilogram, rest: Kilogram) -> Ratio:
    """Moisture of a mix.

    water: a, kg, at least 0. rest: m, kg, above 0, of everything else in it. Returns w, a share.
    Source: DERIVED (definition).

    >>> moisture_of_mix(3.0, 97.0)
    0.03
    """
    return water / (water + rest)


@formula(
    "a = m (w_2 - w_1)/(1 - w_2)",
    symbols={"m": "mass", "w_1": "present", "w_2": "wanted"},
    source="DERIVED",
    place="balance of what is added: w_1 m + a = w_2 (m + a)",
    valid={"mass": _POSITIVE, "present": _SHARE, "wanted": _SHARE},
)
def water_to_add(mass: Kilogram, present: Ratio, wanted: Ratio) -> Kilogram:
    """Water that brings sand from one moisture to another; negative where it is too wet already.

    mass: m, kg, above 0, as it lies. present: w_1, share of water, at least 0 and less than 1.
    wanted: w_2, at least 0 and less than 1.
    Returns a, kg. Source: DERIVED.

    >>> round(water_to_add(20.0, 0.03, 0.06), 3)
    0.638
    """
    return mass * (wanted - present) / (1.0 - wanted)


@formula(
    "g = s n M_c/M_n",
    symbols={"s": "silicate", "n": "soda_share", "M_c": "gas_molar_mass", "M_n": "soda_molar_mass"},
    source="DERIVED",
    place="Na2O + CO2 = Na2CO3: one mole of gas for each of soda",
    valid={
        "silicate": _NOT_NEGATIVE,
        "soda_share": within(0.0, 1.0),
        "gas_molar_mass": _POSITIVE,
        "soda_molar_mass": _POSITIVE,
    },
)
def gas_for_silicate(
    silicate: Kilogram, soda_share: Ratio, gas_molar_mass: Ratio, soda_molar_mass: Ratio
) -> Kilogram:
    """Carbon dioxide that the soda of a sodium silicate can bind: the least that hardens it right through.

    silicate: s, kg, at least 0. soda_share: n, share of Na2O in it, from 0 to 1. gas_molar_mass: M_c, of CO2,
    above 0. soda_molar_mass: M_n, of Na2O, in the same unit, above 0. Returns g, kg. Source: DERIVED.

    >>> round(gas_for_silicate(1.0, 0.1385, 44.01, 61.98), 4)
    0.0983
    """
    return silicate * soda_share * gas_molar_mass / soda_molar_mass


@formula(
    "m = rho (V - V_p)",
    symbols={"rho": "bulk_density", "V": "flask_volume", "V_p": "pattern_volume"},
    source="DERIVED",
    place="definition: the flask is rammed full around the pattern",
    valid={"bulk_density": _POSITIVE, "flask_volume": _POSITIVE, "pattern_volume": _NOT_NEGATIVE},
)
def sand_for_flask(
    bulk_density: KilogramPerCubicMetre, flask_volume: CubicMetre, pattern_volume: CubicMetre
) -> Kilogram:
    """Rammed sand that a flask takes around its pattern.

    bulk_density: rho, kg/m^3, above 0, of rammed sand. flask_volume: V, m^3, above 0. pattern_volume: V_p,
    m^3, at least 0. Returns m, kg. Source: DERIVED.

    >>> round(sand_for_flask(1600.0, 0.3 * 0.25 * 0.15, 0.00025), 6)
    17.6
    """
    return bulk_density * (flask_volume - pattern_volume)
