"""The mould of a plan: which flask serves, and what must lie on the cope."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..assess.gating_flow import GatingDecision, Layout
from ..assess.mould import (
    CoreInputs,
    MouldAssessment,
    MouldInputs,
    assess_mould,
    check_drag,
    check_flask,
    check_riser_above,
    check_riser_in_cope,
)
from ..checks import Check
from ..formula import paused
from ..formulas.amounts import mass_of
from ..ledger import Ledger
from ..tables.sands import RAMMED
from .plan_case import FlaskCase, ShopCase
from .plan_levels import Levels, riser_ends
from .plan_part import Part
from .riser_choice import RiserChoice

SAND_WALL = 0.030
"""Sand between metal and flask, m; common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flask:
    """The flask that was chosen (m, kg), None where the shop names none, and the plan size needed."""

    flask: FlaskCase | None
    length_needed: float
    width_needed: float
    checks: tuple[Check, ...]


def choose_flask(
    part: Part,
    scale: float,
    risers: Sequence[RiserChoice],
    levels: Levels,
    decision: GatingDecision | None,
    layout: Layout,
    shop: ShopCase,
    ledger: Ledger,
) -> Flask:
    """The smallest flask in plan that takes the part, riser and sprue beside it, and the sand round them.

    Riser and sprue stand at whichever side the flask has room for; both at one side, as one riser
    is often fed by the runner.
    """
    wall = ledger.use(
        "/shop/sand_wall",
        shop.sand_wall,
        SAND_WALL,
        "length",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="sand between metal and flask",
    )
    length, width = scale * part.length, scale * part.width
    beside = sum(_beside(riser) for riser in risers)
    on_top = [one.decision.diameter for one in risers if one.decision and one.inputs.position == "top"]
    length, width = (max(side, *on_top) if on_top else side for side in (length, width))
    if decision is not None:
        beside += layout.gate_length + (decision.runner_width or 0.0) + (decision.sprue_mouth or 0.0)
    options = [
        tuple(sorted((long + 2.0 * wall, short + 2.0 * wall)))
        for long, short in ((length, width + beside), (length + beside, width))
    ]
    if not shop.flasks:
        needed = min(options, key=lambda pair: (pair[0] * pair[1], pair))
        return Flask(flask=None, length_needed=needed[1], width_needed=needed[0], checks=())
    tall = [flask for flask in shop.flasks if any(_same(height, levels.cope) for height in flask.heights)]
    pairs = [(_room(flask, needed), flask, needed) for flask in tall or shop.flasks for needed in options]
    fitting = [pair for pair in pairs if pair[0] >= 1.0 - 1e-9]
    if fitting:
        _, chosen, needed = min(fitting, key=lambda pair: (_area(pair[1]), pair[1].length, pair[2]))
    else:
        _, chosen, needed = max(pairs, key=lambda pair: (pair[0], -_area(pair[1]), pair[2]))
    sides = zip(sorted((chosen.length, chosen.width)), needed, strict=True)
    tightest = min(sides, key=lambda side: side[0] / side[1])
    return Flask(
        flask=chosen, length_needed=needed[1], width_needed=needed[0], checks=(check_flask(*tightest),)
    )


def _beside(riser: RiserChoice) -> float:
    """Room that a riser beside the casting takes, its neck included."""
    if riser.decision is None or riser.inputs.position == "top":
        return 0.0
    neck = riser.inputs.neck_length
    return riser.decision.diameter + (0.5 * (riser.decision.neck or 0.0) if neck is None else neck)


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= 1e-9


def _room(flask: FlaskCase, needed: tuple[float, ...]) -> float:
    """Given over needed on the tighter side."""
    pairs = zip(sorted((flask.length, flask.width)), needed, strict=True)
    return min(given / side for given, side in pairs)


def _area(flask: FlaskCase) -> float:
    return flask.length * flask.width


def judge_mould(
    part: Part,
    scale: float,
    cores: tuple[CoreInputs, ...],
    risers: Sequence[RiserChoice],
    riser_open: bool,
    levels: Levels,
    flask: Flask,
    decision: GatingDecision | None,
    layout: Layout,
    *,
    density_liquid: float,
    gravity: float,
    basin_depth: float,
    shop: ShopCase,
    ledger: Ledger,
) -> tuple[MouldAssessment, tuple[Check, ...]]:
    """Add up the lift on the cope and find the weight that holds it down; channels count as metal in
    the parting plane."""
    area = part.parting_area * scale**2 + _channels(decision, layout)
    covered = part.above_parting * scale**3
    cope_mass = _cope_mass(flask, levels, covered + sum(map(_riser_volume, risers)), shop, ledger)
    under = _Under(area=area, volume=covered)
    for riser in risers:
        under = _with_riser(under, riser, riser_open, levels, basin_depth)
    inputs = MouldInputs(
        density_liquid=density_liquid,
        gravity=gravity,
        head=levels.cope + basin_depth,
        parting_area=under.area,
        volume_in_cope=under.volume,
        open_area=under.open_area,
        open_head=under.open_head,
        cores=cores,
        safety_factor=ledger.use(
            "/shop/cope_safety_factor",
            shop.cope_safety_factor,
            1.4,
            "ratio",
            provenance="table",
            source="SHOP-PRACTICE-MARGIN",
            note="on the whole lift, as the printed example has it",
        ),
        cope_mass=cope_mass,
        flask_known=flask.flask is not None,
    )
    done = assess_mould(inputs)
    checks = list(flask.checks)
    if levels.riser_top is not None:
        checks.append(check_riser_in_cope(levels.riser_top, levels.cope))
        beside = [riser_ends(one, levels.casting_top)[1] for one in risers if one.inputs.position == "side"]
        if beside:
            checks.append(check_riser_above(min(beside), levels.casting_top))
    if flask.flask is not None:
        checks.append(check_drag(max(flask.flask.heights), levels.drag_needed))
    return done, (*done.checks, *checks)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Under:
    """Metal under the cope's sand: in the parting plane (m^2) and above it (m^3), and what of it
    stands under an open riser (m^2), with the head over the riser's foot (m)."""

    area: float
    volume: float
    open_area: float = 0.0
    open_head: float = 0.0


def _with_riser(
    under: _Under, riser: RiserChoice, riser_open: bool, levels: Levels, basin_depth: float
) -> _Under:
    """The riser's share: an open one has no sand over it, a closed one is metal that sand covers.

    A riser beside the casting, and the rim of one that overhangs it at the parting, stand on the
    drag: metal in the parting plane.
    """
    done, foot = riser.assessment, riser_ends(riser, levels.casting_top)[0]
    if done is None or riser.decision is None:
        return under
    rim = math.pi / 4.0 * riser.decision.diameter**2
    if riser.inputs.position == "top":
        rim = 0.0 if foot > 0.0 or riser.inputs.necked else max(rim - done.foot_area, 0.0)
    if not riser_open:
        return replace(under, area=under.area + rim, volume=under.volume + done.volume)
    if riser.inputs.position != "top":
        return under
    head = max(levels.cope + basin_depth - foot, 0.0)
    return replace(under, open_area=min(under.open_area + done.foot_area, under.area), open_head=head)


def _riser_volume(riser: RiserChoice) -> float:
    return 0.0 if riser.assessment is None else riser.assessment.volume


def _channels(decision: GatingDecision | None, layout: Layout) -> float:
    """Plan area of runner and gates, m^2."""
    if decision is None:
        return 0.0
    runner = (decision.runner_width or 0.0) * (layout.runner_length + layout.runner_extension)
    gates = decision.gate_count * (decision.gate_width or 0.0) * layout.gate_length
    return runner + gates


def _cope_mass(flask: Flask, levels: Levels, metal_in_cope: float, shop: ShopCase, ledger: Ledger) -> float:
    """Mass of the cope's sand (kg), and of its box where that is known.

    Without a flask it is the sand over the plan size that the mould needs at least.
    """
    density = ledger.use(
        "/shop/sand_density",
        shop.sand_density,
        RAMMED,
        "density",
        provenance="table",
        source="ARCHIMEDES",
        note="sand weight used by the worked examples",
    )
    plan = flask.length_needed * flask.width_needed if flask.flask is None else _area(flask.flask)
    room = plan * levels.cope - metal_in_cope
    with paused():
        box = 0.0 if flask.flask is None else flask.flask.mass or 0.0
        return mass_of(density, max(room, 0.0)) + box
