"""Joins: where one section passes into another.

A join takes the shared area off both bodies, and is a way along which feed metal can flow. It may
be told by either section or by both.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from .circles import SHARPEST_ANGLE, WIDEST_ANGLE
from .faces import Face
from .section import JOIN_KINDS, LENGTHS, Fault, Join, Section

ROUNDED = 0.01
"""How far a shared area may differ from a face (or from the other section's word) because
somebody rounded it, as a fraction."""

MATCHING = 0.05
"""A join within this fraction of a whole face is taken to be on that face."""


@dataclass(frozen=True, slots=True)
class Joint:
    """One join between two sections, by name in alphabetical order; area in m^2.

    ``faces`` are the faces named on either side, ``pointers`` where the join was told. ``kind``,
    ``fillet`` (m) and ``angle`` (rad) are None where nobody told them.
    """

    names: tuple[str, str]
    area: float
    faces: tuple[str | None, str | None]
    pointers: tuple[str, ...]
    kind: str | None = None
    fillet: float | None = None
    angle: float | None = None


def joints(sections: Sequence[Section], pointer: str) -> tuple[tuple[Joint, ...], list[Fault]]:
    """Every join once, sorted by name, and what is wrong with the joins as such.

    ``pointer`` is the list's place in the request, such as ``/sections``.
    """
    by_name = {section.name: section for section in sections}
    known: dict[tuple[str, str], Joint] = {}
    faults: list[Fault] = []
    for number, section in enumerate(sections):
        for order, join in enumerate(section.joins):
            place = f"{pointer}/{number}/joins/{order}"
            fault = _fault(section, join.to, join.area, by_name, place) or _corner_fault(join, place)
            if fault is not None:
                faults.append(fault)
                continue
            first = section.name < join.to
            names = (section.name, join.to) if first else (join.to, section.name)
            told = (join.face, None) if first else (None, join.face)
            new = Joint(names, join.area, told, (place,), join.kind, join.fillet, join.angle)
            merged = _merged(known[names], new, pointer, number) if names in known else new
            if isinstance(merged, Fault):
                faults.append(merged)
            else:
                known[names] = merged
    return tuple(known[names] for names in sorted(known)), faults


def _fault(
    section: Section, to: str, area: float, by_name: Mapping[str, Section], place: str
) -> Fault | None:
    if to == section.name:
        return Fault(f"{place}/to", "inconsistent", "a section cannot be joined to itself")
    if to not in by_name:
        others = tuple(sorted(name for name in by_name if name != section.name))
        return Fault(f"{place}/to", "not_a_choice", f"no section is called {to!r}", others)
    if section.count > 1 or by_name[to].count > 1:
        many = section.name if section.count > 1 else to
        detail = f"{many!r} stands for several pieces (count); a join needs a section of one piece"
        return Fault(place, "inconsistent", detail)
    if not 0.0 < area <= 1e4:
        return Fault(f"{place}/area", "out_of_bounds", "the shared area is not one a casting can have")
    return None


def _corner_fault(join: Join, place: str) -> Fault | None:
    """What is wrong with the way in which two walls are said to meet."""
    if join.kind is not None and join.kind not in JOIN_KINDS:
        return Fault(f"{place}/kind", "not_a_choice", f"walls do not meet in a {join.kind!r}", JOIN_KINDS)
    if join.fillet is not None and not 0.0 <= join.fillet <= LENGTHS[1]:
        return Fault(f"{place}/fillet", "out_of_bounds", "fillet is not one a casting can have (0 to 100 m)")
    if join.angle is None:
        return None
    if join.kind in ("straight", "cross", "wye"):
        detail = f"a {join.kind} has no angle of its own; only a corner or a tee has one"
        return Fault(f"{place}/angle", "inconsistent", detail)
    if not SHARPEST_ANGLE - 1e-9 <= join.angle <= WIDEST_ANGLE + 1e-9:
        return Fault(f"{place}/angle", "out_of_bounds", "angle must be from 30 to 150 degrees")
    return None


def _merged(old: Joint, new: Joint, pointer: str, number: int) -> Joint | Fault:
    """The same join told from its other end; two in one section, or two areas, are a fault."""
    (place,) = new.pointers
    if any(told.startswith(f"{pointer}/{number}/") for told in old.pointers):
        detail = "these two sections are already joined: give one join with the whole shared area"
        return Fault(f"{place}/to", "inconsistent", detail)
    if abs(old.area - new.area) > ROUNDED * max(old.area, new.area):
        detail = "the other section tells a different area for this join"
        return Fault(f"{place}/area", "inconsistent", detail)
    if old.kind is not None and new.kind is not None and old.kind != new.kind:
        detail = f"the other section says that they meet in a {old.kind}"
        return Fault(f"{place}/kind", "inconsistent", detail)
    for name, first, second in (("fillet", old.fillet, new.fillet), ("angle", old.angle, new.angle)):
        if first is not None and second is not None and abs(first - second) > ROUNDED * max(first, second):
            return Fault(f"{place}/{name}", "inconsistent", f"the other section tells a different {name}")
    faces = (old.faces[0] or new.faces[0], old.faces[1] or new.faces[1])
    return Joint(
        names=old.names,
        area=max(old.area, new.area),
        faces=faces,
        pointers=(*old.pointers, place),
        kind=old.kind or new.kind,
        fillet=_larger(old.fillet, new.fillet),
        angle=_larger(old.angle, new.angle),
    )


def _larger(first: float | None, second: float | None) -> float | None:
    """The larger of two words on the same number, of which either may be missing."""
    told = [one for one in (first, second) if one is not None]
    return max(told, default=None)


def cover(
    name: str, faces: Sequence[Face], states: Mapping[str, str], among: Iterable[Joint]
) -> tuple[dict[str, float], dict[str, str], list[Fault]]:
    """How much of each face (m^2) of one section its joins cover, and which face bears most of each.

    The second is by neighbour: the name of a face.

    A join that names its face lies there. Otherwise faces said to be ``joined`` take it; then a
    cooling face that it matches in size (of equal ones the bottom: the smaller body stands on
    the larger); then the largest cooling face, of equal ones the top, and the next when that is
    full. Only curvature, edges, junctions and what is left for a riser's foot depend on this
    choice, never the cooling area.
    """
    covered = {face.name: 0.0 for face in faces}
    bearing: dict[str, str] = {}
    whole = {face.name: face.area for face in faces}
    faults: list[Fault] = []
    for joint in sorted(among, key=lambda joint: (_own_face(joint, name) is None, -joint.area, joint.names)):
        before = dict(covered)
        faults += _lay(joint, name, covered, whole, states)
        other = joint.names[1 - joint.names.index(name)]
        bearing[other] = max(whole, key=lambda face: covered[face] - before[face])
    return {face: min(area, whole[face]) for face, area in covered.items()}, bearing, faults


def _lay(
    joint: Joint, name: str, covered: dict[str, float], whole: Mapping[str, float], states: Mapping[str, str]
) -> list[Fault]:
    """Add one join to what is covered of a section's faces; the faults of one that finds no room."""
    face = _own_face(joint, name)
    if face is not None:
        covered[face] += joint.area
        over = covered[face] / whole[face]
        if over > 1.0 + ROUNDED:
            return _too_large(joint, f"the face {face!r} of {name!r}", over)
        return []
    left = _poured(joint.area, covered, whole, [f for f in whole if states[f] == "joined"])
    cooling = [f for f in whole if states[f] == "cooling"]
    matching = [f for f in cooling if covered[f] == 0.0 and _matches(left, whole[f])]
    if left > 0.0 and matching:
        best = min(matching, key=lambda f: (abs(left - whole[f]), f != "bottom"))
        covered[best] += left
        return []
    left = _poured(left, covered, whole, cooling)
    if left > ROUNDED * joint.area:
        room = joint.area - left
        over = joint.area / room if room > 0.0 else float("inf")
        return _too_large(joint, f"the surface left on {name!r}", over)
    return []


def _own_face(joint: Joint, name: str) -> str | None:
    return joint.faces[joint.names.index(name)]


def _matches(area: float, face: float) -> bool:
    return (1.0 - MATCHING) * face <= area <= (1.0 + ROUNDED) * face


def _poured(area: float, covered: dict[str, float], whole: Mapping[str, float], onto: Sequence[str]) -> float:
    """Spread an area over faces, the one with most room first; returns what found no room."""
    for face in sorted(onto, key=lambda face: covered[face] - whole[face]):
        taken = min(area, max(whole[face] - covered[face], 0.0))
        covered[face] += taken
        area -= taken
    return area


def _too_large(joint: Joint, where: str, over: float) -> list[Fault]:
    much = "there is none" if over == float("inf") else f"{over:.3g} times as much"
    detail = f"the join of {joint.names[0]!r} and {joint.names[1]!r} needs more than {where} ({much})"
    return [Fault(f"{place}/area", "inconsistent", detail) for place in joint.pointers]


def feed_graph(sections: Sequence[Section]) -> dict[str, dict[str, float]]:
    """Which sections are joined: name -> {name of a neighbour: shared area, m^2}, sorted by name.

    Joins that are faulty are left out; :func:`.sections.measure` reports them.
    """
    graph: dict[str, dict[str, float]] = {name: {} for name in sorted(s.name for s in sections)}
    found, _ = joints(sections, "/sections")
    for joint in found:
        first, second = joint.names
        graph[first][second] = joint.area
        graph[second][first] = joint.area
    return graph


def components(graph: Mapping[str, Iterable[str]]) -> tuple[tuple[str, ...], ...]:
    """The bodies that hang together, each as its sorted names; sorted by first name."""
    seen: set[str] = set()
    found: list[tuple[str, ...]] = []
    for start in sorted(graph):
        if start in seen:
            continue
        body, waiting = {start}, [start]
        while waiting:
            for other in graph[waiting.pop()]:
                if other not in body:
                    body.add(other)
                    waiting.append(other)
        seen |= body
        found.append(tuple(sorted(body)))
    return tuple(found)
