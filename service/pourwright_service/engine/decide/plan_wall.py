"""The thinnest wall of a part that is known by its mesh."""

from ..geometry.mesh import MeshReport
from ..geometry.walls import thinnest_wall
from ..ledger import Ledger
from .plan_case import MeshUse

MOST_REMEMBERED = 64

_REMEMBERED: dict[tuple[object, ...], float | None] = {}
"""Walls by mesh, in its own unit: remedies ask for the same one again and again."""


def mesh_wall(use: MeshUse, report: MeshReport, factor: float) -> float | None:
    """The thinnest wall (m) by rays, ``factor`` m to the mesh's unit; None where rays cannot tell it."""
    if not report.watertight:
        return None
    key = (use.id, report.triangles, report.volume, report.area)
    if key not in _REMEMBERED:
        if len(_REMEMBERED) >= MOST_REMEMBERED:
            _REMEMBERED.clear()
        _REMEMBERED[key] = thinnest_wall(use.mesh.triangles)
    wall = _REMEMBERED[key]
    return None if wall is None else wall * factor


def mean_wall(report: MeshReport, factor: float) -> float:
    """Twice volume over surface (m): the mean of the walls; the thinnest may be thinner."""
    return 2.0 * report.volume / report.area * factor


def wall_for_filling(use: MeshUse, report: MeshReport, factor: float, ledger: Ledger) -> float:
    """The wall that says how hot and fast to pour, never how large a riser must be; it is told as chosen."""
    wall = mesh_wall(use, report, factor)
    if wall is not None:
        return ledger.use(
            "/part/wall",
            None,
            wall,
            "length",
            provenance="computed",
            source="DERIVED",
            note="by rays through the mesh: a twentieth of its surface has this wall or a thinner one",
            spread=0.1,
        )
    return ledger.use(
        "/part/wall",
        None,
        mean_wall(report, factor),
        "length",
        provenance="estimated",
        source="ESTIMATED-BY-RULE",
        note="twice volume over surface of the mesh: the mean of its walls; the thinnest may be thinner",
        spread=0.5,
    )
