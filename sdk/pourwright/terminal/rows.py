"""Names on the left, sentences with figures on the right."""

from __future__ import annotations

from typing import Any

from .figures import shown


class Rows(list[tuple[str, str]]):
    """Names and values; a value that lacks one of its parts is left out."""

    def say(self, name: str, words: str, *parts: Any) -> None:
        if None not in parts:
            self.append((name, words.format(*map(shown, parts))))
