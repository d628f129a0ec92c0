"""Draw and parting: bodies whose undercut is known by geometry, in any position, and what is said of it."""

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from pourwright_service.engine.answer import Answer
from pourwright_service.engine.bounds import OutOfRange
from pourwright_service.engine.decide.draw import DrawCase, axis, decide_draw
from pourwright_service.engine.decide.plan_case import MeshUse
from pourwright_service.engine.geometry import columns as columns_module
from pourwright_service.engine.geometry.columns import Columns, columns_of, frame_of
from pourwright_service.engine.geometry.drafts import steep_faces
from pourwright_service.engine.geometry.levels import section_profile
from pourwright_service.engine.geometry.mesh import Mesh, MeshFault, mesh_of, read_stl
from pourwright_service.engine.geometry.parting import (
    Parting,
    face_directions,
    least_parting,
    part_at,
    raw_undercut,
)

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"
Z, X, Y = (0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)


def of(body: trimesh.Trimesh) -> Mesh:
    return mesh_of(np.asarray(body.triangles, dtype=np.float64))


def solid(body: Manifold) -> Mesh:
    made = body.to_mesh()
    corners = np.asarray(made.vert_properties, dtype=np.float64)[:, :3]
    return mesh_of(corners[np.asarray(made.tri_verts)])


def block(x: float, y: float, z: float, at: Sequence[float] = (0.0, 0.0, 0.0)) -> Manifold:
    """A block centred in plan, standing on its z."""
    return Manifold.cube((x, y, z)).translate((at[0] - x / 2, at[1] - y / 2, at[2]))


def seen(mesh: Mesh, direction: Sequence[float], count: int = 256) -> tuple[Columns, Parting]:
    columns = columns_of(mesh, direction, count)
    return columns, part_at(columns, least_parting(mesh, columns))


def turned(mesh: Mesh, matrix: np.ndarray) -> Mesh:
    return mesh_of(mesh.triangles @ matrix.T)


def some_rotation(seed: int) -> np.ndarray:
    return trimesh.transformations.random_rotation_matrix(np.random.default_rng(seed).random(3))[:3, :3]


BALL = of(trimesh.creation.icosphere(subdivisions=5, radius=40))
TORUS = of(trimesh.creation.torus(40, 12, major_sections=192, minor_sections=96))
HOLED = solid(
    block(80, 60, 50) - Manifold.cylinder(100, 10, 10, 128, True).rotate((0, 90, 0)).translate((0, 0, 25))
)
LETTER_C = solid(block(60, 40, 50) - block(60, 60, 20, (20, 0, 15)))
"""60 x 40 x 50 with a slot 20 tall, open to +x and 40 deep: blocks of z 0-15 and 35-50 under and over it."""
CONE = of(trimesh.creation.cone(30, 50, sections=256))
HALF_BALL = solid(Manifold.sphere(40, 256) - block(200, 200, 100, (0, 0, -100)))


# --- columns ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("direction", [Z, X, (0.0, -1.0, 0.0), (1.0, 2.0, 3.0), (-0.3, 0.1, 0.02)])
@pytest.mark.parametrize(
    "mesh", [BALL, TORUS, HOLED, LETTER_C, CONE], ids=["ball", "torus", "holed", "C", "cone"]
)
def test_columns_hold_the_mesh_s_volume(mesh: Mesh, direction: Sequence[float]) -> None:
    """The volume by columns against the volume by the divergence theorem."""
    columns = columns_of(mesh, direction)
    assert columns.volume == pytest.approx(mesh.volume, rel=4e-3)
    assert columns.bad == 0.0
    assert columns.height == pytest.approx(np.ptp(mesh.triangles @ frame_of(direction)[2]))


def test_columns_meet_a_ball_where_its_equation_says() -> None:
    columns = columns_of(BALL, Z)
    number = np.arange(len(columns.top))
    x = columns.origin[0] + number % columns.shape[0] * columns.step[0]
    y = columns.origin[1] + number // columns.shape[0] * columns.step[1]
    # The plan axes of z are x and y, in some sense: the ball does not mind.
    inner = x**2 + y**2 < 38.0**2
    half = np.sqrt(40.0**2 - x[inner] ** 2 - y[inner] ** 2)
    assert columns.top[inner] == pytest.approx(40.0 + half, abs=0.1)
    assert columns.bottom[inner] == pytest.approx(40.0 - half, abs=0.1)


def test_a_place_of_the_grid_is_a_place_of_the_file() -> None:
    moved = Mesh(LETTER_C.triangles + np.array([100.0, -50.0, 7.0]))
    for direction in (Z, X, (1.0, 2.0, 3.0)):
        columns = columns_of(moved, direction)
        nx, ny = columns.shape
        corners = np.array([columns.place(i, j, 0.0) for i in (-0.5, nx - 0.5) for j in (-0.5, ny - 0.5)])
        ends = (moved.triangles.reshape(-1, 3) @ columns.frame.T)[:, :2]
        found = (corners @ columns.frame.T)[:, :2]
        assert found.min(axis=0) == pytest.approx(ends.min(axis=0), abs=0.05 * max(columns.step))
        assert found.max(axis=0) == pytest.approx(ends.max(axis=0), abs=0.05 * max(columns.step))


def test_bodies_that_overlap_are_one_and_a_hollow_is_sand() -> None:
    both = np.concatenate(
        (solid(block(40, 40, 40)).triangles, solid(block(40, 40, 40, (20, 0, 10))).triangles)
    )
    columns = columns_of(Mesh(both), Z)
    assert len(columns.gap_column) == 0
    assert columns.volume == pytest.approx(2 * 40**3 - 20 * 40 * 30, rel=1e-2)
    hollow = solid(block(40, 40, 40) - block(10, 20, 30, (0, 0, 5)))
    for direction in (X, Y, Z):
        assert seen(hollow, direction)[1].trapped == pytest.approx(10 * 20 * 30, rel=2e-2)


def test_columns_through_a_hole_of_the_surface_are_left_out() -> None:
    faces = BALL.triangles
    top = faces[:, :, 2].mean(axis=1) > 39.0
    columns = columns_of(Mesh(faces[~top]), Z)
    assert 0.0 < columns.bad < 0.1
    assert len(columns.gap_column) == 0
    assert columns.volume == pytest.approx(BALL.volume, rel=0.1)


def test_a_tangle_makes_the_grid_coarser_and_a_worse_one_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    plain = columns_of(HOLED, Z).shape[0]
    monkeypatch.setattr(columns_module, "MOST_CROSSINGS", 40_000)
    coarse = columns_of(HOLED, Z)
    assert coarse.shape[0] < plain
    assert coarse.volume == pytest.approx(HOLED.volume, rel=3e-2)
    monkeypatch.setattr(columns_module, "MOST_CROSSINGS", 100)
    with pytest.raises(MeshFault, match="over one another"):
        columns_of(HOLED, Z)


@pytest.mark.parametrize(
    "direction", [(0.0, 0.0, 0.0), (math.nan, 0.0, 1.0), (math.inf, 0.0, 0.0), (1.0, 0.0)]
)
def test_what_is_no_direction(direction: Sequence[float]) -> None:
    with pytest.raises(ValueError, match="direction"):
        frame_of(direction)


@given(st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda v: sum(abs(p) for p in v) > 1e-3))
def test_a_frame_is_square_and_turns_right(direction: tuple[float, float, float]) -> None:
    frame = frame_of(direction)
    assert frame @ frame.T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(frame) == pytest.approx(1.0)
    assert frame[2] @ np.array(direction) == pytest.approx(np.linalg.norm(direction))


# --- undercut of known bodies: mensuration, no source needed ----------------------------------------

NOTHING = {
    "a ball, parted at its equator": (BALL, Z, 40.0),
    "a torus lying flat": (TORUS, Z, 12.0),
    "a cone on its foot": (CONE, Z, 0.0),
    "a cone on its point": (CONE, (0.0, 0.0, -1.0), 50.0),
    "a lying cone": (CONE, X, 30.0),
    "a block with a hole, along the hole": (HOLED, X, 80.0),
    "half a ball on its flat": (HALF_BALL, Z, 0.0),
    "half a ball, flat up": (HALF_BALL, (0.0, 0.0, -1.0), 40.0),
    "a letter C, drawn along its stroke": (LETTER_C, Y, 40.0),
}


@pytest.mark.parametrize(("mesh", "direction", "height"), NOTHING.values(), ids=NOTHING)
def test_nothing_is_told_as_nothing(mesh: Mesh, direction: Sequence[float], height: float) -> None:
    columns, parting = seen(mesh, direction)
    assert parting.undercut == 0.0
    assert parting.regions == ()
    assert raw_undercut(columns, [parting.height])[0] < parting.noise
    assert parting.noise < 2e-3 * mesh.volume
    assert parting.height == pytest.approx(height, abs=0.02 * columns.height)


@pytest.mark.parametrize("seed", range(6))
def test_nothing_stays_nothing_however_the_body_lies_in_its_file(seed: int) -> None:
    turn = some_rotation(seed)
    for mesh, direction in ((BALL, Z), (TORUS, Z), (CONE, X), (HALF_BALL, Z)):
        columns, parting = seen(turned(mesh, turn), turn @ np.array(direction))
        assert parting.undercut <= parting.noise
        assert raw_undercut(columns, [parting.height])[0] < parting.noise


TORUS_UPRIGHT = math.pi * (2 * 40**2 * 12 - math.pi * 40 * 12**2 + 4 * 12**3 / 3)
"""The hole between halves: discs of radius R - sqrt(r^2 - x^2), x from -r to r."""

KNOWN = {
    "a torus upright": (TORUS, X, TORUS_UPRIGHT, 2e-3),
    "a block across its hole": (HOLED, Y, math.pi * 10**2 * 80, 2e-3),
    "the same, upright": (HOLED, Z, math.pi * 10**2 * 80, 2e-3),
    "a letter C, upright": (LETTER_C, Z, 40.0 * 40.0 * 20.0, 1e-2),
}


@pytest.mark.parametrize(("mesh", "direction", "volume", "within"), KNOWN.values(), ids=KNOWN)
def test_sand_shut_in_has_the_volume_that_geometry_says(
    mesh: Mesh, direction: Sequence[float], volume: float, within: float
) -> None:
    _, parting = seen(mesh, direction)
    assert parting.trapped == pytest.approx(volume, rel=within)
    assert parting.undercut == parting.trapped
    for seed in (1, 2, 3):
        turn = some_rotation(seed)
        _, again = seen(turned(mesh, turn), turn @ np.array(direction))
        assert again.trapped == pytest.approx(volume, rel=2e-2)


def test_two_balls_on_top_of_one_another() -> None:
    """The sand between two balls that touch: cylinder less two half balls, 2/3 pi R^3."""
    radius, sink = 20.0, 0.05
    ball = Manifold.sphere(radius, 256)
    pair = solid(ball + ball.translate((0, 0, 2 * radius - sink)))
    columns, parting = seen(pair, Z)
    assert parting.trapped == pytest.approx(2.0 / 3.0 * math.pi * radius**3, rel=1e-2)
    assert radius - 1 < parting.height < columns.height - radius + 1
    assert seen(pair, X)[1].undercut == 0.0


def test_a_pocket_may_hang_but_a_side_hole_is_shut_in() -> None:
    """A cup in the back of a block: nothing is shut in, but from a flat parting there all of it hangs."""
    cup = solid(block(60, 60, 40) - block(20, 30, 25, (0, 0, 15)))
    columns = columns_of(cup, Z)
    at_back = part_at(columns, 40.0)
    assert (at_back.trapped, at_back.standing) == (0.0, 0.0)
    assert at_back.hanging == pytest.approx(20 * 30 * 25, rel=2e-2)
    (pocket,) = at_back.regions
    assert pocket.inside
    assert (pocket.length, pocket.width, pocket.height) == pytest.approx((30, 20, 25), rel=2e-2)
    assert pocket.centre == pytest.approx((0.0, 0.0, 27.5), abs=0.3)
    assert part_at(columns_of(cup, X), 30.0).trapped == pytest.approx(20 * 30 * 25, rel=2e-2)


def test_a_step_at_the_edge_wants_a_parting_that_follows() -> None:
    """Two blocks side by side, one 10-30 and one 0-20 tall, drawn together: 10 mm overhang at either side."""
    step = solid(block(40, 40, 20, (-20, 0, 0)) + block(40, 40, 20, (20, 0, 10)))
    columns = columns_of(step, Z)
    wanted = {
        0.0: (0.0, 16000.0),
        10.0: (0.0, 0.0),
        20.0: (0.0, 0.0),
        25.0: (8000.0, 0.0),
        30.0: (16000.0, 0.0),
    }
    for height, sand in wanted.items():
        parting = part_at(columns, height)
        assert (parting.hanging, parting.standing) == pytest.approx(sand, rel=2e-2, abs=1.0)
        assert not any(region.inside for region in parting.regions)
    assert 10.0 <= least_parting(step, columns) <= 20.0


@pytest.mark.parametrize("name", ["torus", "holed", "C", "cone", "ball"])
@pytest.mark.parametrize("share", [0.15, 0.5, 0.8])
def test_undercut_by_regions_against_the_section_profile(name: str, share: float) -> None:
    """Sand over and under metal, from the maps of top and bottom and the profile of sections alone."""
    mesh = {"torus": TORUS, "holed": HOLED, "C": LETTER_C, "cone": CONE, "ball": BALL}[name]
    for up in ("+x", "+z"):
        columns = columns_of(mesh, axis(up))
        p = share * columns.height
        heights = (np.arange(2000) + 0.5) / 2000 * columns.height
        areas = section_profile(mesh, up, heights)
        over = float(areas[heights > p].sum()) * columns.height / 2000
        under = float(areas[heights <= p].sum()) * columns.height / 2000
        metal = columns.metal
        above = columns.cell * np.maximum(columns.top[metal] - p, 0.0).sum() - over
        below = columns.cell * np.maximum(p - columns.bottom[metal], 0.0).sum() - under
        assert part_at(columns, p).undercut == pytest.approx(above + below, abs=4e-3 * mesh.volume)


@pytest.mark.parametrize("mesh", [TORUS, HOLED, LETTER_C, CONE], ids=["torus", "holed", "C", "cone"])
@pytest.mark.parametrize("direction", [Z, (1.0, 2.0, 3.0)])
def test_no_other_height_has_less_undercut(mesh: Mesh, direction: Sequence[float]) -> None:
    columns = columns_of(mesh, direction)
    best = raw_undercut(columns, [least_parting(mesh, columns)])[0]
    others = raw_undercut(columns, np.linspace(0.0, columns.height, 501))
    assert best <= others.min() + 0.2 * part_at(columns, 0.0).noise


@settings(max_examples=25, deadline=None)
@given(
    st.floats(1e-3, 1e3), st.tuples(*[st.floats(-500, 500)] * 3), st.sampled_from([X, Y, Z, (1.0, -1.0, 2.0)])
)
def test_size_and_place_of_the_file_do_not_matter(
    factor: float, shift: tuple[float, float, float], direction: tuple[float, float, float]
) -> None:
    plain = columns_of(LETTER_C, direction, 96)
    moved = columns_of(Mesh((LETTER_C.triangles + np.array(shift)) * factor), direction, 96)
    one, other = part_at(plain, 20.0), part_at(moved, 20.0 * factor)
    scale = factor**3
    for name in ("trapped", "hanging", "standing", "noise"):
        wanted = getattr(one, name) * scale
        assert getattr(other, name) == pytest.approx(wanted, rel=2e-2, abs=20 * one.noise * scale / 10)
    if one.regions:
        place = (np.array(one.regions[0].centre) + shift) * factor
        assert other.regions[0].centre == pytest.approx(place, abs=factor * 2.0)


@settings(max_examples=20, deadline=None)
@given(st.sampled_from(["torus", "holed", "C", "cone"]), st.sampled_from([0, 1, 2]), st.integers(0, 2))
def test_a_mirror_and_the_opposite_direction_change_nothing(name: str, flipped: int, along: int) -> None:
    mesh = {"torus": TORUS, "holed": HOLED, "C": LETTER_C, "cone": CONE}[name]
    direction = np.eye(3)[along]
    mirror = np.ones(3)
    mirror[flipped] = -1.0
    one = seen(mesh, direction, 128)[1]
    for other in (seen(mesh_of(mesh.triangles * mirror), direction, 128)[1], seen(mesh, -direction, 128)[1]):
        assert other.trapped == pytest.approx(one.trapped, rel=2e-2, abs=one.noise)
        assert other.undercut == pytest.approx(one.undercut, rel=2e-2, abs=one.noise)


def test_separate_places_are_told_one_by_one_the_largest_first() -> None:
    body = block(100, 40, 40)
    for number, radius in enumerate((4, 8, 6)):
        hole = Manifold.cylinder(80, radius, radius, 64, True).rotate((90, 0, 0))
        body -= hole.translate((-30 + 30 * number, 0, 20))
    _, parting = seen(solid(body), Z)
    assert [round(region.centre[0]) for region in parting.regions] == [0, 30, -30]
    for region, radius in zip(parting.regions, (8, 6, 4), strict=True):
        assert region.volume == pytest.approx(math.pi * radius**2 * 40, rel=2e-2)
        assert (region.low, region.high) == pytest.approx((20 - radius, 20 + radius), abs=0.4)


def test_stacked_holes_of_one_column_are_two_places() -> None:
    body = block(100, 40, 60)
    for height in (15, 45):
        body -= Manifold.cylinder(80, 6, 6, 64, True).rotate((90, 0, 0)).translate((0, 0, height))
    _, parting = seen(solid(body), Z)
    assert sorted(round(region.centre[2]) for region in parting.regions) == [15, 45]


# --- directions and draft ---------------------------------------------------------------------------


def test_large_flat_faces_give_directions() -> None:
    turn = some_rotation(4)
    found = face_directions(turned(solid(block(60, 40, 10)), turn))
    assert len(found) == 3
    for direction, wanted in zip(found, (Z, Y, X), strict=True):
        assert abs(np.array(direction) @ turn @ np.array(wanted)) == pytest.approx(1.0, abs=1e-6)
    assert face_directions(BALL) == ()


@pytest.mark.parametrize("angle", [0.5, 1.5, 3.0])
def test_faces_are_steep_by_their_angle(angle: float) -> None:
    """A four-sided frustum whose sides lean by the angle; the area of its sides by mensuration."""
    tall, foot = 40.0, 60.0
    head = foot - 2 * tall * math.tan(math.radians(angle))
    body = solid(Manifold.cylinder(tall, foot / math.sqrt(2), head / math.sqrt(2), 4))
    columns = columns_of(body, Z)
    sides = 4 * (foot + head) / 2 * tall / math.cos(math.radians(angle))
    none = steep_faces(body, columns, 0.0, math.radians(angle - 0.1))
    assert (none.area, none.share, none.tallest, none.place) == (0.0, 0.0, 0.0, None)
    steep = steep_faces(body, columns, 0.0, math.radians(angle + 0.1))
    assert steep.area == pytest.approx(sides, rel=1e-5)
    assert steep.share == pytest.approx(sides / (sides + foot**2 + head**2), rel=1e-5)
    assert steep.tallest == pytest.approx(tall)
    assert steep.place == pytest.approx((0.0, 0.0, tall / 2), abs=1e-4)


def test_a_face_through_the_parting_is_drawn_both_ways() -> None:
    body = solid(block(20, 20, 50))
    columns = columns_of(body, Z)
    for parting, reach in ((0.0, 50.0), (20.0, 30.0), (35.0, 35.0), (50.0, 50.0)):
        assert steep_faces(body, columns, parting, 0.01).tallest == pytest.approx(reach)


# --- the answer -------------------------------------------------------------------------------------


def use(mesh: Mesh, represents: str = "part") -> MeshUse:
    return MeshUse(id="", mesh=mesh, length_unit="mm", metres=1e-3, represents=represents, up="+z")


def asked(mesh: Mesh, **more: Any) -> Answer:
    return decide_draw(DrawCase(mesh=use(mesh), **more))


def verdict(answer: Answer, name: str) -> str:
    (check,) = (check for check in answer.checks if check.kind.id == name)
    return check.verdict


def test_the_best_direction_is_found_and_told() -> None:
    answer = asked(HOLED)
    assert answer.result["best"]["along"] == "x"
    assert answer.result["judged"] == answer.result["best"]
    assert answer.message.words.startswith("Draw it along {d}, parting at its top: nothing hinders.")
    assert verdict(answer, "can-be-drawn") == "pass"
    shut = [way["trapped"] for way in answer.result["directions"]]
    assert shut == pytest.approx([0.0, math.pi * 1e-4 * 0.08, math.pi * 1e-4 * 0.08], rel=1e-2)


def test_a_draw_of_one_s_own_is_judged_and_the_better_one_named() -> None:
    for more in ({"up": "-z"}, {"direction": (0.0, 0.0, -5.0)}):
        answer = asked(HOLED, **more)
        assert (answer.result["judged"]["along"], answer.result["best"]["along"]) == ("-z", "x")
        assert answer.result["judged"]["why"] == "yours"
        assert answer.verdict == "fail"
        assert answer.message.parts["b"] == "x"
        (place,) = answer.result["undercuts"]
        assert place["needs_core"]
        assert place["centre"] == pytest.approx((0.0, 0.0, 0.025), abs=5e-4)
    turn = some_rotation(3)
    own = asked(turned(HOLED, turn), direction=tuple(turn @ np.array(X)))
    assert own.result["judged"]["trapped"] == 0.0
    assert own.result["judged"]["undercut"] == 0.0


def test_a_body_that_lies_askew_is_found_by_its_faces() -> None:
    answer = asked(turned(HOLED, some_rotation(5)))
    assert answer.result["best"]["why"] == "large flat face"
    assert answer.result["best"]["undercut"] == 0.0


def test_slight_sand_warns_and_much_fails() -> None:
    plate = block(100, 60, 40)
    verdicts = {}
    for radius in (2.0, 12.0):
        hole = Manifold.cylinder(80, radius, radius, 64, True).rotate((90, 0, 0)).translate((0, 0, 20))
        verdicts[radius] = verdict(asked(solid(plate - hole), up="+z"), "can-be-drawn")
    assert verdicts == {2.0: "warn", 12.0: "fail"}


def test_a_parting_of_one_s_own() -> None:
    answer = asked(BALL, up="+z", parting_height=0.080)
    # The ring of sand between upper half ball and cylinder: pi R^2 R - 2/3 pi R^3 = pi R^3 / 3.
    assert answer.result["judged"]["hanging"] == pytest.approx(math.pi * 0.04**3 / 3, rel=1e-2)
    assert verdict(answer, "parting-flat") == "warn"
    assert verdict(answer, "can-be-drawn") == "pass"
    assert verdict(asked(BALL, up="+z"), "parting-flat") == "pass"
    with pytest.raises(OutOfRange, match="parting height"):
        asked(BALL, up="+z", parting_height=0.2)


def test_draft_is_wanted_where_tall_faces_have_none() -> None:
    """10 mm deep, 1 to 6 degrees: the draft chart scribd 420845523 prints what stands here, in mm."""
    plate = solid(block(60, 40, 10))
    for degrees, lean in zip(range(1, 7), (0.175, 0.349, 0.524, 0.699, 0.875, 1.051), strict=True):
        answer = asked(plate, up="+z", draft_degrees=float(degrees))
        assert answer.result["draft"]["lean"] == pytest.approx(lean * 1e-3, abs=5.1e-7)
        assert answer.result["draft"]["tallest"] == pytest.approx(0.010)
        assert verdict(answer, "draft-enough") == "warn"
    assert verdict(asked(HALF_BALL, up="+z"), "draft-enough") == "pass"


def test_the_scenario_s_parts() -> None:
    """The invented boat yard's: drawn as their plans say, and not on their side."""
    for name, hinders in (
        ("fairlead", {"+x"}),
        ("fairlead_pocket", {"+x", "+y"}),
        ("pulley_cheek", {"+x", "+y"}),
    ):
        mesh = read_stl((SCENARIO / f"{name}.stl").read_bytes())
        for up in ("-z", "+x", "+y"):
            wanted = "fail" if up in hinders else "pass"
            assert verdict(asked(mesh, up=up), "can-be-drawn") == wanted, (name, up)
    # Variant with a pocket of 40 x 20 x 16 mm in its back: across it that much sand is shut in.
    pocket = read_stl((SCENARIO / "fairlead_pocket.stl").read_bytes())
    (place,) = asked(pocket, up="+y").result["undercuts"]
    assert place["volume"] == pytest.approx(40 * 20 * 16 * 1e-9, rel=1e-2)
