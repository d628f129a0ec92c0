"""May a metal's properties be believed? Doubts that belong beside a riser or a freezing time."""

import numpy as np

from ..checks import Check, check_kind
from ..ledger import Say

USUAL_LOW, USUAL_HIGH = 0.02, 0.08
"""Shrinkage on freezing of metals other than iron, as shares of volume; common practice."""

PLAUSIBLE = check_kind(
    "shrinkage-plausible",
    "Is the shrinkage on freezing one that metals have?",
    kind="fraction",
    sense="at most",
    else_="warn",
    source="COMMON-PRACTICE",
)

IRON_GIVEN = check_kind(
    "iron-shrinkage-given",
    "Is the shrinkage of this iron your own figure?",
    kind="count",
    sense="at least",
    else_="warn",
    source="SHRINKAGE-TABLE",
)


def check_shrinkage(shrinkage: float, *, subject: str = "/properties/solidification_shrinkage") -> Check:
    """A shrinkage on freezing (share of volume) against the usual 2 to 8 %, for metals but iron.

    The check's value is the distance from the middle of that range, its limit half the range.
    """
    middle, half = (USUAL_LOW + USUAL_HIGH) / 2.0, (USUAL_HIGH - USUAL_LOW) / 2.0
    said = {
        "b": (shrinkage, "fraction"),
        "low": (USUAL_LOW, "fraction"),
        "high": (USUAL_HIGH, "fraction"),
    }
    return PLAUSIBLE.judge(
        np.abs(shrinkage - middle),
        half,
        subject=subject,
        ok=Say("The metal shrinks by {b} as it freezes, as metals do ({low} to {high}).", **said),
        bad=Say(
            "A shrinkage on freezing of {b} is unusual ({low} to {high}); check the densities and the "
            "contraction, or give properties.solidification_shrinkage.",
            **said,
        ),
    )


def check_iron_shrinkage(
    shrinkage: float, given: bool, *, subject: str = "/properties/solidification_shrinkage"
) -> Check:
    """Grey iron may shrink or expand on freezing; anything but the caller's own figure is doubtful."""
    b = (shrinkage, "fraction")
    return IRON_GIVEN.judge(
        1.0 if given else 0.0,
        1.0,
        subject=subject,
        ok=Say("The shrinkage of this iron, {b}, is your own figure.", b=b),
        bad=Say(
            "Books disagree on iron even in the sign: some expand by 2.5 %, some shrink. {b} is the "
            "careful end; give properties.solidification_shrinkage for your iron and mould.",
            b=b,
        ),
    )
