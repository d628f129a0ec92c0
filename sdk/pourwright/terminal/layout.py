"""Text laid out for a terminal of some width: paragraphs, pairs, tables."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

_INDENT = "  "
_GAP = "  "
_NARROWEST = 12
"""No column of a table is squeezed below this, nor below its longest word."""


def paragraph(text: str, width: int, *, first: str = "", rest: str = "") -> list[str]:
    """A text wrapped to the width; ``first`` and ``rest`` stand before its lines."""
    return textwrap.wrap(
        text,
        width,
        initial_indent=first,
        subsequent_indent=rest,
        break_long_words=False,
        break_on_hyphens=False,
    ) or [first.rstrip()]


def pairs(rows: Iterable[tuple[str, str]], width: int) -> list[str]:
    """Names on the left, values on the right of them."""
    listed = list(rows)
    if not listed:
        return []
    column = min(max(len(name) for name, _ in listed), 36)
    lines = []
    for name, value in listed:
        first = f"{_INDENT}{name:<{column}}{_GAP}"
        lines += paragraph(value, width, first=first, rest=" " * len(first))
    return lines


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> list[str]:
    """A table; numbers to the right, text to the left.

    Where the terminal is too narrow, the columns of text are wrapped; where that is not enough, the
    table is turned, or cut into a block for every row.
    """
    columns = list(zip(*rows, strict=True))
    if not columns:
        return []
    right = [all(_numeric(cell) for cell in column) for column in columns]
    sizes = [max(len(head), *map(len, column)) for head, column in zip(heads, columns, strict=True)]
    room = width - len(_INDENT) - len(_GAP) * (len(sizes) - 1)
    least = [
        max(_NARROWEST, _longest_word([head, *column])) for head, column in zip(heads, columns, strict=True)
    ]
    sizes = _squeezed(sizes, right, least, room)
    if sum(sizes) > room:
        return _turned(heads, rows, width)
    lines = _row(heads, sizes, right)
    for row in rows:
        lines += _row(row, sizes, right)
    return lines


def _numeric(cell: str) -> bool:
    return cell == "-" or cell[:1].isdigit() or (cell[:1] == "-" and cell[1:2].isdigit())


def _longest_word(cells: Iterable[str]) -> int:
    return max((len(word) for cell in cells for word in cell.split()), default=0)


def _squeezed(sizes: list[int], right: Sequence[bool], least: Sequence[int], room: int) -> list[int]:
    """Column sizes with the widest text columns narrowed until the table fits, if it can."""
    sizes = list(sizes)
    while sum(sizes) > room:
        wide = [n for n, size in enumerate(sizes) if not right[n] and size > least[n]]
        if not wide:
            break
        sizes[max(wide, key=sizes.__getitem__)] -= 1
    return sizes


def _turned(heads: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> list[str]:
    """Rows side by side, if that fits; else one block of pairs after the other."""
    lines = [list(line) for line in zip(heads, *rows, strict=True)]
    sizes = [max(map(len, column)) for column in zip(*lines, strict=True)]
    if len(_INDENT) + sum(sizes) + len(_GAP) * (len(sizes) - 1) > width:
        return _blocks(heads, rows, width)
    return [line for cells in lines for line in _row(cells, sizes, [False] * len(sizes))]


def _row(cells: Sequence[str], sizes: Sequence[int], right: Sequence[bool]) -> list[str]:
    wrapped = [paragraph(cell, size) if cell else [""] for cell, size in zip(cells, sizes, strict=True)]
    lines = []
    for number in range(max(map(len, wrapped))):
        shown = []
        for cell, size, to_right in zip(wrapped, sizes, right, strict=True):
            text = cell[number] if number < len(cell) else ""
            shown.append(text.rjust(size) if to_right else text.ljust(size))
        lines.append((_INDENT + _GAP.join(shown)).rstrip())
    return lines


def _blocks(heads: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> list[str]:
    lines: list[str] = []
    for number, row in enumerate(rows):
        lines += [""] if number else []
        lines += pairs(((head, cell) for head, cell in zip(heads, row, strict=True) if cell != "-"), width)
    return lines


def titled(title: str, lines: Sequence[str]) -> list[str]:
    """Lines under a heading, with a line of air before it; nothing if there are none."""
    return ["", title.upper(), *lines] if lines else []


def stacked(*blocks: Sequence[str]) -> list[str]:
    """Blocks of lines with a line of air between them."""
    lines: list[str] = []
    for block in blocks:
        lines += [*([""] if lines and block else []), *block]
    return lines
