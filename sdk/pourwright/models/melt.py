# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of melt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NotRequired, TypeAlias, TypedDict

from ..quantity import JsonObject, Quantity, QuantityInput
from .common import PropertiesInput
from .shop import ShopInput

MeltRequestForm: TypeAlias = Literal[
    "ingot",
    "chunks",
    "bolts",
    "cuttings",
    "tube",
    "wire",
    "turnings",
    "cans",
    "crushed cans",
    "ingots",
    "bar",
    "sows",
    "castings",
    "lumps",
    "gates",
    "risers",
    "returns",
    "fittings",
    "small solid pieces",
    "nuts",
    "plugs",
    "sheet",
    "plate cuttings",
    "offcuts",
    "extrusions",
    "pipe",
    "tubing",
    "open tube",
    "cable",
    "strip",
    "swarf",
    "chips",
    "borings",
    "foil",
    "pressed cans",
]


class MeltRequest(TypedDict):
    """What is melted, in which furnace, with what."""

    alloy: NotRequired[str]
    """The alloy; its properties are looked up."""
    properties: NotRequired[PropertiesInput | JsonObject]
    """Properties of the metal that you know better; they win."""
    melt_mass: QuantityInput
    """Metal to melt, of all heats together."""
    heats: NotRequired[int]
    """In how many equal heats; 1 if left out."""
    poured_mass: NotRequired[QuantityInput]
    """What the moulds take of one heat; the rest is told."""
    addition: NotRequired[QuantityInput]
    """What is added to one heat when it is molten."""
    pouring_temperature: NotRequired[QuantityInput]
    """How hot the metal leaves the furnace; left out, the middle of the alloy's range."""
    start_temperature: NotRequired[QuantityInput]
    """Temperature of charge, lining, bottle and air before melting; 20 degC if left out."""
    mean_specific_heat: NotRequired[QuantityInput]
    """Mean specific heat of the solid up to melting; left out, that at 20 degC raised as its family's."""
    heat_content: NotRequired[QuantityInput]
    """Heat from cold to pouring heat by mass, where you have it; no properties are then needed."""
    furnace_hot: NotRequired[bool]
    """Whether the furnace is hot from an earlier heat; false if left out."""
    time: NotRequired[QuantityInput]
    """Time wanted for the first heat, from lighting to pouring heat."""
    form: NotRequired[MeltRequestForm]
    """How the charge lies in the crucible."""
    bulk_density: NotRequired[QuantityInput]
    """Bulk density of the charge, where you have weighed a bucket of it."""
    last_lump: NotRequired[QuantityInput]
    """Mass of the last lump; left out, an equal share of what is topped up."""
    crucible: NotRequired[str]
    """Name of the shop's crucible to use; left out, the smallest that does."""
    lifted_by: NotRequired[Literal["one", "two", "hoist"]]
    """Who lifts the crucible; one person if left out."""
    shop: NotRequired[ShopInput | JsonObject]
    """Furnace, bottle, crucibles and ingot moulds."""
    currency: NotRequired[str]
    """Name of the money that prices are in, such as EUR."""


@dataclass(frozen=True, slots=True)
class MeltEfficiencyResult:
    """Shares of the heat paid for that reach the metal in a hot furnace."""

    low: Quantity
    """Of a poor furnace."""
    likely: Quantity
    """What is likely."""
    high: Quantity
    """Of a good furnace."""


@dataclass(frozen=True, slots=True)
class MeltEnergySpan:
    """Energy, by how good the furnace is."""

    low: Quantity
    """The least, with a good efficiency."""
    likely: Quantity
    """What is likely."""
    high: Quantity
    """The most, with a poor efficiency."""


@dataclass(frozen=True, slots=True)
class MeltMassSpan:
    """Mass, by how good the furnace is."""

    low: Quantity
    """The least, with a good efficiency."""
    likely: Quantity
    """What is likely."""
    high: Quantity
    """The most, with a poor efficiency."""


@dataclass(frozen=True, slots=True)
class MeltTimeSpan:
    """Time, by how good the furnace is."""

    low: Quantity
    """The least, with a good efficiency."""
    likely: Quantity
    """What is likely."""
    high: Quantity
    """The most, with a poor efficiency."""


@dataclass(frozen=True, slots=True)
class MeltHeatResult:
    """One heat, or all of them."""

    energy: MeltEnergySpan
    """Heat of fuel (gross) or current."""
    fuel_mass: MeltMassSpan | None
    """Mass of fuel; null for current."""
    time: MeltTimeSpan | None
    """Time at full power; null where the power is not known."""


@dataclass(frozen=True, slots=True)
class MeltVolumeSpan:
    """Volume, by how good the furnace is."""

    low: Quantity
    """The least, with a good efficiency."""
    likely: Quantity
    """What is likely."""
    high: Quantity
    """The most, with a poor efficiency."""


@dataclass(frozen=True, slots=True)
class MeltMoneySpan:
    """Money, by how good the furnace is."""

    low: Quantity
    """The least, with a good efficiency."""
    likely: Quantity
    """What is likely."""
    high: Quantity
    """The most, with a poor efficiency."""


@dataclass(frozen=True, slots=True)
class MeltPowerSpan:
    """Power, by how good the furnace is."""

    low: Quantity
    """The least, with a good efficiency."""
    likely: Quantity
    """What is likely."""
    high: Quantity
    """The most, with a poor efficiency."""


@dataclass(frozen=True, slots=True)
class MeltScrapResult:
    """The charge as it lies."""

    bulk_density: Quantity
    """Its bulk density."""
    bulk_volume: Quantity
    """Its volume before melting, of one heat."""
    charges: int | None
    """How many times the crucible is filled up with it; null where it never suffices."""
    first_charge: Quantity | None
    """What goes in at first."""


@dataclass(frozen=True, slots=True)
class MeltCrucibleResult:
    """The crucible with the melt in it."""

    name: str
    """Which one."""
    brim_volume: Quantity
    """What it holds to the brim."""
    volume: Quantity
    """Liquid metal in it, additions included."""
    filling: Quantity
    """How full it is."""
    holds: Quantity
    """What it holds of this metal when as full as it may be."""
    more_fits: Quantity
    """What may still be added."""
    condition: Literal["sound", "glaze worn", "cracked", "unknown"]
    """What is known of its condition."""
    rated_to: Quantity | None
    """What it is rated for, where that is known."""
    lifted_mass: Quantity
    """Crucible, metal and tongs."""


@dataclass(frozen=True, slots=True)
class MeltBottleResult:
    """The bottles of propane: one of them, where nothing else is said."""

    contents: Quantity
    """Gas in it at the start."""
    count: int
    """How many."""
    left: Quantity
    """What is likely to be left."""
    draw_off: Quantity | None
    """What is drawn from it; null where no time is known."""
    lasting_draw_off_low: Quantity
    """What it gives for ever in still air, at the end."""
    lasting_draw_off_high: Quantity
    """The same in moving air."""
    draw_off_low: Quantity | None
    """What it gives for this time in still air."""
    draw_off_high: Quantity | None
    """The same in moving air."""
    coldest: Quantity
    """Temperature of the liquid below which its pressure is too low."""
    too_cold_after_low: Quantity | None
    """When it may be so cold; null for never."""
    too_cold_after_high: Quantity | None
    """When it is so cold at the latest; null for never."""


@dataclass(frozen=True, slots=True)
class MeltIngotResult:
    """Ingot moulds of one size."""

    name: str
    """Which."""
    count: int
    """How many are filled."""


@dataclass(frozen=True, slots=True)
class MeltRestResult:
    """What is left in the pot after pouring."""

    left: Quantity
    """Mass left of one heat."""
    ingots: tuple[MeltIngotResult, ...]
    """The ingot moulds that it fills, nine tenths full."""
    left_over_volume: Quantity
    """What no ingot mould takes."""


@dataclass(frozen=True, slots=True)
class MeltResult:
    """Heat, fuel, time and cost; crucible, bottle and rest."""

    heats: int | None
    """Number of heats."""
    heat_mass: Quantity | None
    """Metal of one heat."""
    pouring_temperature: Quantity | None
    """How hot it leaves the furnace."""
    start_temperature: Quantity | None
    """Where it starts."""
    heat_content: Quantity | None
    """Heat of the metal from cold to pouring heat, by mass."""
    metal_heat: Quantity | None
    """The same of one heat's metal."""
    lining_heat: Quantity | None
    """What a cold lining takes up in the first heat."""
    crucible_heat: Quantity | None
    """What a cold crucible takes up."""
    efficiency: MeltEfficiencyResult | None
    """Share of the heat paid for that reaches the metal."""
    fuel: str | None
    """What heats it, one of those of shop.furnace.fuel."""
    first_heat: MeltHeatResult | None
    """The first heat, with a cold lining unless the furnace is hot."""
    following_heat: MeltHeatResult | None
    """Each following heat, in a hot furnace."""
    all_heats: MeltHeatResult | None
    """All heats together."""
    fuel_volume: MeltVolumeSpan | None
    """Volume of the fuel of all heats: liquid, or gas at 0 degC."""
    cost: MeltMoneySpan | None
    """What the fuel of all heats costs."""
    power_needed: MeltPowerSpan | None
    """Power that keeps the time wanted."""
    last_lump_to_pouring: MeltTimeSpan | None
    """From the last lump to pouring heat."""
    scrap: MeltScrapResult | None
    """The charge as it lies."""
    crucible: MeltCrucibleResult | None
    """The crucible."""
    bottle: MeltBottleResult | None
    """The bottles of propane."""
    rest: MeltRestResult | None
    """What is left after pouring."""
