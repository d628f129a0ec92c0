"""Given a melt and a crucible: does it fit, and how much must be lifted."""

from dataclasses import dataclass

from ..checks import Check, check_kind
from ..formulas.amounts import volume_of
from ..formulas.melt import crucible_filling
from ..ledger import Say

CRUCIBLE_FITS = check_kind(
    "crucible-fits",
    "The melt fits into the crucible with room to spare",
    kind="fraction",
    sense="at most",
    source="COMMON-PRACTICE",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CrucibleInputs:
    """A melt (kg, kg/m^3), the crucible's brim volume (m^3) and mass (kg, if known), and how full."""

    name: str
    melt_mass: float
    density_liquid: float
    brim_volume: float
    crucible_mass: float | None
    fullest: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CrucibleAssessment:
    """Volume of the melt (m^3), how full the crucible is, and the mass to lift (kg)."""

    name: str
    volume: float
    filling: float
    lifted_mass: float
    crucible_counted: bool
    checks: tuple[Check, ...]


def assess_crucible(inputs: CrucibleInputs) -> CrucibleAssessment:
    """Judge one crucible."""
    volume = volume_of(inputs.melt_mass, inputs.density_liquid)
    filling = crucible_filling(volume, inputs.brim_volume)
    parts: dict[str, tuple[float, str] | str] = {
        "name": inputs.name,
        "f": (filling, "fraction"),
        "most": (inputs.fullest, "fraction"),
        "v": (volume, "volume"),
        "brim": (volume / inputs.fullest, "volume"),
    }
    check = CRUCIBLE_FITS.judge(
        filling,
        inputs.fullest,
        subject="/shop/crucibles",
        ok=Say("The melt fits into {name}: it is filled to {f}.", **parts),
        bad=Say(
            "The melt does not fit into {name} safely: it would be filled to {f}, at most {most} is sound. "
            "Use one that holds {brim} to the brim, or melt in two lots.",
            **parts,
        ),
    )
    return CrucibleAssessment(
        name=inputs.name,
        volume=volume,
        filling=filling,
        lifted_mass=inputs.melt_mass + (inputs.crucible_mass or 0.0),
        crucible_counted=inputs.crucible_mass is not None,
        checks=(check,),
    )
