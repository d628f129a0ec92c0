"""What is said about feeding: how this metal freezes, what follows for its risers, what else would do."""

from collections.abc import Mapping
from typing import Literal

from ..checks import Check
from ..ledger import Say
from .metal import Metal

Manner = Literal["skin", "part slush", "slush", "graphite", "iron", "unknown"]
"""How a metal freezes, as far as feeding goes."""


def manner_of(metal: Metal) -> Manner:
    """How this metal freezes: by its expansion, its family, and how wide its freezing range is."""
    b = metal.get("solidification_shrinkage")
    if b is not None and b <= 0.0:
        return "graphite"
    if metal.family == "iron":
        return "iron"
    known: dict[str | None, Manner] = {"short": "skin", "middle": "part slush", "long": "slush"}
    return known.get(metal.freezing_class, "unknown")


def reason(manner: Manner, metal: Metal) -> Say:
    """How the metal freezes and what that asks of its risers, in a sentence or two."""
    name = metal.name[:1].upper() + metal.name[1:]
    b = (metal.get("solidification_shrinkage") or 0.0, "fraction")
    if manner == "skin":
        return Say(
            "{name} freezes short: a solid skin grows inwards and metal flows on behind it, so a riser also "
            "feeds a little way through thinner metal.",
            name=name,
        )
    if manner == "part slush":
        return Say(
            "{name} freezes over a middling range, partly as slush: metal does not flow far through a part "
            "that is half frozen, so each heavy section needs a riser of its own.",
            name=name,
        )
    if manner == "slush":
        return Say(
            "{name} freezes long, as slush all through: metal hardly flows through a thin part once it "
            "thickens, and away from a riser fine pores stay. Each heavy section needs a riser, or a chill "
            "that makes it freeze before its neighbours.",
            name=name,
        )
    if manner == "graphite":
        return Say(
            "By the figure given this metal does not shrink as it freezes ({b}): in a firm mould its own "
            "expansion (that of graphite, in grey iron) fills heavy sections from inside, and a riser only "
            "makes up for what the liquid loses while it cools.",
            b=b,
        )
    if manner == "iron":
        return Say(
            "Iron is fed here as if it shrank by {b}, each heavy section by a riser of its own. Its graphite "
            "expands as it freezes, and in a firm mould that may be enough for heavy sections to feed "
            "themselves: if your iron does so, give its figure below zero "
            "(properties.solidification_shrinkage).",
            b=b,
        )
    return Say(
        "Whether this metal freezes short or long is not known: each heavy section is given its own riser."
    )


def distance_words(manner: Manner, isolated: tuple[str, ...], told: bool) -> Say:
    """Whether it was judged how far the riser feeds, and why not."""
    if manner == "skin":
        if isolated and not told:
            return Say(
                "Whether one riser could also feed {names} is not judged, because nobody has said how far "
                "apart they are: tell the length of thinner metal between them (distances).",
                names=", ".join(isolated),
            )
        if told:
            return Say(
                "Only between the sections whose distance is told: two thicknesses of the thinner metal, as "
                "measured on steel plates. How far a riser feeds along a section itself is not judged."
            )
        return Say(
            "How far the riser feeds along a section is not judged: sections have no positions. As a guide, "
            "two thicknesses of a plate from the riser's edge (measured on steel)."
        )
    if manner == "graphite":
        return Say("No feeding distance is needed where the metal does not shrink as it freezes.")
    return Say(
        "No feeding distance is claimed: none is published for metals that do not freeze short. Look for "
        "pores halfway between risers in the first casting, or chill the middle."
        if isolated
        else "No feeding distance is claimed: none is published for metals that do not freeze short. In a "
        "long section look for pores far from the riser in the first casting, or chill the far end."
    )


def why_own(heavy: str, between: str, main: str, zone: Check | None) -> Say:
    """Why a heavy section gets its own riser."""
    names = {"a": heavy, "w": between, "m": main}
    if zone is not None:
        return zone.bad
    if between == main:
        return Say("{a} freezes after {w}, so metal cannot reach it from there.", **names)
    return Say("{a} freezes after {w}, which cuts it off from the riser at {m}.", **names)


def why_shared(place: str, through: Mapping[str, str], between: Mapping[str, str]) -> Say | None:
    """Why one riser feeds another heavy section too; None where it does not."""
    names = [name for name, by in through.items() if by == place]
    if not names:
        return None
    return Say(
        "It feeds {names} too, through {ways}: stand it over the edge towards there.",
        names=", ".join(names),
        ways=", ".join(dict.fromkeys(between[name] for name in names)),
    )


def advice(
    manner: Manner,
    main: str,
    own: tuple[str, ...],
    unfed: tuple[str, ...],
    alone: tuple[str, ...],
    between: Mapping[str, str],
) -> tuple[Say, ...]:
    """What would do instead of, or beside, the risers; one sentence for each heavy section."""
    said = []
    for name in (*own, *unfed):
        names = {"a": name, "w": between[name], "m": main}
        taper = (
            "Or thicken {w} towards {m}, so that it freezes after {a}."
            if between[name] != main
            else "Or thicken {w}, so that it freezes after {a}."
        )
        if manner == "skin":
            words = (
                "Instead of a riser on {a}: one for both, if at most two thicknesses of {w} lay between. "
                + taper
            )
        else:
            words = (
                "Instead of a riser on {a}: set a chill against it, large enough that it freezes before {w} "
                "(not computed here). " + taper
            )
        said.append(Say(words, **names))
    if manner == "graphite":
        said.append(
            Say(
                "Where the riser has only to make up for the cooling of the liquid, let the volume alone "
                "size it (riser.criteria: volume)."
            )
        )
    for name in alone:
        said.append(
            Say(
                "{a} has no riser: it feeds itself only in a mould whose walls do not give way (hard rammed, "
                "dried or chemically bonded, well weighted). In a soft mould give it one.",
                a=name,
            )
        )
    return tuple(said)
