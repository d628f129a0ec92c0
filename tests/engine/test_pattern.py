"""Pattern: forwards and backwards, hindered, by mass; ISO 8062's rough size."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourwright_service.engine.decide.pattern import PatternCase, decide_pattern
from pourwright_service.engine.formulas import pattern

SIZE = st.floats(0.005, 0.9)


BRACKET = PatternCase(length=0.2, width=0.1, height=0.01, alloy="C87300")


def test_the_rough_size_of_iso_8062() -> None:
    """From memory of ISO 8062: R = F + 2 RMA + CT/2; 80 mm with 1.4 on both faces and CT 12's 6.0 is 85.8."""
    found = pattern.pattern_with_allowances(0.080, 2.0, 0.0014, 0.006, 0.0, 0.0)
    assert found == pytest.approx(0.0858)


@given(SIZE, st.floats(0.0, 0.03))
def test_backwards_undoes_forwards(size: float, contraction: float) -> None:
    made = pattern.pattern_with_allowances(size, 0.0, 0.0, 0.0, contraction, 0.0)
    assert made / pattern.pattern_scale(contraction) == pytest.approx(size, rel=1e-12)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_what_is_held_back_makes_the_pattern_smaller(one: float, other: float) -> None:
    low, high = sorted((one, other))
    sizes = [
        decide_pattern(replace(BRACKET, hindrance={"length": h})).result["axes"][0]["pattern"]
        for h in (high, low)
    ]
    assert sizes[0] <= sizes[1]
    assert sizes[0] >= 0.2


def test_a_wax_tells_the_casting() -> None:
    """By hand: 120 g of wax of 0.97 g/cm^3 is 123.7 cm^3; contracted and of the metal's density."""
    answer = decide_pattern(PatternCase(alloy="C87300", pattern_mass=0.12, pattern_density=970.0))
    scale = answer.result["scale"]
    density = next(one.value for one in answer.defaults if one.pointer == "/properties/density")
    assert answer.result["casting_mass"] == pytest.approx(0.12 / 970.0 * density / scale**3)


def test_machining_is_taken_from_the_table_and_said() -> None:
    answer = decide_pattern(replace(BRACKET, machined_faces={"height": 1.0}))
    (told,) = [one for one in answer.defaults if one.pointer == "/machining"]
    assert told.value > 0.0
    height = answer.result["axes"][2]
    assert height["pattern"] > (0.01 + told.value) * 1.0
    assert answer.result["axes"][0]["pattern"] == pytest.approx(0.2 * answer.result["scale"])


def test_what_lacks_is_asked_for() -> None:
    assert [m.pointer for m in decide_pattern(PatternCase(alloy="A356", length=0.1)).missing] == [
        "/width",
        "/height",
    ]
    assert decide_pattern(PatternCase(length=0.1, width=0.1, height=0.1)).verdict == "unknown"
    assert decide_pattern(PatternCase(alloy="A356", pattern_mass=0.1)).verdict == "unknown"
