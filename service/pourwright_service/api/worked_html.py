"""The pieces of a worked page: an answer's JSON as plain, accessible HTML without a script.

Whatever comes from a request or an answer is escaped here and nowhere else.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from html import escape
from typing import Any

from ..engine.tables.sources import SOURCES, Source
from .sentences import digits

Json = Mapping[str, Any]

_UNITS = (("delta degC", "K"), ("degC", "°C"), ("degF", "°F"), ("^2", "²"), ("^3", "³"), ("^4", "⁴"))


def text(value: Any, name: str = "") -> str:
    """Any plain value of an answer in words, escaped; what counts hundredths by its name says so."""
    if value is None:
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{digits(value)} %" if name.endswith("_percent") else digits(value)
    if is_quantity(value):
        return quantity(value["value"], value["unit"])
    if isinstance(value, Mapping) and value.keys() == {"values", "unit"}:
        return ", ".join(quantity(each, value["unit"]) for each in value["values"]) or "–"
    if isinstance(value, list):
        return ", ".join(text(item, name) for item in value) or "–"
    return source(value) if name == "source" and value in SOURCES else escape(str(value))


def is_quantity(value: Any) -> bool:
    """Whether a value is an object of a number and its unit."""
    return isinstance(value, Mapping) and value.keys() == {"value", "unit"}


def quantity(value: float | None, unit: str) -> str:
    """A number with its unit."""
    if value is None:
        return "–"
    for plain, pretty in _UNITS:
        unit = unit.replace(plain, pretty)
    number = str(round(value)) if unit in ("°C", "°F") else digits(value)
    return f"{number} {escape(unit)}".rstrip()


def words(name: str) -> str:
    """A field's name as people write it."""
    return escape(name.removesuffix("_percent").replace("_", " "))


def table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table of ready HTML cells, the first of each row its head; nothing without rows."""
    body = "".join(
        f'<tr><th scope="row">{row[0]}</th>{"".join(f"<td>{cell}</td>" for cell in row[1:])}</tr>'
        for row in rows
    )
    if not body:
        return ""
    head = "".join(f'<th scope="col">{escape(one)}</th>' for one in heads)
    return (
        f'<div class="wide" role="region" aria-label="{escape(caption)}" tabindex="0"><table>'
        f"<caption>{escape(caption)}</caption><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def result(value: Json) -> str:
    """A result: its plain values as one table, every object and list of objects under its own name."""
    plain = [(words(name), text(one, name)) for name, one in value.items() if _is_plain(one)]
    html = table("Result", ("what", "value"), [row for row in plain if row[1] != "–"])
    for name, one in value.items():
        if _is_plain(one):
            continue
        title = words(name).capitalize()
        html += _inside(one, title) if isinstance(one, list) else f"<h4>{title}</h4>{_inside(one, title)}"
    return html


def _is_plain(value: Any) -> bool:
    if isinstance(value, list):
        return not any(isinstance(item, Mapping) and not is_quantity(item) for item in value)
    return not isinstance(value, Mapping) or is_quantity(value) or value.keys() == {"values", "unit"}


def _inside(value: Any, name: str) -> str:
    """An object as a list of terms, a list of objects as a table."""
    if isinstance(value, list):
        names = list(dict.fromkeys(key for row in value for key in row))
        names = [key for key in names if any(row.get(key) not in (None, [], {}) for row in value)]
        rows = [[_cell(row.get(key), key) for key in names] for row in value]
        return table(name, [key.removesuffix("_percent").replace("_", " ") for key in names], rows)
    terms = "".join(
        f"<div><dt>{words(key)}</dt><dd>{_cell(one, key)}</dd></div>"
        for key, one in value.items()
        if one not in (None, [], {})
    )
    return f"<dl>{terms}</dl>" if terms else "<p>–</p>"


def _cell(value: Any, name: str) -> str:
    return text(value, name) if _is_plain(value) else _inside(value, words(name).capitalize())


def code(value: Any) -> str:
    """JSON as it is sent."""
    shown = escape(json.dumps(value, indent=2, ensure_ascii=False), quote=False)
    return f'<pre tabindex="0"><code>{shown}</code></pre>'


def verdict(word: str) -> str:
    """A verdict as a word, marked for the eye too."""
    return f'<strong class="verdict {escape(word)}">{escape(word.upper())}</strong>'


def source(key: str) -> str:
    """A source's key, leading to where the page names it in full."""
    return f'<a href="#source-{escape(key)}">{escape(key)}</a>'


def checks(found: Sequence[Json]) -> str:
    """What was checked, worst first."""
    order = {"fail": 0, "unknown": 1, "warn": 2}
    ranked = sorted(found, key=lambda one: order.get(one["verdict"], 3))
    rows = [
        (
            escape(one["id"]),
            verdict(one["verdict"]),
            escape(one["message"]),
            text(one["value"]),
            text(one["limit"]),
            source(one["source"]["key"]),
        )
        for one in ranked
    ]
    return table("Checks, the worst first", ("check", "verdict", "says", "value", "limit", "source"), rows)


def defaults(found: Sequence[Json]) -> str:
    """The values that were chosen for the caller."""
    rows = [
        (
            f"<code>{escape(one['pointer'])}</code>",
            text(one["value"], one["pointer"]),
            escape(one["provenance"]),
            source(one["source"]["key"]),
            escape(one["note"]),
        )
        for one in found
    ]
    heads = ("where to say otherwise", "value", "provenance", "source", "note")
    return table("Values chosen because the question leaves them open", heads, rows)


def cautions(found: Sequence[Json]) -> str:
    """What can hurt someone, and who decides about it."""
    items = "".join(
        f"<li><strong>{escape(one['hazard'])}</strong>: {escape(one['message'])} {escape(one['why'])} "
        f"Who decides: {escape(one['decides'])}. {source(one['source']['key'])}</li>"
        for one in found
    )
    return f"<ul>{items}</ul>" if items else ""


def working(lines: Sequence[Json]) -> str:
    """Every formula used with its numbers, in SI units as they went in."""
    rows = []
    for line in lines:
        numbers = "".join(
            f"<li>{escape(symbol)} = {_exact(one)} ({words(one['name'])}, {escape(one['origin'])})</li>"
            for symbol, one in line["numbers"].items()
        )
        rounds = f" (round {line['rounds']})" if line["rounds"] else ""
        place = line["source"]["place"]
        rows.append(
            (
                str(line["line"]),
                escape(", ".join(line["scope"])) + rounds,
                f"<code>{escape(line['expression'])}</code>",
                f"<ul>{numbers}</ul>",
                f"{escape(line['result']['name'])} = {_exact(line['result'])}",
                source(line["source"]["key"]) + (f": {escape(place)}" if place else ""),
            )
        )
    heads = ("line", "part", "formula", "numbers put in", "result", "source")
    return table("Working, line by line, in SI units", heads, rows)


def _exact(number: Json) -> str:
    value = number["value"]
    return "–" if value is None else f"{value:.6g} {escape(number['unit'])}".rstrip()


def sources_used(answer: Json) -> list[str]:
    """The keys of every source that an answer names, in the order of their first use."""
    told = [*answer["checks"], *answer["defaults"], *answer["cautions"], *answer["working"]]
    return list(dict.fromkeys([*(one["source"]["key"] for one in told), *_keys(answer["result"])]))


def _keys(value: Any) -> Iterator[str]:
    """The source keys that a result names."""
    if isinstance(value, list):
        for item in value:
            yield from _keys(item)
    elif isinstance(value, Mapping):
        for name, one in value.items():
            if name == "source" and one in SOURCES:
                yield one
            elif not isinstance(one, str):
                yield from _keys(one)


def sources(keys: Iterable[str]) -> str:
    """The sources in full; addresses are text, so that the page leads nowhere outside."""
    rows = [
        (f'<span id="source-{escape(key)}">{escape(key)}</span>', *_source_cells(SOURCES.get(key)))
        for key in keys
    ]
    return table("Sources", ("key", "author", "title", "year", "address", "grade"), rows)


def _source_cells(known: Source | None) -> tuple[str, ...]:
    if known is None:
        return ("–", "the caller's own figure", "–", "–", "–")
    cells = (known.author, known.title, known.year, known.address, known.grade)
    return tuple(escape(cell) or "–" for cell in cells)
