"""Remedies at the edge: a change becomes a JSON Patch (RFC 6902) of the request, and is asked anew."""

from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError

from ..engine.answer import Answer
from ..engine.bounds import OutOfRange
from ..engine.decide.remedies import MOST_ASKED, REMOVED, Change, Remedy, find_remedies
from ..engine.formula import paused
from ..engine.geometry.section import SectionFault
from ..engine.kinds import KINDS
from ..engine.ledger import MissingValue
from .problems import Problem, token
from .quantities import current_view, write, write_exact
from .registry import Endpoint
from .sentences import render

Json = Mapping[str, Any]

USUAL, LEAST_ASKED = 300, 6
"""A request of so many values is asked anew as often as any; a larger one less often, by its size, for
each time takes longer."""


def remedies_of(endpoint: Endpoint, case: Any, sent: Any, answer: Answer, which: str) -> list[Json]:
    """The remedies of an answer as JSON; ``which`` is ``failed``, ``all`` (warnings too) or ``none``."""
    if which == "none":
        return []

    def ask(changes: tuple[Change, ...]) -> Answer | None:
        try:
            again: Answer = endpoint.function(endpoint.request.load(patched(sent, patch_of(sent, changes))))
        except (ValidationError, OutOfRange, SectionFault, MissingValue, Problem):
            return None
        return again

    size = _values(sent)
    most = max(LEAST_ASKED, min(MOST_ASKED, MOST_ASKED * USUAL // size))
    with paused():
        found = find_remedies(case, answer, endpoint.levers, ask, warnings=which == "all", most=most)
    return [_remedy(sent, remedy) for remedy in found]


def _values(sent: Any) -> int:
    """How many values a request holds."""
    if isinstance(sent, Mapping):
        return 1 + sum(map(_values, sent.values()))
    return 1 + sum(map(_values, sent)) if isinstance(sent, list) else 1


def _remedy(sent: Any, remedy: Remedy) -> Json:
    return {
        "mends": [{"check": check.kind.id, "subject": check.subject} for check in remedy.checks],
        "message": render(remedy.words),
        "patch": patch_of(sent, remedy.changes),
        "cost": {
            "metal": write("mass", remedy.cost.get("metal", (None, ""))[0]),
            "money": write("money", remedy.cost.get("money", (None, ""))[0]),
        },
        "verdict": remedy.verdict,
    }


def patch_of(sent: Any, changes: tuple[Change, ...]) -> list[dict[str, Any]]:
    """The changes as JSON Patch operations on the request that was sent, in order.

    ``add`` replaces what is there already; objects that the request lacks on the way are added whole.
    """
    patch: list[dict[str, Any]] = []
    document = sent
    for change in changes:
        steps = _steps(change.at)
        value = None if change.value is REMOVED else _written(change)
        operation = (
            _removal(document, steps) if change.value is REMOVED else _addition(document, steps, value)
        )
        if operation is not None:
            patch.append(operation)
            document = patched(document, [operation])
    return patch


def _written(change: Change) -> Any:
    if change.kind in KINDS and change.kind != "count":
        return write_exact(change.kind, change.value, current_view().system)
    return change.value


def _place(document: Any, steps: list[str]) -> tuple[Any, int]:
    """The innermost object on the way that exists, and how many steps lead to it."""
    for index, step in enumerate(steps[:-1]):
        if isinstance(document, list) and step.isdigit() and int(step) < len(document):
            document = document[int(step)]
        elif isinstance(document, Mapping) and step in document:
            document = document[step]
        else:
            return document, index
    return document, len(steps) - 1


def _addition(document: Any, steps: list[str], value: Any) -> dict[str, Any]:
    _, known = _place(document, steps)
    for name in reversed(steps[known + 1 :]):
        value = [value] if name == "-" else {name: value}
    return {"op": "add", "path": _pointer(steps[: known + 1]), "value": value}


def _removal(document: Any, steps: list[str]) -> dict[str, Any] | None:
    place, known = _place(document, steps)
    there = (
        steps[-1] in place
        if isinstance(place, Mapping)
        else isinstance(place, list) and steps[-1].isdigit() and int(steps[-1]) < len(place)
    )
    if known < len(steps) - 1 or not there:
        return None
    return {"op": "remove", "path": _pointer(steps)}


def patched(document: Any, patch: list[dict[str, Any]]) -> Any:
    """The document after the operations ``add`` and ``remove``; what is not touched is shared."""
    for operation in patch:
        document = _done(document, _steps(operation["path"]), operation)
    return document


def _steps(pointer: str) -> list[str]:
    return [step.replace("~1", "/").replace("~0", "~") for step in pointer.split("/")[1:]]


def _pointer(steps: list[str]) -> str:
    return "".join(f"/{token(step)}" for step in steps)


def _done(document: Any, steps: list[str], operation: Mapping[str, Any]) -> Any:
    name, inner = steps[0], steps[1:]
    copy: Any = list(document) if isinstance(document, list) else dict(document)
    key: Any = int(name) if isinstance(copy, list) and name != "-" else name
    if inner:
        copy[key] = _done(copy[key], inner, operation)
    elif operation["op"] == "remove":
        del copy[key]
    elif isinstance(copy, list):
        copy.insert(len(copy) if key == "-" else key, operation["value"])
    else:
        copy[key] = operation["value"]
    return copy
