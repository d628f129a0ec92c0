"""The crucible of a plan, and how long the metal in it stays fit to pour."""

from dataclasses import replace
from typing import Any

from ..assess.crucible import CrucibleAssessment, CrucibleInputs, assess_crucible
from ..assess.freezing import time_to_freeze
from ..assess.pot_checks import ThinWall
from ..checks import Check
from ..formula import paused
from ..ledger import Ledger
from ..tables.liquids import liquid_figure
from .metal import Metal
from .plan_case import PlanCase, ShopCase
from .plan_freeze import Frost
from .pot import PotCase, pot_result
from .pour_time import FREEZING_SHARE
from .shop import FULLEST


def crucible_of(
    shop: ShopCase, melt: float, density_liquid: float, ledger: Ledger
) -> CrucibleAssessment | None:
    """The smallest crucible of the shop that takes the melt (kg), or its largest; None without any."""
    if not shop.crucibles:
        return None
    fullest = ledger.use(
        "/shop/fullest_crucible",
        shop.fullest_crucible,
        FULLEST,
        "fraction",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="of the volume to the brim",
    )
    ranked = sorted(shop.crucibles, key=lambda one: (one.brim_volume, one.name))
    chosen = next(
        (one for one in ranked if melt / density_liquid <= fullest * one.brim_volume * (1.0 + 1e-9)),
        ranked[-1],
    )
    return assess_crucible(
        CrucibleInputs(
            name=chosen.name,
            melt_mass=melt,
            density_liquid=density_liquid,
            brim_volume=chosen.brim_volume,
            crucible_mass=chosen.mass,
            fullest=fullest,
        )
    )


def carried_metal(
    case: PlanCase,
    crucible: CrucibleAssessment | None,
    metal: Metal,
    frost: Frost,
    wall: float | None,
    ledger: Ledger,
    *,
    gravity: float,
    melt: float,
    poured: float,
    pour_time: float | None,
) -> tuple[dict[str, Any] | None, list[Check]]:
    """How the melt (kg) cools on its way to the mould, which takes ``poured`` of it in ``pour_time`` (s).

    The pot is the caller's, else the crucible chosen, where the width of its mouth is known and the
    metal's heat too. ``wall`` (m) is the thinnest of the part.
    """
    mouth = None
    if crucible is not None:
        mouth = next(one.mouth_diameter for one in case.shop.crucibles if one.name == crucible.name)
    if case.pot is None and (mouth is None or not _heat_is_known(metal, frost)):
        return None, []
    pot = case.pot or PotCase()
    pot = replace(
        pot,
        mouth_diameter=mouth if pot.mouth_diameter is None else pot.mouth_diameter,
        metal_mass=melt if pot.metal_mass is None else pot.metal_mass,
    )
    thin = None
    if wall is not None and frost.heat is not None and frost.cooling is not None:
        with paused():
            time = time_to_freeze(frost.cooling, 0.5 * wall, 0.0)
        thin = ThinWall(
            thickness=wall, freezing_time=time, freezing_share=FREEZING_SHARE, heat=frost.heat.inputs
        )
    return pot_result(
        pot, metal, metal.family, ledger, gravity, poured, frost.pouring_temperature, pour_time, thin
    )


def _heat_is_known(metal: Metal, frost: Frost) -> bool:
    """Whether a pot that nobody asked about can be told of without asking for more."""
    return (
        frost.pouring_temperature is not None
        and liquid_figure("emissivity_low", metal.family, metal.group) is not None
        and metal.get("specific_heat_liquid") is not None
        and metal.get("liquidus") is not None
    )
