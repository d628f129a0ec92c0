"""Checks: slack, verdicts, messages, margins, and the catalogue."""

from typing import Literal

import pytest

from pourwright_service.engine.checks import CHECKS, CheckKind, Verdict, check_kind, worst
from pourwright_service.engine.ledger import Say

OK, BAD, DOUBTFUL = Say("good"), Say("bad"), Say("doubtful")


def kind(
    sense: Literal["at least", "at most"] = "at least",
    else_: Literal["warn", "fail"] = "fail",
    margin: bool = False,
) -> CheckKind:
    return CheckKind("toy", "A toy", "length", sense, else_, "COMMON-PRACTICE", margin)


@pytest.mark.parametrize(
    ("sense", "value", "limit", "slack", "verdict"),
    [
        ("at least", 3.0, 2.0, 1.0, "pass"),
        ("at least", 2.0, 2.0, 0.0, "pass"),
        ("at least", 1.5, 2.0, -0.5, "fail"),
        ("at most", 1.5, 2.0, 0.5, "pass"),
        ("at most", 2.0, 2.0, 0.0, "pass"),
        ("at most", 3.0, 2.0, -1.0, "fail"),
        ("at most", 0.0, 0.0, 0.0, "pass"),
        ("at most", 1e-9, 0.0, -1e-9, "fail"),
    ],
)
def test_slack_is_signed_and_zero_passes(
    sense: Literal["at least", "at most"], value: float, limit: float, slack: float, verdict: Verdict
) -> None:
    check = kind(sense).judge(value, limit, subject="/x", ok=OK, bad=BAD)
    assert check.slack == pytest.approx(slack)
    assert check.verdict == verdict
    assert check.message is (OK if verdict == "pass" else BAD)


def test_last_bits_of_a_float_do_not_fail_a_check() -> None:
    limit = 1.2 * 0.00789
    assert kind().judge(limit * (1 - 1e-12), limit, subject="", ok=OK, bad=BAD).verdict == "pass"
    assert kind().judge(limit * (1 - 1e-6), limit, subject="", ok=OK, bad=BAD).verdict == "fail"


@pytest.mark.parametrize(
    ("value", "verdict", "message"),
    [
        (1.2, "pass", OK),
        (1.1, "pass", OK),
        (0.9, "warn", DOUBTFUL),
        (0.8, "warn", DOUBTFUL),
        (0.7, "fail", BAD),
    ],
)
def test_between_two_limits_it_warns(value: float, verdict: Verdict, message: Say) -> None:
    check = kind().judge(value, 1.1, subject="", ok=OK, bad=BAD, warn_limit=0.8, doubtful=DOUBTFUL)
    assert (check.verdict, check.message) == (verdict, message)


def test_two_limits_work_downwards_too() -> None:
    judged = [
        kind("at most").judge(value, 5.0, subject="", ok=OK, bad=BAD, warn_limit=6.0).verdict
        for value in (4.9, 5.5, 6.0, 6.1)
    ]
    assert judged == ["pass", "warn", "warn", "fail"]


def test_a_kind_that_only_warns_never_fails() -> None:
    check = kind(else_="warn").judge(0.1, 1.0, subject="", ok=OK, bad=BAD)
    assert (check.verdict, check.message) == ("warn", BAD)


def test_not_a_number_never_passes() -> None:
    assert kind().judge(float("nan"), 1.0, subject="", ok=OK, bad=BAD).verdict == "fail"
    assert kind("at most").judge(float("nan"), 1.0, subject="", ok=OK, bad=BAD).verdict == "fail"


def test_a_margin_exists_only_where_declared_and_more_is_better() -> None:
    assert kind(margin=True).judge(3.0, 2.0, subject="", ok=OK, bad=BAD).margin == pytest.approx(1.5)
    assert kind("at most", margin=True).judge(3.0, 2.0, subject="", ok=OK, bad=BAD).margin == pytest.approx(
        2 / 3
    )
    assert kind().judge(3.0, 2.0, subject="", ok=OK, bad=BAD).margin is None
    assert kind(margin=True).judge(3.0, 0.0, subject="", ok=OK, bad=BAD).margin is None


@pytest.mark.parametrize(
    ("verdicts", "expected"),
    [
        ([], "pass"),
        (["pass", "warn"], "warn"),
        (["warn", "unknown", "pass"], "unknown"),
        (["unknown", "fail", "warn"], "fail"),
    ],
)
def test_the_worst_verdict_speaks(verdicts: list[Verdict], expected: Verdict) -> None:
    assert worst(verdicts) == expected


def test_an_id_enters_the_catalogue_once() -> None:
    before = dict(CHECKS)
    try:
        made = check_kind("toy-check", "A toy", kind="length", sense="at most", source="DERIVED")
        assert CHECKS["toy-check"] is made
        with pytest.raises(ValueError, match="toy-check is already used"):
            check_kind("toy-check", "Another", kind="time", sense="at least", source="DERIVED")
    finally:
        CHECKS.pop("toy-check", None)
    assert before == CHECKS
