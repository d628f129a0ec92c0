# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of plan result."""

from __future__ import annotations

from dataclasses import dataclass

from ..quantity import Quantity
from .charge import ChargeResult
from .freezing import FreezingResult
from .gating_result import GatingResult
from .pour_time import PourTimeResult
from .riser import RiserResult


@dataclass(frozen=True, slots=True)
class PartResult:
    """The part as the plan takes it."""

    volume: Quantity
    """Volume of the cold casting."""
    height: Quantity
    """Height in the mould."""
    length: Quantity
    """Longer side in plan."""
    width: Quantity
    """Shorter side in plan."""
    wall: Quantity | None
    """The thinnest wall that the metal has to fill."""
    height_in_cope: Quantity
    """How far it stands above the parting."""
    parting_area: Quantity
    """Its section in the parting plane."""
    volume_in_cope: Quantity
    """Its volume above the parting."""
    sections_volume: Quantity | None
    """What the sections add up to."""
    triangles: int | None
    """Triangles of the mesh."""


@dataclass(frozen=True, slots=True)
class PatternResult:
    """How large the pattern must be, before draft, machining and rapping."""

    scale: float
    """Every length of the casting times this."""
    contraction: Quantity
    """Contraction allowed for."""
    length: Quantity
    """Length of the pattern."""
    width: Quantity
    """Width of the pattern."""
    height: Quantity
    """Height of the pattern."""


@dataclass(frozen=True, slots=True)
class LastPlaceResult:
    """A place that is among the last to freeze, in the axes of the mesh's file."""

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


@dataclass(frozen=True, slots=True)
class CutOffResult:
    """Metal that is cut off from the riser while it is still liquid, in the axes of the mesh's file."""

    x: Quantity
    """The middle of it: x."""
    y: Quantity
    """Its y."""
    z: Quantity
    """Its z."""
    volume: Quantity
    """How much is still liquid when the way closes."""
    closed: Quantity
    """When the way closes."""
    solid: Quantity
    """When the last of it is solid."""


@dataclass(frozen=True, slots=True)
class PlanMapResult:
    """A coarse freeze map of the mesh: heat conducted cell by cell until the last metal is solid. Its order
    of freezing is to be trusted more than its times, which are some per cent late.
    """

    regions: tuple[LastPlaceResult, ...]
    """The latest 5 % of the metal, last first."""
    end: Quantity
    """When the casting alone is solid."""
    modulus: Quantity
    """Modulus of what freezes last."""
    cell: Quantity
    """Side of a cell."""
    cells: int
    """Number of cells, those of the mould included."""
    imbalance: float
    """Heat lost to rounding, as a share of the metal's."""
    doubtful_rays: bool
    """Whether the mesh's surface was doubtful in places."""
    casting_end: Quantity | None
    """When the casting is solid with the riser standing on it."""
    riser_end: Quantity | None
    """When that riser is solid; null where none was mapped."""
    riser_x: Quantity | None
    """Where the middle of the riser's foot was put: x."""
    riser_y: Quantity | None
    """Its y."""
    riser_z: Quantity | None
    """Its z."""
    cut_share: Quantity | None
    """The share of the casting that is cut off from the riser while still liquid; null without one."""
    cut_off: tuple[CutOffResult, ...]
    """The pieces of it, largest first."""


@dataclass(frozen=True, slots=True)
class MassesResult:
    """Where the metal goes; poured masses are liquid, the casting is cold."""

    casting: Quantity
    """The cold casting."""
    cavity: Quantity
    """Metal that fills the casting's cavity."""
    riser: Quantity
    """Metal poured into the riser."""
    riser_left: Quantity
    """What is left of the riser after feeding."""
    gating: Quantity | None
    """Metal in sprue, runner, gates and basin."""
    poured: Quantity | None
    """All that is poured: cavity, riser and gating."""
    melt_wanted: Quantity | None
    """What must at least be molten: poured, and the least pig."""
    melt: Quantity | None
    """What will be molten: the charge after its loss, or what is wanted."""
    pig: Quantity | None
    """What is left over for the pig mould: melt less poured; below 0 where metal lacks."""
    yield_ratio: Quantity | None
    """Casting over poured."""


@dataclass(frozen=True, slots=True)
class CrucibleResult:
    """The crucible that takes the melt."""

    name: str
    """Its name."""
    melt_volume: Quantity
    """Volume of the melt."""
    filling: Quantity
    """How full it is."""
    lifted_mass: Quantity
    """What must be lifted."""
    crucible_counted: bool
    """Whether the crucible's own mass is in that."""


@dataclass(frozen=True, slots=True)
class CoreLiftResult:
    """How hard a core is lifted."""

    name: str
    """Its name."""
    net_lift: Quantity
    """Buoyancy less its own weight, if metal gets under it."""
    gross_lift: Quantity
    """Buoyancy alone, for prints and chaplets."""
    counted: bool
    """Whether the cope has to hold it: false for a standing core in its print."""


@dataclass(frozen=True, slots=True)
class PlanMouldResult:
    """The mould: cope, flask, lift and what must lie on it."""

    cope_height: Quantity
    """Height of the cope."""
    drag_height: Quantity
    """Height of the drag."""
    flask_length: Quantity | None
    """Length of the flask chosen."""
    flask_width: Quantity | None
    """Width of the flask chosen."""
    length_needed: Quantity
    """Length that the mould needs."""
    width_needed: Quantity
    """Width that the mould needs."""
    lift: Quantity
    """Lift on the cope, cores included."""
    metal_lift: Quantity
    """Lift by the metal alone, exact."""
    projected_lift: Quantity
    """Projected area times head, the common shortcut."""
    cores: tuple[CoreLiftResult, ...]
    """The cores."""
    cope_mass: Quantity
    """Sand and box of the cope; without a flask the least sand that does."""
    weight: Quantity
    """What to lay on the cope."""


@dataclass(frozen=True, slots=True)
class PlanResult:
    """The whole plan; a part of it is null where it could not be computed or was not asked for."""

    title: str | None
    """What you call this job."""
    alloy: str | None
    """The alloy."""
    part: PartResult | None
    """The part."""
    pattern: PatternResult | None
    """The pattern."""
    pouring_temperature: Quantity | None
    """How hot to pour."""
    freezing: FreezingResult | None
    """Order of freezing."""
    freeze_map: PlanMapResult | None
    """Where the mesh freezes last; null without one."""
    riser: RiserResult | None
    """The riser."""
    masses: MassesResult | None
    """Where the metal goes."""
    pour_time: PourTimeResult | None
    """In what time to pour."""
    gating: GatingResult | None
    """Sprue, runner and gates."""
    charge: ChargeResult | None
    """What to charge; null without stock."""
    crucible: CrucibleResult | None
    """The crucible; null without crucibles."""
    mould: PlanMouldResult | None
    """Flask, lift and weight."""
    rounds: int | None
    """Rounds until pour, gating and metal agreed."""
