"""A pour time on the terminal: the window in a line, then what lies behind it."""

from typing import Any

import pytest

from pourwright import Client
from pourwright.terminal.show import answer_text

JOB: dict[str, Any] = {
    "alloy": "C87300",
    "poured_mass": "3.8 kg",
    "thickness": "12 mm",
    "height": "128 mm",
    "gate_edge": "180 mm",
    "mould": {"medium": "oil-bonded sand"},
    "pot": {"mouth_diameter": "120 mm", "metal_mass": "8.5 kg", "moulds": 2},
}


@pytest.mark.parametrize("width", [60, 100])
def test_the_window_is_a_line_that_a_caster_understands(client: Client, width: int) -> None:
    data = client.data("POST", "/v1/pour-time", body=JOB)
    text = answer_text("pour-time", data, width)
    assert max(map(len, text.splitlines())) <= width
    window = " ".join(text.partition("WINDOW")[2].split())
    assert window.startswith(data["result"]["window"]["in_words"])
    assert "no slower than" in window
    assert "no faster than" in window
    headings = [line for line in text.splitlines() if line and line == line.upper() and line[0] != " "]
    wanted = ["WINDOW", "POURING", "WALLS THAT FILL", "PUBLISHED LAWS", "POT"]
    assert [heading for heading in headings if heading in wanted] == wanted
    for law in data["result"]["published_laws"]:
        assert law["law"].split(" ")[0] in text
        assert law["grade"].split()[0] in text
    for mould in ("mould 1", "mould 2"):
        assert mould in text


def test_what_is_not_known_is_named_and_left_out(client: Client) -> None:
    job = {"family": "iron", "poured_mass": "10 kg", "thickness": "10 mm"}
    text = answer_text("pour-time", client.data("POST", "/v1/pour-time", body=job), 80)
    assert "not looked at" in text
    assert "gate_edge" in text
    assert "POT" not in text.splitlines()
    nozzle = {**job, "pot": {"nozzle_diameter": "20 mm", "depth": "200 mm", "mouth_diameter": "300 mm"}}
    told = answer_text("pour-time", client.data("POST", "/v1/pour-time", body=nozzle), 80)
    assert "runs empty in" in told


def test_a_plan_shows_what_is_built_beside_what_was_wanted(client: Client) -> None:
    plan = {
        "alloy": "A356",
        "mould": {"medium": "green sand"},
        "part": {
            "sections": [
                {"name": "p", "shape": "plate", "length": "200 mm", "width": "120 mm", "thickness": "15 mm"}
            ]
        },
    }
    data = client.data("POST", "/v1/plan", body=plan)
    pour = data["result"]["pour_time"]
    assert pour["built_time"] == data["result"]["gating"]["fill_time"]
    text = answer_text("plan", data, 100)
    assert "pour in" in text
    assert "as built, it fills in" in text
