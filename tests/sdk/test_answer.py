"""Reading answers: their verdict cannot be overlooked, and what is new is passed over."""

from typing import Any

import pytest

from pourwright import Quantity, SourceRef, VerdictError
from pourwright.models.freezing import FreezingResult
from pourwright.reading import read_answer

SOURCE = {"key": "COMMON-PRACTICE", "grade": "common practice"}


def check(verdict: str) -> dict[str, Any]:
    return {
        "id": f"is-{verdict}",
        "subject": "/sections/0",
        "verdict": verdict,
        "message": f"It is {verdict}.",
        "value": {"value": 1.0, "unit": "mm"},
        "limit": 2.0,
        "slack": None,
        "margin": None,
        "source": SOURCE,
    }


def data(verdict: str = "pass", **more: Any) -> dict[str, Any]:
    return {
        "verdict": verdict,
        "message": "So it is.",
        "result": {
            "volume": {"value": 60.0, "unit": "cm^3"},
            "sections": [{"name": "plate", "modulus": {"value": 8.0, "unit": "mm"}, "rank": 1, "new": 1}],
            "feed_path": [],
            "method": "bare",
            "of a later version": {"value": 1},
        },
        "checks": [check("fail"), check("warn"), check("pass")],
        "missing": [{"pointer": "/alloy", "message": "Name the alloy."}],
        "defaults": [
            {
                "pointer": "/gravity",
                "value": {"value": 9.81, "unit": "m/s^2"},
                "provenance": "standard",
                "source": SOURCE,
                "note": "",
                "spread": None,
            }
        ],
        "cautions": [],
        "resolved": {"sections": []},
        "engine_version": "1",
        "tables_version": "2",
        **more,
    }


def test_read() -> None:
    answer = read_answer(FreezingResult, data())
    assert answer.result.volume == Quantity(60.0, "cm^3")
    assert answer.result.sections[0].modulus == Quantity(8.0, "mm")
    assert answer.result.sections[0].freezing_time is None
    assert answer.result.method == "bare"
    assert answer.checks[0].value == Quantity(1.0, "mm")
    assert answer.checks[0].limit == 2.0
    assert answer.checks[0].source == SourceRef("COMMON-PRACTICE", "common practice")
    assert answer.defaults[0].value == Quantity(9.81, "m/s^2")
    assert answer.working is None
    assert answer.data["result"]["of a later version"] == {"value": 1}
    with pytest.raises(AttributeError):
        answer.__setattr__("verdict", "pass")


def test_failed_and_warnings() -> None:
    answer = read_answer(FreezingResult, data())
    assert [check.id for check in answer.failed] == ["is-fail"]
    assert [check.id for check in answer.warnings] == ["is-warn"]


@pytest.mark.parametrize("verdict", ["pass", "warn"])
def test_require_gives_the_answer(verdict: str) -> None:
    answer = read_answer(FreezingResult, data(verdict))
    assert answer.require() is answer


@pytest.mark.parametrize("verdict", ["fail", "unknown"])
def test_require_raises(verdict: str) -> None:
    answer = read_answer(FreezingResult, data(verdict))
    with pytest.raises(VerdictError) as caught:
        answer.require()
    assert caught.value.answer is answer
    assert str(caught.value).splitlines() == [
        f"{verdict}: So it is.",
        "  is-fail: It is fail.",
        "  missing /alloy: Name the alloy.",
    ]


def test_working() -> None:
    line = {
        "line": 1,
        "scope": ["section", "plate"],
        "formula": "freezing.freezing_time",
        "expression": "t = C M**2",
        "numbers": {"C": {"value": 1.0, "unit": "s/m^2", "name": "mould_constant", "origin": "given"}},
        "result": {"value": 2.0, "unit": "s", "name": "t"},
        "rounds": None,
        "source": {**SOURCE, "place": "p. 1"},
    }
    answer = read_answer(FreezingResult, data(working=[line]))
    assert answer.working is not None
    assert answer.working[0].scope == ("section", "plate")
    assert answer.working[0].source.place == "p. 1"
    assert answer.working[0].numbers["C"]["origin"] == "given"
