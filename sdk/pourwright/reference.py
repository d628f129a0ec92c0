# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of reference."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from .answer import Units
    from .models.reference import CheckKindList, FormulaList, SourceList


class ReferenceCalls(Transport):
    """The operations of reference."""

    def list_formulas(
        self,
        *,
        units: Units | None = None,
    ) -> FormulaList:
        """Every formula that the engine uses.

        Expression, symbols, range, source: the handbook that the service publishes about itself.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.reference import FormulaList

        return self._fetch(
            "GET",
            "/v1/formulas",
            FormulaList,
            units=units,
        )

    def list_checks(
        self,
        *,
        units: Units | None = None,
    ) -> CheckKindList:
        """Every kind of check.

        The catalogue of checks that answers are judged by.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.reference import CheckKindList

        return self._fetch(
            "GET",
            "/v1/checks",
            CheckKindList,
            units=units,
        )

    def list_sources(
        self,
        *,
        units: Units | None = None,
    ) -> SourceList:
        """Where figures, rules and formulas come from.

        Every source once; 'common practice' and 'from memory' are named as such.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.reference import SourceList

        return self._fetch(
            "GET",
            "/v1/sources",
            SourceList,
            units=units,
        )
