"""Charge make-up: element masses through the melt, shares, additions, loss and cost.

Functions take floats or NumPy arrays alike. Shares, recoveries and losses are ratios from 0 to 1.
"""

from ..bounds import above, at_least, within
from ..formula import Kilogram, Money, MoneyPerKilogram, Ratio, formula

_MASS = at_least(0.0)
_SHARE = within(0.0, 1.0)
_POSITIVE_SHARE = within(0.0, 1.0, low_open=True)


@formula(
    "m_e = m w r",
    symbols={"m": "charged_mass", "w": "element_share", "r": "recovery"},
    source="DERIVED",
    place="mass balance of one element over the melt",
    valid={"charged_mass": _MASS, "element_share": _SHARE, "recovery": _SHARE},
)
def element_mass_after_melt(charged_mass: Kilogram, element_share: Ratio, recovery: Ratio) -> Kilogram:
    """Mass of an element that one item of the charge leaves in the melt.

    charged_mass: m, kg, 0 or more. element_share: w, 0 to 1. recovery: r, what is not lost, 0 to
    1. Returns m_e, kg. Source: DERIVED (mass balance).

    >>> round(element_mass_after_melt(2.0, 0.05, 0.9), 6)
    0.09
    """
    return charged_mass * element_share * recovery


@formula(
    "m_l = m w - m_e",
    symbols={"m": "charged_mass", "w": "element_share", "m_e": "part"},
    source="DERIVED",
    place="mass balance of one element over the melt",
    valid={"charged_mass": _MASS, "element_share": _SHARE, "part": _MASS},
)
def element_mass_lost(charged_mass: Kilogram, element_share: Ratio, part: Kilogram) -> Kilogram:
    """Mass of an element that burns, boils off or goes into the dross.

    charged_mass: m, kg, 0 or more. element_share: w, 0 to 1, of the charge. part: m_e, kg, 0 or
    more, what the melt holds of it. Returns m_l, kg. Source: DERIVED (mass balance).

    >>> round(element_mass_lost(2.0, 0.05, 0.09), 6)
    0.01
    """
    return charged_mass * element_share - part


@formula(
    "s = m_e/M",
    symbols={"m_e": "part", "M": "whole"},
    source="DERIVED",
    place="definition of a share",
    valid={"part": _MASS, "whole": above(0.0)},
)
def share_of_melt(part: Kilogram, whole: Kilogram) -> Ratio:
    """Share of a part in the whole melt.

    part: m_e, kg, 0 or more. whole: M, kg, above 0. Returns s, a ratio. Source: DERIVED.

    >>> share_of_melt(9.0, 75.0)
    0.12
    """
    return part / whole


@formula(
    "M = m_e/s",
    symbols={"m_e": "part", "s": "share"},
    source="DERIVED",
    place="definition of a share, turned round",
    valid={"part": _MASS, "share": _POSITIVE_SHARE},
)
def total_from_share(part: Kilogram, share: Ratio) -> Kilogram:
    """Mass of the whole charge of which a part and its share are known.

    part: m_e, kg, 0 or more. share: s, above 0 to 1. Returns M, kg. Source: DERIVED.

    >>> round(total_from_share(68.0, 0.15), 2)
    453.33
    """
    return part / share


@formula(
    "m = M/(1 - f)",
    symbols={"M": "melt_mass", "f": "loss"},
    source="DERIVED",
    place="mass balance over the melt",
    valid={"melt_mass": _MASS, "loss": within(0.0, 1.0, high_open=True)},
)
def charge_for_melt(melt_mass: Kilogram, loss: Ratio) -> Kilogram:
    """Mass to charge for a melt when a known part of the charge is lost.

    melt_mass: M, kg molten, 0 or more. loss: f, part of the charge, 0 to below 1. Returns m, kg.
    Source: DERIVED.

    >>> round(charge_for_melt(526.0, 0.23), 2)
    683.12
    """
    return melt_mass / (1.0 - loss)


@formula(
    "B = m/(1 + g)",
    symbols={"m": "charge_mass", "g": "addition"},
    source="DERIVED",
    place="mass balance of a charge made of a base and an addition on it",
    valid={"charge_mass": _MASS, "addition": _MASS},
)
def base_of_charge(charge_mass: Kilogram, addition: Ratio) -> Kilogram:
    """Mass of base metal in a charge that holds an addition reckoned on the base.

    charge_mass: m, kg, 0 or more. addition: g, mass added per mass of base, 0 or more. Returns B,
    kg. Source: DERIVED.

    >>> round(base_of_charge(465.0, 0.35), 2)
    344.44
    """
    return charge_mass / (1.0 + addition)


@formula(
    "m = M (t - a)/(r q)",
    symbols={
        "M": "bath_mass",
        "t": "target_share",
        "a": "actual_share",
        "r": "recovery",
        "q": "assay",
    },
    source="COMMON-PRACTICE",
    place="element balance, the addition's own mass left out of the total",
    valid={
        "bath_mass": _MASS,
        "target_share": _SHARE,
        "actual_share": _SHARE,
        "recovery": _POSITIVE_SHARE,
        "assay": _POSITIVE_SHARE,
    },
)
def addition_needed(
    bath_mass: Kilogram, target_share: Ratio, actual_share: Ratio, recovery: Ratio, assay: Ratio
) -> Kilogram:
    """Addition that lifts one element of a bath, dilution by the addition itself left out.

    bath_mass: M, kg, 0 or more. target_share: t, actual_share: a, 0 to 1. recovery: r and assay:
    q of the addition, above 0 to 1. Returns m, kg; negative where the bath already holds more.
    Source: COMMON-PRACTICE.

    >>> round(addition_needed(100.0, 0.0002, 0.0, 1.0, 0.15), 4)
    0.1333
    """
    return bath_mass * (target_share - actual_share) / (recovery * assay)


@formula(
    "m = M (t - a)/(r q - t y)",
    symbols={
        "M": "bath_mass",
        "t": "target_share",
        "a": "actual_share",
        "r": "recovery",
        "q": "assay",
        "y": "addition_yield",
    },
    source="DERIVED",
    place="element balance, the addition's metal counted in the total",
    valid={
        "bath_mass": _MASS,
        "target_share": within(0.0, 0.5),
        "actual_share": _SHARE,
        "recovery": within(0.75, 1.0),
        "assay": within(0.75, 1.0),
        "addition_yield": _SHARE,
    },
)
def addition_needed_with_dilution(
    bath_mass: Kilogram,
    target_share: Ratio,
    actual_share: Ratio,
    recovery: Ratio,
    assay: Ratio,
    addition_yield: Ratio,
) -> Kilogram:
    """Addition that lifts one element of a bath, its own mass counted in the new total.

    bath_mass: M, kg, 0 or more. target_share: t, 0 to 0.5. actual_share: a, 0 to 1. recovery: r
    and assay: q of a rich addition, 0.75 to 1. addition_yield: y, mass the addition leaves in the
    bath per mass added, 0 to 1. Returns m, kg. Source: DERIVED.

    >>> round(addition_needed_with_dilution(100.0, 0.04, 0.03, 0.9, 0.98, 0.9), 4)
    1.182
    """
    return bath_mass * (target_share - actual_share) / (recovery * assay - target_share * addition_yield)


@formula(
    "f = 1 - M/m",
    symbols={"M": "melt_mass", "m": "charged_mass"},
    source="DERIVED",
    place="mass balance over the melt",
    valid={"melt_mass": _MASS, "charged_mass": above(0.0)},
)
def melt_loss(melt_mass: Kilogram, charged_mass: Kilogram) -> Ratio:
    """Part of the charge that is lost in melting.

    melt_mass: M, kg molten, 0 or more. charged_mass: m, kg, above 0. Returns f, a ratio. Source:
    DERIVED.

    >>> round(melt_loss(9.7, 10.0), 6)
    0.03
    """
    return 1.0 - melt_mass / charged_mass


@formula(
    "m_p = M - W",
    symbols={"M": "melt_mass", "W": "wanted_mass"},
    source="DERIVED",
    place="mass balance of the pot",
    valid={"melt_mass": _MASS, "wanted_mass": _MASS},
)
def pig_left(melt_mass: Kilogram, wanted_mass: Kilogram) -> Kilogram:
    """Metal left over for the pig mould.

    melt_mass: M, kg molten, 0 or more. wanted_mass: W, kg, 0 or more. Returns m_p, kg; negative
    where the melt falls short. Source: DERIVED.

    >>> round(pig_left(4.3, 4.2), 6)
    0.1
    """
    return melt_mass - wanted_mass


@formula(
    "K = m p",
    symbols={"m": "mass", "p": "price"},
    source="DERIVED",
    place="definition of a price",
    valid={"mass": _MASS, "price": _MASS},
)
def metal_cost(mass: Kilogram, price: MoneyPerKilogram) -> Money:
    """Cost of a mass of metal.

    mass: m, kg, 0 or more. price: p, money per kg, 0 or more. Returns K, money. Source: DERIVED.

    >>> metal_cost(3.0, 14.0)
    42.0
    """
    return mass * price


@formula(
    "m_P = 2 A_P m_O/(5 A_O)",
    symbols={"A_P": "phosphorus_atomic_mass", "m_O": "oxygen_mass", "A_O": "oxygen_atomic_mass"},
    source="CU-P-DEOXIDATION",
    place="5 Cu2O + 2 P -> 10 Cu + P2O5",
    valid={
        "phosphorus_atomic_mass": above(0.0),
        "oxygen_mass": _MASS,
        "oxygen_atomic_mass": above(0.0),
    },
)
def phosphorus_for_oxygen(
    phosphorus_atomic_mass: Ratio, oxygen_mass: Kilogram, oxygen_atomic_mass: Ratio
) -> Kilogram:
    """Phosphorus that takes a mass of oxygen out of copper when all of it burns to P2O5.

    phosphorus_atomic_mass: A_P and oxygen_atomic_mass: A_O, on one scale, above 0. oxygen_mass:
    m_O, kg, 0 or more. Returns m_P, kg. Source: CU-P-DEOXIDATION.

    >>> round(phosphorus_for_oxygen(30.974, 1.0, 15.999), 4)
    0.7744
    """
    return 2.0 * phosphorus_atomic_mass * oxygen_mass / (5.0 * oxygen_atomic_mass)
