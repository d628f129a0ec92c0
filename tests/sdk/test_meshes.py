"""Meshes through the SDK."""

import struct
from pathlib import Path

import pytest
import requests

from pourwright import Client, InvalidRequest, NotFound


def tetrahedron(size: float = 1.0) -> bytes:
    """A binary STL of a corner of a cube: volume size^3 / 6."""
    o, x, y, z = (0, 0, 0), (size, 0, 0), (0, size, 0), (0, 0, size)
    faces = [(o, y, x), (o, x, z), (o, z, y), (x, y, z)]
    body = b"".join(
        struct.pack("<12fH", 0, 0, 0, *(float(c) for point in face for c in point), 0) for face in faces
    )
    return bytes(80) + struct.pack("<I", len(faces)) + body


def test_uploaded_once(client: Client, tmp_path: Path) -> None:
    path = tmp_path / "corner.stl"
    path.write_bytes(tetrahedron(2.0))
    report = client.upload_mesh(path)
    # a right corner: a sixth of the cube, three half squares and one triangle of sides 2 sqrt(2)
    assert report.volume == pytest.approx(8 / 6, rel=1e-6)
    assert report.area == pytest.approx(3 * 2 + 2 * 3**0.5, rel=1e-6)
    assert report.watertight


def test_only_the_first_time(service: str) -> None:
    sent: list[str | None] = []

    def watch(response: requests.Response, **_: object) -> None:
        sent.append(response.request.method)

    session = requests.Session()
    session.hooks["response"].append(watch)
    client = Client(service, session=session)
    report = client.upload_mesh(tetrahedron(5.0))
    assert client.upload_mesh(tetrahedron(5.0)) == report
    assert sent == ["HEAD", "PUT", "HEAD", "GET"]


def test_damaged(client: Client) -> None:
    with pytest.raises(InvalidRequest) as caught:
        client.upload_mesh(b"solid nothing")
    assert caught.value.code == "mesh_damaged"


def test_expired_and_unknown(client: Client, mesh_dir: Path) -> None:
    report = client.upload_mesh(tetrahedron(3.0))
    next(mesh_dir.rglob(f"{report.id}.stl")).unlink()
    assert client.has_mesh(sha256=report.id) is False
    with pytest.raises(NotFound) as caught:
        client.get_mesh(sha256=report.id)
    assert caught.value.code == "mesh_expired"
    with pytest.raises(NotFound) as caught:
        client.get_mesh(sha256="0" * 64)
    assert caught.value.code == "mesh_unknown"
    assert client.upload_mesh(tetrahedron(3.0)) == report
