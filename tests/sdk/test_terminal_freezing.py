"""The terminal face of freezing: sections in their order, the way of the feed metal, junctions."""

from typing import Any

import pytest

from pourwright.models.freezing import FreezingResult
from pourwright.reading import read
from pourwright.terminal.freezing import freezing_lines
from pourwright.terminal.show import answer_text
from tests.published.published_rows import pose

PLATE = {"name": "plate", "shape": "plate", "length": "180 mm", "width": "70 mm", "thickness": "12 mm"}
RIB = {
    "name": "rib",
    "shape": "bar",
    "length": "180 mm",
    "width": "12 mm",
    "height": "60 mm",
    "joins": [{"to": "plate", "area": "2160 mm^2", "fillet": "10 mm"}],
}
BOSS = {
    "name": "boss",
    "shape": "cylinder",
    "diameter": "40 mm",
    "height": "30 mm",
    "joins": [{"to": "plate", "area": "1256 mm^2", "kind": "tee", "angle": "60 deg"}],
}
BUSH = {"name": "bush", "shape": "sphere", "diameter": "20 mm"}
CASTING = {
    "alloy": "C87300",
    "mould": {"medium": "oil-bonded sand"},
    "sections": [BOSS, PLATE, RIB, BUSH],
}


@pytest.fixture(scope="module")
def answer() -> dict[str, Any]:
    return pose("/v1/freezing", CASTING)


def test_sections_stand_in_the_order_in_which_they_freeze(answer: dict[str, Any]) -> None:
    text = answer_text("freezing", answer, 100)
    order = text[text.index("ORDER OF FREEZING") : text.index("FEED PATH")]
    names = [line.split()[1] for line in order.splitlines()[2:6]]
    ranked = sorted(answer["result"]["sections"], key=lambda one: one["rank"])
    assert names == [one["name"] for one in ranked]
    assert "last to freeze  boss" in order


def test_every_step_is_told_in_words_with_its_way(answer: dict[str, Any]) -> None:
    text = " ".join(answer_text("freezing", answer, 100).split())
    assert "plate from boss, which feeds well (step" in text
    assert "the whole way: rib - plate - boss" in text
    assert "by themselves bush" in text


def test_junctions_show_circle_walls_and_fillets(answer: dict[str, Any]) -> None:
    lines = answer_text("freezing", answer, 120).splitlines()
    (rib,) = (line for line in lines if line.startswith("  rib on plate"))
    assert "12 mm / 12 mm" in rib
    assert "4 mm to 6 mm" in rib
    # A T of equal walls of 12 mm with a fillet of 10: (16^2 + 22^2 - 10^2)/32 = 20 mm (derived).
    assert "20 mm" in rib
    (boss,) = (line for line in lines if line.startswith("  boss on plate"))
    assert "tee, 60 °" in boss


@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_no_line_is_wider_than_the_terminal(answer: dict[str, Any], width: int) -> None:
    assert max(map(len, freezing_lines(read(FreezingResult, answer["result"]), width))) <= width


def test_one_section_has_no_path_and_no_junction() -> None:
    text = answer_text("freezing", pose("/v1/freezing", {**CASTING, "sections": [BUSH]}), 80)
    assert "FEED PATH" not in text
    assert "JUNCTIONS" not in text
