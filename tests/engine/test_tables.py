"""The tables: every number has a source and a unit, and agrees with what physics leaves room for."""

import json
import shutil
from pathlib import Path

import pytest

from pourwright_service.engine.kinds import KINDS
from pourwright_service.engine.tables import reading
from pourwright_service.engine.tables.reading import (
    UNITS,
    Cell,
    TableError,
    provenance,
    read_table,
    sha256_of,
    table_names,
    tables_version,
    to_si,
)
from pourwright_service.engine.tables.sources import GRADES, SOURCES, Sources


def every_cell() -> list[tuple[str, Cell]]:
    return [
        (f"{name}: {row.key}, {column}", cell)
        for name in table_names()
        for row in read_table(name)
        for column, cell in row.cells.items()
    ]


# --- the mechanism ----------------------------------------------------------------------------


@pytest.mark.parametrize("name", table_names())
def test_the_provenance_belongs_to_this_very_file(name: str) -> None:
    assert provenance(name)["sha256"] == sha256_of(name), f"write {sha256_of(name)} into {name}.json"


@pytest.mark.parametrize("name", table_names())
def test_the_provenance_says_who_and_when(name: str) -> None:
    known = provenance(name)
    for part in ("title", "key", "columns", "errata"):
        assert part in known
    for part in ("transcribed", "checked"):
        assert known[part]["by"]
        assert known[part]["on"]
    for column, told in known["columns"].items():
        if told["kind"] != "text":
            assert told["kind"] in KINDS, column
            assert UNITS[told["unit"]][0] == told["kind"], column
            assert "digits" in told, column


@pytest.mark.parametrize("name", table_names())
def test_the_provenance_speaks_of_no_cell_that_is_not_there(name: str) -> None:
    rows = {row.key: row for row in read_table(name)}
    for key, cells in provenance(name).get("cells", {}).items():
        assert set(cells) <= set(rows[key].cells), key


def test_every_cell_has_a_known_source_and_grade() -> None:
    for where, cell in every_cell():
        assert cell.source in SOURCES, where
        assert cell.grade in GRADES, where
        for conflict in cell.conflicts:
            assert conflict.source in SOURCES, where


def test_a_figure_without_a_publication_is_marked_so() -> None:
    loose = {"FROM-MEMORY": "from memory", "COMMON-PRACTICE": "common practice"}
    for where, cell in every_cell():
        if cell.source in loose:
            assert cell.grade == cell.provenance == loose[cell.source], where
        if cell.source == "ESTIMATED-BY-RULE":
            assert cell.provenance == "estimated", where
            assert cell.spread, where


def test_a_conflict_is_another_figure() -> None:
    for where, cell in every_cell():
        for conflict in cell.conflicts:
            assert conflict.value != pytest.approx(cell.value, rel=1e-6), where


@pytest.mark.parametrize(
    ("printed", "unit", "other", "other_unit", "rel"),
    [
        # one sheet prints both of each pair
        (1780, "degF", 971, "degC", 2e-4),  # C87300, CDA sheet of 2006
        (0.302, "lb/in3", 8.36, "g/cm3", 1e-3),  # the same sheet
        (16.4, "Btu/(ft h degF)", 28.4, "W/(m K)", 1e-3),  # C87200, Conex Casting
        (0.09, "Btu/(lb degF)", 377, "J/(kg K)", 1e-3),  # C26000, Diversified Bronze
        (0.25, "in/ft", 2.08, "%", 2e-3),  # Kutz, Mechanical Engineers' Handbook, p. 59
    ],
)
def test_units_against_pairs_that_one_source_prints(
    printed: float, unit: str, other: float, other_unit: str, rel: float
) -> None:
    assert to_si(printed, unit) == pytest.approx(to_si(other, other_unit), rel=rel)


def _table(folder: Path, csv: str, columns: dict[str, object]) -> None:
    (folder / "made.csv").write_text(csv)
    (folder / "made.json").write_text(json.dumps({"key": ["id"], "columns": columns}))


LENGTHS = {"id": {"kind": "text"}, "liquidus": {"kind": "temperature", "unit": "degC", "source": "DERIVED"}}


@pytest.mark.parametrize(
    ("csv", "change", "words"),
    [
        ("id,liquidus\na,1\na,2\n", {}, "occurs twice"),
        ("id,liquidus,solidus\na,1,2\n", {}, "not described"),
        ("id,liquidus\na,1\n", {"source": "NOBODY"}, "not known"),
        ("id,liquidus\na,1\n", {"unit": "g/cm3"}, "not a unit of temperature"),
        ("id,liquidus\na,1\n", {"conflicts": [{"value": 2, "source": "DERIVED"}]}, "no reason"),
        (
            "id,liquidus\na,1\n",
            {"conflicts": [{"value": 2, "source": "NOBODY"}], "choice": "better"},
            "not known",
        ),
    ],
)
def test_a_table_that_disagrees_with_its_provenance_is_refused(
    csv: str, change: dict[str, object], words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reading, "HERE", tmp_path)
    _table(tmp_path, csv, {**LENGTHS, "liquidus": {**LENGTHS["liquidus"], **change}})
    provenance.cache_clear()
    with pytest.raises(TableError, match=words):
        read_table("made")
    provenance.cache_clear()


def test_the_narrower_entry_of_the_provenance_wins(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "HERE", tmp_path)
    _table(tmp_path, "id,liquidus\na,1\nb,2\nc,3\n", dict(LENGTHS))
    known = json.loads((tmp_path / "made.json").read_text())
    known["rows"] = {"b": {"source": "COMMON-PRACTICE"}, "c": {"source": "COMMON-PRACTICE"}}
    known["cells"] = {"c": {"liquidus": {"source": "FROM-MEMORY", "unit": "degF"}}}
    (tmp_path / "made.json").write_text(json.dumps(known))
    provenance.cache_clear()
    cells = [row.cells["liquidus"] for row in read_table("made")]
    provenance.cache_clear()
    assert [cell.source for cell in cells] == ["DERIVED", "COMMON-PRACTICE", "FROM-MEMORY"]
    assert [cell.provenance for cell in cells] == ["computed", "common practice", "from memory"]
    assert cells[2].value == pytest.approx(3 * 5 / 9 + 459.67 * 5 / 9)


def test_the_version_changes_with_any_figure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = tables_version()
    copy = tmp_path / "tables"
    shutil.copytree(reading.HERE, copy)
    monkeypatch.setattr(reading, "HERE", copy)
    assert tables_version.__wrapped__() == before
    moulds = copy / "moulds.csv"
    moulds.write_text(moulds.read_text().replace("1600", "1601", 1))
    assert tables_version.__wrapped__() != before


def test_a_source_is_named_once(tmp_path: Path) -> None:
    one = {"A": {"title": "a", "grade": "textbook"}}
    (tmp_path / "one.json").write_text(json.dumps(one))
    assert Sources(tmp_path)["A"].title == "a"
    (tmp_path / "two.json").write_text(json.dumps(one))
    with pytest.raises(ValueError, match="already named"):
        len(Sources(tmp_path))


def test_a_source_has_a_grade(tmp_path: Path) -> None:
    (tmp_path / "one.json").write_text(json.dumps({"A": {"title": "a", "grade": "excellent"}}))
    with pytest.raises(ValueError, match="not a grade"):
        len(Sources(tmp_path))


def test_the_loose_sources_have_their_own_grades() -> None:
    grades = {key: SOURCES[key].grade for key in ("COMMON-PRACTICE", "FROM-MEMORY", "ESTIMATED-BY-RULE")}
    assert list(grades.values()) == ["common practice", "from memory", "estimated by rule"]
    assert SOURCES["DERIVED"].grade == "derived"
    assert "CALLER" in SOURCES
