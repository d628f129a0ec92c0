"""What can be changed to mend a gating system."""

from collections.abc import Iterator

from ..ledger import Say
from .remedies import REMOVED, Change, Lever, Levers, Offer, Proposal, Slide, Switch, Trouble, given_at

MM, CM2 = 1e-3, 1e-4

GATING_LEVERS: tuple[Lever, ...] = (
    Slide(
        checks=("gating-head-left",),
        at="/sprue_height",
        kind="length",
        step=MM,
        up=True,
        most=3.0,
        words="Make the sprue {new} tall (it is {old}).",
        start=("sprue", "height"),
        unless=("/head",),
    ),
    Slide(
        checks=("gating-head-left",),
        at="/head",
        kind="length",
        step=MM,
        up=True,
        most=3.0,
        words="Give it a head of {new} (it is {old}).",
        only_if=("/head",),
    ),
    Slide(
        checks=("gate-quiet-head",),
        at="/sprue_height",
        kind="length",
        step=MM,
        up=False,
        most=10 * MM,
        words="Make the sprue {new} tall (it is {old}).",
        start=("sprue", "height"),
        unless=("/head",),
    ),
    Switch(
        checks=(
            "gate-velocity",
            "gating-choke",
        ),
        changes=(Change("/ratio", REMOVED),),
        words="Drop the fixed gating ratio: the gates are then made wide enough for a quiet stream.",
        only_if=("/ratio",),
    ),
    Slide(
        checks=("gate-velocity", "gating-choke"),
        at="/ratio/gate",
        kind="ratio",
        step=0.1,
        up=True,
        most=20.0,
        words="Give the gates {new} parts in the gating ratio (they have {old}).",
        only_if=("/ratio",),
    ),
    Slide(
        checks=("gating-choke",),
        at="/ratio/runner",
        kind="ratio",
        step=0.1,
        up=True,
        most=20.0,
        words="Give the runner {new} parts in the gating ratio (it has {old}).",
        only_if=("/ratio",),
    ),
    Slide(
        checks=("gate-velocity", "gating-choke"),
        at="/gate/area",
        kind="area",
        step=0.1 * CM2,
        up=True,
        most=1.0,
        words="Make the gates {new} in all (they are {old}).",
        only_if=("/gate/area",),
    ),
    Slide(
        checks=("gate-velocity", "gating-choke"),
        at="/runner/area",
        kind="area",
        step=0.1 * CM2,
        up=True,
        most=1.0,
        words="Make the runner {new} (it is {old}).",
        only_if=("/runner/area",),
    ),
    Slide(
        checks=("gate-velocity",),
        at="/pour_time",
        kind="time",
        step=0.1,
        up=True,
        most=600.0,
        words="Fill the mould in {new} instead of {old}.",
        start=("fill_time",),
        unless=("/choke_area", "/choke_diameter"),
    ),
    Slide(
        checks=("fill-rise",),
        at="/pour_time",
        kind="time",
        step=0.1,
        up=False,
        most=0.1,
        words="Fill the mould in {new} instead of {old}.",
        start=("fill_time",),
        unless=("/choke_area", "/choke_diameter"),
    ),
    Switch(
        checks=("gate-fall",),
        changes=(Change("/gate_position", "bottom"), Change("/casting/above_gate", REMOVED)),
        words="Gate the casting at its lowest point, so that metal rises in it and does not fall.",
    ),
    Slide(
        checks=("fill-time",),
        at="/rounding_step",
        kind="length",
        step=0.5 * MM,
        up=False,
        most=0.5 * MM,
        words="Make the sprue and channels to steps of {new} instead of {old}.",
        unless=("/choke_area", "/choke_diameter"),
    ),
    Slide(
        checks=("sprue-aspiration",),
        at="/sprue/mouth_area",
        kind="area",
        step=0.1 * CM2,
        up=True,
        most=1.0,
        words="Open the sprue's mouth to {new} (it is {old}).",
        only_if=("/sprue/mouth_area",),
    ),
    Switch(
        checks=("sprue-aspiration",),
        changes=(Change("/sprue/mouth_area", REMOVED),),
        words="Let the sprue's mouth be sized for you.",
        only_if=("/sprue/mouth_area",),
    ),
    Slide(
        checks=("sprue-aspiration",),
        at="/basin_depth",
        kind="length",
        step=MM,
        up=True,
        most=0.5,
        words="Keep {new} of metal over the sprue's mouth (it is {old}).",
        unless=("/head",),
    ),
    Slide(
        checks=("gate-runs-full",),
        at="/gate/thickness",
        kind="length",
        step=0.5 * MM,
        up=False,
        most=MM,
        words="Make the gates {new} thick (they are {old}).",
        start=("gates", "thickness"),
    ),
    Slide(
        checks=("gate-edge",),
        at="/gate/edge",
        kind="length",
        step=MM,
        up=True,
        most=10.0,
        words="Offer {new} of edge to the gates (it is {old}).",
    ),
    Slide(
        checks=("gates-on-runner",),
        at="/runner/length",
        kind="length",
        step=MM,
        up=True,
        most=5.0,
        words="Make the runner {new} long (it is {old}).",
        start=("runner", "length"),
    ),
    Slide(
        checks=("runner-priming",),
        at="/runner/length",
        kind="length",
        step=5 * MM,
        up=False,
        most=5 * MM,
        words="Make the runner {new} long (it is {old}).",
        start=("runner", "length"),
    ),
    Slide(
        checks=("gating-vents",),
        at="/vents/count",
        kind="count",
        step=1.0,
        up=True,
        most=1000.0,
        words="Pierce {new} vents (there are {old}).",
        only_if=("/vents/count",),
    ),
    Switch(
        checks=("gating-cutter",),
        changes=(Change("/cutters", REMOVED),),
        words="Cut sprue and runner freely instead of with the tools named.",
        only_if=("/cutters",),
    ),
)


def _shared_out(trouble: Trouble) -> Iterator[Offer]:
    """Gates by the metal that each casting takes, where the caller has given their numbers."""
    castings = given_at(trouble.case, "/castings") or ()
    told = [index for index, one in enumerate(castings) if one.gates is not None]
    if told:
        changes = tuple(Change(f"/castings/{index}/gates", REMOVED) for index in told)
        yield Offer(changes, Say("Let the gates be shared out by the metal that each casting takes."))


GATING = Levers(
    levers=(*GATING_LEVERS, Proposal(checks=("casting-balance",), offers=_shared_out)),
    cost={"metal": ("mass", ("metal", "mass"))},
)
