"""Gating: sprue, runner and gates that fill a mould in the time wanted, as they will be cut."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..answer import Answer, answer
from ..assess.gating import GatingAssessment, assess_gating, check_head
from ..assess.gating_flow import GatingDecision, GatingInputs
from ..checks import Check
from ..formulas.amounts import volume_of
from ..ledger import Ledger, MissingValue, Say
from .gating_case import FilledCase, GatingWishes
from .gating_castings import fill_of
from .gating_fit import fit_gating
from .gating_inputs import gating_inputs, heads_of, position_of, sizing_of
from .gating_result import gating_result
from .gating_vents import vents_of
from .metal import STANDARD_GRAVITY, Metal, metal_of

_FILLS = {
    "top": "from the top, under the full head,",
    "parting": "through gates at the parting",
    "bottom": "from its bottom upwards",
}
"""How the mould fills, by where the gates lie."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GatingCase(GatingWishes):
    """What a gating request may say; SI, None where the caller said nothing.

    ``poured_mass`` or ``volume`` is all metal through this choke, gating included. ``casting`` is one
    kind, with ``gates`` on each; ``castings`` are several kinds, each with its own.
    """

    alloy: str | None = None
    properties: Mapping[str, float | None] = field(default_factory=dict)
    gravity: float | None = None
    poured_mass: float | None = None
    volume: float | None = None
    pour_time: float | None = None
    flow: float | None = None
    casting: FilledCase | None = None
    castings: tuple[FilledCase, ...] = ()


def decide_gating(case: GatingCase) -> Answer:
    """Answer a gating request. Raises OutOfRange."""
    ledger = Ledger()
    gravity = standard_gravity(case.gravity, ledger)
    metal = metal_of(case.alloy, case.properties, ledger, gravity=gravity)
    inputs = decision = done = vents = None
    position = None
    checks: list[Check] = []
    several = bool(case.castings)
    castings = case.castings or ((case.casting,) if case.casting is not None else ())
    try:
        heads = heads_of(case, gravity, ledger, case.flow)
        position = position_of(case, castings, ledger)
        volume = poured_volume(case.poured_mass, case.volume, metal)
        filled = fill_of(castings, several, position, case.gates, volume, ledger, case.poured_mass)
        inputs = gating_inputs(
            case,
            heads,
            metal,
            ledger,
            gravity=gravity,
            position=position,
            layers=filled.layers,
            other_volume=filled.other_volume,
            volume_known=filled.known,
            wanted_time=case.pour_time,
            wall_thickness=filled.wall_thickness,
            castings=filled.castings,
        )
        sizing = sizing_of(replace(case, gates=filled.gates) if several else case, ledger, case.flow)
        inputs, decision = fit_gating(inputs, replace(sizing, gate_count=filled.gates or 1), None)
        if decision is not None:
            done = assess_gating(inputs, decision)
            checks = list(done.checks)
            vents = vents_of(case.vents, inputs, done.flow, metal, ledger)
            if vents is not None:
                checks += vents.assessment.checks
            _gates_known(case, decision, metal)
        else:
            head = check_head(inputs)
            checks = [head] if head is not None else []
            _nothing_sized(case, inputs, ledger)
    except MissingValue:
        pass  # the ledger knows, and the answer says so; what could be computed is told
    result = gating_result(inputs, decision, done, metal, position, gravity, vents)
    return answer(ledger, result, checks, sentence(inputs, decision, done, position))


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
    inputs: GatingInputs | None,
    decision: GatingDecision | None,
    done: GatingAssessment | None,
    position: str | None,
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
        words += f" fills the mould {_FILLS[position or 'top']} in {{t}}."
        parts["t"] = (done.flow.fill_time, "time")
    else:
        words += " passes {q} at the start."
        parts["q"] = (done.flow.flow_start, "flow")
    return Say(words, **parts)
