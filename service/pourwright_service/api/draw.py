"""POST /v1/draw."""

import math
from typing import Any

from ..engine.answer import Answer
from ..engine.decide.draw import DrawCase, decide_draw
from ..engine.geometry.mesh import UPS, MeshFault
from .fields import Described
from .plan import MeshUseBody
from .problems import Fault, Problem
from .registry import endpoint
from .schemas import (
    FINITE,
    Body,
    Choice,
    Count,
    Flag,
    Nested,
    Number,
    Quantities,
    Quantity,
    Result,
    Text,
    at_least,
    refused,
    refused_at,
    within,
)

FAIRLEAD = "b475453272585e6878d59fdf208ceba4579f2b71e3af1b2bc5cdb63e7dc8be78"
"""The invented boat yard's fairlead, deploy/scenario/fairlead.stl: upload it before the examples."""


class Direction(Described):
    """Three bare numbers, not all 0, in the axes of the mesh's file."""

    def load_value(self, value: Any) -> tuple[float, float, float]:
        if (
            type(value) is not list
            or len(value) != 3
            or any(type(part) not in (int, float) for part in value)
        ):
            raise refused("not_an_array", "a direction is three numbers, such as [0, 0, 1]")
        if any(abs(part) > 1e6 for part in value):
            raise refused("out_of_bounds", "no part of a direction may exceed 1e6")
        if math.sqrt(sum(float(part) ** 2 for part in value)) < 1e-6:
            raise refused("out_of_bounds", "a direction of no length leads nowhere")
        x, y, z = map(float, value)
        return x, y, z

    def show(self, value: Any) -> Any:
        return list(value)

    def request_document(self) -> dict[str, Any]:
        return {
            "type": "array",
            "items": {"type": "number", "minimum": -1e6, "maximum": 1e6},
            "minItems": 3,
            "maxItems": 3,
        }


class DrawMeshBody(MeshUseBody):
    """A stored mesh as it is drawn from the sand."""

    place = "/mesh/id"
    up = Choice(
        UPS,
        "The axis of the file that points upwards in the mould; left out, the best direction is looked for.",
    )

    def make(self, data: dict[str, Any]) -> Any:
        return super().make(data), data.get("up")


class DrawRequest(Body):
    """A mesh, and if you know it how it is drawn and parted."""

    makes = DrawCase
    mesh = Nested(DrawMeshBody, "The mesh.", required=True)
    direction = Direction("The draw's direction in the file's axes, instead of mesh.up.")
    parting_height = Quantity(
        "length",
        "Height of the flat parting above the lowest point along the draw; left out, the best.",
        bound=at_least(0.0),
    )
    draft_degrees = Number(
        "Draft wanted, degrees: faces nearer to the draw's direction are told.",
        bound=within(0.0, 30.0, low_open=True),
    )
    columns = Count("Columns of the grid along the longer side in plan.", low=32, high=1024)

    def make(self, data: dict[str, Any]) -> Any:
        mesh, up = data["mesh"]
        if data.get("direction") is not None and up is not None:
            raise refused_at("direction", "inconsistent", "give direction or mesh.up, not both")
        if data.get("parting_height") is not None and up is None and data.get("direction") is None:
            raise refused_at(
                "parting_height", "inconsistent", "say along which direction: mesh.up or direction"
            )
        return DrawCase(**{**data, "mesh": mesh, "up": up})


class WayResult(Result):
    """A direction of draw with a flat parting. Heights are above the lowest point along it."""

    direction = Direction("Unit vector in the file's axes; its opposite is the same draw.", required=True)
    along = Text("The same in a word.", required=True)
    why = Choice(("yours", "axis", "large flat face"), "Why it was tried.", required=True)
    height = Quantity("length", "How tall the part is along it.", required=True)
    parting_height = Quantity("length", "Height of the parting.", bound=at_least(0.0), required=True)
    undercut = Quantity(
        "volume",
        "Sand that a flat parting there does not free; 0 below the noise floor.",
        bound=at_least(0.0),
        required=True,
    )
    undercut_share = Quantity("fraction", "The same over the part's volume.", required=True)
    trapped = Quantity(
        "volume",
        "Of it, sand shut in between metal: no parting frees it.",
        bound=at_least(0.0),
        required=True,
    )
    hanging = Quantity(
        "volume", "Sand over metal that lies below the parting.", bound=at_least(0.0), required=True
    )
    standing = Quantity(
        "volume", "Sand under metal that lies above the parting.", bound=at_least(0.0), required=True
    )
    loose = Quantity(
        "volume",
        "Hanging and standing sand but for pockets no deeper than wide.",
        bound=at_least(0.0),
        required=True,
    )
    noise_floor = Quantity("volume", "What the grid cannot tell from nothing.", required=True)
    tallest_without_draft = Quantity(
        "length", "The tallest face with less draft than wanted.", bound=at_least(0.0), required=True
    )


class UndercutResult(Result):
    """Sand that hangs together and is not freed by the flat parting."""

    sort = Choice(
        ("trapped", "hanging", "standing"),
        "trapped between metal, hanging from the upper half, standing on the lower.",
        required=True,
    )
    needs_core = Flag("Whether it wants a core: trapped, or a pocket deeper than wide.", required=True)
    volume = Quantity("volume", "Its volume.", required=True)
    centre = Quantities("length", "Middle of its box in the file's axes.", bound=FINITE, required=True)
    length = Quantity("length", "Longer side in plan.", required=True)
    width = Quantity("length", "Shorter side in plan.", required=True)
    height = Quantity("length", "Side along the draw.", required=True)
    from_height = Quantity("length", "Height of its lowest point.", bound=at_least(0.0), required=True)
    to_height = Quantity("length", "Height of its highest point.", required=True)


class SteepFacesResult(Result):
    """Faces that stand along the draw."""

    wanted_degrees = Number("Draft wanted, degrees.", required=True)
    area = Quantity("area", "Area of the faces with less.", bound=at_least(0.0), required=True)
    share = Quantity("fraction", "The same over the whole surface.", required=True)
    tallest = Quantity(
        "length", "How far the tallest reaches from the parting.", bound=at_least(0.0), required=True
    )
    lean = Quantity("length", "Taper that it wants over this height.", bound=at_least(0.0), required=True)
    place = Quantities("length", "Middle of the tallest in the file's axes.", bound=FINITE)


class DrawResult(Result):
    """Directions side by side, and what hinders the one that is judged: yours, else the best."""

    volume = Quantity("volume", "Volume of the mesh.", required=True)
    best = Nested(WayResult, "The best direction.", required=True)
    judged = Nested(
        WayResult, "The direction and parting that checks, undercuts and draft speak of.", required=True
    )
    directions = Nested(
        WayResult, "All directions tried, each at its best parting, best first.", many=True, required=True
    )
    undercuts = Nested(
        UndercutResult, "Where sand is not freed, the largest 20 places.", many=True, required=True
    )
    undercuts_in_all = Count("How many such places there are.", required=True)
    draft = Nested(SteepFacesResult, "Faces that want draft.", required=True)
    columns_left_out = Quantity(
        "fraction", "Columns that the mesh's holes spoil, and which were left out.", required=True
    )


@endpoint(
    "POST",
    "/v1/draw",
    operation="draw",
    tag="Casting",
    summary="How a pattern is drawn from the sand, where it parts, and which cores it needs",
    description=(
        "Looks through a mesh along the axes, square to its large flat faces and along your own direction: "
        "how much sand each draw would tear out with the best flat parting, where that sand lies and "
        "whether it wants a core, and which faces want draft."
    ),
    request=DrawRequest,
    answer=DrawResult,
    examples={
        "the boat yard's fairlead (invented), its best direction": {
            "mesh": {"id": FAIRLEAD, "length_unit": "mm"},
        },
        "the fairlead laid on its side": {
            "mesh": {"id": FAIRLEAD, "length_unit": "mm", "up": "+x"},
            "draft_degrees": 2,
        },
    },
)
def draw(case: DrawCase) -> Answer:
    try:
        return decide_draw(case)
    except MeshFault as fault:
        place = Fault(fault.code, fault.detail, pointer="/mesh/id")
        raise Problem("mesh_damaged", fault.detail, [place]) from None
