# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of gating."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NotRequired, TypedDict

from ..quantity import JsonObject, QuantityInput
from .common import PropertiesInput


class RatioInput(TypedDict):
    """A gating ratio with its parts by name; '1:4:4' alone does not say which part is which."""

    sprue: float
    """Part of the sprue's foot."""
    runner: float
    """Part of the runner before the first gate."""
    gate: float
    """Part of all gates together."""


class LossesInput(TypedDict):
    """Losses on the metal's way, to be added up to a discharge coefficient."""

    entry_radius: NotRequired[QuantityInput]
    """How round the edge of the sprue's mouth is; 0: sharp."""
    roughness: NotRequired[QuantityInput]
    """Grain of the mould's face."""
    turns: NotRequired[int]
    """Sharp right-angled turns in the runner itself."""
    filter_loss: NotRequired[float]
    """What a filter in the runner costs, in velocity heads there, by its maker's card."""


class SprueInput(TypedDict):
    """What is wanted of the sprue."""

    shape: NotRequired[Literal["round", "square"]]
    """Shape of its section."""
    mouth_area: NotRequired[QuantityInput]
    """Area of its mouth, where it is already made."""


class RunnerInput(TypedDict):
    """What is wanted of the runner."""

    area: NotRequired[QuantityInput]
    """Its area before the first gate, where it is already made."""
    length: NotRequired[QuantityInput]
    """From the sprue to the last gate."""
    extension: NotRequired[QuantityInput]
    """How far it goes on past the last gate."""


class GateInput(TypedDict):
    """What is wanted of the gates."""

    area: NotRequired[QuantityInput]
    """Area of all gates together, where they are already made."""
    thickness: NotRequired[QuantityInput]
    """Thickness of each gate."""
    length: NotRequired[QuantityInput]
    """From runner to casting."""
    edge: NotRequired[QuantityInput]
    """Edge that each casting offers to gates; they may take a third of it."""


class VentsInput(TypedDict):
    """What is wanted of the vents, and what lets air out anyway."""

    count: NotRequired[int]
    """How many, where they are already made: then only judged."""
    diameter: NotRequired[QuantityInput]
    """How wide each is."""
    back_pressure: NotRequired[QuantityInput]
    """How much the pent-up air may press."""
    air_temperature: NotRequired[QuantityInput]
    """How hot the air leaves."""
    coefficient: NotRequired[float]
    """Share of the loss-free flow of air that a vent passes."""
    open_area: NotRequired[QuantityInput]
    """Open risers and flow-offs, all together."""


class LayerInput(TypedDict):
    """A layer of even section of the casting as it stands in the mould."""

    height: QuantityInput
    """Its height."""
    volume: NotRequired[QuantityInput]
    """What it holds."""
    section_area: NotRequired[QuantityInput]
    """Its section, instead of its volume."""


class ProfileInput(TypedDict):
    """The casting's section at a level; between two of them it changes evenly."""

    level: QuantityInput
    """Level over the casting's lowest point."""
    area: QuantityInput
    """Section there, of all metal at this level."""


class FilledInput(TypedDict):
    """The casting, risers included, as it stands in the mould."""

    height: NotRequired[QuantityInput]
    """From its lowest to its highest point."""
    above_gate: NotRequired[QuantityInput]
    """Its highest point over the gate: 0 or less for a top gate, its height for a bottom gate."""
    section_area: NotRequired[QuantityInput]
    """Its level section; left out, the poured volume over its height."""
    volume: NotRequired[QuantityInput]
    """What one of them holds, instead of its section."""
    layers: NotRequired[Sequence[LayerInput | JsonObject]]
    """Layers from the bottom up, where the section is not even; instead of height."""
    profile: NotRequired[Sequence[ProfileInput | JsonObject]]
    """Sections from the lowest level, 0, up; the same level twice is a step. Instead of height."""
    wall_thickness: NotRequired[QuantityInput]
    """Its wall: how thick a gate may be, how fast metal must rise."""
    count: NotRequired[int]
    """How many equal ones hang on the sprue."""


class HungCastingInput(TypedDict):
    """One kind of casting among several on a sprue."""

    height: NotRequired[QuantityInput]
    """From its lowest to its highest point."""
    above_gate: NotRequired[QuantityInput]
    """Its highest point over the gate: 0 or less for a top gate, its height for a bottom gate."""
    section_area: NotRequired[QuantityInput]
    """Its level section; left out, the poured volume over its height."""
    volume: NotRequired[QuantityInput]
    """What one of them holds, instead of its section."""
    layers: NotRequired[Sequence[LayerInput | JsonObject]]
    """Layers from the bottom up, where the section is not even; instead of height."""
    profile: NotRequired[Sequence[ProfileInput | JsonObject]]
    """Sections from the lowest level, 0, up; the same level twice is a step. Instead of height."""
    wall_thickness: NotRequired[QuantityInput]
    """Its wall: how thick a gate may be, how fast metal must rise."""
    count: NotRequired[int]
    """How many equal ones hang on the sprue."""
    name: NotRequired[str]
    """What to call it."""
    gates: NotRequired[int]
    """Gates on each; left out, by the metal it takes."""


class GatingRequest(TypedDict):
    """What is to be filled, under which head, and what is wanted of sprue, runner and gates."""

    head: NotRequired[QuantityInput]
    """Head over the gate; used as it is."""
    sprue_height: NotRequired[QuantityInput]
    """From the gate to the sprue's mouth; the basin's depth is added."""
    basin_depth: NotRequired[QuantityInput]
    """Metal kept over the sprue's mouth."""
    entry_velocity: NotRequired[QuantityInput]
    """Speed at which metal enters the sprue's mouth, instead of a depth."""
    gate_position: NotRequired[Literal["top", "bottom", "parting"]]
    """Where the gates meet the casting."""
    gates: NotRequired[int]
    """How many gates; with several equal castings, on each of them."""
    ratio: NotRequired[RatioInput | JsonObject]
    """Gating ratio; left out, the gates are sized by the critical velocity."""
    discharge_coefficient: NotRequired[float]
    """Share of the loss-free flow that passes the choke; 1 for exercises without losses."""
    loss_coefficient: NotRequired[float]
    """Losses by entry, bends and friction in velocity heads of the choke, instead of a coefficient."""
    losses: NotRequired[LossesInput | JsonObject]
    """Add up the losses by entry, turns and friction of this very system, instead of a coefficient."""
    choke_area: NotRequired[QuantityInput]
    """Area of the narrowest place, where it is already made: then only judged."""
    choke_diameter: NotRequired[QuantityInput]
    """The same as a diameter."""
    sprue: NotRequired[SprueInput | JsonObject]
    """What is wanted of the sprue."""
    runner: NotRequired[RunnerInput | JsonObject]
    """What is wanted of the runner."""
    gate: NotRequired[GateInput | JsonObject]
    """What is wanted of the gates."""
    vents: NotRequired[VentsInput | JsonObject]
    """What is wanted of the vents."""
    cutters: NotRequired[Sequence[QuantityInput]]
    """Sizes of the drills and cutters at hand: sprue and runner are made as wide as the next one."""
    well_area_ratio: NotRequired[float]
    """Area of the well under the sprue over the sprue's foot."""
    well_depth_ratio: NotRequired[float]
    """Depth of the well, from the foot of the sprue, over the runner's height."""
    basin_width_ratio: NotRequired[float]
    """Width of the pouring cup's brim over the sprue's mouth; 0: nothing stays in it."""
    viscosity: NotRequired[QuantityInput]
    """Viscosity of the liquid metal, for the Reynolds number."""
    rounding_step: NotRequired[QuantityInput]
    """Sizes are rounded up to whole numbers of this; 0 leaves them."""
    alloy: NotRequired[str]
    """The alloy; its density and critical gate velocity are looked up."""
    properties: NotRequired[PropertiesInput | JsonObject]
    """Properties of the metal that you know better; they win."""
    gravity: NotRequired[QuantityInput]
    """Gravity; left out, 9.80665 m/s^2. Printed exercises often use 9.81 or 10."""
    poured_mass: NotRequired[QuantityInput]
    """All metal that runs through this sprue, gating included."""
    volume: NotRequired[QuantityInput]
    """The same as a volume of liquid, instead of its mass."""
    pour_time: NotRequired[QuantityInput]
    """Time in which the mould is to fill."""
    flow: NotRequired[QuantityInput]
    """Flow at the start, instead of a time."""
    casting: NotRequired[FilledInput | JsonObject]
    """What is filled; left out, it fills under the full head throughout."""
    castings: NotRequired[Sequence[HungCastingInput | JsonObject]]
    """Several kinds on one sprue, in the order of their gates along the runner."""


class GatingWishesInput(TypedDict):
    """What is wanted of sprue, runner and gates, and the head that drives the metal."""

    head: NotRequired[QuantityInput]
    """Head over the gate; used as it is."""
    sprue_height: NotRequired[QuantityInput]
    """From the gate to the sprue's mouth; the basin's depth is added."""
    basin_depth: NotRequired[QuantityInput]
    """Metal kept over the sprue's mouth."""
    entry_velocity: NotRequired[QuantityInput]
    """Speed at which metal enters the sprue's mouth, instead of a depth."""
    gate_position: NotRequired[Literal["top", "bottom", "parting"]]
    """Where the gates meet the casting."""
    gates: NotRequired[int]
    """How many gates; with several equal castings, on each of them."""
    ratio: NotRequired[RatioInput | JsonObject]
    """Gating ratio; left out, the gates are sized by the critical velocity."""
    discharge_coefficient: NotRequired[float]
    """Share of the loss-free flow that passes the choke; 1 for exercises without losses."""
    loss_coefficient: NotRequired[float]
    """Losses by entry, bends and friction in velocity heads of the choke, instead of a coefficient."""
    losses: NotRequired[LossesInput | JsonObject]
    """Add up the losses by entry, turns and friction of this very system, instead of a coefficient."""
    choke_area: NotRequired[QuantityInput]
    """Area of the narrowest place, where it is already made: then only judged."""
    choke_diameter: NotRequired[QuantityInput]
    """The same as a diameter."""
    sprue: NotRequired[SprueInput | JsonObject]
    """What is wanted of the sprue."""
    runner: NotRequired[RunnerInput | JsonObject]
    """What is wanted of the runner."""
    gate: NotRequired[GateInput | JsonObject]
    """What is wanted of the gates."""
    vents: NotRequired[VentsInput | JsonObject]
    """What is wanted of the vents."""
    cutters: NotRequired[Sequence[QuantityInput]]
    """Sizes of the drills and cutters at hand: sprue and runner are made as wide as the next one."""
    well_area_ratio: NotRequired[float]
    """Area of the well under the sprue over the sprue's foot."""
    well_depth_ratio: NotRequired[float]
    """Depth of the well, from the foot of the sprue, over the runner's height."""
    basin_width_ratio: NotRequired[float]
    """Width of the pouring cup's brim over the sprue's mouth; 0: nothing stays in it."""
    viscosity: NotRequired[QuantityInput]
    """Viscosity of the liquid metal, for the Reynolds number."""
    rounding_step: NotRequired[QuantityInput]
    """Sizes are rounded up to whole numbers of this; 0 leaves them."""
