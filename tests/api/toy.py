"""A small made-up calculation that uses every mechanism of the edge; nothing of it is served."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

from pourwright_service.api.common import MouldBody, PropertiesBody
from pourwright_service.api.registry import Registry
from pourwright_service.api.schemas import (
    AlloyField,
    Body,
    Choice,
    Choices,
    Count,
    ElementField,
    Flag,
    Nested,
    Number,
    NumberMap,
    PercentMap,
    Quantities,
    Quantity,
    RangeMap,
    Result,
    Series,
    Text,
    Texts,
    Variant,
    above,
    at_least,
    refused_at,
    within,
)
from pourwright_service.engine.answer import Answer, answer
from pourwright_service.engine.bounds import OutOfRange
from pourwright_service.engine.checks import CheckKind
from pourwright_service.engine.decide.heat import MouldCase
from pourwright_service.engine.formula import step
from pourwright_service.engine.formulas.freezing import bare_freezing_time
from pourwright_service.engine.ledger import Caution, Ledger, MissingValue, Say

T = TypeVar("T")

LONG_ENOUGH = CheckKind(
    "toy-time", "It takes long enough", "time", "at least", "fail", "COMMON-PRACTICE", margin=True
)
COOL_ENOUGH = CheckKind("toy-heat", "It is cool enough", "temperature", "at most", "warn", "FROM-MEMORY")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    name: str
    length: float
    weight: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    shape: str
    width: float
    height: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ToyCase:
    depth: float
    lift: float | None = None
    constant: float | None = None
    temperature: float | None = None
    change: float | None = None
    loss: float | None = None
    ratio: float | None = None
    count: int = 1
    loud: bool | None = None
    face: str | None = None
    sides: tuple[str, ...] = ()
    name: str | None = None
    names: tuple[str, ...] = ()
    heights: tuple[float, ...] = ()
    tools: tuple[Tool, ...] = ()
    shapes: tuple[Shape, ...] = ()
    alloy: str | None = None
    element: str | None = None
    properties: Mapping[str, float] = field(default_factory=dict)
    mould: MouldCase = field(default_factory=MouldCase)
    composition_percent: Mapping[str, float] = field(default_factory=dict)
    limits_percent: Mapping[str, tuple[float | None, float | None]] = field(default_factory=dict)
    recovery_percent: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    parts: Mapping[str, float] = field(default_factory=dict)
    price: float | None = None
    currency: str | None = None
    mood: str = "fine"


class ToolBody(Body):
    """A tool."""

    makes = Tool
    name = Text("Its name.", required=True)
    length = Quantity("length", "Its length.", required=True)
    weight = Quantity("mass", "Its mass.")


class RoundBody(Body):
    """Something round."""

    makes = Shape
    shape = Choice(("round",), "The shape.", required=True)
    width = Quantity("length", "Its diameter.", required=True)


class SquareBody(Body):
    """Something square."""

    makes = Shape
    shape = Choice(("square",), "The shape.", required=True)
    width = Quantity("length", "Its width.", required=True)
    height = Quantity("length", "Its height.", required=True)


class ToyRequest(Body):
    """A request with a field of every sort."""

    makes = ToyCase
    depth = Quantity("length", "How deep.", required=True)
    lift = Quantity("length", "How far up.", bound=at_least(0.0))
    constant = Quantity("mould_constant", "A mould constant.")
    temperature = Quantity("temperature", "How hot.")
    change = Quantity("temperature_difference", "How much hotter.")
    loss = Quantity("fraction", "What is lost.", bound=within(0.0, 1.0))
    ratio = Number("A ratio.", bound=above(0.0))
    count = Count("How many.", low=1, high=12)
    loud = Flag("Whether it is loud.")
    face = Choice(("top", "side"), "Which face.", aliases={"upper": "top"})
    sides = Choices(("left", "right"), "Which sides.")
    name = Text("A name.", longest=20)
    names = Texts("Names.", longest=20, max_items=3)
    heights = Quantities("length", "Heights.", max_items=3)
    tools = Nested(ToolBody, "Tools.", many=True, max_items=3)
    shapes = Variant("shape", {"round": RoundBody, "square": SquareBody}, "Shapes.", many=True)
    alloy = AlloyField("An alloy.")
    element = ElementField("An element.")
    properties = Nested(PropertiesBody, "Properties.")
    mould = Nested(MouldBody, "A mould.")
    composition_percent = PercentMap("A composition.")
    limits_percent = RangeMap("Limits.", open_ended=True)
    recovery_percent = RangeMap("Recoveries.", for_all=True, also=("rest",))
    parts = NumberMap("Parts of a ratio.", names=("sprue", "runner", "gate"), bound=above(0.0))
    price = Quantity("price", "A price.")
    currency = Text("The currency.", longest=8)
    mood = Text("What the calculation shall do.")

    def make(self, data: dict[str, Any]) -> Any:
        if data.get("lift", 0.0) > data["depth"]:
            raise refused_at("lift", "inconsistent", "the lift is more than the depth")
        return super().make(data)


class ToyResult(Result):
    """A result with a field of every sort."""

    depth = Quantity("length", "Depth.", required=True)
    time = Quantity("time", "Time.", required=True)
    temperature = Quantity("temperature", "Temperature.")
    heads = Series("length", "Heads.", required=True)
    cost = Quantity("money", "Cost.")
    price = Quantity("price", "Price.")
    parts = NumberMap("Parts.", required=True)
    limits_percent = RangeMap("Limits.", required=True)
    composition_percent = PercentMap("Composition.", required=True)
    names = Texts("Names.", required=True)
    tools = Nested(ToolBody, "Tools.", many=True, required=True)
    ratio = Number("A ratio.")


def decide_toy(case: ToyCase) -> Answer:
    ledger = Ledger()
    if case.mood == "broken":
        raise RuntimeError("broken inside")
    if case.mood == "out of range":
        raise OutOfRange("depth", case.depth, "less than 1", "toy")
    if case.mood == "lost":
        raise MissingValue(
            ledger.lack("/constant", Say("Without a constant there is no {what}.", what="time"))
        )
    constant = ledger.use(
        "/constant",
        case.constant,
        0.7e6 / 3,
        "mould_constant",
        provenance="from memory",
        source="FROM-MEMORY",
        spread=0.3,
    )
    hot = ledger.use(
        "/temperature",
        case.temperature,
        1000.0 / 3,
        "temperature",
        provenance="common practice",
        source="COMMON-PRACTICE",
    )

    def rule(pointer: str, given: T | None, default: T, kind: str, note: str = "") -> T:
        return ledger.use(pointer, given, default, kind, provenance="rule", source="DERIVED", note=note)

    rule("/mould/medium", case.mould.medium, "green sand", "text")
    rule("/loud", case.loud, False, "flag", "quiet")
    rule("/loss", case.loss, 0.03, "fraction")
    tools = [
        replace(tool, weight=rule(f"/tools/{index}/weight", tool.weight, 0.1 + 0.2, "mass"))
        for index, tool in enumerate(case.tools)
    ]
    if case.mood == "hurt":
        why = Say("It is {t}.", t=(hot, "temperature"))
        ledger.caution(Caution("toy-hot", "heat", "refuse", Say("Stop."), why, "you", "COMMON-PRACTICE"))
    if case.price is None:
        ledger.lack("/price", Say("The cost needs a price."))
    with step("toy", "one"):
        time = bare_freezing_time(constant, case.depth)
    checks = [
        LONG_ENOUGH.judge(
            time, 1.0, subject="/depth", ok=Say("Long."), bad=Say("{t} is short.", t=(time, "time"))
        ),
        COOL_ENOUGH.judge(hot, 400.0, subject="/temperature", ok=Say("Cool."), bad=Say("Hot.")),
    ]
    result = {
        "depth": case.depth,
        "time": time,
        "temperature": float("nan") if case.mood == "nan" else hot,
        "heads": [case.depth, 2 * case.depth],
        "cost": None if case.price is None else 2.0 * case.price,
        "price": case.price,
        "parts": case.parts,
        "limits_percent": case.limits_percent,
        "composition_percent": case.composition_percent,
        "names": case.names,
        "tools": tools,
        "ratio": case.ratio,
    }
    return answer(ledger, result, checks, Say("It takes {t}.", t=(time, "time")))


TOYS = Registry()


@TOYS.endpoint(
    "POST",
    "/v1/toy",
    operation="toy",
    tag="Casting",
    summary="A toy",
    description="A made-up calculation.",
    request=ToyRequest,
    answer=ToyResult,
    examples={"a plain toy": {"depth": "25.4 mm"}},
)
def toy(case: ToyCase) -> Answer:
    return decide_toy(case)
