"""POST /v1/freeze-maps."""

from typing import Any

from ..engine.answer import Answer
from ..engine.decide.freeze_maps import MOST_CELLS, FreezeMapCase, MapRiserCase, Slice, decide_freeze_map
from .common import MouldBody, PropertiesBody
from .draw import FAIRLEAD
from .pictures import png
from .plan import MeshUseBody
from .plan_result import PlanMapResult
from .registry import endpoint
from .schemas import (
    FINITE,
    AlloyField,
    Body,
    Choice,
    Count,
    Flag,
    Nested,
    Quantity,
    Result,
    Text,
)


class MapMeshBody(MeshUseBody):
    """A stored mesh as it lies in the mould."""

    place = "/mesh/id"


class MapRiserBody(Body):
    """A round riser on the casting, over the middle of what freezes last."""

    makes = MapRiserCase
    diameter = Quantity("length", "Its diameter.", required=True)
    height = Quantity("length", "Its height.", required=True)


class FreezeMapRequest(Body):
    """A mesh, its metal and its mould."""

    makes = FreezeMapCase
    mesh = Nested(MapMeshBody, "The mesh.", required=True)
    alloy = AlloyField("The alloy; its properties are looked up.")
    properties = Nested(PropertiesBody, "Properties of the metal that you know better; they win.")
    mould = Nested(MouldBody, "What the mould is made of.")
    mould_constant = Quantity(
        "mould_constant",
        "Chvorinov's constant by a trial of yours: the mould's conductivity then follows it.",
    )
    pouring_temperature = Quantity("temperature", "How hot the metal leaves the crucible.")
    temperature_fall = Quantity("temperature_difference", "How much it cools until the mould is full.")
    riser = Nested(MapRiserBody, "A riser to be mapped with the casting.")
    cells = Count(
        "Cells, those of the mould round the casting included; more are finer and slower.",
        low=5_000,
        high=MOST_CELLS,
    )
    accuracy = Choice(("draft", "normal", "fine"), "How small the steps of time are.")
    slices = Flag("Whether pictures of three planes through what freezes last come with the answer.")


class Picture(Text):
    """Answers only: a picture as base64."""

    def show(self, value: Any) -> str:
        piece: Slice = value
        return png(piece.times, piece.end)


class SliceResult(Result):
    """A picture of a plane through what freezes last; grey is sand, dark freezes first, light last."""

    across = Choice(("x", "y", "z"), "The axis of the file that the plane is square to.", required=True)
    at = Quantity("length", "Where the plane cuts that axis.", required=True, bound=FINITE)
    cell = Quantity("length", "Side of a cell.", required=True)
    end = Quantity("time", "The time that the lightest colour stands for; the darkest is 0.", required=True)
    png = Picture("The picture, PNG in base64.", required=True)


class FreezeMapResult(Result):
    """What the map finds."""

    map = Nested(PlanMapResult, "The map's findings; null where none could be made.")
    poorest_feeding = Quantity(
        "gradient_over_root_rate",
        "Temperature gradient over the root of the cooling rate at the end of freezing, below which the "
        "worst-fed 5 % of the metal lie. The published threshold is one for steel; for other metals it only "
        "compares places and designs. Null for a metal that freezes at one temperature.",
    )
    slices = Nested(SliceResult, "Pictures, if they were asked for.", many=True, required=True)


@endpoint(
    "POST",
    "/v1/freeze-maps",
    operation="freeze_map",
    tag="Casting",
    summary="Where a mesh freezes last",
    description=(
        "Conducts the heat from metal to mould cell by cell until all metal is solid, and tells the places "
        "that freeze last; with a riser, whether it outlasts the casting. The order of freezing is to be "
        "trusted more than its times: properties of sand are rarely known to better than a third."
    ),
    request=FreezeMapRequest,
    answer=FreezeMapResult,
    examples={
        "the invented boat yard's fairlead, with its riser": {
            "mesh": {"id": FAIRLEAD, "length_unit": "mm", "up": "-z"},
            "alloy": "C87300",
            "mould": {"medium": "oil-bonded sand"},
            "riser": {"diameter": "56 mm", "height": "56 mm"},
        }
    },
)
def freeze_map(case: FreezeMapCase) -> Answer:
    return decide_freeze_map(case)
