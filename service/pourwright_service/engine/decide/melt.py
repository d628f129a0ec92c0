"""Melt: heat, fuel, time and money of a melt, its crucible, its bottle, and what is left of it."""

from dataclasses import dataclass
from typing import Any

from ..answer import Answer, answer
from ..assess.hazards import hazards_of_melt, hazards_of_pour
from ..assess.melt import FurnaceInputs, MeltAssessment, MetalInputs, Thrice, assess_melt, heat_per_mass
from ..assess.melt_checks import check_power, check_time
from ..cautions import form_of_scrap
from ..checks import Check
from ..formulas import amounts, charge, melt
from ..ledger import Ledger, MissingValue, Say
from ..melting_cautions import burning_indoors, cold_ingot_mould, cold_tools, gas_bottle
from ..tables.alloys import find_alloy
from .melt_bottle import bottle_told
from .melt_case import MeltCase
from .melt_inputs import (
    CURRENT,
    fuel_density,
    fuel_of,
    furnace_inputs,
    heats_of,
    metal_inputs,
    pouring_of,
    start_of,
)
from .melt_pot import PotChoice, bulk_of, charges_of, choose_pot, pot_told, rest_told
from .metal import Metal, metal_of
from .shop import FurnaceCase

__all__ = ["MeltCase", "Melted", "choose_melt", "decide_melt"]

GLOWING = ("charcoal", "coke")


@dataclass(frozen=True, slots=True, kw_only=True)
class Melted:
    """A melt as it was worked out: its part of the answer, its checks, its sentence, what is lifted (kg)."""

    result: dict[str, Any]
    checks: list[Check]
    message: Say
    pouring_temperature: float | None
    lifted_mass: float | None
    fuel: str | None


def decide_melt(case: MeltCase) -> Answer:
    """Answer a melt request."""
    ledger = Ledger()
    metal = metal_of(case.alloy, case.properties, ledger)
    try:
        found = choose_melt(case, metal, ledger)
    except MissingValue as missing:
        return answer(ledger, {}, [], missing.missing.why)
    _cautions(case, found, ledger)
    return answer(ledger, found.result, found.checks, found.message)


def choose_melt(case: MeltCase, metal: Metal, ledger: Ledger) -> Melted:
    """Work a melt out. Raises MissingValue where its heat cannot be told.

    Pointers are those of a melt request; a larger request gives its ledger as it is seen from here, and a
    case with the floats that it has resolved.
    """
    heats = heats_of(case, ledger)
    start = start_of(case, ledger)
    pouring = pouring_of(case, metal, ledger)
    inputs = metal_inputs(case, metal, heats, start, pouring, ledger)
    held = inputs.mass + (case.addition or 0.0)
    density = metal.get("density_liquid") if case.shop.crucibles or case.poured_mass is not None else None
    pot = None if density is None else choose_pot(case, held, density, ledger)
    if density is None and case.shop.crucibles:
        why = Say("Whether it fits into the crucible hangs on the density of the liquid metal.")
        ledger.lack("/properties/density_liquid", why)
    bulk = _bulk(case, metal, inputs.mass, density, pot, ledger)
    result: dict[str, Any] = {
        "heats": heats,
        "heat_mass": inputs.mass,
        "pouring_temperature": pouring,
        "start_temperature": start,
        "scrap": bulk,
        "crucible": None,
    }
    checks: list[Check] = []
    furnace = case.shop.furnace
    fuel = None if furnace is None else fuel_of(furnace, ledger)
    if pot is not None and density is not None:
        result["crucible"], found = pot_told(case, pot, held, density, pouring, fuel or "fuel", ledger)
        checks += found
    message = _heat_alone(result, inputs)
    if furnace is not None and fuel is not None:
        lump = _last_lump(case, inputs.mass, bulk, ledger)
        fire = furnace_inputs(
            case, furnace, fuel, start, pouring, 0.0 if pot is None else pot.mass, lump, ledger
        )
        done = assess_melt(inputs, fire)
        result |= _furnace_told(done, fire)
        told, more = _fuel_told(case, furnace, fuel, inputs, done, start, ledger)
        result |= told
        checks = [*_judged(fire, done), *more, *checks]
        message = _sentence(case, fuel, inputs, done, result)
    rest, found = rest_told(case, held, density)
    result["rest"] = rest
    checks += found
    lifted = result["crucible"]["lifted_mass"] if result.get("crucible") else None
    return Melted(
        result=result,
        checks=checks,
        message=message,
        pouring_temperature=pouring,
        lifted_mass=lifted,
        fuel=fuel,
    )


def _bulk(
    case: MeltCase, metal: Metal, mass: float, density: float | None, pot: PotChoice | None, ledger: Ledger
) -> dict[str, Any] | None:
    """The scrap as it lies, and how often the pot is filled up with it."""
    bulk = bulk_of(case, metal, ledger)
    if bulk is None:
        return None
    charges, first = (None, None) if pot is None or density is None else charges_of(mass, density, bulk, pot)
    return {
        "bulk_density": bulk,
        "bulk_volume": amounts.volume_of(mass, bulk),
        "charges": charges,
        "first_charge": first,
    }


LAST_LUMP = 0.1
"""The last lump where nothing is known of the charge, a share of a heat."""


def _last_lump(case: MeltCase, mass: float, bulk: dict[str, Any] | None, ledger: Ledger) -> float:
    """Mass of what goes in last (kg): given, or an equal share of what the pot does not take at first."""
    if case.last_lump is not None:
        return min(case.last_lump, mass)
    charges = None if bulk is None else bulk["charges"]
    if bulk is None or charges is None:
        return ledger.use(
            "/last_lump",
            None,
            LAST_LUMP * mass,
            "mass",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="a tenth of a heat",
        )
    return ledger.use(
        "/last_lump",
        None,
        float(mass if charges == 1 else (mass - bulk["first_charge"]) / (charges - 1)),
        "mass",
        provenance="computed",
        source="DERIVED",
        note="what does not go in at first, in equal shares" if charges > 1 else "all goes in at once",
    )


def _heat_alone(result: dict[str, Any], inputs: MetalInputs) -> Say:
    """The heat of the metal, all there is without a furnace."""
    content = heat_per_mass(inputs.heat)
    heat = melt.heat_of_melt(inputs.mass, content)
    result |= {"heat_content": content, "metal_heat": heat}
    return Say(
        "{m} of metal take up {q}. Tell of the furnace (shop.furnace) for fuel, time and cost.",
        m=(inputs.mass, "mass"),
        q=(heat, "energy"),
    )


def _furnace_told(done: MeltAssessment, fire: FurnaceInputs) -> dict[str, Any]:
    return {
        "heat_content": done.heat_content,
        "metal_heat": done.metal_heat,
        "lining_heat": done.lining_heat,
        "crucible_heat": done.crucible_heat,
        "efficiency": dict(zip(("high", "likely", "low"), fire.efficiency, strict=True)),
        "first_heat": _heat_told(done.first, done.first_time, fire.heating_value),
        "following_heat": _heat_told(done.next, done.next_time, fire.heating_value),
        "all_heats": _heat_told(done.all, done.all_time, fire.heating_value),
        "power_needed": _span(done.wanted_power),
        "last_lump_to_pouring": _span(done.last_lump_time),
    }


def _heat_told(heat: Thrice, time: Thrice | None, heating_value: float | None) -> dict[str, Any]:
    mass = None if heating_value is None else tuple(melt.fuel_mass(one, heating_value) for one in heat)
    return {"energy": _span(heat), "time": _span(time), "fuel_mass": _span(mass)}


def _span(three: tuple[float, ...] | None) -> dict[str, float] | None:
    return None if three is None else dict(zip(("low", "likely", "high"), three, strict=True))


def _fuel_told(
    case: MeltCase,
    furnace: FurnaceCase,
    fuel: str,
    inputs: MetalInputs,
    done: MeltAssessment,
    start: float,
    ledger: Ledger,
) -> tuple[dict[str, Any], list[Check]]:
    """Fuel by mass and volume, its cost, and the bottle that it comes from."""
    volumes = None
    density = fuel_density(furnace, fuel, ledger)
    if done.fuel_mass is not None and density is not None:
        volumes = tuple(amounts.volume_of(mass, density) for mass in done.fuel_mass)
    told: dict[str, Any] = {
        "fuel": fuel,
        "fuel_volume": _span(volumes),
        "cost": _span(_cost(furnace, done, volumes)),
        "bottle": None,
    }
    if fuel != "propane" or case.shop.bottle is None or done.fuel_mass is None:
        return told, []
    time = done.all_time[1] if done.all_time is not None else None
    if time is None and case.time is not None:
        time = case.time * inputs.heats
    told["bottle"], checks = bottle_told(
        case.shop.bottle, (done.fuel_mass[1], done.fuel_mass[2]), time, start, ledger
    )
    return told, checks


def _cost(
    furnace: FurnaceCase, done: MeltAssessment, volumes: tuple[float, ...] | None
) -> tuple[float, ...] | None:
    """Money for the fuel of all heats; None where no price suits."""
    if furnace.fuel_price is not None and done.fuel_mass is not None:
        return tuple(charge.metal_cost(mass, furnace.fuel_price) for mass in done.fuel_mass)
    if furnace.fuel_volume_price is not None and volumes is not None:
        return tuple(melt.cost_by_volume(volume, furnace.fuel_volume_price) for volume in volumes)
    if furnace.fuel_energy_price is not None:
        return tuple(melt.cost_by_energy(heat, furnace.fuel_energy_price) for heat in done.all)
    return None


def _judged(fire: FurnaceInputs, done: MeltAssessment) -> list[Check]:
    if fire.power is None:
        return []
    if fire.time is not None and done.wanted_power is not None:
        return [check_power(fire.power, done.wanted_power, fire.time)]
    return [check_time(done.first_time)] if done.first_time is not None else []


def _sentence(
    case: MeltCase, fuel: str, inputs: MetalInputs, done: MeltAssessment, result: dict[str, Any]
) -> Say:
    """The sentence that a beginner needs first."""
    parts: dict[str, tuple[float, str] | str] = {
        "m": (case.melt_mass, "mass"),
        "fuel": fuel,
        "n": (inputs.heats, "count"),
    }
    if done.fuel_mass is not None:
        words = "Melting {m} takes about {f} of {fuel} ({low} to {high})"
        amount, kind = done.fuel_mass, "mass"
    else:
        words = "Melting {m} takes about {f} of current ({low} to {high})"
        amount, kind = done.all, "energy"
    parts |= {"f": (amount[1], kind), "low": (amount[0], kind), "high": (amount[2], kind)}
    if done.all_time is not None:
        words += " and {t} ({quick} to {slow})"
        parts |= {
            "t": (done.all_time[1], "time"),
            "quick": (done.all_time[0], "time"),
            "slow": (done.all_time[2], "time"),
        }
    if inputs.heats > 1:
        words += ", in {n} heats"
    if done.wanted_power is not None and done.first_time is None:
        words += "; {p} of {heating} are needed for the time you want"
        parts |= {"p": (done.wanted_power[1], "power"), "heating": "current" if fuel in CURRENT else "burner"}
    if result.get("cost") is not None:
        words += ", for {money}"
        parts["money"] = (result["cost"]["likely"], "money")
    return Say(f"{words}.", **parts)


def _cautions(case: MeltCase, found: Melted, ledger: Ledger) -> None:
    """What can hurt someone in this melt."""
    subject = ledger.place("")
    alloy = find_alloy(case.alloy) if case.alloy else None
    if alloy is not None and alloy.nominal:
        hazards_of_melt(alloy.nominal, found.pouring_temperature, ledger, name=alloy.name)
    hazards_of_pour(
        ledger,
        pouring_temperature=found.pouring_temperature,
        melt_mass=found.result["heat_mass"],
        lifted_mass=found.lifted_mass if case.lifted_by in (None, "one") else None,
        fuel=found.fuel,
        electric=found.fuel in CURRENT,
    )
    ledger.caution(cold_tools(subject))
    fuel = found.fuel
    if fuel is not None and fuel not in CURRENT:
        place = case.shop.place
        if place == "indoors":
            ledger.caution(burning_indoors(subject, fuel, "refuse", place))
        elif fuel in GLOWING:
            ledger.caution(burning_indoors(subject, fuel, "care", place))
    if fuel == "propane":
        ledger.caution(gas_bottle(subject))
    if case.form in ("tube", "turnings", "cans", "crushed cans"):
        form = "hollow" if case.form == "tube" else "oily" if case.form == "turnings" else "painted"
        ledger.caution(form_of_scrap(form, "/form", f"the {case.form}", "care", case.form))
    left = (found.result.get("rest") or {}).get("left")
    if left:
        ledger.caution(cold_ingot_mould(subject, left))
