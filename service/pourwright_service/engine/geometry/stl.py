"""Reading STL files, of which nothing is believed before it is checked.

Binary is told by size (84 bytes and 50 for each triangle announced), never by the word "solid",
with which many binary files begin too. Nothing is allocated for more triangles than are allowed.
"""

import re

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

MAX_TRIANGLES = 1_400_000
"""More triangles than this are refused before anything is allocated for them (about 70 MB)."""

MAX_TEXT = 32_000_000
"""A longer text file (bytes) is refused: in binary it is a fifth of the size."""

FARTHEST = 1e7
"""Largest coordinate that is believed, in any length unit."""

REMOTEST = 1e4
"""A mesh may lie this many of its own sizes away from the origin; beyond, single precision has
eaten its detail."""

SMALLEST = 1e-6
"""Smallest size (diagonal of the box) that is believed, in any length unit."""

_HEADER = 84
_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])

# Possessive quantifiers and short numbers: no text can make the patterns try twice.
_SPACE = rb"[ \t\r\n]++"
_NUMBER = _SPACE + rb"([-+]?(?:[0-9]{1,40}+(?:\.[0-9]{0,40}+)?|\.[0-9]{1,40}+)(?:e[-+]?[0-9]{1,4}+)?)"
_CORNER = _SPACE + rb"vertex" + 3 * _NUMBER
_FACET = re.compile(
    rb"[ \t\r\n]*+facet(?:"
    + (_SPACE + rb"normal" + 3 * (_SPACE + rb"[-+.0-9a-z]{1,60}+") + rb")?")
    + (_SPACE + rb"outer" + _SPACE + rb"loop" + 3 * _CORNER)
    + (_SPACE + rb"endloop" + _SPACE + rb"endfacet(?=[ \t\r\n]|\Z)")
)
_SOLID = re.compile(rb"[ \t\r\n]*+(?:end)?solid(?:[ \t][^\r\n]*+)?(?=[\r\n]|\Z)")
_BLANK = re.compile(rb"[ \t\r\n]*+\Z")
_MOST_SOLIDS = 10_000
_AT_ONCE = 20_000


class MeshFault(ValueError):
    """A file that cannot be taken as a mesh: ``code`` for a program, ``detail`` for a person."""

    def __init__(self, code: str, detail: str) -> None:
        self.code, self.detail = code, detail
        super().__init__(detail)


def read_triangles(data: bytes) -> Floats:
    """The triangles of an STL file, binary or text, as an array (n, 3, 3) in the file's unit.

    Raises MeshFault: ``mesh_empty``, ``mesh_not_stl``, ``mesh_truncated``, ``mesh_too_long``,
    ``mesh_too_large``, ``mesh_not_finite``, ``mesh_out_of_range``.
    """
    if not data:
        raise MeshFault("mesh_empty", "the file is empty")
    if len(data) >= _HEADER:
        announced = int.from_bytes(data[80:_HEADER], "little")
        if len(data) == _HEADER + _RECORD.itemsize * announced:
            return believable(_binary(data, announced))
    if b"\0" in data[:1024] or not _SOLID.match(data[:1024].lower()):
        raise _wrong_size(data)
    return believable(_text(data))


def _binary(data: bytes, count: int) -> Floats:
    if count > MAX_TRIANGLES:
        raise _too_large(count)
    return np.frombuffer(data, _RECORD, offset=_HEADER)["corners"].astype(np.float64)


def _wrong_size(data: bytes) -> MeshFault:
    """What to say of a file that is neither text nor as long as its header announces."""
    if len(data) < _HEADER:
        return MeshFault("mesh_not_stl", f"an STL file has at least {_HEADER} bytes; this has {len(data)}")
    if all(byte in b"\t\r\n" or 32 <= byte < 127 for byte in data[:_HEADER]):
        return MeshFault("mesh_not_stl", "this is text, but not an STL file: it does not begin with 'solid'")
    announced = int.from_bytes(data[80:_HEADER], "little")
    wanted = _HEADER + _RECORD.itemsize * announced
    told = f"the header announces {announced} triangles, {wanted} bytes; the file has {len(data)}"
    if wanted > len(data):
        return MeshFault("mesh_truncated", f"{told}: it is cut short, or no STL file")
    return MeshFault("mesh_too_long", f"{told}: more than one file joined together, or no STL file")


def _too_large(count: int) -> MeshFault:
    return MeshFault(
        "mesh_too_large", f"{count} triangles; at most {MAX_TRIANGLES} are taken: coarsen the mesh"
    )


def _text(data: bytes) -> Floats:
    """The facets of a text file, strictly one after another, several solids allowed."""
    if len(data) > MAX_TEXT:
        raise MeshFault(
            "mesh_too_large", f"text files of up to {MAX_TEXT} bytes are read: save it as binary STL"
        )
    text, place, count, solids = data.lower(), 0, 0, 0
    parts: list[Floats] = []
    numbers: list[bytes] = []
    while True:
        facet = _FACET.match(text, place)
        if facet is not None:
            place, count = facet.end(), count + 1
            if count > MAX_TRIANGLES:
                raise _too_large(count)
            numbers.extend(facet.groups())
            if len(numbers) >= 9 * _AT_ONCE:
                parts.append(np.array(numbers, dtype=np.float64))
                numbers.clear()
            continue
        solid = _SOLID.match(text, place)
        if solid is None:
            break
        place, solids = solid.end(), solids + 1
        if solids > 2 * _MOST_SOLIDS:
            raise MeshFault("mesh_too_large", f"more than {_MOST_SOLIDS} solids in one file")
    if _BLANK.match(text, place) is None:
        line = text.count(b"\n", 0, place) + 1
        raise MeshFault(
            "mesh_not_stl", f"facet {count + 1} (after line {line}) is not written as STL wants it"
        )
    parts.append(np.array(numbers, dtype=np.float64))
    return np.concatenate(parts).reshape(-1, 3, 3)


def believable(triangles: Floats) -> Floats:
    """The triangles, if there are any and their coordinates can be computed with; else MeshFault
    ``mesh_empty``, ``mesh_too_large``, ``mesh_not_finite``, ``mesh_out_of_range``."""
    if not len(triangles):
        raise MeshFault("mesh_empty", "the file holds no triangles")
    if len(triangles) > MAX_TRIANGLES:
        raise _too_large(len(triangles))
    low, high = box(triangles)
    farthest = float(np.max(np.abs((low, high))))
    if not np.isfinite(farthest):
        raise MeshFault("mesh_not_finite", "a coordinate is not a finite number")
    diagonal = float(np.linalg.norm(high - low))
    if farthest > FARTHEST or diagonal < SMALLEST:
        detail = f"coordinates must lie within {FARTHEST:g} and span at least {SMALLEST:g} length units"
        raise MeshFault("mesh_out_of_range", detail)
    if farthest > REMOTEST * diagonal:
        detail = "the body is so small and so far from the origin that its shape is lost in rounding"
        raise MeshFault("mesh_out_of_range", detail)
    return triangles


def written(triangles: Floats) -> bytes:
    """The triangles (n, 3, 3) as a binary STL file."""
    records = np.zeros(len(triangles), dtype=_RECORD)
    records["corners"] = triangles
    return b"triangles".ljust(80) + len(triangles).to_bytes(4, "little") + records.tobytes()


def box(triangles: Floats) -> tuple[Floats, Floats]:
    """Least and greatest coordinates, each (3,); NaN where a coordinate is NaN."""
    low = np.array([triangles[:, :, axis].min() for axis in range(3)])
    high = np.array([triangles[:, :, axis].max() for axis in range(3)])
    return low, high
