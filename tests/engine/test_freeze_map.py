"""The freeze map: against exact and one-dimensional solutions, laws of scale, and itself moved."""

import math

import numpy as np
import pytest
import trimesh
from scipy.optimize import brentq
from scipy.special import erf

from pourwright_service.engine.freeze_map import heat
from pourwright_service.engine.freeze_map.heat import (
    Accuracy,
    Conduction,
    NotFrozen,
    freeze,
    stages_for,
    temperatures_of,
)
from pourwright_service.engine.freeze_map.regions import feeding_figure
from pourwright_service.engine.freeze_map.substances import freezing_metal
from tests.engine.freeze_cases import (
    ALUMINIUM,
    BRONZE,
    SAND,
    Properties,
    frozen,
    median_time,
    metal,
    moved,
    share_time,
    sliced,
    turned,
)
from tests.engine.heat_solvers import freezing_times

# Iron in dry sand, Ghosh and Mallik, Manufacturing Science, example 2.5.
IRON: Properties = {
    "density": 7850.0,
    "conductivity": 83.0,
    "specific_heat_solid": 670.0,
    "specific_heat_freezing": 670.0,
    "specific_heat_liquid": 670.0,
    "latent_heat": 272e3,
    "solidus": 1813.0,
    "liquidus": 1813.1,
    "start_temperature": 1813.1,
}
COPPER: Properties = {**IRON, "density": 8000.0, "conductivity": 250.0, "specific_heat_solid": 480.0,
                      "specific_heat_freezing": 480.0, "latent_heat": 205e3, "solidus": 1357.7,
                      "liquidus": 1357.8, "start_temperature": 1357.8}  # fmt: skip


def neumann(figures: Properties, sand: Properties, depth: float) -> float:
    """When freezing from a half space of sand has come so deep: exact, both sides conducting.

    sqrt(pi) z exp(z^2) (erf z + phi) = c (T_f - T_0)/L, depth = 2 z sqrt(alpha t): Carslaw and
    Jaeger, Conduction of Heat in Solids, chapter XI.
    """
    products = (
        figures["conductivity"] * figures["density"] * figures["specific_heat_solid"],
        sand["conductivity"] * sand["density"] * sand["specific_heat"],
    )
    phi = math.sqrt(products[0] / products[1])
    stefan = (
        figures["specific_heat_solid"]
        * (figures["solidus"] - sand["start_temperature"])
        / figures["latent_heat"]
    )
    root = brentq(
        lambda z: math.sqrt(math.pi) * z * math.exp(z * z) * (erf(z) + phi) - stefan, 1e-9, 5.0, xtol=1e-14
    )
    diffusivity = figures["conductivity"] / (figures["density"] * figures["specific_heat_solid"])
    return float((depth / (2.0 * root)) ** 2 / diffusivity)


def column(figures: Properties, sand: Properties, depth: float, cells: int) -> Conduction:
    """A column of metal, as deep as half a plate, on a column of sand; nothing leaves sideways."""
    step = depth / cells
    outer = step * np.minimum(1.05 ** np.arange(220), 12.0)
    widths = np.concatenate((np.full(cells + 1, step), outer, outer[-1:]))
    is_metal = np.zeros(len(widths), bool)
    is_metal[1 : cells + 1] = True
    resistance = widths / 2.0 / np.where(is_metal, figures["conductivity"], sand["conductivity"])
    links = np.append(1.0 / (resistance[:-1] + resistance[1:]), 0.0)
    links[0] = links[-2] = 0.0
    shape = (3, 3, len(widths))

    def field(values: np.ndarray) -> np.ndarray:
        return np.ascontiguousarray(np.broadcast_to(values, shape), np.float32)

    substance = metal(figures)
    rest = np.where(is_metal, 0.0, widths * sand["density"] * sand["specific_heat"])
    heat = np.where(
        is_metal,
        widths * substance.heat_at(figures["start_temperature"]),
        rest * (sand["start_temperature"] - figures["solidus"]),
    )
    nothing = np.zeros(shape, np.float32)
    first = 0.05 * step**2 * sand["density"] * sand["specific_heat"] / sand["conductivity"]
    return Conduction(
        substance,
        field(np.where(is_metal, widths, 0.0)),
        field(rest),
        (nothing, nothing, field(links)),
        field(heat),
        first,
    )


@pytest.mark.parametrize(("cells", "within"), [(8, 0.01), (12, 0.005), (24, 0.005)])
@pytest.mark.parametrize("figures", [IRON, COPPER], ids=["iron", "copper"])
def test_a_plate_against_the_exact_solution(figures: Properties, cells: int, within: float) -> None:
    exact = neumann(figures, SAND, 0.05)
    found = freeze(column(figures, SAND, 0.05, cells))
    assert found.end == pytest.approx(exact, rel=within)
    assert found.imbalance <= 2e-4


def test_the_exact_solution_is_the_derived_one() -> None:
    # The same slab of 10 cm: 0.7045 h by the two-body solution with T0 = 28 degC, derived by hand.
    sand = {**SAND, "start_temperature": 301.15}
    iron = {**IRON, "solidus": 1813.15}
    assert neumann(iron, sand, 0.05) / 3600.0 == pytest.approx(0.7045, rel=1e-3)


@pytest.mark.parametrize(("accuracy", "within"), [("draft", 0.012), ("normal", 0.01), ("fine", 0.01)])
@pytest.mark.parametrize("figures", [BRONZE, ALUMINIUM], ids=["bronze", "aluminium"])
def test_a_ball_against_one_dimension(figures: Properties, accuracy: Accuracy, within: float) -> None:
    # Superheated, with a freezing range; 10 cells to the radius.
    middles, times = freezing_times(figures, SAND, 0.03, 3)
    found = frozen(
        trimesh.creation.icosphere(subdivisions=5, radius=0.03), figures, 64_000, accuracy=accuracy
    )
    assert found.end == pytest.approx(times.max(), rel=within)
    assert median_time(found) == pytest.approx(share_time(times, middles**2, 0.5), rel=within)
    assert found.imbalance <= 2e-4


@pytest.mark.long
@pytest.mark.parametrize("figures", [BRONZE, ALUMINIUM], ids=["bronze", "aluminium"])
def test_a_ball_of_more_cells(figures: Properties) -> None:
    _, times = freezing_times(figures, SAND, 0.03, 3)
    ball = trimesh.creation.icosphere(subdivisions=6, radius=0.03)
    for cells in (64**3, 80**3):
        found = frozen(ball, figures, cells, accuracy="fine")
        assert 0.03 / found.block.cell >= 15
        assert found.end == pytest.approx(times.max(), rel=5e-3)


def test_a_long_cylinder_against_one_dimension() -> None:
    middles, times = freezing_times(BRONZE, SAND, 0.015, 2)
    found = sliced(trimesh.creation.cylinder(radius=0.015, height=0.06, sections=256), 0.001)
    counted = np.isfinite(found.times)
    assert np.nanmax(found.times) == pytest.approx(times.max(), rel=0.01)
    median = share_time(found.times[counted], found.shares[counted], 0.5)
    assert median == pytest.approx(share_time(times, middles, 0.5), rel=0.01)
    assert found.run.imbalance <= 2e-4


@pytest.mark.parametrize("degrees", [0.0, 10.0, 30.0, 45.0])
def test_a_plate_aslant_against_one_dimension(degrees: float) -> None:
    # Ten cells across, long enough for its ends not to be felt in the middle.
    _, times = freezing_times(BRONZE, SAND, 0.005, 1)
    plate = trimesh.creation.box((0.24, 0.01, 0.03))
    plate.apply_transform(trimesh.transformations.rotation_matrix(math.radians(degrees), (0.0, 0.0, 1.0)))
    found = sliced(plate, 0.001)
    near = np.isfinite(found.times) & (np.linalg.norm(found.middles, axis=-1) < 0.015)
    assert float(found.times[near].max()) == pytest.approx(times.max(), rel=0.025)
    median = share_time(found.times[near], found.shares[near], 0.5)
    assert median == pytest.approx(share_time(times, np.ones(len(times)), 0.5), rel=0.01)


@pytest.mark.parametrize("together", [1, 2, 5])
def test_stages_taken_together_change_nothing(together: int, monkeypatch: pytest.MonkeyPatch) -> None:
    solid = turned(trimesh.creation.box((0.04, 0.03, 0.02)), 0.5)
    usual = frozen(solid, cells=30_000)
    monkeypatch.setattr(heat, "TOGETHER", together)
    assert np.array_equal(usual.times, frozen(solid, cells=30_000).times, equal_nan=True)


SOLIDS = {
    "plate": trimesh.creation.box((0.06, 0.06, 0.012)),
    "cylinder": trimesh.creation.cylinder(radius=0.012, height=0.06, sections=64),
    "ball": trimesh.creation.icosphere(subdivisions=4, radius=0.02),
}


@pytest.mark.parametrize("name", sorted(SOLIDS))
def test_time_grows_with_the_square_of_size(name: str) -> None:
    # Chvorinov's exponent; exact for similar shapes, since conduction knows no length of its own.
    small = frozen(SOLIDS[name], cells=40_000)
    large = SOLIDS[name].copy()
    large.apply_scale(3.0)
    bigger = frozen(large, cells=40_000)
    exponent = math.log(bigger.end / small.end) / math.log(3.0)
    assert exponent == pytest.approx(2.0, abs=5e-4)
    # Gradient over root of rate has no length in it either: a known weakness of the figure.
    figures = [np.nanmedian(feeding_figure(one)) for one in (small, bigger)]
    assert figures[1] == pytest.approx(figures[0], rel=0.01)


def test_turned_and_moved_it_freezes_the_same() -> None:
    solid = trimesh.creation.box((0.05, 0.035, 0.025))
    found = [
        frozen(body, cells=120_000)
        for body in (solid, turned(solid, 0.6), turned(solid, 1.9), moved(solid, (1.23457, -0.7, 0.3)))
    ]
    ends, medians = np.array([one.end for one in found]), np.array([median_time(one) for one in found])
    assert ends == pytest.approx(ends[0], rel=0.025)
    assert medians == pytest.approx(medians[0], rel=0.025)
    assert ends[3] == pytest.approx(ends[0], rel=1e-3)


def test_finer_grids_agree_better() -> None:
    _, times = freezing_times(BRONZE, SAND, 0.03, 3)
    ball = trimesh.creation.icosphere(subdivisions=5, radius=0.03)
    errors = [
        abs(
            median_time(frozen(ball, cells=cells, accuracy="fine")) - median_time(frozen(ball, cells=250_000))
        )
        for cells in (10_000, 80_000)
    ]
    assert errors[1] < errors[0]
    assert errors[0] < 0.03 * times.max()


def test_a_tabulated_even_fraction_is_the_even_one() -> None:
    low, high = BRONZE["solidus"], BRONZE["liquidus"]
    table = [(high - share * (high - low), share) for share in (0.0, 0.25, 0.5, 0.75, 1.0)]
    even = column(BRONZE, SAND, 0.02, 12)
    tabulated = freezing_metal(**BRONZE, solid_fraction=table)
    assert tabulated.temperatures == pytest.approx(
        [0.0, *(share * (high - low) for share in (0.25, 0.5, 0.75, 1.0))]
    )
    other = Conduction(tabulated, even.metal, even.rest, even.along, even.heat, even.first)
    assert freeze(other).end == pytest.approx(freeze(even).end, rel=1e-4)


def test_a_fraction_that_frees_its_heat_early_is_the_same_heat() -> None:
    low, high = BRONZE["solidus"], BRONZE["liquidus"]
    for table in ([(high, 0.6), (low, 1.0)], [(high, 0.0), (low + 20.0, 0.5), (low, 0.7)]):
        tabulated = freezing_metal(**BRONZE, solid_fraction=table)
        top = max(tabulated.temperatures)
        extra = BRONZE["density"] * BRONZE["specific_heat_freezing"] * (top - (high - low))
        even = metal(BRONZE)
        assert tabulated.heats[-1] == pytest.approx(even.heats[-1] + extra)
        assert top <= high - low + 0.11


@pytest.mark.parametrize(
    "table",
    [[(1200.0, 0.5), (1180.0, 0.4)], [(1300.0, 0.1)], [(1100.0, 0.9)], [(1200.0, 1.2)]],
)
def test_fractions_that_make_no_sense_are_refused(table: list[tuple[float, float]]) -> None:
    with pytest.raises(ValueError, match="fractions solid"):
        freezing_metal(**BRONZE, solid_fraction=table)


def test_metals_that_make_no_sense_are_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        metal({**BRONZE, "latent_heat": 0.0})
    with pytest.raises(ValueError, match="solidus"):
        metal({**BRONZE, "liquidus": 1000.0})


def test_temperatures_and_heats_are_each_others_inverse() -> None:
    substance = freezing_metal(**BRONZE, solid_fraction=[(1244.0, 0.0), (1180.0, 0.7), (1139.0, 1.0)])
    wanted = np.array([-800.0, -1.0, 0.0, 5.0, 41.0, 80.0, 105.0, 200.0])
    share, rest = 0.7, 0.3 * 1.9e6
    heat = [share * substance.heat_at(substance.solidus + above) + rest * above for above in wanted]
    full = np.ones(len(wanted), np.float32)
    found = temperatures_of(np.array(heat, np.float32), share * full, rest * full, substance)
    assert found == pytest.approx(wanted, abs=1e-3)


def test_stages_are_as_few_as_stability_allows() -> None:
    for ratio in (0.5, 3.0, 40.0, 1000.0):
        count = stages_for(ratio, 1.0)
        assert (count * count + count) / 2.0 >= ratio
        assert count == 2 or (count * count - count) / 2.0 < ratio


def test_a_mould_that_cannot_take_the_heat_is_reported() -> None:
    case = column(BRONZE, SAND, 0.02, 12)
    hot = Conduction(
        case.substance, case.metal, case.rest, case.along, np.maximum(case.heat, 1.0), case.first
    )
    with pytest.raises(NotFrozen, match="cannot take"):
        freeze(hot)
    apart = tuple(np.zeros_like(link) for link in case.along[:2])
    cut = np.where(case.metal > 0.0, np.float32(0.0), case.along[2])
    alone = Conduction(case.substance, case.metal, case.rest, (*apart, cut), case.heat, case.first)
    with pytest.raises(NotFrozen, match="still liquid"):
        freeze(alone)
