"""Tolerances, machining allowances, draft and contraction: orderings, lookups, printed cases."""

import math
from itertools import pairwise

import pytest

from pourwright_service.engine.tables.allowances import (
    contraction_range,
    contractions,
    draft_depths,
    drafts,
    every_contraction,
)
from pourwright_service.engine.tables.alloys import FAMILIES
from pourwright_service.engine.tables.families import family_figure
from pourwright_service.engine.tables.reading import Cell, to_si
from pourwright_service.engine.tables.tolerances import (
    GRADES,
    MACHINING_GRADES,
    SizeStep,
    casting_steps,
    foundry_tolerances,
    grade_range,
    grade_ranges,
    machining_allowance,
    machining_practice,
    machining_steps,
    tolerance,
    usual_grade,
)

HAND, BONDED = "hand-moulded clay-bonded sand", "chemically bonded sand"


def value(cell: Cell | None) -> float:
    assert cell is not None
    return cell.value


@pytest.mark.parametrize(
    ("steps", "grades"),
    [(casting_steps(), [str(grade) for grade in GRADES]), (machining_steps(), list(MACHINING_GRADES))],
    ids=["casting", "machining"],
)
def test_figures_grow_with_size_and_grade(steps: list[SizeStep], grades: list[str]) -> None:
    assert [step.over for step in steps[1:]] == [step.to for step in steps[:-1]]
    for step in steps:
        row = [step.figures[grade].value for grade in grades if grade in step.figures]
        assert row == sorted(row)
        assert len(row) > 5
    for grade in grades:
        column = [step.figures[grade].value for step in steps if grade in step.figures]
        assert column == sorted(column)
        assert column[-1] > column[0]


def test_a_casting_tolerance_grows_by_a_root_of_two_or_so_a_grade() -> None:
    """Common practice, no source: grades of tolerance are a geometric series, rounded."""
    for step in casting_steps():
        row = [step.figures[str(grade)].value for grade in GRADES if str(grade) in step.figures]
        for fine, coarse in pairwise(row):
            assert 1.15 < coarse / fine < 1.65


def test_the_raw_size_of_a_printed_case() -> None:
    """80 mm machined on both faces, allowance grade G, tolerance grade 12: 80 + 2 x 1.4 + 6.0/2 = 85.8 mm,
    by the rule of ISO 8062 (the rule from memory; both figures are in the printed tables)."""
    raw = 0.080 + 2 * value(machining_allowance("G", 0.080)) + value(tolerance(12, 0.080)) / 2
    assert raw == pytest.approx(0.0858, abs=1e-9)


def test_a_size_on_the_edge_of_a_step_belongs_below() -> None:
    assert value(tolerance(12, 0.010)) == 0.0042
    assert value(tolerance(12, 0.0101)) == 0.0044
    assert value(machining_allowance("G", 0.040)) == 0.0005
    assert value(machining_allowance("G", 0.041)) == 0.0007


def test_there_is_no_figure_beyond_the_tables() -> None:
    assert tolerance(13, 0.010) is None
    assert tolerance(6, 0.050) is None
    assert tolerance(12, 1.2) is None
    assert machining_allowance("I", 0.050) is None
    assert machining_allowance("G", 0.7) is None
    for size in (0.0, -0.1, math.nan):
        with pytest.raises(ValueError, match="size"):
            tolerance(12, size)


def test_machining_over_100_mm_is_from_memory() -> None:
    for step in machining_steps():
        grades = {cell.grade for cell in step.figures.values()}
        assert grades == ({"from memory"} if step.over >= 0.1 else {"data sheet"})


def test_grades_of_a_way_of_moulding() -> None:
    """ISO/CD 8062-2, table A.2: hand-moulded light metals 11 to 13, copper alloys 13 to 15; up to 10 mm three
    grades finer, up to 16 two, up to 25 one."""
    for found in grade_ranges():
        assert found.family in (*FAMILIES, "steel")
        for low, high, least, most in (
            (found.low, found.high, 7, 16),
            (found.machining_low, found.machining_high, 1, len(MACHINING_GRADES)),
        ):
            if low is not None:
                assert least <= low.value < value(high) <= most
    for family in FAMILIES:
        hand, bonded = grade_range(HAND, family), grade_range(BONDED, family)
        assert (hand is None) == (bonded is None)
        if hand and bonded:
            assert value(bonded.low) <= value(hand.low)
    assert [usual_grade(HAND, "aluminium", size) for size in (0.1, 0.02, 0.015, 0.01)] == [12, 11, 10, 9]
    assert usual_grade(HAND, "copper", 0.1) == 14
    assert usual_grade(BONDED, "copper", 0.1) == 12
    assert usual_grade("plaster", "copper", 0.1) is None
    assert usual_grade("machine-moulded sand", "iron", 0.1) is None
    machine, hand = grade_range("machine-moulded sand", "iron"), grade_range(HAND, "iron")
    assert machine is not None
    assert hand is not None
    assert (machine.usual_machining, hand.usual_machining, machine.usual) == ("F", "G", None)


def test_a_job_foundry_promises_more_than_hand_moulding_holds() -> None:
    """A job foundry's +/- 0.030 in (0.76 mm) to 3 in against grades 11 to 15: three to nine times finer."""
    lines = list(foundry_tolerances())
    sizes = [line for line in lines if line.feature == "size"]
    assert [value(line.tolerance) for line in sizes] == sorted(value(line.tolerance) for line in sizes)
    first = sizes[0]
    assert first.to == pytest.approx(3 * 0.0254)
    three_inches = 3 * 0.0254
    both_sides = 2 * value(first.tolerance)
    for grade, times in ((11, 2.8), (15, 9.2)):
        assert value(tolerance(grade, three_inches)) / both_sides == pytest.approx(times, rel=0.05)
    for line in lines:
        assert (line.tolerance is None) != (line.share is None)
        assert line.to is None or line.to > line.over
    parting = [line for line in lines if line.measure == "area"]
    assert len(parting) == 4
    assert parting[-1].to == pytest.approx(500 * 0.0254**2)


def test_iron_keeps_a_least_for_machining() -> None:
    """Foundry lexicon: never below 2.5 mm; Dooley: small iron 1/16 to 1/8 in, steel 1/4 to 1/2 in."""
    found = {row.id: row for row in machining_practice()}
    assert found["iron at least"].low.value == 0.0025
    assert found["iron at least"].high is None
    for row in found.values():
        assert row.high is None or row.high.value > row.low.value
    assert value(found["steel"].high) == pytest.approx(0.0127)


# --- draft ------------------------------------------------------------------------------------


def test_draft_by_depth_follows_the_root_of_the_depth() -> None:
    """stpaulfoundry.com prints 0.030 to 0.096 in for 1 to 10 in; 0.030 sqrt(draw) fits within 1.5 %."""
    rows = list(draft_depths())
    assert len(rows) == 6
    for row in rows:
        inches = row.draw / 0.0254
        assert row.draft.printed == pytest.approx(0.030 * math.sqrt(inches), rel=0.015)


def test_draft_angles_and_tapers() -> None:
    """A chart of draft prints 0.175 mm for 10 mm at 1 degree and 1.051 mm at 6 (scribd 420845523)."""
    for degrees, out in ((1, 0.175), (2, 0.349), (3, 0.524), (6, 1.051)):
        assert 10 * math.tan(to_si(degrees, "deg")) == pytest.approx(out, abs=6e-4)
    found = {draft.id: draft for draft in drafts()}
    assert value(found["cope pocket"].low) > value(found["outside"].low)
    for draft in found.values():
        for low, high in ((draft.low, draft.high), (draft.taper_low, draft.taper_high)):
            assert (low is None) == (high is None)
            assert low is None or low.value <= value(high)
    assert value(found["rough work"].taper_low) > value(found["precise work"].taper_high)


# --- contraction ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fraction", "mm_per_m"),
    [(3 / 32, 7.81), (1 / 8, 10.42), (5 / 32, 13.02), (3 / 16, 15.63), (7 / 32, 18.23), (1 / 4, 20.83)],
)
def test_inches_per_foot_as_millimetres_per_metre(fraction: float, mm_per_m: float) -> None:
    """By the definition of the foot: 12 inches."""
    assert to_si(fraction, "in/ft") == pytest.approx(to_si(mm_per_m, "mm/m"), abs=5.1e-6)


def test_what_calculations_take_lies_in_what_is_reported() -> None:
    for row in every_contraction():
        assert 0.005 < row.low.value <= row.high.value < 0.027, row
        used = family_figure("contraction", row.family, row.group)
        found = contraction_range(row.family, row.group)
        assert found is not None
        if used is not None and row.group != "malleable iron":
            assert found[0] - 1e-9 <= used.value <= found[1] + 1e-9, (row.family, row.group)


def test_a_group_without_reports_takes_its_family() -> None:
    assert contractions("aluminium", "aluminium-silicon") == contractions("aluminium", "any")
    assert contractions("copper", "nickel silver") == []
    assert contraction_range("cheese") is None
    assert contraction_range("zinc") == pytest.approx((0.013, 0.015))


def test_large_castings_contract_less_than_small_ones() -> None:
    """Hobby founders' list: aluminium 5/32 in/ft small, 1/8 in/ft large; a large mould holds back more."""
    small, large = ([r for r in every_contraction() if r.casting == size] for size in ("small", "large"))
    assert len(small) == len(large) == 1
    assert large[0].high.value < small[0].low.value
