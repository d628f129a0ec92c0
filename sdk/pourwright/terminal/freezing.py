"""The answer of freezing: sections, order, the way of the feed metal, junctions."""

from __future__ import annotations

from collections.abc import Iterable

from ..models.freezing import FreezingResult
from .figures import shown
from .layout import pairs, stacked, table, titled

_HOW = {"well": "feeds well", "doubtful": "feeds doubtfully", "cut off": "cuts it off"}


def freezing_lines(freezing: FreezingResult, width: int) -> list[str]:
    """The whole result, under headings of its own."""
    plain = [
        ("volume", freezing.volume),
        ("mould constant", freezing.mould_constant),
        ("from", freezing.mould_constant_from),
        ("method", freezing.method),
        ("poured at", freezing.pouring_temperature),
        ("when the mould is full", freezing.filled_temperature),
        ("freezes at", freezing.freezing_temperature),
        ("heat to freeze", freezing.heat_to_freeze),
    ]
    return [
        *titled("result", pairs([(name, shown(value)) for name, value in plain if value is not None], width)),
        *titled("order of freezing", order_lines(freezing, width)),
        *titled("feed path", feed_lines(freezing, width)),
        *titled("junctions", junction_lines(freezing, width)),
    ]


def order_lines(freezing: FreezingResult, width: int) -> list[str]:
    """The sections, the first to freeze on top."""
    rows = [
        [
            shown(line.rank),
            line.name,
            shown(line.thickness),
            shown(line.volume),
            shown(line.cooling_area),
            shown(line.modulus),
            shown(line.freezing_time),
        ]
        for line in sorted(freezing.sections or (), key=lambda line: line.rank or 0)
    ]
    heads = ["order", "section", "wall", "volume", "cooled surface", "modulus", "solid after"]
    last = [("last to freeze", freezing.last_to_freeze)] if freezing.last_to_freeze else []
    return stacked(table(heads, rows, width), pairs(last, width))


def feed_lines(freezing: FreezingResult, width: int) -> list[str]:
    """Every step with its ratio in words, and the whole way where it has more than one step."""
    rows = []
    for step in freezing.feed_path or ():
        words = f"from {step.end}, which {_HOW[step.feeds]} (step {shown(step.step)}; 1.1 is good)"
        if len(step.way) > 2:
            words += f"; the whole way: {' - '.join(step.way)}"
        rows.append((step.start, words))
    if freezing.feed_path and freezing.apart:
        rows.append(("by themselves", ", ".join(freezing.apart)))
    return pairs(rows, width)


def junction_lines(freezing: FreezingResult, width: int) -> list[str]:
    """Where sections meet: the circle that fits in beside the walls, and the fillets."""
    rows = [
        [
            f"{one.branch} on {one.wall}",
            _kind(one.kind, shown(one.angle)),
            _join((shown(one.wall_thickness), shown(one.branch_thickness)), " / "),
            shown(one.circle),
            shown(one.circle_ratio),
            shown(one.most_freezing_time),
            shown(one.fillet),
            _join((shown(one.least_fillet), shown(one.most_fillet)), " to "),
        ]
        for one in freezing.junctions or ()
    ]
    heads = ["where", "kind", "walls", "circle", "over wall", "solid at latest", "fillet", "good fillets"]
    return table(heads, rows, width)


def _kind(kind: str, angle: str) -> str:
    return kind if angle in ("-", "90 °") else f"{kind}, {angle}"


def _join(values: Iterable[str], between: str) -> str:
    told = [value for value in values if value != "-"]
    return between.join(told) or "-"
