"""The freeze map of a plan: where the mesh freezes last, and whether the riser outlasts it there."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..assess.freeze_maps import check_feeds
from ..assess.freezing import cooling_of
from ..assess.plan_map import check_riser_last, check_sections
from ..checks import Check
from ..formula import paused
from ..freeze_map.feeding import CutOff, cut_off
from ..freeze_map.heat import Accuracy, NotFrozen
from ..freeze_map.mapping import Body, FreezeMap, freeze_map
from ..freeze_map.regions import LastRegion, last_regions
from ..freeze_map.substances import Medium as MapMedium
from ..freeze_map.substances import Metal as MapMetal
from ..geometry.mesh import MeshFault, axis_of
from ..ledger import Ledger, Say
from .freeze_map import medium_in_map, metal_in_map
from .heat import Heat
from .metal import Metal
from .plan_case import MeshUse
from .riser_choice import RiserChoice

Floats = NDArray[np.float64]
Point = tuple[float, float, float]

MapRiser = tuple[float, float, Point | None]
"""Diameter and height of a round riser (m), and the place it is wanted at, if it is."""

MOST_REMEMBERED = 64

LEAST_HOT = 1.0
"""Kelvin above the solidus that metal has at least when it fills a mould that can be mapped."""

CELLS = 64_000
"""Cells of a plan's draft, those of the mould included: enough to rank what freezes last."""

SIDES = 32
"""Sides of the prism that stands for a round riser."""

RIM = 0.45
"""Share of its diameter from the middle of a foot at which the metal under its rim is looked for."""

REGIONS = 5
"""So many regions are told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """A place that freezes last: in the axes of the mesh's file, m of the cold casting; m^3, s, m."""

    x: float
    y: float
    z: float
    volume: float
    time: float
    modulus: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """Metal cut off from the riser while liquid: in the axes of the mesh's file, m; m^3; ``closed`` s, when
    its way closes; ``solid`` s."""

    x: float
    y: float
    z: float
    volume: float
    closed: float
    solid: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Mapped:
    """The map's findings. ``casting_end`` and ``riser_end`` (s) are those with the riser standing at
    ``riser_x``, ``riser_y``, ``riser_z``; None where it was not mapped. Of the casting the riser cannot
    feed the share ``cut_share`` to the end; ``cut_off`` are its pieces, largest first."""

    regions: tuple[Region, ...]
    end: float
    cell: float
    cells: int
    imbalance: float
    doubtful_rays: bool
    casting_end: float | None = None
    riser_end: float | None = None
    riser_x: float | None = None
    riser_y: float | None = None
    riser_z: float | None = None
    cut_share: float | None = None
    cut_off: tuple[Cut, ...] = ()

    @property
    def modulus(self) -> float:
        """Equivalent modulus of what freezes last, m."""
        return self.regions[0].modulus


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """From the mesh's file to metres of the cold casting with z upwards, and back."""

    axis: int
    sign: float

    def upright(self, triangles: Floats) -> Floats:
        k = self.axis
        columns = (triangles[..., (k + 1) % 3], self.sign * triangles[..., (k + 2) % 3])
        return np.stack((*columns, self.sign * triangles[..., k]), axis=-1)

    def in_file(self, point: Sequence[float]) -> tuple[float, float, float]:
        back = [0.0, 0.0, 0.0]
        back[(self.axis + 1) % 3] = point[0]
        back[(self.axis + 2) % 3] = self.sign * point[1]
        back[self.axis] = self.sign * point[2]
        # what is less than a tenth of a micrometre is the rounding of floats
        return round(back[0], 7) + 0.0, round(back[1], 7) + 0.0, round(back[2], 7) + 0.0


def mapped_part(
    use: MeshUse, factor: float, heat: Heat, metal: Metal, ledger: Ledger, *, needed: bool
) -> Mapped | None:
    """The map of the part alone; None where its mesh or what is known does not allow one.

    ``factor``: m of the cold casting per unit of the mesh. ``needed``: nothing else tells what freezes last.
    """
    asked = substances_of(heat, metal)
    if asked is None:
        return None
    try:
        with paused():
            return _map(Shape(use.id, use.up, factor, use), *asked, None)
    except (MeshFault, NotFrozen) as fault:
        if needed:
            ledger.lack("/part/mesh", Say(f"No freeze map could be made of the mesh: {fault}."))
        return None


def with_riser(
    use: MeshUse,
    factor: float,
    heat: Heat,
    metal: Metal,
    alone: Mapped,
    riser: RiserChoice,
    at: Point | None,
) -> Mapped:
    """The map with the riser standing ``at`` a place of the file (m) or over what freezes last; as it was
    where such a riser is not mapped.

    Mapped are plain and domed ones on the casting, without a sleeve, a neck or an insulated end.
    """
    decision, inputs = riser.decision, riser.inputs
    asked = substances_of(heat, metal)
    plain = inputs.position == "top" and inputs.shape != "ball" and not inputs.necked
    if decision is None or asked is None or not plain or inputs.sleeve_ratio != 1.0:
        return alone
    dome = decision.diameter / 3.0 if inputs.shape == "domed" else 0.0
    size = (decision.diameter, decision.height + dome, at)
    try:
        with paused():
            return _map(Shape(use.id, use.up, factor, use), *asked, size)
    except (MeshFault, NotFrozen):
        return alone


def map_checks(
    found: Mapped, sections_modulus: float | None, *, only_riser: bool = True
) -> tuple[Check, ...]:
    """Does the riser outlast the casting on the map and feed all of it, and do the sections say the same
    as the mesh? What other risers feed is not on the map, so that only an ``only_riser`` is judged by it.
    """
    checks: list[Check] = []
    if found.riser_end is not None and found.casting_end is not None:
        checks.append(check_riser_last(found.riser_end, found.casting_end))
    if found.cut_share is not None and only_riser:
        first = (
            found.cut_off[0] if found.cut_off else Cut(x=0.0, y=0.0, z=0.0, volume=0.0, closed=0.0, solid=0.0)
        )
        place = (first.x, first.y, first.z)
        checks.append(check_feeds(found.cut_share, first.volume, first.closed, first.solid, place))
    if sections_modulus is not None:
        checks.append(check_sections(found.modulus, sections_modulus))
    return tuple(checks)


def substances_of(heat: Heat, metal: Metal) -> tuple[MapMetal, MapMedium, float] | None:
    """Metal, mould and mould constant (s/m^2) of the map; None where one of them is not known.

    A mould constant that the caller has found by trial is kept: the mould then conducts so well that
    the properties give it.
    """
    inputs = heat.inputs
    if heat.medium is None or inputs.filled_temperature is None or inputs.metal is None:
        return None
    if metal.get("conductivity") is None or metal.get("specific_heat") is None:
        return None  # no map, and nothing to complain of: the plan does without
    if not inputs.metal.solidus <= min(inputs.metal.liquidus, inputs.filled_temperature - LEAST_HOT):
        return None
    hot, mould = metal_in_map(metal, inputs.filled_temperature), medium_in_map(heat.medium)
    with paused():
        constant = cooling_of(inputs).mould_constant
        computed = cooling_of(replace(inputs, mould_constant=None)).mould_constant
    return hot, replace(mould, conductivity=mould.conductivity * computed / constant), constant


@dataclass(frozen=True, slots=True)
class Shape:
    """A mesh and how it is used: ``factor`` is m of the cold casting per unit of its file."""

    id: str
    up: str
    factor: float
    use: MeshUse

    @property
    def frame(self) -> Frame:
        """Upright axes for this mesh."""
        axis, sign = axis_of(self.up)
        return Frame(axis=axis, sign=sign)

    @property
    def named(self) -> tuple[object, ...]:
        """What tells it from other meshes and uses."""
        return self.id, self.up, self.factor, len(self.use.mesh.triangles), self.use.mesh.volume


_REMEMBERED: dict[tuple[object, ...], Mapped] = {}
"""Findings by all that they follow from, without the meshes: remedies ask for the same map again."""


def _map(shape: Shape, metal: MapMetal, mould: MapMedium, constant: float, riser: MapRiser | None) -> Mapped:
    """Findings of one map."""
    key = (shape.named, metal, mould, constant, riser)
    if key not in _REMEMBERED:
        if len(_REMEMBERED) >= MOST_REMEMBERED:
            _REMEMBERED.clear()
        _REMEMBERED[key] = _found(shape, metal, mould, constant, riser)
    return _REMEMBERED[key]


def _found(
    shape: Shape, metal: MapMetal, mould: MapMedium, constant: float, riser: MapRiser | None
) -> Mapped:
    where = None
    if riser is not None:
        alone = _map(shape, metal, mould, constant, None)
        first = alone.regions[0]
        where = riser[2] or (first.x, first.y, first.z)
    found, foot = made(shape, metal, mould, constant, riser, where, CELLS, "draft")
    if where is None:
        return told(found, last_regions(found, constant), shape.frame)
    return with_ends(alone, found, constant, shape.frame, foot)


def made(
    shape: Shape,
    metal: MapMetal,
    mould: MapMedium,
    constant: float,
    riser: MapRiser | None,
    over: Point | None,
    cells: int,
    accuracy: Accuracy,
) -> tuple[FreezeMap, Point]:
    """One map in the frame of :attr:`Shape.frame`, and where the middle of the riser's foot stands.

    The riser stands over or under the place ``over`` of the file (m). Raises MeshFault, NotFrozen.
    """
    casting = shape.frame.upright(shape.use.mesh.triangles * shape.factor)
    bodies, foot = [Body("casting", casting, metal)], (0.0, 0.0, 0.0)
    if riser is not None and over is not None:
        x, y, _ = shape.frame.upright(np.array([over]))[0].tolist()
        foot = foot_at(casting, x, y, riser[0])
        bodies.append(Body("riser", prism(riser[0], riser[1], foot), metal))
    return freeze_map(bodies, mould, cells, mould_constant=constant, accuracy=accuracy), foot


def foot_at(casting: Floats, x: float, y: float, diameter: float) -> Point:
    """The middle of a round riser's foot over a place of the plan: on the highest metal under it, m.

    A pocket there is left to its core.
    """
    turns = np.linspace(0.0, 2.0 * math.pi, 8, endpoint=False)
    rim = [(x + RIM * diameter * math.cos(t), y + RIM * diameter * math.sin(t)) for t in turns]
    near = _under(casting, x, y, RIM * diameter)
    tops = [top for point in [(x, y), *rim] if (top := top_at(near, *point)) is not None]
    return x, y, max(tops, default=float(casting[..., 2].min()))


def _under(casting: Floats, x: float, y: float, reach: float) -> Floats:
    """The triangles that may lie under a square of the plan, ``reach`` to every side of its middle."""
    near = np.ones(len(casting), np.bool_)
    for axis, place in enumerate((x, y)):
        a, b, c = (casting[:, corner, axis] for corner in range(3))
        near &= np.maximum(np.maximum(a, b), c) >= place - reach - 1e-9
        near &= np.minimum(np.minimum(a, b), c) <= place + reach + 1e-9
    return casting[near]


def with_ends(
    alone: Mapped,
    found: FreezeMap,
    constant: float,
    frame: Frame,
    foot: Point | None,
    risers: tuple[int, ...] = (1,),
) -> Mapped:
    """The findings with the ends of casting and risers (bodies by number) on a map of both; as they were
    where the cells are too wide for the riser."""
    ends = [last_regions(found, constant, numbers) for numbers in ((0,), risers)]
    if not all(ends):
        return alone
    x, y, z = (None, None, None) if foot is None else frame.in_file(foot)
    pools = cut_off(found, risers)
    casting = float(found.shares[found.owners == 0].sum(dtype=np.float64)) * found.block.cell**3
    return replace(
        alone,
        casting_end=ends[0][0].time,
        riser_end=ends[1][0].time,
        riser_x=x,
        riser_y=y,
        riser_z=z,
        cut_share=sum(pool.volume for pool in pools) / casting,
        cut_off=tuple(_cut(pool, frame) for pool in pools[:REGIONS]),
    )


def _cut(pool: CutOff, frame: Frame) -> Cut:
    x, y, z = frame.in_file(pool.place)
    return Cut(x=x, y=y, z=z, volume=pool.volume, closed=pool.closed, solid=pool.solid)


def told(found: FreezeMap, regions: Sequence[LastRegion], frame: Frame) -> Mapped:
    """The findings in the axes of the file. Raises MeshFault where no cell is mostly metal."""
    if not regions or not found.end > 0.0:
        raise MeshFault("mesh_too_thin", "its walls are thinner than half a cell of the map")
    listed = []
    for one in regions[:REGIONS]:
        # the middle of the region: within it the very last cell is a matter of a tenth of a kelvin
        x, y, z = frame.in_file(one.place)
        listed.append(Region(x=x, y=y, z=z, volume=one.volume, time=one.time, modulus=one.equivalent_modulus))
    return Mapped(
        regions=tuple(listed),
        end=found.end,
        cell=found.block.cell,
        cells=found.cells,
        imbalance=found.imbalance,
        doubtful_rays=found.quality.verdict == "warn",
    )


def top_at(triangles: Floats, x: float, y: float) -> float | None:
    """The height of the highest metal over a point of the plan, m; None where there is none."""
    a, b, c = (triangles[:, corner] for corner in range(3))
    det = (b[:, 1] - c[:, 1]) * (a[:, 0] - c[:, 0]) + (c[:, 0] - b[:, 0]) * (a[:, 1] - c[:, 1])
    flat = np.abs(det) > 1e-18
    safe = np.where(flat, det, 1.0)
    u = ((b[:, 1] - c[:, 1]) * (x - c[:, 0]) + (c[:, 0] - b[:, 0]) * (y - c[:, 1])) / safe
    v = ((c[:, 1] - a[:, 1]) * (x - c[:, 0]) + (a[:, 0] - c[:, 0]) * (y - c[:, 1])) / safe
    over = flat & (u >= -1e-9) & (v >= -1e-9) & (u + v <= 1.0 + 1e-9)
    heights = u * a[:, 2] + v * b[:, 2] + (1.0 - u - v) * c[:, 2]
    return float(heights[over].max()) if np.any(over) else None


def prism(diameter: float, height: float, foot: tuple[float, float, float]) -> Floats:
    """A round riser as a prism of the same section, (n, 3, 3), m."""
    turns = np.linspace(0.0, 2.0 * math.pi, SIDES, endpoint=False)
    # a polygon of the circle's area
    radius = diameter / 2.0 * math.sqrt(2.0 * math.pi / SIDES / math.sin(2.0 * math.pi / SIDES))
    x, y, z = foot
    ring = np.stack((x + radius * np.cos(turns), y + radius * np.sin(turns), np.full(SIDES, z)), axis=-1)
    above = ring + np.array([0.0, 0.0, height])
    low, high = np.array([x, y, z]), np.array([x, y, z + height])
    made = []
    for one in range(SIDES):
        two = (one + 1) % SIDES
        made += [
            (ring[one], ring[two], above[two]),
            (ring[one], above[two], above[one]),
            (low, ring[two], ring[one]),
            (high, above[one], above[two]),
        ]
    return np.array(made)
