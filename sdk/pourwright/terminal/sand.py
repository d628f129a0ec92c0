"""A batch of sand, for a terminal: what goes into it, what it comes to, who gets what."""

from __future__ import annotations

from ..models.sand import SandResult
from .figures import shown
from .layout import pairs, table, titled
from .rows import Rows


def sand_lines(sand: SandResult, width: int) -> list[str]:
    """The tables of a batch."""
    mix = [["sand as it lies", shown(sand.sand_mass), "-"]]
    for line in sand.additions or ():
        amount = shown(line.mass) if line.volume is None else f"{shown(line.mass)} ({shown(line.volume)})"
        mix.append([line.material, amount, shown(line.share)])
    members = [[line.name, shown(line.mass), f"{line.buckets:.1f}"] for line in sand.members or ()]
    rows = Rows()
    rows.say("batch", "{}, {} rammed", sand.batch_mass, sand.volume)
    if sand.buckets is not None:
        rows.say("in buckets", "{}", f"{sand.buckets:.1f}")
    rows.say("water in it", "{} (before: {})", sand.moisture, sand.moisture_before)
    rows.say("the flask takes", "{}", sand.flask_takes)
    rows.say("carbon dioxide", "{} at least, {} as it is blown", sand.gas_low, sand.gas_high)
    return [
        *titled("mix, by weight", table(["", "mass", "of the mix"], mix, width)),
        *titled("batch", pairs(rows, width)),
        *titled("shares", table(["who", "mass", "buckets"], members, width)),
    ]
