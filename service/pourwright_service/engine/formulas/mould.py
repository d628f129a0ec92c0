"""Forces in the mould: how hard the metal lifts the cope and the cores, and what holds them down.

Functions take floats or NumPy arrays alike.
"""

import numpy as np

from ..bounds import above, at_least
from ..formula import (
    CubicMetre,
    Kilogram,
    KilogramPerCubicMetre,
    Metre,
    MetrePerSecondSquared,
    Newton,
    Ratio,
    SquareMetre,
    formula,
)

_POSITIVE = above(0.0)
_NOT_NEGATIVE = at_least(0.0)


@formula(
    "F = rho g (H A - V)",
    symbols={
        "rho": "density_liquid",
        "g": "gravity",
        "H": "head",
        "A": "parting_area",
        "V": "volume_in_cope",
    },
    source="DERIVED",
    place="pressure rho g (H - z) over every metal-sand face above the parting, by the divergence theorem",
    valid={
        "density_liquid": _POSITIVE,
        "gravity": _POSITIVE,
        "head": _NOT_NEGATIVE,
        "parting_area": _NOT_NEGATIVE,
        "volume_in_cope": _NOT_NEGATIVE,
    },
)
def cope_lift(
    density_liquid: KilogramPerCubicMetre,
    gravity: MetrePerSecondSquared,
    head: Metre,
    parting_area: SquareMetre,
    volume_in_cope: CubicMetre,
) -> Newton:
    """Force with which still metal lifts the cope, exact for any shape above the parting.

    density_liquid: rho, kg/m^3, above 0. gravity: g, m/s^2, above 0. head: H, m, at least 0, from
    the parting to the metal's level in the basin. parting_area: A, m^2, at least 0, of metal in
    the parting plane. volume_in_cope: V, m^3, at least 0, of metal that sand covers above it.
    Returns F, N. The common 'projected area times head' leaves V out. Source: DERIVED.

    >>> round(cope_lift(7000.0, 9.81, 0.2, 0.02, 0.001), 1)
    206.0
    """
    return density_liquid * gravity * (head * parting_area - volume_in_cope)


@formula(
    "F = rho g h A",
    symbols={"rho": "density_liquid", "g": "gravity", "h": "head", "A": "open_area"},
    source="DERIVED",
    place="pressure on a face at one level",
    valid={
        "density_liquid": _POSITIVE,
        "gravity": _POSITIVE,
        "head": _NOT_NEGATIVE,
        "open_area": _NOT_NEGATIVE,
    },
)
def level_force(
    density_liquid: KilogramPerCubicMetre, gravity: MetrePerSecondSquared, head: Metre, open_area: SquareMetre
) -> Newton:
    """Force of still metal on a level face.

    density_liquid: rho, kg/m^3, above 0. gravity: g, m/s^2, above 0. head: h, m, at least 0, of
    metal over the face. open_area: A, m^2, at least 0. Returns F, N. Source: DERIVED.

    >>> round(level_force(7000.0, 9.81, 0.2, 0.01), 2)
    137.34
    """
    return density_liquid * gravity * head * open_area


@formula(
    "F = (rho_l - rho_c) g V",
    symbols={
        "rho_l": "density_liquid",
        "rho_c": "core_density",
        "g": "gravity",
        "V": "core_volume",
    },
    source="ARCHIMEDES",
    place="buoyancy less weight",
    valid={
        "density_liquid": _POSITIVE,
        "core_density": _POSITIVE,
        "gravity": _POSITIVE,
        "core_volume": _POSITIVE,
    },
)
def core_net_lift(
    density_liquid: KilogramPerCubicMetre,
    core_density: KilogramPerCubicMetre,
    gravity: MetrePerSecondSquared,
    core_volume: CubicMetre,
) -> Newton:
    """Force with which a core floats up: the metal it pushes aside less its own weight.

    density_liquid: rho_l, kg/m^3, above 0. core_density: rho_c, kg/m^3, above 0. gravity: g,
    m/s^2, above 0. core_volume: V, m^3, above 0, within the metal. Returns F, N; negative sinks.
    Source: ARCHIMEDES.

    >>> round(core_net_lift(2600.0, 1600.0, 9.81, 0.7854e-3), 2)
    7.7
    """
    return (density_liquid - core_density) * gravity * core_volume


@formula(
    "m = max(0, f F/g - m_c)",
    symbols={"f": "safety_factor", "F": "lift", "g": "gravity", "m_c": "cope_mass"},
    source="SHOP-PRACTICE-MARGIN",
    place="margin on the whole lift; the cope's own mass helps",
    valid={
        "safety_factor": at_least(1.0),
        "lift": _NOT_NEGATIVE,
        "gravity": _POSITIVE,
        "cope_mass": _NOT_NEGATIVE,
    },
)
def weight_on_cope(
    safety_factor: Ratio, lift: Newton, gravity: MetrePerSecondSquared, cope_mass: Kilogram
) -> Kilogram:
    """Mass to lay on the cope so that the metal cannot lift it.

    safety_factor: f, at least 1. lift: F, N, at least 0. gravity: g, m/s^2, above 0. cope_mass:
    m_c, kg, at least 0, of cope sand and box. Returns m, kg, never below 0.
    Source: SHOP-PRACTICE-MARGIN.

    >>> round(weight_on_cope(1.4, 98.1, 9.81, 4.0), 2)
    10.0
    """
    return np.maximum(0.0, safety_factor * lift / gravity - cope_mass)
