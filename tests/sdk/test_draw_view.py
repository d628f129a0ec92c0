"""A draw on the terminal, and its mesh beside the request."""

import json
from pathlib import Path

import pytest

from pourwright import Client
from pourwright.__main__ import main
from pourwright.terminal.show import answer_text

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"


@pytest.mark.parametrize("width", [60, 100])
def test_directions_stand_side_by_side(client: Client, width: int) -> None:
    mesh = client.upload_mesh(SCENARIO / "fairlead_pocket.stl").id
    body = {"mesh": {"id": mesh, "length_unit": "mm", "up": "+y"}}
    data = client.data("POST", "/v1/draw", body=body)
    text = answer_text("draw", data, width)
    assert max(map(len, text.splitlines())) <= width
    headings = [line for line in text.splitlines() if line and line == line.upper() and line[0] != " "]
    wanted = ["DIRECTION", "DIRECTIONS SIDE BY SIDE", "SAND THAT A FLAT PARTING DOES NOT FREE", "DRAFT"]
    assert [heading for heading in headings if heading in wanted] == wanted
    assert "y (as you wish)" in text
    assert "12.8 cm³" in text
    words = " ".join(text.split())
    assert "shut in" in words
    assert "better along z" in words


def test_a_file_is_uploaded_from_beside_the_request(
    service: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "part.stl").write_bytes((SCENARIO / "fairlead.stl").read_bytes())
    job = tmp_path / "draw.json"
    for up, code in (("-z", 0), ("+x", 2)):
        job.write_text(json.dumps({"mesh": {"file": "part.stl", "length_unit": "mm", "up": up}}))
        assert main(["draw", str(job), "--url", service]) == code
    assert "along -z" in capsys.readouterr().out
    job.write_text(json.dumps({"mesh": {"file": "part.stl", "id": "0" * 64, "length_unit": "mm"}}))
    assert main(["draw", str(job), "--url", service]) == 1
    assert "mesh has both a file and an id" in capsys.readouterr().err
