"""What the metal's way through a gating system costs: entry, turns, friction, areas in series.

Each loss is K velocity heads of the place where it happens; referred to one area they add up as
K/A^2. Functions take floats or NumPy arrays alike.
"""

import numpy as np

from ..bounds import above, at_least, within
from ..formula import Metre, Ratio, SquareMetre, formula

_POSITIVE = above(0.0)
_LEAST_ZERO = at_least(0.0)


@formula(
    "K = 0.5/(1 + 36 (r/D)**1.2)",
    symbols={"r": "edge_radius", "D": "diameter"},
    source="SWAMEE-2008",
    place="rounded entrance to a pipe, flush with its wall",
    valid={"edge_radius": _LEAST_ZERO, "diameter": _POSITIVE},
)
def entry_loss(edge_radius: Metre, diameter: Metre) -> Ratio:
    """Loss where metal enters the sprue's mouth: half a velocity head at a sharp edge, less at a round one.

    edge_radius: r, m, at least 0. diameter: D, m, above 0, of the mouth. Returns K, a bare number.
    Source: SWAMEE-2008.

    >>> entry_loss(0.0, 0.015)
    0.5
    """
    return 0.5 / (1.0 + 36.0 * (edge_radius / diameter) ** 1.2)


@formula(
    "f = 8 ((8/Re)**12 + ((2.457 ln(1/((7/Re)**0.9 + 0.27 e)))**16 + (37530/Re)**16)**(-1.5))**(1/12)",
    symbols={"Re": "reynolds", "e": "relative_roughness"},
    source="CHURCHILL-1977",
    place="friction factor for all regimes of flow",
    valid={"reynolds": within(1.0, 1e8), "relative_roughness": within(0.0, 0.2)},
)
def friction_factor(reynolds: Ratio, relative_roughness: Ratio) -> Ratio:
    """Darcy friction factor of a rough channel, from laminar flow to full roughness.

    reynolds: Re, a bare number, from 1 to 1e8. relative_roughness: e, a bare number, from 0 to 0.2,
    of the grains over the hydraulic diameter. Returns f, a bare number. Source: CHURCHILL-1977.

    >>> round(friction_factor(3e4, 0.02), 4)
    0.0504
    """
    smooth = (2.457 * np.log(1.0 / ((7.0 / reynolds) ** 0.9 + 0.27 * relative_roughness))) ** 16
    return 8.0 * ((8.0 / reynolds) ** 12 + (smooth + (37530.0 / reynolds) ** 16) ** -1.5) ** (1.0 / 12.0)


@formula(
    "D = 2 w t/(w + t)",
    symbols={"w": "width", "t": "thickness"},
    source="DERIVED",
    place="four times the area over the wetted edge",
    valid={"width": _POSITIVE, "thickness": _POSITIVE},
)
def hydraulic_diameter(width: Metre, thickness: Metre) -> Metre:
    """Diameter of the round channel that rubs as a flat one does: runner, gate.

    width: w, m, above 0. thickness: t, m, above 0. Returns D, m. Source: DERIVED.

    >>> round(hydraulic_diameter(0.024, 0.006) * 1000, 2)
    9.6
    """
    return 2.0 * width * thickness / (width + thickness)


@formula(
    "K = f l/D",
    symbols={"f": "friction_factor", "l": "length", "D": "diameter"},
    source="DARCY-WEISBACH",
    place="friction in a channel of even section",
    valid={"friction_factor": _LEAST_ZERO, "length": _LEAST_ZERO, "diameter": _POSITIVE},
)
def channel_friction(friction_factor: Ratio, length: Metre, diameter: Metre) -> Ratio:
    """Loss by friction along a channel, in velocity heads of the metal in it.

    friction_factor: f, at least 0. length: l, m, at least 0. diameter: D, m, above 0. Returns K, a
    bare number. Source: DARCY-WEISBACH.

    >>> round(channel_friction(0.05, 0.12, 0.012), 3)
    0.5
    """
    return friction_factor * length / diameter


@formula(
    "K = f l/(4 D_m) (1 + D_f/D_m) (1 + (D_f/D_m)**2)",
    symbols={"f": "friction_factor", "l": "length", "D_m": "mouth_diameter", "D_f": "foot_diameter"},
    source="DERIVED",
    place="the integral of f/D (D_f/D)^4 down a straight taper",
    valid={
        "friction_factor": _LEAST_ZERO,
        "length": _LEAST_ZERO,
        "mouth_diameter": _POSITIVE,
        "foot_diameter": _POSITIVE,
    },
)
def sprue_friction(
    friction_factor: Ratio, length: Metre, mouth_diameter: Metre, foot_diameter: Metre
) -> Ratio:
    """Loss by friction down a tapered sprue, in velocity heads of the metal at its foot.

    friction_factor: f, at least 0. length: l, m, at least 0. mouth_diameter: D_m, m, above 0.
    foot_diameter: D_f, m, above 0. Returns K, a bare number. Source: DERIVED.

    >>> round(sprue_friction(0.05, 0.12, 0.012, 0.012), 3)
    0.5
    """
    taper = foot_diameter / mouth_diameter
    return friction_factor * length / (4.0 * mouth_diameter) * (1.0 + taper) * (1.0 + taper**2)


@formula(
    "A_e = 1/sqrt(1/A_b**2 + K/A**2)",
    symbols={"A_b": "effective_area", "K": "loss_coefficient", "A": "area"},
    source="DERIVED",
    place="1/A_e^2 = sum K/A^2, one place more",
    valid={"effective_area": _POSITIVE, "loss_coefficient": _LEAST_ZERO, "area": _POSITIVE},
)
def area_after_loss(effective_area: SquareMetre, loss_coefficient: Ratio, area: SquareMetre) -> SquareMetre:
    """Loss-free area that passes as much as a way with one more loss on it.

    effective_area: A_b, m^2, above 0, of the way without it. loss_coefficient: K, at least 0.
    area: A, m^2, above 0, where the loss happens. Returns A_e, m^2. Source: DERIVED.

    >>> round(area_after_loss(3e-4, 1.0, 4e-4) * 1e4, 4)
    2.4
    """
    return 1.0 / np.sqrt(1.0 / effective_area**2 + loss_coefficient / area**2)


@formula(
    "C = A_e/A",
    symbols={"A_e": "effective_area", "A": "choke_area"},
    source="DERIVED",
    place="both pass the same flow under the same head",
    valid={"effective_area": _POSITIVE, "choke_area": _POSITIVE},
)
def discharge_from_areas(effective_area: SquareMetre, choke_area: SquareMetre) -> Ratio:
    """Discharge coefficient of the choke that all losses together leave.

    effective_area: A_e, m^2, above 0, loss-free area of the whole way. choke_area: A, m^2, above 0.
    Returns C, a bare number. Source: DERIVED.

    >>> round(discharge_from_areas(0.75e-4, 1e-4), 6)
    0.75
    """
    return effective_area / choke_area
