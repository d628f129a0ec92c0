"""POST /v1/melt."""

from typing import Any

from ..engine.answer import Answer
from ..engine.decide.melt import MeltCase, decide_melt
from ..engine.decide.melt_levers import MELT
from ..engine.tables.melting import SCRAP_FORMS
from .common import PropertiesBody
from .registry import endpoint
from .schemas import (
    AlloyField,
    Body,
    Choice,
    Count,
    Flag,
    Nested,
    Quantity,
    Result,
    Text,
    at_least,
    refused_at,
)
from .shop import ShopBody


class MeltRequest(Body):
    """What is melted, in which furnace, with what."""

    makes = MeltCase
    alloy = AlloyField("The alloy; its properties are looked up.")
    properties = Nested(PropertiesBody, "Properties of the metal that you know better; they win.")
    melt_mass = Quantity("mass", "Metal to melt, of all heats together.", required=True)
    heats = Count("In how many equal heats; 1 if left out.", low=1, high=100)
    poured_mass = Quantity("mass", "What the moulds take of one heat; the rest is told.")
    addition = Quantity("mass", "What is added to one heat when it is molten.", bound=at_least(0.0))
    pouring_temperature = Quantity(
        "temperature", "How hot the metal leaves the furnace; left out, the middle of the alloy's range."
    )
    start_temperature = Quantity(
        "temperature", "Temperature of charge, lining, bottle and air before melting; 20 degC if left out."
    )
    mean_specific_heat = Quantity(
        "specific_heat",
        "Mean specific heat of the solid up to melting; left out, that at 20 degC raised as its family's.",
    )
    heat_content = Quantity(
        "latent_heat",
        "Heat from cold to pouring heat by mass, where you have it; no properties are then needed.",
    )
    furnace_hot = Flag("Whether the furnace is hot from an earlier heat; false if left out.")
    time = Quantity("time", "Time wanted for the first heat, from lighting to pouring heat.")
    form = Choice(
        tuple(SCRAP_FORMS),
        "How the charge lies in the crucible.",
        aliases={name: one.id for one in SCRAP_FORMS.values() for name in one.names},
    )
    bulk_density = Quantity("density", "Bulk density of the charge, where you have weighed a bucket of it.")
    last_lump = Quantity("mass", "Mass of the last lump; left out, an equal share of what is topped up.")
    crucible = Text("Name of the shop's crucible to use; left out, the smallest that does.")
    lifted_by = Choice(("one", "two", "hoist"), "Who lifts the crucible; one person if left out.")
    shop = Nested(ShopBody, "Furnace, bottle, crucibles and ingot moulds.")
    currency = Text("Name of the money that prices are in, such as EUR.", longest=12)

    def make(self, data: dict[str, Any]) -> Any:
        case: MeltCase = super().make(data)
        names = [pot.name for pot in case.shop.crucibles]
        if case.crucible is not None and case.crucible not in names:
            detail = f"the shop has no such crucible; it has {', '.join(names) or 'none'}"
            raise refused_at("crucible", "inconsistent", detail[:300])
        if case.last_lump is not None and case.last_lump > case.melt_mass:
            raise refused_at("last_lump", "inconsistent", "the last lump is more than the melt")
        return case


def _span(kind: str, what: str) -> type[Result]:
    """Three quantities: with a good, a likely and a poor efficiency."""
    fields = {
        "low": Quantity(kind, "The least, with a good efficiency.", bound=at_least(0.0), required=True),
        "likely": Quantity(kind, "What is likely.", bound=at_least(0.0), required=True),
        "high": Quantity(kind, "The most, with a poor efficiency.", bound=at_least(0.0), required=True),
    }
    about = {"__module__": __name__, "__doc__": f"{what}, by how good the furnace is."}
    return type(f"Melt{what}Span", (Result,), {**about, **fields})


MeltEnergySpan = _span("energy", "Energy")
MeltTimeSpan = _span("time", "Time")
MeltMassSpan = _span("mass", "Mass")
MeltVolumeSpan = _span("volume", "Volume")
MeltPowerSpan = _span("power", "Power")
MeltMoneySpan = _span("money", "Money")


class MeltEfficiencyResult(Result):
    """Shares of the heat paid for that reach the metal in a hot furnace."""

    low = Quantity("fraction", "Of a poor furnace.", required=True)
    likely = Quantity("fraction", "What is likely.", required=True)
    high = Quantity("fraction", "Of a good furnace.", required=True)


class MeltHeatResult(Result):
    """One heat, or all of them."""

    energy = Nested(MeltEnergySpan, "Heat of fuel (gross) or current.", required=True)
    fuel_mass = Nested(MeltMassSpan, "Mass of fuel; null for current.")
    time = Nested(MeltTimeSpan, "Time at full power; null where the power is not known.")


class MeltScrapResult(Result):
    """The charge as it lies."""

    bulk_density = Quantity("density", "Its bulk density.", required=True)
    bulk_volume = Quantity("volume", "Its volume before melting, of one heat.", required=True)
    charges = Count("How many times the crucible is filled up with it; null where it never suffices.")
    first_charge = Quantity("mass", "What goes in at first.")


class MeltCrucibleResult(Result):
    """The crucible with the melt in it."""

    name = Text("Which one.", required=True)
    brim_volume = Quantity("volume", "What it holds to the brim.", required=True)
    volume = Quantity("volume", "Liquid metal in it, additions included.", required=True)
    filling = Quantity("fraction", "How full it is.", required=True)
    holds = Quantity("mass", "What it holds of this metal when as full as it may be.", required=True)
    more_fits = Quantity("mass", "What may still be added.", bound=at_least(0.0), required=True)
    condition = Choice(
        ("sound", "glaze worn", "cracked", "unknown"), "What is known of its condition.", required=True
    )
    rated_to = Quantity("temperature", "What it is rated for, where that is known.")
    lifted_mass = Quantity("mass", "Crucible, metal and tongs.", required=True)


class MeltIngotResult(Result):
    """Ingot moulds of one size."""

    name = Text("Which.", required=True)
    count = Count("How many are filled.", required=True)


class MeltRestResult(Result):
    """What is left in the pot after pouring."""

    left = Quantity("mass", "Mass left of one heat.", bound=at_least(0.0), required=True)
    ingots = Nested(
        MeltIngotResult, "The ingot moulds that it fills, nine tenths full.", many=True, required=True
    )
    left_over_volume = Quantity("volume", "What no ingot mould takes.", bound=at_least(0.0), required=True)


class MeltBottleResult(Result):
    """The bottles of propane: one of them, where nothing else is said."""

    contents = Quantity("mass", "Gas in it at the start.", bound=at_least(0.0), required=True)
    count = Count("How many.", required=True)
    left = Quantity("mass", "What is likely to be left.", bound=at_least(0.0), required=True)
    draw_off = Quantity("mass_flow", "What is drawn from it; null where no time is known.")
    lasting_draw_off_low = Quantity(
        "mass_flow", "What it gives for ever in still air, at the end.", bound=at_least(0.0), required=True
    )
    lasting_draw_off_high = Quantity(
        "mass_flow", "The same in moving air.", bound=at_least(0.0), required=True
    )
    draw_off_low = Quantity("mass_flow", "What it gives for this time in still air.", bound=at_least(0.0))
    draw_off_high = Quantity("mass_flow", "The same in moving air.", bound=at_least(0.0))
    coldest = Quantity(
        "temperature", "Temperature of the liquid below which its pressure is too low.", required=True
    )
    too_cold_after_low = Quantity("time", "When it may be so cold; null for never.")
    too_cold_after_high = Quantity("time", "When it is so cold at the latest; null for never.")


class MeltResult(Result):
    """Heat, fuel, time and cost; crucible, bottle and rest."""

    heats = Count("Number of heats.")
    heat_mass = Quantity("mass", "Metal of one heat.")
    pouring_temperature = Quantity("temperature", "How hot it leaves the furnace.")
    start_temperature = Quantity("temperature", "Where it starts.")
    heat_content = Quantity("latent_heat", "Heat of the metal from cold to pouring heat, by mass.")
    metal_heat = Quantity("energy", "The same of one heat's metal.")
    lining_heat = Quantity("energy", "What a cold lining takes up in the first heat.", bound=at_least(0.0))
    crucible_heat = Quantity("energy", "What a cold crucible takes up.", bound=at_least(0.0))
    efficiency = Nested(MeltEfficiencyResult, "Share of the heat paid for that reaches the metal.")
    fuel = Text("What heats it, one of those of shop.furnace.fuel.")
    first_heat = Nested(MeltHeatResult, "The first heat, with a cold lining unless the furnace is hot.")
    following_heat = Nested(MeltHeatResult, "Each following heat, in a hot furnace.")
    all_heats = Nested(MeltHeatResult, "All heats together.")
    fuel_volume = Nested(MeltVolumeSpan, "Volume of the fuel of all heats: liquid, or gas at 0 degC.")
    cost = Nested(MeltMoneySpan, "What the fuel of all heats costs.")
    power_needed = Nested(MeltPowerSpan, "Power that keeps the time wanted.")
    last_lump_to_pouring = Nested(MeltTimeSpan, "From the last lump to pouring heat.")
    scrap = Nested(MeltScrapResult, "The charge as it lies.")
    crucible = Nested(MeltCrucibleResult, "The crucible.")
    bottle = Nested(MeltBottleResult, "The bottles of propane.")
    rest = Nested(MeltRestResult, "What is left after pouring.")


@endpoint(
    "POST",
    "/v1/melt",
    operation="melt",
    tag="Charge",
    summary="Heat, fuel, time and cost of a melt; whether crucible and gas bottle do",
    description=(
        "The heat that a metal takes from cold to pouring heat, what a cold lining swallows at the first "
        "heat, and so fuel, time, money and burner power, each as a range by how good the furnace is. With "
        "a crucible: whether it holds the melt, is sound, rated and can be lifted, how often scrap is topped "
        "up, and what is left. With a bottle of propane: whether it lasts and does not grow too cold."
    ),
    request=MeltRequest,
    answer=MeltResult,
    levers=MELT,
    examples={
        "silicon bronze from bolts, 30 kW of propane (invented)": {
            "alloy": "C87300",
            "melt_mass": "4.2 kg",
            "poured_mass": "3.8 kg",
            "form": "bolts",
            "pouring_temperature": "1150 degC",
            "currency": "EUR",
            "shop": {
                "place": "outdoors",
                "furnace": {
                    "fuel": "propane",
                    "power": "30 kW",
                    "lining_mass": "12 kg",
                    "fuel_price": "3.2 /kg",
                },
                "bottle": {"weight": "18.5 kg", "tare": "12 kg", "gas_pressure": "0.7 bar"},
                "crucibles": [
                    {
                        "name": "small",
                        "brim_volume": "0.8 L",
                        "mass": "1.6 kg",
                        "material": "clay graphite",
                        "condition": "sound",
                    },
                    {
                        "name": "middle",
                        "brim_volume": "1.5 L",
                        "mass": "2.4 kg",
                        "material": "clay graphite",
                        "condition": "sound",
                    },
                ],
                "ingot_moulds": [{"name": "muffin", "volume": "0.06 L", "count": 6}],
            },
        },
        "a small bottle that goes cold": {
            "alloy": "A356",
            "melt_mass": "5 kg",
            "heats": 2,
            "shop": {
                "furnace": {"fuel": "propane", "power": "60 kW", "lining_mass": "20 kg"},
                "bottle": {"contents": "2.5 kg", "diameter": "26 cm", "gas_pressure": "2 bar"},
            },
            "start_temperature": "5 degC",
        },
        "a crucible known by its number": {
            "alloy": "C36000",
            "melt_mass": "16 lb",
            "shop": {
                "furnace": {"fuel": "charcoal"},
                "crucibles": [{"name": "old pot", "number": "A8", "number_means": "kg of brass"}],
            },
        },
    },
)
def melt(case: MeltCase) -> Answer:
    return decide_melt(case)
