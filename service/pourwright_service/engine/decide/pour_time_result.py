"""A pour time as the answer tells it: the sentence, the window in words, the laws side by side."""

from typing import Any

from ..assess.pour_time import PourTimeAssessment, PourTimeDecision
from ..assess.pour_time_laws import PublishedLaw, published_laws
from ..assess.pour_time_window import (
    LIGHT,
    PourTimeInputs,
    Window,
    pour_laws,
    pour_window,
    time_by_laws,
    window_rules,
)
from ..formula import paused
from ..formulas import pour_time as formulas
from ..ledger import Say
from ..tables.moulds import least_wall
from ..tables.pouring import pouring_practice
from ..tables.sources import SOURCES
from .metal import Metal

WALLS = (0.003, 0.005, 0.008, 0.012, 0.020, 0.030, 0.040)
"""Walls (m) for which the pouring temperature is told."""


def sentence(
    decision: PourTimeDecision | None, done: PourTimeAssessment | None, pouring: float | None
) -> Say:
    """The sentence that an answer begins with when nothing is wrong."""
    if decision is None or done is None:
        return Say("No pour time could be found.")
    parts: dict[str, tuple[float, str] | str] = {"t": (decision.pour_time, "time")}
    words = "Fill the mould in {t}"
    if pouring is not None:
        words += ", with metal at {hot}"
        parts["hot"] = (pouring, "temperature")
    if done.window.slowest is not None:
        words += "; it must be full within {slow}"
        parts["slow"] = (done.window.slowest, "time")
    return Say(f"{words}.", **parts)


def pour_time_result(
    inputs: PourTimeInputs,
    decision: PourTimeDecision | None,
    done: PourTimeAssessment | None,
    pouring: float | None,
    metal: Metal,
    *,
    medium: str | None = None,
) -> dict[str, Any]:
    """The result as the answer's schema lays it out; what is not known is None.

    ``medium`` is what the mould is made of, for the walls that are reported to fill in it.
    """
    with paused():
        laws = done.laws if done else pour_laws(inputs)
        window = done.window if done else pour_window(inputs)
    time = decision.pour_time if decision else None
    by_laws = done.by_laws if done else time_by_laws(laws)
    ends = {"freezing": window.by_freezing, "rise": window.by_rise, "gates": window.fastest}
    return {
        "pour_time": time,
        "built_time": decision.built_time if decision else None,
        "by_laws": by_laws,
        "moved": None if time is None or by_laws is None else time != by_laws,
        "laws": [{"law": law.name, "time": law.time, "source": law.source} for law in laws],
        "published_laws": [_published(law) for law in published_laws(inputs)],
        "rate_factor": _rate_factor(inputs),
        "window": {
            "slowest": window.slowest,
            "governs": _governs(window.by_freezing, window.by_rise),
            "by_freezing": window.by_freezing,
            "by_rise": window.by_rise,
            "least_rise": window.least_rise,
            "fastest": window.fastest,
            "gate_area": window.gate_area,
            "not_checked": [name for name, end in ends.items() if end is None],
            "rules": _rules(inputs, window),
            "in_words": window_in_words(inputs, window, decision),
        },
        "thinnest_wall": _walls(inputs, done, medium),
        "freezing_time": inputs.freezing_time,
        "rise_velocity": done.rise_velocity if done else None,
        "pouring_rate": done.pouring_rate if done else None,
        "outline": inputs.outline,
        "poured_mass": inputs.mass,
        "volume": inputs.volume,
        "critical_velocity": inputs.critical_velocity,
        "pouring_temperature": pouring,
        "pouring_low": metal.get("pouring_low"),
        "pouring_high": metal.get("pouring_high"),
        "pouring_by_thickness": _pouring_by_thickness(metal),
        "pouring_practice": _practice(inputs),
    }


def _grade(source: str) -> str:
    known = SOURCES.get(source)
    return known.grade if known else "unknown"


def _published(law: PublishedLaw) -> dict[str, Any]:
    return {
        "law": law.law,
        "formula": law.expression,
        "time": law.time,
        "time_high": law.time_high,
        "applies": law.applies,
        "used": law.used,
        "why": law.why,
        "source": law.source,
        "grade": _grade(law.source),
    }


def _rules(inputs: PourTimeInputs, window: Window) -> list[dict[str, Any]]:
    ends = {"slow": window.slowest, "fast": window.fastest}
    return [
        {
            "rule": rule.name,
            "end": rule.end,
            "time": rule.time,
            "governs": rule.time == ends[rule.end],
            "words": rule.words,
            "source": rule.source,
            "grade": _grade(rule.source),
        }
        for rule in window_rules(inputs, window)
    ]


def window_in_words(inputs: PourTimeInputs, window: Window, decision: PourTimeDecision | None) -> Say | None:
    """The window as a caster would say it; None where neither end is known."""
    slow, fast = window.slowest, window.fastest
    parts: dict[str, tuple[float, str] | str] = {}
    said = []
    if decision is not None:
        said.append("Pour in {t}" + (" (as built {built})" if decision.built_time is not None else ""))
        parts["t"] = (decision.pour_time, "time")
        parts["built"] = (decision.real_time, "time")
    if slow is not None:
        late = (
            "the thinnest section freezes before it is full"
            if _governs(window.by_freezing, window.by_rise) == "freezing"
            else f"the metal climbs too slowly and laps {'show' if inputs.rise_binds else 'may show'}"
        )
        said.append(f"no slower than {{slow}}, or {late}")
        parts["slow"] = (slow, "time")
    if fast is not None:
        said.append("no faster than {fast}, or it sprays through the gates that there is room for")
        parts["fast"] = (fast, "time")
    if slow is None and fast is None:
        return None
    if slow is not None and fast is not None and slow < fast:
        hard = slow if inputs.rise_binds else window.by_freezing
        said.append(
            "the two do not meet, and entering quietly comes first"
            if hard is None or hard >= fast
            else "the two do not meet: no time will do"
        )
    return Say("; ".join(said) + ".", **parts)


def _walls(
    inputs: PourTimeInputs, done: PourTimeAssessment | None, medium: str | None
) -> dict[str, Any] | None:
    """The thinnest wall that fills in this time, beside what foundries report."""
    fills = done.thinnest_wall if done else None
    reported = least_wall(medium, inputs.family)
    if fills is None and reported is None:
        return None
    usual = None if reported is None else reported.usual
    return {
        "fills": fills,
        "thinnest": inputs.thinnest,
        "published_least": None if reported is None else reported.least.value,
        "published_usual": None if usual is None else usual.value,
        "published_for": None if reported is None else f"{reported.family} in {reported.medium}",
        "source": None if reported is None else reported.least.source,
        "grade": None if reported is None else reported.least.grade,
    }


def _pouring_by_thickness(metal: Metal) -> list[dict[str, Any]]:
    """How hot to pour walls of other thicknesses, within the alloy's range."""
    low, high = metal.get("pouring_low"), metal.get("pouring_high")
    if low is None or high is None:
        return []
    with paused():
        return [
            {"thickness": wall, "temperature": formulas.pouring_temperature_for_thickness(wall, low, high)}
            for wall in WALLS
        ]


def _practice(inputs: PourTimeInputs) -> list[dict[str, Any]]:
    """What the trade reports for metals of this family and group."""
    return [
        {
            "metal": one.id,
            **{name: cell.value for name, cell in one.cells.items()},
            "source": next(iter(one.cells.values())).source,
            "grade": next(iter(one.cells.values())).grade,
        }
        for one in pouring_practice(inputs.family, inputs.group)
    ]


def _rate_factor(inputs: PourTimeInputs) -> float | None:
    if LIGHT not in inputs.laws or inputs.rate_factor is not None or inputs.thickness is None:
        return inputs.rate_factor
    with paused():
        return formulas.light_metal_factor(inputs.thickness)


def _governs(by_freezing: float | None, by_rise: float | None) -> str | None:
    if by_rise is None:
        return None if by_freezing is None else "freezing"
    return "freezing" if by_freezing is not None and by_freezing <= by_rise else "rise"
