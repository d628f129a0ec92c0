"""The terminal's view of a gating system, from answers of the service."""

import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from pourwright.terminal.show import answer_text
from pourwright_service.api.registry import REGISTRY
from pourwright_service.app import create_app
from pourwright_service.settings import Settings

EXAMPLES = REGISTRY.endpoints["gating"].examples
DRAG, SEVERAL, PRINTED = (
    next(key for key in EXAMPLES if word in key) for word in ("drag", "three", "printed")
)


@cache
def answer(title: str, units: str = "") -> dict[str, Any]:
    client = create_app(Settings(mesh_dir=Path(tempfile.mkdtemp()))).test_client()
    told: dict[str, Any] = client.post(f"/v1/gating{units}", json=EXAMPLES[title]).get_json()
    return told


def block(text: str, title: str) -> list[str]:
    """The lines under a heading."""
    lines = text.splitlines()
    at = lines.index(title) + 1
    end = next((n for n in range(at, len(lines)) if lines[n] and not lines[n].startswith(" ")), len(lines))
    return lines[at:end]


def test_channels_stand_in_the_order_in_which_they_are_cut() -> None:
    text = answer_text("gating", answer(DRAG), 100)
    names = [line[2:13].strip() for line in block(text, "CUT")[1:9]]
    assert names == ["basin", "sprue", "well", "runner 1", "runner 2", "extension", "gate 1", "gate 2"]
    (sprue,) = [line for line in block(text, "CUT") if line.startswith("  sprue ")]
    foot = answer(DRAG)["result"]["sprue"]["exit_size"]["value"]
    assert f"{foot:g} mm across below" in sprue or f"{foot:g} mm below" in sprue
    assert "holes of" in text


def test_gates_are_placed_along_the_runner() -> None:
    text = answer_text("gating", answer(DRAG), 100)
    drawn = [one for one in answer(DRAG)["result"]["layout"]["channels"] if one["part"] == "gate"]
    for number, gate in enumerate(drawn, 1):
        (line,) = [line for line in block(text, "CUT") if line.startswith(f"  gate {number} ")]
        far = gate["start"]["x"]["value"] + 0.5 * gate["start_width"]["value"]
        assert f"to {far:.3g} mm" in line


def test_castings_and_losses_have_tables_of_their_own() -> None:
    text = answer_text("gating", answer(SEVERAL), 110)
    assert any(line.split()[:3] == ["cheek", "2", "2"] for line in block(text, "CASTINGS ON THE SPRUE"))
    assert any(line.startswith("  way out") for line in block(text, "LOSSES"))
    assert "CASTINGS ON THE SPRUE" not in answer_text("gating", answer(DRAG), 100)
    assert "LOSSES" not in answer_text("gating", answer(DRAG), 100)


def test_us_units_are_shown_where_they_were_asked_for() -> None:
    text = answer_text("gating", answer(DRAG, "?units=us"), 100)
    assert " mm" not in "\n".join(block(text, "CUT"))
    assert " in " in "\n".join(block(text, "CUT"))


@pytest.mark.parametrize("title", list(EXAMPLES))
@pytest.mark.parametrize("width", [40, 80, 110])
def test_it_fits_the_terminal(title: str, width: int) -> None:
    assert max(map(len, answer_text("gating", answer(title), width).splitlines())) <= width


def test_what_is_not_known_is_left_out() -> None:
    text = answer_text("gating", answer(PRINTED), 80)
    assert "basin" in text
    assert "runner" not in "\n".join(block(text, "CUT")[:3])
    assert "None" not in text
