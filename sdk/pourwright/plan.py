# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .answer import Answer, Remedies, Units
    from .models.charge import HeelInput, StockInput
    from .models.common import MouldInput, PropertiesInput
    from .models.gating import GatingWishesInput
    from .models.plan import ChargeWishesInput, PartInput, PlanRiserInput, PourInput
    from .models.plan_result import PlanResult
    from .models.pour_time import CarriedPotInput
    from .models.shop import ShopInput
    from .quantity import JsonObject, QuantityInput


class PlanCalls(Transport):
    """The operations of plan."""

    def plan(
        self,
        *,
        part: PartInput | JsonObject,
        alloy: str | None = None,
        properties: PropertiesInput | JsonObject | None = None,
        mould: MouldInput | JsonObject | None = None,
        mould_constant: QuantityInput | None = None,
        pouring_temperature: QuantityInput | None = None,
        temperature_fall: QuantityInput | None = None,
        curvature: bool | None = None,
        gravity: QuantityInput | None = None,
        freeze_map: bool | None = None,
        gating: GatingWishesInput | JsonObject | None = None,
        pour: PourInput | JsonObject | None = None,
        pot: CarriedPotInput | JsonObject | None = None,
        riser: PlanRiserInput | JsonObject | None = None,
        stock: Sequence[StockInput | JsonObject] | None = None,
        charge: ChargeWishesInput | JsonObject | None = None,
        heel: HeelInput | JsonObject | None = None,
        shop: ShopInput | JsonObject | None = None,
        currency: str | None = None,
        title: str | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[PlanResult]:
        """The whole pour plan of a part, consistent with itself.

        Order of freezing, riser, pattern scale, what is poured, how hot and in what time, through which
        gating, from which charge, in which crucible and flask, and what must lie on the cope. The parts of
        the plan are iterated until they agree. Times and riser come from the sections; a mesh alone gives
        volume, size and lift, and leaves the riser unknown.

        part: The part.
        alloy: The alloy; its properties and limits are looked up.
        properties: Properties of the metal that you know better; they win.
        mould: What the mould is made of.
        mould_constant: Chvorinov's constant, where you have one.
        pouring_temperature: How hot the metal leaves the crucible.
        temperature_fall: How much it cools until the mould is full.
        curvature: Whether curved surfaces are corrected for; left out, the kind of metal decides.
        gravity: Gravity; left out, 9.80665 m/s^2. Printed exercises often use 9.81 or 10.
        freeze_map: Whether the mesh is frozen in a coarse freeze map; it is, unless this is false. Without
            sections the riser follows from the map.
        gating: What is wanted of sprue, runner and gates.
        pour: What is wanted of the pour.
        pot: The pot that carries the metal; left out, the crucible chosen, if its mouth is known.
        riser: What is wanted of the riser.
        stock: The stock to melt.
        charge: How the charge is chosen.
        heel: What is already molten in the pot.
        shop: What the workshop has.
        currency: Name of the money that prices are in, such as EUR.
        title: What you call this job; it is given back as it is.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.plan_result import PlanResult

        return self._ask(
            "/v1/plan",
            PlanResult,
            {
                "part": part,
                "alloy": alloy,
                "properties": properties,
                "mould": mould,
                "mould_constant": mould_constant,
                "pouring_temperature": pouring_temperature,
                "temperature_fall": temperature_fall,
                "curvature": curvature,
                "gravity": gravity,
                "freeze_map": freeze_map,
                "gating": gating,
                "pour": pour,
                "pot": pot,
                "riser": riser,
                "stock": stock,
                "charge": charge,
                "heel": heel,
                "shop": shop,
                "currency": currency,
                "title": title,
            },
            units,
            working,
            remedies,
        )
