# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of catalogue."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from .answer import Units
    from .models.catalogue import ElementList, MouldList


class CatalogueCalls(Transport):
    """The operations of catalogue."""

    def list_moulds(
        self,
        *,
        units: Units | None = None,
    ) -> MouldList:
        """The moulding media of the tables.

        Every medium with its figures and their sources.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.catalogue import MouldList

        return self._fetch(
            "GET",
            "/v1/moulds",
            MouldList,
            units=units,
        )

    def list_elements(
        self,
        *,
        units: Units | None = None,
    ) -> ElementList:
        """The elements of the tables.

        Every element with its figures and their sources.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.catalogue import ElementList

        return self._fetch(
            "GET",
            "/v1/elements",
            ElementList,
            units=units,
        )
