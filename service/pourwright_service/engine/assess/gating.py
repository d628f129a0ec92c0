"""Judgement of a gating system: is the head enough, do the gates run quietly, does it fill in time.

Only forward: no choices are made here; the numbers come from ``gating_flow.py``.
"""

from dataclasses import dataclass

import numpy as np

from ..checks import Check, check_kind
from ..formula import paused
from ..formulas import channels, gating
from ..formulas.pour_time import least_rise_velocity
from ..ledger import Say
from .gating_flow import GatingDecision, GatingFlow, GatingInputs, rising_share, run_gating
from .gating_losses import losses_of, with_losses
from .gating_parts import Loss
from .gating_running import running_checks

HEAD_LEFT = check_kind(
    "gating-head-left",
    "Metal in the basin stands well above the highest metal in the mould",
    kind="length",
    sense="at least",
    source="COMMON-PRACTICE",
)
GATE_VELOCITY = check_kind(
    "gate-velocity",
    "Metal enters through the gates without breaking its surface",
    kind="velocity",
    sense="at most",
    source="CAMPBELL-RULE-2",
    margin=True,
)
QUIET_HEAD = check_kind(
    "gate-quiet-head",
    "The head is low enough for quiet gates within five chokes",
    kind="length",
    sense="at most",
    source="DERIVED",
    else_="warn",
)
GATE_FALL = check_kind(
    "gate-fall",
    "Metal does not fall far inside the mould",
    kind="length",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
CHOKE_SHARE = check_kind(
    "gating-choke",
    "One place alone throttles the flow",
    kind="ratio",
    sense="at least",
    source="COMMON-PRACTICE",
    else_="warn",
)
FILL_TIME = check_kind(
    "fill-time",
    "The mould fills in about the time wanted",
    kind="fraction",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
FILL_RISE = check_kind(
    "fill-rise",
    "Metal rises in the mould fast enough for its walls",
    kind="velocity",
    sense="at least",
    source="RISE-VELOCITY",
    else_="warn",
    margin=True,
)
ASPIRATION = check_kind(
    "sprue-aspiration",
    "The sprue narrows downwards as the falling stream does",
    kind="area",
    sense="at least",
    source="GATING-SHEET",
    else_="warn",
    margin=True,
)

LEAST_HEAD_LEFT = 0.050
"""Head in m that should be left over the highest metal (common practice)."""

SHARE_HEAD_LEFT = 0.25
"""And the share of the casting's height that it should be at least (common practice)."""

WIDEST_GATES = 5.0
"""Gates wider than so many chokes do not run full, so their area no longer calms the metal."""

NEAR_CRITICAL = 1.1
"""Up to this many times the critical velocity is doubtful: the velocity itself is known to a tenth."""

IRON_GATES = 10.0
"""m/s. Iron's gates are warned, never failed: by long practice they are the choke."""

USUAL_FALL = 0.050
"""Fall in m inside the mould that parts gated at the parting usually have (common practice). Metal
breaks its surface on less, but what that leaves behind can be borne where skins matter little."""

LEAST_SERIES = 0.75
"""Share of the choke that all places in a row should pass (common practice)."""

TIME_OFF = 0.25
"""Share of the wanted time by which the reached one may differ (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GatingAssessment:
    """What a gating system does, and its checks; ``losses`` where the coefficient follows from them."""

    flow: GatingFlow
    checks: tuple[Check, ...]
    losses: tuple[Loss, ...] = ()


def assess_gating(inputs: GatingInputs, decision: GatingDecision, place: str = "") -> GatingAssessment:
    """Run a gating system and judge it.

    ``place`` is the pointer of the object in the request that holds the gating. Raises OutOfRange
    where the mould stands higher than the metal in the basin; :func:`check_head` alone covers that.
    """
    inputs = with_losses(inputs, decision)
    losses = losses_of(inputs, decision)
    flow = run_gating(inputs, decision)
    with paused():
        found = (
            check_head(inputs, place),
            _gate_velocity(inputs, flow, place),
            _quiet_head(inputs, flow, place),
            _fall(inputs, flow, place),
            _choke(flow, place),
            _time(inputs, flow, place),
            _rise(inputs, flow, place),
            _aspiration(flow, place),
            *running_checks(inputs, decision, flow, place),
        )
    checks = tuple(check for check in found if check is not None)
    return GatingAssessment(flow=flow, checks=checks, losses=losses)


def least_head_left(inputs: GatingInputs) -> float | None:
    """Head (m) that should be left over the highest metal; None where nothing stands above."""
    return None if inputs.height is None else max(LEAST_HEAD_LEFT, SHARE_HEAD_LEFT * inputs.height)


def sprue_height_needed(inputs: GatingInputs) -> float | None:
    """Sprue height (m) that leaves enough head; None where nothing is said of the casting."""
    left = least_head_left(inputs)
    if left is None or inputs.top is None:
        return None
    return max(inputs.top, 0.0) + left - (inputs.basin_depth or 0.0)


def check_head(inputs: GatingInputs, place: str = "") -> Check | None:
    """Judge the head left over the highest metal: enough, too little, or none at all."""
    left, least, needed = inputs.head_left, least_head_left(inputs), sprue_height_needed(inputs)
    if left is None or least is None or needed is None:
        return None
    parts: dict[str, tuple[float, str] | str] = {
        "left": (left, "length"),
        "least": (least, "length"),
        "high": (needed, "length"),
    }
    remedy = "Make the sprue {high} tall or more, or lay the casting lower."
    return HEAD_LEFT.judge(
        left,
        least,
        warn_limit=1e-6,
        subject=f"{place}/sprue_height",
        ok=Say("The sprue is tall enough: {left} of head is left over the highest metal.", **parts),
        doubtful=Say(
            f"The sprue is short: only {{left}} of head is left over the highest metal, good is {{least}}. "
            f"{remedy}",
            **parts,
        ),
        bad=Say(
            f"The mould cannot fill: its highest metal stands as high as the metal in the basin. {remedy}",
            **parts,
        ),
    )


def _gate_velocity(inputs: GatingInputs, flow: GatingFlow, place: str) -> Check | None:
    velocity, limit, area = flow.gate_velocity, inputs.critical_velocity, flow.gate_area
    if velocity is None or limit is None or area is None:
        return None
    needed = quiet_gate_area(inputs, flow, limit)
    parts: dict[str, tuple[float, str] | str] = {
        "v": (velocity, "velocity"),
        "limit": (limit, "velocity"),
        "area": (needed, "area"),
        "n": (needed / flow.sprue_exit_area, "ratio"),
    }
    why = "The metal shoots through the gates at {v}; above {limit} its surface breaks and is folded in."
    mend = "Widen the gates to {area} altogether ({n} times the foot of the sprue), or lower the sprue."
    doubt = why if inputs.quiet_gates else f"{why} Iron is often poured so, with slag and sand as the price."
    return GATE_VELOCITY.judge(
        velocity,
        limit,
        warn_limit=NEAR_CRITICAL * limit if inputs.quiet_gates else IRON_GATES,
        subject=f"{place}/gates",
        ok=Say("Metal enters quietly, at {v}; its surface would break at {limit}.", **parts),
        doubtful=Say(f"{doubt} {mend}", **parts),
        bad=Say(f"{why} {mend}", **parts),
    )


def quiet_gate_area(inputs: GatingInputs, flow: GatingFlow, critical_velocity: float) -> float:
    """Area of gates (m^2) at which whatever runs before them enters at the critical velocity."""
    before = min((flow.sprue_exit_area, *flow.runner_areas[:1]))
    most = gating.choke_flow(inputs.discharge_coefficient, before, inputs.gravity, inputs.head)
    return channels.area_for_velocity(most, critical_velocity)


def _quiet_head(inputs: GatingInputs, flow: GatingFlow, place: str) -> Check | None:
    if flow.gate_area is None or inputs.critical_velocity is None or not inputs.quiet_gates:
        return None
    limit = channels.quiet_head(
        WIDEST_GATES, inputs.critical_velocity, inputs.discharge_coefficient, inputs.gravity
    )
    parts: dict[str, tuple[float, str] | str] = {
        "head": (inputs.head, "length"),
        "limit": (limit, "length"),
        "five": (WIDEST_GATES, "ratio"),
    }
    return QUIET_HEAD.judge(
        inputs.head,
        limit,
        subject=f"{place}/sprue_height",
        ok=Say("The head of {head} lets gates of at most {five} chokes run quietly.", **parts),
        bad=Say(
            "The metal falls too far: for quiet gates the head of {head} needs more than {five} times the "
            "choke, and gates that wide do not run full. Bring the head down to {limit}.",
            **parts,
        ),
    )


def _fall(inputs: GatingInputs, flow: GatingFlow, place: str) -> Check | None:
    if flow.free_fall is None or inputs.critical_velocity is None or not inputs.quiet_gates:
        return None
    breaks = gating.velocity_head(inputs.critical_velocity, inputs.gravity)
    parts: dict[str, tuple[float, str] | str] = {
        "fall": (flow.free_fall, "length"),
        "limit": (breaks, "length"),
        "usual": (USUAL_FALL, "length"),
    }
    if np.all(flow.free_fall <= breaks):
        ok = Say("Inside the mould the metal falls no further than it can without breaking.", **parts)
    else:
        ok = Say(
            "Metal drops {fall} from the gate to the floor of the mould, as usual for a part in the drag. "
            "Skins form on a drop of more than {limit}: where the casting must hold pressure, gate it lower.",
            **parts,
        )
    return GATE_FALL.judge(
        flow.free_fall,
        np.maximum(USUAL_FALL, breaks),
        subject=f"{place}/gate_position",
        ok=ok,
        bad=Say(
            "Metal drops {fall} from the gate to the floor of the mould, further than the usual {usual}; it "
            "breaks its surface on {limit} already. Gate at the lowest point where the casting must be free "
            "of folded skins.",
            **parts,
        ),
    )


def _choke(flow: GatingFlow, place: str) -> Check | None:
    if flow.gate_area is None and not flow.runner_areas:
        return None
    share = flow.series_area / flow.choke_area
    parts: dict[str, tuple[float, str] | str] = {
        "share": (share, "fraction"),
        "least": (LEAST_SERIES, "fraction"),
    }
    return CHOKE_SHARE.judge(
        share,
        LEAST_SERIES,
        subject=f"{place}/ratio",
        ok=Say("One place throttles the flow; the others are wide enough not to count.", **parts),
        bad=Say(
            "No single place is the choke: sprue, runner and gates in a row pass only {share} of what the "
            "narrowest would alone, so the mould may fill slower than computed. Make the others wider.",
            **parts,
        ),
    )


def _time(inputs: GatingInputs, flow: GatingFlow, place: str) -> Check | None:
    if flow.fill_time is None or inputs.wanted_time is None:
        return None
    off = abs(flow.fill_time / inputs.wanted_time - 1.0)
    parts: dict[str, tuple[float, str] | str] = {
        "t": (flow.fill_time, "time"),
        "wanted": (inputs.wanted_time, "time"),
    }
    return FILL_TIME.judge(
        off,
        TIME_OFF,
        subject=f"{place}/pour_time",
        ok=Say("The mould fills in {t}; {wanted} was wanted.", **parts),
        bad=Say(
            "The mould fills in {t}, but {wanted} was wanted: choose a finer rounding step or another choke.",
            **parts,
        ),
    )


def _rise(inputs: GatingInputs, flow: GatingFlow, place: str) -> Check | None:
    tall = inputs.rising_height
    if flow.rise_velocity is None or inputs.wall_thickness is None or tall is None:
        return None
    least = least_rise_velocity(inputs.wall_thickness)
    parts: dict[str, tuple[float, str] | str] = {
        "rise": (flow.rise_velocity, "velocity"),
        "least": (least, "velocity"),
        "wall": (inputs.wall_thickness, "length"),
        "t": (tall / rising_share(inputs) / least, "time"),
    }
    return FILL_RISE.judge(
        flow.rise_velocity,
        least,
        subject=f"{place}/pour_time",
        ok=Say("Metal rises in the mould at {rise}, fast enough for walls of {wall}.", **parts),
        bad=Say(
            "Metal rises in the mould at only {rise}; walls of {wall} want {least} or laps may show. "
            "Fill it in {t}, or tilt the mould so that the casting stands steeper.",
            **parts,
        ),
    )


def _aspiration(flow: GatingFlow, place: str) -> Check | None:
    if flow.sprue_mouth_area is None or flow.sprue_mouth_needed is None:
        return None
    needed = np.maximum(flow.sprue_mouth_needed, flow.sprue_exit_area)
    parts: dict[str, tuple[float, str] | str] = {
        "area": (flow.sprue_mouth_area, "area"),
        "needed": (needed, "area"),
        "across": (np.sqrt(4.0 * needed / np.pi), "length"),
    }
    return ASPIRATION.judge(
        flow.sprue_mouth_area,
        needed,
        subject=f"{place}/sprue",
        ok=Say("The sprue narrows downwards enough to run full, so it draws in no air.", **parts),
        bad=Say(
            "The sprue is too narrow at its mouth: the falling metal pulls away from the wall and draws in "
            "air. Open the mouth to {needed} ({across} across if round), or keep the basin deeper.",
            **parts,
        ),
    )
