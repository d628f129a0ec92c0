"""Several heavy sections: which get a riser of their own, which one riser feeds together, and why."""

import random
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourwright_service.api.sentences import render
from pourwright_service.engine.answer import Answer
from pourwright_service.engine.decide.metal import metal_of
from pourwright_service.engine.decide.riser import RiserCase, decide_riser
from pourwright_service.engine.decide.riser_feeding import DistanceCase
from pourwright_service.engine.decide.riser_inputs import RiserShape
from pourwright_service.engine.formulas.freezing import section_modulus
from pourwright_service.engine.geometry.sections import Join, Section, SectionFault
from pourwright_service.engine.ledger import Ledger
from pourwright_service.engine.tables.alloys import ALLOYS
from tests.engine.castings import ALLOY_IDS, SAND, castings, cube, is_sound, section

SHORT = [name for name in ALLOY_IDS if ALLOYS[name].freezing_class == "short"]
OTHERS = [name for name in ALLOY_IDS if ALLOYS[name].freezing_class != "short"]


def dumb_bell(web: float = 10.0, heavy: float = 60.0, lighter: float = 50.0) -> tuple[Section, ...]:
    """Two heavy cylinders on one thin web, mm."""
    return (
        section("cylinder", "boss", diameter=heavy, height=heavy, joins=(Join(to="web", area=6e-4),)),
        section("plate", "web", length=120.0, width=60.0, thickness=web),
        section("cylinder", "hub", diameter=lighter, height=lighter, joins=(Join(to="web", area=5e-4),)),
    )


def ask(*sections: Section, alloy: str | None = "A356", **told: Any) -> Answer:
    return decide_riser(
        RiserCase(sections=sections or dumb_bell(), **{"alloy": alloy, "mould": SAND, **told})
    )


def apart(millimetres: float) -> tuple[DistanceCase, ...]:
    return (DistanceCase(section="boss", to="hub", distance=millimetres / 1000.0),)


def places(answer: Answer) -> list[str]:
    return [one["section"] for one in answer.result["risers"]]


def steps(answer: Answer) -> list[str]:
    return [check.verdict for check in answer.checks if check.kind.id == "feed-step"]


# --- one casting, three metals --------------------------------------------------------------------


def test_one_casting_in_three_metals_is_fed_in_three_ways() -> None:
    """A part-slush, a slush and an expanding metal; the freezing ranges are those of the tables
    (LM25 65 K in hssco.ru table A.3, C83600 156 K in the producers' data); that graphite expands as
    grey iron freezes, by 2.5 %, is printed in the textbook table quoted at quesba.com (Kalpakjian)."""
    middle, long = ask(alloy="A356"), ask(alloy="C83600")
    iron = ask(alloy="grey iron", properties={"solidification_shrinkage": -0.025})
    assert places(middle) == places(long) == ["boss", "hub"]
    assert places(iron) == ["boss"]
    assert iron.result["feeding"]["self_fed"] == ["hub"]
    said = [render(one.result["feeding"]["reason"]) for one in (middle, long, iron)]
    assert len(set(said)) == 3
    assert "partly as slush" in said[0]
    assert "fine pores" in said[1]
    assert "firm mould" in said[2]
    for one, why in zip((middle, long, iron), said, strict=True):
        assert why in render(one.message)
        assert "fail" not in steps(one)
    assert "No feeding distance is claimed" in render(long.result["feeding"]["distance"])
    assert "chill" in render(long.result["feeding"]["advice"][0])
    assert "soft mould" in render(iron.result["feeding"]["advice"][-1])


def test_iron_without_a_figure_of_its_own_is_fed_as_if_it_shrank() -> None:
    """Books disagree even in the sign, so until the caller says otherwise nothing feeds itself."""
    answer = ask(alloy="grey iron")
    assert places(answer) == ["boss", "hub"]
    assert "below zero" in render(answer.result["feeding"]["reason"])
    near = ask(alloy="grey iron", distances=apart(5.0))
    assert places(near) == ["boss", "hub"]


# --- one riser for two heavy sections -----------------------------------------------------------


@pytest.mark.parametrize(("distance", "risers"), [(10.0, 1), (20.0, 1), (20.1, 2), (60.0, 2)])
def test_a_short_freezing_metal_is_fed_through_two_thicknesses(distance: float, risers: int) -> None:
    """Riser zone of two thicknesses in a steel plate: Bishop and Pellini as restated by Ou, Carlson,
    Hardin and Beckermann; the web is 10 mm thick."""
    answer = ask(alloy="C95400", distances=apart(distance))
    assert len(answer.result["risers"]) == risers
    judged = [check for check in answer.checks if check.kind.id == "riser-zone"]
    assert len(judged) == (risers == 1)
    if judged:
        assert judged[0].limit == pytest.approx(0.020)
        assert judged[0].subject == "hub"
        assert "steel" in render(judged[0].message)
        assert answer.result["risers"][0]["through"] == ["hub"]
        whole = ask(several=False).result["casting_volume"]
        assert answer.result["risers"][0]["casting_volume"] == pytest.approx(whole, rel=1e-12)
    else:
        assert "20 mm" in render(answer.result["risers"][1]["why"])
    assert "fail" not in steps(answer)


def test_a_section_that_is_fed_through_a_thinner_one_asks_for_more() -> None:
    """1.4 times its modulus (trade web page on feeder design), where that is more than 1.2 times the
    heaviest one's."""
    shape = RiserShape(position="side", criteria=("modulus",), rounding_step=0.0)
    for lighter, ratio in ((40.0, 1.2), (58.0, None)):
        sections = dumb_bell(lighter=lighter)
        answer = ask(*sections, alloy="C95400", riser=shape, distances=apart(8.0))
        (one,) = answer.result["risers"]
        hub = bare_modulus(lighter, 5e-4)
        boss = bare_modulus(60.0, 6e-4)
        wanted = max(1.2 * boss, 1.4 * hub)
        assert one["modulus"] == pytest.approx(wanted, rel=1e-9)
        assert (wanted == 1.2 * boss) is (ratio == 1.2)


def bare_modulus(side: float, joined: float) -> float:
    """V/A of a cylinder as tall as wide (mm), with so much of its surface (m^2) joined."""
    metres = side / 1000.0
    volume, area = 0.25 * 3.141592653589793 * metres**3, 1.5 * 3.141592653589793 * metres**2
    return section_modulus(volume, area - joined)


@given(alloy=st.sampled_from(OTHERS), distance=st.floats(0.1, 300.0))
@settings(max_examples=25, deadline=None)
def test_no_distance_is_claimed_for_metals_that_do_not_freeze_short(alloy: str, distance: float) -> None:
    told, untold = ask(alloy=alloy, distances=apart(distance)), ask(alloy=alloy)
    assert places(told) == places(untold) == ["boss", "hub"]
    assert not any(check.kind.id == "riser-zone" for check in told.checks)
    assert "No feeding distance is claimed" in render(told.result["feeding"]["distance"])


@given(alloy=st.sampled_from(SHORT), near=st.floats(0.1, 100.0), farther=st.floats(1.0, 3.0))
@settings(max_examples=25, deadline=None)
def test_farther_apart_never_takes_fewer_risers(alloy: str, near: float, farther: float) -> None:
    close = ask(alloy=alloy, distances=apart(near))
    wide = ask(alloy=alloy, distances=apart(near * farther))
    assert len(wide.result["risers"]) >= len(close.result["risers"])


def test_without_a_distance_none_is_judged_and_that_is_said() -> None:
    answer = ask(alloy="C95400")
    assert places(answer) == ["boss", "hub"]
    assert "nobody has said how far apart" in render(answer.result["feeding"]["distance"])
    alone = ask(cube(60.0), alloy="C95400")
    assert "not judged" in render(alone.result["feeding"]["distance"])


def test_a_distance_from_nowhere_is_refused() -> None:
    for section_name, to, pointer in (
        ("rim", "hub", "/distances/0/section"),
        ("hub", "rim", "/distances/0/to"),
        ("hub", "hub", "/distances/0/to"),
    ):
        with pytest.raises(SectionFault) as caught:
            ask(distances=(DistanceCase(section=section_name, to=to, distance=0.01),))
        assert caught.value.faults[0].pointer == pointer


# --- risers of their own --------------------------------------------------------------------------


def test_a_riser_of_its_own_is_that_of_the_section_alone() -> None:
    """Derived: a side riser as tall as wide has the modulus D/6, so D is 6 x 1.2 times the modulus of
    hub, whose volume over surface is known; and V/(e - b) of its own volume."""
    shape = RiserShape(position="side", criteria=("modulus",), rounding_step=0.0)
    own = ask(riser=shape).result["risers"][1]
    assert own["diameter"] == pytest.approx(7.2 * bare_modulus(50.0, 5e-4), rel=1e-9)
    by_volume = ask(riser=replace(shape, criteria=("volume",)))
    own, b = by_volume.result["risers"][1], by_volume.result["shrinkage"]
    hub = 0.25 * 3.141592653589793 * 0.05**3
    assert own["casting_volume"] == pytest.approx(hub, rel=1e-12)
    assert own["volume"] == pytest.approx(b * hub / (0.14 - b), rel=1e-9)


def test_checks_say_which_riser_they_are_about() -> None:
    answer = ask()
    subjects = {check.subject for check in answer.checks if check.kind.id == "riser-modulus"}
    assert subjects == {one["subject"] for one in answer.result["risers"]} == {"/riser", "riser on hub"}
    listed = ask(risers=(RiserShape(section="boss"), RiserShape(section="hub", position="side")))
    subjects = {check.subject for check in listed.checks if check.kind.id == "riser-modulus"}
    assert subjects == {"/risers/0", "/risers/1"}
    (neck,) = (check for check in listed.checks if check.kind.id == "neck-freezes-between")
    assert neck.subject == "/risers/1/neck"


def test_only_the_risers_that_are_listed_are_made() -> None:
    one = ask(risers=(RiserShape(section="boss"),))
    assert places(one) == ["boss"]
    assert one.result["feeding"]["unfed"] == ["hub"]
    assert one.verdict == "fail"
    assert "fail" in steps(one)
    both = ask(risers=(RiserShape(section="hub"), RiserShape(section="boss")))
    assert places(both) == ["hub", "boss"]
    assert "fail" not in steps(both)


def test_who_wants_one_riser_gets_one_and_is_told() -> None:
    answer = ask(several=False)
    assert places(answer) == ["boss"]
    assert answer.result["feeding"]["unfed"] == ["hub"]
    assert answer.verdict == "fail"


def test_a_heavy_section_without_a_flat_face_is_fed_from_beside() -> None:
    ball = section("sphere", "hub", diameter=60.0, joins=(Join(to="web", area=5e-4),))
    answer = ask(*dumb_bell(heavy=80.0)[:2], ball)
    own = answer.result["risers"][1]
    assert own["section"] == "hub"
    assert own["position"] == "side"
    assert own["neck"] is not None


def test_three_heavy_sections_in_a_row_get_three_risers() -> None:
    row = (
        *dumb_bell(),
        section(
            "plate",
            "second web",
            length=120.0,
            width=60.0,
            thickness=8.0,
            joins=(Join(to="hub", area=4e-4),),
        ),
        cube(40.0, "foot", joins=(Join(to="second web", area=3e-4),)),
    )
    answer = ask(*row)
    assert places(answer) == ["boss", "hub", "foot"]
    assert "fail" not in steps(answer)
    fed = [name for one in answer.result["risers"] for name in one["feeds"]]
    assert sorted(fed) == ["boss", "foot", "hub", "second web", "web"]


@given(casting=castings(), alloy=st.sampled_from(ALLOY_IDS), position=st.sampled_from(["top", "side"]))
@settings(max_examples=40, deadline=None)
def test_every_section_is_fed_once_and_no_metal_is_lost(
    casting: tuple[Section, ...], alloy: str, position: str
) -> None:
    """What the risers feed adds up to the casting; casting and what is left to what was poured."""
    answer = ask(*casting, alloy=alloy, riser=RiserShape(position=position))
    assert is_sound(answer)
    if not answer.result["risers"]:
        return
    risers, feeding = answer.result["risers"], answer.result["feeding"]
    assert sorted(name for one in risers for name in one["feeds"]) == sorted(one.name for one in casting)
    whole = ask(*casting, alloy=alloy, several=False, riser=RiserShape(position="side"))
    if all(one["casting_volume"] is not None for one in risers):
        fed = sum(one["casting_volume"] for one in risers)
        assert fed == pytest.approx(whole.result["casting_volume"], rel=1e-9)
    if feeding["riser_mass"] is None:
        return
    metal = metal_of(alloy, {}, Ledger())
    liquid, contraction = metal.get("density_liquid") or 0.0, metal.get("contraction") or 0.0
    cavity = liquid * whole.result["casting_volume"] * (1.0 + contraction) ** 3
    assert feeding["casting_mass"] + feeding["riser_left_mass"] == pytest.approx(
        cavity + feeding["riser_mass"], rel=1e-9
    )


@given(casting=castings(), alloy=st.sampled_from(ALLOY_IDS), position=st.sampled_from(["top", "side"]))
@settings(max_examples=40, deadline=None)
def test_with_risers_of_their_own_no_heavy_section_is_cut_off(
    casting: tuple[Section, ...], alloy: str, position: str
) -> None:
    answer = ask(*casting, alloy=alloy, riser=RiserShape(position=position))
    if answer.result["risers"] and answer.result["risers"][0]["diameter"] is not None:
        assert answer.result["feeding"]["unfed"] == []
        assert "fail" not in steps(answer)


@given(
    casting=castings(5),
    alloy=st.sampled_from(ALLOY_IDS),
    order=st.randoms(use_true_random=False),
    millimetres=st.floats(1.0, 60.0),
)
@settings(max_examples=30, deadline=None)
def test_the_order_of_sections_changes_no_riser(
    casting: tuple[Section, ...], alloy: str, order: random.Random, millimetres: float
) -> None:
    mixed = list(casting)
    order.shuffle(mixed)
    told: dict[str, Any] = {"alloy": alloy, "alternatives": True}
    if len(casting) > 1:
        told["distances"] = (DistanceCase(section="s0", to="s1", distance=millimetres / 1000.0),)
    first, second = ask(*casting, **told), ask(*mixed, **told)
    assert second.verdict == first.verdict
    for name in ("risers", "alternatives"):
        assert len(second.result[name]) == len(first.result[name])
        for one, other in zip(first.result[name], second.result[name], strict=True):
            for field, value in one.items():
                wanted = pytest.approx(value, rel=1e-9) if isinstance(value, float) else value
                if field != "why_not":
                    assert other[field] == wanted, field


@given(casting=castings(), alloy=st.sampled_from(ALLOY_IDS), alternatives=st.booleans())
@settings(max_examples=30, deadline=None)
def test_every_check_and_every_reason_is_a_sentence(
    casting: tuple[Section, ...], alloy: str, alternatives: bool
) -> None:
    answer = ask(*casting, alloy=alloy, alternatives=alternatives)
    said = [render(check.message) for check in answer.checks] + [render(answer.message)]
    feeding = answer.result["feeding"]
    if feeding is not None:
        said += [render(feeding["reason"]), render(feeding["distance"]), *map(render, feeding["advice"])]
    said += [render(one["why"]) for one in answer.result["risers"] if one["why"] is not None]
    for one in said:
        assert one.endswith("."), one
        assert "{" not in one, one
        assert 15 < len(one) < 900, one
