# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of freeze maps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import JsonObject, Quantity, QuantityInput
from .common import MouldInput, PropertiesInput
from .plan_result import PlanMapResult


class MapMeshInput(TypedDict):
    """A stored mesh as it lies in the mould."""

    id: str
    """SHA-256 of the mesh file; upload it first with PUT /v1/meshes/{sha256}."""
    length_unit: Literal["mm", "cm", "m", "in", "ft"]
    """The length unit that the file's numbers are in."""
    represents: NotRequired[Literal["part", "pattern"]]
    """What the mesh shows: the cold casting (default), or a pattern already enlarged."""
    up: NotRequired[Literal["+x", "-x", "+y", "-y", "+z", "-z"]]
    """The axis of the file that points upwards in the mould; +z if left out."""


class MapRiserInput(TypedDict):
    """A round riser standing on the casting."""

    diameter: QuantityInput
    """Its diameter."""
    height: QuantityInput
    """Its height."""
    at: NotRequired[Sequence[QuantityInput]]
    """x, y and z in the axes of the file: it stands on the highest metal over or under that place; left out,
    over the middle of what freezes last."""


class MapBodyInput(TypedDict):
    """A further body in the mould, its mesh in the unit and axes of the casting's."""

    role: Literal["riser", "core", "chill", "sleeve"]
    """riser: more of the metal; core, chill, sleeve: of their own medium, in full touch with the metal. Where
    bodies overlap the casting is there, else the riser, core, chill, sleeve, in this order."""
    id: str
    """SHA-256 of its mesh file."""
    name: NotRequired[str]
    """What you call it."""
    medium: NotRequired[MouldInput | JsonObject]
    """What a core, chill or sleeve is made of; a core may be of the mould's own."""


class FreezeMapRequest(TypedDict):
    """A mesh, its metal and its mould."""

    mesh: MapMeshInput | JsonObject
    """The mesh."""
    alloy: NotRequired[str]
    """The alloy; its properties are looked up."""
    properties: NotRequired[PropertiesInput | JsonObject]
    """Properties of the metal that you know better; they win."""
    mould: NotRequired[MouldInput | JsonObject]
    """What the mould is made of."""
    mould_constant: NotRequired[QuantityInput]
    """Chvorinov's constant by a trial of yours: the mould's conductivity then follows it."""
    pouring_temperature: NotRequired[QuantityInput]
    """How hot the metal leaves the crucible."""
    temperature_fall: NotRequired[QuantityInput]
    """How much it cools until the mould is full."""
    riser: NotRequired[MapRiserInput | JsonObject]
    """A riser to be mapped with the casting."""
    bodies: NotRequired[Sequence[MapBodyInput | JsonObject]]
    """Further bodies in the mould."""
    cells: NotRequired[int]
    """Cells, those of the mould round the casting included; more are finer and slower."""
    accuracy: NotRequired[Literal["draft", "normal", "fine"]]
    """How small the steps of time are."""
    slices: NotRequired[bool]
    """Whether pictures of three planes through what freezes last come with the answer."""
    files: NotRequired[Sequence[Literal["vti", "glb"]]]
    """Files of the map that come with the answer: vti, the cells for a viewer of scientific data (VTK XML
    image data); glb, the surface coloured by its time (glTF 2.0)."""


@dataclass(frozen=True, slots=True)
class PouredPlaceResult:
    """A place that is among the last to freeze of all metal in the mould."""

    x: Quantity
    """The middle of the place: x."""
    y: Quantity
    """Its y."""
    z: Quantity
    """Its z."""
    volume: Quantity
    """How much metal freezes so late there."""
    time: Quantity
    """When its last metal is solid."""
    modulus: Quantity
    """Modulus of a plate that freezes in that time."""
    body: str
    """The body that most of it lies in: casting, riser, or your name."""


@dataclass(frozen=True, slots=True)
class MapFeedingResult:
    """How hard it is for metal to follow the shrinkage at the end of freezing."""

    formula: str
    """The formula of the figure, as /v1/formulas names it."""
    poorest: Quantity
    """Temperature gradient over the root of the cooling rate at the end of freezing, below which the
    worst-fed 5 % of the metal lie."""
    threshold_of_steel: Quantity
    """The published threshold, which is one for steel alone."""
    doubt: str
    """How far the figure is to be trusted."""


@dataclass(frozen=True, slots=True)
class MapQualityResult:
    """How far the map may be trusted: shares are those along the worst axis."""

    lost_rays: Quantity
    """Rays that met a hole in the mesh and were left out."""
    parity_rays: Quantity
    """Rays that met triangles the wrong way about."""
    overlapping_rays: Quantity
    """Rays through metal twice over, where shells overlap."""
    unseen_cells: int
    """Cells through which no ray went."""
    resolved: Quantity
    """Metal in cells that are mostly metal: little where walls are thin."""
    steps: int
    """Steps of time."""


@dataclass(frozen=True, slots=True)
class SliceResult:
    """A picture of a plane through what freezes last, with a scale of times and a cross at the place."""

    across: Literal["x", "y", "z"]
    """The axis of the file that the plane is square to."""
    at: Quantity
    """Where the plane cuts that axis."""
    right: str
    """The axis of the file that runs to the right, such as -x."""
    up: str
    """The axis of the file that runs upwards in the picture."""
    cell: Quantity
    """Side of a cell."""
    end: Quantity
    """The time that the lightest colour stands for; the darkest is 0."""
    png: str
    """The picture, PNG in base64."""


@dataclass(frozen=True, slots=True)
class MapFileResult:
    """A file of the map."""

    name: str
    """A name for it."""
    media_type: Literal["application/vnd.vtk+xml", "model/gltf-binary"]
    """Its media type."""
    content: str
    """The file in base64."""


@dataclass(frozen=True, slots=True)
class FreezeMapResult:
    """What the map finds."""

    map: PlanMapResult | None
    """Casting and riser; null where no map could be made."""
    last: tuple[PouredPlaceResult, ...]
    """The latest 5 % of all metal, risers included, last first."""
    feeding: MapFeedingResult | None
    """Null for a metal that freezes at one temperature."""
    quality: MapQualityResult | None
    """How far the map may be trusted."""
    slices: tuple[SliceResult, ...]
    """Pictures, if they were asked for."""
    files: tuple[MapFileResult, ...]
    """Files, if they were asked for."""
