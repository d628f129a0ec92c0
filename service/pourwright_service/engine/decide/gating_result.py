"""The result of gating as an answer lays it out; what is not known is None."""

from typing import Any

from ..assess.gating import GatingAssessment
from ..assess.gating_flow import (
    GatingDecision,
    GatingFlow,
    GatingInputs,
    GatingMetal,
    effective_head,
    mean_head_of,
)
from ..assess.gating_layout import FRAME, Channel, Point, layout_of_gating
from ..formulas import gating
from ..tables.gating_ratios import trade_ratios
from .gating_vents import Vents
from .metal import Metal


def gating_result(
    inputs: GatingInputs | None,
    decision: GatingDecision | None,
    done: GatingAssessment | None,
    metal: Metal,
    position: str | None,
    gravity: float,
    vents: Vents | None = None,
) -> dict[str, Any]:
    """The result as the answer's schema lays it out; what is not known is None."""
    flow = done.flow if done else None
    critical = inputs.critical_velocity if inputs else metal.get("gate_velocity")
    return {
        "gate_position": position,
        "head": inputs.head if inputs else None,
        "effective_head": _effective_head(inputs, flow),
        "mean_head": flow.mean_head if flow else mean_head_of(inputs) if inputs else None,
        "head_left": inputs.head_left if inputs else None,
        "discharge_coefficient": inputs.discharge_coefficient if inputs else None,
        "volume": inputs.volume if inputs else None,
        "choke_at": _choke_at(flow),
        "choke_area": flow.choke_area if flow else None,
        "choke_velocity": flow.choke_velocity if flow else _velocity(inputs),
        "fill_time": flow.fill_time if flow else None,
        "mean_head_time": flow.mean_head_time if flow else None,
        "flow_start": flow.flow_start if flow else None,
        "flow_end": flow.flow_end if flow else None,
        "rise_velocity": flow.rise_velocity if flow else None,
        "slowest_rise": flow.slowest_rise if flow else None,
        "free_fall": flow.free_fall if flow else None,
        "critical_velocity": critical,
        "critical_fall": None if critical is None else gating.velocity_head(critical, gravity),
        "sprue": _sprue(inputs, decision, flow),
        "runner": _runner(inputs, decision, flow),
        "gates": _gates(decision, flow),
        "ratio": _ratio(flow),
        "trade_ratios": [
            {
                "metal": one.id,
                "sprue": one.sprue,
                "runner": one.runner,
                "gate": one.gate,
                "source": one.source,
                "place": one.place,
            }
            for one in trade_ratios(metal.family, metal.group)
        ],
        "metal": metal_result(flow.metal, inputs.density_liquid) if flow and inputs else None,
        "losses": [
            {"place": one.place, "coefficient": one.coefficient, "area": one.area, "share": one.share}
            for one in (done.losses if done else ())
        ],
        "castings": _castings(inputs),
        "priming_time": flow.priming_time if flow else None,
        "vents": _vents(vents),
        "layout": _layout(inputs, decision, vents),
    }


def _effective_head(inputs: GatingInputs | None, flow: GatingFlow | None) -> float | None:
    """Also told where nothing could be sized, as long as the mould can fill."""
    if flow is not None:
        return flow.effective_head
    if inputs is None or (inputs.head_left is not None and inputs.head_left < -1e-9):
        return None
    return effective_head(inputs)


def _velocity(inputs: GatingInputs | None) -> float | None:
    if inputs is None:
        return None
    return inputs.discharge_coefficient * gating.stream_velocity(inputs.gravity, inputs.head)


def _choke_at(flow: GatingFlow | None) -> str | None:
    """Which part is the narrowest; of equal ones the first on the metal's way."""
    if flow is None:
        return None
    areas = {"sprue": flow.sprue_exit_area, "runner": None, "gates": flow.gate_area}
    if flow.runner_areas:
        areas["runner"] = flow.runner_areas[0]
    return min((area, order, part) for order, (part, area) in enumerate(areas.items()) if area is not None)[2]


def _sprue(
    inputs: GatingInputs | None, decision: GatingDecision | None, flow: GatingFlow | None
) -> dict[str, Any] | None:
    if inputs is None or decision is None or flow is None:
        return None
    return {
        "shape": decision.sprue_shape,
        "height": inputs.sprue_height,
        "basin_depth": inputs.basin_depth,
        "exit_size": decision.sprue_exit,
        "exit_area": flow.sprue_exit_area,
        "exit_velocity": flow.exit_velocity,
        "reynolds": flow.reynolds,
        "mouth_size": decision.sprue_mouth,
        "mouth_area": flow.sprue_mouth_area,
        "mouth_area_needed": flow.sprue_mouth_needed,
        "mouth_pressure": flow.mouth_pressure,
    }


def _runner(
    inputs: GatingInputs | None, decision: GatingDecision | None, flow: GatingFlow | None
) -> dict[str, Any] | None:
    if inputs is None or decision is None or flow is None or not flow.runner_areas:
        return None
    return {
        "width": decision.runner_width,
        "heights": decision.runner_heights,
        "areas": flow.runner_areas,
        "velocity": flow.runner_velocity,
        "length": inputs.layout.runner_length,
        "extension": inputs.layout.runner_extension,
    }


def _gates(decision: GatingDecision | None, flow: GatingFlow | None) -> dict[str, Any] | None:
    if decision is None or flow is None or flow.gate_area is None:
        return None
    return {
        "count": decision.gate_count,
        "width": decision.gate_width,
        "thickness": decision.gate_thickness,
        "area": flow.gate_area,
        "velocity": flow.gate_velocity,
        "quiet_head": flow.quiet_head,
    }


def _ratio(flow: GatingFlow | None) -> dict[str, Any] | None:
    if flow is None or flow.gate_area is None or not flow.runner_areas:
        return None
    foot = flow.sprue_exit_area
    return {
        "sprue": 1.0,
        "runner": flow.runner_areas[0] / foot,
        "gate": flow.gate_area / foot,
        "series_share": flow.series_area / flow.choke_area,
    }


def metal_result(metal: GatingMetal, density_liquid: float | None) -> dict[str, Any]:
    """Metal in the gating system, by part and together."""
    return {
        "sprue": metal.sprue,
        "well": metal.well,
        "runner": metal.runner,
        "gates": metal.gates,
        "basin": metal.basin,
        "volume": metal.total,
        "mass": None if density_liquid is None else metal.total * density_liquid,
    }


def _castings(inputs: GatingInputs | None) -> list[dict[str, Any]]:
    """The castings on the sprue, with their shares of gates and metal."""
    if inputs is None:
        return []
    gates = sum(one.count * one.gates for one in inputs.castings)
    metal = sum(one.count * (one.volume or 0.0) for one in inputs.castings)
    return [
        {
            "name": one.name,
            "count": one.count,
            "gates": one.gates,
            "volume": one.volume,
            "height": one.top - one.bottom,
            "above_gate": one.top,
            "share_of_gates": one.count * one.gates / gates,
            "share_of_metal": one.count * one.volume / metal if one.volume and metal else None,
        }
        for one in inputs.castings
    ]


def _vents(vents: Vents | None) -> dict[str, Any] | None:
    if vents is None:
        return None
    done = vents.assessment
    return {
        "count": vents.decision.count,
        "diameter": vents.decision.diameter,
        "open_area": vents.inputs.open_area,
        "area": done.area,
        "area_needed": done.area_needed,
        "air_flow": done.air_flow,
        "back_pressure": done.back_pressure,
    }


def _layout(
    inputs: GatingInputs | None, decision: GatingDecision | None, vents: Vents | None
) -> dict[str, Any] | None:
    if inputs is None or decision is None:
        return None
    drawn = layout_of_gating(inputs, decision, vents.decision if vents else None)
    return {"frame": FRAME, "channels": [_channel(one) for one in drawn]} if drawn else None


def _channel(channel: Channel) -> dict[str, Any]:
    return {
        "part": channel.part,
        "number": channel.number,
        "shape": channel.shape,
        "start": _point(channel.start),
        "end": _point(channel.end),
        "start_width": channel.start_size[0],
        "start_height": channel.start_size[1],
        "end_width": channel.end_size[0],
        "end_height": channel.end_size[1],
        "volume": channel.volume,
        "holds_metal": channel.metal,
    }


def _point(point: Point) -> dict[str, float]:
    return dict(zip(("x", "y", "z"), point, strict=True))
