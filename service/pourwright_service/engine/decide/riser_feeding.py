"""Which sections need a riser of their own, which one riser feeds together, and why.

A heavy section is cut off where every way to a riser leads through a section that freezes well
before it. It then gets a riser of its own, unless the metal freezes short and the thinner metal
between is short enough, or the metal expands as it freezes.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from ..assess.freezing import FeedStep, feed_steps
from ..assess.riser_checks import check_zone
from ..checks import Check
from ..formula import paused
from ..geometry.sections import Fault, SectionFault
from ..ledger import Ledger, Say
from .freezing import Order, Sections
from .metal import Metal
from .riser_words import Manner, manner_of, why_own, why_shared

CUT_OFF = 0.8
"""A section is cut off where a step on its way to the riser is below this; see ``feed-step``."""

MOST = 12
"""Risers that are proposed at most; what is left stays a failed ``feed-step``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DistanceCase:
    """Length (m) of the thinner metal between two heavy sections."""

    section: str
    to: str
    distance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """A place for a riser: the section it is next to, all that it feeds, and those of them that are
    heavy and fed through thinner metal. ``why`` is there for risers that were proposed."""

    section: str
    feeds: tuple[str, ...]
    through: tuple[str, ...]
    why: Say | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Feeding:
    """How the casting is fed: the places of its risers, the main one first.

    ``isolated`` are heavy sections that the main riser is cut off from, ``alone`` those of them
    that feed themselves; ``unfed`` get no riser although they would need one.
    """

    manner: Manner
    posts: tuple[Post, ...]
    isolated: tuple[str, ...]
    alone: tuple[str, ...]
    unfed: tuple[str, ...]
    between: Mapping[str, str]
    checks: tuple[Check, ...]

    @property
    def also(self) -> tuple[str, ...]:
        """Sections to which metal need not come through lighter ones from the main riser."""
        others = tuple(post.section for post in self.posts[1:])
        return (*others, *(name for post in self.posts for name in post.through), *self.alone)


def feeding_of(
    order: Order,
    sections: Sections,
    metal: Metal,
    stands: Sequence[str],
    kept_open: frozenset[str],
    distances: Sequence[DistanceCase],
    ledger: Ledger,
    *,
    several: bool | None,
    listed: bool,
) -> Feeding:
    """Where risers are needed beside those at ``stands``; ``kept_open`` are sections under a riser.

    Where the caller has ``listed`` the risers, or does not want ``several``, none is added. Raises
    SectionFault for a distance between sections that are not there.
    """
    told = _told(distances, sections, ledger)
    manner = manner_of(metal)
    main = stands[0]
    isolated = _isolated(order, sections, (main,), kept_open)
    adds = False
    if isolated and not listed and manner != "graphite":
        adds = ledger.use(
            "/several",
            several,
            True,
            "flag",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="heavy sections that the riser cannot reach get risers of their own",
        )
    places: list[str] = list(stands)
    whys: dict[str, Say] = {}
    through: dict[str, str] = {}
    alone: list[str] = []
    unfed: list[str] = []
    checks: list[Check] = []
    between: dict[str, str] = {}
    while heavy := _heaviest_cut_off(order, sections, (*places, *through, *alone, *unfed), kept_open):
        between[heavy] = _thinnest(heavy, main, order, sections)
        if manner == "graphite":
            alone.append(heavy)
            continue
        zone = _zone(heavy, places, told, order, sections) if manner == "skin" else None
        if zone is not None and zone[1].verdict == "pass":
            through[heavy] = zone[0]
            checks.append(zone[1])
        elif adds and len(places) < MOST:
            places.append(heavy)
            whys[heavy] = why_own(heavy, between[heavy], main, zone[1] if zone else None)
        else:
            unfed.append(heavy)
            checks += [zone[1]] if zone else []
    fed = _fed(order, sections, places, through, (*alone, *unfed))
    return Feeding(
        manner=manner,
        posts=tuple(
            Post(
                section=place,
                feeds=fed[place],
                through=tuple(name for name, by in through.items() if by == place),
                why=whys.get(place) or why_shared(place, through, between),
            )
            for place in places
        ),
        isolated=isolated,
        alone=tuple(alone),
        unfed=tuple(unfed),
        between=between,
        checks=tuple(checks),
    )


def _told(
    distances: Sequence[DistanceCase], sections: Sections, ledger: Ledger
) -> dict[frozenset[str], float]:
    """The least distance (m) told between two sections. Raises SectionFault."""
    names = tuple(one.name for one in sections.measures)
    faults = []
    told: dict[frozenset[str], float] = {}
    for index, one in enumerate(distances):
        for word, name in (("section", one.section), ("to", one.to)):
            if name not in names:
                place = ledger.place(f"/distances/{index}/{word}")
                faults.append(Fault(place, "unknown_section", f"no section is called {name!r}", names))
        if one.section == one.to:
            place = ledger.place(f"/distances/{index}/to")
            faults.append(Fault(place, "inconsistent", "a section has no distance from itself"))
        pair = frozenset((one.section, one.to))
        told[pair] = min(one.distance, told.get(pair, one.distance))
    if faults:
        raise SectionFault(tuple(faults))
    return told


def _cut_off(order: Order, sections: Sections, sources: Iterable[str], kept_open: frozenset[str]) -> set[str]:
    """Sections whose best way to any of the sources has a step that is too small."""
    with paused():
        steps = feed_steps(order.frozen, sections.joins, *dict.fromkeys(sources))
    lost: set[str] = set()
    for one in steps:
        if one.end in lost or (one.ratio < CUT_OFF and one.end not in kept_open):
            lost.add(one.start)
    return lost


def _heaviest_cut_off(
    order: Order, sections: Sections, sources: Iterable[str], kept_open: frozenset[str]
) -> str | None:
    lost = _cut_off(order, sections, sources, kept_open)
    return max(lost, key=lambda name: (order.frozen[name].time, name), default=None)


def _isolated(
    order: Order, sections: Sections, sources: tuple[str, ...], kept_open: frozenset[str]
) -> tuple[str, ...]:
    """The heavy sections that these sources do not reach, the heaviest first."""
    found: list[str] = []
    while len(found) < len(order.frozen):
        heavy = _heaviest_cut_off(order, sections, (*sources, *found), kept_open)
        if heavy is None:
            break
        found.append(heavy)
    return tuple(found)


def _between(heavy: str, place: str, order: Order, sections: Sections) -> tuple[str, ...] | None:
    """Sections on the best way from a heavy section to the one at a riser; None where no join leads there."""
    with paused():
        steps: dict[str, FeedStep] = {
            one.start: one for one in feed_steps(order.frozen, sections.joins, place)
        }
    way, name = [], heavy
    while name != place:
        if name not in steps:
            return None
        name = steps[name].end
        way.append(name)
    return tuple(way[:-1]) or (place,)


def _thinnest(heavy: str, place: str, order: Order, sections: Sections) -> str:
    """The thinnest section between a heavy one and the main riser; its first neighbour on that way."""
    thick = {one.name: one.thickness for one in sections.measures}
    way = _between(heavy, place, order, sections) or (place,)
    return min(way, key=lambda name: (thick[name], name))


def _zone(
    heavy: str,
    places: Sequence[str],
    told: Mapping[frozenset[str], float],
    order: Order,
    sections: Sections,
) -> tuple[str, Check] | None:
    """The riser that comes nearest to feeding this section too, judged; None where no distance is told."""
    thick = {one.name: one.thickness for one in sections.measures}
    best: tuple[float, str, Check] | None = None
    for place in places:
        distance, way = told.get(frozenset((heavy, place))), _between(heavy, place, order, sections)
        if distance is None or way is None:
            continue
        thinnest = min(way, key=lambda name: (thick[name], name))
        with paused():
            check = check_zone(distance, thick[thinnest], heavy, place, thinnest)
        if best is None or (-check.slack, place) < best[:2]:
            best = (-check.slack, place, check)
    return None if best is None else best[1:]


def _fed(
    order: Order,
    sections: Sections,
    places: Sequence[str],
    through: Mapping[str, str],
    others: Sequence[str],
) -> dict[str, tuple[str, ...]]:
    """What each riser feeds, by name; what no join reaches, and what feeds itself, is the main riser's."""
    main = places[0]
    root = {name: name for name in places} | dict(through) | dict.fromkeys(others, main)
    with paused():
        for one in feed_steps(order.frozen, sections.joins, *root):
            root[one.start] = root[one.end]
    fed: dict[str, list[str]] = {place: [] for place in places}
    for name in sorted(order.frozen):
        fed[root.get(name, main)].append(name)
    return {place: tuple(names) for place, names in fed.items()}
