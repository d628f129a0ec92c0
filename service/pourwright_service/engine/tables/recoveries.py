"""How much of an element is still in the bath after melting: ranges by base metal and form."""

from collections.abc import Mapping
from dataclasses import dataclass

from .reading import Cell, Lazy, read_table


@dataclass(frozen=True, slots=True)
class Recovery:
    """The range of one element's recovery, as fractions."""

    low: Cell
    high: Cell


def _load() -> dict[str, Recovery]:
    return {row.key: Recovery(row.cells["low"], row.cells["high"]) for row in read_table("recoveries")}


RECOVERIES: Mapping[str, Recovery] = Lazy(_load)
"""Every range by ``base/element/form``."""


def recovery(base: str | None, element: str, form: str | None = None) -> Recovery:
    """The range for an element in a bath of the base metal (copper, aluminium, zinc, iron).

    A form of scrap that has a range of its own (silicon ``lumps`` in copper) comes first, then the
    element's, then the range of everything not named; that one also serves an unknown base.
    """
    wanted = "iron" if base == "steel" else base
    for key in (f"{wanted}/{element}/{form}", f"{wanted}/{element}/any"):
        if key in RECOVERIES:
            return RECOVERIES[key]
    return RECOVERIES["any/rest/any"]
