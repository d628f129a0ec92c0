"""Checks of a riser: does it freeze last, can it give enough, does it stand right, is its neck open."""

from ..checks import Check, check_kind
from ..formula import paused
from ..formulas import riser
from ..ledger import Say

FREEZES_LAST = check_kind(
    "riser-freezes-last",
    "The riser stays liquid longer than the casting",
    kind="time",
    sense="at least",
    source="RISER-TIME",
    margin=True,
)
MODULUS = check_kind(
    "riser-modulus",
    "The riser's modulus exceeds the casting's",
    kind="length",
    sense="at least",
    source="RISER-STEPS",
    margin=True,
)
VOLUME = check_kind(
    "riser-volume",
    "The riser can give the metal that casting and riser lack when they are solid",
    kind="volume",
    sense="at least",
    source="DERIVED",
    margin=True,
)
FOOT = check_kind(
    "riser-foot",
    "The riser fits on the face it stands on",
    kind="length",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
NECK_ORDER = check_kind(
    "neck-freezes-between",
    "The neck stays open until the casting is solid",
    kind="ratio",
    sense="at least",
    source="RISER-NECK",
    margin=True,
)
NECK_IN_RISER = check_kind(
    "neck-before-riser",
    "The neck freezes before the riser, so that the last void is in the riser",
    kind="length",
    sense="at most",
    source="RISER-NECK",
    else_="warn",
)
REACH = check_kind(
    "riser-reaches",
    "Joins lead from the riser to every section",
    kind="count",
    sense="at least",
    source="COMMON-PRACTICE",
    else_="warn",
)


FACE_FREE = check_kind(
    "riser-face-free",
    "The riser keeps off the faces that must stay free",
    kind="count",
    sense="at least",
    source="COMMON-PRACTICE",
)
ZONE = check_kind(
    "riser-zone",
    "One riser reaches the other heavy section through the thinner metal between",
    kind="length",
    sense="at most",
    source="FEEDING-DISTANCE",
    else_="warn",
    margin=True,
)


def check_time(time: float, casting_time: float, ratio: float, last: str) -> Check:
    """Freezing time of the riser (s) against that of the casting times the ratio asked."""
    needed = ratio * casting_time
    parts: dict[str, tuple[float, str] | str] = {
        "r": (time, "time"),
        "c": (casting_time, "time"),
        "n": (needed, "time"),
        "last": last,
    }
    return FREEZES_LAST.judge(
        time,
        needed,
        subject="/riser",
        ok=Say("The riser freezes last: {r} against {c} for {last}.", **parts),
        bad=Say(
            "The riser freezes too soon to feed the casting: {r} against {c} for {last}; "
            "it should last {n}. Make it larger, or give it a sleeve.",
            **parts,
        ),
    )


def check_modulus(modulus: float, casting_modulus: float, ratio: float) -> Check:
    """Modulus of the riser (m) against that of the casting times the ratio asked."""
    needed = ratio * casting_modulus
    parts: dict[str, tuple[float, str] | str] = {
        "r": (modulus, "length"),
        "c": (casting_modulus, "length"),
        "n": (needed, "length"),
    }
    return MODULUS.judge(
        modulus,
        needed,
        subject="/riser",
        ok=Say("The riser is chunky enough: modulus {r} against {c} for the casting.", **parts),
        bad=Say(
            "The riser is too slim: modulus {r}, needed {n} (the casting's heaviest part has {c}).", **parts
        ),
    )


def check_volume(given: float, needed: float, shrinkage: float, efficiency: float) -> Check:
    """Metal that the riser can give against what casting and riser together lack (m^3).

    It holds for any shrinkage: where the shrinkage reaches the efficiency no size of riser passes.
    """
    parts: dict[str, tuple[float, str] | str] = {
        "g": (given, "volume"),
        "n": (needed, "volume"),
        "b": (shrinkage, "fraction"),
        "e": (efficiency, "fraction"),
    }
    return VOLUME.judge(
        given,
        needed,
        subject="/riser",
        ok=Say("The riser holds enough metal: it can give {g}, and {n} is needed.", **parts),
        bad=Say(
            "The riser runs dry before the casting is solid: it can give {g} ({e} of itself), and "
            "{b} of shrinkage in casting and riser takes {n}. Make it larger, domed, or give it a sleeve.",
            **parts,
        ),
    )


def check_foot(foot: float, width: float, stands_on: str, over_hole: bool = False) -> Check:
    """Diameter of the foot against the width of the face it stands on (m).

    Of a ring that is its wall: a riser ``over_hole`` stands on the core or sand in it.
    """
    parts: dict[str, tuple[float, str] | str] = {
        "d": (foot, "length"),
        "w": (width, "length"),
        "s": stands_on,
    }
    return FOOT.judge(
        foot,
        width,
        subject="/riser",
        ok=Say("The riser fits on {s}.", **parts),
        bad=Say(
            "The riser ({d} across) covers the hole of {s}, whose wall is {w} thick: it stands on the core "
            "or sand there, which must be held down and vented another way, and the hole must be cut out of "
            "it afterwards. Use a neck or a side riser if that does not suit.",
            **parts,
        )
        if over_hole
        else Say(
            "The riser is wider than the face of {s} it stands on ({d} on {w}): the rest of its foot rests "
            "on sand. Use a neck, a side riser or a taller, slimmer one.",
            **parts,
        ),
    )


def check_face(
    section: str,
    face: str | None,
    free: tuple[str, ...],
    kept_off: tuple[str, ...],
    *,
    found: bool = True,
) -> Check:
    """Whether the riser keeps off the faces that must stay free.

    ``face`` is the one it stands on, None for a riser beside the casting, whose neck may come in
    at any that is ``free``. Not ``found``: there is no face for it, or the one wanted is kept off.
    """
    parts = {
        "s": section,
        "f": face or "",
        "free": ", ".join(free),
        "kept": ", ".join(kept_off),
    }
    if face is None:
        ok = Say("Bring the neck in at one of these faces of {s}: {free}. These stay free: {kept}.", **parts)
    else:
        ok = Say("The riser stands on the {f} of {s}; these faces stay free: {kept}.", **parts)
    if not free:
        words = "No riser can stand on {s} or beside it: every face of it is to stay free ({kept})."
    elif face is not None:
        words = "No riser can stand on the {f} of {s}, which is to stay free. Faces that are left: {free}."
    else:
        words = (
            "No riser can stand on {s}: every flat face of it is to stay free ({kept}). What is left "
            "({free}) may take the neck of a riser beside it (riser.position side)."
        )
    value = 1.0 if found else 0.0
    return FACE_FREE.judge(value, 1.0, subject="/riser/face", ok=ok, bad=Say(words, **parts))


def check_zone(distance: float, thickness: float, one: str, other: str, through: str) -> Check:
    """Length of thinner metal between two heavy sections against two of its thicknesses (m)."""
    parts: dict[str, tuple[float, str] | str] = {
        "d": (distance, "length"),
        "n": (riser.riser_zone(thickness), "length"),
        "t": (thickness, "length"),
        "a": one,
        "b": other,
        "w": through,
    }
    return ZONE.judge(
        distance,
        riser.riser_zone(thickness),
        subject=one,
        ok=Say(
            "One riser feeds {a} and {b}: {d} of {w} lie between them, and a riser feeds on through two "
            "thicknesses, {n} (measured on steel plates; a guide for other metals that freeze short).",
            **parts,
        ),
        bad=Say(
            "One riser does not feed both {a} and {b}: {d} of {w} lie between them, and it reaches through "
            "two thicknesses, {n} (measured on steel plates). Give {a} a riser of its own.",
            **parts,
        ),
    )


def check_neck(neck: float, casting_modulus: float, needed: float) -> Check:
    """Modulus of a round or square neck over that of the casting against the least ratio."""
    with paused():
        least = riser.neck_thickness(needed, casting_modulus)
    ratio = neck / least * needed
    parts: dict[str, tuple[float, str] | str] = {
        "t": (neck, "length"),
        "n": (least, "length"),
    }
    return NECK_ORDER.judge(
        ratio,
        needed,
        subject="/riser/neck",
        ok=Say("The neck stays open until the casting is solid ({t} thick).", **parts),
        bad=Say("The neck freezes shut before the casting is solid: {t} thick, needed {n}.", **parts),
    )


def check_neck_in_riser(neck: float, riser_modulus: float) -> Check:
    """Modulus of a long neck, a quarter of its thickness, against that of the riser (m)."""
    parts: dict[str, tuple[float, str] | str] = {
        "t": (neck, "length"),
        "m": (4.0 * riser_modulus, "length"),
    }
    return NECK_IN_RISER.judge(
        neck / 4.0,
        riser_modulus,
        subject="/riser/neck",
        ok=Say("The neck freezes before the riser ({t} thick).", **parts),
        bad=Say(
            "The neck ({t} thick) freezes after the riser: the last void is then in the neck, next to the "
            "casting. Keep it under {m}, make it shorter than half its thickness, or enlarge the riser.",
            **parts,
        ),
    )


def check_reach(unreached: tuple[str, ...], sections: int) -> Check:
    """How many of the sections joins lead to from the riser."""
    return REACH.judge(
        float(sections - len(unreached)),
        float(sections),
        subject="/riser",
        ok=Say("Every section is joined, directly or through others, to the one that the riser feeds."),
        bad=Say(
            "No join leads from the riser to {names}: whether metal gets there is not judged. Tell the "
            "joins, or feed it by a riser of its own.",
            names=", ".join(unreached) or "-",
        ),
    )
