"""Other risers that would do, beside the one chosen: what each takes of metal, cutting and money."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from ..bounds import OutOfRange
from ..formula import paused
from ..geometry.sections import SectionFault
from ..ledger import MissingValue, Say
from .riser_choice import RiserChoice
from .riser_inputs import NeckCase, NoFace, RiserShape, SleeveCase

KINDS = ("chosen", "least_metal", "domed", "ball", "sleeve", "top", "top_with_neck", "side_with_neck")
"""What can stand beside each other, in the order of ties."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """One riser that would do, or why it would not."""

    kind: str
    choice: RiserChoice | None
    why_not: Say | None

    @property
    def volume(self) -> float | None:
        """Metal it takes, m^3; None where it does not serve."""
        served = self.choice and self.choice.assessment and self.why_not is None
        return self.choice.assessment.volume if served and self.choice and self.choice.assessment else None


def alternatives(
    chosen: RiserChoice, shape: RiserShape, sleeve: float | None, size: Callable[[RiserShape], RiserChoice]
) -> tuple[Alternative, ...]:
    """The chosen riser and the others, least metal first; those that do not serve stand last.

    ``size`` finds the riser of a wish. ``sleeve`` is the modulus ratio of a sleeve at hand.
    """
    found = [_judged("chosen", chosen)]
    with paused():
        for kind, wish in wishes(chosen, shape, sleeve):
            try:
                found.append(_judged(kind, size(wish)))
            except NoFace as none:
                found.append(Alternative(kind=kind, choice=None, why_not=none.check.message))
            except MissingValue as missing:
                found.append(Alternative(kind=kind, choice=None, why_not=missing.missing.why))
            except (OutOfRange, SectionFault) as fault:
                found.append(Alternative(kind=kind, choice=None, why_not=Say("{f}", f=str(fault))))
    return tuple(sorted(found, key=_rank))


def _rank(one: Alternative) -> tuple[bool, float, int]:
    return one.volume is None, float(f"{one.volume or 0.0:.9e}"), KINDS.index(one.kind)


def _judged(kind: str, choice: RiserChoice) -> Alternative:
    """A riser with the reason why it does not serve, if it does not."""
    why = choice.why_not
    if why is None and choice.assessment is not None:
        failed = [check for check in choice.assessment.checks if check.verdict == "fail"]
        why = failed[0].message if failed else None
    return Alternative(kind=kind, choice=choice, why_not=why)


def wishes(chosen: RiserChoice, shape: RiserShape, sleeve: float | None) -> Sequence[tuple[str, RiserShape]]:
    """What else could be wished for; sizes that are already made are left open."""
    inputs = chosen.inputs
    free = replace(
        shape,
        diameter=None,
        height=None,
        section=inputs.feeds_first or None,
        position=inputs.position,
        shape=inputs.shape,
        modulus_ratio=inputs.modulus_ratio,
        height_to_diameter=None if shape.least_metal else shape.height_to_diameter,
        least_metal=None,
        neck=NeckCase(length=shape.neck.length) if shape.neck else None,
    )
    foot = {name: state for name, state in free.faces.items() if name == "bottom"}
    plain_top = inputs.position == "top" and not inputs.necked
    listed = []
    if inputs.shape != "ball" and not shape.least_metal:
        listed.append(("least_metal", replace(free, least_metal=True, height_to_diameter=None)))
    if inputs.shape != "domed":
        listed.append(("domed", replace(free, shape="domed", faces=foot, feeding_efficiency=None)))
    if inputs.shape != "ball":
        ball = replace(free, shape="ball", faces={}, height_to_diameter=None, feeding_efficiency=None)
        listed.append(("ball", ball))
    if sleeve is not None and shape.sleeve is None:
        sleeved = replace(free, sleeve=SleeveCase(modulus_ratio=sleeve), feeding_efficiency=None)
        listed.append(("sleeve", sleeved))
    if not plain_top and inputs.shape != "ball":
        listed.append(("top", replace(free, position="top", neck=None, faces={})))
    if (plain_top or inputs.position == "side") and inputs.shape != "ball":
        neck = free.neck or NeckCase()
        listed.append(("top_with_neck", replace(free, position="top", neck=neck, faces={})))
    if inputs.position != "side":
        listed.append(("side_with_neck", replace(free, position="side", face=None, faces={})))
    return listed


def would_do(found: Sequence[Alternative]) -> Say | None:
    """The alternative with the least metal, in a sentence; None where nothing serves."""
    words = {
        "least_metal": "in other proportions",
        "domed": "with a half-ball top",
        "ball": "as a ball on a neck",
        "sleeve": "in a sleeve",
        "top": "on top",
        "top_with_neck": "on a neck",
        "side_with_neck": "beside it on a neck",
    }
    for one in found:
        if one.volume is None or one.choice is None or one.choice.decision is None:
            continue
        return Say(
            "What would do: a riser {how}, {d} across and {h} tall.",
            how=words.get(one.kind, "as it is"),
            d=(one.choice.decision.diameter, "length"),
            h=(one.choice.decision.height, "length"),
        )
    return None
