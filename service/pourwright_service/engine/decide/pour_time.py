"""Pour time and temperature: what the published laws say, moved into the window that the job leaves."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..answer import Answer, answer
from ..assess.freezing import cooling_of, time_to_freeze
from ..assess.hazards import hazards_of_melt, hazards_of_pour
from ..assess.pot_checks import ThinWall
from ..assess.pour_time import PourTimeDecision, assess_pour_time
from ..assess.pour_time_checks import check_walls, check_window, law_checks
from ..assess.pour_time_window import (
    COPPER,
    IRON,
    LIGHT,
    PourTimeInputs,
    pour_laws,
    pour_window,
    time_by_laws,
)
from ..checks import Check
from ..formula import paused
from ..formulas import pour_time as formulas
from ..ledger import Ledger, MissingValue, Say
from ..tables.liquids import liquid_figure
from ..tables.moulds import least_wall
from .gating import poured_volume, standard_gravity
from .heat import HeatCase, MouldCase, heat_of, pouring_temperature_of
from .metal import Metal, metal_of
from .pot import PotCase, metal_in_pot, pot_result
from .pour_time_result import pour_time_result, sentence

LAWS = {"iron": (IRON,), "copper": (IRON, COPPER), "aluminium": (LIGHT,), "zinc": (LIGHT,)}
"""The published laws by family of metal; zinc by analogy with aluminium."""

RATE_BANDS = {"thin": 0.997, "middle": 0.842, "heavy": 0.471}
"""Printed steps of the light-metal factor: below 6 mm, 6 to 12 mm, above 12 mm (kg, s)."""

GATE_OF_WALL = 0.6
EDGE_SHARE = 1.0 / 3.0
FREEZING_SHARE = 0.2


@dataclass(frozen=True, slots=True, kw_only=True)
class PourTimeWishes:
    """What a caller may say of the pour itself; SI, None leaves it to the engine.

    ``rate_band`` takes one of the printed steps of the light-metal law instead of its smooth form.
    """

    pour_time: float | None = None
    gate_edge: float | None = None
    gate_thickness: float | None = None
    fluidity_factor: float | None = None
    copper_factor: float | None = None
    rate_band: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PourTimeCase(PourTimeWishes):
    """What a pour-time request may say; SI, None where the caller said nothing."""

    alloy: str | None = None
    family: str | None = None
    properties: Mapping[str, float | None] = field(default_factory=dict)
    gravity: float | None = None
    poured_mass: float | None = None
    volume: float | None = None
    thickness: float | None = None
    thinnest: float | None = None
    wall_at_gate: float | None = None
    height: float | None = None
    outline: float | None = None
    casting_volume: float | None = None
    freezing_time: float | None = None
    mould: MouldCase = field(default_factory=MouldCase)
    mould_constant: float | None = None
    pouring_temperature: float | None = None
    pot: PotCase | None = None


def pour_time_inputs(
    wishes: PourTimeWishes,
    metal: Metal,
    ledger: Ledger,
    *,
    family: str | None,
    mass: float | None,
    volume: float | None,
    thickness: float | None,
    thinnest: float | None,
    freezing_time: float | None,
    height: float | None,
    wall_at_gate: float | None,
    casting_volume: float | None = None,
    outline: float | None = None,
    mould_constant: float | None = None,
    medium: str | None = None,
) -> PourTimeInputs:
    """Everything that a pour time is judged on (SI).

    ``freezing_time`` is the thinnest section's; ``height`` is the casting's alone, and
    ``casting_volume`` what it holds of the metal poured (None: all of it). ``outline`` is the length
    of its outline at the parting, ``mould_constant`` that of a flat wall.
    """
    least = least_wall(medium, family)
    laws = LAWS.get(family or "", ())
    square_root = IRON in laws
    if square_root and mass is not None and mass > formulas.LARGEST_POUR:
        laws = tuple(law for law in laws if law != IRON)
    thick = wishes.gate_thickness
    if thick is None and wall_at_gate is not None and wishes.gate_edge is not None:
        thick = ledger.use(
            "/gate_thickness",
            None,
            GATE_OF_WALL * wall_at_gate,
            "length",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="six tenths of the wall that the gates meet, so that they break off clean",
        )
    return PourTimeInputs(
        laws=laws,
        mass=mass,
        largest_pour=formulas.LARGEST_POUR if square_root else None,
        volume=volume,
        thickness=thickness,
        thinnest=thinnest,
        freezing_time=freezing_time,
        freezing_share=FREEZING_SHARE,
        height=height,
        casting_volume=casting_volume,
        critical_velocity=metal.get("gate_velocity") if wishes.gate_edge is not None else None,
        gate_edge=wishes.gate_edge,
        gate_thickness=thick,
        edge_share=EDGE_SHARE,
        fluidity_factor=_fluidity(wishes, laws, ledger),
        copper_factor=_copper_factor(wishes, metal, laws, ledger),
        rate_factor=None if wishes.rate_band is None else RATE_BANDS[wishes.rate_band],
        family=family,
        group=metal.group,
        outline=outline,
        mould_constant=mould_constant,
        least_wall=None if least is None else least.least.value,
    )


def _fluidity(wishes: PourTimeWishes, laws: tuple[str, ...], ledger: Ledger) -> float:
    if IRON not in laws:
        return wishes.fluidity_factor or 1.0
    return ledger.use(
        "/fluidity_factor",
        wishes.fluidity_factor,
        1.0,
        "ratio",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="metal of ordinary fluidity",
    )


def _copper_factor(
    wishes: PourTimeWishes, metal: Metal, laws: tuple[str, ...], ledger: Ledger
) -> float | None:
    if COPPER not in laws or wishes.copper_factor is not None:
        return wishes.copper_factor
    cell = liquid_figure("copper_factor", "copper", metal.group)
    if cell is None:
        return None
    return ledger.use(
        "/copper_factor",
        None,
        cell.value,
        "ratio",
        provenance=cell.provenance,
        source=cell.source,
        note=cell.place,
    )


def choose_pour_time(inputs: PourTimeInputs, given: float | None = None) -> PourTimeDecision | None:
    """The caller's time, or the laws' moved to the nearer end of the window; None without either.

    Where the window is empty the section that would freeze first decides: a misrun spoils the
    casting for certain. A rise that is too slow yields to the room for gates.
    """
    if given is not None:
        return PourTimeDecision(pour_time=given)
    with paused():
        time, window = time_by_laws(pour_laws(inputs)), pour_window(inputs)
    if time is None:
        return None
    if window.slowest is not None:
        time = min(time, window.slowest)
    if window.fastest is not None:
        time = max(time, window.fastest)
    if window.by_freezing is not None:
        time = min(time, window.by_freezing)
    return PourTimeDecision(pour_time=time)


def decide_pour_time(case: PourTimeCase) -> Answer:
    """Answer a pour-time request. Raises OutOfRange."""
    ledger = Ledger()
    gravity = standard_gravity(case.gravity, ledger)
    metal = metal_of(case.alloy, case.properties, ledger, gravity=gravity)
    family = case.family or metal.family
    volume, mass = _metal(case, metal, ledger)
    thinnest = case.thinnest or case.thickness
    pouring = _pouring_temperature(case, metal, thinnest, ledger)
    wall, constant = _thin_wall(case, metal, thinnest, ledger)
    inputs = pour_time_inputs(
        case,
        metal,
        ledger,
        family=family,
        mass=mass,
        volume=volume,
        thickness=case.thickness or case.thinnest,
        thinnest=thinnest,
        freezing_time=case.freezing_time if wall is None else wall.freezing_time,
        height=case.height,
        outline=case.outline,
        mould_constant=constant,
        medium=case.mould.medium,
        casting_volume=case.casting_volume,
        wall_at_gate=case.wall_at_gate or case.thickness or case.thinnest,
    )
    decision = choose_pour_time(inputs, case.pour_time)
    done = None if decision is None else assess_pour_time(inputs, decision)
    checks = list(done.checks) if done else _without_time(inputs)
    if decision is None:
        _no_time(inputs, family, ledger)
    time = None if decision is None else decision.pour_time
    pot, more = pot_result(case.pot, metal, family, ledger, gravity, mass, pouring, time, wall)
    _cautions(case, metal, pouring, metal_in_pot(case.pot, mass), ledger)
    result = pour_time_result(inputs, decision, done, pouring, metal, medium=case.mould.medium)
    return answer(ledger, {**result, "pot": pot}, [*checks, *more], sentence(decision, done, pouring))


def _metal(case: PourTimeCase, metal: Metal, ledger: Ledger) -> tuple[float | None, float | None]:
    """Volume and mass poured; the other is left out where the density is not known."""
    density = metal.get("density_liquid")
    if case.poured_mass is None and case.volume is None:
        ledger.lack("/poured_mass", Say("Say how much metal is poured."))
        return None, None
    if case.poured_mass is not None:
        volume = None if density is None else poured_volume(case.poured_mass, None, metal)
        return volume, case.poured_mass
    return case.volume, None if density is None or case.volume is None else case.volume * density


def _pouring_temperature(
    case: PourTimeCase, metal: Metal, thinnest: float | None, ledger: Ledger
) -> float | None:
    known = metal.get("pouring_low") is not None and thinnest is not None
    if case.pouring_temperature is None and not known:
        return None
    return pouring_temperature_of(
        HeatCase(pouring_temperature=case.pouring_temperature), metal, thinnest, ledger
    )


def _thin_wall(
    case: PourTimeCase, metal: Metal, thinnest: float | None, ledger: Ledger
) -> tuple[ThinWall | None, float | None]:
    """The thinnest section as a plate in the mould named, and the mould constant (s/m^2).

    A freezing time that the caller gave wins; then the constant is not known.
    """
    if thinnest is None:
        return None, None
    if case.freezing_time is not None:
        return _wall(thinnest, case.freezing_time), None
    if case.mould_constant is None and not case.mould.says_anything():
        return None, None
    try:
        heat = heat_of(
            HeatCase(
                mould=case.mould,
                mould_constant=case.mould_constant,
                pouring_temperature=case.pouring_temperature,
                temperature_fall=0.0,
                curvature=False,
            ),
            metal,
            thinnest,
            ledger,
        )
    except MissingValue:
        return None, None
    cooling = cooling_of(heat.inputs)
    time = time_to_freeze(cooling, 0.5 * thinnest, 0.0)
    return replace(_wall(thinnest, time), heat=heat.inputs), cooling.mould_constant


def _wall(thickness: float, freezing_time: float) -> ThinWall:
    return ThinWall(
        thickness=thickness, freezing_time=freezing_time, freezing_share=FREEZING_SHARE, heat=None
    )


def _cautions(
    case: PourTimeCase, metal: Metal, pouring: float | None, mass: float | None, ledger: Ledger
) -> None:
    """What can hurt someone while pouring; an exercise that names no metal is only arithmetic."""
    if metal.composition:
        hazards_of_melt(metal.composition, pouring, ledger, name=metal.name)
    if metal.id is not None or case.pot is not None:
        # The furnace is another subject: what it burns is not known here.
        hazards_of_pour(ledger, pouring_temperature=pouring, melt_mass=mass, electric=True)


def _without_time(inputs: PourTimeInputs) -> list[Check]:
    found = (check_window(inputs, pour_window(inputs)), check_walls(inputs), *law_checks(inputs))
    return [check for check in found if check is not None]


def _no_time(inputs: PourTimeInputs, family: str | None, ledger: Ledger) -> None:
    if inputs.mass is None:
        ledger.lack("/poured_mass", Say("Say what mass of metal is poured; the laws of pour time need it."))
    elif family not in LAWS:
        ledger.lack(
            "/family",
            Say("Name the alloy, or say which family of metals it belongs to: each has its own law."),
        )
    elif not inputs.laws:
        ledger.lack("/pour_time", Say("No published law covers a pour as heavy as this: give the pour time."))
    else:
        ledger.lack("/thickness", Say("Say how thick the walls are; the law of pour time needs it."))
