"""Documentation the service serves about itself: the OpenAPI document, a page, the problems."""

from functools import cache
from html import escape
from importlib.resources import files
from typing import Any

from flask import Flask, Response, current_app, request

from . import doubtful, plain_page, worked
from .jsonio import write_json
from .problems import FAULTS, PROBLEMS, Problem, ProblemKind
from .registry import resource
from .schemas import Count, Nested, Result, Text
from .serving import cacheable, respond

_ASSETS = {
    "swagger-ui-bundle.js": "text/javascript",
    "swagger-ui.css": "text/css",
    "favicon-32x32.png": "image/png",
}

_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""Nothing from elsewhere, nothing inline: the page works, and only works, with what we serve."""

_PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Pourwright: the service's calls</title>
<link rel="stylesheet" href="/docs/swagger-ui.css">
<link rel="icon" type="image/png" href="/docs/favicon-32x32.png">
</head>
<body>
<nav aria-label="More"><p><a href="/docs/worked">Worked examples, one page for each subject</a></p></nav>
<div id="page"></div>
<noscript>
<p>This page needs JavaScript to try the calls. They are all in <a href="/openapi.json">/openapi.json</a>:</p>
<table>
{calls}
</table>
</noscript>
<script src="/docs/swagger-ui-bundle.js"></script>
<script src="/docs/start.js"></script>
</body>
</html>
"""

_START = """SwaggerUIBundle({
  url: "/openapi.json",
  dom_id: "#page",
  deepLinking: true,
  validatorUrl: null,
  presets: [SwaggerUIBundle.presets.apis]
});
"""


def register(app: Flask) -> None:
    """Add /, /openapi.json, /docs and the worked pages."""
    app.add_url_rule("/", "index", index, methods=["GET"])
    app.add_url_rule("/openapi.json", "openapi", openapi, methods=["GET"])
    app.add_url_rule("/docs", "docs", page, methods=["GET"])
    app.add_url_rule("/docs/doubtful-figures", "doubtful_page", doubtful_page, methods=["GET"])
    app.add_url_rule("/docs/<name>", "docs_asset", asset, methods=["GET"])
    worked.register(app)


def index() -> Response:
    """Where to go from here."""
    registry = current_app.extensions["pourwright_registry"]
    calls = [*registry.endpoints.values(), *registry.resources.values()]
    return respond(
        {
            "name": "Pourwright",
            "documentation": "/docs",
            "doubtful_figures": "/docs/doubtful-figures",
            "openapi": "/openapi.json",
            "problems": "/problems",
            "health": "/healthz",
            "ready": "/readyz",
            "calls": [{"method": c.method, "path": c.path, "summary": c.summary} for c in calls],
        }
    )


def openapi() -> Response:
    """The OpenAPI document, made once per process."""
    extensions = current_app.extensions
    if "pourwright_document" not in extensions:
        from .openapi import document

        made = write_json(document(extensions["pourwright_registry"]))
        extensions["pourwright_document"] = made
    return cacheable(Response(extensions["pourwright_document"], content_type="application/json"))


def page() -> Response:
    """The page that shows the OpenAPI document; without scripts, a list of the calls."""
    registry = current_app.extensions["pourwright_registry"]
    rows = "\n".join(
        f"<tr><td><code>{call.method} {escape(call.path)}</code></td><td>{escape(call.summary)}</td></tr>"
        for call in (*registry.endpoints.values(), *registry.resources.values())
    )
    return _guarded(Response(_PAGE.format(calls=rows), content_type="text/html; charset=utf-8"))


def doubtful_page() -> Response:
    """The page of figures to be looked up or measured."""
    return cacheable(_guarded(doubtful.page()))


def asset(name: str) -> Response:
    """One of the files that the page needs."""
    if name == "start.js":
        return _guarded(Response(_START, content_type="text/javascript"))
    if name == "plain.css":
        return cacheable(_guarded(Response(plain_page.STYLE, content_type="text/css")))
    if name not in _ASSETS:
        raise Problem("not_found", f"there is no file {name[:60]!r} here")
    return cacheable(_guarded(Response(_bundled(name), content_type=_ASSETS[name])))


def _guarded(response: Response) -> Response:
    response.headers["Content-Security-Policy"] = _POLICY
    response.headers["Referrer-Policy"] = "no-referrer"
    return response


@cache
def _bundled(name: str) -> bytes:
    return files("flask_swagger_ui").joinpath("dist", name).read_bytes()


class ProblemResult(Result):
    """An entry of the catalogue of problems."""

    type = Text("Address of the problem's page.", required=True)
    code = Text("Its code; never reused.", required=True)
    status = Count("Its HTTP status.", required=True)
    title = Text("The problem in a few words.", required=True)
    detail = Text("What it means and what to do.", required=True)


class FaultCodeResult(Result):
    """A code that a single fault may have."""

    code = Text("The code.", required=True)
    meaning = Text("What it means.", required=True)


class ProblemsResult(Result):
    """The catalogue of problems."""

    items = Nested(ProblemResult, "Every problem.", many=True, required=True)
    next = Text("Always null: the list is whole.")
    fault_codes = Nested(FaultCodeResult, "Every code of a single fault.", many=True, required=True)


@resource(
    "GET",
    "/problems",
    operation="list_problems",
    tag="Operator",
    summary="Every problem that the service may answer with",
    description="The catalogue of problem types and of the codes of single faults; needs no key.",
    answer=ProblemsResult,
)
def problems() -> dict[str, Any]:
    codes = [{"code": code, "meaning": meaning} for code, meaning in FAULTS.items()]
    return {"items": [_problem(kind) for kind in PROBLEMS.values()], "next": None, "fault_codes": codes}


@resource(
    "GET",
    "/problems/{code}",
    operation="get_problem",
    tag="Operator",
    summary="What one problem means",
    description="The page that a problem's type points at, as JSON or, for a browser, HTML; needs no key.",
    answer=ProblemResult,
    parameters={"code": "Code of the problem."},
    problems=("not_found",),
)
def problem(code: str) -> dict[str, Any] | Response:
    kind = PROBLEMS.get(code)
    if kind is None:
        raise Problem("not_found", f"there is no problem {code[:60]!r}")
    if request.accept_mimetypes.best_match(["application/json", "text/html"]) != "text/html":
        return _problem(kind)
    title, text = escape(kind.title), escape(kind.text)
    page = (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title></head>'
        f"<body><h1>{title}</h1><p>{text}</p>"
        f"<p>Code <code>{escape(kind.code)}</code>, HTTP status {kind.status}.</p></body></html>"
    )
    return _guarded(Response(page, content_type="text/html; charset=utf-8"))


def _problem(kind: ProblemKind) -> dict[str, Any]:
    return {
        "type": f"/problems/{kind.code}",
        "code": kind.code,
        "status": kind.status,
        "title": kind.title,
        "detail": kind.text,
    }
