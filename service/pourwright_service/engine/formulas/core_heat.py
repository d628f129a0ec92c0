"""Core heat: how much heat a core inside a casting can take, and how well its face cools.

A core warms through while the casting freezes, so its face cools less and less. Exact series for
a slab, a long cylinder and a sphere whose surface is brought to temperature at once.
"""

from functools import cache
from typing import Any

import numpy as np

from ..bounds import above, at_least, within
from ..formula import Metre, Ratio, Second, SquareMetrePerSecond, formula

_POSITIVE = above(0.0)


@formula(
    "x = 2/sqrt(pi) sqrt(alpha t)/M",
    symbols={"alpha": "core_diffusivity", "t": "time", "M": "core_modulus"},
    source="CARSLAW-JAEGER",
    place="ch. II: heat drawn by a half space, over what the core can hold",
    valid={"core_diffusivity": _POSITIVE, "time": at_least(0.0), "core_modulus": _POSITIVE},
)
def core_load(core_diffusivity: SquareMetrePerSecond, time: Second, core_modulus: Metre) -> Ratio:
    """Heat a core would have taken were it endless, over what it can hold.

    core_diffusivity: alpha, m^2/s, above 0. time: t, s, at least 0. core_modulus: M, m, above 0,
    volume over surface of the core. Returns x. Source: CARSLAW-JAEGER.

    >>> round(core_load(4.6e-7, 100.0, 0.0076), 2)
    1.01
    """
    return 2.0 / np.sqrt(np.pi) * np.sqrt(core_diffusivity * time) / core_modulus


@formula(
    "F = alpha t/l**2",
    symbols={"alpha": "core_diffusivity", "t": "time", "l": "length"},
    source="CARSLAW-JAEGER",
    place="ch. III: definition",
    valid={"core_diffusivity": _POSITIVE, "time": at_least(0.0), "length": _POSITIVE},
)
def core_fourier(core_diffusivity: SquareMetrePerSecond, time: Second, length: Metre) -> Ratio:
    """Fourier number of a core.

    core_diffusivity: alpha, m^2/s, above 0. time: t, s, at least 0. length: l, m, above 0: half
    thickness of a slab, radius of a cylinder or sphere. Returns F. Source: CARSLAW-JAEGER.

    >>> round(core_fourier(4.6e-7, 100.0, 0.01), 2)
    0.46
    """
    return core_diffusivity * time / length**2


_SLAB = (2.0 * np.arange(0, 40) + 1.0) * np.pi
_SPHERE = np.arange(1, 41) * np.pi


@cache
def _bessel_zeros() -> Any:
    from scipy.special import jn_zeros

    return jn_zeros(0, 60)


@formula(
    "U = where(F < 0.02, 2 sqrt(F/pi),"
    " 1 - sum(n, 0, 39, 8/((2 n + 1)**2 pi**2) exp(-(2 n + 1)**2 pi**2 F/4)))",
    symbols={"F": "fourier"},
    source="CARSLAW-JAEGER",
    place="ch. III: slab, both faces stepped; short times by the half space",
    valid={"fourier": within(0.0, 1e9)},
)
def slab_uptake(fourier: Ratio) -> Ratio:
    """Share of its capacity that a slab core has taken after its faces were heated at once.

    fourier: F = alpha t/l^2 with l the half thickness (the modulus), from 0 to 1e9. Returns U,
    0 to 1. The short-time branch errs below 1e-12. Source: CARSLAW-JAEGER.

    >>> round(slab_uptake(0.7854), 3)
    0.883
    """
    short = 2.0 * np.sqrt(fourier / np.pi)
    terms = np.exp(-(_SLAB**2) * np.expand_dims(fourier, -1) / 4.0) * 8.0 / _SLAB**2
    uptake: Any = np.where(fourier < 0.02, short, 1.0 - terms.sum(axis=-1))
    return uptake


@formula(
    "U = where(F < 0.001, 4 sqrt(F/pi) - F - F**1.5/(3 sqrt(pi)),"
    " 1 - sum(n, 1, 60, 4/j0zero(n)**2 exp(-j0zero(n)**2 F)))",
    symbols={"F": "fourier"},
    source="CARSLAW-JAEGER",
    place="ch. VII: cylinder, surface stepped; short times by its expansion",
    valid={"fourier": within(0.0, 1e9)},
)
def cylinder_uptake(fourier: Ratio) -> Ratio:
    """Share of its capacity that a long cylindrical core has taken.

    fourier: F = alpha t/r^2 with r the radius (twice the modulus), from 0 to 1e9. Returns U, 0
    to 1. The branches meet within 1e-7. Source: CARSLAW-JAEGER.

    >>> round(cylinder_uptake(0.19635), 3)
    0.777
    """
    zeros = _bessel_zeros()
    short = 4.0 * np.sqrt(fourier / np.pi) - fourier - fourier**1.5 / (3.0 * np.sqrt(np.pi))
    terms = np.exp(-(zeros**2) * np.expand_dims(fourier, -1)) * 4.0 / zeros**2
    uptake: Any = np.where(fourier < 0.001, short, 1.0 - terms.sum(axis=-1))
    return uptake


@formula(
    "U = where(F < 0.02, 6 sqrt(F/pi) - 3 F, 1 - sum(n, 1, 40, 6/(n pi)**2 exp(-(n pi)**2 F)))",
    symbols={"F": "fourier"},
    source="CARSLAW-JAEGER",
    place="ch. IX: sphere, surface stepped; short times by its expansion",
    valid={"fourier": within(0.0, 1e9)},
)
def sphere_uptake(fourier: Ratio) -> Ratio:
    """Share of its capacity that a ball-shaped core has taken.

    fourier: F = alpha t/r^2 with r the radius (three times the modulus), from 0 to 1e9. Returns
    U, 0 to 1. The short-time branch errs below 1e-12. Source: CARSLAW-JAEGER.

    >>> round(sphere_uptake(0.087266), 3)
    0.738
    """
    short = 6.0 * np.sqrt(fourier / np.pi) - 3.0 * fourier
    terms = np.exp(-(_SPHERE**2) * np.expand_dims(fourier, -1)) * 6.0 / _SPHERE**2
    uptake: Any = np.where(fourier < 0.02, short, 1.0 - terms.sum(axis=-1))
    return uptake


@formula(
    "f = U/x",
    symbols={"U": "uptake", "x": "load"},
    source="DERIVED",
    place="heat into the core over heat into an endless plane mould",
    valid={"uptake": at_least(0.0), "load": _POSITIVE},
)
def core_face_factor(uptake: Ratio, load: Ratio) -> Ratio:
    """How well a cored face cools compared with a face against the mould.

    uptake: U, at least 0. load: x, above 0. Returns f, at most 1. At x = 1: slab 0.883,
    cylinder 0.777, sphere 0.738. Source: DERIVED from the exact series.

    >>> round(core_face_factor(0.883, 1.0), 3)
    0.883
    """
    return uptake / load
