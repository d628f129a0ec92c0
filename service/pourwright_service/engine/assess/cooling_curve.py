"""Given a log of temperatures: where the metal starts to freeze, rests, and is solid.

Only forward. The rate of cooling for each kelvin above the surroundings falls while latent heat is given
off; where it falls below half of what it is after freezing, the metal freezes. Temperatures are then read
from branches fitted to the log itself (least squares), not from the smoothed curve: the crossing of the
liquid branch with what follows is the liquidus, whether the melt was undercooled before or not.
"""

import math
from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np

from ..formulas import cooling_curve as formulas
from ..ledger import Say

Array: TypeAlias = np.ndarray[Any, np.dtype[np.float64]]
Flags: TypeAlias = np.ndarray[Any, np.dtype[np.bool_]]

HALF = 0.5
"""Metal freezes while it cools slower than this share of what it does without latent heat."""

RESTS = 0.15
"""It rests while it cools slower than this share."""

LEAST_REST, LEAST_BRANCH = 0.1, 6
"""A rest lasts this share of the freezing time; a branch is fitted through at least so many readings."""

LATE = 0.15
"""A rest that begins within this share of the freezing time is the only one."""

SPAN = 0.2
"""Branches before and after an arrest are fitted over this share of the freezing time."""

STEEPEST = -0.8
"""A log in which cooling falls with the time by more than this power is not yet past its last arrest: heat
that soaks into thick sand falls with its root."""

TOO_SHORT = Say("The log ends too soon: go on until the metal has cooled well below its solidus.")

READABLE = 0.5
"""Standard deviation (K) with which an arrest can be read from a perfect log; common practice."""

Z95 = 1.6448536269514722


@dataclass(frozen=True, slots=True, kw_only=True)
class CurveInputs:
    """The log at even steps: s and K; the smoothing (s); surroundings (K); the thermocouple's standard
    deviation (K); the step of the readings as they were taken (s)."""

    times: Array
    temperatures: Array
    smoothing: float
    surroundings: float
    thermocouple_deviation: float
    sampled_every: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrest:
    """A temperature (K) at which the curve bends or rests, its standard deviation (K), and when (s)."""

    temperature: float
    deviation: float
    time: float
    until: float | None = None
    undercooling: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """What was read. ``eutectic`` is None where the curve has no second rest; ``solidus`` is then the
    end of the range. Times are from the start of the log; ``time_deviation`` is that of its end."""

    hottest: float
    hottest_at: float
    liquidus: Arrest
    eutectic: Arrest | None
    solidus: Arrest
    freezing_time: float
    time_deviation: float
    noise: float
    readings: float


class NotFrozen(ValueError):
    """The log does not show a metal freezing from liquid to solid; ``why`` says what is lacking."""

    def __init__(self, why: Say) -> None:
        self.why = why
        super().__init__(why.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Log:
    """The log, smoothed: readings within half a ``window`` of a bend are spoilt by it."""

    times: Array
    raw: Array
    smooth: Array
    slow: Array
    window: int
    noise: float


def read_curve(inputs: CurveInputs) -> Curve:
    """Find the arrests. Raises NotFrozen where the log has no beginning, no end, or no arrest."""
    log = _smoothed(inputs)
    top = int(np.argmax(log.smooth))
    cold = max(len(log.times) - max(len(log.times) // 8, log.window), top + 1)
    if cold >= len(log.times):
        raise NotFrozen(TOO_SHORT)
    level = float(np.median(log.slow[cold:]))
    end = _end(log, top, cold, level)
    start = _start(log, top, end)
    span = max(int(SPAN * (end - start)), LEAST_BRANCH)
    liquidus = _liquidus(log, top, start, end, span, inputs)
    rest = _rest(log, start, end, level)
    solid = _branch(log, end + log.window // 2, min(end + log.window // 2 + span, len(log.times)), 2)
    eutectic = None
    if rest is None:
        before = _branch(log, max(end - log.window // 2 - span, start), end - log.window // 2, 2)
        solidus = _crossing(log, before, solid, end, inputs)
    else:
        solidus = _rested(log, rest, end, solid, inputs)
        if rest[0] - start > LATE * (end - start):
            eutectic = solidus
        else:
            liquidus = Arrest(
                temperature=solidus.temperature,
                deviation=solidus.deviation,
                time=liquidus.time,
                until=solidus.until,
                undercooling=liquidus.undercooling,
            )
    ends = solidus.time if solidus.until is None else solidus.until
    return Curve(
        hottest=float(log.smooth[top]),
        hottest_at=float(log.times[top]),
        liquidus=liquidus,
        eutectic=eutectic,
        solidus=solidus,
        freezing_time=ends - float(log.times[top]),
        time_deviation=inputs.smoothing / 2.0 / Z95,
        noise=log.noise,
        readings=(ends - liquidus.time) / inputs.sampled_every,
    )


def noise_of(temperatures: Array) -> float:
    """Standard deviation (K) of the noise of evenly spaced readings, by their second differences: a
    smooth curve has next to none, and independent noise the square root of six times its own."""
    return float(1.4826 * np.median(np.abs(np.diff(temperatures, 2))) / np.sqrt(6.0))


def _smoothed(inputs: CurveInputs) -> _Log:
    step = float(inputs.times[1] - inputs.times[0])
    window = max(2 * round(inputs.smoothing / step / 2.0) + 1, 5)
    if window > len(inputs.times):
        raise NotFrozen(Say("The log is shorter than what it is smoothed over (smoothing)."))
    from scipy.signal import savgol_filter  # here, because loading it takes half a second

    smooth = savgol_filter(inputs.temperatures, window, 2)
    rate = savgol_filter(inputs.temperatures, window, 2, deriv=1, delta=step)
    above = np.maximum(smooth - inputs.surroundings, 1.0)
    return _Log(
        times=inputs.times,
        raw=inputs.temperatures,
        smooth=smooth,
        slow=-rate / above,
        window=window,
        noise=noise_of(inputs.temperatures),
    )


def _end(log: _Log, top: int, cold: int, level: float) -> int:
    """The last reading of the metal's freezing, looked for from the end of the log backwards."""
    late = [last for first, last in _runs(log.slow[top:cold] < HALF * level, log.window // 2) if first > 0]
    if level <= 0.0 or not late:
        raise NotFrozen(
            Say(
                "The log shows no arrest that ends: go on until the metal has cooled well below the last "
                "one, and begin while it is liquid."
            )
        )
    return top + late[-1]


def _start(log: _Log, top: int, end: int) -> int:
    """The reading at which cooling falls to half of what it would be without latent heat.

    That is a power of the time between the fastest cooling of the liquid and what follows the last
    arrest: none in a cup that cools by Newton's law, a half in a thick wall of sand.
    """
    first = top + int(np.argmax(log.slow[top:end]))
    half = log.window // 2
    after = log.slow[end + half : end + half + 2 * log.window]
    if not len(after) or min(float(np.median(after)), float(log.slow[first])) <= 0.0:
        raise NotFrozen(
            Say("The log ends too soon: go on until the metal has cooled well below its solidus.")
        )
    since = log.times - log.times[top] + log.window * (log.times[1] - log.times[0])
    ratio = np.median(after) / log.slow[first]
    power = min(float(np.log(ratio) / np.log(since[end] / since[first])), 0.0)
    if power < STEEPEST:
        raise NotFrozen(TOO_SHORT)
    without = log.slow[first] * (since[first:end] / since[first]) ** power
    slowed = np.flatnonzero(log.slow[first:end] < HALF * without) + first
    if not len(slowed):
        raise NotFrozen(
            Say("The log begins too late: the metal was freezing already. Dip the thermocouple sooner.")
        )
    return int(slowed[0])


def _rest(log: _Log, start: int, end: int, level: float) -> tuple[int, int] | None:
    """First and last reading of the rest before the end; None where the metal rests at none."""
    rests = _runs(log.slow[start : end + 1] < RESTS * level, log.window // 2)
    if not rests:
        return None
    first, last = rests[-1]
    least = LEAST_REST * (end - start)
    if last - first < max(least, LEAST_BRANCH) or end - start - last > max(log.window, least):
        return None
    return start + first, start + last


def _runs(holds: Flags, gap: int) -> list[tuple[int, int]]:
    """First and last place of every stretch that holds; gaps up to ``gap`` are bridged, and stretches
    shorter than that are noise."""
    places = np.flatnonzero(holds)
    if not len(places):
        return []
    breaks = np.flatnonzero(np.diff(places) > gap + 1)
    firsts = places[np.concatenate(([0], breaks + 1))]
    lasts = places[np.concatenate((breaks, [len(places) - 1]))]
    return [(int(a), int(b)) for a, b in zip(firsts, lasts, strict=True) if b - a >= gap]


# --- branches ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fit:
    """A branch: temperature as powers of the time from its middle, and the coefficients' covariance."""

    coefficients: Array
    covariance: Array
    middle: float

    def powers(self, time: float) -> Array:
        powers: Array = (time - self.middle) ** np.arange(len(self.coefficients), dtype=np.float64)
        return powers

    def deviation(self, time: float) -> float:
        powers = self.powers(time)
        return math.sqrt(max(float(powers @ self.covariance @ powers), 0.0))

    def at(self, time: float) -> float:
        return float(self.powers(time) @ self.coefficients)

    def rate(self, time: float) -> float:
        order = np.arange(1, len(self.coefficients))
        return float(self.powers(time)[:-1] @ (order * self.coefficients[1:]))


def _branch(log: _Log, first: int, last: int, degree: int) -> _Fit:
    """Least squares through the readings from ``first`` up to ``last``."""
    if last - first < LEAST_BRANCH:
        raise NotFrozen(
            Say(
                "There are too few readings beside an arrest to read it: log more often, begin while the "
                "metal is well above its liquidus, and go on well after it is solid."
            )
        )
    middle = float(log.times[first:last].mean())
    times = log.times[first:last] - middle
    design = np.vander(times, degree + 1, increasing=True)
    found, *_ = np.linalg.lstsq(design, log.raw[first:last], rcond=None)
    off = log.raw[first:last] - design @ found
    variance = max(float(off @ off) / max(len(off) - degree - 1, 1), log.noise**2)
    covariance: Array = variance * np.linalg.pinv(design.T @ design).astype(np.float64)
    coefficients: Array = found.astype(np.float64)
    return _Fit(coefficients=coefficients, covariance=covariance, middle=middle)


def _crossing(log: _Log, before: _Fit, after: _Fit, near: int, inputs: CurveInputs) -> Arrest:
    """Where two branches cross, looked for within two windows of smoothing round a reading."""
    here = float(log.times[near])
    for _ in range(8):
        difference = before.rate(here) - after.rate(here)
        if difference == 0.0:
            break
        here -= (before.at(here) - after.at(here)) / difference
    step = float(log.times[1] - log.times[0])
    room = 2.0 * log.window * step
    here = float(np.clip(here, log.times[near] - room, log.times[near] + room))
    own = formulas.crossing_deviation(
        before.rate(here), after.rate(here), before.deviation(here), after.deviation(here)
    )
    return Arrest(
        temperature=after.at(here),
        deviation=_off(own, inputs),
        time=here,
    )


def _off(own: float, inputs: CurveInputs) -> float:
    """Standard deviation of an arrest: of its fit, of reading any curve, of the thermocouple."""
    return formulas.arrest_deviation(float(np.hypot(own, READABLE)), inputs.thermocouple_deviation)


def _liquidus(log: _Log, top: int, start: int, end: int, span: int, inputs: CurveInputs) -> Arrest:
    """The crossing of the liquid branch with what follows; a dip before it is left out."""
    half = log.window // 2
    rising = int(np.argmax(log.smooth[start : start + span + 1])) + start
    dip = float(log.smooth[start : rising + 1].min()) if rising > start + half else None
    first = max(rising, start + half) + 1
    fast = top + int(np.argmax(log.slow[top:start] > 0.8 * log.slow[top:start].max()))
    liquid = _branch(log, max(fast, start - half - span), start - half, 2)
    after = _branch(log, first, min(first + span, end), 2)
    found = _crossing(log, liquid, after, start, inputs)
    undercooling = 0.0 if dip is None else max(found.temperature - dip, 0.0)
    return Arrest(
        temperature=found.temperature,
        deviation=found.deviation,
        time=found.time,
        undercooling=undercooling,
    )


def _rested(log: _Log, rest: tuple[int, int], end: int, solid: _Fit, inputs: CurveInputs) -> Arrest:
    """The level of a rest, from its middle part, and when it ends: where the solid branch leaves it."""
    first, last = rest
    fifth = (last - first) // 5
    inner = log.raw[first + fifth : last - fifth + 1]
    level = float(np.median(inner))
    flat = _Fit(coefficients=np.array([level]), covariance=np.zeros((1, 1)), middle=0.0)
    leaves = _crossing(log, flat, solid, end, inputs)
    # the median of n readings has pi/2 the variance of their mean
    own = float(np.sqrt(np.pi / 2.0 / len(inner))) * max(log.noise, float(np.std(inner)))
    return Arrest(
        temperature=level,
        deviation=_off(own, inputs),
        time=float(log.times[first]),
        until=leaves.time,
    )
