"""What fills the freeze map's cells: metal, mould, cores, chills, as tables and caller know them."""

from collections.abc import Sequence

from ..formulas.properties import specific_heat_of_hot_solid
from ..freeze_map import substances
from ..ledger import Say
from .metal import Medium, Metal

_WHY = "The freeze map conducts heat, cell by cell."


def metal_in_map(
    metal: Metal, filled_temperature: float, solid_fraction: Sequence[tuple[float, float]] = ()
) -> substances.Metal:
    """The metal of a map, filled at ``filled_temperature`` (K).

    ``solid_fraction``: pairs of temperature (K) and fraction solid, hottest first; even growth
    without it. Raises MissingValue for a property that nobody knows; ValueError as
    :func:`..freeze_map.substances.freezing_metal`.
    """
    why = Say(_WHY)
    return substances.freezing_metal(
        density=metal.need("density_liquid", why),
        conductivity=metal.need("conductivity", why),
        specific_heat_solid=specific_heat_of_hot_solid(metal.need("specific_heat", why)),
        specific_heat_freezing=metal.need("specific_heat_freezing", why),
        specific_heat_liquid=metal.need("specific_heat_liquid", why),
        latent_heat=metal.need("latent_heat", why),
        solidus=metal.need("solidus", why),
        liquidus=metal.need("liquidus", why),
        start_temperature=filled_temperature,
        solid_fraction=solid_fraction,
    )


def medium_in_map(medium: Medium) -> substances.Medium:
    """A mould, core, sleeve or chill of a map. Raises MissingValue as :func:`metal_in_map`."""
    why = Say(_WHY)
    return substances.Medium(
        conductivity=medium.need("conductivity", why),
        heat_capacity=medium.need("density", why) * medium.need("specific_heat", why),
        start_temperature=medium.need("start_temperature", why),
    )
