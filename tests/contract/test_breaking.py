"""A change of the document that would break a caller is found, a harmless one is let pass."""

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest

from .breaking import breaking_changes
from .test_document import STORED

OLD: dict[str, Any] = {
    "paths": {
        "/v1/x": {
            "post": {
                "operationId": "x",
                "parameters": [{"name": "units", "in": "query", "schema": {"enum": ["metric", "us"]}}],
                "requestBody": {
                    "content": {"application/json": {"schema": {"$ref": "#/components/schemas/In"}}}
                },
                "responses": {
                    "200": {"content": {"application/json": {"schema": {"$ref": "#/components/schemas/Out"}}}}
                },
            }
        }
    },
    "components": {
        "schemas": {
            "In": {
                "type": "object",
                "required": ["a"],
                "properties": {
                    "a": {"type": "number", "minimum": 0, "maximum": 10},
                    "b": {"enum": ["p", "q"]},
                    "c": {"type": "array", "maxItems": 5, "items": {"$ref": "#/components/schemas/Inner"}},
                    "d": {"oneOf": [{"type": "string"}, {"type": "object"}]},
                },
            },
            "Inner": {"type": "object", "properties": {"e": {"type": "string", "maxLength": 9}}},
            "Out": {
                "type": "object",
                "required": ["r", "s"],
                "properties": {
                    "r": {"type": "number"},
                    "s": {"enum": ["pass", "fail"]},
                    "t": {"type": ["string", "null"]},
                    "again": {"$ref": "#/components/schemas/Out"},
                },
            },
        }
    },
}


def schema(document: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = document["components"]["schemas"][name]
    return found


def operation(document: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = document["paths"]["/v1/x"]["post"]
    return found


Change = Callable[[dict[str, Any]], object]

BREAKING: dict[str, tuple[Change, str]] = {
    "operation gone": (lambda d: d["paths"].clear(), "the operation is gone"),
    "id": (lambda d: operation(d).update(operationId="y"), "operationId"),
    "parameter gone": (lambda d: operation(d)["parameters"].clear(), "the parameter units is gone"),
    "parameter word gone": (
        lambda d: operation(d)["parameters"][0]["schema"]["enum"].remove("us"),
        "'us' is no longer taken",
    ),
    "status gone": (lambda d: operation(d)["responses"].clear(), "the status 200 is gone"),
    "content type gone": (
        lambda d: operation(d)["requestBody"]["content"].clear(),
        "application/json is gone",
    ),
    "field gone": (lambda d: schema(d, "In")["properties"].pop("b"), "body/b: the field is gone"),
    "field required": (
        lambda d: schema(d, "In")["required"].append("b"),
        "body/b: the field is now required",
    ),
    "word gone": (lambda d: schema(d, "In")["properties"]["b"]["enum"].remove("q"), "'q' is no longer taken"),
    "maximum lower": (lambda d: schema(d, "In")["properties"]["a"].update(maximum=9), "maximum is narrower"),
    "minimum higher": (lambda d: schema(d, "In")["properties"]["a"].update(minimum=1), "minimum is narrower"),
    "limit new": (
        lambda d: schema(d, "Inner")["properties"]["e"].update(minLength=1),
        "minLength is narrower",
    ),
    "fewer items": (lambda d: schema(d, "In")["properties"]["c"].update(maxItems=4), "maxItems is narrower"),
    "pattern new": (
        lambda d: schema(d, "Inner")["properties"]["e"].update(pattern="x"),
        "pattern has changed",
    ),
    "type narrower": (lambda d: schema(d, "In")["properties"]["a"].update(type="integer"), "no longer taken"),
    "form gone": (lambda d: schema(d, "In")["properties"]["d"]["oneOf"].pop(), "object is no longer taken"),
    "answer field gone": (lambda d: schema(d, "Out")["properties"].pop("t"), "200/t: the field is gone"),
    "answer field optional": (
        lambda d: schema(d, "Out")["required"].remove("r"),
        "200/r: the field may be absent",
    ),
    "answer type wider": (
        lambda d: schema(d, "Out")["properties"]["r"].update(type=["number", "null"]),
        "the type null is new",
    ),
    "answer word new": (
        lambda d: schema(d, "Out")["properties"]["s"]["enum"].append("maybe"),
        "is a new word",
    ),
}

HARMLESS: dict[str, Change] = {
    "nothing": dict,
    "operation new": lambda d: d["paths"].update({"/v1/y": d["paths"]["/v1/x"]}),
    "parameter new": lambda d: operation(d)["parameters"].append({"name": "n", "in": "query", "schema": {}}),
    "field new": lambda d: schema(d, "In")["properties"].update(new={"type": "string"}),
    "field optional": lambda d: schema(d, "In")["required"].clear(),
    "word new": lambda d: schema(d, "In")["properties"]["b"]["enum"].append("r"),
    "limits wider": lambda d: schema(d, "In")["properties"]["a"].update(maximum=11, minimum=-1),
    "limit gone": lambda d: schema(d, "Inner")["properties"]["e"].pop("maxLength"),
    "form new": lambda d: schema(d, "In")["properties"]["d"]["oneOf"].append({"type": "number"}),
    "answer field new": lambda d: schema(d, "Out")["properties"].update(new={"type": "string"}),
    "answer field sure": lambda d: schema(d, "Out")["required"].append("t"),
    "answer type narrower": lambda d: schema(d, "Out")["properties"]["t"].update(type="string"),
    "description": lambda d: schema(d, "Out").update(description="new words"),
}


@pytest.mark.parametrize("name", BREAKING)
def test_a_breaking_change_is_found(name: str) -> None:
    change, says = BREAKING[name]
    new = copy.deepcopy(OLD)
    change(new)
    found = breaking_changes(OLD, new)
    assert any(says in line for line in found), found


@pytest.mark.parametrize("name", HARMLESS)
def test_a_harmless_change_is_let_pass(name: str) -> None:
    new = copy.deepcopy(OLD)
    HARMLESS[name](new)
    assert breaking_changes(OLD, new) == []


def test_the_service_does_not_break_callers_of_the_stored_document(document: dict[str, Any]) -> None:
    stored = json.loads(STORED.read_text(encoding="utf-8"))
    assert breaking_changes(stored, document) == []
