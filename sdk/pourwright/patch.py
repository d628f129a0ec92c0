"""JSON Patch (RFC 6902), as far as remedies use it: ``add`` and ``remove``."""

from __future__ import annotations

import copy
from collections.abc import Iterable, Mapping
from typing import Any


def patched(document: Mapping[str, Any], patch: Iterable[Mapping[str, Any]]) -> dict[str, Any]:
    """A copy of the document after the operations.

    Raises ValueError for another operation, KeyError or IndexError for a place that is not there.
    """
    changed: dict[str, Any] = copy.deepcopy(dict(document))
    for operation in patch:
        *way, last = [_plain(step) for step in operation["path"].split("/")[1:]]
        place: Any = changed
        for step in way:
            place = place[int(step)] if isinstance(place, list) else place[step]
        key: Any = last
        if isinstance(place, list):
            key = len(place) if last == "-" else int(last)
        if operation["op"] == "remove":
            del place[key]
        elif operation["op"] != "add":
            raise ValueError(f"{operation['op']!r} is not an operation of a remedy")
        elif isinstance(place, list):
            place.insert(key, copy.deepcopy(operation["value"]))
        else:
            place[key] = copy.deepcopy(operation["value"])
    return changed


def _plain(step: str) -> str:
    return step.replace("~1", "/").replace("~0", "~")
