"""Remedies: the smallest change of a request that makes a check pass, found by asking again.

A subject tells its :class:`Levers`: numbers that can be moved (:class:`Slide`) and changes that can be
proposed (:class:`Offer`). Whoever holds the request gives ``ask``, which makes changes in it and answers
it anew; so a remedy that is offered has been tried, just as the caller would try it.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from typing import Any, Final, TypeAlias

from ..answer import Answer
from ..checks import Check, Verdict
from ..geometry.section import Section
from ..ledger import Say

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
    """What is to be mended: the case as it was asked, its answer, and the check (None: the whole)."""

    case: Any
    answer: Answer
    check: Check | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide:
    """A number of the request that is moved by whole steps, up or down, until the check passes.

    ``at`` may hold ``{subject}``, the check's own. ``most`` is how far it is moved at most (SI). ``words``
    has the places ``{new}`` and ``{old}``. ``start`` leads to the value in the result, where neither the
    request nor a default has it; ``else_`` is the value where nobody has one. ``only_if`` and ``unless``
    name fields that must, or must not, have been given; ``along`` is changed together with it.
    """

    checks: tuple[str, ...]
    at: str
    kind: str
    step: float
    up: bool
    most: float
    words: str
    start: tuple[str, ...] = ()
    else_: float | None = None
    only_if: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    along: tuple[Change, ...] = ()


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
    """A change that was tried: ``check`` then passes (None: the answer no longer fails as a whole).

    ``verdict`` is the whole answer's after the change; ``cost`` what the result has more of: (SI value
    or None, kind) by name.
    """

    check: Check | None
    changes: tuple[Change, ...]
    words: Say
    verdict: Verdict
    cost: Mapping[str, tuple[float | None, str]]


Ask = Callable[[tuple[Change, ...]], Answer | None]
"""Makes the changes in the request and answers it; None where the changed request is refused."""


def find_remedies(
    case: Any, answer: Answer, levers: Levers, ask: Ask, *, warnings: bool = False
) -> tuple[Remedy, ...]:
    """The remedies of an answer's failed checks, and of its warnings if they are asked for."""
    wanted: list[Check | None] = [check for check in answer.checks if check.verdict == "fail"]
    if not wanted and answer.verdict == "fail" and not any(c.severity == "refuse" for c in answer.cautions):
        wanted.append(None)
    if warnings:
        wanted += [check for check in answer.checks if check.verdict == "warn"]
    found: list[Remedy] = []
    asked = _Counted(ask)
    for check in wanted:
        trouble = Trouble(case, answer, check)
        for lever in levers.levers:
            if (check.kind.id if check else WHOLE_ANSWER) not in lever.checks:
                continue
            for way in lever.offers(trouble) if isinstance(lever, Proposal) else (lever,):
                if isinstance(way, Slide):
                    found += _slid(way, trouble, asked, levers)
                    continue
                offer = Offer(way.changes, Say(way.words)) if isinstance(way, Switch) else way
                if isinstance(way, Offer) or _given(trouble, way.only_if):
                    found += _tried(offer, trouble, asked(offer.changes), levers)
    return tuple(found)


class _Counted:
    """Asks as often as is allowed, then refuses."""

    def __init__(self, ask: Ask) -> None:
        self.ask, self.left = ask, MOST_ASKED

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


def _mended(trouble: Trouble, after: Answer) -> bool:
    """Whether the trouble is gone and nothing new has failed or become unknown."""
    check = trouble.check
    if check is None:
        gone = after.verdict in ("pass", "warn")
    else:
        now = same_check(after, check)
        gone = now is None or now.verdict == "pass"
    failed = {(c.kind.id, c.subject) for c in after.checks if c.verdict == "fail"}
    before = {(c.kind.id, c.subject) for c in trouble.answer.checks if c.verdict == "fail"}
    lost = {m.pointer for m in after.missing} - {m.pointer for m in trouble.answer.missing}
    whole = after.verdict == "fail" and not failed and trouble.check is not None
    return gone and failed <= before and not lost and not whole


def _tried(offer: Offer, trouble: Trouble, after: Answer | None, levers: Levers) -> list[Remedy]:
    if after is None or not _mended(trouble, after):
        return []
    cost = {name: (_more(trouble.answer, after, path), kind) for name, (kind, path) in levers.cost.items()}
    return [Remedy(trouble.check, offer.changes, offer.words, after.verdict, cost)]


def _more(before: Answer, after: Answer, path: tuple[str, ...]) -> float | None:
    """How much more the second result has of something."""
    old, new = number_in(before.result, path), number_in(after.result, path)
    return None if old is None or new is None else new - old


def number_in(result: Any, path: tuple[str, ...]) -> float | None:
    """A number inside a result; None where there is none."""
    for name in path:
        result = result.get(name) if isinstance(result, Mapping) else getattr(result, name, None)
    return float(result) if isinstance(result, int | float) and not isinstance(result, bool) else None


# --- a number that is moved -----------------------------------------------------------------


def _slid(lever: Slide, trouble: Trouble, asked: _Counted, levers: Levers) -> list[Remedy]:
    subject = trouble.check.subject if trouble.check else ""
    at = lever.at.format(subject=subject)
    if not _given(trouble, lever.only_if):
        return []
    if any(given_at(trouble.case, pointer) is not None for pointer in lever.unless):
        return []
    old = _start(lever, at, trouble)
    if old is None:
        return []
    replies: dict[float, Answer | None] = {}

    def changes(value: float) -> tuple[Change, ...]:
        return (*lever.along, Change(at, int(value) if lever.kind == "count" else value, lever.kind))

    def slack(value: float) -> float | None:
        """How far the check is from passing, negative below; None where nothing can be told."""
        after = replies[value] = asked(changes(value))
        if after is None:
            return None
        if trouble.check is None:
            return 1.0 if after.verdict in ("pass", "warn") else None
        now = same_check(after, trouble.check)
        if now is None:
            return None
        # the sign is the verdict's: a check forgives the last bits of a float
        return abs(now.slack) if now.verdict == "pass" else -max(abs(now.slack), 1e-300)

    first = -abs(trouble.check.slack) if trouble.check is not None else None
    zero = FREEZING_POINT if lever.kind == "temperature" else 0.0
    value = least_step(slack, old, first, step=lever.step, up=lever.up, most=lever.most, zero=zero)
    if value is None:
        return []
    words = Say(lever.words, new=(value, lever.kind), old=(old, lever.kind))
    return _tried(Offer(changes(value), words), trouble, replies[value], levers)


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


def _start(lever: Slide, at: str, trouble: Trouble) -> float | None:
    """The value now in use: the caller's, a default's, or the result's."""
    given = given_at(trouble.case, at)
    if given is None:
        given = next((d.value for d in trouble.answer.defaults if d.pointer == at), None)
    if given is None and lever.start:
        given = number_in(trouble.answer.result, lever.start)
    if given is None:
        given = lever.else_
    return float(given) if isinstance(given, int | float) else None


def least_step(
    slack: Callable[[float], float | None],
    start: float,
    first: float | None,
    *,
    step: float,
    up: bool,
    most: float,
    zero: float = 0.0,
) -> float | None:
    """The nearest whole number of steps from ``zero``, beyond ``start``, with a slack of 0 or more.

    One step nearer to the start it is negative, or not known. ``first`` is the slack at the start. None
    where it stays negative as far as ``most``. The slack's size only guides the search.
    """
    start, most = start - zero, most - zero
    sign = 1 if up else -1
    near = math.floor(start / step + 1e-9) + 1 if up else math.ceil(start / step - 1e-9) - 1
    far = math.floor(most / step + 1e-9) if up else math.ceil(most / step - 1e-9)
    last = sign * (far - near)
    seen: dict[int, float | None] = {-1: first}
    fails, passes = -1, None
    k = max(0, min(last, round(0.05 * abs(start) / step)))
    while last >= 0:
        seen[k] = slack(_whole(near + sign * k, step, zero))
        value = seen[k]
        if value is not None and value >= 0.0:
            passes = k
        else:
            fails = k
        if passes is not None:
            if passes - fails == 1:
                return _whole(near + sign * passes, step, zero)
            k = _between(seen, fails, passes)
        elif fails >= last:
            return None
        else:
            k = min(last, _beyond(seen, fails))
    return None


def _whole(steps: int, step: float, zero: float) -> float:
    """Some whole steps, as a person would write it: 1.2 and not 1.2000000000000002."""
    return float(f"{zero + steps * step:.12g}")


def _beyond(seen: Mapping[int, float | None], fails: int) -> int:
    """The next try while none has passed: where the last two slacks point, within bounds."""
    doubled = 2 * fails + 2
    here = seen[fails]
    before = max((k for k in seen if k < fails), default=None)
    then = seen[before] if before is not None else None
    if before is None or here is None or then is None or here <= then:
        return doubled
    pointed = fails + math.ceil(-here * (fails - before) / (here - then))
    return max(fails + 1, min(pointed, 4 * fails + 4))


def _between(seen: dict[int, float | None], fails: int, passes: int) -> int:
    """The next try between one that fails and one that passes.

    By the slacks while that cuts the bracket well, else halfway, so that it always ends.
    """
    low, high = seen[fails], seen[passes]
    middle = (fails + passes) // 2
    if low is None or high is None or len(seen) > 8:
        return max(fails + 1, min(middle, passes - 1))
    pointed = fails + math.ceil(-low * (passes - fails) / (high - low)) if high > low else middle
    if pointed >= passes:
        pointed = passes - 1
    # the point itself is likely to pass: look first whether the step before it fails
    if pointed - 1 > fails and pointed - 1 not in seen and pointed in seen:
        pointed -= 1
    return max(fails + 1, min(pointed, passes - 1))
