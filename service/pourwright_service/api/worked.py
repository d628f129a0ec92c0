"""Worked pages: for each subject its documented examples, answered now and shown with their working.

A page is made when it is first asked for, from the very requests that the OpenAPI document shows, and
kept as long as the process lives: it cannot drift from what the service answers.
"""

import json
from collections.abc import Mapping, Sequence
from html import escape
from typing import Any

from flask import Flask, Response, current_app

from . import worked_html as html
from .envelope import ENGINE_VERSION
from .jsonio import write_json
from .problems import Problem
from .quantities import View, viewing
from .registry import Endpoint, Registry
from .remedies import patched
from .serving import cacheable, told

SUBJECTS = {
    "plan": "plan",
    "freezing": "freezing",
    "riser": "riser",
    "gating": "gating",
    "pour-time": "pour_time",
    "charge": "charge",
    "melt": "melt",
    "sand": "sand",
    "pattern": "pattern",
    "calibration": "calibration",
}
"""Subject, as its page is called -> operation."""

POLICY = (
    "default-src 'none'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
"""Nothing from elsewhere and no script at all."""


def register(app: Flask) -> None:
    """Add /docs/worked, and its pages."""
    app.add_url_rule("/docs/worked", "worked_index", index, methods=["GET"])
    app.add_url_rule("/docs/worked/<subject>", "worked_page", page, methods=["GET"])


def index() -> Response:
    """The list of worked pages."""
    registry = _registry()
    items = "".join(
        f'<li><a href="/docs/worked/{subject}">{escape(endpoint.summary)}</a> '
        f"(<code>{endpoint.method} {endpoint.path}</code>)</li>"
        for subject, endpoint in _served(registry).items()
    )
    body = f"<h1>Worked examples</h1><p>{_INTRODUCTION}</p><ul>{items}</ul>"
    return _page("Worked examples", body, registry, None)


def page(subject: str) -> Response:
    """The worked page of one subject, made once per process."""
    registry = _registry()
    endpoint = _served(registry).get(subject)
    if endpoint is None:
        raise Problem("not_found", f"there is no worked page {subject[:60]!r}; /docs/worked lists them")
    made: dict[str, str] = current_app.extensions.setdefault("pourwright_worked", {})
    if subject not in made:
        made[subject] = _body(endpoint)
    return _page(f"{endpoint.summary}: worked examples", made[subject], registry, subject)


def _registry() -> Registry:
    found: Registry = current_app.extensions["pourwright_registry"]
    return found


def _served(registry: Registry) -> dict[str, Endpoint]:
    operations = registry.endpoints
    return {subject: operations[name] for subject, name in SUBJECTS.items() if name in operations}


# --- the answer behind a page --------------------------------------------------------------------


def live_answer(endpoint: Endpoint, sent: Mapping[str, Any], *, whole: bool = True) -> dict[str, Any]:
    """The answer to a request as a caller would read it; if ``whole``, with working and all remedies.

    Raises what a wrong request raises: ValidationError, OutOfRange, MissingValue, SectionFault.
    """
    case = endpoint.request.load(sent)
    with viewing(View("metric", getattr(case, "currency", None) or "")):
        made = told(endpoint, case, sent, whole, "all" if whole else "none")
    read: dict[str, Any] = json.loads(write_json(made))
    return read


# --- the page --------------------------------------------------------------------------------------

_INTRODUCTION = (
    "Each page puts a subject's documented examples to this service and shows the question, the answer in "
    "plain words, what was checked, and every formula with its numbers and its source. The castings are "
    "invented; where a title calls an example a printed exercise, its figures are an exercise's. A worked "
    "example is no instruction: what may be melted and poured where is for local codes and people who know "
    "the trade to decide."
)


def _body(endpoint: Endpoint) -> str:
    """The page of one subject, without what surrounds it."""
    cases, keys = [], []
    for number, (title, sent) in enumerate(endpoint.examples.items(), 1):
        answer = live_answer(endpoint, sent)
        keys += html.sources_used(answer)
        cases.append(_case(endpoint, number, title, sent, answer))
    contents = "".join(
        f'<li><a href="#case-{number}">{escape(title)}</a></li>'
        for number, title in enumerate(endpoint.examples, 1)
    )
    return (
        f"<h1>{escape(endpoint.summary)}</h1><p>{escape(endpoint.description)}</p>"
        f"<p>{_INTRODUCTION}</p><h2>On this page</h2>"
        f'<ol>{contents}<li><a href="#sources">Sources</a></li></ol>{"".join(cases)}'
        f'<section aria-labelledby="sources"><h2 id="sources">Sources</h2>'
        f"{html.sources(dict.fromkeys(keys))}</section>"
        f"<p>Answered by version {escape(ENGINE_VERSION)} of the engine.</p>"
    )


def _case(
    endpoint: Endpoint, number: int, title: str, sent: Mapping[str, Any], answer: Mapping[str, Any]
) -> str:
    missing = "".join(
        f"<li><code>{escape(one['pointer'])}</code>: {escape(one['message'])}</li>"
        for one in answer["missing"]
    )
    parts = [
        ("Question", f"<p><code>{endpoint.method} {endpoint.path}?working=true</code></p>{html.code(sent)}"),
        (
            "Answer",
            f"<p>{html.verdict(answer['verdict'])} {escape(answer['message'])}</p>"
            f"{html.result(answer['result'])}",
        ),
        ("What is missing", f"<ul>{missing}</ul>" if missing else ""),
        ("Checks", html.checks(answer["checks"])),
        ("What would mend it", _remedies(endpoint, sent, answer["remedies"])),
        ("Cautions", html.cautions(answer["cautions"])),
        ("Values chosen", html.defaults(answer["defaults"])),
        ("Working", html.working(answer["working"])),
    ]
    told = "".join(f"<h3>{name}</h3>{part}" for name, part in parts if part)
    return (
        f'<section aria-labelledby="case-{number}"><h2 id="case-{number}">'
        f"{escape(title[:1].upper() + title[1:])}</h2>{told}</section>"
    )


def _remedies(endpoint: Endpoint, sent: Mapping[str, Any], remedies: Sequence[Mapping[str, Any]]) -> str:
    """Every remedy, what it mends and costs, and what the service says to the mended request."""
    items = []
    for remedy in remedies:
        mends = ", ".join(escape(one["check"]) for one in remedy["mends"]) or "the whole answer"
        cost = {name: value for name, value in remedy["cost"].items() if value is not None}
        priced = f"<p>Takes more of: {html.text(cost)}</p>" if cost else ""
        after = live_answer(endpoint, patched(sent, remedy["patch"]), whole=False)
        items.append(
            f"<li><p><strong>{mends}</strong>: {escape(remedy['message'])}</p>{html.code(remedy['patch'])}"
            f"{priced}<p>Sent again with it: {html.verdict(after['verdict'])} {escape(after['message'])}</p>"
            "</li>"
        )
    return f"<ol>{''.join(items)}</ol>" if items else ""


def _page(title: str, body: str, registry: Registry, subject: str | None) -> Response:
    here = ' aria-current="page"'
    links = "".join(
        f'<li><a href="/docs/worked/{name}"{here if name == subject else ""}>'
        f"{name.replace('-', ' ')}</a></li>"
        for name in _served(registry)
    )
    document = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(title)} – Pourwright</title>"
        '<link rel="stylesheet" href="/docs/plain.css">'
        '<link rel="icon" type="image/png" href="/docs/favicon-32x32.png"></head>'
        '<body><a class="skip" href="#main">Skip to the content</a><header>'
        '<nav aria-label="Worked examples"><ul><li><a href="/docs">All calls</a></li>'
        f'<li><a href="/docs/worked">Worked examples</a></li>{links}</ul></nav></header>'
        f'<main id="main">{body}</main></body></html>'
    )
    return cacheable(_guarded(Response(document, content_type="text/html; charset=utf-8")))


def _guarded(response: Response) -> Response:
    response.headers["Content-Security-Policy"] = POLICY
    response.headers["Referrer-Policy"] = "no-referrer"
    return response
