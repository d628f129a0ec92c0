"""Gating: what the checks say, that the value they name would do, and what lacks."""

import math
from dataclasses import replace

import pytest

from pourwright_service.engine.assess.gating_flow import (
    GatingDecision,
    gating_metal,
)
from pourwright_service.engine.bounds import OutOfRange
from pourwright_service.engine.decide.gating import GatingCase, decide_gating
from pourwright_service.engine.decide.gating_case import FilledCase, GateCase, LayerCase, RatioCase
from pourwright_service.engine.decide.gating_inputs import Sizing
from tests.engine.gating_jobs import EXACT, check, job, sized


def test_head_left_is_judged_and_the_sprue_that_the_message_names_would_do() -> None:
    case = GatingCase(
        alloy="356",
        poured_mass=5.0,
        pour_time=4.0,
        sprue_height=0.10,
        casting=FilledCase(height=0.12, above_gate=0.12),
    )
    answer = decide_gating(case)
    (head,) = [one for one in answer.checks if one.kind.id == "gating-head-left"]
    assert (answer.verdict, head.verdict) == ("warn", "warn")
    high, _ = head.message.parts["high"]
    mended = decide_gating(replace(case, sprue_height=float(high)))
    short = decide_gating(replace(case, sprue_height=float(high) - 0.001))
    verdicts = [
        next(one.verdict for one in done.checks if one.kind.id == "gating-head-left")
        for done in (mended, short)
    ]
    assert verdicts == ["pass", "warn"]


@pytest.mark.parametrize("sprue", [0.05, 0.08])
def test_a_sprue_no_taller_than_the_casting_fails_and_says_how_tall_it_must_be(sprue: float) -> None:
    casting = FilledCase(height=0.12, above_gate=0.12)
    case = GatingCase(alloy="356", poured_mass=5.0, pour_time=4.0, sprue_height=sprue, casting=casting)
    answer = decide_gating(case)
    assert answer.verdict == "fail"
    assert answer.message.words.startswith("The mould cannot fill")
    assert answer.message.parts["high"] == (pytest.approx(0.12 + 0.05 - 0.04), "length")


def test_gates_as_wide_as_the_message_says_are_quiet_and_a_little_narrower_are_not() -> None:
    ratio = RatioCase(sprue=1.0, runner=2.0, gate=1.0)
    case = GatingCase(alloy="356", poured_mass=5.0, pour_time=4.0, sprue_height=0.2, ratio=ratio)
    answer = decide_gating(case)
    (gate,) = [one for one in answer.checks if one.kind.id == "gate-velocity"]
    assert (answer.verdict, gate.verdict) == ("fail", "fail")
    area, _ = gate.message.parts["area"]

    def verdict(share: float) -> str:
        given = replace(case, gate=GateCase(area=float(area) * share))
        done = decide_gating(given)
        return next(one.verdict for one in done.checks if one.kind.id == "gate-velocity")

    assert [verdict(share) for share in (1.0, 0.95, 0.85)] == ["pass", "warn", "fail"]


def test_iron_through_pressurised_gates_is_warned_not_failed() -> None:
    """Foundry lexicon, giesserei-praxis.de: pressurised preferred for grey and ductile iron."""
    ratio = RatioCase(sprue=2.0, runner=1.5, gate=1.0)
    case = GatingCase(alloy="grey iron", poured_mass=10.0, pour_time=6.6, sprue_height=0.15, ratio=ratio)
    answer = decide_gating(case)
    assert answer.result["choke_at"] == "gates"
    assert next(one.verdict for one in answer.checks if one.kind.id == "gate-velocity") == "warn"


def test_a_sprue_of_even_width_draws_in_air_and_the_mouth_that_the_message_names_does_not() -> None:
    plain = Sizing(sprue_shape="round", gate_count=1, step=0.0, choke_area=1e-4, mouth_area=1e-4)
    _, done = sized(job(), plain)
    found = check(done, "sprue-aspiration")
    assert found.verdict == "warn"
    assert done.flow.mouth_pressure < 0.0
    needed, _ = found.message.parts["needed"]
    _, mended = sized(job(), replace(plain, mouth_area=float(needed)))
    assert check(mended, "sprue-aspiration").verdict == "pass"


def test_a_ratio_of_equal_parts_has_no_choke() -> None:
    equal, wide = (
        sized(job(), replace(EXACT, ratio=RatioCase(sprue=1.0, runner=part, gate=part)))[1]
        for part in (1.0, 4.0)
    )
    assert check(equal, "gating-choke").value == pytest.approx(1.0 / math.sqrt(3.0), rel=1e-9)
    assert check(equal, "gating-choke").verdict == "warn"
    assert check(wide, "gating-choke").verdict == "pass"


def test_a_head_beyond_five_quiet_chokes_is_warned_and_the_named_head_is_not() -> None:
    _, tall = sized(job(0.6, discharge_coefficient=0.9))
    found = check(tall, "gate-quiet-head")
    assert found.verdict == "warn"
    limit, _ = found.message.parts["limit"]
    _, low = sized(job(float(limit), discharge_coefficient=0.9))
    assert check(low, "gate-quiet-head").verdict == "pass"
    assert low.flow.gate_area / low.flow.choke_area == pytest.approx(5.0, rel=1e-9)


def test_a_slow_rise_is_warned_and_the_time_that_the_message_names_is_not() -> None:
    _, slow = sized(job(wanted_time=9.0, wall_thickness=0.012))
    found = check(slow, "fill-rise")
    assert found.verdict == "warn"
    time, _ = found.message.parts["t"]
    _, quick = sized(job(wanted_time=float(time), wall_thickness=0.012))
    assert check(quick, "fill-rise").verdict == "pass"


# --- metal in the system, missing values ---------------------------------------------------------------


def test_metal_in_the_system_by_hand() -> None:
    decision = GatingDecision(
        sprue_shape="square",
        sprue_exit=0.010,
        sprue_mouth=0.020,
        runner_width=0.020,
        runner_heights=(0.010, 0.005),
        gate_count=2,
        gate_width=0.025,
        gate_thickness=0.004,
    )
    metal = gating_metal(job(0.19), decision)
    assert metal.sprue == pytest.approx(0.15 / 3 * (1e-4 + 4e-4 + 2e-4))
    assert metal.well == pytest.approx(5 * 1e-4 * 0.010)
    assert metal.runner == pytest.approx(0.06 * 2e-4 + 0.06 * 1e-4 + 0.025 * 1e-4)
    assert metal.gates == pytest.approx(2 * 0.025 * 0.004 * 0.015)
    assert metal.basin == pytest.approx(0.04 / 3 * (4e-4 + 36e-4 + 12e-4))
    parts = (metal.sprue, metal.well, metal.runner, metal.gates, metal.basin)
    assert metal.total == pytest.approx(sum(part for part in parts if part is not None), rel=1e-12)


@pytest.mark.parametrize(
    ("case", "pointer"),
    [
        (GatingCase(alloy="356", poured_mass=5.0, pour_time=4.0), "/sprue_height"),
        (GatingCase(alloy="356", poured_mass=5.0, sprue_height=0.1), "/pour_time"),
        (GatingCase(alloy="356", pour_time=4.0, sprue_height=0.1), "/poured_mass"),
        (GatingCase(poured_mass=5.0, pour_time=4.0, sprue_height=0.1), "/alloy"),
        (GatingCase(volume=1e-3, pour_time=4.0, sprue_height=0.1), "/alloy"),
        (GatingCase(alloy="356", sprue_height=0.1, casting=FilledCase(above_gate=0.0)), "/casting/height"),
    ],
)
def test_what_lacks_is_named_and_the_verdict_is_unknown(case: GatingCase, pointer: str) -> None:
    answer = decide_gating(case)
    assert answer.verdict == "unknown"
    assert pointer in [one.pointer for one in answer.missing]


def test_a_casting_that_holds_more_than_is_poured_is_refused() -> None:
    casting = FilledCase(layers=(LayerCase(height=0.1, volume=2e-3),), above_gate=0.0)
    with pytest.raises(OutOfRange) as refusal:
        decide_gating(GatingCase(volume=1e-3, head=0.2, choke_area=1e-4, casting=casting))
    assert refusal.value.name == "volume"
