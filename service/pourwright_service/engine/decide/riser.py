"""Riser: the smallest one that meets the chosen criteria, judged as it will be made."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from ..answer import Answer, answer
from ..assess.freezing import Cooling, cooling_of
from ..checks import Verdict
from ..formula import paused
from ..formulas.freezing import mould_constant_from_trial
from ..geometry.sections import Section
from ..ledger import Ledger, MissingValue, Say
from .freezing import (
    Order,
    Sections,
    TrialCase,
    freezing_order,
    known_section,
    method_of,
    read_sections,
    report_cores,
    trial_body,
)
from .heat import Heat, HeatCase, MouldCase, filled_temperature_of, heat_of
from .metal import Metal, metal_of
from .riser_choice import RiserChoice, choose_riser, order_under
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
    """Answer a riser request. Raises SectionFault, OutOfRange.

    Where time cannot be told, moduli and volumes still are; the answer names what is missing.
    """
    ledger = Ledger()
    sections = read_sections(case.sections, ledger) if case.sections else None
    if sections is not None:
        known_section(sections, case.riser.section, "/riser/section")
    metal = metal_of(case.alloy, case.properties, ledger)
    heat = _heat(case, metal, sections, ledger)
    cooling = cooling_of(heat.inputs) if heat else TIMELESS
    order: Order | None = None
    if sections is not None:
        with paused():
            order = freezing_order(cooling, sections, case.riser.section)
        report_cores(cooling, sections, ledger)
    filled = heat.inputs.filled_temperature if heat else _filled(case, metal, sections, ledger)
    try:
        asked = riser_inputs(
            case.riser, cooling, sections, case.casting, order, metal, filled, ledger, timed=heat is not None
        )
    except MissingValue as missing:
        return answer(ledger, no_riser_result(case, sections), [], missing.missing.why)
    choice = choose_riser(asked, case.riser, ledger)
    checks = list(order_under(choice, sections, order).checks) if sections and order else []
    if choice.assessment is not None:
        checks += choice.assessment.checks
    checks += heat.checks if heat else ()
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
    try:
        return heat_of(_heat_case(case, constant, ledger), metal, _thinnest(case, sections), ledger)
    except MissingValue:
        return None


def _heat_case(case: RiserCase, constant: float | None, ledger: Ledger) -> HeatCase:
    return HeatCase(
        mould=case.mould,
        mould_constant=constant,
        trial=trial_body(case.trial, ledger),
        pouring_temperature=case.pouring_temperature,
        temperature_fall=case.temperature_fall,
        curvature=case.curvature,
    )


def _thinnest(case: RiserCase, sections: Sections | None) -> float | None:
    """The thinnest wall (m); of a casting known by its modulus that of a plate of this modulus."""
    if sections is not None:
        return sections.thinnest
    if case.casting is not None and case.casting.modulus is not None:
        return 2.0 * case.casting.modulus
    return None


def _filled(case: RiserCase, metal: Metal, sections: Sections | None, ledger: Ledger) -> float | None:
    """The metal's temperature (K) when the mould is full, where no time is told but metal is fed."""
    if metal.get("liquid_contraction") is None or metal.get("liquidus") is None:
        return None
    try:
        return filled_temperature_of(_heat_case(case, None, ledger), metal, _thinnest(case, sections), ledger)
    except MissingValue:
        return None


def sentence(choice: RiserChoice) -> tuple[Say, Verdict]:
    """The sentence that a riser's answer begins with, and the verdict that it adds."""
    if choice.decision is None or choice.assessment is None:
        return choice.why_not or Say("No riser was found."), "pass" if choice.needless else "fail"
    inputs = choice.inputs
    where = "beside the casting" if inputs.position == "side" else f"on {inputs.stands_on or 'the casting'}"
    parts: dict[str, tuple[float, str] | str] = {
        "d": (choice.decision.diameter, "length"),
        "h": (choice.decision.height, "length"),
        "where": where,
    }
    if inputs.shape == "ball":
        return Say("A ball riser {d} across {where} feeds the casting.", **parts), "pass"
    return Say("A riser {d} across and {h} tall {where} feeds the casting.", **parts), "pass"


FIELDS = (
    "position",
    "shape",
    "section",
    "face",
    "diameter",
    "height",
    "neck",
    "cut_off_area",
    "volume",
    "modulus",
    "freezing_time",
    "casting_volume",
    "casting_modulus",
    "casting_time",
    "last_section",
    "shrinkage",
    "feeding_efficiency",
    "method",
    "mould_constant",
    "criteria",
    "governs",
    "shrinkage_low",
    "shrinkage_high",
    "volume_diameter_low",
    "volume_diameter_high",
    "casting_mass",
    "riser_mass",
    "riser_left_mass",
    "yield_ratio",
)
"""What a riser's result tells."""


def no_riser_result(case: RiserCase, sections: Sections | None) -> dict[str, Any]:
    """The result where not even the criteria could be computed."""
    volume = case.casting.volume if case.casting else sections.volume if sections else None
    return {**dict.fromkeys(FIELDS), "casting_volume": volume, "criteria": []}


def riser_result(choice: RiserChoice, cooling: Cooling) -> dict[str, Any]:
    """The result as the answer's schema lays it out."""
    decision, done, inputs = choice.decision, choice.assessment, choice.inputs
    timed = cooling is not TIMELESS
    masses = done.masses if done else None
    return {
        "position": inputs.position,
        "shape": inputs.shape,
        "section": inputs.stands_on,
        "face": inputs.face,
        "diameter": decision.diameter if decision else None,
        "height": decision.height if decision and inputs.shape != "ball" else None,
        "neck": decision.neck if decision else None,
        "cut_off_area": done.foot_area if done else None,
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
        "casting_mass": masses.casting if masses else None,
        "riser_mass": masses.riser if masses else None,
        "riser_left_mass": masses.riser_left if masses else None,
        "yield_ratio": masses.yield_ratio if masses else None,
    }
