# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of calibration."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from .answer import Answer, Remedies, Units
    from .models.calibration import (
        HeatReadingInput,
        LengthReadingInput,
        RiserKindInput,
        RiserReadingInput,
        ScatterInput,
        SpreadsInput,
        TrialReadingInput,
    )
    from .models.calibration_result import CalibrationResult
    from .models.common import MouldInput, PropertiesInput
    from .quantity import JsonObject, QuantityInput


class CalibrationCalls(Transport):
    """The operations of calibration."""

    def calibration(
        self,
        *,
        trials: Sequence[TrialReadingInput | JsonObject] | None = None,
        risers: Sequence[RiserReadingInput | JsonObject] | None = None,
        heats: Sequence[HeatReadingInput | JsonObject] | None = None,
        lengths: Sequence[LengthReadingInput | JsonObject] | None = None,
        alloy: str | None = None,
        properties: PropertiesInput | JsonObject | None = None,
        mould: MouldInput | JsonObject | None = None,
        mould_constant: QuantityInput | None = None,
        pouring_temperature: QuantityInput | None = None,
        temperature_fall: QuantityInput | None = None,
        curvature: bool | None = None,
        riser: RiserKindInput | JsonObject | None = None,
        recovery_percent: float | Sequence[float] | Mapping[str, float | Sequence[float]] | None = None,
        spreads: SpreadsInput | JsonObject | None = None,
        scatter: ScatterInput | JsonObject | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[CalibrationResult]:
        """What your own trials say of mould, risers, melting and contraction.

        Trial castings that froze in measured times, risers cut open, weighed and analysed heats, and lengths
        of patterns and castings, weighed against what the tables expect, each by its certainty (Bayes' rule
        for normal errors, which is least squares). Every figure comes with its interval and with the field of
        later requests that it goes to; a trial that does not fit is pointed at. Errors that all trials share
        (a clock that runs fast, one wrong analysis of the stock) are not averaged out and not seen.

        trials: Trial castings: they tell the mould constant.
        risers: Risers of one kind, cut open: they tell the feeding efficiency.
        heats: Heats of one base metal: they tell recoveries and the melting loss.
        lengths: Lengths of patterns and castings: they tell the contraction.
        alloy: The alloy of all that was measured.
        properties: Properties of the metal that you know better; they win.
        mould: What the moulds were made of.
        mould_constant: What you reckoned with until now; left out, it follows from metal and mould.
        pouring_temperature: How hot the trial castings were poured.
        temperature_fall: How much the metal cooled until the mould was full.
        curvature: Whether curved surfaces are corrected for; left out, the kind of metal decides.
        riser: The kind of riser that was tried.
        recovery_percent: Recoveries that you reckoned with until now, per cent by element; left out, the
            tables'.
        spreads: How far off what was expected may be; recoveries carry their own range.
        scatter: How much each differs from one casting or heat to the next.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.calibration_result import CalibrationResult

        return self._ask(
            "/v1/calibration",
            CalibrationResult,
            {
                "trials": trials,
                "risers": risers,
                "heats": heats,
                "lengths": lengths,
                "alloy": alloy,
                "properties": properties,
                "mould": mould,
                "mould_constant": mould_constant,
                "pouring_temperature": pouring_temperature,
                "temperature_fall": temperature_fall,
                "curvature": curvature,
                "riser": riser,
                "recovery_percent": recovery_percent,
                "spreads": spreads,
                "scatter": scatter,
            },
            units,
            working,
            remedies,
        )
