"""One section of a casting, as the caller describes it, and what can be wrong with it.

Everything is SI: lengths in m, areas in m^2, volumes in m^3.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from .faces import AXES, DIMENSIONS, FACE_GROUPS, FACES, body

STATES = ("cooling", "joined", "cored", "insulated")
"""What a face may do: lose heat to the mould (the default), continue in another body, touch a
core, or be kept warm (a sleeve, a hot topping, metal that freezes with it)."""

CORE_SHAPES = ("slab", "cylinder", "sphere")
"""Shapes of core whose uptake of heat is known exactly."""

JOIN_KINDS = ("straight", "corner", "tee", "cross", "wye")
"""How two walls meet: one goes on in the other, an L, a T, a square +, or a Y of 120 degrees."""

LENGTHS = (1e-5, 100.0)
"""Lengths that a casting may have, m; the bounds keep every later number finite."""

_BOUNDS = {"volume": (1e-15, 1e6), "cooling_area": (1e-10, 1e4)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Where a section is one with another: the other's name and the shared area (m^2).

    ``face`` names the face of the section that bears the join; without it the face is chosen,
    see :func:`.joins.cover`. ``kind`` is one of :data:`JOIN_KINDS`, ``fillet`` (m) the radius of
    its hollow, ``angle`` (rad) the one between the walls; None lets :mod:`.junctions` choose.
    """

    to: str
    area: float
    face: str | None = None
    kind: str | None = None
    fillet: float | None = None
    angle: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Core:
    """The core behind a section's cored faces: its shape, and its V/A (m)."""

    shape: str
    modulus: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """Round holes right through a section: diameter (m), direction, and how many alike.

    ``axis`` is the dimension that they run along. ``cored`` holes are filled by cores; in the
    others stands the mould's own sand.
    """

    diameter: float
    axis: str = "height"
    cored: bool = True
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A simple body: part of a casting, or a whole one.

    ``dimensions`` are those of :data:`.faces.DIMENSIONS` for the shape. ``faces`` gives states
    by face or group of faces; faces not named cool. ``edges_cool`` (plates only) says whether
    the narrow faces lose heat; None lets the proportions decide. ``bores`` go through it, and
    through each other nowhere. ``count`` equal pieces. ``keep_off`` names faces, or groups of
    them, that no riser may stand on: threads, faces that show.
    """

    name: str
    shape: str
    dimensions: Mapping[str, float]
    count: int = 1
    faces: Mapping[str, str] = field(default_factory=dict)
    edges_cool: bool | None = None
    core: Core | None = None
    bores: tuple[Bore, ...] = ()
    joins: tuple[Join, ...] = ()
    keep_off: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong: where (a JSON pointer), a code, a sentence, and what would be accepted.

    Codes: ``missing_field``, ``unknown_field``, ``not_a_choice``, ``out_of_bounds``, ``inconsistent``.
    """

    pointer: str
    code: str
    detail: str
    accepted: tuple[str, ...] = ()


class SectionFault(ValueError):
    """The sections contradict themselves or each other; ``faults`` names every place."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        super().__init__("; ".join(f"{fault.pointer}: {fault.detail}" for fault in faults))


def faults_of(section: Section, pointer: str) -> list[Fault]:
    """What is wrong with one section by itself; ``pointer`` is its place in the request."""
    if section.shape not in DIMENSIONS:
        detail = f"no shape is called {section.shape!r}"
        return [Fault(f"{pointer}/shape", "not_a_choice", detail, tuple(DIMENSIONS))]
    faults = _dimension_faults(section, pointer)
    if not faults:
        faults = _proportion_faults(section, pointer) or _bore_faults(section, pointer)
    return [*faults, *_face_faults(section, pointer), *_other_faults(section, pointer)]


def _dimension_faults(section: Section, pointer: str) -> list[Fault]:
    needed = DIMENSIONS[section.shape]
    faults = [
        Fault(f"{pointer}/{name}", "unknown_field", f"a {section.shape} has no {_words(name)}", needed)
        for name in section.dimensions
        if name not in needed
    ]
    for name in needed:
        if name not in section.dimensions:
            detail = f"a {section.shape} needs its {_words(name)}"
            faults.append(Fault(f"{pointer}/{name}", "missing_field", detail, needed))
        elif not _possible(name, section.dimensions[name]):
            detail = f"{_words(name)} is not one a casting can have (a length: 0.01 mm to 100 m)"
            faults.append(Fault(f"{pointer}/{name}", "out_of_bounds", detail))
    return faults


def _possible(name: str, value: float) -> bool:
    low, high = _BOUNDS.get(name, LENGTHS)
    if name == "upper_diameter" and value == 0.0:
        return True
    return math.isfinite(value) and low <= value <= high


def _words(name: str) -> str:
    return name.replace("_", " ")


def _proportion_faults(section: Section, pointer: str) -> list[Fault]:
    sizes = section.dimensions
    if section.shape == "tube" and sizes["inner_diameter"] >= sizes["outer_diameter"]:
        detail = "the inner diameter must be less than the outer diameter"
        return [Fault(f"{pointer}/inner_diameter", "inconsistent", detail)]
    if section.shape == "ring" and sizes["section_width"] >= sizes["mean_diameter"]:
        detail = "the ring's section is so wide that no hole is left: give it as a cylinder"
        return [Fault(f"{pointer}/section_width", "inconsistent", detail)]
    if section.shape == "custom" and not 1e-5 <= sizes["volume"] / sizes["cooling_area"] <= 100.0:
        detail = "volume over cooling area is not a modulus a casting can have (0.01 mm to 100 m)"
        return [Fault(f"{pointer}/cooling_area", "inconsistent", detail)]
    return []


MOST_BORED = 0.9
"""Share of a body that its bores may take; beyond it, it is no longer that shape."""


def _bore_faults(section: Section, pointer: str) -> list[Fault]:
    axes = AXES[section.shape]
    faults = []
    for number, bore in enumerate(section.bores):
        place = f"{pointer}/bores/{number}"
        if bore.axis not in axes:
            detail = f"a {section.shape} cannot be bored along its {bore.axis}"
            faults.append(Fault(f"{place}/axis", "not_a_choice", detail, tuple(axes)))
            continue
        if bore.count < 1:
            faults.append(Fault(f"{place}/count", "out_of_bounds", "count must be 1 or more"))
        if not _possible("diameter", bore.diameter):
            detail = "diameter is not one a casting can have (a length: 0.01 mm to 100 m)"
            faults.append(Fault(f"{place}/diameter", "out_of_bounds", detail))
        elif bore.diameter >= min(section.dimensions[size] for size in axes[bore.axis].across):
            detail = "the bore is as wide as the section: no wall is left beside it"
            faults.append(Fault(f"{place}/diameter", "inconsistent", detail))
    if section.bores and not faults:
        whole = body(section.shape, section.dimensions).volume
        taken = sum(bore_volume(section, bore) for bore in section.bores)
        if taken > MOST_BORED * whole:
            detail = "the bores take nearly all of the section: describe what is left of it instead"
            faults.append(Fault(f"{pointer}/bores", "inconsistent", detail))
    return faults


def bore_volume(section: Section, bore: Bore) -> float:
    """What all bores of this kind take out of the section, m^3."""
    length = section.dimensions[AXES[section.shape][bore.axis].along]
    return bore.count * math.pi / 4.0 * bore.diameter**2 * length


def _face_faults(section: Section, pointer: str) -> list[Fault]:
    known = (*FACES[section.shape], *FACE_GROUPS[section.shape])
    faults = []
    for name, state in section.faces.items():
        place = f"{pointer}/faces/{escaped(name)}"
        if name not in known:
            detail = f"a {section.shape} has no face called {name!r}"
            faults.append(Fault(place, "not_a_choice", detail, known))
        elif state not in STATES:
            faults.append(Fault(place, "not_a_choice", f"a face cannot be {state!r}", STATES))
    for number, name in enumerate(section.keep_off):
        if name not in known:
            detail = f"a {section.shape} has no face called {name!r}"
            faults.append(Fault(f"{pointer}/keep_off/{number}", "not_a_choice", detail, known))
    for number, join in enumerate(section.joins):
        if join.face is not None and join.face not in FACES[section.shape]:
            detail = f"a {section.shape} has no face called {join.face!r}"
            place = f"{pointer}/joins/{number}/face"
            faults.append(Fault(place, "not_a_choice", detail, FACES[section.shape]))
    return faults


def _other_faults(section: Section, pointer: str) -> list[Fault]:
    faults = []
    if section.count < 1:
        faults.append(Fault(f"{pointer}/count", "out_of_bounds", "count must be 1 or more"))
    if section.edges_cool is not None and section.shape != "plate":
        detail = "only a plate's edges are switched together; name the faces instead"
        faults.append(Fault(f"{pointer}/edges_cool", "inconsistent", detail))
    if section.core is None:
        return faults
    if section.core.shape not in CORE_SHAPES:
        detail = f"no core shape is called {section.core.shape!r}"
        faults.append(Fault(f"{pointer}/core/shape", "not_a_choice", detail, CORE_SHAPES))
    if not _possible("modulus", section.core.modulus):
        detail = "modulus is not one a core can have (0.01 mm to 100 m)"
        faults.append(Fault(f"{pointer}/core/modulus", "out_of_bounds", detail))
    if "cored" not in section.faces.values():
        detail = "a core is given but no face is said to be cored"
        faults.append(Fault(f"{pointer}/core", "inconsistent", detail))
    return faults


def escaped(name: str) -> str:
    """A name as part of a JSON pointer (RFC 6901)."""
    return name.replace("~", "~0").replace("/", "~1")
