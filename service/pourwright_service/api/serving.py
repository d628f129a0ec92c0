"""From a declared call to a Flask view: read strictly, call one function, write."""

import hashlib
import hmac
import secrets
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import Any, NamedTuple

from flask import Flask, Request, Response, current_app, g, request
from marshmallow import ValidationError
from werkzeug.exceptions import HTTPException

from ..engine.bounds import OutOfRange
from ..engine.formula import recording
from ..engine.geometry.section import SectionFault
from ..engine.ledger import MissingValue
from ..engine.tables.reading import tables_version
from ..settings import Settings
from .envelope import announce_given, envelope, working_of
from .jsonio import read_json, write_json
from .problems import Fault, Problem, faults_of, token
from .quantities import View, viewing
from .query import read_query
from .registry import Endpoint, Registry, Resource
from .remedies import remedies_of
from .sentences import render

JSON = "application/json"

MOST_FAULTS = 200
"""So many faults of one request are listed; their number is told."""
PROBLEM = "application/problem+json"


def settings() -> Settings:
    """The settings of the running application."""
    found: Settings = current_app.extensions["pourwright"]
    return found


def respond(value: Any, status: int = 200) -> Response:
    """JSON as a response."""
    return Response(write_json(value), status, content_type=JSON)


def cacheable(response: Response) -> Response:
    """The response with a strong ETag, the tables' version and a hash of the body; 304 without a body
    where the caller has it already."""
    digest = hashlib.sha256(response.get_data()).hexdigest()
    response.set_etag(f"{tables_version()}-{digest[:16]}")
    response.cache_control.no_cache = True
    response.make_conditional(request)
    return response


# --- calculations ---------------------------------------------------------------------------


def calculation(endpoint: Endpoint) -> Callable[[], Response]:
    """The view of a calculation."""
    schema = endpoint.request

    def view() -> Response:
        faults: list[Fault] = []
        asked = _asked(request, faults)
        sent = read_json(json_body(request))
        case = None
        try:
            case = schema.load(sent)
        except ValidationError as error:
            faults += faults_of(error)
        if faults:
            raise invalid(faults)
        with viewing(View(asked.system, getattr(case, "currency", None) or "")):
            try:
                return respond(told(endpoint, case, sent, asked.working, asked.remedies))
            except OutOfRange as error:
                raise _out_of_range(error, sent) from error
            except MissingValue as error:
                fault = Fault("missing_value", render(error.missing.why), pointer=error.missing.pointer)
                raise Problem("not_computable", fault.detail, [fault]) from error
            except SectionFault as error:
                raise invalid(
                    [Fault(f.code, f.detail, tuple(f.accepted), pointer=f.pointer) for f in error.faults]
                ) from error

    view.__name__ = endpoint.operation
    return view


def told(
    endpoint: Endpoint, case: Any, sent: Mapping[str, Any], shown: bool, remedies: str
) -> dict[str, Any]:
    """A calculation's answer in its envelope, with its working if it is ``shown``.

    ``sent`` is the request as JSON and ``case`` what the schema made of it.
    """
    working = None
    if shown:
        with recording() as recorder:
            announce_given(endpoint.request, sent)
            answer = endpoint.function(case)
        working = working_of(recorder.entries)
    else:
        answer = endpoint.function(case)
    return envelope(
        answer, endpoint.answer, sent, remedies_of(endpoint, case, sent, answer, remedies), working
    )


def invalid(faults: list[Fault]) -> Problem:
    """The problem of a request that breaks its schema."""
    first = faults[0]
    place = first.pointer or first.parameter or first.header or "the body"
    more = f", and {len(faults) - 1} more" if len(faults) > 1 else ""
    told = f"; the first {MOST_FAULTS} are listed" if len(faults) > MOST_FAULTS else ""
    return Problem("invalid_request", f"{place}: {first.detail}{more}{told}", faults[:MOST_FAULTS])


_FOLLOWS = {
    "superheat": ("pouring_temperature", "temperature_fall", "liquidus"),
    "heat": ("pouring_temperature", "temperature_fall", "latent_heat", "liquidus", "solidus"),
    "heat_ratio": ("start_temperature", "pouring_temperature", "liquidus", "solidus"),
    "solidification_shrinkage": ("density_liquid", "density", "contraction"),
}
"""What is computed, and the fields of a request that it follows from, the likeliest first."""


def _out_of_range(error: OutOfRange, sent: Any) -> Problem:
    pointer = ""
    for name in (error.name, *_FOLLOWS.get(error.name, ())):
        pointers = list(_named(sent, name, ""))
        if len(pointers) == 1:
            pointer = pointers[0]
            break
    detail = f"{error} (SI units)"
    return Problem("out_of_range", detail, [Fault("out_of_range", detail, pointer=pointer)])


def _named(sent: Any, name: str, pointer: str) -> Any:
    """Pointers of the fields of this name."""
    if isinstance(sent, dict):
        for key, inner in sent.items():
            where = f"{pointer}/{token(key)}"
            if key == name:
                yield where
            yield from _named(inner, name, where)
    elif isinstance(sent, list):
        for index, inner in enumerate(sent):
            yield from _named(inner, name, f"{pointer}/{index}")


_UNITS = {"units": ("metric", "us")}
_PARAMETERS = {**_UNITS, "working": ("true", "false"), "remedies": ("failed", "all", "none")}


class _Asked(NamedTuple):
    """What the query says of the answer."""

    system: Any = "metric"
    working: bool = False
    remedies: str = "failed"


def _asked(asked: Request, faults: list[Fault]) -> _Asked:
    """The system of units, and whether working and remedies are wanted, from the query."""
    if not asked.query_string:
        return _Asked()
    words, _ = read_query(None, asked.args, _PARAMETERS, faults)
    return _Asked(
        system=words.get("units", "metric"),
        working=words.get("working") == "true",
        remedies=words.get("remedies", "failed"),
    )


def json_body(asked: Request) -> bytes:
    """The body of a calculation: JSON by its content type and not above the limit."""
    if asked.mimetype != JSON:
        sent = asked.mimetype or "no content type"
        raise Problem(
            "media_type",
            f"send the request with the header 'Content-Type: {JSON}'; it came with {sent[:60]}",
            [Fault("not_a_choice", "the content type must be JSON", (JSON,), header="Content-Type")],
            {"Accept-Post": JSON},
        )
    limit = settings().body_limit
    if (asked.content_length or 0) > limit:
        raise too_large(limit)
    try:
        body: bytes = asked.stream.read(limit + 1)
    except OSError as error:
        raise Problem("bad_request", "the body cannot be read: its transfer coding is broken") from error
    if len(body) > limit:
        raise too_large(limit)
    return body


def too_large(limit: int) -> Problem:
    return Problem("too_large", f"the body may have {limit / 1_048_576:g} MiB at most")


# --- everything else --------------------------------------------------------------------------


def lookup(resource: Resource) -> Callable[..., Response]:
    """The view of a resource."""

    def view(**parts: str) -> Response:
        faults: list[Fault] = []
        words, wanted = read_query(resource.query, request.args, _UNITS, faults)
        if faults:
            raise invalid(faults)
        system: Any = words.get("units", "metric")
        with viewing(View(system)):
            asked = (wanted,) if resource.query else ()
            found = resource.function(*asked, **parts)
            if isinstance(found, Response):
                return found
            data, status = found if isinstance(found, tuple) else (found, 200)
            response = respond(resource.answer.dump(data) if resource.answer else data, status)
            return cacheable(response) if resource.cacheable else response

    view.__name__ = resource.operation
    return view


def register(app: Flask, registry: Registry) -> None:
    """Give the application a route for every declared operation."""
    for endpoint in registry.endpoints.values():
        app.add_url_rule(
            endpoint.path,
            endpoint.operation,
            calculation(endpoint),
            methods=[endpoint.method],
            provide_automatic_options=False,
        )
    for resource in registry.resources.values():
        if resource.method == "HEAD":
            continue  # Flask answers HEAD through GET
        # a name may hold a slash ("70/30 brass"); nothing else lies below a resource of one name
        path = resource.path.replace("{id}", "<path:id>").replace("{", "<").replace("}", ">")
        app.add_url_rule(
            path,
            resource.operation,
            lookup(resource),
            methods=[resource.method],
            provide_automatic_options=False,
        )


# --- around every request ---------------------------------------------------------------------


_BY_STATUS = {
    400: "bad_request",
    401: "key_missing",
    403: "key_unknown",
    404: "not_found",
    405: "method_not_allowed",
    413: "too_large",
    415: "media_type",
    422: "invalid_request",
    429: "too_many",
    503: "unavailable",
}


def guard(app: Flask) -> None:
    """Request ids, keys, origins and problems for the whole application."""
    app.before_request(_begin)
    app.after_request(_finish)
    app.register_error_handler(Problem, _answer_problem)
    app.register_error_handler(HTTPException, _answer_http)
    app.register_error_handler(Exception, _answer_failure)


_OPEN_PATHS = ("/", "/healthz", "/readyz", "/openapi.json", "/docs", "/problems")


def _begin() -> Response | None:
    sent_id = request.headers.get("X-Request-ID", "")
    usable = 0 < len(sent_id) <= 64 and sent_id.isascii() and sent_id.replace("-", "").isalnum()
    g.request_id = sent_id if usable else secrets.token_hex(8)
    g.began = time.perf_counter()
    if request.method == "OPTIONS" and "Access-Control-Request-Method" in request.headers:
        return _preflight()
    keys = settings().api_keys
    if keys and f"/{request.path.split('/')[1]}" not in _OPEN_PATHS:
        _check_key(keys)
    return None


def _check_key(keys: tuple[str, ...]) -> None:
    scheme, _, bearer = request.headers.get("Authorization", "").partition(" ")
    given = bearer.strip() if scheme.casefold() == "bearer" else request.headers.get("X-API-Key", "")
    if not given:
        header = Fault("missing_field", "a key is needed", ("Bearer KEY",), header="Authorization")
        raise Problem("key_missing", "", [header], {"WWW-Authenticate": "Bearer"})
    found = False
    for key in keys:
        found |= hmac.compare_digest(key.encode(), given.encode())
    if not found:
        header = Fault("not_a_choice", "this key is not in use", header="Authorization")
        raise Problem("key_unknown", "", [header])


def _preflight() -> Response:
    """The answer to a browser that asks before calling."""
    origin = request.headers.get("Origin", "")
    if origin not in settings().allowed_origins:
        raise Problem("origin_refused", "", [Fault("not_a_choice", "not on the list", header="Origin")])
    response = Response(status=204)
    response.headers["Access-Control-Allow-Methods"] = "GET, HEAD, POST, PUT"
    response.headers["Access-Control-Allow-Headers"] = (
        "Authorization, Content-Type, If-None-Match, X-API-Key, X-Request-ID"
    )
    response.headers["Access-Control-Max-Age"] = "600"
    return response


def _finish(response: Response) -> Response:
    headers = response.headers
    headers["X-Request-ID"] = g.get("request_id", "")
    headers["X-Content-Type-Options"] = "nosniff"
    allowed = settings().allowed_origins
    if allowed:
        headers.add("Vary", "Origin")
        if request.headers.get("Origin", "") in allowed:
            headers["Access-Control-Allow-Origin"] = request.headers["Origin"]
            headers["Access-Control-Expose-Headers"] = "X-Request-ID, Retry-After, ETag"
    return response


def _answer_problem(problem: Problem) -> Response:
    _drain()
    body = write_json(problem.as_json(g.get("request_id", "")))
    response = Response(body, problem.kind.status, content_type=PROBLEM)
    response.headers.update(problem.headers)
    return response


def _answer_http(error: HTTPException) -> Response:
    code = _BY_STATUS.get(error.code or 500)
    if code is None:
        if error.code is not None and 300 <= error.code < 400:
            redirect: Any = error.get_response()
            return Response(redirect.get_data(), redirect.status_code, headers=redirect.headers)
        code = "internal" if (error.code or 500) >= 500 else "bad_request"
    headers = {}
    if error.code == 405:
        headers["Allow"] = ", ".join(sorted(getattr(error, "valid_methods", None) or ()))
    detail = f"there is nothing at {request.path[:80]}" if error.code == 404 else ""
    return _answer_problem(Problem(code, detail, headers=headers))


def _answer_failure(error: Exception) -> Response:
    current_app.logger.error("request %s failed", g.get("request_id", ""), exc_info=error)
    if current_app.config.get("PROPAGATE_EXCEPTIONS"):
        raise error
    return _answer_problem(Problem("internal"))


def _drain() -> None:
    """Read and drop what is left of a refused body, up to a bound.

    A server that closes a connection with unread bytes resets it, and the caller would never see
    the answer.
    """
    left = 16 * 1_048_576
    with suppress(OSError):  # a body whose chunks are broken has no end to be read to
        while left > 0 and (chunk := request.stream.read(65_536)):
            left -= len(chunk)
