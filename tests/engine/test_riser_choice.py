"""Choosing a riser: its proportions, faces that stay free, what stands beside it, what more asks of it."""

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pourwright_service.api.sentences import render
from pourwright_service.engine.answer import Answer
from pourwright_service.engine.decide.heat import MouldCase
from pourwright_service.engine.decide.riser import RiserCase, decide_riser
from pourwright_service.engine.decide.riser_inputs import CastingCase, NeckCase, RiserShape, SleeveCase
from pourwright_service.engine.geometry.sections import FACE_GROUPS, FACES, Section
from tests.engine.castings import ALLOY_IDS, SAND, castings, cube, section

SIZED = ("riser-freezes-last", "riser-modulus", "riser-volume")


def ask(*sections: Section, riser: RiserShape | None = None, **told: Any) -> Answer:
    shape = riser or RiserShape()
    return decide_riser(
        RiserCase(sections=sections, riser=shape, several=False, **{"alloy": "A356", "mould": SAND, **told})
    )


def ratio_of(answer: Answer) -> float:
    return {one.pointer: one.value for one in answer.defaults}["/riser/height_to_diameter"]


def served(answer: Answer) -> bool:
    return answer.result["diameter"] is not None and all(
        check.verdict == "pass" for check in answer.checks if check.kind.id in SIZED
    )


# --- least metal ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("foot", "best"), [("cooling", 1.0), ("joined", 0.5)])
def test_the_bare_rule_finds_the_textbooks_proportions(foot: str, best: float) -> None:
    """Side riser h = d, top riser h = d/2 (Ghosh and Mallik, example 2.9; exact geometry)."""
    shape = RiserShape(position="side", faces={"bottom": foot}, criteria=("modulus",), least_metal=True)
    answer = ask(casting=CastingCase(volume=1e-3, modulus=0.015), riser=shape, alloy=None, mould=MouldCase())
    assert ratio_of(answer) == pytest.approx(best)
    assert answer.result["height"] == pytest.approx(best * answer.result["diameter"])


@given(
    casting=castings(2),
    alloy=st.sampled_from(ALLOY_IDS),
    shape=st.sampled_from(["cylinder", "domed"]),
    position=st.sampled_from(["top", "side"]),
    criteria=st.sampled_from([None, ("time",), ("modulus",), ("volume", "modulus")]),
)
@settings(max_examples=25, deadline=None)
def test_no_other_proportions_take_less_metal(
    casting: tuple[Section, ...], alloy: str, shape: str, position: str, criteria: Any
) -> None:
    """Second way: every tenth of height over width from 0.3 to 5 tried, without rounding."""
    wish = RiserShape(shape=shape, position=position, criteria=criteria, rounding_step=0.0)
    least = ask(*casting, alloy=alloy, riser=replace(wish, least_metal=True))
    if least.result["diameter"] is None:
        return
    assert served(least)
    for tenths in range(3, 51):
        other = ask(*casting, alloy=alloy, riser=replace(wish, height_to_diameter=tenths / 10.0))
        if other.result["diameter"] is not None and served(other):
            assert least.result["volume"] <= other.result["volume"] * 1.005, tenths / 10.0


def test_told_proportions_win_over_the_least_metal() -> None:
    answer = ask(cube(80.0), riser=RiserShape(least_metal=True, height_to_diameter=1.7))
    assert answer.result["height"] == pytest.approx(1.7 * answer.result["diameter"])


def test_where_only_volume_counts_proportions_make_no_difference() -> None:
    answer = ask(cube(80.0), riser=RiserShape(position="side", criteria=("volume",), least_metal=True))
    assert ratio_of(answer) == 1.0


# --- faces that stay free -------------------------------------------------------------------------

SLAB = section("plate", "slab", length=120.0, width=80.0, thickness=30.0)


def test_a_top_that_shows_is_kept_free() -> None:
    """The casting is then laid with its underside up: the riser stands there."""
    answer = ask(replace(SLAB, keep_off=("top",)))
    assert answer.result["face"] == "bottom"
    assert answer.result["diameter"] == ask(SLAB).result["diameter"]
    (judged,) = (check for check in answer.checks if check.kind.id == "riser-face-free")
    assert judged.verdict == "pass"
    assert "top" in render(judged.message)
    assert "riser-face-free" not in {check.kind.id for check in ask(SLAB).checks}


@pytest.mark.parametrize(
    ("keep_off", "riser", "left"),
    [
        (("top",), RiserShape(face="top"), "bottom, left, right, front, back"),
        (("top", "bottom", "edges"), RiserShape(), "every face"),
        (("top", "bottom", "edges"), RiserShape(position="side"), "every face"),
    ],
)
def test_where_no_face_is_left_it_says_what_is(
    keep_off: tuple[str, ...], riser: RiserShape, left: str
) -> None:
    answer = ask(replace(SLAB, keep_off=keep_off), riser=riser)
    assert answer.verdict == "fail"
    assert answer.result["diameter"] is None
    assert left in render(answer.message)


def test_a_drum_whose_ends_show_takes_a_neck_on_its_side() -> None:
    drum = section("cylinder", "drum", diameter=80.0, height=80.0, keep_off=("ends",))
    refused = ask(drum)
    assert refused.verdict == "fail"
    assert "What is left (side) may take the neck" in render(refused.message)
    beside = ask(drum, riser=RiserShape(position="side"))
    assert beside.verdict == "pass"
    assert beside.result["risers"][0]["free_faces"] == ["side"]


@given(casting=castings(3), alloy=st.sampled_from(ALLOY_IDS), data=st.data())
@settings(max_examples=40, deadline=None)
def test_no_riser_stands_on_a_face_that_is_kept_free(
    casting: tuple[Section, ...], alloy: str, data: st.DataObject
) -> None:
    kept = []
    for one in casting:
        names = st.sampled_from([*FACES[one.shape], *FACE_GROUPS[one.shape]])
        kept.append(replace(one, keep_off=tuple(data.draw(st.lists(names, max_size=3, unique=True)))))
    answer = decide_riser(RiserCase(sections=tuple(kept), alloy=alloy, mould=SAND))
    by_name = {one.name: one for one in kept}
    for riser in answer.result["risers"]:
        one = by_name[riser["section"]]
        groups = FACE_GROUPS[one.shape]
        off = {name for told in one.keep_off for name in groups.get(told, (told,))}
        assert riser["face"] not in off
        assert off.isdisjoint(riser["free_faces"])


# --- a ring ---------------------------------------------------------------------------------------


def test_a_riser_over_the_hole_of_a_bush_is_told_from_one_on_its_wall() -> None:
    """Geometry: outside 80, bore 40, wall 20 mm; a foot of 15 fits on the wall, one of 30 hangs over
    it, one of 60 covers the bore however far the bush reaches beyond it."""
    bush = section("tube", "bush", outer_diameter=80.0, inner_diameter=40.0, height=60.0)
    said = {}
    for diameter in (15.0, 30.0, 60.0, 100.0):
        answer = ask(bush, riser=RiserShape(diameter=diameter / 1000.0))
        (foot,) = (check for check in answer.checks if check.kind.id == "riser-foot")
        assert foot.limit == pytest.approx(0.020)
        said[diameter] = render(foot.message)
    assert "fits" in said[15.0]
    assert "covers the hole" not in said[30.0]
    assert "covers the hole" in said[60.0]
    assert "covers the hole" in said[100.0]


# --- alternatives ---------------------------------------------------------------------------------

SHAPES = {
    "domed": ("domed", None, None),
    "ball": ("ball", None, None),
    "side_with_neck": ("cylinder", "side", None),
    "top_with_neck": ("cylinder", "top", NeckCase()),
}


def test_every_alternative_is_what_asking_for_it_gives() -> None:
    answer = ask(SLAB, alternatives=True, sleeve_ratio=1.4)
    beside = {one["kind"]: one for one in answer.result["alternatives"]}
    assert {"chosen", "least_metal", "domed", "ball", "sleeve", "top_with_neck", "side_with_neck"} == set(
        beside
    )
    asked = {
        kind: RiserShape(shape=shape, position=position, neck=neck)
        for kind, (shape, position, neck) in SHAPES.items()
    }
    asked["chosen"] = RiserShape()
    asked["least_metal"] = RiserShape(least_metal=True)
    asked["sleeve"] = RiserShape(sleeve=SleeveCase(modulus_ratio=1.4))
    for kind, shape in asked.items():
        own = ask(SLAB, riser=shape)
        assert beside[kind]["serves"] is served(own), kind
        for field in ("diameter", "height", "neck", "volume", "cut_off_area", "riser_mass", "yield_ratio"):
            assert beside[kind][field] == own.result[field], (kind, field)


@given(casting=castings(3), alloy=st.sampled_from(ALLOY_IDS), position=st.sampled_from(["top", "side"]))
@settings(max_examples=25, deadline=None)
def test_alternatives_stand_in_order_of_their_metal(
    casting: tuple[Section, ...], alloy: str, position: str
) -> None:
    told: dict[str, Any] = {"riser": RiserShape(position=position), "alternatives": True}
    answer = ask(*casting, alloy=alloy, **told)
    beside = answer.result["alternatives"]
    serving = [one["volume"] for one in beside if one["serves"]]
    assert serving == pytest.approx(sorted(serving))
    assert all(one["serves"] for one in beside[: len(serving)])
    assert all(one["why_not"] is not None for one in beside[len(serving) :])
    plain = ask(*casting, alloy=alloy, riser=RiserShape(position=position))
    assert plain.result["diameter"] == answer.result["diameter"]
    assert plain.result["alternatives"] == []
    if beside and answer.result["diameter"] is not None:
        kinds = {one["kind"]: one for one in beside}
        if kinds["chosen"]["serves"] and kinds["least_metal"]["serves"]:
            # rounding up to whole millimetres may take the cube of the ratio: much for a riser of four
            across = kinds["least_metal"]["diameter"]
            rounded = 1.006 * (across / (across - 0.001)) ** 3
            assert kinds["least_metal"]["volume"] <= kinds["chosen"]["volume"] * rounded


def test_metal_in_money() -> None:
    """By hand: what is poured at its price, less the share of what is left that returned metal is worth."""
    answer = ask(SLAB, alternatives=True, metal_price=4.0, return_value=0.75)
    for one in answer.result["alternatives"]:
        wanted = 4.0 * (one["riser_mass"] - 0.75 * one["riser_left_mass"])
        assert one["metal_cost"] == pytest.approx(wanted, rel=1e-12)
    feeding = answer.result["feeding"]
    assert feeding["metal_cost"] == pytest.approx(
        4.0 * (feeding["riser_mass"] - 0.75 * feeding["riser_left_mass"]), rel=1e-12
    )
    free = ask(SLAB, alternatives=True, metal_price=0.0)
    assert {one["metal_cost"] for one in free.result["alternatives"]} == {0.0}
    assert ask(SLAB).result["feeding"]["metal_cost"] is None


def test_where_no_riser_will_do_it_says_what_would_and_that_does() -> None:
    """A drum that cools through its top alone: every foot there takes too much of what cools."""
    blocked = {"side": "insulated", "bottom": "insulated"}
    drum = section("cylinder", "drum", diameter=100.0, height=100.0, faces=blocked)
    answer = ask(drum)
    assert answer.verdict == "fail"
    assert answer.result["diameter"] is None
    assert "What would do: a riser" in render(answer.message)
    assert "beside it on a neck" in render(answer.message)
    beside = ask(drum, riser=RiserShape(position="side"))
    assert served(beside)
    parts = answer.message.parts
    assert (parts["d"], parts["h"]) == (
        (beside.result["diameter"], "length"),
        (beside.result["height"], "length"),
    )


# --- more asks for more ---------------------------------------------------------------------------


@given(
    alloy=st.sampled_from(ALLOY_IDS),
    side=st.floats(20.0, 200.0),
    b=st.floats(0.0, 0.10),
    more=st.floats(0.0, 0.03),
    position=st.sampled_from(["top", "side"]),
    shape=st.sampled_from(["cylinder", "domed", "ball"]),
)
@settings(max_examples=40, deadline=None)
def test_more_shrinkage_never_takes_a_smaller_riser(
    alloy: str, side: float, b: float, more: float, position: str, shape: str
) -> None:
    """By volume and modulus: the time of freezing depends on the shrinkage by the melt's density, too, which
    less shrinkage makes heavier; where time governs, the riser may then change by a step either way."""
    wish = RiserShape(position=position, shape=shape, criteria=("volume", "modulus"))
    low, high = (
        ask(cube(side), alloy=alloy, riser=wish, properties={"solidification_shrinkage": one})
        for one in (b, b + more)
    )
    assume(low.result["diameter"] is not None and high.result["diameter"] is not None)
    assert high.result["diameter"] >= low.result["diameter"]


@given(
    modulus=st.floats(0.002, 0.1),
    larger=st.floats(1.0, 2.0),
    criteria=st.sampled_from([None, ("modulus",), ("time",)]),
)
@settings(max_examples=40, deadline=None)
def test_a_heavier_casting_never_takes_a_smaller_riser(modulus: float, larger: float, criteria: Any) -> None:
    """Poured equally hot: thick castings are poured cooler, and lose less before they freeze."""
    told: dict[str, Any] = {
        "riser": RiserShape(position="side", criteria=criteria),
        "pouring_temperature": 1000.0,
    }
    small, large = (
        ask(casting=CastingCase(volume=1e-3, modulus=one), **told) for one in (modulus, modulus * larger)
    )
    assert large.result["diameter"] >= small.result["diameter"]


@given(
    casting=castings(3),
    alloy=st.sampled_from(ALLOY_IDS),
    millimetres=st.sampled_from([0.1, 1.0, 2.5, 10.0]),
    position=st.sampled_from(["top", "side"]),
)
@settings(max_examples=40, deadline=None)
def test_rounding_goes_upward_only(
    casting: tuple[Section, ...], alloy: str, millimetres: float, position: str
) -> None:
    """Beside the casting by less than a step; on it a larger foot may ask for another."""
    wish = RiserShape(position=position, rounding_step=0.0)
    step = millimetres / 1000.0
    exact = ask(*casting, alloy=alloy, riser=wish).result["diameter"]
    made = ask(*casting, alloy=alloy, riser=replace(wish, rounding_step=step)).result["diameter"]
    assume(exact is not None and made is not None)
    assert made >= exact * (1.0 - 1e-9)
    if position == "side":
        assert made < exact + step
    assert math.isclose(made / step, round(made / step), abs_tol=1e-6)
