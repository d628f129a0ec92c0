"""Riser: the smallest one that meets the chosen criteria, judged as it will be made."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from ..answer import Answer, answer
from ..assess.freezing import Cooling, cooling_of
from ..checks import Verdict
from ..formulas.freezing import mould_constant_from_trial
from ..geometry.sections import Section
from ..ledger import Ledger, MissingValue, Say
from .freezing import Sections, TrialCase, freezing_order, method_of, read_sections, trial_constant
from .heat import Heat, HeatCase, MouldCase, heat_of
from .metal import Metal, metal_of
from .riser_choice import RiserChoice, choose_riser
from .riser_inputs import CastingCase, RiserShape, riser_inputs


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserCase:
    """What a riser request may say; SI, None where the caller said nothing."""

    sections: tuple[Section, ...] = ()
    casting: CastingCase | None = None
    riser: RiserShape = field(default_factory=RiserShape)
    alloy: str | None = None
    properties: Mapping[str, float | None] = field(default_factory=dict)
    mould: MouldCase = field(default_factory=MouldCase)
    mould_constant: float | None = None
    trial: TrialCase | None = None
    pouring_temperature: float | None = None
    temperature_fall: float | None = None
    curvature: bool | None = None


def decide_riser(case: RiserCase) -> Answer:
    """Answer a riser request. Raises SectionFault, OutOfRange."""
    ledger = Ledger()
    sections = read_sections(case.sections, ledger) if case.sections else None
    metal = metal_of(case.alloy, case.properties, ledger)
    try:
        heat = _heat(case, metal, sections, ledger)
        cooling = cooling_of(heat.inputs) if heat else TIMELESS
        order = freezing_order(cooling, sections, case.riser.section) if sections else None
        filled = heat.inputs.filled_temperature if heat else None
        asked = riser_inputs(case.riser, cooling, sections, case.casting, order, metal, filled, ledger)
        choice = choose_riser(asked, case.riser, ledger)
    except MissingValue as missing:
        return answer(ledger, {}, [], missing.missing.why)
    checks = list(order.checks) if order else []
    if choice.assessment is not None:
        checks += choice.assessment.checks
    return answer(ledger, riser_result(choice, cooling), checks, *sentence(choice))


TIMELESS = Cooling(mould_constant=1.0)
"""Stands in where nothing is known of the mould: moduli can be compared, times cannot be told."""


def _heat(case: RiserCase, metal: Metal, sections: Sections | None, ledger: Ledger) -> Heat | None:
    """How the casting cools, or None where only moduli and volumes are compared."""
    constant, casting = case.mould_constant, case.casting
    if constant is None and casting is not None and casting.freezing_time and casting.modulus:
        # A casting of known modulus and time is a trial casting of itself.
        constant = mould_constant_from_trial(casting.freezing_time, casting.modulus)
    timed = case.riser.criteria is None or "time" in case.riser.criteria
    if constant is None and case.trial is None and not timed and not case.mould.says_anything():
        return None
    return heat_of(
        HeatCase(
            mould=case.mould,
            mould_constant=constant,
            trial_constant=trial_constant(case.trial),
            pouring_temperature=case.pouring_temperature,
            temperature_fall=case.temperature_fall,
            curvature=case.curvature,
        ),
        metal,
        sections.thinnest if sections else None,
        ledger,
    )


def sentence(choice: RiserChoice) -> tuple[Say, Verdict]:
    """The sentence that a riser's answer begins with, and the verdict that it adds."""
    if choice.decision is None or choice.assessment is None:
        return choice.why_not or Say("No riser was found."), "fail"
    parts: dict[str, tuple[float, str] | str] = {
        "d": (choice.decision.diameter, "length"),
        "h": (choice.decision.height, "length"),
        "where": f"on {choice.inputs.stands_on}" if choice.inputs.stands_on else "beside the casting",
    }
    if choice.inputs.shape == "ball":
        return Say("A ball riser {d} across {where} feeds the casting.", **parts), "pass"
    return Say("A riser {d} across and {h} tall {where} feeds the casting.", **parts), "pass"


def riser_result(choice: RiserChoice, cooling: Cooling) -> dict[str, Any]:
    """The result as the answer's schema lays it out."""
    decision, done, inputs = choice.decision, choice.assessment, choice.inputs
    timed = cooling is not TIMELESS
    foot = done.foot_area if done else None
    neck = decision.neck if decision else None
    cut = foot if neck is None else math.pi / 4.0 * neck**2
    return {
        "position": inputs.position,
        "shape": inputs.shape,
        "section": inputs.stands_on,
        "face": inputs.face,
        "diameter": decision.diameter if decision else None,
        "height": decision.height if decision and inputs.shape != "ball" else None,
        "neck": neck,
        "cut_off_area": cut,
        "volume": done.volume if done else None,
        "modulus": done.modulus if done else None,
        "freezing_time": done.time if done and timed else None,
        "casting_volume": inputs.casting_volume,
        "casting_modulus": done.casting_modulus if done else None,
        "casting_time": done.casting_time if done and timed else None,
        "last_section": done.last_section if done else None,
        "shrinkage": inputs.shrinkage,
        "feeding_efficiency": inputs.feeding_efficiency,
        "method": method_of(cooling) if timed else None,
        "mould_constant": cooling.mould_constant if timed else None,
        "criteria": [
            {"criterion": name, "diameter": diameter, "used": name in inputs.criteria}
            for name, diameter in choice.needed.items()
        ],
        "governs": choice.governs,
        "shrinkage_low": choice.shrinkage_ends[0] if choice.shrinkage_ends else None,
        "shrinkage_high": choice.shrinkage_ends[1] if choice.shrinkage_ends else None,
        "volume_diameter_low": choice.volume_diameters[0] if choice.volume_diameters else None,
        "volume_diameter_high": choice.volume_diameters[1] if choice.volume_diameters else None,
        "casting_mass": done.casting_mass if done else None,
        "riser_mass": done.riser_mass if done else None,
        "yield_ratio": done.yield_ratio if done else None,
    }
