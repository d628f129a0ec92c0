"""What the tables hold: alloys, moulding media, elements, every figure with its provenance."""

from collections.abc import Mapping
from typing import Any

from ..engine.tables.alloys import ALLOYS, Alloy, alloy_names, find_alloy
from ..engine.tables.elements import ELEMENTS
from ..engine.tables.moulds import MOULDS
from ..engine.tables.reading import Cell
from .fields import Described
from .problems import Problem, did_you_mean
from .quantities import write
from .reference import TAG, CitedSource, cited, items, list_of
from .registry import resource
from .schemas import Choice, Flag, Nested, Number, Result, Text, Texts


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


def _cells(cells: Mapping[str, Cell]) -> list[dict[str, Any]]:
    return [_cell(name, cell) for name, cell in cells.items()]


def _cell(name: str, cell: Cell) -> dict[str, Any]:
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
    }


class AliasResult(Result):
    """Another name of an alloy."""

    name = Text("The name.", required=True)
    relation = Choice(("same", "near"), "near: lends its properties, never its limits.", required=True)
    source = Nested(CitedSource, "Who says so.", required=True)


class AlloySummaryResult(Result):
    """An alloy in brief."""

    id = Text("Its id.", required=True)
    name = Text("Its name.", required=True)
    designation = Text("The standard's designation.", required=True)
    family = Text("Base metal.", required=True)
    group = Text("Group within the family.", required=True)
    freezing_class = Text("How wide its freezing range is: short, middle or long.", required=True)
    aliases = Nested(AliasResult, "Other names.", many=True, required=True)


class ShareResult(Result):
    """What an alloy holds of one element, per cent of mass."""

    element = Text("Symbol of the element.", required=True)
    minimum = Nested(CellResult, "Least, where there is a limit.")
    nominal = Nested(CellResult, "Usual, where there is a figure.")
    maximum = Nested(CellResult, "Most, where there is a limit.")


class AlloyResult(AlloySummaryResult):
    """An alloy with every figure that is known of it."""

    properties = Nested(CellResult, "Its properties.", many=True, required=True)
    composition = Nested(ShareResult, "Its composition.", many=True, required=True)
    others_each = Nested(CellResult, "Most of any element not named.")
    others_total = Nested(CellResult, "Most of all elements not named together.")
    use = Text("What it is used for.", required=True)
    corrosion = Text("Where it lasts and where not.", required=True)
    melt_hazards = Text("What its melt can do to people.", required=True)


def _summary(alloy: Alloy) -> dict[str, Any]:
    return {
        "id": alloy.id,
        "name": alloy.name,
        "designation": alloy.designation,
        "family": alloy.family,
        "group": alloy.group,
        "freezing_class": alloy.freezing_class,
        "aliases": [
            {"name": a.name, "relation": a.relation, "source": cited(a.source, a.place)}
            for a in alloy.aliases
        ],
    }


def _optional(name: str, cell: Cell | None) -> dict[str, Any] | None:
    return None if cell is None else _cell(name, cell)


@resource(
    "GET",
    "/v1/alloys",
    operation="list_alloys",
    tag=TAG,
    summary="The alloys of the tables",
    description="Names and groups; each alloy's own page has the figures.",
    answer=list_of(AlloySummaryResult, "alloys"),
)
def alloys() -> dict[str, Any]:
    return items(_summary(alloy) for alloy in ALLOYS.values())


@resource(
    "GET",
    "/v1/alloys/{id}",
    operation="get_alloy",
    tag=TAG,
    summary="One alloy",
    description="Every figure that is known of one alloy, by id, name or alias, with its source.",
    answer=AlloyResult,
    parameters={"id": "Id, name or alias of the alloy."},
    problems=("not_found",),
)
def alloy(id: str) -> dict[str, Any]:
    found = find_alloy(id)
    if found is None:
        raise Problem("not_found", f"the tables have no alloy {id[:60]!r}{did_you_mean(id, alloy_names())}")
    return {
        **_summary(found),
        "properties": _cells(found.cells),
        "composition": [
            {
                "element": share.element,
                "minimum": _optional("minimum", share.minimum),
                "nominal": _optional("nominal", share.nominal),
                "maximum": _optional("maximum", share.maximum),
            }
            for share in found.shares.values()
        ],
        "others_each": _optional("others each", found.others_each),
        "others_total": _optional("others total", found.others_total),
        "use": found.use,
        "corrosion": found.corrosion,
        "melt_hazards": found.melt_hazards,
    }


class MouldResult(Result):
    """A moulding medium."""

    id = Text("Its id.", required=True)
    name = Text("Its name.", required=True)
    names = Texts("Other names that requests may use.", required=True)
    insulating = Flag("False for a metal chill, to which the formulas of sand do not apply.", required=True)
    properties = Nested(CellResult, "Its properties.", many=True, required=True)


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
            "properties": _cells(mould.cells),
        }
        for mould in MOULDS.values()
    )


class ElementResult(Result):
    """A chemical element."""

    symbol = Text("Its symbol.", required=True)
    name = Text("Its name.", required=True)
    oxide = Text("The oxide that its fume is; may be empty.", required=True)
    properties = Nested(CellResult, "Its properties.", many=True, required=True)


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
            "properties": _cells(element.cells),
        }
        for element in ELEMENTS.values()
    )
