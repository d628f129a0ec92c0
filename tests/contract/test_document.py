"""The OpenAPI document: valid, whole, described, and the one that is kept in openapi/."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openapi_spec_validator import OpenAPIV31SpecValidator

from pourwright_service.__main__ import main, openapi_text
from pourwright_service.api.registry import REGISTRY
from pourwright_service.api.units import UNITS
from pourwright_service.app import create_app

STORED = Path(__file__).resolve().parents[2] / "openapi" / "openapi.json"


def operations(document: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    for path, item in document["paths"].items():
        for method, operation in item.items():
            yield f"{method.upper()} {path}", operation


def shapes(shape: dict[str, Any], where: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """A schema and every schema inside it, with its place."""
    yield where, shape
    for name, inner in shape.get("properties", {}).items():
        yield from shapes(inner, f"{where}/{name}")
    for word in ("items", "additionalProperties"):
        if isinstance(shape.get(word), dict):
            yield from shapes(shape[word], f"{where}/*")
    for word in ("oneOf", "anyOf"):
        for index, inner in enumerate(shape.get(word, ())):
            yield from shapes(inner, f"{where}<{index}>")


def test_the_stored_document_is_the_one_the_service_writes() -> None:
    assert STORED.read_text(encoding="utf-8") == openapi_text(), "run: python -m pourwright_service openapi"


def test_the_command_writes_the_document(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "new" / "openapi.json"
    assert main(["openapi", str(target)]) == 0
    assert target.read_text(encoding="utf-8") == openapi_text()
    assert str(target) in capsys.readouterr().out


def test_the_document_is_valid(document: dict[str, Any]) -> None:
    assert list(OpenAPIV31SpecValidator(document).iter_errors()) == []


def test_every_route_is_documented(document: dict[str, Any]) -> None:
    documented = {where for where, _ in operations(document)}
    for rule in create_app().url_map.iter_rules():
        path = re.sub(r"<(?:path:)?(\w+)>", r"{\1}", rule.rule)
        if path in ("/", "/openapi.json", "/docs") or path.startswith("/docs/"):
            continue
        assert {f"{method} {path}" for method in rule.methods or () if method not in ("HEAD", "OPTIONS")} <= (
            documented
        )


def test_every_operation_is_described(document: dict[str, Any]) -> None:
    ids = [operation["operationId"] for _, operation in operations(document)]
    assert len(ids) == len(set(ids))
    tags = {tag["name"]: tag["description"] for tag in document["tags"]}
    for where, operation in operations(document):
        assert len(operation["summary"]) <= 80, where
        assert len(operation["description"]) > 30, where
        assert all(tags[tag] != tag for tag in operation["tags"]), where
        assert any(status.startswith("4") for status in operation["responses"]), where
        for parameter in operation.get("parameters", ()):
            assert parameter["description"], where


def test_every_field_is_described(document: dict[str, Any]) -> None:
    for name, shape in document["components"]["schemas"].items():
        assert shape.get("description"), name
        for where, inner in shapes(shape, name):
            for field, described in inner.get("properties", {}).items():
                assert described.get("description"), f"{where}: {field}"


def test_every_quantity_lists_its_units(document: dict[str, Any]) -> None:
    schemas = document["components"]["schemas"]
    for kind, listed in UNITS.items():
        for name in (kind, f"positive_{kind}", f"nonnegative_{kind}"):
            for form in schemas.get(name, {}).get("oneOf", ()):
                if form["type"] == "object":
                    assert form["properties"]["unit"]["enum"] == list(listed.spellings)


def test_requests_refuse_what_they_do_not_know(document: dict[str, Any]) -> None:
    for where, operation in operations(document):
        content = operation.get("requestBody", {}).get("content", {})
        if "application/json" in content:
            name = content["application/json"]["schema"]["$ref"].rsplit("/", 1)[1]
            assert document["components"]["schemas"][name]["additionalProperties"] is False, where


def test_an_exclusive_minimum_is_exclusive(document: dict[str, Any]) -> None:
    length = document["components"]["schemas"]["positive_length"]
    pair = next(form for form in length["oneOf"] if form["type"] == "object")
    assert pair["properties"]["value"]["exclusiveMinimum"] == 0
    text = next(form for form in length["oneOf"] if form["type"] == "string")
    assert re.search(text["pattern"], "2 1/2 in")
    assert not re.search(text["pattern"], "0.0 mm")
    assert not re.search(text["pattern"], "-3 mm")


def test_every_problem_response_is_a_problem(document: dict[str, Any]) -> None:
    for name, response in document["components"]["responses"].items():
        assert list(response["content"]) == ["application/problem+json"], name


def test_schema_names_do_not_collide(document: dict[str, Any]) -> None:
    numbered = [name for name in document["components"]["schemas"] if re.search(r"\D[1-9]$", name)]
    assert numbered == [], "two schemas have the same class name"


def test_every_calculation_has_examples(document: dict[str, Any]) -> None:
    for endpoint in REGISTRY.endpoints.values():
        operation = document["paths"][endpoint.path][endpoint.method.lower()]
        assert operation["requestBody"]["content"]["application/json"]["examples"]
