"""How near a raw casting comes to its drawing, and what is left on it to be machined."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from .reading import Cell, Lazy, Row, read_table, to_si

GRADES = tuple(range(7, 17))
"""Grades of casting tolerance, fine to coarse."""

MACHINING_GRADES = "ABCDEFGHJK"
"""Grades of machining allowance, small to large; there is no I."""


@dataclass(frozen=True, slots=True)
class SizeStep:
    """Sizes over ``over`` up to and with ``to`` (m), and the figure (m) of each grade.

    ``finer`` says how many grades finer than those of large sizes short runs hold here.
    """

    over: float
    to: float
    figures: Mapping[str, Cell]
    finer: Cell | None = None


@dataclass(frozen=True, slots=True)
class GradeRange:
    """The grades that a way of moulding holds with a family of metal, fine and coarse end.

    Casting grades are those of sizes over 25 mm; None where none were found. Machining grades count
    from 1 for A.
    """

    process: str
    family: str
    low: Cell | None
    high: Cell | None
    machining_low: Cell | None
    machining_high: Cell | None

    @property
    def usual(self) -> int | None:
        """The middle casting grade, the coarser one of two."""
        return _middle(self.low, self.high)

    @property
    def usual_machining(self) -> str | None:
        """The middle machining grade as a letter, the larger one of two."""
        middle = _middle(self.machining_low, self.machining_high)
        return None if middle is None else MACHINING_GRADES[middle - 1]


@dataclass(frozen=True, slots=True)
class FoundryTolerance:
    """One line of a job foundry's list, to either side: ``tolerance`` (m), or ``share`` of the length.

    ``over`` and ``to`` bound what ``measure`` says, SI (m or m2): to is None where it is open.
    """

    feature: str
    measure: str
    over: float
    to: float | None
    tolerance: Cell | None
    share: Cell | None


@dataclass(frozen=True, slots=True)
class MachiningPractice:
    """Metal that shops leave on a face (m); ``high`` is None where only the least is told."""

    id: str
    family: str
    low: Cell
    high: Cell | None


def _middle(low: Cell | None, high: Cell | None) -> int | None:
    return None if low is None or high is None else math.ceil((low.value + high.value) / 2)


def _steps(table: str) -> list[SizeStep]:
    return [
        SizeStep(
            to_si(float(row.words["over"]), "mm"),
            to_si(float(row.words["to"]), "mm"),
            {name.removeprefix("grade_"): cell for name, cell in row.cells.items() if name != "finer"},
            row.cells.get("finer"),
        )
        for row in read_table(table)
    ]


_STEPS: Lazy[list[SizeStep]] = Lazy(
    lambda: {name: _steps(name) for name in ("casting_tolerances", "machining_allowances")}
)
_GRADES: Lazy[GradeRange] = Lazy(lambda: {row.key: _range(row) for row in read_table("casting_grades")})


def _range(row: Row) -> GradeRange:
    columns = ("low", "high", "machining_low", "machining_high")
    return GradeRange(row.words["process"], row.words["family"], *(row.cells.get(name) for name in columns))


def casting_steps() -> list[SizeStep]:
    """Tolerances by size and grade ("7" to "16"), small sizes first."""
    return _STEPS["casting_tolerances"]


def machining_steps() -> list[SizeStep]:
    """Machining allowances by size and grade ("A" to "K"), small sizes first."""
    return _STEPS["machining_allowances"]


def grade_ranges() -> list[GradeRange]:
    """Every way of moulding with every family that the table has."""
    return list(_GRADES.values())


def _figure(steps: list[SizeStep], grade: str, size: float) -> Cell | None:
    if not size > 0.0:
        raise ValueError(f"a size is more than nothing, not {size!r}")
    return next((step.figures.get(grade) for step in steps if step.over < size <= step.to), None)


def tolerance(grade: int, size: float) -> Cell | None:
    """Total tolerance (m, half of it to either side) of a nominal ``size`` (m) in a casting grade.

    None for sizes over 1 m and where the table is empty. ValueError for a size that is not positive.
    """
    return _figure(casting_steps(), str(grade), size)


def machining_allowance(grade: str, size: float) -> Cell | None:
    """Metal to leave on each machined face (m), by grade and the casting's largest ``size`` (m).

    None for sizes over 0.63 m and for a grade that does not exist. ValueError for a size that is not
    positive.
    """
    return _figure(machining_steps(), grade, size)


def grade_range(process: str, family: str) -> GradeRange | None:
    """What a way of moulding holds with a family of metal; None where nothing was found."""
    return _GRADES.get(f"{process}/{family}")


def usual_grade(process: str, family: str, size: float) -> int | None:
    """The middle grade for a nominal ``size`` (m): finer for small sizes, never below 7."""
    found = grade_range(process, family)
    if found is None or found.usual is None:
        return None
    finer = next((step.finer for step in casting_steps() if step.over < size <= step.to), None)
    return max(found.usual - (round(finer.value) if finer else 0), GRADES[0])


_MEASURES = {"in": 0.0254, "in2": 0.0254**2}


def foundry_tolerances() -> Iterator[FoundryTolerance]:
    """A job foundry's own list, in the order it prints."""
    for row in read_table("foundry_tolerances"):
        words, unit = row.words, _MEASURES[row.words["measure"]]
        yield FoundryTolerance(
            words["feature"],
            "length" if words["measure"] == "in" else "area",
            float(words["over"]) * unit,
            float(words["to"]) * unit if "to" in words else None,
            row.cells.get("tolerance"),
            row.cells.get("share"),
        )


def machining_practice() -> Iterator[MachiningPractice]:
    """What shops leave for machining, without grades."""
    for row in read_table("machining_practice"):
        yield MachiningPractice(row.key, row.words["family"], row.cells["low"], row.cells.get("high"))
