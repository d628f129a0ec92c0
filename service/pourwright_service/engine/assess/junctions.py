"""Given walls that meet and the fillet between them: is the place a hot spot, and does the fillet suit?

Only forward. The circle is exact geometry; what it says of time is the most that can be, and is
told beside the sections' own times, never put in their place.
"""

from dataclasses import dataclass

from ..checks import Check, check_kind
from ..formula import step
from ..formulas import junctions
from ..geometry.junctions import Meeting, circle_at
from ..ledger import Say
from .freezing import Frozen

HOT_SPOT = check_kind(
    "junction-hot-spot",
    "The circle in a junction is no larger than a T with a good fillet makes it",
    kind="ratio",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
    margin=True,
)
SHARP_FILLET = check_kind(
    "fillet-not-sharp",
    "The fillet at a junction is at least a third of the thinner wall",
    kind="length",
    sense="at least",
    source="COMMON-PRACTICE",
    else_="warn",
    margin=True,
)
LARGE_FILLET = check_kind(
    "fillet-not-large",
    "The fillet at a junction is at most half of the thinner wall",
    kind="length",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
    margin=True,
)

HEAVIEST = 1.5
"""Circle over thicker wall that is still good: a T of equal walls with a fillet of half the wall."""

PLAIN = 1.05
"""Circle over thicker wall up to which a junction is no heavier than its walls, for all that is known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JunctionInputs:
    """Walls that meet, how, with which fillet (m) and angle (rad), and the pointer of their join."""

    met: Meeting
    kind: str
    fillet: float
    angle: float
    pointer: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JunctionAssessment:
    """The circle (m) where walls meet, over the thicker wall, and the fillets that suit (m).

    ``modulus`` (m) and ``time`` (s) are the most that the place can have, None where no time is
    known; ``time_ratio`` likewise is the most by which it freezes later than the thicker wall.
    """

    inputs: JunctionInputs
    circle: float
    ratio: float
    time_ratio: float
    modulus: float | None
    time: float | None
    least_fillet: float
    most_fillet: float
    checks: tuple[Check, ...]


def assess_junction(inputs: JunctionInputs, frozen: dict[str, Frozen] | None) -> JunctionAssessment:
    """Judge one junction; ``frozen`` are the sections, None where no time is known."""
    met = inputs.met
    with step("junction", f"{met.wall} and {met.branch}"):
        circle = circle_at(met, inputs.kind, inputs.fillet, inputs.angle)
        ratio = junctions.circle_ratio(circle, met.thick)
        time_ratio = junctions.junction_time_ratio(ratio)
        least, most = junctions.least_fillet(met.thin), junctions.most_fillet(met.thin)
        heavier = _heavier(met, frozen) if frozen else None
        modulus = junctions.junction_modulus(heavier.modulus, ratio) if heavier else None
    checks = [_check_hot_spot(inputs, circle, ratio, time_ratio)]
    if inputs.kind != "straight":
        checks += [_check_sharp(inputs, least), _check_large(inputs, most)]
    return JunctionAssessment(
        inputs=inputs,
        circle=circle,
        ratio=ratio,
        time_ratio=time_ratio,
        modulus=modulus,
        time=heavier.time * time_ratio if heavier else None,
        least_fillet=least,
        most_fillet=most,
        checks=tuple(checks),
    )


def _heavier(met: Meeting, frozen: dict[str, Frozen]) -> Frozen:
    """The section with the thicker wall; of equal walls the one that freezes later."""
    if met.thickness == met.branch_thickness:
        return max((frozen[met.wall], frozen[met.branch]), key=lambda one: (one.time, one.body.name))
    return frozen[met.heavier]


def _parts(inputs: JunctionInputs, **more: tuple[float, str]) -> dict[str, tuple[float, str] | str]:
    return {"a": inputs.met.branch, "b": inputs.met.wall, **more}


_WHAT_HELPS = {
    "corner": "Round the outside of the corner too, with the fillet and the wall as its radius.",
    "tee": "Make the fillet smaller, or hollow the far side of the wall out opposite the branch.",
    "cross": "Set the two off against each other, so that two Ts stand instead of one cross.",
    "wye": "Make the fillets smaller, or core the middle out.",
    "straight": "Taper the heavier one towards the other.",
}


def _check_hot_spot(inputs: JunctionInputs, circle: float, ratio: float, time_ratio: float) -> Check:
    parts = _parts(
        inputs,
        d=(circle, "length"),
        t=(inputs.met.thick, "length"),
        n=(ratio, "ratio"),
        k=(time_ratio, "ratio"),
        most=(HEAVIEST, "ratio"),
    )
    plain = "Where {a} meets {b} the metal is no heavier than its walls."
    heavy = (
        "Where {a} meets {b} a circle of {d} fits, {n} times the thicker wall ({t}): it stays liquid "
        "longer there than in the walls, up to {k} times as long. Keep the place near a riser."
    )
    return HOT_SPOT.judge(
        ratio,
        HEAVIEST,
        subject=inputs.pointer,
        ok=Say(plain if ratio <= PLAIN else heavy, **parts),
        bad=Say(
            "Where {a} meets {b} is a hot spot, and a void forms there unless a riser feeds it: a circle "
            "of {d} fits, {n} times the thicker wall ({t}; up to {most} is good), and it stays liquid up to "
            "{k} times as long. " + _WHAT_HELPS[inputs.kind],
            **parts,
        ),
    )


def _check_sharp(inputs: JunctionInputs, least: float) -> Check:
    parts = _parts(inputs, r=(inputs.fillet, "length"), least=(least, "length"))
    return SHARP_FILLET.judge(
        inputs.fillet,
        least,
        subject=inputs.pointer,
        ok=Say("The fillet of {r} where {a} meets {b} is round enough.", **parts),
        bad=Say(
            "The hollow where {a} meets {b} is too sharp: the metal tears there while it shrinks, and the "
            "edge of the sand breaks off. The fillet is {r}; make it {least} or more.",
            **parts,
        ),
    )


def _check_large(inputs: JunctionInputs, most: float) -> Check:
    parts = _parts(inputs, r=(inputs.fillet, "length"), most=(most, "length"))
    return LARGE_FILLET.judge(
        inputs.fillet,
        most,
        subject=inputs.pointer,
        ok=Say("The fillet of {r} where {a} meets {b} is not too large.", **parts),
        bad=Say(
            "The fillet where {a} meets {b} heaps up metal that freezes late: it is {r}; {most} is enough. "
            "(Some foundries go up to the wall itself, where a riser stands near.)",
            **parts,
        ),
    )
