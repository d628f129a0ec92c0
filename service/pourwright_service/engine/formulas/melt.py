"""The melt in its crucible."""

from ..bounds import above
from ..formula import CubicMetre, Kilogram, KilogramPerCubicMetre, Ratio, formula

_POSITIVE = above(0.0)


@formula(
    "V = m/rho",
    symbols={"m": "mass", "rho": "density_liquid"},
    source="DERIVED",
    place="definition",
    valid={"mass": _POSITIVE, "density_liquid": _POSITIVE},
)
def metal_volume(mass: Kilogram, density_liquid: KilogramPerCubicMetre) -> CubicMetre:
    """Volume of a mass of liquid metal.

    mass: m, kg, above 0. density_liquid: rho, kg/m^3, above 0. Returns V, m^3.
    Source: DERIVED (definition).

    >>> metal_volume(8.0, 8000.0)
    0.001
    """
    return mass / density_liquid


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
