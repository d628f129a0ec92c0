"""Junctions: which walls meet, what was assumed, what the circle says, and how much it may say of time."""

import math
import random
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourwright_service.engine.answer import Answer
from pourwright_service.engine.decide.heat import MouldCase
from pourwright_service.engine.geometry.sections import Join, Section, SectionFault
from tests.engine.castings import ALLOY_IDS, castings, cube, freeze, section, times
from tests.engine.heat_solvers import junction_delay


def wall(name: str, thickness: float, *joins: Join, **told: Any) -> Section:
    """A long wall of 100 mm by 200 mm, thickness in mm."""
    return section("plate", name, length=200.0, width=100.0, thickness=thickness, joins=joins, **told)


def rib(thickness: float, **told: Any) -> Section:
    """A rib of 60 mm that stands on the wall with its lower edge."""
    join = Join(to="wall", area=200.0 * thickness * 1e-6, face="bottom", **told)
    return section("bar", "rib", length=200.0, width=thickness, height=60.0, joins=(join,))


def junction(*sections: Section, **told: Any) -> dict[str, Any]:
    (one,) = freeze(*sections, **told).result["junctions"]
    found: dict[str, Any] = one
    return found


def verdicts(answer: Answer) -> dict[str, str]:
    ours = ("junction-hot-spot", "fillet-not-sharp", "fillet-not-large")
    return {check.kind.id: check.verdict for check in answer.checks if check.kind.id in ours}


# --- which walls meet --------------------------------------------------------------------------------


def test_a_rib_on_a_wall_is_a_tee_of_their_thicknesses() -> None:
    found = junction(wall("wall", 20.0), rib(20.0, fillet=0.010))
    assert (found["kind"], found["wall"], found["branch"]) == ("tee", "wall", "rib")
    assert found["wall_thickness"] == pytest.approx(0.020)
    assert found["branch_thickness"] == pytest.approx(0.020)
    # Derived, exact geometry: 1.5 walls with a fillet of half the wall.
    assert found["circle"] == pytest.approx(0.030)
    assert found["circle_ratio"] == pytest.approx(1.5)
    assert found["most_time_ratio"] == pytest.approx(2.25)


def test_a_join_told_by_either_side_or_both_is_the_same_junction() -> None:
    told = rib(12.0, fillet=0.004)
    (join,) = told.joins
    other = wall("wall", 20.0, Join(to="rib", area=join.area, fillet=0.004))
    alone = replace(told, joins=(replace(join, fillet=None),))
    expected = junction(wall("wall", 20.0), told)
    assert junction(other, alone) == expected
    assert junction(other, told) == expected


def test_a_block_on_a_plate_is_no_hot_spot_of_its_own() -> None:
    """The block is heavier than the junction: its own section tells when it freezes."""
    block = section(
        "bar", "block", length=60.0, width=40.0, height=24.0, joins=(Join(to="wall", area=24e-4),)
    )
    found = junction(wall("wall", 12.0), block)
    assert found["kind"] == "tee"
    assert found["branch_thickness"] == pytest.approx(0.040)
    assert found["circle_ratio"] == pytest.approx(1.0)


def test_a_rib_as_large_as_an_edge_still_stands_on_the_plate() -> None:
    """A shared area that the plate's edge has too is chance, unless the caller names the face."""
    standing = section(
        "bar", "rib", length=200.0, width=20.0, height=60.0, joins=(Join(to="wall", area=4e-3),)
    )
    assert junction(wall("wall", 20.0), standing)["kind"] == "tee"
    named = wall("wall", 20.0, Join(to="rib", area=4e-3, face="left"))
    found = junction(named, replace(standing, joins=(Join(to="wall", area=4e-3, face="bottom"),)))
    assert found["kind"] == "straight"


def test_bars_end_to_end_go_on_in_each_other_and_an_angle_makes_a_corner() -> None:
    def bars(**told: Any) -> tuple[Section, Section]:
        sizes = {"length": 200.0, "width": 20.0, "height": 20.0}
        join = Join(to="second", area=4e-4, **told)
        return section("bar", "first", joins=(join,), **sizes), section("bar", "second", **sizes)

    straight = junction(*bars())
    assert (straight["kind"], straight["circle_ratio"], straight["fillet"]) == ("straight", 1.0, None)
    bent = junction(*bars(angle=math.pi / 2, fillet=0.0))
    assert bent["kind"] == "corner"
    assert bent["circle_ratio"] == pytest.approx(1.1716, abs=5e-5)
    assert junction(*bars(kind="corner", fillet=0.0))["circle"] == bent["circle"]
    assert junction(*bars(kind="cross", fillet=0.0))["circle_ratio"] == pytest.approx(math.sqrt(2.0))
    assert junction(*bars(kind="wye", fillet=0.0))["circle_ratio"] == pytest.approx(2.0 / math.sqrt(3.0))


def test_the_wall_behind_a_named_face_counts() -> None:
    """A plate that carries a rib on its narrow side is as thick there as it is wide."""
    join = Join(to="rib", area=5e-4, face="left")
    stub = section("bar", "rib", length=50.0, width=10.0, height=60.0, joins=(Join(to="wall", area=5e-4),))
    found = junction(wall("wall", 20.0, join), stub)
    assert found["wall_thickness"] == pytest.approx(0.100)
    boss = section("cylinder", "boss", diameter=20.0, height=30.0, joins=(Join(to="tube", area=3.1416e-4),))
    pipe = section("tube", "tube", outer_diameter=80.0, inner_diameter=60.0, height=200.0)
    assert junction(pipe, boss)["wall_thickness"] == pytest.approx(0.010)


# --- what was assumed, and what is judged ----------------------------------------------------------------


def test_what_nobody_said_stands_in_the_defaults() -> None:
    answer = freeze(wall("wall", 20.0), rib(12.0))
    chosen = {one.pointer: one.value for one in answer.defaults}
    assert chosen["/sections/1/joins/0/kind"] == "tee"
    assert chosen["/sections/1/joins/0/angle"] == pytest.approx(math.pi / 2)
    # A third of the thinner wall (common practice, no source).
    assert chosen["/sections/1/joins/0/fillet"] == pytest.approx(0.004)
    told = freeze(wall("wall", 20.0), rib(12.0, kind="tee", angle=math.pi / 2, fillet=0.004))
    assert not any("/joins/" in one.pointer for one in told.defaults)
    assert told.result == answer.result


def test_junctions_are_told_without_a_mould() -> None:
    answer = freeze(wall("wall", 20.0), rib(20.0, fillet=0.0), mould=MouldCase())
    assert answer.verdict == "unknown"
    (found,) = answer.result["junctions"]
    assert found["circle_ratio"] == pytest.approx(1.25)
    assert found["most_freezing_time"] is None
    assert verdicts(answer)["fillet-not-sharp"] == "warn"


@pytest.mark.parametrize(
    ("fillet", "hot", "sharp", "large"),
    [
        (0.0, "pass", "warn", "pass"),
        (0.006, "pass", "warn", "pass"),
        (0.020 / 3, "pass", "pass", "pass"),
        (0.010, "pass", "pass", "pass"),
        (0.0101, "warn", "pass", "warn"),
        (0.020, "warn", "pass", "warn"),
    ],
)
def test_fillets_of_a_third_to_half_the_wall_pass(fillet: float, hot: str, sharp: str, large: str) -> None:
    """Common practice, no source. A design page of the American Foundry Society (afsinc.org,
    ItemNumber=6929) gives the whole wall for a T, another foundry (dz-machine.com) 0.40 to 0.67 of
    it; the circle is then 1.75 walls, and the warning shows it."""
    found = verdicts(freeze(wall("wall", 20.0), rib(20.0, fillet=fillet)))
    assert found == {"junction-hot-spot": hot, "fillet-not-sharp": sharp, "fillet-not-large": large}


def test_a_cross_of_equal_walls_is_warned_and_two_tees_are_not() -> None:
    assert verdicts(freeze(wall("wall", 20.0), rib(20.0, kind="cross")))["junction-hot-spot"] == "warn"
    assert verdicts(freeze(wall("wall", 20.0), rib(20.0)))["junction-hot-spot"] == "pass"


@pytest.mark.parametrize(
    ("join", "place", "code"),
    [
        ({"kind": "knot"}, "/kind", "not_a_choice"),
        ({"fillet": -1e-3}, "/fillet", "out_of_bounds"),
        ({"fillet": math.inf}, "/fillet", "out_of_bounds"),
        ({"angle": 0.1}, "/angle", "out_of_bounds"),
        ({"angle": 3.0}, "/angle", "out_of_bounds"),
        ({"kind": "cross", "angle": 1.5}, "/angle", "inconsistent"),
    ],
)
def test_a_junction_that_cannot_be(join: dict[str, Any], place: str, code: str) -> None:
    with pytest.raises(SectionFault) as caught:
        freeze(wall("wall", 20.0), rib(20.0, **join))
    found = [(fault.pointer, fault.code) for fault in caught.value.faults]
    assert found == [(f"/sections/1/joins/0{place}", code)]


@pytest.mark.parametrize(
    ("here", "there", "place"),
    [
        ({"kind": "tee"}, {"kind": "corner"}, "/kind"),
        ({"fillet": 0.004}, {"fillet": 0.008}, "/fillet"),
        ({"angle": 1.0}, {"angle": 1.5}, "/angle"),
    ],
)
def test_two_words_on_one_junction(here: dict[str, Any], there: dict[str, Any], place: str) -> None:
    told = wall("wall", 20.0, Join(to="rib", area=4e-3, **here))
    with pytest.raises(SectionFault) as caught:
        freeze(told, rib(20.0, **there))
    assert [fault.pointer for fault in caught.value.faults] == [f"/sections/1/joins/0{place}"]


# --- sections' own times stay --------------------------------------------------------------------------


@given(
    casting=castings(),
    kind=st.sampled_from([None, "straight", "corner", "tee", "cross", "wye"]),
    fillet=st.none() | st.floats(0.0, 0.05),
    order=st.randoms(use_true_random=False),
)
@settings(max_examples=60, deadline=None)
def test_a_junction_changes_no_section_and_no_order_of_telling_changes_it(
    casting: tuple[Section, ...], kind: str | None, fillet: float | None, order: random.Random
) -> None:
    told = [
        replace(one, joins=tuple(replace(join, kind=kind, fillet=fillet) for join in one.joins))
        for one in casting
    ]
    plain, detailed = freeze(*casting), freeze(*told)
    assert times(detailed) == times(plain)
    assert detailed.result["feed_path"] == plain.result["feed_path"]
    order.shuffle(told)
    mixed = freeze(*told)
    assert mixed.result["junctions"] == detailed.result["junctions"]
    assert mixed.verdict == detailed.verdict
    for one in detailed.result["junctions"]:
        assert one["circle_ratio"] >= 1.0 - 1e-9
        own = times(detailed)
        assert one["most_freezing_time"] >= min(own[one["wall"]], own[one["branch"]]) * (1.0 - 1e-9)


# --- how much the circle may say of time ---------------------------------------------------------------


METALS = {
    # Round figures of the two groups, SI: an aluminium-silicon alloy and a silicon bronze.
    "aluminium": {
        "conductivity": 150.0,
        "density": 2450.0,
        "specific_heat": 1050.0,
        "latent_heat": 446e3,
        "solidus": 823.0,
        "liquidus": 888.0,
    },
    "bronze": {
        "conductivity": 40.0,
        "density": 7700.0,
        "specific_heat": 450.0,
        "latent_heat": 230e3,
        "solidus": 1139.0,
        "liquidus": 1244.0,
    },
}


@pytest.mark.parametrize("metal", sorted(METALS))
@pytest.mark.parametrize(
    ("kind", "low", "high"), [("corner", 1.02, 1.25), ("tee", 1.15, 1.6), ("cross", 1.25, 1.9)]
)
def test_the_square_of_the_circle_is_the_most_by_which_a_junction_is_late(
    metal: str, kind: str, low: float, high: float
) -> None:
    """Conduction in two dimensions, in steps: equal walls of 20 mm in sand, sharp and with a fillet
    of half the wall. The circle's square is above it, and a fillet delays less than the circle grows.
    """
    sizes = {"length": 200.0, "width": 20.0, "height": 20.0}
    for fillet in (0.0, 0.010):
        late = junction_delay(METALS[metal], kind, 0.020, fillet)
        join = Join(to="second", area=4e-4, kind=kind, fillet=fillet)
        bars = section("bar", "first", joins=(join,), **sizes), section("bar", "second", **sizes)
        assert low < late < high
        assert late < junction(*bars)["most_time_ratio"]


def test_a_hot_spot_is_later_with_every_alloy_by_the_same_ratio() -> None:
    ratios = {
        junction(wall("wall", 20.0), rib(20.0, fillet=0.010), alloy=alloy)["most_time_ratio"]
        for alloy in ALLOY_IDS
    }
    assert max(ratios) - min(ratios) < 1e-12


def test_a_cube_alone_has_no_junction() -> None:
    assert freeze(cube(40.0)).result["junctions"] == []
