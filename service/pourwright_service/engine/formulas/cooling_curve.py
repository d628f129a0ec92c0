"""Cooling curves: what a thermocouple in a sample cup tells while the metal freezes.

Temperatures are kelvin. Functions take floats or NumPy arrays alike.
"""

import numpy as np

from ..bounds import at_least
from ..formula import KelvinDifference, KelvinPerSecond, formula


@formula(
    "u = sqrt(((b u_a)**2 + (a u_b)**2)/(a - b)**2)",
    symbols={"a": "rate_before", "b": "rate_after", "u_a": "deviation_before", "u_b": "deviation_after"},
    source="DERIVED",
    place="T = (a T_b - b T_a)/(a - b) at the crossing of two lines, differentiated",
    valid={"deviation_before": at_least(0.0), "deviation_after": at_least(0.0)},
)
def crossing_deviation(
    rate_before: KelvinPerSecond,
    rate_after: KelvinPerSecond,
    deviation_before: KelvinDifference,
    deviation_after: KelvinDifference,
) -> KelvinDifference:
    """How far off the temperature may be at which two fitted branches of a curve cross.

    rate_before: a, K/s, any. rate_after: b, K/s, any other, slopes there. deviation_before:
    u_a, K, at least 0. deviation_after: u_b, K, at least 0, standard deviations of either branch
    there. Returns u, K. Source: DERIVED.

    >>> round(crossing_deviation(-2.0, 0.0, 0.3, 0.1), 3)
    0.1
    """
    return np.sqrt(
        ((rate_after * deviation_before) ** 2 + (rate_before * deviation_after) ** 2)
        / (rate_before - rate_after) ** 2
    )


@formula(
    "u = sqrt(u_r**2 + u_c**2)",
    symbols={"u_r": "reading_deviation", "u_c": "thermocouple_deviation"},
    source="DERIVED",
    place="variances of independent errors add up",
    valid={"reading_deviation": at_least(0.0), "thermocouple_deviation": at_least(0.0)},
)
def arrest_deviation(
    reading_deviation: KelvinDifference, thermocouple_deviation: KelvinDifference
) -> KelvinDifference:
    """How far off an arrest may be, by its reading from the curve and by the thermocouple.

    reading_deviation: u_r, K, at least 0. thermocouple_deviation: u_c, K, at least 0, standard
    deviations both. Returns u, K. Source: DERIVED.

    >>> arrest_deviation(0.3, 0.4)
    0.5
    """
    return np.hypot(reading_deviation, thermocouple_deviation)
