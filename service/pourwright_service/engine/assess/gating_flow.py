"""A gating system and what it fills: how fast it fills, how fast metal runs where, what it holds.

Only forward: no choices are made here. Numbers may be floats or NumPy arrays (not the levels of the
layers, nor the sizes of the system). The narrowest place known is the choke; the discharge
coefficient refers to it. The judgement of these numbers is in ``gating.py``.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..formula import paused, step
from ..formulas import channels, gating
from ..formulas.pour_time import mean_rise_velocity
from ..geometry.shapes import disc_area
from .gating_parts import CastingGates, Losses
from .layers import EVEN, LEVEL, Layer


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Lengths (m) and proportions that turn areas into metal.

    The well under the sprue has ``well_area_ratio`` times the area of the sprue's foot and is
    ``well_depth_ratio`` runner heights deep; the cup over the sprue widens to ``basin_width_ratio``
    times the mouth's width.
    """

    runner_length: float
    runner_extension: float
    gate_length: float
    well_area_ratio: float
    well_depth_ratio: float
    basin_width_ratio: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GatingInputs:
    """What is filled, and under which head; SI.

    ``layers`` are the casting and its risers from the bottom up; ``other_volume`` is metal that
    runs through the choke under the full head (the gating itself, or all of it where nothing is
    said of the casting's shape). ``casting_span`` is from where to where in them the casting stands
    (m above the gate), where there are risers too: the rise of the metal is judged there. None marks
    what is not known: judgements that need it are left out.
    ``quiet_gates`` is false for iron, which is poured through faster gates by long practice. Where
    ``volume_known`` is false the volumes of the layers tell only their proportions. With ``losses``
    the discharge coefficient follows from them. ``castings`` are those on the sprue in the order of
    their gates along the runner; ``gate_edge`` (m) is all edge that they offer to gates; ``cutters``
    (m) are the sizes in which sprue and runner can be cut.
    """

    layers: tuple[Layer, ...]
    other_volume: float
    head: float
    gravity: float
    discharge_coefficient: float
    layout: Layout
    sprue_height: float | None = None
    basin_depth: float | None = None
    density_liquid: float | None = None
    viscosity: float | None = None
    critical_velocity: float | None = None
    quiet_gates: bool = True
    wanted_time: float | None = None
    wall_thickness: float | None = None
    volume_known: bool = True
    casting_span: tuple[float, float] | None = None
    losses: Losses | None = None
    castings: tuple[CastingGates, ...] = ()
    gate_edge: float | None = None
    cutters: tuple[float, ...] = ()

    @property
    def volume(self) -> float | None:
        """All metal through the choke, m^3; None where it is not known."""
        if not self.volume_known:
            return None
        return self.other_volume + sum(layer.volume for layer in self.layers)

    @property
    def top(self) -> float | None:
        """The highest metal, m above the gate."""
        return self.layers[-1].top if self.layers else None

    @property
    def height(self) -> float | None:
        """From the lowest to the highest metal in the mould, m."""
        return self.layers[-1].top - self.layers[0].bottom if self.layers else None

    @property
    def rising_height(self) -> float | None:
        """Height over which the rise of the metal is judged, m."""
        return self.height if self.casting_span is None else self.casting_span[1] - self.casting_span[0]

    @property
    def rising_volume(self) -> float | None:
        """Metal that comes in while the metal rises over that height, m^3; all of it without a span."""
        if self.casting_span is None:
            return self.volume
        low, high = self.casting_span
        return sum(
            layer.volume for layer in self.layers if low - LEVEL <= layer.bottom and layer.top <= high + LEVEL
        )

    @property
    def head_left(self) -> float | None:
        """Head over the highest metal, m."""
        return None if self.top is None else self.head - self.top


@dataclass(frozen=True, slots=True, kw_only=True)
class GatingDecision:
    """A gating system as it is cut; m.

    ``sprue_exit`` and ``sprue_mouth`` are diameters or sides by ``sprue_shape`` ("round" or
    "square"). The runner is ``runner_width`` wide and as high as ``runner_heights`` says before the
    first gate, the second and so on. Gates are alike. None: not known.
    """

    sprue_shape: str
    sprue_exit: float
    sprue_mouth: float | None
    runner_width: float | None
    runner_heights: tuple[float, ...]
    gate_count: int
    gate_width: float | None
    gate_thickness: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GatingMetal:
    """Metal that stays in the gating system, m^3 by part; None where its size is not known."""

    sprue: float | None
    well: float | None
    runner: float | None
    gates: float | None
    basin: float | None

    @property
    def total(self) -> float:
        """All parts that are known, m^3."""
        parts = (self.sprue, self.well, self.runner, self.gates, self.basin)
        return sum(part for part in parts if part is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class GatingFlow:
    """What a gating system does; SI, None where something needed is not known.

    ``series_area`` is the area that would pass as much as all places in a row, were each to cost
    its whole velocity head. ``flow_end`` and ``slowest_rise`` hold for the moment the mould is full.
    """

    effective_head: float
    mean_head: float | None
    head_left: float | None
    choke_area: float
    choke_velocity: float
    series_area: float
    fill_time: float | None
    mean_head_time: float | None
    flow_start: float
    flow_end: float
    sprue_exit_area: float
    sprue_mouth_area: float | None
    sprue_mouth_needed: float | None
    mouth_pressure: float | None
    exit_velocity: float
    runner_areas: tuple[float, ...]
    runner_velocity: float | None
    gate_area: float | None
    gate_velocity: float | None
    quiet_head: float | None
    free_fall: float | None
    rise_velocity: float | None
    slowest_rise: float | None
    reynolds: float | None
    metal: GatingMetal
    priming_time: float | None


def effective_head(inputs: GatingInputs) -> float:
    """Steady head (m) that fills the mould in the same time as the falling one does: exact.

    Raises OutOfRange where the mould stands higher than the metal in the basin.
    """
    volume, head = inputs.other_volume, inputs.head
    for layer in inputs.layers:
        own = inputs.head
        if layer.top > 0.0:
            low, high = _head_at(inputs, layer.bottom), _head_at(inputs, layer.top)
            if layer.lower_share == EVEN:
                own = gating.layer_head(low, high)
            else:
                own = gating.sloped_layer_head(layer.bottom_area, layer.top_area, low, high)
        head = own if np.all(volume == 0.0) else gating.joint_head(volume, head, layer.volume, own)
        volume = volume + layer.volume
    return head


def _head_at(inputs: GatingInputs, level: float) -> float:
    """Head while the metal stands at a level (m over the gate); not a number above the basin's."""
    left: Any = inputs.head - max(level, 0.0)
    left = np.where(left < -LEVEL, np.nan, np.maximum(left, 0.0))
    return left if np.ndim(left) else float(left)


def channel_area(shape: str, size: float) -> float:
    """Area (m^2) of a round or square channel of a diameter or side (m)."""
    if shape == "round":
        return disc_area(size)
    return channels.flat_area(1.0, size, size)


def gate_area(decision: GatingDecision) -> float | None:
    """Area of all gates together, m^2."""
    if decision.gate_width is None or decision.gate_thickness is None:
        return None
    return channels.flat_area(decision.gate_count, decision.gate_width, decision.gate_thickness)


def runner_areas(decision: GatingDecision) -> tuple[float, ...]:
    """Areas (m^2) of the runner before the first gate, the second and so on."""
    if decision.runner_width is None:
        return ()
    return tuple(channels.flat_area(1.0, decision.runner_width, height) for height in decision.runner_heights)


def narrowest(decision: GatingDecision) -> float:
    """Area (m^2) of the choke: the narrowest place known."""
    area = channel_area(decision.sprue_shape, decision.sprue_exit)
    for other in (*runner_areas(decision)[:1], gate_area(decision)):
        if other is not None:
            area = min(area, other)
    return area


def gating_metal(inputs: GatingInputs, decision: GatingDecision) -> GatingMetal:
    """Metal that fills the gating system; a sizing rule, so nothing here enters the working."""
    layout = inputs.layout
    with paused():
        foot = channel_area(decision.sprue_shape, decision.sprue_exit)
        runner = runner_areas(decision)
        gates = gate_area(decision)
        sprue = basin = None
        if decision.sprue_mouth is not None and inputs.sprue_height is not None:
            mouth = channel_area(decision.sprue_shape, decision.sprue_mouth)
            sprue = channels.tapered_volume(inputs.sprue_height, foot, mouth)
            if inputs.basin_depth is not None:
                widening = max(layout.basin_width_ratio, 1.0)
                brim = mouth * widening * widening
                basin = channels.tapered_volume(inputs.basin_depth, mouth, brim)
                basin = basin if layout.basin_width_ratio > 0.0 else 0.0
    if not runner or gates is None:
        return GatingMetal(sprue=sprue, well=None, runner=None, gates=None, basin=basin)
    piece = layout.runner_length / len(runner)
    return GatingMetal(
        sprue=sprue,
        well=foot * layout.well_area_ratio * layout.well_depth_ratio * decision.runner_heights[0],
        runner=sum(area * piece for area in runner) + runner[-1] * layout.runner_extension,
        gates=gates * layout.gate_length,
        basin=basin,
    )


def run_gating(inputs: GatingInputs, decision: GatingDecision) -> GatingFlow:
    """Fill time, velocities and metal of a gating system.

    Raises OutOfRange where the mould stands higher than the metal in the basin.
    """
    g, cd, volume = inputs.gravity, inputs.discharge_coefficient, inputs.volume
    with step("gating", "areas"):
        foot = channel_area(decision.sprue_shape, decision.sprue_exit)
        runner, gates = runner_areas(decision), gate_area(decision)
        choke, series = foot, foot
        for other in (*runner[:1], gates):
            if other is not None:
                choke, series = min(choke, other), channels.areas_in_series(series, other)
    with step("gating", "flow"):
        speed = cd * gating.stream_velocity(g, inputs.head)
        start = gating.choke_flow(cd, choke, g, inputs.head)
        end = start if inputs.top is None else gating.choke_flow(cd, choke, g, _head_at(inputs, inputs.top))
    with step("gating", "filling"):
        head = effective_head(inputs)
        time = gating.fill_time(volume, cd, choke, g, head) if volume is not None else None
        mean, mean_time = _mean(inputs, choke)
        rise, tall = None, inputs.rising_height
        if tall is not None and time is not None and tall > LEVEL:
            rise = mean_rise_velocity(tall, rising_share(inputs), time)
    with step("gating", "sprue"):
        mouth = needed = pressure = None
        if inputs.basin_depth is not None:
            needed = channels.sprue_mouth_area(choke, inputs.head, inputs.basin_depth)
        if decision.sprue_mouth is not None:
            mouth = channel_area(decision.sprue_shape, decision.sprue_mouth)
            if inputs.basin_depth is not None and inputs.density_liquid is not None:
                pressure = channels.mouth_pressure(
                    inputs.density_liquid, g, inputs.basin_depth, start / cd, mouth
                )
        across = channels.round_diameter(foot) if decision.sprue_shape == "round" else decision.sprue_exit
        exit_velocity = channels.velocity_in(start, foot)
        reynolds = None
        if inputs.viscosity is not None and inputs.density_liquid is not None:
            reynolds = channels.reynolds_number(
                inputs.density_liquid, exit_velocity, across, inputs.viscosity
            )
    with step("gating", "gates"):
        runner_velocity = channels.velocity_in(start, runner[0]) if runner else None
        gate_velocity = channels.velocity_in(start, gates) if gates is not None else None
        quiet = None
        if gates is not None and inputs.critical_velocity is not None:
            quiet = channels.quiet_head(gates / choke, inputs.critical_velocity, cd, g)
    metal = gating_metal(inputs, decision)
    parts = [part for part in (metal.sprue, metal.well, metal.runner, metal.gates) if part is not None]
    priming = None
    if len(parts) == 4:
        with step("gating", "priming"):
            priming = channels.priming_time(sum(parts), start)
    return GatingFlow(
        effective_head=head,
        mean_head=mean,
        head_left=inputs.head_left,
        choke_area=choke,
        choke_velocity=speed,
        series_area=series,
        fill_time=time,
        mean_head_time=mean_time,
        flow_start=start,
        flow_end=end,
        sprue_exit_area=foot,
        sprue_mouth_area=mouth,
        sprue_mouth_needed=needed,
        mouth_pressure=pressure,
        exit_velocity=exit_velocity,
        runner_areas=runner,
        runner_velocity=runner_velocity,
        gate_area=gates,
        gate_velocity=gate_velocity,
        quiet_head=quiet,
        free_fall=max(0.0, -inputs.layers[0].bottom) if inputs.layers else None,
        rise_velocity=rise,
        slowest_rise=_slowest_rise(inputs, choke),
        reynolds=reynolds,
        metal=metal,
        priming_time=priming,
    )


def rising_share(inputs: GatingInputs) -> float:
    """Share of the metal that comes in while the metal rises over the height that is judged."""
    rising, volume = inputs.rising_volume, inputs.volume
    if inputs.casting_span is None or rising is None or volume is None:
        return 1.0
    return rising / volume


def mean_head_of(inputs: GatingInputs) -> float | None:
    """The textbooks' mean head (m); None where its premises do not hold."""
    top, height = inputs.top, inputs.height
    if top is None or height is None or top > height + LEVEL:
        return None
    return gating.mean_head(inputs.head, max(top, 0.0), height)


def _mean(inputs: GatingInputs, choke: float) -> tuple[float | None, float | None]:
    """The mean head and the time it gives."""
    head, volume = mean_head_of(inputs), inputs.volume
    if head is None or volume is None or not np.all(head > 0.0):
        return head, None
    return head, gating.fill_time(volume, inputs.discharge_coefficient, choke, inputs.gravity, head)


def _slowest_rise(inputs: GatingInputs, choke: float) -> float | None:
    """Slowest rise of the metal at any level of the mould, m/s.

    Within a layer it is slowest at one of its faces: the flow slackens all the way up.
    """
    slowest: float | None = None
    if not inputs.volume_known:
        return None
    with paused():
        for layer in inputs.layers:
            if layer.top - layer.bottom <= LEVEL:
                continue
            for level, area in ((layer.bottom, layer.bottom_area), (layer.top, layer.top_area)):
                if area <= 0.0:
                    continue
                flow = gating.choke_flow(
                    inputs.discharge_coefficient, choke, inputs.gravity, _head_at(inputs, level)
                )
                rise = channels.velocity_in(flow, area)
                slowest = rise if slowest is None else np.minimum(slowest, rise)
    return slowest if slowest is None or np.ndim(slowest) else float(slowest)
