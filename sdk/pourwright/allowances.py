# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of allowances."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from .answer import Units
    from .models.allowances import AllowancesResult


class AllowancesCalls(Transport):
    """The operations of allowances."""

    def get_allowances(
        self,
        *,
        units: Units | None = None,
    ) -> AllowancesResult:
        """Tolerances, machining allowances, draft and contraction.

        By size and grade how near a raw casting comes to its drawing and what is left for machining; which
        grades a way of moulding holds; draft; contraction by metal as the sources report it and as
        calculations take it.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.allowances import AllowancesResult

        return self._fetch(
            "GET",
            "/v1/allowances",
            AllowancesResult,
            units=units,
        )
