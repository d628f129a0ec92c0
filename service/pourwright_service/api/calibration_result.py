"""The answer of /v1/calibration."""

from collections.abc import Mapping
from typing import Any

from .fields import Described
from .quantities import write
from .schemas import Choice, Nested, Number, Quantity, Result, Text, Texts, at_least


class MergePatch(Described):
    """Answers only: a part of a request, to be merged into it (JSON Merge Patch, RFC 7396)."""

    def show(self, value: Mapping[str, Any]) -> Any:
        shown = value["value"] if value["kind"] == "map" else write(value["kind"], value["value"])
        for step in reversed(value["place"].split("/")):
            shown = {step: shown}
        return shown

    def request_document(self) -> dict[str, Any]:
        return {"type": "object"}


class ReadingResult(Result):
    """What one measurement alone says."""

    place = Text("Where it stands in the request.", required=True)
    name = Text("What it is called.", required=True)
    misfit = Number("Standard deviations off everything else; null where there is nothing else.")


class EstimateResult(Result):
    """What prior knowledge and trials say together; intervals hold 5 to 95 per cent."""

    spread = Quantity("fraction", "Half-width of low to high: a share of the value; of a contraction points.")
    next_spread = Quantity("fraction", "The same for the next casting or heat.")
    weight = Quantity("fraction", "Share of the certainty that comes from the trials.", required=True)
    goes_to = Text("The field of later requests that it belongs to; null where there is none.")


def _estimate(name: str, kind: str, words: str, **more: Any) -> type[Result]:
    """The schema of one estimated quantity, and within it that of its readings."""
    bound = at_least(-1.0)

    def figure(says: str, *, required: bool = False) -> Quantity:
        return Quantity(kind, says, bound=bound, required=required)

    reading = type(
        f"{name}ReadingResult",
        (ReadingResult,),
        {
            "__doc__": f"What one measurement alone says of the {words}.",
            "__module__": __name__,
            "value": figure("What it says."),
            "low": figure("Low end of its own uncertainty."),
            "high": figure("High end."),
        },
    )
    fields: dict[str, Any] = {
        "__doc__": f"The {words}: expectation and trials together, intervals 5 to 95 per cent.",
        "__module__": __name__,
        "value": figure("The middle: as likely more as less."),
        "low": figure("Low end."),
        "high": figure("High end."),
        "next_low": figure("Low end for the next casting or heat, which differs from the middle."),
        "next_high": figure("High end for the next."),
        "expected": figure("What was expected before the trials; null where nothing was."),
        "expected_low": figure("Its low end."),
        "expected_high": figure("Its high end."),
        "readings": Nested(reading, "What each trial alone says.", many=True, required=True),
        **more,
    }
    return type(f"{name}Result", (EstimateResult,), fields)


_METHOD = Choice(("bare", "curvature"), "Chvorinov's rule as printed, or corrected for curved surfaces.")
MouldConstantEstimate = _estimate("MouldConstantEstimate", "mould_constant", "mould constant", method=_METHOD)
EfficiencyEstimate = _estimate("EfficiencyEstimate", "fraction", "feeding efficiency")
ContractionEstimate = _estimate("ContractionEstimate", "fraction", "contraction")
YieldEstimate = _estimate("YieldEstimate", "fraction", "metal that comes out of what is charged")
RecoveryEstimate = _estimate(
    "RecoveryEstimate", "fraction", "recovery of an element", element=Text("The element.", required=True)
)


class MeltingLossResult(Result):
    """Metal lost in melting, a share of what is charged."""

    value = Quantity("fraction", "The middle.", bound=at_least(-10.0), required=True)
    low = Quantity("fraction", "Low end, 5 per cent.", bound=at_least(-10.0), required=True)
    high = Quantity("fraction", "High end, 95 per cent.", bound=at_least(-10.0), required=True)


class UseResult(Result):
    """A part of later requests."""

    calls = Texts("The calls that take it: freezing for /v1/freezing, and so on.", required=True)
    merge = MergePatch("Merge this into the request (JSON Merge Patch, RFC 7396).", required=True)


class CalibrationResult(Result):
    """What the trials tell, and where it goes."""

    mould_constant = Nested(MouldConstantEstimate, "The mould constant; null without trials.")
    feeding_efficiency = Nested(EfficiencyEstimate, "The feeding efficiency; null without a drained riser.")
    contraction = Nested(ContractionEstimate, "The contraction; null without lengths.")
    recoveries = Nested(
        RecoveryEstimate, "Recoveries of the elements charged and analysed.", many=True, required=True
    )
    melting_yield = Nested(YieldEstimate, "What comes out of the pot; null without heats.")
    melting_loss = Nested(MeltingLossResult, "The rest of it: what melting loses.")
    not_charged = Texts("Elements in an analysis that nothing charged is said to hold.", required=True)
    use = Nested(
        UseResult,
        "What later requests can be told: for recoveries the range of the next heat, for the others the "
        "middle. A mould constant found with the correction for curved surfaces goes with the same alloy "
        "and mould.",
        many=True,
        required=True,
    )
