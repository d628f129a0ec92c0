"""Meshes: against a general-purpose mesh library, closed forms, hydrostatics, and hostile files."""

import json
import math
import struct
from pathlib import Path

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import CrossSection

from pourwright_service.engine.geometry.levels import MAX_LEVELS, lift_integral, section_profile, upward_area
from pourwright_service.engine.geometry.mesh import MAX_TRIANGLES, UPS, Mesh, MeshFault, read_stl

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"
RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def binary(triangles: np.ndarray, header: bytes = b"solid of a test") -> bytes:
    records = np.zeros(len(triangles), RECORD)
    records["corners"] = triangles
    return header.ljust(80) + struct.pack("<I", len(triangles)) + records.tobytes()


def text(triangles: np.ndarray, name: str = "part") -> bytes:
    lines = [f"solid {name}"]
    for triangle in triangles:
        lines += ["  facet normal 0 0 0", "    outer loop"]
        lines += [f"      vertex {x!r} {y!r} {z!r}" for x, y, z in triangle.tolist()]
        lines += ["    endloop", "  endfacet"]
    return "\n".join([*lines, f"endsolid {name}", ""]).encode()


def of(body: trimesh.Trimesh) -> Mesh:
    return read_stl(binary(body.triangles))


BODIES = {
    "ball": trimesh.creation.icosphere(subdivisions=4, radius=40),
    "box": trimesh.creation.box((30, 20, 10)),
    "cylinder": trimesh.creation.cylinder(radius=15, height=60, sections=64),
    "torus": trimesh.creation.torus(major_radius=40, minor_radius=12),
}


@pytest.mark.parametrize("name", sorted(BODIES))
def test_report_agrees_with_a_mesh_library(name: str) -> None:
    body = BODIES[name]
    report = of(body).report()
    assert report.volume == pytest.approx(body.volume, rel=1e-6)
    assert report.area == pytest.approx(body.area, rel=1e-6)
    assert report.watertight
    assert body.is_watertight
    assert (report.low, report.high) == tuple(pytest.approx(ends, abs=1e-5) for ends in body.bounds)
    assert (report.triangles, report.shells, report.inverted) == (len(body.faces), 1, False)
    assert (report.open_edges, report.flipped_edges, report.degenerate) == (0, 0, 0)


def test_text_and_binary_are_the_same_mesh() -> None:
    body = BODIES["torus"].triangles.astype(np.float32).astype(np.float64)
    assert np.array_equal(read_stl(text(body)).triangles, read_stl(binary(body)).triangles)
    shouted = text(body).upper().replace(b"\n", b"\r\n")
    assert np.array_equal(read_stl(shouted).triangles, read_stl(binary(body)).triangles)
    two = read_stl(text(body) + text(body + 200.0, "second")).report()
    assert (two.triangles, two.shells, two.watertight) == (2 * len(body), 2, True)


def test_holes_flips_and_slivers_are_counted() -> None:
    ball = BODIES["ball"].triangles
    holed = read_stl(binary(ball[1:])).report()
    assert (holed.watertight, holed.open_edges, holed.flipped_edges) == (False, 3, 0)
    turned = ball.copy()
    turned[7] = turned[7, ::-1]
    flipped = read_stl(binary(turned)).report()
    assert (flipped.watertight, flipped.open_edges, flipped.flipped_edges) == (False, 0, 3)
    sliver = np.concatenate((ball, [ball[0, [0, 1, 0]]]))
    assert read_stl(binary(sliver)).report().degenerate == 1
    assert read_stl(binary(sliver)).report().watertight


def test_an_inverted_file_is_turned() -> None:
    turned = read_stl(binary(BODIES["ball"].triangles[:, ::-1]))
    assert turned.report().inverted
    assert turned.volume == pytest.approx(BODIES["ball"].volume, rel=1e-6)
    areas = section_profile(turned, "+z", [40.0])
    assert areas[0] == pytest.approx(math.pi * 40**2, rel=5e-3)


def test_a_hollow_has_two_shells_and_less_volume() -> None:
    inner = trimesh.creation.icosphere(subdivisions=3, radius=10).triangles[:, ::-1]
    report = read_stl(binary(np.concatenate((BODIES["ball"].triangles, inner)))).report()
    assert (report.shells, report.watertight) == (2, True)
    assert report.volume == pytest.approx(4 / 3 * math.pi * (40**3 - 10**3), rel=1e-2)


def test_far_from_the_origin_the_volume_stays() -> None:
    far = binary(BODIES["box"].triangles + np.array([4096.0, -4096.0, 4096.0]))
    assert read_stl(far).volume == pytest.approx(6000.0, rel=1e-9)


@given(st.sampled_from(UPS), st.floats(1e-3, 1e3))
def test_scale_and_position(up: str, factor: float) -> None:
    mesh, scaled = of(BODIES["box"]), of(BODIES["box"]).scaled(factor)
    assert scaled.volume == pytest.approx(6000.0 * factor**3)
    size = {"x": (30, 20, 10), "y": (20, 30, 10), "z": (10, 30, 20)}[up[1]]
    found = mesh.extents(up)
    assert (found.height, found.length, found.width, found.lowest) == (*size, -size[0] / 2)


def test_a_mesh_knows_only_six_directions_and_real_scales() -> None:
    with pytest.raises(ValueError, match=r"\+x, -x"):
        of(BODIES["box"]).extents("up")
    for scale in (0.0, -1.0, math.inf, math.nan):
        with pytest.raises(ValueError, match="scale"):
            of(BODIES["box"]).scaled(scale)


# --- sections at levels -----------------------------------------------------------------------------


@pytest.mark.parametrize("up", UPS)
def test_sections_of_a_ball(up: str) -> None:
    mesh = of(trimesh.creation.icosphere(subdivisions=6, radius=50))
    heights = np.linspace(5.0, 95.0, 57)
    assert section_profile(mesh, up, heights) == pytest.approx(math.pi * heights * (100 - heights), rel=2e-3)


def test_sections_of_a_cone_and_a_torus() -> None:
    cone = of(trimesh.creation.cone(radius=30, height=60, sections=720))
    heights = np.array([45.0, 0.0, 15.0, 30.0])
    ideal = math.pi * (30 * (1 - heights / 60)) ** 2
    assert section_profile(cone, "+z", heights) == pytest.approx(ideal, rel=1e-4)
    # A torus lying flat: an annulus of half width sqrt(12^2 - z^2) at mean radius 40.
    torus = of(trimesh.creation.torus(40, 12, major_sections=480, minor_sections=240))
    z = np.array([-9.0, 0.0, 6.0])
    ideal = 2 * math.pi * 40 * 2 * np.sqrt(144 - z**2)
    assert section_profile(torus, "+z", z + 12.0) == pytest.approx(ideal, rel=5e-4)


def test_a_section_is_the_one_just_above_its_level() -> None:
    low = trimesh.creation.box((30, 20, 10))
    high = trimesh.creation.box((10, 10, 10))
    high.apply_translation((0, 0, 10))
    mesh = read_stl(binary(np.concatenate((low.triangles, high.triangles))))
    assert section_profile(mesh, "+z", [-1.0, 0.0, 9.9, 10.0, 20.0, 21.0]).tolist() == [
        0,
        600,
        600,
        100,
        0,
        0,
    ]
    assert section_profile(mesh, "+z", []).tolist() == []


@pytest.mark.parametrize("name", sorted(BODIES))
def test_sections_add_up_to_the_volume(name: str) -> None:
    # Cavalieri, by the midpoint rule.
    mesh = of(BODIES[name])
    for up in UPS:
        step = mesh.extents(up).height / 400
        areas = section_profile(mesh, up, (np.arange(400) + 0.5) * step)
        assert areas.sum() * step == pytest.approx(mesh.volume, rel=1e-3)


def test_too_many_or_endless_levels_are_refused() -> None:
    for heights in (np.zeros(MAX_LEVELS + 1), [math.inf], [math.nan]):
        with pytest.raises(ValueError, match="heights"):
            section_profile(of(BODIES["box"]), "+z", heights)


# --- lift ----------------------------------------------------------------------------------------------


def half_cylinder(radius: float, length: float) -> Mesh:
    """Lying on its flat side, axis along x, turned into the pouring position up = +y."""
    angles = np.linspace(0.0, math.pi, 1001)
    outline = np.stack((radius * np.cos(angles), radius * np.sin(angles)), axis=1)
    mesh = CrossSection([outline.tolist()]).extrude(length).to_mesh64()
    return read_stl(binary(np.asarray(mesh.vert_properties)[:, :3][np.asarray(mesh.tri_verts)]))


@pytest.mark.parametrize("share", [0.31, 0.1, 0.9])
def test_lift_of_a_half_cylinder(share: float) -> None:
    # Derived: integral = H 2 R L - pi R^2 L/2, so projected area x head is too much by
    # 1/(1 - pi R/(4 H)); at R/H = 0.31 that is a third.
    radius, length = 30.0, 100.0
    head = radius / share
    mesh = half_cylinder(radius, length)
    lift = lift_integral(mesh, "+y", 0.0, head)
    assert lift == pytest.approx(head * 2 * radius * length - math.pi * radius**2 / 2 * length, rel=1e-5)
    shortcut = upward_area(mesh, "+y", 0.0) * head
    assert shortcut / lift == pytest.approx(1 / (1 - math.pi * share / 4), rel=1e-5)
    if share == 0.31:
        assert shortcut / lift == pytest.approx(1.33, abs=0.02)


@pytest.mark.parametrize("up", UPS)
def test_lift_of_a_whole_body_is_its_volume_downwards(up: str) -> None:
    # Archimedes, turned about: the sand carries the metal that it encloses.
    for body in BODIES.values():
        mesh = of(body)
        assert lift_integral(mesh, up, -1.0, 500.0) == pytest.approx(-mesh.volume, rel=1e-6)


def test_lift_of_a_box_in_three_places() -> None:
    mesh = of(BODIES["box"])
    plan = 30 * 20
    # Standing in the cope on the parting: its top alone. Its bottom bears on the drag.
    assert lift_integral(mesh, "+z", 0.0, 100.0) == pytest.approx(plan * (100 - 10))
    # Across the parting: still its top.
    assert lift_integral(mesh, "+z", 4.0, 100.0) == pytest.approx(plan * (100 - 10))
    # Wholly in the drag, its top in the parting: it bears on the flat cope.
    assert lift_integral(mesh, "+z", 10.0, 100.0) == pytest.approx(plan * (100 - 10))
    assert lift_integral(mesh, "+z", 11.0, 100.0) == 0.0


@given(st.floats(0.0, 80.0), st.floats(80.0, 400.0), st.sampled_from(UPS))
def test_lift_of_part_of_a_ball(parting: float, head: float, up: str) -> None:
    # The cap above the parting, closed by its section there: Archimedes for that body gives
    # integral = section x (H - parting) - volume of the cap.
    mesh = of(BODIES["ball"])
    rise = 80.0 - parting
    section, cap = math.pi * parting * rise, math.pi * rise**2 * (120.0 - rise) / 3
    found = lift_integral(mesh, up, parting, head)
    assert found == pytest.approx(section * (head - parting) - cap, rel=0.02, abs=0.005 * head * 40**2)


# --- hostile files ---------------------------------------------------------------------------------------

BOX = BODIES["box"].triangles
NAN, HUGE, FAR = BOX.copy(), BOX.copy(), BOX + 1e6
NAN[3, 1, 2] = math.nan
HUGE[3, 1, 2] = math.inf
SHEET = np.array([[[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[1, 0, 0], [1, 1, 0], [0, 1, 0]]], dtype=float)

HOSTILE = [
    ("nothing", b"", "mesh_empty"),
    ("a few bytes", b"solid", "mesh_empty"),
    ("noise", bytes(range(1, 80)), "mesh_not_stl"),
    ("no triangles", binary(BOX[:0]), "mesh_empty"),
    ("a header that claims 1 GB", bytes(80) + struct.pack("<I", 20_000_000) + bytes(100), "mesh_truncated"),
    ("a header that claims 200 GB", b"solid".ljust(80) + b"\xff\xff\xff\xff" + bytes(50), "mesh_truncated"),
    ("cut short", binary(BOX)[:-1], "mesh_truncated"),
    ("two files", binary(BOX) + binary(BOX), "mesh_too_long"),
    ("not a number", binary(NAN), "mesh_not_finite"),
    ("endless", binary(HUGE), "mesh_not_finite"),
    ("endless text", text(BOX).replace(b"5.0", b"1e999"), "mesh_not_finite"),
    ("absurdly large", binary(BOX * 1e9), "mesh_out_of_range"),
    ("absurdly small", binary(BOX * 1e-12), "mesh_out_of_range"),
    ("lost in rounding", binary(FAR), "mesh_out_of_range"),
    ("one point", binary(np.ones((4, 3, 3))), "mesh_out_of_range"),
    ("words", b"Once upon a time there was a mould.\n" * 20, "mesh_not_stl"),
    ("a web page", b"<!DOCTYPE html><html><body>solid</body></html>" * 9, "mesh_not_stl"),
    ("text of nothing", b"solid nothing\nendsolid nothing\n", "mesh_empty"),
    ("text cut short", text(BOX)[:700], "mesh_not_stl"),
    ("text with a word for a number", text(BOX).replace(b"5.0", b"five", 1), "mesh_not_stl"),
    ("text with nan", text(BOX).replace(b"5.0", b"nan", 1), "mesh_not_stl"),
    ("text with a comma", text(BOX).replace(b"5.0", b"5,0", 1), "mesh_not_stl"),
    ("text with an underscore", text(BOX).replace(b"5.0", b"1_0", 1), "mesh_not_stl"),
    ("text with a long number", text(BOX).replace(b"5.0", b"5" * 900_000, 1), "mesh_not_stl"),
    ("text with long space", text(BOX)[:99] + b" " * 900_000, "mesh_not_stl"),
    ("a flood of text", text(BOX) + b" " * 32_000_000, "mesh_too_large"),
    ("many solids", b"solid\n" * 3_000_000, "mesh_too_large"),
    (
        "too many triangles",
        bytes(80) + struct.pack("<I", MAX_TRIANGLES + 1) + bytes(50 * (MAX_TRIANGLES + 1)),
        "mesh_too_large",
    ),
]


@pytest.mark.parametrize(("why", "data", "code"), HOSTILE, ids=[case[0] for case in HOSTILE])
def test_hostile_files_are_refused(why: str, data: bytes, code: str) -> None:
    with pytest.raises(MeshFault) as caught:
        read_stl(data)
    assert caught.value.code == code, why
    assert 10 < len(caught.value.detail) < 200


@pytest.mark.parametrize("triangles", [SHEET, np.tile(np.arange(3.0)[:, None], (5, 1, 3))])
def test_sheets_and_needles_have_no_volume(triangles: np.ndarray) -> None:
    with pytest.raises(MeshFault) as caught:
        read_stl(binary(triangles)).report()
    assert caught.value.code == "mesh_no_volume"


@given(st.binary(max_size=600))
def test_noise_is_refused_or_read(data: bytes) -> None:
    for sent in (data, b"solid\nfacet " + data, bytes(80) + struct.pack("<I", len(data) // 50) + data):
        try:
            mesh = read_stl(sent)
        except MeshFault:
            continue
        assert np.all(np.isfinite(mesh.triangles))


# --- the shipped parts -----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["fairlead.stl", "fairlead_pocket.stl", "pulley_cheek.stl"])
def test_shipped_parts_are_sound_and_as_recorded(name: str) -> None:
    data = (SCENARIO / name).read_bytes()
    recorded = json.loads((SCENARIO / "meshes.json").read_text(encoding="utf-8"))[name]
    report = read_stl(data).report()
    assert (report.watertight, report.shells, report.degenerate) == (True, 1, 0)
    assert report.triangles == recorded["triangles"]
    assert report.volume == pytest.approx(recorded["volume"], rel=1e-9)
    assert report.area == pytest.approx(recorded["area"], rel=1e-9)
    assert [list(report.low), list(report.high)] == [recorded["low"], recorded["high"]]
    records = np.frombuffer(data, RECORD, offset=84)["corners"].reshape(-1, 3)
    other = trimesh.Trimesh(records, np.arange(len(records)).reshape(-1, 3))
    assert other.is_watertight
    assert other.volume == pytest.approx(recorded["volume"], rel=1e-6)
    assert len(data) < 1_000_000


def test_the_pocket_is_what_the_fairlead_lacks() -> None:
    whole, lighter = (read_stl((SCENARIO / f"{n}.stl").read_bytes()) for n in ("fairlead", "fairlead_pocket"))
    assert whole.volume - lighter.volume == pytest.approx(40 * 20 * 16, rel=1e-6)
    # Poured upside down, the underside of the foot in the parting, its height is the horns'.
    assert whole.extents("-z").height == 72.0
    assert lift_integral(whole, "-z", 72.0, 172.0) == pytest.approx(180 * 70 * 100)


def test_holes_are_found_where_they_are() -> None:
    box_ = trimesh.creation.box((10, 20, 30)).subdivide().subdivide()
    centres = box_.triangles_center
    top = (centres[:, 2] > 14.9) & (np.abs(centres[:, 0]) < 2) & (np.abs(centres[:, 1]) < 4)
    side = (centres[:, 0] < -4.9) & (np.abs(centres[:, 1] - 6) < 3) & (np.abs(centres[:, 2]) < 3)
    assert top.any()
    assert side.any()
    report = Mesh(np.asarray(box_.triangles)[~(top | side)]).report()
    assert len(report.holes) == 2
    found = sorted(hole.centre for hole in report.holes)
    assert found[0][0] == pytest.approx(-5)
    assert found[1][2] == pytest.approx(15)
    assert sum(hole.edges for hole in report.holes) == report.open_edges


def test_bodies_are_told_apart() -> None:
    outer, inner, ball = (
        trimesh.creation.box((20, 20, 20)),
        trimesh.creation.box((4, 4, 4)),
        trimesh.creation.icosphere(2, 3.0),
    )
    inner.invert()
    ball.apply_translation((50, 0, 0))
    together = np.concatenate([np.asarray(body.triangles) for body in (ball, inner, outer)])
    report = Mesh(together).report()
    assert report.shells == 3
    assert [round(body.volume) for body in report.bodies] == [8000, round(ball.volume), -64]
    assert report.bodies[1].low[0] == pytest.approx(47.0, abs=0.1)
