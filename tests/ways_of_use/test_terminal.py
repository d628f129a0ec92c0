"""From a file to a plan on the terminal, as someone without Python would ask for it."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"
"""The invented boat-yard castings."""

PLAQUE = """
alloy = "A356"
mould = {medium = "green sand"}

[[part.sections]]
name = "plate"
shape = "plate"
length = "200 mm"
width = "120 mm"
thickness = "15 mm"
"""


def pourwright(
    *arguments: str, given: str = "", columns: int = 80, **environment: str
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "pourwright", *arguments],
        input=given,
        capture_output=True,
        text=True,
        timeout=60,
        env={**os.environ, "COLUMNS": str(columns), "PYTHONIOENCODING": "utf-8", **environment},
    )


def test_a_plan_with_its_mesh_beside_it(service: str) -> None:
    done = pourwright("plan", str(SCENARIO / "fairlead_plan.json"), "--url", service)
    assert done.returncode == 0, done.stdout + done.stderr
    lines = done.stdout.splitlines()
    assert lines[0].startswith(("PASS: ", "WARN: "))
    headings = [line for line in lines if line and line == line.upper() and not line.startswith(" ")]
    wanted = ["CASTING", "CHARGE", "POURING", "PATTERN", "FREEZING", "RISER", "GATING", "CRUCIBLE", "MOULD"]
    places = [headings.index(heading) for heading in wanted]
    assert places == sorted(places)
    assert headings.index("CAUTIONS") > places[-1]
    assert headings[-1] == "VALUES CHOSEN FOR YOU"
    assert "Who decides: " in done.stdout
    assert max(map(len, lines)) <= 80


def test_the_same_in_inches_and_pounds(service: str) -> None:
    done = pourwright("plan", str(SCENARIO / "pulley_cheek_plan.json"), "--url", service, "--units", "us")
    assert done.returncode in (0, 2), done.stderr
    figures = done.stdout.partition("CASTING")[2].partition("CAUTIONS")[0]
    for unit in (" in", " lb", " oz", " °F"):
        assert unit in figures
    for unit in (" mm", " kg", " °C"):
        assert unit not in figures


def test_the_readmes_file_through_a_pipe(service: str) -> None:
    done = pourwright("plan", "-", given=PLAQUE, POURWRIGHT_URL=service)
    assert done.returncode in (0, 2), done.stderr
    assert done.stdout.startswith(("PASS", "WARN", "FAIL"))


@pytest.mark.parametrize("columns", [40, 60, 110, 200])
def test_it_fits_the_terminal(service: str, columns: int) -> None:
    done = pourwright("plan", "-", given=PLAQUE, columns=columns, POURWRIGHT_URL=service)
    assert max(map(len, done.stdout.splitlines())) <= min(columns, 110)


def test_all_defaults_and_the_working(service: str) -> None:
    done = pourwright("plan", "-", "--defaults", "--working", given=PLAQUE, POURWRIGHT_URL=service)
    answer = json.loads(pourwright("plan", "-", "--json", given=PLAQUE, POURWRIGHT_URL=service).stdout)
    for default in answer["defaults"]:
        assert default["pointer"][1:].replace("/", ".") in done.stdout
    assert "WORKING, IN SI UNITS" in done.stdout
    assert "given: /part/sections/0/thickness" in " ".join(done.stdout.split())


def test_what_is_missing_is_said(service: str) -> None:
    job = {"alloy": "C87300", "part": {"volume": "200 cm^3"}}
    done = pourwright("plan", "-", given=json.dumps(job), POURWRIGHT_URL=service)
    assert done.returncode == 3
    assert done.stdout.startswith("UNKNOWN: ")
    assert "MISSING: SAY MORE HERE AND ASK AGAIN" in done.stdout


def test_what_cannot_be_done_is_said(service: str) -> None:
    stock = [
        {
            "name": "old fittings",
            "composition_percent": {"Cu": 61.5, "Zn": 35.5, "Pb": 3.0},
            "available": "9 kg",
        }
    ]
    job = {"alloy": "C87300", "melt_mass": "4 kg", "stock": stock}
    done = pourwright("charge", "-", given=json.dumps(job), POURWRIGHT_URL=service)
    assert done.returncode == 2
    assert done.stdout.startswith("FAIL: ")


@pytest.mark.parametrize(
    ("subject", "job"),
    [
        (
            "freezing",
            {
                "mould_constant": "4 min/cm^2",
                "sections": [
                    {"name": "p", "shape": "plate", "length": "30 cm", "width": "10 cm", "thickness": "2 cm"}
                ],
            },
        ),
        (
            "riser",
            {
                "casting": {"volume": "3375 cm^3", "modulus": "2.5 cm"},
                "riser": {"position": "side", "criteria": ["modulus"], "modulus_ratio": 1.0},
            },
        ),
        (
            "gating",
            {
                "choke_diameter": "10 mm",
                "head": "250 mm",
                "volume": "1000 cm^3",
                "discharge_coefficient": 1,
            },
        ),
        ("pour-time", {"family": "iron", "poured_mass": "10 kg", "thickness": "10 mm"}),
    ],
)
def test_the_other_questions(service: str, subject: str, job: dict[str, Any]) -> None:
    done = pourwright(subject, "-", given=json.dumps(job), POURWRIGHT_URL=service)
    assert done.returncode in (0, 2), done.stdout + done.stderr
    titles = {"pour-time": "WINDOW", "riser": "RISER", "gating": "CUT"}
    assert f"\n{titles.get(subject, 'RESULT')}\n" in done.stdout


def test_alloys_by_need(service: str) -> None:
    wishes = ("--below", "1100 degC", "--no-lead", "--no-zinc-fume", "--sea-water")
    done = pourwright("alloys", *wishes, POURWRIGHT_URL=service)
    assert done.returncode == 0, done.stderr
    lines = done.stdout.splitlines()
    assert max(map(len, lines)) <= 80
    assert " alloys fit. Of " in lines[0]
    headings = [line for line in lines if line and line == line.upper() and not line.startswith(" ")]
    assert headings == ["ALLOYS THAT FIT", "MIND", "NOT ENOUGH IS KNOWN"]
    assert "lead-free pewter" in done.stdout
    assert "C87300" not in done.stdout
    told = pourwright("alloys", *wishes, "--left-out", POURWRIGHT_URL=service).stdout
    assert "  C87300           Up to 0.2 % of lead is let in" in told.partition("\nLEFT OUT\n")[2]
    us = pourwright("alloys", *wishes, "--units", "us", POURWRIGHT_URL=service).stdout
    assert "°F" in us
    assert "°C" not in us


@pytest.mark.parametrize(
    ("wishes", "code"),
    [
        (("--short-freezing", "--family", "tin"), 2),
        (("--below", "1100 degC", "--search", "C90700"), 3),
        (("--search", "no such metal"), 2),
        (("--sea-water", "fair", "--lead-at-most", "0.25 %"), 0),
        ((), 0),
        (("--below", "1100"), 1),
        (("--sea-water", "poor"), 1),
    ],
)
def test_alloys_end_with_a_code(service: str, wishes: tuple[str, ...], code: int) -> None:
    done = pourwright("alloys", *wishes, POURWRIGHT_URL=service)
    assert done.returncode == code, done.stdout + done.stderr
    assert bool(done.stderr) == (code == 1)


@pytest.mark.parametrize("columns", [40, 60, 80, 110])
@pytest.mark.parametrize("arguments", [("alloys", "--left-out"), ("alloy", "C87300"), ("alloy", "LM25")])
def test_alloys_fit_the_terminal(service: str, columns: int, arguments: tuple[str, ...]) -> None:
    done = pourwright(*arguments, columns=columns, POURWRIGHT_URL=service)
    assert done.returncode == 0, done.stderr
    assert max(map(len, done.stdout.splitlines())) <= columns


def test_one_alloy(service: str) -> None:
    done = pourwright("alloy", "everdur", POURWRIGHT_URL=service)
    lines = done.stdout.splitlines()
    assert lines[0] == "C87300: silicon bronze (95-4-1)"
    headings = [line for line in lines if line and line == line.upper() and not line.startswith(" ")]
    assert headings == [
        "FIGURES",
        "FIGURES THAT CALCULATIONS TAKE INSTEAD",
        "CONFLICTS",
        "COMPOSITION, PER CENT OF MASS",
        "HAZARDS",
    ]
    flowing = " ".join(done.stdout.split())
    assert "821 °C: CDA-C87300-2006, 1510 degF" in flowing
    assert "chosen 866 °C: printed beside the pouring range" in flowing
    assert "Who decides: " in done.stdout
    as_json = pourwright("alloy", "everdur", "--json", POURWRIGHT_URL=service)
    assert json.loads(as_json.stdout)["id"] == "C87300"
    unknown = pourwright("alloy", "C8730", POURWRIGHT_URL=service)
    assert unknown.returncode == 1
    assert "did you mean 'C87300'?" in unknown.stderr


def test_no_service() -> None:
    done = pourwright("plan", "-", given=PLAQUE, POURWRIGHT_URL="http://127.0.0.1:9")
    assert done.returncode == 1
    assert done.stdout == ""
    assert "deploy/serve" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_wrong_request(service: str) -> None:
    done = pourwright("plan", "-", given=PLAQUE.replace("15 mm", "15"), POURWRIGHT_URL=service)
    assert done.returncode == 1
    assert "/part/sections/0/thickness: '15' has no unit" in done.stderr
    assert "Accepted: mm, cm, m, in, ft" in done.stderr


def test_help_needs_no_service() -> None:
    done = pourwright("plan", "--help")
    assert done.returncode == 0
    assert "ends with 0" in done.stdout


def test_output_that_nobody_reads_to_the_end(service: str) -> None:
    command = [sys.executable, "-m", "pourwright", "plan", "-", "--url", service, "--json", "--working"]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdin.write(PLAQUE)
        process.stdin.close()
        process.stdout.read(1)
        process.stdout.close()
        assert process.stderr.read() == ""
        assert process.wait(60) in (0, 2)


def test_a_riser_too_small_is_mended_on_the_way(service: str, tmp_path: Path) -> None:
    job, mended = tmp_path / "job.toml", tmp_path / "mended.json"
    job.write_text(PLAQUE + '\n[riser]\ndiameter = "30 mm"\nheight = "30 mm"\n', encoding="utf-8")
    wrong = pourwright("plan", str(job), "--url", service)
    assert wrong.returncode == 2
    assert "EACH OF THESE WOULD MEND ONE" in wrong.stdout
    assert "Make the riser" in wrong.stdout
    right = pourwright("plan", str(job), "--url", service, "--mend", "--save", str(mended))
    assert right.returncode == 0, right.stdout
    assert "mended: " in right.stderr
    again = pourwright("plan", str(mended), "--url", service)
    assert again.stdout == right.stdout
