"""What every marked formula must keep to. Each rule returns its findings in words; none is good.

The rules are functions so that the tests can also turn them on formulas that are wrong on purpose.
"""

import doctest
import importlib
import io
import math
import random
import re
import warnings
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from pourwright_service.engine.bounds import FINITE, Bound, OutOfRange
from pourwright_service.engine.formula import Formula, counting_outside
from pourwright_service.engine.kinds import Kind
from tests.engine.expression import Expression, ExpressionError, right_side
from tests.engine.sampling import FEWEST, TRIES, Points, draw_points, extend_points, outside, shown

CLOSED, ITERATIVE = 1e-9, 1e-6
"""Agreement asked of a closed and of an iterative formula."""

WANTED, ENOUGH = 150, 10
"""Points to compare at a time, and points wanted in every branch, zeros not counted."""

UNIT_WORDS = {
    *(
        "kg",
        "g",
        "t",
        "lb",
        "m",
        "mm",
        "cm",
        "um",
        "in",
        "ft",
        "s",
        "min",
        "h",
        "K",
        "degC",
        "degF",
        "C",
        "F",
    ),
    *(
        "Pa",
        "kPa",
        "MPa",
        "bar",
        "N",
        "J",
        "kJ",
        "W",
        "kW",
        "L",
        "m^2",
        "m^3",
        "cm^2",
        "cm^3",
        "mm^2",
        "mm^3",
    ),
    *("m/s", "kg/s", "kg/m^3", "g/cm^3", "percent", "%", "K/s", "K/min", "s/m^2"),
    *("kilogram", "kilograms", "gram", "grams", "metre", "metres", "millimetre", "millimetres", "second"),
    *("seconds", "minute", "minutes", "kelvin", "pound", "pounds", "inch", "inches", "joule", "watt"),
}


@dataclass(frozen=True)
class Marked:
    """A formula's mark and the function a caller calls."""

    known: Formula
    call: Callable[..., Any]

    @classmethod
    def of(cls, known: Formula) -> "Marked":
        module = importlib.import_module(known.function.__module__)
        return cls(known, getattr(module, known.name))

    @property
    def tolerance(self) -> float:
        return ITERATIVE if self.known.identity else CLOSED


def coverage_findings(points: Points) -> list[str]:
    """The declared range must be one in which the formula can be believed."""
    if points.faults:
        return points.faults
    if len(points.valid) >= FEWEST:
        return []
    often = sorted(points.refusals.items(), key=lambda pair: -pair[1])[:3]
    return [
        f"only {len(points.valid)} of {points.tries} points inside the declared range have a value; "
        f"narrow `valid`. Most refused: {'; '.join(f'{why} ({n} times)' for why, n in often)}"
    ]


# --- 1. the printed expression is the function ------------------------------------------------


def expression_findings(marked: Marked) -> list[str]:
    """Expression against function at random points of every branch, or the vanishing identity."""
    known = marked.known
    points = draw_points(known, marked.call)
    if findings := coverage_findings(points):
        return findings
    try:
        right = right_side(known.expression)
        parsed = Expression.parse(known.identity or right)
    except ExpressionError as error:
        return [f"the expression cannot be read: {error}"]
    wanted = set(known.symbols) | ({known.result_symbol} if known.identity else set())
    if parsed.names != wanted:
        return [f"the expression uses {sorted(parsed.names)} but symbols names {sorted(wanted)}"]
    if known.identity is None and known.result_symbol in known.symbols:
        return [f"{known.result_symbol} stands for the result and for {known.symbols[known.result_symbol]}"]
    return _compare(marked, parsed, points)


def _compare(marked: Marked, parsed: Expression, points: Points) -> list[str]:
    compare = _vanishes if marked.known.identity else _equals
    visits: Counter[tuple[int, bool]] = Counter(dict.fromkeys(parsed.branches, 0))
    rng = random.Random(2)
    done = 0
    while True:
        for point, result in zip(points.valid[done:], points.results[done:], strict=True):
            visited: set[tuple[int, bool]] = set()
            try:
                finding = compare(marked, parsed, point, result, visited)
            except (ArithmeticError, ValueError) as error:
                finding = f"the expression has no value ({error}) where the function gives {result!r}"
            if finding:
                return [f"{finding}, at {shown(point)}; expression: {parsed.text}"]
            if result != 0.0:
                visits.update(visited)
        if (done >= 2 * WANTED and min(visits.values(), default=ENOUGH) >= ENOUGH) or points.tries >= TRIES:
            break
        done = len(points.valid)
        extend_points(points, marked.known, marked.call, rng, WANTED, parsed.thresholds)
    missed = [parsed.branches[branch] for branch, count in visits.items() if not count]
    return [f"no point inside the declared range reached the branch where {words}" for words in missed]


def _symbol_numbers(known: Formula, point: dict[str, float]) -> dict[str, float]:
    return {symbol: point[argument] for symbol, argument in known.symbols.items()}


def _equals(
    marked: Marked, parsed: Expression, point: dict[str, float], result: float, visited: set[tuple[int, bool]]
) -> str:
    numbers = _symbol_numbers(marked.known, point)
    printed = parsed.evaluate(numbers, visited)
    if math.isclose(printed, result, rel_tol=CLOSED):
        return ""
    doubt = sum(abs(_nudged(parsed, numbers, symbol) - printed) for symbol in numbers)
    if abs(printed - result) <= doubt:
        return ""  # a difference of nearly equal numbers: both are right to their last digits
    return f"the expression gives {printed!r} and the function {result!r}"


def _nudged(parsed: Expression, numbers: dict[str, float], symbol: str) -> float:
    try:
        return parsed.evaluate({**numbers, symbol: numbers[symbol] * (1.0 + 1e-12)})
    except (ArithmeticError, ValueError):
        return parsed.evaluate(numbers)


def _vanishes(
    marked: Marked, parsed: Expression, point: dict[str, float], result: float, visited: set[tuple[int, bool]]
) -> str:
    numbers = _symbol_numbers(marked.known, point)

    def share(value: float, seen: set[tuple[int, bool]]) -> float:
        at = {**numbers, marked.known.result_symbol: value}
        size = max(abs(term) for term in parsed.terms(at)) or 1.0
        return abs(parsed.evaluate(at, seen)) / size

    if (left := share(result, visited)) > ITERATIVE:
        return f"the identity leaves {left:.2g} of its largest term at {result!r}"
    if result != 0.0 and max(share(result * 1.01, set()), share(result * 0.99, set())) <= ITERATIVE:
        return f"the identity also vanishes 1 % beside {result!r}, so it does not pin the result down"
    return ""


# --- 2. dimensions, by rescaling --------------------------------------------------------------


def dimension_findings(marked: Marked) -> list[str]:
    """The function in five random systems of units must scale as its annotations say."""
    known = marked.known
    if known.empirical is not None:
        named = set(re.findall(r"[A-Za-z%]+(?:\^\d)?(?:/[A-Za-z]+(?:\^\d)?)*", known.empirical)) & UNIT_WORDS
        return [] if named else [f"empirical={known.empirical!r} names no units for its constants"]
    points = draw_points(known, marked.call, wanted=60, seed=3)
    if findings := coverage_findings(points):
        return findings
    rng = random.Random(4)
    compared = 0
    for _ in range(5):
        system = {base: 10.0 ** rng.uniform(-1.5, 1.5) for base in ("kg", "m", "s", "K", "money")}
        for point, result in zip(points.valid, points.results, strict=True):
            scaled = {name: value * _factor(known.arguments[name], system) for name, value in point.items()}
            try:
                got = _raw(known, scaled)
            except OutOfRange:
                continue  # an inner formula's bound is written in SI
            compared += 1
            if finding := _scales(marked, point, result, got / _factor(known.result, system)):
                return [f"{finding}, at {shown(point)} in units of {shown(system)}"]
    return [] if compared >= FEWEST else [f"only {compared} points could be rescaled"]


def _raw(known: Formula, point: dict[str, float]) -> float:
    """The bare function: bounds are written in SI and do not hold in other units."""
    with np.errstate(all="ignore"):
        return float(known.function(**point))


def _factor(kind: Kind, system: dict[str, float]) -> float:
    return math.prod(size ** getattr(kind.dimension, base) for base, size in system.items())


def _scales(marked: Marked, point: dict[str, float], result: float, got: float) -> str:
    if math.isclose(got, result, rel_tol=marked.tolerance):
        return ""
    known = marked.known
    nudged = ({**point, name: value * (1.0 + 1e-3 * marked.tolerance)} for name, value in point.items())
    if abs(got - result) <= sum(abs(_raw(known, near) - result) for near in nudged):
        return ""  # nearly equal numbers were subtracted
    power = math.log(abs(got / result)) if got and result else math.nan
    return (
        f"does not scale as {known.result.name} ({known.result.unit or 'a bare number'}) would: "
        f"{result!r} becomes {got!r} after scaling back (ln of the ratio {power:.4g}); "
        "look for a wrong power, a constant that has a unit, or a wrong annotation"
    )


# --- 3. the docstring -------------------------------------------------------------------------

_RANGE_WORDS = re.compile(
    r"\b(above|at least|at most|below|from|to|between|less than|more than|or more|or less|any|finite)\b"
)
_NUMBER = re.compile(r"-?(?:\d+(?:\.\d+)?(?:e-?\d+)?(?: pi)?|pi)(?:/\d+)?")
FORM = "write `name: symbol, unit, range.` for each argument, then `Returns symbol, unit. Source: KEY.`"


def docstring_findings(marked: Marked, sources: set[str]) -> list[str]:
    """Arguments as in the signature, with unit and range; result unit; source; example that runs."""
    known = marked.known
    text = known.function.__doc__ or ""
    prose = " ".join(text.split(">>>")[0].split())
    if not prose:
        return ["has no docstring"]
    entries = _entries(prose)
    findings = []
    if set(entries) != set(known.arguments):
        missing = sorted(set(known.arguments) - set(entries))
        extra = sorted(set(entries) - set(known.arguments))
        findings.append(f"docstring lacks {missing} and speaks of {extra}; {FORM}")
    for name in set(entries) & set(known.arguments):
        findings += _entry_findings(known, name, entries[name])
    returns = re.search(r"\bReturns\b(.*)", prose)
    if not returns:
        findings.append(f"docstring does not say what it returns; {FORM}")
    elif known.result.unit and not _names_unit(returns[1], known.result.unit):
        findings.append(f"docstring does not name the result's unit, {known.result.unit}")
    if known.source not in sources:
        findings.append(f"source {known.source!r} is not in the table of sources")
    if known.source not in prose:
        findings.append(f"docstring does not name the source {known.source}")
    return findings + _example_findings(marked)


def _entries(prose: str) -> dict[str, str]:
    """The text that follows each ``name:``, up to the next one. Where two names share a range
    (``length: l and width: w, m, above 0``) the first borrows the text of the second."""
    before = re.split(r"\bReturns\b", prose)[0]
    parts = re.split(r"(?:(?<=[.;:,] )|(?<=\band )|(?<=^))`{0,2}([a-z][a-z0-9_]*)`{0,2}: ", before)
    entries = list(zip(parts[1::2], parts[2::2], strict=True))
    for place in range(len(entries) - 2, -1, -1):
        name, text = entries[place]
        if not text.rstrip().endswith(".") and not _RANGE_WORDS.search(text):
            entries[place] = (name, text + entries[place + 1][1])
    return dict(entries)


def _entry_findings(known: Formula, name: str, text: str) -> list[str]:
    kind, bound = known.arguments[name], known.valid.get(name, FINITE)
    findings = []
    if kind.unit and not _names_unit(text, kind.unit):
        findings.append(f"docstring of {name} does not name its unit, {kind.unit}: {text!r}")
    if not _RANGE_WORDS.search(text):
        findings.append(f"docstring of {name} does not say its range ({bound.words()}): {text!r}")
    numbers = [Expression.parse(number).evaluate({}) for number in _NUMBER.findall(text.replace(" %", "e-2"))]
    findings += [
        f"docstring of {name} does not name the end {end:g} of its range ({bound.words()}): {text!r}"
        for end in (bound.low, bound.high)
        if math.isfinite(end) and not any(math.isclose(end, number) for number in numbers)
    ]
    return findings


def _names_unit(text: str, unit: str) -> bool:
    words = f"{re.escape(unit)}|{re.escape(unit.replace('/', ' per '))}"
    return re.search(rf"(?<![\w/^])({words})(?![\w/^(])", text) is not None


def _example_findings(marked: Marked) -> list[str]:
    function = marked.known.function
    finder = doctest.DocTestFinder(recurse=False)
    tests = finder.find(function, marked.known.name, globs=dict(function.__globals__))
    examples = [example for test in tests for example in test.examples]
    if not any(marked.known.name in example.source for example in examples):
        return ["docstring has no doctest example that calls the function"]
    if not any(example.want for example in examples):
        return ["the doctest example shows no result"]
    report = io.StringIO()
    runner = doctest.DocTestRunner(verbose=False)
    for test in tests:
        runner.run(test, out=report.write)
    return (
        [f"the doctest example fails: {report.getvalue()}"] if runner.summarize(verbose=False).failed else []
    )


# --- 4. arrays --------------------------------------------------------------------------------


def array_findings(marked: Marked) -> list[str]:
    """An array gives what its elements give; what is out of range is refused, masked, counted."""
    known = marked.known
    points = draw_points(known, marked.call, wanted=40, seed=5)
    if findings := coverage_findings(points):
        return findings
    columns = {name: np.array([point[name] for point in points.valid]) for name in known.arguments}
    findings = _array_equals(marked, columns, np.array(points.results), "all arguments as arrays")
    for name in known.arguments:
        if not findings:
            findings = _one_array(marked, points.valid[0], name, columns[name])
    for name in known.arguments:
        if not findings:
            findings = _range_findings(marked, points.valid, columns, name)
    return findings


def _array_equals(marked: Marked, arguments: dict[str, Any], wanted: Any, what: str) -> list[str]:
    with warnings.catch_warnings(), np.errstate(all="warn", under="ignore"):
        warnings.simplefilter("error")  # both branches of np.where are evaluated: guard them
        try:
            got = marked.call(**arguments)
        except Exception as error:
            return [f"with {what} raises {type(error).__name__}: {error}"]
    if np.shape(got) != np.shape(wanted):
        return [f"with {what} gives shape {np.shape(got)}, not {np.shape(wanted)}"]
    tolerance = 1e-7 if marked.known.identity else 1e-12
    if not np.allclose(got, wanted, rtol=tolerance, atol=tolerance * 1e-3 * float(np.max(np.abs(wanted)))):
        worst = int(np.nanargmax(np.where(np.isnan(got), np.inf, np.abs(got - wanted))))
        return [f"with {what} element {worst} is {got[worst]!r}, alone it is {wanted[worst]!r}"]
    return []


def _one_array(marked: Marked, fixed: dict[str, float], name: str, column: Any) -> list[str]:
    """One argument as an array, the others as numbers."""
    kept, wanted = [], []
    for value in column:
        try:
            wanted.append(marked.call(**{**fixed, name: float(value)}))
            kept.append(float(value))
        except OutOfRange:
            continue
    what = f"{name} alone as an array (and {shown({k: v for k, v in fixed.items() if k != name})})"
    return _array_equals(marked, {**fixed, name: np.array(kept)}, np.array(wanted), what)


def _range_findings(
    marked: Marked, points: list[dict[str, float]], columns: dict[str, Any], name: str
) -> list[str]:
    known = marked.known
    bound: Bound = known.valid.get(name, FINITE)
    for bad in outside(bound):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            try:
                got = marked.call(**{**points[0], name: bad})
            except OutOfRange as refusal:
                if refusal.name != name:
                    return [f"{name}={bad!r} is refused, but for {refusal.name}"]
            else:
                return [f"{name}={bad!r} is outside {bound.words()} and yet gives {got!r}"]
        spoilt = {**columns, name: columns[name].copy()}
        spoilt[name][1] = bad
        with counting_outside() as counts, warnings.catch_warnings():
            warnings.simplefilter("error")
            try:
                masked = marked.call(**spoilt)
            except Exception as error:
                return [f"one sample with {name}={bad!r} raises {type(error).__name__}: {error}"]
        if list(np.flatnonzero(np.isnan(masked))) != [1]:
            return [f"one sample with {name}={bad!r} masks the samples {np.flatnonzero(np.isnan(masked))}"]
        if counts.get(known.name) != 1:
            return [f"one sample with {name}={bad!r} is counted {counts}"]
    return []
