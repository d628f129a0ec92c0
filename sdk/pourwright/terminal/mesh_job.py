"""A freeze map asked for straight from a mesh's file, and its pictures and files written beside it."""

from __future__ import annotations

import argparse
import base64
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from .files import BadFile, read_job

MESHES = (".stl", ".obj", ".ply", ".3mf")
"""Endings of files that are meshes and no requests."""

UNITS = ("mm", "cm", "m", "in", "ft")
UPS = ("+x", "-x", "+y", "-y", "+z", "-z")


def add_mesh_options(parser: argparse.ArgumentParser) -> None:
    """What may be said on the command line where FILE is a mesh; it also wins over a request's own."""
    parser.add_argument("--alloy", help="the alloy, such as C87300")
    parser.add_argument("--medium", help="what the mould is made of, such as 'green sand'")
    parser.add_argument("--up", type=_up, metavar="AXIS", help="what points upwards in the mould: z, -z, ...")
    parser.add_argument("--unit", choices=UNITS, help="length unit of the mesh; mm if left out")
    parser.add_argument(
        "--pattern", action="store_true", help="the mesh is of the pattern, contraction already added"
    )
    parser.add_argument(
        "--riser",
        type=_riser,
        metavar="DIAMETERxHEIGHT",
        help="a round riser on the casting, in the mesh's unit, as 56x56",
    )
    parser.add_argument(
        "--at",
        type=_place,
        metavar="X,Y,Z",
        help="with --riser: the place in the file over which it stands",
    )
    parser.add_argument("--cells", type=int, help="how many cells; more are finer and slower")
    parser.add_argument("--vti", action="store_true", help="write the cells for a viewer of scientific data")
    parser.add_argument("--glb", action="store_true", help="write the surface coloured by its time")
    parser.add_argument("--out", metavar="FOLDER", help="where to write pictures and files; else beside FILE")


def joined(arguments: Sequence[str]) -> list[str]:
    """Arguments with ``--up -z`` and ``--at -10,0,0`` in one piece: argparse takes -z for an option."""
    made: list[str] = []
    for word in arguments:
        if made and made[-1] in ("--up", "--at") and word.startswith("-") and not word.startswith("--"):
            made[-1] += f"={word}"
        else:
            made.append(word)
    return made


def _up(text: str) -> str:
    axis = text if text[:1] in "+-" else f"+{text}"
    if axis not in UPS:
        raise argparse.ArgumentTypeError(f"one of x, y, z, -x, -y, -z is needed, not {text}")
    return axis


def _riser(text: str) -> tuple[float, float]:
    sizes = _numbers(text.lower().replace("×", "x"), "x")
    if len(sizes) != 2 or min(sizes) <= 0.0:
        raise argparse.ArgumentTypeError("diameter and height are needed, as 56x56")
    return sizes[0], sizes[1]


def _place(text: str) -> tuple[float, ...]:
    place = _numbers(text, ",")
    if len(place) != 3:
        raise argparse.ArgumentTypeError("three coordinates are needed, as 0,10,0")
    return place


def _numbers(text: str, between: str) -> tuple[float, ...]:
    try:
        return tuple(float(part) for part in text.split(between))
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"no numbers: {text}") from error


def map_job(given: argparse.Namespace) -> tuple[dict[str, Any], Path]:
    """The request of the command line, and the folder that its own paths start from."""
    path = Path(given.file)
    if path.suffix.casefold() in MESHES:
        job: dict[str, Any] = {"mesh": {"file": path.name, "length_unit": "mm"}, "slices": True}
        folder = path.parent
    else:
        job, folder = read_job(given.file)
    mesh = job.setdefault("mesh", {})
    if not isinstance(mesh, dict):
        raise BadFile("mesh must be an object")
    for place, name, value in (
        (job, "alloy", given.alloy),
        (job, "mould", {"medium": given.medium} if given.medium else None),
        (job, "cells", given.cells),
        (job, "files", [kind for kind in ("vti", "glb") if getattr(given, kind)] or None),
        (mesh, "length_unit", given.unit),
        (mesh, "up", given.up),
        (mesh, "represents", "pattern" if given.pattern else None),
    ):
        if value is not None:
            place[name] = value
    if given.riser is not None:
        unit = mesh.get("length_unit", "mm")
        diameter, height = (f"{size:g} {unit}" for size in given.riser)
        job["riser"] = {"diameter": diameter, "height": height}
        if given.at is not None:
            job["riser"]["at"] = [f"{part:g} {unit}" for part in given.at]
    return job, folder


def write_files(data: Mapping[str, Any], given: argparse.Namespace) -> list[str]:
    """Write the pictures and files of an answer; their names."""
    result = data.get("result") or {}
    source = Path(given.file)
    folder = Path(given.out) if given.out else source.parent
    stem = source.stem if given.file != "-" else "freeze-map"
    wanted = {
        f"{stem}-{one['across']}.png": one["png"] for one in result.get("slices") or [] if one.get("png")
    }
    for one in result.get("files") or []:
        wanted[f"{stem}.{str(one['name']).rpartition('.')[2]}"] = one["content"]
    try:
        if wanted:
            folder.mkdir(parents=True, exist_ok=True)
        for name, content in wanted.items():
            (folder / name).write_bytes(base64.b64decode(content))
    except (OSError, ValueError) as error:
        raise BadFile(f"the map's files cannot be written to {folder}: {error}") from error
    return [str(folder / name) for name in wanted]
