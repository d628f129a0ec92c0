"""How the service is asked: one session, one ``request`` function, its errors."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from email.utils import parsedate_to_datetime
from time import time
from typing import TYPE_CHECKING, Any, Self, TypeVar
from urllib.parse import quote, urlsplit

import requests
from requests.adapters import HTTPAdapter
from requests.auth import AuthBase
from urllib3.exceptions import MaxRetryError, ReadTimeoutError, ResponseError
from urllib3.util.retry import Retry

from .errors import ConnectionFailed, NotFound, Timeout, UnreadableAnswer, problem_of

if TYPE_CHECKING:
    from .answer import Answer, Remedies, Units

T = TypeVar("T")

DEFAULT_URL = "http://127.0.0.1:8780"
LONGEST_WAIT = 60.0
"""Seconds of a Retry-After that are waited out; a longer one is the caller's to decide."""

_AGAIN = frozenset({429, 502, 503, 504})


class _Key(AuthBase):
    """Puts the API key on. Any auth object, even one without a key, keeps ~/.netrc out of it."""

    def __init__(self, key: str | None) -> None:
        self.key = key

    def __call__(self, request: requests.PreparedRequest) -> requests.PreparedRequest:
        if self.key:
            request.headers["Authorization"] = f"Bearer {self.key}"
        return request


class _Retries(Retry):
    """urllib3's Retry, except where asking again would be wrong."""

    def get_retry_after(self, response: Any) -> float | None:
        return _wait(response.headers.get("Retry-After"))

    def increment(
        self,
        method: str | None = None,
        url: str | None = None,
        response: Any = None,
        error: Exception | None = None,
        _pool: Any = None,
        _stacktrace: Any = None,
    ) -> Self:
        if isinstance(error, ReadTimeoutError):
            raise error  # the service is at work on it: asking again would only double the work
        if response is not None and (self.get_retry_after(response) or 0.0) > LONGEST_WAIT:
            raise MaxRetryError(_pool, url or "", ResponseError("told to wait too long"))
        return super().increment(method, url, response, error, _pool, _stacktrace)


def _wait(header: str | None) -> float | None:
    """Seconds that a Retry-After header asks for; None if it says nothing readable."""
    if header is None:
        return None
    try:
        return max(0.0, float(header))
    except ValueError:
        pass
    try:
        return max(0.0, parsedate_to_datetime(header).timestamp() - time())
    except ValueError:
        return None


class Transport:
    """The part of the client that talks HTTP."""

    def __init__(
        self,
        base_url: str | None = None,
        *,
        api_key: str | None = None,
        timeout: float | tuple[float, float] = (5, 60),
        retries: int = 2,
        session: requests.Session | None = None,
    ) -> None:
        self.base_url = (base_url or os.environ.get("POURWRIGHT_URL") or DEFAULT_URL).rstrip("/")
        self.timeout = timeout
        key = api_key or os.environ.get("POURWRIGHT_API_KEY")
        self._owned = session is None
        self._session = session or _new_session(retries)
        self._auth: Any = _Key(key) if key or not self._session.auth else self._session.auth
        # A proxy named in the environment cannot reach this machine's own loopback.
        host = urlsplit(self.base_url).hostname or ""
        loopback = host in ("localhost", "::1") or host.startswith("127.")
        self._proxies = {"no_proxy": host} if loopback else None

    def close(self) -> None:
        """Close the connections, unless the session is the caller's own."""
        if self._owned:
            self._session.close()

    def request(
        self,
        method: str,
        path: str,
        *,
        body: Mapping[str, Any] | None = None,
        content: bytes | None = None,
        params: Mapping[str, str | None] | None = None,
    ) -> requests.Response:
        """Send one request and return its successful response; raises the errors of errors.py.

        ``body`` is sent as JSON (quantities may be in it), ``content`` as it is.
        """
        headers = {"Accept": "application/json, application/problem+json"}
        if body is not None:
            content = json.dumps(body, default=_plain, allow_nan=False).encode()
            headers["Content-Type"] = "application/json"
        elif content is not None:
            headers["Content-Type"] = "application/octet-stream"
        try:
            response = self._session.request(
                method,
                self.base_url + path,
                params=params,
                data=content,
                headers=headers,
                auth=self._auth,
                timeout=self.timeout,
                proxies=self._proxies,
            )
        except requests.Timeout as error:
            raise Timeout(f"{self.base_url} did not answer in time ({method} {path})") from error
        except requests.RequestException as error:
            raise ConnectionFailed(f"{self.base_url} cannot be reached: {_cause(error)}") from error
        if response.status_code >= 400:
            raise problem_of(
                response.status_code,
                _json(response),
                reason=response.reason or "",
                request_id=response.headers.get("X-Request-ID", ""),
                retry_after=_wait(response.headers.get("Retry-After")),
            )
        return response

    def data(
        self,
        method: str,
        path: str,
        *,
        body: Mapping[str, Any] | None = None,
        content: bytes | None = None,
        params: Mapping[str, str | None] | None = None,
    ) -> dict[str, Any]:
        """The JSON object that a request is answered with."""
        found = _json(self.request(method, path, body=body, content=content, params=params))
        if not isinstance(found, dict):
            raise UnreadableAnswer(f"what answers at {self.base_url} is not Pourwright: no JSON came back")
        return found

    # --- what the generated methods are made of -----------------------------------------------

    def _ask(
        self,
        path: str,
        result: type[T],
        body: Mapping[str, Any],
        units: Units | None,
        working: bool,
        remedies: Remedies | None,
    ) -> Answer[T]:
        """A calculation; arguments that are None were not given."""
        from .reading import read_answer

        given = {name: value for name, value in body.items() if value is not None}
        params = {"units": units, "working": "true" if working else None, "remedies": remedies}
        found = self.data("POST", path, body=given, params=params)
        try:
            return read_answer(result, found)
        except (KeyError, TypeError, AttributeError) as error:
            raise self._unreadable(path, error) from error

    def _fetch(
        self,
        method: str,
        path: str,
        result: type[T],
        *,
        units: Units | None = None,
        content: bytes | None = None,
        query: Mapping[str, Any] | None = None,
    ) -> T:
        """Something looked up or stored; parameters of the query that are None were not given."""
        from .reading import read

        params = {name: _word(value) for name, value in (query or {}).items()}
        found = self.data(method, path, content=content, params={**params, "units": units})
        try:
            return read(result, found)
        except (KeyError, TypeError, AttributeError) as error:
            raise self._unreadable(path, error) from error

    def _exists(self, path: str) -> bool:
        """Whether something is there."""
        try:
            self.request("HEAD", path)
        except NotFound:
            return False
        return True

    def _unreadable(self, path: str, error: Exception) -> UnreadableAnswer:
        return UnreadableAnswer(
            f"the answer of {self.base_url}{path} is not shaped as this version expects ({error!r}); "
            "are the service and this package of one version?"
        )


def _word(value: Any) -> str | None:
    """A value as a query parameter: text, true or false, or a number and its unit."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Mapping):
        return f"{value['value']} {value['unit']}"
    return None if value is None else str(value)


def part(text: str) -> str:
    """A name as one part of an address."""
    return quote(text, safe="")


def _new_session(retries: int) -> requests.Session:
    session = requests.Session()
    adapter = HTTPAdapter(
        max_retries=_Retries(
            total=retries,
            backoff_factor=0.3,
            status_forcelist=_AGAIN,
            allowed_methods=None,  # a calculation keeps no state and a mesh is named by its hash
            raise_on_status=False,
        )
    )
    session.mount("http://", adapter)
    session.mount("https://", adapter)
    return session


def _plain(value: Any) -> Any:
    """What json cannot write by itself."""
    from .quantity import Quantity, Series

    if isinstance(value, Series):
        return {"values": list(value.values), "unit": value.unit}
    if isinstance(value, Quantity):
        return {"value": value.value, "unit": value.unit}
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(f"{value!r} cannot be sent as JSON")


def _json(response: requests.Response) -> Any:
    try:
        return response.json()
    except requests.JSONDecodeError:
        return None


def _cause(error: Exception) -> str:
    """The innermost reason of a failed connection, short."""
    reason: Any = error
    while True:
        inner = getattr(reason, "reason", None) or (reason.args[0] if getattr(reason, "args", ()) else None)
        if not isinstance(inner, Exception):
            break
        reason = inner
    return str(reason).rpartition(": ")[2] or type(error).__name__
