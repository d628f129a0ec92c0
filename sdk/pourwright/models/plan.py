# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal, NotRequired, TypedDict

from ..quantity import FractionInput, JsonObject, QuantityInput
from .charge import HeelInput, StockInput
from .common import MouldInput, PropertiesInput
from .gating import GatingWishesInput
from .pour_time import CarriedPotInput
from .riser import NeckInput, RiserFacesInput, SleeveInput
from .sections import SectionInput
from .shop import ShopInput


class MeshUseInput(TypedDict):
    """A stored mesh as this part uses it."""

    id: str
    """SHA-256 of the mesh file; upload it first with PUT /v1/meshes/{sha256}."""
    length_unit: Literal["mm", "cm", "m", "in", "ft"]
    """The length unit that the file's numbers are in."""
    represents: NotRequired[Literal["part", "pattern"]]
    """What the mesh shows: the cold casting (default), or a pattern already enlarged."""
    up: NotRequired[Literal["+x", "-x", "+y", "-y", "+z", "-z"]]
    """The axis of the file that points upwards in the mould; +z if left out."""


class CoreCaseInput(TypedDict):
    """A core and how it lies in the metal."""

    name: str
    """What you call it."""
    volume: NotRequired[QuantityInput]
    """Its volume within the metal."""
    diameter: NotRequired[QuantityInput]
    """Diameter of a round core, instead of its volume."""
    length: NotRequired[QuantityInput]
    """Length of a round core within the metal."""
    lies: NotRequired[Literal["lying", "standing"]]
    """lying: metal gets under it and lifts it; standing: it passes through from bottom to top, seated in a
    print, and metal does not get under it."""
    density: NotRequired[QuantityInput]
    """Bulk density of the core."""


class PartInput(TypedDict):
    """The part: sections (three numbers are enough for a first plan), a mesh, or both."""

    mesh: NotRequired[MeshUseInput | JsonObject]
    """A mesh: gives exact volume, size and lift."""
    sections: NotRequired[Sequence[SectionInput]]
    """The part as simple bodies: they give freezing times and the riser."""
    volume: NotRequired[QuantityInput]
    """Volume of the cold casting, where you know it better."""
    height: NotRequired[QuantityInput]
    """Height as it lies in the mould."""
    length: NotRequired[QuantityInput]
    """Longer side in plan."""
    width: NotRequired[QuantityInput]
    """Shorter side in plan."""
    wall: NotRequired[QuantityInput]
    """The thinnest wall that the metal has to fill; left out, the thinnest section's, or the mesh's."""
    height_in_cope: NotRequired[QuantityInput]
    """How far it stands above the parting; 0: all of it lies in the drag."""
    parting_area: NotRequired[QuantityInput]
    """Its section in the parting plane."""
    volume_in_cope: NotRequired[QuantityInput]
    """Its volume above the parting."""
    cores: NotRequired[Sequence[CoreCaseInput | JsonObject]]
    """Its cores; left out, those that stand in cored bores of the sections."""


class PourInput(TypedDict):
    """What is wanted of the pour."""

    pour_time: NotRequired[QuantityInput]
    """The pour time, where you have one: it is then only judged."""
    gate_edge: NotRequired[QuantityInput]
    """Length of edge at the parting that is offered to gates."""
    gate_thickness: NotRequired[QuantityInput]
    """Thickness of the gates; left out, 0.6 of the wall that they meet."""
    fluidity_factor: NotRequired[float]
    """K of the law by mass and wall: fluidity in inches over 40."""
    copper_factor: NotRequired[float]
    """K of the cube-root law for copper alloys, s and kg."""
    rate_band: NotRequired[Literal["thin", "middle", "heavy"]]
    """A printed step of the light-metal law (below 6 mm, 6 to 12, above 12) instead of its smooth form."""


class PlanRiserInput(TypedDict):
    """What is wanted of the riser; everything may be left to the engine."""

    position: NotRequired[Literal["top", "side", "none"]]
    """On the casting, beside it, or none: the plan then says what the casting lacks."""
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
    open: NotRequired[bool]
    """Whether its top is open; a closed one is covered by sand and adds to the lift."""
    several: NotRequired[bool]
    """Whether heavy sections that it cannot reach get risers of their own; they do unless told otherwise."""
    at: NotRequired[Sequence[QuantityInput]]
    """With a mesh, x, y and z in the axes of its file: on the freeze map the riser stands on the highest
    metal over or under that place; left out, over the middle of what freezes last."""


class ChargeWishesInput(TypedDict):
    """How the charge is chosen from the stock."""

    margin: NotRequired[Literal["robust", "nominal"]]
    """Whether limits are kept wherever recoveries and compositions fall in their ranges (robust, the
    default), or at the middle of the ranges."""
    objective: NotRequired[Literal["least_cost", "most_scrap", "closest_to_aim"]]
    """What the best charge is. The default is least cost, and most scrap where no item has a price."""
    limits_percent: NotRequired[Mapping[str, float | Sequence[float | None]]]
    """Limits of the melt, per cent of mass by element: [low, high], null where there is none. They replace
    the alloy's."""
    recovery_percent: NotRequired[float | Sequence[float] | Mapping[str, float | Sequence[float]]]
    """What is left in the melt of each element charged, per cent: a number, or [low, high]; one figure
    instead of the map stands for all. Left out, the tables' by base metal and form."""
    unnamed_percent: NotRequired[float]
    """What all elements together may make that the alloy does not name, per cent; more is warned of."""
    aim_percent: NotRequired[Mapping[str, float]]
    """The composition aimed at; left out, the alloy's nominal one."""
    smallest_lot: NotRequired[QuantityInput]
    """Scrap and ingot are used in at least this mass or not at all; the default is 2 % of the melt."""
    smallest_addition: NotRequired[QuantityInput]
    """Pure metals and master alloys are used in at least this mass or not at all; the default is 5 g."""


class PlanRequest(TypedDict):
    """A part, an alloy and a mould; stock and shop where charge, crucible and flask are wanted."""

    part: PartInput | JsonObject
    """The part."""
    alloy: NotRequired[str]
    """The alloy; its properties and limits are looked up."""
    properties: NotRequired[PropertiesInput | JsonObject]
    """Properties of the metal that you know better; they win."""
    mould: NotRequired[MouldInput | JsonObject]
    """What the mould is made of."""
    mould_constant: NotRequired[QuantityInput]
    """Chvorinov's constant, where you have one."""
    pouring_temperature: NotRequired[QuantityInput]
    """How hot the metal leaves the crucible."""
    temperature_fall: NotRequired[QuantityInput]
    """How much it cools until the mould is full."""
    curvature: NotRequired[bool]
    """Whether curved surfaces are corrected for; left out, the kind of metal decides."""
    gravity: NotRequired[QuantityInput]
    """Gravity; left out, 9.80665 m/s^2. Printed exercises often use 9.81 or 10."""
    freeze_map: NotRequired[bool]
    """Whether the mesh is frozen in a coarse freeze map; it is, unless this is false. Without sections the
    riser follows from the map."""
    gating: NotRequired[GatingWishesInput | JsonObject]
    """What is wanted of sprue, runner and gates."""
    pour: NotRequired[PourInput | JsonObject]
    """What is wanted of the pour."""
    pot: NotRequired[CarriedPotInput | JsonObject]
    """The pot that carries the metal; left out, the crucible chosen, if its mouth is known."""
    riser: NotRequired[PlanRiserInput | JsonObject]
    """What is wanted of the riser."""
    stock: NotRequired[Sequence[StockInput | JsonObject]]
    """The stock to melt."""
    charge: NotRequired[ChargeWishesInput | JsonObject]
    """How the charge is chosen."""
    heel: NotRequired[HeelInput | JsonObject]
    """What is already molten in the pot."""
    shop: NotRequired[ShopInput | JsonObject]
    """What the workshop has."""
    currency: NotRequired[str]
    """Name of the money that prices are in, such as EUR."""
    title: NotRequired[str]
    """What you call this job; it is given back as it is."""
