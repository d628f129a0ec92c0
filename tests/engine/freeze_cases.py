"""Metals, sand and solids for the freeze map's tests; figures are of the right size, no alloy's own."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import trimesh

from pourwright_service.engine.formulas.freezing import freezing_temperature, heat_to_freeze, mould_constant
from pourwright_service.engine.freeze_map.filling import fill
from pourwright_service.engine.freeze_map.heat import Conduction, Frozen, freeze
from pourwright_service.engine.freeze_map.mapping import Body, FreezeMap, freeze_map
from pourwright_service.engine.freeze_map.substances import Medium, Metal, freezing_metal
from pourwright_service.engine.geometry.voxel_grid import block_with, grid_round
from pourwright_service.engine.geometry.voxels import voxelise

Properties = Mapping[str, float]

BRONZE: Properties = {
    "density": 7900.0,
    "conductivity": 36.0,
    "specific_heat_solid": 430.0,
    "specific_heat_freezing": 450.0,
    "specific_heat_liquid": 480.0,
    "latent_heat": 230e3,
    "solidus": 1139.0,
    "liquidus": 1244.0,
    "start_temperature": 1373.0,
}
ALUMINIUM: Properties = {
    "density": 2400.0,
    "conductivity": 120.0,
    "specific_heat_solid": 1080.0,
    "specific_heat_freezing": 1080.0,
    "specific_heat_liquid": 1100.0,
    "latent_heat": 430e3,
    "solidus": 823.0,
    "liquidus": 888.0,
    "start_temperature": 980.0,
}
# Silica sand as Ghosh and Mallik print it (Manufacturing Science, example 2.5).
SAND: Properties = {
    "conductivity": 0.8655,
    "density": 1600.0,
    "specific_heat": 1170.0,
    "start_temperature": 293.0,
}


def medium(sand: Properties = SAND) -> Medium:
    return Medium(sand["conductivity"], sand["density"] * sand["specific_heat"], sand["start_temperature"])


def metal(figures: Properties) -> Metal:
    return freezing_metal(**dict(figures))


def constant(figures: Properties, sand: Properties = SAND) -> float:
    """Mould constant of a plate."""
    heat = heat_to_freeze(
        figures["specific_heat_liquid"],
        figures["start_temperature"],
        figures["liquidus"],
        figures["latent_heat"],
        figures["specific_heat_freezing"],
        figures["solidus"],
    )
    return mould_constant(
        figures["density"],
        heat,
        freezing_temperature(figures["solidus"], figures["liquidus"]),
        sand["start_temperature"],
        sand["conductivity"],
        sand["density"],
        sand["specific_heat"],
    )


def frozen(
    solid: trimesh.Trimesh, figures: Properties = BRONZE, cells: int = 64_000, **how: Any
) -> FreezeMap:
    """The map of one body in sand."""
    body = Body("casting", np.ascontiguousarray(solid.triangles), metal(figures))
    return freeze_map([body], medium(), cells, mould_constant=constant(figures), **how)


@dataclass(frozen=True)
class Slice:
    """A slice across a body that is long along z: times and shares (x, y), the middles of the
    cells (x, y, 2) in metres, and the run."""

    times: np.ndarray
    shares: np.ndarray
    middles: np.ndarray
    cell: float
    run: Frozen


def sliced(solid: trimesh.Trimesh, cell: float, figures: Properties = BRONZE) -> Slice:
    """Freeze one layer of cells across the middle; no heat flows along z, as in a longer body."""
    low, high = solid.bounds
    grid = grid_round(block_with(low, high, cell), 0.04)
    voxels = voxelise([np.ascontiguousarray(solid.triangles)], grid.block, [figures["conductivity"]],
                      SAND["conductivity"])  # fmt: skip
    substance = metal(figures)
    filling = fill(voxels, grid, [substance], substance, medium())
    middle = grid.shape[2] // 2
    layers = slice(middle - 1, middle + 2)
    case = filling.case

    def cut(field: np.ndarray) -> np.ndarray:
        return np.ascontiguousarray(field[:, :, layers])

    along = (cut(case.along[0]), cut(case.along[1]), cut(np.zeros_like(case.along[2])))
    run = freeze(Conduction(substance, cut(case.metal), cut(case.rest), along, cut(case.heat), case.first))
    inside = grid.inside[:2]
    share = filling.share[:, :, middle - grid.start[2]]
    times = np.where(share >= 0.5, run.solid_at[inside][:, :, 1], np.nan)
    across = np.meshgrid(grid.centres(0)[inside[0]], grid.centres(1)[inside[1]], indexing="ij")
    return Slice(times, share, np.stack(across, axis=-1), cell, run)


def turned(solid: trimesh.Trimesh, angle: float) -> trimesh.Trimesh:
    solid = solid.copy()
    solid.apply_transform(trimesh.transformations.rotation_matrix(angle, (1.0, 2.0, 3.0)))
    return solid


def moved(solid: trimesh.Trimesh, by: tuple[float, float, float]) -> trimesh.Trimesh:
    solid = solid.copy()
    solid.apply_translation(by)
    return solid


def median_time(found: FreezeMap) -> float:
    """The time by which half of the metal's volume is solid."""
    counted = np.isfinite(found.times)
    return share_time(found.times[counted], found.shares[counted], 0.5)


def share_time(times: np.ndarray, weights: np.ndarray, share: float) -> float:
    """The time by which this share of the weight is solid."""
    order = np.argsort(times)
    total = np.cumsum(weights[order], dtype=np.float64)
    return float(times[order][np.searchsorted(total, share * total[-1])])
