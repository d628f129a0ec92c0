"""Quantities at the edge: a strict reader, and a writer that gives back what was typed.

The grammar is a number, a space, a unit of the field's own list::

    25.4 mm    1.2e-3 m    1/2 in    2 1/2 in    -5 degC

ASCII only, no decimal comma, no digit grouping, nothing to compute. Numbers are carried as ratios
of integers until the last step, so ``1 in`` and ``25.4 mm`` become the very same float.
"""

import math
import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any

from .units import SLIPS, UNITS, System, Unit, UnitList

LONGEST = 80
"""Characters of a quantity's text that are looked at; anything longer is refused unread."""

LEAST, MOST = 1e-30, 1e30
"""Sizes, in SI units, between which a number that is not 0 must lie: nothing in a foundry comes near,
and squares and cubes of what is let in stay numbers."""

_TEXT = re.compile(
    r" *(-?)(?:(?:([0-9]+) +)?([0-9]+)/([0-9]+)|([0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE]([+-]?[0-9]{1,3}))?)"
    r" *([^ ].*)?",
    re.ASCII | re.DOTALL,
)
_TENS = [10**n for n in range(40)]


class BadQuantity(ValueError):
    """A quantity that cannot be read: ``code``, a sentence, and the units that would do."""

    def __init__(self, code: str, detail: str, accepted: tuple[str, ...] = ()) -> None:
        self.code, self.detail, self.accepted = code, detail, accepted
        super().__init__(detail)


@dataclass(frozen=True, slots=True)
class View:
    """How the reader of an answer wants it: system of units, and the name of the request's money."""

    system: System = "metric"
    currency: str = ""


_PLAIN = View()
_view: ContextVar[View] = ContextVar("view", default=_PLAIN)


@contextmanager
def viewing(view: View) -> Iterator[None]:
    """Everything written inside the block is written for this reader."""
    token = _view.set(view)
    try:
        yield
    finally:
        _view.reset(token)


def current_view() -> View:
    return _view.get()


# --- reading --------------------------------------------------------------------------------


def read(kind: str, given: Any) -> float:
    """The SI value of what a caller sent for a quantity of this kind.

    Text or ``{"value", "unit"}``; a bare number only where the kind has no unit to name (a
    fraction). Raises :class:`BadQuantity`.
    """
    units = UNITS[kind]
    if type(given) is str:
        return _read_text(units, given)
    if type(given) is dict:
        return _read_pair(units, given)
    if type(given) is int or type(given) is float:
        if kind == "fraction":
            return _finite(given, 1, units.si)
        raise BadQuantity(
            "no_unit",
            f"{_echo(given)} has no unit; write it with one, such as {_example(units, given)!r}",
            units.spellings,
        )
    raise BadQuantity(
        "not_a_quantity",
        f'a quantity is text such as {_example(units, 1)!r}, or an object with "value" and "unit"',
        units.spellings,
    )


def _read_text(units: UnitList, text: str) -> float:
    found = _TEXT.fullmatch(text) if len(text) <= LONGEST else None
    if found is None:
        raise _unreadable(units, text)
    sign, whole, top, bottom, digits, exponent, spelling = found.groups()
    if spelling is None:
        raise BadQuantity(
            "no_unit",
            f"{_echo(text)} has no unit; write it with one, such as {_example(units, text)!r}",
            units.spellings,
        )
    unit = units.units.get(spelling) or units.units.get(spelling.rstrip(" "))
    if unit is None:
        raise _unknown_unit(units, text, spelling.rstrip(" "))
    if digits is not None:
        n, d = _ratio(digits, exponent)
    else:
        d = int(bottom)
        n = int(whole or 0) * d + int(top)
        if d == 0:
            raise BadQuantity("not_a_quantity", f"{_echo(text)} divides by zero", units.spellings)
    return _finite(-n if sign else n, d, unit)


def _read_pair(units: UnitList, given: dict[str, Any]) -> float:
    if given.keys() != {"value", "unit"}:
        raise BadQuantity(
            "not_a_quantity",
            'a quantity written as an object has exactly "value" and "unit"',
            units.spellings,
        )
    value, spelling = given["value"], given["unit"]
    if type(value) is not float and type(value) is not int:
        raise BadQuantity("not_a_number", '"value" must be a bare number', units.spellings)
    if type(spelling) is not str:
        raise BadQuantity("unknown_unit", '"unit" must be text', units.spellings)
    unit = units.units.get(spelling)
    if unit is None:
        raise _unknown_unit(units, f"{value} {spelling}", spelling)
    if type(value) is int:
        return _finite(value, 1, unit)
    if not math.isfinite(value):
        raise BadQuantity("not_a_number", '"value" must be a finite number', units.spellings)
    # repr is the shortest decimal that reads back: 25.4 counts as 254/10, as it was typed
    digits, _, exponent = repr(value).partition("e")
    n, d = _ratio(digits.lstrip("-"), exponent)
    return _finite(-n if value < 0 else n, d, unit)


def _ratio(digits: str, exponent: str | None) -> tuple[int, int]:
    """A decimal text as numerator and denominator."""
    head, _, tail = digits.partition(".")
    power = -len(tail)
    if exponent:
        power += int(exponent)
    n = int(head + tail)
    if power < 0:
        return n, _TENS[-power] if power > -40 else 10**-power
    return n * 10**power, 1


def _finite(n: int | float, d: int, unit: Unit) -> float:
    """n/d of a unit in SI, refused beyond the sizes that are computed with."""
    if type(n) is float:
        n, d = n.as_integer_ratio() if math.isfinite(n) else (10**400, 1)
    try:
        value = _in_si(int(n), d, unit)
    except OverflowError:
        value = math.inf
    if LEAST <= value <= MOST or LEAST <= -value <= MOST or (value == 0.0 and (not n or unit.off_num)):
        return value
    raise BadQuantity("out_of_bounds", "the number is too large or too small to be computed with")


def _in_si(n: int, d: int, unit: Unit) -> float:
    """n/d of a unit in SI; division of integers rounds once, correctly."""
    if unit.off_num:
        top = n * unit.num * unit.off_den + unit.off_num * d * unit.den
        return top / (d * unit.den * unit.off_den)
    return (n * unit.num) / (d * unit.den)


def _echo(given: Any) -> str:
    """What was sent, short enough to repeat."""
    text = repr(given) if isinstance(given, str) else str(given)
    return text if len(text) <= 40 else text[:37] + "..."


def _example(units: UnitList, given: Any) -> str:
    text = str(given).strip()
    number = text if re.fullmatch(r"-?[0-9]{1,6}(\.[0-9]{1,6})?", text) else "1"
    return f"{number} {units.metric.spelling}"


def _unreadable(units: UnitList, text: str) -> BadQuantity:
    if len(text) > LONGEST:
        detail = f"a quantity is at most {LONGEST} characters long"
    else:
        detail = f"{_echo(text)} is not a number followed by a unit, such as {_example(units, 1)!r}"
    return BadQuantity("not_a_quantity", detail, units.spellings)


def _unknown_unit(units: UnitList, text: str, spelling: str) -> BadQuantity:
    first = spelling[:1]
    if first == "," and spelling[1:2].isdigit():
        return BadQuantity(
            "decimal_comma",
            f"{_echo(text)}: a comma is not read; write a decimal point, and thousands without a mark",
            units.spellings,
        )
    if first and (first in "_.*+-^" or first.isnumeric()):
        return BadQuantity(
            "not_a_quantity",
            f"{_echo(text)} is not one plain number followed by a unit; nothing is computed here",
            units.spellings,
        )
    meant = SLIPS.get(spelling)
    hint = f"; did you mean {meant!r}?" if meant in units.units else ""
    return BadQuantity(
        "unknown_unit",
        f"{_echo(spelling)} is not a unit of {units.kind.replace('_', ' ')} known here{hint}",
        units.spellings,
    )


# --- writing --------------------------------------------------------------------------------


def in_unit(value: float, unit: Unit) -> float:
    """An SI value in a unit: the shortest decimal that reads back as the same SI float.

    Where none of 15 digits does (the number came out of arithmetic), the nearest double.
    """
    n, d = value.as_integer_ratio()
    top = (n * unit.off_den - unit.off_num * d) * unit.den if unit.off_num else n * unit.den
    bottom = d * unit.off_den * unit.num
    nearest = top / bottom
    text = f"{nearest:.15g}"
    typed = float(text)
    if typed == nearest:
        return typed
    return typed if _back(text, unit) == value else nearest


def _back(text: str, unit: Unit) -> float:
    digits, _, exponent = text.partition("e")
    n, d = _ratio(digits.lstrip("-"), exponent)
    return _in_si(-n if text[0] == "-" else n, d, unit)


def write(kind: str, value: float | None, system: System | None = None) -> dict[str, Any] | float | None:
    """An SI number as an answer shows it: ``{"value", "unit"}``, bare where the kind has no unit.

    None, and a number that is not finite, become None: an answer never holds NaN.
    """
    if value is None or not math.isfinite(value):
        return None
    if kind == "money":
        return {"value": float(value), "unit": _view.get().currency or "money"}
    units = UNITS.get(kind)
    if units is None:
        return float(value)
    unit = units.of(system or _view.get().system)
    try:
        return {"value": in_unit(float(value), unit), "unit": unit.spelling}
    except OverflowError:
        return None


def write_exact(kind: str, value: float, system: System = "metric") -> Any:
    """An SI number in a form that, posted, is read as the very same float."""
    units = UNITS.get(kind)
    if units is None or kind == "fraction":
        return value
    for unit in (units.of(system), units.of("metric"), units.si):
        shown = in_unit(value, unit)
        if _back(repr(shown), unit) == value:
            return {"value": shown, "unit": unit.spelling}
    return {"value": value, "unit": units.si.spelling}
