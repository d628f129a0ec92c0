"""What the tables hold: figures with their provenance, moulding media, elements."""

from collections.abc import Iterable, Mapping
from typing import Any

from ..engine.tables import elements as element_table
from ..engine.tables import moulds as mould_table
from ..engine.tables.elements import ELEMENTS
from ..engine.tables.moulds import MOULDS, WALLS, Wall
from ..engine.tables.reading import Cell, provenance
from .fields import Described
from .quantities import write
from .reference import TAG, CitedSource, cited, items, list_of
from .registry import resource
from .schemas import Flag, Nested, Number, Result, Text, Texts


class ShownValue(Described):
    """A value whose kind differs from row to row; given as (kind, SI value)."""

    def show(self, value: Any) -> Any:
        kind, number = value
        return write(kind, number)

    def request_document(self) -> dict[str, Any]:
        return {"$ref": "#/components/schemas/shown_value"}


class ConflictResult(Result):
    """What another source says of the same figure."""

    value = ShownValue("The other figure.", required=True)
    printed = Number("As printed there.", required=True)
    unit = Text("Unit as printed there.", required=True)
    source = Nested(CitedSource, "Where it is printed.", required=True)


class CellResult(Result):
    """One figure of a table."""

    name = Text("What the figure is.", required=True)
    value = ShownValue("The figure in the units asked for.", required=True)
    printed = Number("The figure as its source prints it.", required=True)
    unit = Text("Unit as printed.", required=True)
    source = Nested(CitedSource, "Where it comes from.", required=True)
    spread = Number("Half-width as a fraction of the value, where one is known.")
    conflicts = Nested(ConflictResult, "Figures that were not chosen.", many=True, required=True)
    choice = Text("Why this one, where there was a choice.", required=True)
    checked = Text("What it was compared with; may be empty.", required=True)


def cells_of(cells: Mapping[str, Cell]) -> list[dict[str, Any]]:
    """The figures of a row, for :class:`CellResult`."""
    return [cell_of(name, cell) for name, cell in cells.items()]


def cell_of(name: str, cell: Cell) -> dict[str, Any]:
    """One figure, for :class:`CellResult`."""
    return {
        "name": name,
        "value": (cell.kind, cell.value),
        "printed": cell.printed,
        "unit": cell.unit,
        "source": {"key": cell.source, "grade": cell.grade, "place": cell.place},
        "spread": cell.spread,
        "conflicts": [
            {
                "value": (cell.kind, other.value),
                "printed": other.printed,
                "unit": other.unit,
                "source": cited(other.source, other.place),
            }
            for other in cell.conflicts
        ],
        "choice": cell.choice,
        "checked": cell.checked,
    }


def optional_cell(name: str, cell: Cell | None) -> dict[str, Any] | None:
    """A figure, or None where there is none."""
    return None if cell is None else cell_of(name, cell)


class WordsResult(Result):
    """Something that a table says in words."""

    name = Text("What it is about.", required=True)
    text = Text("The words.", required=True)
    source = Nested(CitedSource, "Where they come from.", required=True)


def words_of(table: str, names_and_texts: Mapping[str, str]) -> list[dict[str, Any]]:
    """What a table says in words, for :class:`WordsResult`."""
    columns = provenance(table)["columns"]
    return [
        {"name": name, "text": text, "source": cited(columns[name]["source"], columns[name].get("place", ""))}
        for name, text in names_and_texts.items()
        if text
    ]


def lacking_of(columns: Iterable[str], cells: Mapping[str, Cell]) -> list[str]:
    """The columns of which a row has no figure."""
    return [column for column in columns if column not in cells]


class WallResult(Result):
    """The thinnest walls that fill in this medium."""

    family = Text("Base metal.", required=True)
    least = Nested(CellResult, "The thinnest that is reported.", required=True)
    usual = Nested(CellResult, "Upper end of the usual least.")
    any_sand = Flag("True where the report is of sand in general.", required=True)


class MouldResult(Result):
    """A moulding medium."""

    id = Text("Its id.", required=True)
    name = Text("Its name.", required=True)
    names = Texts("Other names that requests may use.", required=True)
    insulating = Flag("False for a metal chill, to which the formulas of sand do not apply.", required=True)
    properties = Nested(CellResult, "Its properties.", many=True, required=True)
    lacking = Texts("Properties for which no figure was found.", required=True)
    least_walls = Nested(
        WallResult, "The thinnest walls that fill in it, by metal.", many=True, required=True
    )


def _walls(medium: str) -> list[dict[str, Any]]:
    families = sorted({wall.family for wall in WALLS.values()})
    found = [(family, mould_table.least_wall(medium, family)) for family in families]
    return [_wall(family, wall) for family, wall in found if wall is not None]


def _wall(family: str, wall: Wall) -> dict[str, Any]:
    return {
        "family": family,
        "least": cell_of("least", wall.least),
        "usual": optional_cell("usual", wall.usual),
        "any_sand": wall.medium == "any sand",
    }


@resource(
    "GET",
    "/v1/moulds",
    operation="list_moulds",
    tag=TAG,
    summary="The moulding media of the tables",
    description="Every medium with its figures and their sources.",
    answer=list_of(MouldResult, "moulding media"),
)
def moulds() -> dict[str, Any]:
    return items(
        {
            "id": mould.id,
            "name": mould.name,
            "names": list(mould.names),
            "insulating": mould.insulating,
            "properties": cells_of(mould.cells),
            "lacking": lacking_of(mould_table.PROPERTIES, mould.cells),
            "least_walls": _walls(mould.id),
        }
        for mould in MOULDS.values()
    )


class ElementResult(Result):
    """A chemical element."""

    symbol = Text("Its symbol.", required=True)
    name = Text("Its name.", required=True)
    oxide = Text("The oxide that its fume is; may be empty.", required=True)
    properties = Nested(CellResult, "Its properties.", many=True, required=True)
    lacking = Texts("Properties for which no figure was found.", required=True)


@resource(
    "GET",
    "/v1/elements",
    operation="list_elements",
    tag=TAG,
    summary="The elements of the tables",
    description="Every element with its figures and their sources.",
    answer=list_of(ElementResult, "elements"),
)
def elements() -> dict[str, Any]:
    return items(
        {
            "symbol": element.symbol,
            "name": element.name,
            "oxide": element.oxide,
            "properties": cells_of(element.cells),
            "lacking": lacking_of(element_table.PROPERTIES, element.cells),
        }
        for element in ELEMENTS.values()
    )
