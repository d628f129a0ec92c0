"""The envelope of an answer: verdict first, then the result and everything behind it."""

from collections.abc import Iterator, Mapping, Sequence
from importlib.metadata import PackageNotFoundError, version
from typing import Any

from marshmallow import Schema

from ..engine.answer import Answer
from ..engine.checks import Check
from ..engine.formula import Entry, known_number
from ..engine.kinds import KINDS
from ..engine.ledger import Caution, Default, Missing
from ..engine.tables.reading import tables_version
from ..engine.tables.sources import SOURCES
from .fields import Quantities, Quantity, number_or_none
from .lookups import NumberMap, PercentMap
from .problems import token
from .quantities import current_view, read, write, write_exact
from .schemas import Nested, Number, Variant
from .sentences import render


def engine_version() -> str:
    """The version of the installed distribution."""
    try:
        return version("pourwright")
    except PackageNotFoundError:
        return "0"


ENGINE_VERSION = engine_version()


def envelope(
    answer: Answer,
    schema: Schema,
    sent: Mapping[str, Any],
    remedies: Sequence[Mapping[str, Any]],
    working: list[dict[str, Any]] | None,
) -> dict[str, Any]:
    """The answer as JSON, in the current reader's units; ``sent`` is the request's JSON."""
    shown: dict[str, Any] = {
        "verdict": answer.verdict,
        "message": render(answer.message),
        "result": schema.dump(answer.result),
        "checks": [_check(check) for check in answer.checks],
        "remedies": remedies,
        "missing": [_missing(missing) for missing in answer.missing],
        "defaults": [_default(default) for default in answer.defaults],
        "cautions": [_caution(caution) for caution in answer.cautions],
        "resolved": resolved(sent, answer.defaults),
        "engine_version": ENGINE_VERSION,
        "tables_version": tables_version(),
    }
    if working is not None:
        shown["working"] = working
    return shown


def _source(key: str) -> dict[str, Any]:
    """A source by key, with the words a reader needs to judge it."""
    known = SOURCES.get(key)
    return {"key": key, "grade": known.grade if known else "unknown"}


def _check(check: Check) -> dict[str, Any]:
    kind = check.kind
    difference = "temperature_difference" if kind.kind == "temperature" else kind.kind
    margin = check.margin
    return {
        "id": kind.id,
        "subject": check.subject,
        "verdict": check.verdict,
        "message": render(check.message),
        "value": write(kind.kind, check.value),
        "limit": write(kind.kind, check.limit),
        "slack": write(difference, check.slack),
        "margin": number_or_none(margin),
        "source": _source(kind.source),
    }


def _missing(missing: Missing) -> dict[str, Any]:
    return {"pointer": missing.pointer, "message": render(missing.why)}


def _default(default: Default) -> dict[str, Any]:
    value = default.value
    return {
        "pointer": default.pointer,
        "value": write(default.kind, value) if default.kind in KINDS and value is not None else value,
        "provenance": default.provenance,
        "source": _source(default.source),
        "note": default.note,
        "spread": default.spread,
    }


def _caution(caution: Caution) -> dict[str, Any]:
    return {
        "code": caution.code,
        "hazard": caution.hazard,
        "severity": caution.severity,
        "message": render(caution.text),
        "why": render(caution.why),
        "decides": caution.decides,
        "subject": caution.subject,
        "source": _source(caution.source),
    }


# --- the request, resolved ----------------------------------------------------------------


def resolved(sent: Mapping[str, Any], defaults: tuple[Default, ...]) -> dict[str, Any]:
    """The request with every default written where the caller could have given it.

    Posted again it gives the same answer: quantities are written so that the same float is read.
    """
    filled: dict[str, Any] = _copy(sent)
    for default in defaults:
        value = default.value
        if default.kind in KINDS and isinstance(value, int | float) and not isinstance(value, bool):
            value = write_exact(default.kind, value, current_view().system)
        elif isinstance(value, tuple):
            value = list(value)
        if value is not None:
            put(filled, default.pointer, value)
    return filled


def _copy(sent: Any) -> Any:
    if type(sent) is dict:
        return {key: _copy(inner) for key, inner in sent.items()}
    if type(sent) is list:
        return [_copy(inner) for inner in sent]
    return sent


def put(document: dict[str, Any], pointer: str, value: Any) -> bool:
    """Write a value at a JSON pointer, making objects on the way; what was sent is never replaced.

    False where the document has no such place.
    """
    steps = [step.replace("~1", "/").replace("~0", "~") for step in pointer.split("/")[1:]]
    place: Any = document
    if not steps:
        return False
    for step, following in zip(steps, [*steps[1:], None], strict=True):
        if isinstance(place, dict):
            place = place.setdefault(step, value if following is None else {})
        elif isinstance(place, list) and step.isdigit() and int(step) < len(place):
            place = place[int(step)]
        else:
            return False
    return True


# --- the working --------------------------------------------------------------------------


def announce_given(schema: Schema, sent: Any) -> None:
    """Tell the recorder every number that the caller gave, with its pointer."""
    for pointer, value in _given(schema, sent, ""):
        known_number(value, f"given: {pointer}")


def _given(schema: Schema, sent: Any, pointer: str) -> Iterator[tuple[str, float]]:
    for name, field in schema.fields.items():
        key = field.data_key or name
        if key not in sent:
            continue
        where, value = f"{pointer}/{token(key)}", sent[key]
        if isinstance(field, Nested):
            yield from _given_inside(field, value, where)
        elif isinstance(field, Quantities):
            for index, item in enumerate(value):
                yield f"{where}/{index}", read(field.kind, item)
        elif isinstance(field, Quantity):
            yield where, read(field.kind, value)
        elif isinstance(field, Number):
            yield where, float(value)
        elif isinstance(field, PercentMap | NumberMap):
            yield from _given_numbers(value, where)


def _given_inside(field: Nested, value: Any, where: str) -> Iterator[tuple[str, float]]:
    for item, place in (
        [(item, f"{where}/{index}") for index, item in enumerate(value)] if field.many else [(value, where)]
    ):
        schema = field.variants[item[field.key]] if isinstance(field, Variant) else field.schema
        yield from _given(schema, item, place)


def _given_numbers(value: Any, where: str) -> Iterator[tuple[str, float]]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _given_numbers(inner, f"{where}/{token(key)}")
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _given_numbers(inner, f"{where}/{index}")
    elif value is not None:
        yield where, float(value)


def working_of(entries: list[Entry]) -> list[dict[str, Any]]:
    """The working, line by line, in SI units: an expression holds for the numbers printed with it."""
    return [_line(entry) for entry in entries]


def _line(entry: Entry) -> dict[str, Any]:
    known = entry.formula
    return {
        "line": entry.number,
        "scope": list(entry.scope),
        "formula": f"{known.subject}.{known.name}",
        "expression": known.expression,
        "numbers": {
            symbol: {
                "value": number_or_none(entry.numbers[name]),
                "unit": known.arguments[name].unit,
                "name": name,
                "origin": entry.origins[name],
            }
            for symbol, name in known.symbols.items()
        },
        "result": {
            "value": number_or_none(entry.result),
            "unit": known.result.unit,
            "name": known.result_symbol,
        },
        "rounds": entry.rounds,
        "source": {**_source(known.source), "place": known.place},
    }
