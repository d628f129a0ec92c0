"""Gating: sprue, runner and gates that fill a mould in the time wanted, as they will be cut."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from ..answer import Answer, answer
from ..assess.gating import GatingAssessment, assess_gating, check_head
from ..assess.gating_flow import (
    GatingDecision,
    GatingFlow,
    GatingInputs,
    GatingMetal,
    effective_head,
    mean_head_of,
)
from ..checks import Check
from ..formulas import gating
from ..formulas.amounts import volume_of
from ..ledger import Ledger, MissingValue, Say
from ..tables.gating_ratios import trade_ratios
from .gating_case import FilledCase, GatingWishes
from .gating_inputs import (
    filled_layers,
    gating_inputs,
    heads_of,
    position_of,
    sizing_of,
)
from .gating_size import choose_gating
from .metal import STANDARD_GRAVITY, Metal, metal_of


@dataclass(frozen=True, slots=True, kw_only=True)
class GatingCase(GatingWishes):
    """What a gating request may say; SI, None where the caller said nothing.

    ``poured_mass`` or ``volume`` is all metal through this choke, gating included.
    """

    alloy: str | None = None
    properties: Mapping[str, float | None] = field(default_factory=dict)
    gravity: float | None = None
    poured_mass: float | None = None
    volume: float | None = None
    pour_time: float | None = None
    flow: float | None = None
    casting: FilledCase | None = None


def decide_gating(case: GatingCase) -> Answer:
    """Answer a gating request. Raises OutOfRange."""
    ledger = Ledger()
    gravity = standard_gravity(case.gravity, ledger)
    metal = metal_of(case.alloy, case.properties, ledger, gravity=gravity)
    inputs = decision = done = None
    position = None
    checks: list[Check] = []
    try:
        heads = heads_of(case, gravity, ledger, case.flow)
        position = position_of(case, case.casting, ledger)
        volume = poured_volume(case.poured_mass, case.volume, metal)
        layers, other, known = filled_layers(case.casting, position, volume, ledger, case.poured_mass)
        inputs = gating_inputs(
            case,
            heads,
            metal,
            ledger,
            gravity=gravity,
            position=position,
            layers=layers,
            other_volume=other,
            volume_known=known,
            wanted_time=case.pour_time,
            wall_thickness=case.casting.wall_thickness if case.casting else None,
        )
        decision = choose_gating(inputs, sizing_of(case, ledger, case.flow))
        if decision is not None:
            done = assess_gating(inputs, decision)
            checks = list(done.checks)
            _gates_known(case, decision, metal)
        else:
            head = check_head(inputs)
            checks = [head] if head is not None else []
            _nothing_sized(case, inputs, ledger)
    except MissingValue:
        pass  # the ledger knows, and the answer says so; what could be computed is told
    result = gating_result(inputs, decision, done, metal, position, gravity)
    return answer(ledger, result, checks, sentence(inputs, decision, done))


def standard_gravity(given: float | None, ledger: Ledger) -> float:
    """The caller's gravity (m/s^2), or the standard one."""
    return ledger.use(
        "/gravity", given, STANDARD_GRAVITY, "acceleration", provenance="standard", source="STANDARD-GRAVITY"
    )


def poured_volume(mass: float | None, volume: float | None, metal: Metal) -> float | None:
    """Volume of liquid metal (m^3) from what the caller gave; None where that is nothing.

    Raises MissingValue where a mass is given of a metal of unknown density.
    """
    if volume is not None or mass is None:
        return volume
    why = Say("How much room the metal takes depends on its density: name the alloy or give density_liquid.")
    return volume_of(mass, metal.need("density_liquid", why))


def _gates_known(case: GatingCase, decision: GatingDecision, metal: Metal) -> None:
    """A system designed for a time needs gates, and those need the metal's critical velocity."""
    if decision.gate_width is None and case.pour_time is not None:
        metal.need(
            "gate_velocity",
            Say(
                "The gates are sized so that the metal enters quietly: name the alloy, give its "
                "gate_velocity, or give a ratio or the area of the gates."
            ),
        )


def _nothing_sized(case: GatingCase, inputs: GatingInputs, ledger: Ledger) -> None:
    if inputs.head_left is not None and inputs.head_left < -1e-9:
        return
    if case.pour_time is None:
        ledger.lack(
            "/pour_time",
            Say("Say in what time the mould is to fill, or how wide the narrowest place of the sprue is."),
        )
    elif inputs.volume is None:
        ledger.lack("/poured_mass", Say("Say how much metal is poured: casting, risers and gating together."))


def sentence(
    inputs: GatingInputs | None, decision: GatingDecision | None, done: GatingAssessment | None
) -> Say:
    """The sentence that an answer begins with when nothing is wrong."""
    if inputs is None or decision is None or done is None:
        return Say("Nothing could be sized.")
    parts: dict[str, tuple[float, str] | str] = {"foot": (decision.sprue_exit, "length")}
    kind = "across" if decision.sprue_shape == "round" else "square"
    words = f"A sprue {{foot}} {kind} at its foot"
    if decision.sprue_mouth is not None:
        words += " and {mouth} at its mouth"
        parts["mouth"] = (decision.sprue_mouth, "length")
    if decision.gate_width is not None and decision.gate_thickness is not None:
        many = f"{decision.gate_count} gates of" if decision.gate_count > 1 else "one gate of"
        words += f", with {many} {{wide}} by {{thick}},"
        parts["wide"] = (decision.gate_width, "length")
        parts["thick"] = (decision.gate_thickness, "length")
    if done.flow.fill_time is not None:
        words += " fills the mould in {t}."
        parts["t"] = (done.flow.fill_time, "time")
    else:
        words += " passes {q} at the start."
        parts["q"] = (done.flow.flow_start, "flow")
    return Say(words, **parts)


def gating_result(
    inputs: GatingInputs | None,
    decision: GatingDecision | None,
    done: GatingAssessment | None,
    metal: Metal,
    position: str | None,
    gravity: float,
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
