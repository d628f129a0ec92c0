"""What an answer must own up to: values the engine chose, values it lacked, cautions it gives.

A :class:`Ledger` lives for one answer. Every default is entered with the JSON pointer at which a
caller could have given the value, so the edge can fill the request in and call it ``resolved``.
Sentences are :class:`Say`: words with quantities in them, which the edge writes in the reader's
units.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, TypeVar

from .formula import known_number

T = TypeVar("T")


@dataclass(frozen=True, slots=True, init=False)
class Say:
    """A sentence with quantities: ``Say("Pour by {t}.", t=(4.2, "time"))``.

    ``parts`` maps a name in braces to (SI value, kind) or to plain text.
    """

    words: str
    parts: Mapping[str, tuple[float, str] | str]

    def __init__(self, words: str, **parts: tuple[float, str] | str) -> None:
        object.__setattr__(self, "words", words)
        object.__setattr__(self, "parts", parts)

    def then(self, other: "Say") -> "Say":
        """This sentence followed by another, which may use this one's parts; parts of the same name keep
        their own values."""
        parts, renamed = dict(self.parts), {}
        for name, part in other.parts.items():
            fresh = name
            while fresh in parts and parts[fresh] != part:
                fresh += "_"
            renamed[name] = f"{{{fresh}}}"
            parts[fresh] = part
        words = other.words.format_map(_Kept(renamed))
        return Say(f"{self.words} {words}", **parts)


class _Kept(dict[str, str]):
    """Names to names in braces; one that is not known stays as it is."""

    def __missing__(self, name: str) -> str:
        return f"{{{name}}}"


@dataclass(frozen=True, slots=True)
class Default:
    """A value that the engine chose.

    ``kind`` is a physical kind, or ``text``, ``flag``, ``count``, ``map`` (bare numbers by name).
    ``provenance`` is one of: table, common practice, from memory, estimated, computed, rule,
    standard. ``spread`` is a half-width as a fraction of the value, where one is known.
    """

    pointer: str
    value: Any
    kind: str
    provenance: str
    source: str
    note: str = ""
    spread: float | None = None


@dataclass(frozen=True, slots=True)
class Missing:
    """A value without which something could not be computed: where to give it, and why."""

    pointer: str
    why: Say


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning that follows from this request.

    ``severity`` ``refuse`` means that the engine will not call the job fit to do (verdict fail);
    ``care`` that it is ordinary for the trade but hurts people who do not know it.
    """

    code: str
    hazard: str
    severity: str
    text: Say
    why: Say
    decides: str
    source: str
    subject: str = ""


class MissingValue(Exception):
    """Raised inside decide when a value is needed that nobody has; carries a :class:`Missing`."""

    def __init__(self, missing: Missing) -> None:
        self.missing = missing
        super().__init__(missing.pointer)


@dataclass(slots=True)
class Ledger:
    """Collects defaults, missing values and cautions of one answer."""

    defaults: dict[str, Default] = field(default_factory=dict)
    lacking: dict[str, Missing] = field(default_factory=dict)
    cautions: dict[tuple[str, str], Caution] = field(default_factory=dict)
    moves: tuple[tuple[str, str], ...] = ()

    def seen_from(self, **moves: str) -> "Ledger":
        """The same ledger for a subject that is part of a larger request.

        ``seen_from(sections="/part/sections", _="/riser")`` writes ``/sections/...`` as
        ``/part/sections/...`` and everything else under ``/riser``.
        """
        pairs = [(f"/{name}", self.place(target)) for name, target in moves.items() if name != "_"]
        pairs.append(("", self.place(moves.get("_", ""))))
        return Ledger(self.defaults, self.lacking, self.cautions, tuple(pairs))

    def place(self, pointer: str) -> str:
        """The pointer as the whole request knows it."""
        for prefix, target in self.moves:
            if prefix == "" or pointer == prefix or pointer.startswith(prefix + "/"):
                return target + pointer[len(prefix) :]
        return pointer

    def use(
        self,
        pointer: str,
        given: T | None,
        default: T,
        kind: str,
        *,
        provenance: str,
        source: str,
        note: str = "",
        spread: float | None = None,
    ) -> T:
        """The caller's value if there is one, else ``default``, which is then reported."""
        if given is not None:
            return given
        where = self.place(pointer)
        self.defaults[where] = Default(where, default, kind, provenance, source, note, spread)
        if isinstance(default, float):
            known_number(default, f"{provenance}: {where}")
        return default

    def lack(self, pointer: str, why: Say) -> Missing:
        """Note that a value is missing; the answer's verdict becomes ``unknown`` there."""
        missing = Missing(self.place(pointer), why)
        self.lacking.setdefault(missing.pointer, missing)
        return missing

    def caution(self, caution: Caution) -> None:
        """Add a caution once per code and subject."""
        self.cautions.setdefault((caution.code, caution.subject), caution)
