"""The discharge coefficient of a gating system from its own losses. Only forward."""

from dataclasses import replace

import numpy as np

from ..formula import paused, step
from ..formulas import channels, gating, gating_losses
from .gating_flow import GatingDecision, GatingInputs, channel_area, gate_area, narrowest, runner_areas
from .gating_parts import Loss, Losses

TURN = 1.20
"""A sharp right-angled turn, in velocity heads: 0.42 sin 45 + 2.56 sin^3 45 (Rennels, Hudson)."""

PLUNGE = 1.0
"""In the well the falling stream loses all its speed: nothing of it points along the runner."""

SHARP_ENTRY = 0.5
"""From the well into the runner, round a sharp edge (Swamee, Sharma, with no radius)."""

MOST_PASSES = 60
ROUGHEST = 0.2
"""The friction formula holds up to grains of a fifth of the channel."""


def with_losses(inputs: GatingInputs, decision: GatingDecision) -> GatingInputs:
    """The inputs with the discharge coefficient that this system's own losses leave it.

    Friction depends on the speed and the speed on friction; the coefficient settles within a few
    passes, because friction hardly changes with speed.
    """
    if inputs.losses is None:
        return inputs
    with paused():
        discharge = 1.0
        for _ in range(MOST_PASSES):
            fresh = _discharge(replace(inputs, discharge_coefficient=discharge), decision, inputs.losses)
            settled = np.all(np.abs(fresh - discharge) <= 1e-13 * fresh)
            discharge = fresh
            if settled:
                break
    return replace(inputs, discharge_coefficient=discharge)


def _discharge(inputs: GatingInputs, decision: GatingDecision, losses: Losses) -> float:
    effective = _effective(_places(inputs, decision, losses))
    return gating_losses.discharge_from_areas(effective, narrowest(decision))


def losses_of(inputs: GatingInputs, decision: GatingDecision) -> tuple[Loss, ...]:
    """Every loss with its share of the head, from the basin to the mould; none without ``losses``.

    The last is not lost on the way: it is the speed with which the metal enters the mould.
    """
    if inputs.losses is None:
        return ()
    with step("gating", "losses"):
        places = _places(inputs, decision, inputs.losses)
        effective = _effective(places)
        gating_losses.discharge_from_areas(effective, narrowest(decision))
    return tuple(
        Loss(place=place, coefficient=lost, area=area, share=lost * (effective / area) ** 2)
        for place, lost, area in places
    )


def _effective(places: list[tuple[str, float, float]]) -> float:
    """Loss-free area of the whole way, from its end backwards."""
    (_, _, effective), *before = reversed(places)
    for _, lost, area in before:
        effective = gating_losses.area_after_loss(effective, lost, area)
    return effective


def _places(inputs: GatingInputs, decision: GatingDecision, losses: Losses) -> list[tuple[str, float, float]]:
    """Place, loss in velocity heads of its area, and that area (m^2); the last is the way out."""
    rub = _Rubbing(inputs, decision, losses)
    runner, gates = runner_areas(decision), gate_area(decision)
    foot = channel_area(decision.sprue_shape, decision.sprue_exit)
    places = []
    mouth = decision.sprue_mouth
    if mouth is not None:
        area = channel_area(decision.sprue_shape, mouth)
        places.append(("sprue, entry", gating_losses.entry_loss(losses.entry_radius, mouth), area))
    if inputs.sprue_height is not None:
        factor = rub.factor(foot, decision.sprue_exit)
        lost = gating_losses.sprue_friction(
            factor, inputs.sprue_height, mouth or decision.sprue_exit, decision.sprue_exit
        )
        places.append(("sprue, friction", lost, foot))
    if runner and decision.runner_width is not None:
        layout, first = inputs.layout, runner[0]
        across = gating_losses.hydraulic_diameter(decision.runner_width, decision.runner_heights[0])
        lost = gating_losses.channel_friction(rub.factor(first, across), layout.runner_length, across)
        places += [
            ("sprue foot, well", PLUNGE, foot),
            ("runner, entry", SHARP_ENTRY, first),
            ("runner, friction", lost, first),
        ]
        if losses.turns:
            places.append(("runner, turns", TURN * losses.turns, first))
        if losses.filter_loss > 0.0:
            places.append(("filter", losses.filter_loss, first))
    if gates is None or decision.gate_width is None or decision.gate_thickness is None:
        return [*places, ("way out", 1.0, runner[0] if runner else foot)]
    across = gating_losses.hydraulic_diameter(decision.gate_width, decision.gate_thickness)
    lost = gating_losses.channel_friction(rub.factor(gates, across), inputs.layout.gate_length, across)
    return [*places, ("gates, turn", TURN, gates), ("gates, friction", lost, gates), ("way out", 1.0, gates)]


class _Rubbing:
    """Friction factors at the flow that the present discharge coefficient gives."""

    def __init__(self, inputs: GatingInputs, decision: GatingDecision, losses: Losses) -> None:
        self.inputs, self.roughness = inputs, losses.roughness
        self.flow = gating.choke_flow(
            inputs.discharge_coefficient, narrowest(decision), inputs.gravity, inputs.head
        )

    def factor(self, area: float, across: float) -> float:
        """Darcy's factor in a channel of an area (m^2) and a hydraulic diameter (m)."""
        density, viscosity = self.inputs.density_liquid, self.inputs.viscosity
        if density is None or viscosity is None:
            raise ValueError("friction needs the metal's density and viscosity")
        speed = channels.velocity_in(self.flow, area)
        reynolds = channels.reynolds_number(density, speed, across, viscosity)
        rough = np.minimum(self.roughness / across, ROUGHEST)
        return gating_losses.friction_factor(reynolds, rough)
