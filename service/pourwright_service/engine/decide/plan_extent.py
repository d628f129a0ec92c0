"""How far a part reaches that is told by sections alone: how they lie is not said, so the safe side counts.

Sections that rest on a larger one lie within its outline; all others may lie beside each other, in a row.
So the metal under the cope, and what the flask must take, are never told too small.
"""

import math

from ..geometry.sections import SectionMeasure
from .freezing import Sections

LEVEL = ("top", "bottom")


def plan_of(one: SectionMeasure) -> tuple[float, float, float]:
    """Plan area, length and width of a section's largest level face, or of its outline."""
    level = [face for face in one.faces if face.name in LEVEL and face.width is not None]
    if level:
        face = max(level, key=lambda each: each.area)
        length, width = face.across or face.length or 0.0, face.across or face.width or 0.0
        return face.area, max(length, width), min(length, width)
    side = one.volume ** (1.0 / 3.0)
    return side**2, side, side


def beside_each_other(sections: Sections) -> list[tuple[SectionMeasure, int]]:
    """The sections, with their counts, that do not rest on a larger one."""
    areas = {one.name: plan_of(one)[0] for one in sections.measures}
    bearing = {(one.name, other): face for one in sections.measures for other, face in one.bearing}

    def rests(name: str, other: str) -> bool:
        level = bearing.get((name, other)) in LEVEL and bearing.get((other, name)) in LEVEL
        return level and (areas[other], other) > (areas[name], name)

    joined = [pair for first, second in sections.joins for pair in ((first, second), (second, first))]
    stacked = {name for name, other in joined if rests(name, other)}
    return [(one, sections.counts[one.name]) for one in sections.measures if one.name not in stacked]


def straight_edge(sections: Sections) -> float:
    """The longest side of any one section, m: the most edge that is surely in one piece."""
    return max(plan_of(one)[1] for one in sections.measures)


def plan_area(sections: Sections) -> float:
    """The most metal that can lie in one level, m^2."""
    return math.fsum(plan_of(one)[0] * count for one, count in beside_each_other(sections))


def largest_size(sections: Sections) -> dict[str, float | None]:
    """Height, length and width (m) that the part has at most, its sections laid in a row."""
    heights = {one.name: one.height or one.volume ** (1.0 / 3.0) for one in sections.measures}
    stacks = list(heights.values()) + [heights[a] + heights[b] for a, b in sections.joins]
    row = [(plan_of(one), count) for one, count in beside_each_other(sections)]
    return {
        "height": max(stacks),
        "length": math.fsum(length * count for (_, length, _), count in row),
        "width": max(plan_of(one)[2] for one in sections.measures),
    }
