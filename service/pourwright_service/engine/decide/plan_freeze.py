"""Freezing and riser of a plan, from sections or from the freeze map; never from the V/A of a whole mesh."""

import math
from contextlib import suppress
from dataclasses import dataclass, replace

from ..assess.freezing import Cooling, cooling_of
from ..assess.junctions import JunctionAssessment
from ..assess.plan import check_no_riser
from ..assess.riser import RiserInputs
from ..checks import Check
from ..formula import paused
from ..formulas.freeze_map import equivalent_modulus
from ..formulas.freezing import superheat
from ..formulas.riser import fed_shrinkage
from ..ledger import Ledger, MissingValue, Say
from .freezing import Order, Sections, freezing_order, known_section, report_cores
from .heat import Heat, HeatCase, filled_temperature_of, heat_of, pouring_temperature_of
from .junctions import junction_checks, junctions_of
from .metal import Metal
from .plan_case import PlanCase, PlanRiser
from .plan_levels import COVER, riser_height
from .plan_map import Mapped, map_checks, mapped_part, with_riser
from .plan_part import Part
from .riser_answer import TIMELESS
from .riser_choice import RiserChoice, choose_riser, order_under
from .riser_feeding import Feeding, feeding_of
from .riser_inputs import CastingCase, NoFace
from .riser_several import Fed, Job, inputs_of, proposed, share_through

RATIO_STEP, TALLEST, LOWEST = 0.05, 5.0, 0.5
"""A riser that has to reach higher, or to fit under less, is made so in such steps of its height over
its width, between these ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frost:
    """What was found: None where the plan did not come to it, or where no time can be told."""

    heat: Heat | None = None
    cooling: Cooling | None = None
    order: Order | None = None
    riser: RiserChoice | None = None
    risers: tuple[Fed, ...] = ()
    feeding: Feeding | None = None
    pouring_temperature: float | None = None
    junctions: tuple[JunctionAssessment, ...] = ()
    mapped: Mapped | None = None
    checks: tuple[Check, ...] = ()

    @property
    def standing(self) -> tuple[RiserChoice, ...]:
        """The risers that are there, the main one first."""
        chosen = [one.choice for one in self.risers if one.choice is not None]
        return tuple(one for one in chosen if one.decision is not None and one.assessment is not None)


def freeze_part(case: PlanCase, part: Part, metal: Metal, ledger: Ledger) -> Frost:
    """Order of freezing and riser; what is missing is noted. Raises SectionFault."""
    heat_case = HeatCase(
        mould=case.mould,
        mould_constant=case.mould_constant,
        pouring_temperature=case.pouring_temperature,
        temperature_fall=case.temperature_fall,
        curvature=case.curvature,
    )
    heat: Heat | None = None
    mapping = part.mesh is not None and case.freeze_map is not False and closed(part)
    if part.sections is not None or (mapping and case.mould.says_anything()):
        with suppress(MissingValue):
            heat = heat_of(heat_case, metal, part.wall, ledger)
    mapped: Mapped | None = None
    if mapping and heat is not None and part.mesh is not None:
        needed = part.sections is None
        mapped = mapped_part(part.mesh, part.factor, heat, metal, ledger, needed=needed)
    pouring = heat.pouring_temperature if heat else None
    if pouring is None:
        with suppress(MissingValue):
            pouring = pouring_temperature_of(heat_case, metal, part.wall, ledger)
    if part.sections is None and mapped is not None and heat is not None:
        return _from_map(case, part, mapped, metal, heat, ledger)
    if part.sections is None:
        words = "The order of freezing is unknown"
        if case.riser.position != "none":
            words = "Riser and order of freezing are unknown"
        ledger.lack(
            "/part/sections",
            Say(
                f"{words}: describe the part by sections too (part.sections). Volume over surface of a whole "
                "mesh would give a riser that freezes before the casting."
            ),
        )
        return Frost(pouring_temperature=pouring)
    filled = heat.inputs.filled_temperature if heat else None
    if filled is None and pouring is not None:
        with suppress(MissingValue):
            filled = filled_temperature_of(heat_case, metal, part.wall, ledger)
    frost = _frozen(case, part, part.sections, metal, heat, filled, pouring, ledger)
    if mapped is None or heat is None or frost.order is None:
        return frost
    with paused():
        alone = freezing_order(cooling_of(heat.inputs), part.sections, None, "/part")
    # Compared is what both find with nothing but sand round the part: the modulus of the time.
    last = max(one.time for one in alone.frozen.values())
    with paused():
        told = equivalent_modulus(last, cooling_of(heat.inputs).mould_constant)
    return _judged_on_map(frost, part, mapped, metal, heat, told, case.riser.at)


def _from_map(case: PlanCase, part: Part, mapped: Mapped, metal: Metal, heat: Heat, ledger: Ledger) -> Frost:
    """The riser of a part that is known by its mesh alone: it has to outlast what the map finds last."""
    cooling = cooling_of(heat.inputs)
    frost = Frost(
        heat=heat,
        cooling=cooling,
        pouring_temperature=heat.pouring_temperature,
        mapped=mapped,
        checks=tuple(heat.checks),
    )
    if case.riser.position == "none":
        return frost
    job = Job(
        cooling=cooling,
        sections=None,
        order=None,
        casting=CastingCase(volume=part.volume, modulus=mapped.modulus, freezing_time=mapped.regions[0].time),
        metal=metal,
        filled=heat.inputs.filled_temperature,
        timed=True,
        volume=part.volume,
    )
    with suppress(MissingValue):
        asked = inputs_of(job, None, case.riser, ledger, through=0.0)
        chosen = _riser(case, part, asked, ledger)
        fed = Fed(post=None, subject="/riser", shape=case.riser, choice=chosen, refused=None)
        found = chosen.assessment.checks if chosen.assessment is not None else ()
        frost = replace(frost, riser=chosen, risers=(fed,), checks=(*frost.checks, *found))
    return _judged_on_map(frost, part, mapped, metal, heat, None, case.riser.at)


def _judged_on_map(
    frost: Frost,
    part: Part,
    mapped: Mapped,
    metal: Metal,
    heat: Heat,
    sections_modulus: float | None,
    at: tuple[float, float, float] | None,
) -> Frost:
    """The riser set on the map, and what the map says of it and of the sections."""
    if part.mesh is not None and frost.riser is not None and frost.riser.decision is not None:
        mapped = with_riser(part.mesh, part.factor, heat, metal, mapped, frost.riser, at)
    found = map_checks(mapped, sections_modulus, only_riser=len(frost.standing) == 1)
    return replace(frost, mapped=mapped, checks=(*frost.checks, *found))


def closed(part: Part) -> bool:
    """Whether the mesh closes: the inside of another cannot be told."""
    return part.report is not None and part.report.watertight


def _frozen(
    case: PlanCase,
    part: Part,
    sections: Sections,
    metal: Metal,
    heat: Heat | None,
    filled: float | None,
    pouring: float | None,
    ledger: Ledger,
) -> Frost:
    """As :func:`freeze_part`, with the sections at hand; moduli are compared where no time is known."""
    cooling = cooling_of(heat.inputs) if heat else TIMELESS
    checks = list(heat.checks) if heat else []
    known_section(sections, case.riser.section, "/riser/section")
    order = freezing_order(cooling, sections, case.riser.section, "/part")
    report_cores(cooling, sections, ledger, "/part")
    risers: tuple[Fed, ...] = ()
    feeding: Feeding | None = None
    if case.riser.position == "none":
        checks += _without_riser(part, metal, filled, order, ledger)
    else:
        job = Job(
            cooling=cooling,
            sections=sections,
            order=order,
            casting=None,
            metal=metal,
            filled=filled,
            timed=heat is not None,
            volume=part.volume,
        )
        feeding = _feeding(case, sections, order, metal, ledger)
        try:
            with suppress(MissingValue):
                risers = _risers(case, part, job, feeding, ledger)
        except NoFace as none:
            checks.append(none.check)
    chosen = [one.choice for one in risers if one.choice is not None]
    if chosen and feeding is not None:
        order = order_under(chosen, sections, order, "/part", also=feeding.also)
    for one in risers:
        known = {(check.kind.id, check.subject) for check in checks}
        checks += [check for check in one.checks if (check.kind.id, check.subject) not in known]
    frozen = order.frozen if heat else None
    found = junctions_of(sections.joints, sections.measures, frozen, ledger, "/part")
    return Frost(
        heat=heat,
        cooling=cooling,
        order=order,
        riser=risers[0].choice if risers else None,
        risers=risers,
        feeding=feeding,
        pouring_temperature=pouring,
        junctions=found,
        checks=(*order.checks, *checks, *junction_checks(found)),
    )


def _feeding(case: PlanCase, sections: Sections, order: Order, metal: Metal, ledger: Ledger) -> Feeding:
    """Where risers are needed: sections of a plan have no distances, so each heavy one gets its own."""
    on_top = (case.riser.position or "top") == "top"
    return feeding_of(
        order,
        sections,
        metal,
        [order.target],
        frozenset([order.target] if on_top else ()),
        (),
        ledger.seen_from(several="/riser/several", _=""),
        several=case.riser.several,
        listed=False,
    )


def _risers(case: PlanCase, part: Part, job: Job, feeding: Feeding, ledger: Ledger) -> tuple[Fed, ...]:
    """The main riser, and those of other heavy sections in its proportions."""
    post = feeding.posts[0]
    asked = inputs_of(job, post, case.riser, ledger, through=share_through(job, post))
    chosen = _riser(case, part, asked, ledger)
    main = Fed(post=post, subject="/riser", shape=case.riser, choice=chosen, refused=None)
    like = main
    if asked.shape != "ball":
        like = replace(main, shape=replace(case.riser, height_to_diameter=chosen.height_ratio))
    return (main, *(proposed(job, other, like, ledger) for other in feeding.posts[1:]))


def _riser(case: PlanCase, part: Part, asked: RiserInputs, ledger: Ledger) -> RiserChoice:
    """The main riser; where its proportions are left open, ones that suit the mould."""
    shape: PlanRiser = case.riser
    chosen = choose_riser(asked, shape, ledger)
    own = shape.height_to_diameter is not None or shape.diameter is not None or asked.shape == "ball"
    if own or chosen.decision is None:
        return chosen
    top = (part.scale or 1.0) * part.height_in_cope
    heights = [height for flask in case.shop.flasks for height in flask.heights]
    if asked.position == "side":
        better, note = _taller(chosen, shape, top, ledger), "tall enough to stand as high as the casting"
    elif heights:
        room = max(heights) - top - (0.0 if shape.open is not False else COVER)
        better, note = _lower(chosen, shape, room, ledger), "low enough to fit into the tallest flask"
    else:
        return chosen
    if better is not chosen:
        ledger.use(
            "/riser/height_to_diameter",
            None,
            better.height_ratio,
            "ratio",
            provenance="computed",
            source="COMMON-PRACTICE",
            note=note,
        )
    return better


def _taller(chosen: RiserChoice, shape: PlanRiser, top: float, ledger: Ledger) -> RiserChoice:
    """The riser, made taller for its width until it reaches this high (m); the last that could be had."""
    while chosen.decision is not None and riser_height(chosen) < top:
        reach = (top - riser_height(chosen)) / chosen.decision.diameter + chosen.height_ratio
        steps = max(math.ceil(reach / RATIO_STEP - 1e-9), round(chosen.height_ratio / RATIO_STEP) + 1)
        if steps * RATIO_STEP > TALLEST:
            break
        chosen = choose_riser(chosen.inputs, replace(shape, height_to_diameter=steps * RATIO_STEP), ledger)
    return chosen


def _lower(chosen: RiserChoice, shape: PlanRiser, room: float, ledger: Ledger) -> RiserChoice:
    """The riser, made lower and wider until it is at most so high (m); as it was where none fits."""
    steps = round(chosen.height_ratio / RATIO_STEP)
    tried = chosen
    while tried.decision is not None and riser_height(tried) > room + 1e-9:
        steps -= 1
        if steps * RATIO_STEP < LOWEST:
            return chosen
        tried = choose_riser(chosen.inputs, replace(shape, height_to_diameter=steps * RATIO_STEP), ledger)
    return chosen if tried.decision is None else tried


def _without_riser(
    part: Part, metal: Metal, filled: float | None, order: Order, ledger: Ledger
) -> tuple[Check, ...]:
    """What the section that freezes last lacks where the caller wants no riser."""
    b = metal.get("solidification_shrinkage")
    if b is None:
        ledger.lack(
            "/properties/solidification_shrinkage",
            Say(
                "How large a void the casting would have without a riser follows from the metal's shrinkage."
            ),
        )
        return ()
    contraction, liquidus = metal.get("liquid_contraction"), metal.get("liquidus")
    if filled is not None and contraction is not None and liquidus is not None:
        b = fed_shrinkage(b, contraction, superheat(filled, liquidus))
    return (check_no_riser(b * part.volume, b, order.last),)
