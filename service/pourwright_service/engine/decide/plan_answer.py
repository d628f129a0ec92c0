"""A plan as it grows, and the answer that it becomes."""

from dataclasses import dataclass, field, replace
from typing import Any

from ..assess.crucible import CrucibleAssessment
from ..assess.mould import MouldAssessment
from ..checks import Check, Verdict
from ..ledger import Say
from .freezing import order_result
from .gating_result import gating_result
from .gating_vents import Vents
from .metal import Metal
from .plan_case import PlanCase
from .plan_charge import Melt
from .plan_freeze import Frost
from .plan_levels import Levels, lowest
from .plan_metal import Poured
from .plan_mould import Flask
from .plan_part import Part
from .riser_answer import TIMELESS, entry, feeding_result, riser_result, sentence

MOVED = (
    ("/melt_mass", "/stock"),
    ("/limits_percent", "/charge/limits_percent"),
    ("/gating/pour_time", "/pour/pour_time"),
    ("/pour/poured_mass", "/pour/pour_time"),
    ("/pour/thickness", "/part/wall"),
    ("/pour/thinnest", "/part/wall"),
)
"""Where a subject's own request has a field that a plan has elsewhere, or follows from something else."""

COMMON = ("gate-fall", "fill-rise", "riser-foot", "pour-time-slow", "pour-window")
"""Warnings that many sound plans carry; any other speaks before them."""


@dataclass(slots=True, kw_only=True)
class Plan:
    """Everything found so far; None where the plan did not come to it."""

    case: PlanCase
    gravity: float = 0.0
    gate_position: str | None = None
    metal: Metal | None = None
    part: Part | None = None
    frost: Frost = field(default_factory=Frost)
    levels: Levels | None = None
    poured: Poured | None = None
    vents: Vents | None = None
    pour_result: dict[str, Any] | None = None
    masses: dict[str, float | None] | None = None
    flask: Flask | None = None
    mould: MouldAssessment | None = None
    melt: Melt | None = None
    crucible: CrucibleAssessment | None = None
    checks: list[Check] = field(default_factory=list)

    def in_request(self) -> list[Check]:
        """The checks with their subjects as places of a plan's request."""
        return [replace(check, subject=_moved(check.subject)) for check in self.checks]


def _moved(subject: str) -> str:
    for old, new in MOVED:
        if subject == old or subject.startswith(f"{old}/"):
            return new + subject[len(old) :]
    return subject


def plan_sentence(plan: Plan) -> tuple[Say, Verdict]:
    """The sentence of a plan that can be done, and the verdict it adds to the checks'."""
    melt = plan.melt
    for one in plan.frost.risers:
        if one.choice is not None and one.choice.decision is None and not one.choice.needless:
            return sentence(one.choice)
    if melt is not None and melt.verdict in ("fail", "unknown"):
        return melt.message, melt.verdict
    said = _summary(plan)
    warned = [check for check in plan.checks if check.verdict == "warn"]
    warned.sort(key=lambda check: check.kind.id in COMMON)
    told = [check.message for check in warned]
    if melt is not None and melt.verdict == "warn":
        told.insert(0, melt.message)
    if not told:
        return said, "pass"
    if len(told) > 1:
        said = said.then(Say("{n} warnings, the first:", n=(float(len(told)), "count")))
    return said.then(told[0]), "warn"


def _summary(plan: Plan) -> Say:
    """What will be done, in one sentence."""
    words, parts = "The plan holds together", {}
    masses, poured = plan.masses, plan.poured
    if masses is not None and masses.get("melt_wanted") is not None:
        words += ": melt {melt} for a casting of {casting}"
        parts = {
            "melt": (masses["melt_wanted"] or 0.0, "mass"),
            "casting": (masses["casting"] or 0.0, "mass"),
        }
    if plan.frost.pouring_temperature is not None:
        words += ", pour at {hot}"
        parts["hot"] = (plan.frost.pouring_temperature, "temperature")
    if poured is not None and poured.assessment is not None and poured.assessment.flow.fill_time is not None:
        words += " in {t}"
        parts["t"] = (poured.assessment.flow.fill_time, "time")
    return Say(f"{words}.", **parts)


def plan_result(plan: Plan) -> dict[str, Any]:
    """The result as the answer's schema lays it out."""
    case, part, poured = plan.case, plan.part, plan.poured
    metal = plan.metal
    frost, riser, freezing = plan.frost, None, None
    if frost.riser is not None:
        riser = riser_result(frost.riser, (frost.heat and frost.cooling) or TIMELESS)
        riser["risers"] = [entry(one, timed=frost.heat is not None, cost=None) for one in frost.risers]
        if frost.feeding is not None and metal is not None:
            riser["feeding"] = feeding_result(frost.feeding, metal, frost.risers, None, distances_told=False)
    if part is not None and part.sections is not None:
        timed = frost.heat is not None
        freezing = order_result(
            part.sections,
            frost.heat,
            frost.cooling if timed else None,
            frost.order if timed else None,
            frost.junctions,
        )
        freezing["pouring_temperature"] = frost.pouring_temperature
    gating = None
    if poured is not None and metal is not None:
        gating = gating_result(
            poured.inputs,
            poured.decision,
            poured.assessment,
            metal,
            plan.gate_position,
            plan.gravity,
            plan.vents,
        )
    return {
        "title": case.title,
        "alloy": case.alloy,
        "part": None if part is None else _part(part),
        "pattern": None if part is None or part.scale is None else _pattern(part, part.scale),
        "pouring_temperature": frost.pouring_temperature,
        "freezing": freezing,
        "freeze_map": frost.mapped,
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
        "wall": part.wall,
        "height_in_cope": part.height_in_cope,
        "parting_area": part.parting_area,
        "volume_in_cope": part.above_parting,
        "sections_volume": part.sections.volume if part.sections else None,
        "triangles": part.report.triangles if part.report else None,
    }


def _pattern(part: Part, scale: float) -> dict[str, Any]:
    return {
        "scale": scale,
        "contraction": scale - 1.0,
        "length": scale * part.length,
        "width": scale * part.width,
        "height": scale * part.height,
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
        "drag_height": lowest(flask.heights if flask else (), plan.levels.drag_needed),
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
