"""A job of gating that several tests vary."""

from dataclasses import replace

from pourwright_service.engine.assess.gating import GatingAssessment, assess_gating
from pourwright_service.engine.assess.gating_flow import GatingDecision, GatingInputs, Layout
from pourwright_service.engine.assess.layers import even_layers
from pourwright_service.engine.checks import Check
from pourwright_service.engine.decide.gating_inputs import Sizing
from pourwright_service.engine.decide.gating_size import choose_gating

G = 9.80665
LAYOUT = Layout(
    runner_length=0.12,
    runner_extension=0.025,
    gate_length=0.015,
    well_area_ratio=5.0,
    well_depth_ratio=1.0,
    basin_width_ratio=3.0,
)
EXACT = Sizing(sprue_shape="round", gate_count=1, step=0.0)
ROUNDED = replace(EXACT, step=0.001, gate_count=2)


def job(head: float = 0.2, height: float = 0.1, above: float = 0.06, **more: object) -> GatingInputs:
    """A casting of 0.8 L with 0.3 L of gating, wanted in 4 s; bronze-like."""
    inputs = GatingInputs(
        layers=even_layers(0.8e-3, height, above),
        other_volume=0.3e-3,
        head=head,
        gravity=G,
        discharge_coefficient=0.7,
        layout=LAYOUT,
        sprue_height=head - 0.04,
        basin_depth=0.04,
        density_liquid=7800.0,
        critical_velocity=0.4,
        wanted_time=4.0,
    )
    return replace(inputs, **more)


def sized(inputs: GatingInputs, sizing: Sizing = EXACT) -> tuple[GatingDecision, GatingAssessment]:
    decision = choose_gating(inputs, sizing)
    assert decision is not None
    return decision, assess_gating(inputs, decision)


def check(done: GatingAssessment, id: str) -> Check:
    (found,) = [one for one in done.checks if one.kind.id == id]
    return found
