# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of health."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from .answer import Units
    from .models.health import HealthResult, ReadyResult


class HealthCalls(Transport):
    """The operations of health."""

    def health(
        self,
        *,
        units: Units | None = None,
    ) -> HealthResult:
        """Whether the process is alive.

        Answers as long as the process does; needs no key.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.health import HealthResult

        return self._fetch(
            "GET",
            "/healthz",
            HealthResult,
            units=units,
        )

    def ready(
        self,
        *,
        units: Units | None = None,
    ) -> ReadyResult:
        """Whether the service can serve.

        The tables are loaded and meshes can be stored; needs no key. 503 otherwise.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.health import ReadyResult

        return self._fetch(
            "GET",
            "/readyz",
            ReadyResult,
            units=units,
        )
