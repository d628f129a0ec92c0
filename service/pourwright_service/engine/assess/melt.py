"""Given metal, furnace and fuel: the heat that a melt takes, its fuel, its time.

Only forward: no choices are made here. Numbers may be floats or NumPy arrays. Whatever hangs on the
furnace's efficiency is told thrice, for a good, a likely and a poor one: (least, likely, most).
"""

from collections.abc import Callable
from dataclasses import dataclass

from ..formula import step
from ..formulas import melt as formulas

Thrice = tuple[float, float, float]
"""With the best, the likely and the poorest efficiency."""

LIKELY, MOST = 1, 2
"""Places in a triple."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalHeat:
    """What a kilogram of the metal takes up on its way to pouring heat, SI."""

    mean_specific_heat: float
    specific_heat_freezing: float
    specific_heat_liquid: float
    latent_heat: float
    solidus: float
    liquidus: float
    start_temperature: float
    pouring_temperature: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalInputs:
    """The metal, SI. ``mass`` is that of one heat of ``heats``; ``heat`` is what its heat follows from, or
    the heat itself (J/kg)."""

    mass: float
    heats: int
    heat: MetalHeat | float


@dataclass(frozen=True, slots=True, kw_only=True)
class FurnaceInputs:
    """The furnace, SI. ``efficiency`` is (best, likely, poorest); ``cold`` whether the first heat warms
    lining and crucible. ``power`` and ``time`` (wanted for a heat) are None where nothing is said;
    ``heating_value`` is None for current; ``lump`` is the last lump, kg."""

    efficiency: Thrice
    available_heat: float
    cold: bool
    lining_mass: float
    lining_specific_heat: float
    lining_temperature: float
    start_temperature: float
    crucible_mass: float
    crucible_specific_heat: float
    crucible_temperature: float
    power: float | None
    time: float | None
    heating_value: float | None
    lump: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MeltAssessment:
    """Heats (J), times (s), powers (W) and fuel (kg); what does not apply is None.

    ``first`` and ``next`` are the heats of fuel for the first and for each following heat, ``all`` for all
    of them; ``wanted_power`` is what keeps the time wanted in the first heat.
    """

    heat_content: float
    metal_heat: float
    lining_heat: float
    crucible_heat: float
    first: Thrice
    next: Thrice
    all: Thrice
    fuel_mass: Thrice | None
    first_time: Thrice | None
    next_time: Thrice | None
    all_time: Thrice | None
    last_lump_time: Thrice | None
    wanted_power: Thrice | None


def heat_per_mass(heat: MetalHeat | float) -> float:
    """Heat of a kilogram from cold to pouring heat, J/kg."""
    if not isinstance(heat, MetalHeat):
        return heat
    return formulas.heat_content(
        heat.mean_specific_heat,
        heat.solidus,
        heat.start_temperature,
        heat.specific_heat_freezing,
        heat.liquidus,
        heat.latent_heat,
        heat.specific_heat_liquid,
        heat.pouring_temperature,
    )


def assess_melt(metal: MetalInputs, furnace: FurnaceInputs) -> MeltAssessment:
    """Heat, fuel and time of a melt."""
    content = heat_per_mass(metal.heat)
    heat = formulas.heat_of_melt(metal.mass, content)
    share = 1.0 if furnace.cold else 0.0
    with step("first heat", "lining"):
        lining = formulas.stored_heat(
            share * furnace.lining_mass,
            furnace.lining_specific_heat,
            furnace.lining_temperature,
            furnace.start_temperature,
        )
    with step("first heat", "crucible"):
        crucible = formulas.stored_heat(
            share * furnace.crucible_mass,
            furnace.crucible_specific_heat,
            furnace.crucible_temperature,
            furnace.start_temperature,
        )
    first = _thrice(furnace, heat, lining + crucible, "first heat")
    following = _thrice(furnace, heat, 0.0, "following heat")
    last = tuple(one + (metal.heats - 1) * more for one, more in zip(first, following, strict=True))
    every: Thrice = (last[0], last[1], last[2])
    return MeltAssessment(
        heat_content=content,
        metal_heat=heat,
        lining_heat=lining,
        crucible_heat=crucible,
        first=first,
        next=following,
        all=every,
        fuel_mass=_each(every, formulas.fuel_mass, furnace.heating_value),
        first_time=_each(first, formulas.melting_time, furnace.power),
        next_time=_each(following, formulas.melting_time, furnace.power),
        all_time=_each(every, formulas.melting_time, furnace.power),
        last_lump_time=_lump(metal, furnace, content),
        wanted_power=_each(first, formulas.power_needed, furnace.time),
    )


_NAMES = ("good efficiency", "likely efficiency", "poor efficiency")


def _thrice(furnace: FurnaceInputs, heat: float, stored: float, name: str) -> Thrice:
    found = []
    for place, efficiency in zip(_NAMES, furnace.efficiency, strict=True):
        with step(name, place):
            found.append(formulas.fuel_heat(heat, efficiency, stored, furnace.available_heat))
    return found[0], found[1], found[2]


def _each(heats: Thrice, formula: Callable[[float, float], float], by: float | None) -> Thrice | None:
    if by is None:
        return None
    return formula(heats[0], by), formula(heats[1], by), formula(heats[2], by)


def _lump(metal: MetalInputs, furnace: FurnaceInputs, content: float) -> Thrice | None:
    heat = metal.heat
    if furnace.power is None or not isinstance(heat, MetalHeat):
        return None
    found = [
        formulas.last_lump_time(
            furnace.lump,
            content,
            metal.mass,
            heat.specific_heat_liquid,
            heat.pouring_temperature,
            heat.liquidus,
            efficiency,
            furnace.power,
        )
        for efficiency in furnace.efficiency
    ]
    return found[0], found[1], found[2]
