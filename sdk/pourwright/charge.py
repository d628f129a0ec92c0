# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of charge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from typing import Literal

    from .answer import Answer, Remedies, Units
    from .models.charge import ChargeResult, HeelInput, StockInput
    from .quantity import JsonObject, QuantityInput


class ChargeCalls(Transport):
    """The operations of charge."""

    def charge(
        self,
        *,
        melt_mass: QuantityInput,
        stock: Sequence[StockInput | JsonObject],
        alloy: str | None = None,
        limits_percent: Mapping[str, float | Sequence[float | None]] | None = None,
        unnamed_percent: float | None = None,
        aim_percent: Mapping[str, float] | None = None,
        heel: HeelInput | JsonObject | None = None,
        recovery_percent: float | Sequence[float] | Mapping[str, float | Sequence[float]] | None = None,
        margin: Literal["robust", "nominal"] | None = None,
        objective: Literal["least_cost", "most_scrap", "closest_to_aim"] | None = None,
        smallest_lot: QuantityInput | None = None,
        smallest_addition: QuantityInput | None = None,
        currency: str | None = None,
        explain: bool | None = None,
        relaxation: bool | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[ChargeResult]:
        """Which mix of the stock makes this melt.

        The cheapest charge (or the one of most scrap, or nearest to the aim) whose melt keeps every limit,
        losses counted element by element. By default it keeps them wherever the recoveries fall in their
        ranges, and the price of that certainty is given. Whole pieces, smallest lots, a heel and least uses
        are honoured. Where the stock does not do, the nearest charge is given, what binds it, and the
        smallest purchase that mends it. A charge already decided (charged) is judged alone.

        melt_mass: Molten metal wanted, after loss, the heel included.
        stock: The stock.
        alloy: The alloy wanted; its limits are looked up.
        limits_percent: Limits of the melt, per cent of mass by element: [low, high], null where there is
            none. They replace the alloy's.
        unnamed_percent: What all elements together may make that the alloy does not name, per cent; more is
            warned of.
        aim_percent: The composition aimed at; left out, the alloy's nominal one.
        heel: What is already molten in the pot.
        recovery_percent: What is left in the melt of each element charged, per cent: a number, or [low,
            high]; one figure instead of the map stands for all. Left out, the tables' by base metal and form.
        margin: Whether limits are kept wherever recoveries and compositions fall in their ranges (robust, the
            default), or at the middle of the ranges.
        objective: What the best charge is. The default is least cost, and most scrap where no item has a
            price.
        smallest_lot: Scrap and ingot are used in at least this mass or not at all; the default is 2 % of the
            melt.
        smallest_addition: Pure metals and master alloys are used in at least this mass or not at all; the
            default is 5 g.
        currency: Name of the money that prices are in, such as EUR.
        explain: Whether to work out of each stock item why no more of it is charged: one lot more is forced
            in, and what breaks, or what it costs, is told. It takes a solve for each; the default is yes for
            up to 12 items.
        relaxation: Whether to work out what each limit costs: it is widened by a tenth of itself and the
            charge solved again. The default is no.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.charge import ChargeResult

        return self._ask(
            "/v1/charge",
            ChargeResult,
            {
                "melt_mass": melt_mass,
                "stock": stock,
                "alloy": alloy,
                "limits_percent": limits_percent,
                "unnamed_percent": unnamed_percent,
                "aim_percent": aim_percent,
                "heel": heel,
                "recovery_percent": recovery_percent,
                "margin": margin,
                "objective": objective,
                "smallest_lot": smallest_lot,
                "smallest_addition": smallest_addition,
                "currency": currency,
                "explain": explain,
                "relaxation": relaxation,
            },
            units,
            working,
            remedies,
        )
