"""In which direction a pattern is drawn from the sand, where it is parted, and what hinders it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from ..answer import Answer, answer
from ..assess.draw import DrawInputs, check_draft, check_drawn, check_flat, loose_sand, needs_core
from ..assess.plan import check_mesh_sound
from ..bounds import OutOfRange
from ..checks import Check
from ..geometry.columns import COLUMNS, Columns, columns_of
from ..geometry.drafts import Steep, steep_faces
from ..geometry.mesh import Mesh
from ..geometry.parting import MOST_REGIONS, Parting, Region, face_directions, least_parting, part_at
from ..ledger import Ledger, Say
from .plan_case import MeshUse

DEGREES = 1.0
"""Draft wanted, degrees: the least that is usual on outside faces."""

FOOT = 1e-3
"""A parting within this share of the height from an end is at that end."""

_SAME_WAY = math.cos(math.radians(0.5))

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawCase:
    """A mesh and how it is to be drawn; SI, None where the caller said nothing.

    ``up`` or ``direction`` names the draw; ``parting_height`` is above the lowest point along it.
    """

    mesh: MeshUse
    up: str | None = None
    direction: Vector | None = None
    parting_height: float | None = None
    draft_degrees: float | None = None
    columns: int | None = None


@dataclass(frozen=True, slots=True)
class Way:
    """A direction with its columns and its best flat parting; ``why`` it was tried."""

    direction: Vector
    why: str
    columns: Columns
    parting: Parting
    steep: Steep

    @property
    def order(self) -> tuple[float, float, float, float]:
        """What makes one direction better: least sand shut in, least undercut, least of a face
        without draft, least to draw."""
        floor = self.parting.noise
        trapped, undercut = self.parting.trapped, self.parting.undercut
        return (
            trapped if trapped > floor else 0.0,
            undercut if undercut > floor else 0.0,
            self.steep.tallest,
            self.columns.height,
        )

    @property
    def free(self) -> bool:
        """Whether no sand is shut in, as far as the grid can tell."""
        return self.parting.trapped <= self.parting.noise


def decide_draw(case: DrawCase) -> Answer:
    """Answer a draw request. Raises MeshFault for a mesh that cannot be looked through."""
    ledger = Ledger()
    count = ledger.use(
        "/columns",
        case.columns,
        COLUMNS,
        "count",
        provenance="computed",
        source="DERIVED",
        note="columns of the grid along the longer side in plan",
    )
    degrees = ledger.use(
        "/draft_degrees",
        case.draft_degrees,
        DEGREES,
        "ratio",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="the least draft usual on outside faces; pockets want twice as much",
    )
    mesh = case.mesh.mesh.scaled(case.mesh.metres)
    report = case.mesh.mesh.report()
    ways = sorted(
        (
            _way(mesh, direction, why, count, math.radians(degrees))
            for direction, why in _directions(case, mesh)
        ),
        key=lambda way: way.order,
    )
    best = ways[0]
    chosen = next((way for way in ways if way.why == "yours"), best)
    if case.parting_height is not None:
        at = _within(case.parting_height, chosen.columns.height)
        own = steep_faces(mesh, chosen.columns, at, math.radians(degrees))
        chosen = replace(chosen, parting=part_at(chosen.columns, at), steep=own)
    parting, steep = chosen.parting, chosen.steep
    lean = steep.tallest * math.tan(math.radians(degrees))
    inputs = DrawInputs(
        volume=mesh.volume,
        along=words_of(chosen.direction),
        parting=parting,
        better=words_of(best.direction) if best.free and not chosen.free else None,
    )
    checks = [
        check_drawn(inputs),
        check_flat(inputs),
        check_draft(steep.tallest, degrees, lean, "/mesh"),
        replace(check_mesh_sound(report), subject="/mesh"),
    ]
    result = {
        "volume": mesh.volume,
        "best": _way_result(best, mesh),
        "judged": _way_result(chosen, mesh),
        "directions": [_way_result(way, mesh) for way in ways],
        "undercuts": [_region_result(region) for region in parting.regions[:MOST_REGIONS]],
        "undercuts_in_all": len(parting.regions),
        "draft": _draft_result(steep, degrees, lean),
        "columns_left_out": chosen.columns.bad,
    }
    return answer(ledger, result, checks, _sentence(inputs, chosen, parting, checks))


def _directions(case: DrawCase, mesh: Mesh) -> list[tuple[Vector, str]]:
    """The directions to try, each once: a direction and its opposite are the same draw."""
    found: list[tuple[Vector, str]] = []
    wanted = case.direction
    if wanted is None and case.up is not None:
        wanted = axis(case.up)
    if wanted is not None:
        length = math.sqrt(sum(part * part for part in wanted))
        found.append(((wanted[0] / length, wanted[1] / length, wanted[2] / length), "yours"))
    tried: list[tuple[Vector, str]] = [(axis(up), "axis") for up in ("+z", "+x", "+y")]
    tried += [(face, "large flat face") for face in face_directions(mesh)]
    for direction, why in tried:
        if all(abs(_dot(direction, other)) < _SAME_WAY for other, _ in found):
            found.append((direction, why))
    return found


def axis(up: str) -> Vector:
    """The unit vector of a word such as -z."""
    sign = 1.0 if up[0] == "+" else -1.0
    return (sign * (up[1] == "x"), sign * (up[1] == "y"), sign * (up[1] == "z"))


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


def _way(mesh: Mesh, direction: Vector, why: str, count: int, draft: float) -> Way:
    columns = columns_of(mesh, direction, count)
    parting = part_at(columns, least_parting(mesh, columns))
    return Way(direction, why, columns, parting, steep_faces(mesh, columns, parting.height, draft))


def words_of(direction: Vector) -> str:
    """A direction for people: an axis, or its three numbers."""
    for index, name in enumerate("xyz"):
        if abs(direction[index]) > _SAME_WAY:
            return name if direction[index] > 0.0 else f"-{name}"
    return f"({', '.join(f'{part:.3g}' for part in direction)})"


def _within(parting: float, height: float) -> float:
    if parting > height * (1.0 + 1e-6):
        raise OutOfRange("parting_height", parting, f"at most {height:.6g}, the part's height", "a parting")
    return min(parting, height)


def _sentence(inputs: DrawInputs, way: Way, parting: Parting, checks: Sequence[Check]) -> Say:
    height = way.columns.height
    if parting.height <= FOOT * height:
        place = "at its foot"
    elif parting.height >= (1.0 - FOOT) * height:
        place = "at its top"
    else:
        place = "{p} above its lowest point"
    what = "nothing hinders"
    if parting.trapped > parting.noise:
        what = "{v} of sand is shut in"
    elif parting.undercut > parting.noise and checks[1].verdict == "pass":
        what = "nothing is shut in, and the sand of its pockets comes away with its own half"
    elif checks[1].verdict != "pass":
        what = "nothing is shut in, but the parting is not flat"
    return Say(
        f"Draw it along {{d}}, parting {place}: {what}.",
        d=inputs.along,
        p=(parting.height, "length"),
        v=(parting.trapped, "volume"),
    )


def _way_result(way: Way, mesh: Mesh) -> dict[str, Any]:
    parting = way.parting
    undercut = parting.undercut if parting.undercut > parting.noise else 0.0
    return {
        "direction": list(way.direction),
        "along": words_of(way.direction),
        "why": way.why,
        "height": way.columns.height,
        "parting_height": parting.height,
        "undercut": undercut,
        "undercut_share": undercut / mesh.volume,
        "trapped": parting.trapped,
        "hanging": parting.hanging,
        "standing": parting.standing,
        "loose": loose_sand(parting),
        "noise_floor": parting.noise,
        "tallest_without_draft": way.steep.tallest,
    }


def _region_result(region: Region) -> dict[str, Any]:
    return {
        "sort": region.sort,
        "needs_core": needs_core(region),
        "volume": region.volume,
        "centre": list(region.centre),
        "length": region.length,
        "width": region.width,
        "height": region.height,
        "from_height": region.low,
        "to_height": region.high,
    }


def _draft_result(steep: Steep, degrees: float, lean: float) -> dict[str, Any]:
    return {
        "wanted_degrees": degrees,
        "area": steep.area,
        "share": steep.share,
        "tallest": steep.tallest,
        "lean": lean,
        "place": None if steep.place is None else list(steep.place),
    }
