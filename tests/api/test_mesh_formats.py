"""OBJ, PLY and 3MF: the same body as in STL, and files made to harm, each refused quickly."""

import io
import time
import zipfile
from pathlib import Path

import pytest
import trimesh
from flask.testing import FlaskClient

from pourwright_service.api.mesh_formats import MEMBERS, UNPACKED, format_of

from .test_meshes import put, stl

MODEL = '<?xml version="1.0"?><model unit="{unit}" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">'
TYPES = (
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="model" '
    'ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>'
)
TETRAHEDRON = (
    '<mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/><vertex x="0" y="1" z="0"/>'
    '<vertex x="0" y="0" z="1"/></vertices><triangles><triangle v1="0" v2="2" v3="1"/>'
    '<triangle v1="0" v2="1" v3="3"/><triangle v1="0" v2="3" v3="2"/><triangle v1="1" v2="2" v3="3"/>'
    "</triangles></mesh>"
)


def body() -> trimesh.Trimesh:
    """A pipe with a foot: nothing is symmetric, and there is a hole through it."""
    pipe = trimesh.creation.annulus(r_min=4, r_max=9, height=20)
    pipe.apply_translation((30, -5, 10))
    return pipe


def package(**files: str | bytes) -> bytes:
    """A zip of files; ``_`` stands for a slash in their names, and ``__`` for a dot."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as made:
        for name, content in files.items():
            made.writestr(name.replace("__", ".").replace("_", "/"), content)
    return buffer.getvalue()


def model(resources: str, build: str, unit: str = "millimeter") -> bytes:
    text = MODEL.format(unit=unit) + f"<resources>{resources}</resources><build>{build}</build></model>"
    rels = (
        '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship '
        'Target="/3D/3dmodel.model" Id="rel0" '
        'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'
    )
    return package(
        **{
            "[Content/Types]__xml".replace("/", "_"): TYPES,
            "_rels_": "",
            "3D_3dmodel__model": text,
            "r": rels,
        }
    )


@pytest.mark.parametrize("kind", ["obj", "ply", "3mf"])
def test_every_format_gives_the_same_body(client: FlaskClient, kind: str) -> None:
    exported = body().export(file_type=kind)
    data = exported.encode() if isinstance(exported, str) else exported
    reply = put(client, data)
    assert reply.status_code == 201, reply.get_json()
    report = reply.get_json()
    assert (report["format"], report["watertight"], report["shells"]) == (kind, True, 1)
    assert report["volume"] == pytest.approx(body().volume, rel=1e-5)
    assert report["area"] == pytest.approx(body().area, rel=1e-5)
    assert report["low"] == pytest.approx(list(body().bounds[0]), abs=1e-4)
    assert report["length_unit"] == ("mm" if kind == "3mf" else None)
    again = put(client, data)
    assert (again.status_code, again.get_json()) == (200, report)


def test_ascii_ply_and_comments_in_obj(client: FlaskClient) -> None:
    ply = body().export(file_type="ply", encoding="ascii")
    assert put(client, ply if isinstance(ply, bytes) else ply.encode()).status_code == 201
    obj = "# made by hand\n\n" + body().export(file_type="obj")
    reply = put(client, obj.encode())
    assert reply.get_json()["format"] == "obj"


def test_a_3mf_names_its_unit_and_places_its_parts(client: FlaskClient) -> None:
    one = f'<object id="1" type="model">{TETRAHEDRON}</object>'
    twice = '<item objectid="1"/><item objectid="1" transform="2 0 0 0 2 0 0 0 2 10 0 0"/>'
    reply = put(client, model(one, twice, "inch"))
    report = reply.get_json()
    assert reply.status_code == 201, report
    assert report["length_unit"] == "in"
    assert report["volume"] == pytest.approx(1 / 6 + 8 / 6, rel=1e-6)
    assert [round(one["volume"] * 6) for one in report["bodies"]] == [8, 1]


def test_stl_stays_stl_whatever_it_says() -> None:
    assert format_of(stl()) == "stl"
    assert format_of(b"solid v 1\nfacet") == "stl"
    assert format_of(b"# nothing\n") == "stl"


def bomb_by_components() -> bytes:
    """Each object holds the one before ten times: 10^9 tetrahedra from a few lines."""
    objects = f'<object id="1" type="model">{TETRAHEDRON}</object>'
    for number in range(2, 11):
        inside = "".join(
            f'<component objectid="{number - 1}" transform="1 0 0 0 1 0 0 0 1 {k * 3**number} 0 0"/>'
            for k in range(10)
        )
        objects += f'<object id="{number}" type="model"><components>{inside}</components></object>'
    return model(objects, '<item objectid="10"/>')


HOSTILE: dict[str, tuple[bytes, set[str]]] = {
    "zip bomb by what it announces": (
        package(**{"3D_3dmodel__model": b"0" * (UNPACKED + 1)}),
        {"mesh_too_large"},
    ),
    "too many files": (
        package(**{f"3D_{n}__model": "x" for n in range(MEMBERS + 1)}),
        {"mesh_too_large"},
    ),
    "zip without a model": (package(a="b"), {"mesh_unreadable"}),
    "zip cut short": (package(**{"3D_3dmodel__model": "<model/>"})[:60], {"mesh_unreadable"}),
    "zip that lies about its size": (
        package(**{"3D_3dmodel__model": b"0" * 2_000_000}).replace(
            (2_000_000).to_bytes(4, "little"), (200).to_bytes(4, "little")
        ),
        {"mesh_unreadable", "mesh_too_large"},
    ),
    "components of components": (bomb_by_components(), {"mesh_too_large", "mesh_unreadable"}),
    "component of itself": (
        model(
            '<object id="1" type="model"><components><component objectid="1"/></components></object>',
            '<item objectid="1"/>',
        ),
        {"mesh_unreadable", "mesh_empty", "mesh_too_large"},
    ),
    "entities of entities": (
        package(
            **{
                "3D_3dmodel__model": '<!DOCTYPE m [<!ENTITY a "aaaaaaaaaa">'
                + "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10 if n else "&a;" * 10}">' for n in range(9))
                + "]><model>&a8;</model>"
            }
        ),
        {"mesh_unreadable", "mesh_too_large", "mesh_empty"},
    ),
    "entity that reads a file": (
        package(
            **{
                "3D_3dmodel__model": '<!DOCTYPE m [<!ENTITY a SYSTEM "file:///etc/passwd">]><model>&a;</model>'
            }
        ),
        {"mesh_unreadable", "mesh_empty"},
    ),
    "path out of the zip": (
        package(**{"______etc_passwd": "root", "3D_3dmodel__model": "<model/>"}),
        {"mesh_unreadable", "mesh_empty"},
    ),
    "ply that announces 50 million faces": (
        b"ply\nformat binary_little_endian 1.0\nelement vertex 50000000\nproperty float x\nproperty float y\n"
        b"property float z\nelement face 50000000\nproperty list uchar int vertex_indices\nend_header\n"
        + bytes(64),
        {"mesh_unreadable", "mesh_too_large", "mesh_empty"},
    ),
    "ply without a header's end": (
        b"ply\nformat ascii 1.0\n" + b"element vertex 3\n" * 1000,
        {"mesh_unreadable", "mesh_empty"},
    ),
    "obj with indices of nothing": (
        b"v 0 0 0\nf 1 2 3\nf 900000000 5 6\n",
        {"mesh_unreadable", "mesh_empty"},
    ),
    "obj that is not a number": (
        b"v 0 0 nan\nv 1 0 0\nv 0 1 0\nv 0 0 1\nf 1 2 3\nf 1 2 4\n",
        {"mesh_unreadable", "mesh_not_finite"},
    ),
    "obj that reads a file": (b"mtllib /etc/passwd\nv 0 0 0\n", {"mesh_unreadable", "mesh_empty"}),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_files_are_refused(client: FlaskClient, name: str, tmp_path: Path) -> None:
    data, codes = HOSTILE[name]
    began = time.process_time()
    reply = put(client, data)
    answer = reply.get_json()
    assert reply.status_code == 422, answer
    assert answer["errors"][0]["code"] in codes, answer
    assert "/etc" not in answer["detail"]
    assert not list(tmp_path.rglob("*.part"))
    assert time.process_time() - began < 30  # a bound on the service's own work, not a speed
