"""A freeze map by itself: finer than a plan's, with further bodies, pictures and files."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ..answer import Answer, answer
from ..assess.freeze_maps import STEEL_THRESHOLD, check_fine, check_heat, check_rays
from ..assess.plan import check_mesh_sound
from ..checks import Check
from ..formula import paused
from ..formulas.pattern import pattern_scale
from ..freeze_map.heat import Accuracy, NotFrozen
from ..freeze_map.mapping import FreezeMap, freeze_map
from ..freeze_map.regions import feeding_figure, last_regions
from ..freeze_map.substances import Medium as MapMedium
from ..freeze_map.substances import Metal as MapMetal
from ..geometry.mesh import MeshFault, axis_of
from ..ledger import Ledger, MissingValue, Say
from .freeze_map_bodies import (
    MapBodyCase,
    MapRiserCase,
    Mould,
    further_bodies,
    with_risers,
    without_risers,
)
from .freeze_map_slices import slices
from .heat import Heat, HeatCase, MouldCase, heat_of
from .metal import Metal, metal_of
from .plan_case import MeshUse
from .plan_map import CELLS, REGIONS, Frame, Mapped, map_checks, substances_of, told, with_ends
from .plan_wall import mean_wall, mesh_wall

MOST_CELLS = 300_000
"""More cells are refused: a request has to be answered while the caller waits."""

MEDIA = {"vti": "application/vnd.vtk+xml", "glb": "model/gltf-binary"}
"""Files of a map by kind, with their media types."""

POOREST = 0.05
"""The share of the metal that is worst fed; its figure is told."""


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
    bodies: tuple[MapBodyCase, ...] = ()
    cells: int | None = None
    accuracy: Accuracy | None = None
    slices: bool | None = None
    files: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Whole:
    """A map as it was poured, with what is needed to write it down in the axes of the mesh's file.

    ``factor`` is m of the cold casting per unit of the file.
    """

    found: FreezeMap
    frame: Frame
    factor: float
    mould: Mould


def decide_freeze_map(case: FreezeMapCase) -> Answer:
    """Answer a freeze-map request."""
    ledger = Ledger()
    metal = metal_of(case.alloy, case.properties, ledger)
    report = case.mesh.mesh.report()
    checks: list[Check] = [check_mesh_sound(report)]
    result: dict[str, Any] = {
        "map": None, "last": [], "feeding": None, "quality": None, "slices": [], "files": [],
    }  # fmt: skip
    say = Say("No freeze map was made.")
    try:
        factor = _factor(case.mesh, metal, ledger)
        thickness = mesh_wall(case.mesh, report, factor) or mean_wall(report, factor)
        heat = heat_of(_heat_case(case), metal, thickness, ledger)
        checks += heat.checks
        whole, mapped, constant = _maps(case, factor, heat, metal, ledger)
        checks += (*map_checks(mapped, None), *_doubts(whole.found, thickness))
        result = _result(case, whole, mapped, constant)
        say = _sentence(mapped)
    except MissingValue:
        pass  # the ledger knows, and the answer says so
    except (MeshFault, NotFrozen) as fault:
        ledger.lack("/mesh", Say(f"No freeze map could be made: {fault}."))
    return answer(ledger, result, checks, say)


def _heat_case(case: FreezeMapCase) -> HeatCase:
    return HeatCase(
        mould=case.mould,
        mould_constant=case.mould_constant,
        pouring_temperature=case.pouring_temperature,
        temperature_fall=case.temperature_fall,
        curvature=False,  # the map conducts round corners itself
    )


def _factor(use: MeshUse, metal: Metal, ledger: Ledger) -> float:
    """Metres of the cold casting per unit of the mesh."""
    if use.represents == "part":
        return use.metres
    contraction = metal.get("contraction")
    if contraction is None:
        why = Say("The mesh shows the pattern: the casting is smaller by the metal's contraction.")
        raise MissingValue(ledger.lack("/properties/contraction", why))
    return use.metres / pattern_scale(contraction)


def _substances(heat: Heat, metal: Metal, ledger: Ledger) -> tuple[MapMetal, MapMedium, float]:
    """Metal, mould and mould constant (s/m^2). Raises MissingValue."""
    if heat.medium is None or heat.inputs.metal is None:
        why = Say("A freeze map conducts heat through the mould: name its medium and the alloy.")
        raise MissingValue(ledger.lack("/mould/medium", why))
    if heat.inputs.metal.solidus > heat.inputs.metal.liquidus:
        why = Say("The solidus lies above the liquidus: which of the two is right?")
        raise MissingValue(ledger.lack("/properties/solidus", why))
    for name in ("conductivity", "specific_heat"):
        metal.need(name, Say("A freeze map conducts heat through the metal as well."))
    found = substances_of(heat, metal)
    if found is None:
        why = Say("A freeze map begins with the mould full of liquid metal: pour hotter than the solidus.")
        raise MissingValue(ledger.lack("/pouring_temperature", why))
    return found


def _maps(
    case: FreezeMapCase, factor: float, heat: Heat, metal: Metal, ledger: Ledger
) -> tuple[Whole, Mapped, float]:
    """The map as poured, findings of casting and risers, and the mould constant (s/m^2).

    Without risers that is the casting alone.
    """
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
    hot, sand, constant = _substances(heat, metal, ledger)
    axis, sign = axis_of(case.mesh.up)
    frame = Frame(axis=axis, sign=sign)
    casting = frame.upright(case.mesh.mesh.triangles * factor)
    further = further_bodies(case.bodies, frame, factor, hot, sand, ledger)

    def frozen(mould: Mould) -> FreezeMap:
        made = freeze_map(mould.bodies, sand, cells, mould_constant=constant, accuracy=accuracy)
        if not np.any(made.times > 0.0):
            raise MeshFault(
                "mesh_too_thin", "no cell is liquid when the mould is full, or none is mostly metal"
            )
        return made

    with paused():
        mould = without_risers(casting, hot, further)
        found = frozen(mould)
        mapped = told(found, last_regions(found, constant), frame)
        if case.riser is not None or any(role == "riser" for role, _ in further):
            first = mapped.regions[0]
            over = case.riser.at if case.riser and case.riser.at else (first.x, first.y, first.z)
            upright = frame.upright(np.array([over]))[0].tolist()
            mould = with_risers(casting, hot, further, case.riser, upright)
            found = frozen(mould)
            mapped = with_ends(mapped, found, constant, frame, mould.foot, mould.risers)
    return Whole(found=found, frame=frame, factor=factor, mould=mould), mapped, constant


def _doubts(found: FreezeMap, thickness: float) -> list[Check]:
    """Whether the map can be believed."""
    return [
        check_rays(max(axis.bad for axis in found.quality.axes)),
        check_fine(thickness, found.block.cell),
        check_heat(found.imbalance),
    ]


def _result(
    case: FreezeMapCase,
    whole: Whole,
    mapped: Mapped,
    constant: float,
) -> dict[str, Any]:
    """The result as its schema lays it out."""
    found, frame = whole.found, whole.frame
    with paused():
        last = last_regions(found, constant)
        feeding = _feeding(found)
    return {
        "map": mapped,
        "last": [
            {
                **_at(frame.in_file(one.place)),
                "volume": one.volume,
                "time": one.time,
                "modulus": one.equivalent_modulus,
                "body": whole.mould.names[one.bodies[0]],
            }
            for one in last[:REGIONS]
        ],
        "feeding": feeding,
        "quality": _quality(found),
        "slices": [
            {name: getattr(one, name) for name in ("across", "at", "right", "up", "cell", "end")}
            | {"png": one}
            for one in (slices(found, last[0].place, frame) if case.slices and last else ())
        ],
        "files": [
            {"name": f"freeze-map.{kind}", "media_type": MEDIA[kind], "content": (kind, whole)}
            for kind in case.files
        ],
    }


def _at(place: tuple[float, float, float]) -> dict[str, float]:
    return dict(zip("xyz", place, strict=True))


def _quality(found: FreezeMap) -> dict[str, float | int]:
    axes = found.quality.axes
    return {
        "lost_rays": max(axis.bad for axis in axes),
        "parity_rays": max(axis.parity for axis in axes),
        "overlapping_rays": max(axis.overlap for axis in axes),
        "unseen_cells": found.quality.unseen,
        "resolved": found.resolved,
        "steps": found.steps,
    }


def _feeding(found: FreezeMap) -> dict[str, Any] | None:
    """The feeding figure below which the worst-fed 5 % of the metal lie; None where none can be told."""
    figure = feeding_figure(found)
    known = None if figure is None else figure[np.isfinite(figure)]
    if known is None or not known.size:
        return None
    return {
        "formula": "freeze_map.gradient_over_root_rate",
        "poorest": float(np.quantile(known, POOREST)),
        "threshold_of_steel": STEEL_THRESHOLD,
        "doubt": Say(
            "No threshold is published for this alloy; that of steel is shown to compare with. The figure "
            "ranks places and designs: where it is small little metal can follow the shrinkage. Above it "
            "shrinkage is not excluded, and the figure knows nothing of gas."
        ),
    }


def _sentence(mapped: Mapped) -> Say:
    last = mapped.regions[0]
    return Say(
        "The last metal of the casting is solid {t} after the mould is full, round x {x}, y {y}, z {z}.",
        t=(last.time, "time"),
        x=(last.x, "length"),
        y=(last.y, "length"),
        z=(last.z, "length"),
    )
