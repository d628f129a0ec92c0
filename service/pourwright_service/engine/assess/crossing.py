"""Where a falling function passes through zero: one search for floats and arrays alike."""

from collections.abc import Callable
from typing import Any

import numpy as np

ROUNDS = 200
"""Most rounds; ten are usual."""

LAST_DIGITS = 1e-14
"""A change as small as this is rounding."""


def falls_to_zero(falling: Callable[[Any], Any], low: Any, high: Any) -> Any:
    """Where ``falling`` passes through zero between ``low`` (not below zero) and ``high`` (not above).

    False position, with the weight of an end halved that stays twice in a row (the Illinois
    rule); elementwise. Ends are numbers of the order of one, such as logarithms.

    >>> round(float(falls_to_zero(lambda x: 2.0 - x * x, 0.0, 2.0)), 12)
    1.414213562373
    """
    at_low, at_high, middle = falling(low), falling(high), high
    stayed: Any = 0.0
    for _ in range(ROUNDS):
        width = at_low - at_high
        steep = np.where(width > 0.0, width, 1.0)
        guess = high + np.where(width > 0.0, at_high / steep * (high - low), 0.0)
        before, middle = middle, np.clip(guess, low, high)
        if np.all(np.abs(middle - before) <= LAST_DIGITS):
            break
        here = falling(middle)
        up = here > 0.0
        at_high = np.where(up, np.where(stayed < 0.0, 0.5 * at_high, at_high), here)
        at_low = np.where(up, here, np.where(stayed > 0.0, 0.5 * at_low, at_low))
        low, high = np.where(up, middle, low), np.where(up, high, middle)
        stayed = np.where(up, -1.0, 1.0)
    return middle
