"""A freeze map by itself: finer than a plan's, with slices to look at."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ..answer import Answer, answer
from ..assess.plan import check_mesh_sound
from ..checks import Check
from ..formula import paused
from ..formulas.pattern import pattern_scale
from ..freeze_map.heat import Accuracy, NotFrozen
from ..freeze_map.mapping import FreezeMap
from ..freeze_map.regions import feeding_figure, last_regions
from ..geometry.mesh import MeshFault
from ..ledger import Ledger, MissingValue, Say
from .heat import HeatCase, MouldCase, heat_of
from .metal import Metal, metal_of
from .plan_case import MeshUse
from .plan_map import CELLS, Frame, Mapped, Point, Shape, made, map_checks, substances_of, told, with_ends

MOST_CELLS = 300_000
"""More cells are refused: a request has to be answered while the caller waits."""

POOREST = 0.05
"""The share of the metal that is worst fed; its figure is told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MapRiserCase:
    """A round riser over what freezes last (m)."""

    diameter: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FreezeMapCase:
    """What a freeze-map request may say; SI, None where the caller said nothing."""

    mesh: MeshUse
    alloy: str | None = None
    properties: Mapping[str, float | None] = field(default_factory=dict)
    mould: MouldCase = field(default_factory=MouldCase)
    mould_constant: float | None = None
    pouring_temperature: float | None = None
    temperature_fall: float | None = None
    riser: MapRiserCase | None = None
    cells: int | None = None
    accuracy: Accuracy | None = None
    slices: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slice:
    """A plane through the place that freezes last: times (s, NaN in the sand), rows upwards or along y.

    ``across`` is the axis of the file that the plane is square to, ``at`` where it cuts it (m), ``cell``
    the side of a picture's point (m), ``end`` the time of the latest one (s).
    """

    across: str
    at: float
    cell: float
    times: Any
    end: float


def decide_freeze_map(case: FreezeMapCase) -> Answer:
    """Answer a freeze-map request."""
    ledger = Ledger()
    metal = metal_of(case.alloy, case.properties, ledger)
    report = case.mesh.mesh.report()
    checks: list[Check] = [check_mesh_sound(report.open_edges, report.flipped_edges)]
    result: dict[str, Any] = {"map": None, "slices": [], "poorest_feeding": None}
    say = Say("No freeze map was made.")
    try:
        factor = _factor(case.mesh, metal, ledger)
        thickness = 2.0 * report.volume / report.area * factor
        heat_case = HeatCase(
            mould=case.mould,
            mould_constant=case.mould_constant,
            pouring_temperature=case.pouring_temperature,
            temperature_fall=case.temperature_fall,
            curvature=False,  # the map conducts round corners itself
        )
        heat = heat_of(heat_case, metal, thickness, ledger)
        checks += heat.checks
        asked = substances_of(heat, metal)
        if asked is None:
            why = Say("A freeze map conducts heat: name the mould's medium and the alloy.")
            raise MissingValue(ledger.lack("/mould/medium", why))
        found, mapped, frame = _maps(
            case, Shape(case.mesh.id, case.mesh.up, factor, case.mesh), asked, ledger
        )
        checks += map_checks(mapped, None)
        result = {
            "map": mapped,
            "slices": [
                {"across": one.across, "at": one.at, "cell": one.cell, "end": one.end, "png": one}
                for one in (_slices(found, mapped, frame) if case.slices else ())
            ],
            "poorest_feeding": _poorest(found),
        }
        say = _sentence(mapped)
    except MissingValue:
        pass  # the ledger knows, and the answer says so
    except (MeshFault, NotFrozen) as fault:
        ledger.lack("/mesh", Say(f"No freeze map could be made: {fault}."))
    return answer(ledger, result, checks, say)


def _factor(use: MeshUse, metal: Metal, ledger: Ledger) -> float:
    """Metres of the cold casting per unit of the mesh."""
    if use.represents == "part":
        return use.metres
    contraction = metal.get("contraction")
    if contraction is None:
        why = Say("The mesh shows the pattern: the casting is smaller by the metal's contraction.")
        raise MissingValue(ledger.lack("/properties/contraction", why))
    return use.metres / pattern_scale(contraction)


def _maps(case: FreezeMapCase, shape: Shape, asked: Any, ledger: Ledger) -> tuple[FreezeMap, Mapped, Frame]:
    """The map of the casting, and with a riser that of both."""
    cells = ledger.use(
        "/cells",
        case.cells,
        CELLS,
        "count",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="a draft: the order of freezing is sound, its times some per cent late",
    )
    accuracy: Accuracy = ledger.use(
        "/accuracy", case.accuracy, "normal", "text", provenance="common practice", source="COMMON-PRACTICE"
    )
    metal, mould, constant = asked
    with paused():
        found, _ = made(shape, metal, mould, constant, None, None, cells, accuracy)
        mapped = told(found, last_regions(found, constant), shape.frame)
        if case.riser is None:
            return found, mapped, shape.frame
        size = (case.riser.diameter, case.riser.height)
        both, foot = made(shape, metal, mould, constant, size, mapped.regions[0], cells, accuracy)
        return both, with_ends(mapped, both, constant, shape.frame, foot), shape.frame


def _poorest(found: FreezeMap) -> float | None:
    """The feeding figure below which the worst-fed 5 % of the metal lie; None where none can be told."""
    figure = feeding_figure(found)
    known = None if figure is None else figure[np.isfinite(figure)]
    return None if known is None or not known.size else float(np.quantile(known, POOREST))


def _slices(found: FreezeMap, mapped: Mapped, frame: Frame) -> list[Slice]:
    """The three planes through the first region, as pictures of the upright casting."""
    first = mapped.regions[0]
    middle = frame.upright(np.array([[first.x, first.y, first.z]]))[0]
    block = found.block
    index = np.clip(((middle - block.origin) / block.cell).astype(int), 0, np.array(block.counts) - 1)
    end = float(np.nanmax(found.times))
    made_: list[Slice] = []
    for axis in range(3):
        plane = np.take(found.times, int(index[axis]), axis=axis)
        point: list[float] = [0.0, 0.0, 0.0]
        point[axis] = 1.0
        turned = frame.in_file(point)
        file_axis = int(np.argmax(np.abs(turned)))
        place: Point = (first.x, first.y, first.z)
        made_.append(
            Slice(
                across="xyz"[file_axis],
                at=place[file_axis],
                cell=block.cell,
                times=plane.T[::-1],
                end=end,
            )
        )
    return made_


def _sentence(mapped: Mapped) -> Say:
    last = mapped.regions[0]
    return Say(
        "The last metal of the casting is solid {t} after the mould is full, round x {x}, y {y}, z {z}.",
        t=(last.time, "time"),
        x=(last.x, "length"),
        y=(last.y, "length"),
        z=(last.z, "length"),
    )
