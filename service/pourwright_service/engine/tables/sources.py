"""Where figures come from: every source named once.

The sources lie in ``sources/*.json``, one file per subject; they are merged on first use and a
key that occurs twice is an error.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

GRADES = (
    "standard",
    "handbook",
    "data sheet",
    "textbook",
    "journal",
    "computed",
    "derived",
    "common practice",
    "from memory",
    "estimated by rule",
)
"""How far a source may be trusted, in words; the last three name no publication."""


@dataclass(frozen=True, slots=True)
class Source:
    """One source. ``year`` is empty where none is printed, ``address`` where there is none."""

    key: str
    author: str
    title: str
    year: str
    address: str
    grade: str


class Sources(Mapping[str, Source]):
    """All sources by key, read when first looked into.

    Raises ValueError where a key occurs in two files, or a grade is not one of :data:`GRADES`.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._known: dict[str, Source] | None = None

    @property
    def known(self) -> dict[str, Source]:
        """The merged sources."""
        if self._known is None:
            self._known = _read(self._folder)
        return self._known

    def __getitem__(self, key: str) -> Source:
        return self.known[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self.known)

    def __len__(self) -> int:
        return len(self.known)


def _read(folder: Path) -> dict[str, Source]:
    merged: dict[str, Source] = {}
    for path in sorted(folder.glob("*.json")):
        for key, told in json.loads(path.read_text(encoding="utf-8")).items():
            if key in merged:
                raise ValueError(f"source {key} of {path.name} is already named in another file")
            if told["grade"] not in GRADES:
                raise ValueError(f"source {key} of {path.name}: {told['grade']!r} is not a grade")
            merged[key] = Source(
                key=key,
                author=str(told.get("author", "")),
                title=str(told["title"]),
                year=str(told.get("year", "")),
                address=str(told.get("address", "")),
                grade=told["grade"],
            )
    return merged


SOURCES: Mapping[str, Source] = Sources(Path(__file__).parent / "sources")
"""Every source by key."""
