"""Each example of the document is a complete request, and its answer is as documented."""

from typing import Any

import pytest
from flask.testing import FlaskClient
from jsonschema import Draft202012Validator

from pourwright_service.api.registry import REGISTRY

EXAMPLES = [
    pytest.param(endpoint.operation, title, id=f"{endpoint.operation}: {title}")
    for endpoint in REGISTRY.endpoints.values()
    for title in endpoint.examples
]


def validator(document: dict[str, Any], name: str) -> Draft202012Validator:
    """Validates against one schema of the document."""
    schema = {"$ref": f"#/components/schemas/{name}", "components": document["components"]}
    return Draft202012Validator(schema)


def errors(document: dict[str, Any], name: str, value: Any) -> list[str]:
    return [f"{e.json_path}: {e.message[:200]}" for e in validator(document, name).iter_errors(value)]


def post(client: FlaskClient, operation: str, body: Any, query: str = "") -> Any:
    reply = client.post(f"{REGISTRY.endpoints[operation].path}{query}", json=body)
    assert reply.status_code == 200, reply.text
    return reply.get_json()


@pytest.mark.parametrize(("operation", "title"), EXAMPLES)
def test_an_example_fits_its_schema_and_is_answered(
    client: FlaskClient, document: dict[str, Any], operation: str, title: str
) -> None:
    endpoint = REGISTRY.endpoints[operation]
    request = endpoint.examples[title]
    content = document["paths"][endpoint.path]["post"]["requestBody"]["content"]["application/json"]
    assert errors(document, content["schema"]["$ref"].rsplit("/", 1)[1], request) == []
    for query in ("", "?units=us&working=true"):
        answer = post(client, operation, request, query)
        assert errors(document, f"{operation}_answer", answer) == []
        assert answer["verdict"] in ("pass", "warn", "fail"), "an example asks for nothing it cannot have"
        assert answer["message"]


@pytest.mark.parametrize(("operation", "title"), EXAMPLES)
def test_an_answer_holds_what_its_schema_names(client: FlaskClient, operation: str, title: str) -> None:
    endpoint = REGISTRY.endpoints[operation]
    answer = post(client, operation, endpoint.examples[title])
    assert set(answer["result"]) == set(endpoint.answer.fields)


@pytest.mark.parametrize(("operation", "title"), EXAMPLES)
def test_the_resolved_request_gives_the_same_answer(client: FlaskClient, operation: str, title: str) -> None:
    first = post(client, operation, REGISTRY.endpoints[operation].examples[title])
    for default in first["defaults"]:
        place = first["resolved"]
        for step in default["pointer"].split("/")[1:]:
            step = step.replace("~1", "/").replace("~0", "~")
            assert isinstance(place, list) or step in place, f"{default['pointer']} is not resolved"
            place = place[int(step)] if isinstance(place, list) else place[step]
    second = post(client, operation, first["resolved"])
    assert second["defaults"] == []
    for part in ("verdict", "message", "result", "checks", "missing", "cautions"):
        assert second[part] == first[part]


@pytest.mark.parametrize(("operation", "title"), EXAMPLES)
def test_units_never_change_a_decision(client: FlaskClient, operation: str, title: str) -> None:
    request = REGISTRY.endpoints[operation].examples[title]
    metric, us = post(client, operation, request), post(client, operation, request, "?units=us")
    assert metric["verdict"] == us["verdict"]
    assert [(c["id"], c["subject"], c["verdict"]) for c in metric["checks"]] == [
        (c["id"], c["subject"], c["verdict"]) for c in us["checks"]
    ]


@pytest.mark.parametrize("operation", sorted(REGISTRY.endpoints))
def test_a_problem_is_as_documented(client: FlaskClient, document: dict[str, Any], operation: str) -> None:
    reply = client.post(REGISTRY.endpoints[operation].path, json={"nonsense": 1})
    assert reply.status_code == 422
    assert errors(document, "problem", reply.get_json()) == []


def test_reference_data_is_as_documented(client: FlaskClient, document: dict[str, Any]) -> None:
    asked = 0
    for path, item in document["paths"].items():
        if "get" not in item or "{sha256}" in path:
            continue
        content = item["get"]["responses"]["200"]["content"]["application/json"]
        reply = client.get(path.replace("{id}", "C87300").replace("{code}", "too_many"))
        assert reply.status_code == 200, path
        assert errors(document, content["schema"]["$ref"].rsplit("/", 1)[1], reply.get_json()) == []
        asked += 1
    assert asked > 8
