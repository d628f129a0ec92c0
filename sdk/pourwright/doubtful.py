# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of doubtful."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from .answer import Units
    from .models.doubtful import DoubtfulFigureList


class DoubtfulCalls(Transport):
    """The operations of doubtful."""

    def list_doubtful_figures(
        self,
        *,
        units: Units | None = None,
    ) -> DoubtfulFigureList:
        """Figures that are from memory or estimated by rule.

        The honest list of what is still to be looked up or measured, made from the tables. Each works as a
        default and says so; a figure of your own always wins. /docs/doubtful-figures shows it as a page.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.doubtful import DoubtfulFigureList

        return self._fetch(
            "GET",
            "/v1/doubtful-figures",
            DoubtfulFigureList,
            units=units,
        )
