"""Joins: where one section passes into another.

A join takes the shared area off both bodies, and is a way along which feed metal can flow. It may
be told by either section or by both.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from .faces import Face
from .section import Fault, Section

ROUNDED = 0.01
"""How far a shared area may differ from a face (or from the other section's word) because
somebody rounded it, as a fraction."""

MATCHING = 0.05
"""A join within this fraction of a whole face is taken to be on that face."""


@dataclass(frozen=True, slots=True)
class Joint:
    """One join between two sections, by name in alphabetical order; area in m^2.

    ``faces`` are the faces named on either side, ``pointers`` where the join was told.
    """

    names: tuple[str, str]
    area: float
    faces: tuple[str | None, str | None]
    pointers: tuple[str, ...]


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
            fault = _fault(section, join.to, join.area, by_name, place)
            if fault is not None:
                faults.append(fault)
                continue
            first = section.name < join.to
            names = (section.name, join.to) if first else (join.to, section.name)
            told = (join.face, None) if first else (None, join.face)
            new = Joint(names, join.area, told, (place,))
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


def _merged(old: Joint, new: Joint, pointer: str, number: int) -> Joint | Fault:
    """The same join told from its other end; two in one section, or two areas, are a fault."""
    (place,) = new.pointers
    if any(told.startswith(f"{pointer}/{number}/") for told in old.pointers):
        detail = "these two sections are already joined: give one join with the whole shared area"
        return Fault(f"{place}/to", "inconsistent", detail)
    if abs(old.area - new.area) > ROUNDED * max(old.area, new.area):
        detail = "the other section tells a different area for this join"
        return Fault(f"{place}/area", "inconsistent", detail)
    faces = (old.faces[0] or new.faces[0], old.faces[1] or new.faces[1])
    return Joint(old.names, max(old.area, new.area), faces, (*old.pointers, place))


def cover(
    name: str, faces: Sequence[Face], states: Mapping[str, str], among: Iterable[Joint]
) -> tuple[dict[str, float], list[Fault]]:
    """How much of each face (m^2) of one section its joins cover.

    A join that names its face lies there. Otherwise faces said to be ``joined`` take it; then a
    cooling face that it matches in size (of equal ones the bottom: the smaller body stands on
    the larger); then the largest cooling face, of equal ones the top, and the next when that is
    full. Only curvature, edges and what is left for a riser's foot depend on this choice, never
    the cooling area.
    """
    covered = {face.name: 0.0 for face in faces}
    whole = {face.name: face.area for face in faces}
    faults: list[Fault] = []
    for joint in sorted(among, key=lambda joint: (_own_face(joint, name) is None, -joint.area, joint.names)):
        face = _own_face(joint, name)
        if face is not None:
            covered[face] += joint.area
            over = covered[face] / whole[face]
            if over > 1.0 + ROUNDED:
                faults.extend(_too_large(joint, f"the face {face!r} of {name!r}", over))
            continue
        left = _poured(joint.area, covered, whole, [f for f in whole if states[f] == "joined"])
        cooling = [f for f in whole if states[f] == "cooling"]
        matching = [f for f in cooling if covered[f] == 0.0 and _matches(left, whole[f])]
        if left > 0.0 and matching:
            best = min(matching, key=lambda f: (abs(left - whole[f]), f != "bottom"))
            covered[best] += left
            continue
        left = _poured(left, covered, whole, cooling)
        if left > ROUNDED * joint.area:
            room = joint.area - left
            over = joint.area / room if room > 0.0 else float("inf")
            faults.extend(_too_large(joint, f"the surface left on {name!r}", over))
    return {face: min(area, whole[face]) for face, area in covered.items()}, faults


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
