"""The search for the smallest change: against plain counting, on slacks of every kind."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourwright_service.engine.decide.least_step import least_step

NUMBER = st.floats(0.01, 50.0)


def counted(
    passes: Callable[[float], bool], start: float, step: float, up: bool, most: float
) -> float | None:
    """The same by trying one step after the other."""
    sign = 1 if up else -1
    k = round(start / step)
    while (k * step > start - 1e-9 and not up) or (k * step < start + 1e-9 and up):
        k += sign
    while (k * step <= most + 1e-9) if up else (k * step >= most - 1e-9):
        value = round(k * step, 10)  # 0.6 and not 0.6000000000000001, as a remedy has it
        if passes(value):
            return value
        k += sign
    return None


@given(start=NUMBER, needed=NUMBER, step=st.sampled_from([0.05, 0.1, 0.25, 1.0]), power=st.floats(0.2, 4.0))
def test_it_finds_the_first_step_that_passes(start: float, needed: float, step: float, power: float) -> None:
    up = needed > start
    sign = 1.0 if up else -1.0

    def slack(value: float) -> float:
        gap = sign * (value - needed)
        return abs(gap) ** power * (1.0 if gap >= 0.0 else -1.0)

    most = 60.0 if up else 0.0
    found = least_step(slack, start, slack(start), step=step, up=up, most=most)
    plain = counted(lambda value: slack(value) >= 0.0, start, step, up, most)
    assert found == (None if plain is None else pytest.approx(plain, rel=1e-9))


@given(start=NUMBER, needed=NUMBER)
def test_it_does_without_a_size_of_the_slack(start: float, needed: float) -> None:
    up = needed > start

    def slack(value: float) -> float | None:
        return 1.0 if (value >= needed if up else value <= needed) else None

    found = least_step(slack, start, None, step=0.1, up=up, most=60.0 if up else 0.0)
    plain = counted(lambda value: slack(value) is not None, start, 0.1, up, 60.0 if up else 0.0)
    assert found == (None if plain is None else pytest.approx(plain, rel=1e-9))


@given(st.lists(st.booleans(), min_size=1, max_size=60))
def test_one_step_less_fails_even_where_passing_comes_and_goes(pattern: list[bool]) -> None:
    def slack(value: float) -> float | None:
        return 1.0 if pattern[round(value) - 1] else None

    found = least_step(slack, 0.0, None, step=1.0, up=True, most=float(len(pattern)))
    if found is None:
        assert not pattern[-1]
    else:
        at = round(found) - 1
        assert pattern[at]
        assert at == 0 or not pattern[at - 1]


def test_it_asks_seldom() -> None:
    asked = []

    def slack(value: float) -> float:
        asked.append(value)
        return value**1.5 - 63.0**1.5

    assert least_step(slack, 50.0, 50.0**1.5 - 63.0**1.5, step=1.0, up=True, most=1000.0) == 63.0
    assert len(asked) <= 5


def test_it_gives_up_where_moving_on_does_not_help() -> None:
    asked = []

    def slack(value: float) -> float:
        asked.append(value)
        return -1.0 - value

    assert least_step(slack, 50.0, -51.0, step=1.0, up=True, most=1e6) is None
    assert len(asked) == 2


def test_a_step_is_written_as_people_write_it() -> None:
    found = least_step(lambda value: value - 1.15, 1.0, -0.15, step=0.05, up=True, most=2.0)
    assert repr(found) == "1.15"


def test_nothing_beyond_the_limit_is_tried() -> None:
    tried: list[float] = []

    def slack(value: float) -> float:
        tried.append(value)
        return -1.0

    assert least_step(slack, 1.0, -1.0, step=0.1, up=False, most=0.5) is None
    assert min(tried) >= 0.5
    assert least_step(slack, 0.5, -1.0, step=0.1, up=False, most=0.5) is None
