"""Castings for tests: sections made short, random castings, and a walk over every number of an answer."""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from pourwright_service.engine.answer import Answer
from pourwright_service.engine.decide.freezing import FreezingCase, decide_freezing
from pourwright_service.engine.decide.heat import MouldCase
from pourwright_service.engine.geometry.sections import (
    DIMENSIONS,
    FACE_GROUPS,
    FACES,
    Core,
    Join,
    Section,
    SectionFault,
    measure,
)
from pourwright_service.engine.tables.alloys import ALLOYS
from pourwright_service.engine.tables.moulds import MOULDS

SAND = MouldCase(medium="silica sand")
ALLOY_IDS = sorted(ALLOYS)
MEDIA = sorted(MOULDS)


def section(shape: str, name: str = "part", **told: Any) -> Section:
    """A section by its sizes in mm (a custom one in SI); other words are the section's own fields."""
    sizes = {
        size: told.pop(size) * (1.0 if shape == "custom" else 1e-3)
        for size in DIMENSIONS[shape]
        if size in told
    }
    return Section(name=name, shape=shape, dimensions=sizes, **told)


def cube(side: float, name: str = "part", **told: Any) -> Section:
    """A cube, mm."""
    return section("bar", name, length=side, width=side, height=side, **told)


def plate(thickness: float, name: str = "part", **told: Any) -> Section:
    """A plate of 1 m by 1 m without cooling edges, thickness in mm."""
    return section(
        "plate", name, length=1000.0, width=1000.0, thickness=thickness, **{"edges_cool": False, **told}
    )


def freeze(*sections: Section, alloy: str | None = "A356", mould: MouldCase = SAND, **told: Any) -> Answer:
    """The answer to a freezing request."""
    return decide_freezing(FreezingCase(sections=sections, alloy=alloy, mould=mould, **told))


def times(answer: Answer) -> dict[str, float]:
    """Freezing time (s) by section."""
    return {one["name"]: one["freezing_time"] for one in answer.result["sections"]}


def grown(one: Section, factor: float) -> Section:
    """The same section with every length times a factor, joins and core too."""
    powers = {"volume": 3, "cooling_area": 2}
    sizes = {size: value * factor ** powers.get(size, 1) for size, value in one.dimensions.items()}
    joins = tuple(replace(join, area=join.area * factor**2) for join in one.joins)
    core = replace(one.core, modulus=one.core.modulus * factor) if one.core else None
    return replace(one, dimensions=sizes, joins=joins, core=core)


def numbers(found: Any) -> Iterator[float]:
    """Every number in a result."""
    if isinstance(found, dict):
        for inner in found.values():
            yield from numbers(inner)
    elif isinstance(found, list | tuple):
        for inner in found:
            yield from numbers(inner)
    elif isinstance(found, float | int):
        yield float(found)


def is_sound(answer: Answer) -> bool:
    """Whether an answer has a verdict and only finite numbers, in result and checks."""
    figures = [*numbers(answer.result), *(n for c in answer.checks for n in (c.value, c.limit, c.slack))]
    return answer.verdict in ("pass", "warn", "fail", "unknown") and all(map(math.isfinite, figures))


# --- random castings ----------------------------------------------------------------------------

_LENGTHS = st.floats(4.0, 250.0).map(lambda length: round(length, 2))


@st.composite
def _sizes(draw: st.DrawFn, shape: str) -> dict[str, float]:
    sizes = {size: draw(_LENGTHS) for size in DIMENSIONS[shape]}
    if shape == "custom":
        return {"volume": sizes["volume"] * 1e-5, "cooling_area": sizes["cooling_area"] * 1e-3}
    if shape == "tube":
        sizes["inner_diameter"] = round(sizes["outer_diameter"] * draw(st.floats(0.1, 0.9)), 3)
    if shape == "ring":
        sizes["mean_diameter"] = round(sizes["section_width"] * draw(st.floats(1.1, 8.0)), 3)
    return sizes


@st.composite
def sections(draw: st.DrawFn, name: str = "part") -> Section:
    """One valid section, some faces of it blocked, insulated or cored."""
    shape = draw(st.sampled_from(sorted(DIMENSIONS)))
    names = [*FACES[shape], *FACE_GROUPS[shape]]
    states = draw(
        st.dictionaries(
            st.sampled_from(names), st.sampled_from(["insulated", "joined", "cored", "cooling"]), max_size=2
        )
    )
    core = None
    if len(FACES[shape]) > 1 and draw(st.booleans()):
        states[draw(st.sampled_from(names))] = "cored"
        shapes = st.sampled_from(["slab", "cylinder", "sphere"])
        core = draw(st.none() | st.builds(Core, shape=shapes, modulus=st.floats(0.001, 0.05)))
    return section(shape, name, **draw(_sizes(shape)), faces=states, core=core)


@st.composite
def castings(draw: st.DrawFn, largest: int = 4) -> tuple[Section, ...]:
    """A few sections, some of them joined, each with some surface that cools to the mould."""
    count = draw(st.integers(1, largest))
    chosen = [draw(sections(f"s{number}")) for number in range(count)]
    for number in range(1, count):
        if draw(st.booleans()):
            other = draw(st.integers(0, number - 1))
            area = draw(st.floats(0.05, 0.6)) * min(_surface(chosen[number]), _surface(chosen[other]))
            joins = (Join(to=chosen[other].name, area=area),)
            trial = [*chosen]
            trial[number] = replace(chosen[number], joins=joins)
            if _measurable(trial):
                chosen = trial
    whole = [one if _measurable([one]) else replace(one, faces={}, core=None) for one in chosen]
    if not _measurable(whole):
        whole = [replace(one, joins=()) for one in whole]
    return tuple(whole)


def _surface(one: Section) -> float:
    """Area (m^2) of the smallest face."""
    (found,) = measure([replace(one, faces={}, core=None, joins=())])
    return min(face.area for face in found.faces)


def _measurable(chosen: list[Section]) -> bool:
    try:
        return all(one.cooling_area > 0.0 for one in measure(chosen))
    except SectionFault:
        return False
