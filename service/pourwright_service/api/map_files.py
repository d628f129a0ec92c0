"""Files of a freeze map: cells as VTK XML image data, the surface as binary glTF 2.0, both in base64.

The cells are in the axes and the length unit of the mesh's file; glTF's are metres with y upwards, as
its standard wants it. Names of bodies are numbers in the cells and nodes in the glTF.
"""

import base64
import json
import struct
import zlib
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..engine.decide.freeze_maps import Whole
from .pictures import colours

MOST_TRIANGLES = 200_000
"""Of a coloured surface: some 10 MB of base64."""

Floats = NDArray[np.float64]


def file_of(kind: str, whole: Whole) -> str:
    """One file of a map in base64."""
    made = vti(whole) if kind == "vti" else glb(whole)
    return base64.b64encode(made).decode("ascii")


def vti(whole: Whole) -> bytes:
    """Cells of the block: time of freezing (s, -1 where there is no metal), share of metal, body (-1: mould).

    VTK XML ImageData, version 1.0, arrays zlib-compressed in base64, little-endian.
    """
    found, frame = whole.found, whole.frame
    block = found.block
    low = np.array(block.origin)
    high = low + block.cell * np.array(block.counts)
    corners = np.array([frame.in_file(low.tolist()), frame.in_file(high.tolist())])
    origin = corners.min(axis=0) / whole.factor
    times = np.where(np.isfinite(found.times), found.times, np.float32(-1.0))
    arrays = {
        "freezing_time_s": ("Float32", times),
        "metal_share": ("Float32", found.shares),
        "body": ("Int8", found.owners),
    }
    turned = {name: (kind, _turned(array, frame)) for name, (kind, array) in arrays.items()}
    counts = next(iter(turned.values()))[1].shape
    extent = " ".join(f"0 {count}" for count in counts)
    spacing = block.cell / whole.factor
    data = "\n".join(
        f'<DataArray type="{kind}" Name="{name}" format="binary">{_packed(array)}</DataArray>'
        for name, (kind, array) in turned.items()
    )
    return (
        '<?xml version="1.0"?>\n'
        '<VTKFile type="ImageData" version="1.0" byte_order="LittleEndian" header_type="UInt32" '
        'compressor="vtkZLibDataCompressor">\n'
        f'<ImageData WholeExtent="{extent}" Origin="{_row(origin)}" Spacing="{_row([spacing] * 3)}">\n'
        f'<Piece Extent="{extent}"><CellData Scalars="freezing_time_s">\n{data}\n'
        "</CellData></Piece>\n</ImageData>\n</VTKFile>\n"
    ).encode("ascii")


def _row(values: Any) -> str:
    return " ".join(f"{value:.9g}" for value in values)


def _turned(array: NDArray[Any], frame: Any) -> NDArray[Any]:
    """An upright array (x, y, z) along the axes of the file."""
    k = frame.axis
    there = np.moveaxis(array, (0, 1, 2), ((k + 1) % 3, (k + 2) % 3, k))
    backwards = [slice(None)] * 3
    if frame.sign < 0.0:
        backwards[(k + 2) % 3] = backwards[k] = slice(None, None, -1)
    return there[tuple(backwards)]


def _packed(array: NDArray[Any]) -> str:
    """An array, x fastest, as one compressed block behind its header."""
    raw = np.asfortranarray(array).tobytes(order="F")
    small = zlib.compress(raw)
    head = struct.pack("<4I", 1, len(raw), 0, len(small))
    return base64.b64encode(head).decode("ascii") + base64.b64encode(small).decode("ascii")


def glb(whole: Whole) -> bytes:
    """The surfaces of all metal, each point coloured by when the metal under it is solid."""
    numbers = [0, *whole.mould.risers]
    chunks: list[bytes] = []
    views: list[dict[str, Any]] = []
    accessors: list[dict[str, Any]] = []
    nodes, meshes = [], []

    def put(array: NDArray[Any], code: int, kind: str, target: int, **more: Any) -> int:
        data = array.tobytes()
        start = sum(map(len, chunks))
        chunks.append(data + b"\0" * (-len(data) % 4))
        views.append({"buffer": 0, "byteOffset": start, "byteLength": len(data), "target": target})
        count = len(array) if array.ndim > 1 else array.size
        accessors.append(
            {"bufferView": len(views) - 1, "componentType": code, "count": count, "type": kind, **more}
        )
        return len(accessors) - 1

    for number in numbers:
        body = whole.mould.bodies[number]
        corners = body.triangles.reshape(-1, 3).astype(np.float32)
        points, faces = np.unique(corners, axis=0, return_inverse=True)
        painted = np.full((len(points), 4), 255, np.uint8)
        painted[:, :3] = colours(_under(whole, points, number) / whole.found.end)
        places = np.ascontiguousarray(np.stack((points[:, 0], points[:, 2], -points[:, 1]), axis=1))
        place = put(
            places,
            5126,
            "VEC3",
            34962,
            min=[float(value) for value in places.min(axis=0)],
            max=[float(value) for value in places.max(axis=0)],
        )
        colour = put(painted, 5121, "VEC4", 34962, normalized=True)
        index = put(faces.reshape(-1).astype(np.uint32), 5125, "SCALAR", 34963)
        meshes.append(
            {
                "name": body.name,
                "primitives": [
                    {"attributes": {"POSITION": place, "COLOR_0": colour}, "indices": index, "material": 0}
                ],
            }
        )
        nodes.append({"name": body.name, "mesh": len(meshes) - 1})
    binary = b"".join(chunks)
    described = {
        "asset": {"version": "2.0"},
        "scene": 0,
        "scenes": [{"nodes": list(range(len(nodes)))}],
        "nodes": nodes,
        "meshes": meshes,
        "materials": [{"pbrMetallicRoughness": {"metallicFactor": 0.0, "roughnessFactor": 1.0}}],
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": len(binary)}],
    }
    text = json.dumps(described, separators=(",", ":")).encode("utf-8")
    text += b" " * (-len(text) % 4)
    whole_length = 12 + 8 + len(text) + 8 + len(binary)
    return b"".join(
        (
            struct.pack("<4sII", b"glTF", 2, whole_length),
            struct.pack("<I4s", len(text), b"JSON"),
            text,
            struct.pack("<I4s", len(binary), b"BIN\0"),
            binary,
        )
    )


def _under(whole: Whole, points: NDArray[Any], number: int) -> Floats:
    """For points of a body's surface (m) the time of the nearest cell of its metal, s."""
    from scipy.spatial import cKDTree  # here, because it is slow to load

    found = whole.found
    cells = np.argwhere(np.isfinite(found.times) & (found.owners == number))
    if not len(cells):
        return np.zeros(len(points))
    centres = found.block.origin + (cells + 0.5) * found.block.cell
    _, nearest = cKDTree(centres).query(points)
    times = found.times[tuple(cells.T)].astype(np.float64)
    return np.asarray(times[nearest])
