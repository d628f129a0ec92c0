"""How small and how large a quantity of each kind may be: beyond lies a slip of the pen, or an attack.

Wide enough for a jeweller's cup and a ship's propeller, and for every printed exercise. A field's own bound
is narrowed by these; zero stays where the field allows it.
"""

from dataclasses import replace

from ..engine.bounds import Bound

RANGES: dict[str, tuple[float, float]] = {
    "length": (1e-6, 100.0),
    "area": (1e-12, 1e4),
    "volume": (1e-12, 1e4),
    "mass": (1e-6, 1e7),
    "time": (1e-6, 1e9),
    "temperature": (1.0, 6000.0),
    "velocity": (1e-6, 1e3),
    "acceleration": (1e-2, 1e3),
    "density": (1e-2, 3e4),
    "specific_heat": (1.0, 1e5),
    "latent_heat": (1.0, 1e8),
    "heating_value": (1e3, 1e9),
    "conductivity": (1e-4, 1e4),
    "mould_constant": (1.0, 1e10),
    "pressure": (1e-1, 1e9),
    "flow": (1e-12, 1e3),
    "mass_flow": (1e-9, 1e7),
    "surface_tension": (1e-3, 1e2),
    "viscosity": (1e-7, 1e3),
    "power": (1e-1, 1e9),
    "heat_transfer": (1e-3, 1e6),
}
"""Least and most by kind, SI."""


def narrowed(kind: str, bound: Bound) -> Bound:
    """A field's own bound within what its kind allows."""
    if kind not in RANGES:
        return bound
    least, most = RANGES[kind]
    if bound.high > most:
        bound = replace(bound, high=most, high_open=False)
    if bound.low == 0.0 and bound.low_open:
        bound = replace(bound, low=least, low_open=False)
    return bound
