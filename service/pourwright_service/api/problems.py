"""Problems: every refusal as RFC 9457 ``application/problem+json``, all faults of a request at once.

A problem's ``type`` is a page this service serves itself, ``/problems/{code}``. Each fault points
into the request: ``pointer`` (RFC 6901, empty for the whole body), or ``parameter`` or ``header``.
"""

import difflib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from marshmallow import ValidationError
from marshmallow.exceptions import SCHEMA


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with a request, where it is and what would do instead."""

    code: str
    detail: str
    accepted: tuple[str, ...] = ()
    pointer: str | None = None
    parameter: str | None = None
    header: str | None = None

    def as_json(self) -> dict[str, Any]:
        place = {"pointer": self.pointer, "parameter": self.parameter, "header": self.header}
        shown: dict[str, Any] = {name: at for name, at in place.items() if at is not None}
        shown |= {"code": self.code, "detail": self.detail}
        if self.accepted:
            shown["accepted"] = list(self.accepted)
        return shown


@dataclass(frozen=True, slots=True)
class ProblemKind:
    """An entry of the catalogue of problems."""

    code: str
    status: int
    title: str
    text: str


PROBLEMS: dict[str, ProblemKind] = {
    kind.code: kind
    for kind in (
        ProblemKind(
            "not_json",
            400,
            "The body is not JSON",
            "The body could not be read as strict JSON: UTF-8, no NaN or Infinity, no number beyond the "
            "range of a double, no field twice in one object, not nested deeper than the service reads.",
        ),
        ProblemKind("bad_request", 400, "The request is malformed", "The request is not well-formed HTTP."),
        ProblemKind(
            "key_missing",
            401,
            "An API key is needed",
            "This service asks for a key: send it as 'Authorization: Bearer KEY' or as 'X-API-Key: KEY'.",
        ),
        ProblemKind(
            "key_unknown", 403, "The API key is not known", "A key was sent, but not one in use here."
        ),
        ProblemKind(
            "origin_refused",
            403,
            "This web page may not call the service",
            "A browser asked on behalf of a page whose origin is not on the service's list.",
        ),
        ProblemKind("not_found", 404, "There is nothing at this address", "Look at /openapi.json or /docs."),
        ProblemKind(
            "mesh_unknown",
            404,
            "No such mesh is stored here",
            "Upload it first: PUT /v1/meshes/{sha256} with the binary STL as body.",
        ),
        ProblemKind(
            "mesh_expired",
            404,
            "The mesh is no longer stored",
            "It was here once and has been removed since. Upload it again under the same hash.",
        ),
        ProblemKind(
            "method_not_allowed",
            405,
            "The address does not take this method",
            "The Allow header names the methods that it takes.",
        ),
        ProblemKind("too_large", 413, "The body is too large", "A JSON body may have 1 MB, a mesh 64 MB."),
        ProblemKind(
            "media_type",
            415,
            "The body has the wrong content type",
            "Calculations take application/json; meshes take application/octet-stream or model/stl.",
        ),
        ProblemKind(
            "invalid_request",
            422,
            "The request does not fit its schema",
            "Each error names the place, what is wrong there and, where there is a list, what is accepted.",
        ),
        ProblemKind(
            "out_of_range",
            422,
            "A number lies outside what the formulas cover",
            "The request is well-formed, but a value leads outside the range in which a formula holds.",
        ),
        ProblemKind(
            "not_computable",
            422,
            "Nothing that was asked for can be computed",
            "A value is missing without which no part of the answer can be worked out.",
        ),
        ProblemKind(
            "mesh_damaged",
            422,
            "The mesh cannot be read",
            "The upload is not a sound binary STL, or its SHA-256 is not the one in the address.",
        ),
        ProblemKind("too_many", 429, "Too many requests", "Wait as long as Retry-After says."),
        ProblemKind(
            "internal",
            500,
            "The service failed",
            "This is a fault of the service. Its log has the details under the request id.",
        ),
        ProblemKind("unavailable", 503, "The service is not ready", "Try again in a moment."),
    )
}
"""The catalogue by code; codes are never reused."""

FAULTS: dict[str, str] = {
    "missing_field": "a required field is not there",
    "unknown_field": "a field that the request does not have",
    "unknown_parameter": "a query parameter that the call does not have",
    "repeated_parameter": "a query parameter that was given more than once",
    "null": "null where a value is needed; leave an optional field out",
    "not_an_object": "something else where a JSON object is needed",
    "not_an_array": "something else where a JSON array is needed",
    "not_a_number": "something else where a bare JSON number is needed",
    "not_a_count": "something else where a whole number is needed",
    "not_text": "something else where text is needed",
    "not_a_flag": "something else where true or false is needed",
    "not_a_quantity": "not a number followed by a unit",
    "no_unit": "a number without its unit",
    "unknown_unit": "a unit that the field does not take",
    "decimal_comma": "a comma inside a number",
    "out_of_bounds": "a number outside the field's bounds",
    "not_a_choice": "a word that is not on the field's list",
    "too_many_items": "a list longer than the service takes",
    "too_few_items": "a list shorter than the calculation needs",
    "text_length": "text that is empty or too long",
    "unknown_alloy": "an alloy that the tables do not have",
    "unknown_medium": "a mould medium that the tables do not have",
    "unknown_element": "an element that the tables do not have",
    "not_json": "a body that is not strict JSON",
    "inconsistent": "fields that contradict one another",
    "not_possible": "something that cannot be had as it is asked for",
    "unknown_section": "the name of a section that the request does not have",
    "out_of_range": "a value outside what a formula covers",
    "missing_value": "a value without which nothing can be computed",
    "wrong_hash": "a body whose SHA-256 is not the one in the address",
    "mesh_empty": "a mesh file without triangles",
    "mesh_unreadable": "the file cannot be read as the OBJ, PLY or 3MF that it begins as",
    "mesh_not_stl": "a file that is no STL",
    "mesh_truncated": "an STL file that is cut short",
    "mesh_too_long": "an STL file with more in it than it announces",
    "mesh_too_large": "a mesh of more triangles than are taken",
    "mesh_not_finite": "a mesh with coordinates that are no numbers",
    "mesh_out_of_range": "a mesh of impossible size, or too far from its origin",
    "mesh_no_volume": "a mesh that encloses nothing",
    "mesh_tangled": "a mesh with too many triangles over one another to look through",
    "mesh_too_thin": "a mesh whose walls are thinner than the cells of a freeze map",
    "mesh_not_closed": "a mesh with holes in so many places that its inside cannot be told",
}
"""What the codes of single faults mean."""


class Problem(Exception):
    """Raised anywhere below a route to answer with a problem of the catalogue."""

    def __init__(
        self,
        code: str,
        detail: str = "",
        faults: Iterable[Fault] = (),
        headers: Mapping[str, str] | None = None,
    ) -> None:
        self.kind = PROBLEMS[code]
        self.detail = detail or self.kind.text
        self.faults = tuple(faults)
        self.headers = dict(headers or {})
        super().__init__(self.detail)

    def as_json(self, request_id: str) -> dict[str, Any]:
        return {
            "type": f"/problems/{self.kind.code}",
            "title": self.kind.title,
            "status": self.kind.status,
            "detail": self.detail,
            "request_id": request_id,
            "errors": [fault.as_json() for fault in self.faults],
        }


def refused(code: str, detail: str, accepted: Iterable[str] = ()) -> ValidationError:
    """The exception a field raises for its own value."""
    return ValidationError([Fault(code, detail, tuple(accepted))])


def refused_at(field: str, code: str, detail: str, accepted: Iterable[str] = ()) -> ValidationError:
    """The exception that a schema's cross-check raises for one of its fields.

    ``field`` may be a relative pointer without its first slash: ``sections/0/diameter``.
    """
    messages: Any = [Fault(code, detail, tuple(accepted))]
    for token in reversed(field.split("/")):
        messages = {token: messages}
    return ValidationError(messages)


def token(key: Any) -> str:
    """One step of a JSON pointer."""
    return str(key).replace("~", "~0").replace("/", "~1")


def faults_of(error: ValidationError) -> list[Fault]:
    """All faults of a request, in the order of the pointers' first appearance."""
    return list(_flatten(error.messages, ""))


_WORDS = {
    "Missing data for required field.": ("missing_field", "this field is required"),
    "Field may not be null.": ("null", "null is not a value here; leave the field out"),
    "Invalid input type.": ("not_an_object", "a JSON object is needed here"),
    "Invalid type.": ("not_an_array", "a JSON array is needed here"),
}


def _flatten(messages: Any, pointer: str) -> Iterator[Fault]:
    if isinstance(messages, dict):
        for key, inner in messages.items():
            yield from _flatten(inner, pointer if key == SCHEMA else f"{pointer}/{token(key)}")
    elif isinstance(messages, list):
        for inner in messages:
            yield from _flatten(inner, pointer)
    elif isinstance(messages, Fault):
        yield _with_hint(replace(messages, pointer=pointer))
    else:
        code, detail = _WORDS.get(str(messages), ("inconsistent", str(messages)))
        yield Fault(code, detail, pointer=pointer)


def _with_hint(fault: Fault) -> Fault:
    """Name the field that an unknown one was probably meant to be."""
    if fault.code != "unknown_field" or not fault.pointer:
        return fault
    name = fault.pointer.rpartition("/")[2].replace("~1", "/").replace("~0", "~")
    return replace(fault, detail=f"there is no field {name[:60]!r} here{did_you_mean(name, fault.accepted)}")


def did_you_mean(word: str, accepted: Iterable[str]) -> str:
    """``; did you mean 'x'?`` or nothing."""
    by_fold = {name.casefold(): name for name in accepted}
    close = difflib.get_close_matches(word[:60].casefold(), by_fold, n=1, cutoff=0.7)
    return f"; did you mean {by_fold[close[0]]!r}?" if close else ""
