"""The mould of a plan: how tall the cope is, which flask serves, what must lie on it."""

import math
from dataclasses import dataclass

from ..assess.gating_flow import GatingDecision, Layout
from ..assess.mould import MouldAssessment, MouldInputs, assess_mould, check_flask, check_riser_in_cope
from ..checks import Check
from ..formula import paused
from ..formulas.mould import sand_mass
from ..ledger import Ledger
from .plan_case import FlaskCase, ShopCase
from .plan_part import Part
from .riser_choice import RiserChoice

HEAD_LEFT = 0.050
SHARE_HEAD_LEFT = 0.25
"""Head over the highest metal: at least so much, and this share of the casting's height."""

COVER = 0.030
SAND_WALL = 0.030
"""Sand over the metal and between metal and flask, m; common practice."""

COPE_STEP = 0.005


@dataclass(frozen=True, slots=True, kw_only=True)
class Levels:
    """Levels in the mould, m above the parting: the riser's foot and top (None: no riser), the
    casting's top, the gate; ``cope`` is the cope's height."""

    riser_foot: float | None
    riser_top: float | None
    casting_top: float
    casting_bottom: float
    gate: float
    cope: float


def levels_of(
    part: Part,
    riser: RiserChoice | None,
    gate_position: str,
    basin_depth: float,
    given: float | None,
    shop: ShopCase,
    ledger: Ledger,
) -> Levels:
    """Where everything lies, and the lowest cope that holds the riser and gives enough head.

    ``given`` is a sprue height from the gate to the basin that the caller fixed.
    """
    top, bottom = part.height_in_cope, part.height_in_cope - part.height
    gate = {"bottom": bottom, "top": top, "parting": 0.0}[gate_position]
    foot = crown = None
    if riser is not None and riser.decision is not None:
        foot = top if riser.inputs.position == "top" else 0.0
        crown = foot + riser_height(riser)
    highest = max(top, crown or 0.0)
    whole = highest - bottom
    need = max(
        crown or 0.0,
        top + (COVER if crown is None else 0.0),
        highest + max(HEAD_LEFT, SHARE_HEAD_LEFT * whole) - basin_depth,
        COVER,
    )
    if given is not None:
        cope = given + gate
    else:
        heights = sorted({height for flask in shop.flasks for height in flask.heights})
        tall = [height for height in heights if height >= need - 1e-9]
        cope = tall[0] if tall else (heights[-1] if heights else _up(need))
        ledger.use(
            "/gating/sprue_height",
            None,
            cope - gate,
            "length",
            provenance="computed",
            source="COMMON-PRACTICE",
            note="the lowest cope that holds the riser and leaves head over it; the sprue is as tall",
        )
    return Levels(
        riser_foot=foot, riser_top=crown, casting_top=top, casting_bottom=bottom, gate=gate, cope=cope
    )


def riser_height(riser: RiserChoice) -> float:
    """Height of the riser over its foot, m; a dome's half ball included."""
    if riser.decision is None:
        return 0.0
    if riser.inputs.shape == "ball":
        return riser.decision.diameter
    dome = riser.decision.diameter / 2.0 if riser.inputs.shape == "domed" else 0.0
    return riser.decision.height + dome


def _up(height: float) -> float:
    return math.ceil(height / COPE_STEP - 1e-9) * COPE_STEP


@dataclass(frozen=True, slots=True, kw_only=True)
class Flask:
    """The flask that was chosen (m, kg), None where the shop names none, and the plan size needed."""

    flask: FlaskCase | None
    length_needed: float
    width_needed: float
    checks: tuple[Check, ...]


def choose_flask(
    part: Part,
    levels: Levels,
    decision: GatingDecision | None,
    layout: Layout,
    shop: ShopCase,
    ledger: Ledger,
) -> Flask:
    """The smallest flask in plan that takes the part, the sprue beside it and the sand round both."""
    wall = ledger.use(
        "/shop/sand_wall",
        shop.sand_wall,
        SAND_WALL,
        "length",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="sand between metal and flask",
    )
    beside = 0.0
    if decision is not None:
        beside = layout.gate_length + (decision.runner_width or 0.0) + (decision.sprue_mouth or 0.0)
    length = part.scale * part.length + 2.0 * wall
    width = part.scale * part.width + 2.0 * wall + beside
    # The sprue stands at whichever side the flask has room for.
    options = (
        (length, width),
        (part.scale * part.length + 2.0 * wall + beside, part.scale * part.width + 2.0 * wall),
    )
    if not shop.flasks:
        return Flask(flask=None, length_needed=length, width_needed=width, checks=())

    def fit(flask: FlaskCase) -> tuple[float, float]:
        """Smallest ratio of given to needed, and the plan area, for the better way of laying it."""
        given = (max(flask.length, flask.width), min(flask.length, flask.width))
        best = max(min(given[0] / max(a, b), given[1] / min(a, b)) for a, b in options)
        return best, flask.length * flask.width

    tall = [flask for flask in shop.flasks if max(flask.heights) >= levels.cope - 1e-9] or list(shop.flasks)
    fitting = [flask for flask in tall if fit(flask)[0] >= 1.0 - 1e-9]
    chosen = (
        min(fitting, key=lambda flask: (fit(flask)[1], flask.length, flask.width))
        if fitting
        else max(tall, key=lambda flask: (fit(flask)[0], -fit(flask)[1]))
    )
    ratio = fit(chosen)[0]
    needed = min(
        options,
        key=lambda pair: (
            -min(max(chosen.length, chosen.width) / max(pair), min(chosen.length, chosen.width) / min(pair))
        ),
    )
    longer = max(chosen.length, chosen.width) / max(needed)
    side = (
        (max(chosen.length, chosen.width), max(needed))
        if longer <= ratio + 1e-12
        else (min(chosen.length, chosen.width), min(needed))
    )
    return Flask(
        flask=chosen, length_needed=max(needed), width_needed=min(needed), checks=(check_flask(*side),)
    )


def judge_mould(
    part: Part,
    riser: RiserChoice | None,
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
    """Add up the lift on the cope and find the weight that holds it down."""
    inputs = mould_inputs(
        part,
        riser,
        riser_open,
        levels,
        flask,
        decision,
        layout,
        density_liquid=density_liquid,
        gravity=gravity,
        basin_depth=basin_depth,
        shop=shop,
        ledger=ledger,
    )
    checks = list(flask.checks)
    if levels.riser_top is not None:
        checks.append(check_riser_in_cope(levels.riser_top, levels.cope))
    done = assess_mould(inputs)
    return done, (*done.checks, *checks)


def mould_inputs(
    part: Part,
    riser: RiserChoice | None,
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
) -> MouldInputs:
    """What lifts and what holds. Channels count as metal in the parting plane."""
    scale = part.scale
    area = part.parting_area * scale**2 + _channels(decision, layout)
    covered = part.above_parting * scale**3
    open_area = open_head = riser_volume = 0.0
    if riser is not None and riser.assessment is not None and levels.riser_foot is not None:
        riser_volume = riser.assessment.volume
        foot = riser.assessment.foot_area
        on_part = riser.inputs.position == "top"
        if not on_part:
            area += 0.0 if riser_open else foot
            covered += 0.0 if riser_open else riser_volume
        elif riser_open:
            open_area = min(foot, area)
            open_head = max(levels.cope + basin_depth - levels.riser_foot, 0.0)
        else:
            covered += riser_volume
    return MouldInputs(
        density_liquid=density_liquid,
        gravity=gravity,
        head=levels.cope + basin_depth,
        parting_area=area,
        volume_in_cope=covered,
        open_area=open_area,
        open_head=open_head,
        cores=part.cores,
        safety_factor=ledger.use(
            "/shop/cope_safety_factor",
            shop.cope_safety_factor,
            1.4,
            "ratio",
            provenance="table",
            source="SHOP-PRACTICE-MARGIN",
            note="on the whole lift, as the printed example has it",
        ),
        cope_mass=_cope_mass(flask, levels, riser_volume + covered, shop, ledger),
    )


def _channels(decision: GatingDecision | None, layout: Layout) -> float:
    """Plan area of runner and gates, m^2."""
    if decision is None:
        return 0.0
    runner = (decision.runner_width or 0.0) * (layout.runner_length + layout.runner_extension)
    gates = decision.gate_count * (decision.gate_width or 0.0) * layout.gate_length
    return runner + gates


def _cope_mass(
    flask: Flask, levels: Levels, metal_in_cope: float, shop: ShopCase, ledger: Ledger
) -> float | None:
    """Mass of the cope's sand (kg), and its box where that is known; None without a flask."""
    if flask.flask is None:
        return None
    density = ledger.use(
        "/shop/sand_density",
        shop.sand_density,
        1600.0,
        "density",
        provenance="table",
        source="ARCHIMEDES",
        note="sand weight used by the worked examples",
    )
    room = flask.flask.length * flask.flask.width * levels.cope - metal_in_cope
    with paused():
        return sand_mass(density, max(room, 0.0)) + (flask.flask.mass or 0.0)
