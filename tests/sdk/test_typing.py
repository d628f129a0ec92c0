"""What a type checker says to a caller: nothing where all is well, and the right thing where it is not."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.long

CALLER = Path(__file__).with_name("caller.py")
SDK = Path(__file__).parents[2] / "sdk"


def mypy(path: Path, tmp_path: Path) -> str:
    settings = tmp_path / "mypy.ini"
    settings.write_text(f"[mypy]\nstrict = True\nmypy_path = {SDK}\n")
    command = [sys.executable, "-m", "mypy", "--config-file", str(settings), str(path)]
    return subprocess.run(command, capture_output=True, text=True, timeout=300, cwd=tmp_path).stdout


def test_a_callers_script_passes(tmp_path: Path) -> None:
    assert mypy(CALLER, tmp_path).startswith("Success")


def test_a_callers_mistakes_are_found(tmp_path: Path) -> None:
    script = tmp_path / "mistakes.py"
    lines = {
        "client.freezing()": "call-arg",
        "client.freezing(sections=[], alloi='A356')": "call-arg",
        "client.freezing([])": "call-arg",
        "client.freezing(sections=[], units='furlongs')": "arg-type",
        "client.freezing(sections=[], mould_constant=4.0)": "arg-type",
        "client.freezing(sections=[]).result.freezing_tim": "attr-defined",
        "client.freezing(sections=[]).result.freezing_time.value": "union-attr",
        "client.list_alloys(pours_under='1100 degC')": "call-arg",
        "client.list_alloys(pours_below=1100.0)": "arg-type",
        "client.list_alloys(sea_water='splendid')": "arg-type",
        "plate: PlateSection = {'name': 'plate', 'shape': 'plate'}": "typeddict-item",
    }
    imports = ("from pourwright import Client", "from pourwright.models.sections import PlateSection")
    head = "\n".join([*imports, "client = Client()", ""])
    script.write_text(head + "\n".join(lines) + "\n")
    said = mypy(script, tmp_path)
    first = head.count("\n") + 1
    found = {int(number): code for number, code in re.findall(r"\.py:(\d+): error: .*\[([a-z-]+)\]", said)}
    assert found == {first + n: code for n, code in enumerate(lines.values())}, said
