# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of freezing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .answer import Answer, Remedies, Units
    from .models.common import MouldInput, PropertiesInput
    from .models.freezing import FreezingResult, TrialInput
    from .models.sections import SectionInput
    from .quantity import JsonObject, QuantityInput


class FreezingCalls(Transport):
    """The operations of freezing."""

    def freezing(
        self,
        *,
        sections: Sequence[SectionInput],
        alloy: str | None = None,
        properties: PropertiesInput | JsonObject | None = None,
        mould: MouldInput | JsonObject | None = None,
        mould_constant: QuantityInput | None = None,
        trial: TrialInput | JsonObject | None = None,
        pouring_temperature: QuantityInput | None = None,
        temperature_fall: QuantityInput | None = None,
        curvature: bool | None = None,
        feeds_to: str | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[FreezingResult]:
        """Which section freezes last, and when.

        Modulus and freezing time of every section, the order of freezing, whether feed metal can reach each
        section, and how heavy the metal is where sections meet. The mould constant is taken as given, from a
        trial casting, or computed from the properties of metal and mould.

        sections: The casting, as simple bodies.
        alloy: The alloy; its properties are looked up.
        properties: Properties of the metal that you know better; they win.
        mould: What the mould is made of.
        mould_constant: Chvorinov's constant, where you have one; it replaces the properties.
        trial: A trial casting from which the mould constant follows.
        pouring_temperature: How hot the metal leaves the crucible.
        temperature_fall: How much it cools until the mould is full.
        curvature: Whether curved surfaces are corrected for; left out, the kind of metal decides.
        feeds_to: The section that the riser stands on; left out, the one that freezes last.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.freezing import FreezingResult

        return self._ask(
            "/v1/freezing",
            FreezingResult,
            {
                "sections": sections,
                "alloy": alloy,
                "properties": properties,
                "mould": mould,
                "mould_constant": mould_constant,
                "trial": trial,
                "pouring_temperature": pouring_temperature,
                "temperature_fall": temperature_fall,
                "curvature": curvature,
                "feeds_to": feeds_to,
            },
            units,
            working,
            remedies,
        )
