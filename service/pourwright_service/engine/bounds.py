"""Bounds of an argument: where a formula may be believed.

A scalar outside its bounds raises :class:`OutOfRange`. An array (the sampler's) is masked
instead, so that one wild sample does not spoil the others; see :mod:`..formula`.
"""

import math
from dataclasses import dataclass


class OutOfRange(ValueError):
    """An argument or a result lies outside what the formula covers.

    Attributes: ``name`` of the argument (or of the result), ``value`` (SI), ``allowed`` in words
    and ``formula``, the name of the formula.
    """

    def __init__(self, name: str, value: float, allowed: str, formula: str) -> None:
        self.name, self.value, self.allowed, self.formula = name, value, allowed, formula
        super().__init__(f"{name.replace('_', ' ')} is {value:.6g}; {formula} needs {allowed}")


@dataclass(frozen=True, slots=True)
class Bound:
    """An interval, each end open or closed, SI."""

    low: float = -math.inf
    high: float = math.inf
    low_open: bool = False
    high_open: bool = False

    def holds(self, value: float) -> bool:
        """Whether a scalar lies inside (NaN never does)."""
        above_low = value > self.low if self.low_open else value >= self.low
        below_high = value < self.high if self.high_open else value <= self.high
        return above_low and below_high and math.isfinite(value)

    def words(self) -> str:
        """The interval in words, SI numbers."""
        parts = []
        if math.isfinite(self.low):
            parts.append(f"{'more than' if self.low_open else 'at least'} {self.low:g}")
        if math.isfinite(self.high):
            parts.append(f"{'less than' if self.high_open else 'at most'} {self.high:g}")
        return " and ".join(parts) or "a finite number"


def above(low: float) -> Bound:
    """Strictly more than ``low``."""
    return Bound(low=low, low_open=True)


def at_least(low: float) -> Bound:
    """``low`` or more."""
    return Bound(low=low)


def within(low: float, high: float, *, low_open: bool = False, high_open: bool = False) -> Bound:
    """Between ``low`` and ``high``."""
    return Bound(low, high, low_open, high_open)


FINITE = Bound()
"""Any finite number."""
