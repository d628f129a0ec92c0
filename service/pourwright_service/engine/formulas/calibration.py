"""Calibration: what a shop's own trials say, and how they move what the tables expect.

Uncertainties are standard deviations inside; half-widths of the interval from 5 to 95 per cent at the
edge. Positive quantities are weighed on their logarithm, so that a factor too high and the same factor
too low count alike. Functions take floats or NumPy arrays alike.
"""

import numpy as np

from ..bounds import above, at_least, within
from ..formula import CubicMetre, Kilogram, Metre, Ratio, formula

_POSITIVE = above(0.0)
_SPREAD = within(0.0, 1e6, low_open=True)

Z95 = 1.6448536269514722
"""Standard deviations from the middle of a normal distribution to its 95 per cent point."""


@formula(
    "s = ln(1 + h)/1.6448536269514722",
    symbols={"h": "half_width"},
    source="DERIVED",
    place="5 and 95 per cent of a lognormal quantity lie a factor 1 + h below and above its middle",
    valid={"half_width": within(1e-6, 20.0)},
)
def log_deviation(half_width: Ratio) -> Ratio:
    """Standard deviation of the logarithm for a half-width given as a share of the value.

    half_width: h, from 0.000001 to 20. Returns s. Source: DERIVED.

    >>> round(log_deviation(0.3), 4)
    0.1595
    """
    return np.log(1.0 + half_width) / Z95


@formula(
    "h = exp(1.6448536269514722 s) - 1",
    symbols={"s": "deviation"},
    source="DERIVED",
    place="the same, solved for the half-width",
    valid={"deviation": within(0.0, 20.0)},
)
def half_width(deviation: Ratio) -> Ratio:
    """Half-width, as a share of the value, for a standard deviation of the logarithm.

    deviation: s, from 0 to 20. Returns h. Source: DERIVED.

    >>> round(half_width(0.1595), 3)
    0.3
    """
    return np.expm1(Z95 * deviation)


@formula(
    "s = sqrt(a**2 + b**2)",
    symbols={"a": "one", "b": "other"},
    source="DERIVED",
    place="variances of independent errors add up",
    valid={"one": at_least(0.0), "other": at_least(0.0)},
)
def joint_deviation(one: Ratio, other: Ratio) -> Ratio:
    """Standard deviation of a sum of two independent errors.

    one: a, at least 0. other: b, at least 0. Returns s. Source: DERIVED.

    >>> joint_deviation(3.0, 4.0)
    5.0
    """
    return np.hypot(one, other)


@formula(
    "s = sqrt(u_t**2 + 4 u_M**2)",
    symbols={"u_t": "time_deviation", "u_M": "modulus_deviation"},
    source="DERIVED",
    place="C = t/M^2: ln C = ln t - 2 ln M, variances added",
    valid={"time_deviation": at_least(0.0), "modulus_deviation": at_least(0.0)},
)
def constant_deviation(time_deviation: Ratio, modulus_deviation: Ratio) -> Ratio:
    """How far a mould constant from one trial may be off, on its logarithm.

    time_deviation: u_t, at least 0, of ln t. modulus_deviation: u_M, at least 0, of ln M.
    Returns s. Source: DERIVED.

    >>> round(constant_deviation(0.06, 0.04), 3)
    0.1
    """
    return np.hypot(time_deviation, 2.0 * modulus_deviation)


@formula(
    "x = (x_0 s_d**2 + x_d s_0**2)/(s_0**2 + s_d**2)",
    symbols={"x_0": "expected", "s_0": "expected_deviation", "x_d": "measured", "s_d": "measured_deviation"},
    source="DERIVED",
    place="least squares of two values, and the middle of what Bayes' rule gives for normal errors",
    valid={"expected_deviation": _SPREAD, "measured_deviation": _SPREAD},
)
def updated(expected: Ratio, expected_deviation: Ratio, measured: Ratio, measured_deviation: Ratio) -> Ratio:
    """What is to be expected after a measurement: the mean of both, each by its certainty.

    expected: x_0, any. expected_deviation: s_0, above 0 up to 1000000. measured: x_d, any.
    measured_deviation: s_d, above 0 up to 1000000. Returns x. Source: DERIVED.

    >>> updated(1.0, 0.1, 2.0, 0.1)
    1.5
    """
    prior, data = expected_deviation**2, measured_deviation**2
    return (expected * data + measured * prior) / (prior + data)


@formula(
    "s = s_0 s_d/sqrt(s_0**2 + s_d**2)",
    symbols={"s_0": "expected_deviation", "s_d": "measured_deviation"},
    source="DERIVED",
    place="certainties, the inverse variances, add up",
    valid={"expected_deviation": _SPREAD, "measured_deviation": _SPREAD},
)
def updated_deviation(expected_deviation: Ratio, measured_deviation: Ratio) -> Ratio:
    """Standard deviation after a measurement; never more than either.

    expected_deviation: s_0, above 0 up to 1000000. measured_deviation: s_d, above 0 up to 1000000.
    Returns s. Source: DERIVED.

    >>> round(updated_deviation(0.3, 0.4), 2)
    0.24
    """
    return expected_deviation * measured_deviation / np.hypot(expected_deviation, measured_deviation)


@formula(
    "B = max(1, sqrt(Q/n))",
    symbols={"Q": "weighted_squares", "n": "degrees_of_freedom"},
    source="BIRGE-1932",
    place="external over internal consistency",
    valid={"weighted_squares": at_least(0.0), "degrees_of_freedom": at_least(1.0)},
)
def widening(weighted_squares: Ratio, degrees_of_freedom: Ratio) -> Ratio:
    """Factor by which errors are widened when measurements differ by more than they allow.

    weighted_squares: Q, at least 0, sum of squared residuals over their variances.
    degrees_of_freedom: n, at least 1, measurements less one. Returns B. Source: BIRGE-1932.

    >>> widening(8.0, 2.0)
    2.0
    """
    return np.maximum(1.0, np.sqrt(weighted_squares / degrees_of_freedom))


@formula(
    "z = abs(x - m)/sqrt(s**2 + u**2)",
    symbols={"x": "measured", "m": "expected", "s": "measured_deviation", "u": "expected_deviation"},
    source="DERIVED",
    place="definition",
    valid={"measured_deviation": _SPREAD, "expected_deviation": at_least(0.0)},
)
def misfit(measured: Ratio, expected: Ratio, measured_deviation: Ratio, expected_deviation: Ratio) -> Ratio:
    """How many standard deviations a measurement lies off what everything else says.

    measured: x, any. expected: m, any. measured_deviation: s, above 0 up to 1000000.
    expected_deviation: u, at least 0. Returns z. Source: DERIVED.

    >>> round(misfit(1.5, 1.0, 0.3, 0.4), 6)
    1.0
    """
    return np.abs(measured - expected) / np.hypot(measured_deviation, expected_deviation)


@formula(
    "V = k pi D**2/4 h",
    symbols={"k": "fullness", "D": "mouth_diameter", "h": "depth"},
    source="DERIVED",
    place="cone 1/3, bowl (paraboloid) 1/2, level drop 1 of the cylinder round it",
    valid={
        "fullness": within(0.0, 1.0, low_open=True),
        "mouth_diameter": _POSITIVE,
        "depth": _POSITIVE,
    },
)
def pipe_volume(fullness: Ratio, mouth_diameter: Metre, depth: Metre) -> CubicMetre:
    """Volume of the hollow that a riser leaves as it is drained.

    fullness: k, above 0 up to 1, share of the cylinder round it. mouth_diameter: D, m, above 0.
    depth: h, m, above 0. Returns V, m^3. Source: DERIVED.

    >>> round(pipe_volume(1 / 3, 0.06, 0.04) * 1e6, 2)
    37.7
    """
    return fullness * np.pi / 4.0 * mouth_diameter**2 * depth


@formula(
    "e = V_p/V_r",
    symbols={"V_p": "piped_volume", "V_r": "riser_volume"},
    source="DERIVED",
    place="definition",
    valid={"piped_volume": _POSITIVE, "riser_volume": _POSITIVE},
)
def drained_share(piped_volume: CubicMetre, riser_volume: CubicMetre) -> Ratio:
    """Share of itself that a riser has given.

    piped_volume: V_p, m^3, above 0. riser_volume: V_r, m^3, above 0, as poured. Returns e.
    Source: DERIVED.

    >>> round(drained_share(14e-6, 100e-6), 6)
    0.14
    """
    return piped_volume / riser_volume


@formula(
    "r = a W/m",
    symbols={"a": "analysed_share", "W": "melt_mass", "m": "charged_mass"},
    source="DERIVED",
    place="definition: what is found in the melt over what was charged of the element",
    valid={
        "analysed_share": within(0.0, 1.0, low_open=True),
        "melt_mass": _POSITIVE,
        "charged_mass": _POSITIVE,
    },
)
def recovery_from_heat(analysed_share: Ratio, melt_mass: Kilogram, charged_mass: Kilogram) -> Ratio:
    """Recovery of one element in one weighed and analysed heat.

    analysed_share: a, above 0 up to 1, share of the melt's mass. melt_mass: W, kg, above 0.
    charged_mass: m, kg, above 0, of this element. Returns r. Source: DERIVED.

    >>> round(recovery_from_heat(0.038, 9.8, 0.4), 3)
    0.931
    """
    return analysed_share * melt_mass / charged_mass


@formula(
    "Y = W/W_0",
    symbols={"W": "melt_mass", "W_0": "charged_mass"},
    source="DERIVED",
    place="definition",
    valid={"melt_mass": _POSITIVE, "charged_mass": _POSITIVE},
)
def melting_yield(melt_mass: Kilogram, charged_mass: Kilogram) -> Ratio:
    """Metal that came out of the pot over metal that was charged; 1 less the melting loss.

    melt_mass: W, kg, above 0. charged_mass: W_0, kg, above 0. Returns Y. Source: DERIVED.

    >>> melting_yield(9.7, 10.0)
    0.97
    """
    return melt_mass / charged_mass


@formula(
    "s = L_p/L_c - 1",
    symbols={"L_p": "pattern_length", "L_c": "casting_length"},
    source="DERIVED",
    place="contraction counted on the casting, as pattern rules are",
    valid={"pattern_length": _POSITIVE, "casting_length": _POSITIVE},
)
def contraction_from_lengths(pattern_length: Metre, casting_length: Metre) -> Ratio:
    """Linear contraction from a length on the pattern and the same on the cold casting.

    pattern_length: L_p, m, above 0. casting_length: L_c, m, above 0. Returns s; negative where
    the casting is the larger. Source: DERIVED.

    >>> round(contraction_from_lengths(0.203, 0.2), 6)
    0.015
    """
    return pattern_length / casting_length - 1.0


@formula(
    "u = sqrt(1 + (L_p/L_c)**2) d/L_c",
    symbols={"L_p": "pattern_length", "L_c": "casting_length", "d": "length_deviation"},
    source="DERIVED",
    place="s = L_p/L_c - 1 differentiated, both lengths measured alike",
    valid={"pattern_length": _POSITIVE, "casting_length": _POSITIVE, "length_deviation": _POSITIVE},
)
def contraction_deviation(pattern_length: Metre, casting_length: Metre, length_deviation: Metre) -> Ratio:
    """How far a contraction may be off whose two lengths may each be off.

    pattern_length: L_p, m, above 0. casting_length: L_c, m, above 0. length_deviation: d, m,
    above 0, standard deviation of either length. Returns u. Source: DERIVED.

    >>> round(contraction_deviation(0.2, 0.2, 0.0002), 6)
    0.001414
    """
    return np.sqrt(1.0 + (pattern_length / casting_length) ** 2) * length_deviation / casting_length
