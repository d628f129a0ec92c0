"""GET /v1/practice: what the trade does and sees: pouring, gating ratios, thin walls, zinc vapour."""

from typing import Any

from ..engine.tables.gating_ratios import every_ratio
from ..engine.tables.moulds import WALLS
from ..engine.tables.pouring import every_practice
from ..engine.tables.zinc import ZINC_PRESSURES
from .catalogue import CellResult, cell_of, cells_of, optional_cell
from .reference import TAG, CitedSource, cited
from .registry import resource
from .schemas import Nested, Number, Quantity, Result, Text


class PouringPracticeResult(Result):
    """Pouring temperatures that are reported for a group of metals."""

    id = Text("Which metals.", required=True)
    family = Text("Family of metal.", required=True)
    group = Text("Group within the family; any: the family as a whole.", required=True)
    figures = Nested(
        CellResult, "For heavy and light castings, or above the liquidus.", many=True, required=True
    )


class ReportedRatioResult(Result):
    """A gating ratio that is reported: areas of sprue, runner and gates, as parts."""

    id = Text("What was cast.", required=True)
    family = Text("Family of metal.", required=True)
    group = Text("Group within the family; any: the family as a whole.", required=True)
    sprue = Number("Part of the sprue's foot.", required=True)
    runner = Number("Part of all runners.", required=True)
    gate = Number("Part of all gates.", required=True)
    source = Nested(CitedSource, "Who reports it.", required=True)


class LeastWallResult(Result):
    """The thinnest wall that fills."""

    medium = Text("Moulding medium; any sand: every sand that has no row of its own.", required=True)
    family = Text("Family of metal.", required=True)
    least = Nested(CellResult, "Least that is reported.", required=True)
    usual = Nested(CellResult, "Upper end of the usual least.")


class ZincPressureResult(Result):
    """How hard zinc presses out of liquid brass."""

    zinc_percent = Number("Zinc in the copper, per cent of mass; 100: pure zinc.", required=True)
    temperature = Quantity("temperature", "Temperature of the melt.", required=True)
    pressure = Nested(CellResult, "Pressure of zinc vapour; at 1 atm it boils.", required=True)


class PracticeResult(Result):
    """What the trade does and sees."""

    pouring = Nested(PouringPracticeResult, "Pouring temperatures by group.", many=True, required=True)
    gating_ratios = Nested(ReportedRatioResult, "Gating ratios.", many=True, required=True)
    least_walls = Nested(LeastWallResult, "Thin walls by medium and metal.", many=True, required=True)
    zinc_pressures = Nested(ZincPressureResult, "Vapour of zinc over brass.", many=True, required=True)


@resource(
    "GET",
    "/v1/practice",
    operation="get_practice",
    tag=TAG,
    summary="Pouring temperatures, gating ratios, thin walls, zinc vapour",
    description="Figures of practice with their sources: they are compared with and warned by, and decide "
    "nothing alone.",
    answer=PracticeResult,
)
def practice() -> dict[str, Any]:
    return {
        "pouring": [
            {
                "id": found.id,
                "family": found.family,
                "group": found.group,
                "figures": cells_of(found.cells),
            }
            for found in every_practice()
        ],
        "gating_ratios": [
            {
                "id": ratio.id,
                "family": ratio.family,
                "group": ratio.group,
                "sprue": ratio.sprue,
                "runner": ratio.runner,
                "gate": ratio.gate,
                "source": cited(ratio.source, ratio.place),
            }
            for ratio in every_ratio()
        ],
        "least_walls": [
            {
                "medium": wall.medium,
                "family": wall.family,
                "least": cell_of("least", wall.least),
                "usual": optional_cell("usual", wall.usual),
            }
            for wall in WALLS.values()
        ],
        "zinc_pressures": [
            {
                "zinc_percent": point.zinc,
                "temperature": point.temperature,
                "pressure": cell_of("pressure", point.pressure),
            }
            for point in ZINC_PRESSURES.values()
        ],
    }
