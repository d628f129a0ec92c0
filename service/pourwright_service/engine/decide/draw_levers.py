"""What mends a part that cannot be drawn as it lies: turn it."""

from collections.abc import Iterator

from ..ledger import Say
from .remedies import Change, Offer, Proposal, Trouble


def _turned(trouble: Trouble) -> Iterator[Offer]:
    """Lay the part so that it is drawn along the direction in which nothing is shut in."""
    for check in trouble.checks:
        better = check.bad.parts.get("b")
        if better is not None:
            yield Offer(
                (Change(check.subject, f"+{better}"),),
                Say("Turn the part: draw it along {b}, where metal shuts in no sand.", b=better),
            )


TURN = Proposal(checks=("can-be-drawn",), offers=_turned)
