"""The faces and edges of each simple shape: what of a body can lose heat, and through what.

Shapes stand as they are drawn: ``height`` (of a plate its ``thickness``) is vertical, so ``top``
and ``bottom`` are the flat faces above and below. Lengths in m, areas in m^2.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from . import shapes

DIMENSIONS: dict[str, tuple[str, ...]] = {
    "plate": ("length", "width", "thickness"),
    "bar": ("length", "width", "height"),
    "cylinder": ("diameter", "height"),
    "tube": ("outer_diameter", "inner_diameter", "height"),
    "ring": ("section_width", "section_height", "mean_diameter"),
    "sphere": ("diameter",),
    "cone": ("lower_diameter", "upper_diameter", "height"),
    "hexagon": ("across_flats", "height"),
    "custom": ("volume", "cooling_area"),
}
"""The dimensions that each shape needs. All are lengths but the two of ``custom``."""

_BLOCK = ("top", "bottom", "left", "right", "front", "back")
_ROUND = ("top", "bottom", "side")
_HOLLOW = ("top", "bottom", "outside", "inside")

FACES: dict[str, tuple[str, ...]] = {
    "plate": _BLOCK,
    "bar": _BLOCK,
    "cylinder": _ROUND,
    "tube": _HOLLOW,
    "ring": _HOLLOW,
    "sphere": ("surface",),
    "cone": _ROUND,
    "hexagon": _ROUND,
    "custom": ("surface",),
}
"""The faces of each shape. Of a plate or bar, ``left`` and ``right`` run along its length,
``front`` and ``back`` across it; a hexagon's ``side`` is its six flats together."""

_BLOCK_GROUPS: dict[str, tuple[str, ...]] = {
    "sides": ("left", "right"),
    "ends": ("front", "back"),
    "edges": ("left", "right", "front", "back"),
}
_END_GROUPS: dict[str, tuple[str, ...]] = {"ends": ("top", "bottom")}

FACE_GROUPS: dict[str, dict[str, tuple[str, ...]]] = {
    "plate": _BLOCK_GROUPS,
    "bar": _BLOCK_GROUPS,
    "cylinder": _END_GROUPS,
    "tube": _END_GROUPS,
    "ring": _END_GROUPS,
    "sphere": {},
    "cone": _END_GROUPS,
    "hexagon": _END_GROUPS,
    "custom": {},
}
"""Names for several faces of a shape at once; a face named by itself overrides its group."""


@dataclass(frozen=True, slots=True)
class Axis:
    """A way right through a shape: the dimension along it, those across it, the faces it opens into."""

    along: str
    across: tuple[str, ...]
    ends: tuple[str, str]


def _block_axes(upright: str) -> dict[str, Axis]:
    return {
        "height": Axis(upright, ("length", "width"), ("top", "bottom")),
        "length": Axis("length", ("width", upright), ("front", "back")),
        "width": Axis("width", ("length", upright), ("left", "right")),
    }


AXES: dict[str, dict[str, Axis]] = {
    **{shape: {} for shape in DIMENSIONS},
    "plate": _block_axes("thickness"),
    "bar": _block_axes("height"),
    "cylinder": {"height": Axis("height", ("diameter",), ("top", "bottom"))},
    "hexagon": {"height": Axis("height", ("across_flats",), ("top", "bottom"))},
}
"""The ways in which each shape can be bored; ``height`` of a plate runs through its thickness."""


@dataclass(frozen=True, slots=True)
class Face:
    """One face: its whole area (m^2) and the integral of its mean curvature (m; 0 if flat).

    ``length`` and ``width`` (m) are the plan size of a flat face (the width is what a round foot
    must fit into); None for a curved one. ``across`` (m) is how far a ring's end reaches over its
    hole. ``bored_area`` (m^2) is the hole, or what bores have taken out of the face.
    """

    name: str
    area: float
    curvature: float = 0.0
    length: float | None = None
    width: float | None = None
    across: float | None = None
    bored_area: float = 0.0


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge between two faces (or within one): its length (m) and its edge coefficient."""

    first: str
    second: str
    length: float
    coefficient: float = shapes.SQUARE_EDGE


@dataclass(frozen=True, slots=True)
class Body:
    """A whole shape: volume (m^3), faces, edges, wall thickness and height (m).

    ``thickness`` is the wall that a pour must fill. ``height`` is None for a custom body.
    """

    volume: float
    faces: tuple[Face, ...]
    edges: tuple[Edge, ...]
    thickness: float
    height: float | None


def body(shape: str, sizes: Mapping[str, float]) -> Body:
    """The body of a shape with these dimensions; KeyError for an unknown shape or a missing one."""
    return _BUILD[shape](sizes)


def _block(length: float, width: float, height: float) -> Body:
    flat = shapes.rectangle_area(length, width)
    side = shapes.rectangle_area(length, height)
    end = shapes.rectangle_area(width, height)
    faces = (
        Face("top", flat, 0.0, length, width),
        Face("bottom", flat, 0.0, length, width),
        Face("left", side, 0.0, length, height),
        Face("right", side, 0.0, length, height),
        Face("front", end, 0.0, width, height),
        Face("back", end, 0.0, width, height),
    )
    edges = (
        *(Edge(level, face, length) for level in ("top", "bottom") for face in ("left", "right")),
        *(Edge(level, face, width) for level in ("top", "bottom") for face in ("front", "back")),
        *(Edge(side_, face, height) for side_ in ("left", "right") for face in ("front", "back")),
    )
    volume = shapes.block_volume(length, width, height)
    return Body(volume, faces, edges, min(length, width, height), height)


def _plate(sizes: Mapping[str, float]) -> Body:
    return _block(sizes["length"], sizes["width"], sizes["thickness"])


def _bar(sizes: Mapping[str, float]) -> Body:
    return _block(sizes["length"], sizes["width"], sizes["height"])


def _cylinder(sizes: Mapping[str, float]) -> Body:
    diameter, height = sizes["diameter"], sizes["height"]
    end = shapes.disc_area(diameter)
    faces = (
        Face("top", end, 0.0, diameter, diameter),
        Face("bottom", end, 0.0, diameter, diameter),
        # Mean curvature 1/D everywhere, over pi D h.
        Face("side", shapes.cylinder_side_area(diameter, height), math.pi * height),
    )
    edges = tuple(Edge(end_, "side", math.pi * diameter) for end_ in ("top", "bottom"))
    volume = shapes.cylinder_volume(diameter, height)
    return Body(volume, faces, edges, min(diameter, height), height)


def _hollow(outer: float, inner: float, height: float) -> Body:
    end = shapes.annulus_area(outer, inner)
    wall = (outer - inner) / 2.0
    around, hole = math.pi * (outer + inner) / 2.0, math.pi / 4.0 * inner**2
    faces = (
        Face("top", end, 0.0, around, wall, outer, hole),
        Face("bottom", end, 0.0, around, wall, outer, hole),
        Face("outside", shapes.cylinder_side_area(outer, height), math.pi * height),
        # The bore is hollow: the mould in it warms from all around.
        Face("inside", shapes.cylinder_side_area(inner, height), -math.pi * height),
    )
    edges = (
        *(Edge(end_, "outside", math.pi * outer) for end_ in ("top", "bottom")),
        *(Edge(end_, "inside", math.pi * inner) for end_ in ("top", "bottom")),
    )
    volume = shapes.tube_volume(outer, inner, height)
    return Body(volume, faces, edges, min(wall, height), height)


def _tube(sizes: Mapping[str, float]) -> Body:
    return _hollow(sizes["outer_diameter"], sizes["inner_diameter"], sizes["height"])


def _ring(sizes: Mapping[str, float]) -> Body:
    mean, width = sizes["mean_diameter"], sizes["section_width"]
    return _hollow(mean + width, mean - width, sizes["section_height"])


def _sphere(sizes: Mapping[str, float]) -> Body:
    diameter = sizes["diameter"]
    # Mean curvature 2/D everywhere, over pi D^2.
    face = Face("surface", shapes.sphere_area(diameter), 2.0 * math.pi * diameter)
    return Body(shapes.sphere_volume(diameter), (face,), (), diameter, diameter)


def _cone(sizes: Mapping[str, float]) -> Body:
    lower, upper, height = sizes["lower_diameter"], sizes["upper_diameter"], sizes["height"]
    slope = math.atan2((lower - upper) / 2.0, height)
    faces = (
        Face("top", shapes.disc_area(upper), 0.0, upper, upper),
        Face("bottom", shapes.disc_area(lower), 0.0, lower, lower),
        # The normal curvature falls as the wall slopes and the wall grows as much: pi h remains.
        Face("side", shapes.cone_side_area(lower, upper, height), math.pi * height),
    )
    edges = (
        Edge("top", "side", math.pi * upper, _edge(math.pi / 2.0 + slope)),
        Edge("bottom", "side", math.pi * lower, _edge(math.pi / 2.0 - slope)),
    )
    thickness = min((lower + upper) / 2.0, height)
    return Body(shapes.cone_volume(lower, upper, height), faces, edges, thickness, height)


def _edge(metal_angle: float) -> float:
    """The edge coefficient, held at the sharpest angle for which it is known."""
    return shapes.edge_coefficient(max(metal_angle, math.pi / 6.0))


def _hexagon(sizes: Mapping[str, float]) -> Body:
    across, height = sizes["across_flats"], sizes["height"]
    end = shapes.hexagon_area(across)
    faces = (
        Face("top", end, 0.0, across, across),
        Face("bottom", end, 0.0, across, across),
        Face("side", shapes.hexagon_side_area(across, height)),
    )
    around = 2.0 * math.sqrt(3.0) * across
    edges = (
        Edge("top", "side", around),
        Edge("bottom", "side", around),
        Edge("side", "side", 6.0 * height, HEXAGON_EDGE),
    )
    return Body(shapes.hexagon_volume(across, height), faces, edges, min(across, height), height)


HEXAGON_EDGE = shapes.edge_coefficient(2.0 * math.pi / 3.0)
"""The edge coefficient of a hexagon's outer edges (120 degrees of metal), 0.433."""


def _custom(sizes: Mapping[str, float]) -> Body:
    volume, area = sizes["volume"], sizes["cooling_area"]
    # Of an unknown shape only V/A is known: it counts as a plate of that modulus.
    return Body(volume, (Face("surface", area),), (), 2.0 * volume / area, None)


_BUILD: dict[str, Callable[[Mapping[str, float]], Body]] = {
    "plate": _plate,
    "bar": _bar,
    "cylinder": _cylinder,
    "tube": _tube,
    "ring": _ring,
    "sphere": _sphere,
    "cone": _cone,
    "hexagon": _hexagon,
    "custom": _custom,
}
