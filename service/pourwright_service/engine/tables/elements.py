"""The elements: melting, boiling, densities, heats, each number with its source."""

from collections.abc import Mapping
from dataclasses import dataclass

from .reading import Cell, Lazy, read_table

PROPERTIES = (
    "atomic_weight",
    "melting",
    "boiling",
    "heat_of_fusion",
    "density",
    "density_liquid",
    "liquid_contraction",
    "specific_heat",
    "specific_heat_liquid",
    "conductivity",
    "contraction",
    "oxide_factor",
)
"""The columns of numbers, all SI once loaded."""


@dataclass(frozen=True, slots=True)
class Element:
    """One element; ``cells`` holds the numbers that were found, by column, SI.

    Columns: atomic_weight (bare), melting, boiling (K), heat_of_fusion (J/kg), density,
    density_liquid (kg/m3), specific_heat, specific_heat_liquid (J/kg K), conductivity (W/m K),
    contraction (linear fraction), oxide_factor (kg of oxide per kg of element).
    """

    symbol: str
    name: str
    oxide: str
    cells: Mapping[str, Cell]

    def value(self, name: str) -> float | None:
        """The SI value of a column, or None where no figure was found."""
        cell = self.cells.get(name)
        return None if cell is None else cell.value


def _load() -> dict[str, Element]:
    return {
        row.key: Element(row.key, row.words["name"], row.words.get("oxide", ""), row.cells)
        for row in read_table("elements")
    }


ELEMENTS: Mapping[str, Element] = Lazy(_load)
"""Every element of the table by symbol."""
