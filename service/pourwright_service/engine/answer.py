"""An answer: the verdict and the sentence a beginner needs first, then everything behind it."""

from dataclasses import dataclass, field
from typing import Any

from .checks import Check, Verdict, worst
from .ledger import Caution, Default, Ledger, Missing, Say


@dataclass(frozen=True, slots=True)
class Answer:
    """What a subject answers.

    ``result`` is a dictionary of SI numbers shaped as the subject's answer schema says. The
    verdict is the worst check; ``unknown`` where something asked for could not be computed;
    ``fail`` where a caution refuses the job.
    """

    message: Say
    result: dict[str, Any]
    checks: tuple[Check, ...] = ()
    defaults: tuple[Default, ...] = ()
    missing: tuple[Missing, ...] = ()
    cautions: tuple[Caution, ...] = ()
    extra_verdict: Verdict = "pass"
    verdict: Verdict = field(init=False)

    def __post_init__(self) -> None:
        verdicts: list[Verdict] = [check.verdict for check in self.checks]
        verdicts.append(self.extra_verdict)
        if self.missing:
            verdicts.append("unknown")
        if any(caution.severity == "refuse" for caution in self.cautions):
            verdicts.append("fail")
        object.__setattr__(self, "verdict", worst(verdicts))


def answer(
    ledger: Ledger,
    result: dict[str, Any],
    checks: list[Check],
    message: Say,
    extra_verdict: Verdict = "pass",
) -> Answer:
    """Close the ledger of one answer.

    ``message`` is the sentence of a job that passes. A refusal, a failed check or what is missing
    speaks instead of it, in this order; the first warning speaks after it.
    """
    closed = Answer(
        message=message,
        result=result,
        checks=tuple(checks),
        defaults=tuple(ledger.defaults.values()),
        missing=tuple(ledger.lacking.values()),
        cautions=tuple(ledger.cautions.values()),
        extra_verdict=extra_verdict,
    )
    for caution in closed.cautions:
        if caution.severity == "refuse":
            return _with_message(closed, caution.text)
    if extra_verdict != "pass" and extra_verdict == closed.verdict:
        return closed
    for verdict in ("fail", "unknown", "warn"):
        if verdict == "unknown" and closed.missing:
            return _with_message(closed, closed.missing[0].why)
        for check in closed.checks:
            if check.verdict == verdict:
                own = check.message
                return _with_message(closed, message.then(own) if verdict == "warn" else own)
    return closed


def _with_message(closed: Answer, message: Say) -> Answer:
    return Answer(
        message,
        closed.result,
        closed.checks,
        closed.defaults,
        closed.missing,
        closed.cautions,
        closed.extra_verdict,
    )
