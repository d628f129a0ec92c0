"""What can be changed to mend a batch of sand."""

from .remedies import Levers, Slide

SAND = Levers(
    levers=(
        Slide(
            checks=("sand-not-too-wet",),
            at="/dry_sand",
            kind="mass",
            step=0.1,
            up=True,
            most=1e5,
            words="Mix {new} of dry sand in (now {old}).",
            else_=0.0,
            ceiling=("sand_mass",),
        ),
        Slide(
            checks=("sand-not-too-wet",),
            at="/water_share",
            kind="fraction",
            step=0.001,
            up=False,
            most=0.001,
            words="Aim at {new} of water instead of {old}.",
        ),
        Slide(
            checks=("sand-damp-enough",),
            at="/water_share",
            kind="fraction",
            step=0.001,
            up=True,
            most=0.2,
            words="Aim at {new} of water instead of {old}.",
        ),
        Slide(
            checks=("sand-binder-enough",),
            at="/binder_share",
            kind="fraction",
            step=0.001,
            up=True,
            most=0.3,
            words="Hold the sand with {new} of its binder instead of {old}.",
        ),
        Slide(
            checks=("sand-binder-not-too-much",),
            at="/binder_share",
            kind="fraction",
            step=0.001,
            up=False,
            most=0.001,
            words="Hold the sand with {new} of its binder instead of {old}.",
        ),
        Slide(
            checks=("sand-fills-flask",),
            at="/sand_mass",
            kind="mass",
            step=0.1,
            up=True,
            most=1e5,
            words="Take {new} of sand instead of {old}.",
        ),
    ),
)
