"""Junctions: how much heavier than its walls the place is where walls meet, and which fillet suits it.

Functions take floats or NumPy arrays alike.
"""

from ..bounds import above
from ..formula import Metre, Ratio, formula

_POSITIVE = above(0.0)


@formula(
    "n = D/t",
    symbols={"D": "circle", "t": "wall"},
    source="DERIVED",
    place="inscribed circles compared",
    valid={"circle": _POSITIVE, "wall": _POSITIVE},
)
def circle_ratio(circle: Metre, wall: Metre) -> Ratio:
    """How many times the thicker wall the circle in a junction is.

    circle: D, m, above 0. wall: t, m, above 0, the thicker one. Returns n. Source: DERIVED.

    >>> circle_ratio(0.025, 0.02)
    1.25
    """
    return circle / wall


@formula(
    "M_j = M n",
    symbols={"M": "modulus", "n": "circle_ratio"},
    source="DERIVED",
    place="a plate as thick as the circle has this many times the wall's modulus",
    valid={"modulus": _POSITIVE, "circle_ratio": _POSITIVE},
)
def junction_modulus(modulus: Metre, circle_ratio: Ratio) -> Metre:
    """Most that the modulus of a junction can be: as if the circle were a plate of that thickness.

    modulus: M, m, above 0, of the thicker wall. circle_ratio: n, above 0. Returns M_j, m. The
    circle's plate has sand on two sides only, the junction has cooled walls all around, so the
    junction's own is less. Source: DERIVED.

    >>> junction_modulus(0.01, 1.25)
    0.0125
    """
    return modulus * circle_ratio


@formula(
    "k = n**2",
    symbols={"n": "circle_ratio"},
    source="CHVORINOV-1940",
    place="times go as the squares of moduli",
    valid={"circle_ratio": _POSITIVE},
)
def junction_time_ratio(circle_ratio: Ratio) -> Ratio:
    """Most by which a junction can freeze later than its thicker wall.

    circle_ratio: n, above 0. Returns k. Solved in two dimensions, walls of 20 mm, sharp or with
    fillets up to the wall: a T freezes 1.2 to 1.6 times as late as its wall, an L 1.0 to 1.2, a
    cross 1.3 to 2.0; the square of the circle says more, and the more so the larger the fillet.
    Source: CHVORINOV-1940.

    >>> junction_time_ratio(1.25)
    1.5625
    """
    return circle_ratio**2


@formula(
    "r = t/3",
    symbols={"t": "thinner_wall"},
    source="COMMON-PRACTICE",
    place="fillets of a third to half of the wall",
    valid={"thinner_wall": _POSITIVE},
)
def least_fillet(thinner_wall: Metre) -> Metre:
    """The least fillet that is good at a junction; a sharper one tears, and its sand breaks off.

    thinner_wall: t, m, above 0. Returns r, m. Source: COMMON-PRACTICE.

    >>> least_fillet(0.012)
    0.004
    """
    return thinner_wall / 3.0


@formula(
    "r = t/2",
    symbols={"t": "thinner_wall"},
    source="COMMON-PRACTICE",
    place="fillets of a third to half of the wall; some foundries go up to the wall itself",
    valid={"thinner_wall": _POSITIVE},
)
def most_fillet(thinner_wall: Metre) -> Metre:
    """The largest fillet that is good at a junction; a larger one heaps up metal that freezes late.

    thinner_wall: t, m, above 0. Returns r, m. Source: COMMON-PRACTICE.

    >>> most_fillet(0.012)
    0.006
    """
    return thinner_wall / 2.0
