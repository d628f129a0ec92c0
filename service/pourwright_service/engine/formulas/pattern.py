"""Pattern: how much larger than the casting it must be."""

from ..bounds import above, within
from ..formula import CubicMetre, Metre, Ratio, formula


@formula(
    "f = 1 + s",
    symbols={"s": "contraction"},
    source="DERIVED",
    place="contraction counted on the casting, as pattern rules are",
    valid={"contraction": within(-0.01, 0.05)},
)
def pattern_scale(contraction: Ratio) -> Ratio:
    """Factor by which every length of the pattern exceeds the casting's.

    contraction: s, from -0.01 to 0.05, linear, from solid to cold. Returns f. Source: DERIVED.

    >>> pattern_scale(0.015)
    1.015
    """
    return 1.0 + contraction


@formula(
    "L_p = f L",
    symbols={"f": "scale", "L": "casting_length"},
    source="DERIVED",
    place="definition of the scale",
    valid={"scale": above(0.0), "casting_length": above(0.0)},
)
def pattern_length(scale: Ratio, casting_length: Metre) -> Metre:
    """Length on the pattern for a length of the casting.

    scale: f, above 0. casting_length: L, m, above 0. Returns L_p, m. Source: DERIVED.

    >>> round(pattern_length(1.0208, 0.18), 5)
    0.18374
    """
    return scale * casting_length


@formula(
    "V_p = f**3 V",
    symbols={"f": "scale", "V": "casting_volume"},
    source="DERIVED",
    place="definition of the scale",
    valid={"scale": above(0.0), "casting_volume": above(0.0)},
)
def cavity_volume(scale: Ratio, casting_volume: CubicMetre) -> CubicMetre:
    """Volume of the mould's cavity for a casting.

    scale: f, above 0. casting_volume: V, m^3, above 0, of the cold casting. Returns V_p, m^3.
    Source: DERIVED.

    >>> round(cavity_volume(1.01, 1.0), 6)
    1.030301
    """
    return scale**3 * casting_volume
