"""POST /v1/cooling-curve."""

from typing import Any

import numpy as np

from ..engine.answer import Answer
from ..engine.decide.cooling_curve import CoolingCurveCase, decide_cooling_curve
from ..engine.tables.liquidus_ladders import LADDERS
from .calibration import SPREAD
from .calibration_result import UseResult
from .fields import Series, check_items, each, strict_number
from .problems import refused
from .quantities import BadQuantity, read
from .registry import endpoint
from .schemas import (
    AlloyField,
    Body,
    Choice,
    Nested,
    Number,
    Quantity,
    Result,
    Text,
    refused_at,
    within,
)
from .sections import section_field
from .unitdoc import limits
from .units import UNITS

FEWEST, MOST = 30, 5000
"""Readings of a log."""


class Readings(Series):
    """Requests: many readings of one kind and unit, ``{"values": [...], "unit": "s"}``."""

    def load_value(self, value: Any) -> Any:
        if type(value) is not dict or set(value) != {"values", "unit"}:
            raise refused("not_an_object", 'readings are an object with "values" and "unit"')
        check_items(value["values"], FEWEST, MOST)
        numbers = each(value["values"], strict_number)
        try:
            return tuple(read(self.kind, {"value": number, "unit": value["unit"]}) for number in numbers)
        except BadQuantity as bad:
            raise refused(bad.code, bad.detail, bad.accepted) from None

    def request_document(self) -> dict[str, Any]:
        return {
            "type": "object",
            "additionalProperties": False,
            "required": ["values", "unit"],
            "properties": {
                "values": {
                    "type": "array",
                    "items": {"type": "number", **limits(within(-1e30, 1e30))},
                    "minItems": FEWEST,
                    "maxItems": MOST,
                    "description": "The readings in order.",
                },
                "unit": {"enum": list(UNITS[self.kind].spellings), "description": "The unit of all of them."},
            },
        }


class CoolingCurveRequest(Body):
    """The log of a thermocouple in a sample cup, from the pour until well after all is solid."""

    makes = CoolingCurveCase
    times = Readings("time", "When each reading was taken; they rise.", required=True)
    temperatures = Readings("temperature", "What was read.", required=True)
    alloy = AlloyField("The alloy that it should be; its liquidus is compared.")
    ladder = Choice(
        tuple(LADDERS),
        "The two elements that it is made of: the liquidus then tells how much of the second it holds.",
    )
    section = section_field("The metal in the cup, as a simple body: it tells the cup's mould constant.")
    modulus = Quantity("length", "Its modulus, volume over cooling surface, instead of the section.")
    modulus_spread = Quantity("fraction", "How far the modulus may be off, a share of it.", bound=SPREAD)
    smoothing = Quantity("time", "Time over which the rate of cooling is smoothed; left out, by the noise.")
    surroundings = Quantity("temperature", "Temperature of the room; left out, 20 degC.")
    thermocouple_error = Quantity(
        "temperature_difference",
        "How far the thermocouple may be off, each way, 5 to 95 per cent; left out, a type K of class 1.",
        bound=within(0.001, 500.0),
    )
    correction = Quantity(
        "temperature_difference",
        "Added to every reading: what a pure metal's arrest has told of the thermocouple.",
        bound=within(-200.0, 200.0),
    )

    def make(self, data: dict[str, Any]) -> Any:
        times, temperatures = data["times"], data["temperatures"]
        if len(times) != len(temperatures):
            raise refused_at("temperatures", "inconsistent", "there are as many temperatures as times")
        steps = np.diff(times)
        if not np.all(steps > 0.0):
            late = int(np.argmax(steps <= 0.0)) + 1
            raise refused_at("times", "inconsistent", f"times rise; reading {late} is no later than the last")
        if min(temperatures) <= 0.0 or max(temperatures) > 5000.0:
            raise refused_at("temperatures", "out_of_bounds", "no metal is that cold or that hot")
        if data.get("section") is not None and data.get("modulus") is not None:
            raise refused_at("modulus", "inconsistent", "give section or modulus")
        return super().make(data)


class ArrestResult(Result):
    """A temperature at which the curve bends or rests; the interval is 5 to 95 per cent."""

    value = Quantity("temperature", "The temperature.", required=True)
    low = Quantity("temperature", "Low end.", required=True)
    high = Quantity("temperature", "High end.", required=True)
    time = Quantity("time", "When it began.", required=True)
    until = Quantity("time", "When a rest ended; null for a bend.")
    undercooling = Quantity(
        "temperature_difference", "How far the metal fell below it before.", required=True
    )


class FreezingTimeResult(Result):
    """From the hottest reading until all is solid; the interval is 5 to 95 per cent."""

    value = Quantity("time", "The time.", required=True)
    low = Quantity("time", "Low end.", required=True)
    high = Quantity("time", "High end.", required=True)


class LadderResult(Result):
    """How much of the second element the liquidus tells, per cent of mass; 5 to 95 per cent."""

    base = Text("The metal.", required=True)
    element = Text("The second element.", required=True)
    value_percent = Number("How much of it; null below the ladder's last step.")
    low_percent = Number("Low end; null below the last step.")
    high_percent = Number("High end; null below the last step.")


class CupResult(Result):
    """The mould constant of the cup; the interval is 5 to 95 per cent."""

    value = Quantity("mould_constant", "The constant.", required=True)
    low = Quantity("mould_constant", "Low end.", required=True)
    high = Quantity("mould_constant", "High end.", required=True)
    spread = Quantity("fraction", "Half-width, a share of the value.", required=True)


class CoolingCurveResult(Result):
    """What the curve tells; null where it tells nothing."""

    hottest = Quantity("temperature", "The hottest reading, smoothed.")
    liquidus = Nested(ArrestResult, "Where it starts to freeze.")
    eutectic = Nested(ArrestResult, "The second rest, at which the last of it freezes; null where none is.")
    solidus = Nested(ArrestResult, "Where it is solid: the last rest, or the last bend.")
    freezing_range = Quantity("temperature_difference", "From liquidus to solidus.")
    freezing_time = Nested(FreezingTimeResult, "How long it took to freeze.")
    composition = Nested(LadderResult, "Composition by the liquidus; null without a ladder.")
    mould_constant = Nested(CupResult, "Of the cup, by the bare rule; null without its modulus or section.")
    noise = Quantity("temperature_difference", "Standard deviation of the readings' noise.", required=True)
    use = Nested(
        UseResult,
        "What later requests can be told. The mould constant holds for moulds of the cup's own sand, with "
        "walls as thick beside their metal; castings of your own tell more (/v1/calibration).",
        many=True,
        required=True,
    )


@endpoint(
    "POST",
    "/v1/cooling-curve",
    operation="cooling_curve",
    tag="Casting",
    summary="Liquidus and solidus from the cooling curve of a sample cup",
    description=(
        "The log of a thermocouple in a sample cup gives the arrests of the metal with their intervals: "
        "where it starts to freeze, where it rests, where it is solid, how long that took, and so the cup's "
        "mould constant. For metals of two elements the liquidus tells the composition; a third element "
        "lowers it too and would be counted as more of the second. Arrests within about 2 K of each other "
        "are read as one. It is no analysis: lead, cadmium or beryllium do not show in it."
    ),
    request=CoolingCurveRequest,
    answer=CoolingCurveResult,
    examples={
        "an invented cup of aluminium with 7 % of silicon": {
            "ladder": "Al-Si",
            "alloy": "A356",
            "modulus": "9 mm",
            "times": {"values": [round(3.0 * n, 1) for n in range(150)], "unit": "s"},
            "temperatures": {
                "values": [
                    *(704.7, 697.9, 691.2, 684.7, 677.7, 671.6, 664.9, 658.9, 652.5, 646.3, 640.0, 633.6),
                    *(627.7, 621.8, 615.4, 610.2, 612.9, 612.6, 611.5, 610.9, 610.4, 609.6, 608.6, 608.2),
                    *(607.4, 606.6, 605.8, 605.1, 603.9, 603.7, 602.3, 601.2, 600.7, 600.0, 598.7, 598.1),
                    *(597.1, 595.5, 594.2, 593.3, 592.6, 591.1, 589.7, 588.5, 587.5, 586.2, 585.1, 583.7),
                    *(581.9, 580.6, 578.9, 577.6, 576.7, 576.7, 577.4, 577.0, 577.2, 577.6, 577.1, 576.9),
                    *(577.0, 576.8, 577.2, 576.9, 577.3, 576.9, 576.9, 576.9, 577.1, 577.0, 577.2, 576.8),
                    *(577.0, 577.3, 576.9, 577.0, 577.2, 577.0, 576.8, 576.5, 577.3, 576.9, 577.0, 576.6),
                    *(576.7, 575.0, 570.1, 564.5, 559.3, 553.8, 548.5, 543.0, 538.0, 533.0, 527.6, 522.8),
                    *(517.9, 512.8, 507.8, 503.0, 498.5, 493.2, 488.7, 484.1, 479.5, 474.9, 470.2, 466.3),
                    *(461.5, 456.8, 452.6, 448.5, 444.3, 439.7, 435.9, 431.4, 427.4, 423.7, 419.8, 415.5),
                    *(411.5, 407.9, 403.6, 400.1, 396.3, 392.7, 388.8, 385.0, 381.6, 377.6, 374.5, 370.7),
                    *(367.1, 363.8, 360.4, 357.2, 353.6, 350.5, 347.3, 343.8, 340.4, 337.6, 334.3, 330.7),
                    *(327.8, 325.0, 321.6, 318.8, 315.6, 313.1),
                ],
                "unit": "degC",
            },
        }
    },
)
def cooling_curve(case: CoolingCurveCase) -> Answer:
    return decide_cooling_curve(case)
