"""The evaluator of printed expressions: arithmetic worked by hand, and refusals."""

import math

import pytest

from tests.engine.expression import Expression, ExpressionError, right_side

NUMBERS = {"a": 2.0, "b": 3.0, "c": 5.0, "lambda": 7.0, "rho_l": 11.0}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("a b", 6.0),
        ("2 pi a", 4 * math.pi),
        ("a b**2", 18.0),
        ("a**2 b**-1", 4 / 3),
        ("a (b + c)", 16.0),
        ("(a + b) (b + c)", 40.0),
        ("a b / c a", 12 / 5),
        ("a b/(c a)", 0.6),
        ("-a b - c", -11.0),
        ("a - (b - c)", 4.0),
        ("lambda rho_l", 77.0),
        ("sqrt(a b + b) c", 15.0),
        ("2 sqrt(a a) (b)", 12.0),
        ("exp(ln(a))", 2.0),
        ("log10(1e3)", 3.0),
        ("cbrt(rho_l - b)", 2.0),
        ("cbrt(-27)", -3.0),
        ("abs(a - c)", 3.0),
        ("min(a, b, c) max(a, b)", 6.0),
        ("where(a < b, a, 1/(a - a))", 2.0),
        ("where(a > b or b >= c, a, c)", 5.0),
        ("where(a < b < c and not a == c, 1, 0)", 1.0),
        ("sum(n, 1, 4, n**2)", 30.0),
        ("sum(n, 0, a, n c) b", 45.0),
        ("erf(0)", 0.0),
    ],
)
def test_arithmetic(text: str, value: float) -> None:
    assert Expression.parse(text).evaluate(NUMBERS) == pytest.approx(value, rel=1e-14)


def test_error_function_and_bessel_zeros() -> None:
    """Abramowitz and Stegun, Handbook of Mathematical Functions, 1964: table 7.1 (erf 0.5) and
    table 9.5 (zeros of J0)."""
    assert Expression.parse("erf(0.5)").evaluate({}) == pytest.approx(0.5204998778, abs=1e-10)
    assert Expression.parse("j0zero(1)").evaluate({}) == pytest.approx(2.4048255577, abs=1e-10)
    assert Expression.parse("j0zero(3)").evaluate({}) == pytest.approx(8.6537279129, abs=1e-10)


def test_names_leave_out_counters_constants_and_functions() -> None:
    assert Expression.parse("a sum(n, 1, b, n c) + sqrt(pi) lambda").names == {"a", "b", "c", "lambda"}


def test_branches_are_listed_and_visits_reported() -> None:
    parsed = Expression.parse("where(a < b, a, where(a < c, b, c))")
    assert len(parsed.branches) == 4
    assert Expression.parse("where(a < 0.02 b, 3, where(c > 2300, 4, 5))").thresholds == {0.02, 2300.0}
    visited: set[tuple[int, bool]] = set()
    parsed.evaluate({"a": 4.0, "b": 3.0, "c": 5.0}, visited)
    assert {parsed.branches[key] for key in visited} == {"a < b is false", "a < c is true"}


def test_terms_show_what_cancels() -> None:
    assert Expression.parse("a b - (b + c) + a").terms(NUMBERS) == [6.0, 3.0, 5.0, 2.0]


def test_right_side() -> None:
    assert right_side("t = where(a <= b, a, b)") == "where(a <= b, a, b)"
    with pytest.raises(ExpressionError):
        right_side("a + b")
    with pytest.raises(ExpressionError):
        right_side("a + b = c")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "a +",
        "2a",
        "a(b)",
        "(a)(b)",
        "a.real",
        "a[0]",
        "'a'",
        "True",
        "a if b else c",
        "a < b",
        "where(a, b, c)",
        "where(a < b, c)",
        "where(a in b, a, c)",
        "sqrt(a, b)",
        "sqrt a",
        "min(a)",
        "sum(1, 2, 3, 4)",
        "eval(a)",
        "__import__(a)",
        "(x := a)",
        "a ^ b",
        "a % b",
        "a; b",
        "lambda: a",
        "min(*a)",
    ],
)
def test_anything_but_arithmetic_is_refused(text: str) -> None:
    with pytest.raises(ExpressionError):
        Expression.parse(text)


@pytest.mark.parametrize("text", ["1/(a - a)", "sqrt(-a)", "(-a)**0.5", "exp(1e4)", "a**1e6"])
def test_no_real_answer_is_an_error_and_never_nan(text: str) -> None:
    with pytest.raises((ArithmeticError, ValueError)):
        Expression.parse(text).evaluate(NUMBERS)


def test_a_symbol_without_a_number_is_named() -> None:
    with pytest.raises(KeyError, match="q"):
        Expression.parse("a q").evaluate(NUMBERS)
