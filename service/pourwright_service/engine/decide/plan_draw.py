"""Whether the part of a plan can be drawn from the sand as it lies in the mould."""

from ..assess.draw import DrawInputs, check_drawn
from ..checks import Check
from ..geometry.columns import Columns, columns_of
from ..geometry.mesh import Mesh, MeshFault
from ..geometry.parting import Parting, part_at
from .draw import axis, words_of
from .plan_case import PartCase
from .plan_cores import named_cores

MOST_BAD = 0.01
"""With more columns than this spoilt by holes in the mesh nothing is judged."""


def drawn(case: PartCase, factor: float) -> Check | None:
    """Judge sand that the part shuts in along its up; ``factor`` is m of the casting per mesh unit.

    None without a mesh, and where the mesh is so open or tangled that nobody can tell.
    """
    if case.mesh is None:
        return None
    mesh = case.mesh.mesh.scaled(factor)
    seen = _along(mesh, case.mesh.up)
    if seen is None or seen[0].bad > MOST_BAD:
        return None
    parting = seen[1]
    covered = named_cores(case)
    better = None
    if parting.trapped - covered > parting.noise:
        better = next((up[1] for up in ("+z", "+x", "+y") if _free(mesh, up)), None)
    return check_drawn(
        DrawInputs(
            volume=mesh.volume,
            along=words_of(axis(case.mesh.up)),
            parting=parting,
            covered=covered,
            better=better,
            subject="/part/mesh/up",
        )
    )


def _along(mesh: Mesh, up: str) -> tuple[Columns, Parting] | None:
    try:
        columns = columns_of(mesh, axis(up))
    except MeshFault:
        return None
    return columns, part_at(columns, 0.0, loose=False)


def _free(mesh: Mesh, up: str) -> bool:
    """Whether nothing is shut in along an axis."""
    seen = _along(mesh, up)
    return seen is not None and seen[1].trapped <= seen[1].noise
