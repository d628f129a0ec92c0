"""What the pattern is made larger by, and how its faces lean: contraction and draft."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from .families import ANY
from .reading import Cell, Lazy, read_table, to_si


@dataclass(frozen=True, slots=True)
class Contraction:
    """What one source reports for one metal: linear contraction as a fraction, low and high end.

    ``casting`` is any, small or large: no source tells free from hindered contraction.
    """

    metal: str
    report: str
    family: str
    group: str
    casting: str
    low: Cell
    high: Cell


@dataclass(frozen=True, slots=True)
class Draft:
    """How far the faces of one kind lean: an angle (rad), or a taper as widening over depth."""

    id: str
    low: Cell | None
    high: Cell | None
    taper_low: Cell | None
    taper_high: Cell | None


@dataclass(frozen=True, slots=True)
class DraftDepth:
    """How far (m) a face leans out over a whole depth of draw (m)."""

    draw: float
    draft: Cell


def _load() -> dict[str, Contraction]:
    return {
        row.key: Contraction(
            metal=row.words["metal"],
            report=row.words["report"],
            family=row.words["family"],
            group=row.words["group"],
            casting=row.words["casting"],
            low=row.cells["low"],
            high=row.cells["high"],
        )
        for row in read_table("contractions")
    }


_ROWS: Lazy[Contraction] = Lazy(_load)


def every_contraction() -> list[Contraction]:
    """All reports, metal by metal."""
    return list(_ROWS.values())


def contractions(family: str, group: str | None = None) -> list[Contraction]:
    """What is reported for a group of metals, else for its family as a whole; may be empty."""
    for wanted in (group, ANY):
        found = [row for row in _ROWS.values() if (row.family, row.group) == (family, wanted)]
        if found:
            return found
    return []


def contraction_range(family: str, group: str | None = None) -> tuple[float, float] | None:
    """Least and most linear contraction that is reported, as fractions; None where nothing is."""
    found = contractions(family, group)
    if not found:
        return None
    return min(row.low.value for row in found), max(row.high.value for row in found)


def drafts() -> Iterator[Draft]:
    """Draft by kind of face and of work."""
    for row in read_table("draft_angles"):
        yield Draft(row.key, *(row.cells.get(name) for name in ("low", "high", "taper_low", "taper_high")))


@cache
def outside_draft() -> tuple[Cell, Cell]:
    """Least and most lean of outside faces, rad."""
    found = next(draft for draft in drafts() if draft.id == "outside")
    if found.low is None or found.high is None:
        raise LookupError("the table has no angle for outside faces")
    return found.low, found.high


def draft_depths() -> Iterator[DraftDepth]:
    """Draft by depth of draw, shallow first."""
    for row in read_table("draft_depths"):
        yield DraftDepth(to_si(float(row.words["draw"]), "in"), row.cells["draft"])
