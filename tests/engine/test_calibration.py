"""Calibration against simulated shops, against Bayes' rule done by brute force, and in its limits.

The simulations draw a true value from what is expected, castings that differ from it by the scatter and
measurements that err as they are said to; the intervals from 5 to 95 per cent must then hold the truth
nine times in ten. Brute force is a grid of possible truths weighed by the likelihood of every reading;
the cut-off normal distribution is scipy's truncnorm.
"""

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from scipy import stats

from pourwright_service.engine.answer import Answer
from pourwright_service.engine.assess.calibration import (
    Estimate,
    EstimateInputs,
    Reading,
    assess_estimate,
    check_estimate,
    quantile,
)
from pourwright_service.engine.decide.calibration import decide_calibration
from pourwright_service.engine.decide.calibration_case import (
    CalibrationCase,
    ChargedItem,
    HeatReading,
    LengthReading,
    RiserReading,
    Spreads,
    TrialReading,
)
from pourwright_service.engine.decide.heat import MouldCase

Z95 = float(stats.norm.ppf(0.95))
TRIALS = 400


def readings(*pairs: tuple[float, float]) -> tuple[Reading, ...]:
    return tuple(
        Reading(value=value, deviation=deviation, pointer=f"/trials/{n}", name=f"trial {n + 1}")
        for n, (value, deviation) in enumerate(pairs)
    )


def estimate(
    *pairs: tuple[float, float],
    prior: tuple[float, float] | None = (0.0, 0.2),
    scatter: float = 0.05,
    ceiling: float | None = None,
) -> Estimate:
    return assess_estimate(
        EstimateInputs(
            name="mould constant", readings=readings(*pairs), prior=prior, scatter=scatter, ceiling=ceiling
        )
    )


def sd(half_width: float) -> float:
    """Standard deviation of the logarithm for a half-width of the interval, written down anew."""
    return math.log1p(half_width) / Z95


# --- against Bayes' rule by brute force, and least squares ---------------------------------------


@pytest.mark.parametrize("ceiling", [None, 0.0, 0.05])
def test_the_answer_is_bayes_rule_on_a_grid(ceiling: float | None) -> None:
    pairs = [(-0.10, 0.05), (0.02, 0.10), (-0.05, 0.03)]
    prior, scatter = (-0.02, 0.08), 0.04
    truths = np.linspace(-1.0, 1.0 if ceiling is None else ceiling, 400_001)
    log_weight = stats.norm.logpdf(truths, *prior)
    for value, deviation in pairs:
        log_weight += stats.norm.logpdf(value, truths, math.sqrt(deviation**2 + scatter**2))
    cumulated = np.cumsum(np.exp(log_weight - log_weight.max()))
    cumulated /= cumulated[-1]
    found = estimate(*pairs, prior=prior, scatter=scatter, ceiling=ceiling)
    for probability in (0.05, 0.5, 0.95):
        exact = float(np.interp(probability, cumulated, truths))
        assert found.at(probability) == pytest.approx(exact, abs=2e-5)


def test_without_a_prior_it_is_weighted_least_squares() -> None:
    pairs = [(0.3, 0.05), (0.34, 0.02), (0.28, 0.04)]
    weights = np.array([1.0 / math.hypot(deviation, 0.05) for _, deviation in pairs])
    design, target = weights[:, None], weights * np.array([value for value, _ in pairs])
    fitted = np.linalg.lstsq(design, target, rcond=None)[0][0]
    found = estimate(*pairs, prior=None)
    assert found.middle == pytest.approx(fitted, rel=1e-12)
    assert found.deviation == pytest.approx(np.linalg.inv(design.T @ design)[0, 0] ** 0.5, rel=1e-12)
    assert found.weight == 1.0


@pytest.mark.parametrize("middle", [-2.0, -0.01, 0.0, 0.3, 5.0])
@pytest.mark.parametrize("probability", [0.05, 0.5, 0.95])
def test_a_cut_off_distribution(middle: float, probability: float) -> None:
    exact = stats.truncnorm.ppf(probability, -np.inf, (0.0 - middle) / 0.1, loc=middle, scale=0.1)
    assert quantile(probability, middle, 0.1, 0.0) == pytest.approx(exact, rel=1e-6, abs=1e-9)


def test_what_lies_hopelessly_above_the_ceiling_ends_at_it() -> None:
    """A recovery that seems ten times more than there was: still a number, and no more than all."""
    found = quantile(0.5, math.log(10.0), 0.01, 0.0)
    assert -1e-3 < found <= 0.0


# --- limits ------------------------------------------------------------------------------------


def test_no_reading_leaves_the_prior_and_nothing_at_all_is_refused() -> None:
    found = estimate()
    assert (found.middle, found.deviation, found.weight) == (0.0, 0.2, 0.0)
    with pytest.raises(ValueError, match="neither"):
        estimate(prior=None)


def test_worthless_readings_leave_the_prior() -> None:
    found = estimate((0.5, 1e4), (0.7, 1e4))
    assert found.middle == pytest.approx(0.0, abs=1e-6)
    assert found.deviation == pytest.approx(0.2, rel=1e-6)
    assert found.weight < 1e-6


def test_many_readings_are_believed() -> None:
    rng = np.random.default_rng(5)
    values = 0.4 + 0.05 * rng.standard_normal(200)
    found = estimate(*((float(value), 1e-6) for value in values))
    assert found.middle == pytest.approx(values.mean(), abs=2e-4)
    assert found.deviation == pytest.approx(0.05 / math.sqrt(200.0), rel=1e-3)
    assert found.weight > 0.999


def test_an_exact_reading_without_scatter_is_the_answer() -> None:
    found = estimate((0.123, 1e-9), scatter=0.0)
    assert found.middle == pytest.approx(0.123, abs=1e-9)


def test_more_readings_never_make_it_less_certain() -> None:
    rng = np.random.default_rng(6)
    pairs = [(float(rng.normal(0.1, 0.02)), float(rng.uniform(0.02, 0.2))) for _ in range(20)]
    widths = [estimate(*pairs[:n]).deviation for n in range(21)]
    assert all(later < earlier for earlier, later in pairwise(widths))


@pytest.mark.parametrize("shift", [-0.05, 0.01, 0.1])
def test_a_higher_reading_never_lowers_the_answer(shift: float) -> None:
    base = estimate((0.0, 0.05), (0.02, 0.05)).middle
    moved = estimate((0.0 + shift, 0.05), (0.02, 0.05)).middle
    assert math.copysign(1.0, moved - base) == math.copysign(1.0, shift)


def test_the_order_of_readings_is_no_matter() -> None:
    pairs = [(0.1, 0.03), (0.2, 0.06), (0.15, 0.01)]
    forth, back = estimate(*pairs), estimate(*reversed(pairs))
    assert forth.middle == pytest.approx(back.middle, rel=1e-12)
    assert forth.deviation == pytest.approx(back.deviation, rel=1e-12)


def test_the_answer_of_one_calibration_is_the_prior_of_the_next() -> None:
    both = estimate((0.1, 0.03), (0.12, 0.05))
    first = estimate((0.1, 0.03))
    second = estimate((0.12, 0.05), prior=(first.middle, first.deviation))
    assert second.middle == pytest.approx(both.middle, rel=1e-12)
    assert second.deviation == pytest.approx(both.deviation, rel=1e-12)


# --- trials that do not fit --------------------------------------------------------------------


def verdicts(found: Estimate) -> dict[tuple[str, str], str]:
    return {(check.kind.id, check.subject): check.verdict for check in check_estimate(found)}


def test_the_odd_one_out_is_pointed_at_and_the_interval_grows() -> None:
    fine = [(0.01, 0.02), (-0.02, 0.02), (0.0, 0.02), (0.015, 0.02)]
    good = estimate(*fine)
    assert set(verdicts(good).values()) == {"pass"}
    bad = estimate(*fine, (0.4, 0.02))
    told = verdicts(bad)
    assert told["trial-agrees", "/trials/4"] == "warn"
    assert all(told["trial-agrees", f"/trials/{n}"] == "pass" for n in range(4))
    assert told["trials-scatter", "mould constant"] == "warn"
    assert bad.deviation > good.deviation
    assert bad.scatter > good.scatter


def test_a_single_trial_far_from_the_tables_is_doubted() -> None:
    assert verdicts(estimate((1.0, 0.02), prior=(0.0, 0.2)))["trial-agrees", "/trials/0"] == "warn"
    assert verdicts(estimate((1.0, 0.02), prior=None)) == {}


def test_trials_that_agree_are_rarely_doubted() -> None:
    """By chance: 1 in 370 for one trial, 1 in 20 for the scatter."""
    rng = np.random.default_rng(7)
    doubted = scattered = 0
    for _ in range(TRIALS):
        truth = rng.normal(0.0, 0.2)
        found = estimate(*((float(rng.normal(truth, math.hypot(0.05, 0.03))), 0.03) for _ in range(5)))
        told = verdicts(found)
        doubted += sum(v == "warn" for (kind, _), v in told.items() if kind == "trial-agrees")
        scattered += told["trials-scatter", "mould constant"] == "warn"
    assert doubted <= 0.01 * 5 * TRIALS
    assert 0.02 * TRIALS <= scattered <= 0.09 * TRIALS


# --- whole requests on simulated shops -----------------------------------------------------------

SPREADS = Spreads(mould_constant=0.5, feeding_efficiency=0.4, contraction=0.006)
SCATTER = Spreads(mould_constant=0.15, feeding_efficiency=0.2, recovery=0.02, contraction=0.001)
BASIC = {"mould_constant": 1e6, "spreads": SPREADS, "scatter": SCATTER}


def result(case: CalibrationCase) -> dict[str, Any]:
    answer: Answer = decide_calibration(case)
    return answer.result


def holds(told: dict[str, Any], truth: float, following: float) -> tuple[bool, bool]:
    return (
        told["low"] <= truth <= told["high"],
        told["next_low"] <= following <= told["next_high"],
    )


def constant_shop(rng: np.random.Generator) -> tuple[bool, bool]:
    """Three trial castings by modulus, clock and ruler off as they are said to be."""
    truth = math.log(1e6) + sd(0.5) * rng.standard_normal()
    trials = []
    for _ in range(3):
        own = truth + sd(0.15) * rng.standard_normal()
        modulus = 0.01 * math.exp(sd(0.05) * rng.standard_normal())
        time = math.exp(own) * 0.01**2 * math.exp(sd(0.08) * rng.standard_normal())
        trials.append(
            TrialReading(modulus=modulus, freezing_time=time, time_spread=0.08, modulus_spread=0.05)
        )
    told = result(CalibrationCase(**BASIC, trials=tuple(trials)))["mould_constant"]
    return holds(told, math.exp(truth), math.exp(truth + sd(0.15) * rng.standard_normal()))


def riser_shop(rng: np.random.Generator) -> tuple[bool, bool]:
    """Four risers, filled with water to measure the hollow."""
    truth = math.log(0.14) + sd(0.4) * rng.standard_normal()
    risers = tuple(
        RiserReading(
            volume=2e-4,
            piped_volume=2e-4
            * math.exp(truth + sd(0.2) * rng.standard_normal() + sd(0.1) * rng.standard_normal()),
            spread=0.1,
        )
        for _ in range(4)
    )
    told = result(CalibrationCase(**BASIC, risers=risers))["feeding_efficiency"]
    return holds(told, math.exp(truth), math.exp(truth + sd(0.2) * rng.standard_normal()))


def length_shop(rng: np.random.Generator) -> tuple[bool, bool]:
    """Five lengths of patterns and castings in silicon bronze, calliper off by half a millimetre."""
    truth = 0.25 / 12.0 + 0.006 / Z95 * rng.standard_normal()
    lengths = []
    for size in (0.1, 0.15, 0.2, 0.3, 0.4):
        own = truth + 0.001 / Z95 * rng.standard_normal()
        off = 0.0005 / Z95 * rng.standard_normal(2)
        lengths.append(
            LengthReading(pattern=size * (1.0 + own) + off[0], casting=size + off[1], length_spread=0.0005)
        )
    told = result(CalibrationCase(**BASIC, alloy="C87300", lengths=tuple(lengths)))["contraction"]
    return holds(told, truth, truth + 0.001 / Z95 * rng.standard_normal())


def drawn_recovery(rng: np.random.Generator, middle: float, deviation: float) -> float:
    """A logarithm of a recovery, drawn again while it is above all of it."""
    while True:
        drawn = middle + deviation * rng.standard_normal()
        if drawn <= 0.0:
            return float(drawn)


def heat_shop(rng: np.random.Generator) -> tuple[bool, bool]:
    """Four heats of silicon bronze; the truth is silicon's recovery, 85 to 98 per cent expected."""
    low, high = math.log(0.85), math.log(0.98)
    truth = drawn_recovery(rng, 0.5 * (low + high), (high - low) / (2.0 * Z95))
    heats = []
    for _ in range(4):
        own = truth + sd(0.02) * rng.standard_normal()
        melt = 9.8
        share = 0.04 * 10.0 * math.exp(own) / melt
        seen = share * math.exp(sd(0.05 * (1.0 - share)) * rng.standard_normal())
        weights = np.exp(sd(0.01) * rng.standard_normal(2))
        heats.append(
            HeatReading(
                items=(
                    ChargedItem(
                        name="stock",
                        mass=10.0 * weights[0],
                        composition_percent={"Cu": (96.0, 96.0), "Si": (4.0, 4.0)},
                    ),
                ),
                poured=melt * weights[1],
                analysis_percent={"Si": 100.0 * seen},
                mass_spread=0.01,
                analysis_spread=0.05,
                analysis_floor_percent=1e-6,
            )
        )
    case = CalibrationCase(**BASIC, heats=tuple(heats), recovery_percent={"Si": (85.0, 98.0)})
    (told,) = result(case)["recoveries"]
    following = drawn_recovery(rng, truth, sd(0.02))
    return holds(told, math.exp(truth), math.exp(following))


@pytest.mark.parametrize("shop", [constant_shop, riser_shop, length_shop, heat_shop])
def test_nine_intervals_in_ten_hold_the_truth(shop: Any) -> None:
    rng = np.random.default_rng(2026)
    held = np.array([shop(rng) for _ in range(TRIALS)])
    middle, following = held.mean(axis=0)
    assert 0.85 <= middle <= 0.95, middle
    assert 0.85 <= following <= 0.95, following


def test_overconfident_shops_are_found_out() -> None:
    """Who says a tenth of the error that there is gets intervals that would fail the test above."""
    rng = np.random.default_rng(11)
    held = 0
    for _ in range(TRIALS):
        truth = rng.normal(0.0, 0.2)
        pairs = [(float(rng.normal(truth, 0.2)), 0.02)]
        found = estimate(*pairs, scatter=0.0)
        held += found.at(0.05) <= truth <= found.at(0.95)
    assert held < 0.5 * TRIALS


# --- castings ------------------------------------------------------------------------------------


def test_the_trial_of_a_freezing_request_gives_the_same_constant() -> None:
    """A trial alone, with what is expected of no weight: the very constant of POST /v1/freezing."""
    from pourwright_service.engine.decide.freezing import FreezingCase, TrialCase, decide_freezing
    from pourwright_service.engine.geometry.sections import Section

    bar = Section(name="bar", shape="cylinder", dimensions={"diameter": 0.05, "height": 0.2})
    same = {"alloy": "C87300", "mould": MouldCase(medium="oil-bonded sand"), "pouring_temperature": 1400.0}
    told = result(
        CalibrationCase(
            **same,
            trials=(TrialReading(section=bar, freezing_time=300.0),),
            spreads=Spreads(mould_constant=10.0),
            scatter=Spreads(mould_constant=1e-6),
        )
    )["mould_constant"]
    (reading,) = told["readings"]
    freezing = decide_freezing(
        FreezingCase(**same, sections=(bar,), trial=TrialCase(section=bar, freezing_time=300.0))
    )
    assert told["method"] == "curvature"
    assert reading["value"] == pytest.approx(freezing.result["mould_constant"], rel=1e-12)


@pytest.mark.parametrize(("shape", "share"), [("cone", 1 / 3), ("bowl", 1 / 2), ("flat", 1.0)])
def test_the_hollow_by_its_depth(shape: str, share: float) -> None:
    """Cone, paraboloid and cylinder of one mouth and depth hold 1/3, 1/2 and all of the cylinder."""
    riser = RiserReading(diameter=0.06, height=0.08, pipe_depth=0.02, pipe_shape=shape)
    (reading,) = result(CalibrationCase(risers=(riser,)))["feeding_efficiency"]["readings"]
    assert reading["value"] == pytest.approx(share * 0.02 / 0.08, rel=1e-12)


def test_a_riser_with_metal_left_moves_nothing_and_may_disagree() -> None:
    drained = RiserReading(volume=1e-4, piped_volume=1.4e-5)
    alone = decide_calibration(CalibrationCase(risers=(drained,)))
    for given, verdict in ((1.2e-5, "pass"), (3e-5, "warn")):
        left = RiserReading(volume=1e-4, piped_volume=given, had_metal_left=True)
        both = decide_calibration(CalibrationCase(risers=(drained, left)))
        assert both.result["feeding_efficiency"] == alone.result["feeding_efficiency"]
        (check,) = (one for one in both.checks if one.kind.id == "riser-gave-more")
        assert check.verdict == verdict
    only = decide_calibration(
        CalibrationCase(risers=(RiserReading(volume=1e-4, piped_volume=1e-5, had_metal_left=True),))
    )
    assert only.result["feeding_efficiency"] is None
    assert "least value" in only.message.words


# --- heats ---------------------------------------------------------------------------------------


def heat(**more: Any) -> HeatReading:
    item = ChargedItem(
        name="stock", mass=10.0, composition_percent={"Cu": (95.0, 95.0), "Si": (4.0, 4.0), "Fe": (0.0, 2.0)}
    )
    return HeatReading(**{"items": (item,), "poured": 9.0, "pig": 0.8, **more})


def test_masses_are_counted_once() -> None:
    """98 per cent came out; of 0.4 kg of silicon 0.038 x 9.8 kg = 93.1 per cent."""
    told = result(CalibrationCase(heats=(heat(analysis_percent={"Si": 3.8}),)))
    assert told["melting_yield"]["readings"][0]["value"] == pytest.approx(0.98)
    (silicon,) = told["recoveries"]
    assert silicon["readings"][0]["value"] == pytest.approx(0.931)
    assert told["melting_loss"]["value"] == pytest.approx(1.0 - told["melting_yield"]["value"])


def test_what_weighs_too_much_fails() -> None:
    heavy = decide_calibration(CalibrationCase(heats=(heat(poured=9.6),)))
    assert (heavy.verdict, "Weigh again" in heavy.message.words) == ("fail", True)
    castings = decide_calibration(CalibrationCase(heats=(heat(castings=9.5),)))
    assert {check.kind.id for check in castings.checks if check.verdict == "fail"} == {"castings-of-poured"}


def test_an_element_from_nowhere_is_named_and_one_too_many_doubted() -> None:
    told = decide_calibration(CalibrationCase(heats=(heat(analysis_percent={"Zn": 0.5, "Si": 5.0}),)))
    assert told.result["not_charged"] == ["Zn"]
    assert "element-balance" in {check.kind.id for check in told.checks if check.verdict == "warn"}
    assert told.result["recoveries"][0]["high"] <= 1.0


def test_a_doubtful_composition_makes_a_doubtful_recovery() -> None:
    told = result(CalibrationCase(heats=(heat(analysis_percent={"Si": 3.8, "Fe": 0.9}),)))
    width = {
        one["element"]: one["readings"][0]["high"] / one["readings"][0]["low"] for one in told["recoveries"]
    }
    assert width["Fe"] > 2.0 > width["Si"]


def test_nothing_measured_is_unknown() -> None:
    told = decide_calibration(CalibrationCase(alloy="C87300"))
    assert told.verdict == "unknown"
    assert told.missing[0].pointer == "/trials"
