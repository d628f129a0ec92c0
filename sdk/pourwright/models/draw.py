# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of draw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import JsonObject, Quantity, QuantityInput


class DrawMeshInput(TypedDict):
    """A stored mesh as it is drawn from the sand."""

    id: str
    """SHA-256 of the mesh file; upload it first with PUT /v1/meshes/{sha256}."""
    length_unit: Literal["mm", "cm", "m", "in", "ft"]
    """The length unit that the file's numbers are in."""
    represents: NotRequired[Literal["part", "pattern"]]
    """What the mesh shows: the cold casting (default), or a pattern already enlarged."""
    up: NotRequired[Literal["+x", "-x", "+y", "-y", "+z", "-z"]]
    """The axis of the file that points upwards in the mould; left out, the best direction is looked for."""


class DrawRequest(TypedDict):
    """A mesh, and if you know it how it is drawn and parted."""

    mesh: DrawMeshInput | JsonObject
    """The mesh."""
    direction: NotRequired[Sequence[float]]
    """The draw's direction in the file's axes, instead of mesh.up."""
    parting_height: NotRequired[QuantityInput]
    """Height of the flat parting above the lowest point along the draw; left out, the best."""
    draft_degrees: NotRequired[float]
    """Draft wanted, degrees: faces nearer to the draw's direction are told."""
    columns: NotRequired[int]
    """Columns of the grid along the longer side in plan."""


@dataclass(frozen=True, slots=True)
class WayResult:
    """A direction of draw with a flat parting. Heights are above the lowest point along it."""

    direction: tuple[float, ...]
    """Unit vector in the file's axes; its opposite is the same draw."""
    along: str
    """The same in a word."""
    why: Literal["yours", "axis", "large flat face"]
    """Why it was tried."""
    height: Quantity
    """How tall the part is along it."""
    parting_height: Quantity
    """Height of the parting."""
    undercut: Quantity
    """Sand that a flat parting there does not free; 0 below the noise floor."""
    undercut_share: Quantity
    """The same over the part's volume."""
    trapped: Quantity
    """Of it, sand shut in between metal: no parting frees it."""
    hanging: Quantity
    """Sand over metal that lies below the parting."""
    standing: Quantity
    """Sand under metal that lies above the parting."""
    loose: Quantity
    """Hanging and standing sand but for pockets no deeper than wide."""
    noise_floor: Quantity
    """What the grid cannot tell from nothing."""
    tallest_without_draft: Quantity
    """The tallest face with less draft than wanted."""


@dataclass(frozen=True, slots=True)
class UndercutResult:
    """Sand that hangs together and is not freed by the flat parting."""

    sort: Literal["trapped", "hanging", "standing"]
    """trapped between metal, hanging from the upper half, standing on the lower."""
    needs_core: bool
    """Whether it wants a core: trapped, or a pocket deeper than wide."""
    volume: Quantity
    """Its volume."""
    centre: tuple[Quantity, ...]
    """Middle of its box in the file's axes."""
    length: Quantity
    """Longer side in plan."""
    width: Quantity
    """Shorter side in plan."""
    height: Quantity
    """Side along the draw."""
    from_height: Quantity
    """Height of its lowest point."""
    to_height: Quantity
    """Height of its highest point."""


@dataclass(frozen=True, slots=True)
class SteepFacesResult:
    """Faces that stand along the draw."""

    wanted_degrees: float
    """Draft wanted, degrees."""
    area: Quantity
    """Area of the faces with less."""
    share: Quantity
    """The same over the whole surface."""
    tallest: Quantity
    """How far the tallest reaches from the parting."""
    lean: Quantity
    """Taper that it wants over this height."""
    place: tuple[Quantity, ...] | None
    """Middle of the tallest in the file's axes."""


@dataclass(frozen=True, slots=True)
class DrawResult:
    """Directions side by side, and what hinders the one that is judged: yours, else the best."""

    volume: Quantity
    """Volume of the mesh."""
    best: WayResult
    """The best direction."""
    judged: WayResult
    """The direction and parting that checks, undercuts and draft speak of."""
    directions: tuple[WayResult, ...]
    """All directions tried, each at its best parting, best first."""
    undercuts: tuple[UndercutResult, ...]
    """Where sand is not freed, the largest 20 places."""
    undercuts_in_all: int
    """How many such places there are."""
    draft: SteepFacesResult
    """Faces that want draft."""
    columns_left_out: Quantity
    """Columns that the mesh's holes spoil, and which were left out."""
