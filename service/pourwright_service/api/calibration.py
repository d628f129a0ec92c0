"""POST /v1/calibration."""

from collections.abc import Mapping
from typing import Any

from ..engine.answer import Answer
from ..engine.decide.calibration import decide_calibration
from ..engine.decide.calibration_case import (
    CalibrationCase,
    ChargedItem,
    HeatReading,
    LengthReading,
    RiserKind,
    RiserReading,
    Spreads,
    TrialReading,
)
from .calibration_result import CalibrationResult
from .charge import COMPOSITION, RECOVERY, REST, CompositionField
from .common import MouldBody, PropertiesBody
from .registry import endpoint
from .schemas import (
    AlloyField,
    Body,
    Choice,
    Flag,
    Nested,
    Number,
    PercentMap,
    Quantity,
    RangeMap,
    Text,
    at_least,
    refused_at,
    within,
)
from .sections import section_field

SPREAD = within(1e-6, 10.0)
"""Half-widths that can be reckoned with, as shares."""

MOST_READINGS = 200


def _one_of(data: Mapping[str, Any], *names: str) -> None:
    """Refuse unless exactly one of these fields is given."""
    given = [name for name in names if data.get(name) is not None]
    if len(given) != 1:
        raise refused_at(given[1] if given else names[0], "inconsistent", f"give {' or '.join(names)}")


def _together(data: Mapping[str, Any], name: str, needed: str) -> None:
    """Refuse one field without the other that it needs."""
    if data.get(name) is not None and data.get(needed) is None:
        raise refused_at(needed, "inconsistent", f"beside {name}, give {needed}")


class TrialReadingBody(Body):
    """A trial casting that froze in a measured time."""

    makes = TrialReading
    name = Text("What you call it.", longest=60)
    section = section_field("The trial casting, as a simple body.")
    modulus = Quantity(
        "length", "Its modulus, volume over cooling surface, instead of the section; it counts as flat."
    )
    freezing_time = Quantity("time", "From the full mould until it was solid.", required=True)
    time_spread = Quantity("fraction", "How far that time may be off, a share of it.", bound=SPREAD)
    modulus_spread = Quantity("fraction", "How far the modulus may be off, a share of it.", bound=SPREAD)

    def make(self, data: dict[str, Any]) -> Any:
        _one_of(data, "section", "modulus")
        return super().make(data)


class RiserReadingBody(Body):
    """A riser cut open, and the hollow that it was left with."""

    makes = RiserReading
    name = Text("What you call it.", longest=60)
    volume = Quantity("volume", "Its volume as poured; left out, a cylinder's of diameter and height.")
    diameter = Quantity("length", "Its diameter.")
    height = Quantity("length", "Its height as poured.")
    piped_volume = Quantity("volume", "Volume of the hollow, by filling it with water or dry sand.")
    pipe_depth = Quantity("length", "Depth of the hollow from the level of the poured metal, instead.")
    pipe_diameter = Quantity("length", "Width of the hollow at its mouth; left out, the riser's diameter.")
    pipe_shape = Choice(
        ("cone", "bowl", "flat"),
        "The hollow's shape: a third, a half, or all of the cylinder round it; left out, a cone.",
    )
    had_metal_left = Flag(
        "Whether it could have given more (the casting came out sound and the hollow ends well above it): it "
        "then shows a least value only. Left out, it was drained as far as it could be."
    )
    spread = Quantity("fraction", "How far the drained share may be off, a share of it.", bound=SPREAD)

    def make(self, data: dict[str, Any]) -> Any:
        _one_of(data, "piped_volume", "pipe_depth")
        _one_of(data, "volume", "diameter")
        _together(data, "diameter", "height")
        if data.get("pipe_depth") is not None and data.get("diameter") is None:
            _together(data, "pipe_depth", "pipe_diameter")
        return super().make(data)


class ChargedItemBody(Body):
    """What went into the pot."""

    makes = ChargedItem
    name = Text("What you call it.", longest=200, required=True)
    mass = Quantity("mass", "How much of it was charged.", required=True)
    composition_percent = CompositionField(COMPOSITION)
    alloy = AlloyField("The alloy that it is; its nominal composition is taken.")

    def make(self, data: dict[str, Any]) -> Any:
        if data.get("composition_percent") is None and data.get("alloy") is None:
            raise refused_at("composition_percent", "missing_field", "give composition_percent or alloy")
        return super().make(data)


class HeatReadingBody(Body):
    """One heat, weighed and perhaps analysed."""

    makes = HeatReading
    name = Text("What you call it.", longest=60)
    items = Nested(
        ChargedItemBody, "All that was charged.", many=True, min_items=1, max_items=50, required=True
    )
    poured = Quantity("mass", "Metal poured into moulds.")
    castings = Quantity(
        "mass", "What came out of the moulds, gating, risers and spillings included; instead of poured."
    )
    pig = Quantity("mass", "Metal that was left and poured into ingots.", bound=at_least(0.0))
    analysis_percent = PercentMap("Analysis of the melt, per cent of mass by element.")
    mass_spread = Quantity("fraction", "How far each weight may be off, a share of it.", bound=SPREAD)
    analysis_spread = Quantity(
        "fraction", "How far each analysed share may be off, a share of it.", bound=SPREAD
    )
    analysis_floor_percent = Number(
        "Per cent of mass by which any analysed share may be off beside that.", bound=within(0.0, 10.0)
    )

    def make(self, data: dict[str, Any]) -> Any:
        if data.get("poured") is None and data.get("castings") is None and not data.get("pig"):
            raise refused_at("poured", "missing_field", "say what came out: poured, or castings, or pig")
        return super().make(data)


class LengthReadingBody(Body):
    """One length, on the pattern and on the cold casting."""

    makes = LengthReading
    name = Text("What you call it.", longest=60)
    pattern = Quantity("length", "On the pattern (rapping and draft left out).", required=True)
    casting = Quantity("length", "The same on the cold casting.", required=True)
    length_spread = Quantity("length", "How far either may be off.")

    def make(self, data: dict[str, Any]) -> Any:
        if not 0.5 <= data["pattern"] / data["casting"] <= 2.0:
            raise refused_at(
                "casting", "inconsistent", "it is not the same length: one is over twice the other"
            )
        return super().make(data)


class RiserKindBody(Body):
    """The kind of riser that was tried."""

    makes = RiserKind
    shape = Choice(("cylinder", "domed", "ball"), "Its shape; left out, a cylinder.")
    sleeved = Flag("Whether it stood in an insulating sleeve.")
    feeding_efficiency = Quantity(
        "fraction",
        "Share of itself that you expected it to give; left out, what is told of its kind.",
        bound=within(0.0, 1.0, low_open=True),
    )


class SpreadsBody(Body):
    """How far off, each way, 5 to 95 per cent of cases."""

    makes = Spreads
    mould_constant = Quantity("fraction", "Of the mould constant, a share of it.", bound=SPREAD)
    feeding_efficiency = Quantity("fraction", "Of the feeding efficiency, a share of it.", bound=SPREAD)
    contraction = Quantity("fraction", "Of the contraction, points of it.", bound=within(1e-6, 0.2))


class ScatterBody(SpreadsBody):
    """How much each differs from one casting or heat to the next, each way, 5 to 95 per cent of cases."""

    recovery = Quantity("fraction", "Of a recovery, a share of it.", bound=SPREAD)


class CalibrationRequest(Body):
    """What was measured (any of trials, risers, heats, lengths), and what was expected before."""

    makes = CalibrationCase
    trials = Nested(
        TrialReadingBody, "Trial castings: they tell the mould constant.", many=True, max_items=MOST_READINGS
    )
    risers = Nested(
        RiserReadingBody,
        "Risers of one kind, cut open: they tell the feeding efficiency.",
        many=True,
        max_items=MOST_READINGS,
    )
    heats = Nested(
        HeatReadingBody,
        "Heats of one base metal: they tell recoveries and the melting loss.",
        many=True,
        max_items=MOST_READINGS,
    )
    lengths = Nested(
        LengthReadingBody,
        "Lengths of patterns and castings: they tell the contraction.",
        many=True,
        max_items=MOST_READINGS,
    )
    alloy = AlloyField("The alloy of all that was measured.")
    properties = Nested(PropertiesBody, "Properties of the metal that you know better; they win.")
    mould = Nested(MouldBody, "What the moulds were made of.")
    mould_constant = Quantity(
        "mould_constant", "What you reckoned with until now; left out, it follows from metal and mould."
    )
    pouring_temperature = Quantity("temperature", "How hot the trial castings were poured.")
    temperature_fall = Quantity(
        "temperature_difference", "How much the metal cooled until the mould was full."
    )
    curvature = Flag("Whether curved surfaces are corrected for; left out, the kind of metal decides.")
    riser = Nested(RiserKindBody, "The kind of riser that was tried.")
    recovery_percent = RangeMap(
        "Recoveries that you reckoned with until now, per cent by element; left out, the tables'.",
        bound=RECOVERY,
        also=REST,
        for_all=True,
    )
    spreads = Nested(SpreadsBody, "How far off what was expected may be; recoveries carry their own range.")
    scatter = Nested(ScatterBody, "How much each differs from one casting or heat to the next.")


@endpoint(
    "POST",
    "/v1/calibration",
    operation="calibration",
    tag="Casting",
    summary="What your own trials say of mould, risers, melting and contraction",
    description=(
        "Trial castings that froze in measured times, risers cut open, weighed and analysed heats, and "
        "lengths of patterns and castings, weighed against what the tables expect, each by its certainty "
        "(Bayes' rule for normal errors, which is least squares). Every figure comes with its interval and "
        "with the field of later requests that it goes to; a trial that does not fit is pointed at. Errors "
        "that all trials share (a clock that runs fast, one wrong analysis of the stock) are not averaged "
        "out and not seen."
    ),
    request=CalibrationRequest,
    answer=CalibrationResult,
    examples={
        "two trial bars in oil-bonded sand, silicon bronze": {
            "alloy": "C87300",
            "mould": {"medium": "oil-bonded sand"},
            "trials": [
                {
                    "name": "bar",
                    "section": {
                        "name": "bar",
                        "shape": "bar",
                        "length": "200 mm",
                        "width": "40 mm",
                        "height": "40 mm",
                    },
                    "freezing_time": "300 s",
                },
                {
                    "name": "plate",
                    "section": {
                        "name": "plate",
                        "shape": "plate",
                        "length": "150 mm",
                        "width": "150 mm",
                        "thickness": "20 mm",
                    },
                    "freezing_time": "260 s",
                    "time_spread": "15 %",
                },
            ],
            "lengths": [{"name": "bar's length", "pattern": "204 mm", "casting": "199.9 mm"}],
        },
        "a heat weighed and analysed, and a riser cut open": {
            "alloy": "C87300",
            "risers": [
                {
                    "name": "over the boss",
                    "diameter": "60 mm",
                    "height": "60 mm",
                    "piped_volume": "27 cm^3",
                }
            ],
            "heats": [
                {
                    "name": "Tuesday",
                    "items": [
                        {
                            "name": "old bolts",
                            "mass": "4 kg",
                            "composition_percent": {"Cu": 96.0, "Si": 3.0, "Mn": 0.9, "Fe": 0.1},
                        },
                        {
                            "name": "silicon lumps",
                            "mass": "0.05 kg",
                            "composition_percent": {"Si": 98.5, "Fe": 0.5},
                        },
                    ],
                    "poured": "3.2 kg",
                    "pig": "0.77 kg",
                    "analysis_percent": {"Cu": 95.0, "Si": 4.05, "Mn": 0.8},
                }
            ],
        },
        "a textbook's cube": {
            "trials": [
                {
                    "section": {
                        "name": "cube",
                        "shape": "bar",
                        "length": "50 mm",
                        "width": "50 mm",
                        "height": "50 mm",
                    },
                    "freezing_time": "155 s",
                }
            ]
        },
    },
)
def calibration(case: CalibrationCase) -> Answer:
    return decide_calibration(case)
