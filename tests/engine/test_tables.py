"""The tables: every number has a source and a unit, and agrees with what physics leaves room for."""

import json
import shutil
from pathlib import Path

import pytest

from pourwright_service.__main__ import main
from pourwright_service.engine.kinds import KINDS
from pourwright_service.engine.tables import census, reading
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
    return [(f"{p.table}: {p.row}, {p.column}", p.cell) for p in census.every_cell()]


CURATED = (
    "alloys",
    "alloy_composition",
    "elements",
    "families",
    "moulds",
    "recoveries",
    "exposure_limits",
    "casting_tolerances",
    "casting_grades",
    "machining_allowances",
    "machining_practice",
    "foundry_tolerances",
    "draft_angles",
    "draft_depths",
    "contractions",
    "least_walls",
    "pouring_practice",
    "zinc_pressures",
    "liquidus_ladders",
)
"""The tables whose cells all name the place in their source."""

RANGES: dict[str, tuple[float, float]] = {
    # kind -> what a figure of it can be at all, SI; common practice
    "temperature": (50.0, 5000.0),
    "temperature_difference": (1.0, 500.0),
    "density": (0.5, 20000.0),  # the lightest is a gas that is burnt
    "heating_value": (1e7, 6e7),
    "specific_heat": (100.0, 5000.0),
    "latent_heat": (1e4, 6e6),
    "conductivity": (0.2, 450.0),
    "surface_tension": (0.2, 3.0),
    "velocity": (0.05, 2.0),
    "viscosity": (1e-4, 0.02),
    "expansion_per_kelvin": (3e-5, 6e-4),
    "fraction": (-0.03, 1.0),
    "percent": (0.0, 100.0),
    "length": (1e-4, 0.05),
    "angle": (0.01, 0.2),
    "concentration": (1e-10, 1e-3),
    "mass": (0.1, 100.0),
    "pressure": (10.0, 2e6),
    "ratio": (0.0, 300.0),
}


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


@pytest.mark.parametrize("table", CURATED)
def test_a_cell_names_the_place_in_its_source(table: str) -> None:
    for placed in census.every_cell():
        if placed.table == table:
            assert placed.cell.place, (placed.row, placed.column)


def test_words_that_state_a_fact_have_a_source_too() -> None:
    told = provenance("alloys")["columns"]
    for column in ("use", "corrosion", "sea_water", "lead", "melt_hazards", "family", "freezing_class"):
        assert told[column]["source"] in SOURCES, column
    assert ("alloys", "use", "common practice") in census.doubtful_words()


def test_a_figure_can_be_one_of_its_kind() -> None:
    for where, cell in every_cell():
        low, high = RANGES[cell.kind]
        for value in (cell.value, *(conflict.value for conflict in cell.conflicts)):
            assert low <= value <= high, where


def test_a_spread_is_a_share() -> None:
    for where, cell in every_cell():
        assert cell.spread is None or 0.0 < cell.spread <= 3.0, where


def test_analogues_and_estimates_say_how_far_they_may_be_off() -> None:
    for placed in census.every_cell():
        cell = placed.cell
        if placed.table == "alloys" and ("an analogue" in cell.place or "a neighbour" in cell.place):
            exact = placed.column in ("specific_heat", "liquidus", "solidus")
            assert cell.spread or exact, (placed.row, placed.column)
        if cell.provenance == "estimated":
            assert cell.spread, (placed.row, placed.column)


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


# --- how far they may be trusted --------------------------------------------------------------


def test_every_cell_is_counted_once(capsys: pytest.CaptureFixture[str]) -> None:
    counts = census.counts()
    assert set(counts) == set(table_names())
    assert sum(sum(grades.values()) for grades in counts.values()) == len(every_cell())
    assert sum(grades["from memory"] for grades in counts.values()) == sum(
        cell.grade == "from memory" for _, cell in every_cell()
    )
    assert main(["tables"]) == 0
    printed = capsys.readouterr().out
    assert printed == census.counts_text()
    total = next(line for line in printed.splitlines() if line.startswith("all ")).split()
    assert int(total[-1]) == len(every_cell())
    assert [int(number) for number in total[1:-1]] == [
        sum(grades[grade] for grades in counts.values()) for grade in GRADES
    ]


def test_the_page_of_doubtful_figures_lists_them_all(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tables", "--doubtful"]) == 0
    page = capsys.readouterr().out
    assert page == census.doubtful_page()
    lines = page.splitlines()
    doubtful = [placed for placed in census.every_cell() if placed.cell.grade in census.DOUBTFUL]
    assert doubtful
    section = ""
    found: set[tuple[str, str, str]] = set()
    for line in lines:
        if line.startswith("## "):
            section = line.removeprefix("## ")
        elif line.startswith("| ") and section in table_names():
            row, column, figure, grade = line.strip("| ").split(" | ")[:4]
            if row != "row":
                assert grade in census.DOUBTFUL
                assert figure
                found.add((section, row, column))
    assert found == {(placed.table, placed.row, placed.column) for placed in doubtful}
    memory = sum(placed.cell.grade == "from memory" for placed in doubtful)
    assert f"{memory} figures are from memory and {len(doubtful) - memory} are estimated" in page


def test_the_page_shows_what_is_known_of_a_doubtful_figure() -> None:
    line = next(
        line for line in census.doubtful_page().splitlines() if line.startswith("| C87300 | latent_heat")
    )
    assert "estimated by rule" in line
    assert "+/-60 %" in line
    assert "COST507: 108 kJ/kg" in line
