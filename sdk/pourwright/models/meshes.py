# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of meshes."""

from __future__ import annotations

from dataclasses import dataclass


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
    inverted: bool
    """Whether the file was inside out (it was turned)."""
    shells: int | None
    """Separate bodies, inner hollows counted; null for a very large mesh."""
