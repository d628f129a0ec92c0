"""A calibration on the terminal: expected, found, and what to send from now on."""

import pytest

from pourwright import Client
from pourwright.terminal.show import answer_text
from pourwright_service.api.registry import REGISTRY

EXAMPLES = list(REGISTRY.endpoints["calibration"].examples.values())


@pytest.mark.parametrize("width", [60, 100])
@pytest.mark.parametrize("number", range(len(EXAMPLES)))
def test_every_example_is_told(client: Client, width: int, number: int) -> None:
    data = client.data("POST", "/v1/calibration", body=EXAMPLES[number])
    text = answer_text("calibration", data, width)
    assert max(map(len, text.splitlines())) <= width
    for heading in ("YOUR FIGURES", "WHAT EACH TRIAL SAYS ALONE", "SEND FROM NOW ON"):
        assert heading in text.splitlines()
    for use in data["result"]["use"]:
        for name in use["merge"]:
            assert f'"{name}"' in text


def test_pick_up_is_named(client: Client) -> None:
    heat = {
        "items": [{"name": "ingot", "mass": "5 kg", "composition_percent": {"Cu": 96, "Si": 4}}],
        "poured": "4.9 kg",
        "analysis_percent": {"Si": 3.8, "Fe": 0.4},
    }
    text = answer_text("calibration", client.data("POST", "/v1/calibration", body={"heats": [heat]}), 80)
    assert "Fe" in text.partition("CHARGED BY NOTHING")[2].split("SEND")[0]
    assert "recovery of Si" in text
