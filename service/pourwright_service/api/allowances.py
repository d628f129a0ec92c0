"""GET /v1/allowances: tolerances of raw castings, metal left for machining, draft, contraction."""

from typing import Any

from ..engine.tables.allowances import (
    Contraction,
    contraction_range,
    contractions,
    draft_depths,
    drafts,
    every_contraction,
)
from ..engine.tables.families import ANY, family_figure
from ..engine.tables.reading import Cell
from ..engine.tables.tolerances import (
    MACHINING_GRADES,
    FoundryTolerance,
    GradeRange,
    SizeStep,
    casting_steps,
    foundry_tolerances,
    grade_ranges,
    machining_practice,
    machining_steps,
)
from .catalogue import CellResult, cell_of, optional_cell
from .reference import TAG
from .registry import resource
from .schemas import Choice, Count, Nested, Quantity, Result, Text


class SizeStepResult(Result):
    """The figures of one step of sizes."""

    over = Quantity("length", "Sizes over this.", required=True)
    to = Quantity("length", "Up to and with this.", required=True)
    grades = Nested(CellResult, "The figure of each grade, named by the grade.", many=True, required=True)
    finer = Nested(CellResult, "How many grades finer than those of large sizes short runs hold here.")


class GradesResult(Result):
    """The grades that a way of moulding holds."""

    process = Text("Way of moulding.", required=True)
    family = Text("Family of metal.", required=True)
    low = Nested(CellResult, "Finest casting grade, for sizes over 25 mm.")
    high = Nested(CellResult, "Coarsest casting grade, for sizes over 25 mm.")
    usual = Count("The casting grade to reckon with: the middle, the coarser of two.")
    machining_low = Nested(CellResult, "Smallest machining grade, counted from 1 for A; there is no I.")
    machining_high = Nested(CellResult, "Largest machining grade, counted the same way.")
    usual_machining = Choice(tuple(MACHINING_GRADES), "The machining grade to reckon with.")


class FoundryToleranceResult(Result):
    """One line of a job foundry's list, to either side."""

    feature = Text("What it is for.", required=True)
    length_over = Quantity("length", "Lengths over this.")
    length_to = Quantity("length", "Up to this; null: no end.")
    area_over = Quantity("area", "Areas across the parting plane over this.")
    area_to = Quantity("area", "Up to this.")
    tolerance = Nested(CellResult, "Plus or minus this.")
    share = Nested(CellResult, "Plus or minus this share of the length.")


class MachiningPracticeResult(Result):
    """What shops leave on a face, without grades."""

    id = Text("Which castings.", required=True)
    family = Text("Family of metal.", required=True)
    low = Nested(CellResult, "Least.", required=True)
    high = Nested(CellResult, "Most.")


class DraftResult(Result):
    """How far faces along the draw lean."""

    id = Text("Which faces, or which work.", required=True)
    low = Nested(CellResult, "Least angle.")
    high = Nested(CellResult, "Most.")
    taper_low = Nested(CellResult, "Least widening over depth.")
    taper_high = Nested(CellResult, "Most.")


class DraftDepthResult(Result):
    """How far a face leans out over its whole depth."""

    draw = Quantity("length", "Depth of draw.", required=True)
    draft = Nested(CellResult, "By this much at its end.", required=True)


class ContractionReportResult(Result):
    """What one source says of one metal."""

    metal = Text("The metal as the source names it.", required=True)
    report = Text("Which source, in short.", required=True)
    casting = Choice(("any", "small", "large"), "Which castings.", required=True)
    low = Nested(CellResult, "Least linear contraction.", required=True)
    high = Nested(CellResult, "Most linear contraction.", required=True)


class ContractionResult(Result):
    """Linear contraction of a group of metals, from the mould to the cold casting."""

    family = Text("Family of metal.", required=True)
    group = Text("Group within the family; any: the family as a whole.", required=True)
    used = Nested(CellResult, "What calculations take for an alloy of the group without its own figure.")
    low = Quantity("fraction", "Least that is reported.", required=True)
    high = Quantity("fraction", "Most that is reported.", required=True)
    reports = Nested(ContractionReportResult, "All reports.", many=True, required=True)


class AllowancesResult(Result):
    """What a pattern is made larger by, and how near the casting comes to its drawing."""

    casting_tolerances = Nested(
        SizeStepResult,
        "Total tolerance, half of it to either side, by nominal size.",
        many=True,
        required=True,
    )
    casting_grades = Nested(GradesResult, "Grades by way of moulding and metal.", many=True, required=True)
    foundry_tolerances = Nested(
        FoundryToleranceResult, "What one job foundry promises, far finer.", many=True, required=True
    )
    machining_allowances = Nested(
        SizeStepResult, "Metal on each machined face, by the largest size.", many=True, required=True
    )
    machining_practice = Nested(
        MachiningPracticeResult, "Metal left for machining, as shops report it.", many=True, required=True
    )
    draft = Nested(DraftResult, "Draft by face and work.", many=True, required=True)
    draft_by_depth = Nested(DraftDepthResult, "Draft by depth of draw.", many=True, required=True)
    contraction = Nested(ContractionResult, "Contraction by metal.", many=True, required=True)


def _step(step: SizeStep) -> dict[str, Any]:
    return {
        "over": step.over,
        "to": step.to,
        "grades": [cell_of(grade, cell) for grade, cell in step.figures.items()],
        "finer": optional_cell("finer", step.finer),
    }


def _named(**cells: Cell | None) -> dict[str, Any]:
    return {name: optional_cell(name.replace("_", " "), cell) for name, cell in cells.items()}


def _grades(found: GradeRange) -> dict[str, Any]:
    return {
        "process": found.process,
        "family": found.family,
        "usual": found.usual,
        "usual_machining": found.usual_machining,
        **_named(
            low=found.low,
            high=found.high,
            machining_low=found.machining_low,
            machining_high=found.machining_high,
        ),
    }


def _foundry(line: FoundryTolerance) -> dict[str, Any]:
    length, area = line.measure == "length", line.measure == "area"
    return {
        "feature": line.feature,
        "length_over": line.over if length else None,
        "length_to": line.to if length else None,
        "area_over": line.over if area else None,
        "area_to": line.to if area else None,
        **_named(tolerance=line.tolerance, share=line.share),
    }


def _report(row: Contraction) -> dict[str, Any]:
    return {
        "metal": row.metal,
        "report": row.report,
        "casting": row.casting,
        **_named(low=row.low, high=row.high),
    }


def _contraction(family: str, group: str) -> dict[str, Any]:
    low, high = contraction_range(family, group) or (None, None)
    return {
        "family": family,
        "group": group,
        "used": optional_cell("contraction", family_figure("contraction", family, group)),
        "low": low,
        "high": high,
        "reports": [_report(row) for row in contractions(family, None if group == ANY else group)],
    }


@resource(
    "GET",
    "/v1/allowances",
    operation="get_allowances",
    tag=TAG,
    summary="Tolerances, machining allowances, draft and contraction",
    description="By size and grade how near a raw casting comes to its drawing and what is left for "
    "machining; which grades a way of moulding holds; draft; contraction by metal as the sources report it "
    "and as calculations take it.",
    answer=AllowancesResult,
)
def allowances() -> dict[str, Any]:
    groups = dict.fromkeys((row.family, row.group) for row in every_contraction())
    return {
        "casting_tolerances": [_step(step) for step in casting_steps()],
        "casting_grades": [_grades(found) for found in grade_ranges()],
        "foundry_tolerances": [_foundry(line) for line in foundry_tolerances()],
        "machining_allowances": [_step(step) for step in machining_steps()],
        "machining_practice": [
            {"id": found.id, "family": found.family, **_named(low=found.low, high=found.high)}
            for found in machining_practice()
        ],
        "draft": [
            {
                "id": found.id,
                **_named(
                    low=found.low,
                    high=found.high,
                    taper_low=found.taper_low,
                    taper_high=found.taper_high,
                ),
            }
            for found in drafts()
        ],
        "draft_by_depth": [
            {"draw": found.draw, "draft": cell_of("draft", found.draft)} for found in draft_depths()
        ],
        "contraction": [_contraction(family, group) for family, group in groups],
    }
