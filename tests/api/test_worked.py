"""Worked pages: each shows what the service answers now, reads without a script and leads nowhere outside."""

import re
from dataclasses import replace
from html import escape
from html.parser import HTMLParser
from itertools import pairwise

import pytest
from flask.testing import FlaskClient

from pourwright_service.api import worked, worked_html
from pourwright_service.api.registry import REGISTRY, Registry
from pourwright_service.api.worked import SUBJECTS
from pourwright_service.app import create_app
from pourwright_service.engine.tables.sources import SOURCES
from pourwright_service.settings import Settings

from .failing_jobs import FAILING
from .toy import TOYS

VOID = {"meta", "link", "br", "img", "hr"}


class Outline(HTMLParser):
    """What a reader's tool sees of a page: elements in order, ids, links, and whether tags are closed."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.open: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def all(self, *names: str) -> list[dict[str, str]]:
        return [attrs for tag, attrs in self.tags if tag in names]


def shown(client: FlaskClient, subject: str) -> str:
    reply = client.get(f"/docs/worked/{subject}")
    assert reply.status_code == 200
    assert reply.content_type == "text/html; charset=utf-8"
    return reply.text


@pytest.mark.parametrize("subject", sorted(SUBJECTS))
def test_a_page_shows_what_the_service_answers(client: FlaskClient, subject: str) -> None:
    page = shown(client, subject)
    endpoint = REGISTRY.endpoints[SUBJECTS[subject]]
    for title, request in endpoint.examples.items():
        answer = client.post(f"{endpoint.path}?working=true", json=request).get_json()
        assert escape(title[1:]) in page
        assert worked_html.code(request) in page
        assert f"{worked_html.verdict(answer['verdict'])} {escape(answer['message'])}" in page
        for check in answer["checks"]:
            assert escape(check["message"]) in page, check["id"]
        for caution in answer["cautions"]:
            assert escape(caution["message"]) in page
            assert escape(caution["decides"]) in page
        for default in answer["defaults"]:
            assert f"<code>{escape(default['pointer'])}</code>" in page
        assert answer["working"]
        assert worked_html.working(answer["working"]) in page
        for line in answer["working"]:
            assert f"<code>{escape(line['expression'])}</code>" in page
            assert f'href="#source-{line["source"]["key"]}"' in page
            assert escape(SOURCES[line["source"]["key"]].title) in page


@pytest.mark.parametrize("subject", ["", *sorted(SUBJECTS)])
def test_a_page_is_static_and_leads_nowhere_outside(client: FlaskClient, subject: str) -> None:
    reply = client.get(f"/docs/worked/{subject}" if subject else "/docs/worked")
    policy = reply.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "script" not in policy
    assert "unsafe" not in policy
    seen = Outline(reply.text)
    assert not seen.all("script", "iframe", "style", "object", "embed", "form")
    ids = [attrs["id"] for _, attrs in seen.tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    for _, attrs in seen.tags:
        assert not [name for name in attrs if name.startswith("on") or name == "style"]
        for address in (attrs.get("href"), attrs.get("src")):
            if address is None:
                continue
            assert address.startswith(("/docs", "#")), address
            if address.startswith("#"):
                assert address[1:] in ids, address
            else:
                assert client.get(address).status_code == 200, address


@pytest.mark.parametrize("subject", sorted(SUBJECTS))
def test_a_page_can_be_read_without_eyes(client: FlaskClient, subject: str) -> None:
    page = shown(client, subject)
    seen = Outline(page)
    assert seen.open == []
    assert seen.all("html")[0]["lang"] == "en"
    assert len(seen.all("h1")) == len(seen.all("main")) == len(seen.all("title")) == 1
    assert len(seen.all("table")) == len(seen.all("caption")) > 3
    assert all(head["scope"] in ("row", "col") for head in seen.all("th"))
    levels = [int(tag[1]) for tag, _ in seen.tags if re.fullmatch(r"h[1-6]", tag)]
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert [link["href"] for link in seen.all("a") if link.get("aria-current")] == [f"/docs/worked/{subject}"]
    assert seen.all("a")[0]["href"] == "#main", "the first link skips to the content"
    for region in (attrs for _, attrs in seen.tags if attrs.get("role") == "region"):
        assert region["aria-label"]
        assert region["tabindex"] == "0", "what scrolls can be reached with the keyboard"


def test_the_pages_are_found_from_the_docs(client: FlaskClient) -> None:
    assert 'href="/docs/worked"' in client.get("/docs").text
    index = client.get("/docs/worked").text
    for subject in SUBJECTS:
        assert f'href="/docs/worked/{subject}"' in index
    assert client.get("/docs/worked/felt").status_code == 404
    style = client.get("/docs/plain.css")
    assert style.content_type.startswith("text/css")
    assert "url(" not in style.text


def test_a_page_is_made_once_and_not_sent_twice(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    first = client.get("/docs/worked/freezing")
    monkeypatch.setattr(worked, "live_answer", lambda *_: pytest.fail("made again"))
    again = client.get("/docs/worked/freezing", headers={"If-None-Match": first.headers["ETag"]})
    assert again.status_code == 304
    assert again.data == b""
    assert client.get("/docs/worked/freezing").data == first.data


def test_no_key_is_needed_and_a_service_without_the_subjects_has_no_pages(settings: Settings) -> None:
    keyed = create_app(replace(settings, api_keys=("a" * 32,))).test_client()
    assert keyed.get("/docs/worked/freezing").status_code == 200
    bare = create_app(settings, TOYS).test_client()
    assert bare.get("/docs/worked").status_code == 200
    assert bare.get("/docs/worked/freezing").status_code == 404


# --- remedies ---------------------------------------------------------------------------------------


def test_a_remedy_is_told_with_its_cost_and_sent_again(settings: Settings) -> None:
    _, request = FAILING["riser too small"]
    registry = Registry()
    registry.endpoints["riser"] = replace(REGISTRY.endpoints["riser"], examples={"too <thin>": request})
    page = create_app(settings, registry).test_client().get("/docs/worked/riser").text
    assert "too &lt;thin&gt;" in page.lower()
    assert "<strong>riser-freezes-last, riser-modulus</strong>: Make the riser 67 mm across" in page
    assert "Takes more of: " in page
    assert f"Sent again with it: {worked_html.verdict('pass')}" in page


def test_values_are_written_as_people_write_them() -> None:
    assert worked_html.text({"value": 0.3, "unit": "m^2"}) == "0.3 m²"
    assert worked_html.text({"value": 1106.7, "unit": "degC"}) == "1107 °C"
    assert worked_html.text({"value": None, "unit": "s"}) == worked_html.text(None) == "–"
    assert worked_html.text({"values": [1, 2], "unit": "mm"}) == "1 mm, 2 mm"
    assert worked_html.text([94, 100], "limits_percent") == "94 %, 100 %"
    assert worked_html.text("<b>") == "&lt;b&gt;"
    assert worked_html.text("DERIVED", "source") == '<a href="#source-DERIVED">DERIVED</a>'
