"""Cooling curve: the arrests of a log, what they say of the metal, and what the cup says of its mould."""

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ..answer import Answer, answer
from ..assess.cooling_curve import (
    Z95,
    Array,
    Arrest,
    Curve,
    CurveInputs,
    NotFrozen,
    noise_of,
    read_curve,
)
from ..assess.cooling_curve_checks import check_as_alloy, check_fine_enough, check_reads_true
from ..checks import Check
from ..formulas import calibration
from ..formulas.freezing import mould_constant_from_trial, section_modulus
from ..geometry.sections import Section, SectionFault
from ..ledger import Ledger, Say
from ..tables.liquidus_ladders import LADDERS
from .freezing import TrialCase, trial_body
from .metal import metal_of

MOST_STEPS = 5000
"""A log is laid out on no more even steps than this."""

CLASS_1, CLASS_1_SHARE = 1.5, 0.004
"""Tolerance of a type K thermocouple of class 1: K, or a share of degrees Celsius; from memory."""

MODULUS_SPREAD = 0.05

SLOW_NOISE, SHORTEST, LONGEST = 0.15, 7.0, 12.0
"""Smoothing leaves a noise in the rate of this share of the rate at the log's end, over no fewer than so
many readings and no more than this part of the log."""

LADDER_ERROR = 2.0
"""K by which the ladders' liquidus may be off: how well they agree with published ones."""

EUTECTICS = {"Al-Si": 577.0 + 273.15}
"""Where a ladder's alloys end to freeze, K (COST507, computed)."""

MODIFIED = 10.0
"""K by which strontium or sodium lowers the rest at the eutectic; from memory."""

ALLOY_ERROR = 8.0
"""K by which alloys of one name differ in liquidus within their limits; common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CoolingCurveCase:
    """A log as the caller sends it: s and K, None where nothing was said."""

    times: tuple[float, ...]
    temperatures: tuple[float, ...]
    alloy: str | None = None
    ladder: str | None = None
    section: Section | None = None
    modulus: float | None = None
    modulus_spread: float | None = None
    smoothing: float | None = None
    surroundings: float | None = None
    thermocouple_error: float | None = None
    correction: float | None = None


def decide_cooling_curve(case: CoolingCurveCase) -> Answer:
    """Answer a request to read a cooling curve. Raises SectionFault, OutOfRange."""
    ledger = Ledger()
    inputs = _inputs(case, ledger)
    result: dict[str, Any] = dict.fromkeys(
        (
            "hottest",
            "liquidus",
            "eutectic",
            "solidus",
            "freezing_range",
            "freezing_time",
            "composition",
            "mould_constant",
        )
    )
    result |= {"noise": noise_of(inputs.temperatures), "use": []}
    try:
        curve = read_curve(inputs)
    except NotFrozen as error:
        ledger.lack("/temperatures", error.why)
        return answer(ledger, result, [], error.why)
    time_deviation = curve.time_deviation
    result |= {
        "hottest": curve.hottest,
        "liquidus": _told(curve.liquidus),
        "eutectic": None if curve.eutectic is None else _told(curve.eutectic),
        "solidus": _told(curve.solidus),
        "freezing_range": max(curve.liquidus.temperature - curve.solidus.temperature, 0.0),
        "freezing_time": {
            "value": curve.freezing_time,
            "low": max(curve.freezing_time - Z95 * time_deviation, 0.0),
            "high": curve.freezing_time + Z95 * time_deviation,
        },
        "composition": _composition(case, curve),
        "mould_constant": _cup(case, curve, ledger),
    }
    result["use"] = _use(result, curve)
    return answer(ledger, result, _checks(case, curve, ledger), _sentence(curve))


def _inputs(case: CoolingCurveCase, ledger: Ledger) -> CurveInputs:
    """The log on even steps, and everything else that reading it takes."""
    times = np.array(case.times)
    correction = ledger.use(
        "/correction",
        case.correction,
        0.0,
        "temperature_difference",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="added to every reading; a pure metal's arrest tells it",
    )
    taken_every = float(np.median(np.diff(times)))
    step = max(taken_every, float(times[-1] - times[0]) / MOST_STEPS)
    even = np.arange(times[0], times[-1] + 1e-9 * step, step)
    temperatures = np.interp(even, times, np.array(case.temperatures) + correction)
    smoothing = ledger.use(
        "/smoothing",
        case.smoothing,
        _smoothing(temperatures, step),
        "time",
        provenance="rule",
        source="COMMON-PRACTICE",
        note="as long as the noise of the readings asks for",
    )
    surroundings = ledger.use(
        "/surroundings",
        case.surroundings,
        293.15,
        "temperature",
        provenance="common practice",
        source="COMMON-PRACTICE",
    )
    hottest = float(temperatures.max())
    error = ledger.use(
        "/thermocouple_error",
        case.thermocouple_error,
        max(CLASS_1, CLASS_1_SHARE * (hottest - 273.15)),
        "temperature_difference",
        provenance="from memory",
        source="FROM-MEMORY",
        note="a type K thermocouple of class 1: 1.5 K or 0.4 % of degrees Celsius",
    )
    return CurveInputs(
        times=even,
        temperatures=temperatures,
        smoothing=smoothing,
        surroundings=surroundings,
        thermocouple_deviation=error / Z95,
        sampled_every=taken_every,
    )


def _smoothing(temperatures: Array, step: float) -> float:
    """Time (s) to smooth over: a line through n readings h apart has a slope that is uncertain by
    the noise times sqrt(12/n^3)/h (least squares)."""
    eighth = max(len(temperatures) // 8, 4)
    late = temperatures[-eighth:]
    rate = abs(float(late[: eighth // 2].mean() - late[-(eighth // 2) :].mean())) / (eighth / 2 * step)
    longest = max(len(temperatures) / LONGEST, SHORTEST)
    if rate == 0.0:
        return longest * step
    wanted: float = (12.0 * (noise_of(temperatures) / (SLOW_NOISE * rate * step)) ** 2) ** (1.0 / 3.0)
    return min(max(wanted, SHORTEST), longest) * step


def _told(arrest: Arrest) -> dict[str, Any]:
    off = Z95 * arrest.deviation
    return {
        "value": arrest.temperature,
        "low": arrest.temperature - off,
        "high": arrest.temperature + off,
        "time": arrest.time,
        "until": arrest.until,
        "undercooling": arrest.undercooling,
    }


def _composition(case: CoolingCurveCase, curve: Curve) -> dict[str, Any] | None:
    """How much of the ladder's second element the liquidus tells; None without a ladder or below it."""
    if case.ladder is None:
        return None
    rungs = LADDERS[case.ladder]
    base, element = case.ladder.split("-")
    off = math.hypot(Z95 * curve.liquidus.deviation, LADDER_ERROR)
    falling = np.array([[rung.liquidus.value, rung.percent] for rung in reversed(rungs)]).T
    found = {}
    for name, shift in (("value", 0.0), ("low", off), ("high", -off)):
        at = curve.liquidus.temperature + shift
        lowest = at < falling[0][0]
        found[f"{name}_percent"] = None if lowest else float(np.interp(at, falling[0], falling[1]))
    return {"base": base, "element": element, **found}


def _cup(case: CoolingCurveCase, curve: Curve, ledger: Ledger) -> dict[str, Any] | None:
    """The mould constant of the cup; None where nothing is said of its size."""
    modulus = case.modulus
    if case.section is not None:
        try:
            found = trial_body(TrialCase(section=case.section, freezing_time=1.0), ledger.seen_from(trial=""))
        except SectionFault as error:
            raise SectionFault(
                tuple(
                    replace(fault, pointer=f"/section{fault.pointer.removeprefix('/trial/section/0')}")
                    for fault in error.faults
                )
            ) from None
        if found is not None:
            modulus = section_modulus(found[0].volume, found[0].cooling_area)
    if modulus is None:
        return None
    spread = ledger.use(
        "/modulus_spread",
        case.modulus_spread,
        MODULUS_SPREAD,
        "fraction",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="how full the cup was",
    )
    constant = mould_constant_from_trial(curve.freezing_time, modulus)
    deviation = calibration.constant_deviation(
        curve.time_deviation / curve.freezing_time, calibration.log_deviation(spread)
    )
    off = calibration.half_width(min(deviation, 10.0))
    return {"value": constant, "low": constant / (1.0 + off), "high": constant * (1.0 + off), "spread": off}


def _use(result: dict[str, Any], curve: Curve) -> list[dict[str, Any]]:
    calls = ["freezing", "riser", "pour-time", "plan"]
    found = [
        {
            "calls": calls,
            "merge": {"place": f"properties/{name}", "kind": "temperature", "value": arrest.temperature},
        }
        for name, arrest in (("liquidus", curve.liquidus), ("solidus", curve.solidus))
    ]
    cup = result["mould_constant"]
    if cup is not None:
        merge = {"place": "mould_constant", "kind": "mould_constant", "value": cup["value"]}
        found.append({"calls": calls, "merge": merge})
    return found


def _checks(case: CoolingCurveCase, curve: Curve, ledger: Ledger) -> list[Check]:
    checks = [check_fine_enough(curve.readings)]
    if case.alloy is not None:
        metal = metal_of(case.alloy, {}, Ledger())
        liquidus = metal.get("liquidus")
        if liquidus is None:
            ledger.lack(
                "/alloy", Say("The liquidus of {name} is not known, so nothing is compared.", name=metal.name)
            )
        else:
            checks.append(check_as_alloy(curve.liquidus, liquidus, metal.name, ALLOY_ERROR))
    if case.ladder in EUTECTICS and curve.solidus.until is not None:
        allowed = Z95 * curve.solidus.deviation + MODIFIED
        checks.append(check_reads_true(curve.solidus, EUTECTICS[case.ladder], allowed))
    return checks


def _sentence(curve: Curve) -> Say:
    parts: dict[str, tuple[float, str] | str] = {
        "l": (curve.liquidus.temperature, "temperature"),
        "s": (curve.solidus.temperature, "temperature"),
        "t": (curve.freezing_time, "time"),
        "u": (Z95 * curve.liquidus.deviation, "temperature_difference"),
    }
    if curve.eutectic is None and curve.solidus.until is not None:
        return Say("It freezes at one temperature, {l}, within {u}; it is solid after {t}.", **parts)
    return Say("It starts to freeze at {l}, within {u}, and is solid at {s}, after {t}.", **parts)
