"""Sand on the terminal and through the client."""

import pytest

from pourwright import Client
from pourwright.terminal.show import answer_text
from pourwright_service.api.registry import REGISTRY

EXAMPLES = list(REGISTRY.endpoints["sand"].examples.values())


@pytest.mark.parametrize("width", [60, 100])
@pytest.mark.parametrize("place", range(len(EXAMPLES)))
def test_every_example_fits_the_terminal(client: Client, width: int, place: int) -> None:
    text = answer_text("sand", client.data("POST", "/v1/sand", body=EXAMPLES[place]), width)
    assert max(map(len, text.splitlines())) <= width
    assert "MIX, BY WEIGHT" in text


def test_a_batch_through_the_client(client: Client) -> None:
    answer = client.sand(
        system="green", sand_mass="20 kg", moisture="3 %", water_share="6 %", burnt_share="0 %"
    )
    assert answer.verdict == "fail"
    assert {line.material for line in answer.result.additions or ()} == {"bentonite", "water"}
    assert answer.remedies
