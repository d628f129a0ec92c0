"""Bored sections: against tubes, a general-purpose mesh library, and geometry.

Where nothing else is said the expected number follows from geometry alone.
"""

import math
from typing import Any

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from pourwright_service.engine.decide.riser import RiserCase, decide_riser
from pourwright_service.engine.decide.riser_inputs import RiserShape
from pourwright_service.engine.geometry.sections import Bore, Join, Section, SectionFault, measure
from pourwright_service.engine.geometry.shapes import SQUARE_EDGE
from tests.engine.castings import ALLOY_IDS, SAND, freeze, grown, section, times

BLOCK = {"length": 60.0, "width": 50.0, "height": 80.0}
UPRIGHT = (Bore(diameter=0.030),)


def block(*bores: Bore, name: str = "block", **told: Any) -> Section:
    return section("bar", name, **BLOCK, bores=bores, **told)


# --- a bored cylinder is a tube ----------------------------------------------------------------------

TUBE: dict[str, Any] = {"outer_diameter": 90.0, "inner_diameter": 40.0, "height": 70.0}


@pytest.mark.parametrize("cored", [True, False])
def test_a_cylinder_with_a_bore_is_the_tube(cored: bool) -> None:
    bore = Bore(diameter=0.040, cored=cored)
    (bored,) = measure([section("cylinder", diameter=90.0, height=70.0, bores=(bore,))])
    (tube,) = measure([section("tube", **TUBE, faces={"inside": "cored"} if cored else {})])
    for name in ("volume", "cooling_area", "cored_area", "modulus", "curvature", "curvature_factor"):
        assert getattr(bored, name) == pytest.approx(getattr(tube, name), rel=1e-12), name
    assert bored.thickness == pytest.approx(tube.thickness)
    assert [(wall.area, wall.core) for wall in bored.cored] == [(w.area, w.core) for w in tube.cored]


@pytest.mark.parametrize("alloy", ALLOY_IDS)
def test_it_freezes_as_the_tube_does(alloy: str) -> None:
    bored = section("cylinder", diameter=90.0, height=70.0, bores=(Bore(diameter=0.040),))
    tube = section("tube", **TUBE, faces={"inside": "cored"})
    assert times(freeze(bored, alloy=alloy))["part"] == pytest.approx(
        times(freeze(tube, alloy=alloy))["part"], rel=1e-12
    )


# --- against a mesh ------------------------------------------------------------------------------------

DRILLED = [
    (block(*UPRIGHT), [("z", 30.0, 0.0, 0.0)]),
    (
        block(Bore(diameter=0.012, axis="length", count=2)),
        [("x", 12.0, 15.0, 20.0), ("x", 12.0, -15.0, -20.0)],
    ),
    (
        block(Bore(diameter=0.020, axis="width"), Bore(diameter=0.008, axis="width")),
        [("y", 20.0, 0.0, 20.0), ("y", 8.0, 10.0, -20.0)],
    ),
]
TURNED = {
    "z": np.eye(4),
    "x": np.array([[0, 0, 1, 0], [1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 0, 1]], dtype=float),
    "y": np.array([[0, 1, 0, 0], [0, 0, 1, 0], [1, 0, 0, 0], [0, 0, 0, 1]], dtype=float),
}
"""From upright to each axis."""


@pytest.mark.parametrize(("bored", "holes"), DRILLED)
def test_volume_and_surface_of_a_drilled_block(
    bored: Section, holes: list[tuple[str, float, float, float]]
) -> None:
    solid = trimesh.creation.box((60.0, 50.0, 80.0))
    for axis, diameter, first, second in holes:
        drill = trimesh.creation.cylinder(radius=diameter / 2.0, height=200.0, sections=720)
        drill.apply_transform(TURNED[axis])
        place = {"z": (first, second, 0.0), "x": (0.0, first, second), "y": (first, 0.0, second)}[axis]
        solid = trimesh.boolean.difference([solid, drill.apply_translation(place)], engine="manifold")
    (found,) = measure([bored])
    assert found.volume * 1e9 == pytest.approx(solid.volume, rel=1e-4)
    assert (found.cooling_area + found.cored_area) * 1e6 == pytest.approx(solid.area, rel=1e-4)


# --- parts of the measure ------------------------------------------------------------------------------


def test_a_cored_bore_cools_into_its_core_alone() -> None:
    (found,) = measure([block(*UPRIGHT)])
    assert found.cored_area == pytest.approx(math.pi * 0.030 * 0.080)
    (wall,) = found.cored
    assert wall.core is not None
    assert wall.core.modulus == pytest.approx(0.030 / 4.0)
    (plain,) = measure([block()])
    # Curvature: the bore's own is not counted, nor its mouths' edges, where one side is cored.
    assert found.curvature == pytest.approx(plain.curvature)


def test_sand_in_a_bore_is_hollow_and_its_mouths_are_edges() -> None:
    (plain,) = measure([block()])
    (found,) = measure([block(Bore(diameter=0.030, cored=False))])
    gained = -math.pi * 0.080 + 2.0 * SQUARE_EDGE * math.pi * 0.030
    assert found.curvature - plain.curvature == pytest.approx(gained)
    assert found.cored == ()


def test_each_kind_of_bore_has_a_core_of_its_own() -> None:
    (found,) = measure([block(Bore(diameter=0.020), Bore(diameter=0.010, axis="length", count=3))])
    assert [wall.core.modulus for wall in found.cored if wall.core] == pytest.approx([0.005, 0.0025])
    assert [wall.area for wall in found.cored] == pytest.approx(
        [math.pi * 0.020 * 0.080, 3 * math.pi * 0.010 * 0.060]
    )


@given(first=st.floats(4.0, 15.0), second=st.floats(4.0, 15.0))
@settings(max_examples=30, deadline=None)
def test_cores_of_two_sizes_draw_between_what_either_size_alone_would(first: float, second: float) -> None:
    def time(*bores: Bore) -> float:
        return times(freeze(section("bar", length=60.0, width=50.0, height=80.0, bores=bores)))["part"]

    small, large = sorted((first * 1e-3, second * 1e-3))
    both = time(Bore(diameter=small), Bore(diameter=large))
    same = time(Bore(diameter=small), Bore(diameter=small))
    assert same == pytest.approx(time(Bore(diameter=small, count=2)), rel=1e-9)
    # The larger hole takes out metal too, so it freezes sooner twice over.
    assert time(Bore(diameter=large, count=2)) * (1 - 1e-9) <= both <= same * (1 + 1e-9)


def test_the_wall_to_fill_is_the_one_beside_the_bore() -> None:
    assert measure([block(*UPRIGHT)])[0].thickness == pytest.approx(0.010)
    two = section("plate", length=100.0, width=40.0, thickness=12.0, bores=(Bore(diameter=0.020, count=2),))
    assert measure([two])[0].thickness == pytest.approx(0.010)
    assert measure(
        [section("plate", length=100.0, width=90.0, thickness=12.0, bores=(Bore(diameter=0.010),))]
    )[0].thickness == pytest.approx(0.012)


def test_twice_the_size_four_times_the_time() -> None:
    """A core twice as large beside it is the same core in the same body."""
    small = block(*UPRIGHT)
    large = Section(
        name="block",
        shape="bar",
        dimensions=grown(small, 2.0).dimensions,
        bores=(Bore(diameter=0.060),),
    )
    told: dict[str, Any] = {"pouring_temperature": 1500.0, "alloy": "C87300"}
    assert times(freeze(large, **told))["block"] == pytest.approx(
        4.0 * times(freeze(small, **told))["block"], rel=1e-9
    )


def test_a_riser_over_the_bore_is_joined_by_what_metal_there_is() -> None:
    """At most the face's own metal; of a smaller foot the same share as of the face."""
    answer = decide_riser(RiserCase(sections=(block(*UPRIGHT),), alloy="C21000", mould=SAND))
    face = 0.060 * 0.050 - math.pi / 4.0 * 0.030**2
    assert 0.0 < answer.result["cut_off_area"] <= face * (1.0 + 1e-9)
    made = decide_riser(
        RiserCase(
            sections=(block(*UPRIGHT),),
            alloy="C21000",
            mould=SAND,
            riser=RiserShape(diameter=0.040),
        )
    )
    assert made.result["cut_off_area"] == pytest.approx(math.pi / 4.0 * 0.040**2 * face / (0.060 * 0.050))


@pytest.mark.parametrize("diameter", [0.030, 0.050, 0.070, 0.095])
def test_a_riser_on_a_tube_stands_on_its_wall_or_over_its_hole(diameter: float) -> None:
    """A wall of 25 mm round a hole of 40 mm: no foot is met by more than the wall, and one that is
    wider than the wall does not fit on it; a large one spans the hole and stands on its core."""
    tube = section("tube", **TUBE, faces={"inside": "cored"})
    answer = decide_riser(
        RiserCase(sections=(tube,), alloy="C21000", mould=SAND, riser=RiserShape(diameter=diameter))
    )
    end, disc = math.pi / 4.0 * (0.090**2 - 0.040**2), math.pi / 4.0 * diameter**2
    met = answer.result["cut_off_area"]
    assert met <= min(end, disc) * (1.0 + 1e-9)
    assert met >= disc * end / (math.pi / 4.0 * 0.090**2) * (1.0 - 1e-9) or met == pytest.approx(end)
    (fits,) = [check for check in answer.checks if check.kind.id == "riser-foot"]
    assert fits.limit == pytest.approx(0.025)
    assert ("covers the hole" in fits.message.words) is (diameter > 0.040)


# --- what cannot be --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bad", "pointer", "code"),
    [
        (block(Bore(diameter=0.050)), "/sections/0/bores/0/diameter", "inconsistent"),
        (block(Bore(diameter=0.030), Bore(diameter=0.0)), "/sections/0/bores/1/diameter", "out_of_bounds"),
        (block(Bore(diameter=0.010, count=0)), "/sections/0/bores/0/count", "out_of_bounds"),
        (block(Bore(diameter=0.010, axis="sideways")), "/sections/0/bores/0/axis", "not_a_choice"),
        (block(Bore(diameter=0.030, count=4)), "/sections/0/bores", "inconsistent"),
        (
            section("cylinder", diameter=50.0, height=9.0, bores=(Bore(diameter=0.01, axis="length"),)),
            "/sections/0/bores/0/axis",
            "not_a_choice",
        ),
        (section("sphere", diameter=50.0, bores=UPRIGHT), "/sections/0/bores/0/axis", "not_a_choice"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(bad: Section, pointer: str, code: str) -> None:
    with pytest.raises(SectionFault) as caught:
        measure([bad])
    assert (pointer, code) in [(fault.pointer, fault.code) for fault in caught.value.faults]


def test_a_join_never_lies_in_a_bore() -> None:
    lug = section("bar", "lug", length=30.0, width=20.0, height=10.0, joins=(Join(to="block", area=6e-4),))
    found = {one.name: one for one in measure([block(*UPRIGHT), lug])}
    assert sum(face.joined_area for face in found["block"].faces if face.name.startswith("bore")) == 0.0
    assert sum(face.joined_area for face in found["block"].faces) == pytest.approx(6e-4)


@given(
    diameter=st.floats(1.0, 49.0),
    axis=st.sampled_from(["height", "length", "width"]),
    count=st.integers(1, 3),
    cored=st.booleans(),
)
@settings(max_examples=100, deadline=None)
def test_any_bore_leaves_a_body_that_adds_up(diameter: float, axis: str, count: int, cored: bool) -> None:
    bored = block(Bore(diameter=diameter * 1e-3, axis=axis, cored=cored, count=count))
    try:
        (found,) = measure([bored])
    except SectionFault:
        return
    (plain,) = measure([block()])
    length = bored.dimensions[axis]
    assert found.volume == pytest.approx(plain.volume - count * math.pi / 4 * (diameter * 1e-3) ** 2 * length)
    assert 0.0 < found.volume < plain.volume
    assert found.thickness > 0.0
    assert np.isfinite(found.curvature)
    assert all(0.0 < face.solid_share <= 1.0 for face in found.faces)
