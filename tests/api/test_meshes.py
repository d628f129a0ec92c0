"""Meshes over HTTP: stored once under their hash, measured, refused when damaged."""

import hashlib
import io
import os
import struct
import time
from typing import Any

import numpy as np
import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from pourwright_service.api.meshes import stored_mesh
from pourwright_service.api.problems import Problem
from pourwright_service.app import create_app
from pourwright_service.settings import Settings

CORNERS = np.array([[x, y, z] for x in (0, 10) for y in (0, 20) for z in (0, 30)], dtype=float)
FACES = [
    (0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1),
    (2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3),
]  # fmt: skip


def stl(faces: list[tuple[int, int, int]] = FACES) -> bytes:
    """A block of 10 x 20 x 30 as binary STL."""
    records = b"".join(
        struct.pack("<12fH", 0, 0, 0, *(float(c) for corner in face for c in CORNERS[corner]), 0)
        for face in faces
    )
    return b"block".ljust(80) + struct.pack("<I", len(faces)) + records


def hash_of(body: bytes) -> str:
    return hashlib.sha256(body).hexdigest()


def put(client: FlaskClient, body: bytes, sha256: str = "", **more: Any) -> TestResponse:
    return client.put(f"/v1/meshes/{sha256 or hash_of(body)}", data=body, **more)


def files(settings: Settings) -> list[str]:
    return sorted(path.name for path in settings.mesh_dir.rglob("*") if path.is_file())


def test_a_mesh_is_stored_and_measured(client: FlaskClient, settings: Settings) -> None:
    body = stl()
    reply = put(client, body)
    assert reply.status_code == 201
    report = reply.get_json()
    assert report["id"] == hash_of(body)
    assert report["triangles"] == 12
    assert report["volume"] == pytest.approx(10 * 20 * 30)
    assert report["area"] == pytest.approx(2 * (200 + 300 + 600))
    assert (report["low"], report["high"]) == ([0.0, 0.0, 0.0], [10.0, 20.0, 30.0])
    assert report["watertight"] is True
    assert files(settings) == [f"{hash_of(body)}.json", f"{hash_of(body)}.stl"]


def test_storing_again_changes_nothing(client: FlaskClient) -> None:
    first, second = put(client, stl()), put(client, stl())
    assert (first.status_code, second.status_code) == (201, 200)
    assert first.get_json() == second.get_json()
    got = client.get(f"/v1/meshes/{hash_of(stl())}")
    assert got.status_code == 200
    assert got.get_json() == first.get_json()


def test_head_saves_an_upload(client: FlaskClient) -> None:
    address = f"/v1/meshes/{hash_of(stl())}"
    assert client.head(address).status_code == 404
    put(client, stl())
    reply = client.head(address)
    assert (reply.status_code, reply.data) == (200, b"")


@pytest.mark.parametrize("content_type", ["application/octet-stream", "model/stl", ""])
def test_content_types_that_are_taken(client: FlaskClient, content_type: str) -> None:
    assert put(client, stl(), content_type=content_type).status_code == 201


def test_another_content_type_is_refused(client: FlaskClient, settings: Settings) -> None:
    reply = put(client, stl(), content_type="application/json")
    assert reply.status_code == 415
    assert reply.get_json()["errors"][0]["accepted"][:2] == ["application/octet-stream", "model/stl"]
    assert files(settings) == []


def test_the_hash_must_be_the_body_s(client: FlaskClient, settings: Settings) -> None:
    reply = put(client, stl(), "0" * 64)
    assert reply.status_code == 422
    assert hash_of(stl()) in reply.get_json()["detail"]
    assert reply.get_json()["errors"][0]["code"] == "wrong_hash"
    assert files(settings) == []


@pytest.mark.parametrize("sha256", ["abc", "A" * 64, "g" * 64, "0" * 63, "..%2F..%2Fetc"])
def test_what_is_no_hash(client: FlaskClient, sha256: str) -> None:
    for reply in (client.put(f"/v1/meshes/{sha256}", data=stl()), client.get(f"/v1/meshes/{sha256}")):
        assert reply.status_code in (404, 422)
        assert reply.content_type == "application/problem+json"


DAMAGED = {
    "nothing": b"",
    "text": b"solid nothing to see",
    "cut short": stl()[:-20],
    "a claim of a gigabyte": b"big".ljust(80) + struct.pack("<I", 21_474_836) + b"\0" * 50,
    "too many triangles": b"big".ljust(80) + struct.pack("<I", 2**32 - 1),
    "a zip": b"PK\x03\x04" + os.urandom(500),
    "not a number": stl()[:96] + struct.pack("<f", float("nan")) + stl()[100:],
}


@pytest.mark.parametrize("body", DAMAGED.values(), ids=DAMAGED)
def test_a_damaged_file(client: FlaskClient, settings: Settings, body: bytes) -> None:
    began = time.perf_counter()
    reply = put(client, body)
    assert reply.status_code == 422
    problem = reply.get_json()
    assert problem["type"] == "/problems/mesh_damaged"
    assert problem["errors"][0]["code"].startswith("mesh_")
    assert files(settings) == []
    assert time.perf_counter() - began < 1.0


def test_a_mesh_beyond_the_limit(settings: Settings) -> None:
    small = Settings(mesh_dir=settings.mesh_dir, mesh_limit=500)
    client = create_app(small).test_client()
    assert put(client, stl()).status_code == 413
    without_length = client.put(
        f"/v1/meshes/{hash_of(stl())}",
        input_stream=io.BytesIO(stl()),
        environ_overrides={"wsgi.input_terminated": True},
    )
    assert without_length.status_code == 413
    assert files(settings) == []


def test_a_mesh_that_was_removed_is_told_from_one_that_never_was(
    client: FlaskClient, settings: Settings
) -> None:
    put(client, stl())
    next(settings.mesh_dir.rglob("*.stl")).unlink()
    gone = client.get(f"/v1/meshes/{hash_of(stl())}")
    assert (gone.status_code, gone.get_json()["type"]) == (404, "/problems/mesh_expired")
    never = client.get(f"/v1/meshes/{'0' * 64}")
    assert (never.status_code, never.get_json()["type"]) == (404, "/problems/mesh_unknown")
    assert put(client, stl()).status_code == 201


def test_unused_meshes_are_removed_after_their_days(settings: Settings) -> None:
    client = create_app(Settings(mesh_dir=settings.mesh_dir, mesh_days=30)).test_client()
    put(client, stl())
    old = next(settings.mesh_dir.rglob("*.stl"))
    os.utime(old, (time.time() - 31 * 86_400,) * 2)
    other = stl(FACES[::-1])
    put(client, other)
    assert not old.exists()
    assert client.get(f"/v1/meshes/{hash_of(other)}").status_code == 200
    assert client.get(f"/v1/meshes/{hash_of(stl())}").get_json()["type"] == "/problems/mesh_expired"


def test_a_request_reads_the_mesh_it_names(settings: Settings) -> None:
    app = create_app(settings)
    put(app.test_client(), stl())
    with app.app_context():
        assert stored_mesh(hash_of(stl()), "/part/mesh/id").volume == pytest.approx(6000.0)
        with pytest.raises(Problem) as missing:
            stored_mesh("0" * 64, "/part/mesh/id")
    assert missing.value.kind.code == "mesh_unknown"
    assert missing.value.faults[0].pointer == "/part/mesh/id"
