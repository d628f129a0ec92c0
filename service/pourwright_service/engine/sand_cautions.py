"""Cautions of mixing sand: dust, lye, gas, solvents. Builders only, as in cautions."""

from .cautions import FIRE, SAFETY
from .ledger import Caution, Say


def silica_dust(subject: str) -> Caution:
    """Any dry sand that is mixed, riddled or shaken out."""
    return Caution(
        code="silica-dust",
        hazard="silica dust, silicosis",
        severity="care",
        text=Say(
            "The fine dust of silica sand scars the lungs for good. Mix and riddle it damp or outdoors, "
            "never sweep it dry or blow it off, and wear a respirator for fine dust when it flies: also when "
            "the mould is broken out."
        ),
        why=Say("Sand and its binder are handled dry."),
        decides=SAFETY,
        source="COMMON-PRACTICE",
        subject=subject,
    )


def silicate(subject: str) -> Caution:
    """Sodium silicate, and the gas that hardens it."""
    return Caution(
        code="silicate-and-gas",
        hazard="lye in the eyes, suffocation",
        severity="care",
        text=Say(
            "Sodium silicate burns eyes and skin like lye: wear goggles and gloves. Carbon dioxide collects "
            "low down and takes the air away: gas moulds in a well aired room, never in a pit or cellar."
        ),
        why=Say("The sand is held by sodium silicate and hardened with carbon dioxide."),
        decides=SAFETY,
        source="COMMON-PRACTICE",
        subject=subject,
    )


def solvent(subject: str, name: str) -> Caution:
    """Something in the sand that burns or that must not be breathed."""
    return Caution(
        code="binder-vapour",
        hazard="fire, poisonous vapour and smoke",
        severity="care",
        text=Say(
            "Keep {name} away from flame and skin, by its safety data sheet; when metal is poured the binder "
            "smokes: pour outdoors or under extraction, and stay out of the smoke.",
            name=name,
        ),
        why=Say("The sand holds {name}.", name=name),
        decides=FIRE,
        source="COMMON-PRACTICE",
        subject=subject,
    )
