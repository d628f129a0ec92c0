"""Second ways to the same answers: heat conduction solved in steps of space and time by SciPy.

Nothing here uses the engine. All numbers SI.
"""

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq
from scipy.special import j0, y0

Array = Any


class _Solid:
    """The event that ends a run: the hottest of the metal's cells has given up all its heat."""

    terminal = True

    def __init__(self, cells: int) -> None:
        self.cells = cells

    def __call__(self, _: float, state: Array) -> float:
        return float(np.max(state[: self.cells]))


def plate_time(metal: Mapping[str, float], sand: Mapping[str, float], half: float, filled: float) -> float:
    """Time until a plate of this half thickness (m), filled at this temperature (K), is all solid.

    Enthalpy method over half the plate and a long stretch of sand: both conduct, the metal gives
    up superheat, latent heat, the heat of its range, and cools on below its solidus at the face.
    """
    cells, solid_heat = 24, 1.15 * metal["specific_heat"]
    liquidus, solidus = metal["liquidus"], metal["solidus"]
    range_heat = metal["latent_heat"] + metal["specific_heat_freezing"] * (liquidus - solidus)

    def temperature(heat: Array) -> Array:
        freezing = solidus + (liquidus - solidus) * heat / range_heat
        liquid = liquidus + (heat - range_heat) / metal["specific_heat_liquid"]
        return np.where(
            heat < 0.0, solidus + heat / solid_heat, np.where(heat < range_heat, freezing, liquid)
        )

    width = half / cells
    steps = half / 40.0 * 1.06 ** np.arange(52)
    gaps = (steps[:-1] + steps[1:]) / 2.0
    face = width / 2.0 / metal["conductivity"] + steps[0] / 2.0 / sand["conductivity"]

    def rate(_: float, state: Array) -> Array:
        hot, cold = temperature(state[:cells] * range_heat), state[cells:] * 1000.0
        flow = np.zeros(cells + len(steps) + 1)
        flow[1:cells] = metal["conductivity"] * (hot[:-1] - hot[1:]) / width
        flow[cells] = (hot[-1] - cold[0]) / face
        flow[cells + 1 : -1] = sand["conductivity"] * (cold[:-1] - cold[1:]) / gaps
        gain = flow[:-1] - flow[1:]
        gain[:cells] /= width * metal["density_liquid"] * range_heat
        gain[cells:] /= steps * sand["density"] * sand["specific_heat"] * 1000.0
        return gain

    full = 1.0 + metal["specific_heat_liquid"] * (filled - liquidus) / range_heat
    start = np.concatenate([np.full(cells, full), np.full(len(steps), sand["start_temperature"] / 1000.0)])
    done = solve_ivp(
        rate,
        (0.0, 1e5),
        start,
        method="LSODA",
        lband=1,
        uband=1,
        events=_Solid(cells),
        rtol=1e-5,
        atol=1e-8,
        max_step=20.0,
    )
    ends: Any = done.t_events
    return float(ends[0][0])


def core_share(fourier: float, dimensions: int) -> float:
    """Share of its heat capacity that a core has taken after its surface was heated at once.

    ``dimensions``: 1 slab (half thickness 1), 2 cylinder, 3 sphere (radius 1); diffusivity 1.
    """
    edges = 1.0 - (1.0 - np.linspace(0.0, 1.0, 161)) ** 2
    middles = (edges[:-1] + edges[1:]) / 2.0
    areas = edges ** (dimensions - 1)
    volumes = np.diff(edges**dimensions) / dimensions
    gaps = np.diff(middles)

    def rate(_: float, state: Array) -> Array:
        flow = np.zeros(len(edges))
        flow[1:-1] = areas[1:-1] * (state[1:] - state[:-1]) / gaps
        flow[-1] = areas[-1] * (1.0 - state[-1]) / (edges[-1] - middles[-1])
        return np.diff(flow) / volumes

    done = solve_ivp(
        rate, (0.0, fourier), np.zeros(len(middles)), method="LSODA", lband=1, uband=1, rtol=1e-7, atol=1e-9
    )
    return float(np.dot(done.y[:, -1], volumes) * dimensions)


def heat_outside(fourier: float, dimensions: int) -> float:
    """Heat drawn by endless sand round a body held at 1, for each square metre of its surface.

    ``dimensions``: 2 long cylinder, 3 ball; radius, diffusivity and rho c are 1.
    """
    steps = 0.002 * 1.03 ** np.arange(260)
    edges = 1.0 + np.concatenate([[0.0], np.cumsum(steps)])
    middles = (edges[:-1] + edges[1:]) / 2.0
    areas, volumes = edges ** (dimensions - 1), np.diff(edges**dimensions) / dimensions

    def rate(_: float, state: Array) -> Array:
        flow = np.zeros(len(edges))
        flow[0] = areas[0] * (1.0 - state[0]) / (middles[0] - edges[0])
        flow[1:-1] = areas[1:-1] * (state[:-1] - state[1:]) / np.diff(middles)
        return (flow[:-1] - flow[1:]) / volumes

    done = solve_ivp(
        rate, (0.0, fourier), np.zeros(len(middles)), method="LSODA", lband=1, uband=1, rtol=1e-7, atol=1e-10
    )
    return float(np.dot(done.y[:, -1], volumes))


def cylinder_heat(fourier: float) -> float:
    """The same for a long cylinder, by the exact integral over Bessel functions (Carslaw and Jaeger)."""

    def integrand(log_u: float) -> float:
        u = np.exp(log_u)
        if u == 0.0 or not np.isfinite(y0(u)):
            return 0.0
        share = -np.expm1(-(u**2) * fourier) / u**2
        return float(share / (j0(u) ** 2 + y0(u) ** 2))

    # Below the cut the share is the Fourier number and Y0 a logarithm: its tail is an arc tangent.
    cut = -12.0
    shift = np.euler_gamma - np.log(2.0)
    tail = fourier * np.pi / 2.0 * (np.pi / 2.0 + np.arctan(2.0 / np.pi * (cut + shift)))
    body = sum(
        quad(integrand, low, low + 1.0, epsabs=1e-11, epsrel=1e-9)[0] for low in np.arange(cut, 14.0, 1.0)
    )
    return float(4.0 / np.pi**2 * (body + tail))


def when(heat: Callable[[float], float], needed: float, fourier: float) -> float:
    """Fourier number at which this much heat is drawn, sought around a guess."""
    return float(brentq(lambda tried: heat(tried) - needed, fourier / 3.0, fourier * 3.0, rtol=1e-7))


def junction_delay(metal: Mapping[str, float], kind: str, wall: float, fillet: float) -> float:
    """How much later than its walls a junction of equal walls (m) is solid, in silica sand.

    Enthalpy method in two dimensions, explicit, six cells to the wall; ``kind`` is ``corner``,
    ``tee`` or ``cross``. No superheat. What is far from the junction is the plate to compare with.
    """
    step = wall / 6.0
    arm, beyond = 5.0 * wall, 3.0 * wall
    reach = {"corner": (beyond, beyond), "tee": (beyond, 0.0), "cross": (0.0, 0.0)}[kind]
    # Walls start at y = 0 and x = 0, or are cut along their middle where the junction is a mirror.
    depth, across = (wall if reach[0] else wall / 2.0), (wall if reach[1] else wall / 2.0)
    y, x = np.meshgrid(
        np.arange(-reach[0] + step / 2.0, depth + arm, step),
        np.arange(-reach[1] + step / 2.0, across + arm, step),
        indexing="ij",
    )
    inside = (y > 0.0) & (x > 0.0)
    hollow = (x < across + fillet) & (y < depth + fillet)
    hollow &= (x - across - fillet) ** 2 + (y - depth - fillet) ** 2 > fillet**2
    lying = inside | ((y > 0.0) if kind != "corner" else inside)
    solid = lying & ((y < depth) | (x < across) | hollow)
    sand_k, sand_heat, sand_start = 0.7, 1550.0 * 1100.0, 293.0
    range_heat = metal["density"] * metal["latent_heat"]
    heat_capacity = metal["density"] * metal["specific_heat"]
    span = metal["liquidus"] - metal["solidus"]
    k = np.where(solid, metal["conductivity"], sand_k)
    level = 2.0 * k[:, 1:] * k[:, :-1] / (k[:, 1:] + k[:, :-1])
    upright = 2.0 * k[1:] * k[:-1] / (k[1:] + k[:-1])
    tick = 0.23 * step**2 * heat_capacity / metal["conductivity"]
    heat = np.where(solid, range_heat, 0.0)
    done = np.full(solid.shape, np.nan)
    now = 0.0
    while np.isnan(done[solid]).any():
        share = np.clip(heat / range_heat, 0.0, 1.0)
        hot = metal["solidus"] + span * share + np.minimum(heat, 0.0) / heat_capacity
        temperature = np.where(solid, hot, sand_start + heat / sand_heat)
        gain = np.zeros_like(heat)
        flow = level * np.diff(temperature, axis=1)
        gain[:, :-1] += flow
        gain[:, 1:] -= flow
        flow = upright * np.diff(temperature, axis=0)
        gain[:-1] += flow
        gain[1:] -= flow
        heat += tick / step**2 * gain
        now += tick
        done[solid & np.isnan(done) & (heat < 0.02 * range_heat)] = now
    far = np.nanmax(done[:, -3])
    return float(np.nanmax(done) / far)


def freezing_times(
    metal: Mapping[str, float],
    sand: Mapping[str, float],
    half: float,
    dimensions: int,
    cells: int = 60,
) -> tuple[Array, Array]:
    """When each layer of a plate (dimensions 1), long cylinder (2) or ball (3) is solid.

    ``half``: half thickness or radius, m. ``metal``: density, conductivity, specific_heat_solid,
    specific_heat_freezing, specific_heat_liquid, latent_heat, solidus, liquidus,
    start_temperature; ``sand``: conductivity, density, specific_heat, start_temperature. Heat is
    counted in layers of equal width and in sand that widens outwards. Returns the middles of the
    layers (m, from the centre) and their times (s).
    """
    solidus, liquidus = metal["solidus"], metal["liquidus"]
    width = half / cells
    steps = width * 1.04 ** np.arange(90)
    edges = np.concatenate([np.arange(cells + 1) * width, half + np.cumsum(steps)])
    middles = (edges[:-1] + edges[1:]) / 2.0
    areas, volumes = edges ** (dimensions - 1), np.diff(edges**dimensions) / dimensions
    ways = (
        np.diff(edges) / 2.0 / np.repeat([metal["conductivity"], sand["conductivity"]], [cells, len(steps)])
    )
    links = areas[1:-1] / (ways[:-1] + ways[1:])
    range_heat = metal["latent_heat"] + metal["specific_heat_freezing"] * (liquidus - solidus)
    held = volumes[:cells] * metal["density"] * range_heat
    capacity = volumes[cells:] * sand["density"] * sand["specific_heat"]

    def temperature(heat: Array) -> Array:
        solid = solidus + heat * range_heat / metal["specific_heat_solid"]
        liquid = liquidus + (heat - 1.0) * range_heat / metal["specific_heat_liquid"]
        between = solidus + (liquidus - solidus) * heat
        return np.where(heat < 0.0, solid, np.where(heat < 1.0, between, liquid))

    def rate(_: float, state: Array) -> Array:
        warm = np.concatenate([temperature(state[:cells]), 1000.0 * state[cells:]])
        flow = np.zeros(len(edges))
        flow[1:-1] = links * (warm[:-1] - warm[1:])
        gain = flow[:-1] - flow[1:]
        return np.concatenate([gain[:cells] / held, gain[cells:] / capacity / 1000.0])

    full = 1.0 + metal["specific_heat_liquid"] * (metal["start_temperature"] - liquidus) / range_heat
    cold = sand["start_temperature"] / 1000.0
    start = np.concatenate([np.full(cells, full), np.full(len(steps), cold)])
    layers: list[Any] = [(lambda _, state, n=n: float(state[n])) for n in range(cells)]
    for layer in layers:
        layer.direction = -1
    last = _Solid(cells)
    done = solve_ivp(
        rate,
        (0.0, 1e6),
        start,
        method="LSODA",
        lband=1,
        uband=1,
        events=[*layers, last],
        rtol=1e-6,
        atol=1e-9,
    )
    found: Any = done.t_events
    return middles[:cells], np.array([times[-1] for times in found[:cells]])
