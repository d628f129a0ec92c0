"""A triangle mesh: read from an STL file, measured, and judged whether it is a sound body.

Everything is in the mesh's own length unit (STL has none) until :meth:`Mesh.scaled` is used.
``up`` is the direction that points upwards when the mould is poured, one of :data:`UPS`.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from .soundness import Hole, balanced, corner_hashes, edge_faults, holes, shells, twins
from .stl import MAX_TRIANGLES, MeshFault, box, read_triangles

__all__ = ["MAX_TRIANGLES", "UPS", "Extents", "Mesh", "MeshFault", "MeshReport", "axis_of", "read_stl"]

Floats = NDArray[np.float64]
Hashes = NDArray[np.uint64]

UPS = ("+x", "-x", "+y", "-y", "+z", "-z")
"""Directions that may point upwards."""

SHELLS_TO = 200_000
"""Up to so many triangles the separate shells are counted."""

MOST_LISTED = 20
"""Bodies and holes that a report names."""

_AT_ONCE = 16384


def axis_of(up: str) -> tuple[int, float]:
    """The index of the vertical axis and the sign of its upward sense; ValueError if no axis."""
    if up not in UPS:
        raise ValueError(f"up must be one of {', '.join(UPS)}, not {up!r}")
    return "xyz".index(up[1]), 1.0 if up[0] == "+" else -1.0


@dataclass(frozen=True, slots=True)
class Extents:
    """Size in the pouring position: height along ``up``; the longer and the shorter plan side.

    ``lowest`` is the coordinate along ``up`` of the lowest point.
    """

    height: float
    length: float
    width: float
    lowest: float


@dataclass(frozen=True, slots=True)
class Shell:
    """One separate surface: triangles, the volume it encloses (negative: a hollow), its box."""

    triangles: int
    volume: float
    low: tuple[float, float, float]
    high: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class MeshReport:
    """What a mesh is, in its own length unit.

    ``watertight``: every edge is shared by triangles that agree which side is out. ``open_edges``
    counts edges with an odd number of triangles, ``flipped_edges`` those whose triangles
    disagree, ``degenerate`` triangles without area, ``doubled`` those in the very place of another.
    ``inverted`` says that the whole file was inside out and has been turned. ``shells`` is the number of
    separate surfaces, None above :data:`SHELLS_TO` triangles, and ``bodies`` are the largest of them.
    ``holes`` are the largest
    places where a surface is open. The volume of a mesh that is not watertight is not to be trusted.
    """

    triangles: int
    volume: float
    area: float
    low: tuple[float, float, float]
    high: tuple[float, float, float]
    watertight: bool
    open_edges: int
    flipped_edges: int
    degenerate: int
    doubled: int
    inverted: bool
    shells: int | None
    bodies: tuple[Shell, ...]
    holes: tuple[Hole, ...]


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles as an array (n, 3, 3) of float64: triangle, corner, coordinate.

    Corners run anticlockwise seen from outside; ``inverted`` says that the file had it the other
    way about.
    """

    triangles: Floats
    inverted: bool = False

    @cached_property
    def box(self) -> tuple[Floats, Floats]:
        """Least and greatest coordinates, each (3,)."""
        return box(self.triangles)

    @cached_property
    def volume(self) -> float:
        """Volume enclosed; 0 or senseless for a mesh that does not close."""
        return signed_volume(self.triangles)

    def scaled(self, factor: float) -> "Mesh":
        """The mesh with every coordinate multiplied by ``factor`` (above 0), such as metres per
        length unit."""
        if not (factor > 0.0 and math.isfinite(factor)):
            raise ValueError("a scale must be above 0")
        return Mesh(self.triangles * factor, self.inverted)

    def extents(self, up: str) -> Extents:
        """Height and plan sides in the pouring position."""
        axis, sign = axis_of(up)
        low, high = self.box
        size = high - low
        plan = sorted((float(size[i]) for i in range(3) if i != axis), reverse=True)
        lowest = float(low[axis] if sign > 0.0 else -high[axis])
        return Extents(float(size[axis]), plan[0], plan[1], lowest)

    def report(self) -> MeshReport:
        """Measure the mesh. Raises MeshFault ``mesh_no_volume`` for a sheet without inside."""
        low, high = self.box
        diagonal = float(np.linalg.norm(high - low))
        doubled = np.concatenate([_lengths(normals) for normals in doubled_normals(self.triangles)])
        area = float(doubled.sum()) / 2.0
        if area <= 1e-12 * diagonal**2:
            raise MeshFault("mesh_no_volume", "no triangle of this mesh has an area")
        if self.volume <= 1e-9 * area * diagonal:
            raise MeshFault("mesh_no_volume", "this mesh encloses no volume: it is a sheet, not a body")
        corners = corner_hashes(self.triangles)
        watertight = balanced(corners)
        open_edges, flipped_edges = (0, 0) if watertight else edge_faults(corners)
        count, bodies = self._shells(corners) if len(corners) <= SHELLS_TO else (None, ())
        return MeshReport(
            triangles=len(self.triangles),
            volume=self.volume,
            area=area,
            low=_point(low),
            high=_point(high),
            watertight=watertight,
            open_edges=open_edges,
            flipped_edges=flipped_edges,
            degenerate=int(np.count_nonzero(doubled <= 1e-14 * diagonal**2)),
            doubled=twins(corners),
            inverted=self.inverted,
            shells=count,
            bodies=bodies,
            holes=holes(self.triangles, corners)[:MOST_LISTED] if open_edges else (),
        )

    def _shells(self, corners: Hashes) -> tuple[int, tuple[Shell, ...]]:
        """How many surfaces there are, and the largest of them."""
        count, label = shells(corners)
        if count == 1:
            whole = self.box
            return 1, (Shell(len(corners), self.volume, _point(whole[0]), _point(whole[1])),)
        sizes = np.bincount(label, minlength=count)
        order = np.argsort(label, kind="stable")
        ends = np.cumsum(sizes)
        largest = np.argsort(-sizes, kind="stable")[: 4 * MOST_LISTED]
        found = []
        for number in largest:
            own = self.triangles[order[ends[number] - sizes[number] : ends[number]]]
            low, high = box(own)
            found.append(Shell(len(own), signed_volume(own), _point(low), _point(high)))
        found.sort(key=lambda shell: (-abs(shell.volume), shell.low))
        return count, tuple(found[:MOST_LISTED])


def _point(values: Floats) -> tuple[float, float, float]:
    return float(values[0]), float(values[1]), float(values[2])


def read_stl(data: bytes) -> Mesh:
    """The mesh in an STL file, binary or text, turned right side out.

    Raises MeshFault with a code: see :func:`.stl.read_triangles`.
    """
    return mesh_of(read_triangles(data))


def mesh_of(triangles: Floats) -> Mesh:
    """The mesh of triangles (n, 3, 3), turned right side out."""
    if signed_volume(triangles) < 0.0:
        return Mesh(np.ascontiguousarray(triangles[:, ::-1]), inverted=True)
    return Mesh(triangles)


def signed_volume(triangles: Floats) -> float:
    """Volume enclosed by triangles (n, 3, 3): tetrahedra from the middle of their box, summed;
    negative where they are inside out."""
    low, high = box(triangles)
    middle = (low + high) / 2.0
    total = 0.0
    for start in range(0, len(triangles), _AT_ONCE):
        piece = triangles[start : start + _AT_ONCE] - middle
        ax, ay, az, bx, by, bz, cx, cy, cz = np.ascontiguousarray(piece.reshape(-1, 9).T)
        six = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
        total += float(six.sum())
    return total / 6.0


def doubled_normals(triangles: Floats) -> Iterator[Floats]:
    """Outward normals, each twice its triangle's area long, piece by piece, (3, m)."""
    for start in range(0, len(triangles), _AT_ONCE):
        piece = triangles[start : start + _AT_ONCE].reshape(-1, 9)
        ax, ay, az, bx, by, bz, cx, cy, cz = np.ascontiguousarray(piece.T)
        ux, uy, uz, vx, vy, vz = bx - ax, by - ay, bz - az, cx - ax, cy - ay, cz - az
        yield np.stack((uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx))


def _lengths(vectors: Floats) -> Floats:
    lengths: Floats = np.sqrt((vectors * vectors).sum(axis=0))
    return lengths
