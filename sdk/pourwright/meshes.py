# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of meshes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport, part

if TYPE_CHECKING:
    from .answer import Units
    from .models.meshes import MeshResult


class MeshesCalls(Transport):
    """The operations of meshes."""

    def put_mesh(
        self,
        *,
        sha256: str,
        content: bytes,
    ) -> MeshResult:
        """Store a mesh.

        Stores an STL, OBJ, PLY or 3MF file of up to 64 MB under the SHA-256 of its bytes and measures it.
        Sending it again changes nothing. Ask with HEAD first to save the upload.

        sha256: SHA-256 of the file's bytes, 64 lower-case hexadecimal digits.
        content: The file's bytes.
        """
        from .models.meshes import MeshResult

        return self._fetch(
            "PUT",
            f"/v1/meshes/{part(sha256)}",
            MeshResult,
            content=content,
        )

    def get_mesh(
        self,
        *,
        sha256: str,
        units: Units | None = None,
    ) -> MeshResult:
        """What measuring a stored mesh gave.

        Volume, area, box and soundness of a mesh uploaded before, in the file's own length unit.

        sha256: SHA-256 of the file's bytes, 64 lower-case hexadecimal digits.
        units: System of units of the answer; it never changes a decision.
        """
        from .models.meshes import MeshResult

        return self._fetch(
            "GET",
            f"/v1/meshes/{part(sha256)}",
            MeshResult,
            units=units,
        )

    def has_mesh(
        self,
        *,
        sha256: str,
    ) -> bool:
        """Whether a mesh is stored.

        Status 200 if it is, 404 if it is not (any more). Saves an upload.

        sha256: SHA-256 of the file's bytes, 64 lower-case hexadecimal digits.
        """
        return self._exists(f"/v1/meshes/{part(sha256)}")
