"""At what temperature the trade pours a group of metals, with its sources."""

from collections.abc import Mapping
from dataclasses import dataclass

from .reading import Cell, Lazy, Row, read_table


@dataclass(frozen=True, slots=True)
class PouringPractice:
    """One report. ``cells`` holds what it gives: heavy_low, heavy_high, light_low, light_high (K) for
    heavy and light castings, superheat_low and superheat_high (K above the liquidus)."""

    id: str
    family: str
    group: str
    cells: Mapping[str, Cell]


_ROWS: Lazy[Row] = Lazy(lambda: {row.key: row for row in read_table("pouring_practice")})


def pouring_practice(family: str | None, group: str | None = None) -> list[PouringPractice]:
    """What is reported for a family of metals, with the rows of its group first."""
    found = [row for row in _ROWS.values() if row.words["family"] == family]
    found = [row for row in found if row.words["group"] in ("any", group)]
    found.sort(key=lambda row: row.words["group"] == "any")
    return [_practice(row) for row in found]


def every_practice() -> list[PouringPractice]:
    """All reports, in the table's order."""
    return [_practice(row) for row in _ROWS.values()]


def _practice(row: Row) -> PouringPractice:
    return PouringPractice(row.key, row.words["family"], row.words["group"], row.cells)
