"""Answers: the verdict first, then the result and everything behind it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Generic, Literal, TypeAlias, TypeVar

from .errors import VerdictError
from .patch import patched
from .quantity import Quantity

R = TypeVar("R")

Verdict: TypeAlias = Literal["pass", "warn", "fail", "unknown"]
Units: TypeAlias = Literal["metric", "us"]
"""System of units of an answer; it never changes a decision."""
Remedies: TypeAlias = Literal["failed", "all", "none"]
"""What remedies are looked for: of failed checks, of warnings too, or none."""


@dataclass(frozen=True, slots=True)
class SourceRef:
    """Where a number or a rule comes from; ``client.sources()`` has the rest."""

    key: str
    grade: str
    place: str | None = None


@dataclass(frozen=True, slots=True)
class Check:
    """One question with a number on either side; ``slack`` of 0 or more passes."""

    id: str
    subject: str
    verdict: Verdict
    message: str
    value: Quantity | float | None
    limit: Quantity | float | None
    slack: Quantity | float | None
    margin: float | None
    source: SourceRef


@dataclass(frozen=True, slots=True)
class Mended:
    """A check that a remedy mends."""

    check: str
    subject: str


@dataclass(frozen=True, slots=True)
class Cost:
    """What a change takes more of; less is negative, None is not known."""

    metal: Quantity | float | None
    money: Quantity | float | None


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change of the request that the service has tried: with it the checks that it ``mends`` pass.

    Where it mends none, the answer had failed as a whole. ``patch`` is a JSON Patch (RFC 6902) of the
    request, ``cost`` what it takes more of, ``verdict`` the whole answer's afterwards.
    """

    mends: tuple[Mended, ...]
    message: str
    patch: tuple[Mapping[str, Any], ...]
    cost: Cost
    verdict: Verdict

    def applied(self, request: Mapping[str, Any]) -> dict[str, Any]:
        """The request with this change made in it; the request itself stays as it is."""
        return patched(request, self.patch)


@dataclass(frozen=True, slots=True)
class Missing:
    """A value without which something could not be computed: give it at ``pointer``."""

    pointer: str
    message: str


@dataclass(frozen=True, slots=True)
class Default:
    """A value that the service chose; one given at ``pointer`` wins.

    ``spread`` is a half-width as a fraction of the value, where one is known.
    """

    pointer: str
    value: Any
    provenance: str
    source: SourceRef
    note: str
    spread: float | None


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard that follows from this request, why, and who decides about it."""

    code: str
    hazard: str
    severity: Literal["care", "refuse"]
    message: str
    why: str
    decides: str
    subject: str
    source: SourceRef


@dataclass(frozen=True, slots=True)
class WorkingLine:
    """One formula as it was used, in SI units.

    ``numbers`` are the numbers put in, by symbol: value, unit, name and origin of each; ``result``
    has value, unit and name.
    """

    line: int
    scope: tuple[str, ...]
    formula: str
    expression: str
    numbers: Mapping[str, Mapping[str, Any]]
    result: Mapping[str, Any]
    rounds: int | None
    source: SourceRef


@dataclass(frozen=True, slots=True)
class Answer(Generic[R]):
    """What the service answered.

    Look at ``verdict`` (or call :meth:`require`) before using ``result``: a job that cannot be done is
    an answer too. ``resolved`` is the request with every default filled in; sent again it gives the
    same answer. ``working`` is there if it was asked for. ``data`` is the answer's JSON as it came.
    """

    verdict: Verdict
    message: str
    result: R
    checks: tuple[Check, ...]
    remedies: tuple[Remedy, ...]
    missing: tuple[Missing, ...]
    defaults: tuple[Default, ...]
    cautions: tuple[Caution, ...]
    resolved: Mapping[str, Any]
    engine_version: str
    tables_version: str
    working: tuple[WorkingLine, ...] | None
    data: Mapping[str, Any] = field(repr=False)

    def require(self) -> Answer[R]:
        """This answer if its verdict is pass or warn; raises VerdictError otherwise."""
        if self.verdict in ("pass", "warn"):
            return self
        raise VerdictError(self)

    @property
    def failed(self) -> tuple[Check, ...]:
        """The checks that failed."""
        return tuple(check for check in self.checks if check.verdict == "fail")

    @property
    def warnings(self) -> tuple[Check, ...]:
        """The checks that passed with a warning."""
        return tuple(check for check in self.checks if check.verdict == "warn")
