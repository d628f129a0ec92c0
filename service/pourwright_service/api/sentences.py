"""Sentences with quantities in them, in the reader's units, rounded the way people round."""

import math

from ..engine.ledger import Say
from .quantities import View, current_view, in_unit
from .units import UNITS, System, Unit

BEYOND = 1e200
"""A number as large as this, or none at all, has no place in a sentence."""

_PRETTY = {
    "deg": "°",
    "degC": "°C",
    "degF": "°F",
    "delta degF": "Fahrenheit degrees",
    "delta degC": "K",
    "^2": "²",
    "^3": "³",
    "^4": "⁴",
}


def render(say: Say, system: System | None = None) -> str:
    """The sentence with its numbers put in."""
    view = current_view() if system is None else View(system, current_view().currency)
    if not say.parts:
        return say.words
    shown = {
        name: part if isinstance(part, str) else say_quantity(part[0], part[1], view)
        for name, part in say.parts.items()
    }
    return say.words.format_map(shown)


def say_quantity(value: float, kind: str, view: View) -> str:
    """One number for a person: about three significant digits, in a unit that suits its size."""
    if not abs(value) < BEYOND:
        return "an unknown amount"
    if kind == "count":
        return f"{value:.0f}"
    if kind == "percent":
        return f"{digits(value)} %"
    if kind == "money":
        return f"{value:.2f} {view.currency}".rstrip()
    if kind == "time":
        return _time(value)
    if kind not in UNITS:
        return digits(value)
    unit = _unit(value, kind, view.system)
    number = in_unit(value, unit)
    if kind.endswith("price"):
        return f"{number:.2f} {view.currency}".rstrip() + unit.spelling
    if kind in ("temperature", "temperature_difference"):
        return f"{_whole(number)} {_pretty(unit)}"
    return f"{digits(number)} {_pretty(unit)}"


_SIZES: dict[tuple[str, System], tuple[tuple[float, str], ...]] = {
    ("length", "metric"): ((10.0, "mm"), (math.inf, "m")),
    ("length", "us"): ((3.048, "in"), (math.inf, "ft")),
    ("area", "metric"): ((1e-4, "mm^2"), (1.0, "cm^2"), (math.inf, "m^2")),
    ("area", "us"): ((1.0, "in^2"), (math.inf, "ft^2")),
    ("volume", "metric"): ((1e-3, "cm^3"), (1.0, "L"), (math.inf, "m^3")),
    ("volume", "us"): ((0.0038, "in^3"), (0.38, "US gal"), (math.inf, "ft^3")),
    ("mass", "metric"): ((1.0, "g"), (math.inf, "kg")),
    ("mass", "us"): ((0.45, "oz"), (math.inf, "lb")),
    ("velocity", "metric"): ((0.1, "mm/s"), (math.inf, "m/s")),
    ("velocity", "us"): ((0.3, "in/s"), (math.inf, "ft/s")),
    ("force", "metric"): ((1000.0, "N"), (math.inf, "kN")),
    ("energy", "metric"): ((1e6, "kJ"), (math.inf, "MJ")),
    ("power", "metric"): ((1000.0, "W"), (math.inf, "kW")),
}
"""Kind and system -> (below this SI size, this unit), in rising order."""


def _unit(value: float, kind: str, system: System) -> Unit:
    units = UNITS[kind]
    for below, spelling in _SIZES.get((kind, system), ()):
        if abs(value) < below:
            return units.units[spelling]
    return units.of(system)


def digits(number: float) -> str:
    """Three significant digits, never an exponent where a plain number will do."""
    if number == 0:
        return "0"
    size = math.floor(math.log10(abs(number)))
    if not -5 <= size < 7:
        return f"{number:.2e}"
    rounded = round(number, 2 - size)
    if rounded == int(rounded):
        return f"{int(rounded)}"
    return f"{rounded:.{max(0, 2 - size)}f}".rstrip("0").rstrip(".")


def _whole(number: float) -> str:
    return f"{number:.1f}" if 0 < abs(number) < 2 else f"{round(number)}"


def _time(seconds: float) -> str:
    size = abs(seconds)
    if size < 1:
        return f"{seconds:.2g} s"
    if size < 99.95:
        return f"{seconds:.1f}".removesuffix(".0") + " s"
    if size < 600:
        return f"{seconds / 60:.1f}".removesuffix(".0") + " min"
    if size < 7200:
        return f"{seconds / 60:.0f} min"
    return f"{seconds / 3600:.1f}".removesuffix(".0") + " h"


def _pretty(unit: Unit) -> str:
    pretty = _PRETTY.get(unit.spelling)
    if pretty is not None:
        return pretty
    spelling = unit.spelling
    for plain in ("^2", "^3", "^4"):
        spelling = spelling.replace(plain, _PRETTY[plain])
    return spelling
