"""The second reading of limits, tolerances, draft and contraction against the tables."""

import json
import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from pourwright_service.engine.tables.allowances import draft_depths, drafts, every_contraction
from pourwright_service.engine.tables.exposure import LIMITS, ExposureLimit
from pourwright_service.engine.tables.reading import Cell, to_si
from pourwright_service.engine.tables.tolerances import (
    GRADES,
    MACHINING_GRADES,
    casting_steps,
    foundry_tolerances,
    grade_ranges,
    machining_practice,
    machining_steps,
)

READ: dict[str, Any] = json.loads(
    Path(__file__).with_name("second_reading_limits.json").read_text(encoding="utf-8")
)


def size(step: Any) -> str:
    return f"{1000 * step.over:g}–{1000 * step.to:g}"


def printed(*cells: Cell | None) -> list[float]:
    return [cell.printed for cell in cells if cell is not None]


def test_the_reading_is_dated_and_says_how_it_was_made() -> None:
    assert READ["date"] == "2026-11-25"
    assert "fresh reader" in READ["read_by"]


def test_casting_tolerances() -> None:
    grades = [str(grade) for grade in GRADES]
    found = {
        size(step): {g: step.figures[g].printed if g in step.figures else None for g in grades}
        for step in casting_steps()
    }
    assert found == READ["casting_tolerances_mm"]
    assert {size(s): s.finer.printed for s in casting_steps() if s.finer} == READ["finer"]


def test_machining_allowances() -> None:
    told = READ["machining_allowances_mm"]
    assert told["grades"] == MACHINING_GRADES
    assert {size(s): [s.figures[g].printed for g in MACHINING_GRADES] for s in machining_steps()} == told[
        "sizes"
    ]
    memory = [size(s) for s in machining_steps() if s.figures["A"].grade == "from memory"]
    assert memory == told["from_memory"]


def test_grades() -> None:
    casting: dict[str, dict[str, list[float]]] = {}
    machining = {}
    for row in grade_ranges():
        if row.low is not None:
            casting.setdefault(row.process, {})[row.family] = printed(row.low, row.high)
        if row.machining_low is not None:
            ends = (MACHINING_GRADES[int(n) - 1] for n in printed(row.machining_low, row.machining_high))
            machining[f"{row.process}/{row.family}"] = "–".join(ends)
    assert casting == READ["casting_grades"]
    assert machining == READ["machining_grades"]


def test_machining_and_draft() -> None:
    practice = {row.id: printed(row.low, row.high) for row in machining_practice()}
    assert practice.pop("iron at least") == [READ["machining_iron_at_least_mm"]]
    assert practice == {id_: [float(Fraction(n)) for n in ends] for id_, ends in READ["machining_in"].items()}
    angles = {row.id: printed(row.low, row.high) for row in drafts() if row.low}
    tapers = {row.id: printed(row.taper_low, row.taper_high) for row in drafts() if row.taper_low}
    assert angles == READ["draft_deg"]
    assert tapers == {i: [float(Fraction(n)) for n in ends] for i, ends in READ["draft_in_per_ft"].items()}
    depths = {f"{row.draw / 0.0254:g}": row.draft.printed for row in draft_depths()}
    assert depths == READ["draft_by_draw_in"]


def test_one_foundry() -> None:
    found: dict[str, list[list[float]]] = {}
    shares = {}
    for line in foundry_tolerances():
        unit = 0.0254 if line.measure == "length" else 0.0254**2
        if line.tolerance is not None and line.to is not None:
            ends = [round(line.over / unit, 6), round(line.to / unit, 6), line.tolerance.printed]
            found.setdefault(line.feature, []).append(ends)
        if line.share is not None:
            shares[line.feature] = [round(line.over / unit, 6), pytest.approx(line.share.value)]
    assert found == READ["foundry_in"]
    assert shares == READ["foundry_share"]


# --- contraction ------------------------------------------------------------------------------

METALS = {
    "grey iron": ("grey iron",),
    "Al alloys": ("aluminium alloys",),
    "Al pure": ("pure aluminium",),
    "copper": ("copper",),
    "brass": ("brass", "yellow brass"),
    "bronze/gunmetal": ("bronze and gunmetal",),
    "Al bronze, Mn bronze": ("aluminium bronze", "manganese bronze"),
    "zinc": ("zinc", "zinc alloys"),
    "tin": ("tin",),
    "lead": ("lead",),
    "steel": ("steel",),
}
"""Rows of the notes, and the metals of the table that stand for them."""

READ_SINCE = {"copper": 0.25 / 12}
"""A report that the range in the notes leaves out: copper 1/4 in/ft, Kutz, from another page of theirs."""


def figures(text: str) -> Iterator[float]:
    """The contractions in a cell of the notes, as fractions."""
    for number in re.findall(r"\d+/\d+|\d+\.\d+|\d+(?= mm/m)|^\d+$", text):
        if "/" not in number:
            yield to_si(float(number), "mm/m" if f"{number} mm/m" in text else "%")
        elif number.startswith("1/") and int(number[2:]) > 40:
            yield float(Fraction(number))  # 1/96 of the length
        else:
            yield float(Fraction(number)) / 12


@pytest.mark.parametrize("metal", READ["contractions"])
def test_contractions(metal: str) -> None:
    told = dict(READ["contractions"][metal])
    low, *rest = (float(n) for n in told.pop("range_percent").split("–"))
    rows = [row for row in every_contraction() if row.metal in METALS[metal]]
    kept = {end.value for row in rows for end in (row.low, row.high)}
    read = {value for text in told.values() for value in figures(text)}
    assert read
    for value in read:
        assert any(value == pytest.approx(other, rel=1e-4) for other in kept), value
    read |= {READ_SINCE[metal]} if metal in READ_SINCE else set()
    for other in kept:
        assert any(other == pytest.approx(value, rel=1e-4) for value in read), other
    within = [value for value in kept if value != pytest.approx(READ_SINCE.get(metal, 0.0))]
    assert 100 * min(within) == pytest.approx(low, abs=6e-3)
    assert 100 * max(within) == pytest.approx(rest[0] if rest else low, abs=6e-3)


# --- limits -----------------------------------------------------------------------------------

BEYOND = {"aluminium", "carbon dioxide", "formaldehyde", "nickel", "sulphur dioxide"}
"""Substances that the notes have nothing of: read on public pages only."""


def matching(substance_form: str, what: str) -> list[ExposureLimit]:
    authority, _, rest = what.partition(" ")
    fraction = next((f for f in ("total", "respirable", "inhalable") if f in rest), None)
    words = rest.removesuffix(f" {fraction}") if fraction else rest
    kind = words if words in ("action level", "immediate danger") else "limit"
    return [
        limit
        for limit in LIMITS.values()
        if f"{limit.substance} {limit.form}" == substance_form
        and limit.authority == authority
        and limit.kind == kind
        and (kind != "limit" or limit.averaging == words)
        and fraction in (None, limit.fraction)
    ]


READINGS = [(part, name) for part in ("limits", "limits_on_public_pages") for name in READ[part]]
"""The limits of the notes, and those read a second time on public pages (``read_at``)."""


def told_limits(part: str, substance_form: str) -> tuple[str, dict[str, float]]:
    told = dict(READ[part][substance_form])
    unit = told.pop("unit")
    told.pop("read_at", None)
    return unit, told


@pytest.mark.parametrize(("part", "substance_form"), READINGS)
def test_limits(part: str, substance_form: str) -> None:
    unit, told = told_limits(part, substance_form)
    assert told
    for what, number in told.items():
        found = matching(substance_form, what)
        assert [limit.cell.value for limit in found] == [pytest.approx(to_si(number, unit))], what


def test_every_limit_was_read_twice_or_is_named() -> None:
    read = {
        limit.id
        for part, name in READINGS
        for what in told_limits(part, name)[1]
        for limit in matching(name, what)
    }
    assert set(LIMITS) - read == set(READ["not_read"])


def test_no_substance_of_the_notes_is_missing() -> None:
    forms = "|".join(sorted({limit.form for limit in LIMITS.values()}, key=len, reverse=True))
    read = {re.sub(f" ({forms})$", "", name) for name in READ["limits"]}
    assert {limit.substance for limit in LIMITS.values()} - read == BEYOND
