"""What a melt request may say."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from .shop import ShopCase


@dataclass(frozen=True, slots=True, kw_only=True)
class MeltCase:
    """What is to be melted, with what; SI, None where the caller said nothing.

    ``melt_mass`` is all of it, in ``heats`` equal heats; ``poured_mass`` and ``addition`` are those of one
    heat. ``time`` is wanted for the first heat. ``crucible`` names one of the shop's.
    """

    melt_mass: float
    alloy: str | None = None
    properties: Mapping[str, float | None] = field(default_factory=dict)
    heats: int | None = None
    poured_mass: float | None = None
    addition: float | None = None
    pouring_temperature: float | None = None
    start_temperature: float | None = None
    mean_specific_heat: float | None = None
    heat_content: float | None = None
    furnace_hot: bool | None = None
    time: float | None = None
    form: str | None = None
    bulk_density: float | None = None
    last_lump: float | None = None
    crucible: str | None = None
    lifted_by: str | None = None
    shop: ShopCase = field(default_factory=ShopCase)
    currency: str | None = None
