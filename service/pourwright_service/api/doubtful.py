"""Figures that no publication stands behind: what to look up or to measure next, as JSON and as a page."""

from functools import cache
from html import escape
from itertools import groupby
from typing import Any

from flask import Response

from ..engine.tables.census import DOUBTFUL, Placed, doubtful_cells, doubtful_words
from ..engine.tables.reading import provenance, tables_version
from .catalogue import CellResult, cell_of
from .reference import TAG
from .registry import resource
from .schemas import Choice, Count, Nested, Result, Text


class DoubtfulFigureResult(Result):
    """A figure that is from memory or estimated by rule."""

    table = Text("The table it stands in.", required=True)
    row = Text("Its row.", required=True)
    column = Text("Its column.", required=True)
    grade = Choice(DOUBTFUL, "Why it is doubtful.", required=True)
    figure = Nested(CellResult, "The figure and all that is known of it.", required=True)


class DoubtfulWordsResult(Result):
    """A column of words that no publication stands behind."""

    table = Text("The table.", required=True)
    column = Text("The column.", required=True)
    grade = Text("How far it may be trusted.", required=True)


class DoubtfulFigureList(Result):
    """The doubtful figures of all tables."""

    items = Nested(DoubtfulFigureResult, "The figures, by table.", many=True, required=True)
    words = Nested(DoubtfulWordsResult, "Columns of words of the same sort.", many=True, required=True)
    from_memory = Count("How many figures are from memory.", required=True)
    estimated_by_rule = Count("How many are estimated by rule.", required=True)
    tables_version = Text("Changes when any figure of the tables does.", required=True)
    next = Text("Address of the rest of the list; null: the list is whole.")


@resource(
    "GET",
    "/v1/doubtful-figures",
    operation="list_doubtful_figures",
    tag=TAG,
    summary="Figures that are from memory or estimated by rule",
    description="The honest list of what is still to be looked up or measured, made from the tables. Each "
    "works as a default and says so; a figure of your own always wins. /docs/doubtful-figures shows it as a "
    "page.",
    answer=DoubtfulFigureList,
)
def doubtful_figures() -> dict[str, Any]:
    cells = doubtful_cells()
    return {
        "items": [
            {
                "table": placed.table,
                "row": placed.row,
                "column": placed.column,
                "grade": placed.cell.grade,
                "figure": cell_of(placed.column, placed.cell),
            }
            for placed in cells
        ],
        "words": [
            {"table": table, "column": column, "grade": grade} for table, column, grade in doubtful_words()
        ],
        "from_memory": _count(cells, "from memory"),
        "estimated_by_rule": _count(cells, "estimated by rule"),
        "tables_version": tables_version(),
        "next": None,
    }


def _count(cells: list[Placed], grade: str) -> int:
    return sum(placed.cell.grade == grade for placed in cells)


# --- the page ---------------------------------------------------------------------------------


_HEADS = ("Row", "Column", "Figure", "Grade", "What is known")


@cache
def doubtful_page() -> str:
    """The figures as an HTML page: headings, one table of cells to a table of figures, no script."""
    cells = doubtful_cells()
    tables = [(table, list(placed)) for table, placed in groupby(cells, key=lambda each: each.table)]
    contents = "".join(
        f'<li><a href="#{escape(table)}">{escape(_plain(table))}</a> ({len(placed)})</li>'
        for table, placed in tables
    )
    words = "".join(
        f'<tr><th scope="row">{escape(_plain(table))}</th><td>{escape(_plain(column))}</td>'
        f"<td>{escape(grade)}</td></tr>"
        for table, column, grade in doubtful_words()
    )
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        "<title>Pourwright: figures to be looked up or measured</title>\n"
        '<link rel="stylesheet" href="/docs/plain.css">\n'
        '<link rel="icon" type="image/png" href="/docs/favicon-32x32.png">\n</head>\n<body>\n'
        "<header>\n<h1>Figures to be looked up or measured</h1>\n"
        f"<p>{_count(cells, 'from memory')} figures of the tables are from memory and "
        f"{_count(cells, 'estimated by rule')} are estimated by rule. Each works as a default and says so in "
        "the answer; a figure of your own always wins. The same list as data: "
        '<a href="/v1/doubtful-figures">/v1/doubtful-figures</a>. All calls: <a href="/docs">/docs</a>. '
        f"Tables version {escape(tables_version())}.</p>\n</header>\n"
        f'<nav aria-label="Tables">\n<ul>{contents}<li><a href="#words">words</a></li></ul>\n</nav>\n<main>\n'
        + "".join(_section(table, placed) for table, placed in tables)
        + '<section aria-labelledby="words">\n<h2 id="words">Words</h2>\n<table>\n'
        "<caption>Columns of words that no publication stands behind.</caption>\n"
        f"{_head(('Table', 'Column', 'Grade'))}<tbody>{words}</tbody>\n</table>\n</section>\n"
        "</main>\n</body>\n</html>\n"
    )


def _plain(name: str) -> str:
    return name.replace("_", " ")


def _head(heads: tuple[str, ...]) -> str:
    cells = "".join(f'<th scope="col">{head}</th>' for head in heads)
    return f"<thead><tr>{cells}</tr></thead>\n"


def _section(table: str, placed: list[Placed]) -> str:
    id, title = escape(table), str(provenance(table).get("title", ""))
    rows = "\n".join(_row(each) for each in placed)
    return (
        f'<section aria-labelledby="{id}">\n<h2 id="{id}">{escape(_plain(table).capitalize())}</h2>\n'
        "<table>\n"
        f"<caption>{escape(title)}</caption>\n{_head(_HEADS)}<tbody>\n{rows}\n</tbody>\n</table>\n</section>\n"
    )


def _row(placed: Placed) -> str:
    cell = placed.cell
    known = [cell.place] if cell.place else []
    if cell.spread is not None:
        known.append(f"within {100.0 * cell.spread:g} % either way")
    known += [f"{other.source} has {other.printed:g} {other.unit}" for other in cell.conflicts]
    figure = f"{cell.printed:g} {cell.unit}" if cell.unit != "1" else f"{cell.printed:g}"
    cells = (_plain(placed.column), figure, cell.grade, "; ".join(known))
    shown = "".join(f"<td>{escape(text)}</td>" for text in cells)
    return f'<tr><th scope="row">{escape(placed.row)}</th>{shown}</tr>'


def page() -> Response:
    """The page as a response."""
    return Response(doubtful_page(), content_type="text/html; charset=utf-8")
