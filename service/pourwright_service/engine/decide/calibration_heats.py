"""What weighed and analysed heats tell: recoveries by element, and the yield of melting."""

import math
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from ..assess.calibration import EstimateInputs, Reading, check_element, check_heat
from ..checks import Check
from ..formula import step
from ..formulas import calibration as formulas
from ..ledger import Ledger, Say
from ..tables.alloys import find_alloy
from ..tables.recoveries import recovery
from .calibration_case import CalibrationCase, ChargedItem, HeatReading
from .charge_case import BASES, Ranges, told_by
from .metal import Metal

MASS_SPREAD, ANALYSIS_SPREAD, ANALYSIS_FLOOR = 0.01, 0.05, 0.01
"""Shares by which a weight and an analysis may be off, and per cent of mass below which an analysis
tells little; common practice."""

RECOVERY_SCATTER = 0.02

LEAST_DEVIATION = 1e-6
"""A recovery that is given as certain is held for this uncertain, on its logarithm."""

SURE = 3.0
"""Standard deviations above everything charged from which an element's reading cannot be chance."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heats:
    """What is estimated from heats, by element; the yield; what was found though none was charged."""

    elements: Mapping[str, EstimateInputs]
    melting_yield: EstimateInputs
    not_charged: tuple[str, ...]
    family: str | None
    checks: tuple[Check, ...]


def heats_inputs(case: CalibrationCase, metal: Metal, ledger: Ledger) -> Heats | None:
    """What recoveries and yield are estimated from, on their logarithms; None without heats."""
    if not case.heats:
        return None
    readings: dict[str, list[Reading]] = defaultdict(list)
    yields: list[Reading] = []
    checks: list[Check] = []
    strange: set[str] = set()
    total: dict[str, float] = defaultdict(float)
    for place, heat in enumerate(case.heats):
        where, name = f"/heats/{place}", heat.name or f"heat {place + 1}"
        charged = _charged(heat, where, ledger)
        with step("heat", name):
            yields.append(_yield(heat, where, name, checks, ledger))
            if charged is None:
                continue
            for element, (mass, _) in charged.items():
                total[element] += mass
            strange |= {e for e, share in (heat.analysis_percent or {}).items() if share and e not in charged}
            for element, reading in _recoveries(heat, charged, where, name, ledger).items():
                readings[element].append(reading)
                limit = math.exp(SURE * reading.deviation)
                checks.append(check_element(math.exp(reading.value), limit, element, reading.pointer))
    family = metal.family or _family(total)
    scatter = ledger.use(
        "/scatter/recovery",
        case.scatter.recovery,
        RECOVERY_SCATTER,
        "fraction",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="from one heat to the next",
    )
    deviation = formulas.log_deviation(scatter)
    elements = {
        element: EstimateInputs(
            name=f"recovery of {element}",
            readings=tuple(found),
            prior=_prior(case, element, family, ledger),
            scatter=deviation,
            ceiling=0.0,
        )
        for element, found in sorted(readings.items())
    }
    whole = EstimateInputs(
        name="melting yield", readings=tuple(yields), prior=None, scatter=deviation, ceiling=0.0
    )
    return Heats(
        elements=elements,
        melting_yield=whole,
        not_charged=tuple(sorted(strange)),
        family=family,
        checks=tuple(checks),
    )


def melt_of(heat: HeatReading) -> float:
    """Metal that came out of the pot, kg: what was poured, else the castings, and the pig."""
    poured = heat.castings if heat.poured is None else heat.poured
    return (poured or 0.0) + (heat.pig or 0.0)


def _yield(heat: HeatReading, where: str, name: str, checks: list[Check], ledger: Ledger) -> Reading:
    """The yield of one heat, and whether its weights can be."""
    spread = ledger.use(
        f"{where}/mass_spread",
        heat.mass_spread,
        MASS_SPREAD,
        "fraction",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="of each weight; skulls and splashes left unweighed count here",
    )
    melt, charged = melt_of(heat), sum(item.mass for item in heat.items)
    checks += check_heat(melt, charged, 2.0 * spread, heat.castings, heat.poured, where)
    mass = formulas.log_deviation(spread)
    return Reading(
        value=math.log(formulas.melting_yield(melt, charged)),
        deviation=formulas.joint_deviation(mass, mass),
        pointer=where,
        name=name,
    )


def _recoveries(
    heat: HeatReading, charged: Mapping[str, tuple[float, float]], where: str, name: str, ledger: Ledger
) -> dict[str, Reading]:
    """The recovery of every element that was charged and analysed."""
    if not heat.analysis_percent:
        return {}
    own = ledger.use(
        f"{where}/analysis_spread",
        heat.analysis_spread,
        ANALYSIS_SPREAD,
        "fraction",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="of each share analysed; of a base metal, told by difference, of what is not it",
    )
    floor = ledger.use(
        f"{where}/analysis_floor_percent",
        heat.analysis_floor_percent,
        ANALYSIS_FLOOR,
        "percent",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="per cent of mass by which any share may be off beside that",
    )
    mass = formulas.log_deviation(heat.mass_spread or MASS_SPREAD)
    melt, found = melt_of(heat), {}
    for element, percent in sorted(heat.analysis_percent.items()):
        if element not in charged or percent <= 0.0:
            continue
        put_in, uncertain = charged[element]
        relative = own * (1.0 - percent / 100.0) + LEAST_DEVIATION
        share = formulas.joint_deviation(
            formulas.log_deviation(relative), formulas.log_deviation(floor / percent + LEAST_DEVIATION)
        )
        weighed = formulas.joint_deviation(mass, mass)
        found[element] = Reading(
            value=math.log(formulas.recovery_from_heat(percent / 100.0, melt, put_in)),
            deviation=formulas.joint_deviation(formulas.joint_deviation(share, uncertain), weighed),
            pointer=f"{where}/analysis_percent/{element}",
            name=f"{element} in {name}",
        )
    return found


def _charged(heat: HeatReading, where: str, ledger: Ledger) -> dict[str, tuple[float, float]] | None:
    """Mass of every element charged (kg) and its standard deviation as a share; None where the
    composition of an item is not known."""
    masses: dict[str, float] = defaultdict(float)
    squares: dict[str, float] = defaultdict(float)
    for place, item in enumerate(heat.items):
        composition = _composition(item, f"{where}/items/{place}", ledger)
        if composition is None:
            return None
        for element, (low, high) in sorted(composition.items()):
            least, most = low or 0.0, 100.0 if high is None else high
            masses[element] += item.mass * 0.5 * (least + most) / 100.0
            squares[element] += (item.mass * 0.5 * (most - least) / 100.0 / formulas.Z95) ** 2
    return {
        element: (mass, math.sqrt(squares[element]) / mass)
        for element, mass in masses.items()
        if mass > 0.0 and element != "rest"
    }


def _composition(item: ChargedItem, where: str, ledger: Ledger) -> Ranges | None:
    if item.composition_percent is not None:
        return item.composition_percent
    known = find_alloy(item.alloy) if item.alloy else None
    if known is None or known.near:
        ledger.lack(
            f"{where}/composition_percent",
            Say(
                "What {name} is made of is not known, so this heat tells no recoveries. Have it analysed.",
                name=item.name,
            ),
        )
        return None
    provenance, source = told_by(known)
    return ledger.use(
        f"{where}/composition_percent",
        None,
        {element: (share, share) for element, share in known.nominal.items()},
        "map",
        provenance=provenance,
        source=source,
        note=f"nominal composition of {known.id}",
    )


def _family(total: Mapping[str, float]) -> str | None:
    """The metal that most of the charge was, where it is one that the tables have recoveries for."""
    if not total:
        return None
    richest = max(total, key=lambda element: (total[element], element))
    return next((family for family, element in BASES.items() if element == richest), None)


def _prior(case: CalibrationCase, element: str, family: str | None, ledger: Ledger) -> tuple[float, float]:
    """Middle and standard deviation of a recovery's logarithm: the caller's range, else the table's."""
    given = case.recovery_percent or {}
    told = given.get(element, given.get("*"))
    if told is None:
        known = recovery(family, element)
        told = ledger.use(
            f"/recovery_percent/{element}",
            None,
            (100.0 * known.low.value, 100.0 * known.high.value),
            "range",
            provenance="from memory",
            source="FROM-MEMORY",
            note=f"melted in {family}" if family in BASES else "melted in any metal",
        )
    low, high = math.log((told[0] or 0.0) / 100.0), math.log((told[1] or 100.0) / 100.0)
    return 0.5 * (low + high), max((high - low) / (2.0 * formulas.Z95), LEAST_DEVIATION)
