"""Gating: the drawing's volumes and places, vents, priming, cutters, room for the gates."""

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourwright_service.engine.assess.gating import assess_gating
from pourwright_service.engine.assess.gating_layout import layout_of_gating
from pourwright_service.engine.assess.gating_vents import VentDecision
from pourwright_service.engine.bounds import OutOfRange
from pourwright_service.engine.decide.gating import GatingCase, decide_gating
from pourwright_service.engine.decide.gating_case import (
    FilledCase,
    GateCase,
    GatingWishes,
    RatioCase,
    RunnerCase,
    SprueCase,
    VentCase,
)
from pourwright_service.engine.decide.gating_size import choose_gating, next_cutter
from pourwright_service.engine.formulas import channels, gating_vents
from tests.engine.gating_jobs import EXACT, LAYOUT, ROUNDED, G, check, job, sized

BRONZE = GatingCase(
    alloy="C87300",
    poured_mass=3.8,
    pour_time=4.4,
    sprue_height=0.075,
    gates=2,
    casting=FilledCase(height=0.08, above_gate=0.03, wall_thickness=0.012),
)


def held(channel: dict[str, Any]) -> float:
    """Volume of a straight taper from its drawn ends alone: Simpson's rule, exact for a cone or pyramid
    (mid-section from the mean of the sides)."""
    long = math.dist(*(tuple(channel[end].values()) for end in ("start", "end")))
    share = math.pi / 4.0 if channel["shape"] == "round" else 1.0
    ends = [(channel[f"{end}_width"], channel[f"{end}_height"]) for end in ("start", "end")]
    middle = tuple(0.5 * (one + other) for one, other in zip(*ends, strict=True))
    areas = [share * wide * high for wide, high in (ends[0], middle, ends[1])]
    return long / 6.0 * (areas[0] + 4.0 * areas[1] + areas[2])


# --- the drawing ----------------------------------------------------------------------------------


@given(
    st.floats(0.5, 20.0),
    st.floats(1.5, 12.0),
    st.floats(0.06, 0.3),
    st.integers(1, 5),
    st.sampled_from(["round", "square"]),
    st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_the_drawn_channels_hold_the_metal_of_the_system(
    mass: float, time: float, height: float, gates: int, shape: str, by_ratio: bool
) -> None:
    answer = decide_gating(
        GatingCase(
            alloy="356",
            poured_mass=mass,
            pour_time=time,
            sprue_height=height,
            gates=gates,
            sprue=SprueCase(shape=shape),
            ratio=RatioCase(sprue=1.0, runner=4.0, gate=4.0) if by_ratio else None,
        )
    )
    result = answer.result
    drawn = result["layout"]["channels"]
    for channel in drawn:
        assert channel["volume"] == pytest.approx(held(channel), rel=1e-9)
    metal = sum(held(channel) for channel in drawn if channel["holds_metal"])
    assert metal == pytest.approx(result["metal"]["volume"], rel=1e-9)
    parts = {"gates": "gate", "basin": "basin", "sprue": "sprue", "well": "well"}
    for name, part in parts.items():
        own = sum(held(channel) for channel in drawn if channel["part"] == part)
        assert own == pytest.approx(result["metal"][name], rel=1e-9)


def test_channels_join_end_to_end() -> None:
    result = decide_gating(replace(BRONZE, gates=3)).result
    drawn = result["layout"]["channels"]
    (basin,), (sprue,), (well,) = (
        [one for one in drawn if one["part"] == part] for part in ("basin", "sprue", "well")
    )
    assert basin["end"] == sprue["start"]
    assert sprue["end"] == well["start"] == {"x": 0.0, "y": 0.0, "z": 0.0}
    line = [one for one in drawn if one["part"] in ("runner", "extension")]
    assert line[0]["start"]["x"] == pytest.approx(0.5 * well["start_width"])
    for one, other in pairwise(line):
        assert one["end"]["x"] == pytest.approx(other["start"]["x"])
        assert other["start_height"] <= one["start_height"]
    for one in line:
        assert one["start"]["z"] + 0.5 * one["start_height"] == pytest.approx(0.0, abs=1e-12)
    gates = [one for one in drawn if one["part"] == "gate"]
    assert len(gates) == 3
    for gate, runner in zip(gates, line, strict=False):
        assert gate["start"]["x"] + 0.5 * gate["start_width"] == pytest.approx(runner["end"]["x"])
        assert gate["start"]["y"] == pytest.approx(0.5 * runner["start_width"])
        assert gate["start"]["z"] + 0.5 * gate["start_height"] == pytest.approx(0.0, abs=1e-12)
    assert basin["start"]["z"] == pytest.approx(result["head"])


def test_vents_stand_on_every_casting_and_hold_no_metal() -> None:
    kind = FilledCase(height=0.05, above_gate=0.05, volume=0.2e-3, count=3)
    case = replace(BRONZE, casting=kind, sprue_height=0.12, poured_mass=8.0, vents=VentCase(count=7))
    drawn = decide_gating(case).result["layout"]["channels"]
    vents = [one for one in drawn if one["part"] == "vent"]
    gates = [one for one in drawn if one["part"] == "gate"]
    assert len(vents) == 7
    assert not any(one["holds_metal"] for one in vents)
    assert {one["start"]["z"] for one in vents} == {0.05}
    assert {one["end"]["z"] for one in vents} == {0.12}
    middles = [sum(one["start"]["x"] for one in gates[at : at + 2]) / 2.0 for at in (0, 2, 4)]
    nearest = [min(range(3), key=lambda at: abs(middles[at] - one["start"]["x"])) for one in vents]
    assert [nearest.count(at) for at in range(3)] == [3, 2, 2]


def test_what_is_not_known_is_not_drawn() -> None:
    decision, _ = sized(job(critical_velocity=None))
    drawn = layout_of_gating(job(critical_velocity=None), decision, VentDecision(count=3, diameter=0.003))
    assert [one.part for one in drawn] == ["basin", "sprue"]
    assert decide_gating(GatingCase(head=0.03, choke_area=1e-4)).result["layout"] is None


# --- vents ----------------------------------------------------------------------------------------


def test_as_much_air_leaves_as_metal_comes_in_and_a_hole_less_is_warned() -> None:
    answer = decide_gating(BRONZE)
    vents = answer.result["vents"]
    (found,) = [one for one in answer.checks if one.kind.id == "gating-vents"]
    assert found.verdict == "pass"
    fewer = replace(BRONZE, vents=VentCase(count=vents["count"] - 1))
    (poor,) = [one for one in decide_gating(fewer).checks if one.kind.id == "gating-vents"]
    assert poor.verdict == "warn"
    assert f"Pierce {vents['count']} vents" in poor.bad.words


@given(st.floats(1e-6, 1e-3), st.floats(280.0, 1800.0), st.floats(10.0, 2000.0), st.floats(1e-6, 1e-3))
def test_vent_area_and_pressure_are_each_others_inverse(
    flow: float, hot: float, pressure: float, area: float
) -> None:
    density = gating_vents.hot_air_density(1.225, 288.15, hot)
    needed = flow / gating_vents.vent_velocity(0.6, pressure, density)
    assert gating_vents.vent_pressure(density, flow, 0.6, needed) == pytest.approx(pressure, rel=1e-12)
    wider = gating_vents.vent_pressure(density, flow, 0.6, needed + area)
    assert wider < pressure


def test_air_that_leaves_hot_needs_more_room_by_the_root_of_its_temperature() -> None:
    """Gas law and Bernoulli: volume grows as T, density falls as 1/T, so the area grows as sqrt(T)."""
    cold, hot = (
        decide_gating(replace(BRONZE, vents=VentCase(air_temperature=kelvin))).result["vents"]
        for kelvin in (300.0, 1200.0)
    )
    assert hot["area_needed"] == pytest.approx(2.0 * cold["area_needed"], rel=1e-9)


def test_an_open_riser_lets_the_air_out() -> None:
    answer = decide_gating(replace(BRONZE, vents=VentCase(open_area=1e-3)))
    assert answer.result["vents"]["count"] == 0
    (found,) = [one for one in answer.checks if one.kind.id == "gating-vents"]
    assert found.verdict == "pass"
    assert found.message.words.startswith("The air can leave through what is open")


# --- priming, gates that run full -------------------------------------------------------------------


def test_priming_takes_what_the_channels_hold_at_the_flow() -> None:
    _, done = sized(job(), ROUNDED)
    metal, flow = done.flow.metal, done.flow
    parts = (metal.sprue, metal.well, metal.runner, metal.gates)
    assert flow.priming_time == pytest.approx(sum(part or 0.0 for part in parts) / flow.flow_start)
    assert check(done, "runner-priming").verdict == "pass"


def test_channels_that_swallow_the_pour_are_warned() -> None:
    long = replace(LAYOUT, runner_length=2.0)
    _, done = sized(job(layout=long), ROUNDED)
    assert check(done, "runner-priming").verdict == "warn"


def test_gates_too_thick_for_their_stream_are_warned_and_the_named_thickness_is_not() -> None:
    """Open-channel flow: a stream runs full from Froude number 1 on, v^2 = g t."""
    _, done = sized(job(above=0.0), replace(EXACT, gate_thickness=0.020))
    found = check(done, "gate-runs-full")
    assert found.verdict == "warn"
    assert found.value == pytest.approx(0.4 / math.sqrt(G * 0.020))
    thin, _ = found.message.parts["thin"]
    _, mended = sized(job(above=0.0), replace(EXACT, gate_thickness=float(thin)))
    assert check(mended, "gate-runs-full").verdict == "pass"


def test_a_drop_in_the_drag_as_usual_is_told_and_a_deep_one_is_warned() -> None:
    """Common practice, no source: parts gated at the parting drop up to 50 mm. B20 and B26 of the figures:
    skins form beyond 12.5 mm in aluminium (Campbell's second rule)."""
    for depth, verdict in ((0.005, "pass"), (0.030, "pass"), (0.060, "warn")):
        _, done = sized(job(0.2, depth + 0.02, 0.02))
        found = check(done, "gate-fall")
        assert found.verdict == verdict
        assert ("Skins form" in found.message.words) == (depth == 0.030)


# --- cutters and room -------------------------------------------------------------------------------

CUTTERS = (0.006, 0.008, 0.010, 0.013, 0.016, 0.020, 0.025, 0.032, 0.040, 0.050, 0.065, 0.080, 0.1)


@given(st.floats(0.1, 0.5), st.floats(1.5, 20.0))
@settings(max_examples=50)
def test_sprue_and_runner_are_cut_with_the_next_tool_and_all_is_computed_again(
    head: float, time: float
) -> None:
    inputs = job(head, wanted_time=time, cutters=CUTTERS)
    decision, done = sized(inputs, replace(ROUNDED, cutters=CUTTERS))
    assert decision.sprue_exit in CUTTERS
    assert decision.sprue_mouth in CUTTERS
    assert done.flow.fill_time <= time * (1.0 + 1e-9)
    assert done.flow.sprue_exit_area == pytest.approx(math.pi / 4.0 * decision.sprue_exit**2)
    place = CUTTERS.index(decision.sprue_exit)
    if place:
        smaller = assess_gating(inputs, replace(decision, sprue_exit=CUTTERS[place - 1]))
        assert smaller.flow.fill_time > time
    assert done.flow.gate_velocity <= 0.4 * (1.0 + 1e-9)


def test_no_tool_wide_enough_is_said_and_the_size_is_rounded_up() -> None:
    assert next_cutter(0.0123, (0.006, 0.010), 0.001) == pytest.approx(0.013)
    assert next_cutter(0.0123, (), 0.001) == pytest.approx(0.013)
    inputs = job(wanted_time=1.0, cutters=(0.006, 0.010))
    _, done = sized(inputs, replace(ROUNDED, cutters=(0.006, 0.010)))
    assert check(done, "gating-cutter").verdict == "warn"


def test_cutters_in_a_request_reach_the_sizes() -> None:
    result = decide_gating(replace(BRONZE, cutters=(0.019, 0.014, 0.032))).result
    assert (result["sprue"]["exit_size"], result["sprue"]["mouth_size"]) == (0.014, 0.019)
    assert result["runner"]["width"] == 0.032


def test_gates_along_a_short_edge_are_made_thicker_before_they_are_called_too_wide() -> None:
    """A third of the edge: common practice, no source."""
    free, _ = sized(job(), ROUNDED)
    assert free.gate_width is not None
    edge = 3.2 * free.gate_count * free.gate_width * 0.6
    tight, done = sized(job(gate_edge=edge), ROUNDED)
    assert tight.gate_thickness > free.gate_thickness
    assert tight.gate_width * tight.gate_count <= edge / 3.0 * 1.1
    assert check(done, "gate-edge").verdict == "pass"
    walled, judged = sized(job(gate_edge=edge, wall_thickness=0.005), ROUNDED)
    assert walled.gate_thickness <= 0.003
    assert check(judged, "gate-edge").verdict == "warn"


def test_a_runner_shorter_than_its_gates_is_warned_and_the_named_length_is_not() -> None:
    short = replace(BRONZE, runner=RunnerCase(length=0.030))
    (found,) = [one for one in decide_gating(short).checks if one.kind.id == "gates-on-runner"]
    assert found.verdict == "warn"
    needed, _ = found.message.parts["needed"]
    mended = replace(BRONZE, runner=RunnerCase(length=float(needed)))
    (good,) = [one for one in decide_gating(mended).checks if one.kind.id == "gates-on-runner"]
    assert good.verdict == "pass"


# --- sweeps -----------------------------------------------------------------------------------------


@given(st.floats(0.08, 0.4), st.floats(1.01, 2.0), st.floats(3.0, 9.0))
@settings(max_examples=40)
def test_a_taller_sprue_or_a_wider_choke_fills_faster_and_the_sprue_narrows_downwards(
    height: float, more: float, share: float
) -> None:
    def result(tall: float, across: float) -> dict[str, Any]:
        casting = FilledCase(height=height / share, above_gate=height / share, section_area=5e-3)
        wishes = GatingCase(
            volume=3e-3, casting=casting, sprue_height=tall, choke_diameter=across, gate_position="bottom"
        )
        answer: dict[str, Any] = decide_gating(wishes).result
        return answer

    plain = result(height, 0.012)
    assert result(more * height, 0.012)["fill_time"] < plain["fill_time"]
    assert result(height, more * 0.012)["fill_time"] < plain["fill_time"]
    assert plain["sprue"]["mouth_size"] > plain["sprue"]["exit_size"]
    needed = channels.sprue_mouth_area(plain["choke_area"], plain["head"], 0.040)
    assert plain["sprue"]["mouth_area"] == pytest.approx(needed, rel=1e-9)


@given(
    st.floats(0.05, 0.4),
    st.floats(0.5, 15.0),
    st.floats(0.2, 30.0),
    st.sampled_from(["top", "bottom", "parting"]),
    st.integers(1, 6),
    st.floats(0.003, 0.03),
    st.sampled_from(["C87300", "356", "grey iron", "ZA-12"]),
)
@settings(max_examples=60, deadline=None)
def test_any_sane_request_is_answered_with_every_number_a_number(
    height: float, time: float, mass: float, position: str, gates: int, wall: float, alloy: str
) -> None:
    case = GatingCase(
        alloy=alloy,
        poured_mass=mass,
        pour_time=time,
        sprue_height=height,
        gate_position=position,
        gates=gates,
        casting=FilledCase(height=0.06, wall_thickness=wall),
        gate=GateCase(edge=0.15),
    )
    try:
        answer = decide_gating(case)
    except OutOfRange as refusal:
        pytest.fail(str(refusal))
    assert answer.verdict in ("pass", "warn", "fail")
    for one in answer.checks:
        assert math.isfinite(one.value)
        assert one.subject.startswith("/")
        assert one.message.words[0].isupper()
        assert one.message.words.rstrip().endswith((".", "!"))
    wishes = set(GatingWishes.__dataclass_fields__)
    assert all(one.subject.split("/")[1] in wishes | {"pour_time", "casting"} for one in answer.checks)


def test_choosing_takes_no_drawing() -> None:
    """The plan sizes its gating round after round: what is drawn or vented must not enter the sizes."""
    plain = choose_gating(job(), ROUNDED)
    assert plain == choose_gating(job(castings=()), ROUNDED)
    vented = decide_gating(replace(BRONZE, vents=VentCase(diameter=0.012))).result
    assert vented["sprue"] == decide_gating(BRONZE).result["sprue"]
    assert vented["fill_time"] == decide_gating(BRONZE).result["fill_time"]
