"""What can be changed to mend how a casting freezes."""

from collections.abc import Callable, Iterator

from .remedies import Levers, Proposal, Slide, Trouble, given_at

MM = 1e-3

USUAL = "/properties/pouring_high"
HOTTEST = 2100.0
"""K: no metal of these tables is poured hotter."""

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


def hotter(at: str, words: str, *checks: str) -> Proposal:
    """A temperature raised, but no higher than the alloy is usually poured, where that is known."""

    def offers(trouble: Trouble) -> Iterator[Slide]:
        usual = given_at(trouble.case, USUAL)
        if usual is None:
            usual = next((d.value for d in trouble.answer.defaults if d.pointer == USUAL), HOTTEST)
        yield Slide(
            checks=checks,
            at=at,
            kind="temperature",
            step=5.0,
            up=True,
            most=float(usual),
            words=words,
            start=("pouring_temperature",),
        )

    return Proposal(checks=checks, offers=offers)


_HOTTER = hotter("/pouring_temperature", "Pour at {new} instead of {old}.", "superheat-at-filled")
_COOLER = Slide(
    checks=("pouring-not-too-hot",),
    at="/pouring_temperature",
    kind="temperature",
    step=5.0,
    up=False,
    most=400.0,
    words="Pour at {new} instead of {old}.",
)


def _fillet(up: bool) -> Callable[[Trouble], Iterator[Slide]]:
    """Another fillet at the junction that a check points at."""

    def offers(trouble: Trouble) -> Iterator[Slide]:
        for check in trouble.checks:
            yield Slide(
                checks=(check.kind.id,),
                at=f"{check.subject}/fillet",
                kind="length",
                step=0.5 * MM,
                up=up,
                most=0.2 if up else 0.0,
                words="Round the junction's corners to {new} (they have {old}).",
            )

    return offers


FREEZING = Levers(
    levers=(
        Proposal(checks=("feed-step",), offers=_thicker),
        Proposal(checks=("fillet-not-sharp",), offers=_fillet(up=True)),
        Proposal(checks=("fillet-not-large", "junction-hot-spot"), offers=_fillet(up=False)),
        _HOTTER,
        _COOLER,
    )
)
