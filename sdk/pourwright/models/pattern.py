# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of pattern."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import FractionInput, JsonObject, Quantity, QuantityInput
from .common import PropertiesInput


class PatternRequest(TypedDict):
    """A finished part, and how its pattern is to be made."""

    length: NotRequired[QuantityInput]
    """Of the finished part, or of an old one that is to be copied."""
    width: NotRequired[QuantityInput]
    """Its width."""
    height: NotRequired[QuantityInput]
    """Its height, the way the pattern is drawn."""
    alloy: NotRequired[str]
    """The alloy; its contraction is looked up."""
    properties: NotRequired[PropertiesInput | JsonObject]
    """Properties of the metal that you know better, such as contraction."""
    machined_faces: NotRequired[Mapping[str, float]]
    """How many of the two ends of each axis are machined; none if left out."""
    machining: NotRequired[QuantityInput]
    """Taken off each machined face; left out, by table."""
    hindrance: NotRequired[Mapping[str, float]]
    """Share of the contraction that a core or the mould holds back along each axis: 0, free (the default), to
    1."""
    master_contraction: NotRequired[FractionInput]
    """Contraction of a metal pattern that is cast from the one asked for (a master)."""
    draft_degrees: NotRequired[float]
    """Draft of the sides, degrees."""
    rapping: NotRequired[QuantityInput]
    """What rapping widens the mould by."""
    process: NotRequired[Literal["hand-moulded clay-bonded sand", "chemically bonded sand"]]
    """How it is moulded; it says which tolerance is held."""
    tolerance: NotRequired[QuantityInput]
    """Total tolerance wanted on the largest size."""
    pattern_mass: NotRequired[QuantityInput]
    """Mass of a solid pattern, wax or print."""
    pattern_density: NotRequired[QuantityInput]
    """Density of its material."""


@dataclass(frozen=True, slots=True)
class PatternAxisLine:
    """One axis of the pattern."""

    axis: str
    """Which."""
    finished: Quantity
    """The finished part."""
    pattern: Quantity
    """The pattern, machining and contraction counted."""
    at_the_parting: Quantity
    """The same at the parting, with draft, less rapping."""
    part_as_pattern_gives: Quantity
    """What a casting measures for which the part itself was moulded."""
    build_up: Quantity
    """What the part must be built up by on each end to serve as the pattern."""


@dataclass(frozen=True, slots=True)
class PatternSizesResult:
    """How large the pattern must be."""

    contraction: Quantity | None
    """Linear contraction used."""
    contraction_low: Quantity | None
    """Least that is reported for this kind of metal."""
    contraction_high: Quantity | None
    """Most that is reported."""
    scale: float | None
    """Factor on every free length; the scale of a printed pattern."""
    volume_ratio: float | None
    """Mould's cavity over casting, by volume."""
    axes: tuple[PatternAxisLine, ...] | None
    """Axis by axis."""
    draft: Quantity | None
    """Draft on one side, over the whole height."""
    held_tolerance: Quantity | None
    """Total tolerance that this moulding holds on the largest size."""
    casting_mass: Quantity | None
    """Mass of the casting, from the pattern's."""
