"""POST /v1/freeze-maps."""

import dataclasses
from typing import Any

from ..engine.answer import Answer
from ..engine.decide.freeze_map_bodies import ROLES, MapBodyCase, MapRiserCase
from ..engine.decide.freeze_map_slices import Slice
from ..engine.decide.freeze_maps import MEDIA, MOST_CELLS, FreezeMapCase, decide_freeze_map
from ..engine.decide.levers import FREEZE_MAP
from .common import MouldBody, PropertiesBody
from .draw import FAIRLEAD
from .map_files import MOST_TRIANGLES, file_of
from .meshes import MeshIdField, stored_mesh
from .pictures import png
from .plan import MeshUseBody
from .plan_result import LastPlaceResult, PlanMapResult
from .registry import endpoint
from .schemas import (
    FINITE,
    AlloyField,
    Body,
    Choice,
    Choices,
    Count,
    Flag,
    Nested,
    Quantities,
    Quantity,
    Result,
    Sentence,
    Text,
    at_least,
    refused_at,
)


class MapMeshBody(MeshUseBody):
    """A stored mesh as it lies in the mould."""

    place = "/mesh/id"


class MapRiserBody(Body):
    """A round riser standing on the casting."""

    makes = MapRiserCase
    diameter = Quantity("length", "Its diameter.", required=True)
    height = Quantity("length", "Its height.", required=True)
    at = Quantities(
        "length",
        "x, y and z in the axes of the file: it stands on the highest metal over or under that place; left "
        "out, over the middle of what freezes last.",
        bound=FINITE,
        min_items=3,
        max_items=3,
    )


class MapBodyBody(Body):
    """A further body in the mould, its mesh in the unit and axes of the casting's."""

    makes = MapBodyCase
    role = Choice(
        ROLES,
        "riser: more of the metal; core, chill, sleeve: of their own medium, in full touch with the metal. "
        "Where bodies overlap the casting is there, else the riser, core, chill, sleeve, in this order.",
        required=True,
    )
    id = MeshIdField("SHA-256 of its mesh file.", required=True)
    name = Text("What you call it.", longest=60)
    medium = Nested(MouldBody, "What a core, chill or sleeve is made of; a core may be of the mould's own.")


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
    bodies = Nested(MapBodyBody, "Further bodies in the mould.", many=True, max_items=12)
    cells = Count(
        "Cells, those of the mould round the casting included; more are finer and slower.",
        low=5_000,
        high=MOST_CELLS,
    )
    accuracy = Choice(("draft", "normal", "fine"), "How small the steps of time are.")
    slices = Flag("Whether pictures of three planes through what freezes last come with the answer.")
    files = Choices(
        tuple(MEDIA),
        "Files of the map that come with the answer: vti, the cells for a viewer of scientific data (VTK XML "
        "image data); glb, the surface coloured by its time (glTF 2.0).",
    )

    def make(self, data: dict[str, Any]) -> Any:
        further = tuple(
            dataclasses.replace(body, mesh=stored_mesh(body.id, f"/bodies/{index}/id"))
            for index, body in enumerate(data.get("bodies") or ())
        )
        case = FreezeMapCase(**{**data, "bodies": further, "files": data.get("files") or ()})
        meshes = [case.mesh.mesh, *(body.mesh for body in further if body.mesh is not None)]
        if "glb" in case.files and sum(len(mesh.triangles) for mesh in meshes) > MOST_TRIANGLES:
            said = f"a coloured surface is written of at most {MOST_TRIANGLES} triangles"
            raise refused_at("files", "out_of_bounds", said)
        return case


class Picture(Text):
    """Answers only: a picture as base64."""

    def show(self, value: Any) -> str:
        piece: Slice = value
        return png(piece)


class MapFile(Text):
    """Answers only: a file as base64."""

    def show(self, value: Any) -> str:
        return file_of(*value)


class SliceResult(Result):
    """A picture of a plane through what freezes last, with a scale of times and a cross at the place."""

    across = Choice(("x", "y", "z"), "The axis of the file that the plane is square to.", required=True)
    at = Quantity("length", "Where the plane cuts that axis.", required=True, bound=FINITE)
    right = Text("The axis of the file that runs to the right, such as -x.", required=True)
    up = Text("The axis of the file that runs upwards in the picture.", required=True)
    cell = Quantity("length", "Side of a cell.", required=True)
    end = Quantity("time", "The time that the lightest colour stands for; the darkest is 0.", required=True)
    png = Picture("The picture, PNG in base64.", required=True)


class MapFileResult(Result):
    """A file of the map."""

    name = Text("A name for it.", required=True)
    media_type = Choice(tuple(MEDIA.values()), "Its media type.", required=True)
    content = MapFile("The file in base64.", required=True)


class PouredPlaceResult(LastPlaceResult):
    """A place that is among the last to freeze of all metal in the mould."""

    body = Text("The body that most of it lies in: casting, riser, or your name.", required=True)


class MapFeedingResult(Result):
    """How hard it is for metal to follow the shrinkage at the end of freezing."""

    formula = Text("The formula of the figure, as /v1/formulas names it.", required=True)
    poorest = Quantity(
        "gradient_over_root_rate",
        "Temperature gradient over the root of the cooling rate at the end of freezing, below which the "
        "worst-fed 5 % of the metal lie.",
        required=True,
    )
    threshold_of_steel = Quantity(
        "gradient_over_root_rate", "The published threshold, which is one for steel alone.", required=True
    )
    doubt = Sentence("How far the figure is to be trusted.", required=True)


class MapQualityResult(Result):
    """How far the map may be trusted: shares are those along the worst axis."""

    lost_rays = Quantity(
        "fraction", "Rays that met a hole in the mesh and were left out.", bound=at_least(0.0), required=True
    )
    parity_rays = Quantity(
        "fraction", "Rays that met triangles the wrong way about.", bound=at_least(0.0), required=True
    )
    overlapping_rays = Quantity(
        "fraction", "Rays through metal twice over, where shells overlap.", bound=at_least(0.0), required=True
    )
    unseen_cells = Count("Cells through which no ray went.", low=0, required=True)
    resolved = Quantity(
        "fraction", "Metal in cells that are mostly metal: little where walls are thin.", required=True
    )
    steps = Count("Steps of time.", required=True)


class FreezeMapResult(Result):
    """What the map finds."""

    map = Nested(PlanMapResult, "Casting and riser; null where no map could be made.")
    last = Nested(
        PouredPlaceResult,
        "The latest 5 % of all metal, risers included, last first.",
        many=True,
        required=True,
    )
    feeding = Nested(MapFeedingResult, "Null for a metal that freezes at one temperature.")
    quality = Nested(MapQualityResult, "How far the map may be trusted.")
    slices = Nested(SliceResult, "Pictures, if they were asked for.", many=True, required=True)
    files = Nested(MapFileResult, "Files, if they were asked for.", many=True, required=True)


@endpoint(
    "POST",
    "/v1/freeze-maps",
    operation="freeze_map",
    tag="Casting",
    summary="Where a mesh freezes last",
    description=(
        "Conducts the heat from metal to mould cell by cell until all metal is solid, and tells the places "
        "that freeze last; with a riser, whether it outlasts the casting and whether liquid metal leads from "
        "it to everywhere until the end. The order of freezing is to be trusted more than its times: "
        "properties of sand are rarely known to better than a third, and a chill or sleeve that does not "
        "touch the metal all over does less than the map says."
    ),
    request=FreezeMapRequest,
    answer=FreezeMapResult,
    levers=FREEZE_MAP,
    examples={
        "the invented boat yard's fairlead, with its riser": {
            "mesh": {"id": FAIRLEAD, "length_unit": "mm", "up": "-z"},
            "alloy": "C87300",
            "mould": {"medium": "oil-bonded sand"},
            "riser": {"diameter": "56 mm", "height": "56 mm"},
        },
        "the same with a riser that is too small, and its pictures": {
            "mesh": {"id": FAIRLEAD, "length_unit": "mm", "up": "-z"},
            "alloy": "C87300",
            "mould": {"medium": "oil-bonded sand"},
            "riser": {"diameter": "32 mm", "height": "32 mm"},
            "cells": 12_000,
            "slices": True,
        },
    },
)
def freeze_map(case: FreezeMapCase) -> Answer:
    return decide_freeze_map(case)
