"""Which format a mesh file has, by its bytes; OBJ, PLY and 3MF become triangles in a child process."""

import json
import os
import re
import subprocess
import sys
import tempfile
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np

from ..engine.geometry.mesh import Mesh, MeshFault, mesh_of, read_stl
from ..engine.geometry.stl import believable
from .mesh_reader import TOO_LARGE

Format = Literal["stl", "obj", "ply", "3mf"]

MEMORY = 380
"""Megabytes that the child may take: a bomb ends here, and 1 million triangles still fit."""

UNPACKED = 48 * 1_048_576
"""Bytes that a 3MF file may unpack to, by what its directory announces."""

MEMBERS = 200
"""Files inside a 3MF file."""

_SECONDS_AT_LEAST, _MEGABYTES_A_SECOND = 3, 4
_OBJ = re.compile(rb"(?:[ \t]*+(?:#[^\n]*+)?\r?\n)*+[ \t]*+(?:v|vn|vt|f|o|g|s|mtllib|usemtl)[ \t]")
_UNITS = {
    "millimeter": "mm",
    "millimeters": "mm",
    "centimeter": "cm",
    "centimeters": "cm",
    "meter": "m",
    "meters": "m",
    "inch": "in",
    "inches": "in",
    "foot": "ft",
    "feet": "ft",
}


@dataclass(frozen=True, slots=True)
class Reading:
    """A mesh, the format it came in, and the length unit that the file itself names."""

    mesh: Mesh
    format: Format
    unit: str | None


def format_of(data: bytes) -> Format:
    """The format by the first bytes; what is none of the others is taken for STL and read as such."""
    if data[:4] == b"PK\x03\x04":
        return "3mf"
    if re.match(rb"ply[ \t]*\r?\n", data[:16]):
        return "ply"
    if _OBJ.match(data[:4096]) and b"\0" not in data[:4096]:
        return "obj"
    return "stl"


def read_mesh(path: Path) -> Reading:
    """The mesh in a file of any of the four formats.

    Raises MeshFault with the codes of :func:`..engine.geometry.stl.read_triangles`, and
    ``mesh_unreadable`` for a damaged file of the other formats.
    """
    data = path.read_bytes()
    kind = format_of(data)
    if kind == "stl":
        return Reading(read_stl(data), kind, None)
    if kind == "3mf":
        _check_zip(path)
    return _by_child(path, kind, len(data))


def _check_zip(path: Path) -> None:
    """Refuse a zip that announces too much, before anything is unpacked."""
    try:
        with zipfile.ZipFile(path) as file:
            members = file.infolist()
    except (zipfile.BadZipFile, NotImplementedError, ValueError, OSError) as error:
        raise MeshFault("mesh_unreadable", f"this is no sound zip, so no 3MF file: {error}") from error
    total = sum(member.file_size for member in members)
    if len(members) > MEMBERS or total > UNPACKED:
        raise MeshFault(
            "mesh_too_large",
            f"unpacked this 3MF file has {len(members)} files and {total} bytes; at most {MEMBERS} files and "
            f"{UNPACKED} bytes are taken: save it as binary STL",
        )
    if not any(member.filename.casefold().endswith(".model") for member in members):
        raise MeshFault("mesh_unreadable", "this zip holds no 3D model, so it is no 3MF file")


def _by_child(path: Path, kind: Format, size: int) -> Reading:
    seconds = _SECONDS_AT_LEAST + size // (_MEGABYTES_A_SECOND * 1_048_576)
    with tempfile.TemporaryDirectory(prefix="pourwright-mesh-") as folder:
        target = Path(folder) / "triangles"
        limits = (str(MEMORY), str(seconds))
        command = [sys.executable, "-m", f"{__package__}.mesh_reader", kind, *limits, str(path), str(target)]
        one_thread = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
        try:
            done = subprocess.run(
                command,
                cwd=folder,
                env={**os.environ, **one_thread},
                stdin=subprocess.DEVNULL,
                capture_output=True,
                timeout=2 * seconds + 5,
                check=False,
            )
        except subprocess.TimeoutExpired as error:
            raise _too_much(kind) from error
        if done.returncode == TOO_LARGE or done.returncode < 0:
            raise _too_much(kind)
        if done.returncode != 0:
            told = done.stderr.decode("utf-8", "replace").strip().splitlines()
            detail = f"the {kind.upper()} file cannot be read ({told[-1] if told else 'damaged'})"
            raise MeshFault("mesh_unreadable", detail)
        head, _, body = target.read_bytes().partition(b"\n")
    triangles = np.frombuffer(body, dtype=np.float64).reshape(-1, 3, 3)
    return Reading(mesh_of(believable(triangles)), kind, _UNITS.get(json.loads(head)["unit"] or ""))


def _too_much(kind: str) -> MeshFault:
    return MeshFault(
        "mesh_too_large", f"reading this {kind.upper()} file takes too much memory or time: save it as STL"
    )
