"""Whether a pattern can be drawn out of the sand: checks of a direction, its parting and its draft."""

from dataclasses import dataclass

from ..checks import Check, check_kind
from ..geometry.parting import Parting, Region
from ..ledger import Say

DRAWN = check_kind(
    "can-be-drawn",
    "The pattern can be drawn out of the sand",
    kind="volume",
    sense="at most",
    source="DERIVED",
)
FLAT = check_kind(
    "parting-flat",
    "A flat parting does",
    kind="volume",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
DRAFT = check_kind(
    "draft-enough",
    "Tall faces along the draw have draft",
    kind="length",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)

SLIGHT = 0.005
"""Sand shut in, as a share of the part's volume, up to which filling in and drilling later may do."""

SHALLOW = 0.003
"""Faces no taller than this, m, are drawn without draft (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawInputs:
    """A direction as it is judged; SI.

    ``along`` names it. ``covered`` is the sand made by cores that the caller names; ``better`` is a
    direction in which nothing is shut in, None where there is none or this is one. ``tallest`` is
    the tallest face with less draft than ``taper`` (its lean over its height).
    """

    volume: float
    along: str
    parting: Parting
    covered: float = 0.0
    better: str | None = None
    subject: str = "/mesh"


def needs_core(region: Region) -> bool:
    """Whether sand that hangs or stands in a pocket is deeper than wide, and so breaks off."""
    return region.sort == "trapped" or (region.inside and region.height > region.width)


def loose_sand(parting: Parting) -> float:
    """Hanging and standing sand (m^3) but for pockets no deeper than wide, whose sand holds by itself."""
    return sum(
        region.volume
        for region in parting.regions
        if region.sort != "trapped" and (not region.inside or needs_core(region))
    )


def check_drawn(inputs: DrawInputs) -> Check:
    """Judge the sand that is shut in between metal: no parting frees it.

    It fails beyond :data:`SLIGHT` of the part; where the caller names cores it only warns.
    """
    parting = inputs.parting
    left = max(0.0, parting.trapped - inputs.covered)
    told = ": it wants a core"
    parts: dict[str, tuple[float, str] | str] = {"d": inputs.along, "v": (left, "volume")}
    trapped = [region for region in parting.regions if region.sort == "trapped"]
    if trapped:
        biggest = trapped[0]
        parts |= {
            "l": (biggest.length, "length"),
            "w": (biggest.width, "length"),
            "h": (biggest.height, "length"),
            "at": (biggest.low, "length"),
            "top": (biggest.high, "length"),
        }
        told = ", the largest {l} x {w} in plan, from {at} to {top} above the lowest point"
    turn = ""
    if inputs.better is not None:
        parts["b"] = inputs.better
        turn = " Drawn along {b} nothing is shut in: turn it."
    covered = parting.trapped > parting.noise and inputs.covered > 0.0
    limit = parting.noise
    slight = max(limit, SLIGHT * inputs.volume)
    if covered:
        slight = max(slight, parting.trapped)
    return DRAWN.judge(
        left,
        limit,
        warn_limit=slight,
        subject=inputs.subject,
        ok=Say("The cores that you name make the sand that metal shuts in along {d}.", **parts)
        if covered
        else Say("Nothing hinders drawing along {d}.", d=inputs.along),
        bad=Say(
            f"It cannot be drawn along {{d}}: metal shuts in {{v}} of sand{told}.{turn} Otherwise make that "
            "place with a core, or split the pattern and mould it in three parts.",
            **parts,
        ),
        doubtful=Say(
            "Your cores are smaller than the sand that metal shuts in along {d}: {v} is left. See that each "
            "such place has its core.",
            **parts,
        )
        if covered
        else Say(
            f"A little sand, {{v}}, is shut in along {{d}}{told}.{turn} Fill the place in and drill or cut "
            "it later, use a loose piece, or a small core.",
            **parts,
        ),
    )


def check_flat(inputs: DrawInputs) -> Check:
    """Judge the sand that hangs or stands beyond a flat parting."""
    parting = inputs.parting
    loose = loose_sand(parting)
    outer = [region for region in parting.regions if region.sort != "trapped"]
    parts: dict[str, tuple[float, str] | str] = {"v": (loose, "volume"), "p": (parting.height, "length")}
    if outer:
        parts |= {
            "low": (min(r.low for r in outer), "length"),
            "high": (max(r.high for r in outer), "length"),
        }
    return FLAT.judge(
        loose,
        parting.noise,
        subject=inputs.subject,
        ok=Say("A flat parting {p} above the lowest point does.", **parts),
        bad=Say(
            "A flat parting is not enough: {v} of sand lies on the wrong side of it. Let the parting follow "
            "the part between {low} and {high} above its lowest point, bed the pattern in a follow board, "
            "or core the pockets that are deeper than wide.",
            **parts,
        ),
    )


def check_draft(tallest: float, degrees: float, lean: float, subject: str) -> Check:
    """Judge the tallest face (m) with less draft than wanted; ``lean`` is the taper (m) it wants."""
    parts: dict[str, tuple[float, str] | str] = {
        "h": (tallest, "length"),
        "t": (lean, "length"),
        "deg": (degrees, "ratio"),
    }
    return DRAFT.judge(
        tallest,
        SHALLOW,
        subject=subject,
        ok=Say("No face taller than {h} stands along the draw without draft.", **parts)
        if tallest
        else Say("Every face leans enough to be drawn."),
        bad=Say(
            "Faces up to {h} tall have less than {deg}° of draft and tear the sand as the pattern is drawn: "
            "let such a face of the pattern lean by {t} over its height.",
            **parts,
        ),
    )
