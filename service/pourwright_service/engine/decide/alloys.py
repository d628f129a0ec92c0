"""Which alloys of the tables fit a need, and what calculations take where the tables have no figure.

Every alloy that is asked about is told of: it fits, it is left out for a reason, or the tables do not
say enough.
"""

from dataclasses import dataclass
from typing import Literal

from ..assess.hazards import hazards_of_melt
from ..ledger import Caution, Ledger, Say
from ..tables.alloys import ALLOYS, SEA_WATER, Alloy, Share, plain
from ..tables.hazards import ELEMENT_HAZARDS, ElementHazard
from ..tables.zinc import zinc_points
from .metal import METAL_KINDS, Found, metal_of

Verdict = Literal["fits", "unknown", "left out"]

QUIET_ZINC = 101.325
"""Vapour pressure in Pa, a thousandth of an atmosphere, below which pure zinc is counted as not fuming:
the open baths in which steel is galvanised stand near 450 degC; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AlloysCase:
    """What an alloy should be; None and False ask nothing. ``pours_below`` is in K, ``lead_at_most`` a
    fraction of mass; ``no_lead`` asks for no more than the share from which the service warns.

    ``sea_water`` is the least that will do. ``family`` and ``search`` narrow what is judged at all.
    """

    pours_below: float | None = None
    no_lead: bool = False
    lead_at_most: float | None = None
    no_zinc_fume: bool = False
    sea_water: str | None = None
    freezing_class: str | None = None
    family: str | None = None
    search: str | None = None


@dataclass(frozen=True, slots=True)
class Judged:
    """An alloy and what is to be said: notes where it fits, else the reasons."""

    alloy: Alloy
    verdict: Verdict
    says: tuple[Say, ...]


_Told = tuple[Verdict, Say | None]


def choose_alloys(case: AlloysCase) -> list[Judged]:
    """Every alloy of the family and name asked for, judged, in the order of the table."""
    return [
        _judge(alloy, case)
        for alloy in ALLOYS.values()
        if case.family in (None, alloy.family) and (case.search is None or _found(alloy, case.search))
    ]


def _found(alloy: Alloy, search: str) -> list[str]:
    """The names of the alloy in which the text is, its own before those that are only near it."""
    own = (alloy.id, alloy.name, alloy.designation, alloy.group)
    aliases = sorted(alloy.aliases, key=lambda alias: alias.relation == "near")
    wanted = plain(search)
    return [name for name in (*own, *(alias.name for alias in aliases)) if wanted and wanted in plain(name)]


def _judge(alloy: Alloy, case: AlloysCase) -> Judged:
    told: list[_Told] = []
    if case.search is not None:
        told.append(_name(alloy, _found(alloy, case.search)[0]))
    if case.pours_below is not None:
        told.append(_pours_below(alloy, case.pours_below))
    lead = [ELEMENT_HAZARDS["Pb"].care_above] if case.no_lead else []
    lead += [] if case.lead_at_most is None else [100.0 * case.lead_at_most]
    if lead:
        told.append(_little_lead(alloy, min(lead)))
    if case.no_zinc_fume:
        told.append(_no_zinc_fume(alloy))
    if case.sea_water is not None:
        told.append(_sea_water(alloy, case.sea_water))
    if case.freezing_class is not None:
        told.append(_freezing(alloy, case.freezing_class))
    said = {verdict for verdict, _ in told}
    worst: Verdict = "left out" if "left out" in said else "unknown" if "unknown" in said else "fits"
    says = tuple(say for verdict, say in told if verdict == worst and say is not None)
    return Judged(alloy, worst, says)


# --- one rule each ----------------------------------------------------------------------------


def _name(alloy: Alloy, name: str) -> _Told:
    """That a name is only near the alloy is said; the alloy is not left out for it."""
    if not any(alias.name == name and alias.relation == "near" for alias in alloy.aliases):
        return "fits", None
    words = "{name} is only near it: properties may be taken over, limits of composition not."
    return "fits", Say(words, name=name)


def _pours_below(alloy: Alloy, limit: float) -> _Told:
    """By the coolest of the pouring range, which is for heavy castings; by rule nothing is promised."""
    liquidus, low, high = (alloy.value(name) for name in ("liquidus", "pouring_low", "pouring_high"))
    if liquidus is not None and liquidus >= limit:
        return "left out", Say("Not all liquid below {t}.", t=(liquidus, "temperature"))
    if low is None:
        return "unknown", _range_by_rule(alloy)
    if low > limit:
        return "left out", Say("Poured from {t} up.", t=(low, "temperature"))
    if high is None or high <= limit:
        return "fits", None
    hot = (high, "temperature")
    return "fits", Say("Heavy castings only at this heat: the thinnest are poured at {t}.", t=hot)


def _range_by_rule(alloy: Alloy) -> Say:
    metal = metal_of(alloy.id, {}, Ledger())
    low, high = metal.get("pouring_low"), metal.get("pouring_high")
    if low is None or high is None:
        return Say("No pouring range was found.")
    words = "No pouring range was found; from its liquidus it should be {low} to {high}."
    return Say(words, low=(low, "temperature"), high=(high, "temperature"))


def most_of(share: Share | None) -> float | None:
    """The most an alloy may hold of an element, in per cent: the highest of its figures; None without."""
    if share is None:
        return None
    figures = [cell.value for cell in (share.maximum, share.nominal, share.minimum) if cell is not None]
    return max(figures, default=None)


def _little_lead(alloy: Alloy, limit: float) -> _Told:
    most = most_of(alloy.shares.get("Pb"))
    if most is None:
        return "fits", _not_named(alloy, "Lead", limit)
    if most <= limit:
        return "fits", None
    return "left out", _up_to(alloy, "Pb", "lead", most)


def _up_to(alloy: Alloy, symbol: str, element: str, most: float) -> Say:
    share = alloy.shares[symbol]
    added = share.nominal is not None or share.minimum is not None
    words = "Up to {share} of {element}" + ("." if added else " is let in, though none is added.")
    return Say(words, share=(most / 100.0, "fraction"), element=element)


def _no_zinc_fume(alloy: Alloy) -> _Told:
    most, limit = most_of(alloy.shares.get("Zn")), ELEMENT_HAZARDS["Zn"].care_above
    if most is None:
        return "fits", _not_named(alloy, "Zinc", limit)
    if most <= limit:
        return "fits", None
    share = (most / 100.0, "fraction")
    quiet = quiet_zinc()
    hot = alloy.value("pouring_high")
    if hot is not None and hot <= quiet:
        words = "{share} of zinc, but poured too cool to fume; it does when overheated, above {t}."
        return "fits", Say(words, share=share, t=(quiet, "temperature"))
    least = alloy.value("liquidus") if hot is None else hot
    up_to = _up_to(alloy, "Zn", "zinc", most)
    if least is None or least <= quiet:
        return "unknown", up_to.then(Say("No pouring range was found."))
    return "left out", up_to


def quiet_zinc() -> float:
    """The hottest temperature (K) of the table of vapour pressures at which pure zinc hardly fumes."""
    return max(point.temperature for point in zinc_points(100.0) if point.pressure.value <= QUIET_ZINC)


def _not_named(alloy: Alloy, element: str, limit: float) -> Say | None:
    """What there is to say where the limits do not name the element; None where they bound it anyway."""
    others = alloy.others_each or alloy.others_total
    if others is None:
        return Say("{element} is not named in its limits, nor what else it may hold.", element=element)
    if others.value <= limit:
        return None
    words = "{element} is not named in its limits, which let in {share} of unnamed elements."
    return Say(words, element=element, share=(others.value / 100.0, "fraction"))


def _sea_water(alloy: Alloy, least: str) -> _Told:
    if SEA_WATER.index(alloy.sea_water) <= SEA_WATER.index(least):
        return "fits", None
    return "left out", Say(
        "{word} in sea water ({corrosion}).", word=alloy.sea_water.capitalize(), corrosion=alloy.corrosion
    )


def _freezing(alloy: Alloy, wanted: str) -> _Told:
    if alloy.freezing_class == wanted:
        return "fits", None
    liquidus, solidus = alloy.value("liquidus"), alloy.value("solidus")
    word = alloy.freezing_class
    if liquidus is None or solidus is None:
        return "left out", Say("Freezing range: {word}.", word=word)
    gap = (liquidus - solidus, "temperature_difference")
    return "left out", Say("Freezing range {gap}: {word}.", word=word, gap=gap)


# --- one alloy --------------------------------------------------------------------------------


def figures_in_use(name: str) -> dict[str, Found | None]:
    """What calculations take for an alloy where it is not the table's own cell, by property; None where
    nobody has anything. ``name`` is any name of an alloy."""
    metal = metal_of(name, {}, Ledger())
    cells = metal.alloy.cells if metal.alloy else {}
    found = {each: metal.found(each) for each in METAL_KINDS}
    return {
        each: got
        for each, got in found.items()
        if each not in cells or got is None or got.value != cells[each].value
    }


def pouring_range(name: str) -> tuple[Found | None, Found | None]:
    """The coolest and the hottest pouring temperature of an alloy, by rule where the table has none."""
    metal = metal_of(name, {}, Ledger())
    return metal.found("pouring_low"), metal.found("pouring_high")


@dataclass(frozen=True, slots=True)
class AlloyHazard:
    """An element that can hurt: the most of it in per cent, its thresholds, and the caution that a melt
    of the alloy carries; None below them."""

    most: float
    thresholds: ElementHazard
    caution: Caution | None


def hazards_of_alloy(alloy: Alloy) -> list[AlloyHazard]:
    """Every element with a threshold that the alloy's figures name."""
    found = []
    for element, thresholds in ELEMENT_HAZARDS.items():
        most = most_of(alloy.shares.get(element))
        if most is not None:
            ledger = Ledger()
            hot = alloy.value("pouring_high")
            hazards_of_melt({element: most}, hot, ledger, name=alloy.id)
            found.append(AlloyHazard(most, thresholds, next(iter(ledger.cautions.values()), None)))
    return found
