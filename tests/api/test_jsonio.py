"""Strict JSON: what json.loads lets through and a service must not."""

import json
import math
import time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourwright_service.api.jsonio import DEEPEST, read_json, write_json
from pourwright_service.api.problems import Problem

REFUSED = [
    (b"", "empty"),
    (b"   ", "empty"),
    (b"{", "line 1"),
    (b'{"a": 1,}', "line 1"),
    (b"{'a': 1}", "line 1"),
    (b'{"a": NaN}', "NaN"),
    (b'{"a": Infinity}', "Infinity"),
    (b'{"a": -Infinity}', "-Infinity"),
    (b'{"a": 1e400}', "range of a double"),
    (b'{"a": -1e999}', "range of a double"),
    (b'{"a": 1, "a": 2}', "given twice"),
    (b'{"a": {"b": 1, "c": 2, "b": 1}}', "'b' is given twice"),
    (b'{"a": ' + b"1" * 5000 + b"}", "5000 digits"),
    (b'{"a": "\xff"}', "UTF-8"),
    (b"\xff\xfe{\x00}\x00", "UTF-8"),
    (b'\xef\xbb\xbf{"a": 1}', "bom"),
    (b'{"a": "\\ud800"}', "surrogate"),
    (b'{"\\ud800": 1}', "surrogate"),
    (b"[" * 900_000, "nested deeper"),
    (b'{"a":' * 100_000, "nested deeper"),
    (b"[" * 33 + b"]" * 33, "nested deeper"),
    (b"[" * 600 + b"]" * 600, "nested deeper"),
    (b'{"a": 1} {"b": 2}', "extra data"),
    (b'{"a": 0x10}', "line 1"),
    (b'{"a": 01}', "line 1"),
]


@pytest.mark.parametrize(("body", "says"), REFUSED, ids=lambda value: repr(value)[:25])
def test_what_is_refused(body: bytes, says: str) -> None:
    began = time.perf_counter()
    with pytest.raises(Problem) as refusal:
        read_json(body)
    assert refusal.value.kind.status == 400
    assert says in refusal.value.detail
    assert time.perf_counter() - began < 1.0


def test_many_equal_fields_are_refused_quickly() -> None:
    names = ", ".join(f'"f{n}": 1' for n in range(90_000))
    began = time.perf_counter()
    with pytest.raises(Problem, match="given twice"):
        read_json(f'{{{names}, "f89999": 2}}'.encode())
    assert time.perf_counter() - began < 1.0


def test_depth_counts_nesting_not_brackets() -> None:
    assert read_json(b"[" + b"[],[{}]," * 1000 + b"0]")[-1] == 0
    assert read_json(b'["' + b"[" * 1000 + b'"]') == ["[" * 1000]
    nested = b"[" * DEEPEST + b"]" * DEEPEST
    assert json.dumps(read_json(nested)).encode() == nested


JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**12), 10**12)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(exclude_categories=["Cs"]), max_size=10),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text("ab", max_size=3), inner, max_size=3),
    max_leaves=10,
)


@given(JSON)
def test_plain_json_is_read_and_written_as_it_is(value: object) -> None:
    assert read_json(json.dumps(value).encode()) == value
    assert read_json(write_json(value)) == value


def test_writing_never_writes_nan() -> None:
    value = {"a": [math.nan, 1.0], "b": (math.inf, {"c": -math.inf})}
    assert json.loads(write_json(value)) == {"a": [None, 1.0], "b": [None, {"c": None}]}


def test_numpy_numbers_are_written_as_numbers() -> None:
    value = {"a": np.float64(1.5), "b": np.int64(2), "c": np.bool_(True), "d": np.array([1.0, 2.0])}
    assert json.loads(write_json(value)) == {"a": 1.5, "b": 2, "c": True, "d": [1.0, 2.0]}


def test_what_does_not_belong_in_an_answer_is_an_error() -> None:
    with pytest.raises(TypeError, match="set does not belong"):
        write_json({"a": {1, 2}})


def test_text_is_written_as_utf8() -> None:
    assert write_json({"a": "1150 °C"}) == '{"a":"1150 °C"}'.encode()
