# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of freeze maps."""

from __future__ import annotations

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
    """A round riser on the casting, over the middle of what freezes last."""

    diameter: QuantityInput
    """Its diameter."""
    height: QuantityInput
    """Its height."""


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
    cells: NotRequired[int]
    """Cells, those of the mould round the casting included; more are finer and slower."""
    accuracy: NotRequired[Literal["draft", "normal", "fine"]]
    """How small the steps of time are."""
    slices: NotRequired[bool]
    """Whether pictures of three planes through what freezes last come with the answer."""


@dataclass(frozen=True, slots=True)
class SliceResult:
    """A picture of a plane through what freezes last; grey is sand, dark freezes first, light last."""

    across: Literal["x", "y", "z"]
    """The axis of the file that the plane is square to."""
    at: Quantity
    """Where the plane cuts that axis."""
    cell: Quantity
    """Side of a cell."""
    end: Quantity
    """The time that the lightest colour stands for; the darkest is 0."""
    png: str
    """The picture, PNG in base64."""


@dataclass(frozen=True, slots=True)
class FreezeMapResult:
    """What the map finds."""

    map: PlanMapResult | None
    """The map's findings; null where none could be made."""
    poorest_feeding: Quantity | None
    """Temperature gradient over the root of the cooling rate at the end of freezing, below which the
    worst-fed 5 % of the metal lie. The published threshold is one for steel; for other metals it only
    compares places and designs. Null for a metal that freezes at one temperature."""
    slices: tuple[SliceResult, ...]
    """Pictures, if they were asked for."""
