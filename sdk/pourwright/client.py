"""The client: one method per operation of the service."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self

from .subjects import Subjects

if TYPE_CHECKING:
    from .models.meshes import MeshResult


class Client(Subjects):
    """Asks one Pourwright service.

    ``Client(base_url=None, *, api_key=None, timeout=(5, 60), retries=2, session=None)``

    base_url: Address of the service; else the variable POURWRIGHT_URL, else http://127.0.0.1:8780.
    api_key: Key, where the service wants one; else the variable POURWRIGHT_API_KEY.
    timeout: Seconds to wait for the connection and for the answer.
    retries: How often a request is sent again after 429, 502, 503, 504 or a lost connection.
    session: A requests.Session of your own; then retries and closing are yours too.

    Arguments of the methods are those of the requests, by name. A quantity is text with its unit
    (``"25.4 mm"``), a :class:`~pourwright.Quantity`, or a dictionary of value and unit; an object is a
    plain dictionary. Every method may raise the errors of :mod:`pourwright.errors`.
    """

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def upload_mesh(self, mesh: str | os.PathLike[str] | bytes) -> MeshResult:
        """Store a mesh (the path of an STL file, or its bytes) unless it is there, and say what it measures.

        Its ``id`` is what a request's ``mesh`` names. Lengths of the result are in the file's own unit.
        """
        content = mesh if isinstance(mesh, bytes) else Path(mesh).read_bytes()
        name = hashlib.sha256(content).hexdigest()
        if self.has_mesh(sha256=name):
            return self.get_mesh(sha256=name)
        return self.put_mesh(sha256=name, content=content)
