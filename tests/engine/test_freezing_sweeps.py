"""Freezing: what must hold for any casting, swept over shapes, alloys, moulds, and the order of telling."""

import random
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourwright_service.engine.answer import Answer
from pourwright_service.engine.assess.freezing import (
    Body,
    Cooling,
    CoredFace,
)
from pourwright_service.engine.assess.freezing import freeze as freeze_body
from pourwright_service.engine.decide.freezing import FreezingCase, decide_freezing
from pourwright_service.engine.decide.heat import MouldCase
from pourwright_service.engine.decide.metal import metal_of
from pourwright_service.engine.geometry.sections import Join, Section
from pourwright_service.engine.ledger import Ledger
from tests.engine.castings import (
    ALLOY_IDS,
    MEDIA,
    castings,
    cube,
    freeze,
    grown,
    is_sound,
    plate,
    section,
    times,
)


@given(
    casting=castings(),
    alloy=st.sampled_from(ALLOY_IDS),
    medium=st.sampled_from(MEDIA),
    asked=st.sampled_from([None, True, False]),
)
@settings(max_examples=100, deadline=None)
def test_every_answer_is_finite_and_has_a_verdict(
    casting: tuple[Section, ...], alloy: str, medium: str, asked: bool | None
) -> None:
    answer = freeze(*casting, alloy=alloy, mould=MouldCase(medium=medium), curvature=asked)
    assert is_sound(answer)
    assert sorted(one["rank"] for one in answer.result["sections"]) == list(range(1, len(casting) + 1))
    for one in answer.result["sections"]:
        assert one["freezing_time"] > 0.0
        if one["core_factor"] is not None:
            assert 0.0 <= one["core_factor"] <= 1.0 + 1e-12


@given(casting=castings(3), alloy=st.sampled_from(ALLOY_IDS), doubled=st.floats(1.5, 4.0))
@settings(max_examples=40, deadline=None)
def test_twice_the_size_takes_four_times_as_long(
    casting: tuple[Section, ...], alloy: str, doubled: float
) -> None:
    told: dict[str, Any] = {"alloy": alloy, "pouring_temperature": 1700.0}
    small = times(freeze(*casting, **told))
    large = times(freeze(*(grown(one, doubled) for one in casting), **told))
    for name, time in small.items():
        assert large[name] == pytest.approx(doubled**2 * time, rel=1e-9)


def by_name(answer: Answer) -> dict[str, Any]:
    """All of a result, the sections by their names and without pointers into the request."""
    return {**answer.result, "sections": {one["name"]: one for one in answer.result["sections"]}}


def checked(answer: Answer) -> list[tuple[Any, ...]]:
    """What every check found, without its place in the request."""
    return sorted((c.kind.id, c.verdict, c.value, c.limit, repr(c.message)) for c in answer.checks)


@given(casting=castings(), alloy=st.sampled_from(ALLOY_IDS), order=st.randoms(use_true_random=False))
@settings(max_examples=40, deadline=None)
def test_the_order_of_sections_does_not_matter(
    casting: tuple[Section, ...], alloy: str, order: random.Random
) -> None:
    mixed = list(casting)
    order.shuffle(mixed)
    first, second = freeze(*casting, alloy=alloy), freeze(*mixed, alloy=alloy)
    assert by_name(second) == by_name(first)
    assert checked(second) == checked(first)
    assert second.verdict == first.verdict


@given(
    sizes=st.lists(st.sampled_from([30.0, 40.0, 50.0]), min_size=2, max_size=6),
    pairs=st.sets(st.tuples(st.integers(0, 5), st.integers(0, 5)), max_size=12),
    order=st.randoms(use_true_random=False),
)
@settings(max_examples=60, deadline=None)
def test_loops_and_ties_are_told_the_same_however_they_are_told(
    sizes: list[float], pairs: set[tuple[int, int]], order: random.Random
) -> None:
    """Equal cubes joined in rings: sections, joins and the side that tells a join in any order."""
    joined = {(min(p), max(p)) for p in pairs if p[0] != p[1] and max(p) < len(sizes)}

    def posed() -> Answer:
        joins: dict[int, list[Join]] = {number: [] for number in range(len(sizes))}
        for pair in sorted(joined):
            teller, other = order.sample(pair, 2)
            joins[teller].append(Join(to=f"s{other}", area=4e-5))
        parts = [
            cube(size, f"s{number}", joins=tuple(order.sample(joins[number], len(joins[number]))))
            for number, size in enumerate(sizes)
        ]
        return freeze(*order.sample(parts, len(parts)))

    first, second = posed(), posed()
    assert by_name(second) == by_name(first)
    assert checked(second) == checked(first)
    result = first.result
    starts = [step["start"] for step in result["feed_path"]]
    assert len(starts) == len(set(starts))
    assert {*starts, *result["apart"], result["last_to_freeze"]} == set(times(first))
    for step in result["feed_path"]:
        assert step["way"][:2] == [step["start"], step["end"]]
        assert step["way"][-1] == result["last_to_freeze"]
        assert len(step["way"]) == len(set(step["way"]))


@given(
    shape=st.sampled_from(["plate", "bar", "cylinder", "tube", "ring", "sphere", "cone", "hexagon"]),
    alloy=st.sampled_from(ALLOY_IDS),
    thick=st.floats(5.0, 60.0),
    more=st.floats(1.01, 3.0),
)
@settings(max_examples=80, deadline=None)
def test_a_thicker_section_freezes_later(shape: str, alloy: str, thick: float, more: float) -> None:
    """More metal across the way that the heat takes, everything else the same."""

    def time(size: float) -> float:
        sizes: dict[str, dict[str, float]] = {
            "plate": {"length": 300.0, "width": 250.0, "thickness": size},
            "bar": {"length": 300.0, "width": size, "height": size},
            "cylinder": {"diameter": size, "height": 300.0},
            "tube": {"outer_diameter": 100.0 + 2.0 * size, "inner_diameter": 100.0, "height": 300.0},
            "ring": {"section_width": size, "section_height": 300.0, "mean_diameter": 500.0},
            "sphere": {"diameter": size},
            "cone": {"lower_diameter": size, "upper_diameter": size / 2.0, "height": 300.0},
            "hexagon": {"across_flats": size, "height": 300.0},
        }
        told: dict[str, Any] = {"edges_cool": False} if shape == "plate" else {}
        answer = freeze(section(shape, **sizes[shape], **told), alloy=alloy, pouring_temperature=1700.0)
        return float(answer.result["freezing_time"])

    assert time(thick * more) > time(thick)


@given(alloy=st.sampled_from(ALLOY_IDS), share=st.floats(0.05, 0.8), more=st.floats(1.05, 1.2))
@settings(max_examples=40, deadline=None)
def test_more_joined_area_freezes_both_later(alloy: str, share: float, more: float) -> None:
    def posed(area: float) -> dict[str, float]:
        join = Join(to="foot", area=area, face="bottom")
        # Named faces: an area that some other face has by chance is taken to lie there.
        on_top = Join(to="block", area=area, face="top")
        foot = section("plate", "foot", length=200.0, width=150.0, thickness=20.0, joins=(on_top,))
        block = section("bar", "block", length=80.0, width=60.0, height=40.0, joins=(join,))
        return times(freeze(foot, block, alloy=alloy, pouring_temperature=1700.0))

    small, large = posed(share * 48e-4), posed(share * more * 48e-4)
    assert large["foot"] > small["foot"]
    assert large["block"] > small["block"]


@given(alloy=st.sampled_from(ALLOY_IDS), cold=st.floats(263.0, 600.0), hotter=st.floats(1.0, 150.0))
@settings(max_examples=40, deadline=None)
def test_a_hotter_mould_freezes_later(alloy: str, cold: float, hotter: float) -> None:
    def time(start: float) -> float:
        told = MouldCase(medium="silica sand", start_temperature=start)
        return times(freeze(cube(40.0), alloy=alloy, mould=told, pouring_temperature=1700.0))["part"]

    solidus = metal_of(alloy, {}, Ledger()).get("solidus") or 0.0
    if cold + hotter < solidus - 20.0:
        assert time(cold + hotter) > time(cold)


def test_a_hole_of_which_nothing_is_said_is_said_to_cool() -> None:
    """Printed exercises cool a hole like any face (the ring t h/(2 (t + h)) of exact geometry)."""
    tube = section("tube", outer_diameter=60.0, inner_diameter=30.0, height=80.0)
    answer = freeze(tube)
    told = {default.pointer: default for default in answer.defaults}
    assert told["/sections/0/faces/inside"].value == "cooling"
    assert "cored" in told["/sections/0/faces/inside"].note
    named = freeze(replace(tube, faces={"inside": "cooling"}))
    assert named.result == answer.result
    assert "/sections/0/faces/inside" not in {default.pointer for default in named.defaults}


@given(
    casting=castings(2),
    alloy=st.sampled_from(ALLOY_IDS),
    hot=st.floats(0.0, 300.0),
    hotter=st.floats(0.1, 200.0),
)
@settings(max_examples=40, deadline=None)
def test_more_superheat_never_shortens_freezing(
    casting: tuple[Section, ...], alloy: str, hot: float, hotter: float
) -> None:
    liquidus = metal_of(alloy, {}, Ledger()).get("liquidus") or 0.0
    cool = times(freeze(*casting, alloy=alloy, pouring_temperature=liquidus + hot))
    warm = times(freeze(*casting, alloy=alloy, pouring_temperature=liquidus + hot + hotter))
    for name, time in cool.items():
        assert warm[name] > time


@given(thickness=st.floats(5.0, 60.0), alloy=st.sampled_from(ALLOY_IDS))
@settings(max_examples=40, deadline=None)
def test_a_colder_mould_and_a_better_conducting_one_freeze_sooner(thickness: float, alloy: str) -> None:
    def time(**mould: float) -> float:
        told = MouldCase(medium="silica sand", **mould)
        return float(
            freeze(plate(thickness), alloy=alloy, mould=told, pouring_temperature=1700.0).result[
                "freezing_time"
            ]
        )

    assert time(start_temperature=273.0) < time(start_temperature=350.0)
    assert time(conductivity=0.9) < time(conductivity=0.6)
    assert time(conductivity=0.6) == pytest.approx(2.0 * time(conductivity=1.2), rel=1e-9)


def test_arrays_go_through_as_floats_do() -> None:
    """The sampler sends arrays: each element answers as a float would, cores and curvature included."""
    constants, ratios = np.array([1.5e6, 2e6, 2.5e6]), np.array([0.8, 1.0, 1.2])
    alpha = np.array([4e-7, 4.5e-7, 5e-7])

    def cooling(constant: Any, ratio: Any, spread: Any) -> Cooling:
        return Cooling(mould_constant=constant, heat_ratio=ratio, diffusivity=spread, curved=True)

    body = Body(
        name="b",
        volume=1e-4,
        cooling_area=0.006,
        curvature=0.4,
        cores=(
            CoredFace(area=0.003, shape="cylinder", modulus=0.004),
            CoredFace(area=0.001, shape="slab", modulus=0.01),
        ),
    )
    together: Any = freeze_body(cooling(constants, ratios, alpha), body)
    for index in range(3):
        alone = freeze_body(cooling(constants[index], ratios[index], float(alpha[index])), body)
        assert together.time[index] == pytest.approx(alone.time, rel=1e-12)


def test_a_freezing_case_needs_nothing_but_sections_and_a_constant() -> None:
    answer = decide_freezing(FreezingCase(sections=(cube(60.0),), mould_constant=1e6))
    assert answer.verdict == "pass"
    assert answer.result["freezing_time"] == pytest.approx(100.0)
