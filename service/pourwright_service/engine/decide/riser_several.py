"""Risers of one casting: each sized on what it feeds, as if that were a casting of its own."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..assess.freezing import Cooling, feed_steps
from ..assess.riser import Masses, RiserInputs
from ..checks import Check
from ..formula import paused, step
from ..formulas import riser as formulas
from ..ledger import Ledger, MissingValue, Say
from .freezing import Order, Sections
from .metal import Metal
from .riser_choice import RiserChoice, choose_riser
from .riser_feeding import Feeding, Post
from .riser_inputs import CastingCase, NoFace, RiserShape, riser_inputs


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What all risers of one casting have in common; ``filled`` is the metal's temperature (K) in the
    full mould, ``timed`` says whether times can be told. ``volume`` (m^3) replaces the sections'."""

    cooling: Cooling
    sections: Sections | None
    order: Order | None
    casting: CastingCase | None
    metal: Metal
    filled: float | None
    timed: bool
    volume: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fed:
    """One riser: where it belongs, what was wished and chosen; ``refused`` where no face may bear it.

    ``subject`` is its pointer in the request, or its name where it was proposed.
    """

    post: Post | None
    subject: str
    shape: RiserShape
    choice: RiserChoice | None
    refused: Check | None

    @property
    def checks(self) -> tuple[Check, ...]:
        """Its checks, with its own subject."""
        if self.refused is not None:
            return (_about(self.refused, self.subject),)
        done = self.choice.assessment if self.choice else None
        return tuple(_about(check, self.subject) for check in done.checks) if done else ()


def _about(check: Check, subject: str) -> Check:
    """A check with the subject of its riser: a pointer is kept as one, a name stands by itself."""
    if not check.subject.startswith("/riser") or subject == "/riser":
        return check
    if not subject.startswith("/"):
        return replace(check, subject=subject)
    return replace(check, subject=subject + check.subject.removeprefix("/riser"))


def size_one(
    job: Job, post: Post | None, shape: RiserShape, ledger: Ledger, *, through: float
) -> RiserChoice:
    """The riser for one part of the casting. Raises MissingValue, NoFace, SectionFault."""
    return choose_riser(inputs_of(job, post, shape, ledger, through=through), shape, ledger)


def inputs_of(
    job: Job, post: Post | None, shape: RiserShape, ledger: Ledger, *, through: float
) -> RiserInputs:
    """What the riser of one part of the casting is judged on. Raises MissingValue, NoFace, SectionFault."""
    sections, order, casting, volume = job.sections, job.order, job.casting, job.volume
    if post is not None and sections is not None and order is not None:
        part, its_order = part_of(sections, order, post)
        if len(part.bodies) < len(sections.bodies):
            share = part.volume / sections.volume
            volume = None if volume is None else volume * share
            if casting is not None:
                figures = casting if order.target == post.section else CastingCase(volume=casting.volume)
                casting = replace(figures, volume=casting.volume * share)
        sections, order = part, its_order
    return riser_inputs(
        shape,
        job.cooling,
        sections,
        casting,
        order,
        job.metal,
        job.filled,
        ledger,
        volume=volume,
        timed=job.timed,
        through=through,
    )


def part_of(sections: Sections, order: Order, post: Post) -> tuple[Sections, Order]:
    """What one riser feeds, as if it were the whole casting; the whole where it feeds everything."""
    if len(post.feeds) == len(sections.bodies):
        return sections, order
    names = frozenset(post.feeds)
    part = Sections(
        measures=tuple(one for one in sections.measures if one.name in names),
        bodies=tuple(body for body in sections.bodies if body.name in names),
        joints=tuple(joint for joint in sections.joints if names.issuperset(joint.names)),
        counts=sections.counts,
    )
    frozen = {name: one for name, one in order.frozen.items() if name in names}
    with paused():
        steps = feed_steps(frozen, part.joins, post.section)
    last = max(frozen.values(), key=lambda one: (one.time, one.body.name)).body.name
    apart = tuple(sorted(frozen.keys() - {post.section, *(one.start for one in steps)}))
    return part, Order(frozen=frozen, last=last, target=post.section, steps=steps, apart=apart, checks=())


def share_through(job: Job, post: Post | None) -> float:
    """Modulus of the heaviest section that this riser feeds through a lighter one, over that of the last
    to freeze; 0 where there is none."""
    if post is None or job.order is None or not post.through:
        return 0.0
    frozen = job.order.frozen
    last = max((frozen[name] for name in post.feeds), key=lambda one: (one.time, one.body.name))
    return max(frozen[name].modulus for name in post.through) / last.modulus


def feed_all(
    job: Job, shapes: Sequence[RiserShape], feeding: Feeding | None, ledger: Ledger, *, listed: bool
) -> tuple[Fed, ...]:
    """Every riser of the casting, the main one first.

    Wishes of the main riser hold for those that are proposed. Raises MissingValue for a riser that
    the caller has described too little, and SectionFault.
    """
    posts: Sequence[Post | None] = feeding.posts if feeding else (None,) * len(shapes)
    through = max((share_through(job, post) for post in posts), default=0.0)
    fed: list[Fed] = []
    for index, post in enumerate(posts):
        if index < len(shapes):
            place = f"/risers/{index}" if listed else "/riser"
            own = ledger.seen_from(riser=place, _="") if listed else ledger
            fed.append(_one(job, post, place, shapes[index], own, through=through))
        elif post is not None:
            with step("riser for", post.section):
                fed.append(proposed(job, post, fed[0], ledger))
    return tuple(fed)


def _one(
    job: Job, post: Post | None, subject: str, shape: RiserShape, ledger: Ledger, *, through: float
) -> Fed:
    try:
        choice = size_one(job, post, shape, ledger, through=through)
    except NoFace as none:
        return Fed(post=post, subject=subject, shape=shape, choice=None, refused=none.check)
    return Fed(post=post, subject=subject, shape=shape, choice=choice, refused=None)


SHARED = ("/riser/rounding_step", "/riser/height_to_diameter")
"""Choices that a made riser needs none of, but a proposed one beside it does."""


def proposed(job: Job, post: Post, main: Fed, ledger: Ledger) -> Fed:
    """A riser beside the main one: made as that one is, on the same face or else beside the section."""
    wishes, subject = main.shape, f"riser on {post.section}"
    ratio = wishes.height_to_diameter
    if wishes.diameter is not None and wishes.height is not None:
        ratio = wishes.height / wishes.diameter
    shape = replace(
        wishes,
        section=post.section,
        face=main.choice.inputs.face if main.choice else wishes.face,
        diameter=None,
        height=None,
        height_to_diameter=ratio,
        modulus_ratio=main.choice.inputs.modulus_ratio if main.choice else wishes.modulus_ratio,
        neck=replace(wishes.neck, thickness=None) if wishes.neck else None,
    )
    if main.choice is not None and main.choice.inputs.position == "top" and shape.face is None:
        shape = replace(shape, face="top")
    scratch = Ledger()
    try:
        made = _one(job, post, subject, shape, scratch, through=0.0)
    except MissingValue:
        made = Fed(post=post, subject=subject, shape=shape, choice=None, refused=None)
    if made.choice is None and shape.position != "side":
        scratch = Ledger()
        beside = replace(shape, position="side", face=None, faces={})
        made = _one(job, post, f"riser beside {post.section}", beside, scratch, through=0.0)
    for pointer in SHARED:
        where = ledger.place(pointer)
        if pointer in scratch.defaults and where not in ledger.defaults and wishes.diameter is not None:
            ledger.defaults[where] = replace(scratch.defaults[pointer], pointer=where)
    return made


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What metal costs (per kg), and how much of that returned metal is worth (0 to 1)."""

    metal: float
    returned: float


def cost_of(masses: Masses | None, price: Price | None) -> float | None:
    """Money that a riser's metal costs when what is left of it is returned; None where not known."""
    if masses is None or price is None:
        return None
    return formulas.riser_cost(price.metal, masses.riser, price.returned, masses.riser_left)


def together(fed: Sequence[Fed]) -> Masses | None:
    """Casting and all risers; None where a riser or a density is not known."""
    all_masses = [
        one.choice.assessment.masses if one.choice and one.choice.assessment else None for one in fed
    ]
    known = [masses for masses in all_masses if masses is not None]
    if not known or len(known) < len(all_masses):
        return None
    casting, left = sum(one.casting for one in known), sum(one.riser_left for one in known)
    return Masses(
        casting=casting,
        riser=sum(one.riser for one in known),
        riser_left=left,
        yield_ratio=formulas.feeding_yield(casting, left),
    )


NUMBERS = {2: "Two", 3: "Three", 4: "Four", 5: "Five", 6: "Six"}


def several_sentence(fed: Sequence[Fed]) -> Say:
    """The sentence of a casting with several risers."""
    parts: dict[str, tuple[float, str] | str] = {}
    listed = []
    for index, one in enumerate(fed):
        decision = one.choice.decision if one.choice else None
        if decision is None or one.choice is None:
            continue
        parts |= {f"d{index}": (decision.diameter, "length"), f"h{index}": (decision.height, "length")}
        where = "beside" if one.choice.inputs.position == "side" else "on"
        parts[f"s{index}"] = f"{where} {one.choice.inputs.feeds_first}"
        tall = "" if one.choice.inputs.shape == "ball" else f" and {{h{index}}} tall"
        listed.append(f"{{d{index}}} across{tall} {{s{index}}}")
    count = NUMBERS.get(len(listed), str(len(listed)))
    return Say(f"{count} risers feed the casting: " + "; ".join(listed) + ".", **parts)
