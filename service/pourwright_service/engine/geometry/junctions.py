"""Junctions: which walls meet where two sections are joined, and how.

A section that ends on another with a whole face is a branch as thick as that face's smaller side; a
section that goes on past the join is a wall as thick as it is behind the face. All numbers SI.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ..formula import paused
from .circles import SHARPEST_ANGLE, WIDEST_ANGLE, corner_circle, cross_circle, tee_circle, wye_circle
from .faces import FACE_GROUPS
from .joins import Joint
from .sections import COVERED, FaceMeasure, SectionMeasure

SQUARE = math.pi / 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """Two walls that meet: the names, which of them goes on (``wall``) and which ends (``branch``).

    ``thickness`` and ``branch_thickness`` in m. ``suggested`` is the kind that the faces tell:
    ``straight`` where each ends in the other, else ``tee``.
    """

    joint: Joint
    wall: str
    branch: str
    thickness: float
    branch_thickness: float
    suggested: str

    @property
    def thick(self) -> float:
        """The thicker wall, m."""
        return max(self.thickness, self.branch_thickness)

    @property
    def thin(self) -> float:
        """The thinner wall, m."""
        return min(self.thickness, self.branch_thickness)

    @property
    def heavier(self) -> str:
        """Name of the section with the thicker wall; of equal ones the wall that goes on."""
        return self.branch if self.branch_thickness > self.thickness else self.wall


def meeting(joint: Joint, measures: Mapping[str, SectionMeasure]) -> Meeting:
    """The walls that meet at a join, whichever section told it."""
    sides = [_side(measures[name], joint, other) for name, other in (joint.names, joint.names[::-1])]
    # The branch covers the larger share of its face; of equal shares the thinner one is the branch.
    wall, branch = sorted(sides, key=lambda side: (side.share, -side.thickness, side.name))
    return Meeting(
        joint=joint,
        wall=wall.name,
        branch=branch.name,
        thickness=wall.thickness,
        branch_thickness=branch.thickness,
        suggested="straight" if wall.share == 1.0 and branch.share == 1.0 else "tee",
    )


@dataclass(frozen=True, slots=True)
class _Side:
    name: str
    share: float
    thickness: float


def _side(one: SectionMeasure, joint: Joint, other: str) -> _Side:
    face = one.face(dict(one.bearing)[other])
    told = joint.faces[joint.names.index(one.name)] is not None
    share = min(joint.area / face.area, 1.0)
    if share < COVERED:
        return _Side(one.name, share, _behind(one, face))
    if one.shape == "plate" and face.name in FACE_GROUPS["plate"]["edges"] and not told:
        # A rib is as likely to be as large as the plate's edge by chance: it stands on the plate.
        return _Side(one.name, 0.0, one.thickness)
    return _Side(one.name, 1.0, _across(one, face))


def _across(one: SectionMeasure, face: FaceMeasure) -> float:
    """The smaller side of a face; of a curved one the section's wall."""
    return one.thickness if face.width is None or face.length is None else min(face.length, face.width)


def _behind(one: SectionMeasure, face: FaceMeasure) -> float:
    """How thick the section is behind a flat face; behind a curved one its wall."""
    return one.volume / face.area if _even(one, face) else one.thickness


def _even(one: SectionMeasure, face: FaceMeasure) -> bool:
    """Whether the section is as thick behind every point of the face."""
    return one.shape in ("plate", "bar", "cylinder", "tube", "ring", "hexagon") and face.width is not None


def circle_at(met: Meeting, kind: str, fillet: float, angle: float) -> float:
    """Diameter (m) of the largest circle where the walls meet.

    ``kind`` is one of :data:`.section.JOIN_KINDS`; ``fillet`` in m; ``angle`` in rad, of which a
    tee takes the sharper side. The third wall of a Y is not described: all three are taken as
    thick as the thicker.
    """
    angle = min(max(angle, SHARPEST_ANGLE), WIDEST_ANGLE)
    if kind == "corner":
        return corner_circle(met.thickness, met.branch_thickness, fillet, angle)
    if kind == "tee":
        sharper = max(min(angle, math.pi - angle), SHARPEST_ANGLE)
        with paused():
            corner = corner_circle(met.thickness, met.branch_thickness, fillet, sharper)
        return tee_circle(met.thickness, met.branch_thickness, fillet, sharper, corner)
    if kind == "cross":
        return cross_circle(met.thickness, met.branch_thickness, fillet)
    if kind == "wye":
        return wye_circle(met.thick, fillet)
    return met.thick
