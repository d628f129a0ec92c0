"""The crucible of a melt: which one, what of scrap goes in, what is left, and whether it is fit for it."""

import math
from dataclasses import dataclass
from typing import Any

from ..assess.crucible import CrucibleAssessment, CrucibleInputs, assess_crucible
from ..assess.crucible_checks import (
    check_enough,
    check_ingots,
    check_lift,
    check_rated,
    check_sound,
    check_suits,
)
from ..checks import Check
from ..formulas import amounts, melt
from ..ledger import Ledger
from ..tables.hazards import lift_limit
from ..tables.melting import CRUCIBLE_MATERIALS, SCRAP_FORMS
from .melt_case import MeltCase
from .metal import Metal
from .shop import CONVENTION_SOURCES, FULLEST, NUMBER_SPREAD, CrucibleCase, IngotMouldCase

MASS_PER_VOLUME = 1600.0
"""kg of a small clay-graphite crucible per m^3 that it holds to the brim, +/- 40 %, from memory."""

TONGS = 1.5
TEAM = 4.0 / 3.0
"""Two people hold two thirds of what they hold one by one (rule of manual handling, from memory)."""

INGOT_FULL = 0.9
"""An ingot mould is poured so full."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PotChoice:
    """The crucible chosen: where the request has it, itself, its mass (kg), how full it may be."""

    index: int
    case: CrucibleCase
    mass: float
    fullest: float

    @property
    def pointer(self) -> str:
        return f"/shop/crucibles/{self.index}"


def choose_pot(case: MeltCase, held: float, density: float, ledger: Ledger) -> PotChoice | None:
    """The crucible that the caller names, else the smallest fit one that takes ``held`` (kg), else the
    largest; None where the shop has none."""
    pots = case.shop.crucibles
    if not pots:
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
    ranked = sorted(range(len(pots)), key=lambda k: (pots[k].brim_volume, pots[k].name))
    whole = [k for k in ranked if pots[k].condition != "cracked"] or ranked
    takes = (k for k in whole if held / density <= fullest * pots[k].brim_volume * (1.0 + 1e-9))
    index = next(takes, whole[-1])
    if case.crucible is not None:
        index = next(k for k, pot in enumerate(pots) if pot.name == case.crucible)
    else:
        ledger.use(
            "/crucible",
            None,
            pots[index].name,
            "text",
            provenance="computed",
            source="DERIVED",
            note="the smallest of the shop that takes it, not cracked; else the largest",
        )
    pot = pots[index]
    if pot.by_number:
        means = pot.number_means or ""
        ledger.use(
            f"/shop/crucibles/{index}/brim_volume",
            None,
            pot.brim_volume,
            "volume",
            provenance="estimated",
            source=CONVENTION_SOURCES[means],
            note=f"number {pot.number} counts {means}; measure it with water instead",
            spread=NUMBER_SPREAD,
        )
    mass = ledger.use(
        f"/shop/crucibles/{index}/mass",
        pot.mass,
        MASS_PER_VOLUME * pot.brim_volume,
        "mass",
        provenance="from memory",
        source="FROM-MEMORY",
        note="a clay-graphite crucible weighs about 1.6 kg for each litre; weigh yours",
        spread=0.4,
    )
    return PotChoice(index=index, case=pot, mass=mass, fullest=fullest)


def pot_told(
    case: MeltCase,
    pot: PotChoice,
    held: float,
    density: float,
    pouring: float | None,
    heating: str,
    ledger: Ledger,
) -> tuple[dict[str, Any], list[Check]]:
    """What is said of the crucible with ``held`` kg in it, and its checks."""
    found = assess_crucible(
        CrucibleInputs(
            name=pot.case.name,
            melt_mass=held,
            density_liquid=density,
            brim_volume=pot.case.brim_volume,
            crucible_mass=pot.mass,
            fullest=pot.fullest,
        )
    )
    condition = ledger.use(
        f"{pot.pointer}/condition",
        pot.case.condition,
        "unknown",
        "text",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="nobody has said that it is sound",
    )
    checks = [*found.checks, check_sound(condition, pot.case.name, pot.pointer)]
    rated = _rating(pot, ledger)
    if rated is not None and pouring is not None:
        checks.append(check_rated(pouring, rated, pot.case.name, pot.pointer))
    suits = _suits(pot.case, heating)
    if suits is not None or heating == "induction":
        checks.append(check_suits(suits, heating, pot.case.name, pot.pointer))
    lifted, lift = _lift(case, found, ledger)
    room = pot.fullest * pot.case.brim_volume - found.volume
    told = {
        "name": pot.case.name,
        "brim_volume": pot.case.brim_volume,
        "volume": found.volume,
        "filling": found.filling,
        "holds": amounts.mass_of(density, pot.fullest * pot.case.brim_volume),
        "more_fits": amounts.mass_of(density, max(0.0, room)),
        "condition": condition,
        "rated_to": rated,
        "lifted_mass": lifted,
    }
    return told, checks + lift


def _rating(pot: PotChoice, ledger: Ledger) -> float | None:
    if pot.case.rated_to is not None or pot.case.material is None:
        return pot.case.rated_to
    cell = CRUCIBLE_MATERIALS[pot.case.material].rated_to
    return ledger.use(
        f"{pot.pointer}/rated_to",
        None,
        cell.value,
        "temperature",
        provenance=cell.provenance,
        source=cell.source,
        note=f"{pot.case.material}: {cell.place}; its maker's card wins",
        spread=cell.spread,
    )


def _suits(pot: CrucibleCase, heating: str) -> bool | None:
    """Whether it may be heated so; None where nobody knows."""
    kind = heating if heating in ("electric", "induction") else "fuel"
    if pot.rated_for is not None:
        return kind in pot.rated_for
    if kind != "induction" or pot.material is None:
        return None
    return {"yes": True, "no": False}.get(CRUCIBLE_MATERIALS[pot.material].induction)


def _lift(case: MeltCase, found: CrucibleAssessment, ledger: Ledger) -> tuple[float, list[Check]]:
    """The whole mass lifted (kg) and whether that may be."""
    tongs = ledger.use(
        "/shop/tongs_mass",
        case.shop.tongs_mass,
        TONGS,
        "mass",
        provenance="from memory",
        source="FROM-MEMORY",
        note="tongs or ring shank",
    )
    lifted = found.lifted_mass + tongs
    by = ledger.use(
        "/lifted_by", case.lifted_by, "one", "text", provenance="common practice", source="COMMON-PRACTICE"
    )
    if by == "hoist":
        return lifted, []
    limit, people = (lift_limit(), "one person") if by == "one" else (TEAM * lift_limit(), "two people")
    return lifted, [check_lift(lifted, limit, people, "/lifted_by")]


def bulk_of(case: MeltCase, metal: Metal, ledger: Ledger) -> float | None:
    """Bulk density of the scrap (kg/m^3): given, or by its form; None where neither is known."""
    if case.bulk_density is not None or case.form is None:
        return case.bulk_density
    solid = metal.get("density")
    if solid is None:
        return None
    cell = SCRAP_FORMS[case.form].bulk_share
    return ledger.use(
        "/bulk_density",
        None,
        cell.value * solid,
        "density",
        provenance=cell.provenance,
        source=cell.source,
        note=f"{case.form}, {cell.place}: {cell.value:.0%} of the solid's density",
        spread=cell.spread,
    )


def charges_of(held: float, density: float, bulk: float, pot: PotChoice) -> tuple[int | None, float]:
    """How many times the pot is filled up with scrap (None where it never holds ``held``), and the mass
    of the first filling (kg)."""
    first = min(held, bulk * pot.case.brim_volume)
    filling = held / (density * pot.case.brim_volume)
    if filling >= 1.0:
        return None, first
    if bulk >= density or first >= held:
        return 1, first
    return math.ceil(melt.charges_needed(filling, bulk / density) - 1e-9), first


def rest_told(
    case: MeltCase, held: float, density: float | None
) -> tuple[dict[str, Any] | None, list[Check]]:
    """What is left after pouring, and the ingots that it makes; None where nothing is poured."""
    if case.poured_mass is None:
        return None, []
    left = max(0.0, held - case.poured_mass)
    checks = [check_enough(held, case.poured_mass)]
    moulds = case.shop.ingot_moulds
    filled: list[dict[str, Any]] = []
    short = 0.0
    if density is not None and moulds and left > 0.0:
        filled, short = _filled(left / density, moulds)
        room = INGOT_FULL * sum(mould.volume * mould.count for mould in moulds if mould.count is not None)
        if all(mould.count is not None for mould in moulds):
            checks.append(check_ingots(room, left / density, "/shop/ingot_moulds"))
    return {"left": left, "ingots": filled, "left_over_volume": short}, checks


def _filled(volume: float, moulds: tuple[IngotMouldCase, ...]) -> tuple[list[dict[str, Any]], float]:
    """How many of each mould a volume (m^3) fills, the largest first and the last in the smallest that
    takes it; what no mould takes."""
    filled = [0] * len(moulds)
    order = sorted(range(len(moulds)), key=lambda k: (-moulds[k].volume, moulds[k].name))

    def room(k: int) -> bool:
        count = moulds[k].count
        return count is None or filled[k] < count

    for k in order:
        size, count = INGOT_FULL * moulds[k].volume, moulds[k].count
        number = math.floor(volume / size + 1e-9)
        filled[k] = number if count is None else min(number, count)
        volume -= filled[k] * size
    for k in reversed(order):
        if volume > 1e-12 and room(k) and INGOT_FULL * moulds[k].volume >= volume:
            filled[k] += 1
            volume = 0.0
    for k in order:
        if volume > 1e-12 and room(k):
            filled[k] += 1
            volume = max(0.0, volume - INGOT_FULL * moulds[k].volume)
    names = [{"name": moulds[k].name, "count": filled[k]} for k in range(len(moulds))]
    return names, max(0.0, volume)
