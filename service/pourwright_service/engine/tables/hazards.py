"""When a stock item or an alloy is refused, and when it earns a caution."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from .reading import Cell, Lazy, read_table


@dataclass(frozen=True, slots=True)
class ElementHazard:
    """Thresholds of one element in per cent of mass; above ``refuse_above`` (where there is one)
    the job is refused, above ``care_above`` it carries a caution. ``cells`` are both with their sources."""

    element: str
    code: str
    refuse_above: float | None
    care_above: float
    cells: Mapping[str, Cell]


@dataclass(frozen=True, slots=True)
class FormHazard:
    """A form of scrap: ``severity`` is ``refuse`` or ``care``; ``pattern`` finds any of ``words``."""

    id: str
    severity: str
    words: tuple[str, ...]
    pattern: re.Pattern[str]


def _load_elements() -> dict[str, ElementHazard]:
    found = {}
    for row in read_table("hazards"):
        if row.words["kind"] == "element":
            refuse = row.cells.get("refuse_above")
            found[row.key] = ElementHazard(
                row.key,
                row.words["code"],
                None if refuse is None else refuse.value,
                row.cells["care_above"].value,
                row.cells,
            )
    return found


def _load_forms() -> dict[str, FormHazard]:
    found = {}
    for row in read_table("hazards"):
        if row.words["kind"] == "form":
            words = tuple(word.strip() for word in row.words["words"].split(";"))
            found[row.key] = FormHazard(row.key, row.words["severity"], words, _pattern(words))
    return found


def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    """Any of the words, whole, and not right after a word that denies it."""
    denied = "".join(rf"(?<!\b{no} )" for no in ("not", "no", "un", "non"))
    return re.compile(rf"{denied}\b(?:{'|'.join(re.escape(_plain(word)) for word in words)})\b")


def _plain(text: str) -> str:
    """Small letters and digits, everything else a single space."""
    return " ".join(re.findall(r"[a-z0-9]+", text.casefold()))


ELEMENT_HAZARDS: Mapping[str, ElementHazard] = Lazy(_load_elements)
"""Thresholds by element."""

FORM_HAZARDS: Mapping[str, FormHazard] = Lazy(_load_forms)
"""Forms of scrap by id."""


@cache
def lift_limit() -> float:
    """The mass in kg of metal and crucible above which one person with tongs is warned."""
    return next(row.cells["care_above"].value for row in read_table("hazards") if row.key == "lift")


@cache
def _any_form() -> re.Pattern[str]:
    """Any word of any form, denied or not: most names hold none, and one search tells."""
    words = (re.escape(_plain(word)) for form in FORM_HAZARDS.values() for word in form.words)
    return re.compile(rf"\b(?:{'|'.join(words)})\b")


def find_forms(text: str) -> list[FormHazard]:
    """Every form of scrap that the words name, in the table's order.

    Whole words only ("plate" is not "plated"); a word right after "not", "no", "un" or "non" does
    not count ("not sealed").
    """
    words = _plain(text)
    if not _any_form().search(words):
        return []
    return [form for form in FORM_HAZARDS.values() if form.pattern.search(words)]
