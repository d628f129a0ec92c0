"""Joins between sections, and everything that sections can get wrong."""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourwright_service.engine.geometry.sections import (
    DIMENSIONS,
    Core,
    Fault,
    Join,
    Section,
    SectionFault,
    SectionMeasure,
    feed_graph,
    measure,
)


def section(shape: str, name: str = "part", **told: Any) -> Section:
    sizes = {size: told.pop(size) for size in DIMENSIONS[shape] if size in told}
    return Section(name=name, shape=shape, dimensions=sizes, **told)


FOOT = section("plate", "foot", length=0.18, width=0.07, thickness=0.012)
BLOCK = section("bar", "block", length=0.06, width=0.04, height=0.024)
HORN = section("cone", "horn", lower_diameter=0.026, upper_diameter=0.022, height=0.06)
SHARED = 0.06 * 0.04
ROOT = math.pi / 4 * 0.026**2


def joined(body: Section, *joins: Join) -> Section:
    return replace(body, joins=joins)


def by_name(parts: Sequence[Section]) -> dict[str, SectionMeasure]:
    return {found.name: found for found in measure(parts)}


def test_a_join_leaves_both_bodies() -> None:
    apart = by_name([FOOT, BLOCK])
    together = by_name([FOOT, joined(BLOCK, Join(to="foot", area=SHARED))])
    for name in ("foot", "block"):
        assert together[name].cooling_area == pytest.approx(apart[name].cooling_area - SHARED)
        assert together[name].volume == apart[name].volume
    assert together["block"].face("bottom").state == "joined"
    assert together["foot"].flat_area("top") == pytest.approx(0.18 * 0.07 - SHARED)
    assert together["foot"].flat_area("bottom") == pytest.approx(0.18 * 0.07)
    assert together["block"].flat_area("top") == pytest.approx(SHARED)


def test_the_edges_of_a_joined_face_leave_and_others_stay() -> None:
    apart = by_name([FOOT, BLOCK])
    together = by_name([FOOT, joined(BLOCK, Join(to="foot", area=SHARED))])
    around_foot_of_block = 2 * (0.06 + 0.04)
    lost = apart["block"].curvature - together["block"].curvature
    assert lost == pytest.approx(0.602 * around_foot_of_block, rel=1e-4)
    assert together["foot"].curvature == pytest.approx(apart["foot"].curvature)


def test_a_rounded_area_still_fits_the_face() -> None:
    found = by_name([FOOT, joined(HORN, Join(to="foot", area=531e-6))])
    assert found["horn"].face("bottom").cooling_area == 0.0
    assert found["horn"].cooling_area == pytest.approx(
        found["horn"].face("side").area + found["horn"].face("top").area
    )


def test_a_join_on_a_curved_wall_takes_its_share_of_curvature() -> None:
    shaft = section("cylinder", "shaft", diameter=0.05, height=0.5)
    boss = joined(
        section("cylinder", "boss", diameter=0.02, height=0.02), Join(to="shaft", area=math.pi * 1e-4)
    )
    apart, together = by_name([shaft, replace(boss, joins=())]), by_name([shaft, boss])
    share = math.pi * 1e-4 / (math.pi * 0.05 * 0.5)
    lost = apart["shaft"].curvature - together["shaft"].curvature
    assert lost == pytest.approx(math.pi * 0.5 * share)


def test_a_face_said_to_be_joined_is_not_taken_off_twice() -> None:
    said = replace(BLOCK, faces={"bottom": "joined"})
    once = by_name([FOOT, joined(said, Join(to="foot", area=SHARED))])
    assert once["block"].cooling_area == pytest.approx(2 * 0.1 * 0.024 + SHARED)
    assert once["foot"].cooling_area == pytest.approx(by_name([FOOT])["foot"].cooling_area - SHARED)


def test_a_named_face_bears_the_join() -> None:
    found = by_name([FOOT, joined(BLOCK, Join(to="foot", area=1e-4, face="left"))])
    assert found["block"].face("left").joined_area == pytest.approx(1e-4)
    assert found["block"].flat_area("bottom") == pytest.approx(SHARED)


def test_a_join_larger_than_any_face_goes_over_several() -> None:
    found = by_name([FOOT, joined(BLOCK, Join(to="foot", area=3e-3))])
    assert found["block"].cooling_area == pytest.approx(2 * SHARED + 2 * 0.1 * 0.024 - 3e-3)


# --- properties ---------------------------------------------------------------------------------

AREAS = st.floats(1e-6, 5e-4)


@st.composite
def castings(draw: st.DrawFn) -> list[Section]:
    count = draw(st.integers(2, 6))
    parts = []
    for number in range(count):
        size = draw(st.floats(0.05, 0.3))
        shape = draw(st.sampled_from(["bar", "cylinder", "plate"]))
        sizes = dict.fromkeys(DIMENSIONS[shape], size) | ({"thickness": 0.02} if shape == "plate" else {})
        others = draw(st.sets(st.integers(0, number - 1))) if number else set()
        joins = tuple(Join(to=f"s{other}", area=draw(AREAS)) for other in sorted(others))
        parts.append(Section(name=f"s{number}", shape=shape, dimensions=sizes, joins=joins))
    return parts


@given(castings(), st.randoms(use_true_random=False))
def test_order_does_not_matter(parts: list[Section], chance: Any) -> None:
    mixed = [replace(part, joins=tuple(chance.sample(part.joins, len(part.joins)))) for part in parts]
    chance.shuffle(mixed)
    assert by_name(mixed) == by_name(parts)
    assert feed_graph(mixed) == feed_graph(parts)


@given(castings())
def test_a_join_may_be_told_from_either_side_or_both(parts: list[Section]) -> None:
    told = {part.name: list(part.joins) for part in parts}
    reverse: dict[str, list[Join]] = {part.name: [] for part in parts}
    for part in parts:
        for join in part.joins:
            reverse[join.to].append(Join(to=part.name, area=join.area))
    other = [replace(part, joins=tuple(reverse[part.name])) for part in parts]
    both = [replace(part, joins=tuple(told[part.name] + reverse[part.name])) for part in parts]
    assert by_name(other) == by_name(parts) == by_name(both)


@given(castings())
def test_what_joins_take_off_is_twice_the_shared_area(parts: list[Section]) -> None:
    apart = measure([replace(part, joins=()) for part in parts])
    lost = sum(found.cooling_area for found in apart) - sum(found.cooling_area for found in measure(parts))
    shared = sum(join.area for part in parts for join in part.joins)
    assert lost == pytest.approx(2 * shared, rel=1e-9, abs=1e-12)


# --- faults --------------------------------------------------------------------------------------


def faults(*parts: Section) -> tuple[Fault, ...]:
    with pytest.raises(SectionFault) as caught:
        measure(parts)
    return caught.value.faults


TUBE = {"outer_diameter": 0.05, "inner_diameter": 0.03, "height": 0.04}
CYLINDER = {"diameter": 0.05, "height": 0.04}

WRONG = [
    ("no such shape", Section(name="a", shape="wedge", dimensions={}), "/shape", "not_a_choice"),
    ("missing size", section("cylinder", diameter=0.05), "/height", "missing_field"),
    (
        "foreign size",
        Section(name="a", shape="sphere", dimensions={"diameter": 0.1, "height": 0.1}),
        "/height",
        "unknown_field",
    ),
    ("nothing thick", section("cylinder", diameter=0.05, height=0.0), "/height", "out_of_bounds"),
    ("not a number", section("cylinder", diameter=math.nan, height=0.1), "/diameter", "out_of_bounds"),
    ("a mountain", section("cylinder", diameter=1e300, height=0.1), "/diameter", "out_of_bounds"),
    (
        "bore too wide",
        section("tube", **{**TUBE, "inner_diameter": 0.05}),
        "/inner_diameter",
        "inconsistent",
    ),
    (
        "ring without a hole",
        section("ring", section_width=0.1, section_height=0.1, mean_diameter=0.1),
        "/section_width",
        "inconsistent",
    ),
    ("no modulus", section("custom", volume=1e-12, cooling_area=1e3), "/cooling_area", "inconsistent"),
    ("no such face", section("sphere", diameter=0.1, faces={"top": "joined"}), "/faces/top", "not_a_choice"),
    (
        "no such state",
        section("sphere", diameter=0.1, faces={"surface": "warm"}),
        "/faces/surface",
        "not_a_choice",
    ),
    (
        "all blocked",
        section("cylinder", **CYLINDER, faces={"ends": "joined", "side": "insulated"}),
        "/faces",
        "inconsistent",
    ),
    (
        "edges of a bar",
        section("bar", length=1, width=1, height=1, edges_cool=True),
        "/edges_cool",
        "inconsistent",
    ),
    ("no pieces", section("sphere", diameter=0.1, count=0), "/count", "out_of_bounds"),
    (
        "a core for nothing",
        section("sphere", diameter=0.1, core=Core(shape="sphere", modulus=0.01)),
        "/core",
        "inconsistent",
    ),
    (
        "no such core",
        section("tube", **TUBE, faces={"inside": "cored"}, core=Core(shape="star", modulus=0.01)),
        "/core/shape",
        "not_a_choice",
    ),
    (
        "a core of no size",
        section("tube", **TUBE, faces={"inside": "cored"}, core=Core(shape="slab", modulus=0.0)),
        "/core/modulus",
        "out_of_bounds",
    ),
]


@pytest.mark.parametrize(("why", "wrong", "place", "code"), WRONG)
def test_a_section_that_cannot_be(why: str, wrong: Section, place: str, code: str) -> None:
    found = faults(replace(wrong, name="a"))
    assert [(fault.pointer, fault.code) for fault in found] == [(f"/sections/0{place}", code)], why


JOINS = [
    ("nobody there", (Join(to="hull", area=1e-4),), "/to", "not_a_choice"),
    ("itself", (Join(to="horn", area=1e-4),), "/to", "inconsistent"),
    ("no area", (Join(to="foot", area=0.0),), "/area", "out_of_bounds"),
    ("face too small", (Join(to="foot", area=6e-4, face="bottom"),), "/area", "inconsistent"),
    ("no such face", (Join(to="foot", area=1e-4, face="left"),), "/face", "not_a_choice"),
    ("body too small", (Join(to="foot", area=7e-3),), "/area", "inconsistent"),
]


@pytest.mark.parametrize(("why", "joins", "place", "code"), JOINS)
def test_a_join_that_cannot_be(why: str, joins: tuple[Join, ...], place: str, code: str) -> None:
    found = faults(FOOT, joined(HORN, *joins))
    assert [(fault.pointer, fault.code) for fault in found] == [(f"/sections/1/joins/0{place}", code)], why


def test_a_join_that_is_told_twice_or_in_two_ways() -> None:
    twice = joined(HORN, Join(to="foot", area=ROOT), Join(to="foot", area=ROOT))
    assert [fault.pointer for fault in faults(FOOT, twice)] == ["/sections/1/joins/1/to"]
    here, there = joined(HORN, Join(to="foot", area=ROOT)), joined(FOOT, Join(to="horn", area=2 * ROOT))
    assert [fault.pointer for fault in faults(here, there)] == ["/sections/1/joins/0/area"]


def test_several_pieces_have_no_joins() -> None:
    horns = replace(joined(HORN, Join(to="foot", area=ROOT)), count=2)
    feet = replace(FOOT, count=2)
    for parts in ((FOOT, horns), (feet, joined(HORN, Join(to="foot", area=ROOT)))):
        assert [fault.pointer for fault in faults(*parts)] == ["/sections/1/joins/0"]


def test_all_faults_are_told_at_once() -> None:
    found = faults(
        FOOT,
        FOOT,
        joined(HORN, Join(to="hull", area=1e-4)),
        section("tube", "pipe", outer_diameter=0.05, inner_diameter=0.06, height=0.04),
    )
    assert [fault.pointer for fault in found] == [
        "/sections/1/name",
        "/sections/2/joins/0/to",
        "/sections/3/inner_diameter",
    ]
    assert found[1].accepted == ("foot", "pipe")


def test_faults_point_into_the_larger_request() -> None:
    with pytest.raises(SectionFault, match="/part/sections/0/height"):
        measure([section("cylinder", diameter=0.05)], "/part/sections")
