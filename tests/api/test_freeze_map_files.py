"""What comes with a freeze map: pictures, cells and surface, each read back as its standard says."""

import base64
import io
import struct
import zlib
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
import trimesh
from flask.testing import FlaskClient
from PIL import Image

from .test_freeze_maps import ask, request
from .test_plan_map import SCENARIO

Json = dict[str, Any]

RISER = {"diameter": "56 mm", "height": "56 mm"}
VOLUME = trimesh.load(SCENARIO / "fairlead.stl").volume + np.pi / 4.0 * 56.0**3


def contents(answer: Json) -> dict[str, bytes]:
    files = {one["name"]: base64.b64decode(one["content"]) for one in answer["result"]["files"]}
    return {name.rpartition(".")[2]: content for name, content in files.items()}


def cells_of(data: bytes) -> tuple[np.ndarray, np.ndarray, dict[str, np.ndarray]]:
    """Origin, spacing and arrays (x, y, z) of VTK XML image data, by its format's description."""
    root = ElementTree.fromstring(data)
    assert (root.get("type"), root.get("byte_order")) == ("ImageData", "LittleEndian")
    assert root.get("header_type") == "UInt32"
    image = root.find("ImageData")
    assert image is not None
    extent = [int(word) for word in str(image.get("WholeExtent")).split()]
    shape = [high - low for low, high in zip(extent[::2], extent[1::2], strict=True)]
    arrays = {}
    for element in root.iter("DataArray"):
        text = str(element.text).strip()
        blocks, size, last = struct.unpack("<3I", base64.b64decode(text[:16]))
        assert (blocks, last) == (1, 0)
        head = 4 * (3 + blocks)
        coded = 4 * -(-head // 3)
        (small,) = struct.unpack("<I", base64.b64decode(text[:coded])[12:head])
        packed = base64.b64decode(text[coded:])
        assert len(packed) == small
        raw = zlib.decompress(packed)
        assert len(raw) == size
        kind = {"Float32": "<f4", "Int8": "i1"}[str(element.get("type"))]
        arrays[str(element.get("Name"))] = np.frombuffer(raw, kind).reshape(shape, order="F")
    origin, spacing = (
        np.array([float(word) for word in str(image.get(name)).split()]) for name in ("Origin", "Spacing")
    )
    return origin, spacing, arrays


@pytest.mark.parametrize("up", ["-z", "+x"])
def test_cells_lie_where_the_mesh_does(client: FlaskClient, up: str) -> None:
    sent = request(client, files=["vti"])
    sent["mesh"]["up"] = up
    answer = ask(client, sent)
    origin, spacing, arrays = cells_of(contents(answer)["vti"])
    times, shares = arrays["freezing_time_s"], arrays["metal_share"]
    mesh = trimesh.load(SCENARIO / "fairlead.stl")
    assert shares.sum() * spacing.prod() == pytest.approx(mesh.volume, rel=0.002)
    middles = np.stack(np.meshgrid(*(np.arange(n) + 0.5 for n in shares.shape), indexing="ij"), axis=-1)
    places = origin + middles * spacing
    centre = (places * shares[..., None]).sum(axis=(0, 1, 2)) / shares.sum()
    # metal in a partial cell lies off its middle
    assert centre == pytest.approx(mesh.center_mass, abs=0.15 * spacing[0])
    last = np.unravel_index(times.argmax(), times.shape)
    first = answer["result"]["map"]["regions"][0]
    assert places[last] == pytest.approx([first[axis]["value"] for axis in "xyz"], abs=12.0)
    assert (times < 0.0).sum() == (shares < 0.5).sum()


def test_bodies_are_told_apart_in_the_cells(client: FlaskClient) -> None:
    answer = ask(client, request(client, files=["vti"], riser=RISER))
    _, spacing, arrays = cells_of(contents(answer)["vti"])
    shares, body = arrays["metal_share"], arrays["body"]
    assert set(np.unique(body)) == {-1, 0, 1}
    assert shares.sum() * spacing.prod() == pytest.approx(VOLUME, rel=0.003)
    assert shares[body == 1].sum() * spacing.prod() == pytest.approx(np.pi / 4.0 * 56.0**3, rel=0.12)


def test_the_surface_is_coloured(client: FlaskClient) -> None:
    answer = ask(client, request(client, files=["glb"], riser=RISER))
    scene = trimesh.load(io.BytesIO(contents(answer)["glb"]), file_type="glb", force="scene")
    assert set(scene.geometry) == {"casting", "riser"}
    casting, riser = scene.geometry["casting"], scene.geometry["riser"]
    # glTF is in metres with y upwards; a surface keeps its volume
    assert casting.volume == pytest.approx(trimesh.load(SCENARIO / "fairlead.stl").volume * 1e-9, rel=1e-5)
    assert riser.volume == pytest.approx(np.pi / 4.0 * 0.056**3, rel=1e-5)
    assert riser.bounds[0][1] == pytest.approx(casting.bounds[1][1], abs=1e-6), "the riser stands on top"
    colours = casting.visual.vertex_attributes["color"]
    assert len(colours) == len(casting.vertices)
    assert len(np.unique(colours, axis=0)) > 20


def test_a_picture_has_its_scale_and_its_place(client: FlaskClient) -> None:
    answer = ask(client, request(client, slices=True, riser=RISER))
    axes = []
    for one in answer["result"]["slices"]:
        picture = np.asarray(Image.open(io.BytesIO(base64.b64decode(one["png"]))))
        scale = picture[-30, 10:-10].astype(int)
        brightness = scale @ [0.299, 0.587, 0.114]
        # read without colours, the scale still rises from dark to light
        assert np.all(np.diff(brightness) > -1.5)
        assert brightness[-1] - brightness[0] > 150
        assert np.any(np.all(picture == 20, axis=-1)), "a line between the bodies"
        axes.append((one["across"], one["right"][1], one["up"][1]))
    assert sorted("".join(sorted(three)) for three in axes) == ["xyz"] * 3


def test_too_many_triangles_for_a_surface(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("pourwright_service.api.freeze_maps.MOST_TRIANGLES", 1000)
    response = client.post("/v1/freeze-maps", json=request(client, files=["glb"]))
    assert response.status_code == 422
    assert response.get_json()["errors"][0]["pointer"] == "/files"
    assert client.post("/v1/freeze-maps", json=request(client, files=["vti"])).status_code == 200
