"""The strict reader of quantities, and the writer that gives back what was typed."""

import math
import re
import time
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pourwright_service.api.quantities import (
    BadQuantity,
    View,
    in_unit,
    read,
    viewing,
    write,
    write_exact,
)
from pourwright_service.api.units import SLIPS, UNITS

HOSTILE = [
    ("mass", "9**9**8 kg", "not_a_quantity"),
    ("mass", "1,5 kg", "decimal_comma"),
    ("mass", "1,500 kg", "decimal_comma"),
    ("length", "1_000 mm", "not_a_quantity"),
    ("length", "1 000 mm", "not_a_quantity"),
    ("length", "nan mm", "not_a_quantity"),
    ("length", "inf mm", "not_a_quantity"),
    ("length", "-inf mm", "not_a_quantity"),
    ("length", "1e400 mm", "out_of_bounds"),
    ("length", "1e-400 mm", "out_of_bounds"),
    ("length", "1e9999 mm", "not_a_quantity"),
    ("length", "1e31 m", "out_of_bounds"),
    ("length", "-1e31 m", "out_of_bounds"),
    ("length", "1e-31 m", "out_of_bounds"),
    ("temperature", "1e31 degC", "out_of_bounds"),
    ("length", "٢٥ mm", "not_a_quantity"),
    ("length", "２５ mm", "not_a_quantity"),
    ("length", "5² mm", "not_a_quantity"),
    ("length", "½ in", "not_a_quantity"),
    ("length", "1½ in", "not_a_quantity"),
    ("length", "25.4", "no_unit"),
    ("length", "25.4 ", "no_unit"),
    ("length", 25.4, "no_unit"),
    ("length", 25, "no_unit"),
    ("length", "", "not_a_quantity"),
    ("length", " ", "not_a_quantity"),
    ("length", "mm", "not_a_quantity"),
    ("length", "mm 25", "not_a_quantity"),
    ("length", "+3 mm", "not_a_quantity"),
    ("length", "--3 mm", "not_a_quantity"),
    ("length", "3 mm mm", "unknown_unit"),
    ("length", "3 mm + 2 mm", "unknown_unit"),
    ("length", "1/0 in", "not_a_quantity"),
    ("length", "1/2/3 in", "unknown_unit"),
    ("length", "0x10 mm", "unknown_unit"),
    ("length", "3 MM", "unknown_unit"),
    ("length", "3 mm\n", "unknown_unit"),
    ("length", "3\tmm", "unknown_unit"),
    ("length", "3\u00a0mm", "unknown_unit"),
    ("length", "3 kg", "unknown_unit"),
    ("length", "3 inch", "unknown_unit"),
    ("length", '3"', "unknown_unit"),
    ("length", "1" * 100 + " mm", "not_a_quantity"),
    ("length", "1 " * 5000 + "mm", "not_a_quantity"),
    ("length", "9" * 1_000_000, "not_a_quantity"),
    ("length", None, "not_a_quantity"),
    ("length", True, "not_a_quantity"),
    ("length", [25.4, "mm"], "not_a_quantity"),
    ("length", {"value": 25.4}, "not_a_quantity"),
    ("length", {"value": 25.4, "unit": "mm", "more": 1}, "not_a_quantity"),
    ("length", {"value": "25.4", "unit": "mm"}, "not_a_number"),
    ("length", {"value": True, "unit": "mm"}, "not_a_number"),
    ("length", {"value": math.inf, "unit": "mm"}, "not_a_number"),
    ("length", {"value": math.nan, "unit": "mm"}, "not_a_number"),
    ("length", {"value": 10**400, "unit": "mm"}, "out_of_bounds"),
    ("length", {"value": 25.4, "unit": "kg"}, "unknown_unit"),
    ("length", {"value": 25.4, "unit": None}, "unknown_unit"),
    ("length", {"value": 25.4, "unit": ""}, "unknown_unit"),
    ("temperature", "20 C", "unknown_unit"),
    ("temperature", "20 °C", "unknown_unit"),
    ("temperature", "68 F", "unknown_unit"),
    ("temperature", "20 delta degC", "unknown_unit"),
    ("temperature_difference", "20 degC", "unknown_unit"),
    ("conductivity", "12 W/m*K", "unknown_unit"),
    ("volume", "2 gal", "unknown_unit"),
    ("fraction", "5", "no_unit"),
    ("fraction", math.inf, "out_of_bounds"),
    ("price", 2, "no_unit"),
    ("price", "2 EUR/kg", "unknown_unit"),
]


@pytest.mark.parametrize(("kind", "given", "code"), HOSTILE, ids=lambda value: repr(value)[:30])
def test_what_is_refused(kind: str, given: Any, code: str) -> None:
    began = time.perf_counter()
    with pytest.raises(BadQuantity) as refusal:
        read(kind, given)
    assert refusal.value.code == code
    assert len(refusal.value.detail) < 250, "a refusal does not repeat a long text"
    assert time.perf_counter() - began < 0.5, "a refusal must never be slow"


def test_a_bare_number_names_the_units_that_would_do() -> None:
    with pytest.raises(BadQuantity) as refusal:
        read("length", 25.4)
    assert refusal.value.accepted == ("mm", "cm", "m", "in", "ft")
    assert "25.4 mm" in refusal.value.detail


@pytest.mark.parametrize("slip", sorted(SLIPS))
def test_common_slips_are_refused_with_the_right_unit(slip: str) -> None:
    kinds = [kind for kind, listed in UNITS.items() if SLIPS[slip] in listed.units]
    assert kinds, f"{SLIPS[slip]} is not a unit of any kind"
    with pytest.raises(BadQuantity, match=re.escape(f"did you mean {SLIPS[slip]!r}")):
        read(kinds[0], f"3 {slip}")


ACCEPTED = [
    ("length", "25.4 mm", 0.0254),
    ("length", "25.4mm", 0.0254),
    ("length", "  25.4   mm ", 0.0254),
    ("length", "1 in", 0.0254),
    ("length", "2 1/2 in", 0.0635),
    ("length", "1/2 in", 0.0127),
    ("length", "1 1/2 in", 0.0381),
    ("length", "-1 1/2 in", -0.0381),
    ("length", ".5 m", 0.5),
    ("length", "5. m", 5.0),
    ("length", "1.2e-3 m", 0.0012),
    ("length", "1.2E+3 mm", 1.2),
    ("length", "0 mm", 0.0),
    ("length", {"value": 25.4, "unit": "mm"}, 0.0254),
    ("length", {"value": 1, "unit": "in"}, 0.0254),
    ("length", {"value": 1e-05, "unit": "m"}, 1e-05),
    ("length", {"value": -2.5, "unit": "m"}, -2.5),
    ("temperature", "20 degC", 293.15),
    ("temperature", "-40 degF", 233.15),
    ("temperature", "0 K", 0.0),
    ("temperature", "-273.15 degC", 0.0),
    ("temperature_difference", "18 delta degF", 10.0),
    ("volume", "1 US gal", 0.003785411784),
    ("mass", "12 oz t", 0.3732417216),
    ("fraction", "5 %", 0.05),
    ("fraction", 0.05, 0.05),
    ("fraction", 1, 1.0),
    ("price", "2 /kg", 2.0),
    ("price", "2/kg", 2.0),
    ("mould_constant", "4 min/cm^2", 2.4e6),
    ("curvature", "2 1/mm", 2000.0),
]


@pytest.mark.parametrize(("kind", "given", "si"), ACCEPTED, ids=lambda value: repr(value)[:30])
def test_what_is_read(kind: str, given: Any, si: float) -> None:
    assert read(kind, given) == si


def test_an_inch_is_the_same_float_however_it_is_written() -> None:
    ways = ["1 in", "25.4 mm", "2.54 cm", "0.0254 m", "2/2 in", "254e-1 mm", {"value": 25.4, "unit": "mm"}]
    assert {read("length", way) for way in ways} == {0.0254}


NUMBERS = st.decimals(min_value="1e-6", max_value="1e9", allow_nan=False, places=6).map(
    lambda number: f"{number.normalize():f}"
)
ANY_UNIT = st.sampled_from([(kind, unit) for kind, listed in UNITS.items() for unit in listed.spellings])


@given(NUMBERS, ANY_UNIT)
def test_what_was_typed_comes_back(number: str, kind_unit: tuple[str, str]) -> None:
    kind, spelling = kind_unit
    assume(len(number.replace(".", "").strip("0")) <= 15)
    si = read(kind, f"{number} {spelling}")
    unit = UNITS[kind].units[spelling]
    shown = in_unit(si, unit)
    if unit.off_num:  # adding an offset loses the digits below the offset's own last place
        assert math.isclose(shown, float(number), rel_tol=1e-12, abs_tol=1e-9)
    else:
        assert shown == float(number)


@given(st.floats(min_value=1e-12, max_value=1e15), st.sampled_from(sorted(UNITS)), st.booleans())
def test_a_resolved_value_reads_back_as_the_same_float(si: float, kind: str, us: bool) -> None:
    assert read(kind, write_exact(kind, si, "us" if us else "metric")) == si


@given(st.floats(min_value=1e-12, max_value=1e15), st.sampled_from(sorted(UNITS)), st.booleans())
def test_a_shown_value_is_true_to_the_last_places(si: float, kind: str, us: bool) -> None:
    shown = write(kind, si, "us" if us else "metric")
    absolute = 1e-9 if kind == "temperature" else 0.0
    assert math.isclose(read(kind, shown), si, rel_tol=4e-16, abs_tol=absolute)


@given(st.text(max_size=40), st.sampled_from(sorted(UNITS)))
def test_no_text_does_anything_but_read_or_refuse(text: str, kind: str) -> None:
    try:
        value = read(kind, text)
    except BadQuantity:
        value = 0.0
    assert math.isfinite(value)


def test_numbers_that_are_not_finite_are_never_shown() -> None:
    beyond = (math.nan, math.inf, -math.inf, 1e306, None)
    assert [write("length", value) for value in beyond] == [None] * 5


def test_bare_kinds_and_money_are_shown_as_they_are() -> None:
    assert write("ratio", 1.25) == 1.25
    assert write("count", 3) == 3.0
    assert write("money", 43.4) == {"value": 43.4, "unit": "money"}
    with viewing(View("us", "EUR")):
        assert write("money", 43.4) == {"value": 43.4, "unit": "EUR"}
        assert write("length", 0.0254) == {"value": 1.0, "unit": "in"}
    assert write("length", 0.0254) == {"value": 25.4, "unit": "mm"}
    assert write("fraction", 0.05) == {"value": 5.0, "unit": "%"}
