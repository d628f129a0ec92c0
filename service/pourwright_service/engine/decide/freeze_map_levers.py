"""What can be changed to mend a riser on a freeze map."""

from collections.abc import Iterator

from .freeze_maps import FreezeMapCase
from .plan_map import CELLS
from .remedies import REMOVED, Change, Levers, Proposal, Slide, Switch, Trouble

MM = 1e-3
WIDER, TALLER = 4.0, 3.0
"""So many times wider or taller a riser is tried at most."""


def _larger(trouble: Trouble) -> Iterator[Slide]:
    """A wider or a taller riser: each try is a map, so that none is made of a finer map than a draft."""
    case: FreezeMapCase = trouble.case
    if case.riser is None or (case.cells or CELLS) > CELLS:
        return
    for side, most, words in (
        ("diameter", WIDER, "Make the riser {new} across (it is {old})."),
        ("height", TALLER, "Make the riser {new} tall (it is {old})."),
    ):
        yield Slide(
            checks=("riser-last-on-map", "map-feeds-casting"),
            at=f"/riser/{side}",
            kind="length",
            step=MM,
            up=True,
            most=1.0,
            times=most,
            words=words,
        )


OVER_THE_LAST = Switch(
    checks=("riser-last-on-map", "map-feeds-casting"),
    changes=(Change("/riser/at", REMOVED),),
    words="Let the riser stand over what freezes last.",
    only_if=("/riser/at",),
)

FREEZE_MAP = Levers(
    levers=(
        OVER_THE_LAST,
        Proposal(checks=("riser-last-on-map", "map-feeds-casting"), offers=_larger),
    ),
)
