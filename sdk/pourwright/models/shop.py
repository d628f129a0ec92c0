# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of shop."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NotRequired, TypeAlias, TypedDict

from ..quantity import FractionInput, JsonObject, QuantityInput

CrucibleInputMaterial: TypeAlias = Literal[
    "clay graphite",
    "silicon carbide",
    "alumina",
    "iron or steel",
    "graphite",
    "clay-graphite",
    "SiC",
    "carbon-bonded silicon carbide",
    "ceramic",
    "steel",
    "cast iron",
    "pipe",
    "steel pipe",
]


class CrucibleInput(TypedDict):
    """A crucible, by what it holds; numbers of crucibles mean different things to different makers."""

    name: str
    """What you call it."""
    brim_volume: NotRequired[QuantityInput]
    """What it holds full to the brim; needed unless number_means is given."""
    number: NotRequired[str]
    """What is stamped on it, such as 'A8' or '10', with number_means, where brim_volume is not known."""
    number_means: NotRequired[Literal["kg of brass", "lb of aluminium", "litres"]]
    """What the number counts: makers differ."""
    mouth_diameter: NotRequired[QuantityInput]
    """Diameter of its mouth."""
    mass: NotRequired[QuantityInput]
    """What it weighs empty."""
    material: NotRequired[CrucibleInputMaterial]
    """What it is made of."""
    rated_to: NotRequired[QuantityInput]
    """The temperature its maker rates it for."""
    rated_for: NotRequired[Sequence[Literal["fuel", "electric", "induction"]]]
    """How its maker says it may be heated."""
    condition: NotRequired[Literal["sound", "glaze worn", "cracked", "unknown", "new", "crack", "worn"]]
    """What you found when you looked it over and rang it."""


class FlaskInput(TypedDict):
    """A size of flask."""

    length: QuantityInput
    """Inner length."""
    width: QuantityInput
    """Inner width."""
    heights: Sequence[QuantityInput]
    """The heights it comes in."""
    mass: NotRequired[QuantityInput]
    """Mass of one box."""


FurnaceInputFuel: TypeAlias = Literal[
    "propane",
    "natural gas",
    "oil",
    "diesel",
    "charcoal",
    "coke",
    "electric",
    "induction",
    "LPG",
    "gas bottle",
    "methane",
    "waste oil",
    "heating oil",
    "resistance",
]


class FurnaceInput(TypedDict):
    """The furnace, what heats it and what that costs."""

    fuel: NotRequired[FurnaceInputFuel]
    """What heats it; left out, propane."""
    power: NotRequired[QuantityInput]
    """Power of the burner (by the gross heating value) or of the supply."""
    efficiency: NotRequired[FractionInput]
    """Share of the heat paid for that reaches the metal when the furnace is hot."""
    efficiency_low: NotRequired[FractionInput]
    """The least that it may be."""
    efficiency_high: NotRequired[FractionInput]
    """The most that it may be."""
    available_heat: NotRequired[FractionInput]
    """Share of the heat paid for that stays in the furnace and does not leave with the burnt gas: a cold
    lining is warmed with it."""
    heating_value: NotRequired[QuantityInput]
    """Gross heating value of the fuel, where you know it better."""
    fuel_density: NotRequired[QuantityInput]
    """Density of the fuel, for its volume."""
    fuel_price: NotRequired[QuantityInput]
    """Price of the fuel by mass."""
    fuel_volume_price: NotRequired[QuantityInput]
    """Price of the fuel by volume."""
    fuel_energy_price: NotRequired[QuantityInput]
    """Price of fuel or current by energy, gross."""
    lining_mass: NotRequired[QuantityInput]
    """Mass of the lining that is heated; left out, a light fibre lining."""
    lining_specific_heat: NotRequired[QuantityInput]
    """Specific heat of the lining."""
    lining_temperature: NotRequired[QuantityInput]
    """Mean temperature of the hot lining; left out, halfway to the metal's."""


class BottleInput(TypedDict):
    """Bottles of propane, all alike, coupled together."""

    contents: NotRequired[QuantityInput]
    """Gas left in one bottle; or give weight and tare."""
    weight: NotRequired[QuantityInput]
    """What one bottle weighs as it stands."""
    tare: NotRequired[QuantityInput]
    """What it weighs empty, stamped on its collar."""
    count: NotRequired[int]
    """How many are coupled together."""
    diameter: NotRequired[QuantityInput]
    """Diameter of a bottle."""
    gas_pressure: NotRequired[QuantityInput]
    """Pressure that the burner needs, above the air's; left out, 1 bar."""
    heat_transfer_low: NotRequired[QuantityInput]
    """Least heat transfer from the air to the liquid."""
    heat_transfer_high: NotRequired[QuantityInput]
    """Most heat transfer from the air to the liquid."""


class IngotMouldInput(TypedDict):
    """Ingot moulds of one size."""

    name: str
    """What you call it."""
    volume: QuantityInput
    """What one holds to the brim."""
    count: NotRequired[int]
    """How many there are; left out, as many as are wanted."""


class ShopInput(TypedDict):
    """What the workshop has, and how it works; each calculation uses what it needs of it."""

    crucibles: NotRequired[Sequence[CrucibleInput | JsonObject]]
    """The crucibles."""
    flasks: NotRequired[Sequence[FlaskInput | JsonObject]]
    """The flasks."""
    furnace: NotRequired[FurnaceInput | JsonObject]
    """The furnace."""
    bottle: NotRequired[BottleInput | JsonObject]
    """The bottles of propane."""
    ingot_moulds: NotRequired[Sequence[IngotMouldInput | JsonObject]]
    """Ingot moulds for what is left."""
    place: NotRequired[Literal["outdoors", "under a flue", "indoors"]]
    """Where the furnace stands; indoors: in a room without a flue or hood."""
    tongs_mass: NotRequired[QuantityInput]
    """Mass of tongs or shank."""
    fullest_crucible: NotRequired[FractionInput]
    """How full a crucible may be."""
    sand_density: NotRequired[QuantityInput]
    """Bulk density of rammed sand."""
    core_density: NotRequired[QuantityInput]
    """Bulk density of core sand."""
    sand_wall: NotRequired[QuantityInput]
    """Least sand between metal and flask."""
    least_pig: NotRequired[FractionInput]
    """Metal kept back, a share of what is poured."""
    cope_safety_factor: NotRequired[float]
    """Factor on the lift of the cope."""
    fuel: NotRequired[str]
    """What the furnace burns; 'electric' for none."""
