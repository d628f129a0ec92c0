"""The pour of a plan: in what time, judged once the metal is settled."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from ..assess.gating_flow import GatingInputs
from ..assess.pour_time import PourTimeDecision, PourTimeInputs, assess_pour_time
from ..checks import Check
from ..formula import paused, step
from ..formulas.pattern import cavity_volume
from ..ledger import Ledger
from .metal import Metal
from .plan_case import PlanCase
from .plan_metal import Poured
from .plan_part import Part
from .pour_time import choose_pour_time, pour_time_inputs, pour_time_result


@dataclass(frozen=True, slots=True, kw_only=True)
class Pour:
    """A pour whose mass is still open: ``time_for`` (kg -> s) and the judgement once it is settled."""

    time_for: Callable[[float], float | None]
    judged: Callable[[Poured], tuple[dict[str, Any] | None, tuple[Check, ...]]]


def pour_of(
    case: PlanCase,
    part: Part,
    metal: Metal,
    gating: GatingInputs,
    thinnest_time: float | None,
    pouring_temperature: float | None,
    ledger: Ledger,
) -> Pour:
    """The pour of this part; ``thinnest_time`` (s) is when its first section is solid."""
    here = ledger.seen_from(properties="/properties", alloy="/alloy", _="/pour")
    edge = here.use(
        "/gate_edge",
        case.pour.gate_edge,
        part.scale * part.length,
        "length",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="the longest side of the part at the parting",
    )
    density = gating.density_liquid or 0.0
    own = sum(layer.volume for layer in gating.layers)
    wall = part.sections.thinnest if part.sections else None
    with paused():
        cavity = cavity_volume(part.scale, part.volume)
    inputs = pour_time_inputs(
        replace(case.pour, gate_edge=edge),
        metal,
        here,
        family=metal.family,
        mass=own * density,
        volume=own,
        thickness=wall,
        thinnest=wall,
        freezing_time=thinnest_time,
        height=part.scale * part.height,
        wall_at_gate=wall,
        casting_volume=cavity,
    )

    def of_mass(mass: float) -> PourTimeInputs:
        return replace(inputs, mass=mass, volume=mass / density)

    def time_for(mass: float) -> float | None:
        chosen = choose_pour_time(of_mass(mass), case.pour.pour_time)
        return None if chosen is None else chosen.pour_time

    def judged(poured: Poured) -> tuple[dict[str, Any] | None, tuple[Check, ...]]:
        if poured.pour_time is None:
            return None, ()
        decision = PourTimeDecision(pour_time=poured.pour_time)
        settled = of_mass(poured.volume * density)
        with step("pour", "time"):
            done = assess_pour_time(settled, decision, "/pour")
        return pour_time_result(settled, decision, done, pouring_temperature, metal), done.checks

    return Pour(time_for=time_for, judged=judged)
