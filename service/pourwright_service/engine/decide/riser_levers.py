"""What can be changed to mend a riser."""

from .freezing_levers import FREEZING
from .remedies import REMOVED, WHOLE_ANSWER, Change, Levers, Slide, Switch

MM = 1e-3

BESIDE = Switch(
    checks=("riser-foot", "riser-face-free", WHOLE_ANSWER),
    changes=(Change("/riser/position", "side"), Change("/riser/face", REMOVED)),
    words="Stand the riser beside the casting, with a neck.",
)


_SIZED = ("riser-freezes-last", "riser-modulus", "riser-volume", "riser-last-on-map", "neck-before-riser")

FLATTEST = 2.0
"""No riser more than so many times as wide as tall is offered: such a one freezes from its top."""

RISER_LEVERS = (
    Switch(
        checks=_SIZED[:4],
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
        words="Make the riser {new} across (it is {old}), and as much taller as it is now for its width.",
        only_if=("/riser/diameter",),
        unless=("/riser/height",),
        ceiling_check="riser-foot",
    ),
    Slide(
        checks=_SIZED,
        at="/riser/diameter",
        kind="length",
        step=MM,
        up=True,
        most=1.0,
        words="Make the riser {new} across (it is {old}); it stays as tall as it is.",
        only_if=("/riser/diameter", "/riser/height"),
        ceiling=("height",),
        ceiling_times=FLATTEST,
        ceiling_check="riser-foot",
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
    Switch(
        checks=("shrinkage-plausible",),
        changes=(Change("/properties/solidification_shrinkage", REMOVED),),
        words="Take the table's or the rule's shrinkage on freezing instead of yours.",
        only_if=("/properties/solidification_shrinkage",),
    ),
    BESIDE,
    Switch(
        checks=("riser-zone", "feed-step"),
        changes=(Change("/several", REMOVED),),
        words="Give each heavy section a riser of its own.",
        only_if=("/several",),
    ),
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
    levers=(*RISER_LEVERS, *FREEZING.levers),
    cost={"metal": ("mass", ("risers", "+", "riser_mass"))},
)
