"""What a workshop has and how it works: one object for every subject, each uses what it needs of it."""

import re
from dataclasses import dataclass

from ..formulas.melt import brim_volume_for

FULLEST = 0.75
"""How full a crucible may be, of what it holds to the brim (common practice)."""

CONVENTIONS = {
    "kg of brass": (1.0, 7600.0, 0.9),
    "lb of aluminium": (0.45359237, 2370.0, 0.9),
    "litres": (1e-3, 1.0, 1.0),
}
"""What the number of a crucible counts: kg (m^3 for litres) of one, density of the liquid (kg/m^3), how
full it then is. The European number is kept from memory, the other from suppliers' pages; fillings are
from memory."""

CONVENTION_SOURCES = {
    "kg of brass": "FROM-MEMORY",
    "lb of aluminium": "CRUCIBLE-NUMBERS-ALUMINIUM",
    "litres": "COMMON-PRACTICE",
}

NUMBER_SPREAD = 0.3
"""How far the volume by a number may be off, as a share of it."""

_NUMBER = re.compile(r"[A-Za-z#. ]{0,12}?([0-9]{1,4}(?:\.[0-9]{1,3})?)", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class CrucibleCase:
    """A crucible: m^3 to the brim, m across the mouth, kg empty.

    ``by_number`` tells that the volume follows from its number and what that counts. ``rated_to`` K is its
    maker's; ``rated_for`` lists how it may be heated: fuel, electric, induction.
    """

    name: str
    brim_volume: float
    mouth_diameter: float | None = None
    mass: float | None = None
    number: str | None = None
    number_means: str | None = None
    by_number: bool = False
    material: str | None = None
    rated_to: float | None = None
    rated_for: tuple[str, ...] | None = None
    condition: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FlaskCase:
    """A size of flask with the heights it comes in, m; ``mass`` of one box, kg."""

    length: float
    width: float
    heights: tuple[float, ...]
    mass: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FurnaceCase:
    """The furnace: W, J/kg, kg, J/(kg K), K; prices of its fuel by mass, by volume or by energy.

    ``efficiency`` is the share of the heat paid for that reaches the metal when the furnace is hot,
    ``available_heat`` the share that stays in it and does not leave with the burnt gas.
    """

    fuel: str | None = None
    power: float | None = None
    efficiency: float | None = None
    efficiency_low: float | None = None
    efficiency_high: float | None = None
    available_heat: float | None = None
    heating_value: float | None = None
    fuel_density: float | None = None
    fuel_price: float | None = None
    fuel_volume_price: float | None = None
    fuel_energy_price: float | None = None
    lining_mass: float | None = None
    lining_specific_heat: float | None = None
    lining_temperature: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BottleCase:
    """Bottles of propane, all alike: kg, m, Pa above the air's, W/(m^2 K)."""

    contents: float | None = None
    weight: float | None = None
    tare: float | None = None
    count: int | None = None
    diameter: float | None = None
    gas_pressure: float | None = None
    heat_transfer_low: float | None = None
    heat_transfer_high: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class IngotMouldCase:
    """Ingot moulds of one size: m^3 each, how many there are."""

    name: str
    volume: float
    count: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopCase:
    """What the workshop has and how it works."""

    crucibles: tuple[CrucibleCase, ...] = ()
    flasks: tuple[FlaskCase, ...] = ()
    furnace: FurnaceCase | None = None
    bottle: BottleCase | None = None
    ingot_moulds: tuple[IngotMouldCase, ...] = ()
    place: str | None = None
    tongs_mass: float | None = None
    fullest_crucible: float | None = None
    sand_density: float | None = None
    core_density: float | None = None
    sand_wall: float | None = None
    least_pig: float | None = None
    cope_safety_factor: float | None = None
    fuel: str | None = None


def brim_volume_of_number(number: str, means: str) -> float:
    """What a crucible of a number holds to the brim (m^3). ValueError for what is no number."""
    found = _NUMBER.fullmatch(number)
    if found is None or float(found[1]) == 0.0:
        raise ValueError(number)
    one, density, filling = CONVENTIONS[means]
    return brim_volume_for(float(found[1]) * one, density, filling)
