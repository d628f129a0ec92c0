"""Numbers for people: about three digits, a unit that suits the size, never a number without its unit."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

from ..quantity import Quantity, converted

_SIZES: dict[str, tuple[tuple[float, str], ...]] = {
    "mm": ((10_000, "mm"), (math.inf, "m")),
    "in": ((120, "in"), (math.inf, "ft")),
    "cm^2": ((1, "mm^2"), (10_000, "cm^2"), (math.inf, "m^2")),
    "cm^3": ((1, "mm^3"), (1_000, "cm^3"), (1_000_000, "L"), (math.inf, "m^3")),
    "in^3": ((231, "in^3"), (23_100, "US gal"), (math.inf, "ft^3")),
    "kg": ((1, "g"), (math.inf, "kg")),
    "lb": ((1, "oz"), (math.inf, "lb")),
    "s": ((100, "s"), (7_200, "min"), (math.inf, "h")),
    "m/s": ((0.1, "mm/s"), (math.inf, "m/s")),
    "ft/s": ((1, "in/s"), (math.inf, "ft/s")),
    "N": ((1_000, "N"), (math.inf, "kN")),
    "kJ": ((1_000, "kJ"), (math.inf, "MJ")),
}
"""Unit of an answer -> (below this size, shown in this unit), rising."""

_PRETTY = {
    "deg": "°",
    "degC": "°C",
    "degF": "°F",
    "delta degC": "K",
    "delta degF": "Fahrenheit degrees",
    "^2": "²",
    "^3": "³",
    "^4": "⁴",
}
_WORD = re.compile(r"[a-z0-9]+(_[a-z0-9]+)+")
"""A word of the service's own, such as least_cost."""

_TEMPERATURES = ("degC", "degF", "K", "delta degC", "delta degF")


def shown(value: Any, *, percent: bool = False) -> str:
    """Any value of an answer as text; ``percent`` says that bare numbers count hundredths."""
    if value is None:
        return "-"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int) and not percent:
        return str(value)
    if isinstance(value, int | float):
        return f"{digits(value)} %" if percent else digits(value)
    if isinstance(value, Quantity):
        return quantity(value.value, value.unit)
    if isinstance(value, Mapping):
        return _shown_object(value, percent)
    if isinstance(value, list | tuple):
        if percent and len(value) == 2:
            return percent_range(*value)
        return ", ".join(shown(item, percent=percent) for item in value) or "-"
    return value.replace("_", " ") if _WORD.fullmatch(str(value)) else str(value)


def is_quantity(value: Any) -> bool:
    """Whether a value is an object of a number and its unit."""
    return isinstance(value, Mapping) and value.keys() == {"value", "unit"}


def _shown_object(value: Mapping[str, Any], percent: bool) -> str:
    if is_quantity(value):
        return quantity(value["value"], value["unit"])
    if value.keys() == {"values", "unit"}:
        return ", ".join(quantity(each, value["unit"]) for each in value["values"])
    return ", ".join(f"{name} {shown(inner, percent=percent)}" for name, inner in value.items())


def percent_range(low: float | None, high: float | None) -> str:
    """Two ends in per cent, either of which may be open."""
    if low is None and high is None:
        return "-"
    if low is None or high is None:
        return f"at most {digits(high)} %" if high is not None else f"at least {shown(low, percent=True)}"
    return f"{digits(low)} %" if low == high else f"{digits(low)} to {digits(high)} %"


def quantity(value: float | None, unit: str) -> str:
    """A number and its unit."""
    if value is None:
        return "-"
    if unit in _TEMPERATURES:
        number = f"{value:.1f}" if 0 < abs(value) < 2 else f"{value:.0f}"
        return f"{number} {pretty(unit)}"
    if unit.startswith("/") or _is_money(unit):
        return f"{value:.2f} {unit}"
    for below, suited in _SIZES.get(unit, ()):
        if value == 0 or abs(value) < below:
            if value and suited != unit:
                value, unit = converted(value, unit, suited), suited
            break
    return f"{digits(value)} {pretty(unit)}"


def _is_money(unit: str) -> bool:
    return unit == "money" or (unit.isalpha() and unit.isupper() and len(unit) == 3)


def pretty(unit: str) -> str:
    """A unit as it is printed."""
    if unit in _PRETTY:
        return _PRETTY[unit]
    for plain in ("^2", "^3", "^4"):
        unit = unit.replace(plain, _PRETTY[plain])
    return unit


def digits(number: float) -> str:
    """Three significant digits, with an exponent only where it must be."""
    if number == 0 or not math.isfinite(number):
        return f"{number:g}"
    size = math.floor(math.log10(abs(number)))
    if not -5 <= size < 7:
        return f"{number:.2e}"
    rounded = round(number, 2 - size)
    if rounded == int(rounded):
        return f"{int(rounded)}"
    return f"{rounded:.{max(0, 2 - size)}f}".rstrip("0").rstrip(".")
