"""The SDK's written files are what the service's declarations give, and its hand-written ones agree."""

import dataclasses
import inspect
from pathlib import Path
from typing import Any

import pytest

import pourwright.answer as answers
from pourwright import Client, Quantity
from pourwright.errors import Fault
from pourwright.units import UNITS as SDK_UNITS
from pourwright_service.api.openapi_parts import COMPONENTS, answer_of
from pourwright_service.api.quantities import in_unit, read
from pourwright_service.api.registry import REGISTRY
from pourwright_service.api.units import UNITS
from pourwright_service.app import create_app
from pourwright_service.write_models import sdk_files, write, written_files

SDK = Path(__file__).parents[2] / "sdk" / "pourwright"
AGAIN = "run `python -m pourwright_service models`"

assert create_app is not None, "importing the application declares every operation"


@pytest.fixture(scope="module")
def files() -> dict[str, str]:
    return sdk_files(REGISTRY)


def test_written_files_are_up_to_date(files: dict[str, str]) -> None:
    stale = [name for name, text in files.items() if not _same(SDK / name, text)]
    assert stale == [], AGAIN


def _same(path: Path, text: str) -> bool:
    return path.is_file() and path.read_text("utf-8") == text


def test_no_written_file_is_left_over(files: dict[str, str]) -> None:
    assert written_files(SDK) == set(files), AGAIN


def test_writing_changes_only_what_differs(tmp_path: Path, files: dict[str, str]) -> None:
    assert {path.relative_to(tmp_path).as_posix() for path in write(REGISTRY, tmp_path)} == set(files)
    assert write(REGISTRY, tmp_path) == []
    (tmp_path / "units.py").write_text("changed")
    left_over = tmp_path / "models" / "left_over.py"
    left_over.write_text(files["units.py"])
    assert set(write(REGISTRY, tmp_path)) == {tmp_path / "units.py", left_over}
    assert not left_over.exists()


def test_every_operation_is_a_method() -> None:
    for operation in (*REGISTRY.endpoints, *REGISTRY.resources):
        method = getattr(Client, operation)
        kinds = {parameter.kind for parameter in list(inspect.signature(method).parameters.values())[1:]}
        assert kinds <= {inspect.Parameter.KEYWORD_ONLY}, operation
        assert inspect.getdoc(method), operation


@pytest.mark.parametrize("kind", list(UNITS))
def test_units_convert_as_the_service_converts_them(kind: str) -> None:
    listed = UNITS[kind]
    assert set(SDK_UNITS[kind]) == {*listed.units, *([""] if kind == "fraction" else [])}
    for unit in listed.units:
        si = read(kind, f"3.7 {unit}")
        for wanted in listed.units.values():
            ours = Quantity(3.7, unit).to(wanted.spelling).value
            assert ours == pytest.approx(in_unit(si, wanted), rel=1e-14, abs=1e-12)


@pytest.mark.parametrize(
    ("component", "kind"),
    [
        ("check", answers.Check),
        ("missing", answers.Missing),
        ("default", answers.Default),
        ("caution", answers.Caution),
        ("source_ref", answers.SourceRef),
        ("working_line", answers.WorkingLine),
        ("fault", Fault),
    ],
)
def test_the_envelope_has_the_documents_fields(component: str, kind: Any) -> None:
    ours = {field.name for field in dataclasses.fields(kind)}
    assert ours == set(COMPONENTS[component]["properties"])


def test_the_answer_has_the_documents_fields() -> None:
    ours = {field.name for field in dataclasses.fields(answers.Answer)} - {"data"}
    assert ours == set(answer_of("x", {})["properties"])
