"""Circles in junctions of walls: printed table, limits, and a search that knows no formula."""

import itertools
import math
import random
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourwright_service.engine.geometry.circles import (
    corner_circle,
    cross_circle,
    tee_circle,
    wye_circle,
)

SQUARE = math.pi / 2
Planes = Sequence[tuple[tuple[float, float], float]]


def sharper(angle: float) -> float:
    """The sharper one of the two angles beside a branch."""
    return max(min(angle, math.pi - angle), math.pi / 6)


def tee(wall: float, branch: float, fillet: float, angle: float = SQUARE) -> float:
    return tee_circle(wall, branch, fillet, angle, corner_circle(wall, branch, fillet, angle))


# --- equal walls of 1: derived, exact geometry (second derivation, six digits) -----------------------


@pytest.mark.parametrize(
    ("fillet", "in_tee", "in_cross", "in_corner"),
    [
        (0.0, 1.2500, 1.4142, 1.1716),
        (1 / 3, 1.4167, 1.6904, 1.2860),
        (0.5, 1.5000, 1.8284, 1.3431),
        (1.0, 1.7500, 2.2426, 1.5147),
    ],
)
def test_circles_in_junctions_of_equal_walls(
    fillet: float, in_tee: float, in_cross: float, in_corner: float
) -> None:
    assert tee(1.0, 1.0, fillet) == pytest.approx(in_tee, abs=6e-5)
    assert cross_circle(1.0, 1.0, fillet) == pytest.approx(in_cross, abs=6e-5)
    assert corner_circle(1.0, 1.0, fillet, SQUARE) == pytest.approx(in_corner, abs=6e-5)


def test_a_y_of_three_walls_has_the_circle_of_its_sharp_hollows() -> None:
    """Without fillets the circle passes through three points at t/sqrt(3) from the middle."""
    assert wye_circle(1.0, 0.0) == pytest.approx(2.0 / math.sqrt(3.0))


# --- any walls, fillet and angle: the largest clearance from the sand, sought by trying ---------------


def _to_wedge(at: Any, planes: Planes) -> Any:
    """Distance of points to a wedge or half plane of sand, the points with n.x >= d for all (n, d)."""
    normals = [np.array(normal) for normal, _ in planes]
    short = [depth - at @ normal for normal, (_, depth) in zip(normals, planes, strict=True)]
    if len(planes) == 1:
        return np.maximum(short[0], 0.0)
    tip = np.linalg.solve(np.array(normals), np.array([depth for _, depth in planes]))
    found = np.linalg.norm(at - tip, axis=1)
    for one, other in ((0, 1), (1, 0)):
        foot = at + short[one][:, None] * normals[one]
        on_face = (short[one] > 0.0) & (foot @ normals[other] >= planes[other][1])
        found = np.where(on_face, np.minimum(found, short[one]), found)
    return np.where(np.maximum(*short) <= 0.0, 0.0, found)


def largest_circle(sand: Sequence[Planes], fillet: float, size: float) -> float:
    """Diameter of the largest circle clear of all sand whose tips are rounded by the fillet.

    Sand rounded by r is what discs of radius r cover whose middles keep r inside the sharp sand.
    """
    inner = [[(normal, depth + fillet) for normal, depth in planes] for planes in sand]

    def clearance(at: Any) -> Any:
        return np.min([_to_wedge(at, planes) - fillet for planes in inner], axis=0)

    def around(middle: Any, half: float, points: int) -> Any:
        ticks = np.linspace(-half, half, points)
        return middle + np.stack(np.meshgrid(ticks, ticks), -1).reshape(-1, 2)

    starts = []
    for half in (size, size / 6.0):
        # The finer net finds a small junction beside a long wall that is nearly as thick.
        net = around(np.zeros(2), half, 161)
        starts += [(start, half / 40.0) for start in net[np.argsort(-clearance(net))[:600:40]]]
    best = 0.0
    for middle, half in starts:
        for _ in range(10):
            tried = around(middle, half, 11)
            clear = clearance(tried)
            middle, half = tried[clear.argmax()], half / 2.2
            best = max(best, float(clear.max()))
    return 2.0 * best


def _sand(kind: str, wall: float, other: float, angle: float) -> list[Planes]:
    """The sand round a junction: the first wall lies along x, the other leaves it at the angle."""
    left = (-math.sin(angle), math.cos(angle))
    right = (-left[0], -left[1])
    if kind == "corner":
        return [[((0.0, -1.0), 0.0)], [(left, 0.0)], [((0.0, 1.0), wall), (right, other)]]
    half, beside = wall / 2.0, other / 2.0
    if kind == "tee":
        above = [[((0.0, 1.0), half), (side, beside)] for side in (left, right)]
        return [[((0.0, -1.0), half)], *above]
    ups, sides = ((0.0, 1.0), (0.0, -1.0)), (left, right)
    return [[(up, half), (side, beside)] for up, side in itertools.product(ups, sides)]


@pytest.mark.parametrize("kind", ["corner", "tee", "cross"])
@pytest.mark.parametrize("drawn", range(8))
def test_circles_against_a_search_over_the_plane(kind: str, drawn: int) -> None:
    chance = random.Random(drawn)
    other = chance.choice([0.3, 0.5, 1.0, 2.0, 3.0, chance.uniform(0.3, 3.0)])
    fillet = chance.choice([0.0, 0.5, 1.0, chance.random()])
    degrees = chance.choice([30.0, 60.0, 90.0, 150.0, chance.uniform(30.0, 150.0)])
    angle = math.radians(degrees)
    if kind == "corner":
        told = corner_circle(1.0, other, fillet, angle)
    elif kind == "tee":
        angle = sharper(angle)
        told = tee(1.0, other, fillet, angle)
    else:
        angle = SQUARE
        told = cross_circle(1.0, other, fillet)
    size = 3.0 * (max(1.0, other) + fillet) / math.sin(angle / 2.0)
    found = largest_circle(_sand(kind, 1.0, other, angle), fillet, size)
    assert found <= told * (1.0 + 1e-6)
    assert found == pytest.approx(told, rel=2e-3)


def test_a_y_against_the_search() -> None:
    directions = [math.pi / 2 + turn * 2 * math.pi / 3 for turn in range(3)]
    for fillet in (0.0, 0.3, 1.0):
        sand = []
        for one, two in itertools.pairwise([*directions, directions[0]]):
            # Between two walls the sand lies left of the first and right of the second.
            first = (-math.sin(one), math.cos(one))
            second = (math.sin(two), -math.cos(two))
            sand.append([(first, 0.5), (second, 0.5)])
        assert largest_circle(sand, fillet, 3.0) == pytest.approx(wye_circle(1.0, fillet), rel=2e-3)


# --- limits and monotony -------------------------------------------------------------------------------

WALLS = st.floats(1e-3, 0.1)
FILLETS = st.floats(0.0, 0.1)
ANGLES = st.floats(math.pi / 6, 5 * math.pi / 6)


@given(wall=WALLS, other=WALLS, fillet=FILLETS, angle=ANGLES, more=st.floats(1.001, 2.0))
@settings(max_examples=200, deadline=None)
def test_more_metal_never_makes_the_circle_smaller(
    wall: float, other: float, fillet: float, angle: float, more: float
) -> None:
    """A thicker wall or a larger fillet adds metal; a circle that fitted still fits."""
    leaning = sharper(angle)
    for circle in (
        lambda t, w, r: corner_circle(t, w, r, angle),
        lambda t, w, r: tee(t, w, r, leaning),
        cross_circle,
    ):
        start = circle(wall, other, fillet)
        assert start >= max(wall, other) * (1.0 - 1e-9)
        slack = 1.0 - 1e-9
        assert circle(wall * more, other, fillet) >= start * slack
        assert circle(wall, other * more, fillet) >= start * slack
        assert circle(wall, other, fillet * more + 1e-6) >= start * slack
        assert circle(wall * more, other * more, fillet * more) == pytest.approx(start * more, rel=1e-6)


@given(wall=WALLS, other=WALLS, fillet=FILLETS, angle=ANGLES)
@settings(max_examples=100, deadline=None)
def test_a_corner_and_a_cross_do_not_ask_which_wall_is_first(
    wall: float, other: float, fillet: float, angle: float
) -> None:
    turned = corner_circle(other, wall, fillet, angle)
    assert corner_circle(wall, other, fillet, angle) == pytest.approx(turned, rel=1e-12)
    assert cross_circle(wall, other, fillet) == pytest.approx(cross_circle(other, wall, fillet), rel=1e-12)


def test_a_much_thinner_wall_leaves_no_mark() -> None:
    assert corner_circle(0.02, 0.001, 0.0, SQUARE) == 0.02
    assert tee(0.02, 0.0001, 0.0) == pytest.approx(0.02, rel=1e-4)
    assert tee(0.001, 0.02, 0.0) == 0.02


def test_arrays_go_through_as_floats_do() -> None:
    walls: Any = np.array([0.01, 0.02, 0.05])
    corners: Any = corner_circle(walls, 0.02, 0.004, SQUARE)
    tees: Any = tee_circle(walls, 0.02, 0.004, SQUARE, corners)
    for index, wall in enumerate(walls):
        assert corners[index] == pytest.approx(corner_circle(float(wall), 0.02, 0.004, SQUARE))
        assert tees[index] == pytest.approx(tee(float(wall), 0.02, 0.004))
