# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of meshes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class BodyResult:
    """One separate surface of a mesh, in the file's own length unit."""

    triangles: int
    """Number of triangles."""
    volume: float
    """Volume that it encloses; negative for a hollow inside another."""
    low: tuple[float, ...]
    """Least x, y and z."""
    high: tuple[float, ...]
    """Greatest x, y and z."""


@dataclass(frozen=True, slots=True)
class HoleResult:
    """A place where the surface is open, in the file's own length unit."""

    edges: int
    """Open edges round it."""
    centre: tuple[float, ...]
    """Where it is."""
    size: float
    """Diagonal of the box round it."""


@dataclass(frozen=True, slots=True)
class MeshResult:
    """A stored mesh as measured. Lengths are in the file's own unit: each use says what that is."""

    id: str
    """SHA-256 of the file, by which requests name the mesh."""
    triangles: int
    """Number of triangles."""
    volume: float
    """Volume enclosed, cubed length units of the file."""
    area: float
    """Area of the surface, squared length units of the file."""
    low: tuple[float, ...]
    """Least x, y and z."""
    high: tuple[float, ...]
    """Greatest x, y and z."""
    watertight: bool
    """Whether every edge is shared by two triangles that agree."""
    open_edges: int
    """Edges that belong to one triangle only."""
    flipped_edges: int
    """Edges whose triangles disagree about outside."""
    degenerate: int
    """Triangles without area."""
    doubled: int
    """Triangles in the very place of another: a body that is in the file twice."""
    inverted: bool
    """Whether the file was inside out (it was turned)."""
    shells: int | None
    """Separate bodies, inner hollows counted; null for a very large mesh."""
    bodies: tuple[BodyResult, ...]
    """The largest of them; empty for a very large mesh."""
    holes: tuple[HoleResult, ...]
    """The largest places where the surface is open."""
    format: Literal["stl", "obj", "ply", "3mf"]
    """The file's format, told by its bytes."""
    length_unit: str | None
    """The length unit that the file itself names; null where it names none."""
