# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of limits."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from typing import Literal

    from .answer import Units
    from .models.limits import ExposureLimitList


class LimitsCalls(Transport):
    """The operations of limits."""

    def list_limits(
        self,
        *,
        substance: str | None = None,
        averaging: Literal["8 h", "15 min", "ceiling"] | None = None,
        units: Units | None = None,
    ) -> ExposureLimitList:
        """What may be in the air at work.

        Exposure limits of fume, dust and gas by authority, each with its source; with a substance asked for,
        the lowest first. They are for comparison: the law of the place and its authority decide, and no room
        ventilation makes lead or cadmium fume fit to breathe.

        substance: Only limits of this substance: its name (zinc oxide, lead), formula (SiO2) or the symbol of
            its metal (Zn).
        averaging: Only limits that are averaged over this time; a ceiling over no time at all.
        units: System of units of the answer; it never changes a decision.
        """
        from .models.limits import ExposureLimitList

        return self._fetch(
            "GET",
            "/v1/limits",
            ExposureLimitList,
            query={"substance": substance, "averaging": averaging},
            units=units,
        )
