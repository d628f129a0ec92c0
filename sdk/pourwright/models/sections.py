# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of sections."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NotRequired, TypeAlias, TypedDict

from ..quantity import JsonObject, QuantityInput


class PlateFaces(TypedDict):
    """States of the faces of a plate."""

    top: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the top does; cooling unless told otherwise."""
    bottom: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the bottom does; cooling unless told otherwise."""
    left: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the left does; cooling unless told otherwise."""
    right: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the right does; cooling unless told otherwise."""
    front: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the front does; cooling unless told otherwise."""
    back: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the back does; cooling unless told otherwise."""
    sides: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the sides does; cooling unless told otherwise."""
    ends: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the ends does; cooling unless told otherwise."""
    edges: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the edges does; cooling unless told otherwise."""


class CoreInput(TypedDict):
    """The core behind the faces that are marked cored."""

    shape: Literal["slab", "cylinder", "sphere"]
    """The simple body nearest to the core."""
    modulus: QuantityInput
    """Volume of the core over its surface."""


class JoinInput(TypedDict):
    """Where a section is one with another."""

    to: str
    """Name of the section that it is joined to."""
    area: QuantityInput
    """The area that the two share; it cools neither of them."""
    face: NotRequired[str]
    """The face of this section that bears the join; left out, the engine chooses."""
    kind: NotRequired[Literal["straight", "corner", "tee", "cross", "wye", "L", "T", "+", "X", "Y", "butt"]]
    """How the walls meet: one goes on in the other, an L, a T, a square +, or a Y of 120 degrees; left out,
    the faces decide."""
    fillet: NotRequired[QuantityInput]
    """Radius of the fillet; a third of the thinner wall unless told."""
    angle: NotRequired[QuantityInput]
    """Angle between the walls, 30 to 150 degrees; square unless told."""


class PlateBore(TypedDict):
    """Round holes right through a plate."""

    diameter: QuantityInput
    """Diameter of the hole in the casting."""
    axis: NotRequired[Literal["height", "length", "width", "thickness", "upright"]]
    """The dimension that it runs along; height, which is upright, unless told otherwise."""
    cored: NotRequired[bool]
    """Whether a core fills it (true unless told otherwise), or the mould's own sand."""
    count: NotRequired[int]
    """How many such holes; one unless told otherwise."""


PlateSectionKeepOff: TypeAlias = Sequence[
    Literal[
        "top",
        "bottom",
        "left",
        "right",
        "front",
        "back",
        "sides",
        "ends",
        "edges",
    ]
]


class PlateSection(TypedDict):
    """A section with the shape of a plate."""

    name: str
    """Name of the section, used by joins and in the answer."""
    shape: Literal["plate"]
    """The shape of the section."""
    count: NotRequired[int]
    """How many equal pieces of it the casting has."""
    faces: NotRequired[PlateFaces | JsonObject]
    """Faces that do not simply cool: joined, cored or insulated ones."""
    core: NotRequired[CoreInput | JsonObject]
    """The core that cored faces touch."""
    keep_off: NotRequired[PlateSectionKeepOff]
    """Faces on which no riser may stand, such as threads or faces that show."""
    joins: NotRequired[Sequence[JoinInput | JsonObject]]
    """Other sections that this one is joined to."""
    length: QuantityInput
    """Length in plan."""
    width: QuantityInput
    """Width in plan."""
    thickness: QuantityInput
    """Thickness of the plate."""
    bores: NotRequired[Sequence[PlateBore | JsonObject]]
    """Round holes right through it, such as a cored bore."""
    edges_cool: NotRequired[bool]
    """Whether the narrow faces lose heat too; left out, proportions decide."""


class BarFaces(TypedDict):
    """States of the faces of a bar."""

    top: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the top does; cooling unless told otherwise."""
    bottom: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the bottom does; cooling unless told otherwise."""
    left: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the left does; cooling unless told otherwise."""
    right: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the right does; cooling unless told otherwise."""
    front: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the front does; cooling unless told otherwise."""
    back: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the back does; cooling unless told otherwise."""
    sides: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the sides does; cooling unless told otherwise."""
    ends: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the ends does; cooling unless told otherwise."""
    edges: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the edges does; cooling unless told otherwise."""


class BarBore(TypedDict):
    """Round holes right through a bar."""

    diameter: QuantityInput
    """Diameter of the hole in the casting."""
    axis: NotRequired[Literal["height", "length", "width", "thickness", "upright"]]
    """The dimension that it runs along; height, which is upright, unless told otherwise."""
    cored: NotRequired[bool]
    """Whether a core fills it (true unless told otherwise), or the mould's own sand."""
    count: NotRequired[int]
    """How many such holes; one unless told otherwise."""


BarSectionKeepOff: TypeAlias = Sequence[
    Literal[
        "top",
        "bottom",
        "left",
        "right",
        "front",
        "back",
        "sides",
        "ends",
        "edges",
    ]
]


class BarSection(TypedDict):
    """A section with the shape of a bar."""

    name: str
    """Name of the section, used by joins and in the answer."""
    shape: Literal["bar"]
    """The shape of the section."""
    count: NotRequired[int]
    """How many equal pieces of it the casting has."""
    faces: NotRequired[BarFaces | JsonObject]
    """Faces that do not simply cool: joined, cored or insulated ones."""
    core: NotRequired[CoreInput | JsonObject]
    """The core that cored faces touch."""
    keep_off: NotRequired[BarSectionKeepOff]
    """Faces on which no riser may stand, such as threads or faces that show."""
    joins: NotRequired[Sequence[JoinInput | JsonObject]]
    """Other sections that this one is joined to."""
    length: QuantityInput
    """Length in plan."""
    width: QuantityInput
    """Width in plan."""
    height: QuantityInput
    """Height, as the section stands in the mould."""
    bores: NotRequired[Sequence[BarBore | JsonObject]]
    """Round holes right through it, such as a cored bore."""


class CylinderFaces(TypedDict):
    """States of the faces of a cylinder."""

    top: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the top does; cooling unless told otherwise."""
    bottom: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the bottom does; cooling unless told otherwise."""
    side: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the side does; cooling unless told otherwise."""
    ends: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the ends does; cooling unless told otherwise."""


class CylinderBore(TypedDict):
    """Round holes right through a cylinder."""

    diameter: QuantityInput
    """Diameter of the hole in the casting."""
    axis: NotRequired[Literal["height", "thickness", "upright"]]
    """The dimension that it runs along; height, which is upright, unless told otherwise."""
    cored: NotRequired[bool]
    """Whether a core fills it (true unless told otherwise), or the mould's own sand."""
    count: NotRequired[int]
    """How many such holes; one unless told otherwise."""


class CylinderSection(TypedDict):
    """A section with the shape of a cylinder."""

    name: str
    """Name of the section, used by joins and in the answer."""
    shape: Literal["cylinder"]
    """The shape of the section."""
    count: NotRequired[int]
    """How many equal pieces of it the casting has."""
    faces: NotRequired[CylinderFaces | JsonObject]
    """Faces that do not simply cool: joined, cored or insulated ones."""
    core: NotRequired[CoreInput | JsonObject]
    """The core that cored faces touch."""
    keep_off: NotRequired[Sequence[Literal["top", "bottom", "side", "ends"]]]
    """Faces on which no riser may stand, such as threads or faces that show."""
    joins: NotRequired[Sequence[JoinInput | JsonObject]]
    """Other sections that this one is joined to."""
    diameter: QuantityInput
    """Diameter."""
    height: QuantityInput
    """Height, as the section stands in the mould."""
    bores: NotRequired[Sequence[CylinderBore | JsonObject]]
    """Round holes right through it, such as a cored bore."""


class TubeFaces(TypedDict):
    """States of the faces of a tube."""

    top: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the top does; cooling unless told otherwise."""
    bottom: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the bottom does; cooling unless told otherwise."""
    outside: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the outside does; cooling unless told otherwise."""
    inside: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the inside does; cooling unless told otherwise."""
    ends: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the ends does; cooling unless told otherwise."""


class TubeSection(TypedDict):
    """A section with the shape of a tube."""

    name: str
    """Name of the section, used by joins and in the answer."""
    shape: Literal["tube"]
    """The shape of the section."""
    count: NotRequired[int]
    """How many equal pieces of it the casting has."""
    faces: NotRequired[TubeFaces | JsonObject]
    """Faces that do not simply cool: joined, cored or insulated ones."""
    core: NotRequired[CoreInput | JsonObject]
    """The core that cored faces touch."""
    keep_off: NotRequired[Sequence[Literal["top", "bottom", "outside", "inside", "ends"]]]
    """Faces on which no riser may stand, such as threads or faces that show."""
    joins: NotRequired[Sequence[JoinInput | JsonObject]]
    """Other sections that this one is joined to."""
    outer_diameter: QuantityInput
    """Outer diameter."""
    inner_diameter: QuantityInput
    """Diameter of the bore."""
    height: QuantityInput
    """Height, as the section stands in the mould."""


class RingFaces(TypedDict):
    """States of the faces of a ring."""

    top: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the top does; cooling unless told otherwise."""
    bottom: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the bottom does; cooling unless told otherwise."""
    outside: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the outside does; cooling unless told otherwise."""
    inside: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the inside does; cooling unless told otherwise."""
    ends: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the ends does; cooling unless told otherwise."""


class RingSection(TypedDict):
    """A section with the shape of a ring."""

    name: str
    """Name of the section, used by joins and in the answer."""
    shape: Literal["ring"]
    """The shape of the section."""
    count: NotRequired[int]
    """How many equal pieces of it the casting has."""
    faces: NotRequired[RingFaces | JsonObject]
    """Faces that do not simply cool: joined, cored or insulated ones."""
    core: NotRequired[CoreInput | JsonObject]
    """The core that cored faces touch."""
    keep_off: NotRequired[Sequence[Literal["top", "bottom", "outside", "inside", "ends"]]]
    """Faces on which no riser may stand, such as threads or faces that show."""
    joins: NotRequired[Sequence[JoinInput | JsonObject]]
    """Other sections that this one is joined to."""
    section_width: QuantityInput
    """Width of the ring's section, across the radius."""
    section_height: QuantityInput
    """Height of the ring's section."""
    mean_diameter: QuantityInput
    """Diameter of the ring through the middle of its section."""


class SphereFaces(TypedDict):
    """States of the faces of a sphere."""

    surface: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the surface does; cooling unless told otherwise."""


class SphereSection(TypedDict):
    """A section with the shape of a sphere."""

    name: str
    """Name of the section, used by joins and in the answer."""
    shape: Literal["sphere"]
    """The shape of the section."""
    count: NotRequired[int]
    """How many equal pieces of it the casting has."""
    faces: NotRequired[SphereFaces | JsonObject]
    """Faces that do not simply cool: joined, cored or insulated ones."""
    core: NotRequired[CoreInput | JsonObject]
    """The core that cored faces touch."""
    keep_off: NotRequired[Sequence[Literal["surface"]]]
    """Faces on which no riser may stand, such as threads or faces that show."""
    joins: NotRequired[Sequence[JoinInput | JsonObject]]
    """Other sections that this one is joined to."""
    diameter: QuantityInput
    """Diameter."""


class ConeFaces(TypedDict):
    """States of the faces of a cone."""

    top: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the top does; cooling unless told otherwise."""
    bottom: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the bottom does; cooling unless told otherwise."""
    side: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the side does; cooling unless told otherwise."""
    ends: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the ends does; cooling unless told otherwise."""


class ConeSection(TypedDict):
    """A section with the shape of a cone."""

    name: str
    """Name of the section, used by joins and in the answer."""
    shape: Literal["cone"]
    """The shape of the section."""
    count: NotRequired[int]
    """How many equal pieces of it the casting has."""
    faces: NotRequired[ConeFaces | JsonObject]
    """Faces that do not simply cool: joined, cored or insulated ones."""
    core: NotRequired[CoreInput | JsonObject]
    """The core that cored faces touch."""
    keep_off: NotRequired[Sequence[Literal["top", "bottom", "side", "ends"]]]
    """Faces on which no riser may stand, such as threads or faces that show."""
    joins: NotRequired[Sequence[JoinInput | JsonObject]]
    """Other sections that this one is joined to."""
    lower_diameter: QuantityInput
    """Diameter at the foot."""
    upper_diameter: QuantityInput
    """Diameter at the top; 0 for a point."""
    height: QuantityInput
    """Height, as the section stands in the mould."""


class HexagonFaces(TypedDict):
    """States of the faces of a hexagon."""

    top: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the top does; cooling unless told otherwise."""
    bottom: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the bottom does; cooling unless told otherwise."""
    side: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the side does; cooling unless told otherwise."""
    ends: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the ends does; cooling unless told otherwise."""


class HexagonBore(TypedDict):
    """Round holes right through a hexagon."""

    diameter: QuantityInput
    """Diameter of the hole in the casting."""
    axis: NotRequired[Literal["height", "thickness", "upright"]]
    """The dimension that it runs along; height, which is upright, unless told otherwise."""
    cored: NotRequired[bool]
    """Whether a core fills it (true unless told otherwise), or the mould's own sand."""
    count: NotRequired[int]
    """How many such holes; one unless told otherwise."""


class HexagonSection(TypedDict):
    """A section with the shape of a hexagon."""

    name: str
    """Name of the section, used by joins and in the answer."""
    shape: Literal["hexagon"]
    """The shape of the section."""
    count: NotRequired[int]
    """How many equal pieces of it the casting has."""
    faces: NotRequired[HexagonFaces | JsonObject]
    """Faces that do not simply cool: joined, cored or insulated ones."""
    core: NotRequired[CoreInput | JsonObject]
    """The core that cored faces touch."""
    keep_off: NotRequired[Sequence[Literal["top", "bottom", "side", "ends"]]]
    """Faces on which no riser may stand, such as threads or faces that show."""
    joins: NotRequired[Sequence[JoinInput | JsonObject]]
    """Other sections that this one is joined to."""
    across_flats: QuantityInput
    """Width across the flats of the hexagon."""
    height: QuantityInput
    """Height, as the section stands in the mould."""
    bores: NotRequired[Sequence[HexagonBore | JsonObject]]
    """Round holes right through it, such as a cored bore."""


class CustomFaces(TypedDict):
    """States of the faces of a custom."""

    surface: NotRequired[Literal["cooling", "joined", "cored", "insulated"]]
    """What the surface does; cooling unless told otherwise."""


class CustomSection(TypedDict):
    """A section with the shape of a custom."""

    name: str
    """Name of the section, used by joins and in the answer."""
    shape: Literal["custom"]
    """The shape of the section."""
    count: NotRequired[int]
    """How many equal pieces of it the casting has."""
    faces: NotRequired[CustomFaces | JsonObject]
    """Faces that do not simply cool: joined, cored or insulated ones."""
    core: NotRequired[CoreInput | JsonObject]
    """The core that cored faces touch."""
    keep_off: NotRequired[Sequence[Literal["surface"]]]
    """Faces on which no riser may stand, such as threads or faces that show."""
    joins: NotRequired[Sequence[JoinInput | JsonObject]]
    """Other sections that this one is joined to."""
    volume: QuantityInput
    """Volume of the section."""
    cooling_area: QuantityInput
    """Surface through which it loses heat to the mould."""


SectionInput: TypeAlias = (
    PlateSection
    | BarSection
    | CylinderSection
    | TubeSection
    | RingSection
    | SphereSection
    | ConeSection
    | HexagonSection
    | CustomSection
    | JsonObject
)
