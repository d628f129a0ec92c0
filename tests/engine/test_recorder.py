"""The recorder that writes the working: origins, steps, pauses, rounds."""

import contextlib
import math

import numpy as np
import pytest

from pourwright_service.engine.bounds import OutOfRange, above, at_least, within
from pourwright_service.engine.formula import (
    FORMULAS,
    Metre,
    Ratio,
    Second,
    SecondPerSquareMetre,
    SquareMetre,
    counting_outside,
    formula,
    known_number,
    paused,
    recording,
    rounds,
    step,
)
from tests.engine.expression import Expression, right_side


@formula(
    "t = C M**2",
    symbols={"C": "mould_constant", "M": "modulus"},
    source="CHVORINOV-1940",
    valid={"mould_constant": above(0.0), "modulus": above(0.0)},
)
def toy_time(mould_constant: SecondPerSquareMetre, modulus: Metre) -> Second:
    """Time by the bare rule."""
    return mould_constant * modulus**2


@formula(
    "s = sqrt(b/a)",
    symbols={"a": "first", "b": "second"},
    source="DERIVED",
    valid={"second": at_least(0.0)},
)
def toy_step(first: Second, second: Second) -> Ratio:
    """Step between two times."""
    return (second / first) ** 0.5


@formula(
    "A = a**9",
    symbols={"a": "side"},
    source="DERIVED",
    valid={"side": within(0.0, math.inf, high_open=True)},
    empirical="a in m",
)
def toy_power(side: Metre) -> SquareMetre:
    """Something that overflows early."""
    return side**9


for _toy in ("toy_time", "toy_step", "toy_power"):
    del FORMULAS[f"test_recorder.{_toy}"]


def test_nothing_is_recorded_outside_and_the_value_is_the_same() -> None:
    with recording() as recorder:
        pass
    assert toy_time(1e6, 0.01) == pytest.approx(100.0)
    assert recorder.entries == []


def test_a_working_says_where_each_number_came_from() -> None:
    with recording() as recorder:
        known_number(1.5e6, "table: /mould/constant")
        known_number(0.01, "given: /sections/0/modulus")
        first = toy_time(1.5e6, 0.01)
        second = toy_time(mould_constant=1.5e6, modulus=0.02 * 0.6)
        toy_step(first, second)
    numbers = [(entry.number, entry.formula.name, dict(entry.origins)) for entry in recorder.entries]
    constant = "table: /mould/constant"
    assert numbers == [
        (1, "toy_time", {"mould_constant": constant, "modulus": "given: /sections/0/modulus"}),
        (2, "toy_time", {"mould_constant": constant, "modulus": "computed"}),
        (3, "toy_step", {"first": "line 1", "second": "line 2"}),
    ]


def test_the_first_word_on_a_number_stands() -> None:
    with recording() as recorder:
        known_number(2.0, "given: /a")
        known_number(2.0, "default: /b")
        toy_step(2.0, 8.0)
    assert recorder.entries[0].origins["first"] == "given: /a"


def test_a_printed_working_evaluates_to_its_results() -> None:
    with recording() as recorder:
        toy_step(toy_time(1.1e6, 0.011), toy_time(0.9e6, 0.023))
    for entry in recorder.entries:
        numbers = {symbol: entry.numbers[name] for symbol, name in entry.formula.symbols.items()}
        printed = Expression.parse(right_side(entry.formula.expression)).evaluate(numbers)
        assert printed == pytest.approx(entry.result, rel=1e-12)


def test_steps_nest_and_end_even_after_an_error() -> None:
    with recording() as recorder:
        with step("section", "foot"):
            toy_time(1e6, 0.01)
            with contextlib.suppress(OutOfRange), step("riser", ""):
                toy_time(1e6, 0.02)
                toy_time(1e6, -0.02)
        toy_time(1e6, 0.03)
    assert [entry.scope for entry in recorder.entries] == [("section foot",), ("section foot", "riser"), ()]


def test_a_refused_value_is_not_recorded() -> None:
    with recording() as recorder, pytest.raises(OutOfRange):
        toy_time(1e6, 0.0)
    assert recorder.entries == []


def test_pauses_nest_and_searches_leave_no_trace() -> None:
    with recording() as recorder:
        with paused():
            toy_time(1e6, 0.01)
            with paused():
                toy_time(1e6, 0.02)
            toy_time(1e6, 0.03)
        toy_time(1e6, 0.04)
    assert [entry.numbers["modulus"] for entry in recorder.entries] == [0.04]
    assert recorder.entries[0].number == 1


def test_only_the_last_round_stays_and_rounds_are_counted() -> None:
    with recording() as recorder:
        before = toy_time(1e6, 0.01)
        with rounds() as begin:
            modulus = 0.02
            while begin() < 5:
                time = toy_time(1e6, modulus)
                toy_step(before, time)
                modulus *= 1.1
            time = toy_time(1e6, modulus)
            toy_step(before, time)
        toy_step(before, time)
    shown = [(e.number, e.formula.name, e.rounds, e.origins.get("second")) for e in recorder.entries]
    assert shown == [
        (1, "toy_time", None, None),
        (2, "toy_time", 5, None),
        (3, "toy_step", 5, "line 2"),
        (4, "toy_step", None, "line 2"),
    ]
    assert recorder.entries[1].numbers["modulus"] == pytest.approx(0.02 * 1.1**4)


def test_a_forgotten_round_does_not_take_an_earlier_line_with_it() -> None:
    """A round that repeats an earlier result must leave that line findable when it is forgotten."""
    with recording() as recorder:
        earlier = toy_time(1e6, 0.01)
        with rounds() as begin:
            begin()
            toy_time(1e6, 0.01)
            begin()
            toy_step(earlier, 4.0 * earlier)
    assert recorder.entries[-1].origins["first"] == "line 1"


def test_rounds_without_a_recorder_only_count() -> None:
    with rounds() as begin:
        assert [begin(), begin(), begin()] == [1, 2, 3]


def test_rounds_inside_a_pause_keep_the_outer_entries() -> None:
    with recording() as recorder:
        toy_time(1e6, 0.01)
        with paused(), rounds() as begin:
            begin()
            toy_time(1e6, 0.02)
            begin()
        toy_time(1e6, 0.03)
    assert [entry.number for entry in recorder.entries] == [1, 2]


def test_recordings_do_not_mix() -> None:
    with recording() as outer:
        toy_time(1e6, 0.01)
        with recording() as inner:
            toy_time(1e6, 0.02)
        toy_time(1e6, 0.03)
    assert [len(outer.entries), len(inner.entries)] == [2, 1]


def test_arrays_pass_unrecorded_masked_and_counted() -> None:
    moduli = np.array([0.01, -0.01, np.nan, 0.02])
    with recording() as recorder, counting_outside() as counts:
        times = toy_time(1e6, moduli)
    np.testing.assert_allclose(times, [100.0, np.nan, np.nan, 400.0])
    assert recorder.entries == []
    assert counts == {"toy_time": 2}


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_a_scalar_outside_its_range_is_refused_by_name(bad: float) -> None:
    with pytest.raises(OutOfRange, match=r"modulus is .*; toy_time needs more than 0") as caught:
        toy_time(1e6, bad)
    assert caught.value.name == "modulus"
    assert caught.value.formula == "toy_time"


@pytest.mark.parametrize("first", [0.0, -1.0])
def test_arithmetic_without_a_real_answer_is_out_of_range(first: float) -> None:
    """A division by zero and an even root of a negative number."""
    with pytest.raises(OutOfRange, match="result"):
        toy_step(first, 1.0)


def test_overflow_is_out_of_range() -> None:
    with pytest.raises(OutOfRange, match="result"):
        toy_power(1e200)


def test_a_wrong_call_is_a_type_error() -> None:
    with pytest.raises(TypeError, match="takes 2 arguments, not 3"):
        toy_time(1e6, 0.01, 3.0)


def test_a_mark_that_lies_cannot_be_loaded() -> None:
    def unnamed(a: Metre, b: Metre) -> Metre:
        return a + b

    def without_kind(a: float) -> Metre:
        return a

    with pytest.raises(TypeError, match="symbols or bounds do not match"):
        formula("c = a", symbols={"a": "a"}, source="DERIVED")(unnamed)
    with pytest.raises(TypeError, match="symbols or bounds do not match"):
        formula("c = a + b", symbols={"a": "a", "b": "b"}, source="DERIVED", valid={"x": above(0)})(unnamed)
    with pytest.raises(TypeError, match="a has no physical kind"):
        formula("c = a", symbols={"a": "a"}, source="DERIVED")(without_kind)


def test_a_name_is_used_once() -> None:
    def twice(a: Metre) -> Metre:
        return a

    formula("c = a", symbols={"a": "a"}, source="DERIVED")(twice)
    try:
        with pytest.raises(TypeError, match="already the name of a formula"):
            formula("c = a", symbols={"a": "a"}, source="DERIVED")(twice)
    finally:
        del FORMULAS["test_recorder.twice"]
