# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of gating result."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..quantity import Quantity, Series


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
class LossResult:
    """One loss on the metal's way."""

    place: str
    """Where."""
    coefficient: float
    """In velocity heads of the metal there."""
    area: Quantity
    """The area there."""
    share: Quantity
    """Share of the whole head; all of them make up the whole."""


@dataclass(frozen=True, slots=True)
class CastingResult:
    """One kind of casting on the sprue."""

    name: str | None
    """What the caller called it."""
    count: int
    """How many of them."""
    gates: int
    """Gates on each."""
    volume: Quantity | None
    """What each holds."""
    height: Quantity
    """How tall it stands."""
    above_gate: Quantity
    """Its highest point over the gate."""
    share_of_gates: Quantity
    """Share of the gates that all of them have."""
    share_of_metal: Quantity | None
    """Share of the castings' metal that all of them take."""


@dataclass(frozen=True, slots=True)
class VentsResult:
    """Vents for the air that the metal drives out."""

    count: int
    """How many."""
    diameter: Quantity
    """How wide each is."""
    open_area: Quantity
    """What is open anyway."""
    area: Quantity
    """All openings together."""
    area_needed: Quantity
    """What must be open."""
    air_flow: Quantity
    """Air that must leave at the start, at the heat at which it leaves."""
    back_pressure: Quantity | None
    """Pressure of the pent-up air; null where nothing is open."""


@dataclass(frozen=True, slots=True)
class PointResult:
    """A point in the layout's frame."""

    x: Quantity
    """Along the runner, away from the sprue."""
    y: Quantity
    """From the runner towards the castings."""
    z: Quantity
    """Up."""


@dataclass(frozen=True, slots=True)
class ChannelResult:
    """A straight channel, even or tapering."""

    part: Literal["basin", "sprue", "well", "runner", "extension", "gate", "vent"]
    """What it is."""
    number: int
    """Which of its kind, counted from the sprue."""
    shape: Literal["round", "square", "rectangular"]
    """Shape of its section."""
    start: PointResult
    """Middle of its section where the metal enters."""
    end: PointResult
    """Middle of its section at the other end."""
    start_width: Quantity
    """Width or diameter where the metal enters."""
    start_height: Quantity
    """The other side of the section, or the diameter."""
    end_width: Quantity
    """Width or diameter at the other end."""
    end_height: Quantity
    """The other side there, or the diameter."""
    volume: Quantity
    """What it holds."""
    holds_metal: bool
    """Whether it counts as metal in the system; a vent does not."""


@dataclass(frozen=True, slots=True)
class LayoutResult:
    """Every channel in one frame."""

    frame: str
    """How the frame lies."""
    channels: tuple[ChannelResult, ...]
    """The channels in the metal's order, then the vents."""


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
    losses: tuple[LossResult, ...]
    """The losses added up, where they were asked for; the last is the way out."""
    castings: tuple[CastingResult, ...]
    """The castings on the sprue."""
    priming_time: Quantity | None
    """When sprue, runner and gates are full and metal enters the casting."""
    vents: VentsResult | None
    """Vents for the air."""
    layout: LayoutResult | None
    """Every channel of known size, with places and sections, to draw it by."""
