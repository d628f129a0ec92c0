"""Two readings of one set of notes compared: the tables against what a second reader wrote down alone.

Every number of ``second_reading.json`` must stand in the tables, as the chosen figure or among the
conflicts kept beside it; the few that do not are explained here.
"""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from pourwright_service.engine.tables.alloys import ALLOYS, Alloy
from pourwright_service.engine.tables.reading import Cell, to_si

READ: dict[str, Any] = json.loads(Path(__file__).with_name("second_reading.json").read_text(encoding="utf-8"))
ROWS: dict[str, dict[str, Any]] = READ["rows"]

IDS = {
    "Pure copper (ETP)": ("C11000",),
    "Cast copper": ("C81100",),
    "Gilding metal 95/5": ("C21000",),
    "Commercial bronze 90/10": ("C22000",),
    "Red brass 85/15": ("C23000",),
    "Cartridge brass 70/30": ("C26000",),
    "Leaded yellow brass": ("C85400",),
    "Free-cutting brass (scrap)": ("C36000",),
    "Leaded red brass 85-5-5-5": ("C83600",),
    "Tin bronze (Navy G)": ("C90300",),
    "Tin bronze (gun metal)": ("C90500",),
    "Gear bronze": ("C90700",),
    "Silicon bronze (Everdur cast)": ("C87300",),
    "Silicon brass": ("C87500",),
    "Silicon bronze": ("C87600",),
    "High-silicon bronze A (wrought scrap)": ("C65500",),
    "Aluminium bronze 9A": ("C95200",),
    "Aluminium bronze 9C": ("C95400",),
    "Nickel-aluminium bronze 9D": ("C95500",),
    "Pure aluminium": ("pure aluminium",),
    "Al-7Si-0.3Mg / 356.0": ("356",),
    "Al-7Si-0.3Mg / A356.0": ("A356",),
    "Al-6Si-3.5Cu": ("319",),
    "Al-8.5Si-3.5Cu die-casting": ("380", "A380"),
    "Al-12Si die-casting": ("413", "A413"),
    "Al-5Si": ("443", "C443"),
    "Al-7Mg": ("535",),
    "6061 scrap": ("6061",),
    "Zinc-aluminium 12": ("ZA-12",),
    "Zinc-aluminium 27": ("ZA-27",),
    "Zamak 3": ("Zamak 3",),
    "Pewter (lead-free)": ("pewter",),
    "Lead": ("lead",),
    "Grey iron class 30": ("grey iron",),
    "Sterling silver": ("sterling silver",),
}
"""The rows of the notes, and the alloys of the tables that stand for them."""

POURING = ("pouring_low", "pouring_heavy_high", "pouring_light_low", "pouring_high")

FIELDS: dict[str, tuple[str, tuple[str, ...]]] = {
    "liquidus_C": ("degC", ("liquidus",)),
    "solidus_C": ("degC", ("solidus",)),
    "density_g_cm3": ("g/cm3", ("density",)),
    "liquid_density_g_cm3": ("g/cm3", ("density_liquid",)),
    "specific_heat_J_kgK": ("J/(kg K)", ("specific_heat",)),
    "latent_heat_J_g": ("kJ/kg", ("latent_heat",)),
    "conductivity_W_mK": ("W/(m K)", ("conductivity",)),
    "contraction_percent": ("%", ("contraction",)),
    "solidification_shrinkage_percent": ("%", ("solidification_shrinkage",)),
    "pouring_C": ("degC", POURING),
}
"""Field of the reading -> its unit, and the columns that hold it."""

EXPLAINED: dict[tuple[str, str, float], str] = {}
"""(row, field, number) of the reading that the tables do not hold, and why."""


def numbers(told: Any) -> Iterator[float]:
    """The numbers in a field, which may be one, a list, or a list of lists, with nulls."""
    if isinstance(told, (int, float)):
        yield float(told)
    elif isinstance(told, list):
        for part in told:
            yield from numbers(part)


def figures(cell: Cell | None) -> list[float]:
    """Every figure a cell keeps, the chosen one first."""
    return [] if cell is None else [cell.value, *(conflict.value for conflict in cell.conflicts)]


def held(alloys: list[Alloy], columns: tuple[str, ...]) -> list[float]:
    return [value for alloy in alloys for column in columns for value in figures(alloy.cells.get(column))]


def shares(alloys: list[Alloy], element: str, ends: tuple[str, ...]) -> list[float]:
    found = []
    for alloy in alloys:
        share = alloy.shares.get(element)
        if share is not None:
            found += [value for end in ends for value in figures(getattr(share, end))]
    return found


def read_numbers() -> Iterator[tuple[str, str, float, list[float]]]:
    """(row, field, number in SI, what the tables hold in its place) of the whole reading."""
    for name, row in ROWS.items():
        alloys = [ALLOYS[id_] for id_ in IDS[name]]
        for field, (unit, columns) in FIELDS.items():
            for number in numbers(row[field]):
                yield name, field, to_si(number, unit), held(alloys, columns)
        for element, number in (row["nominal_percent"] or {}).items():
            for value in numbers(number):
                yield name, f"nominal {element}", value, shares(alloys, element, ("nominal",))
        for element, (low, high) in (row["limits_percent"] or {}).items():
            symbol = element.split("+")[0]
            for end, told in (("minimum", low), ("maximum", high)):
                for value in numbers(told):
                    yield name, f"{end} {element}", value, shares(alloys, symbol, (end,))


def same(value: float, others: list[float]) -> bool:
    return any(other == pytest.approx(value, rel=1e-4, abs=1e-9) for other in others)


def test_the_second_reading_was_made_and_is_dated() -> None:
    assert READ["read_by"]
    assert READ["date"] == "2026-11-25"
    assert set(ROWS) == set(IDS)


def test_every_number_of_the_second_reading_stands_in_the_tables() -> None:
    found = list(read_numbers())
    missing = {(row, field, round(value, 6)) for row, field, value, kept in found if not same(value, kept)}
    assert missing == set(EXPLAINED)
    assert len(found) > 600


WIDER = {
    "pure aluminium": "LM0 of BS 1490, a list of its own; the notes leave the cell empty",
    "A356": "the sheet prints Si, the notes leave it out",
    "319": "a foundry's guide adds Mn, Mg, Ni and Ti",
    "443": "limits of 443.0 itself, from memory; the notes give C443.0",
    "C443": "Ni, Zn and Sn from memory",
    "pewter": "lead, from memory",
    "lead": "from memory; the notes leave the cell empty",
    "grey iron": "usual for class 30, from memory; the standard has none",
}
"""Alloys with limits that the second reader did not find in the notes, and where those come from."""


def test_limits_beyond_the_notes_are_explained() -> None:
    found = set()
    for name, row in ROWS.items():
        read = {element.split("+")[0] for element in row["limits_percent"] or {}}
        found |= {id_ for id_ in IDS[name] if set(ALLOYS[id_].limits) - read}
    assert found == set(WIDER)


READ_SINCE = {
    ("C81100", "liquidus"): "CDA-FACTS-2001",
    ("C26000", "solidification_shrinkage"): "SHRINKAGE-TABLE",
    **{("C26000", column): "COPPER-ALLOYS-COMPILED" for column in POURING[:3]},
    **{("C85400", column): "COPPER-ALLOYS-COMPILED" for column in POURING},
    **{("C87300", column): "INGOT-C87300" for column in POURING},
    **{(alloy, "latent_heat"): "MAKEITFROM" for alloy in ("C90300", "C90500", "C90700")},
    **{(alloy, "contraction"): "MAKER-ALLOWANCES" for alloy in ("C95200", "C95400", "C95500")},
    **{(alloy, "solidification_shrinkage"): "SHRINKAGE-TABLE" for alloy in ("C95200", "C95400", "C95500")},
    **{(alloy, "pouring_low"): "MATWEB-356" for alloy in ("356", "A356")},
    **{(alloy, "pouring_high"): "MATWEB-356" for alloy in ("356", "A356")},
    ("319", "density"): "MATWEB-319",
    ("pure aluminium", "solidification_shrinkage"): "MAGNUSSON-ARNBERG-2001",
    ("Zamak 3", "latent_heat"): "ALZN-MEY",
    ("lead", "solidification_shrinkage"): "SHRINKAGE-TABLE",
    ("grey iron", "solidus"): "CFE-BROSHE",
    ("grey iron", "contraction"): "WESTERMANN",
    ("grey iron", "pouring_low"): "SUOMIVALIMO",
    ("grey iron", "pouring_high"): "SUOMIVALIMO",
}
"""Cells whose row of the notes is from memory and that a source was found for elsewhere."""

REMEMBERED = {
    ("C21000", "density"): "the read figure has two digits and comes from a list that errs by 10 %",
    ("pewter", "solidification_shrinkage"): "the notes have none, and no rule gives one that is possible",
    ("sterling silver", "pouring_high"): "the notes have one temperature, not a range",
}
"""Cells from memory although the notes do not say so of their field."""


def test_what_is_from_memory_is_marked_and_nothing_else() -> None:
    since, remembered = {}, set()
    for name, row in ROWS.items():
        memory = {*row["from_memory"], *row.get("from_memory_in_part", {})}
        for alloy, (field, (_, columns)) in ((a, f) for a in IDS[name] for f in FIELDS.items()):
            for column in columns:
                cell = ALLOYS[alloy].cells.get(column)
                if cell is None:
                    continue
                if field in memory and cell.grade != "from memory":
                    since[alloy, column] = cell.source
                if field not in memory and cell.grade == "from memory":
                    remembered.add((alloy, column))
    assert since == READ_SINCE
    assert remembered == set(REMEMBERED)
