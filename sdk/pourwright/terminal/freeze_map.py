"""The freeze map as text: the places that freeze last, and the riser beside them."""

from __future__ import annotations

from ..models.freeze_maps import FreezeMapResult
from ..models.plan_result import PlanMapResult
from .figures import shown
from .layout import pairs, stacked, table, titled
from .rows import Rows


def map_lines(found: PlanMapResult | None, width: int) -> list[str]:
    """Places in the axes of the mesh's file, the last to freeze first; nothing without a map."""
    if found is None:
        return []
    cells = [
        [
            f"{shown(one.x)}, {shown(one.y)}, {shown(one.z)}",
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
    return stacked(
        table(["last at x, y, z of the file", "so late", "solid after", "modulus"], cells, width),
        pairs(rows, width),
    )


def freeze_map_lines(result: FreezeMapResult, width: int) -> list[str]:
    """The answer of a freeze map."""
    rows = Rows()
    rows.say("worst fed 5 %", "gradient over root of cooling rate {} or less", result.poorest_feeding)
    return titled("what freezes last", stacked(map_lines(result.map, width), pairs(rows, width)))
