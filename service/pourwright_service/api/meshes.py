"""Meshes: uploaded once under their SHA-256, used by that name in any number of requests."""

from typing import Any

from flask import request

from ..engine.geometry.mesh import Mesh, MeshFault
from .fields import Described, Text
from .mesh_store import MeshStore, TooLarge, WrongHash, is_hash
from .problems import Fault, Problem, refused
from .registry import resource
from .schemas import Choice, Count, Flag, Nested, Result
from .serving import invalid, settings, too_large

_TYPES = (
    "application/octet-stream",
    "model/stl",
    "model/obj",
    "model/3mf",
    "application/vnd.ms-package.3dmanufacturing-3dmodel+xml",
    "application/x-ply",
)
_PATH = {"sha256": "SHA-256 of the file's bytes, 64 lower-case hexadecimal digits."}
_TAG = "Meshes"


class BareNumber(Described):
    """A number of an answer that has no unit because the file has none."""

    def request_document(self) -> dict[str, Any]:
        return {"type": "number"}


class Point(Described):
    """Three coordinates."""

    def show(self, value: Any) -> Any:
        return list(value)

    def request_document(self) -> dict[str, Any]:
        return {"type": "array", "items": {"type": "number"}, "minItems": 3, "maxItems": 3}


class MeshIdField(Text):
    """The id of an uploaded mesh: its SHA-256."""

    def load_value(self, value: Any) -> str:
        if type(value) is not str or not is_hash(value):
            raise refused("not_text", "a mesh is named by the 64 hexadecimal digits of its SHA-256")
        return value

    def request_document(self) -> dict[str, Any]:
        return {"type": "string", "pattern": "^[0-9a-f]{64}$"}


class BodyResult(Result):
    """One separate surface of a mesh, in the file's own length unit."""

    triangles = Count("Number of triangles.", required=True)
    volume = BareNumber("Volume that it encloses; negative for a hollow inside another.", required=True)
    low = Point("Least x, y and z.", required=True)
    high = Point("Greatest x, y and z.", required=True)


class HoleResult(Result):
    """A place where the surface is open, in the file's own length unit."""

    edges = Count("Open edges round it.", required=True)
    centre = Point("Where it is.", required=True)
    size = BareNumber("Diagonal of the box round it.", required=True)


class MeshResult(Result):
    """A stored mesh as measured. Lengths are in the file's own unit: each use says what that is."""

    id = Text("SHA-256 of the file, by which requests name the mesh.", required=True)
    triangles = Count("Number of triangles.", required=True)
    volume = BareNumber("Volume enclosed, cubed length units of the file.", required=True)
    area = BareNumber("Area of the surface, squared length units of the file.", required=True)
    low = Point("Least x, y and z.", required=True)
    high = Point("Greatest x, y and z.", required=True)
    watertight = Flag("Whether every edge is shared by two triangles that agree.", required=True)
    open_edges = Count("Edges that belong to one triangle only.", required=True)
    flipped_edges = Count("Edges whose triangles disagree about outside.", required=True)
    degenerate = Count("Triangles without area.", required=True)
    doubled = Count(
        "Triangles in the very place of another: a body that is in the file twice.", required=True
    )
    inverted = Flag("Whether the file was inside out (it was turned).", required=True)
    shells = Count("Separate bodies, inner hollows counted; null for a very large mesh.")
    bodies = Nested(BodyResult, "The largest of them; empty for a very large mesh.", many=True, required=True)
    holes = Nested(HoleResult, "The largest places where the surface is open.", many=True, required=True)
    format = Choice(("stl", "obj", "ply", "3mf"), "The file's format, told by its bytes.", required=True)
    length_unit = Text("The length unit that the file itself names; null where it names none.")


def store() -> MeshStore:
    """The store of the running application."""
    here = settings()
    return MeshStore(here.mesh_dir, here.mesh_days)


def stored_mesh(sha256: str, pointer: str) -> Mesh:
    """The mesh that a request names at ``pointer``; a problem mesh_unknown or mesh_expired if gone."""
    shelf = store()
    _require(shelf, sha256, Fault("missing_value", "upload the mesh first", pointer=pointer))
    return shelf.mesh(sha256)


def _require(shelf: MeshStore, sha256: str, fault: Fault) -> None:
    state = shelf.state(sha256)
    if state != "stored":
        raise Problem(f"mesh_{state}", "", [fault])


def _checked(sha256: str) -> str:
    if not is_hash(sha256):
        detail = "a mesh is named by the 64 lower-case hexadecimal digits of its SHA-256"
        raise invalid([Fault("not_text", detail, parameter="sha256")])
    return sha256


@resource(
    "PUT",
    "/v1/meshes/{sha256}",
    operation="put_mesh",
    tag=_TAG,
    summary="Store a mesh",
    description="Stores an STL, OBJ, PLY or 3MF file of up to 64 MB under the SHA-256 of its bytes and "
    "measures it. Sending it again changes nothing. Ask with HEAD first to save the upload.",
    answer=MeshResult,
    parameters=_PATH,
    statuses={200: "The mesh was here already.", 201: "The mesh is stored."},
    problems=("mesh_damaged", "too_large", "media_type", "invalid_request"),
    upload=_TYPES,
)
def put_mesh(sha256: str) -> tuple[dict[str, Any], int]:
    _checked(sha256)
    here = settings()
    if request.mimetype and request.mimetype not in _TYPES:
        header = Fault("not_a_choice", "the content type must be one of these", _TYPES, header="Content-Type")
        raise Problem("media_type", f"a mesh does not come as {request.mimetype[:60]}", [header])
    if (request.content_length or 0) > here.mesh_limit:
        raise too_large(here.mesh_limit)
    shelf = store()
    try:
        new = shelf.put(sha256, request.stream, here.mesh_limit)
    except TooLarge:
        raise too_large(here.mesh_limit) from None
    except WrongHash as wrong:
        detail = f"the body's SHA-256 is {wrong}, not the one in the address"
        raise Problem("mesh_damaged", detail, [Fault("wrong_hash", detail, parameter="sha256")]) from None
    except MeshFault as fault:
        raise Problem("mesh_damaged", fault.detail, [Fault(fault.code, fault.detail, pointer="")]) from None
    return {"id": sha256, **shelf.report(sha256)}, 201 if new else 200


@resource(
    "GET",
    "/v1/meshes/{sha256}",
    operation="get_mesh",
    tag=_TAG,
    summary="What measuring a stored mesh gave",
    description="Volume, area, box and soundness of a mesh uploaded before, in the file's own length unit.",
    answer=MeshResult,
    parameters=_PATH,
    problems=("mesh_unknown", "mesh_expired", "invalid_request"),
)
def get_mesh(sha256: str) -> dict[str, Any]:
    shelf = store()
    _require(shelf, _checked(sha256), Fault("missing_value", "no such mesh", parameter="sha256"))
    return {"id": sha256, **shelf.report(sha256)}


@resource(
    "HEAD",
    "/v1/meshes/{sha256}",
    operation="has_mesh",
    tag=_TAG,
    summary="Whether a mesh is stored",
    description="Status 200 if it is, 404 if it is not (any more). Saves an upload.",
    parameters=_PATH,
    statuses={200: "The mesh is stored."},
    problems=("mesh_unknown", "mesh_expired", "invalid_request"),
)
def has_mesh(sha256: str) -> dict[str, Any]:
    return get_mesh(sha256)
