"""A plan as it grows, and the answer that it becomes."""

from dataclasses import dataclass, field
from typing import Any

from ..assess.crucible import CrucibleAssessment
from ..assess.freezing import Cooling
from ..assess.mould import MouldAssessment
from ..checks import Check, Verdict
from ..ledger import Say
from .freezing import Order, order_result
from .gating import gating_result
from .heat import Heat
from .metal import Metal
from .plan_case import PlanCase
from .plan_charge import Melt
from .plan_metal import Poured
from .plan_mould import Flask, Levels
from .plan_part import Part
from .riser import riser_result, sentence
from .riser_choice import RiserChoice


@dataclass(slots=True, kw_only=True)
class Plan:
    """Everything found so far; None where the plan did not come to it."""

    case: PlanCase
    gravity: float = 0.0
    gate_position: str | None = None
    metal: Metal | None = None
    part: Part | None = None
    heat: Heat | None = None
    cooling: Cooling | None = None
    order: Order | None = None
    riser: RiserChoice | None = None
    levels: Levels | None = None
    poured: Poured | None = None
    pour_result: dict[str, Any] | None = None
    pouring_temperature: float | None = None
    masses: dict[str, float] | None = None
    flask: Flask | None = None
    mould: MouldAssessment | None = None
    melt: Melt | None = None
    crucible: CrucibleAssessment | None = None
    checks: list[Check] = field(default_factory=list)


def plan_sentence(plan: Plan) -> tuple[Say, Verdict]:
    """The sentence of a plan with nothing wrong in it, and the verdict it adds to the checks'."""
    if plan.riser is not None and plan.riser.decision is None:
        return sentence(plan.riser)
    if plan.melt is not None and plan.melt.verdict in ("fail", "unknown"):
        return plan.melt.message, plan.melt.verdict
    words, parts = "The plan holds together", {}
    masses, poured = plan.masses, plan.poured
    if masses is not None:
        words += ": melt {melt} for a casting of {casting}"
        parts = {"melt": (masses["melt_wanted"], "mass"), "casting": (masses["casting"], "mass")}
    if plan.pouring_temperature is not None:
        words += ", pour at {hot}"
        parts["hot"] = (plan.pouring_temperature, "temperature")
    if poured is not None and poured.assessment is not None and poured.assessment.flow.fill_time is not None:
        words += " in {t}"
        parts["t"] = (poured.assessment.flow.fill_time, "time")
    said = Say(f"{words}.", **parts)
    if plan.melt is not None and plan.melt.verdict == "warn":
        return said.then(plan.melt.message), "warn"
    return said, "pass"


def plan_result(plan: Plan) -> dict[str, Any]:
    """The result as the answer's schema lays it out."""
    case, part, poured = plan.case, plan.part, plan.poured
    metal = plan.metal
    riser = None
    if plan.riser is not None and plan.cooling is not None:
        riser = riser_result(plan.riser, plan.cooling)
    gating = None
    if poured is not None and metal is not None:
        gating = gating_result(
            poured.inputs, poured.decision, poured.assessment, metal, plan.gate_position, plan.gravity
        )
    return {
        "title": case.title,
        "alloy": case.alloy,
        "part": None if part is None else _part(part),
        "pattern": None if part is None else _pattern(part),
        "pouring_temperature": plan.pouring_temperature,
        "freezing": order_result(part.sections, plan.heat, plan.cooling, plan.order)
        if part is not None and part.sections is not None
        else None,
        "riser": riser,
        "masses": plan.masses,
        "pour_time": plan.pour_result,
        "gating": gating,
        "charge": plan.melt.result if plan.melt else None,
        "crucible": _crucible(plan.crucible),
        "mould": _mould(plan),
        "rounds": poured.rounds if poured else None,
    }


def _part(part: Part) -> dict[str, Any]:
    return {
        "volume": part.volume,
        "height": part.height,
        "length": part.length,
        "width": part.width,
        "height_in_cope": part.height_in_cope,
        "parting_area": part.parting_area,
        "volume_in_cope": part.above_parting,
        "sections_volume": part.sections.volume if part.sections else None,
        "triangles": part.report.triangles if part.report else None,
    }


def _pattern(part: Part) -> dict[str, Any]:
    return {
        "scale": part.scale,
        "contraction": part.scale - 1.0,
        "length": part.scale * part.length,
        "width": part.scale * part.width,
        "height": part.scale * part.height,
    }


def _crucible(crucible: CrucibleAssessment | None) -> dict[str, Any] | None:
    if crucible is None:
        return None
    return {
        "name": crucible.name,
        "melt_volume": crucible.volume,
        "filling": crucible.filling,
        "lifted_mass": crucible.lifted_mass,
        "crucible_counted": crucible.crucible_counted,
    }


def _mould(plan: Plan) -> dict[str, Any] | None:
    if plan.mould is None or plan.levels is None or plan.flask is None:
        return None
    mould, flask = plan.mould, plan.flask.flask
    return {
        "cope_height": plan.levels.cope,
        "flask_length": flask.length if flask else None,
        "flask_width": flask.width if flask else None,
        "length_needed": plan.flask.length_needed,
        "width_needed": plan.flask.width_needed,
        "lift": mould.lift,
        "metal_lift": mould.metal_lift,
        "projected_lift": mould.projected_lift,
        "cores": [
            {
                "name": core.name,
                "net_lift": core.net_lift,
                "gross_lift": core.gross_lift,
                "counted": core.counted,
            }
            for core in mould.cores
        ],
        "cope_mass": mould.cope_mass,
        "weight": mould.weight,
    }
