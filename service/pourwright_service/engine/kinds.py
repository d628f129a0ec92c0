"""The physical kinds of quantity that the engine speaks of, each with its SI unit and dimension.

A *kind* tells a reader what a number is (a temperature is not a temperature difference although
both are kelvin); a *dimension* tells a test how the number must scale. Nothing here converts:
inside the engine every number is SI, and units belong to the web edge.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Dimension:
    """Exponents of kilogram, metre, second, kelvin and money."""

    kg: float = 0
    m: float = 0
    s: float = 0
    K: float = 0
    money: float = 0


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity: its name, its SI unit in print and its dimension."""

    name: str
    unit: str
    dimension: Dimension


_NONE = Dimension()

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("length", "m", Dimension(m=1)),
        Kind("area", "m^2", Dimension(m=2)),
        Kind("volume", "m^3", Dimension(m=3)),
        Kind("mass", "kg", Dimension(kg=1)),
        Kind("time", "s", Dimension(s=1)),
        Kind("temperature", "K", Dimension(K=1)),
        Kind("temperature_difference", "K", Dimension(K=1)),
        Kind("velocity", "m/s", Dimension(m=1, s=-1)),
        Kind("acceleration", "m/s^2", Dimension(m=1, s=-2)),
        Kind("density", "kg/m^3", Dimension(kg=1, m=-3)),
        Kind("specific_heat", "J/(kg K)", Dimension(m=2, s=-2, K=-1)),
        Kind("latent_heat", "J/kg", Dimension(m=2, s=-2)),
        Kind("conductivity", "W/(m K)", Dimension(kg=1, m=1, s=-3, K=-1)),
        Kind("diffusivity", "m^2/s", Dimension(m=2, s=-1)),
        Kind("mould_constant", "s/m^2", Dimension(s=1, m=-2)),
        Kind("curvature", "1/m", Dimension(m=-1)),
        Kind("force", "N", Dimension(kg=1, m=1, s=-2)),
        Kind("pressure", "Pa", Dimension(kg=1, m=-1, s=-2)),
        Kind("flow", "m^3/s", Dimension(m=3, s=-1)),
        Kind("mass_flow", "kg/s", Dimension(kg=1, s=-1)),
        Kind("surface_tension", "N/m", Dimension(kg=1, s=-2)),
        Kind("viscosity", "Pa s", Dimension(kg=1, m=-1, s=-1)),
        Kind("heat_flux", "W/m^2", Dimension(kg=1, s=-3)),
        Kind("radiation_constant", "W/(m^2 K^4)", Dimension(kg=1, s=-3, K=-4)),
        Kind("cooling_rate", "K/s", Dimension(K=1, s=-1)),
        Kind("slowness", "s/m", Dimension(s=1, m=-1)),
        Kind("gradient_over_root_rate", "K^0.5 s^0.5/m", Dimension(K=0.5, s=0.5, m=-1)),
        Kind("expansion_per_kelvin", "1/K", Dimension(K=-1)),
        Kind("energy", "J", Dimension(kg=1, m=2, s=-2)),
        Kind("power", "W", Dimension(kg=1, m=2, s=-3)),
        Kind("heating_value", "J/kg", Dimension(m=2, s=-2)),
        Kind("heat_transfer", "W/(m^2 K)", Dimension(kg=1, s=-3, K=-1)),
        Kind("concentration", "kg/m^3", Dimension(kg=1, m=-3)),
        Kind("price", "money/kg", Dimension(money=1, kg=-1)),
        Kind("volume_price", "money/m^3", Dimension(money=1, m=-3)),
        Kind("energy_price", "money/J", Dimension(money=1, kg=-1, m=-2, s=2)),
        Kind("money", "money", Dimension(money=1)),
        Kind("angle", "rad", _NONE),
        Kind("fraction", "", _NONE),
        Kind("ratio", "", _NONE),
        Kind("percent", "", _NONE),
        Kind("count", "", _NONE),
    )
}
"""Every physical kind by name. ``fraction`` is shown to people in per cent, ``ratio`` as it is,
``percent`` is a bare number that counts hundredths (composition and recovery maps)."""
