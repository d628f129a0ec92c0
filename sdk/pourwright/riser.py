# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of riser."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .answer import Answer, Remedies, Units
    from .models.common import MouldInput, PropertiesInput
    from .models.freezing import TrialInput
    from .models.riser import CastingInput, DistanceInput, RiserInput, RiserResult
    from .models.sections import SectionInput
    from .quantity import FractionInput, JsonObject, QuantityInput


class RiserCalls(Transport):
    """The operations of riser."""

    def riser(
        self,
        *,
        sections: Sequence[SectionInput] | None = None,
        casting: CastingInput | JsonObject | None = None,
        riser: RiserInput | JsonObject | None = None,
        risers: Sequence[RiserInput | JsonObject] | None = None,
        several: bool | None = None,
        distances: Sequence[DistanceInput | JsonObject] | None = None,
        alternatives: bool | None = None,
        sleeve_ratio: float | None = None,
        metal_price: QuantityInput | None = None,
        return_value: FractionInput | None = None,
        currency: str | None = None,
        alloy: str | None = None,
        properties: PropertiesInput | JsonObject | None = None,
        mould: MouldInput | JsonObject | None = None,
        mould_constant: QuantityInput | None = None,
        trial: TrialInput | JsonObject | None = None,
        pouring_temperature: QuantityInput | None = None,
        temperature_fall: QuantityInput | None = None,
        curvature: bool | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[RiserResult]:
        """The riser that keeps feeding the casting.

        The smallest riser that freezes after the casting and holds enough metal, by four criteria side by
        side, rounded up to what can be made and judged as it will be made. A riser that is already made
        (diameter, height) is judged alone. Heavy sections that metal cannot reach get risers of their own, by
        how the metal freezes; the fields of a single riser are then those of the main one and of what it
        feeds.

        sections: The casting, as simple bodies.
        casting: The casting by its figures, instead of sections or beside them.
        riser: What is wanted of the riser; also of those added for other heavy sections.
        risers: Several risers, each next to its section, instead of riser.
        several: Whether heavy sections that the riser cannot reach get risers of their own; they do unless
            told otherwise.
        distances: How far apart heavy sections are, where one riser might feed both.
        alternatives: Whether other risers that would do are shown beside the main one.
        sleeve_ratio: How many times a sleeve at hand raises a riser's modulus; for the alternative with a
            sleeve.
        metal_price: What the metal costs; risers are then told in money too.
        return_value: What returned metal is worth, as a share of the price.
        currency: Name of the money that the price is in, such as EUR.
        alloy: The alloy; its properties are looked up.
        properties: Properties of the metal that you know better; they win.
        mould: What the mould is made of.
        mould_constant: Chvorinov's constant, where you have one; it replaces the properties.
        trial: A trial casting from which the mould constant follows.
        pouring_temperature: How hot the metal leaves the crucible.
        temperature_fall: How much it cools until the mould is full.
        curvature: Whether curved surfaces are corrected for; left out, the kind of metal decides.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.riser import RiserResult

        return self._ask(
            "/v1/riser",
            RiserResult,
            {
                "sections": sections,
                "casting": casting,
                "riser": riser,
                "risers": risers,
                "several": several,
                "distances": distances,
                "alternatives": alternatives,
                "sleeve_ratio": sleeve_ratio,
                "metal_price": metal_price,
                "return_value": return_value,
                "currency": currency,
                "alloy": alloy,
                "properties": properties,
                "mould": mould,
                "mould_constant": mould_constant,
                "trial": trial,
                "pouring_temperature": pouring_temperature,
                "temperature_fall": temperature_fall,
                "curvature": curvature,
            },
            units,
            working,
            remedies,
        )
