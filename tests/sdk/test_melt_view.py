"""A melt on the terminal and through the client."""

import json
from pathlib import Path

import pytest

from pourwright import Client
from pourwright.__main__ import main
from pourwright.terminal.show import answer_text
from pourwright_service.api.registry import REGISTRY

EXAMPLES = list(REGISTRY.endpoints["melt"].examples.values())


@pytest.mark.parametrize("width", [60, 100])
@pytest.mark.parametrize("place", range(len(EXAMPLES)))
def test_every_example_fits_the_terminal(client: Client, width: int, place: int) -> None:
    data = client.data("POST", "/v1/melt", body=EXAMPLES[place])
    text = answer_text("melt", data, width)
    assert max(map(len, text.splitlines())) <= width
    assert "FUEL AND TIME" in text


def test_what_a_founder_looks_for_is_there(client: Client) -> None:
    text = answer_text("melt", client.data("POST", "/v1/melt", body=EXAMPLES[0]), 100)
    words = " ".join(text.split())
    for wanted in (
        "first heat",
        "following heat",
        "last lump to pouring heat",
        "lifted",
        "an hour",
        "muffin",
    ):
        assert wanted in words
    assert "EUR" in words


def test_the_client_knows_the_answer_s_fields(client: Client) -> None:
    answer = client.melt(alloy="A356", melt_mass="2 kg", shop={"furnace": {"fuel": "charcoal"}})
    heat = answer.result.first_heat
    assert heat is not None
    assert heat.fuel_mass is not None
    assert heat.fuel_mass.low.to("lb").value < heat.fuel_mass.high.to("lb").value
    assert heat.time is None


def test_the_command_ends_with_the_verdict(
    service: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "melt.json"
    for request, code in zip(EXAMPLES, (0, 2, 2), strict=True):
        job.write_text(json.dumps(request))
        assert main(["melt", str(job), "--url", service]) == code
    out = capsys.readouterr().out
    assert "of propane" in out
    assert main(["melt", str(job), "--url", service, "--mend", "--save", str(tmp_path / "better.json")]) == 0
    assert "mended" in capsys.readouterr().err
