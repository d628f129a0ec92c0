"""Remedies: the smallest change of a request that makes a check pass, found by asking again.

A subject tells its :class:`Levers`: numbers that can be moved (:class:`Slide`) and changes that can be
proposed (:class:`Offer`). Whoever holds the request gives ``ask``, which makes changes in it and answers
it anew; so a remedy that is offered has been tried, just as the caller would try it.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from typing import Any, Final, TypeAlias

from ..answer import Answer
from ..checks import Check, Verdict
from ..geometry.section import Section
from ..ledger import Say
from .least_step import least_step

MOST_ASKED = 60
"""How often one answer is asked anew at most; a count, so that the same request gets the same remedies."""

FREEZING_POINT = 273.15
"""K: temperatures are moved by whole degrees Celsius."""

WHOLE_ANSWER = ""
"""Stands for the id of a check where the answer fails as a whole, by none of its checks."""


class _Removed:
    """The value of a change that takes a field out of the request."""

    def __repr__(self) -> str:
        return "REMOVED"


REMOVED: Final = _Removed()


@dataclass(frozen=True, slots=True)
class Change:
    """One field of the request and its new value: an SI number of this kind, a word, or REMOVED.

    ``kind`` is a physical kind, or ``plain`` for whatever JSON writes as it is.
    """

    at: str
    value: Any
    kind: str = "plain"


@dataclass(frozen=True, slots=True)
class Offer:
    """Changes that may mend something, and what they are in words."""

    changes: tuple[Change, ...]
    words: Say


@dataclass(frozen=True, slots=True)
class Trouble:
    """What is to be mended: the case as it was asked, its answer, and checks of it.

    No check stands for an answer that fails as a whole.
    """

    case: Any
    answer: Answer
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide:
    """A number of the request that is moved by whole steps, up or down, until the check passes.

    ``most`` is how far it is moved at most (SI), and ``times`` to how many times (or what share of)
    itself; ``guess`` is where it is tried first. ``words`` has the places ``{new}`` and ``{old}``.
    ``start`` leads to the value in the result, where neither the request nor a default has it; ``else_``
    is the value where nobody has one. ``only_if`` and ``unless`` name fields that must, or must not, have
    been given; ``along`` is changed together with it. It is never moved beyond ``ceiling_times`` the number
    that the result has at ``ceiling``, nor beyond the limit of the check ``ceiling_check``.
    """

    checks: tuple[str, ...]
    at: str
    kind: str
    step: float
    up: bool
    most: float
    words: str
    times: float | None = None
    guess: float | None = None
    start: tuple[str, ...] = ()
    else_: float | None = None
    only_if: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    along: tuple[Change, ...] = ()
    ceiling: tuple[str, ...] = ()
    ceiling_times: float = 1.0
    ceiling_check: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Switch:
    """Changes that are made as they are, where the fields ``only_if`` were given."""

    checks: tuple[str, ...]
    changes: tuple[Change, ...]
    words: str
    only_if: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """What is worth trying, by a function of the trouble: changes as they are, or numbers to move."""

    checks: tuple[str, ...]
    offers: Callable[[Trouble], Iterable[Offer | Slide]]


Lever: TypeAlias = Slide | Switch | Proposal


@dataclass(frozen=True, slots=True, kw_only=True)
class Levers:
    """Everything that may mend a subject's checks, in the order in which it is tried.

    ``cost`` says where the result tells what a change costs: kind and path by name.
    """

    levers: tuple[Lever, ...] = ()
    cost: Mapping[str, tuple[str, tuple[str, ...]]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that was tried: ``checks`` then pass (none: the answer no longer fails as a whole).

    ``verdict`` is the whole answer's after the change; ``cost`` what the result has more of: (SI value
    or None, kind) by name.
    """

    checks: tuple[Check, ...]
    changes: tuple[Change, ...]
    words: Say
    verdict: Verdict
    cost: Mapping[str, tuple[float | None, str]]


Ask = Callable[[tuple[Change, ...]], Answer | None]
"""Makes the changes in the request and answers it; None where the changed request is refused."""


def find_remedies(
    case: Any, answer: Answer, levers: Levers, ask: Ask, *, warnings: bool = False, most: int = MOST_ASKED
) -> tuple[Remedy, ...]:
    """The remedies of an answer's failed checks, and of its warnings if they are asked for.

    It is asked anew at most ``most`` times.
    """
    failed = tuple(check for check in answer.checks if check.verdict == "fail")
    groups = [failed] if failed else []
    refused = any(caution.severity == "refuse" for caution in answer.cautions)
    if answer.verdict == "fail" and not failed and not refused:
        groups.append(())
    if warnings:
        warned = tuple(check for check in answer.checks if check.verdict == "warn")
        groups += [warned] if warned or answer.verdict == "warn" else []
    asked = _Counted(ask, most)
    found: list[Remedy] = []
    for group in groups:
        for lever in levers.levers:
            checks = tuple(check for check in group if check.kind.id in lever.checks)
            if checks or (not group and WHOLE_ANSWER in lever.checks):
                found += _pulled(lever, Trouble(case, answer, checks), asked, levers)
    return tuple(found)


def _pulled(lever: Lever, trouble: Trouble, asked: "_Counted", levers: Levers) -> list[Remedy]:
    """What one lever can do."""
    if isinstance(lever, Slide):
        return _slid(lever, trouble, asked, levers)
    if isinstance(lever, Switch):
        if not _given(trouble, lever.only_if):
            return []
        return _tried(Offer(lever.changes, Say(lever.words)), trouble, asked(lever.changes), levers)
    found: list[Remedy] = []
    for way in lever.offers(trouble):
        if isinstance(way, Slide):
            found += _slid(way, trouble, asked, levers)
        else:
            found += _tried(way, trouble, asked(way.changes), levers)
    return found


class _Counted:
    """Asks as often as is allowed, then refuses."""

    def __init__(self, ask: Ask, most: int) -> None:
        self.ask, self.left = ask, most

    def __call__(self, changes: tuple[Change, ...]) -> Answer | None:
        if self.left <= 0:
            return None
        self.left -= 1
        return self.ask(changes)


def same_check(answer: Answer, check: Check) -> Check | None:
    """The check of another answer that asks the same of the same subject."""
    for other in answer.checks:
        if other.kind is check.kind and other.subject == check.subject:
            return other
    return None


def _mended(trouble: Trouble, after: Answer, offer: Offer) -> tuple[Check, ...] | None:
    """Which of the checks pass now; None where none does, or something new has failed or become unknown.

    What is unknown of a thing that the offer itself has added (its price) does not count.
    """
    failed = {(check.kind.id, check.subject) for check in after.checks if check.verdict == "fail"}
    before = {(check.kind.id, check.subject) for check in trouble.answer.checks if check.verdict == "fail"}
    lost = {m.pointer for m in after.missing} - {m.pointer for m in trouble.answer.missing}
    added = tuple(change.at.removesuffix("-") for change in offer.changes if change.at.endswith("/-"))
    if not failed <= before or any(not pointer.startswith(added) for pointer in lost):
        return None
    if not trouble.checks:
        return () if _better(after, trouble) else None
    if after.verdict == "fail" and not failed:
        return None
    gone = tuple(check for check in trouble.checks if _passes(after, check))
    return gone or None


def _better(after: Answer, trouble: Trouble) -> bool:
    """Whether the answer as a whole no longer fails, or no longer warns."""
    return after.verdict == "pass" or (after.verdict == "warn" and trouble.answer.verdict != "warn")


def _passes(after: Answer, check: Check) -> bool:
    now = same_check(after, check)
    return now is None or now.verdict == "pass"


def _tried(offer: Offer, trouble: Trouble, after: Answer | None, levers: Levers) -> list[Remedy]:
    gone = None if after is None else _mended(trouble, after, offer)
    if after is None or gone is None:
        return []
    cost = {name: (_more(trouble.answer, after, path), kind) for name, (kind, path) in levers.cost.items()}
    return [Remedy(gone, offer.changes, offer.words, after.verdict, cost)]


def _more(before: Answer, after: Answer, path: tuple[str, ...]) -> float | None:
    """How much more the second result has of something."""
    old, new = number_in(before.result, path), number_in(after.result, path)
    return None if old is None or new is None else new - old


def number_in(result: Any, path: tuple[str, ...]) -> float | None:
    """A number inside a result, ``+`` for the sum over a list; None where there is none."""
    for place, name in enumerate(path):
        if name == "+":
            found = [number_in(item, path[place + 1 :]) for item in result or ()]
            return math.fsum(one for one in found if one is not None) if found else None
        result = result.get(name) if isinstance(result, Mapping) else getattr(result, name, None)
    return float(result) if isinstance(result, int | float) and not isinstance(result, bool) else None


# --- a number that is moved -----------------------------------------------------------------


def _slid(lever: Slide, trouble: Trouble, asked: _Counted, levers: Levers) -> list[Remedy]:
    """The least change that mends all of the checks; where none does, that which mends each alone."""
    if not _given(trouble, lever.only_if):
        return []
    if any(given_at(trouble.case, pointer) is not None for pointer in lever.unless):
        return []
    old = _start(lever, trouble)
    if old is None:
        return []
    replies: dict[float, Answer | None] = {}

    def changes(value: float) -> tuple[Change, ...]:
        return (*lever.along, Change(lever.at, int(value) if lever.kind == "count" else value, lever.kind))

    def reply(value: float) -> Answer | None:
        if value not in replies:
            replies[value] = asked(changes(value))
        return replies[value]

    found: list[Remedy] = []
    groups = [trouble.checks]
    while groups:
        some = replace(trouble, checks=groups.pop(0))
        value = _least(lever, some, old, reply)
        if value is not None:
            words = Say(lever.words, new=(value, lever.kind), old=(old, lever.kind))
            found += _tried(Offer(changes(value), words), some, reply(value), levers)
        elif len(some.checks) > 1:
            groups += [
                (check,)
                for check in some.checks
                if any(after is not None and _passes(after, check) for after in replies.values())
            ]
    return found


def _least(
    lever: Slide, trouble: Trouble, old: float, reply: Callable[[float], Answer | None]
) -> float | None:
    """The nearest value at which all of the checks pass."""
    checks = trouble.checks

    def slack(value: float) -> float | None:
        """How far the worst check is from passing, as a share of its limit, negative below; None where
        nothing can be told."""
        after = reply(value)
        if after is None:
            return None
        if not checks:
            return 1.0 if _better(after, trouble) else None
        now = [same_check(after, check) for check in checks]
        return None if None in now else min(_slack(check) for check in now if check is not None)

    zero = FREEZING_POINT if lever.kind == "temperature" else 0.0
    share = max((_lacking(check) for check in checks), default=None) if not zero else None
    return least_step(
        slack,
        old,
        min(map(_slack, checks), default=None),
        step=lever.step,
        up=lever.up,
        most=_farthest(lever, trouble.answer, old),
        zero=zero,
        guess=lever.guess or (None if share is None else old * share if lever.up else old / share),
    )


def _farthest(lever: Slide, answer: Answer, old: float) -> float:
    """How far the number is moved at most."""
    nearest = min if lever.up else max
    most = lever.most if lever.times is None else nearest(lever.most, old * lever.times)
    ceiling = number_in(answer.result, lever.ceiling) if lever.ceiling else None
    if ceiling is not None:
        most = nearest(most, ceiling * lever.ceiling_times)
    limits = [check.limit for check in answer.checks if check.kind.id == lever.ceiling_check]
    return nearest([most, *limits])


def _slack(check: Check) -> float:
    """The slack as a share of the limit, with the verdict's sign: a check forgives the last bits."""
    size = abs(check.slack) / (abs(check.limit) or 1.0)
    return size if check.verdict == "pass" else -max(size, 1e-300)


def _lacking(check: Check) -> float:
    """How many times more (or less) of the value would pass; 1.05 where a ratio says nothing."""
    if check.value <= 0.0 or check.limit <= 0.0:
        return 1.05
    return min(max(check.limit / check.value, check.value / check.limit), 10.0)


def _given(trouble: Trouble, pointers: tuple[str, ...]) -> bool:
    return all(given_at(trouble.case, pointer) is not None for pointer in pointers)


def given_at(case: Any, pointer: str) -> Any:
    """What a case holds at a JSON pointer; None where it holds nothing."""
    for name in pointer.split("/")[1:]:
        if isinstance(case, Mapping):
            case = case.get(name)
        elif isinstance(case, tuple):
            case = case[int(name)] if name.isdigit() and int(name) < len(case) else None
        elif is_dataclass(case) and name in {f.name for f in fields(case)}:
            case = getattr(case, name)
        elif isinstance(case, Section):
            case = case.dimensions.get(name)
        else:
            return None
    return case


def _start(lever: Slide, trouble: Trouble) -> float | None:
    """The value now in use: the caller's, a default's, or the result's."""
    given = given_at(trouble.case, lever.at)
    if given is None:
        given = next((d.value for d in trouble.answer.defaults if d.pointer == lever.at), None)
    if given is None and lever.start:
        given = number_in(trouble.answer.result, lever.start)
    if given is None:
        given = lever.else_
    return float(given) if isinstance(given, int | float) else None
