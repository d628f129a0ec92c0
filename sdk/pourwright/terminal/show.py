"""An answer as text: verdict first, the sentence, then the tables and what is behind them."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from .figures import is_quantity, shown
from .layout import pairs, paragraph, table, titled

Json = Mapping[str, Any]

_ORDER = {"fail": 0, "unknown": 1, "warn": 2, "pass": 3}
_WORDS = {"pass": "ok", "warn": "WARN", "fail": "FAIL", "unknown": "UNKNOWN"}
_SHORTEST_SPREAD = 0.1
"""Defaults that may be off by more than this share are named even in the short list."""


def answer_lines(data: Json, width: int, body: Iterable[str], *, all_defaults: bool) -> list[str]:
    """The whole answer; ``body`` is its result, laid out by the subject."""
    verdict = data["verdict"]
    return [
        *paragraph(data["message"], width, first=f"{verdict.upper()}: "),
        *missing_lines(data["missing"], width),
        *body,
        *check_lines(data["checks"], width),
        *caution_lines(data["cautions"], width),
        *default_lines(data["defaults"], width, everything=all_defaults),
        *working_lines(data.get("working"), width),
    ]


# --- results of any shape ----------------------------------------------------------------------


def result_lines(result: Json, width: int, title: str = "result") -> list[str]:
    """A result by its own field names: plain values as pairs, objects and lists under headings."""
    plain = [(label(name), cell(name, value)) for name, value in result.items() if _is_plain(value)]
    lines = titled(title, pairs([row for row in plain if row[1] != "-"], width))
    for name, value in result.items():
        if isinstance(value, list) and value and not _is_plain(value):
            lines += titled(label(name), list_lines(value, width))
        elif isinstance(value, Mapping) and not _is_plain(value):
            lines += result_lines(value, width, label(name))
    return lines


def list_lines(rows: list[Json], width: int, columns: Iterable[str] = ()) -> list[str]:
    """A list of objects as a table of the columns asked for, or of all that are not empty."""
    names = list(columns) or list(dict.fromkeys(name for row in rows for name in row))
    names = [name for name in names if any(_has(row.get(name)) for row in rows)]
    cells = [[cell(name, row.get(name)) for name in names] for row in rows]
    return table([label(name) for name in names], cells, width)


def label(name: str) -> str:
    """A field's name in words; what counts hundredths says so in its value."""
    return name.removesuffix("_percent").replace("_", " ")


def cell(name: str, value: Any) -> str:
    """A field's value in words."""
    return shown(value, percent=name.endswith("_percent"))


def _has(value: Any) -> bool:
    return value is not None and value not in ([], {})


def _is_plain(value: Any) -> bool:
    """Whether a value fits into one cell."""
    if isinstance(value, Mapping):
        numbers = all(inner is None or isinstance(inner, int | float | str) for inner in value.values())
        return (
            is_quantity(value) or "values" in value or (numbers and "unit" not in value and len(value) <= 9)
        )
    if isinstance(value, list):
        return not any(isinstance(item, Mapping) and not is_quantity(item) for item in value)
    return True


# --- what every answer has ---------------------------------------------------------------------


def missing_lines(missing: list[Json], width: int) -> list[str]:
    """What could not be computed, and where to say more."""
    rows = [(str(item["pointer"] or "the request"), str(item["message"])) for item in missing]
    return titled("missing: give these and ask again", pairs(rows, width))


def check_lines(checks: list[Json], width: int) -> list[str]:
    """The checks, failed ones first."""
    ordered = sorted(checks, key=lambda check: _ORDER.get(check["verdict"], 0))
    many = Counter(check["verdict"] for check in checks)
    words = {"fail": "failed", "unknown": "unknown", "warn": "to mind", "pass": "passed"}
    counted = ", ".join(f"{many[verdict]} {word}" for verdict, word in words.items() if many[verdict])
    rows = [(_WORDS.get(str(check["verdict"]), "?"), str(check["message"])) for check in ordered]
    return titled(f"checks: {counted}", pairs(rows, width))


def caution_lines(cautions: list[Json], width: int) -> list[str]:
    """The cautions by who decides about them, refusals first."""
    by_decider: dict[str, list[Json]] = defaultdict(list)
    for caution in sorted(cautions, key=lambda caution: caution["severity"] != "refuse"):
        by_decider[caution["decides"]].append(caution)
    lines: list[str] = []
    for decider, found in by_decider.items():
        for caution in found:
            refused = "REFUSED, " if caution["severity"] == "refuse" else ""
            text = f"{refused}{caution['hazard']}: {caution['message']}"
            lines += paragraph(text, width, first="  ! ", rest="    ")
            lines += paragraph(f"Why here: {caution['why']}", width, first="    ", rest="    ")
        lines += paragraph(f"Who decides: {decider}", width, first="  ", rest="    ")
    return titled("cautions", lines)


def default_lines(defaults: list[Json], width: int, *, everything: bool) -> list[str]:
    """What was chosen for the caller: all of it, or counts and what may be far off."""
    if not defaults:
        return []
    if everything:
        rows = [[item["pointer"], _value(item), _origin(item)] for item in defaults]
        return titled(
            "values chosen for you", table(["where to say otherwise", "value", "from"], rows, width)
        )
    many = Counter(item["provenance"] for item in defaults)
    counted = ", ".join(f"{number} {word}" for word, number in many.most_common())
    head = f"{len(defaults)} values were chosen for you ({counted}); --defaults lists them."
    doubtful = [item for item in defaults if (item["spread"] or 0) > _SHORTEST_SPREAD]
    lines = paragraph(head, width, first="  ", rest="  ")
    if doubtful:
        lines.append("  The least certain of them:")
        lines += pairs([(item["pointer"], f"{_value(item)}, {_origin(item)}") for item in doubtful], width)
    return titled("values chosen for you", lines)


def _value(default: Json) -> str:
    percent = "_percent" in default["pointer"]
    spread = default["spread"]
    return shown(default["value"], percent=percent) + (f" ± {spread:.0%}" if spread else "")


def _origin(default: Json) -> str:
    key = default["source"]["key"]
    provenance = default["provenance"]
    source = "" if key.replace("-", " ").casefold() == provenance.casefold() else f" ({key})"
    return f"{provenance}{source}" + (f": {default['note']}" if default["note"] else "")


def working_lines(working: list[Json] | None, width: int) -> list[str]:
    """Every formula used, with its numbers, in SI units."""
    lines: list[str] = []
    for line in working or ():
        head = f"{line['line']}. {': '.join([*line['scope'], line['expression']])}"
        result = line["result"]
        lines += paragraph(head, width, first="  ", rest="     ")
        text = f"{result['name']} = {_si(result)}"
        rows = [
            f"{symbol} = {_si(number)} ({number['origin']})" for symbol, number in line["numbers"].items()
        ]
        lines += paragraph(f"{text} from {'; '.join(rows)}", width, first="     ", rest="     ")
    return titled("working, in SI units", lines)


def _si(number: Json) -> str:
    value = number["value"]
    return "-" if value is None else f"{value:.6g} {number['unit']}".rstrip()
