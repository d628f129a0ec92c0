"""Judgement of the channels themselves: do they prime, do the gates run full, is there room for them,
is each casting fed by its share, can they be cut with the tools at hand. Only forward."""

from ..checks import Check, check_kind
from ..formulas import channels
from ..ledger import Say
from .gating_flow import GatingDecision, GatingFlow, GatingInputs
from .layers import LEVEL

PRIMING = check_kind(
    "runner-priming",
    "Sprue and runner are full early in the pour",
    kind="fraction",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
GATE_FULL = check_kind(
    "gate-runs-full",
    "The stream fills the gates",
    kind="ratio",
    sense="at least",
    source="DERIVED",
    else_="warn",
)
GATE_EDGE = check_kind(
    "gate-edge",
    "The gates take no more than their share of the casting's edge",
    kind="length",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
GATE_ROOM = check_kind(
    "gates-on-runner",
    "The runner is long enough for its gates",
    kind="length",
    sense="at least",
    source="DERIVED",
    else_="warn",
)
BALANCE = check_kind(
    "casting-balance",
    "Every casting on the sprue has gates by the metal it takes",
    kind="fraction",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
CUTTER = check_kind(
    "gating-cutter",
    "Sprue and runner can be cut with the tools at hand",
    kind="length",
    sense="at most",
    source="CALLER",
    else_="warn",
)

MOST_PRIMING = 0.5
"""Share of the pour that may go by before metal enters the casting (common practice)."""

EDGE_SHARE = 1.0 / 3.0
MOST_EDGE_SHARE = 0.5
"""Share of the edge offered to gates that they should take, and may take at most (common practice)."""

OFF_BALANCE = 0.25
"""Share by which a casting's gates may differ from its metal (common practice)."""

Parts = dict[str, tuple[float, str] | str]


def running_checks(
    inputs: GatingInputs, decision: GatingDecision, flow: GatingFlow, place: str
) -> tuple[Check | None, ...]:
    """All of them; None where something needed is not known."""
    return (
        _priming(flow, place),
        _gates_full(inputs, decision, flow, place),
        _edge(inputs, decision, place),
        _room(inputs, decision, place),
        _balance(inputs, place),
        _cutter(inputs, decision, place),
    )


def _priming(flow: GatingFlow, place: str) -> Check | None:
    if flow.priming_time is None or flow.fill_time is None:
        return None
    share = flow.priming_time / flow.fill_time
    parts: Parts = {
        "prime": (flow.priming_time, "time"),
        "t": (flow.fill_time, "time"),
        "most": (MOST_PRIMING, "fraction"),
    }
    return PRIMING.judge(
        share,
        MOST_PRIMING,
        subject=f"{place}/runner",
        ok=Say(
            "Pour fast until the basin is full and keep it full: after {prime} metal enters the casting.",
            **parts,
        ),
        bad=Say(
            "Sprue and runner take {prime} of the {t} to fill, more than {most}: the casting itself fills "
            "in what is left. Make sprue and runner shorter, or hang more castings on them.",
            **parts,
        ),
    )


def _gates_full(inputs: GatingInputs, decision: GatingDecision, flow: GatingFlow, place: str) -> Check | None:
    """Only where metal falls from the gates: others are under metal as soon as the floor is covered."""
    velocity, thick = flow.gate_velocity, decision.gate_thickness
    if velocity is None or thick is None or not inputs.layers or inputs.layers[0].bottom >= -LEVEL:
        return None
    parts: Parts = {"v": (velocity, "velocity"), "thin": (velocity**2 / inputs.gravity, "length")}
    return GATE_FULL.judge(
        channels.froude_number(velocity, inputs.gravity, thick),
        1.0,
        subject=f"{place}/gate/thickness",
        ok=Say("The metal fills the gates: they are thin enough for its speed of {v}.", **parts),
        bad=Say(
            "The gates are too thick for metal at {v}: it runs along their floor, faster than computed, and "
            "carries skins and slag in. Make them {thin} thick or thinner, and wider.",
            **parts,
        ),
    )


def most_gate_width(gate_edge: float) -> float:
    """Width (m) that all gates together should keep to along an edge (m)."""
    return EDGE_SHARE * gate_edge


def _edge(inputs: GatingInputs, decision: GatingDecision, place: str) -> Check | None:
    if inputs.gate_edge is None or decision.gate_width is None:
        return None
    width, most = decision.gate_count * decision.gate_width, MOST_EDGE_SHARE * inputs.gate_edge
    parts: Parts = {
        "width": (width, "length"),
        "most": (most, "length"),
        "edge": (inputs.gate_edge, "length"),
        "thick": ((decision.gate_thickness or 0.0) * width / most, "length"),
    }
    return GATE_EDGE.judge(
        width,
        most,
        subject=f"{place}/gate/edge",
        ok=Say("The gates leave enough of the edge free: they take {width} of {edge}.", **parts),
        bad=Say(
            "The gates are too wide for so small a casting: {width} in all along {edge} of edge, where up to "
            "{most} can be borne; the casting would heat up and tear along them. Pour slower, make the gates "
            "{thick} thick if the wall there allows it, or gate the casting from another side as well.",
            **parts,
        ),
    )


def _room(inputs: GatingInputs, decision: GatingDecision, place: str) -> Check | None:
    if decision.gate_width is None or decision.runner_width is None:
        return None
    needed = decision.gate_count * decision.gate_width
    parts: Parts = {"long": (inputs.layout.runner_length, "length"), "needed": (needed, "length")}
    return GATE_ROOM.judge(
        inputs.layout.runner_length,
        needed,
        subject=f"{place}/runner/length",
        ok=Say("The gates find room side by side along {long} of runner.", **parts),
        bad=Say(
            "The runner is too short for its gates: they take {needed} side by side, and it is {long} long. "
            "Make it {needed} long or more, or the gates thicker.",
            **parts,
        ),
    )


def _balance(inputs: GatingInputs, place: str) -> Check | None:
    volumes = [one.volume for one in inputs.castings]
    if len(volumes) < 2 or not all(volumes):
        return None
    metal = sum(one.count * (one.volume or 0.0) for one in inputs.castings)
    gates = sum(one.count * one.gates for one in inputs.castings)
    off, index = max(
        (abs(one.gates * metal / (gates * (one.volume or 0.0)) - 1.0), index)
        for index, one in enumerate(inputs.castings)
    )
    worst = inputs.castings[index]
    parts: Parts = {
        "name": worst.name or f"casting {index + 1}",
        "gates": (worst.gates / gates, "fraction"),
        "metal": ((worst.volume or 0.0) / metal, "fraction"),
        "off": (OFF_BALANCE, "fraction"),
    }
    return BALANCE.judge(
        off,
        OFF_BALANCE,
        subject=f"{place}/castings/{index}/gates",
        ok=Say("Every casting has gates by the metal it takes, so all fill together.", **parts),
        bad=Say(
            "The castings do not fill together: each {name} takes {metal} of the metal through {gates} of "
            "the gates. Share the gates out by the metal, to within {off}.",
            **parts,
        ),
    )


def _cutter(inputs: GatingInputs, decision: GatingDecision, place: str) -> Check | None:
    if not inputs.cutters:
        return None
    size = max(decision.sprue_exit, decision.sprue_mouth or 0.0, decision.runner_width or 0.0)
    largest = max(inputs.cutters)
    parts: Parts = {"size": (size, "length"), "largest": (largest, "length")}
    return CUTTER.judge(
        size,
        largest,
        subject=f"{place}/cutters",
        ok=Say("Sprue and runner can be cut with the tools at hand, up to {size}.", **parts),
        bad=Say(
            "No tool at hand is wide enough: {size} is needed and the largest is {largest}. Cut that one by "
            "hand, pour slower, or use two sprues.",
            **parts,
        ),
    )
