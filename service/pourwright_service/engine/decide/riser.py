"""Riser: the smallest one that meets the chosen criteria, judged as it will be made."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ..answer import Answer, answer
from ..assess.freezing import cooling_of
from ..checks import Check, Verdict
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
    read_sections,
    report_cores,
    trial_body,
)
from .heat import Heat, HeatCase, MouldCase, filled_temperature_of, heat_of
from .metal import Metal, metal_of
from .riser_alternatives import Alternative, alternatives, would_do
from .riser_answer import (
    TIMELESS,
    alternative_result,
    entry,
    feeding_result,
    no_riser_result,
    riser_result,
    sentence,
)
from .riser_choice import RiserChoice, order_under
from .riser_feeding import DistanceCase, Feeding, feeding_of
from .riser_inputs import CastingCase, RiserShape
from .riser_several import Fed, Job, Price, cost_of, feed_all, several_sentence, share_through, size_one


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserCase:
    """What a riser request may say; SI, None where the caller said nothing.

    ``risers``, where there are any, stand instead of ``riser``. ``metal_price`` is per kg.
    """

    sections: tuple[Section, ...] = ()
    casting: CastingCase | None = None
    riser: RiserShape = field(default_factory=RiserShape)
    risers: tuple[RiserShape, ...] = ()
    several: bool | None = None
    distances: tuple[DistanceCase, ...] = ()
    alternatives: bool | None = None
    sleeve_ratio: float | None = None
    metal_price: float | None = None
    return_value: float | None = None
    currency: str | None = None
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
    shapes, listed = case.risers or (case.riser,), bool(case.risers)
    if sections is not None:
        for index, shape in enumerate(shapes):
            place = f"/risers/{index}/section" if listed else "/riser/section"
            known_section(sections, shape.section, place)
    metal = metal_of(case.alloy, case.properties, ledger)
    heat = _heat(case, metal, sections, ledger)
    cooling = cooling_of(heat.inputs) if heat else TIMELESS
    order: Order | None = None
    if sections is not None:
        with paused():
            order = freezing_order(cooling, sections, shapes[0].section)
        report_cores(cooling, sections, ledger)
    filled = heat.inputs.filled_temperature if heat else _filled(case, metal, sections, ledger)
    job = Job(
        cooling=cooling,
        sections=sections,
        order=order,
        casting=case.casting,
        metal=metal,
        filled=filled,
        timed=heat is not None,
    )
    feeding = _feeding(case, shapes, job, ledger)
    try:
        fed = feed_all(job, shapes, feeding, ledger, listed=listed)
    except MissingValue as missing:
        return answer(ledger, no_riser_result(case.casting, sections), [], missing.missing.why)
    return _answered(case, job, feeding, fed, heat, ledger)


def _feeding(case: RiserCase, shapes: Sequence[RiserShape], job: Job, ledger: Ledger) -> Feeding | None:
    """Where risers are needed; None for a casting that is known by its figures alone."""
    if job.sections is None or job.order is None:
        return None
    on_top = [one.section or job.order.target for one in shapes if (one.position or "top") == "top"]
    return feeding_of(
        job.order,
        job.sections,
        job.metal,
        [one.section or job.order.target for one in shapes],
        frozenset(on_top),
        case.distances,
        ledger,
        several=case.several,
        listed=bool(case.risers),
    )


def _answered(
    case: RiserCase,
    job: Job,
    feeding: Feeding | None,
    fed: Sequence[Fed],
    heat: Heat | None,
    ledger: Ledger,
) -> Answer:
    """The answer with every riser's checks, and what stands beside them."""
    main, choices = fed[0].choice, [one.choice for one in fed if one.choice is not None]
    checks: list[Check] = []
    if job.sections is not None and job.order is not None and choices:
        also = feeding.also if feeding else ()
        checks += order_under(choices, job.sections, job.order, also=also).checks
    checks += feeding.checks if feeding else ()
    for one in fed:
        known = {(check.kind.id, check.subject) for check in checks}
        checks += [check for check in one.checks if (check.kind.id, check.subject) not in known]
    checks += heat.checks if heat else ()
    price, others = _price(case, ledger), _alternatives(case, job, fed[0], ledger)
    message, verdict = _message(fed, others)
    result = no_riser_result(case.casting, job.sections) if main is None else riser_result(main, job.cooling)
    timed = job.cooling is not TIMELESS
    result["risers"] = [entry(one, timed=timed, cost=_cost(one.choice, price)) for one in fed]
    if feeding is not None:
        told = bool(case.distances)
        result["feeding"] = feeding_result(feeding, job.metal, fed, price, distances_told=told)
    if case.alternatives:
        result["alternatives"] = [
            alternative_result(one, _cost(one.choice, price) if one.volume is not None else None)
            for one in others
        ]
    if feeding is not None and feeding.isolated and verdict == "pass":
        message = message.then(result["feeding"]["reason"])
    return answer(ledger, result, checks, message, verdict)


def _heat(case: RiserCase, metal: Metal, sections: Sections | None, ledger: Ledger) -> Heat | None:
    """How the casting cools, or None where only moduli and volumes are compared."""
    constant, casting = case.mould_constant, case.casting
    if constant is None and casting is not None and casting.freezing_time and casting.modulus:
        # A casting of known modulus and time is a trial casting of itself.
        constant = mould_constant_from_trial(casting.freezing_time, casting.modulus)
    shapes = case.risers or (case.riser,)
    timed = any(shape.criteria is None or "time" in shape.criteria for shape in shapes)
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


def _message(fed: Sequence[Fed], others: Sequence[Alternative]) -> tuple[Say, Verdict]:
    """The sentence that the answer begins with, and the verdict that it adds."""
    main = fed[0].choice
    for one in fed:
        if one.choice is None:
            said = one.refused.message if one.refused else Say("No riser was found.")
            return said, "fail"
    if main is not None and (main.decision is None or main.assessment is None):
        said, verdict = sentence(main)
        would = would_do(others) if verdict == "fail" else None
        return (said.then(would) if would else said), verdict
    for one in fed[1:]:
        if one.choice is not None and one.choice.decision is None and not one.choice.needless:
            return sentence(one.choice)
    if len(fed) > 1:
        return several_sentence(fed), "pass"
    return sentence(main) if main is not None else (Say("No riser was found."), "fail")


SLEEVE_RATIO = 1.3
"""How many times a sleeve raises the modulus where the alternatives show one; from memory."""

RETURN_VALUE = 0.5
"""What a kilogram of returned metal is worth over a new one, unless told otherwise."""


def _price(case: RiserCase, ledger: Ledger) -> Price | None:
    if case.metal_price is None:
        return None
    returned = ledger.use(
        "/return_value",
        case.return_value,
        RETURN_VALUE,
        "fraction",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="between scrap and ingot; what is left of the riser is melted again",
    )
    return Price(metal=case.metal_price, returned=returned)


def _cost(choice: RiserChoice | None, price: Price | None) -> float | None:
    return cost_of(choice.assessment.masses, price) if choice and choice.assessment else None


def _alternatives(case: RiserCase, job: Job, main: Fed, ledger: Ledger) -> tuple[Alternative, ...]:
    """What else would do for the main riser: where it is asked for, or where that riser will not do."""
    choice = main.choice
    if choice is None or choice.needless or (choice.decision is not None and not case.alternatives):
        return ()
    sleeve: float | None = None
    if case.alternatives and main.shape.sleeve is None:
        sleeve = ledger.use(
            "/sleeve_ratio",
            case.sleeve_ratio,
            SLEEVE_RATIO,
            "ratio",
            provenance="from memory",
            source="RISER-SLEEVE",
            note="for the alternative with a sleeve; makers' cards say 1.2 to 1.5",
        )
    through = share_through(job, main.post)
    return alternatives(
        choice,
        main.shape,
        sleeve,
        lambda wish: size_one(job, main.post, wish, Ledger(), through=through),
    )
