"""Gating: the exact fill against a second way, identities, limits, and how choices behave."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from pourwright_service.engine.assess.gating import assess_gating
from pourwright_service.engine.assess.gating_flow import (
    GatingDecision,
    effective_head,
    gating_metal,
)
from pourwright_service.engine.assess.layers import even_layers, stacked_layers
from pourwright_service.engine.bounds import OutOfRange
from pourwright_service.engine.decide.gating import GatingCase, decide_gating
from pourwright_service.engine.decide.gating_case import RatioCase
from pourwright_service.engine.decide.gating_size import choose_gating, round_up
from pourwright_service.engine.formulas import channels, gating
from tests.engine.gating_jobs import EXACT, ROUNDED, G, check, job, sized

# --- the exact fill --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("parts", "above"),
    [
        (((0.10, 1e-3),), 0.0),
        (((0.10, 1e-3),), 0.10),
        (((0.10, 1e-3),), 0.04),
        (((0.03, 0.2e-3), (0.05, 0.7e-3), (0.08, 0.3e-3)), 0.12),
        (((0.03, 0.2e-3), (0.05, 0.7e-3), (0.08, 0.3e-3)), 0.16),
    ],
)
def test_fill_time_is_what_integrating_the_flow_step_by_step_gives(
    parts: tuple[tuple[float, float], ...], above: float
) -> None:
    """Second way: dV/dt = C A sqrt(2 g (H - max(z, 0))) by an adaptive solver, z from the volume."""
    head, area, cd = 0.20, 1e-4, 0.8
    inputs = job(head, layers=stacked_layers(parts, above), other_volume=0.0)
    volumes = np.cumsum([0.0] + [volume for _, volume in parts])
    levels = above - sum(height for height, _ in parts) + np.cumsum([0.0] + [height for height, _ in parts])

    def rate(_: float, volume: np.ndarray) -> np.ndarray:
        level = np.interp(volume, volumes, levels)
        return cd * area * np.sqrt(2.0 * G * (head - np.maximum(level, 0.0)))

    def full(_: float, volume: np.ndarray) -> float:
        return float(volume[0] - volumes[-1])

    full.terminal = True
    run = solve_ivp(rate, (0.0, 100.0), [0.0], events=full, rtol=1e-10, atol=1e-15, max_step=0.02)
    exact = gating.fill_time(volumes[-1], cd, area, G, effective_head(inputs))
    assert run.t_events[0][0] == pytest.approx(exact, rel=1e-5)


@given(st.floats(0.01, 1.0), st.floats(0.02, 0.5))
def test_a_mould_filled_from_below_follows_the_printed_integral(share: float, head: float) -> None:
    """t = (Am/Ag) 2/sqrt(2 g) (sqrt(ht) - sqrt(ht - hm)), question set on bottom gates, testbook.com;
    in another form than the engine's, and beside it the mean head's time, (1 + r)/(2 sqrt(1 - x/2))
    of it with r = sqrt(1 - x)."""
    height = share * head
    layers = even_layers(0.01 * height, height, height)
    inputs = job(head, layers=layers, other_volume=0.0, discharge_coefficient=1.0)
    done = assess_gating(inputs, given_choke(1e-4))
    left = max(head - height, 0.0)
    printed = 0.01 / 1e-4 * 2.0 / math.sqrt(2.0 * G) * (math.sqrt(head) - math.sqrt(left))
    assert done.flow.fill_time == pytest.approx(printed, rel=1e-7)
    root = math.sqrt(left / head)
    ratio = (1.0 + root) / (2.0 * math.sqrt(1.0 - share / 2.0))
    assert done.flow.mean_head_time == pytest.approx(ratio * printed, rel=1e-7)


def given_choke(area: float) -> GatingDecision:
    return GatingDecision(
        sprue_shape="round",
        sprue_exit=channels.round_diameter(area),
        sprue_mouth=None,
        runner_width=None,
        runner_heights=(),
        gate_count=1,
        gate_width=None,
        gate_thickness=None,
    )


def test_a_casting_as_tall_as_the_sprue_takes_twice_as_long_from_below() -> None:
    """Ghosh and Mallik, ch. 2, example 2.2: exactly twice, whatever the sizes."""
    top = assess_gating(job(0.15, 0.15, 0.0, other_volume=0.0), given_choke(1e-4))
    bottom = assess_gating(job(0.15, 0.15, 0.15, other_volume=0.0), given_choke(1e-4))
    assert bottom.flow.fill_time == pytest.approx(2.0 * top.flow.fill_time, rel=1e-12)


def test_cutting_a_casting_into_more_layers_changes_nothing() -> None:
    whole = job(layers=even_layers(1e-3, 0.10, 0.07), other_volume=0.0)
    cut = job(layers=stacked_layers(((0.02, 0.2e-3), (0.05, 0.5e-3), (0.03, 0.3e-3)), 0.07), other_volume=0.0)
    assert effective_head(cut) == pytest.approx(effective_head(whole), rel=1e-12)


heads, shares = st.floats(0.05, 0.6), st.floats(0.01, 0.99)


@given(heads, shares, shares, st.floats(1.0, 2.0))
def test_more_head_a_wider_choke_less_loss_and_a_lower_casting_never_fill_slower(
    head: float, top: float, below: float, more: float
) -> None:
    def time(**changes: float) -> float:
        made = {"head": head, "area": 1e-4, "cd": 0.5, "above": top * head, **changes}
        height = made["above"] + below * head
        inputs = job(
            made["head"],
            layers=even_layers(1e-3, height, made["above"]),
            other_volume=0.0,
            discharge_coefficient=made["cd"],
        )
        taken = assess_gating(inputs, given_choke(made["area"])).flow.fill_time
        assert taken is not None
        return taken

    plain = time() * (1.0 + 1e-12)
    assert time(head=more * head) <= plain
    assert time(area=more * 1e-4) <= plain
    assert time(cd=more * 0.5) <= plain
    assert time(above=top * head / more) <= plain


def test_a_mould_that_stands_above_the_basin_has_no_fill_time() -> None:
    inputs = job(0.10, 0.2, 0.11)
    with pytest.raises(OutOfRange):
        assess_gating(inputs, given_choke(1e-4))
    assert choose_gating(inputs, EXACT) is None


def test_arrays_give_what_their_elements_give_and_samples_that_cannot_fill_are_masked() -> None:
    decision, _ = sized(job(), ROUNDED)
    heads = np.array([0.12, 0.2, 0.3, 0.05])
    many = assess_gating(job(head=heads), decision).flow
    for index, head in enumerate(heads[:3]):
        one = assess_gating(job(head=float(head)), decision).flow
        for name in ("fill_time", "flow_start", "gate_velocity", "slowest_rise", "quiet_head"):
            found = np.broadcast_to(getattr(many, name), heads.shape)
            assert found[index] == pytest.approx(getattr(one, name), rel=1e-12)
    assert np.isnan(many.fill_time[3])


# --- formulas ---------------------------------------------------------------------------------------


@given(st.floats(1e-5, 1e-2), st.floats(1e-5, 1e-2), st.floats(0.01, 1.0))
def test_areas_in_series_pass_what_their_heads_add_up_to(first: float, second: float, head: float) -> None:
    """Second way: the flow at which each place's velocity head, summed, is the head there is."""

    def missing(flow: float) -> float:
        return (flow / first) ** 2 / (2.0 * G) + (flow / second) ** 2 / (2.0 * G) - head

    flow = brentq(missing, 0.0, min(first, second) * math.sqrt(2.0 * G * head), xtol=1e-18, rtol=1e-14)
    joint = channels.areas_in_series(first, second)
    assert gating.choke_flow(1.0, joint, G, head) == pytest.approx(flow, rel=1e-9)


def test_a_far_wider_place_does_not_count_and_an_equal_one_costs_a_root_of_two() -> None:
    assert channels.areas_in_series(1e-4, 1.0) == pytest.approx(1e-4, rel=1e-7)
    assert channels.areas_in_series(1e-4, 1e-4) == pytest.approx(1e-4 / math.sqrt(2.0), rel=1e-12)


def test_losses_of_three_velocity_heads_halve_the_flow() -> None:
    """Energy: H = (1 + K) v^2/(2 g)."""
    for loss in (0.0, 0.56, 1.1, 3.0):
        speed = gating.discharge_from_losses(loss) * gating.stream_velocity(G, 0.2)
        assert (1.0 + loss) * gating.velocity_head(speed, G) == pytest.approx(0.2, rel=1e-12)


@given(st.floats(0.1, 3.0), st.floats(1000.0, 9000.0))
def test_the_critical_fall_is_the_height_of_a_puddle(tension: float, density: float) -> None:
    """v_c = 2 (gamma g/rho)^(1/4) gives v_c^2/(2 g) = 2 sqrt(gamma/(rho g)), the height of a wide
    sessile drop that does not wet: an identity, by algebra."""
    case = GatingCase(head=0.1, properties={"surface_tension": tension, "density_liquid": density})
    fall = decide_gating(case).result["critical_fall"]
    assert fall == pytest.approx(2.0 * math.sqrt(tension / (density * G)), rel=1e-12)


def test_the_sprue_that_just_fills_has_the_airs_pressure_in_its_mouth() -> None:
    """Continuity and energy agree: at A_t = A sqrt(H/b) the falling stream neither pushes nor sucks."""
    flow = gating.choke_flow(1.0, 1e-4, G, 0.2)
    needed = channels.sprue_mouth_area(1e-4, 0.2, 0.04)
    assert channels.mouth_pressure(7800.0, G, 0.04, flow, needed) == pytest.approx(0.0, abs=1e-9)
    assert channels.mouth_pressure(7800.0, G, 0.04, flow, 0.9 * needed) < 0.0


def test_a_straight_taper_is_wider_than_the_falling_stream_all_the_way_down() -> None:
    """So judging the sprue's ends is enough."""
    foot, mouth = 0.012, 0.012 * (0.2 / 0.04) ** 0.25
    for depth in np.linspace(0.04, 0.2, 50):
        straight = mouth + (foot - mouth) * (depth - 0.04) / 0.16
        assert straight >= 0.012 * (0.2 / depth) ** 0.25 * (1.0 - 1e-12)


# --- choosing ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("above", [0.0, 0.03, 0.06, 0.1])
@pytest.mark.parametrize("ratio", [None, (1.0, 4.0, 4.0), (2.0, 1.5, 1.0), (1.0, 0.5, 2.0)])
def test_without_rounding_the_chosen_system_fills_in_exactly_the_time_wanted(
    above: float, ratio: tuple[float, float, float] | None
) -> None:
    named = None if ratio is None else RatioCase(sprue=ratio[0], runner=ratio[1], gate=ratio[2])
    _, done = sized(job(above=above), replace(EXACT, ratio=named))
    assert done.flow.fill_time == pytest.approx(4.0, rel=1e-12)
    if ratio is not None:
        areas = (done.flow.sprue_exit_area, done.flow.runner_areas[0], done.flow.gate_area)
        assert [area / done.flow.choke_area for area in areas] == pytest.approx(
            [part / min(ratio) for part in ratio], rel=1e-9
        )


@given(st.floats(0.1, 0.5), st.floats(1.0, 20.0), st.integers(1, 4))
@settings(max_examples=50)
def test_rounding_goes_up_and_no_further_than_a_step(head: float, time: float, count: int) -> None:
    inputs = job(head, wanted_time=time)
    decision, done = sized(inputs, replace(ROUNDED, gate_count=count))
    assert done.flow.fill_time <= time * (1.0 + 1e-9)
    assume(decision.sprue_exit > 0.001)
    smaller = assess_gating(inputs, replace(decision, sprue_exit=decision.sprue_exit - 0.001))
    assert smaller.flow.fill_time > time
    for size in (decision.sprue_exit, decision.gate_width, decision.runner_width):
        assert size is not None
        assert size / 0.001 == pytest.approx(round(size / 0.001), abs=1e-6)


@given(st.floats(0.1, 0.5), st.floats(1.0, 20.0), st.floats(0.2, 1.0))
@settings(max_examples=50)
def test_gates_sized_by_velocity_are_quiet(head: float, time: float, critical: float) -> None:
    _, done = sized(job(head, wanted_time=time, critical_velocity=critical), ROUNDED)
    assert done.flow.gate_velocity <= critical * (1.0 + 1e-9)
    assert check(done, "gate-velocity").verdict == "pass"


@given(st.floats(1e-4, 5e-3), st.floats(1.0, 3.0), st.booleans())
@settings(max_examples=50)
def test_more_metal_never_makes_anything_smaller(volume: float, more: float, by_ratio: bool) -> None:
    ratio = RatioCase(sprue=1.0, runner=4.0, gate=4.0) if by_ratio else None
    sizing = replace(ROUNDED, ratio=ratio)
    first = choose_gating(job(other_volume=volume), sizing)
    second = choose_gating(job(other_volume=more * volume), sizing, not_smaller_than=first)
    assert first is not None
    assert second is not None
    for name in ("sprue_exit", "sprue_mouth", "runner_width", "gate_width", "gate_thickness"):
        assert getattr(second, name) >= getattr(first, name)
    assert all(b >= a for a, b in zip(first.runner_heights, second.runner_heights, strict=True))
    metal = [gating_metal(job(), one).total for one in (first, second)]
    assert metal[1] >= metal[0]


def test_an_earlier_decision_is_never_reduced() -> None:
    first = choose_gating(job(wanted_time=2.0), ROUNDED)
    assert choose_gating(job(wanted_time=6.0), ROUNDED, not_smaller_than=first) == first


@pytest.mark.parametrize(
    ("size", "step", "rounded"),
    [(0.0110, 0.001, 0.011), (0.0110001, 0.001, 0.012), (1e-5, 0.001, 0.001), (0.0123, 0.0, 0.0123)],
)
def test_rounding_up(size: float, step: float, rounded: float) -> None:
    assert round_up(size, step) == pytest.approx(rounded, rel=1e-12)


def test_given_sizes_are_kept_and_only_judged() -> None:
    decision, done = sized(job(), replace(ROUNDED, choke_area=123e-6, mouth_area=300e-6, gate_area=500e-6))
    assert done.flow.sprue_exit_area == pytest.approx(123e-6, rel=1e-12)
    assert done.flow.sprue_mouth_area == pytest.approx(300e-6, rel=1e-12)
    assert done.flow.gate_area == pytest.approx(500e-6, rel=1e-12)
    assert decision.gate_count == 2


def test_a_gate_is_no_thicker_than_six_tenths_of_its_wall() -> None:
    thin = choose_gating(job(wall_thickness=0.006), ROUNDED)
    free = choose_gating(job(), ROUNDED)
    assert thin is not None
    assert free is not None
    assert thin.gate_thickness == pytest.approx(0.003)
    assert free.gate_thickness > 0.003


def test_inches_and_millimetres_make_the_same_decisions() -> None:
    american = GatingCase(
        alloy="C87300", poured_mass=10.0 * 0.45359237, pour_time=5.0, sprue_height=6.0 * 0.0254
    )
    metric = GatingCase(alloy="C87300", poured_mass=4.5359237, pour_time=5.0, sprue_height=0.1524)
    first, second = decide_gating(american).result, decide_gating(metric).result
    for part, sizes in (("sprue", ("exit_size", "mouth_size")), ("runner", ("width", "heights"))):
        assert [first[part][size] for size in sizes] == [second[part][size] for size in sizes]
    assert first["gates"]["width"] == second["gates"]["width"]
