"""At which temperature two-element alloys start to freeze, by how much of the second element they hold."""

from collections.abc import Mapping
from dataclasses import dataclass

from .reading import Cell, Lazy, read_table


@dataclass(frozen=True, slots=True)
class Rung:
    """One alloy of a ladder: per cent of mass of the second element, and its liquidus (K)."""

    percent: float
    liquidus: Cell


def _load() -> dict[str, tuple[Rung, ...]]:
    found: dict[str, list[Rung]] = {}
    for row in read_table("liquidus_ladders"):
        name = f"{row.words['base']}-{row.words['element']}"
        found.setdefault(name, []).append(Rung(float(row.words["percent"]), row.cells["liquidus"]))
    return {name: tuple(sorted(rungs, key=lambda rung: rung.percent)) for name, rungs in found.items()}


LADDERS: Mapping[str, tuple[Rung, ...]] = Lazy(_load)
"""Every ladder by ``base-element``, the pure metal first."""
