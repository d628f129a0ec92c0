"""Given measurements and what was expected before them: what they say together, and whether they agree.

Only forward. An :class:`Estimate` is a normal distribution of the quantity itself (contraction) or of its
logarithm (everything that is positive); :mod:`..formulas.calibration` has the arithmetic.
"""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from scipy.special import chdtri, log_ndtr, ndtri_exp

from ..checks import Check, check_kind
from ..formula import paused, step
from ..formulas import calibration as formulas
from ..ledger import Say

Parts: TypeAlias = dict[str, tuple[float, str] | str]

ODD_ONE = 3.0
"""Standard deviations off the rest from which a measurement is doubted: 1 in 370 by chance."""

DISAGREE = 0.05
"""Chance with which measurements that agree are still said to differ too much."""

AGREES = check_kind(
    "trial-agrees",
    "A trial agrees with the other trials and with what the tables expect",
    kind="ratio",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
SCATTER = check_kind(
    "trials-scatter",
    "The trials differ by no more than their uncertainties allow",
    kind="ratio",
    sense="at most",
    source="BIRGE-1932",
    else_="warn",
)
GAVE_MORE = check_kind(
    "riser-gave-more",
    "No riser that still had metal to give has given more than the feeding efficiency found",
    kind="fraction",
    sense="at most",
    source="DERIVED",
    else_="warn",
)
MASS_BALANCE = check_kind(
    "mass-balance",
    "No more metal comes out of a heat than was charged",
    kind="fraction",
    sense="at most",
    source="DERIVED",
)
CAST_OF_POURED = check_kind(
    "castings-of-poured",
    "The castings weigh no more than what was poured",
    kind="mass",
    sense="at most",
    source="DERIVED",
)
ELEMENT_BALANCE = check_kind(
    "element-balance",
    "No more of an element is found in the melt than was charged, within what the analysis can tell",
    kind="fraction",
    sense="at most",
    source="DERIVED",
    else_="warn",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One measurement: its value (a logarithm where the quantity is weighed so), standard deviation of
    the measuring alone, the place in the request, and what to call it."""

    value: float
    deviation: float
    pointer: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EstimateInputs:
    """What one quantity is estimated from.

    ``prior`` is middle and standard deviation before any trial, None where nothing is expected.
    ``scatter`` is by how much the quantity itself differs from one casting or heat to the next.
    ``ceiling``: the quantity cannot be more than this. At least one reading or a prior is needed.
    """

    name: str
    readings: tuple[Reading, ...]
    prior: tuple[float, float] | None
    scatter: float
    ceiling: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """The middle and standard deviation of a quantity after its trials.

    ``scatter`` is as it was put in, widened where the trials differ by more. ``weight`` is the share of
    the certainty that comes from the trials. ``expected`` has, for every reading, middle and standard
    deviation of what everything else says of it, None where there is nothing else.
    """

    inputs: EstimateInputs
    middle: float
    deviation: float
    scatter: float
    weight: float
    weighted_squares: float
    expected: tuple[tuple[float, float] | None, ...]

    def at(self, probability: float, *, following: bool = False) -> float:
        """The value below which the quantity lies with this probability.

        ``following``: of the next casting or heat, instead of the quantity's own middle.
        """
        spread = float(np.hypot(self.deviation, self.scatter)) if following else self.deviation
        return quantile(probability, self.middle, spread, self.inputs.ceiling)


def quantile(probability: float, middle: float, deviation: float, ceiling: float | None) -> float:
    """Quantile of a normal distribution, cut off above ``ceiling`` where there is one.

    Below the ceiling c the distribution is divided by Phi((c - m)/s), so that
    x = m + s Phi^-1(q Phi((c - m)/s)); in logarithms, because Phi may underflow. Follows by
    mathematics alone.
    """
    share = 0.0 if ceiling is None else float(log_ndtr((ceiling - middle) / deviation))
    return float(middle + deviation * ndtri_exp(np.log(probability) + share))


def assess_estimate(inputs: EstimateInputs) -> Estimate:
    """Weigh readings and prior together. Raises ValueError where there is neither.

    Where the readings differ by more than their own deviation and the scatter allow, both are widened
    by one factor before the prior is weighed in.
    """
    squares, factor = _consistency(inputs)
    scatter = factor * inputs.scatter
    known = inputs.prior
    with step("estimate", inputs.name):
        for reading in inputs.readings:
            known = _with(known, reading.value, factor * _deviation(reading, inputs))
    if known is None:
        raise ValueError("neither a reading nor a prior")
    middle, deviation = known
    weight = 1.0 if inputs.prior is None else 1.0 - (deviation / inputs.prior[1]) ** 2
    return Estimate(
        inputs=inputs,
        middle=middle,
        deviation=deviation,
        scatter=scatter,
        weight=min(max(weight, 0.0), 1.0),
        weighted_squares=squares,
        expected=_rest(inputs),
    )


def _with(known: tuple[float, float] | None, value: float, deviation: float) -> tuple[float, float]:
    """What is known after one more reading."""
    if known is None:
        return value, deviation
    middle = formulas.updated(known[0], known[1], value, deviation)
    return middle, formulas.updated_deviation(known[1], deviation)


def _deviation(reading: Reading, inputs: EstimateInputs) -> float:
    """How far one reading may lie off the quantity's middle: by its measuring and by the scatter."""
    with paused():
        return formulas.joint_deviation(reading.deviation, inputs.scatter)


def _consistency(inputs: EstimateInputs) -> tuple[float, float]:
    """Weighted squares about the readings' own mean, and the factor by which errors are widened."""
    if len(inputs.readings) < 2:
        return 0.0, 1.0
    values = np.array([reading.value for reading in inputs.readings])
    weights = np.array([_deviation(reading, inputs) for reading in inputs.readings]) ** -2.0
    squares = float(np.sum(weights * (values - np.average(values, weights=weights)) ** 2))
    freedom = len(inputs.readings) - 1.0
    if squares <= allowed_squares(freedom):
        return squares, 1.0
    return squares, formulas.widening(squares, freedom)


def allowed_squares(degrees_of_freedom: float) -> float:
    """Weighted squares that measurements which agree exceed one time in twenty (chi-squared)."""
    return float(chdtri(degrees_of_freedom, DISAGREE))


def _rest(inputs: EstimateInputs) -> tuple[tuple[float, float] | None, ...]:
    """What prior and the other readings say of each reading."""
    prior = [] if inputs.prior is None else [inputs.prior]
    known = [*prior, *((one.value, _deviation(one, inputs)) for one in inputs.readings)]
    values, deviations = np.array(known).reshape(-1, 2).T
    found: list[tuple[float, float] | None] = []
    for number in range(len(prior), len(known)):
        others = np.arange(len(known)) != number
        if not others.any():
            return (None,)
        weights = deviations[others] ** -2.0
        mean = float(np.average(values[others], weights=weights))
        found.append((mean, float(np.sum(weights) ** -0.5)))
    return tuple(found)


# --- checks ------------------------------------------------------------------------------------


def misfits(estimate: Estimate) -> tuple[float | None, ...]:
    """For every reading, how many standard deviations it lies off what everything else says."""
    found: list[float | None] = []
    with paused():
        for reading, rest in zip(estimate.inputs.readings, estimate.expected, strict=True):
            own = _deviation(reading, estimate.inputs)
            found.append(None if rest is None else formulas.misfit(reading.value, rest[0], own, rest[1]))
    return tuple(found)


def check_estimate(estimate: Estimate) -> list[Check]:
    """Whether the trials agree with each other, and each with everything else."""
    checks = []
    name, readings = estimate.inputs.name, estimate.inputs.readings
    for reading, off in zip(readings, misfits(estimate), strict=True):
        if off is None:
            continue
        what: Parts = {"trial": reading.name, "name": name, "z": (off, "ratio")}
        checks.append(
            AGREES.judge(
                off,
                ODD_ONE,
                subject=reading.pointer,
                ok=Say("{trial} fits with everything else that is known of the {name}.", **what),
                bad=Say(
                    "Measure {trial} again before you trust it: it lies {z} times further off than its "
                    "uncertainty from everything else known of the {name} (up to 3 happens by chance). If it "
                    "is right, say how far your figures may be off (spread), or leave it out.",
                    **what,
                ),
            )
        )
    if len(readings) > 1:
        freedom = len(readings) - 1.0
        ratio = float(np.sqrt(estimate.weighted_squares / freedom))
        checks.append(
            SCATTER.judge(
                ratio,
                float(np.sqrt(allowed_squares(freedom) / freedom)),
                subject=name,
                ok=Say("The trials of the {name} agree as well as their uncertainties say.", name=name),
                bad=Say(
                    "Your trials of the {name} differ {r} times more than you say they may, so the answer is "
                    "held for that much less certain. Look for what was not the same: sand, heat of the "
                    "metal, weighing.",
                    name=name,
                    r=(ratio, "ratio"),
                ),
            )
        )
    return checks


def check_gave_more(given: float, high: float, name: str, pointer: str) -> Check:
    """Judge a riser that had metal left: what it gave is a least value of the efficiency."""
    parts: Parts = {"name": name, "e": (given, "fraction"), "h": (high, "fraction")}
    return GAVE_MORE.judge(
        given,
        high,
        subject=pointer,
        ok=Say("{name} gave {e} of itself and had metal left, which agrees with the rest.", **parts),
        bad=Say(
            "{name} gave {e} of itself and still had metal left: such risers can give more than the {h} "
            "found here. Measure again those that ran empty.",
            **parts,
        ),
    )


def check_heat(
    melt: float, charged: float, tolerance: float, castings: float | None, poured: float | None, where: str
) -> list[Check]:
    """Judge the weighing of one heat: kg, and ``tolerance`` as a share."""
    with paused():
        share = formulas.melting_yield(melt, charged)
    parts = {"m": (melt, "mass"), "c": (charged, "mass")}
    checks = [
        MASS_BALANCE.judge(
            share,
            1.0 + tolerance,
            subject=where,
            ok=Say("{m} of metal came out of {c} charged.", **parts),
            bad=Say(
                "Weigh again: {m} of metal came out, but only {c} was charged. A heel left in the pot, or an "
                "item not written down, would explain it.",
                **parts,
            ),
        )
    ]
    if castings is not None and poured is not None:
        both = {"m": (castings, "mass"), "c": (poured, "mass")}
        checks.append(
            CAST_OF_POURED.judge(
                castings,
                poured * (1.0 + tolerance),
                subject=where,
                ok=Say("The castings weigh {m} of the {c} poured.", **both),
                bad=Say("Weigh again: the castings weigh {m}, but only {c} was poured.", **both),
            )
        )
    return checks


def check_element(measured: float, limit: float, element: str, pointer: str) -> Check:
    """Judge one element of one heat: no more than all of it can be found again."""
    parts: Parts = {"e": element, "r": (measured, "fraction")}
    return ELEMENT_BALANCE.judge(
        measured,
        limit,
        subject=pointer,
        ok=Say("{r} of the {e} charged is found in the melt.", **parts),
        bad=Say(
            "Have the stock or the melt analysed again: {r} of the {e} charged is found in the melt, more "
            "than there can be. Some item holds more {e} than its composition says.",
            **parts,
        ),
    )


def middle_of(low: float, high: float) -> tuple[float, float]:
    """Middle and standard deviation of a quantity that lies between two ends, 5 and 95 per cent."""
    return 0.5 * (low + high), (high - low) / (2.0 * formulas.Z95)
