"""Checks of a plan's freeze map."""

from ..checks import Check, check_kind
from ..ledger import Say

RISER_LAST = check_kind(
    "riser-last-on-map",
    "On the freeze map the riser's last metal freezes after the casting's",
    kind="time",
    sense="at least",
    source="DERIVED",
    margin=True,
)
SECTIONS_AGREE = check_kind(
    "sections-match-map",
    "The mesh freezes no later than its sections say",
    kind="ratio",
    sense="at most",
    source="DERIVED",
    else_="warn",
)

HEAVIER = 1.25
"""So many times the sections' modulus the map may find."""


def check_riser_last(riser: float, casting: float) -> Check:
    """When the last metal of riser and casting is solid, s."""
    parts: dict[str, tuple[float, str] | str] = {"r": (riser, "time"), "c": (casting, "time")}
    return RISER_LAST.judge(
        riser,
        casting,
        subject="/riser",
        ok=Say("On the freeze map the riser freezes last: {r}, the casting {c}.", **parts),
        bad=Say(
            "On the freeze map the riser freezes before the casting: {r} against {c}, so the last void is "
            "in the casting. Make the riser larger.",
            **parts,
        ),
    )


def check_sections(mapped: float, told: float) -> Check:
    """The modulus (m) that the map finds against the heaviest section's."""
    parts: dict[str, tuple[float, str] | str] = {"m": (mapped, "length"), "s": (told, "length")}
    return SECTIONS_AGREE.judge(
        mapped / told,
        HEAVIER,
        subject="/part/sections",
        ok=Say("The sections' heaviest modulus is {s}; the freeze map finds {m}.", **parts),
        bad=Say(
            "The freeze map finds metal that freezes later than any section: a modulus of {m} where the "
            "sections have {s} at most. Describe the heavy place as a section too.",
            **parts,
        ),
    )
