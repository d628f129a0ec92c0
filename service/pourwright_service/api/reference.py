"""What the engine computes with: its formulas, its checks, its sources."""

from collections.abc import Iterable, Mapping
from typing import Any

from ..engine.checks import CHECKS
from ..engine.formula import FORMULAS, Formula
from ..engine.kinds import KINDS
from ..engine.tables.sources import GRADES, SOURCES
from .registry import resource
from .schemas import Choice, Flag, Nested, Result, Text
from .unitdoc import bound_words

TAG = "Reference"


class CitedSource(Result):
    """A source and the place in it."""

    key = Text("The source's key in /v1/sources.", required=True)
    grade = Choice(GRADES, "How far the figure may be trusted.", required=True)
    place = Text("Where in the source; may be empty.", required=True)


def cited(key: str, place: str = "") -> dict[str, Any]:
    return {"key": key, "grade": SOURCES[key].grade, "place": place}


def items(items: Iterable[Mapping[str, Any]]) -> dict[str, Any]:
    return {"items": list(items), "next": None}


def list_of(item: type[Result], of: str) -> type[Result]:
    """The schema of a list of ``item``."""
    fields = {
        "__doc__": f"A list of {of}.",
        "__module__": item.__module__,
        "items": Nested(item, f"The {of}.", many=True, required=True),
        "next": Text("Address of the rest of the list; null: the list is whole."),
    }
    return type(f"{item.__name__.removesuffix('Result')}List", (Result,), fields)


class SymbolResult(Result):
    """A symbol of a formula."""

    symbol = Text("The symbol.", required=True)
    name = Text("What it stands for.", required=True)
    kind = Text("Its physical kind.", required=True)
    unit = Text("Its SI unit; empty for a bare number.", required=True)
    valid = Text("The range in which the formula may be believed, in metric units.", required=True)


class FormulaResult(Result):
    """One formula of the engine."""

    id = Text("Its id, as the working names it.", required=True)
    subject = Text("The subject it belongs to.", required=True)
    name = Text("Its name.", required=True)
    description = Text("What it says.", required=True)
    expression = Text("The formula, written as it is evaluated, in SI units.", required=True)
    symbols = Nested(SymbolResult, "Its symbols.", many=True, required=True)
    result = Nested(SymbolResult, "What comes out.", required=True)
    empirical = Text("The units that its constants need; null: holds in any consistent units.")
    identity = Text("What must vanish, where the result has no closed form.")
    source = Nested(CitedSource, "Where it comes from.", required=True)


def _formula(id: str, known: Formula) -> dict[str, Any]:
    symbols = []
    for symbol, name in known.symbols.items():
        kind, bound = known.arguments[name], known.valid.get(name)
        valid = bound_words(kind.name, bound) if bound else "a finite number"
        symbols.append(_symbol(symbol, name, kind.name, valid))
    result = _symbol(known.result_symbol, "result", known.result.name, "a finite number")
    return {
        "id": id,
        "subject": known.subject,
        "name": known.name,
        "description": known.description,
        "expression": known.expression,
        "symbols": symbols,
        "result": result,
        "empirical": known.empirical,
        "identity": known.identity,
        "source": cited(known.source, known.place),
    }


def _symbol(symbol: str, name: str, kind: str, valid: str) -> dict[str, Any]:
    unit = KINDS[kind].unit
    return {"symbol": symbol, "name": name.replace("_", " "), "kind": kind, "unit": unit, "valid": valid}


@resource(
    "GET",
    "/v1/formulas",
    operation="list_formulas",
    tag=TAG,
    summary="Every formula that the engine uses",
    description="Expression, symbols, range, source: the handbook that the service publishes about itself.",
    answer=list_of(FormulaResult, "formulas"),
)
def formulas() -> dict[str, Any]:
    return items(_formula(id, known) for id, known in sorted(FORMULAS.items()))


class CheckKindResult(Result):
    """A kind of check."""

    id = Text("Its id; never reused.", required=True)
    title = Text("What is asked.", required=True)
    kind = Text("Physical kind of the numbers compared.", required=True)
    passes = Choice(
        ("at least", "at most"), "Passes if the value is this, compared with the limit.", required=True
    )
    otherwise = Choice(("warn", "fail"), "The verdict if it does not pass.", required=True)
    has_margin = Flag("Whether the ratio of value and limit means something.", required=True)
    source = Nested(CitedSource, "Where the rule comes from.", required=True)


@resource(
    "GET",
    "/v1/checks",
    operation="list_checks",
    tag=TAG,
    summary="Every kind of check",
    description="The catalogue of checks that answers are judged by.",
    answer=list_of(CheckKindResult, "checks"),
)
def checks() -> dict[str, Any]:
    return items(
        {
            "id": kind.id,
            "title": kind.title,
            "kind": kind.kind,
            "passes": kind.sense,
            "otherwise": kind.else_,
            "has_margin": kind.margin,
            "source": cited(kind.source),
        }
        for _, kind in sorted(CHECKS.items())
    )


class SourceResult(Result):
    """A source of figures, rules or formulas."""

    key = Text("The key by which everything names it.", required=True)
    author = Text("Author or publisher; may be empty.", required=True)
    title = Text("Title.", required=True)
    year = Text("Year; empty where none is printed.", required=True)
    address = Text("Where it can be read; may be empty.", required=True)
    grade = Choice(GRADES, "How far it may be trusted.", required=True)


@resource(
    "GET",
    "/v1/sources",
    operation="list_sources",
    tag=TAG,
    summary="Where figures, rules and formulas come from",
    description="Every source once; 'common practice' and 'from memory' are named as such.",
    answer=list_of(SourceResult, "sources"),
)
def sources() -> dict[str, Any]:
    names = ("key", "author", "title", "year", "address", "grade")
    return items({name: getattr(known, name) for name in names} for _, known in sorted(SOURCES.items()))
