"""Reading a table: one CSV of printed numbers, one JSON beside it that says where each came from.

Numbers stand in the CSV as their source prints them, in the unit the JSON names for the column or,
where it differs, for the cell; they become SI on loading by the short list :data:`UNITS`. A blank
cell means that no figure was found. Nothing is read before it is asked for.

The JSON holds ``key`` (the columns that name a row), ``columns`` (kind and unit of each, a source
where one holds for the whole column), ``rows`` (a source for a whole row) and ``cells`` (source,
place, unit, spread, conflicts and the reason of the choice for one cell); the narrower entry wins.
It also holds who transcribed and who checked the table, its errata, and the CSV's SHA-256.
"""

import csv
import hashlib
import io
import json
import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Generic, TypeVar

from .sources import SOURCES

T = TypeVar("T")

HERE = Path(__file__).parent

UNITS: dict[str, tuple[str, float, float]] = {
    "degC": ("temperature", 1.0, 273.15),
    "degF": ("temperature", 5 / 9, 459.67 * 5 / 9),
    "K": ("temperature", 1.0, 0.0),
    "delta degC": ("temperature_difference", 1.0, 0.0),
    "mm": ("length", 0.001, 0.0),
    "in": ("length", 0.0254, 0.0),
    "deg": ("angle", math.pi / 180.0, 0.0),
    "g/cm3": ("density", 1000.0, 0.0),
    "kg/m3": ("density", 1.0, 0.0),
    "kg": ("mass", 1.0, 0.0),
    "lb/in3": ("density", 0.45359237 / 0.0254**3, 0.0),
    "J/(kg K)": ("specific_heat", 1.0, 0.0),
    "Btu/(lb degF)": ("specific_heat", 4186.8, 0.0),
    "cal/(g degC)": ("specific_heat", 4184.0, 0.0),
    "kJ/kg": ("latent_heat", 1000.0, 0.0),
    "MJ/kg": ("heating_value", 1e6, 0.0),
    "W/(m K)": ("conductivity", 1.0, 0.0),
    "Btu/(ft h degF)": ("conductivity", 1.730734666, 0.0),
    "atm": ("pressure", 101325.0, 0.0),
    "N/m": ("surface_tension", 1.0, 0.0),
    "m/s": ("velocity", 1.0, 0.0),
    "mPa s": ("viscosity", 0.001, 0.0),
    "%": ("fraction", 0.01, 0.0),
    "in/ft": ("fraction", 1 / 12, 0.0),
    "in/in": ("fraction", 1.0, 0.0),
    "mm/m": ("fraction", 0.001, 0.0),
    "ppm": ("fraction", 1e-6, 0.0),
    "mg/m3": ("concentration", 1e-6, 0.0),
    "ug/m3": ("concentration", 1e-9, 0.0),
    "%/100 K": ("expansion_per_kelvin", 1e-4, 0.0),
    "wt %": ("percent", 1.0, 0.0),
    "1": ("ratio", 1.0, 0.0),
}
"""Unit as a source prints it -> (kind, factor, offset); SI = printed x factor + offset."""


class TableError(ValueError):
    """A table and its provenance do not agree; says which table, row and column."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """A figure of another source for the same cell that was not chosen; ``value`` is SI."""

    value: float
    printed: float
    unit: str
    source: str
    place: str


@dataclass(frozen=True, slots=True)
class Cell:
    """One number of a table: ``value`` in SI, and what was printed where.

    ``spread`` is a half-width as a fraction of the value, where one is known. ``grade`` is the
    source's own, or the cell's where it is worth less (an analogue alloy's figure keeps its grade
    and says so in ``place``). ``choice`` gives the reason when ``conflicts`` is not empty, ``checked``
    what it was compared with.
    """

    value: float
    printed: float
    unit: str
    kind: str
    source: str
    place: str
    grade: str
    spread: float | None = None
    conflicts: tuple[Conflict, ...] = ()
    choice: str = ""
    checked: str = ""

    @property
    def provenance(self) -> str:
        """The word an answer's list of defaults uses for this cell."""
        return {
            "from memory": "from memory",
            "common practice": "common practice",
            "estimated by rule": "estimated",
            "computed": "computed",
            "derived": "computed",
            "standard": "standard",
        }.get(self.grade, "table")


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its words and its numbers by column name; blank cells are left out."""

    key: str
    words: Mapping[str, str]
    cells: Mapping[str, Cell]


class Lazy(Mapping[str, T], Generic[T]):
    """A mapping that is loaded when it is first looked into."""

    def __init__(self, load: Callable[[], dict[str, T]]) -> None:
        self._load = load
        self._rows: dict[str, T] | None = None

    @property
    def rows(self) -> dict[str, T]:
        """The loaded rows."""
        if self._rows is None:
            self._rows = self._load()
        return self._rows

    def __getitem__(self, key: str) -> T:
        return self.rows[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self.rows)

    def __len__(self) -> int:
        return len(self.rows)


def to_si(printed: float, unit: str) -> float:
    """A printed number in SI; KeyError for a unit that no table uses.

    Rounded to 15 digits, so that 95 % is 0.95 and not 0.9500000000000001.
    """
    _, factor, offset = UNITS[unit]
    return float(f"{printed * factor + offset:.15g}")


@cache
def provenance(name: str) -> dict[str, Any]:
    """The JSON beside the table ``name``."""
    known: dict[str, Any] = json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))
    return known


def read_table(name: str) -> list[Row]:
    """All rows of the table ``name`` in the order of its CSV.

    Raises TableError where the CSV has a column that the JSON does not describe, a number without
    a source, or the same key twice.
    """
    known = provenance(name)
    columns: dict[str, dict[str, Any]] = known["columns"]
    rows: list[Row] = []
    seen: set[str] = set()
    text = (HERE / f"{name}.csv").read_text(encoding="utf-8")
    for record in csv.DictReader(io.StringIO(text)):
        key = "/".join(record[part] for part in known["key"])
        if key in seen:
            raise TableError(f"{name}.csv: {key} occurs twice")
        seen.add(key)
        words: dict[str, str] = {}
        cells: dict[str, Cell] = {}
        for column, content in record.items():
            if column not in columns:
                raise TableError(f"{name}.csv: column {column} is not described in {name}.json")
            if not content:
                continue
            if columns[column]["kind"] == "text":
                words[column] = content
            else:
                cells[column] = _cell(name, known, key, column, content)
        rows.append(Row(key, words, cells))
    return rows


def _cell(name: str, known: Mapping[str, Any], key: str, column: str, content: str) -> Cell:
    group = key.split("/", 1)[0]
    told: dict[str, Any] = dict(known["columns"][column])
    for wider in (known.get("rows", {}).get(group), known.get("rows", {}).get(key)):
        told.update(wider or {})
    told.update(known.get("cells", {}).get(key, {}).get(column, {}))
    where = f"{name}.csv: {key}, {column}"
    source: str = told.get("source", "")
    if source not in SOURCES:
        raise TableError(f"{where}: source {source} is not known")
    unit: str = told["unit"]
    if UNITS[unit][0] != told["kind"]:
        raise TableError(f"{where}: {unit} is not a unit of {told['kind']}")
    conflicts = tuple(_conflict(where, unit, other) for other in told.get("conflicts", ()))
    if conflicts and not told.get("choice"):
        raise TableError(f"{where}: there are conflicts, but no reason for the choice")
    return Cell(
        value=to_si(float(content), unit),
        printed=float(content),
        unit=unit,
        kind=told["kind"],
        source=source,
        place=told.get("place", ""),
        grade=told.get("grade", SOURCES[source].grade),
        spread=told.get("spread"),
        conflicts=conflicts,
        choice=told.get("choice", ""),
        checked=told.get("checked", ""),
    )


def _conflict(where: str, unit: str, other: Mapping[str, Any]) -> Conflict:
    if other["source"] not in SOURCES:
        raise TableError(f"{where}: source {other['source']} of a conflict is not known")
    used = other.get("unit", unit)
    printed = float(other["value"])
    return Conflict(to_si(printed, used), printed, used, other["source"], other.get("place", ""))


def table_names() -> list[str]:
    """The names of all tables, sorted."""
    return sorted(path.stem for path in HERE.glob("*.csv"))


def sha256_of(name: str) -> str:
    """The SHA-256 of the table's CSV as it lies on disk."""
    return hashlib.sha256((HERE / f"{name}.csv").read_bytes()).hexdigest()


@cache
def tables_version() -> str:
    """A short hash over every table and its provenance: it changes when any figure does."""
    digest = hashlib.sha256()
    for name in table_names():
        digest.update((HERE / f"{name}.csv").read_bytes())
        digest.update((HERE / f"{name}.json").read_bytes())
    return digest.hexdigest()[:12]
