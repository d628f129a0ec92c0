"""What can go wrong, as one tree::

    PourwrightError
    |-- ConnectionFailed           nothing answers at the address
    |-- Timeout                    no answer came in time
    |-- UnreadableAnswer           what answered is not the service, or not one of this version
    |-- VerdictError               answer.require(): the verdict is fail or unknown
    `-- ProblemError               the service refused the request; says what is wrong and where
        |-- BadRequest       400   the body is not strict JSON
        |-- Unauthorised     401   a key is needed
        |-- Forbidden        403   the key is not known here
        |-- NotFound         404   no such thing; .code tells mesh_unknown from mesh_expired
        |-- TooLarge         413   the body is too large
        |-- InvalidRequest   422   it breaks its schema, or nothing asked can be computed
        |-- TooManyRequests  429   .retry_after says how many seconds to wait
        `-- ServerError      5xx   the service failed, or is not ready

Requests that come back with 429, 502, 503 or 504, and connections that are lost, were retried before
any of these is raised.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .answer import Answer

_MOST_NAMED = 24


class PourwrightError(Exception):
    """Base of everything that this package raises about the service."""


class ConnectionFailed(PourwrightError):
    """Nothing answered at the address, or the connection was lost and stayed lost."""


class Timeout(PourwrightError):
    """The service did not answer within the client's timeout."""


class UnreadableAnswer(PourwrightError):
    """Something answered that is not Pourwright, or a version this package cannot read."""


class VerdictError(PourwrightError):
    """Raised by ``answer.require()``; ``answer`` is the answer whose verdict is fail or unknown."""

    def __init__(self, answer: Answer[Any]) -> None:
        self.answer = answer
        lines = [f"{answer.verdict}: {answer.message}"]
        lines += [f"  {check.id}: {check.message}" for check in answer.failed]
        lines += [f"  missing {missing.pointer}: {missing.message}" for missing in answer.missing]
        super().__init__("\n".join(lines))


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with a request. One of ``pointer``, ``parameter``, ``header`` says where.

    ``pointer`` is a JSON pointer, empty for the whole body. ``accepted`` lists what would do.
    """

    code: str
    detail: str
    accepted: tuple[str, ...] = ()
    pointer: str | None = None
    parameter: str | None = None
    header: str | None = None

    @property
    def place(self) -> str:
        """Where it is, in words."""
        if self.pointer is not None:
            return self.pointer or "the whole request"
        if self.parameter is not None:
            return f"parameter {self.parameter}"
        return f"header {self.header}" if self.header is not None else "the request"

    def __str__(self) -> str:
        text = f"{self.place}: {self.detail}"
        if not self.accepted or ("did you mean" in text and len(self.accepted) > _MOST_NAMED):
            return text
        named = ", ".join(word or "(none)" for word in self.accepted[:_MOST_NAMED])
        left = len(self.accepted) - _MOST_NAMED
        stop = "" if text.endswith((".", "?", "!")) else "."
        return f"{text}{stop} Accepted: {named}" + (f" and {left} more" if left > 0 else "")


class ProblemError(PourwrightError):
    """The service answered with a problem (RFC 9457).

    ``status`` is the HTTP status, ``code`` the kind of problem and ``type`` the address of a page that
    explains it; ``errors`` holds every fault found; ``request_id`` is what the service's log knows the
    request by; ``retry_after`` is how many seconds to wait, where the service said so.
    """

    def __init__(
        self,
        status: int,
        *,
        code: str = "",
        type: str = "",
        title: str = "",
        detail: str = "",
        request_id: str = "",
        errors: tuple[Fault, ...] = (),
        retry_after: float | None = None,
    ) -> None:
        self.status, self.code, self.type = status, code, type
        self.title, self.detail, self.request_id = title, detail, request_id
        self.errors, self.retry_after = errors, retry_after
        head = f"{title or 'The service refused the request'} ({status}{code and f' {code}'})"
        lines = [head, *(f"  {fault}" for fault in errors)]
        if detail and not errors:
            lines.append(f"  {detail}")
        if request_id:
            lines.append(f"  request id: {request_id}")
        super().__init__("\n".join(lines))


class BadRequest(ProblemError):
    """400: the body could not be read as strict JSON."""


class Unauthorised(ProblemError):
    """401: this service wants an API key."""


class Forbidden(ProblemError):
    """403: the key is not one in use."""


class NotFound(ProblemError):
    """404: there is no such thing; ``code`` is ``mesh_expired`` for a mesh that was here once."""


class TooLarge(ProblemError):
    """413: the body is larger than the service takes."""


class InvalidRequest(ProblemError):
    """422: the request breaks its schema, or nothing that it asks can be computed."""


class TooManyRequests(ProblemError):
    """429: wait ``retry_after`` seconds."""


class ServerError(ProblemError):
    """5xx: the service failed or is not ready."""


_BY_STATUS: dict[int, type[ProblemError]] = {
    400: BadRequest,
    401: Unauthorised,
    403: Forbidden,
    404: NotFound,
    413: TooLarge,
    422: InvalidRequest,
    429: TooManyRequests,
}


def problem_of(
    status: int, body: Any, *, reason: str, request_id: str, retry_after: float | None
) -> ProblemError:
    """The error for a response. ``body`` is its JSON, None if it has none: then a proxy spoke."""
    kind = ServerError if status >= 500 else _BY_STATUS.get(status, ProblemError)
    told: Mapping[str, Any] = body if isinstance(body, dict) else {}
    page = str(told.get("type", ""))
    return kind(
        status,
        code=page.rpartition("/")[2],
        type=page,
        title=str(told.get("title") or reason),
        detail=str(told.get("detail", "")),
        request_id=str(told.get("request_id") or request_id),
        errors=tuple(_fault(item) for item in told.get("errors") or () if isinstance(item, dict)),
        retry_after=retry_after,
    )


def _fault(item: Mapping[str, Any]) -> Fault:
    return Fault(
        code=str(item.get("code", "")),
        detail=str(item.get("detail", "")),
        accepted=tuple(str(word) for word in item.get("accepted") or ()),
        pointer=item.get("pointer"),
        parameter=item.get("parameter"),
        header=item.get("header"),
    )
