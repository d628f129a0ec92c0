"""Layers: what a mould holds, cut into parts from the bottom up whose section is even or changes evenly."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

LEVEL = 1e-9
"""Levels that differ by less (m) are the same level."""

EVEN = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """A layer of what is filled: m^3, and levels in m above the gate (negative below).

    ``lower_share`` is the area of its lower face over that of both faces together: a half where its
    section is even, more where it narrows upwards.
    """

    volume: float
    bottom: float
    top: float
    lower_share: float = EVEN

    @property
    def mean_area(self) -> float:
        """Its section halfway up, m^2."""
        return self.volume / (self.top - self.bottom)

    @property
    def bottom_area(self) -> float:
        """Its lower face, m^2."""
        return 2.0 * self.lower_share * self.mean_area

    @property
    def top_area(self) -> float:
        """Its upper face, m^2."""
        return 2.0 * (1.0 - self.lower_share) * self.mean_area

    def area_at(self, level: float) -> float:
        """Its section at a level within it, m^2."""
        share = (level - self.bottom) / (self.top - self.bottom)
        return self.bottom_area + share * (self.top_area - self.bottom_area)


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
        layers.append(Layer(volume=volume, bottom=level, top=top))
        level = top
    return cut_at_gate(layers)


def profile_layers(points: Sequence[tuple[float, float]], above_gate: float) -> tuple[Layer, ...]:
    """Layers from (level, section) from the lowest point up, the section changing evenly in between.

    Levels (m) count from the casting's lowest point; the same level twice is a step in the section.
    """
    foot = above_gate - points[-1][0]
    layers = [
        sloped_layer(foot + low, foot + high, area, next_area)
        for (low, area), (high, next_area) in pairwise(points)
        if high - low > LEVEL and area + next_area > 0.0
    ]
    return cut_at_gate(layers)


def sloped_layer(bottom: float, top: float, bottom_area: float, top_area: float) -> Layer:
    """The layer between two faces (m, m^2)."""
    both = bottom_area + top_area
    return Layer(volume=0.5 * both * (top - bottom), bottom=bottom, top=top, lower_share=bottom_area / both)


def cut_at_gate(layers: Iterable[Layer]) -> tuple[Layer, ...]:
    """The same layers, with one that the gate's own level cuts made two: below it metal falls."""
    cut: list[Layer] = []
    for layer in layers:
        if layer.bottom < -LEVEL and layer.top > LEVEL:
            cut += (_piece(layer, layer.bottom, 0.0), _piece(layer, 0.0, layer.top))
        else:
            cut.append(layer)
    return tuple(cut)


def _piece(layer: Layer, low: float, high: float) -> Layer:
    if layer.lower_share == EVEN:
        share = (high - low) / (layer.top - layer.bottom)
        return Layer(volume=layer.volume * share, bottom=low, top=high)
    return sloped_layer(low, high, layer.area_at(low), layer.area_at(high))


def joined_layers(stacks: Sequence[tuple[int, tuple[Layer, ...]]]) -> tuple[Layer, ...]:
    """Several castings (how many, layers of one) that fill side by side at one level, as one stack."""
    if len(stacks) == 1 and stacks[0][0] == 1:
        return stacks[0][1]
    every = [(count, layer) for count, stack in stacks for layer in stack]
    marks: list[float] = []
    for mark in sorted({mark for _, layer in every for mark in (layer.bottom, layer.top)}):
        if not marks or mark - marks[-1] > LEVEL:
            marks.append(mark)
    layers = []
    for low, high in pairwise(marks):
        middle = 0.5 * (low + high)
        held = [(count, layer) for count, layer in every if layer.bottom < middle < layer.top]
        areas = [sum(count * layer.area_at(level) for count, layer in held) for level in (low, high)]
        if sum(areas) > 0.0:
            layers.append(sloped_layer(low, high, areas[0], areas[1]))
    return tuple(layers)
