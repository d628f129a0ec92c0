"""Pattern: how much larger than the casting it must be."""

from typing import Any

import numpy as np

from ..bounds import above, at_least, within
from ..formula import CubicMetre, Kilogram, KilogramPerCubicMetre, Metre, Ratio, formula


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


@formula(
    "P = (F + n m + c/2) (1 + s (1 - h))",
    symbols={
        "F": "finished_length",
        "n": "machined_faces",
        "m": "machining",
        "c": "casting_tolerance",
        "s": "contraction",
        "h": "hindrance",
    },
    source="DERIVED",
    place="rough size of ISO 8062, then contraction by the part of it that the mould does not hinder",
    valid={
        "finished_length": above(0.0),
        "machined_faces": within(0.0, 2.0),
        "machining": at_least(0.0),
        "casting_tolerance": at_least(0.0),
        "contraction": within(-0.01, 0.05),
        "hindrance": within(0.0, 1.0),
    },
)
def pattern_with_allowances(
    finished_length: Metre,
    machined_faces: Ratio,
    machining: Metre,
    casting_tolerance: Metre,
    contraction: Ratio,
    hindrance: Ratio,
) -> Metre:
    """Length of a pattern along one axis, without draft and rapping.

    finished_length: F, m, above 0, of the finished part. machined_faces: n, from 0 to 2, of the two ends.
    machining: m, m, at least 0, taken off each. casting_tolerance: c, m, at least 0, total; half of it is
    added where anything is machined. contraction: s, from -0.01 to 0.05. hindrance: h, from 0 to 1, the share
    of the contraction that core or mould holds back. Returns P, m. Source: DERIVED.

    >>> round(pattern_with_allowances(0.080, 2.0, 0.0014, 0.006, 0.0, 0.0), 6)
    0.0858
    """
    rough = finished_length + machined_faces * machining + casting_tolerance / 2.0
    return rough * (1.0 + contraction * (1.0 - hindrance))


@formula(
    "d = h tan(pi a/180)",
    symbols={"h": "depth", "a": "angle_degrees"},
    source="DERIVED",
    place="geometry",
    valid={"depth": at_least(0.0), "angle_degrees": within(0.0, 45.0)},
)
def draft_on_a_side(depth: Metre, angle_degrees: Ratio) -> Metre:
    """How much further out a drafted side stands at the parting than at its far end.

    depth: h, m, at least 0, drawn. angle_degrees: a, degrees, from 0 to 45. Returns d, m. Source: DERIVED.

    >>> round(draft_on_a_side(0.010, 3.0), 6)
    0.000524
    """
    made: Any = depth * np.tan(np.pi * angle_degrees / 180.0)
    return made


@formula(
    "W = m rho/(rho_p f**3)",
    symbols={"m": "pattern_mass", "rho": "density", "rho_p": "pattern_density", "f": "scale"},
    source="DERIVED",
    place="the casting fills the pattern's volume and contracts",
    valid={
        "pattern_mass": above(0.0),
        "density": above(0.0),
        "pattern_density": above(0.0),
        "scale": above(0.0),
    },
)
def casting_by_pattern_mass(
    pattern_mass: Kilogram,
    density: KilogramPerCubicMetre,
    pattern_density: KilogramPerCubicMetre,
    scale: Ratio,
) -> Kilogram:
    """Mass of the casting from a solid pattern, wax or print by its mass.

    pattern_mass: m, kg, above 0. density: rho, kg/m^3, above 0, of the cold metal. pattern_density: rho_p,
    kg/m^3, above 0, of the pattern's material. scale: f, above 0, pattern over casting. Returns W, kg.
    Source: DERIVED.

    >>> casting_by_pattern_mass(0.1, 8000.0, 1000.0, 1.0)
    0.8
    """
    return pattern_mass * density / (pattern_density * scale**3)
