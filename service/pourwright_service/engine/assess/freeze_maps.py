"""Checks of a freeze map: can it be believed, and does metal get from the riser to everywhere?"""

import math

from ..checks import Check, check_kind
from ..ledger import Say

FEEDS = check_kind(
    "map-feeds-casting",
    "On the freeze map liquid metal leads from the riser to all of the casting until it is solid",
    kind="fraction",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
RAYS = check_kind(
    "map-surface-closed",
    "The mesh's surface closes for nearly every ray through it",
    kind="fraction",
    sense="at most",
    source="DERIVED",
    else_="warn",
)
FINE = check_kind(
    "map-cells-fine-enough",
    "The map's cells are small enough for the casting's walls",
    kind="ratio",
    sense="at least",
    source="COMMON-PRACTICE",
    else_="warn",
)
HEAT_KEPT = check_kind(
    "map-heat-kept",
    "The map neither loses nor makes heat",
    kind="fraction",
    sense="at most",
    source="DERIVED",
    else_="warn",
)

LEAST_CUT_OFF = 0.01
"""So much of the casting may be cut off from the riser: a void of some hundredths of that."""

DOUBTFUL_RAYS = 0.01
CELLS_ACROSS = 1.5
"""So many cells a wall is to be wide."""

HEAT_LOST = 2e-4
"""Share of the metal's heat that single precision may lose over the whole run."""

STEEL_THRESHOLD = 100.0 * math.sqrt(60.0)
"""1 K^0.5 min^0.5/cm in K^0.5 s^0.5/m: published for steel alone."""


def check_feeds(
    share: float, volume: float, closed: float, solid: float, place: tuple[float, float, float]
) -> Check:
    """The share of the casting that is cut off from the risers while liquid, and its largest piece: m^3,
    when its way closes and when it is solid (s), where it is (m, in the axes of the file)."""
    x, y, z = place
    parts: dict[str, tuple[float, str] | str] = {
        "p": (share, "fraction"),
        "v": (volume, "volume"),
        "c": (closed, "time"),
        "s": (solid, "time"),
        "x": (x, "length"),
        "y": (y, "length"),
        "z": (z, "length"),
    }
    return FEEDS.judge(
        share,
        LEAST_CUT_OFF,
        subject="/riser",
        ok=Say("On the freeze map liquid metal leads from the riser to all of the casting to the end."),
        bad=Say(
            "On the freeze map {p} of the casting is cut off from the riser while still liquid. The largest "
            "place, {v} round x {x}, y {y}, z {z}, is cut off after {c} and solid after {s}: expect a void "
            "there. Set a riser or a chill at it, or thicken the way to it.",
            **parts,
        ),
    )


def check_rays(lost: float) -> Check:
    """The share of the rays along the worst axis that met a hole in the mesh."""
    parts: dict[str, tuple[float, str] | str] = {"p": (lost, "fraction")}
    return RAYS.judge(
        lost,
        DOUBTFUL_RAYS,
        subject="/mesh",
        ok=Say("The mesh's surface is closed, as far as the map's rays can tell."),
        bad=Say(
            "The mesh has holes: {p} of the rays through it found no way out and were left out, so the map "
            "is a guess near them. Close the mesh.",
            **parts,
        ),
    )


def check_fine(wall: float, cell: float) -> Check:
    """The thinnest wall of the mesh against the cell's side (m)."""
    parts: dict[str, tuple[float, str] | str] = {"w": (wall, "length"), "c": (cell, "length")}
    return FINE.judge(
        wall / cell,
        CELLS_ACROSS,
        subject="/cells",
        ok=Say("The cells ({c}) are small enough for the casting's thinnest wall ({w}).", **parts),
        bad=Say(
            "The casting's thinnest wall ({w}) is hardly wider than the cells ({c}): it may be lost, and "
            "times are rough. Ask for more cells.",
            **parts,
        ),
    )


def check_heat(imbalance: float) -> Check:
    """Heat lost or made by rounding, as a share of what the metal gives up."""
    parts: dict[str, tuple[float, str] | str] = {"p": (imbalance, "fraction")}
    return HEAT_KEPT.judge(
        imbalance,
        HEAT_LOST,
        subject="/accuracy",
        ok=Say("The map keeps its heat: {p} is lost to rounding.", **parts),
        bad=Say("The map loses {p} of its heat to rounding: its times are in doubt.", **parts),
    )
