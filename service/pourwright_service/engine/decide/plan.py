"""The plan: conducts every subject until part, riser, pour, gating and charge agree with each other.

What is missing for one of them is noted and stops only what builds on it.
"""

from contextlib import suppress
from dataclasses import replace

from ..answer import Answer, answer
from ..assess.hazards import hazards_of_melt, hazards_of_pour
from ..assess.mould import CoreInputs
from ..assess.plan import check_masses, check_yield
from ..formula import step
from ..formulas.amounts import mass_of
from ..formulas.pattern import cavity_volume
from ..formulas.riser import feeding_yield
from ..geometry.shapes import disc_area
from ..ledger import Ledger, MissingValue, Say
from .gating import standard_gravity
from .gating_inputs import gating_inputs, heads_of, sizing_of
from .gating_vents import vents_of
from .metal import Metal, metal_of
from .plan_answer import Plan, plan_result, plan_sentence
from .plan_case import PlanCase
from .plan_charge import charge_of
from .plan_cores import cores_of
from .plan_freeze import freeze_part
from .plan_levels import levels_of
from .plan_metal import Poured, layers_of, settle
from .plan_mould import choose_flask, judge_mould
from .plan_part import Part, read_part, with_cores
from .plan_pot import carried_metal, crucible_of
from .plan_pour import pour_of

LEAST_PIG = 0.03


def decide_plan(case: PlanCase) -> Answer:
    """Answer a plan request. Raises SectionFault, MeshFault, OutOfRange."""
    ledger = Ledger()
    case = replace(case, part=with_cores(case.part, ledger))
    plan = Plan(case=case)
    # What is missing the ledger knows and the answer says; the rest is told.
    with suppress(MissingValue):
        _conduct(case, plan, ledger)
    _cautions(case, plan, ledger)
    return answer(ledger, plan_result(plan), plan.in_request(), *plan_sentence(plan))


def _conduct(case: PlanCase, plan: Plan, ledger: Ledger) -> None:
    """Fill the plan in, step by step."""
    gravity = plan.gravity = standard_gravity(case.gravity, ledger)
    metal = plan.metal = metal_of(case.alloy, case.properties, ledger, gravity=gravity)
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
    cores = cores_of(case.part, case.shop, ledger)
    frost = plan.frost = freeze_part(case, part, metal, ledger)
    plan.checks += frost.checks
    density = metal.need(
        "density_liquid", Say("How much metal is poured follows from its density: name the alloy or give it.")
    )
    if part.scale is None:
        return
    _pour(case, plan, part, part.scale, metal, density, cores, ledger)
    if plan.masses is not None and plan.masses["poured"] is not None:
        _melt(case, plan, plan.masses["poured"], density, ledger)
        _carry(case, plan, part, metal, plan.masses["poured"], ledger)


def _pour(
    case: PlanCase,
    plan: Plan,
    part: Part,
    scale: float,
    metal: Metal,
    density: float,
    cores: tuple[CoreInputs, ...],
    ledger: Ledger,
) -> None:
    """Pour time, gating and the metal poured, which depend on one another; then mould and masses."""
    gravity, position, risers = plan.gravity, plan.gate_position or "parting", plan.frost.standing
    riser_open = _riser_open(case, plan, ledger)
    here = ledger.seen_from(properties="/properties", alloy="/alloy", _="/gating")
    levels = plan.levels = levels_of(
        part, scale, risers, riser_open, position, case.gating, gravity, case.shop, ledger
    )
    wishes = replace(case.gating, sprue_height=levels.cope - levels.gate)
    heads = heads_of(wishes, gravity, here)
    inputs = gating_inputs(
        wishes,
        heads,
        metal,
        here,
        gravity=gravity,
        position=position,
        layers=layers_of(part, scale, risers, levels),
        other_volume=0.0,
        wall_thickness=part.wall,
        part_width=part.length,
        casting_span=(levels.casting_bottom - levels.gate, levels.casting_top - levels.gate),
        gate_edge=case.pour.gate_edge or scale * part.straight_edge,
    )
    pour = pour_of(case, part, scale, metal, inputs, plan.frost, ledger)
    poured = plan.poured = settle(inputs, sizing_of(case.gating, here), pour.time_for, density)
    plan.checks += poured.checks
    _vent(case, plan, poured, metal, riser_open, here)
    plan.pour_result, judged = pour.judged(poured)
    plan.checks += judged
    _weigh(plan, part, scale, poured, metal, density)
    flask = plan.flask = choose_flask(
        part, scale, risers, levels, poured.decision, inputs.layout, case.shop, ledger
    )
    plan.mould, checks = judge_mould(
        part,
        scale,
        cores,
        risers,
        riser_open,
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


def _vent(case: PlanCase, plan: Plan, poured: Poured, metal: Metal, riser_open: bool, ledger: Ledger) -> None:
    """Vents for the air, once the gating has settled; an open riser lets it out as well."""
    if poured.assessment is None:
        return
    riser, open_area = plan.frost.riser, 0.0
    if riser is not None and riser.decision is not None and riser_open and riser.inputs.shape == "cylinder":
        open_area = disc_area(riser.decision.diameter)
    vents = plan.vents = vents_of(
        case.gating.vents,
        poured.inputs,
        poured.assessment.flow,
        metal,
        ledger,
        open_area=open_area,
        place="/gating",
    )
    if vents is not None:
        plan.checks += vents.assessment.checks


def _riser_open(case: PlanCase, plan: Plan, ledger: Ledger) -> bool:
    if not plan.frost.standing:
        return True
    return ledger.use(
        "/riser/open",
        case.riser.open,
        True,
        "flag",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="no sand over the riser; a closed one adds to the lift",
    )


def _weigh(plan: Plan, part: Part, scale: float, poured: Poured, metal: Metal, density_liquid: float) -> None:
    """Masses, counted as liquid poured and as metal cold; without a gating the sum stays open."""
    standing = plan.frost.standing
    riser_volume = sum(one.assessment.volume for one in standing if one.assessment is not None)
    with step("masses", ""):
        cavity = mass_of(density_liquid, cavity_volume(scale, part.volume))
        riser = mass_of(density_liquid, riser_volume) if riser_volume > 0.0 else 0.0
        density = metal.get("density")
        casting = mass_of(density, part.volume) if density is not None else cavity
        # Metal that no riser makes up is missing in the casting.
        casting = min(casting, cavity + riser)
        masses = plan.masses = {
            "casting": casting,
            "cavity": cavity,
            "riser": riser,
            "riser_left": min(cavity + riser - casting, riser),
            "gating": None,
            "poured": None,
            "yield_ratio": None,
        }
        if poured.decision is None:
            return
        gating = mass_of(density_liquid, poured.gating_volume)
        total = cavity + riser + gating
        share = feeding_yield(casting, total - casting)
    masses |= {"gating": gating, "poured": total, "yield_ratio": share}
    plan.checks.append(check_masses(total - poured.volume * density_liquid, total))
    plan.checks.append(check_yield(share))


def _melt(case: PlanCase, plan: Plan, poured: float, density_liquid: float, ledger: Ledger) -> None:
    """Charge and crucible for what is poured, with the pig on top."""
    pig = ledger.use(
        "/shop/least_pig",
        case.shop.least_pig,
        LEAST_PIG,
        "fraction",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="metal kept back so that the last mould is sure to fill",
    )
    wanted = poured * (1.0 + pig)
    melt = plan.melt = charge_of(case, wanted, ledger)
    molten = wanted if melt is None else melt.melt_mass
    if plan.masses is not None:
        plan.masses |= {"melt_wanted": wanted, "melt": molten, "pig": molten - poured}
    if melt is not None:
        plan.checks += melt.checks
    plan.crucible = crucible_of(case.shop, max(wanted, melt.most if melt else 0.0), density_liquid, ledger)
    if plan.crucible is not None:
        plan.checks += plan.crucible.checks


def _carry(case: PlanCase, plan: Plan, part: Part, metal: Metal, poured_mass: float, ledger: Ledger) -> None:
    """The metal's way from the furnace to the mould."""
    if plan.pour_result is None or plan.poured is None:
        return
    built = plan.poured.assessment.flow.fill_time if plan.poured.assessment is not None else None
    plan.pour_result["pot"], checks = carried_metal(
        case,
        plan.crucible,
        metal,
        plan.frost,
        part.wall,
        ledger,
        gravity=plan.gravity,
        melt=(plan.masses or {}).get("melt") or poured_mass,
        poured=poured_mass,
        pour_time=plan.poured.pour_time if built is None else built,
    )
    plan.checks += checks


def _cautions(case: PlanCase, plan: Plan, ledger: Ledger) -> None:
    """What in this job can hurt someone."""
    metal, melt, hot = plan.metal, plan.melt, plan.frost.pouring_temperature
    name = metal.name if metal is not None else "the melt"
    if melt is not None:
        hazards_of_melt(melt.composition, hot, ledger, name=name, lost=melt.lost)
    elif metal is not None and metal.composition:
        hazards_of_melt(metal.composition, hot, ledger, name=name)
    fuel = (case.shop.fuel or "").strip()
    hazards_of_pour(
        ledger,
        pouring_temperature=hot,
        melt_mass=plan.masses.get("melt") if plan.masses else None,
        lifted_mass=plan.crucible.lifted_mass if plan.crucible else None,
        fuel=fuel or None,
        electric=fuel.lower().startswith("electric"),
    )
