"""From an answer's JSON to the frozen dataclasses of :mod:`pourwright.models`.

What a dataclass does not name is passed over, so that an older client reads a newer service.
"""

from __future__ import annotations

import dataclasses
import types
from collections.abc import Callable, Mapping
from typing import Any, TypeAlias, TypeVar, Union, get_args, get_origin, get_type_hints

from .answer import Answer, Caution, Check, Default, Missing, Remedy, WorkingLine
from .quantity import Quantity

T = TypeVar("T")

Reader: TypeAlias = Callable[[Any], Any]


def read(kind: type[T], data: Mapping[str, Any]) -> T:
    """One dataclass from a JSON object; TypeError, KeyError or AttributeError if it is not shaped so."""
    return kind(**{name: reader(data.get(name)) for name, reader in _readers(kind)})


def read_answer(result: type[T], data: Mapping[str, Any]) -> Answer[T]:
    """An answer with its envelope; raises as :func:`read` does."""
    working = data.get("working")
    return Answer(
        verdict=data["verdict"],
        message=data["message"],
        result=read(result, data["result"]),
        checks=_all(Check, data["checks"]),
        remedies=_all(Remedy, data.get("remedies") or []),
        missing=_all(Missing, data["missing"]),
        defaults=_all(Default, data["defaults"]),
        cautions=_all(Caution, data["cautions"]),
        resolved=data["resolved"],
        engine_version=data["engine_version"],
        tables_version=data["tables_version"],
        working=None if working is None else _all(WorkingLine, working),
        data=data,
    )


def _all(kind: type[T], items: list[Mapping[str, Any]]) -> tuple[T, ...]:
    return tuple(read(kind, item) for item in items)


_KNOWN: dict[Any, tuple[tuple[str, Reader], ...]] = {}


def _readers(kind: Any) -> tuple[tuple[str, Reader], ...]:
    """How to read each field of a dataclass, worked out from its annotations once."""
    if kind not in _KNOWN:
        hints = get_type_hints(kind)
        _KNOWN[kind] = tuple((each.name, _reader(hints[each.name])) for each in dataclasses.fields(kind))
    return _KNOWN[kind]


def _reader(hint: Any) -> Reader:
    if hint is Any:
        return _loose
    origin, inner = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        kinds = [kind for kind in inner if kind is not type(None)]
        return _reader(kinds[0]) if len(kinds) == 1 else _loose
    if origin is tuple:
        one = _reader(inner[0])
        return lambda value: None if value is None else tuple(one(item) for item in value)
    if dataclasses.is_dataclass(hint) and isinstance(hint, type):
        return lambda value: None if value is None else read(hint, value)
    return _as_it_is


def _as_it_is(value: Any) -> Any:
    return value


def _loose(value: Any) -> Any:
    """A value of one of several kinds: an object of value and unit is a quantity."""
    if isinstance(value, dict) and value.keys() == {"value", "unit"}:
        return Quantity(value["value"], value["unit"])
    return value
