"""Metals, sand and solids for the freeze map's tests; figures are of the right size, no alloy's own."""

from collections.abc import Mapping
from typing import Any

import numpy as np
import trimesh

from pourwright_service.engine.formulas.freezing import freezing_temperature, heat_to_freeze, mould_constant
from pourwright_service.engine.freeze_map.mapping import Body, FreezeMap, freeze_map
from pourwright_service.engine.freeze_map.substances import Medium, Metal, freezing_metal

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
