"""How far the tables may be trusted: counts of cells by grade, and the page of doubtful ones."""

from collections.abc import Iterator
from dataclasses import dataclass

from .reading import Cell, provenance, read_table, table_names
from .sources import GRADES, SOURCES

DOUBTFUL = ("from memory", "estimated by rule")
"""The grades that no publication stands behind: what is still to be looked up or measured."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A cell and where it stands."""

    table: str
    row: str
    column: str
    cell: Cell


def every_cell() -> Iterator[Placed]:
    """Every number of every table, in the order of the files."""
    for table in table_names():
        for row in read_table(table):
            for column, cell in row.cells.items():
                yield Placed(table, row.key, column, cell)


def counts() -> dict[str, dict[str, int]]:
    """Cells by table and grade; every grade is there, so that a nought shows."""
    found = {table: dict.fromkeys(GRADES, 0) for table in table_names()}
    for placed in every_cell():
        found[placed.table][placed.cell.grade] += 1
    return found


def doubtful_cells() -> list[Placed]:
    """The cells of a doubtful grade, by table."""
    return [placed for placed in every_cell() if placed.cell.grade in DOUBTFUL]


def doubtful_words() -> list[tuple[str, str, str]]:
    """Columns of words that no publication stands behind: table, column, grade."""
    found = []
    for table in table_names():
        for column, told in provenance(table)["columns"].items():
            if told["kind"] == "text" and "source" in told:
                grade = SOURCES[told["source"]].grade
                if grade in (*DOUBTFUL, "common practice"):
                    found.append((table, column, grade))
    return found


def counts_text() -> str:
    """The counts as a table for people, with totals."""
    found = counts()
    width = max(len(table) for table in found)
    heads = [*GRADES, "all"]
    lines = [" " * width + "".join(f"  {head}" for head in heads)]
    for table, grades in [*found.items(), ("all", _total(found))]:
        numbers = [*grades.values(), sum(grades.values())]
        shown = "".join(f"  {number:{len(head)}}" for head, number in zip(heads, numbers, strict=True))
        lines.append(f"{table:{width}}{shown}")
    lines.append(
        f"cells with conflicts kept beside them: {sum(bool(p.cell.conflicts) for p in every_cell())}"
    )
    return "\n".join(lines) + "\n"


def _total(found: dict[str, dict[str, int]]) -> dict[str, int]:
    return {grade: sum(grades[grade] for grades in found.values()) for grade in GRADES}


def doubtful_page() -> str:
    """The doubtful cells as a Markdown page: what to look up or to measure next."""
    cells = doubtful_cells()
    by_grade = {grade: sum(placed.cell.grade == grade for placed in cells) for grade in DOUBTFUL}
    lines = [
        "# Figures to be looked up or measured",
        "",
        f"{by_grade['from memory']} figures are from memory and {by_grade['estimated by rule']} are "
        "estimated by rule. Each works as a default and says so; a caller's own figure always wins.",
    ]
    for table in table_names():
        rows = [placed for placed in cells if placed.table == table]
        if rows:
            lines += [
                "",
                f"## {table}",
                "",
                "| row | column | figure | grade | what is known |",
                "|---|---|---|---|---|",
            ]
            lines += [_line(placed) for placed in rows]
    lines += ["", "## Words", "", "| table | column | grade |", "|---|---|---|"]
    lines += [f"| {table} | {column} | {grade} |" for table, column, grade in doubtful_words()]
    return "\n".join(lines) + "\n"


def _line(placed: Placed) -> str:
    cell = placed.cell
    known = [cell.place] if cell.place else []
    if cell.spread is not None:
        known.append(f"+/-{100 * cell.spread:g} %")
    known += [f"{other.source}: {other.printed:g} {other.unit}" for other in cell.conflicts]
    figure = f"{cell.printed:g} {cell.unit}" if cell.unit != "1" else f"{cell.printed:g}"
    return f"| {placed.row} | {placed.column} | {figure} | {cell.grade} | {'; '.join(known)} |"
