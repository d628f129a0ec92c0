"""The parts of the OpenAPI document that every operation shares: envelope, problems, keys."""

from typing import Any

from .problems import FAULTS, PROBLEMS

TAGS = {
    "Plan": "The main job: the whole pour plan, consistent with itself.",
    "Casting": "How the casting freezes, is fed and is filled.",
    "Charge": "What to melt.",
    "Meshes": "Triangle meshes, uploaded once and named by their hash.",
    "Reference": "What the service knows and where it comes from.",
    "Operator": "For whoever runs the service.",
}

SECURITY: dict[str, dict[str, Any]] = {
    "bearer": {
        "type": "http",
        "scheme": "bearer",
        "description": "Where the service is run with keys: 'Authorization: Bearer KEY'.",
    },
    "api_key": {
        "type": "apiKey",
        "in": "header",
        "name": "X-API-Key",
        "description": "The same key in a header of its own.",
    },
}


def _object(description: str, properties: dict[str, Any], optional: tuple[str, ...] = ()) -> dict[str, Any]:
    return {
        "type": "object",
        "description": description,
        "required": [name for name in properties if name not in optional],
        "properties": properties,
    }


def _text(description: str) -> dict[str, Any]:
    return {"type": "string", "description": description}


def _number(description: str) -> dict[str, Any]:
    return {"type": ["number", "null"], "description": description}


def _ref(name: str, description: str) -> dict[str, Any]:
    return {"$ref": f"#/components/schemas/{name}", "description": description}


def _list(name: str, description: str) -> dict[str, Any]:
    return {"type": "array", "items": {"$ref": f"#/components/schemas/{name}"}, "description": description}


def _fixed(words: list[str], description: str) -> dict[str, Any]:
    return {"type": "string", "enum": words, "description": description}


_POINTER = "JSON pointer (RFC 6901) into the request."

COMPONENTS: dict[str, dict[str, Any]] = {
    "verdict": _fixed(
        ["pass", "warn", "fail", "unknown"],
        "The worst of the checks; unknown where something asked for could not be computed.",
    ),
    "shown_value": {
        "description": "A quantity, a bare number where the kind has no unit, or null.",
        "anyOf": [
            _object(
                "A quantity.",
                {"value": {"type": "number", "description": "The number."}, "unit": _text("Its unit.")},
            ),
            {"type": ["number", "null"]},
        ],
    },
    "source_ref": _object(
        "Where a number or a rule comes from; /v1/sources has the rest.",
        {
            "key": _text("The source's key in /v1/sources."),
            "grade": _text("How far it may be trusted."),
            "place": _text("Where in the source."),
        },
        ("place",),
    ),
    "check": _object(
        "One question with a number on either side.",
        {
            "id": _text("The check's id in /v1/checks; never reused."),
            "subject": _text("What was checked: a JSON pointer or a name."),
            "verdict": _ref("verdict", "The check's own verdict."),
            "message": _text("The sentence that says it."),
            "value": _ref("shown_value", "What is."),
            "limit": _ref("shown_value", "What it is compared with."),
            "slack": _ref("shown_value", "Signed distance to the limit; 0 or more passes."),
            "margin": _number("Ratio to the limit, more is better; null where a ratio means nothing."),
            "source": _ref("source_ref", "Where the rule comes from."),
        },
    ),
    "remedy": _object(
        "A change of the request that was tried: with it the checks pass, with one step less they do not.",
        {
            "mends": _list("mended", "The checks that then pass; none where the answer failed as a whole."),
            "message": _text("The change in words."),
            "patch": _list("patch_operation", "JSON Patch (RFC 6902) of the request that was sent."),
            "cost": _object(
                "What it takes more of; less is negative, null is not known.",
                {
                    "metal": _ref("shown_value", "Metal."),
                    "money": _ref("shown_value", "Money."),
                },
            ),
            "verdict": _ref("verdict", "The whole answer's verdict after the change."),
        },
    ),
    "mended": _object(
        "A check that a remedy mends.",
        {"check": _text("The check's id."), "subject": _text("Its subject.")},
    ),
    "patch_operation": _object(
        "One operation of a JSON Patch; 'add' replaces what is there.",
        {
            "op": _fixed(["add", "remove"], "What is done."),
            "path": _text(f"{_POINTER}"),
            "value": {"description": "What is put there."},
        },
        ("value",),
    ),
    "missing": _object(
        "A value without which something could not be computed.",
        {"pointer": _text(f"{_POINTER} Give the value there."), "message": _text("What it is needed for.")},
    ),
    "default": _object(
        "A value that the service chose because the request did not say.",
        {
            "pointer": _text(f"{_POINTER} A value given there wins."),
            "value": {"description": "The value, shaped as the kind needs."},
            "provenance": _text("table, standard, common practice, from memory, estimated, computed, rule."),
            "source": _ref("source_ref", "Where it comes from."),
            "note": _text("What there is to say about it; may be empty."),
            "spread": _number("Half-width as a fraction of the value, where one is known."),
        },
    ),
    "caution": _object(
        "A hazard that follows from this request.",
        {
            "code": _text("The caution's code."),
            "hazard": _text("What can hurt."),
            "severity": _fixed(["care", "refuse"], "refuse: the job is not called fit to do."),
            "message": _text("What to do or not to do."),
            "why": _text("Why it arises from this request."),
            "decides": _text("Who decides: local code, licensed practice."),
            "subject": _text("What it concerns: a JSON pointer, a name, or empty."),
            "source": _ref("source_ref", "Where it comes from."),
        },
    ),
    "working_line": _object(
        "One formula as it was used, in SI units.",
        {
            "line": {"type": "integer", "description": "Number of the line."},
            "scope": {
                "type": "array",
                "items": {"type": "string"},
                "description": "Which part of the job it belongs to, outermost first.",
            },
            "formula": _text("The formula's id in /v1/formulas."),
            "expression": _text("The formula, written as it is evaluated."),
            "numbers": {
                "type": "object",
                "description": "The numbers put in, by symbol.",
                "additionalProperties": _object(
                    "A number put in.",
                    {
                        "value": _number("The number, SI."),
                        "unit": _text("Its SI unit."),
                        "name": _text("What the symbol stands for."),
                        "origin": _text("given, a default, a table, an earlier line, or computed."),
                    },
                ),
            },
            "result": _object(
                "The result.",
                {
                    "value": _number("The number, SI."),
                    "unit": _text("Its SI unit."),
                    "name": _text("Its symbol."),
                },
            ),
            "rounds": {
                "type": ["integer", "null"],
                "description": "Rounds of a repeated calculation, of which this is the last.",
            },
            "source": _ref("source_ref", "Where the formula comes from."),
        },
    ),
    "problem": _object(
        "What is wrong with a request (RFC 9457), all of it at once.",
        {
            "type": _text("Address of a page of this service that explains the problem."),
            "title": _text("The problem in a few words."),
            "status": {"type": "integer", "description": "The HTTP status."},
            "detail": _text("What went wrong this time."),
            "request_id": _text("The id under which the service's log knows the request."),
            "errors": _list("fault", "Every fault found; empty where the request has no place to point at."),
        },
    ),
    "fault": _object(
        "One fault. It has a pointer, a parameter or a header to say where.",
        {
            "pointer": _text(f"{_POINTER} Empty for the whole body."),
            "parameter": _text("Name of a path or query parameter."),
            "header": _text("Name of a header."),
            "code": _text("Code of the fault: " + "; ".join(f"{c}: {t}" for c, t in FAULTS.items()) + "."),
            "detail": _text("The fault in a sentence."),
            "accepted": {
                "type": "array",
                "items": {"type": "string"},
                "description": "What would be accepted, where that is a list.",
            },
        },
        ("pointer", "parameter", "header", "accepted"),
    ),
}


NOTHING = {
    "type": "object",
    "maxProperties": 0,
    "description": "Empty: nothing of it could be computed, and the verdict says so.",
}


def answer_of(summary: str, result: dict[str, Any]) -> dict[str, Any]:
    """The envelope around one operation's result."""
    return _object(
        f"Answer: {summary}",
        {
            "verdict": _ref("verdict", "The worst of the checks, first of all."),
            "message": _text("The sentence to read first."),
            "result": {"anyOf": [result, NOTHING], "description": "What was computed."},
            "checks": _list("check", "Every check made."),
            "remedies": _list("remedy", "Changes that were tried: with each, its check passes."),
            "missing": _list("missing", "What could not be computed for lack of a value."),
            "defaults": _list("default", "Every value that the service chose."),
            "cautions": _list("caution", "Hazards that follow from this request, and who decides."),
            "resolved": {
                "type": "object",
                "description": "The request with every default filled in; posted, it gives the same answer.",
            },
            "engine_version": _text("Version of the engine."),
            "tables_version": _text("Changes when any figure of the tables does."),
            "working": _list("working_line", "With working=true: every formula used, with its numbers."),
        },
        ("working",),
    )


PROBLEM_RESPONSES = {
    "calculation": (400, 401, 403, 404, 413, 415, 422, 429, 500, 503),
    "resource": (401, 403, 422, 429, 500, 503),
}
"""Statuses of the problems that any call of a sort may answer with."""


def _problem_response(status: int) -> dict[str, Any]:
    kinds = [kind for kind in PROBLEMS.values() if kind.status == status]
    return {
        "description": " ".join(f"{kind.title} (`{kind.code}`)." for kind in kinds),
        "headers": {"X-Request-ID": {"$ref": "#/components/headers/request_id"}},
        "content": {"application/problem+json": {"schema": {"$ref": "#/components/schemas/problem"}}},
    }


HEADERS: dict[str, dict[str, Any]] = {
    "request_id": {
        "description": "The id under which the service's log knows the request; X-Request-ID is taken over.",
        "schema": {"type": "string"},
    },
    "etag": {
        "description": "Strong: the version of the tables and a hash of the body.",
        "schema": {"type": "string"},
    },
    "cache_control": {
        "description": "no-cache: keep it, but ask with If-None-Match whether it still holds.",
        "schema": {"type": "string"},
    },
}

NOT_CHANGED = {
    "description": "What the caller has, by its ETag, is still what would be sent; there is no body.",
    "headers": {
        "X-Request-ID": {"$ref": "#/components/headers/request_id"},
        "ETag": {"$ref": "#/components/headers/etag"},
        "Cache-Control": {"$ref": "#/components/headers/cache_control"},
    },
}

RESPONSES = {
    f"problem_{status}": _problem_response(status) for status in sorted({k.status for k in PROBLEMS.values()})
}
