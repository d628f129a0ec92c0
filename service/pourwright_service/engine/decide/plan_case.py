"""What a plan request may say: part, alloy, mould, gating, riser, stock, shop."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..assess.charge import Margin
from ..geometry.mesh import Mesh
from ..geometry.sections import Section
from .charge_case import Heel, Ranges, StockItem
from .gating_case import GatingWishes
from .heat import MouldCase
from .pot import PotCase
from .pour_time import PourTimeWishes
from .riser_inputs import RiserShape
from .shop import CrucibleCase as CrucibleCase
from .shop import FlaskCase as FlaskCase
from .shop import ShopCase as ShopCase


@dataclass(frozen=True, slots=True, kw_only=True)
class MeshUse:
    """A stored mesh as this request uses it: m per mesh unit, what it is a mesh of, which way is up.

    ``represents`` is ``part`` (the cold casting) or ``pattern`` (contraction already added).
    """

    id: str
    mesh: Mesh
    length_unit: str
    metres: float
    represents: str
    up: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CoreCase:
    """A core: its volume within the metal (m^3), or a round one's diameter and length (m).

    ``lies`` is ``lying`` where metal can get under it, ``standing`` where it passes through the
    casting from bottom to top and is seated in a print.
    """

    name: str
    volume: float | None = None
    diameter: float | None = None
    length: float | None = None
    lies: str | None = None
    density: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PartCase:
    """The part: a mesh, sections, or both; measures that replace what would be derived (SI).

    ``wall`` is the thinnest wall that the metal has to fill.
    """

    mesh: MeshUse | None = None
    sections: tuple[Section, ...] = ()
    volume: float | None = None
    height: float | None = None
    length: float | None = None
    width: float | None = None
    wall: float | None = None
    height_in_cope: float | None = None
    parting_area: float | None = None
    volume_in_cope: float | None = None
    cores: tuple[CoreCase, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanRiser(RiserShape):
    """A riser in a plan: ``position`` may also be ``none``; ``open`` means that no sand lies over it.

    ``several`` lets heavy sections that it cannot reach have risers of their own. ``at`` m, in the axes of
    the mesh's file, is the place over which it stands on the freeze map.
    """

    open: bool | None = None
    several: bool | None = None
    at: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeWishes:
    """How the charge is chosen; see :class:`.charge_case.ChargeCase`."""

    margin: Margin | None = None
    objective: str | None = None
    limits_percent: Ranges | None = None
    recovery_percent: Ranges | None = None
    unnamed_percent: float | None = None
    aim_percent: Mapping[str, float] | None = None
    smallest_lot: float | None = None
    smallest_addition: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanCase:
    """What a plan request may say; SI, None where the caller said nothing."""

    part: PartCase
    alloy: str | None = None
    properties: Mapping[str, float | None] = field(default_factory=dict)
    mould: MouldCase = field(default_factory=MouldCase)
    mould_constant: float | None = None
    pouring_temperature: float | None = None
    temperature_fall: float | None = None
    curvature: bool | None = None
    gravity: float | None = None
    freeze_map: bool | None = None
    gating: GatingWishes = field(default_factory=GatingWishes)
    pour: PourTimeWishes = field(default_factory=PourTimeWishes)
    riser: PlanRiser = field(default_factory=PlanRiser)
    stock: tuple[StockItem, ...] = ()
    charge: ChargeWishes = field(default_factory=ChargeWishes)
    heel: Heel | None = None
    shop: ShopCase = field(default_factory=ShopCase)
    pot: PotCase | None = None
    currency: str | None = None
    title: str | None = None
