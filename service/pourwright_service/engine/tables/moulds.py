"""What moulds are made of: conductivity, density, specific heat, each number with its source."""

from collections.abc import Mapping
from dataclasses import dataclass

from .alloys import plain
from .reading import Cell, Lazy, read_table

PROPERTIES = ("conductivity", "density", "specific_heat", "start_temperature")
"""The columns of numbers, all SI once loaded."""


@dataclass(frozen=True, slots=True)
class Mould:
    """One moulding medium.

    ``insulating`` is false for a metal chill: there the contact decides how fast heat leaves, and
    formulas that hold the mould's face at the freezing temperature do not apply.
    """

    id: str
    name: str
    insulating: bool
    names: tuple[str, ...]
    cells: Mapping[str, Cell]

    def value(self, name: str) -> float | None:
        """The SI value of a column, or None where no figure was found."""
        cell = self.cells.get(name)
        return None if cell is None else cell.value


def _load() -> dict[str, Mould]:
    return {
        row.key: Mould(
            id=row.key,
            name=row.words["name"],
            insulating=row.words["insulating"] == "yes",
            names=tuple(name.strip() for name in row.words["names"].split(";")),
            cells=row.cells,
        )
        for row in read_table("moulds")
    }


MOULDS: Mapping[str, Mould] = Lazy(_load)
"""Every medium of the table by id."""


def _load_names() -> dict[str, Mould]:
    found: dict[str, Mould] = {}
    for mould in MOULDS.values():
        for name in {plain(mould.id), plain(mould.name), *map(plain, mould.names)}:
            if name in found:
                raise ValueError(f"the mould name {name} is used twice")
            found[name] = mould
    return found


_BY_NAME: Mapping[str, Mould] = Lazy(_load_names)


def find_mould(text: str) -> Mould | None:
    """The medium of that id or name, whatever its case, spaces and hyphens; None if unknown."""
    return _BY_NAME.get(plain(text))


def mould_names() -> list[str]:
    """Every id and other name that find_mould accepts, for telling a caller."""
    names: list[str] = []
    for mould in MOULDS.values():
        names += [mould.id, *mould.names]
    return names


@dataclass(frozen=True, slots=True)
class Wall:
    """The thinnest walls that fill, in m: the ``least`` that is reported, and the upper end of the
    ``usual`` least where there is one."""

    medium: str
    family: str
    least: Cell
    usual: Cell | None


def _load_walls() -> dict[str, Wall]:
    return {
        row.key: Wall(row.words["medium"], row.words["family"], row.cells["least"], row.cells.get("usual"))
        for row in read_table("least_walls")
    }


WALLS: Mapping[str, Wall] = Lazy(_load_walls)
"""Every reported wall by ``medium/family``; the medium ``any sand`` stands for all sands."""


def least_wall(medium: str | None, family: str | None) -> Wall | None:
    """The thinnest wall reported for a family of metals in that medium, or else in any sand; None
    where nothing was reported or the medium is no sand."""
    if medium is not None and not medium.endswith("sand"):
        return None
    return WALLS.get(f"{medium}/{family}") or WALLS.get(f"any sand/{family}")
