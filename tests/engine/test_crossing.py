"""The search for a crossing: against a general-purpose root finder, elementwise, and at its ends."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from pourwright_service.engine.assess.crossing import falls_to_zero

BENDS = st.floats(0.05, 8.0)


@given(at=st.floats(-3.0, 3.0), bend=BENDS, steep=st.floats(0.1, 20.0), wide=st.floats(0.1, 40.0))
@settings(max_examples=200, deadline=None)
def test_it_finds_what_a_root_finder_finds(at: float, bend: float, steep: float, wide: float) -> None:
    def falling(x: float) -> float:
        return float(steep * (np.arctan(bend * (at - x)) + 0.1 * (at - x)))

    low, high = at - 0.3 * wide, at + wide
    calls = 0

    def counted(x: float) -> float:
        nonlocal calls
        calls += 1
        return falling(x)

    assert falls_to_zero(counted, low, high) == pytest.approx(
        brentq(falling, low, high, xtol=1e-14), abs=1e-11
    )
    assert calls < 60


@given(ats=st.lists(st.floats(-1.0, 1.0), min_size=1, max_size=20), bend=BENDS)
@settings(max_examples=50, deadline=None)
def test_arrays_are_searched_element_by_element(ats: list[float], bend: float) -> None:
    at = np.array(ats)
    found = falls_to_zero(lambda x: np.tanh(bend * (at - x)), np.full(len(ats), -2.0), np.full(len(ats), 3.0))
    assert found == pytest.approx(at, abs=1e-11)


def test_an_end_that_is_the_crossing_and_a_line_that_is_flat() -> None:
    assert falls_to_zero(lambda x: 1.0 - x, 0.0, 1.0) == pytest.approx(1.0)
    assert falls_to_zero(lambda x: -x, 0.0, 1.0) == pytest.approx(0.0)
    assert falls_to_zero(lambda x: 0.0 * x, 0.0, 1.0) == pytest.approx(1.0)
