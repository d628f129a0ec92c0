"""The verdict of an answer, and the sentence that speaks first."""

from typing import Literal

import pytest

from pourwright_service.engine.answer import Answer, answer
from pourwright_service.engine.checks import Check, CheckKind, Verdict
from pourwright_service.engine.ledger import Caution, Ledger, Say

GOOD = Say("It pours.")


def check(value: float, else_: Literal["warn", "fail"] = "fail") -> Check:
    kind = CheckKind("toy", "A toy", "length", "at least", else_, "DERIVED")
    return kind.judge(value, 1.0, subject="/x", ok=Say("ok"), bad=Say(f"{else_} at {value}"))


def caution(severity: str) -> Caution:
    return Caution("x", "h", severity, Say(f"{severity}!"), Say("because"), "local code", "DERIVED")


def closed(
    *checks: Check, missing: bool = False, severity: str = "", extra: Verdict = "pass", message: Say = GOOD
) -> Answer:
    ledger = Ledger()
    if missing:
        ledger.lack("/alloy", Say("Which alloy?"))
    if severity:
        ledger.caution(caution(severity))
    return answer(ledger, {"a": 1.0}, list(checks), message, extra)


def test_all_good() -> None:
    got = closed(check(2.0), check(1.0), severity="care")
    assert (got.verdict, got.message) == ("pass", GOOD)
    assert got.result == {"a": 1.0}
    assert len(got.cautions) == 1


def test_the_worst_check_decides_and_speaks() -> None:
    assert closed(check(2.0), check(0.5, "warn")).verdict == "warn"
    got = closed(check(0.5, "warn"), check(0.4), check(0.3))
    assert (got.verdict, got.message.words) == ("fail", "fail at 0.4")


def test_what_is_missing_makes_it_unknown_but_a_failed_check_is_worse() -> None:
    got = closed(check(2.0), check(0.5, "warn"), missing=True)
    assert (got.verdict, got.message.words) == ("unknown", "Which alloy?")
    got = closed(check(0.5), missing=True)
    assert (got.verdict, got.message.words) == ("fail", "fail at 0.5")


@pytest.mark.parametrize("extra", ["pass", "warn", "unknown", "fail"])
def test_a_refusal_fails_and_speaks_before_everything(extra: Verdict) -> None:
    got = closed(check(0.5), missing=True, severity="refuse", extra=extra, message=Say("Short of silicon."))
    assert (got.verdict, got.message.words) == ("fail", "refuse!")


def test_a_verdict_of_the_subject_itself_keeps_its_own_sentence() -> None:
    got = closed(check(0.5, "warn"), extra="fail", message=Say("No mix makes this."))
    assert (got.verdict, got.message.words) == ("fail", "No mix makes this.")


def test_a_worse_check_speaks_before_a_milder_verdict_of_the_subject() -> None:
    got = closed(check(0.5), extra="warn", message=Say("Only nominally."))
    assert (got.verdict, got.message.words) == ("fail", "fail at 0.5")


def test_the_ledger_is_carried_over() -> None:
    ledger = Ledger()
    ledger.use("/gravity", None, 9.80665, "acceleration", provenance="standard", source="S")
    got = answer(ledger, {}, [], GOOD)
    assert [default.pointer for default in got.defaults] == ["/gravity"]
