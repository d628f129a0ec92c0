"""Every marked formula: printed expression, dimensions, docstring, arrays and range.

The last tests turn the same rules on formulas that are wrong on purpose.
"""

import importlib
import pkgutil
from collections.abc import Callable, Iterator
from types import ModuleType

import numpy as np
import pytest

from pourwright_service.engine import formulas, geometry
from pourwright_service.engine.bounds import above, at_least, within
from pourwright_service.engine.formula import (
    FORMULAS,
    CubicMetre,
    Kilogram,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Ratio,
    Second,
    SecondPerSquareMetre,
    SquareMetre,
    formula,
)
from pourwright_service.engine.tables.sources import SOURCES
from tests.engine.formula_rules import (
    Marked,
    array_findings,
    dimension_findings,
    docstring_findings,
    expression_findings,
)


def _load(package: ModuleType) -> list[str]:
    names = [found.name for found in pkgutil.walk_packages(package.__path__, package.__name__ + ".")]
    for name in names:
        importlib.import_module(name)
    return names


MODULES = _load(formulas) + _load(geometry)
KNOWN = sorted(FORMULAS)


def test_there_are_formulas_and_each_lives_on_the_floor_of_formulas() -> None:
    assert len(KNOWN) > 20
    homes = {known.function.__module__ for known in FORMULAS.values()}
    assert homes <= set(MODULES)


@pytest.mark.parametrize("name", KNOWN)
def test_printed_expression_is_the_function(name: str) -> None:
    _none(name, expression_findings(Marked.of(FORMULAS[name])))


@pytest.mark.parametrize("name", KNOWN)
def test_result_scales_as_its_dimension(name: str) -> None:
    _none(name, dimension_findings(Marked.of(FORMULAS[name])))


@pytest.mark.parametrize("name", KNOWN)
def test_docstring_agrees_with_the_mark(name: str) -> None:
    _none(name, docstring_findings(Marked.of(FORMULAS[name]), set(SOURCES)))


@pytest.mark.parametrize("name", KNOWN)
def test_arrays_and_range(name: str) -> None:
    _none(name, array_findings(Marked.of(FORMULAS[name])))


def _none(name: str, findings: list[str]) -> None:
    assert not findings, f"{name}: " + "\n  ".join(findings)


# --- wrong on purpose -------------------------------------------------------------------------

POSITIVE = above(0.0)
Mark = Callable[..., Marked]


@pytest.fixture
def mark() -> Iterator[Mark]:
    """Marks a toy formula and takes it out of the handbook again."""
    before = dict(FORMULAS)

    def make(function: Callable[..., float], expression: str, **settings: object) -> Marked:
        names = list(function.__annotations__)[:-1]
        symbols = settings.pop("symbols", {name: name for name in names})
        valid = settings.pop("valid", dict.fromkeys(names, POSITIVE))
        source = settings.pop("source", "DERIVED")
        call = formula(expression, symbols=symbols, valid=valid, source=source, **settings)(function)
        (new,) = set(FORMULAS) - set(before)
        return Marked(FORMULAS.pop(new), call)

    yield make
    assert before == FORMULAS


def test_a_right_toy_passes_every_rule(mark: Mark) -> None:
    def toy(height: Metre, gravity: MetrePerSecondSquared) -> MetrePerSecond:
        """Speed after a fall.

        height: h, m, above 0. gravity: g, m/s^2, above 0. Returns v, m/s. Source: DERIVED.

        >>> round(float(toy(1.0, 8.0)), 3)
        4.0
        """
        return np.sqrt(2.0 * gravity * height)

    marked = mark(toy, "v = sqrt(2 g h)", symbols={"g": "gravity", "h": "height"})
    toy.__globals__["toy"] = toy
    try:
        assert docstring_findings(marked, {"DERIVED"}) == []
    finally:
        del toy.__globals__["toy"]
    assert expression_findings(marked) == []
    assert dimension_findings(marked) == []
    assert array_findings(marked) == []


def test_a_wrong_power_is_caught(mark: Mark) -> None:
    def toy(C: SecondPerSquareMetre, M: Metre) -> Second:
        return C * M**3

    (finding,) = dimension_findings(mark(toy, "t = C M**3"))
    assert "does not scale as time" in finding


def test_a_hidden_constant_with_a_unit_is_caught(mark: Mark) -> None:
    def toy(h: Metre) -> MetrePerSecond:
        return np.sqrt(2.0 * 9.81 * h)

    marked = mark(toy, "v = sqrt(2 9.81 h)")
    assert expression_findings(marked) == []
    assert "does not scale as velocity" in dimension_findings(marked)[0]


def test_an_addition_of_unlike_things_is_caught(mark: Mark) -> None:
    def toy(a: Metre, b: SquareMetre) -> Metre:
        return a + 1e-6 * b

    assert dimension_findings(mark(toy, "c = a + 1e-6 b"))


def test_a_wrong_expression_is_caught(mark: Mark) -> None:
    def toy(C: SecondPerSquareMetre, M: Metre) -> Second:
        return C * M**2

    (finding,) = expression_findings(mark(toy, "t = 1.001 C M**2"))
    assert "the expression gives" in finding
    assert "and the function" in finding


def test_a_wrong_branch_is_caught(mark: Mark) -> None:
    def toy(x: Ratio) -> Ratio:
        return np.where(x < 0.02, 2.0 * x, 3.0 * x)

    assert expression_findings(mark(toy, "y = where(x < 0.02, 2 x, 3 x)")) == []
    assert expression_findings(mark(toy, "y = where(x < 0.02, 2.1 x, 3 x)"))
    assert expression_findings(mark(toy, "y = where(x < 0.02, 2 x, 3.1 x)"))
    assert expression_findings(mark(toy, "y = where(x < 0.0202, 2 x, 3 x)"))


def test_a_branch_that_no_point_reaches_is_caught(mark: Mark) -> None:
    def toy(x: Ratio) -> Ratio:
        return 2.0 * x

    marked = mark(toy, "y = where(x > 30, 3 x, 2 x)", valid={"x": within(0.0, 20.0)})
    (finding,) = expression_findings(marked)
    assert "reached the branch where x > 30 is true" in finding


def test_symbols_that_the_expression_does_not_use_are_caught(mark: Mark) -> None:
    def toy(a: Metre, b: Metre) -> Metre:
        return a + 0.0 * b

    (finding,) = expression_findings(mark(toy, "c = a"))
    assert "symbols names ['a', 'b']" in finding


def test_a_range_in_which_nothing_holds_is_caught(mark: Mark) -> None:
    def toy(a: Metre) -> Metre:
        return np.sqrt(-a) if a > 0 else a

    with np.errstate(invalid="ignore"):
        (finding,) = expression_findings(mark(toy, "c = a"))
    assert "only 0 of 2000 points" in finding


def _root(a: float, b: float) -> float:
    """Root of x**3 + a**2 x = b**3 by bisection, scalar."""
    low, high = 0.0, b
    for _ in range(200):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if middle**3 + a**2 * middle < b**3 else (low, middle)
    return 0.5 * (low + high)


@pytest.mark.parametrize(
    ("identity", "word"),
    [
        ("x**3 + a**2 x - b**3", None),
        ("x**3 + 1.01 a**2 x - b**3", "the identity leaves"),
        ("(x - x) + (a - a) + (b - b)", "pin the result down"),
    ],
)
def test_an_iterative_formula_is_held_to_its_identity(mark: Mark, identity: str, word: str | None) -> None:
    def toy(a: Metre, b: Metre) -> Metre:
        return np.vectorize(_root)(a, b) if np.ndim(a) or np.ndim(b) else _root(a, b)

    marked = mark(toy, "x = root(x**3 + a**2 x = b**3)", identity=identity)
    findings = expression_findings(marked)
    assert findings == [] if word is None else word in findings[0]
    assert dimension_findings(marked) == []
    assert array_findings(marked) == []


def test_an_empirical_formula_must_name_units(mark: Mark) -> None:
    def toy(W: Kilogram) -> Second:
        return 2.8 * np.cbrt(W)

    assert dimension_findings(mark(toy, "t = 2.8 cbrt(W)", empirical="W in kg, t in s")) == []
    assert "names no units" in dimension_findings(mark(toy, "t = 2.8 cbrt(W)", empirical="as printed"))[0]
    assert "does not scale" in dimension_findings(mark(toy, "t = 2.8 cbrt(W)"))[0]


def test_a_function_that_refuses_arrays_is_caught(mark: Mark) -> None:
    def toy(a: Metre, b: Metre) -> Metre:
        return a if a > b else b

    (finding,) = array_findings(mark(toy, "c = max(a, b)"))
    assert "as arrays raises ValueError" in finding


def test_a_function_that_muddles_elements_is_caught(mark: Mark) -> None:
    def toy(a: Metre, b: Metre) -> Metre:
        return a * np.max(b)

    assert "element" in array_findings(mark(toy, "c = a b"))[0]


def test_an_unguarded_branch_is_caught(mark: Mark) -> None:
    def toy(x: Ratio) -> Ratio:
        return np.where(x > 0.0, np.log(x), -1.0)

    marked = mark(toy, "y = where(x > 0, ln(x), -1)", valid={"x": at_least(0.0)})
    with np.errstate(divide="ignore"):
        findings = array_findings(marked)
    assert "RuntimeWarning" in findings[0]


DOCS = {
    "lacks ['height']": "Speed. gravity: g, m/s^2, above 0. Returns v, m/s. Source: DERIVED.",
    "speaks of ['depth']": (
        "Speed. height: h, m, above 0. gravity: g, m/s^2, above 0. depth: d, m, above 0. "
        "Returns v, m/s. Source: DERIVED."
    ),
    "does not name its unit, m": "Height: h, mm, above 0.",
    "does not say its range": "height: h, m. gravity: g, m/s^2, above 0. Returns v, m/s. Source: DERIVED.",
    "does not name the end 0": (
        "height: h, m, above 1. gravity: g, m/s^2, above 0. Returns v, m/s. Source: DERIVED."
    ),
    "does not say what it returns": "height: h, m, above 0. gravity: g, m/s^2, above 0. Source: DERIVED.",
    "does not name the result's unit": (
        "height: h, m, above 0. gravity: g, m/s^2, above 0. Returns v. Source: DERIVED."
    ),
    "does not name the source": "height: h, m, above 0. gravity: g, m/s^2, above 0. Returns v, m/s.",
    "no doctest example": (
        "height: h, m, above 0. gravity: g, m/s^2, above 0. Returns v, m/s. Source: DERIVED."
    ),
    "the doctest example fails": (
        "height: h, m, above 0. gravity: g, m/s^2, above 0. Returns v, m/s. Source: DERIVED.\n\n"
        ">>> 'toy' == 'you'\nTrue\n"
    ),
    "has no docstring": "",
}


@pytest.mark.parametrize(("word", "text"), DOCS.items())
def test_a_docstring_that_drifts_is_caught(mark: Mark, word: str, text: str) -> None:
    def toy(height: Metre, gravity: MetrePerSecondSquared) -> MetrePerSecond:
        return np.sqrt(2.0 * gravity * height)

    toy.__doc__ = text.replace("Height:", "height:")
    marked = mark(toy, "v = sqrt(2 g h)", symbols={"g": "gravity", "h": "height"})
    assert any(word in finding for finding in docstring_findings(marked, {"DERIVED"}))


def test_an_unknown_source_is_caught(mark: Mark) -> None:
    def toy(a: CubicMetre) -> CubicMetre:
        """Same. a: a, m^3, above 0. Returns c, m^3. Source: NOBODY."""
        return a

    findings = docstring_findings(mark(toy, "c = a", source="NOBODY"), {"DERIVED"})
    assert "source 'NOBODY' is not in the table of sources" in findings
