"""The pot that carries the metal: how long it stays fit to pour, and how hot it must leave the furnace."""

from dataclasses import dataclass, replace
from typing import Any

from ..assess.pot import MouldPour, MouldReached, PotAssessment, PotInputs, assess_pot
from ..assess.pot_checks import (
    ThinWall,
    check_enough,
    check_first,
    check_pot,
    check_still_fills,
    check_wait,
    needed_temperature,
    wall_at,
)
from ..checks import Check
from ..formula import paused
from ..formulas import gating
from ..formulas import pot as formulas
from ..geometry.shapes import disc_area
from ..ledger import Ledger, MissingValue, Say
from ..tables.liquids import liquid_figure
from .metal import Metal

STEFAN_BOLTZMANN = 5.670374419e-8
"""W/(m^2 K^4), CODATA 2018."""

WALL_EMISSIVITY = (0.5, 0.9)
"""The low end counts that the outside of a thick wall is somewhat cooler than the metal."""
WALL_THICKNESS = 0.015
OVERHEAT = 100.0
"""K above its pouring range to which metal may be heated at most; beyond it takes up gas (from memory)."""
DELAY = 30.0
BETWEEN = 15.0
LATE = 10.0
"""Seconds of waiting whose cost in heat is told."""
NOZZLE = 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldPourCase:
    """One of several moulds poured from the pot; None: as the request says for its one mould."""

    name: str | None = None
    mass: float | None = None
    pour_time: float | None = None
    wait: float | None = None
    thinnest: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PotCase:
    """A pot as the caller describes it; SI, None where nothing is said.

    ``temperature`` is the metal's in the furnace, just before it is drawn. ``moulds`` counts moulds
    that are all alike, ``pours`` tells each; ``between`` passes between the end of one and the next.
    """

    mouth_diameter: float | None = None
    metal_mass: float | None = None
    wall_area: float | None = None
    wall_thickness: float | None = None
    emissivity_low: float | None = None
    emissivity_high: float | None = None
    wall_emissivity_low: float | None = None
    wall_emissivity_high: float | None = None
    temperature: float | None = None
    lowest_temperature: float | None = None
    delay: float | None = None
    depth: float | None = None
    nozzle_diameter: float | None = None
    nozzle_coefficient: float | None = None
    moulds: int | None = None
    pours: tuple[MouldPourCase, ...] = ()
    between: float | None = None


def pot_result(
    case: PotCase | None,
    metal: Metal,
    family: str | None,
    ledger: Ledger,
    gravity: float,
    mass: float | None,
    pouring: float | None,
    pour_time: float | None,
    wall: ThinWall | None = None,
) -> tuple[dict[str, Any] | None, list[Check]]:
    """What the answer says of the pot, and its checks; None where the caller speaks of none.

    ``mass`` (kg) is poured from it into each mould, at ``pouring`` (K), within ``pour_time`` (s);
    ``wall`` is the thinnest of the casting.
    """
    if case is None:
        return None, []
    found: dict[str, Any] = {**dict(_nozzle(case, metal, ledger, gravity)), "moulds": []}
    checks: list[Check] = []
    if case.nozzle_diameter is None or pouring is not None:
        pours = _pours(case, mass, pour_time, ledger)
        poured = sum(pour.mass for pour in pours)
        try:
            inputs = pot_inputs(case, metal, family, ledger, metal_in_pot(case, mass), pouring)
        except MissingValue:
            return found, checks
        if pours:
            checks.append(check_enough(inputs.mass, poured))
            if checks[0].verdict == "pass":
                inputs = replace(inputs, pours=pours)
        done = assess_pot(inputs)
        waits = check_wait(inputs, done)
        if waits is not None:
            checks.append(waits)
        if pour_time is not None:
            checks.append(check_pot(inputs, done))
        checks += _judged(done, wall, metal)
        found |= _told(inputs, done, wall)
    return found, checks


def metal_in_pot(case: PotCase | None, mass: float | None) -> float | None:
    """What is carried (kg): what the caller says, else what its moulds take; ``mass`` without a pot."""
    if case is None or case.metal_mass is not None:
        return mass if case is None else case.metal_mass
    masses = [one.mass or mass for one in case.pours or (MouldPourCase(),) * (case.moulds or 1)]
    known = [one for one in masses if one is not None]
    return sum(known) if len(known) == len(masses) else mass


def _pours(
    case: PotCase, mass: float | None, pour_time: float | None, ledger: Ledger
) -> tuple[MouldPour, ...]:
    """The moulds in their order; none where mass or time of one is not known."""
    listed = case.pours or (MouldPourCase(),) * (case.moulds or 1)
    between = 0.0
    if any(one.wait is None for one in listed[1:]):
        between = _use(
            ledger,
            "/pot/between",
            case.between,
            BETWEEN,
            "time",
            "from one mould to the next, lifting included",
        )
    found = []
    for index, one in enumerate(listed):
        takes, lasts = one.mass or mass, one.pour_time or pour_time
        if takes is None or lasts is None:
            return ()
        wait = between if one.wait is None and index else one.wait or 0.0
        found.append(
            MouldPour(
                name=one.name or (f"mould {index + 1}" if len(listed) > 1 else "the mould"),
                mass=takes,
                pour_time=lasts,
                wait=wait,
                thinnest=one.thinnest,
                pointer=f"/pot/pours/{index}" if case.pours else "/pot/moulds" if case.moulds else "/pot",
            )
        )
    return tuple(found)


def _judged(done: PotAssessment, wall: ThinWall | None, metal: Metal) -> list[Check]:
    """The checks of several moulds: each that is told apart, else the last, which is the coldest."""
    if not done.moulds:
        return []
    found: list[Check | None] = []
    if wall is not None:
        told_apart = done.moulds[-1].pour.pointer.startswith("/pot/pours/")
        found += [check_still_fills(met, wall) for met in (done.moulds if told_apart else done.moulds[-1:])]
    hottest = metal.get("pouring_high")
    if len(done.moulds) > 1 and hottest is not None and done.first[1] is not None:
        found.append(check_first(done.first[1], hottest))
    return [check for check in found if check is not None]


def pot_inputs(
    case: PotCase,
    metal: Metal,
    family: str | None,
    ledger: Ledger,
    mass: float | None,
    pouring: float | None,
) -> PotInputs:
    """Everything the cooling of the pot depends on. Raises MissingValue where something lacks."""
    if case.mouth_diameter is None:
        why = Say("Say how wide the pot's mouth is: that is where the heat leaves.")
        raise MissingValue(ledger.lack("/pot/mouth_diameter", why))
    if pouring is None:
        why = Say("Say how hot you pour, or name the alloy and the thickness of the walls.")
        raise MissingValue(ledger.lack("/pouring_temperature", why))
    held = case.metal_mass if case.metal_mass is not None else mass
    if held is None:
        why = Say("Say how much metal is in the pot.")
        raise MissingValue(ledger.lack("/pot/metal_mass", why))
    why = Say("How long the pot stays hot depends on the metal's heat: name the alloy.")
    specific_heat = metal.need("specific_heat_liquid", why)
    lowest = case.lowest_temperature
    if lowest is None:
        lowest = ledger.use(
            "/pot/lowest_temperature",
            None,
            formulas.lowest_temperature(metal.need("liquidus", why), pouring),
            "temperature",
            provenance="rule",
            source="COMMON-PRACTICE",
            note="half of the superheat may be lost",
        )
    wall_area = _wall_area(case, held, metal, ledger)
    wall_thickness = 0.0
    if wall_area:
        wall_thickness = _use(
            ledger,
            "/pot/wall_thickness",
            case.wall_thickness,
            WALL_THICKNESS,
            "length",
            "a crucible as hot as its metal; at the slow end it gives its heat, at the fast end it does not",
        )
    return PotInputs(
        mass=held,
        specific_heat_liquid=specific_heat,
        mouth_area=disc_area(case.mouth_diameter),
        wall_area=wall_area,
        wall_thickness=wall_thickness,
        emissivity=(
            _emissivity(case.emissivity_low, "low", family, metal, ledger),
            _emissivity(case.emissivity_high, "high", family, metal, ledger),
        ),
        wall_emissivity=_wall_emissivity(case, wall_area, ledger),
        stefan_boltzmann=STEFAN_BOLTZMANN,
        start_temperature=pouring if case.temperature is None else case.temperature,
        lowest_temperature=lowest,
        pouring_temperature=pouring,
        hottest=max(metal.get("pouring_high") or pouring, pouring) + OVERHEAT,
        delay=_use(ledger, "/pot/delay", case.delay, DELAY, "time", "from the furnace to the first mould"),
        drawn=case.temperature is not None,
    )


def _wall_area(case: PotCase, held: float, metal: Metal, ledger: Ledger) -> float:
    """Wall and bottom that the metal (kg) touches (m^2): the caller's, else by volume and mouth."""
    if case.wall_area is not None or case.mouth_diameter is None:
        return case.wall_area or 0.0
    why = Say("How fast the pot cools by its wall depends on how deep the metal stands: name the alloy.")
    volume = held / metal.need("density_liquid", why)
    return ledger.use(
        "/pot/wall_area",
        None,
        formulas.pot_wall_area(case.mouth_diameter, volume),
        "area",
        provenance="estimated",
        source="ESTIMATED-BY-RULE",
        note="wall and bottom that the metal touches, as of a plain cylinder as wide as the mouth; the "
        "outside of a pot lifted out of the furnace is about as hot as the metal and radiates. A cold or "
        "newly lined ladle chills the metal more: heat it through first",
    )


def _use(ledger: Ledger, pointer: str, given: float | None, default: float, kind: str, note: str) -> float:
    return ledger.use(
        pointer, given, default, kind, provenance="common practice", source="COMMON-PRACTICE", note=note
    )


def _emissivity(given: float | None, end: str, family: str | None, metal: Metal, ledger: Ledger) -> float:
    if given is not None:
        return given
    cell = liquid_figure(f"emissivity_{end}", family, metal.group)
    if cell is None:
        why = Say("How fast the pot cools depends on how the metal radiates: name the alloy or its family.")
        raise MissingValue(ledger.lack(f"/pot/emissivity_{end}", why))
    return ledger.use(
        f"/pot/emissivity_{end}",
        None,
        cell.value,
        "ratio",
        provenance=cell.provenance,
        source=cell.source,
        note=cell.place,
    )


def _wall_emissivity(case: PotCase, wall_area: float, ledger: Ledger) -> tuple[float, float]:
    """Emissivity of the pot's wall, (low, high); it counts only where the wall does."""
    if not wall_area:
        return 0.0, 0.0
    low, high = (
        ledger.use(
            f"/pot/wall_emissivity_{end}",
            given,
            usual,
            "ratio",
            provenance="from memory",
            source="EMISSIVITY",
        )
        for end, given, usual in (
            ("low", case.wall_emissivity_low, WALL_EMISSIVITY[0]),
            ("high", case.wall_emissivity_high, WALL_EMISSIVITY[1]),
        )
    )
    return low, high


def _told(inputs: PotInputs, done: PotAssessment, wall: ThinWall | None) -> dict[str, Any]:
    low, high = done.tapping_temperature
    return {
        "cooling_rate_low": done.cooling_rate[0],
        "cooling_rate_high": done.cooling_rate[1],
        "seconds_left_low": done.seconds_left[0],
        "seconds_left_high": done.seconds_left[1],
        "seconds_needed": done.needed,
        "start_temperature": inputs.start_temperature,
        "lowest_temperature": inputs.lowest_temperature,
        "tapping_temperature_low": low,
        "tapping_temperature_high": high,
        "first_mould_low": done.first[0],
        "first_mould_high": done.first[1],
        "delay": inputs.delay,
        "moulds": [_mould(met, wall) for met in done.moulds],
        "cost_of_waiting": _cost_of_waiting(done, wall),
    }


def _mould(met: MouldReached, wall: ThinWall | None) -> dict[str, Any]:
    pour, needed, fills = met.pour, None, None
    if wall is not None:
        with paused():
            needed = needed_temperature(wall, pour.thinnest or wall.thickness, pour.pour_time)
            fills = wall_at(wall, met.full[0], pour.pour_time)
    return {
        "name": pour.name,
        "mass": pour.mass,
        "wait": pour.wait,
        "pour_time": pour.pour_time,
        "begun_low": met.begun[0],
        "begun_high": met.begun[1],
        "full_low": met.full[0],
        "full_high": met.full[1],
        "needed_temperature": needed,
        "thinnest_wall": fills,
    }


def _cost_of_waiting(done: PotAssessment, wall: ThinWall | None) -> Say | None:
    """What it costs to be late, in a sentence."""
    if not done.moulds:
        return None
    last = done.moulds[-1]
    # Two ends that a reader would see as one are told as one.
    span = "{cold} to {hot}" if last.full[1] - last.full[0] >= 1.0 else "about {cold}"
    words = "Every {late} of waiting costs the full pot {slow} to {fast}; {name} is full at " + span
    parts: dict[str, tuple[float, str] | str] = {
        "late": (LATE, "time"),
        "slow": (LATE * done.cooling_rate[0], "temperature_difference"),
        "fast": (LATE * done.cooling_rate[1], "temperature_difference"),
        "name": last.pour.name,
        "cold": (last.full[0], "temperature"),
        "hot": (last.full[1], "temperature"),
    }
    needed = None
    if wall is not None:
        thickness = last.pour.thinnest or wall.thickness
        with paused():
            needed = needed_temperature(wall, thickness, last.pour.pour_time)
        parts["wall"] = (thickness, "length")
    if needed is None:
        return Say(f"{words}.", **parts)
    parts["needed"] = (needed, "temperature")
    if last.full[0] >= needed:
        return Say(f"{words}, and its wall of {{wall}} fills down to {{needed}}.", **parts)
    return Say(f"{words}, but its wall of {{wall}} needs {{needed}}.", **parts)


def _nozzle(case: PotCase, metal: Metal, ledger: Ledger, gravity: float) -> dict[str, Any]:
    """A pot that is emptied through a hole in its bottom."""
    if case.nozzle_diameter is None:
        return {}
    if case.depth is None:
        ledger.lack("/pot/depth", Say("Say how deep the metal stands over the nozzle."))
        return {}
    coefficient = ledger.use(
        "/pot/nozzle_coefficient",
        case.nozzle_coefficient,
        NOZZLE,
        "ratio",
        provenance="from memory",
        source="FROM-MEMORY",
        note="a short smooth nozzle",
    )
    hole = disc_area(case.nozzle_diameter)
    flow = gating.choke_flow(coefficient, hole, gravity, case.depth)
    density = metal.get("density_liquid")
    emptying = None
    if case.mouth_diameter is not None:
        inside = disc_area(case.mouth_diameter)
        emptying = gating.emptying_time(inside, coefficient, hole, gravity, case.depth, 0.0)
    return {
        "nozzle_flow": flow,
        "nozzle_mass_flow": None if density is None else flow * density,
        "emptying_time": emptying,
    }
