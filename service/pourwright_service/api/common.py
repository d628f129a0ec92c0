"""Pieces of a request that several subjects share: metal by property, mould, gravity."""

from typing import Any

from ..engine.decide.heat import MouldCase
from .schemas import Body, MediumField, Quantity, above, refused_at, within


class PropertiesBody(Body):
    """Properties of the metal that the caller knows better than the tables; each one wins."""

    liquidus = Quantity("temperature", "Temperature above which the metal is all liquid.")
    solidus = Quantity("temperature", "Temperature below which it is all solid.")
    density = Quantity("density", "Density of the solid at 20 degC.")
    density_liquid = Quantity("density", "Density of the liquid at the liquidus.")
    specific_heat = Quantity("specific_heat", "Specific heat of the solid at 20 degC.")
    specific_heat_liquid = Quantity("specific_heat", "Specific heat of the liquid.")
    specific_heat_freezing = Quantity("specific_heat", "Specific heat between liquidus and solidus.")
    latent_heat = Quantity("latent_heat", "Latent heat of freezing, the heat of the range not counted in.")
    conductivity = Quantity("conductivity", "Thermal conductivity of the solid.")
    contraction = Quantity(
        "fraction",
        "Linear contraction of the solid from freezing to cold: the pattern maker's allowance.",
        bound=within(0.0, 0.2),
    )
    solidification_shrinkage = Quantity(
        "fraction",
        "Loss of volume on freezing, a share of the liquid's; negative where the metal expands.",
        bound=within(-0.2, 0.4),
    )
    liquid_contraction = Quantity("expansion_per_kelvin", "Loss of volume of the liquid for each kelvin.")
    pouring_low = Quantity("temperature", "Lower end of the usual pouring temperatures.")
    pouring_high = Quantity("temperature", "Upper end of the usual pouring temperatures.")
    surface_tension = Quantity("surface_tension", "Surface tension of the liquid.")
    gate_velocity = Quantity("velocity", "Speed in the gate above which the metal's front breaks up.")

    def make(self, data: dict[str, Any]) -> Any:
        for low, high in (("solidus", "liquidus"), ("pouring_low", "pouring_high")):
            if low in data and high in data and data[low] > data[high]:
                raise refused_at(low, "inconsistent", f"{low} lies above {high}")
        return super().make(data)


class MouldBody(Body):
    """What the mould is made of: a medium by name, or its properties, which win."""

    makes = MouldCase
    medium = MediumField("The moulding medium, such as 'green sand' or 'oil-bonded sand'.")
    conductivity = Quantity("conductivity", "Thermal conductivity of the mould.")
    density = Quantity("density", "Bulk density of the mould.")
    specific_heat = Quantity("specific_heat", "Specific heat of the mould.")
    start_temperature = Quantity("temperature", "Temperature of the mould before pouring.")


def gravity_field() -> Quantity:
    """Gravity, which published exercises round in their own way."""
    return Quantity(
        "acceleration",
        "Gravity; left out, 9.80665 m/s^2. Printed exercises often use 9.81 or 10.",
        bound=above(0.0),
    )
