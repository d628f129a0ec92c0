"""A gating system as it would be drawn: every channel with its place, sections and volume.

One frame: the origin at the foot of the sprue on its axis, x along the runner away from the sprue,
y from the runner towards the casting, z up. The runner and the gates lie under the plane z = 0, the
well at the sprue's foot reaches down from it, sprue and basin stand on it. Only forward.
"""

import math
from dataclasses import dataclass

from ..formula import paused
from ..formulas import channels
from .gating_flow import GatingDecision, GatingInputs, channel_area
from .gating_parts import CastingGates
from .gating_vents import VentDecision
from .layers import LEVEL

FRAME = (
    "Origin at the foot of the sprue, on its axis; x along the runner, away from the sprue; y from the "
    "runner towards the castings; z up. Points lie on the middle line of a channel. Width is level: along y "
    "where a channel runs along x, along x elsewhere; height is the other side; both are the diameter of a "
    "round one. Runner and gates lie under the foot of the sprue (z = 0); each gate ends where the runner "
    "steps down."
)

MOST_DRAWN = 200

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel:
    """A straight channel from one point to another (m), its sections even or tapering.

    ``shape``: round, square or rectangular. ``start_size`` and ``end_size``: width and height, m.
    ``metal``: whether its volume (m^3) counts as metal that stays in the system.
    """

    part: str
    number: int
    shape: str
    start: Point
    end: Point
    start_size: tuple[float, float]
    end_size: tuple[float, float]
    volume: float
    metal: bool = True


def layout_of_gating(
    inputs: GatingInputs, decision: GatingDecision, vents: VentDecision | None
) -> tuple[Channel, ...]:
    """Every channel whose size is known, in the metal's order, and the vents."""
    with paused():
        drawn = [*_sprue(inputs, decision), *_runner_and_gates(inputs, decision)]
        if vents is not None:
            drawn += _vents(inputs, decision, vents)
    return tuple(drawn)


def _sprue(inputs: GatingInputs, decision: GatingDecision) -> list[Channel]:
    mouth, height, basin = decision.sprue_mouth, inputs.sprue_height, inputs.basin_depth
    if mouth is None or height is None:
        return []
    shape, drawn = decision.sprue_shape, []
    widening = max(inputs.layout.basin_width_ratio, 1.0)
    if basin is not None and inputs.layout.basin_width_ratio > 0.0:
        brim = widening * mouth
        drawn.append(_tapered("basin", shape, (height + basin, brim), (height, mouth)))
    drawn.append(_tapered("sprue", shape, (height, mouth), (0.0, decision.sprue_exit)))
    return drawn


def _tapered(part: str, shape: str, upper: tuple[float, float], lower: tuple[float, float]) -> Channel:
    """An upright channel on the sprue's axis between two levels, each with a size (m)."""
    (high, wide), (low, narrow) = upper, lower
    return Channel(
        part=part,
        number=1,
        shape=shape,
        start=(0.0, 0.0, high),
        end=(0.0, 0.0, low),
        start_size=(wide, wide),
        end_size=(narrow, narrow),
        volume=channels.tapered_volume(high - low, channel_area(shape, narrow), channel_area(shape, wide)),
    )


def _runner_and_gates(inputs: GatingInputs, decision: GatingDecision) -> list[Channel]:
    width, wide, thick = decision.runner_width, decision.gate_width, decision.gate_thickness
    if width is None or wide is None or thick is None:
        return []
    layout, heights = inputs.layout, decision.runner_heights
    drawn = []
    side, depth = _well_side(inputs, decision), layout.well_depth_ratio * heights[0]
    if side > 0.0 and depth > 0.0:
        drawn.append(_even("well", 1, "square", (0.0, 0.0, 0.0), (0.0, 0.0, -depth), (side, side), depth))
    marks = _steps(inputs, decision)
    for number, (start, end, high) in enumerate(zip(marks, marks[1:], heights, strict=False), 1):
        if end > start:
            drawn.append(_along("runner", number, start, end, width, high))
    if layout.runner_extension > 0.0:
        past = marks[-1] + layout.runner_extension
        drawn.append(_along("extension", 1, marks[-1], past, width, heights[-1]))
    if layout.gate_length > 0.0:
        near = 0.5 * width
        for number, mark in enumerate(marks[1:], 1):
            middle, level = mark - 0.5 * wide, -0.5 * thick
            inner, outer = (middle, near, level), (middle, near + layout.gate_length, level)
            drawn.append(
                _even("gate", number, "rectangular", inner, outer, (wide, thick), layout.gate_length)
            )
    return drawn


def _well_side(inputs: GatingInputs, decision: GatingDecision) -> float:
    return math.sqrt(inputs.layout.well_area_ratio * channel_area(decision.sprue_shape, decision.sprue_exit))


def _steps(inputs: GatingInputs, decision: GatingDecision) -> list[float]:
    """Where the runner leaves the well, and where it ends past each gate, m along x."""
    start, count = 0.5 * _well_side(inputs, decision), len(decision.runner_heights)
    return [start + inputs.layout.runner_length * passed / count for passed in range(count + 1)]


def _along(part: str, number: int, start: float, end: float, width: float, height: float) -> Channel:
    """A stretch of runner, its upper face at the foot of the sprue."""
    level = -0.5 * height
    return _even(
        part,
        number,
        "rectangular",
        (start, 0.0, level),
        (end, 0.0, level),
        (width, height),
        end - start,
    )


def _even(
    part: str, number: int, shape: str, start: Point, end: Point, size: tuple[float, float], length: float
) -> Channel:
    return Channel(
        part=part,
        number=number,
        shape=shape,
        start=start,
        end=end,
        start_size=size,
        end_size=size,
        volume=channels.flat_area(1.0, *size) * length,
    )


def _vents(inputs: GatingInputs, decision: GatingDecision, vents: VentDecision) -> list[Channel]:
    """Vents from the highest point of each casting to the top of the mould, over its middle; none where
    there are so many that nobody would draw them."""
    top, wide = inputs.sprue_height, decision.runner_width
    if top is None or wide is None or decision.gate_width is None or vents.count > MOST_DRAWN:
        return []
    spots = _spots(inputs, decision)
    drawn = []
    for number in range(vents.count):
        middle, reach, level, across = spots[number % len(spots)]
        if level >= top - LEVEL:
            continue
        turn, of = number // len(spots), math.ceil(vents.count / len(spots))
        place = middle + across * ((turn + 0.5) / of - 0.5)
        size = (vents.diameter, vents.diameter)
        drawn.append(
            Channel(
                part="vent",
                number=number + 1,
                shape="round",
                start=(place, reach, level),
                end=(place, reach, top),
                start_size=size,
                end_size=size,
                volume=channel_area("round", vents.diameter) * (top - level),
                metal=False,
            )
        )
    return drawn


def _spots(inputs: GatingInputs, decision: GatingDecision) -> list[tuple[float, float, float, float]]:
    """Of every single casting: the middle of its gates along x, its own middle along y, its highest
    level, and how far it is across, were its section an even square (m)."""
    whole = CastingGates(
        name=None,
        count=1,
        gates=decision.gate_count,
        volume=sum(layer.volume for layer in inputs.layers) if inputs.volume_known else None,
        bottom=inputs.layers[0].bottom if inputs.layers else 0.0,
        top=inputs.top or 0.0,
    )
    near = 0.5 * (decision.runner_width or 0.0) + inputs.layout.gate_length
    marks, passed, spots = _steps(inputs, decision)[1:], 0, []
    for kind in inputs.castings or (whole,):
        tall = kind.top - kind.bottom
        across = math.sqrt((kind.volume or 0.0) / tall) if tall > LEVEL else 0.0
        for _ in range(kind.count):
            own = marks[passed : passed + kind.gates]
            passed += kind.gates
            middle = 0.5 * (own[0] + own[-1] - (decision.gate_width or 0.0))
            spots.append((middle, near + 0.5 * across, max(kind.top, 0.0), across))
    return spots
