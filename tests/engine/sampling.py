"""Random points inside the declared range of a formula."""

import math
import random
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from pourwright_service.engine.bounds import FINITE, Bound, OutOfRange
from pourwright_service.engine.formula import Formula

PLAUSIBLE: dict[str, tuple[float, float]] = {
    "length": (5e-4, 2.0),
    "area": (1e-6, 2.0),
    "volume": (1e-7, 0.1),
    "mass": (0.01, 500.0),
    "time": (0.1, 1e4),
    "temperature": (250.0, 2200.0),
    "temperature_difference": (0.5, 1500.0),
    "velocity": (0.01, 10.0),
    "acceleration": (1.6, 25.0),
    "density": (400.0, 2e4),
    "specific_heat": (100.0, 4000.0),
    "latent_heat": (2e4, 1e6),
    "conductivity": (0.05, 400.0),
    "diffusivity": (1e-8, 2e-4),
    "mould_constant": (1e4, 1e7),
    "curvature": (0.1, 1000.0),
    "force": (0.1, 1e5),
    "pressure": (10.0, 1e6),
    "flow": (1e-6, 0.1),
    "mass_flow": (0.01, 50.0),
    "surface_tension": (0.05, 2.0),
    "viscosity": (1e-4, 1e-2),
    "heat_flux": (100.0, 1e6),
    "radiation_constant": (2e-8, 1e-7),
    "cooling_rate": (1e-3, 1e3),
    "slowness": (10.0, 1e6),
    "gradient_over_root_rate": (10.0, 1e5),
    "expansion_per_kelvin": (1e-6, 1e-3),
    "energy": (1e2, 1e9),
    "power": (10.0, 1e6),
    "concentration": (1e-7, 1e-2),
    "price": (0.1, 100.0),
    "volume_price": (10.0, 1e4),
    "energy_price": (1e-9, 1e-6),
    "heating_value": (1e7, 6e7),
    "heat_transfer": (2.0, 50.0),
    "money": (0.1, 1e4),
    "fraction": (0.005, 1.0),
    "angle": (0.01, 3.0),
    "ratio": (0.01, 10.0),
    "percent": (0.1, 100.0),
    "count": (1.0, 20.0),
}
"""Magnitudes a foundry could meet, SI, by kind (common practice, no source)."""

TRIES = 2000
FEWEST = 20


@dataclass
class Points:
    """Points at which a formula has a value, and why others were refused."""

    valid: list[dict[str, float]] = field(default_factory=list)
    results: list[float] = field(default_factory=list)
    tries: int = 0
    refusals: dict[str, int] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)


def draw_points(known: Formula, call: Any, *, wanted: int = 150, seed: int = 1) -> Points:
    """Draw until ``wanted`` points are valid or 2000 were tried."""
    return extend_points(Points(), known, call, random.Random(f"{known.name} {seed}"), wanted)


def extend_points(
    points: Points,
    known: Formula,
    call: Any,
    rng: random.Random,
    wanted: int,
    thresholds: Iterable[float] = (),
) -> Points:
    """Draw more of them; a refusal by OutOfRange is drawn again, any other error is a fault.

    Some are drawn close to ``thresholds``, where the formula changes its branch.
    """
    marks = [mark * side for mark in sorted(thresholds) for side in (0.997, 1.0, 1.003)]
    goal = len(points.valid) + wanted
    while len(points.valid) < goal and points.tries < TRIES:
        points.tries += 1
        point = random_point(known, rng, marks)
        try:
            with np.errstate(all="ignore"):
                result = call(**point)
        except OutOfRange as refusal:
            points.refusals[str(refusal)] = points.refusals.get(str(refusal), 0) + 1
        except Exception as error:
            points.faults.append(f"raises {type(error).__name__} ({error}) at {shown(point)}")
            if len(points.faults) > 3:
                break
        else:
            points.valid.append(point)
            points.results.append(result)
    return points


def random_point(known: Formula, rng: random.Random, marks: Sequence[float] = ()) -> dict[str, float]:
    """One point. Some points keep quantities of one kind close together, as sections, heads and
    temperatures of one job are; some sit on the edges of the range or on ``marks``."""
    close, edges = rng.random() < 0.4, rng.random() < 0.3
    point: dict[str, float] = {}
    for name, kind in known.arguments.items():
        bound = known.valid.get(name, FINITE)
        alike = [point[other] for other in point if known.arguments[other].dimension == kind.dimension]
        value = _anywhere(bound, kind.name, rng)
        if alike and close:
            neighbour = rng.choice(alike) * rng.uniform(0.4, 1.6)
            value = neighbour if bound.holds(neighbour) else value
        if edges and rng.random() < 0.5:
            ends = (bound.low, bound.high, 0.0, 1.0, *alike, *marks)
            value = rng.choice([end for end in ends if bound.holds(end)] or [value])
        if kind.name == "count":
            value = float(round(value)) if bound.holds(float(round(value))) else value
        point[name] = value
    return point


def _anywhere(bound: Bound, kind: str, rng: random.Random) -> float:
    low, high = PLAUSIBLE[kind]
    if bound.low < 0.0 and (math.isinf(bound.low) or rng.random() < 0.3):
        # A range that takes in negative numbers has been declared to hold for them.
        value = rng.choice((1.0, 1.0, 1.0, -1.0)) * _between(low, high, rng)
        if bound.holds(value):
            return value
    if math.isfinite(bound.low) and math.isfinite(bound.high):
        value = _in_interval(bound.low, bound.high, low, high, rng)
    else:
        value = _between(max(low, bound.low), max(min(high, bound.high), max(low, bound.low) * 1e3), rng)
        value = value if math.isinf(bound.high) else min(value, bound.high)
    return value if bound.holds(value) else _inward(bound)


def _in_interval(low: float, high: float, usual_low: float, usual_high: float, rng: random.Random) -> float:
    way = rng.random()
    inner_low, inner_high = max(low, usual_low), min(high, usual_high)
    if way < 0.4 and inner_low < inner_high:
        return _between(inner_low, inner_high, rng)
    if way < 0.7 and low >= 0.0 and high > 0.0:
        return _between(max(low, high * 1e-8), high, rng)
    return rng.uniform(low, high)


def _between(low: float, high: float, rng: random.Random) -> float:
    """Log-uniform, both above zero."""
    return math.exp(rng.uniform(math.log(low), math.log(high)))


def _inward(bound: Bound) -> float:
    """Some value that surely holds, for the rare draw that rounding put outside."""
    if math.isfinite(bound.low) and math.isfinite(bound.high):
        return 0.5 * (bound.low + bound.high)
    if math.isfinite(bound.low):
        return bound.low + 1.0
    return bound.high - 1.0 if math.isfinite(bound.high) else 1.0


def outside(bound: Bound) -> list[float]:
    """Values just beyond each end of a bound, and what no bound allows."""
    beyond = [math.nan, math.inf, -math.inf]
    for end, is_open, way in ((bound.low, bound.low_open, -1.0), (bound.high, bound.high_open, 1.0)):
        if math.isfinite(end):
            beyond.append(end if is_open else end + way * max(1e-6 * abs(end), 1e-9))
    return beyond


def shown(point: Mapping[str, float]) -> str:
    """A point in words that can be pasted into a call."""
    return ", ".join(f"{name}={value!r}" for name, value in point.items())
