"""Reads one OBJ, PLY or 3MF file in a process of its own, so that no file can harm the service.

Run as ``python -m pourwright_service.api.mesh_reader KIND MEGABYTES SECONDS IN OUT``. It limits its own
memory and processor time before it reads anything, and writes the triangles to OUT: one line of JSON
(the file's own length unit, if it names one), then float64, triangle by triangle.
"""

import json
import resource
import sys
from pathlib import Path
from typing import Any

from ..engine.geometry.stl import MAX_TRIANGLES

DAMAGED, TOO_LARGE = 3, 4
"""Exit codes: the file cannot be read; it needs more memory than is allowed."""


def main(arguments: list[str]) -> int:
    """Read, convert, write; the exit code says how it went."""
    kind, megabytes, seconds, source, target = arguments
    resource.setrlimit(resource.RLIMIT_DATA, (int(megabytes) << 20,) * 2)
    resource.setrlimit(resource.RLIMIT_CPU, (int(seconds), int(seconds) + 1))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    try:
        unit, triangles = _triangles(Path(source), kind)
    except MemoryError:
        return TOO_LARGE
    except Exception as error:  # whatever a damaged file makes the library raise
        print(f"{type(error).__name__}: {error}"[:200], file=sys.stderr)
        return DAMAGED
    with open(target, "wb") as out:
        out.write(json.dumps({"unit": unit}).encode() + b"\n" + triangles)
    return 0


def _triangles(path: Path, kind: str) -> tuple[str | None, bytes]:
    """The file's unit and its triangles as bytes; components of a scene where they are placed."""
    import numpy as np  # after the limits are set
    import trimesh

    announced = _announced(path) if kind == "3mf" else None
    with path.open("rb") as file:
        options: dict[str, Any] = {"skip_materials": True} if kind == "obj" else {}
        scene = trimesh.load_scene(file, file_type=kind, process=False, **options)
    found = scene.to_mesh()
    unit = scene.units if kind == "3mf" else None
    if announced not in (None, len(found.triangles)):
        raise ValueError(
            f"of {announced} triangles {len(found.triangles)} could be placed: flatten the model"
        )
    return unit, np.ascontiguousarray(found.triangles, dtype=np.float64).tobytes()


def _announced(path: Path) -> int:
    """How many triangles a 3MF model has when all its parts are placed; MemoryError for too many.

    Components placed inside components are what a bomb is made of, and what the library loses some of
    where they are nested deeply; so they are counted first, each object once.
    """
    import zipfile

    from lxml import etree

    parser = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False)
    with zipfile.ZipFile(path) as file:
        (model,) = [name for name in file.namelist() if name.casefold().endswith(".model")]
        root = etree.fromstring(file.read(model), parser)
    own: dict[str, int] = {}
    parts: dict[str, list[str]] = {}
    for thing in root.iter("{*}object"):
        name = thing.get("id", "")
        own[name] = sum(1 for _ in thing.iter("{*}triangle"))
        parts[name] = [part.get("objectid", "") for part in thing.iter("{*}component")]
    counted: dict[str, int] = {}

    def count(name: str, above: tuple[str, ...]) -> int:
        if name in above:
            raise ValueError("an object is part of itself")
        if name not in counted:
            counted[name] = own[name] + sum(count(part, (*above, name)) for part in parts[name])
        return counted[name]

    announced = sum(count(item.get("objectid", ""), ()) for item in root.iter("{*}item"))
    if announced > MAX_TRIANGLES:
        raise MemoryError
    return announced


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
