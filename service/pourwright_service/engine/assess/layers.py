"""Layers: what a mould holds, cut into parts of even section from the bottom up."""

from dataclasses import dataclass
from itertools import pairwise

LEVEL = 1e-9
"""Levels that differ by less (m) are the same level."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """A layer of even section of what is filled: m^3, and levels in m above the gate (negative below)."""

    volume: float
    bottom: float
    top: float


def even_layers(volume: float, height: float, above_gate: float) -> tuple[Layer, ...]:
    """The layers of a casting of even section that stands ``above_gate`` (m) over the gate."""
    return stacked_layers(((height, volume),), above_gate)


def stacked_layers(parts: tuple[tuple[float, float], ...], above_gate: float) -> tuple[Layer, ...]:
    """Layers from (height, volume) from the bottom up; the topmost ends ``above_gate`` over the gate.

    A part that the level of the gate cuts becomes two layers.
    """
    level = above_gate - sum(height for height, _ in parts)
    layers = []
    for index, (height, volume) in enumerate(parts):
        top = above_gate if index == len(parts) - 1 else level + height
        ends = [level, top]
        if level < -LEVEL and top > LEVEL:
            ends = [level, 0.0, top]
        for bottom, end in pairwise(ends):
            share = (end - bottom) / (top - level) if len(ends) > 2 else 1.0
            layers.append(Layer(volume=volume * share, bottom=bottom, top=end))
        level = top
    return tuple(layers)
