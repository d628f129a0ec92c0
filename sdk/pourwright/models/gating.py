# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of gating."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from ..quantity import JsonObject, Quantity, QuantityInput, Series
from .common import PropertiesInput


class RatioInput(TypedDict):
    """A gating ratio with its parts by name; '1:4:4' alone does not say which part is which."""

    sprue: float
    """Part of the sprue's foot."""
    runner: float
    """Part of the runner before the first gate."""
    gate: float
    """Part of all gates together."""


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


class LayerInput(TypedDict):
    """A layer of even section of the casting as it stands in the mould."""

    height: QuantityInput
    """Its height."""
    volume: NotRequired[QuantityInput]
    """What it holds."""
    section_area: NotRequired[QuantityInput]
    """Its section, instead of its volume."""


class FilledInput(TypedDict):
    """The casting, risers included, as it stands in the mould."""

    height: NotRequired[QuantityInput]
    """From its lowest to its highest point."""
    above_gate: NotRequired[QuantityInput]
    """Its highest point over the gate: 0 or less for a top gate, its height for a bottom gate."""
    section_area: NotRequired[QuantityInput]
    """Its level section; left out, the poured volume over its height."""
    layers: NotRequired[Sequence[LayerInput | JsonObject]]
    """Layers from the bottom up, where the section is not even; instead of height."""
    wall_thickness: NotRequired[QuantityInput]
    """Its wall: how thick a gate may be, how fast metal must rise."""


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
    """How many gates."""
    ratio: NotRequired[RatioInput | JsonObject]
    """Gating ratio; left out, the gates are sized by the critical velocity."""
    discharge_coefficient: NotRequired[float]
    """Share of the loss-free flow that passes the choke; 1 for exercises without losses."""
    loss_coefficient: NotRequired[float]
    """Losses by entry, bends and friction in velocity heads of the choke, instead of a coefficient."""
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
    well_area_ratio: NotRequired[float]
    """Area of the well under the sprue over the sprue's foot."""
    well_depth_ratio: NotRequired[float]
    """Depth of the well over the runner's height."""
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


@dataclass(frozen=True, slots=True)
class SprueResult:
    """The sprue."""

    shape: Literal["round", "square"]
    """Shape of its section."""
    height: Quantity | None
    """From gate to mouth."""
    basin_depth: Quantity | None
    """Metal over its mouth."""
    exit_size: Quantity
    """Diameter or side at its foot."""
    exit_area: Quantity
    """Area at its foot."""
    exit_velocity: Quantity
    """Speed of the metal at its foot."""
    reynolds: float | None
    """Reynolds number at its foot."""
    mouth_size: Quantity | None
    """Diameter or side at its mouth."""
    mouth_area: Quantity | None
    """Area at its mouth."""
    mouth_area_needed: Quantity | None
    """Least area at its mouth that lets the sprue run full."""
    mouth_pressure: Quantity | None
    """Pressure in its mouth over the air's; negative draws in air."""


@dataclass(frozen=True, slots=True)
class RunnerResult:
    """The runner."""

    width: Quantity
    """Width."""
    heights: Series
    """Height before the first gate, the second and so on."""
    areas: Series
    """Areas there."""
    velocity: Quantity
    """Speed of the metal before the first gate."""
    length: Quantity
    """From the sprue to the last gate."""
    extension: Quantity
    """Past the last gate."""


@dataclass(frozen=True, slots=True)
class GatesResult:
    """The gates."""

    count: int
    """How many."""
    width: Quantity
    """Width of each."""
    thickness: Quantity
    """Thickness of each."""
    area: Quantity
    """Area of all together."""
    velocity: Quantity
    """Speed of the metal in them at the start, its fastest."""
    quiet_head: Quantity | None
    """Largest head at which gates of this share of the choke run quietly."""


@dataclass(frozen=True, slots=True)
class RatioResult:
    """Areas as parts of the sprue's foot."""

    sprue: float
    """Sprue's foot."""
    runner: float
    """Runner before the first gate."""
    gate: float
    """All gates."""
    series_share: Quantity
    """What all places in a row pass, as a share of the narrowest alone."""


@dataclass(frozen=True, slots=True)
class TradeRatioResult:
    """A ratio that the trade reports for this kind of metal."""

    metal: str
    """What it was used for."""
    sprue: float
    """Sprue's foot."""
    runner: float
    """Runner."""
    gate: float
    """Gates."""
    source: str
    """Source key."""
    place: str | None
    """What the source says of it."""


@dataclass(frozen=True, slots=True)
class MetalResult:
    """Liquid metal that stays in the gating system."""

    sprue: Quantity | None
    """In the sprue."""
    well: Quantity | None
    """In the well under it."""
    runner: Quantity | None
    """In the runner and its extension."""
    gates: Quantity | None
    """In the gates."""
    basin: Quantity | None
    """In the pouring cup."""
    volume: Quantity
    """All parts that are known."""
    mass: Quantity | None
    """The same as a mass."""


@dataclass(frozen=True, slots=True)
class GatingResult:
    """The gating system, how it fills the mould, and what it holds."""

    gate_position: Literal["top", "bottom", "parting"] | None
    """Where the gates meet the casting."""
    head: Quantity | None
    """Head over the gate."""
    effective_head: Quantity | None
    """Steady head that fills in the same time: the exact integral."""
    mean_head: Quantity | None
    """The textbooks' mean head, for comparison; never used."""
    head_left: Quantity | None
    """Head over the highest metal when the mould is full."""
    discharge_coefficient: float | None
    """Discharge coefficient of the choke."""
    volume: Quantity | None
    """Metal through the choke."""
    choke_at: Literal["sprue", "runner", "gates"] | None
    """Where the narrowest place is."""
    choke_area: Quantity | None
    """Its area."""
    choke_velocity: Quantity | None
    """Speed of the metal there at the full head."""
    fill_time: Quantity | None
    """Time in which the mould fills, by the exact integral."""
    mean_head_time: Quantity | None
    """What the mean head would give, for comparison."""
    flow_start: Quantity | None
    """Flow at the start."""
    flow_end: Quantity | None
    """Flow when the mould is full."""
    rise_velocity: Quantity | None
    """Height of the casting over its fill time."""
    slowest_rise: Quantity | None
    """Slowest rise of the metal in the mould."""
    free_fall: Quantity | None
    """How far metal drops from the gate to the floor of the mould."""
    critical_velocity: Quantity | None
    """Speed above which the metal's front breaks up."""
    critical_fall: Quantity | None
    """Free fall that gives this speed."""
    sprue: SprueResult | None
    """The sprue."""
    runner: RunnerResult | None
    """The runner."""
    gates: GatesResult | None
    """The gates."""
    ratio: RatioResult | None
    """Areas as parts."""
    trade_ratios: tuple[TradeRatioResult, ...]
    """Ratios reported for this kind of metal, to compare with."""
    metal: MetalResult | None
    """Liquid metal that stays in the gating system."""


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
    """How many gates."""
    ratio: NotRequired[RatioInput | JsonObject]
    """Gating ratio; left out, the gates are sized by the critical velocity."""
    discharge_coefficient: NotRequired[float]
    """Share of the loss-free flow that passes the choke; 1 for exercises without losses."""
    loss_coefficient: NotRequired[float]
    """Losses by entry, bends and friction in velocity heads of the choke, instead of a coefficient."""
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
    well_area_ratio: NotRequired[float]
    """Area of the well under the sprue over the sprue's foot."""
    well_depth_ratio: NotRequired[float]
    """Depth of the well over the runner's height."""
    basin_width_ratio: NotRequired[float]
    """Width of the pouring cup's brim over the sprue's mouth; 0: nothing stays in it."""
    viscosity: NotRequired[QuantityInput]
    """Viscosity of the liquid metal, for the Reynolds number."""
    rounding_step: NotRequired[QuantityInput]
    """Sizes are rounded up to whole numbers of this; 0 leaves them."""
