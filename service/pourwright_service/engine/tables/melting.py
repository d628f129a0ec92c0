"""What melting needs of fuels, scrap, solid metal and crucibles."""

from collections.abc import Mapping
from dataclasses import dataclass

from .reading import Cell, Lazy, Row, read_table

FUELS: Lazy[Mapping[str, Cell]] = Lazy(lambda: {row.key: row.cells for row in read_table("fuels")})
"""Fuels by name: heating_value and net_heating_value (J/kg), density (kg/m^3), efficiency_low, efficiency,
efficiency_high and available_heat (shares of the gross heat)."""


@dataclass(frozen=True, slots=True)
class ScrapForm:
    """A form of scrap: what else it is called, and its bulk density as a share of the solid's."""

    id: str
    names: tuple[str, ...]
    bulk_share: Cell


@dataclass(frozen=True, slots=True)
class CrucibleMaterial:
    """What crucibles are made of: the temperature (K) that it usually stands, and whether it may stand in
    an induction furnace (``yes``, ``no`` or ``with the maker's word``)."""

    id: str
    names: tuple[str, ...]
    rated_to: Cell
    induction: str


def _names(row: Row) -> tuple[str, ...]:
    return tuple(name.strip() for name in row.words["names"].split(";"))


SCRAP_FORMS: Lazy[ScrapForm] = Lazy(
    lambda: {
        row.key: ScrapForm(row.key, _names(row), row.cells["bulk_share"]) for row in read_table("scrap_forms")
    }
)
"""Forms of scrap by id."""

CRUCIBLE_MATERIALS: Lazy[CrucibleMaterial] = Lazy(
    lambda: {
        row.key: CrucibleMaterial(row.key, _names(row), row.cells["rated_to"], row.words["induction"])
        for row in read_table("crucible_materials")
    }
)
"""Materials of crucibles by id."""

_RISES: Lazy[Cell] = Lazy(lambda: {row.key: row.cells["rise"] for row in read_table("solid_heats")})


def solid_heat_rise(family: str | None) -> Cell | None:
    """Mean specific heat of the hot solid over that at 20 degC; None for a family without a figure."""
    return _RISES.get(family or "")
