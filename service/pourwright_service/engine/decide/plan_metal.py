"""The metal of a plan: what is poured, in what time, through which gating, until all three agree."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from ..assess.gating import GatingAssessment, assess_gating, check_head
from ..assess.gating_flow import GatingDecision, GatingInputs, gating_metal
from ..assess.layers import Layer
from ..assess.plan import MOST_GATING, check_settles
from ..checks import Check
from ..formula import paused, rounds
from ..formulas.amounts import mass_of
from ..formulas.pattern import cavity_volume
from .gating_fit import fit_gating
from .gating_inputs import Sizing
from .plan_levels import Levels, riser_ends
from .plan_part import Part
from .riser_choice import RiserChoice

MOST_ROUNDS = 1000
SETTLED = 1e-12
"""Sizes are rounded up and never reduced, so the metal settles; without rounding, to this share.
Where each round adds nearly as much as the one before, it never would."""


def layers_of(part: Part, scale: float, risers: Sequence[RiserChoice], levels: Levels) -> tuple[Layer, ...]:
    """Casting and risers as layers over the gate, each even from its foot to its top."""
    with paused():
        bodies = [(levels.casting_bottom, levels.casting_top, cavity_volume(scale, part.volume))]
    for riser in risers:
        if riser.assessment is not None:
            bodies.append((*riser_ends(riser, levels.casting_top), riser.assessment.volume))
    bodies = [(low - levels.gate, high - levels.gate, volume) for low, high, volume in bodies]
    marks = sorted({mark for low, high, _ in bodies for mark in (low, high)} | _gate_within(bodies))
    layers = []
    for low, high in pairwise(marks):
        if high - low <= 1e-9:
            continue
        volume = sum(v * max(min(high, b) - max(low, a), 0.0) / (b - a) for a, b, v in bodies)
        if volume > 0.0:
            layers.append(Layer(volume=volume, bottom=low, top=high))
    return tuple(layers)


def _gate_within(bodies: list[tuple[float, float, float]]) -> set[float]:
    """The gate's own level cuts what it meets: below it metal falls, above it it rises."""
    return {0.0} if any(low < 0.0 < high for low, high, _ in bodies) else set()


@dataclass(frozen=True, slots=True, kw_only=True)
class Poured:
    """The gating that settled, and the metal that is poured (m^3, s)."""

    inputs: GatingInputs
    decision: GatingDecision | None
    assessment: GatingAssessment | None
    pour_time: float | None
    gating_volume: float
    volume: float
    rounds: int
    checks: tuple[Check, ...]


def _without(
    inputs: GatingInputs, time: float | None, own: float, count: int, checks: tuple[Check, ...]
) -> Poured:
    """What is known where there is no gating: ``own`` is the metal (m^3) of casting and riser."""
    return Poured(
        inputs=inputs,
        decision=None,
        assessment=None,
        pour_time=time,
        gating_volume=0.0,
        volume=own,
        rounds=count,
        checks=checks,
    )


def settle(
    inputs: GatingInputs, sizing: Sizing, time_for: Callable[[float], float | None], density_liquid: float
) -> Poured:
    """Find gating and pour time that agree with the metal they need.

    ``inputs`` hold casting and riser as layers and no gating metal. ``time_for`` gives the pour
    time (s) for a mass (kg). Starts from no gating and goes upward only.
    """
    own = sum(layer.volume for layer in inputs.layers)
    volume, decision, time = 0.0, None, None
    count = 0
    with rounds() as begin:
        for _ in range(MOST_ROUNDS):
            count = begin()
            time = time_for(mass_of(density_liquid, own + volume))
            now = replace(inputs, other_volume=volume, wanted_time=time)
            now, found = fit_gating(now, sizing, not_smaller_than=decision)
            if found is None:
                head = check_head(now, "/gating")
                return _without(now, time, own, count, () if head is None else (head,))
            decision = found
            needed = gating_metal(now, decision).total
            if needed <= volume * (1.0 + SETTLED):
                break
            volume = needed
            if volume > MOST_GATING * own:
                return _without(now, time, own, count, (check_settles(volume, own, time),))
        # How fast the metal rises beside the walls is judged with the pour time, once.
        final = replace(now, other_volume=volume, wanted_time=time, wall_thickness=None)
        done = assess_gating(final, decision, "/gating") if decision is not None else None
    return Poured(
        inputs=final,
        decision=decision,
        assessment=done,
        pour_time=time,
        gating_volume=volume,
        volume=own + volume,
        rounds=count,
        checks=done.checks if done else (),
    )
