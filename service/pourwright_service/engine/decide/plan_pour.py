"""The pour of a plan: in what time, judged once the metal is settled."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from ..assess.gating_flow import GatingInputs
from ..assess.pour_time import PourTimeDecision, assess_pour_time
from ..assess.pour_time_window import IRON, PourTimeInputs
from ..checks import Check
from ..formula import step
from ..ledger import Ledger, Say
from .metal import Metal
from .plan_case import PlanCase
from .plan_freeze import Frost
from .plan_metal import Poured
from .plan_part import Part
from .pour_time import choose_pour_time, pour_time_inputs
from .pour_time_result import pour_time_result


@dataclass(frozen=True, slots=True, kw_only=True)
class Pour:
    """A pour whose mass is still open: ``time_for`` (kg -> s) and the judgement once it is settled."""

    time_for: Callable[[float], float | None]
    judged: Callable[[Poured], tuple[dict[str, Any] | None, tuple[Check, ...]]]


def pour_of(
    case: PlanCase,
    part: Part,
    scale: float,
    metal: Metal,
    gating: GatingInputs,
    frost: Frost,
    ledger: Ledger,
) -> Pour:
    """The pour of this part, judged once its metal is settled."""
    here = ledger.seen_from(properties="/properties", alloy="/alloy", _="/pour")
    edge = here.use(
        "/gate_edge",
        case.pour.gate_edge,
        scale * part.straight_edge,
        "length",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="the longest side of the part at the parting",
    )
    density = gating.density_liquid or 0.0
    own = sum(layer.volume for layer in gating.layers)
    first = min((one.time for one in frost.order.frozen.values()), default=None) if frost.order else None
    inputs = pour_time_inputs(
        replace(case.pour, gate_edge=edge),
        metal,
        here,
        family=metal.family,
        mass=own * density,
        volume=own,
        thickness=part.wall,
        thinnest=part.wall,
        freezing_time=first if frost.heat else None,
        height=scale * part.height,
        wall_at_gate=part.wall,
        casting_volume=gating.rising_volume,
        outline=2.0 * scale * (part.length + part.width),
        mould_constant=frost.cooling.mould_constant if frost.heat and frost.cooling else None,
        medium=case.mould.medium,
    )

    def of_mass(mass: float) -> PourTimeInputs:
        ends = inputs.largest_pour is not None and mass > inputs.largest_pour
        laws = tuple(law for law in inputs.laws if not (ends and law == IRON))
        return replace(inputs, laws=laws, mass=mass, volume=mass / density)

    def time_for(mass: float) -> float | None:
        chosen = choose_pour_time(of_mass(mass), case.pour.pour_time)
        return None if chosen is None else chosen.pour_time

    def judged(poured: Poured) -> tuple[dict[str, Any] | None, tuple[Check, ...]]:
        settled = of_mass(poured.volume * density)
        if poured.pour_time is None:
            _no_time(metal, settled, ledger)
            return None, ()
        built = poured.assessment.flow.fill_time if poured.assessment is not None else None
        decision = PourTimeDecision(pour_time=poured.pour_time, built_time=built)
        with step("pour", "time"):
            done = assess_pour_time(settled, decision, "/pour")
        told = pour_time_result(
            settled, decision, done, frost.pouring_temperature, metal, medium=case.mould.medium
        )
        return told, done.checks

    return Pour(time_for=time_for, judged=judged)


def _no_time(metal: Metal, inputs: PourTimeInputs, ledger: Ledger) -> None:
    """Note what is missing where no published law gives a time."""
    if not inputs.laws:
        ledger.lack(
            "/pour/pour_time" if metal.id else "/alloy",
            Say(
                "How fast to pour is not known for this metal or so heavy a pour: give the time "
                "(pour.pour_time)."
            )
            if metal.id
            else Say(
                "How fast to pour depends on the kind of metal: name the alloy, or give the time "
                "(pour.pour_time)."
            ),
        )
    else:
        ledger.lack(
            "/part/wall",
            Say("How fast to pour depends on how thin the walls are: give the thinnest (part.wall)."),
        )
