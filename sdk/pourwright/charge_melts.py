# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of charge melts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from typing import Literal

    from .answer import Answer, Remedies, Units
    from .models.charge import StockInput
    from .models.charge_melts import MeltInput, MeltsResult
    from .quantity import JsonObject, QuantityInput


class ChargeMeltsCalls(Transport):
    """The operations of charge melts."""

    def charge_melts(
        self,
        *,
        melts: Sequence[MeltInput | JsonObject],
        stock: Sequence[StockInput | JsonObject],
        recovery_percent: float | Sequence[float] | Mapping[str, float | Sequence[float]] | None = None,
        margin: Literal["robust", "nominal"] | None = None,
        smallest_lot: QuantityInput | None = None,
        smallest_addition: QuantityInput | None = None,
        currency: str | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[MeltsResult]:
        """Charges of several melts from one stock.

        The cheapest charges, all together, of several melts that share one stock: each keeps the limits of
        its own alloy, and no item is used twice. Where the stock does not make all of them, as much of each
        is made as can be within its limits, and it is said which fall short or cannot be made, and what is
        nearest.

        melts: The melts.
        stock: The stock.
        recovery_percent: What is left in the melt of each element charged, per cent: a number, or [low,
            high]; one figure instead of the map stands for all. Left out, the tables' by each melt's base
            metal.
        margin: Whether limits are kept wherever recoveries and compositions fall in their ranges (robust, the
            default), or at the middle of the ranges.
        smallest_lot: Scrap and ingot are used in at least this mass or not at all; left out, 2 % of each
            melt.
        smallest_addition: Pure metals and master alloys are used in at least this mass or not at all; left
            out, 5 g.
        currency: Name of the money that prices are in, such as EUR.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.charge_melts import MeltsResult

        return self._ask(
            "/v1/charge/melts",
            MeltsResult,
            {
                "melts": melts,
                "stock": stock,
                "recovery_percent": recovery_percent,
                "margin": margin,
                "smallest_lot": smallest_lot,
                "smallest_addition": smallest_addition,
                "currency": currency,
            },
            units,
            working,
            remedies,
        )
