"""A freeze map on the terminal, straight from a mesh's file or from a request."""

import json
from pathlib import Path

import pytest
from PIL import Image

from pourwright.__main__ import main

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"
"""The invented boat-yard castings."""

HOW = ("--alloy", "C87300", "--medium", "oil-bonded sand", "--up", "-z", "--cells", "20000")


def test_a_mesh_and_a_riser_that_is_too_small(
    service: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mesh = str(SCENARIO / "fairlead.stl")
    out = tmp_path / "map"
    arguments = ["freeze-map", mesh, *HOW, "--riser", "32x32", "--vti", "--glb", "--out", str(out)]
    assert main([*arguments, "--url", service]) == 2
    printed = capsys.readouterr().out
    for heading in (
        "WHAT FREEZES LAST IN THE CASTING ALONE",
        "AS POURED",
        "HOW FAR TO TRUST THE MAP",
        "WRITTEN",
    ):
        assert heading in printed.splitlines()
    assert "cut off while liquid" in printed
    names = {path.name for path in out.iterdir()}
    assert names == {f"fairlead{end}" for end in ("-x.png", "-y.png", "-z.png", ".vti", ".glb")}
    for name in names:
        assert str(out / name) in printed
    for axis in "xyz":
        with Image.open(out / f"fairlead-{axis}.png") as picture:
            picture.verify()


def test_a_mesh_in_inches_with_its_riser_where_it_is_wanted(
    service: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "part.stl").write_bytes((SCENARIO / "fairlead.stl").read_bytes())
    arguments = ["freeze-map", str(tmp_path / "part.stl"), *HOW, "--unit", "in", "--json"]
    assert main([*arguments, "--riser", "60x60", "--at", "-40,0,0", "--url", service]) in (0, 2)
    answer = json.loads(capsys.readouterr().out)
    assert answer["resolved"]["riser"]["at"][0] == "-40 in"
    assert answer["result"]["map"]["riser_x"]["value"] == pytest.approx(-40.0 * 25.4)
    assert (tmp_path / "part-x.png").exists(), "beside the mesh where no folder is named"


def test_a_request_is_mended_and_what_is_said_on_the_line_wins(
    service: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    request = {
        "mesh": {"file": str(SCENARIO / "fairlead.stl"), "length_unit": "mm", "up": "+z"},
        "alloy": "A356",
        "mould": {"medium": "green sand"},
        "riser": {"diameter": "32 mm", "height": "40 mm"},
    }
    job = tmp_path / "map.json"
    job.write_text(json.dumps(request))
    mended = tmp_path / "mended.json"
    arguments = ["freeze-map", str(job), *HOW, "--mend", "--save", str(mended), "--url", service]
    assert main(arguments) == 0
    said = capsys.readouterr()
    assert "mended: Make the riser" in said.err
    assert "WRITTEN" not in said.out, "no pictures were asked for"
    saved = json.loads(mended.read_text())
    assert (saved["alloy"], saved["mesh"]["up"]) == ("C87300", "-z")
    assert saved["riser"] != request["riser"]


@pytest.mark.parametrize(
    "wrong", [["--up", "w"], ["--riser", "56"], ["--riser", "0x40"], ["--riser", "56x56", "--at", "1,2"]]
)
def test_what_cannot_be_read_ends_with_1(wrong: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["freeze-map", "part.stl", *wrong])
    assert ended.value.code == 1
    assert "freeze-map: argument" in capsys.readouterr().err


def test_files_that_cannot_be_written_are_an_error(
    service: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "taken").write_text("a file, no folder")
    arguments = ["freeze-map", str(SCENARIO / "fairlead.stl"), *HOW, "--out", str(tmp_path / "taken")]
    assert main([*arguments, "--url", service]) == 1
    assert "cannot be written" in capsys.readouterr().err
