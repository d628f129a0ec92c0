"""Cautions of melting: fire, gas, bottles, ingot moulds. Builders only, as in cautions."""

from .cautions import FIRE, SAFETY, Severity
from .ledger import Caution, Say

GAS = "your gas supplier, fire authority and local code"


def burning_indoors(subject: str, fuel: str, severity: Severity, place: str | None) -> Caution:
    """A furnace that burns ``fuel`` where ``place`` says; refused in a room without a flue."""
    if severity == "refuse":
        text = Say(
            "Do not melt with {fuel} in a room without a flue: carbon monoxide has no smell and kills within "
            "minutes. Melt outdoors, or under a flue that was made for it.",
            fuel=fuel,
        )
    else:
        text = Say(
            "Glowing {fuel} gives off carbon monoxide as long as it glows, after the melt too: burn it "
            "outdoors, let it go out there, and never carry embers or a warm furnace indoors.",
            fuel=fuel,
        )
    return Caution(
        code="carbon-monoxide",
        hazard="carbon monoxide poisoning",
        severity=severity,
        text=text,
        why=Say("The furnace burns {fuel}, {place}.", fuel=fuel, place=place or "it is not said where"),
        decides=FIRE,
        source="AIR-LIMITS",
        subject=subject,
    )


def gas_bottle(subject: str) -> Caution:
    """A bottle of liquefied gas beside a furnace."""
    return Caution(
        code="gas-bottle",
        hazard="bursting bottle, gas explosion",
        severity="care",
        text=Say(
            "Never warm a cold gas bottle with flame, hot air or a heater: it can burst. Take a larger or a "
            "second bottle instead. Stand it upright, outdoors, well away from the furnace and from drains "
            "and cellars, with a regulator, a sound hose and a valve within reach."
        ),
        why=Say("The metal is melted with propane from a bottle, which grows cold as gas is drawn."),
        decides=GAS,
        source="COMMON-PRACTICE",
        subject=subject,
    )


def cold_ingot_mould(subject: str, mass: float) -> Caution:
    """Metal left in the pot (kg) that has to go somewhere."""
    return Caution(
        code="cold-ingot-mould",
        hazard="steam explosion, a cracked crucible",
        severity="care",
        text=Say(
            "Pour what is left into ingot moulds that stand ready, clean, rust-free, dry and hot, never into "
            "a cold or damp one, and never let it freeze in the crucible: it cracks it at the next heat."
        ),
        why=Say("{mass} of metal is left after pouring.", mass=(mass, "mass")),
        decides=SAFETY,
        source="COMMON-PRACTICE",
        subject=subject,
    )


def cold_tools(subject: str) -> Caution:
    """Tools, lumps and additions that go into a melt."""
    return Caution(
        code="cold-tools",
        hazard="metal thrown out of the pot",
        severity="care",
        text=Say(
            "Skimmers, plungers, lumps and additions take water on from the air: heat each above the furnace "
            "before it touches the melt, add lumps with tongs from above the pot's rim, and stay clear of "
            "its mouth."
        ),
        why=Say("Metal is added to a melt."),
        decides=SAFETY,
        source="COMMON-PRACTICE",
        subject=subject,
    )
