"""Freezing: when does each section of a casting freeze, which one last, and can metal reach it."""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from ..answer import Answer, answer
from ..assess.freezing import (
    Body,
    Cooling,
    CoredFace,
    FeedStep,
    Frozen,
    check_feed_step,
    cooling_of,
    cores_suffice,
    feed_steps,
    feeds,
    freeze,
)
from ..assess.freezing_checks import check_curvature
from ..assess.junctions import JunctionAssessment
from ..checks import Check
from ..geometry.joins import Joint, joints
from ..geometry.sections import Fault, Section, SectionFault, SectionMeasure, measure
from ..ledger import Ledger, MissingValue, Say
from .heat import Heat, HeatCase, MouldCase, heat_of
from .junctions import junction_checks, junction_results, junctions_of
from .metal import metal_of


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialCase:
    """A trial casting of known shape that froze in a measured time (s), in the same mould."""

    section: Section
    freezing_time: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FreezingCase:
    """What a freezing request may say; SI, None where the caller said nothing."""

    sections: tuple[Section, ...]
    alloy: str | None = None
    properties: Mapping[str, float | None] = field(default_factory=dict)
    mould: MouldCase = field(default_factory=MouldCase)
    mould_constant: float | None = None
    trial: TrialCase | None = None
    pouring_temperature: float | None = None
    temperature_fall: float | None = None
    curvature: bool | None = None
    feeds_to: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sections:
    """Measured sections and the bodies the mould sees."""

    measures: tuple[SectionMeasure, ...]
    bodies: tuple[Body, ...]
    joints: tuple[Joint, ...]
    counts: Mapping[str, int]

    @property
    def joins(self) -> frozenset[tuple[str, str]]:
        """Which sections are joined, by name."""
        return frozenset(joint.names for joint in self.joints)

    @property
    def volume(self) -> float:
        """Volume of the whole casting, m^3; every piece counted."""
        return math.fsum(one.volume * self.counts[one.name] for one in self.measures)

    @property
    def thinnest(self) -> float:
        """The thinnest section, m."""
        return min(one.thickness for one in self.measures)


def read_sections(sections: Sequence[Section], ledger: Ledger) -> Sections:
    """Measure the sections and report the choices that measuring made.

    Raises SectionFault for sections that cannot be.
    """
    measures = measure(sections, ledger.place("/sections"))
    bodies, counts = [], {}
    for index, (section, one) in enumerate(zip(sections, measures, strict=True)):
        counts[one.name] = section.count
        _report(section, one, f"/sections/{index}", ledger)
        bodies.append(_body(one, f"/sections/{index}"))
    found, _ = joints(sections, "/sections")
    return Sections(measures=measures, bodies=tuple(bodies), joints=found, counts=counts)


def _body(one: SectionMeasure, pointer: str) -> Body:
    """A measured section as the mould sees it."""
    return Body(
        name=one.name,
        volume=one.volume,
        cooling_area=one.cooling_area,
        curvature=one.curvature,
        cores=tuple(
            CoredFace(
                area=wall.area,
                shape=wall.core.shape if wall.core else "slab",
                modulus=wall.core.modulus if wall.core else None,
            )
            for wall in one.cored
        ),
        pointer=pointer,
    )


def _report(section: Section, one: SectionMeasure, place: str, ledger: Ledger) -> None:
    """Enter what measuring had to choose."""
    if section.shape in ("tube", "ring") and "inside" not in section.faces:
        ledger.use(
            f"{place}/faces/inside",
            None,
            "cooling",
            "text",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="the mould's own sand stands in the hole, as in printed exercises; say cored where a core "
            "makes it, which a plan takes for granted",
        )
    if one.edges_by_default and one.edges_cool is not None:
        ledger.use(
            f"{place}/edges_cool",
            section.edges_cool,
            one.edges_cool,
            "flag",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="the edges of a plate count as cooling up to a width of ten thicknesses",
        )
    if one.core_by_default and one.core is not None:
        ledger.use(
            f"{place}/core/shape", None, one.core.shape, "text", provenance="computed", source="DERIVED"
        )
        ledger.use(
            f"{place}/core/modulus",
            None,
            one.core.modulus,
            "length",
            provenance="computed",
            source="DERIVED",
            note="a core that fills the bore",
        )


def trial_body(trial: TrialCase | None, ledger: Ledger) -> tuple[Body, float] | None:
    """A trial casting as the mould saw it, and its time (s)."""
    if trial is None:
        return None
    (one,) = measure((trial.section,), "/trial/section")
    _report(trial.section, one, "/trial/section", ledger)
    return _body(one, "/trial/section"), trial.freezing_time


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """Frozen sections, the one that freezes last (or stands under the riser), and the feed path.

    ``apart`` are the sections that no join connects to the target.
    """

    frozen: dict[str, Frozen]
    last: str
    target: str
    steps: tuple[FeedStep, ...]
    apart: tuple[str, ...]
    checks: tuple[Check, ...]


def freezing_order(
    cooling: Cooling,
    sections: Sections,
    feeds_to: str | None,
    place: str = "",
    *,
    also: tuple[str, ...] = (),
    stands_on: Collection[str] = (),
) -> Order:
    """Freeze every section and judge the way that feed metal takes to the target.

    The target is ``feeds_to`` or the section that freezes last; ``also`` are sections that need no
    feed metal through others either. ``place`` is the pointer of the object that holds the
    sections; ``stands_on`` the sections under risers that are there already.
    Raises SectionFault for a section that nothing can freeze.
    """
    _can_freeze(cooling, sections, place)
    frozen = {body.name: freeze(cooling, body) for body in sections.bodies}
    last = max(frozen.values(), key=lambda one: (one.time, one.body.name)).body.name
    target = feeds_to if feeds_to in frozen else last
    steps = feed_steps(frozen, sections.joins, target, *also)
    checks = [
        check_feed_step(one, place + frozen[one.start].body.pointer, under_riser=one.end in stands_on)
        for one in steps
    ]
    for body in sections.bodies:
        checks += check_curvature(cooling, frozen[body.name], place)
    fed = {target, *(one.start for one in steps)}
    apart = tuple(sorted(frozen.keys() - fed))
    return Order(frozen=frozen, last=last, target=target, steps=steps, apart=apart, checks=tuple(checks))


def _can_freeze(cooling: Cooling, sections: Sections, place: str) -> None:
    faults = []
    for body in sections.bodies:
        if cores_suffice(cooling, body):
            continue
        if cooling.heat_ratio is None or any(core.modulus is None for core in body.cores):
            detail = (
                f"{body.name!r} is cooled by cores alone: give the core (shape, modulus), the alloy and the "
                "mould, or let some face cool"
            )
        else:
            detail = (
                f"{body.name!r} is cooled by cores alone, and they cannot take up its heat: it would never "
                "freeze; let some face cool, or give larger cores"
            )
        faults.append(Fault(f"{place}{body.pointer}/faces", "not_possible", detail))
    if faults:
        raise SectionFault(tuple(faults))


def report_cores(cooling: Cooling, sections: Sections, ledger: Ledger, place: str = "") -> None:
    """Note what is missing for cored faces whose core cannot be reckoned with.

    Until it is given they count as drawing no heat, which makes the section freeze late.
    """
    for body in sections.bodies:
        if not body.cores:
            continue
        if any(core.modulus is None for core in body.cores):
            ledger.lack(
                f"{place}{body.pointer}/core",
                Say(
                    "How much heat the core of {name} takes depends on its size: give core.shape and "
                    "core.modulus. Until then its cored faces count as drawing none.",
                    name=body.name,
                ),
            )
        elif cooling.diffusivity is None:
            ledger.lack(
                "/mould/medium",
                Say(
                    "How much heat the core of {name} takes depends on metal and mould: name the alloy and "
                    "the mould's medium. Until then its cored faces count as drawing none.",
                    name=body.name,
                ),
            )


def decide_freezing(case: FreezingCase) -> Answer:
    """Answer a freezing request. Raises SectionFault, OutOfRange."""
    ledger = Ledger()
    sections = read_sections(case.sections, ledger)
    known_section(sections, case.feeds_to, "/feeds_to")
    try:
        heat = heat_of(
            HeatCase(
                mould=case.mould,
                mould_constant=case.mould_constant,
                trial=trial_body(case.trial, ledger),
                pouring_temperature=case.pouring_temperature,
                temperature_fall=case.temperature_fall,
                curvature=case.curvature,
            ),
            metal_of(case.alloy, case.properties, ledger),
            sections.thinnest,
            ledger,
        )
    except MissingValue as missing:
        found = junctions_of(sections.joints, sections.measures, None, ledger)
        result = order_result(sections, None, None, None, found)
        return answer(ledger, result, junction_checks(found), missing.missing.why)
    cooling = cooling_of(heat.inputs)
    order = freezing_order(cooling, sections, case.feeds_to)
    report_cores(cooling, sections, ledger)
    found = junctions_of(sections.joints, sections.measures, order.frozen, ledger)
    result = order_result(sections, heat, cooling, order, found)
    return answer(ledger, result, [*order.checks, *heat.checks, *junction_checks(found)], _sentence(order))


def known_section(sections: Sections, name: str | None, pointer: str) -> None:
    """Raises SectionFault where the caller names a section that is not there."""
    names = tuple(one.name for one in sections.measures)
    if name is not None and name not in names:
        fault = Fault(pointer, "unknown_section", f"no section is called {name!r}", names)
        raise SectionFault((fault,))


def _sentence(order: Order) -> Say:
    time = order.frozen[order.last].time
    if len(order.frozen) == 1:
        return Say("{name} is solid {t} after the mould is full.", name=order.last, t=(time, "time"))
    return Say(
        "{name} freezes last, {t} after the mould is full: a void forms there unless a riser feeds it.",
        name=order.last,
        t=(time, "time"),
    )


def order_result(
    sections: Sections,
    heat: Heat | None,
    cooling: Cooling | None,
    order: Order | None,
    junctions: Sequence[JunctionAssessment],
) -> dict[str, Any]:
    """The result as the answer's schema lays it out; without ``order`` no time is told."""
    return {
        "volume": sections.volume,
        "mould_constant": cooling.mould_constant if cooling else None,
        "mould_constant_from": heat.constant_from if heat else None,
        "method": method_of(cooling),
        "pouring_temperature": heat.pouring_temperature if heat else None,
        "filled_temperature": heat.inputs.filled_temperature if heat else None,
        "freezing_temperature": cooling.freezing_temperature if cooling else None,
        "heat_to_freeze": cooling.heat if cooling else None,
        "sections": section_results(sections, order),
        "last_to_freeze": order.last if order else None,
        "freezing_time": order.frozen[order.last].time if order else None,
        "feed_path": _feed_path(order) if order else [],
        "apart": list(order.apart) if order else [],
        "junctions": junction_results(junctions),
    }


def _feed_path(order: Order) -> list[dict[str, Any]]:
    """Every step, and the whole way on to the target."""
    ways: dict[str, list[str]] = {order.target: [order.target]}
    for one in order.steps:
        # A step leads to a section reached already; a section under a riser of its own is the way's end.
        ways[one.start] = [one.start, *ways.get(one.end, [one.end])]
    return [
        {
            "start": one.start,
            "end": one.end,
            "step": one.ratio,
            "feeds": feeds(one.ratio),
            "way": ways[one.start],
        }
        for one in order.steps
    ]


def method_of(cooling: Cooling | None) -> str | None:
    """How times were found: ``bare`` (Chvorinov's rule as printed) or ``curvature``."""
    if cooling is None:
        return None
    return "curvature" if cooling.curved else "bare"


def section_results(sections: Sections, order: Order | None) -> list[dict[str, Any]]:
    """One entry per section in the order of the request; times are None where unknown."""
    results = []
    ranked = sorted(order.frozen.values(), key=lambda one: (one.time, one.body.name)) if order else []
    rank = {one.body.name: place + 1 for place, one in enumerate(ranked)}
    for one in sections.measures:
        frozen = order.frozen[one.name] if order else None
        results.append(
            {
                "name": one.name,
                "volume": one.volume,
                "cooling_area": one.cooling_area,
                "cored_area": one.cored_area,
                "core_factor": frozen.core_factor if frozen else None,
                "modulus": frozen.modulus if frozen else one.modulus,
                "thickness": one.thickness,
                "shape_curvature": frozen.shape_curvature if frozen else None,
                "bare_time": frozen.bare_time if frozen else None,
                "freezing_time": frozen.time if frozen else None,
                "rank": rank.get(one.name),
            }
        )
    return results
