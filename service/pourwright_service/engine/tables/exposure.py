"""What may be in the air that people breathe at work: limits by substance, authority and averaging time.

A limit is not a line between safe and unsafe, and the local authority's own comes first.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from .reading import Cell, Lazy, read_table

AVERAGING: Mapping[str, float | None] = {"8 h": 28800.0, "15 min": 900.0, "ceiling": None}
"""Averaging time -> seconds; a ceiling is not to be passed at any moment."""

KINDS = ("limit", "action level", "immediate danger")
"""What a figure is: a limit; where an employer must begin to act; where escape itself is in doubt."""

EVERY_FORM = "fume and dust"


@dataclass(frozen=True, slots=True)
class Substance:
    """Something in the air: ``element`` is the metal it holds, empty where the limit is of none."""

    id: str
    formula: str
    element: str
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ExposureLimit:
    """One figure of one authority.

    ``form`` is fume, dust, fume and dust, or gas; ``fraction`` total, inhalable, respirable, or gas;
    ``averaging`` a key of :data:`AVERAGING`; ``kind`` one of :data:`KINDS`. ``concentration`` (kg/m3,
    as the element or substance named) or ``volume_share`` (volume of gas per volume of air at
    25 degC) is there, as the authority gives it. ``year`` may be empty.
    """

    id: str
    substance: str
    form: str
    fraction: str
    authority: str
    kind: str
    averaging: str
    year: str
    concentration: Cell | None
    volume_share: Cell | None

    @property
    def cell(self) -> Cell:
        """The figure, whichever of the two it is."""
        found = self.concentration or self.volume_share
        if found is None:
            raise ValueError(f"{self.id} has no figure")
        return found

    @property
    def averaging_time(self) -> float | None:
        """Seconds over which the exposure is averaged; None for a ceiling."""
        return AVERAGING[self.averaging]


def _load_substances() -> dict[str, Substance]:
    found = {}
    for row in read_table("exposure_substances"):
        names = tuple(name.strip() for name in row.words.get("names", "").split(";") if name.strip())
        found[row.key] = Substance(row.key, row.words["formula"], row.words.get("element", ""), names)
    return found


def _load_limits() -> dict[str, ExposureLimit]:
    found = {}
    for row in read_table("exposure_limits"):
        words = row.words
        found[row.key] = ExposureLimit(
            id=row.key,
            substance=words["substance"],
            form=words["form"],
            fraction=words["fraction"],
            authority=words["authority"],
            kind=words["kind"],
            averaging=words["averaging"],
            year=words.get("year", ""),
            concentration=row.cells.get("concentration"),
            volume_share=row.cells.get("volume_share"),
        )
    return found


SUBSTANCES: Mapping[str, Substance] = Lazy(_load_substances)
"""Every substance by id."""

LIMITS: Mapping[str, ExposureLimit] = Lazy(_load_limits)
"""Every limit by its key."""


def substance_names() -> list[str]:
    """Every name by which a substance can be found."""
    return [
        name
        for each in SUBSTANCES.values()
        for name in dict.fromkeys(
            (each.id, each.formula, *((each.element,) if each.element else ()), *each.names)
        )
    ]


def find_substance(text: str) -> Substance | None:
    """A substance by id, formula, symbol of its element or another name; None if there is none.

    Symbols and formulas are matched as they are written (Co is no CO), words in any case.
    """
    asked = text.strip()
    for each in SUBSTANCES.values():
        if asked in (each.formula, each.element) and asked:
            return each
    plain = asked.casefold()
    for each in SUBSTANCES.values():
        if plain in (each.id, *(name.casefold() for name in each.names)):
            return each
    return None


def limits_of(substance: str, averaging: str | None = None) -> list[ExposureLimit]:
    """All figures of a substance by id, of one averaging time where it is given; the lowest first."""
    found = [
        limit
        for limit in LIMITS.values()
        if limit.substance == substance and averaging in (None, limit.averaging)
    ]
    return sorted(found, key=lambda limit: limit.cell.value)


def limit_for(
    substance: str, averaging: str, *, form: str | None = None, authority: str | None = None
) -> ExposureLimit | None:
    """The lowest limit of a substance (an id) for one averaging time, None where there is none.

    With ``form`` (fume, dust) only limits of that form, and of both, count. Action levels and
    dangers at once are no limits. The lowest may be of the respirable fraction: compared with a total
    concentration it is on the safe side.
    """
    for limit in limits_of(substance, averaging):
        fits = form in (None, limit.form) or limit.form == EVERY_FORM
        if limit.kind == "limit" and fits and authority in (None, limit.authority):
            return limit
    return None
