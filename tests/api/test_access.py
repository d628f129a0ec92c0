"""Who may ask, and how a request must arrive: keys, origins, methods, types, sizes, ids."""

import io
import json
import time
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from pourwright_service.app import create_app
from pourwright_service.settings import Settings

from .toy import TOYS

GOOD = {"depth": "25.4 mm"}


@pytest.fixture
def locked(tmp_path: Path) -> FlaskClient:
    keys = Settings(mesh_dir=tmp_path, api_keys=("first-key", "second-key"))
    return create_app(keys).test_client()


@pytest.mark.parametrize(
    "headers",
    [
        {"Authorization": "Bearer first-key"},
        {"Authorization": "bearer second-key"},
        {"X-API-Key": "second-key"},
    ],
)
def test_a_key_opens(locked: FlaskClient, headers: dict[str, str]) -> None:
    assert locked.get("/v1/sources", headers=headers).status_code == 200


@pytest.mark.parametrize("headers", [{}, {"Authorization": "Basic Zmlyc3Q="}, {"X-API-Key": ""}])
def test_no_key_is_401(locked: FlaskClient, headers: dict[str, str]) -> None:
    reply = locked.get("/v1/sources", headers=headers)
    assert reply.status_code == 401
    assert reply.headers["WWW-Authenticate"] == "Bearer"
    assert reply.get_json()["type"] == "/problems/key_missing"


@pytest.mark.parametrize(
    "headers",
    [
        {"Authorization": "Bearer first"},
        {"Authorization": "Bearer first-keys"},
        {"X-API-Key": "FIRST-KEY"},
        {"X-API-Key": "clé"},
    ],
)
def test_a_wrong_key_is_403_and_is_not_repeated(locked: FlaskClient, headers: dict[str, str]) -> None:
    reply = locked.get("/v1/sources", headers=headers)
    assert reply.status_code == 403
    assert reply.get_json()["type"] == "/problems/key_unknown"
    assert "first" not in reply.text.lower()


@pytest.mark.parametrize(
    "path", ["/", "/healthz", "/readyz", "/openapi.json", "/docs", "/docs/start.js", "/problems/too_many"]
)
def test_what_stays_open(locked: FlaskClient, path: str) -> None:
    assert locked.get(path).status_code == 200


def test_a_calculation_is_locked_before_it_is_read(locked: FlaskClient) -> None:
    assert locked.post("/v1/freezing", data=b"{").status_code == 401


@pytest.fixture
def shared(tmp_path: Path) -> FlaskClient:
    origins = Settings(mesh_dir=tmp_path, allowed_origins=("https://yard.example",))
    return create_app(origins, TOYS).test_client()


def test_a_listed_page_may_call(shared: FlaskClient) -> None:
    asks = {"Origin": "https://yard.example", "Access-Control-Request-Method": "POST"}
    before = shared.options("/v1/toy", headers=asks)
    assert before.status_code == 204
    assert before.headers["Access-Control-Allow-Origin"] == "https://yard.example"
    assert "POST" in before.headers["Access-Control-Allow-Methods"]
    reply = shared.post("/v1/toy", json=GOOD, headers={"Origin": "https://yard.example"})
    assert reply.headers["Access-Control-Allow-Origin"] == "https://yard.example"
    assert "Origin" in reply.headers["Vary"]
    assert "X-Request-ID" in reply.headers["Access-Control-Expose-Headers"]


@pytest.mark.parametrize("origin", ["https://other.example", "null", "https://yard.example.evil.example"])
def test_another_page_may_not(shared: FlaskClient, origin: str) -> None:
    asks = {"Origin": origin, "Access-Control-Request-Method": "POST"}
    before = shared.options("/v1/toy", headers=asks)
    assert before.status_code == 403
    assert before.get_json()["type"] == "/problems/origin_refused"
    reply = shared.post("/v1/toy", json=GOOD, headers={"Origin": origin})
    assert "Access-Control-Allow-Origin" not in reply.headers


def test_every_answer_has_a_request_id(toy_client: FlaskClient) -> None:
    first, second = (toy_client.post("/v1/toy", json=GOOD).headers["X-Request-ID"] for _ in range(2))
    assert first != second
    kept = toy_client.post("/v1/toy", json=GOOD, headers={"X-Request-ID": "abc-123"})
    assert kept.headers["X-Request-ID"] == "abc-123"
    for bad in ("x" * 65, "a b", 'a"<b>', "é"):
        made = toy_client.post("/v1/toy", json=GOOD, headers={"X-Request-ID": bad})
        assert made.headers["X-Request-ID"] != bad


def test_the_wrong_method_names_the_right_ones(toy_client: FlaskClient) -> None:
    reply = toy_client.get("/v1/toy")
    assert reply.status_code == 405
    assert "POST" in reply.headers["Allow"]


def test_nothing_there(toy_client: FlaskClient) -> None:
    reply = toy_client.post("/v1/" + "x" * 500, json=GOOD)
    assert reply.status_code == 404
    assert len(reply.get_json()["detail"]) < 200


@pytest.mark.parametrize("content_type", ["text/plain", "application/x-www-form-urlencoded", "", "text/json"])
def test_the_wrong_content_type(toy_client: FlaskClient, content_type: str) -> None:
    reply = toy_client.post("/v1/toy", data=json.dumps(GOOD), content_type=content_type)
    assert reply.status_code == 415
    assert "Content-Type: application/json" in reply.get_json()["detail"]
    assert reply.get_json()["errors"][0]["header"] == "Content-Type"


def test_a_charset_beside_the_type_is_fine(toy_client: FlaskClient) -> None:
    reply = toy_client.post("/v1/toy", data=json.dumps(GOOD), content_type="application/json; charset=utf-8")
    assert reply.status_code == 200


def test_a_body_beyond_the_limit(toy_client: FlaskClient) -> None:
    body = b'{"depth": "1 mm", "name": "' + b"x" * 10_000_000 + b'"}'
    began = time.perf_counter()
    reply = toy_client.post("/v1/toy", data=body, content_type="application/json")
    assert reply.status_code == 413
    assert "1 MiB" in reply.get_json()["detail"]
    assert time.perf_counter() - began < 1.0


def test_a_body_that_hides_its_length(toy_client: FlaskClient) -> None:
    body = io.BytesIO(b" " * 1_048_577 + b"{}")
    reply = toy_client.post(
        "/v1/toy",
        input_stream=body,
        content_type="application/json",
        environ_overrides={"wsgi.input_terminated": True},
    )
    assert reply.status_code == 413


def test_brackets_without_end(toy_client: FlaskClient) -> None:
    began = time.perf_counter()
    reply = toy_client.post("/v1/toy", data=b"[" * 900_000, content_type="application/json")
    assert (reply.status_code, reply.get_json()["type"]) == (400, "/problems/not_json")
    assert time.perf_counter() - began < 1.0


def test_answers_are_not_sniffed(toy_client: FlaskClient) -> None:
    assert toy_client.post("/v1/toy", json=GOOD).headers["X-Content-Type-Options"] == "nosniff"
