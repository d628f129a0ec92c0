# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of riser."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import FractionInput, JsonObject, Quantity, QuantityInput
from .common import MouldInput, PropertiesInput
from .freezing import TrialInput
from .sections import SectionInput


class CastingInput(TypedDict):
    """A casting by its figures; beside sections they win over what would follow from those."""

    volume: QuantityInput
    """Its volume."""
    modulus: NotRequired[QuantityInput]
    """Modulus of its heaviest part; the volume criterion does without."""
    freezing_time: NotRequired[QuantityInput]
    """How long that part takes to freeze."""


class RiserFacesInput(TypedDict):
    """What the riser's flat ends do."""

    top: NotRequired[Literal["cooling", "insulated", "joined"]]
    """The top: cooling in the open, or insulated (covered)."""
    bottom: NotRequired[Literal["cooling", "insulated", "joined"]]
    """The foot: joined to the casting, cooling in sand, or insulated."""


class SleeveInput(TypedDict):
    """An insulating sleeve round the riser."""

    modulus_ratio: float
    """How many times the sleeve raises the riser's modulus, by its maker."""


class NeckInput(TypedDict):
    """The channel between riser and casting."""

    length: NotRequired[QuantityInput]
    """Length of the neck."""
    thickness: NotRequired[QuantityInput]
    """Thickness of a round or square neck, where it is already made."""


class RiserInput(TypedDict):
    """What is wanted of the riser; everything may be left to the engine."""

    position: NotRequired[Literal["top", "side"]]
    """On the casting, or beside it."""
    section: NotRequired[str]
    """The section that a top riser stands on; left out, the last to freeze."""
    face: NotRequired[str]
    """The face of that section that it stands on (pointing up in the mould)."""
    shape: NotRequired[Literal["cylinder", "domed", "ball"]]
    """Shape of the riser; a domed one has a half ball on top."""
    height_to_diameter: NotRequired[float]
    """Height (a dome's straight part) over diameter."""
    diameter: NotRequired[QuantityInput]
    """Diameter, where the riser is already made: it is then only judged."""
    height: NotRequired[QuantityInput]
    """Its height (a dome's straight part); only beside a diameter."""
    faces: NotRequired[RiserFacesInput | JsonObject]
    """What its flat ends do."""
    sleeve: NotRequired[SleeveInput | JsonObject]
    """An insulating sleeve."""
    neck: NotRequired[NeckInput | JsonObject]
    """A neck between riser and casting; a side riser and a ball always have one."""
    feeding_efficiency: NotRequired[FractionInput]
    """Share of itself that the riser can give."""
    time_ratio: NotRequired[float]
    """How many times longer than the casting it must stay liquid."""
    modulus_ratio: NotRequired[float]
    """How many times the casting's modulus it must have."""
    criteria: NotRequired[Sequence[Literal["time", "modulus", "volume"]]]
    """The criteria that size it; the largest riser is taken."""
    shrinkage_spread: NotRequired[FractionInput]
    """Points by which the shrinkage may be off, either way."""
    rounding_step: NotRequired[QuantityInput]
    """The diameter is rounded up to a whole number of these; 0 leaves it."""


class RiserRequest(TypedDict):
    """A casting (as sections, or by its figures) and what is wanted of its riser."""

    sections: NotRequired[Sequence[SectionInput]]
    """The casting, as simple bodies."""
    casting: NotRequired[CastingInput | JsonObject]
    """The casting by its figures, instead of sections or beside them."""
    riser: NotRequired[RiserInput | JsonObject]
    """What is wanted of the riser."""
    alloy: NotRequired[str]
    """The alloy; its properties are looked up."""
    properties: NotRequired[PropertiesInput | JsonObject]
    """Properties of the metal that you know better; they win."""
    mould: NotRequired[MouldInput | JsonObject]
    """What the mould is made of."""
    mould_constant: NotRequired[QuantityInput]
    """Chvorinov's constant, where you have one; it replaces the properties."""
    trial: NotRequired[TrialInput | JsonObject]
    """A trial casting from which the mould constant follows."""
    pouring_temperature: NotRequired[QuantityInput]
    """How hot the metal leaves the crucible."""
    temperature_fall: NotRequired[QuantityInput]
    """How much it cools until the mould is full."""
    curvature: NotRequired[bool]
    """Whether curved surfaces are corrected for; left out, the kind of metal decides."""


@dataclass(frozen=True, slots=True)
class CriterionResult:
    """The diameter that one criterion asks for."""

    criterion: Literal["time", "modulus", "volume", "volume_x3"]
    """The criterion."""
    diameter: Quantity | None
    """Least diameter by it, before rounding; null where it has no answer."""
    used: bool
    """Whether it helped to size the riser."""


@dataclass(frozen=True, slots=True)
class RiserResult:
    """The riser and how it stands beside the casting."""

    position: Literal["top", "side"] | None
    """On the casting, or beside it."""
    shape: Literal["cylinder", "domed", "ball"] | None
    """Shape of the riser."""
    section: str | None
    """The section that it stands on."""
    face: str | None
    """The face that it stands on."""
    diameter: Quantity | None
    """Diameter."""
    height: Quantity | None
    """Height (of a dome its straight part)."""
    neck: Quantity | None
    """Thickness of the round or square neck."""
    cut_off_area: Quantity | None
    """Area to be cut through when the riser is taken off."""
    volume: Quantity | None
    """Volume of the riser."""
    modulus: Quantity | None
    """Modulus of the riser, sleeve included."""
    freezing_time: Quantity | None
    """When the riser is solid."""
    casting_volume: Quantity | None
    """Volume of the casting that it feeds."""
    casting_modulus: Quantity | None
    """Modulus of the casting's heaviest part under this riser."""
    casting_time: Quantity | None
    """When that part is solid."""
    last_section: str | None
    """The casting's last section to freeze."""
    shrinkage: Quantity | None
    """Shrinkage to feed, from the full mould to solid."""
    feeding_efficiency: Quantity | None
    """Share of itself that the riser can give."""
    method: Literal["bare", "curvature"] | None
    """Chvorinov's rule as printed, or corrected for curved surfaces."""
    mould_constant: Quantity | None
    """Mould constant used."""
    criteria: tuple[CriterionResult, ...]
    """The criteria side by side."""
    governs: Literal["time", "modulus", "volume"] | None
    """The criterion that asks for the largest riser."""
    shrinkage_low: Quantity | None
    """Low end of an estimated shrinkage."""
    shrinkage_high: Quantity | None
    """High end of an estimated shrinkage."""
    volume_diameter_low: Quantity | None
    """Diameter by volume at the low end."""
    volume_diameter_high: Quantity | None
    """Diameter by volume at the high end; null: no riser can."""
    casting_mass: Quantity | None
    """Mass of the casting."""
    riser_mass: Quantity | None
    """Mass of the riser as poured."""
    riser_left_mass: Quantity | None
    """What is left of it when the casting has taken what it lacks."""
    yield_ratio: Quantity | None
    """Casting over casting and riser left."""
