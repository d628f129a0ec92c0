"""Schemas of sections: the simple bodies that a casting is described by."""

from typing import Any

from ..engine.geometry.sections import (
    AXES,
    CORE_SHAPES,
    DIMENSIONS,
    FACE_GROUPS,
    FACES,
    JOIN_KINDS,
    STATES,
    Bore,
    Core,
    Join,
    Section,
)
from .schemas import Body, Choice, Choices, Count, Flag, Nested, Quantity, Text, Variant, at_least, refused

_SAYS = {
    "length": "Length in plan.",
    "width": "Width in plan.",
    "thickness": "Thickness of the plate.",
    "height": "Height, as the section stands in the mould.",
    "diameter": "Diameter.",
    "outer_diameter": "Outer diameter.",
    "inner_diameter": "Diameter of the bore.",
    "section_width": "Width of the ring's section, across the radius.",
    "section_height": "Height of the ring's section.",
    "mean_diameter": "Diameter of the ring through the middle of its section.",
    "lower_diameter": "Diameter at the foot.",
    "upper_diameter": "Diameter at the top; 0 for a point.",
    "across_flats": "Width across the flats of the hexagon.",
    "volume": "Volume of the section.",
    "cooling_area": "Surface through which it loses heat to the mould.",
}
_ZERO_OR_MORE = at_least(0.0)
_KINDS = {"volume": "volume", "cooling_area": "area"}


class JoinBody(Body):
    """Where a section is one with another."""

    makes = Join
    to = Text("Name of the section that it is joined to.", required=True)
    area = Quantity("area", "The area that the two share; it cools neither of them.", required=True)
    face = Text("The face of this section that bears the join; left out, the engine chooses.")
    kind = Choice(
        JOIN_KINDS,
        "How the walls meet: one goes on in the other, an L, a T, a square +, or a Y of 120 degrees; left "
        "out, the faces decide.",
        aliases={"L": "corner", "T": "tee", "+": "cross", "X": "cross", "Y": "wye", "butt": "straight"},
    )
    fillet = Quantity(
        "length", "Radius of the fillet; a third of the thinner wall unless told.", bound=_ZERO_OR_MORE
    )
    angle = Quantity("angle", "Angle between the walls, 30 to 150 degrees; square unless told.")


class CoreBody(Body):
    """The core behind the faces that are marked cored."""

    makes = Core
    shape = Choice(CORE_SHAPES, "The simple body nearest to the core.", required=True)
    modulus = Quantity("length", "Volume of the core over its surface.", required=True)


def _bore_body(shape: str) -> type[Body]:
    """The object that describes round holes through one shape."""
    axes = tuple(AXES[shape])
    fields: dict[str, Any] = {
        "__doc__": f"Round holes right through a {shape}.",
        "__module__": __name__,
        "makes": Bore,
        "diameter": Quantity("length", "Diameter of the hole in the casting.", required=True),
        "axis": Choice(
            axes,
            "The dimension that it runs along; height, which is upright, unless told otherwise.",
            aliases={"thickness": "height", "upright": "height"},
        ),
        "cored": Flag("Whether a core fills it (true unless told otherwise), or the mould's own sand."),
        "count": Count("How many such holes; one unless told otherwise.", low=1, high=200),
    }
    return type(f"{shape.capitalize()}Bore", (Body,), fields)


class _SectionBody(Body):
    """Common to all shapes."""

    makes = Section

    def make(self, data: dict[str, Any]) -> Section:
        shape = data["shape"]
        sizes = {name: data.pop(name) for name in DIMENSIONS[shape]}
        return Section(dimensions=sizes, **{name: value for name, value in data.items() if value is not None})


def _faces_body(shape: str) -> type[Body]:
    """The object that gives states to the faces of one shape."""
    names = (*FACES[shape], *FACE_GROUPS[shape])
    fields: dict[str, Any] = {
        name: Choice(STATES, f"What the {name} does; cooling unless told otherwise.") for name in names
    }
    fields["__doc__"] = f"States of the faces of a {shape}."
    fields["__module__"] = __name__
    return type(f"{shape.capitalize()}Faces", (Body,), fields)


def _section_body(shape: str) -> type[Body]:
    fields: dict[str, Any] = {
        "__doc__": f"A section with the shape of a {shape}.",
        "__module__": __name__,
        "name": Text("Name of the section, used by joins and in the answer.", longest=60, required=True),
        "shape": Choice((shape,), "The shape of the section.", required=True),
        "count": Count("How many equal pieces of it the casting has.", low=1, high=200),
        "faces": Nested(
            _faces_body(shape), "Faces that do not simply cool: joined, cored or insulated ones."
        ),
        "core": Nested(CoreBody, "The core that cored faces touch."),
        "keep_off": Choices(
            (*FACES[shape], *FACE_GROUPS[shape]),
            "Faces on which no riser may stand, such as threads or faces that show.",
        ),
        "joins": Nested(JoinBody, "Other sections that this one is joined to.", many=True, max_items=50),
    }
    for size in DIMENSIONS[shape]:
        kind = _KINDS.get(size, "length")
        if size == "upper_diameter":
            fields[size] = Quantity(kind, _SAYS[size], bound=_ZERO_OR_MORE, required=True)
        else:
            fields[size] = Quantity(kind, _SAYS[size], required=True)
    if AXES[shape]:
        fields["bores"] = Nested(
            _bore_body(shape), "Round holes right through it, such as a cored bore.", many=True, max_items=20
        )
    if shape == "plate":
        fields["edges_cool"] = Flag("Whether the narrow faces lose heat too; left out, proportions decide.")
    return type(f"{shape.capitalize()}Section", (_SectionBody,), fields)


SECTION_BODIES = {shape: _section_body(shape) for shape in DIMENSIONS}


MOST_JOINS = 600
"""Joins of all sections together; three for each of the most sections there may be."""


class _Sections(Variant):
    """Sections whose joins, which are all looked through for each of them, do not outnumber the limit."""

    def load_value(self, value: Any) -> Any:
        found = super().load_value(value)
        joins = sum(len(section.joins) for section in found)
        if joins > MOST_JOINS:
            raise refused("too_many_items", f"all sections may have {MOST_JOINS} joins at most, not {joins}")
        return found


def sections_field(description: str, *, required: bool = False) -> Variant:
    """A list of up to 200 sections."""
    return _Sections(
        "shape", SECTION_BODIES, description, many=True, max_items=200, min_items=1, required=required
    )


def section_field(description: str, *, required: bool = False) -> Variant:
    """One section."""
    return Variant("shape", SECTION_BODIES, description, required=required)
