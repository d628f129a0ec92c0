# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of freezing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import JsonObject, Quantity, QuantityInput
from .common import MouldInput, PropertiesInput
from .sections import SectionInput


class TrialInput(TypedDict):
    """A trial casting of known shape that froze in a measured time in the same kind of mould."""

    section: SectionInput
    """The trial casting."""
    freezing_time: QuantityInput
    """How long it took to freeze."""


class FreezingRequest(TypedDict):
    """A casting as sections, and either a mould constant, a trial, or metal and mould by name."""

    sections: Sequence[SectionInput]
    """The casting, as simple bodies."""
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
    feeds_to: NotRequired[str]
    """The section that the riser stands on; left out, the one that freezes last."""


@dataclass(frozen=True, slots=True)
class SectionResult:
    """When one section freezes."""

    name: str
    """Name of the section."""
    volume: Quantity
    """Volume of one piece."""
    cooling_area: Quantity
    """Surface that loses heat to the mould."""
    cored_area: Quantity
    """Surface that touches a core."""
    core_factor: float | None
    """How well the cored faces cool compared with the mould; 1 is as well."""
    modulus: Quantity | None
    """Volume over cooling surface, cores counted at their worth."""
    thickness: Quantity | None
    """The wall that the pour must fill."""
    shape_curvature: float | None
    """g = K V/A^2: 0 flat, 1/4 long cylinder, 1/3 sphere."""
    bare_time: Quantity | None
    """Freezing time by Chvorinov's bare rule."""
    freezing_time: Quantity | None
    """Freezing time."""
    rank: int | None
    """Place in the order of freezing; 1 freezes first."""


@dataclass(frozen=True, slots=True)
class FeedStepResult:
    """One step of the way of the feed metal."""

    start: str
    """The section that is fed."""
    end: str
    """The neighbour that feeds it."""
    step: float
    """Ratio of their moduli by freezing time; 1.1 or more feeds well."""
    feeds: Literal["well", "doubtful", "cut off"]
    """What that is worth: at least 1.1 feeds well, below 0.8 the section is cut off."""
    way: tuple[str, ...]
    """The whole way, from the section to the last one or the one under the riser."""


@dataclass(frozen=True, slots=True)
class JunctionResult:
    """Where two sections meet: the largest circle that fits in, and what follows from it."""

    wall: str
    """The section that goes on past the junction."""
    branch: str
    """The section that ends there."""
    kind: Literal["straight", "corner", "tee", "cross", "wye"]
    """How they meet."""
    wall_thickness: Quantity
    """Thickness of the wall behind the junction."""
    branch_thickness: Quantity
    """Thickness of the branch."""
    angle: Quantity | None
    """Angle between them, of a corner or a tee."""
    fillet: Quantity | None
    """Radius of the fillet."""
    circle: Quantity
    """Diameter of the largest circle in the junction."""
    circle_ratio: float
    """Circle over the thicker wall; above 1.5 is a hot spot."""
    most_modulus: Quantity | None
    """The most that the modulus of the place can be."""
    most_time_ratio: float
    """The most by which the place freezes later than the thicker wall; conduction in two dimensions says
    less, the less the larger the fillet."""
    most_freezing_time: Quantity | None
    """When the place is solid at the latest."""
    least_fillet: Quantity | None
    """The least fillet that is good: a third of the thinner wall."""
    most_fillet: Quantity | None
    """The largest fillet that is good: half of the thinner wall."""


@dataclass(frozen=True, slots=True)
class FreezingResult:
    """Order of freezing."""

    volume: Quantity
    """Volume of the whole casting."""
    mould_constant: Quantity | None
    """Mould constant used."""
    mould_constant_from: Literal["given", "trial", "properties"] | None
    """Where the mould constant came from."""
    method: Literal["bare", "curvature"] | None
    """Chvorinov's rule as printed, or corrected for curved surfaces."""
    pouring_temperature: Quantity | None
    """Pouring temperature used."""
    filled_temperature: Quantity | None
    """Temperature of the metal when the mould is full."""
    freezing_temperature: Quantity | None
    """Temperature at which it is taken to freeze."""
    heat_to_freeze: Quantity | None
    """Heat that the metal gives up from full mould to solid."""
    sections: tuple[SectionResult, ...]
    """The sections, in the order of the request."""
    last_to_freeze: str | None
    """The section that freezes last."""
    freezing_time: Quantity | None
    """When it is solid."""
    feed_path: tuple[FeedStepResult, ...]
    """For each section that is joined, its best way to the last."""
    apart: tuple[str, ...]
    """Sections that no join connects to it: each must be fed by itself."""
    junctions: tuple[JunctionResult, ...]
    """Where sections meet, by their names; no section's own time contains it."""
