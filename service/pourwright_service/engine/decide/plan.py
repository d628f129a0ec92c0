"""The plan: conducts every subject until part, riser, pour, gating and charge agree with each other."""

from contextlib import suppress
from dataclasses import replace

from ..answer import Answer, answer
from ..assess.crucible import CrucibleAssessment, CrucibleInputs, assess_crucible
from ..assess.freezing import Cooling, cooling_of
from ..assess.hazards import hazards_of_melt, hazards_of_pour
from ..assess.plan import check_masses, check_yield
from ..formula import step
from ..formulas.gating import velocity_head
from ..formulas.pattern import cavity_volume
from ..formulas.riser import feeding_yield, mass_of
from ..ledger import Ledger, MissingValue, Say
from .freezing import Order, freezing_order, known_section, report_cores
from .gating import standard_gravity
from .gating_inputs import BASIN_DEPTH, gating_inputs, heads_of, sizing_of
from .heat import Heat, HeatCase, heat_of, pouring_temperature_of
from .metal import Metal, metal_of
from .plan_answer import Plan, plan_result, plan_sentence
from .plan_case import PlanCase
from .plan_charge import charge_of
from .plan_metal import Poured, layers_of, settle
from .plan_mould import choose_flask, judge_mould, levels_of
from .plan_part import Part, read_part
from .plan_pour import pour_of
from .riser_choice import RiserChoice, choose_riser, order_under
from .riser_inputs import riser_inputs

LEAST_PIG = 0.03
FULLEST = 0.75


def decide_plan(case: PlanCase) -> Answer:
    """Answer a plan request. Raises SectionFault, MeshFault, OutOfRange."""
    ledger = Ledger()
    plan = Plan(case=case)
    # What is missing the ledger knows and the answer says; the rest is told.
    with suppress(MissingValue):
        _conduct(case, plan, ledger)
    _cautions(case, plan, ledger)
    return answer(ledger, plan_result(plan), plan.checks, *plan_sentence(plan))


def _conduct(case: PlanCase, plan: Plan, ledger: Ledger) -> None:
    """Fill the plan in, step by step; what is missing stops it there and leaves the rest told."""
    gravity = standard_gravity(case.gravity, ledger)
    metal = plan.metal = metal_of(case.alloy, case.properties, ledger, gravity=gravity)
    plan.gravity = gravity
    position = plan.gate_position = ledger.use(
        "/gating/gate_position",
        case.gating.gate_position,
        "parting",
        "text",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="the usual place in a two-part mould",
    )
    part = plan.part = read_part(case.part, position, metal, ledger)
    plan.checks += part.checks
    _freeze(case, plan, part, metal, ledger)
    density = metal.need(
        "density_liquid", Say("How much metal is poured follows from its density: name the alloy or give it.")
    )
    here = ledger.seen_from(properties="/properties", alloy="/alloy", _="/gating")
    levels = plan.levels = levels_of(
        part, plan.riser, position, _basin(case, gravity), case.gating.sprue_height, case.shop, ledger
    )
    wishes = replace(case.gating, sprue_height=levels.cope - levels.gate)
    heads = heads_of(wishes, gravity, here)
    layers = layers_of(part, plan.riser, levels)
    wall = part.sections.thinnest if part.sections else None
    inputs = gating_inputs(
        wishes,
        heads,
        metal,
        here,
        gravity=gravity,
        position=position,
        layers=layers,
        other_volume=0.0,
        wall_thickness=wall,
        part_width=part.length,
    )
    first = min((one.time for one in plan.order.frozen.values()), default=None) if plan.order else None
    pour = pour_of(case, part, metal, inputs, first, plan.pouring_temperature, ledger)
    poured = plan.poured = settle(inputs, sizing_of(case.gating, here), pour.time_for, density)
    plan.checks += poured.checks
    plan.pour_result, judged = pour.judged(poured)
    plan.checks += judged
    _weigh(plan, part, poured, metal, density)
    flask = plan.flask = choose_flask(part, levels, poured.decision, inputs.layout, case.shop, ledger)
    plan.mould, checks = judge_mould(
        part,
        plan.riser,
        _riser_open(case, plan, ledger),
        levels,
        flask,
        poured.decision,
        inputs.layout,
        density_liquid=density,
        gravity=gravity,
        basin_depth=heads.basin_depth or 0.0,
        shop=case.shop,
        ledger=ledger,
    )
    plan.checks += checks
    _melt(case, plan, density, ledger)


def _freeze(case: PlanCase, plan: Plan, part: Part, metal: Metal, ledger: Ledger) -> None:
    """Order of freezing and riser; both need sections, never the V/A of a whole mesh."""
    heat_case = HeatCase(
        mould=case.mould,
        mould_constant=case.mould_constant,
        pouring_temperature=case.pouring_temperature,
        temperature_fall=case.temperature_fall,
        curvature=case.curvature,
    )
    if part.sections is None:
        ledger.lack(
            "/part/sections",
            Say(
                "Riser and order of freezing are unknown: describe the part by sections too (part.sections). "
                "Volume over surface of a whole mesh would give a riser that freezes before the casting."
            ),
        )
        plan.pouring_temperature = pouring_temperature_of(heat_case, metal, None, ledger)
        return
    try:
        heat: Heat = heat_of(heat_case, metal, part.sections.thinnest, ledger)
    except MissingValue:
        plan.pouring_temperature = case.pouring_temperature
        return
    plan.heat, plan.pouring_temperature = heat, heat.pouring_temperature
    cooling: Cooling = cooling_of(heat.inputs)
    plan.cooling = cooling
    plan.checks += heat.checks
    known_section(part.sections, case.riser.section, "/riser/section")
    order: Order = freezing_order(cooling, part.sections, case.riser.section, "/part")
    report_cores(cooling, part.sections, ledger, "/part")
    plan.order = order
    try:
        asked = riser_inputs(
            case.riser,
            cooling,
            part.sections,
            None,
            order,
            metal,
            heat.inputs.filled_temperature,
            ledger,
            volume=part.volume,
        )
    except MissingValue:
        plan.checks += order.checks
        return
    riser: RiserChoice = choose_riser(asked, case.riser, ledger)
    plan.riser = riser
    plan.order = order_under(riser, part.sections, order, "/part")
    plan.checks += plan.order.checks
    if riser.assessment is not None:
        plan.checks += riser.assessment.checks


def _basin(case: PlanCase, gravity: float) -> float:
    """Depth of metal that will stand over the sprue's mouth, m."""
    if case.gating.basin_depth is not None:
        return case.gating.basin_depth
    if case.gating.entry_velocity is not None:
        return velocity_head(case.gating.entry_velocity, gravity)
    return BASIN_DEPTH


def _riser_open(case: PlanCase, plan: Plan, ledger: Ledger) -> bool:
    if plan.riser is None or plan.riser.decision is None:
        return False
    return ledger.use(
        "/riser/open",
        case.riser.open,
        True,
        "flag",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="no sand over the riser; a closed one adds to the lift",
    )


def _weigh(plan: Plan, part: Part, poured: Poured, metal: Metal, density_liquid: float) -> None:
    """Masses, counted as liquid poured and as metal cold."""
    with step("masses", ""):
        cavity = mass_of(density_liquid, cavity_volume(part.scale, part.volume))
        riser = 0.0
        if plan.riser is not None and plan.riser.assessment is not None:
            riser = mass_of(density_liquid, plan.riser.assessment.volume)
        gating = mass_of(density_liquid, poured.gating_volume)
        total = cavity + riser + gating
        density = metal.get("density")
        casting = mass_of(density, part.volume) if density is not None else cavity
        plan.masses = {
            "casting": casting,
            "cavity": cavity,
            "riser": riser,
            "riser_left": max(riser - (casting - cavity), 0.0) if riser else 0.0,
            "gating": gating,
            "poured": total,
            "yield_ratio": feeding_yield(casting, total - casting),
        }
    plan.checks.append(check_masses(total - poured.volume * density_liquid, total))
    plan.checks.append(check_yield(plan.masses["yield_ratio"]))


def _melt(case: PlanCase, plan: Plan, density_liquid: float, ledger: Ledger) -> None:
    """Charge and crucible for what is poured, with the pig on top."""
    if plan.masses is None:
        return
    pig = ledger.use(
        "/shop/least_pig",
        case.shop.least_pig,
        LEAST_PIG,
        "fraction",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="metal kept back so that the last mould is sure to fill",
    )
    wanted = plan.masses["poured"] * (1.0 + pig)
    plan.masses["melt_wanted"] = wanted
    melt = plan.melt = charge_of(case, wanted, ledger)
    if melt is not None:
        plan.checks += melt.checks
    most = max(wanted, melt.most if melt else 0.0)
    plan.crucible = _crucible(case, most, density_liquid, ledger)
    if plan.crucible is not None:
        plan.checks += plan.crucible.checks


def _crucible(
    case: PlanCase, melt: float, density_liquid: float, ledger: Ledger
) -> CrucibleAssessment | None:
    """The smallest crucible of the shop that takes the melt, or its largest."""
    if not case.shop.crucibles:
        return None
    fullest = ledger.use(
        "/shop/fullest_crucible",
        case.shop.fullest_crucible,
        FULLEST,
        "fraction",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="of the volume to the brim",
    )
    ranked = sorted(case.shop.crucibles, key=lambda one: (one.brim_volume, one.name))
    chosen = next(
        (one for one in ranked if melt / density_liquid <= fullest * one.brim_volume * (1.0 + 1e-9)),
        ranked[-1],
    )
    return assess_crucible(
        CrucibleInputs(
            name=chosen.name,
            melt_mass=melt,
            density_liquid=density_liquid,
            brim_volume=chosen.brim_volume,
            crucible_mass=chosen.mass,
            fullest=fullest,
        )
    )


def _cautions(case: PlanCase, plan: Plan, ledger: Ledger) -> None:
    """What in this job can hurt someone."""
    metal = plan.metal
    if metal is not None and metal.composition and plan.melt is None:
        hazards_of_melt(metal.composition, plan.pouring_temperature, ledger, name=metal.name)
    if plan.melt is not None:
        hazards_of_melt(
            plan.melt.composition, plan.pouring_temperature, ledger, name=metal.name if metal else "the melt"
        )
    hazards_of_pour(
        ledger,
        pouring_temperature=plan.pouring_temperature,
        melt_mass=plan.masses.get("melt_wanted") if plan.masses else None,
        lifted_mass=plan.crucible.lifted_mass if plan.crucible else None,
        fuel=case.shop.fuel,
    )
