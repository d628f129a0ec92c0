"""Sizes and discharge coefficient that agree: losses depend on the sizes, the sizes on the losses."""

from ..assess.gating_flow import GatingDecision, GatingInputs
from ..assess.gating_losses import with_losses
from ..formula import paused
from .gating_inputs import Sizing
from .gating_size import choose_gating

MOST_ROUNDS = 200
SETTLED = 1e-12


def fit_gating(
    inputs: GatingInputs, sizing: Sizing, not_smaller_than: GatingDecision | None = None
) -> tuple[GatingInputs, GatingDecision | None]:
    """The gating system and the inputs with its own discharge coefficient.

    Without ``losses`` it is :func:`choose_gating`. With them the search starts from no losses, so from
    the smallest sizes; rounded sizes are never reduced, so it ends. Raises OutOfRange.
    """
    if inputs.losses is None:
        return inputs, choose_gating(inputs, sizing, not_smaller_than)
    now, kept = inputs, not_smaller_than
    with paused():
        last = None
        for _ in range(MOST_ROUNDS):
            found = choose_gating(now, sizing, kept)
            if found is None:
                return now, None
            fresh = with_losses(now, found)
            off = abs(fresh.discharge_coefficient / now.discharge_coefficient - 1.0)
            now = fresh
            if found == last or off <= SETTLED:
                break
            last = found
            if sizing.step > 0.0 or sizing.cutters:
                kept = found
    return now, choose_gating(now, sizing, kept)
