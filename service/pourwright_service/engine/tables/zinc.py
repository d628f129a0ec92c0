"""How hard zinc presses out of liquid brass: vapour pressure by composition and temperature."""

from collections.abc import Mapping
from dataclasses import dataclass

from .reading import Cell, Lazy, read_table, to_si


@dataclass(frozen=True, slots=True)
class ZincPoint:
    """Pressure of zinc (Pa) over liquid copper with ``zinc`` per cent of mass at ``temperature`` (K)."""

    zinc: float
    temperature: float
    pressure: Cell


def _load() -> dict[str, ZincPoint]:
    return {
        row.key: ZincPoint(
            float(row.words["zinc"]), to_si(float(row.words["temperature"]), "degC"), row.cells["pressure"]
        )
        for row in read_table("zinc_pressures")
    }


ZINC_PRESSURES: Mapping[str, ZincPoint] = Lazy(_load)
"""Every point by ``zinc/temperature`` as printed; 100 per cent is pure zinc."""


def zinc_points(zinc: float) -> list[ZincPoint]:
    """The points of one composition, by rising temperature; empty where it was not computed."""
    found = [point for point in ZINC_PRESSURES.values() if point.zinc == zinc]
    return sorted(found, key=lambda point: point.temperature)
