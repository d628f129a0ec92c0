"""Strict JSON in, strict JSON out."""

import json
import math
from typing import Any

from .problems import Fault, Problem

DEEPEST = 32
"""Levels of nesting that a request may have; the deepest real request has about eight."""

_LONGEST_INTEGER = 40


class _Refused(ValueError):
    """Something that json.loads would have let through."""


def _no_constant(name: str) -> float:
    raise _Refused(f"{name} is not a number in JSON")


def _number(text: str) -> float:
    value = float(text)
    if math.isinf(value):
        raise _Refused(f"{text[:40]} is beyond the range of a double")
    return value


def _integer(text: str) -> int:
    if len(text) > _LONGEST_INTEGER:
        raise _Refused(f"a whole number of {len(text)} digits is beyond what is read here")
    return int(text)


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        seen: set[str] = set()
        for key, _ in pairs:
            if key in seen:
                raise _Refused(f"the field {key[:60]!r} is given twice in one object")
            seen.add(key)
    return found


def read_json(body: bytes) -> Any:
    """The value of a JSON text; raises a ``not_json`` problem that says what is wrong."""
    try:
        value = json.loads(
            body.decode("utf-8"),
            parse_constant=_no_constant,
            parse_float=_number,
            parse_int=_integer,
            object_pairs_hook=_object,
        )
        if body.count(b"[") + body.count(b"{") > DEEPEST and _too_deep(value):
            raise RecursionError
        if b"\\u" in body:
            json.dumps(value, ensure_ascii=False).encode("utf-8")
        return value
    except UnicodeDecodeError as error:
        detail = f"the body is not UTF-8 text (byte {error.start})"
    except UnicodeEncodeError:
        detail = "a text in the body holds half of a surrogate pair"
    except json.JSONDecodeError as error:
        detail = f"{error.msg.lower()} at line {error.lineno}, column {error.colno}"
        if not body.strip():
            detail = "the body is empty; a JSON object is needed"
    except RecursionError:
        detail = f"the JSON is nested deeper than {DEEPEST} levels"
    except _Refused as error:
        detail = str(error)
    raise Problem("not_json", detail, [Fault("not_json", detail, pointer="")])


def _too_deep(value: Any) -> bool:
    """Whether containers are nested deeper than :data:`DEEPEST`, level by level."""
    level = [value]
    for _ in range(DEEPEST):
        level = [
            inner
            for outer in level
            for inner in (outer.values() if type(outer) is dict else outer)
            if type(inner) is dict or type(inner) is list
        ]
        if not level:
            return False
    return True


def write_json(value: Any) -> bytes:
    """UTF-8 JSON; a number that is not finite is null, never NaN."""
    try:
        text = _encode(value)
    except ValueError:
        text = _encode(_finite_only(value))
    return text.encode("utf-8")


def _plain(value: Any) -> Any:
    """NumPy's scalars and arrays as Python's numbers and lists."""
    if hasattr(value, "tolist"):
        return value.tolist()
    raise TypeError(f"{type(value).__name__} does not belong in an answer")


_encode = json.JSONEncoder(
    ensure_ascii=False, allow_nan=False, default=_plain, separators=(",", ":"), check_circular=False
).encode


def _finite_only(value: Any) -> Any:
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, dict):
        return {key: _finite_only(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_finite_only(inner) for inner in value]
    return value
