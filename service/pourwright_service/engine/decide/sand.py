"""Sand: what to mix for a batch of moulding sand, new or used, and what each member gets of it."""

from dataclasses import dataclass
from typing import Any

from ..answer import Answer, answer
from ..assess.hazards import STEAM_RATIO
from ..assess.sand import SandAssessment, SandInputs, assess_sand
from ..cautions import moisture
from ..formulas import amounts, sand
from ..ledger import Ledger, MissingValue, Say
from ..sand_cautions import silica_dust, silicate, solvent
from ..tables.sands import (
    GAS_IN_PRACTICE,
    GAS_MOLAR_MASS,
    RAMMED,
    SODA,
    SODA_MOLAR_MASS,
    SOLIDS,
    SYSTEMS,
    SandSystem,
)

SPARE = 0.1
"""So much more than the flask takes is mixed (common practice)."""

BUCKET = 0.010
"""m^3."""

WATER = 1000.0
"""kg/m^3."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxCase:
    """A flask's inside, m."""

    length: float
    width: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureCase:
    """A measure filled with rammed sand and weighed, without its own weight: kg, m^3."""

    mass: float
    volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SampleCase:
    """A sample of the sand before and after drying, kg."""

    wet_mass: float
    dry_mass: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberCase:
    """Who gets a part of the batch; ``parts`` out of the sum of all."""

    name: str
    parts: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SandCase:
    """A batch of sand as it is wanted; SI, shares by weight, None where nothing is said.

    ``burnt_share`` None: the sand is new and gets all of its binder.
    """

    system: str
    sand_mass: float | None = None
    flask: BoxCase | None = None
    pattern_volume: float | None = None
    spare: float | None = None
    bulk_density: float | None = None
    measure: MeasureCase | None = None
    moisture: float | None = None
    sample: SampleCase | None = None
    dry_sand: float | None = None
    burnt_share: float | None = None
    water_share: float | None = None
    binder_share: float | None = None
    oil_share: float | None = None
    methanol_share: float | None = None
    catalyst_share: float | None = None
    soda_share: float | None = None
    solids_share: float | None = None
    bucket_volume: float | None = None
    members: tuple[MemberCase, ...] = ()


def decide_sand(case: SandCase) -> Answer:
    """Answer a sand request."""
    ledger = Ledger()
    system = SYSTEMS[case.system]
    _cautions(case.system, ledger)
    try:
        bulk = _bulk(case, ledger)
        needed = _needed(case, bulk)
        mass = _mass(case, needed, ledger)
        added = _added(case, system, mass, ledger)
        held = _moisture(case, ledger)
    except MissingValue as missing:
        return answer(ledger, {}, [], missing.missing.why)
    dry = case.dry_sand or 0.0
    water = _water(case, system, mass + dry + sum(added.values()), mass * held, ledger)
    binder = added[system.binder]
    done = assess_sand(
        SandInputs(
            sand=mass,
            dry_sand=dry,
            moisture=held,
            water=water,
            binder=binder,
            others=sum(added.values()) - binder,
            binder_name=system.binder,
            binder_share=_share(case, system, ledger),
            least_binder=system.least_binder,
            most_binder=system.most_binder,
            binder_water=_binder_water(case, added, ledger),
            used=case.burnt_share is not None,
            wettest=system.wettest,
            driest=system.driest,
            needed=needed,
        )
    )
    if water:
        added = {**added, "water": water}
    result = _told(case, done, added, mass, bulk, needed, held, ledger)
    return answer(ledger, result, list(done.checks), _sentence(mass, dry, added))


def _use(ledger: Ledger, pointer: str, given: float | None, default: float, kind: str, source: str) -> float:
    memory = source == "FROM-MEMORY"
    provenance = "from memory" if memory else "common practice"
    return ledger.use(pointer, given, default, kind, provenance=provenance, source=source)


def _bulk(case: SandCase, ledger: Ledger) -> float:
    """Bulk density of rammed sand, kg/m^3: given, from the weighed measure, or the usual one."""
    if case.bulk_density is None and case.measure is not None:
        return case.measure.mass / case.measure.volume
    return _use(ledger, "/bulk_density", case.bulk_density, RAMMED, "density", "ARCHIMEDES")


def _needed(case: SandCase, bulk: float) -> float | None:
    """What the flask takes, kg."""
    if case.flask is None:
        return None
    box = case.flask
    return sand.sand_for_flask(bulk, box.length * box.width * box.height, case.pattern_volume or 0.0)


def _mass(case: SandCase, needed: float | None, ledger: Ledger) -> float:
    if case.sand_mass is not None:
        return case.sand_mass
    if needed is None:
        why = Say("Say how much sand there is (sand_mass), or how large the flask is that it is to fill.")
        raise MissingValue(ledger.lack("/sand_mass", why))
    spare = _use(ledger, "/spare", case.spare, SPARE, "fraction", "COMMON-PRACTICE")
    return ledger.use(
        "/sand_mass",
        None,
        needed * (1.0 + spare),
        "mass",
        provenance="computed",
        source="DERIVED",
        note="what the flask takes, and some to spare",
    )


def _moisture(case: SandCase, ledger: Ledger) -> float:
    if case.moisture is None and case.sample is not None:
        return sand.moisture_by_drying(case.sample.wet_mass, case.sample.dry_mass)
    if case.moisture is None and case.burnt_share is not None:
        # Used sand is seldom dry, and water added to what it holds may be steam: never taken as dry unsaid.
        why = Say("How much water used sand holds must be measured: weigh a sample before and after drying.")
        raise MissingValue(ledger.lack("/moisture", why))
    return ledger.use(
        "/moisture",
        case.moisture,
        0.0,
        "fraction",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="new sand is taken to be dry: weigh a sample before and after drying",
    )


def _share(case: SandCase, system: SandSystem, ledger: Ledger) -> float:
    """The binder's share of the sand."""
    if case.binder_share is None and system.binder_share is None:
        why = Say("How much {binder} the sand wants, only its maker's card says.", binder=system.binder)
        raise MissingValue(ledger.lack("/binder_share", why))
    return _use(
        ledger, "/binder_share", case.binder_share, system.binder_share or 0.0, "fraction", system.source
    )


def _added(case: SandCase, system: SandSystem, mass: float, ledger: Ledger) -> dict[str, float]:
    """What is put to the sand but water, kg by name; to used sand, only for what was burnt.

    Dry sand that is mixed in is new, and gets its whole share.
    """
    bare = mass * (1.0 if case.burnt_share is None else case.burnt_share) + (case.dry_sand or 0.0)
    added = {system.binder: bare * _share(case, system, ledger)}
    given = {"oil": case.oil_share, "methanol": case.methanol_share}
    for name, share, source in system.others:
        added[name] = bare * _use(ledger, f"/{name}_share", given[name], share, "fraction", source)
    if system.binder == "resin":
        if case.catalyst_share is None:
            why = Say("How much catalyst the resin wants, only its maker's card says.")
            raise MissingValue(ledger.lack("/catalyst_share", why))
        added["catalyst"] = added["resin"] * case.catalyst_share
    return added


def _water(case: SandCase, system: SandSystem, mass: float, held: float, ledger: Ledger) -> float:
    """Water to add (kg) to ``mass`` that already holds some; 0 where it holds enough."""
    if system.water_share is None:
        return 0.0
    wanted = _use(ledger, "/water_share", case.water_share, system.water_share, "fraction", "FROM-MEMORY")
    return max(sand.water_to_add(mass, held / mass, wanted), 0.0)


def _binder_water(case: SandCase, added: dict[str, float], ledger: Ledger) -> float:
    """Water that comes with the silicate, kg."""
    if "sodium silicate" not in added:
        return 0.0
    solids = _use(ledger, "/solids_share", case.solids_share, SOLIDS, "fraction", "SILICATE-GRADES")
    return added["sodium silicate"] * (1.0 - solids)


def _told(
    case: SandCase,
    done: SandAssessment,
    added: dict[str, float],
    mass: float,
    bulk: float,
    needed: float | None,
    held: float,
    ledger: Ledger,
) -> dict[str, Any]:
    bucket = ledger.use(
        "/bucket_volume",
        case.bucket_volume,
        BUCKET,
        "volume",
        provenance="common practice",
        source="COMMON-PRACTICE",
    )
    loose = amounts.volume_of(done.batch, bulk)
    gas: float | None = None
    if "sodium silicate" in added:
        soda = _use(ledger, "/soda_share", case.soda_share, SODA, "fraction", "SILICATE-GRADES")
        gas = sand.gas_for_silicate(added["sodium silicate"], soda, GAS_MOLAR_MASS, SODA_MOLAR_MASS)
    total = sum(member.parts for member in case.members)
    return {
        "system": case.system,
        "sand_mass": mass,
        "moisture_before": held,
        "additions": [
            {
                "material": name,
                "mass": one,
                "share": one / done.batch,
                "volume": amounts.volume_of(one, WATER) if name == "water" else None,
            }
            for name, one in added.items()
        ],
        "gas_low": gas,
        "gas_high": None if gas is None else max(gas, GAS_IN_PRACTICE * added["sodium silicate"]),
        "batch_mass": done.batch,
        "moisture": done.moisture,
        "bulk_density": bulk,
        "volume": loose,
        "buckets": loose / bucket,
        "flask_takes": needed,
        "members": [
            {
                "name": member.name,
                "mass": done.batch * member.parts / total,
                "buckets": loose * member.parts / total / bucket,
            }
            for member in case.members
        ],
    }


def _sentence(mass: float, dry: float, added: dict[str, float]) -> Say:
    """What to put together."""
    parts: dict[str, tuple[float, str] | str] = {"sand": (mass, "mass"), "dry": (dry, "mass")}
    listed = []
    for number, (name, one) in enumerate(added.items()):
        if one > 0.0:
            listed.append(f"{{m{number}}} of {name}")
            parts[f"m{number}"] = (one, "mass")
    first = "{sand} of sand" + (" and {dry} of dry sand" if dry else "")
    if not listed:
        return Say(f"Use {first} as it is: it needs nothing.", **parts)
    words = listed[0] if len(listed) == 1 else f"{', '.join(listed[:-1])} and {listed[-1]}"
    return Say(f"Mix {first} with {words}, by weight.", **parts)


def _cautions(system: str, ledger: Ledger) -> None:
    ledger.caution(silica_dust("/system"))
    ledger.caution(moisture("/system", STEAM_RATIO))
    if system == "silicate sand":
        ledger.caution(silicate("/system"))
    elif system != "green sand":
        ledger.caution(solvent("/system", "oil and methanol" if system == "oil-bonded sand" else "resin"))
