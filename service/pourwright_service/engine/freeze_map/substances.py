"""What the cells are filled with: a freezing metal, and media that only take up heat.

Heat of the metal is counted from its solidus: 0 there, negative when it is colder. Counted from
the mould's temperature single precision would lose a narrow freezing range.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

LEAST_RANGE = 0.1
"""A pure metal is given a freezing range of so many kelvin."""


@dataclass(frozen=True, slots=True)
class Medium:
    """A medium without a change of state: conductivity W/(m K), heat capacity by volume
    J/(m^3 K), temperature at the start K."""

    conductivity: float
    heat_capacity: float
    start_temperature: float


@dataclass(frozen=True, slots=True)
class Metal:
    """A metal that freezes: straight pieces of heat against temperature.

    ``solidus`` K; ``solid_capacity`` J/(m^3 K) below it; from the solidus up, pieces that begin
    ``temperatures`` kelvin above it with ``heats`` J/m^3 and the capacities ``capacities``
    J/(m^3 K); the last piece is the liquid. ``start_temperature`` K, when the mould is full.
    """

    conductivity: float
    solidus: float
    solid_capacity: float
    temperatures: tuple[float, ...]
    heats: tuple[float, ...]
    capacities: tuple[float, ...]
    start_temperature: float

    @property
    def freezing_range(self) -> float:
        """Kelvin between solidus and liquidus."""
        return self.temperatures[-1]

    def heat_at(self, temperature: float) -> float:
        """Heat (J/m^3) at a temperature (K), counted from the solidus."""
        above = temperature - self.solidus
        if above < 0.0:
            return above * self.solid_capacity
        piece = bisect_right(self.temperatures, above) - 1
        return self.heats[piece] + (above - self.temperatures[piece]) * self.capacities[piece]

    @property
    def least_capacity(self) -> float:
        """The smallest heat capacity of any piece, J/(m^3 K)."""
        return min(self.solid_capacity, *self.capacities)


def freezing_metal(
    *,
    density: float,
    conductivity: float,
    specific_heat_solid: float,
    specific_heat_freezing: float,
    specific_heat_liquid: float,
    latent_heat: float,
    solidus: float,
    liquidus: float,
    start_temperature: float,
    solid_fraction: Sequence[tuple[float, float]] = (),
) -> Metal:
    """A metal from its properties, SI; density that of the liquid at its liquidus.

    ``solid_fraction``: pairs of temperature (K) and fraction solid between solidus and liquidus,
    hottest first; without any the fraction grows evenly with falling temperature. Where the first
    pair's fraction is above 0 at the liquidus, or the last one's below 1 at the solidus, the
    jump is spread over the least range. Raises ValueError for figures that are not above 0, a
    solidus above the liquidus, or fractions that do not grow.
    """
    figures = (density, conductivity, specific_heat_solid, specific_heat_freezing, specific_heat_liquid)
    if not all(figure > 0.0 for figure in (*figures, latent_heat, solidus)):
        raise ValueError("every property of the metal must be above 0")
    if liquidus < solidus:
        raise ValueError("the solidus lies above the liquidus")
    width = max(liquidus - solidus, LEAST_RANGE)
    points = [(0.0, 1.0)]
    for temperature, fraction in reversed(solid_fraction):
        height = temperature - solidus
        if not (0.0 <= height <= width and 0.0 <= fraction <= points[-1][1]):
            raise ValueError("fractions solid must grow from liquidus to solidus, hottest first")
        if height > points[-1][0] + LEAST_RANGE / 2.0:
            points.append((height, fraction))
        elif fraction < points[-1][1]:
            points.append((points[-1][0] + LEAST_RANGE, fraction))
    if points[-1][0] >= width:
        width = points[-1][0] + (LEAST_RANGE if points[-1][1] > 0.0 else 0.0)
    if points[-1][0] < width:
        points.append((width, 0.0))
    heats, capacities = [0.0], []
    for (low, more), (high, less) in pairwise(points):
        gain = density * (latent_heat * (more - less) + specific_heat_freezing * (high - low))
        capacities.append(gain / (high - low))
        heats.append(heats[-1] + gain)
    return Metal(
        conductivity=conductivity,
        solidus=solidus,
        solid_capacity=density * specific_heat_solid,
        temperatures=tuple(height for height, _ in points),
        heats=tuple(heats),
        capacities=(*capacities, density * specific_heat_liquid),
        start_temperature=start_temperature,
    )
