"""The bodies of a freeze map: casting, risers, cores, chills, sleeves, each of its own substance."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ..freeze_map.mapping import Body
from ..freeze_map.substances import Medium as MapMedium
from ..freeze_map.substances import Metal as MapMetal
from ..geometry.mesh import Mesh
from ..ledger import Ledger, MissingValue, Say
from .freeze_map import medium_in_map
from .heat import MouldCase
from .metal import medium_of
from .plan_map import Frame, Point, foot_at, prism

Floats = NDArray[np.float64]

ROLES = ("riser", "core", "chill", "sleeve")
"""What a further mesh may be, in the order in which they fill the mould: the first of two is there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MapBodyCase:
    """A further mesh in the unit and axes of the casting's; ``medium`` is what a core, chill or sleeve is
    made of."""

    role: str
    id: str
    name: str | None = None
    medium: MouldCase = field(default_factory=MouldCase)
    mesh: Mesh | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MapRiserCase:
    """A round riser (m), over what freezes last or over the place ``at`` (m, in the axes of the file)."""

    diameter: float
    height: float
    at: Point | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mould:
    """Everything in the mould, in the order in which it fills it; the first body is the casting.

    ``foot`` is the middle of the round riser's foot, None without one.
    """

    bodies: tuple[Body, ...]
    risers: tuple[int, ...]
    foot: Point | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """The bodies' names."""
        return tuple(body.name for body in self.bodies)


def further_bodies(
    cases: Sequence[MapBodyCase],
    frame: Frame,
    factor: float,
    metal: MapMetal,
    mould: MapMedium,
    ledger: Ledger,
) -> list[tuple[str, Body]]:
    """The further meshes with their roles; ``factor`` is m per unit of the file.

    A core of which nothing is said is of the mould's own medium. Raises MissingValue for a chill or
    sleeve of an unknown medium.
    """
    made = []
    for index, case in enumerate(cases):
        if case.mesh is None:
            continue
        substance: MapMetal | MapMedium = metal
        if case.role != "riser":
            substance = _medium(case, index, mould, ledger)
        name = case.name or f"{case.role} {index + 1}"
        made.append((case.role, Body(name, frame.upright(case.mesh.triangles * factor), substance)))
    return sorted(made, key=lambda one: ROLES.index(one[0]))


def _medium(case: MapBodyCase, index: int, mould: MapMedium, ledger: Ledger) -> MapMedium:
    if not case.medium.says_anything():
        if case.role == "core":
            return mould
        why = Say("Say what the {role} is made of (medium).", role=case.role)
        raise MissingValue(ledger.lack(f"/bodies/{index}/medium", why))
    here = ledger.seen_from(mould=f"/bodies/{index}/medium", _="")
    return medium_in_map(medium_of(case.medium.medium, case.medium.given(), here))


def without_risers(casting: Floats, metal: MapMetal, further: Sequence[tuple[str, Body]]) -> Mould:
    """The casting with its cores and chills alone."""
    others = tuple(body for role, body in further if role not in ("riser", "sleeve"))
    return Mould(bodies=(Body("casting", casting, metal), *others), risers=())


def with_risers(
    casting: Floats,
    metal: MapMetal,
    further: Sequence[tuple[str, Body]],
    riser: MapRiserCase | None,
    over: Point,
) -> Mould:
    """Everything as it is poured; the round riser stands on the casting at or over a place (upright, m)."""
    bodies, foot = [Body("casting", casting, metal)], None
    if riser is not None:
        foot = foot_at(casting, over[0], over[1], riser.diameter)
        bodies.append(Body("riser", prism(riser.diameter, riser.height, foot), metal))
    meshes = [body for role, body in further if role == "riser"]
    risers = tuple(range(1, len(bodies) + len(meshes)))
    return Mould(bodies=(*bodies, *(body for _, body in further)), risers=risers, foot=foot)
