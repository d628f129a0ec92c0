"""Sections measured: volume, cooling surface, modulus and curvature of every part of a casting.

:func:`measure` is the way in. ``FACES``, ``FACE_GROUPS`` and ``DIMENSIONS`` say what each shape is
described by. All numbers SI.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..formula import step
from .bores import drilled, name_of
from .faces import AXES, DIMENSIONS, FACE_GROUPS, FACES, Body, Edge, body
from .joins import components, cover, feed_graph, joints
from .section import (
    CORE_SHAPES,
    JOIN_KINDS,
    STATES,
    Bore,
    Core,
    Fault,
    Join,
    Section,
    SectionFault,
    bore_volume,
    faults_of,
)

__all__ = [
    "AXES",
    "CORE_SHAPES",
    "DIMENSIONS",
    "FACES",
    "FACE_GROUPS",
    "JOIN_KINDS",
    "STATES",
    "Bore",
    "Core",
    "CoredWall",
    "FaceMeasure",
    "Fault",
    "Join",
    "Section",
    "SectionFault",
    "SectionMeasure",
    "bore_volume",
    "components",
    "feed_graph",
    "height_bounds",
    "measure",
    "total_volume",
]

EDGES_COOL_TO = 10.0
"""A plate's edges cool, unless told otherwise, where its width is at most this many thicknesses."""

COVERED = 0.95
"""A face of which joins cover this share has no free edge left."""


@dataclass(frozen=True, slots=True)
class FaceMeasure:
    """One face: its state, its whole area, and the area that cools or touches a core (m^2).

    ``joined_area`` is what joins cover. ``edge_curvature`` (m) is what the face's cooling edges add
    to the section's curvature, and what it would lose were the face covered. ``length`` and
    ``width`` (m) are the plan size of a flat face, None for a curved one; ``across`` (m) is how far
    the end of a ring reaches over its hole. ``solid_share`` is metal over metal and holes.
    ``kept_off`` says that no riser may stand on it.
    """

    name: str
    state: str
    area: float
    joined_area: float
    cooling_area: float
    cored_area: float
    edge_curvature: float
    length: float | None
    width: float | None
    across: float | None = None
    solid_share: float = 1.0
    kept_off: bool = False


@dataclass(frozen=True, slots=True)
class CoredWall:
    """Surface that touches one core (m^2), and that core; None where nobody has described it."""

    area: float
    core: Core | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionMeasure:
    """What a section is to the heat: of one piece, SI.

    ``modulus`` is V/A of the cooling faces (None where only cored faces cool). ``curvature`` is
    K, m: the mean curvature (k1 + k2)/2 summed over the cooling surface, outward convex positive,
    plus the edge coefficient for each metre of edge between two cooling faces;
    ``curvature_factor`` is g = K V/A^2. A custom shape's curvature is not known: it counts as 0
    and ``curvature_known`` is False. ``thickness`` is the wall that a pour must fill, ``height``
    is None for a custom shape. ``edges_cool`` is None but for plates; ``edges_by_default`` says
    that the proportions decided it. ``cored`` tells the surfaces of ``cored_area`` apart by their
    cores: the faces that touch ``core``, and each kind of bore. ``core_by_default`` says that the
    core of a tube or ring was derived. ``bearing`` names for each neighbour the face that bears most of
    the join with it.
    """

    name: str
    shape: str
    count: int
    volume: float
    cooling_area: float
    cored_area: float
    modulus: float | None
    curvature: float
    curvature_factor: float | None
    curvature_known: bool
    thickness: float
    height: float | None
    edges_cool: bool | None
    edges_by_default: bool
    core: Core | None
    core_by_default: bool
    cored: tuple[CoredWall, ...]
    faces: tuple[FaceMeasure, ...]
    bearing: tuple[tuple[str, str], ...] = ()

    def face(self, name: str) -> FaceMeasure:
        """A face by name; KeyError (naming the faces there are) if there is none."""
        for face in self.faces:
            if face.name == name:
                return face
        raise KeyError(f"{name}: the faces are {', '.join(face.name for face in self.faces)}")

    def flat_area(self, name: str) -> float | None:
        """The flat cooling area (m^2) that a face offers to a riser's foot; None if it is curved."""
        face = self.face(name)
        return None if face.width is None else face.cooling_area


def measure(sections: Sequence[Section], pointer: str = "/sections") -> tuple[SectionMeasure, ...]:
    """Measure every section, in the order given; the order changes no number.

    ``pointer`` is the place of the list in the request. Raises SectionFault with every fault:
    unknown shapes, dimensions, faces or join targets, names used twice, joins larger than what
    they lie on, joins of a counted section, and bodies with nothing left that cools.
    """
    faults = _name_faults(sections, pointer)
    bodies: dict[str, Body] = {}
    for number, section in enumerate(sections):
        own = faults_of(section, f"{pointer}/{number}")
        faults.extend(own)
        if not own:
            with step("section", section.name):
                whole = body(section.shape, section.dimensions)
                bodies[section.name] = drilled(section, whole) if section.bores else whole
    found, joining = joints(sections, pointer)
    faults.extend(joining)
    if len({section.name for section in sections}) < len(sections):
        raise _all(faults)  # whom a join means cannot be told
    measured = []
    for number, section in enumerate(sections):
        if section.name not in bodies:
            continue
        states, edges_cool = _states(section)
        among = [joint for joint in found if section.name in joint.names]
        walls = {name_of(place) for place in range(len(section.bores))}
        outer = [face for face in bodies[section.name].faces if face.name not in walls]
        covered, bearing, over = cover(section.name, outer, states, among)
        faults.extend(over)
        one = _measured(section, bodies[section.name], states, edges_cool, covered)
        one = replace(one, bearing=tuple(sorted(bearing.items())))
        if one.cooling_area + one.cored_area <= 0.0 and not over:
            detail = "nothing of this section is left to cool: every face is blocked"
            faults.append(Fault(f"{pointer}/{number}/faces", "inconsistent", detail))
        measured.append(one)
    if faults:
        raise _all(faults)
    return tuple(measured)


def _all(faults: list[Fault]) -> SectionFault:
    """The faults in the order of their places, each once."""
    return SectionFault(tuple(dict.fromkeys(sorted(faults, key=lambda fault: fault.pointer))))


def _name_faults(sections: Sequence[Section], pointer: str) -> list[Fault]:
    seen: set[str] = set()
    faults = []
    for number, section in enumerate(sections):
        if section.name in seen:
            detail = f"another section is already called {section.name!r}"
            faults.append(Fault(f"{pointer}/{number}/name", "inconsistent", detail))
        seen.add(section.name)
    return faults


def _states(section: Section) -> tuple[dict[str, str], bool | None]:
    """The state of every face, and for a plate whether its edges cool."""
    states = dict.fromkeys(FACES[section.shape], "cooling")
    edges_cool: bool | None = None
    groups = FACE_GROUPS[section.shape]
    if section.shape == "plate":
        sizes = section.dimensions
        width = min(sizes["length"], sizes["width"])
        broad = width > EDGES_COOL_TO * sizes["thickness"] * (1.0 + 1e-9)
        edges_cool = section.edges_cool if section.edges_cool is not None else not broad
        if not edges_cool:
            # The plate goes on beyond them, but no join is meant by that.
            states.update(dict.fromkeys(groups["edges"], "insulated"))
    for name in sorted(groups.keys() & section.faces.keys(), key=lambda name: -len(groups[name])):
        states.update(dict.fromkeys(groups[name], section.faces[name]))
    states.update({name: state for name, state in section.faces.items() if name in states})
    for number, bore in enumerate(section.bores):
        states[name_of(number)] = "cored" if bore.cored else "cooling"
    return states, edges_cool


def _measured(
    section: Section,
    whole: Body,
    states: Mapping[str, str],
    edges_cool: bool | None,
    covered: Mapping[str, float],
) -> SectionMeasure:
    faces, curvatures, free = [], [], set()
    groups = FACE_GROUPS[section.shape]
    kept = {name for told in section.keep_off for name in groups.get(told, (told,))}
    for face in whole.faces:
        state, joined = states[face.name], covered.get(face.name, 0.0)
        left = face.area - joined
        left = left if left > 1e-9 * face.area else 0.0
        share = left / face.area if face.area > 0.0 else 0.0
        if state == "cooling":
            curvatures.append(face.curvature * share)
            if joined < COVERED * face.area:
                free.add(face.name)
        faces.append(
            FaceMeasure(
                name=face.name,
                state="joined" if left == 0.0 and joined > 0.0 else state,
                area=face.area,
                joined_area=joined,
                cooling_area=left if state == "cooling" else 0.0,
                cored_area=left if state == "cored" else 0.0,
                edge_curvature=0.0,
                length=face.length,
                width=face.width,
                across=face.across,
                solid_share=face.area / (face.area + face.bored_area) if face.area > 0.0 else 1.0,
                kept_off=face.name in kept,
            )
        )
    sharp = [edge for edge in whole.edges if edge.first in free and edge.second in free]
    edges = [edge.coefficient * edge.length for edge in sharp]
    faces = [replace(face, edge_curvature=_edges_of(face.name, sharp)) for face in faces]
    cooling = math.fsum(face.cooling_area for face in faces)
    curvature = math.fsum((*curvatures, *edges))
    core = section.core or _bore_core(section, states)
    return SectionMeasure(
        name=section.name,
        shape=section.shape,
        count=section.count,
        volume=whole.volume,
        cooling_area=cooling,
        cored_area=math.fsum(face.cored_area for face in faces),
        modulus=whole.volume / cooling if cooling > 0.0 else None,
        curvature=curvature,
        curvature_factor=curvature * whole.volume / cooling**2 if cooling > 0.0 else None,
        curvature_known=section.shape != "custom",
        thickness=whole.thickness,
        height=whole.height,
        edges_cool=edges_cool,
        edges_by_default=edges_cool is not None and section.edges_cool is None,
        core=core,
        core_by_default=core is not None and section.core is None,
        cored=_cored_walls(section, core, faces),
        faces=tuple(faces),
    )


def _cored_walls(section: Section, core: Core | None, faces: Sequence[FaceMeasure]) -> tuple[CoredWall, ...]:
    """The cored surfaces by their cores; a core fills its bore, so its V/A is a quarter of it."""
    bores = {name_of(number): bore for number, bore in enumerate(section.bores)}
    area = math.fsum(face.cored_area for face in faces if face.name not in bores)
    walls = [CoredWall(area, core)] if area > 0.0 else []
    walls += [
        CoredWall(face.cored_area, Core(shape="cylinder", modulus=bores[face.name].diameter / 4.0))
        for face in faces
        if face.name in bores and face.cored_area > 0.0
    ]
    return tuple(walls)


def _edges_of(face: str, edges: Sequence[Edge]) -> float:
    """What the edges of one face add to the curvature, m."""
    return math.fsum(edge.coefficient * edge.length for edge in edges if face in (edge.first, edge.second))


def _bore_core(section: Section, states: Mapping[str, str]) -> Core | None:
    """The core of a cored bore: it fills the hole, so its V/A is a quarter of the bore."""
    if [name for name, state in states.items() if state == "cored"] != ["inside"]:
        return None
    sizes = section.dimensions
    bore = sizes.get("inner_diameter") or sizes["mean_diameter"] - sizes["section_width"]
    return Core(shape="cylinder", modulus=bore / 4.0)


def total_volume(measures: Sequence[SectionMeasure]) -> float:
    """Volume of all sections together, m^3, each as often as it counts."""
    return math.fsum(one.count * one.volume for one in measures)


def height_bounds(
    sections: Sequence[Section], measures: Sequence[SectionMeasure]
) -> tuple[float, float] | None:
    """Least and greatest height (m) that the casting can have.

    How joined sections stand to one another is not told: at least the tallest of them, at most
    all of a joined body on top of each other. None where a section's height is not known.
    """
    heights = {one.name: one.height for one in measures if one.height is not None}
    if not measures or len(heights) < len(measures):
        return None
    stacks = (math.fsum(heights[name] for name in names) for names in components(feed_graph(sections)))
    return max(heights.values()), max(stacks)
