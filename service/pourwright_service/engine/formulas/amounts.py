"""Mass and volume of metal and sand."""

from ..bounds import above, at_least
from ..formula import CubicMetre, Kilogram, KilogramPerCubicMetre, formula

_POSITIVE = above(0.0)


@formula(
    "W = rho V",
    symbols={"rho": "density", "V": "volume"},
    source="DERIVED",
    place="definition",
    valid={"density": _POSITIVE, "volume": at_least(0.0)},
)
def mass_of(density: KilogramPerCubicMetre, volume: CubicMetre) -> Kilogram:
    """Mass of a volume of metal, or of sand.

    density: rho, kg/m^3, above 0. volume: V, m^3, at least 0. Returns W, kg.
    Source: DERIVED (definition).

    >>> mass_of(8000.0, 0.001)
    8.0
    """
    return density * volume


@formula(
    "V = m/rho",
    symbols={"m": "mass", "rho": "density"},
    source="DERIVED",
    place="definition",
    valid={"mass": _POSITIVE, "density": _POSITIVE},
)
def volume_of(mass: Kilogram, density: KilogramPerCubicMetre) -> CubicMetre:
    """Volume that a mass takes up.

    mass: m, kg, above 0. density: rho, kg/m^3, above 0. Returns V, m^3.
    Source: DERIVED (definition).

    >>> volume_of(8.0, 8000.0)
    0.001
    """
    return mass / density
