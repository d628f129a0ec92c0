"""Names on the left, sentences with figures on the right."""

from __future__ import annotations

from typing import Any

from ..quantity import Quantity
from .figures import shown


class Rows(list[tuple[str, str]]):
    """Names and values; a value that lacks one of its parts is left out."""

    def say(self, name: str, words: str, *parts: Any) -> None:
        if None not in parts:
            self.append((name, words.format(*map(shown, parts))))


def by(*sizes: Quantity | None) -> str | None:
    """180 x 70 x 72 mm."""
    known = [shown(size) for size in sizes if size is not None]
    if len(known) < len(sizes):
        return None
    split = [text.partition(" ") for text in known]
    if len({unit for _, _, unit in split}) == 1:
        return f"{' x '.join(number for number, _, _ in split)} {split[0][2]}"
    return " x ".join(known)
