"""Cooling curves made by an ordinary differential equation (cooling_cups.py), with noise, read back.

The truth is what was put into the equation. Beside it: the ladders against the computed points that are
kept with the tests, and what has no arrest, no beginning or no end.
"""

import json
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from pourwright_service.engine.answer import Answer
from pourwright_service.engine.assess.cooling_curve import noise_of
from pourwright_service.engine.decide.cooling_curve import CoolingCurveCase, decide_cooling_curve
from pourwright_service.engine.tables.liquidus_ladders import LADDERS

from .cooling_cups import EUTECTIC, MELTS, Cup

CUPS = {
    "7 % Si": Cup(),
    "undercooled": Cup(undercooling=6.0),
    "3 % Si": Cup(silicon=3.0),
    "quick": Cup(silicon=5.0, pace=2.0),
    "sand": Cup(sand=True),
    "sand, 10 % Si, undercooled": Cup(silicon=10.0, undercooling=3.0, sand=True),
}


@cache
def curve(name: str) -> tuple[np.ndarray, np.ndarray, float]:
    cup = CUPS[name]
    return cup.curve(seconds=900.0 if cup.sand else 600.0)


def read(times: np.ndarray, celsius: np.ndarray, **more: object) -> Answer:
    return decide_cooling_curve(
        CoolingCurveCase(times=tuple(times), temperatures=tuple(celsius + 273.15), **more)
    )


def noisy(name: str, noise: float, seed: int) -> tuple[np.ndarray, np.ndarray]:
    times, celsius, _ = curve(name)
    return times, celsius + noise * np.random.default_rng(seed).standard_normal(len(times))


@pytest.mark.parametrize("name", CUPS)
@pytest.mark.parametrize(("noise", "off"), [(0.0, 0.8), (0.1, 1.0), (0.3, 1.5)])
def test_the_arrests_are_found(name: str, noise: float, off: float) -> None:
    cup, solid = CUPS[name], curve(name)[2]
    told = read(*noisy(name, noise, 4)).result
    assert told["liquidus"]["value"] - 273.15 == pytest.approx(cup.liquidus, abs=off)
    assert told["eutectic"]["value"] - 273.15 == pytest.approx(EUTECTIC, abs=0.3)
    assert told["solidus"] == told["eutectic"]
    assert told["freezing_time"]["value"] == pytest.approx(solid, rel=0.02)
    assert told["noise"] == pytest.approx(noise, rel=0.15, abs=0.02)


@pytest.mark.parametrize("name", ["7 % Si", "undercooled", "sand"])
def test_nine_intervals_in_ten_hold_the_truth(name: str) -> None:
    """Noise of 0.3 K, and a thermocouple that is off by as much as it is said to be."""
    rng = np.random.default_rng(3)
    times, celsius, solid = curve(name)
    held = np.zeros(3)
    for _ in range(150):
        off = 2.5 / 1.6448536 * rng.standard_normal()
        log = celsius + off + 0.3 * rng.standard_normal(len(times))
        told = read(times, log, thermocouple_error=2.5).result
        for n, (part, truth) in enumerate(
            (("liquidus", CUPS[name].liquidus + 273.15), ("solidus", EUTECTIC + 273.15))
        ):
            held[n] += told[part]["low"] <= truth <= told[part]["high"]
        held[2] += told["freezing_time"]["low"] <= solid <= told["freezing_time"]["high"]
    liquidus, solidus, time = held / 150
    assert 0.82 <= liquidus <= 0.97
    assert 0.82 <= solidus <= 0.98
    assert time >= 0.85


def test_an_undercooled_melt_is_told_and_one_that_is_not_is_not() -> None:
    assert read(*noisy("undercooled", 0.0, 1)).result["liquidus"]["undercooling"] == pytest.approx(6, abs=1)
    assert read(*noisy("7 % Si", 0.0, 1)).result["liquidus"]["undercooling"] < 0.5


def test_a_pure_metal_rests_once() -> None:
    times, celsius, solid = Cup(silicon=0.0).curve(500.0)
    told = read(times, celsius, ladder="Al-Si").result
    assert told["eutectic"] is None
    assert told["liquidus"]["value"] - 273.15 == pytest.approx(MELTS, abs=0.8)
    assert told["freezing_range"] == 0.0
    assert told["freezing_time"]["value"] == pytest.approx(solid, rel=0.02)
    assert told["composition"]["low_percent"] == 0.0
    assert told["composition"]["value_percent"] < 0.2


def test_more_noise_and_fewer_readings_widen_the_interval() -> None:
    def width(noise: float, every: int) -> float:
        times, log = noisy("7 % Si", noise, 2)
        told = read(times[::every], log[::every], thermocouple_error=0.01).result["liquidus"]
        return float(told["high"] - told["low"])

    assert width(0.05, 1) < width(0.5, 1) < width(0.5, 4)


def test_the_correction_shifts_every_reading() -> None:
    plain, moved = (read(*noisy("7 % Si", 0.1, 1), correction=shift).result for shift in (0.0, 3.0))
    assert moved["liquidus"]["value"] - plain["liquidus"]["value"] == pytest.approx(3.0, abs=0.1)


def test_noise_is_told_from_the_curve() -> None:
    rng = np.random.default_rng(1)
    times = np.arange(0.0, 400.0)
    assert noise_of(700.0 - 0.5 * times) == pytest.approx(0.0, abs=1e-9)
    assert noise_of(700.0 - 0.5 * times + 0.4 * rng.standard_normal(400)) == pytest.approx(0.4, rel=0.15)


# --- what it says of metal and cup ---------------------------------------------------------------


def test_the_ladders_are_the_computed_points_and_fall() -> None:
    kept = json.loads(Path(__file__).with_name("calphad.json").read_text(encoding="utf-8"))["points"]
    for name, rungs in LADDERS.items():
        base, element = name.split("-")
        for rung in rungs:
            (point,) = (
                point
                for point in kept
                if set(point["composition_percent"]) <= {base, element}
                and base in point["composition_percent"]
                and point["composition_percent"].get(element, 0.0) == pytest.approx(rung.percent)
            )
            assert rung.liquidus.value - 273.15 == pytest.approx(point["liquidus_C"], abs=1e-9)
        values = [rung.liquidus.value for rung in rungs]
        assert values == sorted(values, reverse=True)
    assert set(LADDERS) == {"Al-Si", "Al-Mg", "Cu-Zn"}


def test_silicon_by_the_liquidus() -> None:
    """COST507 has Al-7Si begin to freeze at 616.51 degC: a curve shifted to begin there holds 7 %."""
    times, celsius, _ = curve("7 % Si")
    told = read(times, celsius + 616.51 - CUPS["7 % Si"].liquidus, ladder="Al-Si").result["composition"]
    assert told["value_percent"] == pytest.approx(7.0, abs=0.15)
    assert told["low_percent"] < 7.0 < told["high_percent"]
    assert (told["base"], told["element"]) == ("Al", "Si")


def test_below_the_last_step_of_a_ladder_nothing_is_told() -> None:
    times, celsius, _ = curve("7 % Si")
    told = read(times, celsius - 60.0, ladder="Al-Si").result["composition"]
    assert told["value_percent"] is None
    assert told["high_percent"] is None


def test_another_alloy_and_a_wrong_thermocouple_are_noticed() -> None:
    times, celsius, _ = curve("7 % Si")

    def verdicts(shift: float, alloy: str) -> dict[str, str]:
        told = read(times, celsius + shift, ladder="Al-Si", alloy=alloy)
        return {check.kind.id: check.verdict for check in told.checks}

    assert set(verdicts(0.0, "A356").values()) == {"pass"}
    assert verdicts(0.0, "413")["liquidus-as-alloy"] == "warn"
    assert verdicts(-25.0, "A356")["thermocouple-reads-true"] == "warn"


def test_the_cup_tells_its_mould_constant() -> None:
    """t = C M^2 with the time that the equation took."""
    times, celsius, solid = curve("7 % Si")
    told = read(times, celsius, modulus=0.009).result["mould_constant"]
    assert told["value"] == pytest.approx(solid / 0.009**2, rel=0.02)
    assert told["low"] < solid / 0.009**2 < told["high"]
    assert read(times, celsius).result["mould_constant"] is None


# --- logs that tell nothing ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("first", "last"),
    [(0, 60), (0, 400), (300, 1200), (800, 1200)],
    ids=["liquid only", "not yet solid", "begun while freezing", "solid only"],
)
def test_a_log_without_beginning_or_end_is_unknown(first: int, last: int) -> None:
    times, celsius, _ = curve("7 % Si")
    told = read(times[first:last], celsius[first:last])
    assert told.verdict == "unknown"
    assert told.missing[0].pointer == "/temperatures"
    assert told.result["liquidus"] is None


@pytest.mark.parametrize("seed", range(5))
def test_nonsense_is_answered(seed: int) -> None:
    rng = np.random.default_rng(seed)
    times = np.cumsum(rng.exponential(1.0, 300))
    for celsius in (
        np.full(300, 600.0),
        np.linspace(700.0, 100.0, 300),
        np.linspace(100.0, 700.0, 300),
        600.0 + 50.0 * rng.standard_normal(300),
        700.0 * np.exp(-times / 100.0),
    ):
        assert read(times, celsius).verdict in ("pass", "warn", "unknown", "fail")
