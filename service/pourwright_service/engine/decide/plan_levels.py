"""Levels in the mould of a plan: where casting, riser and gate lie, and how tall cope and drag must be."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ..formulas.gating import velocity_head
from ..geometry.sections import Fault, SectionFault
from ..ledger import Ledger
from .gating_case import GatingWishes
from .gating_inputs import BASIN_DEPTH
from .plan_case import ShopCase
from .plan_part import Part
from .riser_choice import RiserChoice

HEAD_LEFT = 0.050
SHARE_HEAD_LEFT = 0.25
"""Head over the highest metal: at least so much, and this share of the casting's height."""

COVER = 0.030
"""Sand over and under the metal, m; common practice."""

STEP = 0.005
"""Flasks that nobody has yet are made in whole steps of this height, m."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Levels:
    """Levels in the mould, m above the parting: the main riser's foot, the highest riser's top (None: no
    riser), the casting's top and bottom, the gate; ``cope`` is the cope's height, ``drag_needed`` what
    the drag must have."""

    riser_foot: float | None
    riser_top: float | None
    casting_top: float
    casting_bottom: float
    gate: float
    cope: float
    drag_needed: float


def levels_of(
    part: Part,
    scale: float,
    risers: Sequence[RiserChoice],
    riser_open: bool,
    gate_position: str,
    wishes: GatingWishes,
    gravity: float,
    shop: ShopCase,
    ledger: Ledger,
) -> Levels:
    """Where everything lies, and the lowest cope that holds the riser and gives enough head.

    Raises SectionFault for a sprue so short that it would end below the parting.
    """
    top = scale * part.height_in_cope
    bottom = top - scale * part.height
    gate = {"bottom": bottom, "top": top, "parting": 0.0}[gate_position]
    ends = [riser_ends(one, top) for one in risers]
    foot = ends[0][0] if ends else None
    crown = max((crown for _, crown in ends), default=None)
    basin = basin_depth(wishes, gravity)
    highest = max(top, crown or 0.0)
    need = max(
        (crown or 0.0) + (0.0 if riser_open else COVER),
        top + COVER,
        highest + max(HEAD_LEFT, SHARE_HEAD_LEFT * (highest - bottom)) - basin,
    )
    heights = _heights(part, scale, shop)
    given = _sprue_height(wishes, basin)
    if given is not None:
        cope = given + gate
        if cope <= 0.0:
            detail = "with so short a sprue the metal would have to stand below the parting of the mould"
            place = "/gating/sprue_height" if wishes.sprue_height is not None else "/gating/head"
            raise SectionFault((Fault(place, "inconsistent", detail),))
    else:
        cope = lowest(heights, need)
        ledger.use(
            "/gating/sprue_height",
            None,
            cope - gate,
            "length",
            provenance="computed",
            source="COMMON-PRACTICE",
            note="the lowest cope that holds the riser and leaves head over it; the sprue is as tall",
        )
    return Levels(
        riser_foot=foot,
        riser_top=crown,
        casting_top=top,
        casting_bottom=bottom,
        gate=gate,
        cope=cope,
        drag_needed=COVER + max(-bottom, 0.0),
    )


def basin_depth(wishes: GatingWishes, gravity: float) -> float:
    """Depth of metal that will stand over the sprue's mouth, m."""
    if wishes.basin_depth is not None:
        return wishes.basin_depth
    if wishes.entry_velocity is not None:
        return velocity_head(wishes.entry_velocity, gravity)
    return BASIN_DEPTH


def _sprue_height(wishes: GatingWishes, basin: float) -> float | None:
    """The sprue's height where the caller has fixed it, by itself or by the head over the gate."""
    if wishes.sprue_height is not None or wishes.head is None:
        return wishes.sprue_height
    return wishes.head - basin if wishes.head > basin else wishes.head


def riser_ends(riser: RiserChoice, casting_top: float) -> tuple[float, float]:
    """Foot and top of a riser, m above the parting: on the casting, or beside it on the drag."""
    foot = casting_top if riser.inputs.position == "top" else 0.0
    return foot, foot + riser_height(riser)


def riser_height(riser: RiserChoice) -> float:
    """Height of the riser over its foot, m; a dome's half ball included."""
    if riser.decision is None:
        return 0.0
    if riser.inputs.shape == "ball":
        return riser.decision.diameter
    dome = riser.decision.diameter / 2.0 if riser.inputs.shape == "domed" else 0.0
    return riser.decision.height + dome


def _heights(part: Part, scale: float, shop: ShopCase) -> list[float]:
    """Heights that the shop's flasks come in; of those that are large enough in plan, if any are."""
    narrow, wide = sorted((scale * part.length, scale * part.width))
    roomy = [
        flask
        for flask in shop.flasks
        if min(flask.length, flask.width) > narrow and max(flask.length, flask.width) > wide
    ]
    return sorted({height for flask in roomy or shop.flasks for height in flask.heights})


def lowest(heights: Sequence[float], need: float) -> float:
    """The lowest flask that is tall enough, else the tallest; without flasks what would be made."""
    tall = [height for height in heights if height >= need - 1e-9]
    if tall or heights:
        return min(tall) if tall else max(heights)
    return math.ceil(need / STEP - 1e-9) * STEP
