"""The channels of a gating system: their areas, the speed of the metal in them, what they hold.

Functions take floats or NumPy arrays alike.
"""

import numpy as np

from ..bounds import above, at_least
from ..formula import (
    CubicMetre,
    CubicMetrePerSecond,
    KilogramPerCubicMetre,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Pascal,
    PascalSecond,
    Ratio,
    Second,
    SquareMetre,
    formula,
)

_POSITIVE = above(0.0)
_LEAST_ZERO = at_least(0.0)


@formula(
    "A = 1/sqrt(1/A_1**2 + 1/A_2**2)",
    symbols={"A_1": "first_area", "A_2": "second_area"},
    source="DERIVED",
    place="each place costs one velocity head of its own",
    valid={"first_area": _POSITIVE, "second_area": _POSITIVE},
)
def areas_in_series(first_area: SquareMetre, second_area: SquareMetre) -> SquareMetre:
    """Single area that passes as much as two places in a row that share one head.

    first_area: A_1, m^2, above 0. second_area: A_2, m^2, above 0. Returns A, m^2.
    Source: DERIVED.

    >>> round(areas_in_series(3e-4, 4e-4) * 1e4, 4)
    2.4
    """
    return 1.0 / np.sqrt(1.0 / first_area**2 + 1.0 / second_area**2)


@formula(
    "A_t = A sqrt(H/b)",
    symbols={"A": "choke_area", "H": "head", "b": "basin_depth"},
    source="GATING-SHEET",
    place="A2/A1 = sqrt(h1/h2), levels counted from the metal in the basin",
    valid={"choke_area": _POSITIVE, "head": _POSITIVE, "basin_depth": _POSITIVE},
)
def sprue_mouth_area(choke_area: SquareMetre, head: Metre, basin_depth: Metre) -> SquareMetre:
    """Area of the sprue's mouth at which the falling stream just fills the sprue.

    choke_area: A, m^2, above 0. head: H, m, above 0, over the choke. basin_depth: b, m, above 0,
    of metal over the mouth. Returns A_t, m^2. Source: GATING-SHEET.

    >>> round(sprue_mouth_area(3.484e-4, 0.28238, 0.08238) * 1e4, 2)
    6.45
    """
    return choke_area * np.sqrt(head / basin_depth)


@formula(
    "p = rho g b - rho/2 (Q/A)**2",
    symbols={"rho": "density_liquid", "g": "gravity", "b": "basin_depth", "Q": "flow", "A": "mouth_area"},
    source="DERIVED",
    place="energy between the metal in the basin and the sprue's mouth, without losses",
    valid={
        "density_liquid": _POSITIVE,
        "gravity": _POSITIVE,
        "basin_depth": _LEAST_ZERO,
        "flow": _LEAST_ZERO,
        "mouth_area": _POSITIVE,
    },
)
def mouth_pressure(
    density_liquid: KilogramPerCubicMetre,
    gravity: MetrePerSecondSquared,
    basin_depth: Metre,
    flow: CubicMetrePerSecond,
    mouth_area: SquareMetre,
) -> Pascal:
    """Pressure over the air's in the sprue's mouth; below zero the stream sucks in air and mould gas.

    density_liquid: rho, kg/m^3, above 0. gravity: g, m/s^2, above 0. basin_depth: b, m, at least 0.
    flow: Q, m^3/s, at least 0. mouth_area: A, m^2, above 0. Returns p, Pa. Source: DERIVED.

    >>> round(mouth_pressure(2400.0, 9.81, 0.040, 1e-4, 1e-4))
    -258
    """
    return density_liquid * gravity * basin_depth - 0.5 * density_liquid * (flow / mouth_area) ** 2


@formula(
    "A = Q/v",
    symbols={"Q": "flow", "v": "velocity"},
    source="CONTINUITY",
    place="flow over speed",
    valid={"flow": _POSITIVE, "velocity": _POSITIVE},
)
def area_for_velocity(flow: CubicMetrePerSecond, velocity: MetrePerSecond) -> SquareMetre:
    """Area through which a flow runs at a given speed: the least area of the gates.

    flow: Q, m^3/s, above 0. velocity: v, m/s, above 0. Returns A, m^2. Source: CONTINUITY.

    >>> round(area_for_velocity(1e-4, 0.40) * 1e4, 2)
    2.5
    """
    return flow / velocity


@formula(
    "v = Q/A",
    symbols={"Q": "flow", "A": "area"},
    source="CONTINUITY",
    place="flow over area",
    valid={"flow": _LEAST_ZERO, "area": _POSITIVE},
)
def velocity_in(flow: CubicMetrePerSecond, area: SquareMetre) -> MetrePerSecond:
    """Speed of a flow in a channel that it fills, or of metal that rises in a mould.

    flow: Q, m^3/s, at least 0. area: A, m^2, above 0. Returns v, m/s. Source: CONTINUITY.

    >>> round(velocity_in(1e-4, 2.5e-4), 3)
    0.4
    """
    return flow / area


@formula(
    "t = V/Q",
    symbols={"V": "volume", "Q": "flow"},
    source="CONTINUITY",
    place="volume over flow",
    valid={"volume": _LEAST_ZERO, "flow": _POSITIVE},
)
def priming_time(volume: CubicMetre, flow: CubicMetrePerSecond) -> Second:
    """Time until the channels are full and metal enters the casting.

    volume: V, m^3, at least 0, of the channels. flow: Q, m^3/s, above 0. Returns t, s.
    Source: CONTINUITY.

    >>> round(priming_time(6e-5, 1.2e-4), 3)
    0.5
    """
    return volume / flow


@formula(
    "Fr = v/sqrt(g t)",
    symbols={"v": "velocity", "g": "gravity", "t": "thickness"},
    source="DERIVED",
    place="speed over that of the longest wave in an open channel as deep",
    valid={"velocity": _LEAST_ZERO, "gravity": _POSITIVE, "thickness": _POSITIVE},
)
def froude_number(velocity: MetrePerSecond, gravity: MetrePerSecondSquared, thickness: Metre) -> Ratio:
    """Whether a stream fills a gate that nothing dams up: from 1 on it does, below it runs on the floor.

    velocity: v, m/s, at least 0. gravity: g, m/s^2, above 0. thickness: t, m, above 0.
    Returns Fr, a bare number. Source: DERIVED.

    >>> round(froude_number(0.40, 9.81, 0.006), 2)
    1.65
    """
    return velocity / np.sqrt(gravity * thickness)


@formula(
    "H = (n v_c/C)**2/(2 g)",
    symbols={
        "n": "area_ratio",
        "v_c": "critical_velocity",
        "C": "discharge_coefficient",
        "g": "gravity",
    },
    source="DERIVED",
    place="the gate's speed is the choke's over n, and it is held to the critical one",
    valid={
        "area_ratio": _POSITIVE,
        "critical_velocity": _POSITIVE,
        "discharge_coefficient": _POSITIVE,
        "gravity": _POSITIVE,
    },
)
def quiet_head(
    area_ratio: Ratio,
    critical_velocity: MetrePerSecond,
    discharge_coefficient: Ratio,
    gravity: MetrePerSecondSquared,
) -> Metre:
    """Largest head at which gates of n times the choke's area still run quietly.

    area_ratio: n, above 0, gates over choke. critical_velocity: v_c, m/s, above 0.
    discharge_coefficient: C, above 0. gravity: g, m/s^2, above 0. Returns H, m. Source: DERIVED.

    >>> [round(quiet_head(n, 0.5, 1.0, 9.81) * 1000) for n in (2.0, 4.0)]
    [51, 204]
    """
    return (area_ratio * critical_velocity / discharge_coefficient) ** 2 / (2.0 * gravity)


@formula(
    "Re = rho v D/mu",
    symbols={"rho": "density_liquid", "v": "velocity", "D": "diameter", "mu": "viscosity"},
    source="DERIVED",
    place="inertia over viscosity",
    valid={
        "density_liquid": _POSITIVE,
        "velocity": _LEAST_ZERO,
        "diameter": _POSITIVE,
        "viscosity": _POSITIVE,
    },
)
def reynolds_number(
    density_liquid: KilogramPerCubicMetre, velocity: MetrePerSecond, diameter: Metre, viscosity: PascalSecond
) -> Ratio:
    """Reynolds number of the stream in a channel; metal in a sprue is far into turbulence.

    density_liquid: rho, kg/m^3, above 0. velocity: v, m/s, at least 0. diameter: D, m, above 0.
    viscosity: mu, Pa s, above 0. Returns Re, a bare number. Source: DERIVED.

    >>> round(reynolds_number(2400.0, 1.5, 0.011, 0.00125))
    31680
    """
    return density_liquid * velocity * diameter / viscosity


@formula(
    "D = sqrt(4 A/pi)",
    symbols={"A": "area"},
    source="DERIVED",
    place="geometry",
    valid={"area": _POSITIVE},
)
def round_diameter(area: SquareMetre) -> Metre:
    """Diameter of a round channel.

    area: A, m^2, above 0. Returns D, m. Source: DERIVED (geometry).

    >>> round(round_diameter(78.54e-6) * 1000, 2)
    10.0
    """
    return np.sqrt(4.0 * area / np.pi)


@formula(
    "A = n w t",
    symbols={"n": "count", "w": "width", "t": "thickness"},
    source="DERIVED",
    place="geometry",
    valid={"count": at_least(1.0), "width": _POSITIVE, "thickness": _POSITIVE},
)
def flat_area(count: Ratio, width: Metre, thickness: Metre) -> SquareMetre:
    """Area of one or more flat channels: runner, gates.

    count: n, at least 1. width: w, m, above 0. thickness: t, m, above 0. Returns A, m^2, of all
    together. Source: DERIVED (geometry).

    >>> round(flat_area(2.0, 0.024, 0.006) * 1e6)
    288
    """
    return count * width * thickness


@formula(
    "V = l/3 (A_1 + A_2 + sqrt(A_1 A_2))",
    symbols={"l": "length", "A_1": "first_area", "A_2": "second_area"},
    source="DERIVED",
    place="geometry: a cut cone or pyramid",
    valid={"length": _LEAST_ZERO, "first_area": _POSITIVE, "second_area": _POSITIVE},
)
def tapered_volume(length: Metre, first_area: SquareMetre, second_area: SquareMetre) -> CubicMetre:
    """Volume of a straight taper: a sprue, a pouring cup.

    length: l, m, at least 0. first_area: A_1, m^2, above 0. second_area: A_2, m^2, above 0.
    Returns V, m^3. Source: DERIVED (geometry).

    >>> round(tapered_volume(0.075, 95e-6, 163e-6) * 1e6, 2)
    9.56
    """
    return length / 3.0 * (first_area + second_area + np.sqrt(first_area * second_area))
