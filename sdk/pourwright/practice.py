# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of practice."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from .answer import Units
    from .models.practice import PracticeResult


class PracticeCalls(Transport):
    """The operations of practice."""

    def get_practice(
        self,
        *,
        units: Units | None = None,
    ) -> PracticeResult:
        """Pouring temperatures, gating ratios, thin walls, zinc vapour.

        Figures of practice with their sources: they are compared with and warned by, and decide nothing
        alone.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.practice import PracticeResult

        return self._fetch(
            "GET",
            "/v1/practice",
            PracticeResult,
            units=units,
        )
