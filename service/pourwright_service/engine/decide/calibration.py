"""Calibration: a shop's own trials move what the tables expect, and say how sure the outcome is."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from ..answer import Answer, answer
from ..assess.calibration import Estimate, assess_estimate, check_estimate, check_gave_more, misfits
from ..bounds import FINITE, Bound, within
from ..checks import Check
from ..formula import paused
from ..formulas import calibration as formulas
from ..ledger import Ledger, Say
from .calibration_case import CalibrationCase
from .calibration_castings import constant_inputs, contraction_inputs, efficiency_inputs
from .calibration_heats import Heats, heats_inputs
from .metal import Metal, metal_of

LOW, HIGH = 0.05, 0.95
"""The interval that is told."""

WIDEST = 20.0
"""A half-width beyond this many times the value is not told as a share."""


@dataclass(slots=True)
class _Book:
    """What is gathered for one answer."""

    case: CalibrationCase
    metal: Metal
    ledger: Ledger
    result: dict[str, Any]
    checks: list[Check]
    said: list[Say]


def decide_calibration(case: CalibrationCase) -> Answer:
    """Answer a calibration request. Raises SectionFault, OutOfRange."""
    ledger = Ledger()
    result: dict[str, Any] = {
        "mould_constant": None,
        "feeding_efficiency": None,
        "contraction": None,
        "recoveries": [],
        "melting_yield": None,
        "melting_loss": None,
        "not_charged": [],
        "use": [],
    }
    book = _Book(case, metal_of(case.alloy, case.properties, ledger), ledger, result, [], [])
    for part in (_constant, _efficiency, _contraction, _heats):
        part(book)
    if not (case.trials or case.risers or case.heats or case.lengths):
        ledger.lack(
            "/trials",
            Say(
                "Nothing was measured yet: send trial castings that froze in a measured time (trials), "
                "risers cut open (risers), weighed heats (heats) or lengths of pattern and casting (lengths)."
            ),
        )
    message = book.said[0] if book.said else Say("Nothing follows yet.")
    for sentence in book.said[1:]:
        message = message.then(sentence)
    return answer(ledger, result, book.checks, message)


def _constant(book: _Book) -> None:
    found = constant_inputs(book.case, book.metal, book.ledger)
    if found is None:
        return
    inputs, method = found
    estimate = assess_estimate(inputs)
    book.checks += check_estimate(estimate)
    told = _told(estimate, _exp, "/mould_constant")
    book.result["mould_constant"] = {**told, "method": method}
    book.said.append(
        _sentence("Reckon with a mould constant of {v} ({low} to {high}).", told, "mould_constant")
    )
    _use(book, ("freezing", "riser", "pour-time", "plan"), "mould_constant", "mould_constant", told["value"])


def _efficiency(book: _Book) -> None:
    inputs, least = efficiency_inputs(book.case, book.ledger)
    if inputs is None:
        for share, name, _ in least:
            book.said.append(
                Say(
                    "{name} gave {e} of itself and had metal left: that is a least value, and no efficiency "
                    "follows until a riser is drained as far as it can be.",
                    name=name,
                    e=(share, "fraction"),
                )
            )
        return
    estimate = assess_estimate(inputs)
    book.checks += check_estimate(estimate)
    told = _told(estimate, _exp, "/riser/feeding_efficiency")
    book.checks += [check_gave_more(share, told["next_high"], name, where) for share, name, where in least]
    book.result["feeding_efficiency"] = told
    book.said.append(_sentence("Such risers give {v} of themselves ({low} to {high}).", told, "fraction"))
    _use(book, ("riser", "plan"), "riser/feeding_efficiency", "fraction", told["value"])


def _contraction(book: _Book) -> None:
    inputs = contraction_inputs(book.case, book.metal, book.ledger)
    if inputs is None:
        return
    estimate = assess_estimate(inputs)
    book.checks += check_estimate(estimate)
    told = _told(estimate, lambda value: value, "/properties/contraction")
    book.result["contraction"] = told
    book.said.append(_sentence("Make patterns {v} ({low} to {high}) over size.", told, "fraction"))
    _use(book, ("riser", "plan"), "properties/contraction", "fraction", told["value"], within(0.0, 0.2))


def _heats(book: _Book) -> None:
    heats = heats_inputs(book.case, book.metal, book.ledger)
    if heats is None:
        return
    book.checks += heats.checks
    whole = assess_estimate(heats.melting_yield)
    book.checks += check_estimate(whole)
    told = _told(whole, _exp, None)
    book.result["melting_yield"] = told
    book.result["melting_loss"] = {
        "value": 1.0 - told["value"],
        "low": 1.0 - told["high"],
        "high": 1.0 - told["low"],
    }
    book.said.append(
        _sentence(
            "Melting loses {v} ({low} to {high}) of what is charged.", book.result["melting_loss"], "fraction"
        )
    )
    book.result["not_charged"] = list(heats.not_charged)
    recoveries = _recoveries(heats, book.checks)
    book.result["recoveries"] = recoveries
    if recoveries:
        ranges = {one["element"]: [100.0 * one["next_low"], 100.0 * one["next_high"]] for one in recoveries}
        _use(book, ("charge", "charge/makes"), "recovery_percent", "map", ranges)


def _recoveries(heats: Heats, checks: list[Check]) -> list[dict[str, Any]]:
    found = []
    for element, inputs in heats.elements.items():
        estimate = assess_estimate(inputs)
        checks += check_estimate(estimate)
        told = _told(estimate, _exp, f"/recovery_percent/{element}")
        found.append({"element": element, **told})
    return found


def _told(estimate: Estimate, turned: Callable[[float], float], pointer: str | None) -> dict[str, Any]:
    """An estimate as the answer has it. ``turned`` makes the quantity of what was weighed."""
    inputs = estimate.inputs
    value = turned(estimate.at(0.5))
    low, high = (turned(estimate.at(end, following=True)) for end in (LOW, HIGH))
    told: dict[str, Any] = {
        "value": value,
        "low": turned(estimate.at(LOW)),
        "high": turned(estimate.at(HIGH)),
        "next_low": low,
        "next_high": high,
        "spread": _spread(turned is _exp, estimate.deviation),
        "next_spread": _spread(turned is _exp, math.hypot(estimate.deviation, estimate.scatter)),
        "expected": None,
        "expected_low": None,
        "expected_high": None,
        "weight": estimate.weight,
        "goes_to": pointer,
        "readings": [
            {
                "place": reading.pointer,
                "name": reading.name,
                "value": turned(reading.value),
                "low": turned(reading.value - formulas.Z95 * reading.deviation),
                "high": turned(reading.value + formulas.Z95 * reading.deviation),
                "misfit": off,
            }
            for reading, off in zip(inputs.readings, misfits(estimate), strict=True)
        ],
    }
    if inputs.prior is not None:
        middle, deviation = inputs.prior
        told["expected"] = turned(middle)
        told["expected_low"] = turned(middle - formulas.Z95 * deviation)
        told["expected_high"] = turned(middle + formulas.Z95 * deviation)
        if inputs.ceiling is not None:
            told["expected_high"] = min(told["expected_high"], turned(inputs.ceiling))
    return told


def _spread(logarithmic: bool, deviation: float) -> float | None:
    """Half-width of the interval: a share of the value, of contraction points; None if it is boundless."""
    if not logarithmic:
        return formulas.Z95 * deviation
    if deviation > math.log1p(WIDEST) / formulas.Z95:
        return None
    with paused():
        return formulas.half_width(deviation)


def _exp(value: float) -> float:
    """e to that power; infinite beyond what a float holds."""
    return math.exp(value) if value < 700.0 else math.inf


def _sentence(words: str, told: dict[str, Any], kind: str) -> Say:
    return Say(words, v=(told["value"], kind), low=(told["low"], kind), high=(told["high"], kind))


def _use(
    book: _Book, calls: tuple[str, ...], place: str, kind: str, value: Any, bound: Bound = FINITE
) -> None:
    """Note what may be merged into requests; a value that those would not take is left out."""
    if isinstance(value, float) and not bound.holds(value):
        return
    part = {"place": place, "kind": kind, "value": value}
    book.result["use"].append({"calls": list(calls), "merge": part})
