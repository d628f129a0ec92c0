"""The crucible of a plan."""

from ..assess.crucible import CrucibleAssessment, CrucibleInputs, assess_crucible
from ..ledger import Ledger
from .plan_case import ShopCase

FULLEST = 0.75


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
