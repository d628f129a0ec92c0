"""Given a mould: how hard does the metal lift the cope and the cores, and what must lie on it."""

from dataclasses import dataclass

import numpy as np

from ..checks import Check, check_kind
from ..formula import step
from ..formulas import mould
from ..ledger import Say
from .freezing import plain

RISER_IN_COPE = check_kind(
    "riser-in-cope",
    "The riser fits into the cope",
    kind="length",
    sense="at most",
    source="COMMON-PRACTICE",
)
RISER_ABOVE = check_kind(
    "riser-above-casting",
    "A riser beside the casting stands at least as high as it",
    kind="length",
    sense="at least",
    source="COMMON-PRACTICE",
)
DRAG_DEEP = check_kind(
    "drag-deep-enough",
    "The drag is deep enough for the casting and the sand under it",
    kind="length",
    sense="at least",
    source="COMMON-PRACTICE",
)
FLASK_FITS = check_kind(
    "flask-fits",
    "A flask of the shop is large enough in plan",
    kind="length",
    sense="at least",
    source="COMMON-PRACTICE",
)
COPE_HELD = check_kind(
    "cope-held",
    "The cope is heavy enough to stay down by itself",
    kind="mass",
    sense="at least",
    source="SHOP-PRACTICE-MARGIN",
    else_="warn",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CoreInputs:
    """A core: m^3 within the metal, kg/m^3; ``lying`` when metal can get under it."""

    name: str
    volume: float
    density: float
    lying: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldInputs:
    """What lifts and what holds; SI.

    ``head`` runs from the parting to the metal's level in the basin. ``parting_area`` is metal in
    the parting plane (casting and channels), ``volume_in_cope`` the metal above it that sand
    covers, ``open_area`` the part of it under an open riser, ``open_head`` the head over that
    riser's foot. ``cope_mass`` is sand and box; ``flask_known`` says that it is that of a real flask
    and not of the least sand that the mould needs.
    """

    density_liquid: float
    gravity: float
    head: float
    parting_area: float
    volume_in_cope: float
    open_area: float
    open_head: float
    cores: tuple[CoreInputs, ...]
    safety_factor: float
    cope_mass: float
    flask_known: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CoreLift:
    """One core: net and gross lift in N, and whether the cope has to hold it."""

    name: str
    net_lift: float
    gross_lift: float
    counted: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldAssessment:
    """Forces in N, masses in kg."""

    metal_lift: float
    projected_lift: float
    cores: tuple[CoreLift, ...]
    lift: float
    cope_mass: float
    weight: float
    checks: tuple[Check, ...]


def assess_mould(inputs: MouldInputs) -> MouldAssessment:
    """Add up the lift on the cope and find the weight that holds it down."""
    with step("mould", ""):
        covered = mould.cope_lift(
            inputs.density_liquid, inputs.gravity, inputs.head, inputs.parting_area, inputs.volume_in_cope
        )
        opened = mould.level_force(inputs.density_liquid, inputs.gravity, inputs.open_head, inputs.open_area)
        projected = mould.level_force(inputs.density_liquid, inputs.gravity, inputs.head, inputs.parting_area)
        cores = tuple(_core(inputs, core) for core in inputs.cores)
        metal = plain(np.maximum(0.0, covered - opened))
        lift = metal + sum(plain(np.maximum(0.0, core.net_lift)) for core in cores if core.counted)
        weight = mould.weight_on_cope(inputs.safety_factor, lift, inputs.gravity, inputs.cope_mass)
    return MouldAssessment(
        metal_lift=metal,
        projected_lift=projected,
        cores=cores,
        lift=lift,
        cope_mass=inputs.cope_mass,
        weight=weight,
        checks=(_check_held(inputs, lift, weight),),
    )


def _core(inputs: MouldInputs, core: CoreInputs) -> CoreLift:
    with step("core", core.name):
        net = mould.core_net_lift(inputs.density_liquid, core.density, inputs.gravity, core.volume)
        gross = inputs.density_liquid * inputs.gravity * core.volume
    return CoreLift(name=core.name, net_lift=net, gross_lift=gross, counted=core.lying)


def _check_held(inputs: MouldInputs, lift: float, weight: float) -> Check:
    needed = inputs.safety_factor * lift / inputs.gravity
    parts: dict[str, tuple[float, str] | str] = {
        "w": (weight, "mass"),
        "n": (needed, "mass"),
        "c": (inputs.cope_mass, "mass"),
    }
    known = "it weighs {c}" if inputs.flask_known else "the least sand it can be made of weighs {c}"
    return COPE_HELD.judge(
        inputs.cope_mass,
        needed,
        subject="/shop/flasks",
        ok=Say(f"The cope holds itself down: {known}, and {{n}} is enough.", **parts),
        bad=Say(
            "Lay {w} on the cope before you pour, or clamp it: the metal would lift it otherwise "
            f"({known}, and {{n}} is wanted).",
            **parts,
        ),
    )


def check_riser_in_cope(riser_height: float, cope_height: float) -> Check:
    """Judge whether the riser fits into the cope."""
    parts: dict[str, tuple[float, str] | str] = {
        "r": (riser_height, "length"),
        "c": (cope_height, "length"),
    }
    return RISER_IN_COPE.judge(
        riser_height,
        cope_height,
        subject="/riser",
        ok=Say("The riser fits into the cope ({r} in {c}).", **parts),
        bad=Say(
            "The riser stands higher than the cope: {r} in {c}. Use a taller cope ({r}; boxes may be "
            "stacked), a lower, wider riser, or lay more of the casting into the drag.",
            **parts,
        ),
    )


def check_riser_above(riser_top: float, casting_top: float) -> Check:
    """Judge the top of a riser beside the casting against the casting's (m above the parting)."""
    parts: dict[str, tuple[float, str] | str] = {
        "r": (riser_top, "length"),
        "c": (casting_top, "length"),
    }
    return RISER_ABOVE.judge(
        riser_top,
        casting_top,
        subject="/riser",
        ok=Say("The riser stands as high as the casting, so metal can run down into it."),
        bad=Say(
            "The riser ends lower than the casting ({r} over the parting, the casting reaches {c}): metal "
            "does not run uphill, so the casting's top would stay hollow. Make the riser {c} tall or more, "
            "or put it on top.",
            **parts,
        ),
    )


def check_drag(given: float, needed: float) -> Check:
    """Judge the tallest flask (m) against what lies below the parting."""
    parts: dict[str, tuple[float, str] | str] = {
        "g": (given, "length"),
        "n": (needed, "length"),
    }
    return DRAG_DEEP.judge(
        given,
        needed,
        subject="/shop/flasks",
        ok=Say("The drag is deep enough: {n} is needed.", **parts),
        bad=Say(
            "The drag is too shallow: {n} is needed with sand under the casting, and the tallest flask has "
            "{g}. Stack flasks, or lay the casting flatter.",
            **parts,
        ),
    )


def check_flask(given: float, needed: float) -> Check:
    """Judge the plan size of the largest flask against what the mould needs, on its tightest side."""
    parts: dict[str, tuple[float, str] | str] = {
        "g": (given, "length"),
        "n": (needed, "length"),
    }
    return FLASK_FITS.judge(
        given,
        needed,
        subject="/shop/flasks",
        ok=Say("The flask is large enough in plan.", **parts),
        bad=Say("No flask is large enough: {n} is needed on a side where the best has {g}.", **parts),
    )
