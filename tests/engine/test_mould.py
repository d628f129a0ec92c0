"""Forces in the mould: hydrostatics by an independent second way, limits, and what each part adds.

The printed exercises on cores and copes stand in tests/published/plan.json.
"""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourwright_service.engine.assess.mould import (
    CoreInputs,
    MouldAssessment,
    MouldInputs,
    assess_mould,
    check_drag,
    check_flask,
    check_riser_above,
    check_riser_in_cope,
)
from pourwright_service.engine.formulas.mould import cope_lift, core_net_lift, level_force, weight_on_cope

RHO, G = 7800.0, 9.81
BASE = MouldInputs(
    density_liquid=RHO,
    gravity=G,
    head=0.14,
    parting_area=0.0126,
    volume_in_cope=0.0,
    open_area=0.0,
    open_head=0.0,
    cores=(),
    safety_factor=1.4,
    cope_mass=0.0,
    flask_known=True,
)
CORE = CoreInputs(name="core", volume=5e-5, density=1600.0, lying=True)


def judged(**told: Any) -> MouldAssessment:
    return assess_mould(replace(BASE, **told))


# --- pressure over the faces, added up the long way ----------------------------------------------------


@given(radius=st.floats(0.01, 0.2), over=st.floats(1.01, 6.0))
def test_lift_of_a_half_cylinder_by_adding_up_its_pressure(radius: float, over: float) -> None:
    """Pressure rho g (H - z) on strips of the curved roof, of which the upright part lifts."""
    head, length, steps = over * radius, 0.3, 20_000
    angle = (np.arange(steps) + 0.5) * math.pi / steps
    upright = np.sin(angle) * radius * math.pi / steps * length
    added = float(np.sum(RHO * G * (head - radius * np.sin(angle)) * upright))
    volume = math.pi / 2.0 * radius**2 * length
    assert cope_lift(RHO, G, head, 2.0 * radius * length, volume) == pytest.approx(added, rel=1e-6)


@given(radius=st.floats(0.01, 0.2), over=st.floats(1.01, 6.0))
def test_lift_of_a_half_ball_by_adding_up_its_pressure(radius: float, over: float) -> None:
    head, steps = over * radius, 20_000
    polar = (np.arange(steps) + 0.5) * math.pi / 2.0 / steps
    upright = 2.0 * math.pi * radius**2 * np.sin(polar) * np.cos(polar) * math.pi / 2.0 / steps
    added = float(np.sum(RHO * G * (head - radius * np.cos(polar)) * upright))
    volume = 2.0 * math.pi / 3.0 * radius**3
    assert cope_lift(RHO, G, head, math.pi * radius**2, volume) == pytest.approx(added, rel=1e-6)


def test_projected_area_times_head_is_a_third_too_much_for_a_half_cylinder() -> None:
    """Derived: the shortcut over the exact lift is 1/(1 - pi R/(4 H)), 1.32 at R/H = 0.31."""
    radius, head = 0.031, 0.100
    found = judged(head=head, parting_area=2 * radius, volume_in_cope=math.pi / 2 * radius**2)
    assert found.projected_lift / found.metal_lift == pytest.approx(1 / (1 - math.pi * radius / (4 * head)))
    assert found.projected_lift / found.metal_lift == pytest.approx(1.32, abs=0.005)


def test_a_flat_face_in_the_parting_is_lifted_by_its_whole_head() -> None:
    found = judged()
    assert found.metal_lift == found.projected_lift == pytest.approx(RHO * G * 0.14 * 0.0126)


def test_a_block_in_the_cope_is_lifted_at_its_roof() -> None:
    """Its sides push sideways only: rho g (H - h) A."""
    area, tall, head = 0.003, 0.080, 0.190
    lifted = cope_lift(RHO, G, head, area, area * tall)
    assert lifted == pytest.approx(level_force(RHO, G, head - tall, area))


# --- risers and cores -------------------------------------------------------------------------------------


def test_an_open_riser_takes_off_what_stood_under_it() -> None:
    """No sand is over it: its foot is lifted by nothing."""
    foot = math.pi / 4 * 0.056**2
    closed, opened = judged(), judged(open_area=foot, open_head=0.14)
    assert closed.metal_lift - opened.metal_lift == pytest.approx(RHO * G * 0.14 * foot)


def test_a_closed_riser_adds_less_lift_the_taller_it_is() -> None:
    """Metal in it weighs on what lies below: the roof is higher, the head over it smaller."""
    lifts = [judged(volume_in_cope=volume).lift for volume in (0.0, 1e-4, 2e-4)]
    assert lifts == sorted(lifts, reverse=True)


def test_a_core_that_metal_gets_under_loads_the_cope_a_standing_one_does_not() -> None:
    lying, standing = judged(cores=(CORE,)), judged(cores=(replace(CORE, lying=False),))
    assert lying.cores[0].net_lift == standing.cores[0].net_lift
    assert lying.cores[0].net_lift == pytest.approx((RHO - 1600.0) * G * 5e-5)
    assert lying.cores[0].gross_lift == pytest.approx(RHO * G * 5e-5)
    assert (lying.cores[0].counted, standing.cores[0].counted) == (True, False)
    assert standing.lift == standing.metal_lift
    assert lying.lift - standing.lift == pytest.approx(lying.cores[0].net_lift)


def test_a_core_heavier_than_the_metal_helps_nobody() -> None:
    heavy = judged(cores=(replace(CORE, density=9000.0),))
    assert heavy.cores[0].net_lift < 0.0
    assert heavy.lift == heavy.metal_lift


# --- what holds the cope down ----------------------------------------------------------------------


def test_a_cope_just_heavy_enough_passes_and_a_gram_less_does_not() -> None:
    needed = 1.4 * judged().lift / G
    (held,) = judged(cope_mass=needed).checks
    (lifted,) = judged(cope_mass=needed - 0.001).checks
    assert (held.verdict, lifted.verdict) == ("pass", "warn")
    assert judged(cope_mass=needed).weight == pytest.approx(0.0, abs=1e-12)
    assert judged(cope_mass=needed - 0.001).weight == pytest.approx(0.001, rel=1e-6)


@given(
    mass=st.floats(0.0, 1e3), factor=st.floats(1.0, 10.0), area=st.floats(0.0, 1.0), head=st.floats(0.0, 2.0)
)
def test_weight_and_cope_together_hold_the_lift_with_its_margin(
    mass: float, factor: float, area: float, head: float
) -> None:
    found = judged(cope_mass=mass, safety_factor=factor, parting_area=area, head=head)
    assert found.weight >= 0.0
    assert found.weight + mass >= factor * found.lift / G * (1 - 1e-12)
    assert weight_on_cope(factor, found.lift, G, mass) == found.weight


def test_arrays_go_through_as_floats_do() -> None:
    densities = np.array([2400.0, 7000.0, 7900.0])
    many = judged(density_liquid=densities, cores=(CORE,), volume_in_cope=1e-4, open_area=1e-3, open_head=0.1)
    for index, density in enumerate(densities):
        alone = judged(
            density_liquid=float(density), cores=(CORE,), volume_in_cope=1e-4, open_area=1e-3, open_head=0.1
        )
        assert np.asarray(many.lift)[index] == pytest.approx(alone.lift)
        assert np.asarray(many.weight)[index] == pytest.approx(alone.weight)


# --- does it fit ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("good", "bad"),
    [
        (check_riser_in_cope(0.10, 0.10), check_riser_in_cope(0.101, 0.10)),
        (check_riser_above(0.08, 0.08), check_riser_above(0.079, 0.08)),
        (check_drag(0.10, 0.10), check_drag(0.09, 0.10)),
        (check_flask(0.30, 0.30), check_flask(0.29, 0.30)),
    ],
)
def test_what_fits_exactly_passes(good: Any, bad: Any) -> None:
    assert (good.verdict, bad.verdict) == ("pass", "fail")
    assert good.slack == pytest.approx(0.0, abs=1e-12)
    assert bad.slack < 0.0


def test_core_lift_is_buoyancy_less_weight() -> None:
    """Limit: a core of the metal's own density floats nowhere."""
    assert core_net_lift(7800.0, 7800.0, G, 1e-3) == 0.0
