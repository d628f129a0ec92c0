"""A gating system, laid out in the order in which a moulder cuts it."""

from __future__ import annotations

from ..models.gating_result import ChannelResult, GatingResult
from ..quantity import Quantity, converted
from .figures import shown
from .layout import pairs, stacked, table, titled
from .rows import Rows, by


def gating_answer_lines(gating: GatingResult, width: int) -> list[str]:
    """The answer of gating alone, under headings."""
    return [
        *titled("cut", _cuts(gating, width)),
        *titled("the pour", pairs(_pour(gating), width)),
        *titled("the metal's way", _way(gating, width)),
        *titled("castings on the sprue", _castings(gating, width)),
        *titled("losses", _losses(gating, width)),
        *titled("ratios used in the trade", _trade(gating, width)),
    ]


def gating_lines(gating: GatingResult, width: int) -> list[str]:
    """Gating as a part of a plan."""
    return stacked(_cuts(gating, width), pairs(_pour(gating), width))


def _cuts(gating: GatingResult, width: int) -> list[str]:
    """One line for each cut: how large, and where; without a layout the sizes alone."""
    if gating.layout is None:
        return []
    cells = [_cut(channel) for channel in gating.layout.channels if channel.part != "vent"]
    rows = Rows()
    vents = gating.vents
    if vents is not None and vents.count:
        many = "one hole" if vents.count == 1 else f"{vents.count} holes"
        rows.say("vents", f"{many} of {{}} over the highest points of the casting", vents.diameter)
    rows.say("gates at the", "{}", gating.gate_position)
    rows.append(("where", "counted from the sprue's axis along the runner"))
    return stacked(table(["cut", "size", "length", "where"], cells, width), pairs(rows, width))


def _cut(channel: ChannelResult) -> list[str]:
    start, end = channel.start, channel.end
    upright = start.z != end.z
    lengths = [(start.z, end.z)] if upright else [(start.x, end.x), (start.y, end.y)]
    length = max(
        (Quantity(abs(to.value - at.value), at.unit) for at, to in lengths), key=lambda one: one.value
    )
    if channel.part in ("basin", "sprue"):
        way = "square" if channel.shape == "square" else "across"
        size = f"{shown(channel.start_width)} {way} above, {shown(channel.end_width)} below"
        where = "on the sprue's mouth" if channel.part == "basin" else "from its mouth down to the runner"
    elif channel.part == "well":
        size, where = f"{shown(channel.start_width)} square", "under the foot of the sprue"
        return ["well", size, f"{shown(length)} deep", where]
    elif channel.part == "gate":
        size = _flat(channel)
        half = channel.start_width.value / 2.0
        near, far = (Quantity(start.x.value + side * half, start.x.unit) for side in (-1.0, 1.0))
        where = f"from {shown(near)} to {shown(far)}"
    else:
        size, where = _flat(channel), f"as far as {shown(end.x)}"
    name = channel.part if channel.part not in ("runner", "gate") else f"{channel.part} {channel.number}"
    return [name, size, shown(length), where]


def _flat(channel: ChannelResult) -> str:
    width, height = channel.start_width, channel.start_height
    return f"{by(width, Quantity(converted(height.value, height.unit, width.unit), width.unit))}"


def _pour(gating: GatingResult) -> Rows:
    rows = Rows()
    sprue, gates, ratio = gating.sprue, gating.gates, gating.ratio
    if sprue is not None:
        rows.say("sprue", "{} tall, {} of metal kept over it", sprue.height, sprue.basin_depth)
    rows.say("channels are full after", "{}; keep the basin full from then on", gating.priming_time)
    rows.say("fills, as computed, in", "{}", gating.fill_time)
    rows.say("metal rises at", "{}", gating.rise_velocity)
    if gates is not None:
        rows.say("metal enters at", "{}", gates.velocity)
    rows.say("metal stays quiet below", "{}", gating.critical_velocity)
    rows.say("head left when full", "{}", gating.head_left)
    if ratio is not None:
        rows.say("sprue : runner : gates", "{} : {} : {}", ratio.sprue, ratio.runner, ratio.gate)
    rows.say("narrowest place", "{}, {}", gating.choke_at, gating.choke_area)
    if gating.metal is not None:
        rows.say("metal in it", "{}, {}", gating.metal.mass, gating.metal.volume)
    return rows


def _way(gating: GatingResult, width: int) -> list[str]:
    """Areas and speeds from the sprue's mouth to the gates."""
    sprue, runner, gates = gating.sprue, gating.runner, gating.gates
    cells = []
    if sprue is not None:
        cells.append(["sprue, mouth", shown(sprue.mouth_area), "-"])
        cells.append(["sprue, foot", shown(sprue.exit_area), shown(sprue.exit_velocity)])
    if runner is not None and runner.areas.values:
        first = Quantity(runner.areas.values[0] or 0.0, runner.areas.unit)
        cells.append(["runner", shown(first), shown(runner.velocity)])
    if gates is not None:
        many = "gate" if gates.count == 1 else f"{gates.count} gates together"
        cells.append([many, shown(gates.area), shown(gates.velocity)])
    return table(["place", "area", "speed of the metal"], cells, width)


def _castings(gating: GatingResult, width: int) -> list[str]:
    if len(gating.castings) < 2 and not any(one.count > 1 for one in gating.castings):
        return []
    cells = [
        [
            one.name or f"casting {number}",
            str(one.count),
            str(one.gates),
            shown(one.volume),
            shown(one.share_of_metal),
            shown(one.share_of_gates),
        ]
        for number, one in enumerate(gating.castings, 1)
    ]
    heads = ["casting", "how many", "gates on each", "holds", "of the metal", "of the gates"]
    return table(heads, cells, width)


def _losses(gating: GatingResult, width: int) -> list[str]:
    cells = [[one.place, shown(one.coefficient), shown(one.area), shown(one.share)] for one in gating.losses]
    return table(["place", "velocity heads", "area", "of the head"], cells, width)


def _trade(gating: GatingResult, width: int) -> list[str]:
    cells = [
        [one.metal, f"{shown(one.sprue)} : {shown(one.runner)} : {shown(one.gate)}"]
        for one in gating.trade_ratios
    ]
    return table(["used for", "sprue : runner : gates"], cells, width)
