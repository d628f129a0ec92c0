"""Sizing a gating system: the smallest rounded-up sizes that do what is wanted."""

import math
from dataclasses import dataclass, replace

import numpy as np

from ..assess.gating_flow import (
    GatingDecision,
    GatingInputs,
    channel_area,
    effective_head,
    gate_area,
    narrowest,
    runner_areas,
)
from ..assess.gating_running import most_gate_width
from ..bounds import OutOfRange
from ..formula import paused
from ..formula import step as scope
from ..formulas import channels, gating
from .gating_case import PARTS, RatioCase
from .gating_inputs import Sizing

FLATNESS = 4.0
"""A gate is about so many times as wide as thick (common practice)."""

RUNNER_FLATNESS = 2.0
"""A runner is about so many times as wide as high (common practice)."""

GATE_OF_WALL = 0.6
"""A gate is at most this share of the wall it meets, so that it breaks off clean (common practice)."""


def round_up(size: float, step: float) -> float:
    """The least whole number of steps that is no less than ``size``; a step of 0 leaves it."""
    if step <= 0.0:
        return size
    return max(float(np.ceil(size / step - 1e-9)), 1.0) * step


def next_cutter(size: float, cutters: tuple[float, ...], step: float) -> float:
    """The smallest cutter that is no less than ``size``; where none is, rounded up to a step."""
    fitting = [cutter for cutter in cutters if cutter >= size * (1.0 - 1e-9)]
    return min(fitting) if fitting else round_up(size, step)


def choose_gating(
    inputs: GatingInputs, sizing: Sizing, not_smaller_than: GatingDecision | None = None
) -> GatingDecision | None:
    """The gating system, or None where the mould cannot fill or nothing fixes the choke.

    The choke follows from the wanted time by the exact fill, from a flow, or is given. With a ratio
    the other areas follow from it; without one the gates are as wide as the critical velocity asks
    and the runner is as wide as they are. Sizes that the engine chooses are rounded up;
    ``not_smaller_than`` is an earlier decision whose sizes are never reduced. Raises OutOfRange.
    """
    if inputs.head_left is not None and inputs.head_left < -1e-9:
        return None
    with scope("gating", "sizing"):
        area = _choke_area(inputs, sizing)
        if area is None:
            return None
        if not area > 0.0:
            raise OutOfRange("choke area", area, "an area above 0", "gating")
        maker = _Maker(inputs=inputs, sizing=sizing, before=not_smaller_than)
        if sizing.ratio is not None:
            return maker.mouth(_by_ratio(maker, area, sizing.ratio))
        return maker.mouth(_by_velocity(maker, area))


def choke_part(ratio: RatioCase) -> str:
    """The narrowest part of a ratio; of equal ones the first on the metal's way."""
    return min(PARTS, key=lambda part: float(getattr(ratio, part)))


def _choke_area(inputs: GatingInputs, sizing: Sizing) -> float | None:
    if sizing.choke_area is not None:
        return sizing.choke_area
    cd, g = inputs.discharge_coefficient, inputs.gravity
    if sizing.flow is not None:
        return gating.choke_area_for_flow(sizing.flow, cd, g, inputs.head)
    if inputs.wanted_time is not None and inputs.volume:
        return gating.choke_area(inputs.volume, inputs.wanted_time, cd, g, effective_head(inputs))
    return _choke_from_part(sizing)


def _choke_from_part(sizing: Sizing) -> float | None:
    """The choke where a ratio and the area of another part are given."""
    if sizing.ratio is None:
        return None
    least = float(getattr(sizing.ratio, choke_part(sizing.ratio)))
    for area, part in ((sizing.gate_area, sizing.ratio.gate), (sizing.runner_area, sizing.ratio.runner)):
        if area is not None:
            return area * least / part
    return None


def _by_velocity(maker: "_Maker", choke: float) -> GatingDecision:
    """Sprue as the choke; gates by the critical velocity, or not known without it."""
    inputs, sizing = maker.inputs, maker.sizing
    made = maker.sprue(maker.blank(), choke)
    gates = sizing.gate_area
    if gates is None and inputs.critical_velocity is not None:
        foot = channel_area(sizing.sprue_shape, made.sprue_exit)
        flow = gating.choke_flow(inputs.discharge_coefficient, foot, inputs.gravity, inputs.head)
        gates = channels.area_for_velocity(flow, inputs.critical_velocity)
    if gates is not None:
        made = maker.gates(made, gates)
    with paused():
        runner = sizing.runner_area or gate_area(made)
    return made if runner is None else maker.runner(made, runner)


def _by_ratio(maker: "_Maker", choke: float, ratio: RatioCase) -> GatingDecision:
    """The choke is the ratio's narrowest part; its rounded size sets the others."""
    sizing = maker.sizing
    given = {"sprue": None, "runner": sizing.runner_area, "gate": sizing.gate_area}
    make = {"sprue": maker.sprue, "runner": maker.runner, "gate": maker.gates}
    first = choke_part(ratio)
    made = make[first](maker.blank(), given[first] or choke)
    unit = _area_of(made, first) / float(getattr(ratio, first))
    for part in PARTS:
        if part != first:
            made = make[part](made, given[part] or unit * float(getattr(ratio, part)))
    return made


def _area_of(decision: GatingDecision, part: str) -> float:
    with paused():
        if part == "sprue":
            return channel_area(decision.sprue_shape, decision.sprue_exit)
        return (runner_areas(decision)[0] if part == "runner" else gate_area(decision)) or 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Maker:
    """Turns areas into sizes, part by part; what follows from given areas alone is not rounded."""

    inputs: GatingInputs
    sizing: Sizing
    before: GatingDecision | None

    @property
    def step(self) -> float:
        """The rounding step: none where the caller's own areas set the sizes."""
        return self.sizing.step if self.designed else 0.0

    @property
    def designed(self) -> bool:
        """Whether the engine sets the sizes, and not the caller's own areas."""
        inputs, sizing = self.inputs, self.sizing
        timed = inputs.wanted_time is not None and inputs.volume is not None
        return sizing.choke_area is None and (sizing.flow is not None or timed)

    def cut(self, size: float, step: float) -> float:
        """A size that a drill or cutter makes: the next one at hand, rounded up where none is wide enough.
        What is not rounded is not cut to a tool either."""
        if not self.designed:
            return round_up(size, step)
        return next_cutter(size, self.sizing.cutters, step)

    def blank(self) -> GatingDecision:
        """A system of which nothing is made yet."""
        return GatingDecision(
            sprue_shape=self.sizing.sprue_shape,
            sprue_exit=0.0,
            sprue_mouth=None,
            runner_width=None,
            runner_heights=(),
            gate_count=self.sizing.gate_count,
            gate_width=None,
            gate_thickness=None,
        )

    def across(self, area: float) -> float:
        """Diameter or side of a sprue's end."""
        return channels.round_diameter(area) if self.sizing.sprue_shape == "round" else math.sqrt(area)

    def sprue(self, made: GatingDecision, area: float) -> GatingDecision:
        """The sprue's foot."""
        before = None if self.before is None else self.before.sprue_exit
        return replace(made, sprue_exit=max(self.cut(self.across(area), self.step), before or 0.0))

    def mouth(self, made: GatingDecision) -> GatingDecision:
        """The sprue's mouth, wide enough that the stream fills the sprue and no narrower than its foot."""
        if self.sizing.mouth_area is not None:
            return replace(made, sprue_mouth=self.across(self.sizing.mouth_area))
        if self.inputs.basin_depth is None:
            return made
        with paused():
            choke = narrowest(made)
        area = channels.sprue_mouth_area(choke, self.inputs.head, self.inputs.basin_depth)
        before = None if self.before is None else self.before.sprue_mouth
        size = self.cut(self.across(area), self.step)
        return replace(made, sprue_mouth=max(size, made.sprue_exit, before or 0.0))

    def runner(self, made: GatingDecision, area: float) -> GatingDecision:
        """A flat runner that is lowered by an equal share after each gate."""
        step = 0.0 if self.sizing.runner_area is not None else self.step
        count = self.sizing.gate_count
        width = math.sqrt(RUNNER_FLATNESS * area)
        width = width if self.sizing.runner_area is not None else self.cut(width, step)
        if self.before is not None and self.before.runner_width is not None:
            width = max(width, self.before.runner_width)
        heights = [round_up(area * (count - passed) / (count * width), step) for passed in range(count)]
        if self.before is not None and self.before.runner_heights:
            pairs = zip(heights, self.before.runner_heights, strict=True)
            heights = [max(height, earlier) for height, earlier in pairs]
        return replace(made, runner_width=width, runner_heights=tuple(heights))

    def gates(self, made: GatingDecision, area: float) -> GatingDecision:
        """Flat gates, thin beside the wall that they meet."""
        step = 0.0 if self.sizing.gate_area is not None else self.step
        one = area / self.sizing.gate_count
        thickness = self.sizing.gate_thickness or self.gate_thickness(self.thick_enough(one), step)
        if self.before is not None and self.before.gate_thickness is not None:
            thickness = max(thickness, self.before.gate_thickness)
        width = round_up(one / thickness, step)
        if self.before is not None and self.before.gate_width is not None:
            width = max(width, self.before.gate_width)
        return replace(made, gate_width=width, gate_thickness=thickness)

    def thick_enough(self, area: float) -> float:
        """Thickness at which a gate of an area is as flat as usual, or thicker where the edge that the
        castings offer is so short that gates that flat would take too much of it."""
        usual, edge = math.sqrt(area / FLATNESS), self.inputs.gate_edge
        if edge is None:
            return usual
        return max(usual, self.sizing.gate_count * area / most_gate_width(edge))

    def gate_thickness(self, flat: float, step: float) -> float:
        """A thickness near ``flat``, rounded up, but no more than the wall allows."""
        thickness = round_up(flat, step)
        if self.inputs.wall_thickness is None:
            return thickness
        most = GATE_OF_WALL * self.inputs.wall_thickness
        if thickness <= most * (1.0 + 1e-9):
            return thickness
        whole = float(np.floor(most / step + 1e-9)) * step if step > 0.0 else most
        return whole or most
