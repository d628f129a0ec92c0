"""What can be changed in a request to make a failed check pass: one table of levers per subject.

The order is that of the shop: what costs least trouble comes first.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from .charge_levers import CHARGE, CHARGE_LEVERS
from .charge_melts_mend import MELTS
from .draw_levers import TURN
from .freeze_map_levers import FREEZE_MAP, OVER_THE_LAST
from .freezing_levers import FREEZING, hotter
from .gating_levers import GATING, GATING_LEVERS
from .remedies import (
    Change,
    Lever,
    Levers,
    Proposal,
    Slide,
    Switch,
    Trouble,
    given_at,
)
from .riser_levers import BESIDE, RISER, RISER_LEVERS

__all__ = ["CHARGE", "FREEZE_MAP", "FREEZING", "GATING", "MELTS", "PLAN", "POUR_TIME", "RISER"]

MM = 1e-3


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
        ceiling=("outline",),
    ),
)

POUR_TIME = Levers(
    levers=(
        *_POUR,
        hotter(
            "/pouring_temperature",
            "Pour at {new} instead of {old}.",
            "pour-window",
            "pour-time-slow",
            "pot-seconds-left",
            "pot-mould-fills",
        ),
        hotter("/pot/temperature", "Draw the metal at {new} instead of {old}.", "pot-seconds-left"),
        Slide(
            checks=("pot-seconds-left", "pot-waits-too-long"),
            at="/pot/delay",
            kind="time",
            step=1.0,
            up=False,
            most=0.0,
            words="Bring it from the furnace to the last mould in {new} instead of {old}.",
        ),
        Slide(
            checks=("pot-holds-enough",),
            at="/pot/metal_mass",
            kind="mass",
            step=0.05,
            up=True,
            most=1000.0,
            words="Have {new} in the pot (it holds {old}).",
        ),
        Slide(
            checks=("pot-mould-fills", "pot-first-too-hot", "pot-seconds-left"),
            at="/pot/between",
            kind="time",
            step=1.0,
            up=False,
            most=0.0,
            words="Go from one mould to the next in {new} instead of {old}.",
        ),
        Slide(
            checks=("least-wall",),
            at="/thinnest",
            kind="length",
            step=0.5 * MM,
            up=True,
            most=0.1,
            words="Make the thinnest section {new} (it is {old}).",
            only_if=("/thinnest",),
        ),
        Slide(
            checks=("least-wall",),
            at="/thickness",
            kind="length",
            step=0.5 * MM,
            up=True,
            most=0.1,
            words="Make the wall {new} (it is {old}).",
            unless=("/thinnest",),
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
    replace(BESIDE, checks=("riser-wanted",)),
    Slide(
        checks=("gating-settles",),
        at="/pour/pour_time",
        kind="time",
        step=0.5,
        up=True,
        most=3600.0,
        words="Fill the mould in {new} instead of {old}.",
        start=("pour_time", "recommended"),
    ),
    Proposal(checks=("crucible-fits",), offers=_bigger_crucible),
    Proposal(checks=("riser-in-cope", "drag-deep-enough", "gating-head-left"), offers=_flask_heights),
    Proposal(checks=("flask-fits",), offers=_wider_flask),
    OVER_THE_LAST,
    Slide(
        checks=("riser-last-on-map", "map-feeds-casting"),
        at="/riser/modulus_ratio",
        kind="ratio",
        step=0.05,
        up=True,
        most=3.0,
        words="Ask for a riser of {new} times the casting's modulus (it is {old} times).",
        unless=("/riser/diameter",),
    ),
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
                    ceiling=(result, *lever.ceiling) if lever.ceiling else (),
                    only_if=tuple(map(moved, lever.only_if)),
                    unless=tuple(map(moved, lever.unless)),
                    along=there(lever.along),
                )
            )
    return tuple(found)


PLAN = Levers(
    levers=(
        *FREEZING.levers,
        *under(RISER_LEVERS, "riser", {"/several": "/riser/several", "": ""}),
        *_PLAN,
        *under(GATING_LEVERS, "gating", {"/pour_time": "/pour/pour_time", "": "/gating"}),
        *under(_POUR, "pour_time", {"": "/pour"}),
        *CHARGE_LEVERS,
    ),
    cost={"metal": ("mass", ("masses", "poured")), "money": ("money", ("charge", "cost"))},
)
