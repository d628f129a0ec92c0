"""Figures that belong to a family of metals, for alloys that have none of their own."""

from collections.abc import Mapping

from .reading import Cell, Lazy, read_table

ANY = "any"


def _load() -> dict[str, Mapping[str, Cell]]:
    return {row.key: row.cells for row in read_table("families")}


_ROWS: Mapping[str, Mapping[str, Cell]] = Lazy(_load)


def family_figure(column: str, family: str, group: str | None = None) -> Cell | None:
    """The figure of a group (``silicon bronze``) or else of its family (``copper``).

    Columns: contraction (linear fraction), liquid_contraction (volume fraction per kelvin) and
    gate_velocity (m/s). None where the table has neither.
    """
    for key in (f"{family}/{group}", f"{family}/{ANY}"):
        cell = _ROWS[key].get(column) if key in _ROWS else None
        if cell is not None:
            return cell
    return None
