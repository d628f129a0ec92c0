"""How a pattern is drawn, for a terminal: directions side by side, what hinders, what wants draft."""

from __future__ import annotations

from collections.abc import Sequence

from ..models.draw import DrawResult, UndercutResult, WayResult
from ..quantity import Quantity
from .figures import shown
from .layout import pairs, stacked, table, titled
from .rows import Rows

_SORTS = {
    "trapped": "shut in between metal",
    "hanging": "hangs from the upper half",
    "standing": "stands on the lower half",
}


def draw_lines(draw: DrawResult, width: int) -> list[str]:
    """The tables of a draw."""
    return [
        *titled("direction", pairs(_judged(draw), width)),
        *titled("directions side by side", _directions(draw.directions, width)),
        *titled("sand that a flat parting does not free", _undercuts(draw, width)),
        *titled("draft", pairs(_draft(draw), width)),
    ]


def _judged(draw: DrawResult) -> Rows:
    rows = Rows()
    judged = draw.judged
    rows.say("drawn along", "{}" if judged.why != "yours" else "{} (as you wish)", judged.along)
    if judged.along != draw.best.along:
        rows.say("better along", "{}", draw.best.along)
    rows.say("parting", "{} above the lowest point of {}", judged.parting_height, judged.height)
    rows.say("sand shut in", "{}", judged.trapped)
    rows.say("sand that hangs or stands", "{} and {}", judged.hanging, judged.standing)
    rows.say("the grid tells no less than", "{}", judged.noise_floor)
    if draw.columns_left_out.value:
        rows.say("left out where the mesh is open", "{}", draw.columns_left_out)
    return rows


def _directions(ways: Sequence[WayResult], width: int) -> list[str]:
    heads = ["along", "parting at", "of height", "undercut", "of the part", "shut in", "without draft"]
    cells = [
        [
            way.along,
            shown(way.parting_height),
            shown(way.height),
            shown(way.undercut),
            shown(way.undercut_share),
            shown(way.trapped),
            shown(way.tallest_without_draft),
        ]
        for way in ways
    ]
    return table(heads, cells, width)


def _undercuts(draw: DrawResult, width: int) -> list[str]:
    heads = ["sand", "volume", "middle (file's axes)", "size", "heights", "core"]
    more = draw.undercuts_in_all - len(draw.undercuts)
    rest = Rows([("and smaller", f"{more} more")] if more else [])
    return stacked(table(heads, [_undercut(one) for one in draw.undercuts], width), pairs(rest, width))


def _undercut(one: UndercutResult) -> list[str]:
    return [
        _SORTS.get(one.sort, one.sort),
        shown(one.volume),
        _point(one.centre),
        " x ".join(map(shown, (one.length, one.width, one.height))),
        f"{shown(one.from_height)} to {shown(one.to_height)}",
        shown(one.needs_core),
    ]


def _point(place: Sequence[Quantity]) -> str:
    return ", ".join(map(shown, place))


def _draft(draw: DrawResult) -> Rows:
    rows = Rows()
    draft = draw.draft
    rows.say("less than", "{}°: {} of surface, {} of all", draft.wanted_degrees, draft.area, draft.share)
    rows.say("the tallest such face", "{}", draft.tallest)
    if draft.place is not None:
        rows.append(("its middle (file's axes)", _point(draft.place)))
    rows.say("it should lean by", "{}", draft.lean)
    return rows
