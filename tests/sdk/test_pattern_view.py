"""A pattern on the terminal."""

import pytest

from pourwright import Client
from pourwright.terminal.show import answer_text
from pourwright_service.api.registry import REGISTRY

EXAMPLES = list(REGISTRY.endpoints["pattern"].examples.values())


@pytest.mark.parametrize("width", [60, 100])
@pytest.mark.parametrize("place", range(len(EXAMPLES)))
def test_every_example_fits_the_terminal(client: Client, width: int, place: int) -> None:
    text = answer_text("pattern", client.data("POST", "/v1/pattern", body=EXAMPLES[place]), width)
    assert max(map(len, text.splitlines())) <= width
    assert "contraction" in text
