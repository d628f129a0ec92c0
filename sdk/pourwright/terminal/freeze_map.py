"""The freeze map as text: the places that freeze last, and the riser beside them."""

from __future__ import annotations

from ..models.freeze_maps import FreezeMapResult, PouredPlaceResult
from ..models.plan_result import CutOffResult, LastPlaceResult, PlanMapResult
from .figures import shown
from .layout import pairs, stacked, table, titled
from .rows import Rows


def map_lines(found: PlanMapResult | None, width: int) -> list[str]:
    """Places in the axes of the mesh's file, the last to freeze first; nothing without a map."""
    if found is None:
        return []
    cells = [
        [
            _place(one),
            shown(one.volume),
            shown(one.time),
            shown(one.modulus),
        ]
        for one in found.regions
    ]
    rows = Rows()
    rows.say(
        "with the riser",
        "the casting is solid after {}, the riser after {}",
        found.casting_end,
        found.riser_end,
    )
    rows.say("its foot is at", "{}, {}, {}", found.riser_x, found.riser_y, found.riser_z)
    rows.say("cells", f"{{}} wide, {found.cells} in all", found.cell)
    rows.say("cut off from the riser", "{} of the casting", found.cut_share)
    cut = [[_place(one), shown(one.volume), shown(one.closed), shown(one.solid)] for one in found.cut_off]
    return stacked(
        table(["last at x, y, z of the file", "so late", "solid after", "modulus"], cells, width),
        pairs(rows, width),
        table(["cut off while liquid", "so much", "after", "solid after"], cut, width),
    )


def _place(one: LastPlaceResult | PouredPlaceResult | CutOffResult) -> str:
    """A place in the axes of the mesh's file."""
    return f"{shown(one.x)}, {shown(one.y)}, {shown(one.z)}"


def freeze_map_lines(result: FreezeMapResult, width: int) -> list[str]:
    """The answer of a freeze map."""
    rows = Rows()
    if result.feeding is not None:
        rows.say("worst fed 5 %", "gradient over root of cooling rate {} or less", result.feeding.poorest)
        rows.say("threshold of steel", "{}", result.feeding.threshold_of_steel)
        rows.append(("how far to trust it", result.feeding.doubt))
    if result.quality is not None:
        rows.say("rays lost in holes", "{}", result.quality.lost_rays)
        rows.say("metal in cells mostly metal", "{}", result.quality.resolved)
    last = [[_place(one), one.body, shown(one.volume), shown(one.time)] for one in result.last]
    poured = table(["last of all metal at x, y, z", "in", "so late", "solid after"], last, width)
    with_riser = result.map is not None and result.map.riser_end is not None
    return [
        *titled("what freezes last in the casting alone", map_lines(result.map, width)),
        *titled("as poured", poured if with_riser else []),
        *titled("how far to trust the map", pairs(rows, width)),
    ]
