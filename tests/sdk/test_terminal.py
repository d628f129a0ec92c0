"""The pieces of the terminal face: numbers for people, tables, files."""

import io
import json
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourwright.__main__ import main
from pourwright.terminal.figures import shown
from pourwright.terminal.files import BadFile, read_job, toml_text, write_job
from pourwright.terminal.layout import pairs, table
from pourwright.terminal.results import result_lines
from tests.live_service import Reply, Scripted

ANSWER: dict[str, Any] = {
    "verdict": "pass",
    "message": "Fine.",
    "result": {"volume": {"value": 60.0, "unit": "cm^3"}},
    "checks": [],
    "missing": [],
    "defaults": [],
    "cautions": [],
    "resolved": {},
    "engine_version": "1",
    "tables_version": "1",
}


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (25.4, "mm", "25.4 mm"),
        (12_345.0, "mm", "12.3 m"),
        (0.0478, "kg", "47.8 g"),
        (2.0642, "kg", "2.06 kg"),
        (0.0, "kg", "0 kg"),
        (196.8, "s", "3.28 min"),
        (4.37, "s", "4.37 s"),
        (10_800.0, "s", "3 h"),
        (1106.7, "degC", "1107 °C"),
        (0.4, "K", "0.4 K"),
        (0.0333, "m/s", "33.3 mm/s"),
        (2.0833, "%", "2.08 %"),
        (9.7e-4, "1/K", "0.00097 1/K"),
        (3.2e-9, "1/K", "3.20e-09 1/K"),
        (54.198, "EUR", "54.20 EUR"),
        (2.0, "/kg", "2.00 /kg"),
        (0.25, "lb", "4 oz"),
        (9.66, "min/cm^2", "9.66 min/cm²"),
        (-0.31, "mm", "-0.31 mm"),
        (1234.5, "MPa", "1230 MPa"),
        (299_792_458.0, "m", "3.00e+08 m"),
    ],
)
def test_a_quantity_for_people(value: float, unit: str, text: str) -> None:
    assert shown({"value": value, "unit": unit}) == text


@pytest.mark.parametrize(
    ("value", "percent", "text"),
    [
        (None, False, "-"),
        (True, False, "yes"),
        (False, False, "no"),
        (7024, False, "7024"),
        (7024.0, False, "7020"),
        (0.82214, True, "0.822 %"),
        ("least_cost", False, "least cost"),
        ("bolts_2 from_the yard", False, "bolts_2 from_the yard"),
        ([98.5, 100.0], True, "98.5 to 100 %"),
        ([95.0, 95.0], True, "95 %"),
        ([94.0, None], True, "at least 94 %"),
        ([None, 0.2], True, "at most 0.2 %"),
        ([None, None], True, "-"),
        ({"Cu": 95.0, "Si": [3.5, 4.5]}, True, "Cu 95 %, Si 3.5 to 4.5 %"),
        ({"values": [14.0, None], "unit": "mm"}, False, "14 mm, -"),
        ([{"value": 1.0, "unit": "mm"}, {"value": 2.0, "unit": "mm"}], False, "1 mm, 2 mm"),
        ([], False, "-"),
    ],
)
def test_other_values(value: Any, percent: bool, text: str) -> None:
    assert shown(value, percent=percent) == text


def test_a_table_fits_its_width() -> None:
    heads = ["item", "mass", "why"]
    rows = [
        ["salvaged bolts", "3.9 kg", "-"],
        ["fittings", "0 kg", "they bring too much zinc and lead for this melt"],
    ]
    for width in (110, 60, 45):
        lines = table(heads, rows, width)
        assert max(map(len, lines)) <= width
        assert lines[0].split() == heads
    assert table(heads, rows, 110)[1] == "  salvaged bolts  3.9 kg  -"


def test_a_table_too_wide_is_turned_and_then_cut() -> None:
    heads = [f"column {n}" for n in range(8)]
    rows = [[f"{row * 100 + n} mm" for n in range(8)] for row in (1, 2)]
    turned = table(heads, rows, 50)
    assert turned[3] == "  column 3  103 mm  203 mm"
    cut = table(heads, rows, 24)
    assert cut[3] == "  column 3  103 mm"
    assert cut[8] == ""
    assert cut[9] == "  column 0  200 mm"
    assert table(heads, [], 50) == []


def test_pairs_wrap_under_their_value() -> None:
    assert pairs([("name", "one two three"), ("n", "x")], 18) == [
        "  name  one two",
        "        three",
        "  n     x",
    ]


def test_a_result_of_any_shape() -> None:
    result = {
        "mass": {"value": 1.0, "unit": "kg"},
        "unknown": None,
        "share_percent": 12.0,
        "ratio": {"sprue": 1.0, "gate": 3.0},
        "parts": [{"name": "a", "size": {"value": 1.0, "unit": "mm"}}],
        "inner": {"word": "least_cost"},
        "none": [],
    }
    assert result_lines(result, 60) == [
        "",
        "RESULT",
        "  mass   1 kg",
        "  share  12 %",
        "  ratio  sprue 1, gate 3",
        "",
        "PARTS",
        "  name  size",
        "  a     1 mm",
        "",
        "INNER",
        "  word  least cost",
    ]


# --- files ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("job.json", '{"alloy": "356"}'),
        ("job.toml", 'alloy = "356"'),
        ("job", '  {"alloy": "356"}'),
        ("job.txt", 'alloy = "356"'),
        ("bom.json", '\ufeff{"alloy": "356"}'),
    ],
)
def test_formats(tmp_path: Path, name: str, text: str) -> None:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    assert read_job(str(path)) == ({"alloy": "356"}, tmp_path)


@pytest.mark.parametrize(
    ("name", "raw", "said"),
    [
        ("a.json", b'{"a": }', "not JSON: Expecting value in line 1"),
        ("a.json", b'{"a": NaN}', "NaN is not a number"),
        ("a.json", b'{"a": 1, "a": 2}', "'a' is there twice"),
        ("a.json", b"[1]", "must hold one object"),
        ("a.json", b"[" * 100_000, "nested too deeply"),
        ("a.toml", b"a = ", "not TOML: Invalid value"),
        ("a.toml", b"a = 1\na = 2", "not TOML: Cannot overwrite a value"),
        ("a.json", b'{"a": "\xff"}', "not text in UTF-8 (byte 7)"),
    ],
)
def test_bad_files(tmp_path: Path, name: str, raw: bytes, said: str) -> None:
    path = tmp_path / name
    path.write_bytes(raw)
    with pytest.raises(BadFile) as caught:
        read_job(str(path))
    assert said in str(caught.value)


def test_no_file() -> None:
    with pytest.raises(BadFile, match="cannot be read: No such file or directory"):
        read_job("nowhere.toml")


# --- the command, beside a server that is scripted ----------------------------------------------


def job(tmp_path: Path, request: Any) -> str:
    path = tmp_path / "job.json"
    path.write_text(json.dumps(request))
    return str(path)


@pytest.mark.parametrize(("verdict", "code"), [("pass", 0), ("warn", 0), ("fail", 2), ("unknown", 3)])
def test_exit_codes(
    script: Scripted, tmp_path: Path, capsys: pytest.CaptureFixture[str], verdict: str, code: int
) -> None:
    script.replies = [Reply(body={**ANSWER, "verdict": verdict})]
    assert main(["freezing", job(tmp_path, {}), "--url", script.url]) == code
    assert capsys.readouterr().out.startswith(f"{verdict.upper()}: Fine.\n")


def test_options_reach_the_service(
    script: Scripted, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    script.replies = [Reply(body=ANSWER)]
    arguments = [
        "pour-time",
        job(tmp_path, {"a": 1}),
        "--url",
        script.url,
        "--units",
        "us",
        "--working",
        "--json",
    ]
    assert main(arguments) == 0
    assert script.asked[0].path == "/v1/pour-time?units=us&working=true"
    assert json.loads(script.asked[0].body) == {"a": 1}
    assert json.loads(capsys.readouterr().out) == ANSWER


def test_a_problem_is_told_in_full(
    script: Scripted, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    fault = {"pointer": "/part", "code": "missing_field", "detail": "this field is required"}
    problem = {"type": "/problems/invalid_request", "title": "No", "status": 422, "errors": [fault]}
    script.replies = [Reply(422, body=problem)]
    assert main(["plan", job(tmp_path, {}), "--url", script.url]) == 1
    out, said = capsys.readouterr()
    assert out == ""
    assert said == "No (422 invalid_request)\n  /part: this field is required\n"


@pytest.mark.parametrize("body", [{"hello": 1}, b"<html>", {"verdict": "splendid"}])
def test_something_else_answers(
    script: Scripted, tmp_path: Path, capsys: pytest.CaptureFixture[str], body: Any
) -> None:
    script.replies = [Reply(body=body)]
    assert main(["riser", job(tmp_path, {}), "--url", script.url]) == 1
    assert "is not Pourwright" in capsys.readouterr().err


def test_too_slow(script: Scripted, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    script.replies = [Reply(delay=0.5, body=ANSWER)]
    assert main(["riser", job(tmp_path, {}), "--url", script.url, "--timeout", "0.1"]) == 1
    assert "did not answer in time" in capsys.readouterr().err


@pytest.mark.parametrize(
    "arguments",
    [[], ["plan"], ["sing", "x"], ["plan", "x", "--units", "furlongs"], ["plan", "x", "--timeout", "0"]],
)
def test_usage_errors_end_with_1(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as caught:
        main(arguments)
    assert caught.value.code == 1
    assert "usage: python -m pourwright" in capsys.readouterr().err


def test_dates_are_no_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "job.toml"
    path.write_text("day = 2020-01-01\n")
    assert main(["plan", str(path)]) == 1
    assert "cannot be sent as JSON" in capsys.readouterr().err


def test_a_mesh_has_a_file_or_an_id(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    both = {"part": {"mesh": {"file": "a.stl", "id": "0" * 64}}}
    assert main(["plan", job(tmp_path, both)]) == 1
    assert "both a file and an id" in capsys.readouterr().err
    assert main(["plan", job(tmp_path, {"part": {"mesh": {"file": "a.stl"}}})]) == 1
    assert f"{tmp_path / 'a.stl'} cannot be read" in capsys.readouterr().err


def test_a_terminal_without_the_letters(
    script: Scripted, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding="ascii"))
    message = "Pour at 1107 °C over 5 cm² ± 2 % \N{SNOWMAN}."
    script.replies = [Reply(body={**ANSWER, "message": message})]
    assert main(["freezing", job(tmp_path, {}), "--url", script.url]) == 0
    assert raw.getvalue().startswith(b"PASS: Pour at 1107 deg C over 5 cm^2 +/- 2 % ?.\n")


@given(
    job=st.recursive(
        st.one_of(
            st.booleans(),
            st.integers(-(2**60), 2**60),
            st.floats(allow_nan=False, allow_infinity=False),
            st.text(),
        ),
        lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(), inner, max_size=3)),
        max_leaves=12,
    ).map(lambda value: {"job": value, "part": {"sections": [{"name": value}, {}]}})
)
def test_a_request_saved_as_toml_reads_back_the_same(job: dict[str, Any]) -> None:
    assert tomllib.loads(toml_text(job)) == job


def test_a_mended_request_is_saved_in_the_format_that_its_name_says(tmp_path: Path) -> None:
    job = {"alloy": "A356", "part": {"sections": [{"name": "plate"}]}, "stock": [{"name": "old pistons"}]}
    for name in ("job.toml", "job.json"):
        write_job(job, str(tmp_path / name))
        assert read_job(str(tmp_path / name))[0] == job
    assert "[[stock]]" in (tmp_path / "job.toml").read_text()
