# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of charge makes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from typing import Literal

    from .answer import Answer, Remedies, Units
    from .models.charge import StockInput
    from .models.charge_makes import MakesResult
    from .quantity import JsonObject, QuantityInput


class ChargeMakesCalls(Transport):
    """The operations of charge makes."""

    def charge_makes(
        self,
        *,
        stock: Sequence[StockInput | JsonObject],
        melt_mass: QuantityInput | None = None,
        alloys: Sequence[str] | None = None,
        whole: int | None = None,
        margin: Literal["robust", "nominal"] | None = None,
        recovery_percent: float | Sequence[float] | Mapping[str, float | Sequence[float]] | None = None,
        smallest_lot: QuantityInput | None = None,
        smallest_addition: QuantityInput | None = None,
        currency: str | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[MakesResult]:
        """Which alloys this stock can make.

        Every alloy of the table whose limits a mix of this stock keeps, ranked by the share of the stock that
        goes into it: how much of it, what it costs, which limits keep the rest of the stock out. Of the
        others, one limit that stands in the way. The best few are worked out with whole pieces and smallest
        lots.

        stock: The stock.
        melt_mass: Molten metal wanted, after loss; left out, as much as the stock makes of each alloy.
        alloys: The alloys to look at; left out, all of the table.
        whole: So many of the best are worked out again with whole pieces and smallest lots; the others leave
            them aside. The default is 5.
        margin: Whether limits are kept wherever recoveries and compositions fall in their ranges (robust, the
            default), or at the middle of the ranges. What is not certain of anything is shown at the middle.
        recovery_percent: What is left in the melt of each element charged, per cent: a number, or [low,
            high]; one figure instead of the map stands for all. Left out, the tables' by each alloy's base
            metal.
        smallest_lot: Scrap and ingot are used in at least this mass or not at all; left out, 2 % of each
            melt.
        smallest_addition: Pure metals and master alloys are used in at least this mass or not at all; left
            out, 5 g.
        currency: Name of the money that prices are in, such as EUR.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.charge_makes import MakesResult

        return self._ask(
            "/v1/charge/makes",
            MakesResult,
            {
                "stock": stock,
                "melt_mass": melt_mass,
                "alloys": alloys,
                "whole": whole,
                "margin": margin,
                "recovery_percent": recovery_percent,
                "smallest_lot": smallest_lot,
                "smallest_addition": smallest_addition,
                "currency": currency,
            },
            units,
            working,
            remedies,
        )
