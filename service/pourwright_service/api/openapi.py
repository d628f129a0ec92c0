"""The OpenAPI 3.1 document, made from the same declarations that the routes are made from."""

from collections.abc import Mapping
from typing import Any, TypeVar

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin
from apispec.ext.marshmallow.openapi import OpenAPIConverter
from marshmallow import Schema, fields

from .envelope import ENGINE_VERSION
from .fields import Described
from .openapi_parts import (
    COMPONENTS,
    HEADERS,
    NOT_CHANGED,
    PROBLEM_RESPONSES,
    RESPONSES,
    SECURITY,
    TAGS,
    answer_of,
)
from .problems import PROBLEMS
from .query import parameters as query_parameters
from .registry import Call, Endpoint, Registry, Resource
from .schemas import Body, Nested, Result, Variant
from .unitdoc import COMPONENTS as QUANTITIES

_INFO = {
    "description": (
        "Plans a sand casting before any metal is melted. Every quantity carries its unit, every value "
        "that the service chose is listed with its source, and every answer begins with a verdict: pass, "
        "warn, fail or unknown. A request that cannot be read is a problem (RFC 9457) that names all its "
        "faults.\n\n"
        "Nothing here replaces local codes, licensed practice or the judgement of the person at the furnace."
    ),
    "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
}

_UNITS = {
    "name": "units",
    "in": "query",
    "description": "System of units of the answer. It never changes a decision.",
    "schema": {"type": "string", "enum": ["metric", "us"], "default": "metric"},
}
_WORKING = {
    "name": "working",
    "in": "query",
    "description": "Whether the answer shows its working: every formula, with the numbers put in.",
    "schema": {"type": "string", "enum": ["true", "false"], "default": "false"},
}
_IF_NONE_MATCH = {
    "name": "If-None-Match",
    "in": "header",
    "description": "ETag of what the caller has; if it still holds, the answer is 304 without a body.",
    "schema": {"type": "string"},
}
_REMEDIES = {
    "name": "remedies",
    "in": "query",
    "description": (
        "Remedies are looked for where a check failed; 'all': also where one warns; 'none': not at all."
    ),
    "schema": {"type": "string", "enum": ["failed", "all", "none"], "default": "failed"},
}


class _Converter(OpenAPIConverter):
    """Lets our fields speak for themselves."""

    def field2property(self, field: fields.Field[Any]) -> dict[str, Any]:
        if not isinstance(field, Described):
            raise TypeError(f"{field.name} is not a field of this service")
        answers = isinstance(field.parent, Result)
        if isinstance(field, Nested):
            shape: dict[str, Any] = self._nested(field)
            if field.many and not answers:
                shape |= {"minItems": field.min_items, "maxItems": field.max_items}
        else:
            shape = dict(field.answer_document() if answers else field.request_document())
        if answers and not field.required:
            shape = _nullable(shape)
        return {**shape, "description": _with_bound(field.description, shape.pop("x-bound", ""))}

    def _nested(self, field: Nested) -> dict[str, Any]:
        resolve: Any = self.resolve_nested_schema
        if isinstance(field, Variant):
            refs = {word: resolve(schema) for word, schema in field.variants.items()}
            mapping = {word: ref["$ref"] for word, ref in refs.items()}
            item: dict[str, Any] = {
                "oneOf": list(refs.values()),
                "discriminator": {"propertyName": field.key, "mapping": mapping},
            }
        else:
            item = resolve(field.schema)
        return {"type": "array", "items": item} if field.many else dict(item)

    def schema2jsonschema(self, schema: Schema) -> dict[str, Any]:
        properties: Any = self.fields2jsonschema
        made: dict[str, Any] = properties(schema.fields)
        made["description"] = " ".join((type(schema).__doc__ or "").split())
        if isinstance(schema, Body):
            made["additionalProperties"] = False
        return made


def _with_bound(description: str, bound: str) -> str:
    return f"{description} Must be {bound}." if bound else description


def _nullable(shape: dict[str, Any]) -> dict[str, Any]:
    if isinstance(shape.get("type"), str) and "enum" not in shape:
        return {**shape, "type": [shape["type"], "null"]}
    return {"anyOf": [shape, {"type": "null"}]}


class _Plugin(MarshmallowPlugin):
    Converter = _Converter


C = TypeVar("C", bound=Call)


def _by_path(calls: Mapping[str, C]) -> list[C]:
    """Calls in an order that does not depend on which module was loaded first."""
    return sorted(calls.values(), key=lambda call: (call.path, call.method))


def document(registry: Registry) -> dict[str, Any]:
    """The whole document as JSON."""
    plugin = _Plugin(schema_name_resolver=lambda schema: type(schema).__name__)
    spec = APISpec("Pourwright", ENGINE_VERSION, "3.1.0", plugins=[plugin], info=_INFO)
    used = dict.fromkeys(call.tag for call in (*_by_path(registry.endpoints), *_by_path(registry.resources)))
    for tag in used:
        spec.tag({"name": tag, "description": TAGS.get(tag, tag)})
    for name, shape in COMPONENTS.items():
        spec.components.schema(name, shape)
    for code, response in RESPONSES.items():
        spec.components.response(code, response)
    for name, header in HEADERS.items():
        spec.components.header(name, header)
    for name, scheme in SECURITY.items():
        spec.components.security_scheme(name, scheme)
    converter: Any = plugin.converter
    for endpoint in _by_path(registry.endpoints):
        request = converter.resolve_nested_schema(endpoint.request)
        result = converter.resolve_nested_schema(endpoint.answer)
        spec.components.schema(f"{endpoint.operation}_answer", answer_of(endpoint.summary, result))
        spec.path(endpoint.path, operations={endpoint.method.lower(): _calculation(endpoint, request)})
    for resource in _by_path(registry.resources):
        answer = converter.resolve_nested_schema(resource.answer) if resource.answer else None
        spec.path(resource.path, operations={resource.method.lower(): _resource(resource, answer)})
    made: dict[str, Any] = spec.to_dict()
    schemas = made["components"]["schemas"]
    schemas.update(QUANTITIES)
    made["components"]["schemas"] = dict(sorted(schemas.items()))
    made["servers"] = [{"url": "/", "description": "The service that serves this document."}]
    made["security"] = [{}, *({name: []} for name in SECURITY)]
    return made


def _problems(codes: tuple[int, ...]) -> dict[str, Any]:
    return {str(status): {"$ref": f"#/components/responses/problem_{status}"} for status in codes}


def _calculation(endpoint: Endpoint, request: dict[str, Any]) -> dict[str, Any]:
    examples = {
        title.lower().replace(" ", "_"): {"summary": title, "value": value}
        for title, value in endpoint.examples.items()
    }
    return {
        "operationId": endpoint.operation,
        "tags": [endpoint.tag],
        "summary": endpoint.summary,
        "description": endpoint.description,
        "parameters": [_UNITS, _WORKING, _REMEDIES],
        "requestBody": {
            "required": True,
            "description": "What is asked.",
            "content": {"application/json": {"schema": request, "examples": examples}},
        },
        "responses": {
            "200": {
                "description": "The answer, verdict first. A job that cannot be done is an answer too.",
                "headers": {"X-Request-ID": {"$ref": "#/components/headers/request_id"}},
                "content": {
                    "application/json": {
                        "schema": {"$ref": f"#/components/schemas/{endpoint.operation}_answer"}
                    }
                },
            },
            **_problems(PROBLEM_RESPONSES["calculation"]),
        },
    }


def _resource(resource: Resource, answer: dict[str, Any] | None) -> dict[str, Any]:
    parameters: list[dict[str, Any]] = [
        {
            "name": name,
            "in": "path",
            "required": True,
            "description": description,
            "schema": {"type": "string"},
        }
        for name, description in resource.parameters.items()
    ]
    if resource.query:
        parameters += query_parameters(resource.query)
    if resource.method == "GET":
        parameters.append(_UNITS)
    headers: Any = {"X-Request-ID": {"$ref": "#/components/headers/request_id"}}
    not_changed = {}
    if resource.cacheable:
        parameters.append(_IF_NONE_MATCH)
        headers, not_changed = NOT_CHANGED["headers"], {"304": NOT_CHANGED}
    content = {"content": {"application/json": {"schema": answer}}} if answer else {}
    own = tuple(PROBLEMS[code].status for code in resource.problems)
    operation: dict[str, Any] = {
        "operationId": resource.operation,
        "tags": [resource.tag],
        "summary": resource.summary,
        "description": resource.description,
        "parameters": parameters,
        "responses": {
            **{
                str(status): {"description": text, "headers": headers, **content}
                for status, text in resource.statuses.items()
            },
            **not_changed,
            **_problems(tuple(sorted({*own, *PROBLEM_RESPONSES["resource"]}))),
        },
    }
    if resource.upload:
        operation["requestBody"] = {
            "required": True,
            "description": "The file's bytes.",
            "content": {name: {"schema": {}} for name in resource.upload},
        }
    return operation
