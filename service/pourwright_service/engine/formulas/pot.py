"""The pot between furnace and mould: how fast the metal in it cools, how long it stays fit to pour.

The pot is a crucible lifted hot out of the furnace, as hot as its metal: the open metal radiates, and
so does the outside of the wall and bottom that the metal touches. What the surroundings radiate back
is left out: for liquid bronze that is a part in a thousand, for aluminium one in a hundred. A cold or
freshly lined ladle, which soaks up heat, is not described by this. Temperatures are kelvin; functions
take floats or NumPy arrays alike.
"""

from typing import Any

import numpy as np

from ..bounds import above, at_least, within
from ..formula import (
    CubicMetre,
    JoulePerKilogramKelvin,
    Kelvin,
    KelvinPerSecond,
    Kilogram,
    KilogramPerCubicMetre,
    Metre,
    Ratio,
    Second,
    SquareMetre,
    StefanBoltzmann,
    formula,
)

_POSITIVE = above(0.0)
_SHARE = within(0.0, 1.0, low_open=True)


@formula(
    "T_e = T_l + (T_p - T_l)/2",
    symbols={"T_l": "liquidus", "T_p": "pouring_temperature"},
    source="COMMON-PRACTICE",
    place="half of the superheat may be lost before the metal no longer fills what it was heated for",
    valid={"liquidus": _POSITIVE, "pouring_temperature": _POSITIVE},
)
def lowest_temperature(liquidus: Kelvin, pouring_temperature: Kelvin) -> Kelvin:
    """Temperature below which the metal had better not be poured any more.

    liquidus: T_l, K, above 0. pouring_temperature: T_p, K, above 0, the one aimed at.
    Returns T_e, K. Source: COMMON-PRACTICE.

    >>> lowest_temperature(1250.0, 1400.0)
    1325.0
    """
    return liquidus + (pouring_temperature - liquidus) / 2.0


@formula(
    "A_w = pi D**2/4 + 4 V/D",
    symbols={"D": "mouth_diameter", "V": "volume"},
    source="ESTIMATED-BY-RULE",
    place="a plain cylinder as wide as the mouth: its bottom, and its wall up to the metal's surface",
    valid={"mouth_diameter": _POSITIVE, "volume": _POSITIVE},
)
def pot_wall_area(mouth_diameter: Metre, volume: CubicMetre) -> SquareMetre:
    """Wall and bottom of a pot that its metal touches, as if the pot were a plain cylinder.

    A pot that narrows downwards has nearly the same: at the depth that pots have, the sum hardly
    depends on the width. mouth_diameter: D, m, above 0. volume: V, m^3, above 0, of metal.
    Returns A_w, m^2. Source: ESTIMATED-BY-RULE.

    >>> round(pot_wall_area(0.110, 526e-6) * 1e4)
    286
    """
    return np.pi * mouth_diameter**2 / 4.0 + 4.0 * volume / mouth_diameter


@formula(
    "A_n = min(A, A_w) + x (A_w - min(A, A_w))",
    symbols={"A": "mouth_area", "A_w": "wall_area", "x": "share"},
    source="DERIVED",
    place="the bottom stays covered, the wall is laid bare as the metal sinks",
    valid={"mouth_area": _POSITIVE, "wall_area": at_least(0.0), "share": within(0.0, 1.0)},
)
def touched_wall_area(mouth_area: SquareMetre, wall_area: SquareMetre, share: Ratio) -> SquareMetre:
    """Wall and bottom that the metal still touches once a part of it has been poured.

    mouth_area: A, m^2, above 0, taken for the bottom's too. wall_area: A_w, m^2, at least 0, of the
    full pot. share: x, from 0 to 1, of the metal that is left. Returns A_n, m^2. Source: DERIVED.

    >>> round(touched_wall_area(0.010, 0.030, 0.5), 3)
    0.02
    """
    bottom = np.minimum(mouth_area, wall_area)
    return bottom + share * (wall_area - bottom)


@formula(
    "m_e = m + A_w d r c_w/c",
    symbols={
        "m": "mass",
        "A_w": "wall_area",
        "d": "wall_thickness",
        "r": "wall_density",
        "c_w": "wall_specific_heat",
        "c": "specific_heat_liquid",
    },
    source="DERIVED",
    place="heat balance: the hot wall cools with its metal",
    valid={
        "mass": _POSITIVE,
        "wall_area": at_least(0.0),
        "wall_thickness": at_least(0.0),
        "wall_density": _POSITIVE,
        "wall_specific_heat": _POSITIVE,
        "specific_heat_liquid": _POSITIVE,
    },
)
def mass_with_wall(
    mass: Kilogram,
    wall_area: SquareMetre,
    wall_thickness: Metre,
    wall_density: KilogramPerCubicMetre,
    wall_specific_heat: JoulePerKilogramKelvin,
    specific_heat_liquid: JoulePerKilogramKelvin,
) -> Kilogram:
    """Mass of metal that would hold as much heat as the metal and the hot wall around it.

    mass: m, kg, above 0, of metal. wall_area: A_w, m^2, at least 0. wall_thickness: d, m, at least 0.
    wall_density: r, kg/m^3, above 0. wall_specific_heat: c_w, J/(kg K), above 0. specific_heat_liquid:
    c, J/(kg K), above 0, of the metal. Returns m_e, kg. Source: DERIVED.

    >>> round(mass_with_wall(4.0, 0.0286, 0.015, 2000.0, 1100.0, 495.0), 2)
    5.91
    """
    wall = wall_area * wall_thickness * wall_density * wall_specific_heat
    return mass + wall / specific_heat_liquid


@formula(
    "B = e A + e_w A_w",
    symbols={"e": "emissivity", "A": "mouth_area", "e_w": "wall_emissivity", "A_w": "wall_area"},
    source="STEFAN-BOLTZMANN",
    place="grey surfaces: emissivity times area, summed",
    valid={
        "emissivity": _SHARE,
        "mouth_area": _POSITIVE,
        "wall_emissivity": within(0.0, 1.0),
        "wall_area": at_least(0.0),
    },
)
def radiating_area(
    emissivity: Ratio, mouth_area: SquareMetre, wall_emissivity: Ratio, wall_area: SquareMetre
) -> SquareMetre:
    """Black area that radiates as much as a pot's open metal and its hot wall do.

    emissivity: e, above 0 and at most 1, of the metal's surface. mouth_area: A, m^2, above 0.
    wall_emissivity: e_w, from 0 to 1. wall_area: A_w, m^2, at least 0. Returns B, m^2.
    Source: STEFAN-BOLTZMANN.

    >>> round(radiating_area(0.5, 0.01, 0.8, 0.0), 4)
    0.005
    """
    return emissivity * mouth_area + wall_emissivity * wall_area


@formula(
    "r = s B T**4/(m c)",
    symbols={
        "s": "stefan_boltzmann",
        "B": "radiating_area",
        "T": "temperature",
        "m": "mass",
        "c": "specific_heat_liquid",
    },
    source="STEFAN-BOLTZMANN",
    place="heat balance of the liquid; radiation back from the surroundings left out",
    valid={
        "stefan_boltzmann": _POSITIVE,
        "radiating_area": _POSITIVE,
        "temperature": _POSITIVE,
        "mass": _POSITIVE,
        "specific_heat_liquid": _POSITIVE,
    },
)
def pot_cooling_rate(
    stefan_boltzmann: StefanBoltzmann,
    radiating_area: SquareMetre,
    temperature: Kelvin,
    mass: Kilogram,
    specific_heat_liquid: JoulePerKilogramKelvin,
) -> KelvinPerSecond:
    """How fast the metal in a pot cools by radiation.

    stefan_boltzmann: s, W/(m^2 K^4), above 0. radiating_area: B, m^2, above 0. temperature: T, K,
    above 0. mass: m, kg, above 0, of metal. specific_heat_liquid: c, J/(kg K), above 0.
    Returns r, K/s. Source: STEFAN-BOLTZMANN.

    >>> round(60 * pot_cooling_rate(5.670374e-8, 0.3 * 0.0095, 1423.0, 4.0, 495.0))
    20
    """
    return stefan_boltzmann * radiating_area * temperature**4 / (mass * specific_heat_liquid)


@formula(
    "t = m c/(3 s B) (1/T_2**3 - 1/T_1**3)",
    symbols={
        "m": "mass",
        "c": "specific_heat_liquid",
        "s": "stefan_boltzmann",
        "B": "radiating_area",
        "T_1": "start_temperature",
        "T_2": "end_temperature",
    },
    source="DERIVED",
    place="the fourth-power law integrated",
    valid={
        "mass": _POSITIVE,
        "specific_heat_liquid": _POSITIVE,
        "stefan_boltzmann": _POSITIVE,
        "radiating_area": _POSITIVE,
        "start_temperature": _POSITIVE,
        "end_temperature": _POSITIVE,
    },
)
def pot_cooling_time(
    mass: Kilogram,
    specific_heat_liquid: JoulePerKilogramKelvin,
    stefan_boltzmann: StefanBoltzmann,
    radiating_area: SquareMetre,
    start_temperature: Kelvin,
    end_temperature: Kelvin,
) -> Second:
    """Time in which the metal in a pot cools by radiation from one temperature to another.

    mass: m, kg, above 0, of metal. specific_heat_liquid: c, J/(kg K), above 0. stefan_boltzmann:
    s, W/(m^2 K^4), above 0. radiating_area: B, m^2, above 0. start_temperature: T_1, K, above 0.
    end_temperature: T_2, K, above 0. Returns t, s. Source: DERIVED.

    >>> round(pot_cooling_time(4.0, 495.0, 5.670374e-8, 0.3 * 0.0095, 1423.0, 1383.0))
    127
    """
    cube = 1.0 / end_temperature**3 - 1.0 / start_temperature**3
    return mass * specific_heat_liquid / (3.0 * stefan_boltzmann * radiating_area) * cube


@formula(
    "T_1 = (1/T_2**3 - 3 s B t/(m c))**(-1/3)",
    symbols={
        "T_2": "end_temperature",
        "s": "stefan_boltzmann",
        "B": "radiating_area",
        "t": "time",
        "m": "mass",
        "c": "specific_heat_liquid",
    },
    source="DERIVED",
    place="the fourth-power law integrated, solved for the start",
    valid={
        "end_temperature": within(0.0, 3000.0, low_open=True),
        "stefan_boltzmann": _POSITIVE,
        "radiating_area": _POSITIVE,
        "time": at_least(0.0),
        "mass": _POSITIVE,
        "specific_heat_liquid": _POSITIVE,
    },
)
def tapping_temperature(
    end_temperature: Kelvin,
    stefan_boltzmann: StefanBoltzmann,
    radiating_area: SquareMetre,
    time: Second,
    mass: Kilogram,
    specific_heat_liquid: JoulePerKilogramKelvin,
) -> Kelvin:
    """Temperature at which metal must leave the furnace to arrive at another after a while.

    end_temperature: T_2, K, above 0 and at most 3000. stefan_boltzmann: s, W/(m^2 K^4), above 0.
    radiating_area: B, m^2, above 0. time: t, s, at least 0. mass: m, kg, above 0, of metal.
    specific_heat_liquid: c, J/(kg K), above 0. Returns T_1, K; OutOfRange where no temperature
    would do. Source: DERIVED.

    >>> round(tapping_temperature(1383.0, 5.670374e-8, 0.3 * 0.0095, 127.0, 4.0, 495.0))
    1423
    """
    loss = 3.0 * stefan_boltzmann * radiating_area * time / (mass * specific_heat_liquid)
    cube: Any = 1.0 / end_temperature**3 - loss
    cube = np.where(cube > 0.0, cube, np.nan)
    return 1.0 / np.cbrt(cube)


@formula(
    "T_2 = (1/T_1**3 + 3 s B t/(m c))**(-1/3)",
    symbols={
        "T_1": "start_temperature",
        "s": "stefan_boltzmann",
        "B": "radiating_area",
        "t": "time",
        "m": "mass",
        "c": "specific_heat_liquid",
    },
    source="DERIVED",
    place="the fourth-power law integrated, solved for the end",
    valid={
        "start_temperature": _POSITIVE,
        "stefan_boltzmann": _POSITIVE,
        "radiating_area": _POSITIVE,
        "time": at_least(0.0),
        "mass": _POSITIVE,
        "specific_heat_liquid": _POSITIVE,
    },
)
def pot_cooled_temperature(
    start_temperature: Kelvin,
    stefan_boltzmann: StefanBoltzmann,
    radiating_area: SquareMetre,
    time: Second,
    mass: Kilogram,
    specific_heat_liquid: JoulePerKilogramKelvin,
) -> Kelvin:
    """Temperature of the metal in a pot after it has cooled by radiation for a while.

    start_temperature: T_1, K, above 0. stefan_boltzmann: s, W/(m^2 K^4), above 0. radiating_area: B,
    m^2, above 0. time: t, s, at least 0. mass: m, kg, above 0, of metal. specific_heat_liquid: c,
    J/(kg K), above 0. Returns T_2, K. Source: DERIVED.

    >>> round(pot_cooled_temperature(1423.0, 5.670374e-8, 0.3 * 0.0095, 127.0, 4.0, 495.0))
    1383
    """
    loss = 3.0 * stefan_boltzmann * radiating_area * time / (mass * specific_heat_liquid)
    return 1.0 / np.cbrt(1.0 / start_temperature**3 + loss)
