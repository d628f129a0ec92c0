"""What a workshop has and how it works: one object that every subject takes, each using what it needs."""

from typing import Any

from ..engine.decide.shop import (
    CONVENTIONS,
    BottleCase,
    CrucibleCase,
    FlaskCase,
    FurnaceCase,
    IngotMouldCase,
    ShopCase,
    brim_volume_of_number,
)
from ..engine.tables.melting import CRUCIBLE_MATERIALS, FUELS
from .schemas import (
    Body,
    Choice,
    Choices,
    Count,
    Nested,
    Number,
    Quantities,
    Quantity,
    Text,
    at_least,
    refused,
    refused_at,
    within,
)

MEANINGS = tuple(CONVENTIONS)

WHICH = (
    "a crucible's number means different things to different makers: say in number_means whether it counts "
    "kg of brass (European numbers, such as A8), lb of aluminium (bilge numbers: N lb of aluminium, three "
    "times that of brass), or litres to the brim; better, give brim_volume, measured with water in a pot "
    "that is dried afterwards"
)


class CrucibleNumber(Text):
    """What is stamped on a crucible; a bare number is refused with what it may mean."""

    def load_value(self, value: Any) -> str:
        if type(value) in (int, float):
            raise refused("not_text", f'write the number as text, such as "10"; {WHICH}', MEANINGS)
        return super().load_value(value)


class CrucibleBody(Body):
    """A crucible, by what it holds; numbers of crucibles mean different things to different makers."""

    makes = CrucibleCase
    name = Text("What you call it.", required=True)
    brim_volume = Quantity("volume", "What it holds full to the brim; needed unless number_means is given.")
    number = CrucibleNumber(
        "What is stamped on it, such as 'A8' or '10', with number_means, where brim_volume is not known.",
        longest=20,
    )
    number_means = Choice(MEANINGS, "What the number counts: makers differ.")
    mouth_diameter = Quantity("length", "Diameter of its mouth.")
    mass = Quantity("mass", "What it weighs empty.")
    material = Choice(
        tuple(CRUCIBLE_MATERIALS),
        "What it is made of.",
        aliases={name: one.id for one in CRUCIBLE_MATERIALS.values() for name in one.names},
    )
    rated_to = Quantity("temperature", "The temperature its maker rates it for.")
    rated_for = Choices(("fuel", "electric", "induction"), "How its maker says it may be heated.")
    condition = Choice(
        ("sound", "glaze worn", "cracked", "unknown"),
        "What you found when you looked it over and rang it.",
        aliases={"new": "sound", "crack": "cracked", "worn": "glaze worn"},
    )

    def make(self, data: dict[str, Any]) -> Any:
        if data["brim_volume"] is not None:
            return super().make(data)
        if data.get("number") is None:
            raise refused_at("brim_volume", "missing_field", f"say what it holds; {WHICH}")
        if data.get("number_means") is None:
            raise refused_at("number", "inconsistent", WHICH)
        try:
            volume = brim_volume_of_number(data["number"], data["number_means"])
        except ValueError:
            raise refused_at(
                "number", "inconsistent", "there is no number in it, such as 'A8' or '10'"
            ) from None
        return super().make({**data, "brim_volume": volume, "by_number": True})


class FlaskBody(Body):
    """A size of flask."""

    makes = FlaskCase
    length = Quantity("length", "Inner length.", required=True)
    width = Quantity("length", "Inner width.", required=True)
    heights = Quantities("length", "The heights it comes in.", required=True, max_items=20)
    mass = Quantity("mass", "Mass of one box.")


_SHARE = within(0.0, 1.0, low_open=True)


class FurnaceBody(Body):
    """The furnace, what heats it and what that costs."""

    makes = FurnaceCase
    fuel = Choice(
        tuple(FUELS),
        "What heats it; left out, propane.",
        aliases={
            "LPG": "propane",
            "gas bottle": "propane",
            "methane": "natural gas",
            "waste oil": "oil",
            "heating oil": "diesel",
            "resistance": "electric",
        },
    )
    power = Quantity("power", "Power of the burner (by the gross heating value) or of the supply.")
    efficiency = Quantity(
        "fraction", "Share of the heat paid for that reaches the metal when the furnace is hot.", bound=_SHARE
    )
    efficiency_low = Quantity("fraction", "The least that it may be.", bound=_SHARE)
    efficiency_high = Quantity("fraction", "The most that it may be.", bound=_SHARE)
    available_heat = Quantity(
        "fraction",
        "Share of the heat paid for that stays in the furnace and does not leave with the burnt gas: a cold "
        "lining is warmed with it.",
        bound=_SHARE,
    )
    heating_value = Quantity("heating_value", "Gross heating value of the fuel, where you know it better.")
    fuel_density = Quantity("density", "Density of the fuel, for its volume.")
    fuel_price = Quantity("price", "Price of the fuel by mass.", bound=at_least(0.0))
    fuel_volume_price = Quantity("volume_price", "Price of the fuel by volume.", bound=at_least(0.0))
    fuel_energy_price = Quantity(
        "energy_price", "Price of fuel or current by energy, gross.", bound=at_least(0.0)
    )
    lining_mass = Quantity(
        "mass", "Mass of the lining that is heated; left out, a light fibre lining.", bound=at_least(0.0)
    )
    lining_specific_heat = Quantity("specific_heat", "Specific heat of the lining.")
    lining_temperature = Quantity(
        "temperature", "Mean temperature of the hot lining; left out, halfway to the metal's."
    )

    def make(self, data: dict[str, Any]) -> Any:
        prices = [name for name in ("fuel_price", "fuel_volume_price", "fuel_energy_price") if data.get(name)]
        if len(prices) > 1:
            raise refused_at(prices[1], "inconsistent", "give one price of the fuel")
        for low, high in (("efficiency_low", "efficiency"), ("efficiency", "efficiency_high")):
            least, most = data.get(low), data.get(high)
            if least is not None and most is not None and least > most:
                raise refused_at(low, "inconsistent", f"{low} is more than {high}")
        return super().make(data)


class BottleBody(Body):
    """Bottles of propane, all alike, coupled together."""

    makes = BottleCase
    contents = Quantity("mass", "Gas left in one bottle; or give weight and tare.")
    weight = Quantity("mass", "What one bottle weighs as it stands.")
    tare = Quantity("mass", "What it weighs empty, stamped on its collar.")
    count = Count("How many are coupled together.", low=1, high=20)
    diameter = Quantity("length", "Diameter of a bottle.")
    gas_pressure = Quantity(
        "pressure",
        "Pressure that the burner needs, above the air's; left out, 1 bar.",
        bound=within(0.0, 10e5),
    )
    heat_transfer_low = Quantity("heat_transfer", "Least heat transfer from the air to the liquid.")
    heat_transfer_high = Quantity("heat_transfer", "Most heat transfer from the air to the liquid.")

    def make(self, data: dict[str, Any]) -> Any:
        low, high = data.get("heat_transfer_low"), data.get("heat_transfer_high")
        if low is not None and high is not None and low > high:
            raise refused_at("heat_transfer_low", "inconsistent", "it is more than heat_transfer_high")
        return super().make(data)


class IngotMouldBody(Body):
    """Ingot moulds of one size."""

    makes = IngotMouldCase
    name = Text("What you call it.", required=True)
    volume = Quantity("volume", "What one holds to the brim.", required=True)
    count = Count("How many there are; left out, as many as are wanted.", low=0, high=1000)


class ShopBody(Body):
    """What the workshop has, and how it works; each calculation uses what it needs of it."""

    makes = ShopCase
    crucibles = Nested(CrucibleBody, "The crucibles.", many=True, max_items=50)
    flasks = Nested(FlaskBody, "The flasks.", many=True, max_items=50)
    furnace = Nested(FurnaceBody, "The furnace.")
    bottle = Nested(BottleBody, "The bottles of propane.")
    ingot_moulds = Nested(IngotMouldBody, "Ingot moulds for what is left.", many=True, max_items=20)
    place = Choice(
        ("outdoors", "under a flue", "indoors"),
        "Where the furnace stands; indoors: in a room without a flue or hood.",
    )
    tongs_mass = Quantity("mass", "Mass of tongs or shank.", bound=at_least(0.0))
    fullest_crucible = Quantity(
        "fraction", "How full a crucible may be.", bound=within(0.0, 1.0, low_open=True)
    )
    sand_density = Quantity("density", "Bulk density of rammed sand.")
    core_density = Quantity("density", "Bulk density of core sand.")
    sand_wall = Quantity("length", "Least sand between metal and flask.", bound=at_least(0.0))
    least_pig = Quantity("fraction", "Metal kept back, a share of what is poured.", bound=within(0.0, 2.0))
    cope_safety_factor = Number("Factor on the lift of the cope.", bound=within(1.0, 10.0))
    fuel = Text("What the furnace burns; 'electric' for none.", longest=40)
