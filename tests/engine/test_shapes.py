"""The heat of an edge: closed forms, limits and an independent second way."""

import math

import numpy as np
import pytest

from pourwright_service.engine.geometry.shapes import SQUARE_EDGE, edge_coefficient

# --- the heat of an edge ----------------------------------------------------------------------


def test_square_edges_have_their_closed_forms() -> None:
    assert edge_coefficient(math.pi / 2) == pytest.approx(SQUARE_EDGE, abs=1e-12)
    assert pytest.approx(0.602, abs=5e-5) == SQUARE_EDGE
    # Inner corner: the sand is a quarter space, its heat (2 sqrt(t/pi))^2 less than two faces'.
    assert edge_coefficient(3 * math.pi / 2) == pytest.approx(-4 / math.pi, abs=1e-10)
    assert edge_coefficient(math.pi) == pytest.approx(0.0, abs=1e-15)


def test_many_blunt_edges_are_a_cylinder() -> None:
    # Limit: the corners of an n-sided prism draw what a cylinder's curvature draws, pi h in all.
    n = 4000
    assert n * edge_coefficient(math.pi - 2 * math.pi / n) == pytest.approx(math.pi, rel=1e-3)


def test_edge_coefficient_against_a_conduction_solution() -> None:
    # Independent second way: heat drawn from a square outer edge, by finite differences.
    size, steps, dt = 64, 1000, 0.2

    def run(held: np.ndarray) -> float:
        heat = held.astype(float)
        for _ in range(steps):
            wide = np.pad(heat, 1, mode="edge")
            spread = wide[2:, 1:-1] + wide[:-2, 1:-1] + wide[1:-1, 2:] + wide[1:-1, :-2] - 4 * heat
            heat = np.where(held, 1.0, heat + dt * spread)
        return float(heat[~held].sum())

    corner = np.zeros((2 * size, 2 * size), dtype=bool)
    corner[:size, :size] = True
    face = np.zeros((2 * size, 3), dtype=bool)
    face[:size] = True
    # The surface runs through the last held nodes, so each face is half a cell short of ``size``;
    # the sand's half cells along it (and three quarters at the corner) make up the 0.25.
    excess = run(corner) - (2 * size - 1) * run(face) / 3 + 0.25
    assert excess / (steps * dt) == pytest.approx(SQUARE_EDGE, rel=0.02)
