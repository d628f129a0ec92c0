"""What can be changed to mend how a casting freezes."""

from collections.abc import Iterator

from .remedies import Levers, Proposal, Slide, Trouble, given_at

MM = 1e-3

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
    feeders = {check.bad.parts.get("b") for check in trouble.checks}
    base = "/part" if given_at(trouble.case, "/part") is not None else ""
    for index, section in enumerate(given_at(trouble.case, f"{base}/sections") or ()):
        if section.name not in feeders:
            continue
        measures = sorted(_THIN.get(section.shape, ()), key=lambda name: section.dimensions.get(name, 0.0))
        for name in measures[:1]:
            yield Slide(
                checks=("feed-step",),
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
