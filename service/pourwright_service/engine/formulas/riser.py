"""Risers: the reservoir of metal that freezes after the casting and feeds it.

The rules that a riser must meet, its neck, its masses. Functions take floats or NumPy arrays alike.
"""

from ..bounds import above, at_least, within
from ..formula import (
    CubicMetre,
    KelvinDifference,
    Kilogram,
    Metre,
    Money,
    MoneyPerKilogram,
    PerKelvin,
    Ratio,
    Second,
    formula,
)

_POSITIVE = above(0.0)


@formula(
    "B = b + a dT",
    symbols={"b": "solidification_shrinkage", "a": "liquid_contraction", "dT": "superheat"},
    source="DERIVED",
    place="volume lost by the liquid down to the liquidus, and on freezing",
    valid={
        "solidification_shrinkage": within(-0.2, 0.4),
        "liquid_contraction": at_least(0.0),
        "superheat": within(-400.0, 1000.0),
    },
)
def fed_shrinkage(
    solidification_shrinkage: Ratio, liquid_contraction: PerKelvin, superheat: KelvinDifference
) -> Ratio:
    """Share of the volume that a riser must make up, from the full mould to solid.

    solidification_shrinkage: b, from -0.2 to 0.4 (negative where a metal expands).
    liquid_contraction: a, 1/K, at least 0. superheat: dT, K, from -400 to 1000. Returns B.
    Source: DERIVED.

    >>> round(fed_shrinkage(0.05, 1e-4, 100.0), 3)
    0.06
    """
    return solidification_shrinkage + liquid_contraction * superheat


@formula(
    "V_r = B V_c/(e - B)",
    symbols={"B": "shrinkage", "V_c": "casting_volume", "e": "feeding_efficiency"},
    source="DERIVED",
    place="a riser of efficiency e feeds the casting and itself: e V_r = B (V_c + V_r)",
    valid={
        "shrinkage": within(0.0, 1.0, low_open=True, high_open=True),
        "casting_volume": _POSITIVE,
        "feeding_efficiency": within(0.0, 1.0, low_open=True),
    },
)
def volume_for_feeding(shrinkage: Ratio, casting_volume: CubicMetre, feeding_efficiency: Ratio) -> CubicMetre:
    """Least volume of a riser that can give the metal that is needed.

    shrinkage: B, from 0 to 1, below e. casting_volume: V_c, m^3, above 0. feeding_efficiency:
    e, from 0 to 1, the share of itself that a riser can give. Returns V_r, m^3; negative where
    B exceeds e, which no riser of that kind can meet. Source: DERIVED.

    >>> round(volume_for_feeding(0.066, 1.0, 0.14), 3)
    0.892
    """
    return shrinkage * casting_volume / (feeding_efficiency - shrinkage)


@formula(
    "F = B (V_c + V_r)",
    symbols={"B": "shrinkage", "V_c": "casting_volume", "V_r": "riser_volume"},
    source="DERIVED",
    place="casting and riser both shrink",
    valid={
        "shrinkage": within(-1.0, 1.0),
        "casting_volume": at_least(0.0),
        "riser_volume": _POSITIVE,
    },
)
def metal_to_feed(shrinkage: Ratio, casting_volume: CubicMetre, riser_volume: CubicMetre) -> CubicMetre:
    """Liquid that a riser must give to keep the casting and itself full.

    shrinkage: B, from -1 to 1, negative where the metal expands. casting_volume: V_c, m^3, at
    least 0. riser_volume: V_r, m^3, above 0. Returns F, m^3. Source: DERIVED.

    >>> round(metal_to_feed(0.05, 100e-6, 40e-6) * 1e6, 6)
    7.0
    """
    return shrinkage * (casting_volume + riser_volume)


@formula(
    "G = e V_r",
    symbols={"e": "feeding_efficiency", "V_r": "riser_volume"},
    source="DERIVED",
    place="definition of the feeding efficiency",
    valid={"feeding_efficiency": within(0.0, 1.0, low_open=True), "riser_volume": _POSITIVE},
)
def metal_from_riser(feeding_efficiency: Ratio, riser_volume: CubicMetre) -> CubicMetre:
    """Liquid that a riser can give before it is drained as far as it can be.

    feeding_efficiency: e, from 0 to 1. riser_volume: V_r, m^3, above 0. Returns G, m^3.
    Source: DERIVED (definition).

    >>> round(metal_from_riser(0.14, 100e-6) * 1e6, 6)
    14.0
    """
    return feeding_efficiency * riser_volume


@formula(
    "V_r = 3 B V_c",
    symbols={"B": "shrinkage", "V_c": "casting_volume"},
    source="GHOSH-MALLIK",
    place="ch. 2, example 2.9",
    valid={"shrinkage": within(0.0, 1.0), "casting_volume": _POSITIVE},
)
def volume_by_three(shrinkage: Ratio, casting_volume: CubicMetre) -> CubicMetre:
    """Riser volume by the textbooks' rule of three times the shrinkage. Shown, never used.

    shrinkage: B, from 0 to 1. casting_volume: V_c, m^3, above 0. Returns V_r, m^3. The rule
    supposes that a riser gives a third of itself. Source: GHOSH-MALLIK.

    >>> round(volume_by_three(0.065, 0.15**3) * 1e6, 1)
    658.1
    """
    return 3.0 * shrinkage * casting_volume


@formula(
    "d = 4 r M",
    symbols={"r": "neck_ratio", "M": "casting_modulus"},
    source="DERIVED",
    place="a long round or square bar has the modulus d/4",
    valid={"neck_ratio": within(0.1, 3.0), "casting_modulus": _POSITIVE},
)
def neck_thickness(neck_ratio: Ratio, casting_modulus: Metre) -> Metre:
    """Thickness of a round or square neck between riser and casting.

    neck_ratio: r, from 0.1 to 3, modulus of the neck over that of the casting. casting_modulus:
    M, m, above 0. Returns d, m. Source: DERIVED.

    >>> round(neck_thickness(1.1, 0.01), 4)
    0.044
    """
    return 4.0 * neck_ratio * casting_modulus


@formula(
    "Y = W_c/(W_c + W_r)",
    symbols={"W_c": "casting_mass", "W_r": "riser_mass"},
    source="DERIVED",
    place="definition",
    valid={"casting_mass": _POSITIVE, "riser_mass": at_least(0.0)},
)
def feeding_yield(casting_mass: Kilogram, riser_mass: Kilogram) -> Ratio:
    """Casting over casting and riser.

    casting_mass: W_c, kg, above 0. riser_mass: W_r, kg, at least 0. Returns Y, 0 to 1.
    Source: DERIVED (definition).

    >>> feeding_yield(6.0, 2.0)
    0.75
    """
    return casting_mass / (casting_mass + riser_mass)


@formula(
    "d = 2 T",
    symbols={"T": "thickness"},
    source="FEEDING-DISTANCE",
    place="riser zone of a plate, as restated from Bishop and Pellini",
    valid={"thickness": _POSITIVE},
)
def riser_zone(thickness: Metre) -> Metre:
    """How far from its edge a riser feeds through a plate; measured on steel.

    thickness: T, m, above 0. Returns d, m. Source: FEEDING-DISTANCE.

    >>> riser_zone(0.02)
    0.04
    """
    return 2.0 * thickness


@formula(
    "K = p (W_r - r W_l)",
    symbols={"p": "price", "W_r": "riser_mass", "r": "return_value", "W_l": "left_mass"},
    source="DERIVED",
    place="what is poured less what the riser left is worth",
    valid={
        "price": at_least(0.0),
        "riser_mass": at_least(0.0),
        "return_value": within(0.0, 1.0),
        "left_mass": at_least(0.0),
    },
)
def riser_cost(
    price: MoneyPerKilogram, riser_mass: Kilogram, return_value: Ratio, left_mass: Kilogram
) -> Money:
    """What a riser's metal costs when what is left of it goes back into the pot.

    price: p, money per kg, at least 0. riser_mass: W_r, kg, at least 0, as poured. return_value:
    r, 0 to 1, worth of returned metal over the price. left_mass: W_l, kg, at least 0, when the
    casting has been fed. Returns K, in the money of the price. Source: DERIVED.

    >>> riser_cost(10.0, 2.0, 0.5, 1.5)
    12.5
    """
    return price * (riser_mass - return_value * left_mass)


@formula(
    "m = t_r/t_c",
    symbols={"t_r": "riser_time", "t_c": "casting_time"},
    source="DERIVED",
    place="definition",
    valid={"riser_time": _POSITIVE, "casting_time": _POSITIVE},
)
def time_ratio(riser_time: Second, casting_time: Second) -> Ratio:
    """Freezing time of the riser over that of the casting.

    riser_time: t_r, s, above 0. casting_time: t_c, s, above 0. Returns the ratio.
    Source: DERIVED (definition).

    >>> time_ratio(125.0, 100.0)
    1.25
    """
    return riser_time / casting_time
