"""Bores: round holes right through a section, whether a core or the mould's own sand stands in them."""

import math
from dataclasses import replace

from ..bounds import above, at_least
from ..formula import CubicMetre, Metre, Ratio, SquareMetre, formula
from . import shapes
from .faces import AXES, Axis, Body, Edge, Face
from .section import Section

_POSITIVE = above(0.0)
_BORE = {"count": at_least(1.0), "diameter": _POSITIVE}


@formula(
    "V_n = V - n pi/4 d**2 h",
    symbols={"V": "volume", "n": "count", "d": "diameter", "h": "length"},
    source="DERIVED",
    place="geometry",
    valid={"volume": _POSITIVE, **_BORE, "length": _POSITIVE},
)
def bored_volume(volume: CubicMetre, count: Ratio, diameter: Metre, length: Metre) -> CubicMetre:
    """Volume that is left of a body with round holes right through it.

    volume: V, m^3, above 0, without them. count: n, at least 1. diameter: d, m, above 0. length: h,
    m, above 0, of each hole. Returns V_n, m^3. Source: DERIVED (geometry).

    >>> round(bored_volume(240e-6, 1.0, 0.03, 0.08) * 1e6, 2)
    183.45
    """
    return volume - count * math.pi / 4.0 * diameter**2 * length


@formula(
    "A_n = A - n pi/4 d**2",
    symbols={"A": "area", "n": "count", "d": "diameter"},
    source="DERIVED",
    place="geometry",
    valid={"area": _POSITIVE, **_BORE},
)
def bored_area(area: SquareMetre, count: Ratio, diameter: Metre) -> SquareMetre:
    """Area that is left of a flat face into which round holes open.

    area: A, m^2, above 0, without them. count: n, at least 1. diameter: d, m, above 0. Returns A_n,
    m^2. Source: DERIVED (geometry).

    >>> round(bored_area(30e-4, 1.0, 0.03) * 1e4, 3)
    22.931
    """
    return area - count * math.pi / 4.0 * diameter**2


def name_of(number: int) -> str:
    """Name of the wall of a section's bores, by their place from 0."""
    return f"bore {number + 1}"


def drilled(section: Section, whole: Body) -> Body:
    """The body with its section's bores; each kind of bore is a face of its own.

    A bore is hollow: the mean curvature of its wall is -1/d everywhere. Where it opens, metal
    keeps a square outer edge.
    """
    axes, sizes = AXES[section.shape], section.dimensions
    volume, faces, edges = whole.volume, {face.name: face for face in whole.faces}, list(whole.edges)
    for number, bore in enumerate(section.bores):
        axis, count = axes[bore.axis], float(bore.count)
        length = sizes[axis.along]
        volume = bored_volume(volume, count, bore.diameter, length)
        for end in axis.ends:
            face = faces[end]
            left = bored_area(face.area, count, bore.diameter)
            faces[end] = replace(face, area=left, bored_area=face.bored_area + face.area - left)
            edges.append(Edge(end, name_of(number), count * math.pi * bore.diameter))
        wall = count * shapes.cylinder_side_area(bore.diameter, length)
        faces[name_of(number)] = Face(name_of(number), wall, -count * math.pi * length)
    return Body(
        volume=volume,
        faces=tuple(faces.values()),
        edges=tuple(edges),
        thickness=min(whole.thickness, *(_wall(section, axes[name], name) for name in axes)),
        height=whole.height,
    )


def _wall(section: Section, axis: Axis, name: str) -> float:
    """The wall (m) beside the bores along one axis, taken to stand in the middle in one even row."""
    along = [bore for bore in section.bores if bore.axis == name]
    if not along:
        return math.inf
    across = sorted(section.dimensions[size] for size in axis.across)
    beside = (across[0] - max(bore.diameter for bore in along)) / 2.0
    row = across[-1] - sum(bore.count * bore.diameter for bore in along)
    between = row / (sum(bore.count for bore in along) + 1.0)
    # Bores that do not fit into one row stand otherwise, nobody said how.
    return min(beside, between) if between > 0.0 else beside
