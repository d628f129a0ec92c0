# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of common."""

from __future__ import annotations

from typing import NotRequired, TypedDict

from ..quantity import FractionInput, QuantityInput


class PropertiesInput(TypedDict):
    """Properties of the metal that the caller knows better than the tables; each one wins."""

    liquidus: NotRequired[QuantityInput]
    """Temperature above which the metal is all liquid."""
    solidus: NotRequired[QuantityInput]
    """Temperature below which it is all solid."""
    density: NotRequired[QuantityInput]
    """Density of the solid at 20 degC."""
    density_liquid: NotRequired[QuantityInput]
    """Density of the liquid at the liquidus."""
    specific_heat: NotRequired[QuantityInput]
    """Specific heat of the solid at 20 degC."""
    specific_heat_liquid: NotRequired[QuantityInput]
    """Specific heat of the liquid."""
    specific_heat_freezing: NotRequired[QuantityInput]
    """Specific heat between liquidus and solidus."""
    latent_heat: NotRequired[QuantityInput]
    """Latent heat of freezing, the heat of the range not counted in."""
    conductivity: NotRequired[QuantityInput]
    """Thermal conductivity of the solid."""
    contraction: NotRequired[FractionInput]
    """Linear contraction of the solid from freezing to cold: the pattern maker's allowance."""
    solidification_shrinkage: NotRequired[FractionInput]
    """Loss of volume on freezing, a share of the liquid's; negative where the metal expands."""
    liquid_contraction: NotRequired[QuantityInput]
    """Loss of volume of the liquid for each kelvin."""
    pouring_low: NotRequired[QuantityInput]
    """Lower end of the usual pouring temperatures."""
    pouring_high: NotRequired[QuantityInput]
    """Upper end of the usual pouring temperatures."""
    surface_tension: NotRequired[QuantityInput]
    """Surface tension of the liquid."""
    gate_velocity: NotRequired[QuantityInput]
    """Speed in the gate above which the metal's front breaks up."""


class MouldInput(TypedDict):
    """What the mould is made of: a medium by name, or its properties, which win."""

    medium: NotRequired[str]
    """The moulding medium, such as 'green sand' or 'oil-bonded sand'."""
    conductivity: NotRequired[QuantityInput]
    """Thermal conductivity of the mould."""
    density: NotRequired[QuantityInput]
    """Bulk density of the mould."""
    specific_heat: NotRequired[QuantityInput]
    """Specific heat of the mould."""
    start_temperature: NotRequired[QuantityInput]
    """Temperature of the mould before pouring."""
