# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of riser."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypeAlias, TypedDict

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
    least_metal: NotRequired[bool]
    """Whether the height is found that takes the least metal; a told height_to_diameter wins."""
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


class DistanceInput(TypedDict):
    """How far apart two heavy sections are."""

    section: str
    """A heavy section."""
    to: str
    """The other, where the riser stands."""
    distance: QuantityInput
    """Length of the thinner metal between the two."""


class RiserRequest(TypedDict):
    """A casting (as sections, or by its figures) and what is wanted of its riser."""

    sections: NotRequired[Sequence[SectionInput]]
    """The casting, as simple bodies."""
    casting: NotRequired[CastingInput | JsonObject]
    """The casting by its figures, instead of sections or beside them."""
    riser: NotRequired[RiserInput | JsonObject]
    """What is wanted of the riser; also of those added for other heavy sections."""
    risers: NotRequired[Sequence[RiserInput | JsonObject]]
    """Several risers, each next to its section, instead of riser."""
    several: NotRequired[bool]
    """Whether heavy sections that the riser cannot reach get risers of their own; they do unless told
    otherwise."""
    distances: NotRequired[Sequence[DistanceInput | JsonObject]]
    """How far apart heavy sections are, where one riser might feed both."""
    alternatives: NotRequired[bool]
    """Whether other risers that would do are shown beside the main one."""
    sleeve_ratio: NotRequired[float]
    """How many times a sleeve at hand raises a riser's modulus; for the alternative with a sleeve."""
    metal_price: NotRequired[QuantityInput]
    """What the metal costs; risers are then told in money too."""
    return_value: NotRequired[FractionInput]
    """What returned metal is worth, as a share of the price."""
    currency: NotRequired[str]
    """Name of the money that the price is in, such as EUR."""
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
class RiserEntry:
    """One of the casting's risers."""

    subject: str
    """How checks name it: its place in the request, or its name where it was added."""
    section: str | None
    """The section that it is next to."""
    feeds: tuple[str, ...]
    """The sections that it feeds, by name."""
    through: tuple[str, ...]
    """Heavy sections among them that it feeds through thinner metal."""
    why: str | None
    """Why it is there, or what else it feeds; null for the main riser alone."""
    position: Literal["top", "side"] | None
    """On the casting, or beside it."""
    shape: Literal["cylinder", "domed", "ball"] | None
    """Its shape."""
    face: str | None
    """The face that it stands on."""
    free_faces: tuple[str, ...]
    """Faces of that section that may bear a riser or its neck."""
    diameter: Quantity | None
    """Diameter; null where there is none that would do."""
    height: Quantity | None
    """Height (of a dome its straight part)."""
    neck: Quantity | None
    """Thickness of its round or square neck."""
    cut_off_area: Quantity | None
    """Area to be cut through when it is taken off."""
    volume: Quantity | None
    """Its volume."""
    modulus: Quantity | None
    """Its modulus, sleeve included."""
    freezing_time: Quantity | None
    """When it is solid."""
    casting_volume: Quantity | None
    """Volume of the casting that it feeds."""
    casting_modulus: Quantity | None
    """Modulus of the heaviest part that it feeds."""
    casting_time: Quantity | None
    """When that part is solid."""
    last_section: str | None
    """The last of its sections to freeze."""
    governs: Literal["time", "modulus", "volume"] | None
    """The criterion that asks for the largest riser."""
    riser_mass: Quantity | None
    """Its mass as poured."""
    riser_left_mass: Quantity | None
    """What is left of it when it has fed."""
    metal_cost: Quantity | None
    """Cost of its metal when what is left is returned; null without a price."""
    why_not: str | None
    """Why there is none that would do."""


@dataclass(frozen=True, slots=True)
class FeedingResult:
    """How this metal is fed, and all risers together."""

    freezing_class: Literal["short", "middle", "long"] | None
    """How wide the metal's freezing range is."""
    reason: str
    """How the metal freezes, and what that asks of its risers."""
    distance: str
    """Whether it was judged how far a riser feeds, and why not."""
    isolated: tuple[str, ...]
    """Heavy sections that the main riser cannot reach, the heaviest first."""
    self_fed: tuple[str, ...]
    """Those of them that feed themselves, because the metal expands."""
    unfed: tuple[str, ...]
    """Those of them that no riser feeds."""
    advice: tuple[str, ...]
    """What else would do, for each of them."""
    casting_mass: Quantity | None
    """Mass of the whole casting."""
    riser_mass: Quantity | None
    """Mass of all risers as poured."""
    riser_left_mass: Quantity | None
    """What is left of them."""
    yield_ratio: Quantity | None
    """Casting over casting and all risers left."""
    metal_cost: Quantity | None
    """Cost of the metal of all risers; null without a price."""


AlternativeResultKind: TypeAlias = Literal[
    "chosen",
    "least_metal",
    "domed",
    "ball",
    "sleeve",
    "top",
    "top_with_neck",
    "side_with_neck",
]


@dataclass(frozen=True, slots=True)
class AlternativeResult:
    """One riser that would do instead of the main one, or why it would not."""

    kind: AlternativeResultKind
    """What is different about it."""
    serves: bool
    """Whether it passes."""
    position: Literal["top", "side"] | None
    """On the casting, or beside it."""
    shape: Literal["cylinder", "domed", "ball"] | None
    """Its shape."""
    diameter: Quantity | None
    """Diameter."""
    height: Quantity | None
    """Height (of a dome its straight part)."""
    neck: Quantity | None
    """Thickness of its round or square neck."""
    volume: Quantity | None
    """Its volume."""
    cut_off_area: Quantity | None
    """Area to be cut through when it is taken off."""
    governs: Literal["time", "modulus", "volume"] | None
    """The criterion that asks for the largest riser."""
    riser_mass: Quantity | None
    """Metal poured into it."""
    riser_left_mass: Quantity | None
    """What is left of it when it has fed."""
    yield_ratio: Quantity | None
    """Casting over casting and riser left."""
    metal_cost: Quantity | None
    """Cost of its metal when what is left is returned; null without a price."""
    why_not: str | None
    """Why it would not do."""


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
    risers: tuple[RiserEntry, ...]
    """All risers of the casting, the main one first."""
    feeding: FeedingResult | None
    """How the casting is fed; null where it is known by its figures alone."""
    alternatives: tuple[AlternativeResult, ...]
    """Other risers beside the main one, those that serve first and least metal first, if asked for."""
