"""A number with its unit: what answers hold, and one of the forms that requests take."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeAlias

from .units import UNITS


@dataclass(frozen=True, slots=True)
class Quantity:
    """``Quantity(25.4, "mm")``. As text it reads ``25.4 mm``, and ``f"{q:.0f}"`` gives ``25 mm``."""

    value: float
    unit: str

    def to(self, unit: str) -> Quantity:
        """The same quantity in another unit of its kind; ValueError if there is no way from one to the other.

        A temperature (``degC``, ``degF``, ``K``) and a difference of temperatures (``delta degC``,
        ``delta degF``, ``K``) are different kinds.
        """
        return Quantity(converted(self.value, self.unit, unit), unit)

    def __str__(self) -> str:
        return f"{self.value} {self.unit}".rstrip()

    def __format__(self, spec: str) -> str:
        return f"{self.value:{spec}} {self.unit}".rstrip()


@dataclass(frozen=True, slots=True)
class Series:
    """Many numbers of one unit; None where one could not be computed."""

    values: tuple[float | None, ...]
    unit: str

    def to(self, unit: str) -> Series:
        """The same numbers in another unit of their kind."""
        changed = (None if value is None else converted(value, self.unit, unit) for value in self.values)
        return Series(tuple(changed), unit)

    def __len__(self) -> int:
        return len(self.values)


JsonObject: TypeAlias = Mapping[str, Any]
"""A plain dictionary, taken wherever a request has an object."""

QuantityInput: TypeAlias = str | Quantity | JsonObject
"""A quantity of a request: ``"25.4 mm"``, ``Quantity(25.4, "mm")`` or ``{"value": 25.4, "unit": "mm"}``."""

FractionInput: TypeAlias = str | Quantity | float | JsonObject
"""A share of a request: ``"5 %"`` or the bare number 0.05."""


def converted(value: float, unit: str, wanted: str) -> float:
    """A number in another unit; ValueError if there is no way.

    The arithmetic is exact and rounded once, and 25.4 counts as 254/10: 25.4 mm are 1 in.
    """
    if unit == wanted:
        return value
    for units in UNITS.values():
        if unit in units and wanted in units:
            break
    else:
        raise ValueError(f"there is no way from {unit!r} to {wanted!r}{_others(unit)}")
    if not math.isfinite(value):
        return value
    # SI = value * num/den + off_num/off_den, and back with the wanted unit's four numbers
    num, den, off_num, off_den = units[unit]
    num2, den2, off_num2, off_den2 = units[wanted]
    top, bottom = Decimal(repr(float(value))).as_integer_ratio()
    top, bottom = top * num * off_den + off_num * bottom * den, bottom * den * off_den
    top, bottom = top * off_den2 - off_num2 * bottom, bottom * off_den2
    return (top * den2) / (bottom * num2)


def _others(unit: str) -> str:
    """``; ft can be had in mm, cm, m, in`` or nothing."""
    names = dict.fromkeys(
        name for units in UNITS.values() if unit in units for name in units if name and name != unit
    )
    return f"; {unit} can be had in {', '.join(names)}" if names else ""
