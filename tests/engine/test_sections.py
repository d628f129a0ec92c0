"""Sections measured: against printed exercises, exact geometry, and a general-purpose mesh library.

Where a row is marked derived, it follows from geometry alone.
"""

import math
from typing import Any

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st

from pourwright_service.engine.formula import recording
from pourwright_service.engine.geometry.sections import (
    DIMENSIONS,
    FACE_GROUPS,
    FACES,
    Core,
    Join,
    Section,
    SectionMeasure,
    components,
    feed_graph,
    height_bounds,
    measure,
    total_volume,
)
from pourwright_service.engine.geometry.shapes import SQUARE_EDGE, edge_coefficient


def section(shape: str, name: str = "part", **told: Any) -> Section:
    sizes = {size: told.pop(size) for size in DIMENSIONS[shape] if size in told}
    return Section(name=name, shape=shape, dimensions=sizes, **told)


def one(shape: str, **told: Any) -> SectionMeasure:
    return measure([section(shape, **told)])[0]


# --- printed exercises ------------------------------------------------------------------------

PRINTED = [
    # id, shape, sizes in cm, printed V (cm^3), A (cm^2), V/A (cm), relative tolerance, source
    (
        "CH-01",
        "plate",
        {"length": 30, "width": 10, "thickness": 2},
        (600.0, 760.0, None),
        1e-9,
        "exercise of Groover, problem sheet Amem201 no. 1",
    ),
    (
        "CH-02",
        "cylinder",
        {"diameter": 50, "height": 2},
        (3926.991, 4241.15, None),
        2e-7,
        "problem sheet Amem201 no. 2 (prints 3 926 991 mm^3, 424 115 mm^2)",
    ),
    ("CH-04 sphere", "sphere", {"diameter": 10}, (None, None, 1.6667), 3e-5, "exercise of Groover"),
    ("CH-04 cylinder", "cylinder", {"diameter": 10, "height": 10}, (None, None, 1.6667), 3e-5, "the same"),
    ("CH-04 cube", "bar", {"length": 10, "width": 10, "height": 10}, (None, None, 1.6667), 3e-5, "the same"),
    (
        "CH-08 thick",
        "bar",
        {"length": 40, "width": 20, "height": 14},
        (None, None, math.sqrt(11.6597)),
        1e-4,
        "byjus.com, 400 x 200 x 140 mm: (V/A)^2 1165.97 mm^2",
    ),
    (
        "CH-08 thin",
        "plate",
        {"length": 40, "width": 20, "thickness": 3.5},
        (None, None, math.sqrt(1.9214)),
        1e-4,
        "byjus.com, 400 x 200 x 35 mm: (V/A)^2 192.14 mm^2",
    ),
    (
        "CH-21",
        "plate",
        {"length": 10, "width": 10, "thickness": 4},
        (None, None, 1.111),
        2e-4,
        "textbook eq. 7.21, 7.22, transtutors.com 597910",
    ),
    (
        "RI-05",
        "plate",
        {"length": 30, "width": 30, "thickness": 10},
        (None, None, 3.0),
        1e-9,
        "askfilo.com 3431323531313238, slab 30 x 30 x 10 cm",
    ),
]


@pytest.mark.parametrize(("name", "shape", "sizes", "printed", "tolerance", "source"), PRINTED)
def test_printed_volume_area_and_modulus(
    name: str,
    shape: str,
    sizes: dict[str, float],
    printed: tuple[float | None, float | None, float | None],
    tolerance: float,
    source: str,
) -> None:
    found = one(shape, **{size: value / 100.0 for size, value in sizes.items()})
    assert found.modulus is not None
    ours = (found.volume * 1e6, found.cooling_area * 1e4, found.modulus * 100.0)
    for number, expected in zip(ours, printed, strict=True):
        if expected is not None:
            assert number == pytest.approx(expected, rel=tolerance), f"{name}: {source}"


D = 0.1
BLOCKED = {"bottom": "joined"}
TABLE = [
    # V/A of simple shapes over their diameter or wall: derived, exact geometry
    ("plate, edges not cooling", section("plate", length=9, width=9, thickness=D, edges_cool=False), 1 / 2),
    (
        "long bar a x 2a",
        section("bar", length=9, width=2 * D, height=D, faces={"ends": "insulated"}),
        2 / (2 * 3),
    ),
    ("long cylinder", section("cylinder", diameter=D, height=9, faces={"ends": "insulated"}), 1 / 4),
    ("ring section t x 2t", section("ring", section_width=D, section_height=2 * D, mean_diameter=3), 2 / 6),
    ("sphere", section("sphere", diameter=D), 1 / 6),
    ("cube", section("bar", length=D, width=D, height=D), 1 / 6),
    ("cylinder H/D 0.5", section("cylinder", diameter=D, height=0.5 * D), 0.1250),
    ("cylinder H/D 1", section("cylinder", diameter=D, height=D), 1 / 6),
    ("cylinder H/D 1.5", section("cylinder", diameter=D, height=1.5 * D), 0.1875),
    ("cylinder H/D 2", section("cylinder", diameter=D, height=2 * D), 0.2000),
    ("H/D 0.5, one end", section("cylinder", diameter=D, height=0.5 * D, faces=BLOCKED), 1 / 6),
    ("H/D 1, one end", section("cylinder", diameter=D, height=D, faces=BLOCKED), 0.2000),
    ("H/D 1.5, one end", section("cylinder", diameter=D, height=1.5 * D, faces=BLOCKED), 3 / 14),
    ("H/D 2, one end", section("cylinder", diameter=D, height=2 * D, faces=BLOCKED), 2 / 9),
    ("both ends", section("cylinder", diameter=D, height=D, faces={"ends": "insulated"}), 0.2500),
]


@pytest.mark.parametrize(("name", "body", "over_d"), TABLE)
def test_modulus_of_simple_shapes(name: str, body: Section, over_d: float) -> None:
    (found,) = measure([body])
    assert found.modulus == pytest.approx(over_d * D, rel=1e-9), name


CURVED = [
    # g = K V/A^2: a quarter and a third follow from Ghosh & Mallik, Manufacturing Science, ch. 2
    # (cylinder and sphere terms); the others are derived from the exact heat of a square wedge.
    ("plate", section("plate", length=3, width=2, thickness=D, edges_cool=False), 0.0),
    ("long cylinder", section("cylinder", diameter=D, height=9, faces={"ends": "insulated"}), 0.250),
    ("sphere", section("sphere", diameter=D), 0.333),
    ("long square bar", section("bar", length=9, width=D, height=D, faces={"ends": "insulated"}), 0.150),
    ("cube", section("bar", length=D, width=D, height=D), 0.201),
    ("cylinder D = H", section("cylinder", diameter=D, height=D), 0.245),
    ("cylinder D = H, one end blocked", section("cylinder", diameter=D, height=D, faces=BLOCKED), 0.256),
]


@pytest.mark.parametrize(("name", "body", "expected"), CURVED)
def test_curvature_factor(name: str, body: Section, expected: float) -> None:
    (found,) = measure([body])
    assert found.curvature_factor == pytest.approx(expected, abs=6e-4), name


def test_a_hollow_face_counts_against_an_outer_one() -> None:
    # Derived: outside +pi h, bore -pi h. A long tube cooled on both walls is as a plate of its wall.
    tube = one("tube", outer_diameter=0.06, inner_diameter=0.04, height=1.0, faces={"ends": "insulated"})
    assert tube.curvature == pytest.approx(0.0, abs=1e-12)
    assert tube.modulus == pytest.approx(0.005)
    bore = one("tube", outer_diameter=0.06, inner_diameter=0.04, height=1.0, faces={"outside": "insulated"})
    assert bore.curvature == pytest.approx(-math.pi + SQUARE_EDGE * 2 * math.pi * 0.04)


# --- against a general-purpose mesh library -----------------------------------------------------


def _turned(outline: list[tuple[float, float]]) -> trimesh.Trimesh:
    return trimesh.creation.revolve(np.array(outline), sections=2880)


BODIES = {
    "plate": ({"length": 0.3, "width": 0.2, "thickness": 0.04}, trimesh.creation.box((0.3, 0.2, 0.04))),
    "bar": ({"length": 0.3, "width": 0.05, "height": 0.04}, trimesh.creation.box((0.3, 0.05, 0.04))),
    "cylinder": (
        {"diameter": 0.2, "height": 0.3},
        _turned([(0, 0), (0.1, 0), (0.1, 0.3), (0, 0.3)]),
    ),
    "tube": (
        {"outer_diameter": 0.2, "inner_diameter": 0.12, "height": 0.3},
        _turned([(0.06, 0), (0.1, 0), (0.1, 0.3), (0.06, 0.3), (0.06, 0)]),
    ),
    "ring": (
        {"section_width": 0.02, "section_height": 0.03, "mean_diameter": 0.2},
        _turned([(0.09, 0), (0.11, 0), (0.11, 0.03), (0.09, 0.03), (0.09, 0)]),
    ),
    "sphere": ({"diameter": 0.2}, trimesh.creation.icosphere(subdivisions=6, radius=0.1)),
    "cone": (
        {"lower_diameter": 0.026, "upper_diameter": 0.022, "height": 0.06},
        _turned([(0, 0), (0.013, 0), (0.011, 0.06), (0, 0.06)]),
    ),
    "hexagon": (
        {"across_flats": 0.03, "height": 0.02},
        trimesh.creation.cylinder(radius=0.03 / math.sqrt(3), height=0.02, sections=6),
    ),
}


@pytest.mark.parametrize("shape", sorted(BODIES))
def test_volume_and_area_agree_with_a_mesh(shape: str) -> None:
    sizes, mesh = BODIES[shape]
    found = one(shape, **sizes)
    assert mesh.is_watertight
    assert found.volume == pytest.approx(abs(mesh.volume), rel=3e-4)
    assert found.cooling_area == pytest.approx(mesh.area, rel=3e-4)
    assert sum(face.area for face in found.faces) == pytest.approx(mesh.area, rel=3e-4)


@pytest.mark.parametrize("shape", sorted(BODIES.keys() - {"tube", "ring"}))
def test_curvature_of_a_convex_body_agrees_with_a_mesh(shape: str) -> None:
    # Steiner: the integral of mean curvature of a convex body is half the sum over its edges of
    # length times angle turned. An edge of the body itself is sharp: the true edge coefficient
    # takes the place of half its angle.
    sizes, mesh = BODIES[shape]
    lengths = np.linalg.norm(np.diff(mesh.vertices[mesh.face_adjacency_edges], axis=1)[:, 0], axis=1)
    turned = np.asarray(mesh.face_adjacency_angles)
    sharp = turned > 0.3
    smooth = float((lengths * turned / 2)[~sharp].sum())
    corners = sum(
        length * edge_coefficient(math.pi - angle)
        for length, angle in zip(lengths[sharp], turned[sharp], strict=True)
    )
    assert one(shape, **sizes).curvature == pytest.approx(smooth + corners, rel=1e-3)


# --- properties ---------------------------------------------------------------------------------

LENGTH = st.floats(1e-3, 2.0)


@st.composite
def bodies(draw: st.DrawFn, name: str = "part") -> Section:
    shape = draw(st.sampled_from([shape for shape in sorted(DIMENSIONS) if shape != "custom"]))
    sizes = {size: draw(LENGTH) for size in DIMENSIONS[shape]}
    if shape == "tube":
        sizes["outer_diameter"] = sizes["inner_diameter"] * draw(st.floats(1.05, 5.0))
    if shape == "ring":
        sizes["mean_diameter"] = sizes["section_width"] * draw(st.floats(1.05, 5.0))
    blocked = draw(st.dictionaries(st.sampled_from(FACES[shape]), st.sampled_from(["insulated", "joined"])))
    faces = blocked if len(blocked) < len(FACES[shape]) else {}
    edges = draw(st.sampled_from([None, True])) if shape == "plate" else None
    if shape == "plate" and faces.keys() >= {"top", "bottom"}:
        faces = {}
    return Section(name=name, shape=shape, dimensions=sizes, faces=faces, edges_cool=edges)


@given(bodies())
def test_twice_the_size(body: Section) -> None:
    double = Section(
        name=body.name,
        shape=body.shape,
        dimensions={size: 2 * value for size, value in body.dimensions.items()},
        faces=body.faces,
        edges_cool=body.edges_cool,
    )
    (small,), (large,) = measure([body]), measure([double])
    assert large.volume == pytest.approx(8 * small.volume, rel=1e-12)
    assert large.cooling_area == pytest.approx(4 * small.cooling_area, rel=1e-12)
    assert large.curvature == pytest.approx(2 * small.curvature, rel=1e-9, abs=1e-12)
    assert large.curvature_factor == pytest.approx(small.curvature_factor, rel=1e-9, abs=1e-12)
    assert large.thickness == pytest.approx(2 * small.thickness, rel=1e-12)


# --- wholes: volume, height, graph ----------------------------------------------------------------

FOOT = section("plate", "foot", length=0.18, width=0.07, thickness=0.012)
SADDLE = section(
    "bar", "saddle", length=0.06, width=0.04, height=0.024, joins=(Join(to="foot", area=2.4e-3),)
)
PIN = section("cylinder", "pin", diameter=0.01, height=0.05, count=4)


def test_whole_castings() -> None:
    parts = [FOOT, SADDLE, PIN]
    assert total_volume(measure(parts)) == pytest.approx(
        0.18 * 0.07 * 0.012 + 0.06 * 0.04 * 0.024 + 4 * math.pi / 4 * 0.01**2 * 0.05
    )
    graph = feed_graph(parts)
    assert graph == {"foot": {"saddle": 2.4e-3}, "pin": {}, "saddle": {"foot": 2.4e-3}}
    assert components(graph) == (("foot", "saddle"), ("pin",))
    assert height_bounds(parts, measure(parts)) == pytest.approx((0.05, 0.05))
    joined = [FOOT, SADDLE]
    assert height_bounds(joined, measure(joined)) == pytest.approx((0.024, 0.036))
    unknown = [section("custom", volume=1e-4, cooling_area=1e-2)]
    assert height_bounds(unknown, measure(unknown)) is None


def test_plate_edges_by_default_cool_up_to_ten_thicknesses() -> None:
    narrow = one("plate", length=1.0, width=0.10, thickness=0.01)
    broad = one("plate", length=1.0, width=0.101, thickness=0.01)
    turned = one("plate", length=0.10, width=1.0, thickness=0.01)
    told = one("plate", length=1.0, width=0.101, thickness=0.01, edges_cool=True)
    assert (narrow.edges_cool, broad.edges_cool, turned.edges_cool) == (True, False, True)
    assert (narrow.edges_by_default, told.edges_by_default) == (True, False)
    assert broad.modulus == pytest.approx(0.005)
    one_end = one("plate", length=1.0, width=0.101, thickness=0.01, faces={"ends": "cooling"})
    assert one_end.cooling_area == pytest.approx(2 * 0.101 + 2 * 0.101 * 0.01)


def test_cored_faces_and_the_core_of_a_bore() -> None:
    tube = one("tube", outer_diameter=0.1, inner_diameter=0.05, height=0.1, faces={"inside": "cored"})
    assert tube.cored_area == pytest.approx(math.pi * 0.05 * 0.1)
    assert tube.core == Core(shape="cylinder", modulus=0.0125)
    assert tube.core_by_default
    ring = one("ring", section_width=0.02, section_height=0.03, mean_diameter=0.2, faces={"inside": "cored"})
    assert ring.core == Core(shape="cylinder", modulus=pytest.approx(0.045))
    slab = Core(shape="slab", modulus=0.01)
    plate = one("plate", length=0.1, width=0.1, thickness=0.02, faces={"bottom": "cored"}, core=slab)
    assert (plate.core, plate.core_by_default) == (slab, False)
    shell = one("sphere", diameter=0.1, faces={"surface": "cored"}, core=Core(shape="sphere", modulus=0.02))
    assert (shell.modulus, shell.curvature_factor) == (None, None)


def test_a_custom_shape_counts_as_a_plate_of_its_modulus() -> None:
    found = one("custom", volume=6e-4, cooling_area=0.076)
    assert found.modulus == pytest.approx(6e-4 / 0.076)
    assert (found.curvature, found.curvature_known, found.height) == (0.0, False, None)
    assert found.thickness == pytest.approx(2 * 6e-4 / 0.076)


def test_faces_offered_to_a_riser() -> None:
    found = one("cylinder", diameter=0.1, height=0.2)
    assert found.flat_area("top") == pytest.approx(math.pi / 4 * 0.01)
    assert found.face("top").width == 0.1
    assert found.flat_area("side") is None
    with pytest.raises(KeyError, match="top, bottom, side"):
        found.flat_area("back")


def test_every_shape_is_described_in_full() -> None:
    assert DIMENSIONS.keys() == FACES.keys() == FACE_GROUPS.keys()
    for shape, groups in FACE_GROUPS.items():
        for members in groups.values():
            assert set(members) <= set(FACES[shape])


def test_the_working_names_the_section() -> None:
    with recording() as recorder:
        measure([FOOT, SADDLE])
    scopes = {entry.scope for entry in recorder.entries}
    assert scopes == {("section foot",), ("section saddle",)}
    assert recorder.entries[-1].result == pytest.approx(0.06 * 0.04 * 0.024)
