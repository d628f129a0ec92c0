"""Gating: any section profile, several castings on one sprue; against integration step by step."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from pourwright_service.engine.assess.gating import assess_gating
from pourwright_service.engine.assess.gating_flow import effective_head
from pourwright_service.engine.assess.layers import (
    even_layers,
    joined_layers,
    profile_layers,
    stacked_layers,
)
from pourwright_service.engine.decide.gating import GatingCase, decide_gating
from pourwright_service.engine.decide.gating_case import FilledCase, LayerCase, ProfileCase
from pourwright_service.engine.decide.gating_inputs import Sizing
from pourwright_service.engine.decide.gating_size import choose_gating
from pourwright_service.engine.formulas import gating
from tests.engine.gating_jobs import G, job

CONE = ((0.0, 12e-3), (0.09, 1e-3))
FLANGED = ((0.0, 6e-3), (0.02, 6e-3), (0.02, 2e-3), (0.05, 1e-3), (0.05, 4e-3), (0.06, 4e-3))
POINTED = ((0.0, 0.0), (0.04, 8e-3), (0.1, 0.0))


def area_at(points: tuple[tuple[float, float], ...], level: float) -> float:
    """The section at a level, read off the profile as it is given; the upper one at a step."""
    for (low, area), (high, other) in reversed(list(itertools.pairwise(points))):
        if high > low and low <= level <= high:
            return area + (other - area) * (level - low) / (high - low)
    return 0.0


@pytest.mark.parametrize("points", [CONE, FLANGED, POINTED], ids=["cone", "flanged", "pointed"])
@pytest.mark.parametrize("share", [0.0, 0.4, 1.0])
def test_any_profile_fills_in_the_time_that_an_ode_solver_finds(
    points: tuple[tuple[float, float], ...], share: float
) -> None:
    """Second way: time over the level z, dt/dz = A(z)/(C a sqrt(2 g (H - max(z, 0)))), by an adaptive
    solver (scipy's DOP853), from step to step of the profile."""
    head, choke, cd = 0.16, 1e-4, 0.7
    tall = points[-1][0]
    above = share * tall
    layers = profile_layers(points, above)
    inputs = job(head, layers=layers, other_volume=0.0)

    def slowness(level: float, _: np.ndarray) -> list[float]:
        over = max(level + above - tall, 0.0)
        return [area_at(points, level) / (cd * choke * math.sqrt(2.0 * G * (head - over)))]

    time = 0.0
    marks = sorted({level for level, _ in points} | {min(max(tall - above, 0.0), tall)})
    for low, high in itertools.pairwise(marks):
        run = solve_ivp(slowness, (low + 1e-13, high - 1e-13), [0.0], method="DOP853", rtol=1e-11, atol=1e-14)
        time += run.y[0][-1]
    volume = sum(layer.volume for layer in layers)
    assert gating.fill_time(volume, cd, choke, G, effective_head(inputs)) == pytest.approx(time, rel=1e-8)


@given(st.floats(1e-4, 1e-1), st.floats(0.0, 1e-1), st.floats(0.01, 0.5), st.floats(0.0, 0.99))
def test_a_sloped_layer_is_the_integral_of_its_section_over_the_root_of_the_head(
    lower: float, upper: float, head: float, share: float
) -> None:
    """Second way: quadrature, in the root of the head, where the integrand is smooth."""
    left = share * head

    def integrand(root: float) -> float:
        return 2.0 * (upper + (lower - upper) * (root**2 - left) / (head - left))

    slowness, _ = quad(integrand, math.sqrt(left), math.sqrt(head), epsabs=0.0, epsrel=1e-12)
    volume = 0.5 * (lower + upper) * (head - left)
    found = gating.sloped_layer_head(lower, upper, head, left)
    assert volume / math.sqrt(found) == pytest.approx(slowness, rel=1e-8)


@given(st.floats(0.01, 0.5), st.floats(0.0, 0.99), st.floats(1e-4, 0.1))
def test_equal_faces_are_an_even_layer(head: float, share: float, area: float) -> None:
    even = gating.layer_head(head, share * head)
    assert gating.sloped_layer_head(area, area, head, share * head) == pytest.approx(even, rel=1e-12)


def test_a_profile_of_equal_sections_is_the_even_casting() -> None:
    plain = job(layers=even_layers(0.01 * 0.1, 0.1, 0.06), other_volume=0.0)
    drawn = job(layers=profile_layers(((0.0, 0.01), (0.1, 0.01)), 0.06), other_volume=0.0)
    assert effective_head(drawn) == pytest.approx(effective_head(plain), rel=1e-12)


def test_a_profile_cut_in_two_at_any_level_changes_nothing() -> None:
    whole = job(layers=profile_layers(CONE, 0.05), other_volume=0.0)
    for level in (0.01, 0.04, 0.07):
        points = (CONE[0], (level, area_at(CONE, level)), CONE[1])
        cut = job(layers=profile_layers(points, 0.05), other_volume=0.0)
        assert effective_head(cut) == pytest.approx(effective_head(whole), rel=1e-12)


@given(
    st.lists(st.tuples(st.floats(0.002, 0.05), st.floats(1e-5, 1e-2)), min_size=1, max_size=6),
    st.floats(0.0, 1.0),
)
@settings(max_examples=50)
def test_a_profile_holds_the_integral_of_its_sections(steps: list[tuple[float, float]], share: float) -> None:
    points, level = [(0.0, 1e-3)], 0.0
    for high, area in steps:
        level += high
        points.append((level, area))
    held = float(np.trapezoid([area for _, area in points], [at for at, _ in points]))
    layers = profile_layers(points, share * level)
    assert sum(layer.volume for layer in layers) == pytest.approx(held, rel=1e-12)
    assert layers[-1].top - layers[0].bottom == pytest.approx(level, rel=1e-9)


# --- several castings -----------------------------------------------------------------------------


def test_castings_side_by_side_fill_as_their_joint_section_does() -> None:
    """Metal stands at one level in all: their sections add, level by level."""
    tall = stacked_layers(((0.05, 0.4e-3), (0.05, 0.1e-3)), 0.08)
    low = profile_layers(((0.0, 6e-3), (0.04, 1e-3)), 0.03)
    joint = joined_layers([(2, tall), (3, low)])
    assert sum(one.volume for one in joint) == pytest.approx(
        2 * sum(one.volume for one in tall) + 3 * sum(one.volume for one in low), rel=1e-12
    )
    for level in np.linspace(-0.0199, 0.0799, 41):
        found = sum(one.area_at(level) for one in joint if one.bottom <= level < one.top)
        wanted = sum(2 * one.area_at(level) for one in tall if one.bottom <= level < one.top)
        wanted += sum(3 * one.area_at(level) for one in low if one.bottom <= level < one.top)
        assert found == pytest.approx(wanted, rel=1e-9)


def test_two_castings_take_twice_the_time_of_one_through_the_same_sprue() -> None:
    case = GatingCase(
        head=0.2, choke_area=1e-4, casting=FilledCase(height=0.06, above_gate=0.06, section_area=5e-3)
    )
    one = decide_gating(replace(case, volume=0.3e-3)).result["fill_time"]
    pair = replace(case.casting, count=2) if case.casting else None
    two = decide_gating(replace(case, volume=0.6e-3, casting=pair)).result["fill_time"]
    assert two == pytest.approx(2.0 * one, rel=1e-9)


def test_equal_castings_in_a_list_or_by_count_are_the_same_system() -> None:
    base = GatingCase(alloy="356", poured_mass=3.0, pour_time=3.0, sprue_height=0.12)
    kind = FilledCase(height=0.05, above_gate=0.05, volume=0.25e-3, wall_thickness=0.012)
    counted = decide_gating(replace(base, casting=replace(kind, count=3), gates=2)).result
    listed = decide_gating(replace(base, castings=(replace(kind, gates=2),) * 3)).result
    mixed = decide_gating(
        replace(base, castings=(replace(kind, gates=2, count=2), replace(kind, gates=2)))
    ).result
    for other in (listed, mixed):
        assert counted["fill_time"] == pytest.approx(other["fill_time"], rel=1e-9)
        assert counted["metal"]["volume"] == pytest.approx(other["metal"]["volume"], rel=1e-9)
        assert counted["runner"]["heights"] == pytest.approx(other["runner"]["heights"], rel=1e-12)
        assert counted["gates"]["width"] == other["gates"]["width"]
    assert counted["gates"]["count"] == 6
    assert len(counted["runner"]["heights"]) == 6


def test_gates_are_shared_out_by_metal_and_a_poor_share_is_warned() -> None:
    large, small = (
        FilledCase(name=name, height=0.05, above_gate=0.05, volume=volume)
        for name, volume in (("large", 0.4e-3), ("small", 0.2e-3))
    )
    base = GatingCase(alloy="356", poured_mass=2.5, pour_time=3.0, sprue_height=0.12)

    def balance(*castings: FilledCase) -> tuple[list[int], str, str]:
        answer = decide_gating(replace(base, castings=castings))
        (found,) = [check for check in answer.checks if check.kind.id == "casting-balance"]
        return [one["gates"] for one in answer.result["castings"]], found.verdict, found.subject

    assert balance(large, small)[:2] == ([2, 1], "pass")
    assert balance(replace(large, gates=1), replace(small, gates=1))[1:] == ("warn", "/castings/1/gates")


def test_what_a_casting_in_a_list_holds_must_be_said() -> None:
    castings = (FilledCase(height=0.05, volume=1e-4), FilledCase(height=0.05))
    answer = decide_gating(GatingCase(alloy="356", poured_mass=1.0, head=0.15, castings=castings))
    assert answer.verdict == "unknown"
    assert [one.pointer for one in answer.missing] == ["/castings/1/volume"]


def test_layers_and_the_same_profile_agree() -> None:
    base = GatingCase(alloy="356", poured_mass=2.0, pour_time=3.0, sprue_height=0.12)
    layers = FilledCase(
        layers=(LayerCase(height=0.02, section_area=6e-3), LayerCase(height=0.03, section_area=2e-3))
    )
    profile = FilledCase(
        profile=(
            ProfileCase(level=0.0, area=6e-3),
            ProfileCase(level=0.02, area=6e-3),
            ProfileCase(level=0.02, area=2e-3),
            ProfileCase(level=0.05, area=2e-3),
        )
    )
    first, second = (decide_gating(replace(base, casting=one)).result for one in (layers, profile))
    assert first["fill_time"] == pytest.approx(second["fill_time"], rel=1e-12)
    assert first["slowest_rise"] == pytest.approx(second["slowest_rise"], rel=1e-9)


def test_the_slowest_rise_is_the_slowest_at_any_level() -> None:
    """Second way: flow over section at a thousand levels."""
    for points in (CONE, POINTED):
        layers = profile_layers(points, points[-1][0])
        inputs = job(0.16, layers=layers, other_volume=0.0)
        decision = choose_gating(inputs, Sizing(sprue_shape="round", gate_count=1, step=0.0, choke_area=1e-4))
        assert decision is not None
        found = assess_gating(inputs, decision).flow.slowest_rise
        rises = [
            0.7 * 1e-4 * math.sqrt(2.0 * G * (0.16 - level)) / max(area_at(points, level), 1e-12)
            for level in np.linspace(0.0, points[-1][0], 1001)
        ]
        assert found == pytest.approx(min(rises), rel=1e-3)
        assert found <= min(rises) * (1.0 + 1e-9)
