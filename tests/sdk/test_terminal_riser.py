"""Risers on the terminal: every riser with its size, how the casting is fed, what stands beside it."""

import tempfile
from pathlib import Path
from typing import Any

import pytest

from pourwright.terminal.show import answer_text
from pourwright_service.app import create_app
from pourwright_service.settings import Settings
from tests.api.test_riser_several import CASTING, WISHES


def shown(body: dict[str, Any], width: int = 100) -> str:
    client = create_app(Settings(mesh_dir=Path(tempfile.mkdtemp()))).test_client()
    return answer_text("riser", client.post("/v1/riser", json=body).get_json(), width)


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("wish", list(WISHES))
def test_no_line_is_wider_than_the_terminal(wish: str, width: int) -> None:
    text = shown({**CASTING, "alloy": "A356", **WISHES[wish]}, width)
    assert max(map(len, text.splitlines())) <= width
    assert "None" not in text


def test_two_risers_stand_in_one_table() -> None:
    text = shown(
        {**CASTING, "alloy": "A356", "alternatives": True, "metal_price": "4 /kg", "currency": "EUR"}
    )
    assert "RISERS\n" in text
    assert "top of boss" in text
    assert "top of hub" in text
    assert "cuts it off" in text
    assert "BESIDE EACH OTHER" in text
    assert "least metal" in text
    assert "EUR" in text
    assert "governs" in text


def test_a_casting_by_its_figures_has_no_places() -> None:
    casting = {"volume": "1 L", "modulus": "20 mm"}
    text = shown({"casting": casting, "riser": {"criteria": ["modulus"], "shape": "ball"}}, 80)
    assert "RISER\n" in text
    assert "144 mm" in text
    assert "HOW IT IS FED" not in text


def test_what_would_not_do_says_why() -> None:
    drum = {
        "name": "drum",
        "shape": "cylinder",
        "diameter": "100 mm",
        "height": "100 mm",
        "faces": {"side": "insulated", "bottom": "insulated"},
    }
    text = shown({"alloy": "A356", "mould": CASTING["mould"], "sections": [drum], "alternatives": True})
    assert "WOULD NOT DO" in text
    assert "What would do" in " ".join(text.split())
