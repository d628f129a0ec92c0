"""A riser's answer as its schema lays it out: the main riser, all of them, and what else would do."""

from collections.abc import Sequence
from typing import Any

from ..assess.freezing import Cooling
from ..checks import Verdict
from ..ledger import Say
from .freezing import Sections, method_of
from .metal import Metal
from .riser_alternatives import Alternative
from .riser_choice import RiserChoice
from .riser_feeding import Feeding
from .riser_inputs import CastingCase
from .riser_several import Fed, Price, cost_of, together
from .riser_words import advice, distance_words, reason

TIMELESS = Cooling(mould_constant=1.0)
"""Stands in where nothing is known of the mould: moduli can be compared, times cannot be told."""


def sentence(choice: RiserChoice) -> tuple[Say, Verdict]:
    """The sentence that a riser's answer begins with, and the verdict that it adds."""
    if choice.decision is None or choice.assessment is None:
        return choice.why_not or Say("No riser was found."), "pass" if choice.needless else "fail"
    inputs = choice.inputs
    where = "beside the casting" if inputs.position == "side" else f"on {inputs.stands_on or 'the casting'}"
    parts: dict[str, tuple[float, str] | str] = {
        "d": (choice.decision.diameter, "length"),
        "h": (choice.decision.height, "length"),
        "where": where,
    }
    if inputs.shape == "ball":
        return Say("A ball riser {d} across {where} feeds the casting.", **parts), "pass"
    return Say("A riser {d} across and {h} tall {where} feeds the casting.", **parts), "pass"


_NO_LISTS: dict[str, Any] = {"risers": [], "feeding": None, "alternatives": []}

FIELDS = (
    "position",
    "shape",
    "section",
    "face",
    "diameter",
    "height",
    "neck",
    "cut_off_area",
    "volume",
    "modulus",
    "freezing_time",
    "casting_volume",
    "casting_modulus",
    "casting_time",
    "last_section",
    "shrinkage",
    "feeding_efficiency",
    "method",
    "mould_constant",
    "criteria",
    "governs",
    "shrinkage_low",
    "shrinkage_high",
    "volume_diameter_low",
    "volume_diameter_high",
    "casting_mass",
    "riser_mass",
    "riser_left_mass",
    "yield_ratio",
)
"""What a riser's result tells."""


def no_riser_result(casting: CastingCase | None, sections: Sections | None) -> dict[str, Any]:
    """The result where not even the criteria could be computed."""
    volume = casting.volume if casting else sections.volume if sections else None
    return {**dict.fromkeys(FIELDS), "casting_volume": volume, "criteria": [], **_NO_LISTS}


def riser_result(choice: RiserChoice, cooling: Cooling) -> dict[str, Any]:
    """The result as the answer's schema lays it out."""
    decision, done, inputs = choice.decision, choice.assessment, choice.inputs
    timed = cooling is not TIMELESS
    masses = done.masses if done else None
    return {
        "position": inputs.position,
        "shape": inputs.shape,
        "section": inputs.stands_on,
        "face": inputs.face,
        "diameter": decision.diameter if decision else None,
        "height": decision.height if decision and inputs.shape != "ball" else None,
        "neck": decision.neck if decision else None,
        "cut_off_area": done.foot_area if done else None,
        "volume": done.volume if done else None,
        "modulus": done.modulus if done else None,
        "freezing_time": done.time if done and timed else None,
        "casting_volume": inputs.casting_volume,
        "casting_modulus": done.casting_modulus if done else None,
        "casting_time": done.casting_time if done and timed else None,
        "last_section": done.last_section if done else None,
        "shrinkage": inputs.shrinkage,
        "feeding_efficiency": inputs.feeding_efficiency,
        "method": method_of(cooling) if timed else None,
        "mould_constant": cooling.mould_constant if timed else None,
        "criteria": [
            {"criterion": name, "diameter": diameter, "used": name in inputs.criteria}
            for name, diameter in choice.needed.items()
        ],
        "governs": choice.governs,
        "shrinkage_low": choice.shrinkage_ends[0] if choice.shrinkage_ends else None,
        "shrinkage_high": choice.shrinkage_ends[1] if choice.shrinkage_ends else None,
        "volume_diameter_low": choice.volume_diameters[0] if choice.volume_diameters else None,
        "volume_diameter_high": choice.volume_diameters[1] if choice.volume_diameters else None,
        "casting_mass": masses.casting if masses else None,
        "riser_mass": masses.riser if masses else None,
        "riser_left_mass": masses.riser_left if masses else None,
        "yield_ratio": masses.yield_ratio if masses else None,
        **_NO_LISTS,
    }


def entry(one: Fed, *, timed: bool, cost: float | None) -> dict[str, Any]:
    """One riser in the list of all; ``cost`` is what its metal costs."""
    choice, post = one.choice, one.post
    decision, done = (choice.decision, choice.assessment) if choice else (None, None)
    inputs, masses = choice.inputs if choice else None, done.masses if done else None
    tall = decision is not None and inputs is not None and inputs.shape != "ball"
    why_not = one.refused.message if one.refused else choice.why_not if choice else None
    return {
        "subject": one.subject,
        "section": post.section if post else None,
        "feeds": list(post.feeds) if post else [],
        "through": list(post.through) if post else [],
        "why": post.why if post else None,
        "position": inputs.position if inputs else None,
        "shape": inputs.shape if inputs else None,
        "face": inputs.face if inputs else None,
        "free_faces": list(inputs.free_faces) if inputs else [],
        "diameter": decision.diameter if decision else None,
        "height": decision.height if decision and tall else None,
        "neck": decision.neck if decision else None,
        "cut_off_area": done.foot_area if done else None,
        "volume": done.volume if done else None,
        "modulus": done.modulus if done else None,
        "freezing_time": done.time if done and timed else None,
        "casting_volume": inputs.casting_volume if inputs else None,
        "casting_modulus": done.casting_modulus if done else None,
        "casting_time": done.casting_time if done and timed else None,
        "last_section": done.last_section if done else None,
        "governs": choice.governs if choice else None,
        "riser_mass": masses.riser if masses else None,
        "riser_left_mass": masses.riser_left if masses else None,
        "metal_cost": cost,
        "why_not": why_not,
    }


def alternative_result(one: Alternative, cost: float | None) -> dict[str, Any]:
    """One of the risers beside each other; sizes are told even where it does not serve."""
    choice = one.choice
    decision, done = (choice.decision, choice.assessment) if choice else (None, None)
    masses = done.masses if done else None
    return {
        "kind": one.kind,
        "serves": one.volume is not None,
        "position": choice.inputs.position if choice else None,
        "shape": choice.inputs.shape if choice else None,
        "diameter": decision.diameter if decision else None,
        "height": decision.height if decision and choice and choice.inputs.shape != "ball" else None,
        "neck": decision.neck if decision else None,
        "volume": done.volume if done else None,
        "cut_off_area": done.foot_area if done else None,
        "governs": choice.governs if choice else None,
        "riser_mass": masses.riser if masses else None,
        "riser_left_mass": masses.riser_left if masses else None,
        "yield_ratio": masses.yield_ratio if masses else None,
        "metal_cost": cost,
        "why_not": one.why_not,
    }


def feeding_result(
    feeding: Feeding, metal: Metal, fed: Sequence[Fed], price: Price | None, *, distances_told: bool
) -> dict[str, Any]:
    """How the whole casting is fed, and what all its risers take together."""
    masses = together(fed)
    main = feeding.posts[0].section
    own = tuple(post.section for post in feeding.posts[1:] if post.why is not None)
    return {
        "freezing_class": metal.freezing_class,
        "reason": reason(feeding.manner, metal),
        "distance": distance_words(feeding.manner, feeding.isolated, distances_told),
        "isolated": list(feeding.isolated),
        "self_fed": list(feeding.alone),
        "unfed": list(feeding.unfed),
        "advice": list(advice(feeding.manner, main, own, feeding.unfed, feeding.alone, feeding.between)),
        "casting_mass": masses.casting if masses else None,
        "riser_mass": masses.riser if masses else None,
        "riser_left_mass": masses.riser_left if masses else None,
        "yield_ratio": masses.yield_ratio if masses else None,
        "metal_cost": cost_of(masses, price),
    }
