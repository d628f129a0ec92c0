"""Cautions: what can hurt someone in this job, said so that a beginner understands.

Builders only: every number comes in from the caller, thresholds too, because this floor knows no
table. Nothing here permits anything: each caution says who decides.
"""

from typing import Literal

from .ledger import Caution, Say

Severity = Literal["refuse", "care"]

SAFETY = "your occupational safety authority and local code"
LICENSED = "your occupational safety authority; licensed practice only"
FIRE = "your fire authority, insurer and local code"
WASTE = "your environmental and occupational safety authorities"


def _share(percent: float) -> tuple[float, str]:
    return percent / 100.0, "fraction"


def zinc_fume(
    subject: str,
    name: str,
    percent: float,
    boiling: float,
    temperature: float | None = None,
    lost: tuple[float, float] | None = None,
) -> Caution:
    """Zinc in the metal (percent of mass), its boiling point and, where known, how hot the metal
    gets (K) and how much zinc the charge loses (kg, expected and at most)."""
    words = "{name}: up to {share} of zinc, which boils at {boiling}."
    parts: dict[str, tuple[float, str] | str] = {
        "name": name,
        "share": _share(percent),
        "boiling": (boiling, "temperature"),
    }
    if temperature is not None:
        if temperature > boiling:
            words += " This metal is poured at {hot}, hotter than that."
        else:
            words += " This metal is poured at {hot}, below that; overheated, it fumes as well."
        parts["hot"] = (temperature, "temperature")
    if lost is not None and lost[1] > 0.0:
        words += " About {lost} of zinc go up in smoke from this charge, {most} if it is held long or hot."
        parts |= {"lost": (lost[0], "mass"), "most": (lost[1], "mass")}
    return Caution(
        code="zinc-fume",
        hazard="zinc oxide fume, metal fume fever",
        severity="care",
        text=Say(
            "White smoke over the melt is burning zinc, and breathing it makes you ill some hours later "
            "(chills and fever). Melt outdoors or under extraction, stay upwind, melt quickly and do not "
            "overheat."
        ),
        why=Say(words, **parts),
        decides=SAFETY,
        source="HAZMAP-FUME-FEVER",
        subject=subject,
    )


def lead(subject: str, name: str, percent: float, care_above: float) -> Caution:
    """Lead in the metal, percent of mass, and the share above which it is said."""
    return Caution(
        code="lead",
        hazard="lead fume and dust",
        severity="care",
        text=Say(
            "Lead fume and lead dust are poisonous and stay in the body. Fresh air alone is not enough "
            "indoors: use extraction and a fitting respirator, no food or drink nearby, wash hands and "
            "face, keep clothes and dross away from home and children. Not for anything that touches food "
            "or drinking water."
        ),
        why=Say(
            "{name}: up to {share} of lead; anything above {limit} is said.",
            name=name,
            share=_share(percent),
            limit=_share(care_above),
        ),
        decides=SAFETY,
        source="OSHA-LEAD-1990",
        subject=subject,
    )


def beryllium(subject: str, name: str, percent: float | None, refuse_above: float) -> Caution:
    """Beryllium: ``percent`` of mass, or None where only the name tells of it (then refused)."""
    return _poison(
        "beryllium",
        "beryllium fume, lasting lung disease",
        Say(
            "Do not melt {name}: beryllium fume scars the lungs for good, at amounts nobody can see or "
            "smell. Take it out of the stock and hand it to a dealer who is told what it is.",
            name=name,
        ),
        Say(
            "Beryllium, if only a trace, in {name}: do not grind or overheat it; melt only with extraction.",
            name=name,
        ),
        (subject, name, percent, refuse_above),
        "BERYLLIUM-LIMIT",
    )


def cadmium(subject: str, name: str, percent: float | None, refuse_above: float) -> Caution:
    """Cadmium: ``percent`` of mass, or None where only the name tells of it (then refused)."""
    return _poison(
        "cadmium",
        "cadmium fume, can kill",
        Say(
            "Do not melt {name}: cadmium boils off below the melting point of copper, and one hour in its "
            "fume can kill days later. Take it out of the stock.",
            name=name,
        ),
        Say("Cadmium, if only a trace, in {name}: melt only outdoors or under extraction.", name=name),
        (subject, name, percent, refuse_above),
        "AIR-LIMITS",
    )


def magnesium(subject: str, name: str, percent: float | None, refuse_above: float) -> Caution:
    """Magnesium: ``percent`` of mass, or None where only the name tells of it (then refused)."""
    return _poison(
        "magnesium",
        "metal fire",
        Say(
            "Do not melt {name}: metal rich in magnesium catches fire in air, and water, carbon dioxide "
            "or an ordinary extinguisher make that fire worse. Take it out of the stock.",
            name=name,
        ),
        Say(
            "The magnesium in {name} can burn in the crucible when overheated. Keep dry sand at hand; never "
            "water on a metal fire.",
            name=name,
        ),
        (subject, name, percent, refuse_above),
        "COMMON-PRACTICE",
        decides=FIRE,
    )


def _poison(
    code: str,
    hazard: str,
    refusal: Say,
    care: Say,
    found: tuple[str, str, float | None, float],
    source: str,
    decides: str = LICENSED,
) -> Caution:
    subject, name, percent, refuse_above = found
    severity: Severity = "refuse" if percent is None or percent > refuse_above else "care"
    limit = _share(refuse_above)
    why = (
        Say(
            "{name}: the words speak of {code}, refused above {limit}, and its share is unknown.",
            name=name,
            code=code,
            limit=limit,
        )
        if percent is None
        else Say(
            "{name}: up to {share} of {code}; refused above {limit}.",
            name=name,
            share=_share(percent),
            code=code,
            limit=limit,
        )
    )
    text = refusal if severity == "refuse" else care
    return Caution(code, hazard, severity, text, why, decides, source, subject)


_FORMS: dict[str, tuple[str, str, str, str]] = {
    "galvanised": (
        "zinc fume from the coating",
        "Do not melt {name}: the zinc on it burns off as a thick white smoke before the metal melts. "
        "Take it out, or have the coating removed with acid by someone equipped for it.",
        SAFETY,
        "HAZMAP-FUME-FEVER",
    ),
    "plated": (
        "unknown coating: chromium, nickel or cadmium fume",
        "Do not melt {name}: nobody can see what the plating is, and some platings are cadmium or give "
        "off hexavalent chromium. Take it out of the stock.",
        LICENSED,
        "COMMON-PRACTICE",
    ),
    "sealed": (
        "bursting",
        "Do not heat {name}: air, water or oil shut up in it bursts it like a bomb in the crucible. "
        "Cut it open, look through it, dry it; then list it again as open.",
        SAFETY,
        "COMMON-PRACTICE",
    ),
    "damp": (
        "steam explosion",
        "Do not charge {name} wet: a drop of water under molten metal turns to 1600 times its volume of "
        "steam at once and throws the metal out. Dry it over heat until no breath of steam is left.",
        SAFETY,
        "AFS-STEAM",
    ),
    "hollow": (
        "trapped water or air",
        "Before charging {name}, see daylight through every tube and hollow and preheat it: water, oil or "
        "a closed end inside throws metal out of the crucible.",
        SAFETY,
        "COMMON-PRACTICE",
    ),
    "oily": (
        "smoke and flare-up",
        "Burn or wash the oil off {name} first: it flares up, smokes, and leaves hydrogen in the metal.",
        FIRE,
        "COMMON-PRACTICE",
    ),
    "painted": (
        "smoke of paint and plastic",
        "Strip {name} first: old paint may hold lead, and burning plastic gives off poisonous smoke.",
        WASTE,
        "COMMON-PRACTICE",
    ),
}

FORMS = tuple(_FORMS)
"""Forms of scrap that have a caution of their own."""


def form_of_scrap(form: str, subject: str, name: str, severity: Severity, told_by: str) -> Caution:
    """A form of scrap (one of :data:`FORMS`); ``told_by`` is the wording that tells of it."""
    hazard, words, decides, source = _FORMS[form]
    return Caution(
        code=form,
        hazard=hazard,
        severity=severity,
        text=Say(words, name=name),
        why=Say("{name}: described as '{told}'.", name=name, told=told_by),
        decides=decides,
        source=source,
        subject=subject,
    )


def molten_metal(subject: str, temperature: float | None, mass: float | None) -> Caution:
    """Handling molten metal at all; pouring temperature in K and mass in kg where known."""
    why = Say("This job handles molten metal.")
    if temperature is not None and mass is not None:
        why = Say(
            "This job handles {mass} of metal at {hot}.",
            mass=(mass, "mass"),
            hot=(temperature, "temperature"),
        )
    elif temperature is not None:
        why = Say("This job handles metal at {hot}.", hot=(temperature, "temperature"))
    return Caution(
        code="molten-metal",
        hazard="burns and fire",
        severity="care",
        text=Say(
            "A splash goes through ordinary clothes. Wear clothing rated for molten metal (no polyester "
            "or nylon), face shield over glasses, leather spats and apron, and never pour alone."
        ),
        why=why,
        decides=SAFETY,
        source="HSE-MOLTEN",
        subject=subject,
    )


def moisture(subject: str, steam_ratio: float) -> Caution:
    """Water and molten metal; ``steam_ratio`` is the volume of steam per volume of water."""
    return Caution(
        code="moisture",
        hazard="steam explosion",
        severity="care",
        text=Say(
            "Keep every drop of water away: preheat tools, ingot moulds, charge and ladles until they are "
            "hot and dry, and never carry or pour metal over a wet or frozen floor."
        ),
        why=Say("Water under metal becomes {ratio} times its volume of steam.", ratio=(steam_ratio, "ratio")),
        decides=SAFETY,
        source="AFS-STEAM",
        subject=subject,
    )


def concrete_floor(subject: str, mass: float | None) -> Caution:
    """Bare concrete under the pour; ``mass`` of metal in kg where known."""
    why = Say("Metal will be carried and poured.")
    if mass is not None:
        why = Say("{mass} of metal will be carried and poured.", mass=(mass, "mass"))
    return Caution(
        code="concrete-floor",
        hazard="spalling concrete",
        severity="care",
        text=Say(
            "Carry and pour over dry sand, not bare concrete: metal spilt on concrete turns its water to "
            "steam and splinters fly."
        ),
        why=why,
        decides=SAFETY,
        source="COMMON-PRACTICE",
        subject=subject,
    )


def combustion(subject: str, fuel: str | None) -> Caution:
    """A furnace that burns ``fuel`` (None where it is not named)."""
    return Caution(
        code="combustion",
        hazard="carbon monoxide and fire",
        severity="care",
        text=Say(
            "Run a furnace that burns fuel outdoors or under a flue, never in a closed room: carbon "
            "monoxide has no smell. Clear the ground of everything that burns and keep dry sand at hand."
        ),
        why=Say("The metal is melted with {fuel}.", fuel=fuel)
        if fuel
        else Say("The request does not say how the metal is melted; most small furnaces burn fuel."),
        decides=FIRE,
        source="AIR-LIMITS",
        subject=subject,
    )


def unnamed_rest(
    subject: str, name: str, elements: str, element: str, shares: tuple[float, float, float]
) -> Caution:
    """Metal that no analysis names: most of it comes with ``name``. ``elements`` could hide in it;
    ``shares`` are the unnamed metal, what it would bring ``element`` to, and that element's limit."""
    hidden, reach, limit = shares
    return Caution(
        code="unnamed-metal",
        hazard="a melt that is not what it is taken for",
        severity="care",
        text=Say(
            "What an analysis does not name is counted as none of {elements}. Have {name} analysed for them "
            "before the melt goes where that matters: into threads and rigging that carry a load, or near "
            "food and drinking water.",
            elements=elements,
            name=name,
        ),
        why=Say(
            "Up to {hidden} of the melt is named by no analysis; were all of it {element}, the melt would "
            "hold {reach}, and {limit} is allowed.",
            hidden=_share(100.0 * hidden),
            element=element,
            reach=_share(100.0 * reach),
            limit=_share(100.0 * limit),
        ),
        decides="whoever answers for the casting; an analysis by a laboratory",
        source="COMMON-PRACTICE",
        subject=subject,
    )


def heavy_lift(subject: str, mass: float, limit: float) -> Caution:
    """Metal and crucible of ``mass`` kg in the tongs, more than ``limit`` for one person."""
    return Caution(
        code="heavy-lift",
        hazard="a dropped crucible",
        severity="care",
        text=Say(
            "This crucible is too heavy for one person at arm's length. Use a two-man shank, a bail and "
            "hoist, or several smaller melts, and rehearse every step cold."
        ),
        why=Say(
            "Metal and crucible are {mass}; more than {limit} is said.",
            mass=(mass, "mass"),
            limit=(limit, "mass"),
        ),
        decides=SAFETY,
        source="COMMON-PRACTICE",
        subject=subject,
    )
