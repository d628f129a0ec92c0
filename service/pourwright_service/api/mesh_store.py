"""Uploaded meshes on disk: the file under its SHA-256, and beside it the report of measuring it.

A file of another format than STL is kept as the binary STL that it was turned into. The report
outlives the file, so that the service can tell a mesh that was removed from one that never was there.
"""

import hashlib
import json
import os
import re
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import IO, Any, Literal

from ..engine.geometry.mesh import Mesh, read_stl
from ..engine.geometry.stl import written
from .mesh_formats import read_mesh

State = Literal["stored", "expired", "unknown"]

_PIECE = 1_048_576
_DAY = 86_400.0
_HASH = re.compile(r"[0-9a-f]{64}")


class WrongHash(ValueError):
    """The bytes that came do not have the promised SHA-256; carries the one they have."""


class TooLarge(ValueError):
    """More bytes came than are taken."""


def is_hash(text: str) -> bool:
    """Whether a text is a SHA-256 in lower-case hexadecimal digits."""
    return _HASH.fullmatch(text) is not None


@dataclass(frozen=True, slots=True)
class MeshStore:
    """The folder of meshes; files unused for ``days`` (0: for ever) may be removed."""

    folder: Path
    days: float = 0.0

    def state(self, sha256: str) -> State:
        """Whether the mesh is here, was here once, or never was."""
        if self._file(sha256).is_file():
            return "stored"
        return "expired" if self._report(sha256).is_file() else "unknown"

    def report(self, sha256: str) -> dict[str, Any]:
        """What measuring the mesh gave, in its own length unit."""
        found: dict[str, Any] = json.loads(self._report(sha256).read_text(encoding="utf-8"))
        if "format" not in found:  # measured by an older version
            found = asdict(self.mesh(sha256).report()) | {"format": "stl", "length_unit": None}
        return found

    def mesh(self, sha256: str) -> Mesh:
        """The mesh itself; being used keeps it from expiring."""
        path = self._file(sha256)
        data = path.read_bytes()
        os.utime(path)
        return read_stl(data)

    def put(self, sha256: str, body: IO[bytes], limit: int) -> bool:
        """Store a mesh if it is not here yet, and say whether it was new.

        Raises TooLarge, WrongHash, or MeshFault for a file that cannot be taken as a mesh. Nothing
        is kept then.
        """
        with self._received(body, limit) as (path, digest):
            if digest != sha256:
                raise WrongHash(digest)
            if self.state(sha256) == "stored":
                os.utime(self._file(sha256))
                return False
            read = read_mesh(path)
            report = asdict(read.mesh.report()) | {"format": read.format, "length_unit": read.unit}
            if read.format != "stl":
                path.write_bytes(written(read.mesh.triangles))
            home = self._file(sha256).parent
            home.mkdir(parents=True, exist_ok=True)
            draft = path.with_suffix(".json")
            draft.write_text(json.dumps(report), encoding="utf-8")
            os.replace(draft, self._report(sha256))
            os.replace(path, self._file(sha256))
        self._remove_unused()
        return True

    def writable(self) -> bool:
        """Whether meshes can be stored."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError:
            return False
        return os.access(self.folder, os.W_OK)

    @contextmanager
    def _received(self, body: IO[bytes], limit: int) -> Iterator[tuple[Path, str]]:
        """The body in a file of its own, and its hash; the file is gone afterwards unless moved."""
        self.folder.mkdir(parents=True, exist_ok=True)
        digest = hashlib.sha256()
        length = 0
        with tempfile.NamedTemporaryFile(dir=self.folder, suffix=".part", delete=False) as file:
            path = Path(file.name)
            try:
                while piece := body.read(_PIECE):
                    length += len(piece)
                    if length > limit:
                        raise TooLarge
                    digest.update(piece)
                    file.write(piece)
                file.flush()
                yield path, digest.hexdigest()
            finally:
                path.unlink(missing_ok=True)

    def _remove_unused(self) -> None:
        if not self.days:
            return
        oldest = time.time() - self.days * _DAY
        for path in self.folder.glob("*/*.stl"):
            if path.stat().st_mtime < oldest:
                path.unlink(missing_ok=True)

    def _file(self, sha256: str) -> Path:
        return self.folder / sha256[:2] / f"{sha256}.stl"

    def _report(self, sha256: str) -> Path:
        return self.folder / sha256[:2] / f"{sha256}.json"
