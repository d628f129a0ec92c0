"""Results of any shape, by their own field names: pairs, tables, headings."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from .figures import is_quantity, shown
from .layout import pairs, table, titled

Json = Mapping[str, Any]


def result_lines(result: Json, width: int, title: str = "result") -> list[str]:
    """Plain values as pairs, objects and lists under headings of their own."""
    plain = [(label(name), cell(name, value)) for name, value in result.items() if _is_plain(value)]
    lines = titled(title, pairs([row for row in plain if row[1] != "-"], width))
    for name, value in result.items():
        if _is_plain(value):
            continue
        if isinstance(value, list):
            lines += titled(label(name), list_lines(value, width))
        else:
            lines += result_lines(value, width, label(name))
    return lines


def list_lines(rows: list[Json], width: int) -> list[str]:
    """A list of objects as a table of the fields that any of them has."""
    names = list(dict.fromkeys(name for row in rows for name in row))
    names = [name for name in names if any(row.get(name) not in (None, [], {}) for row in rows)]
    cells = [[cell(name, row.get(name)) for name in names] for row in rows]
    return table([label(name) for name in names], cells, width)


def label(name: str) -> str:
    """A field's name in words; what counts hundredths says so in its value."""
    return name.removesuffix("_percent").replace("_", " ")


def cell(name: str, value: Any) -> str:
    """A field's value in words."""
    return shown(value, percent=name.endswith("_percent"))


def _is_plain(value: Any) -> bool:
    """Whether a value fits into one cell: no object with objects, words or units of its own inside."""
    if isinstance(value, Mapping):
        bare = all(inner is None or isinstance(inner, int | float) for inner in value.values())
        return is_quantity(value) or value.keys() == {"values", "unit"} or bare
    if isinstance(value, list):
        return not any(isinstance(item, Mapping) and not is_quantity(item) for item in value)
    return True
