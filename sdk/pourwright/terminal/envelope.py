"""What every answer has, as text: the verdict first, the sentence, and what is behind the result."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from .figures import shown
from .layout import pairs, paragraph, table, titled

Json = Mapping[str, Any]

_ORDER = {"fail": 0, "unknown": 1, "warn": 2}
_WORDS = {"warn": "WARN", "fail": "FAIL", "unknown": "UNKNOWN"}
_COUNTED = {"fail": "failed", "unknown": "unknown", "warn": "to mind"}
_MOST_DOUBTFUL = 6
_NO_COST = 0.005
_DOUBTFUL = 0.1
"""Values that may be off by more than this share are named even in the short list."""


def answer_lines(data: Json, width: int, body: Iterable[str], *, all_defaults: bool) -> list[str]:
    """The whole answer; ``body`` is its result, laid out by the subject.

    What needs doing stands at the top, above the tables; checks that passed come after them.
    """
    verdict = data["verdict"]
    return [
        *paragraph(data["message"], width, first=f"{verdict.upper()}: "),
        *mend_lines(data["checks"], data["message"], width),
        *remedy_lines(data.get("remedies") or [], width),
        *missing_lines(data["missing"], data["message"], width),
        *body,
        *caution_lines(data["cautions"], width),
        *passed_lines(data["checks"], width),
        *default_lines(data["defaults"], width, everything=all_defaults),
        *working_lines(data.get("working"), width),
    ]


def mend_lines(checks: list[Json], said: str, width: int) -> list[str]:
    """The checks that did not pass, failed ones first; ``said`` is what the sentence has told already."""
    wrong = [check for check in checks if check["verdict"] != "pass"]
    wrong.sort(key=lambda check: _ORDER.get(check["verdict"], 0))
    many = Counter(check["verdict"] for check in wrong)
    counted = ", ".join(f"{many[verdict]} {word}" for verdict, word in _COUNTED.items() if many[verdict])
    rows = [(_WORDS.get(check["verdict"], "?"), _once(check["message"], said)) for check in wrong]
    return titled(f"checks: {counted}", pairs(rows, width))


def remedy_lines(remedies: list[Json], width: int) -> list[str]:
    """The changes that would mend what failed, each with its cost and what becomes of the answer."""
    rows: dict[str, str] = {}
    for remedy in remedies:
        costs = [_cost(remedy["cost"].get(name), name) for name in ("metal", "money")]
        after = {"pass": "all checks then pass", "warn": "no check then fails"}.get(remedy["verdict"], "")
        tail = "; ".join(text for text in (*costs, after) if text)
        rows.setdefault(remedy["message"], f" ({tail})" if tail else "")
    return titled(
        "each of these would mend one", pairs([("->", text + tail) for text, tail in rows.items()], width)
    )


def _cost(cost: Any, name: str) -> str:
    """What a change takes more or less of; nothing where it makes no difference."""
    value = cost["value"] if isinstance(cost, dict) else cost
    if not value or abs(value) < _NO_COST:
        return ""
    size = {**cost, "value": abs(value)} if isinstance(cost, dict) else abs(value)
    word = "more" if value > 0 else "less"
    what = {"money": "", "metal": " metal to melt"}.get(name, f" {name}")
    return f"{shown(size)} {word}{what}"


def missing_lines(missing: list[Json], said: str, width: int) -> list[str]:
    """What could not be computed, and where to say more."""
    rows = [(_place(item["pointer"]), _once(item["message"], said)) for item in missing]
    return titled("missing: say more here and ask again", pairs(rows, width))


def passed_lines(checks: list[Json], width: int) -> list[str]:
    """The checks that passed."""
    rows = [("ok", check["message"]) for check in checks if check["verdict"] == "pass"]
    return titled(f"checks passed: {len(rows)}", pairs(rows, width))


def _once(message: str, said: str) -> str:
    return "see above" if message in said else message


def _place(pointer: str) -> str:
    """A pointer as people write it: part.sections.0 for /part/sections/0."""
    steps = pointer.removeprefix("/").split("/")
    return ".".join(step.replace("~1", "/").replace("~0", "~") for step in steps) or "the whole request"


def caution_lines(cautions: list[Json], width: int) -> list[str]:
    """The cautions by who decides about them, refusals first; one text with all its reasons."""
    by_decider: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    for caution in sorted(cautions, key=lambda caution: caution["severity"] != "refuse"):
        refused = "REFUSED, " if caution["severity"] == "refuse" else ""
        text = f"{refused}{caution['hazard']}: {caution['message']}"
        by_decider[caution["decides"]][text].append(caution["why"])
    lines: list[str] = []
    for decider, found in by_decider.items():
        for text, reasons in found.items():
            lines += paragraph(text, width, first="  ! ", rest="    ")
            lines += paragraph(f"Why here: {' '.join(reasons)}", width, first="    ", rest="    ")
        lines += paragraph(f"Who decides: {decider}", width, first="  ", rest="    ")
    return titled("cautions", lines)


def default_lines(defaults: list[Json], width: int, *, everything: bool) -> list[str]:
    """What was chosen for the caller: all of it, or counts and what may be far off."""
    if not defaults:
        return []
    if everything:
        rows = [[_place(item["pointer"]), _value(item), _origin(item)] for item in defaults]
        return titled(
            "values chosen for you", table(["where to say otherwise", "value", "from"], rows, width)
        )
    many = Counter(item["provenance"] for item in defaults)
    counted = ", ".join(f"{number} {word}" for word, number in many.most_common())
    head = f"{len(defaults)} values were chosen for you ({counted}); --defaults lists them."
    doubtful = [item for item in defaults if (item["spread"] or 0) > _DOUBTFUL]
    doubtful.sort(key=lambda item: -float(item["spread"]))
    lines = paragraph(head, width, first="  ", rest="  ")
    if doubtful:
        lines.append("  The least certain of them:")
        lines += pairs([(_place(item["pointer"]), _value(item)) for item in doubtful[:_MOST_DOUBTFUL]], width)
    return titled("values chosen for you", lines)


def _value(default: Json) -> str:
    percent = "_percent" in default["pointer"]
    spread = default["spread"]
    return shown(default["value"], percent=percent) + (f" ± {100 * spread:.0f} %" if spread else "")


def _origin(default: Json) -> str:
    key, provenance = default["source"]["key"], default["provenance"]
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
