"""Gating: how metal runs through a sprue, and how long it takes to fill a mould.

Heads are measured from the level of the metal in the pouring basin down to the gate. Metal that
lies higher than the gate leaves less head, so the flow slackens while the mould fills; the exact
integral of that is used everywhere, in the form of an *effective head*. Functions take floats or
NumPy arrays alike.
"""

import numpy as np

from ..bounds import above, at_least
from ..formula import (
    CubicMetre,
    CubicMetrePerSecond,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Ratio,
    Second,
    SquareMetre,
    formula,
)

_POSITIVE = above(0.0)
_LEAST_ZERO = at_least(0.0)


# --- speed and flow -----------------------------------------------------------------------------


@formula(
    "v = sqrt(2 g h)",
    symbols={"g": "gravity", "h": "head"},
    source="TORRICELLI",
    place="proposition on the speed of efflux",
    valid={"gravity": _POSITIVE, "head": _LEAST_ZERO},
)
def stream_velocity(gravity: MetrePerSecondSquared, head: Metre) -> MetrePerSecond:
    """Speed of metal that has fallen freely, or runs without loss under a head.

    gravity: g, m/s^2, above 0. head: h, m, at least 0. Returns v, m/s. Source: TORRICELLI.

    >>> round(stream_velocity(9.81, 0.175), 3)
    1.853
    """
    return np.sqrt(2.0 * gravity * head)


@formula(
    "h = v**2/(2 g)",
    symbols={"v": "velocity", "g": "gravity"},
    source="TORRICELLI",
    place="the fall that gives a speed",
    valid={"velocity": _LEAST_ZERO, "gravity": _POSITIVE},
)
def velocity_head(velocity: MetrePerSecond, gravity: MetrePerSecondSquared) -> Metre:
    """Fall, or height of metal in the basin, that gives a speed.

    velocity: v, m/s, at least 0. gravity: g, m/s^2, above 0. Returns h, m. Source: TORRICELLI.

    >>> round(velocity_head(0.5, 9.81) * 1000, 2)
    12.74
    """
    return velocity**2 / (2.0 * gravity)


@formula(
    "H = l + b",
    symbols={"l": "sprue_height", "b": "basin_depth"},
    source="DERIVED",
    place="the gate lies at the sprue's foot",
    valid={"sprue_height": _POSITIVE, "basin_depth": _LEAST_ZERO},
)
def head_over_gate(sprue_height: Metre, basin_depth: Metre) -> Metre:
    """Head of metal over the gate: the sprue and what stands over its mouth.

    sprue_height: l, m, above 0, from gate to the sprue's mouth. basin_depth: b, m, at least 0, of
    metal over the mouth. Returns H, m. Source: DERIVED.

    >>> round(head_over_gate(0.150, 0.040), 3)
    0.19
    """
    return sprue_height + basin_depth


@formula(
    "Q = C A sqrt(2 g h)",
    symbols={"C": "discharge_coefficient", "A": "area", "g": "gravity", "h": "head"},
    source="GATING-SHEET",
    place="flow through the choke",
    valid={
        "discharge_coefficient": _POSITIVE,
        "area": _POSITIVE,
        "gravity": _POSITIVE,
        "head": _LEAST_ZERO,
    },
)
def choke_flow(
    discharge_coefficient: Ratio, area: SquareMetre, gravity: MetrePerSecondSquared, head: Metre
) -> CubicMetrePerSecond:
    """Flow through the narrowest place of a gating system.

    discharge_coefficient: C, above 0. area: A, m^2, above 0, of the choke. gravity: g, m/s^2,
    above 0. head: h, m, at least 0. Returns Q, m^3/s. Source: GATING-SHEET.

    >>> round(choke_flow(1.0, 78.5398e-6, 9.81, 0.250) * 1e9)
    173944
    """
    return discharge_coefficient * area * np.sqrt(2.0 * gravity * head)


@formula(
    "C = 1/sqrt(1 + K)",
    symbols={"K": "loss_coefficient"},
    source="DERIVED",
    place="energy: one velocity head leaves with the stream, K more are lost on the way",
    valid={"loss_coefficient": _LEAST_ZERO},
)
def discharge_from_losses(loss_coefficient: Ratio) -> Ratio:
    """Discharge coefficient that losses leave.

    loss_coefficient: K, at least 0, sum of the losses by entry, bends and friction in velocity
    heads of the choke. Returns C, a bare number. Source: DERIVED.

    >>> discharge_from_losses(3.0)
    0.5
    """
    return 1.0 / np.sqrt(1.0 + loss_coefficient)


# --- falling head -------------------------------------------------------------------------------


@formula(
    "h = ((sqrt(h_1) + sqrt(h_2))/2)**2",
    symbols={"h_1": "head_at_bottom", "h_2": "head_at_top"},
    source="FALLING-HEAD",
    place="the integral over a layer of even section, solved for the steady head that takes as long",
    valid={"head_at_bottom": _POSITIVE, "head_at_top": _LEAST_ZERO},
)
def layer_head(head_at_bottom: Metre, head_at_top: Metre) -> Metre:
    """Steady head that fills a layer of even section in the same time as the falling head.

    Exact. head_at_bottom: h_1, m, above 0, when the metal reaches the layer. head_at_top: h_2, m,
    at least 0, when it is full. Returns h, m. Source: FALLING-HEAD.

    >>> round(layer_head(0.30, 0.05), 5)
    0.14874
    """
    return (0.5 * (np.sqrt(head_at_bottom) + np.sqrt(head_at_top))) ** 2


@formula(
    "h = (3 (A_1 + A_2) (sqrt(h_1) + sqrt(h_2))**2"
    "/(4 (A_1 (sqrt(h_1) + 2 sqrt(h_2)) + A_2 (2 sqrt(h_1) + sqrt(h_2)))))**2",
    symbols={
        "A_1": "area_at_bottom",
        "A_2": "area_at_top",
        "h_1": "head_at_bottom",
        "h_2": "head_at_top",
    },
    source="DERIVED",
    place="the integral of A/sqrt(h) over a layer whose section changes evenly with its height",
    valid={
        "area_at_bottom": _LEAST_ZERO,
        "area_at_top": _LEAST_ZERO,
        "head_at_bottom": _POSITIVE,
        "head_at_top": _LEAST_ZERO,
    },
)
def sloped_layer_head(
    area_at_bottom: SquareMetre, area_at_top: SquareMetre, head_at_bottom: Metre, head_at_top: Metre
) -> Metre:
    """Steady head that fills a layer whose section widens or narrows evenly upwards; exact.

    With equal sections it is layer_head. area_at_bottom: A_1, m^2, at least 0. area_at_top: A_2, m^2,
    at least 0. head_at_bottom: h_1, m, above 0, when the metal reaches the layer. head_at_top: h_2,
    m, at least 0, when it is full. Returns h, m. Source: DERIVED.

    >>> round(sloped_layer_head(0.02, 0.01, 0.30, 0.05), 5)
    0.16366
    """
    low, high = np.sqrt(head_at_bottom), np.sqrt(head_at_top)
    slowness = area_at_bottom * (low + 2.0 * high) + area_at_top * (2.0 * low + high)
    return (0.75 * (area_at_bottom + area_at_top) * (low + high) ** 2 / slowness) ** 2


@formula(
    "h = ((V_a + V_b)/(V_a/sqrt(h_a) + V_b/sqrt(h_b)))**2",
    symbols={"V_a": "volume_a", "h_a": "head_a", "V_b": "volume_b", "h_b": "head_b"},
    source="DERIVED",
    place="times add up, and each is volume over the root of its head",
    valid={"volume_a": _LEAST_ZERO, "head_a": _POSITIVE, "volume_b": _POSITIVE, "head_b": _POSITIVE},
)
def joint_head(volume_a: CubicMetre, head_a: Metre, volume_b: CubicMetre, head_b: Metre) -> Metre:
    """Steady head that fills two parts of a mould in the same time as their own heads do.

    volume_a: V_a, m^3, at least 0. head_a: h_a, m, above 0. volume_b: V_b, m^3, above 0.
    head_b: h_b, m, above 0. Returns h, m. Source: DERIVED.

    >>> round(joint_head(1e-3, 0.200, 1e-3, 0.170), 4)
    0.1841
    """
    slowness = volume_a / np.sqrt(head_a) + volume_b / np.sqrt(head_b)
    return ((volume_a + volume_b) / slowness) ** 2


@formula(
    "h = H - p**2/(2 c)",
    symbols={"H": "head", "p": "height_above_gate", "c": "height"},
    source="GATING-SHEET",
    place="mean head: H for a top gate (p = 0), H - c/2 for a bottom gate (p = c)",
    valid={"head": _POSITIVE, "height_above_gate": _LEAST_ZERO, "height": _POSITIVE},
)
def mean_head(head: Metre, height_above_gate: Metre, height: Metre) -> Metre:
    """Mean head of the textbooks: a shortcut that is short of the exact one, shown beside it.

    head: H, m, above 0. height_above_gate: p, m, at least 0. height: c, m, above 0, of the
    casting. Returns h, m. Source: GATING-SHEET.

    >>> round(mean_head(0.200, 0.050, 0.100), 4)
    0.1875
    """
    return head - height_above_gate**2 / (2.0 * height)


@formula(
    "t = V/(C A sqrt(2 g h))",
    symbols={
        "V": "volume",
        "C": "discharge_coefficient",
        "A": "area",
        "g": "gravity",
        "h": "effective_head",
    },
    source="GATING-SHEET",
    place="choke area, solved for time",
    valid={
        "volume": _POSITIVE,
        "discharge_coefficient": _POSITIVE,
        "area": _POSITIVE,
        "gravity": _POSITIVE,
        "effective_head": _POSITIVE,
    },
)
def fill_time(
    volume: CubicMetre,
    discharge_coefficient: Ratio,
    area: SquareMetre,
    gravity: MetrePerSecondSquared,
    effective_head: Metre,
) -> Second:
    """Time in which a volume of metal runs through the choke.

    volume: V, m^3, above 0. discharge_coefficient: C, above 0. area: A, m^2, above 0, of the
    choke. gravity: g, m/s^2, above 0. effective_head: h, m, above 0. Returns t, s.
    Source: GATING-SHEET.

    >>> round(fill_time(1e-3, 1.0, 78.5398e-6, 9.81, 0.250), 3)
    5.749
    """
    return volume / (discharge_coefficient * area * np.sqrt(2.0 * gravity * effective_head))


@formula(
    "A = V/(t C sqrt(2 g h))",
    symbols={
        "V": "volume",
        "t": "time",
        "C": "discharge_coefficient",
        "g": "gravity",
        "h": "effective_head",
    },
    source="GATING-SHEET",
    place="choke area",
    valid={
        "volume": _POSITIVE,
        "time": _POSITIVE,
        "discharge_coefficient": _POSITIVE,
        "gravity": _POSITIVE,
        "effective_head": _POSITIVE,
    },
)
def choke_area(
    volume: CubicMetre,
    time: Second,
    discharge_coefficient: Ratio,
    gravity: MetrePerSecondSquared,
    effective_head: Metre,
) -> SquareMetre:
    """Area of the choke that lets a volume of metal through in a given time.

    volume: V, m^3, above 0. time: t, s, above 0. discharge_coefficient: C, above 0. gravity: g,
    m/s^2, above 0. effective_head: h, m, above 0. Returns A, m^2. Source: GATING-SHEET.

    >>> round(choke_area(1e-3, 5.749, 1.0, 9.81, 0.250) * 1e6, 1)
    78.5
    """
    return volume / (time * discharge_coefficient * np.sqrt(2.0 * gravity * effective_head))


@formula(
    "A = Q/(C sqrt(2 g h))",
    symbols={"Q": "flow", "C": "discharge_coefficient", "g": "gravity", "h": "head"},
    source="GATING-SHEET",
    place="flow through the choke, solved for its area",
    valid={"flow": _POSITIVE, "discharge_coefficient": _POSITIVE, "gravity": _POSITIVE, "head": _POSITIVE},
)
def choke_area_for_flow(
    flow: CubicMetrePerSecond, discharge_coefficient: Ratio, gravity: MetrePerSecondSquared, head: Metre
) -> SquareMetre:
    """Area of the choke that passes a flow under a steady head.

    flow: Q, m^3/s, above 0. discharge_coefficient: C, above 0. gravity: g, m/s^2, above 0.
    head: h, m, above 0. Returns A, m^2. Source: GATING-SHEET.

    >>> round(choke_area_for_flow(1e-3, 1.0, 9.81, 0.175) * 1e6)
    540
    """
    return flow / (discharge_coefficient * np.sqrt(2.0 * gravity * head))


@formula(
    "t = 2 S/(C A sqrt(2 g)) (sqrt(h_1) - sqrt(h_2))",
    symbols={
        "S": "vessel_area",
        "C": "discharge_coefficient",
        "A": "area",
        "g": "gravity",
        "h_1": "head_at_start",
        "h_2": "head_at_end",
    },
    source="FALLING-HEAD",
    place="the integral for a vessel of even section",
    valid={
        "vessel_area": _POSITIVE,
        "discharge_coefficient": _POSITIVE,
        "area": _POSITIVE,
        "gravity": _POSITIVE,
        "head_at_start": _LEAST_ZERO,
        "head_at_end": _LEAST_ZERO,
    },
)
def emptying_time(
    vessel_area: SquareMetre,
    discharge_coefficient: Ratio,
    area: SquareMetre,
    gravity: MetrePerSecondSquared,
    head_at_start: Metre,
    head_at_end: Metre,
) -> Second:
    """Time in which a vessel of even section runs out through a hole in its bottom.

    vessel_area: S, m^2, above 0. discharge_coefficient: C, above 0. area: A, m^2, above 0, of the
    hole. gravity: g, m/s^2, above 0. head_at_start: h_1, m, at least 0. head_at_end: h_2, m, at
    least 0. Returns t, s. Source: FALLING-HEAD.

    >>> round(emptying_time(0.785398, 0.96, 4.41786e-3, 9.81, 1.2, 0.0), 1)
    91.6
    """
    slowness = 2.0 * vessel_area / (discharge_coefficient * area * np.sqrt(2.0 * gravity))
    return slowness * (np.sqrt(head_at_start) - np.sqrt(head_at_end))
