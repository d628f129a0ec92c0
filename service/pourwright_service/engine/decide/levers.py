"""What can be changed in a request to make a failed check pass: one table of levers per subject.

The order is that of the shop: what costs least trouble comes first.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from .draw_levers import TURN
from .remedies import (
    REMOVED,
    WHOLE_ANSWER,
    Change,
    Lever,
    Levers,
    Proposal,
    Slide,
    Switch,
    Trouble,
    given_at,
)

MM, CM2 = 1e-3, 1e-4


_BESIDE = Switch(
    checks=("riser-foot", WHOLE_ANSWER),
    changes=(Change("/riser/position", "side"), Change("/riser/face", REMOVED)),
    words="Stand the riser beside the casting, with a neck.",
)

# --- freezing -------------------------------------------------------------------------------

_THIN = {
    "plate": ("thickness",),
    "bar": ("width", "height"),
    "cylinder": ("diameter",),
    "tube": ("outer_diameter",),
    "ring": ("section_width", "section_height"),
    "sphere": ("diameter",),
    "cone": ("lower_diameter", "upper_diameter"),
    "hexagon": ("across_flats",),
}
"""The measures of a shape that make it heavier."""


def _thicker(trouble: Trouble) -> Iterator[Slide]:
    """Make the section heavier through which another is to be fed."""
    if not trouble.checks:
        return
    check = trouble.checks[0]
    feeder = check.bad.parts.get("b")
    base = "/part" if given_at(trouble.case, "/part") is not None else ""
    for index, section in enumerate(given_at(trouble.case, f"{base}/sections") or ()):
        if section.name != feeder:
            continue
        measures = sorted(_THIN.get(section.shape, ()), key=lambda name: section.dimensions.get(name, 0.0))
        for name in measures[:1]:
            yield Slide(
                checks=(check.kind.id,),
                at=f"{base}/sections/{index}/{name}",
                kind="length",
                step=0.5 * MM,
                up=True,
                most=4.0 * section.dimensions.get(name, 0.0),
                words=f"Make {section.name} thicker: {name.replace('_', ' ')} {{new}} (it is {{old}}).",
            )


_HOTTER = Slide(
    checks=("superheat-at-filled", "pot-seconds-left"),
    at="/pouring_temperature",
    kind="temperature",
    step=5.0,
    up=True,
    most=2100.0,
    words="Pour at {new} instead of {old}.",
)
_COOLER = Slide(
    checks=("pouring-not-too-hot",),
    at="/pouring_temperature",
    kind="temperature",
    step=5.0,
    up=False,
    most=400.0,
    words="Pour at {new} instead of {old}.",
)

FREEZING = Levers(levers=(Proposal(checks=("feed-step",), offers=_thicker), _HOTTER, _COOLER))

# --- riser ----------------------------------------------------------------------------------

_SIZED = ("riser-freezes-last", "riser-modulus", "riser-volume", "neck-before-riser")

_RISER = (
    Switch(
        checks=_SIZED[:3],
        changes=(Change("/riser/diameter", REMOVED), Change("/riser/height", REMOVED)),
        words="Let the riser be sized for you.",
        only_if=("/riser/diameter",),
    ),
    Slide(
        checks=_SIZED,
        at="/riser/diameter",
        kind="length",
        step=MM,
        up=True,
        most=1.0,
        words="Make the riser {new} across (it is {old}).",
        only_if=("/riser/diameter",),
    ),
    Slide(
        checks=("riser-volume", "riser-modulus", "riser-freezes-last", "riser-above-casting"),
        at="/riser/height",
        kind="length",
        step=MM,
        up=True,
        most=1.0,
        times=3.0,
        words="Make the riser {new} tall (it is {old}).",
        start=("height",),
        only_if=("/riser/diameter",),
    ),
    Slide(
        checks=("riser-freezes-last", "riser-modulus"),
        at="/riser/sleeve/modulus_ratio",
        kind="ratio",
        step=0.05,
        up=True,
        most=2.0,
        words="Put it in a sleeve that raises its modulus {new} times, by its maker's card.",
        else_=1.0,
        unless=("/riser/sleeve",),
    ),
    Switch(
        checks=(
            "riser-volume",
            "riser-modulus",
            "riser-freezes-last",
        ),
        changes=(Change("/riser/shape", "domed"),),
        words="Give the riser a half-ball top: it holds more metal for its surface.",
    ),
    Slide(
        checks=("riser-foot",),
        at="/riser/height_to_diameter",
        kind="ratio",
        step=0.1,
        up=True,
        most=3.0,
        words="Make the riser slimmer: {new} times as tall as wide (it is {old} times).",
        unless=("/riser/diameter",),
    ),
    _BESIDE,
    Slide(
        checks=("neck-freezes-between",),
        at="/riser/neck/thickness",
        kind="length",
        step=MM,
        up=True,
        most=1.0,
        words="Make the neck {new} thick (it is {old}).",
    ),
    Slide(
        checks=("neck-before-riser",),
        at="/riser/neck/thickness",
        kind="length",
        step=MM,
        up=False,
        most=MM,
        words="Make the neck {new} thick (it is {old}).",
        start=("neck",),
    ),
    Switch(
        checks=("neck-freezes-between",),
        changes=(Change("/riser/neck/thickness", REMOVED),),
        words="Let the neck be sized for you.",
        only_if=("/riser/neck/thickness",),
    ),
)

RISER = Levers(
    levers=(*_RISER, *FREEZING.levers),
    cost={"metal": ("mass", ("riser_mass",))},
)

# --- gating ---------------------------------------------------------------------------------

_GATING = (
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
)

GATING = Levers(levers=_GATING, cost={"metal": ("mass", ("metal", "mass"))})

# --- pour time ------------------------------------------------------------------------------

_POUR = (
    Slide(
        checks=("pour-time-slow",),
        at="/pour_time",
        kind="time",
        step=0.1,
        up=False,
        most=0.1,
        words="Fill the mould in {new} instead of {old}.",
        start=("recommended",),
    ),
    Slide(
        checks=("pour-time-fast",),
        at="/pour_time",
        kind="time",
        step=0.1,
        up=True,
        most=3600.0,
        words="Fill the mould in {new} instead of {old}.",
        start=("recommended",),
    ),
    Slide(
        checks=("pour-window", "pour-time-fast"),
        at="/gate_edge",
        kind="length",
        step=MM,
        up=True,
        most=10.0,
        words="Offer {new} of edge to the gates (it is {old}): gate it from more sides.",
    ),
)

POUR_TIME = Levers(
    levers=(
        *_POUR,
        Slide(
            checks=("pour-window", "pour-time-slow", "pot-seconds-left"),
            at="/pouring_temperature",
            kind="temperature",
            step=5.0,
            up=True,
            most=2100.0,
            words="Pour at {new} instead of {old}.",
            start=("pouring_temperature",),
        ),
        Slide(
            checks=("pot-seconds-left",),
            at="/pot/temperature",
            kind="temperature",
            step=5.0,
            up=True,
            most=2100.0,
            words="Draw the metal at {new} instead of {old}.",
        ),
        Slide(
            checks=("pot-seconds-left",),
            at="/pot/delay",
            kind="time",
            step=1.0,
            up=False,
            most=0.0,
            words="Bring it from the furnace to the last mould in {new} instead of {old}.",
        ),
    )
)


# --- the plan -------------------------------------------------------------------------------


def _bigger_crucible(trouble: Trouble) -> Iterator[Slide]:
    """How much the crucible would have to hold."""
    result = trouble.answer.result.get("crucible") or {}
    for index, crucible in enumerate(given_at(trouble.case, "/shop/crucibles") or ()):
        if crucible.name == result.get("name"):
            yield Slide(
                checks=("crucible-fits",),
                at=f"/shop/crucibles/{index}/brim_volume",
                kind="volume",
                step=1e-4,
                up=True,
                most=1.0,
                words="Melt in a crucible that holds {new} to the brim (yours holds {old}).",
            )


def _flask_heights(trouble: Trouble) -> Iterator[Slide]:
    """A taller flask beside the ones there are."""
    flasks: Iterable[object] = given_at(trouble.case, "/shop/flasks") or ()
    for index, _ in enumerate(flasks):
        heights = given_at(trouble.case, f"/shop/flasks/{index}/heights")
        yield Slide(
            checks=("riser-in-cope", "drag-deep-enough", "gating-head-left"),
            at=f"/shop/flasks/{index}/heights/{heights.index(max(heights))}",
            kind="length",
            step=5 * MM,
            up=True,
            most=2.0,
            words="Have a flask {new} tall (your tallest of this size is {old}).",
            unless=("/gating/sprue_height",),
        )
        break


def _wider_flask(trouble: Trouble) -> Iterator[Slide]:
    for index, _ in enumerate(given_at(trouble.case, "/shop/flasks") or ()):
        for side in ("length", "width"):
            yield Slide(
                checks=("flask-fits",),
                at=f"/shop/flasks/{index}/{side}",
                kind="length",
                step=5 * MM,
                up=True,
                most=5.0,
                words=f"Have a flask {{new}} in {side} (this one is {{old}}).",
            )


_PLAN = (
    TURN,
    Switch(
        checks=("riser-wanted",),
        changes=(Change("/riser/position", "top"),),
        words="Stand a riser on the casting.",
    ),
    replace(_BESIDE, checks=("riser-wanted",)),
    Proposal(checks=("crucible-fits",), offers=_bigger_crucible),
    Proposal(checks=("riser-in-cope", "drag-deep-enough", "gating-head-left"), offers=_flask_heights),
    Proposal(checks=("flask-fits",), offers=_wider_flask),
    Slide(
        checks=("casting-yield",),
        at="/riser/sleeve/modulus_ratio",
        kind="ratio",
        step=0.05,
        up=True,
        most=2.0,
        words="Put the riser in a sleeve that raises its modulus {new} times, by its maker's card.",
        else_=1.0,
        unless=("/riser/sleeve",),
    ),
)


def under(levers: Iterable[Lever], result: str, moves: Mapping[str, str]) -> tuple[Lever, ...]:
    """The levers of a subject that is part of a larger request.

    ``moves`` gives the places of the request by prefix, ``result`` is the part of the larger result.
    Proposals look at their own case and are not moved.
    """

    def moved(pointer: str) -> str:
        for prefix, target in moves.items():
            if pointer == prefix or pointer.startswith(prefix + "/"):
                return target + pointer[len(prefix) :]
        return moves[""] + pointer

    def there(changes: tuple[Change, ...]) -> tuple[Change, ...]:
        return tuple(replace(change, at=moved(change.at)) for change in changes)

    found: list[Lever] = []
    for lever in levers:
        if isinstance(lever, Switch):
            only_if = tuple(map(moved, lever.only_if))
            found.append(replace(lever, changes=there(lever.changes), only_if=only_if))
        elif isinstance(lever, Slide):
            found.append(
                replace(
                    lever,
                    at=moved(lever.at),
                    start=(result, *lever.start) if lever.start else (),
                    only_if=tuple(map(moved, lever.only_if)),
                    unless=tuple(map(moved, lever.unless)),
                    along=there(lever.along),
                )
            )
    return tuple(found)


PLAN = Levers(
    levers=(
        *FREEZING.levers,
        *under(_RISER, "riser", {"": ""}),
        *_PLAN,
        *under(_GATING, "gating", {"/pour_time": "/pour/pour_time", "": "/gating"}),
        *under(_POUR, "pour_time", {"": "/pour"}),
    ),
    cost={"metal": ("mass", ("masses", "poured")), "money": ("money", ("charge", "cost"))},
)
