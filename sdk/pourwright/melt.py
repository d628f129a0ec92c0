# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of melt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from typing import Literal, TypeAlias

    from .answer import Answer, Remedies, Units
    from .models.common import PropertiesInput
    from .models.melt import MeltResult
    from .models.shop import ShopInput
    from .quantity import JsonObject, QuantityInput

    MeltForm: TypeAlias = Literal[
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


class MeltCalls(Transport):
    """The operations of melt."""

    def melt(
        self,
        *,
        melt_mass: QuantityInput,
        alloy: str | None = None,
        properties: PropertiesInput | JsonObject | None = None,
        heats: int | None = None,
        poured_mass: QuantityInput | None = None,
        addition: QuantityInput | None = None,
        pouring_temperature: QuantityInput | None = None,
        start_temperature: QuantityInput | None = None,
        mean_specific_heat: QuantityInput | None = None,
        heat_content: QuantityInput | None = None,
        furnace_hot: bool | None = None,
        time: QuantityInput | None = None,
        form: MeltForm | None = None,
        bulk_density: QuantityInput | None = None,
        last_lump: QuantityInput | None = None,
        crucible: str | None = None,
        lifted_by: Literal["one", "two", "hoist"] | None = None,
        shop: ShopInput | JsonObject | None = None,
        currency: str | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[MeltResult]:
        """Heat, fuel, time and cost of a melt; whether crucible and gas bottle do.

        The heat that a metal takes from cold to pouring heat, what a cold lining swallows at the first heat,
        and so fuel, time, money and burner power, each as a range by how good the furnace is. With a
        crucible: whether it holds the melt, is sound, rated and can be lifted, how often scrap is topped up,
        and what is left. With a bottle of propane: whether it lasts and does not grow too cold.

        melt_mass: Metal to melt, of all heats together.
        alloy: The alloy; its properties are looked up.
        properties: Properties of the metal that you know better; they win.
        heats: In how many equal heats; 1 if left out.
        poured_mass: What the moulds take of one heat; the rest is told.
        addition: What is added to one heat when it is molten.
        pouring_temperature: How hot the metal leaves the furnace; left out, the middle of the alloy's range.
        start_temperature: Temperature of charge, lining, bottle and air before melting; 20 degC if left out.
        mean_specific_heat: Mean specific heat of the solid up to melting; left out, that at 20 degC raised as
            its family's.
        heat_content: Heat from cold to pouring heat by mass, where you have it; no properties are then
            needed.
        furnace_hot: Whether the furnace is hot from an earlier heat; false if left out.
        time: Time wanted for the first heat, from lighting to pouring heat.
        form: How the charge lies in the crucible.
        bulk_density: Bulk density of the charge, where you have weighed a bucket of it.
        last_lump: Mass of the last lump; left out, an equal share of what is topped up.
        crucible: Name of the shop's crucible to use; left out, the smallest that does.
        lifted_by: Who lifts the crucible; one person if left out.
        shop: Furnace, bottle, crucibles and ingot moulds.
        currency: Name of the money that prices are in, such as EUR.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.melt import MeltResult

        return self._ask(
            "/v1/melt",
            MeltResult,
            {
                "melt_mass": melt_mass,
                "alloy": alloy,
                "properties": properties,
                "heats": heats,
                "poured_mass": poured_mass,
                "addition": addition,
                "pouring_temperature": pouring_temperature,
                "start_temperature": start_temperature,
                "mean_specific_heat": mean_specific_heat,
                "heat_content": heat_content,
                "furnace_hot": furnace_hot,
                "time": time,
                "form": form,
                "bulk_density": bulk_density,
                "last_lump": last_lump,
                "crucible": crucible,
                "lifted_by": lifted_by,
                "shop": shop,
                "currency": currency,
            },
            units,
            working,
            remedies,
        )
