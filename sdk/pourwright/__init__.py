"""Pourwright from Python: plan a sand casting before any metal is melted.

::

    from pourwright import Client

    with Client() as client:
        answer = client.freezing(
            mould_constant="4 min/cm^2",
            sections=[{"name": "plate", "shape": "plate",
                       "length": "30 cm", "width": "10 cm", "thickness": "2 cm"}],
        ).require()
        print(answer.result.freezing_time.to("min"))

Names load when they are first used, so importing this package costs next to nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .answer import Answer, Caution, Check, Default, Missing, Remedy, SourceRef, WorkingLine
    from .client import Client
    from .errors import (
        BadRequest,
        ConnectionFailed,
        Fault,
        Forbidden,
        InvalidRequest,
        NotFound,
        PourwrightError,
        ProblemError,
        ServerError,
        Timeout,
        TooLarge,
        TooManyRequests,
        Unauthorised,
        UnreadableAnswer,
        VerdictError,
    )
    from .quantity import Quantity, Series

    __version__: str

__all__ = [
    "Answer",
    "BadRequest",
    "Caution",
    "Check",
    "Client",
    "ConnectionFailed",
    "Default",
    "Fault",
    "Forbidden",
    "InvalidRequest",
    "Missing",
    "NotFound",
    "PourwrightError",
    "ProblemError",
    "Quantity",
    "Remedy",
    "Series",
    "ServerError",
    "SourceRef",
    "Timeout",
    "TooLarge",
    "TooManyRequests",
    "Unauthorised",
    "UnreadableAnswer",
    "VerdictError",
    "WorkingLine",
]

_HOMES = {
    "Client": "client",
    "Quantity": "quantity",
    "Series": "quantity",
    "Answer": "answer",
    "Caution": "answer",
    "Check": "answer",
    "Default": "answer",
    "Missing": "answer",
    "Remedy": "answer",
    "SourceRef": "answer",
    "WorkingLine": "answer",
}
"""Name -> module; every other public name is one of the errors."""


def __getattr__(name: str) -> Any:
    if name == "__version__":
        found: Any = import_module("importlib.metadata").version("pourwright")
    elif name in __all__:
        found = getattr(import_module(f".{_HOMES.get(name, 'errors')}", __name__), name)
    else:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__, "__version__"})
