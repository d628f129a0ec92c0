"""What pouring needs of liquid metals: how they radiate, how thickly they run, how long to pour."""

from collections.abc import Mapping

from .reading import Cell, Lazy, read_table

ANY = "any"


def _load() -> dict[str, Mapping[str, Cell]]:
    return {row.key: row.cells for row in read_table("liquids")}


_ROWS: Mapping[str, Mapping[str, Cell]] = Lazy(_load)


def liquid_figure(column: str, family: str | None, group: str | None = None) -> Cell | None:
    """The figure of a group (``brass``) or else of its family (``copper``); None where there is none.

    Columns: emissivity_low, emissivity_high, viscosity (Pa s) and copper_factor (s per cube root
    of a kg).
    """
    for key in (f"{family}/{group}", f"{family}/{ANY}"):
        cell = _ROWS[key].get(column) if key in _ROWS else None
        if cell is not None:
            return cell
    return None
