"""Problems: RFC 9457, whatever goes wrong, and the pages they point at."""

import ast
import re
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from marshmallow import ValidationError

import pourwright_service
from pourwright_service.api.problems import (
    FAULTS,
    PROBLEMS,
    Fault,
    Problem,
    did_you_mean,
    faults_of,
    refused_at,
)
from pourwright_service.app import create_app
from pourwright_service.settings import Settings

from .conftest import Ask
from .toy import TOYS


def test_a_problem_has_all_members_of_the_standard(ask: Ask) -> None:
    reply = ask(depth="x")
    problem = reply.get_json()
    assert set(problem) == {"type", "title", "status", "detail", "request_id", "errors"}
    assert problem["status"] == reply.status_code == 422
    assert problem["request_id"] == reply.headers["X-Request-ID"]
    assert problem["errors"][0]["accepted"] == ["mm", "cm", "m", "in", "ft"]
    assert problem["detail"].startswith("/depth: ")


def test_a_number_outside_a_formula_is_a_problem(ask: Ask) -> None:
    problem = ask(mood="out of range", depth="2 m").get_json()
    assert (problem["status"], problem["type"]) == (422, "/problems/out_of_range")
    assert problem["errors"] == [
        {
            "pointer": "/depth",
            "code": "out_of_range",
            "detail": "depth is 2; toy needs less than 1 (SI units)",
        }
    ]


def test_a_number_of_unclear_origin_points_at_the_body(ask: Ask) -> None:
    problem = ask(mood="out of range", mould={"density": "1 kg/m^3"}, properties={}).get_json()
    assert problem["errors"][0]["pointer"] == "/depth"
    two = ask(mood="out of range", parts={"sprue": 1}, names=["depth"]).get_json()
    assert two["errors"][0]["pointer"] == "/depth"


def test_a_value_that_nothing_can_do_without(ask: Ask) -> None:
    problem = ask(mood="lost").get_json()
    assert (problem["status"], problem["type"]) == (422, "/problems/not_computable")
    assert problem["errors"][0]["pointer"] == "/constant"
    assert problem["errors"][0]["detail"] == "Without a constant there is no time."


def test_a_failure_of_the_service_tells_nothing_but_the_request_id(
    ask: Ask, caplog: pytest.LogCaptureFixture
) -> None:
    reply = ask(mood="broken")
    assert reply.status_code == 500
    assert reply.content_type == "application/problem+json"
    assert "broken inside" not in reply.text
    assert reply.get_json()["request_id"] in caplog.text
    assert "broken inside" in caplog.text


@pytest.mark.parametrize(
    ("status", "code"),
    [
        (400, "bad_request"),
        (401, "key_missing"),
        (403, "key_unknown"),
        (404, "not_found"),
        (405, "method_not_allowed"),
        (413, "too_large"),
        (415, "media_type"),
        (418, "bad_request"),
        (422, "invalid_request"),
        (429, "too_many"),
        (501, "internal"),
        (503, "unavailable"),
    ],
)
def test_every_http_error_is_a_problem(settings: Settings, status: int, code: str) -> None:
    app: Flask = create_app(settings, TOYS)

    def fail() -> Any:
        from flask import abort

        abort(status)

    app.add_url_rule("/fail", "fail", fail)
    reply = app.test_client().get("/fail")
    assert reply.content_type == "application/problem+json"
    assert reply.get_json()["type"] == f"/problems/{code}"
    assert reply.status_code == PROBLEMS[code].status


@pytest.mark.parametrize("code", sorted(PROBLEMS))
def test_every_problem_has_its_page(client: FlaskClient, code: str) -> None:
    as_json = client.get(f"/problems/{code}")
    assert as_json.content_type == "application/json"
    assert as_json.get_json()["title"] == PROBLEMS[code].title
    page = client.get(f"/problems/{code}", headers={"Accept": "text/html,*/*;q=0.8"})
    assert page.content_type.startswith("text/html")
    assert PROBLEMS[code].title in page.text
    assert "default-src 'none'" in page.headers["Content-Security-Policy"]


def test_an_unknown_problem_is_not_found(client: FlaskClient) -> None:
    assert client.get("/problems/nonsense").get_json()["type"] == "/problems/not_found"


def test_the_catalogue_lists_problems_and_faults(client: FlaskClient) -> None:
    listed = client.get("/problems").get_json()
    assert [item["code"] for item in listed["items"]] == list(PROBLEMS)
    assert {item["code"] for item in listed["fault_codes"]} == set(FAULTS)
    assert listed["next"] is None


def test_faults_of_nested_messages() -> None:
    error = ValidationError({"a": {0: {"b": [Fault("null", "no")]}}, "_schema": ["odd"], "c~/d": ["x"]})
    assert [(fault.pointer, fault.code) for fault in faults_of(error)] == [
        ("/a/0/b", "null"),
        ("", "inconsistent"),
        ("/c~0~1d", "inconsistent"),
    ]


def test_refused_at_reaches_inside() -> None:
    error = refused_at("tools/0/length", "inconsistent", "no")
    assert [fault.pointer for fault in faults_of(error)] == ["/tools/0/length"]


def test_did_you_mean() -> None:
    assert did_you_mean("hieght", ["height", "width"]) == "; did you mean 'height'?"
    assert did_you_mean("HEIGHT", ["height"]) == "; did you mean 'height'?"
    assert did_you_mean("colour", ["height", "width"]) == ""
    assert did_you_mean("x" * 10_000, ["height"]) == ""


def codes_in_use() -> set[str]:
    """Codes of faults written as text anywhere in the service."""
    position = {"Fault": 0, "refused": 0, "refused_at": 1, "MeshFault": 0, "BadQuantity": 0}
    found = set()
    for path in Path(pourwright_service.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in position:
                # the engine's own Fault has its pointer first
                places = (0, 1) if node.func.id == "Fault" else (position[node.func.id],)
                words = [node.args[n] for n in places if n < len(node.args)]
                found |= {str(word.value) for word in words if isinstance(word, ast.Constant)}
    return {code for code in found if re.fullmatch(r"[a-z]+(_[a-z]+)*", code)}


def test_every_code_of_a_fault_is_in_the_catalogue() -> None:
    used = codes_in_use()
    assert {"no_unit", "inconsistent", "mesh_truncated"} <= used
    assert used <= set(FAULTS)


def test_only_problems_of_the_catalogue_can_be_raised() -> None:
    with pytest.raises(KeyError):
        Problem("made_up")
