# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of cooling curve."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from typing import Literal

    from .answer import Answer, Remedies, Units
    from .models.cooling_curve import CoolingCurveResult
    from .models.sections import SectionInput
    from .quantity import FractionInput, JsonObject, QuantityInput, Series


class CoolingCurveCalls(Transport):
    """The operations of cooling curve."""

    def cooling_curve(
        self,
        *,
        times: Series | JsonObject,
        temperatures: Series | JsonObject,
        alloy: str | None = None,
        ladder: Literal["Al-Mg", "Al-Si", "Cu-Zn"] | None = None,
        section: SectionInput | None = None,
        modulus: QuantityInput | None = None,
        modulus_spread: FractionInput | None = None,
        smoothing: QuantityInput | None = None,
        surroundings: QuantityInput | None = None,
        thermocouple_error: QuantityInput | None = None,
        correction: QuantityInput | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[CoolingCurveResult]:
        """Liquidus and solidus from the cooling curve of a sample cup.

        The log of a thermocouple in a sample cup gives the arrests of the metal with their intervals: where
        it starts to freeze, where it rests, where it is solid, how long that took, and so the cup's mould
        constant. For metals of two elements the liquidus tells the composition; a third element lowers it too
        and would be counted as more of the second. Arrests within about 2 K of each other are read as one. It
        is no analysis: lead, cadmium or beryllium do not show in it.

        times: When each reading was taken; they rise.
        temperatures: What was read.
        alloy: The alloy that it should be; its liquidus is compared.
        ladder: The two elements that it is made of: the liquidus then tells how much of the second it holds.
        section: The metal in the cup, as a simple body: it tells the cup's mould constant.
        modulus: Its modulus, volume over cooling surface, instead of the section.
        modulus_spread: How far the modulus may be off, a share of it.
        smoothing: Time over which the rate of cooling is smoothed; left out, by the noise.
        surroundings: Temperature of the room; left out, 20 degC.
        thermocouple_error: How far the thermocouple may be off, each way, 5 to 95 per cent; left out, a type
            K of class 1.
        correction: Added to every reading: what a pure metal's arrest has told of the thermocouple.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.cooling_curve import CoolingCurveResult

        return self._ask(
            "/v1/cooling-curve",
            CoolingCurveResult,
            {
                "times": times,
                "temperatures": temperatures,
                "alloy": alloy,
                "ladder": ladder,
                "section": section,
                "modulus": modulus,
                "modulus_spread": modulus_spread,
                "smoothing": smoothing,
                "surroundings": surroundings,
                "thermocouple_error": thermocouple_error,
                "correction": correction,
            },
            units,
            working,
            remedies,
        )
