"""A pattern, for a terminal: axis by axis, scale, draft."""

from __future__ import annotations

from ..models.pattern import PatternSizesResult
from .figures import shown
from .layout import pairs, table, titled
from .rows import Rows


def pattern_lines(pattern: PatternSizesResult, width: int) -> list[str]:
    """The tables of a pattern."""
    cells = [
        [line.axis, shown(line.finished), shown(line.pattern), shown(line.at_the_parting)]
        for line in pattern.axes or ()
    ]
    copies = [
        [line.axis, shown(line.part_as_pattern_gives), shown(line.build_up)] for line in pattern.axes or ()
    ]
    rows = Rows()
    rows.say(
        "contraction",
        "{} ({} to {} is reported)",
        pattern.contraction,
        pattern.contraction_low,
        pattern.contraction_high,
    )
    if pattern.scale is not None:
        rows.say("scale of a printed pattern", "{}", f"{100.0 * pattern.scale:.2f} %")
    rows.say("draft on a side", "{}", pattern.draft)
    rows.say("tolerance held", "{} in all", pattern.held_tolerance)
    rows.say("the casting weighs", "{}", pattern.casting_mass)
    return [
        *titled("pattern", table(["", "finished", "pattern", "at the parting"], cells, width)),
        *titled("and", pairs(rows, width)),
        *titled("the part itself as pattern", table(["", "would give", "build up each end"], copies, width)),
    ]
