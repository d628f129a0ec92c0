"""Bodies in the freeze map, what freezes last, and where its figures come from."""

import math
from pathlib import Path

import numpy as np
import pytest
import trimesh

from pourwright_service.engine.decide.freeze_map import medium_in_map, metal_in_map
from pourwright_service.engine.decide.metal import medium_of, metal_of
from pourwright_service.engine.formulas.curvature import freezing_number, plane_modulus
from pourwright_service.engine.formulas.freeze_map import equivalent_modulus
from pourwright_service.engine.formulas.freezing import freezing_temperature, heat_to_freeze, mould_heat_ratio
from pourwright_service.engine.freeze_map.mapping import Body, freeze_map
from pourwright_service.engine.freeze_map.regions import feeding_figure, last_regions
from pourwright_service.engine.freeze_map.substances import Medium
from pourwright_service.engine.freeze_map.warm import warm
from pourwright_service.engine.geometry.mesh import read_stl
from pourwright_service.engine.ledger import Ledger, MissingValue, Say
from tests.engine.freeze_cases import (
    ALUMINIUM,
    BRONZE,
    SAND,
    constant,
    frozen,
    medium,
    metal,
    moved,
    turned,
)
from tests.engine.heat_solvers import freezing_times

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"

BALL = trimesh.creation.icosphere(subdivisions=4, radius=0.02)


CHILL = Medium(83.0, 7850.0 * 670.0, 293.0)  # iron, Ghosh and Mallik


def body(solid: trimesh.Trimesh, substance: object, name: str = "body") -> Body:
    return Body(name, np.ascontiguousarray(solid.triangles), substance)


def test_a_chill_draws_the_last_region_away() -> None:
    bar = trimesh.creation.box((0.06, 0.025, 0.025))
    block = moved(trimesh.creation.box((0.02, 0.025, 0.025)), (0.04, 0.0, 0.0))
    plain = frozen(bar, cells=64_000)
    how = {"mould_constant": constant(BRONZE)}
    chilled = freeze_map([body(bar, metal(BRONZE)), body(block, CHILL, "chill")], medium(), 64_000, **how)
    assert chilled.end < 0.95 * plain.end
    one = last_regions(plain, constant(BRONZE))[0]
    other = last_regions(chilled, constant(BRONZE))[0]
    assert one.place[0] == pytest.approx(0.0, abs=0.002)
    assert other.place[0] < -0.003
    assert other.bodies == (0,)


def test_a_core_of_sand_is_no_metal() -> None:
    outer = trimesh.creation.cylinder(radius=0.02, height=0.05, sections=48)
    hole = trimesh.creation.cylinder(radius=0.008, height=0.06, sections=48)
    how = {"mould_constant": constant(BRONZE)}
    cored = freeze_map([body(hole, medium(), "core"), body(outer, metal(BRONZE))], medium(), 64_000, **how)
    solid = frozen(outer, cells=64_000)
    assert cored.end < 0.8 * solid.end
    held = cored.shares.sum(dtype=np.float64) * cored.block.cell**3
    assert held == pytest.approx(outer.volume - hole.volume * 50.0 / 60.0, rel=0.02)
    assert np.isnan(cored.times[tuple(count // 2 for count in cored.block.counts)])


def test_a_sleeve_keeps_its_metal_hot() -> None:
    riser = trimesh.creation.cylinder(radius=0.015, height=0.04, sections=48)
    sleeve = trimesh.creation.cylinder(radius=0.023, height=0.04, sections=48)
    # Insulating fibre, figures of the usual size: common practice, no source.
    fibre = Medium(0.2, 500.0 * 1000.0, 293.0)
    how = {"mould_constant": constant(BRONZE)}
    kept = freeze_map([body(riser, metal(BRONZE)), body(sleeve, fibre)], medium(), 64_000, **how)
    assert kept.end > 1.3 * frozen(riser, cells=64_000).end


def test_walls_too_thin_for_the_cells_are_owned_up_to() -> None:
    thin = turned(trimesh.creation.box((0.2, 0.2, 0.002)), 0.4)
    coarse = frozen(thin, cells=20_000, accuracy="draft")
    assert coarse.resolved < 0.1
    assert last_regions(coarse, constant(BRONZE)) == ()
    assert frozen(BALL, cells=40_000, accuracy="draft").resolved > 0.95


def test_a_mould_holds_one_metal() -> None:
    ball = trimesh.creation.icosphere(subdivisions=2, radius=0.02)
    with pytest.raises(ValueError, match="one metal"):
        freeze_map([body(ball, CHILL)], medium(), 20_000, mould_constant=1e6)
    two = [body(ball, metal(BRONZE)), body(moved(ball, (0.1, 0.0, 0.0)), metal(ALUMINIUM))]
    with pytest.raises(ValueError, match="one metal"):
        freeze_map(two, medium(), 20_000, mould_constant=1e6)


def test_the_last_region_lies_in_the_thick_end() -> None:
    thick = moved(trimesh.creation.box((0.03, 0.03, 0.03)), (0.03, 0.0, 0.0))
    thin = trimesh.creation.box((0.05, 0.02, 0.02))
    both = trimesh.Trimesh(*_joined(thick, thin))
    found = frozen(both, cells=64_000)
    (region,) = last_regions(found, constant(BRONZE))
    # Metal goes on to the left, so the middle of the thick end is not quite the last.
    assert 0.016 < region.place[0] < 0.032
    assert region.place[1:] == pytest.approx((0.0, 0.0), abs=0.002)
    total = found.shares[np.isfinite(found.times)].sum(dtype=np.float64) * found.block.cell**3
    assert region.volume == pytest.approx(0.05 * total, rel=0.1)
    assert region.time == pytest.approx(found.end, rel=1e-6)
    assert all(low < at < high for low, at, high in zip(region.low, region.hottest, region.high, strict=True))
    # The thin end alone, by bodies and by place: nothing there is asked for.
    assert last_regions(found, constant(BRONZE), bodies=(3,)) == ()


def _joined(*solids: trimesh.Trimesh) -> tuple[np.ndarray, np.ndarray]:
    union = trimesh.boolean.union(solids)
    return union.vertices, union.faces


def test_two_equal_lumps_are_two_regions() -> None:
    balls = [moved(trimesh.creation.icosphere(3, radius=0.012), (x, 0.0, 0.0)) for x in (-0.03, 0.03)]
    web = trimesh.creation.box((0.05, 0.006, 0.006))
    found = frozen(trimesh.Trimesh(*_joined(*balls, web)), cells=120_000)
    regions = last_regions(found, constant(BRONZE))
    assert sorted(round(region.place[0], 2) for region in regions) == [-0.03, 0.03]


def test_the_modulus_of_a_ball_is_the_formula_s() -> None:
    # Two terms in the root of time are exact for a ball at one temperature (Ghosh and Mallik,
    # chapter 2). Bronze is nearly at one temperature.
    found = frozen(trimesh.creation.icosphere(subdivisions=5, radius=0.02), cells=64_000)
    region = last_regions(found, constant(BRONZE))[0]
    assert region.equivalent_modulus == equivalent_modulus(region.time, constant(BRONZE))
    assert region.equivalent_modulus == pytest.approx(by_formula(0.02 / 3.0, 1.0 / 3.0), rel=0.05)


@pytest.mark.parametrize(
    ("solid", "modulus", "curvature"),
    [
        (trimesh.creation.box((0.04, 0.04, 0.04)), 0.04 / 6.0, 0.201),
        (trimesh.creation.cylinder(radius=0.02, height=0.04, sections=96), 0.04 / 6.0, 0.245),
    ],
    ids=["cube", "short cylinder"],
)
def test_curved_moduli(solid: trimesh.Trimesh, modulus: float, curvature: float) -> None:
    # The curvature of these solids is derived (edges from the exact wedge). Two terms take corners
    # for better than they are: the map's modulus is the larger, by up to a tenth for a cube.
    found = frozen(solid, cells=64_000)
    ratio = equivalent_modulus(found.end, constant(BRONZE)) / by_formula(modulus, curvature)
    assert 1.0 < ratio < 1.12


def by_formula(modulus: float, curvature: float) -> float:
    heat = heat_to_freeze(
        BRONZE["specific_heat_liquid"],
        BRONZE["start_temperature"],
        BRONZE["liquidus"],
        BRONZE["latent_heat"],
        BRONZE["specific_heat_freezing"],
        BRONZE["solidus"],
    )
    ratio = mould_heat_ratio(
        freezing_temperature(BRONZE["solidus"], BRONZE["liquidus"]),
        SAND["start_temperature"],
        SAND["density"],
        SAND["specific_heat"],
        BRONZE["density"],
        heat,
    )
    return plane_modulus(ratio, modulus, freezing_number(ratio, curvature))


def test_the_feeding_figure_against_one_dimension() -> None:
    # In a ball the gradient and the rate at the end of freezing follow from the layers' times.
    middles, times = freezing_times(BRONZE, SAND, 0.03, 3)
    found = frozen(trimesh.creation.icosphere(subdivisions=5, radius=0.03), cells=120_000)
    figure = feeding_figure(found)
    assert figure is not None
    counted = np.isfinite(figure)
    centres = (np.argwhere(counted) + 0.5) * found.block.cell + found.block.origin
    radii = np.linalg.norm(centres, axis=1)
    half = np.abs(radii - 0.018) < 0.001
    delay = abs(np.interp(0.0185, middles, times) - np.interp(0.0175, middles, times)) / 0.001
    rate = np.median(found.rates[counted][half])
    assert np.median(figure[counted][half]) == pytest.approx(delay * math.sqrt(rate), rel=0.1)
    # Towards the middle, where metal is fed last, the gradient dies away.
    assert np.median(figure[counted][radii < 0.006]) < np.median(figure[counted][half])
    narrow = {**BRONZE, "liquidus": BRONZE["solidus"] + 1.0}
    assert feeding_figure(frozen(trimesh.creation.icosphere(2, radius=0.02), narrow, 20_000)) is None


@pytest.mark.parametrize(("diameter", "last"), [(0.032, False), (0.056, True)])
def test_the_fairlead_needs_the_larger_riser(diameter: float, last: bool) -> None:
    # The invented boat yard's part, its riser on the underside of the foot; the hand plan's
    # riser feeds it, the one from volume over area of the whole mesh does not.
    part = read_stl((SCENARIO / "fairlead.stl").read_bytes()).scaled(1e-3)
    riser = moved(
        trimesh.creation.cylinder(radius=diameter / 2.0, height=diameter, sections=64),
        (0.0, 0.0, -diameter / 2.0),
    )
    silicon_bronze = metal(BRONZE)
    bodies = [Body("casting", part.triangles, silicon_bronze), body(riser, silicon_bronze, "riser")]
    found = freeze_map(bodies, medium(), 64_000, mould_constant=constant(BRONZE), accuracy="draft")
    casting, feeder = (last_regions(found, constant(BRONZE), (number,))[0].time for number in (0, 1))
    assert (feeder > casting) == last


def test_kernels_are_ready_after_warming() -> None:
    from pourwright_service.engine.freeze_map import heat_kernels
    from pourwright_service.engine.geometry import voxel_kernels

    warm()
    kernels = (
        *(heat_kernels.stages, heat_kernels.quickest, heat_kernels.still_liquid),
        *(voxel_kernels.measure, voxel_kernels.crossings, voxel_kernels.in_order, voxel_kernels.sweep),
    )
    # One form of each, whatever arrays come: read-only, of single precision, or in another order.
    assert [len(kernel.signatures) for kernel in kernels] == [1] * len(kernels)
    rows = BALL.triangles
    fixed = rows.copy()
    fixed.flags.writeable = False
    for triangles in (fixed, rows.astype(np.float32), np.asfortranarray(rows)):
        freeze_map([Body("ball", triangles, metal(BRONZE))], medium(), 20_000, mould_constant=4e6)
    assert [len(kernel.signatures) for kernel in kernels] == [1] * len(kernels)


# --- what the tables say ----------------------------------------------------------------------------


def test_metal_and_media_come_from_the_tables() -> None:
    ledger = Ledger()
    bronze = metal_of("C87300", {"latent_heat": 240e3}, ledger)
    filled = metal_in_map(bronze, 1400.0)
    assert filled.solidus == bronze.get("solidus")
    assert filled.freezing_range == pytest.approx(bronze.need("liquidus", Say("")) - filled.solidus)
    # Heat given up from the full mould to the solidus is what the freezing rule counts too.
    density = bronze.need("density_liquid", Say(""))
    heat_by_rule = heat_to_freeze(
        bronze.need("specific_heat_liquid", Say("")),
        1400.0,
        bronze.need("liquidus", Say("")),
        240e3,
        bronze.need("specific_heat_freezing", Say("")),
        filled.solidus,
    )
    assert filled.heat_at(1400.0) == pytest.approx(density * heat_by_rule)
    sand = medium_in_map(medium_of("silica sand", {}, ledger))
    # Ghosh and Mallik, example 2.5: 1600 kg/m^3 times 1170 J/(kg K).
    assert (sand.conductivity, sand.heat_capacity) == (0.8655, pytest.approx(1600.0 * 1170.0))
    assert medium_in_map(medium_of("iron chill", {}, ledger)).conductivity == 83.0
    with pytest.raises(MissingValue):
        metal_in_map(metal_of(None, {}, ledger), 1400.0)
