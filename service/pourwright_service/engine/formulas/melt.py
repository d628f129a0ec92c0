"""The melt in its crucible."""

from ..bounds import above
from ..formula import CubicMetre, Ratio, formula

_POSITIVE = above(0.0)


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
