"""Python source as text: docstrings, signatures and imports laid out as the formatter leaves them."""

import textwrap
from collections import defaultdict
from collections.abc import Iterable

WIDTH = 110


class Imports:
    """The imports that a file turns out to need."""

    def __init__(self) -> None:
        self._names: dict[str, set[str]] = defaultdict(set)

    def add(self, module: str, *names: str) -> None:
        self._names[module].update(names)

    def lines(self, indent: str = "") -> list[str]:
        """The import statements, the standard library's first."""
        groups = ([m for m in self._names if m[0] != "."], [m for m in self._names if m[0] == "."])
        made: list[str] = []
        for group in groups:
            if group and made:
                made.append("")
            for module in sorted(group):
                made += _from(module, sorted(self._names[module], key=_by_type), indent)
        return made


def _by_type(name: str) -> tuple[bool, str]:
    """The order of imported names: classes, then functions."""
    return name[0].islower(), name


def _from(module: str, names: list[str], indent: str) -> list[str]:
    line = f"{indent}from {module} import {', '.join(names)}"
    if len(line) <= WIDTH:
        return [line]
    return [f"{indent}from {module} import (", *(f"{indent}    {name}," for name in names), f"{indent})"]


def docstring(paragraphs: Iterable[str], indent: str) -> list[str]:
    """A docstring; one paragraph that fits stays on its line."""
    texts = [_safe(paragraph) for paragraph in paragraphs if paragraph.strip()]
    first = f'{indent}"""{texts[0]}'
    if len(texts) == 1 and len(first) + 3 <= WIDTH:
        return [first + '"""']
    lines: list[str] = []
    for number, text in enumerate(texts):
        lead = '"""' if number == 0 else ""
        lines += _wrapped(lead + text, indent)
        lines.append("")
    lines[-1] = f'{indent}"""'
    return lines


def field_docstring(text: str, indent: str) -> list[str]:
    """The docstring of an attribute, closed on its last line."""
    text = _safe(text)
    text += " " if text.endswith('"') else ""
    return _wrapped(f'"""{text}"""', indent)


def _wrapped(text: str, indent: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False)


def argument_lines(arguments: Iterable[tuple[str, str]], indent: str) -> list[str]:
    """``name: what it is``, one below the other."""
    lines: list[str] = []
    for name, text in arguments:
        lines += textwrap.wrap(
            f"{name}: {_safe(text)}",
            WIDTH,
            initial_indent=indent,
            subsequent_indent=indent + "    ",
            break_on_hyphens=False,
        )
    return lines


def _safe(text: str) -> str:
    """A text that may stand in a docstring."""
    plain = " ".join(text.split())
    if "\\" in plain or '"""' in plain:
        raise ValueError(f"this cannot stand in a docstring: {plain}")
    return plain


def union(parts: Iterable[str]) -> str:
    """Alternatives without repetition, None last."""
    split = [part for text in parts for part in _alternatives(text)]
    known = [part for part in dict.fromkeys(split) if part != "None"]
    return " | ".join([*known, "None"] if "None" in split else known)


def _alternatives(text: str) -> list[str]:
    """``a | b[c | d]`` -> a, b[c | d]."""
    parts, depth, begin = [], 0, 0
    for place, character in enumerate(text):
        depth += (character == "[") - (character == "]")
        if character == "|" and depth == 0:
            parts.append(text[begin:place].strip())
            begin = place + 1
    return [*parts, text[begin:].strip()]


def alias_lines(name: str, expression: str, indent: str = "") -> list[str]:
    """A type alias, broken where it is too long for a line."""
    head = f"{indent}{name}: TypeAlias = "
    if len(head + expression) <= WIDTH:
        return [head + expression]
    parts = _alternatives(expression)
    if len(parts) > 1:
        broken = [f"{indent}    {parts[0]}", *(f"{indent}    | {part}" for part in parts[1:])]
        return [f"{head}(", *broken, f"{indent})"]
    return _bracketed(head, expression, indent)


def _bracketed(head: str, expression: str, indent: str) -> list[str]:
    """``Literal[...]`` one word to a line; in ``Sequence[...]`` one level deeper."""
    outer, _, inner = expression.partition("[")
    inner = inner.removesuffix("]")
    if outer == "Literal":
        words = [f"{indent}    {word}," for word in inner.split(", ")]
    else:
        words = _bracketed(f"{indent}    ", inner.removesuffix(", ..."), f"{indent}    ")
        words = [*words[:-1], f"{words[-1]},", f"{indent}    ...,"] if inner.endswith(", ...") else words
    return [f"{head}{outer}[", *words, f"{indent}]"]
