"""Vents: whether the air that the metal drives out can leave the mould. Only forward."""

import math
from dataclasses import dataclass

from ..checks import Check, check_kind
from ..formula import step
from ..formulas import channels, gating_vents
from ..geometry.shapes import disc_area
from ..ledger import Say

VENTS = check_kind(
    "gating-vents",
    "The air in the mould can leave as fast as metal comes in",
    kind="area",
    sense="at least",
    source="ORIFICE",
    else_="warn",
    margin=True,
)

AIR_DENSITY = 1.225
AIR_TEMPERATURE = 288.15
"""The standard atmosphere at the ground, kg/m^3 and K (ISO 2533)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VentInputs:
    """What must leave, and what is open anyway; SI.

    ``air_temperature`` is how hot the air leaves, ``back_pressure`` what it may press with,
    ``open_area`` that of open risers and flow-offs.
    """

    metal_flow: float
    coefficient: float
    air_temperature: float
    back_pressure: float
    open_area: float


@dataclass(frozen=True, slots=True, kw_only=True)
class VentDecision:
    """Round vents: how many, and how wide (m)."""

    count: int
    diameter: float


@dataclass(frozen=True, slots=True, kw_only=True)
class VentAssessment:
    """What the vents do; SI. ``back_pressure`` is None where there is no opening at all."""

    air_flow: float
    area_needed: float
    area: float
    back_pressure: float | None
    checks: tuple[Check, ...]


def area_needed(inputs: VentInputs) -> tuple[float, float, float]:
    """Air that must leave (m^3/s), its density (kg/m^3), and the area of openings (m^2) for it."""
    hot = inputs.air_temperature
    flow = gating_vents.air_flow(inputs.metal_flow, hot, AIR_TEMPERATURE)
    density = gating_vents.hot_air_density(AIR_DENSITY, AIR_TEMPERATURE, hot)
    speed = gating_vents.vent_velocity(inputs.coefficient, inputs.back_pressure, density)
    return flow, density, channels.area_for_velocity(flow, speed)


def assess_vents(inputs: VentInputs, decision: VentDecision, place: str = "") -> VentAssessment:
    """Judge the openings of a mould."""
    with step("gating", "vents"):
        flow, density, needed = area_needed(inputs)
        one = disc_area(decision.diameter)
        area = inputs.open_area + decision.count * one
        pressure = None
        if area > 0.0:
            pressure = gating_vents.vent_pressure(density, flow, inputs.coefficient, area)
    more = max(math.ceil((needed - inputs.open_area) / one - 1e-9), 0)
    parts: dict[str, tuple[float, str] | str] = {
        "wide": (decision.diameter, "length"),
        "area": (area, "area"),
        "needed": (needed, "area"),
    }
    if decision.count == 0:
        ok = "The air can leave through what is open already: {area}, where {needed} would do."
    else:
        many = "one vent" if decision.count == 1 else f"{decision.count} vents"
        ok = f"The air can leave: pierce {many} of {{wide}} over the highest points of the casting."
    return VentAssessment(
        air_flow=flow,
        area_needed=needed,
        area=area,
        back_pressure=pressure,
        checks=(
            VENTS.judge(
                area,
                needed,
                subject=f"{place}/vents",
                ok=Say(ok, **parts),
                bad=Say(
                    "The air cannot leave as fast as metal comes in and holds it back: {area} is open, "
                    f"{{needed}} is needed. Pierce {more} vents of {{wide}} over the highest points of the "
                    "casting.",
                    **parts,
                ),
            ),
        ),
    )
