"""Reference data, health and the documentation page."""

import re
from html import escape
from html.parser import HTMLParser

import pytest
from flask.testing import FlaskClient

from pourwright_service.api.plain_page import STYLE
from pourwright_service.app import create_app
from pourwright_service.engine.checks import CHECKS
from pourwright_service.engine.formula import FORMULAS
from pourwright_service.engine.tables.alloys import ALLOYS
from pourwright_service.engine.tables.census import doubtful_cells, doubtful_words
from pourwright_service.engine.tables.elements import ELEMENTS
from pourwright_service.engine.tables.moulds import MOULDS
from pourwright_service.engine.tables.reading import tables_version
from pourwright_service.engine.tables.sources import SOURCES
from pourwright_service.settings import Settings

LISTS = ["formulas", "checks", "sources", "alloys", "moulds", "elements", "doubtful-figures"]


@pytest.mark.parametrize("name", LISTS)
def test_lists_are_whole_and_carry_an_etag(client: FlaskClient, name: str) -> None:
    reply = client.get(f"/v1/{name}")
    assert reply.status_code == 200
    assert reply.get_json()["items"]
    assert reply.get_json()["next"] is None
    again = client.get(f"/v1/{name}", headers={"If-None-Match": reply.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    assert again.headers["ETag"] == reply.headers["ETag"]
    assert reply.headers["Cache-Control"] == again.headers["Cache-Control"] == "no-cache"
    other = client.get(f"/v1/{name}", headers={"If-None-Match": '"of yesterday"'})
    assert (other.status_code, other.data) == (200, reply.data)


def test_an_etag_is_strong_and_names_the_tables(client: FlaskClient) -> None:
    tag = client.get("/v1/alloys/C87300").headers["ETag"]
    assert tag.startswith(f'"{tables_version()}-')
    assert client.get("/v1/alloys/C87300?units=us").headers["ETag"] != tag
    several = client.get("/v1/alloys/C87300", headers={"If-None-Match": f'"x", {tag}'})
    assert several.status_code == 304
    assert client.head("/v1/alloys/C87300").headers["ETag"] == tag


def test_an_etag_changes_with_the_tables(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    tag = client.get("/v1/sources").headers["ETag"]
    monkeypatch.setattr("pourwright_service.api.serving.tables_version", lambda: "another")
    assert client.get("/v1/sources", headers={"If-None-Match": tag}).status_code == 200


@pytest.mark.parametrize("name", ["moulds", "elements"])
def test_every_figure_of_a_list_has_its_provenance(client: FlaskClient, name: str) -> None:
    known = {"moulds": MOULDS, "elements": ELEMENTS}[name]
    items = client.get(f"/v1/{name}").get_json()["items"]
    for item, row in zip(items, known.values(), strict=True):
        assert {cell["name"] for cell in item["properties"]} == set(row.cells)
        assert not set(item["lacking"]) & set(row.cells)
        for cell in item["properties"]:
            of = row.cells[cell["name"]]
            assert (cell["source"]["key"], cell["source"]["grade"]) == (of.source, of.grade)
            assert (cell["spread"], len(cell["conflicts"])) == (of.spread, len(of.conflicts))


def test_a_mould_tells_the_thinnest_walls(client: FlaskClient) -> None:
    moulds = {item["id"]: item for item in client.get("/v1/moulds").get_json()["items"]}
    walls = {wall["family"]: wall for wall in moulds["green sand"]["least_walls"]}
    assert walls["aluminium"]["least"]["value"] == {"value": 2.3, "unit": "mm"}
    assert not walls["aluminium"]["any_sand"]
    assert moulds["oil-bonded sand"]["least_walls"][0]["any_sand"]
    assert moulds["iron chill"]["least_walls"] == []


def test_doubtful_figures_are_all_listed(client: FlaskClient) -> None:
    found = client.get("/v1/doubtful-figures").get_json()
    assert len(found["items"]) == len(doubtful_cells()) == found["from_memory"] + found["estimated_by_rule"]
    assert {item["grade"] for item in found["items"]} == {"from memory", "estimated by rule"}
    assert found["tables_version"] == tables_version()
    assert all(item["figure"]["source"]["grade"] == item["grade"] for item in found["items"])


class _Outline(HTMLParser):
    """What a page is made of."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in ("meta", "link"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_page_of_doubtful_figures_is_plain_and_accessible(client: FlaskClient) -> None:
    page = client.get("/docs/doubtful-figures")
    assert page.headers["Content-Security-Policy"] == client.get("/docs").headers["Content-Security-Policy"]
    outline = _Outline()
    outline.feed(page.text)
    assert outline.open == []
    tags = [tag for tag, _ in outline.tags]
    assert not {"script", "style", "img", "form", "iframe"} & set(tags)
    assert not any("style" in attributes or "onclick" in attributes for _, attributes in outline.tags)
    assert (tags.count("h1"), tags.count("main"), tags.count("title")) == (1, 1, 1)
    assert dict(outline.tags)["html"] == {"lang": "en"}
    assert tags.count("caption") == tags.count("table") == tags.count("thead")
    assert all(attributes.get("scope") in ("col", "row") for tag, attributes in outline.tags if tag == "th")
    ids = [attributes["id"] for _, attributes in outline.tags if "id" in attributes]
    assert len(ids) == len(set(ids))
    for tag, attributes in outline.tags:
        address = attributes.get("href") or ""
        if tag in ("a", "link") and address.startswith("#"):
            assert address[1:] in ids
        elif tag in ("a", "link"):
            assert client.get(address).status_code == 200, address
    rows = sum(attributes.get("scope") == "row" for _, attributes in outline.tags)
    assert rows == len(doubtful_cells()) + len(doubtful_words())
    for placed in doubtful_cells():
        assert escape(placed.row) in page.text
    again = client.get("/docs/doubtful-figures", headers={"If-None-Match": page.headers["ETag"]})
    assert again.status_code == 304


def test_the_plain_style_can_be_read() -> None:
    """WCAG 2.2, 1.4.3: text has a contrast of at least 4.5 to its ground."""
    pairs = [(ink, "ffffff") for ink in ("1a1a1a", "0b4f8a", "1b5e20", "7a4100", "a30000")]
    for ink, ground in (*pairs, ("1a1a1a", "f2f2f2")):
        assert f"#{ink}" in STYLE
        assert f"#{ground}" in STYLE.replace("#fff;", "#ffffff;")
        light, dark = sorted((_luminance(ink), _luminance(ground)), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 4.5


def _luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[n : n + 2], 16) / 255 for n in (0, 2, 4)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_catalogues_are_complete(client: FlaskClient) -> None:
    for name, known in (("formulas", FORMULAS), ("checks", CHECKS)):
        assert {item["id"] for item in client.get(f"/v1/{name}").get_json()["items"]} == set(known)
    assert {item["key"] for item in client.get("/v1/sources").get_json()["items"]} == set(SOURCES)
    assert {item["id"] for item in client.get("/v1/alloys").get_json()["items"]} == set(ALLOYS)


def test_every_source_that_is_cited_is_listed(client: FlaskClient) -> None:
    listed = {item["key"] for item in client.get("/v1/sources").get_json()["items"]}
    cited = {
        item["source"]["key"]
        for name in ("formulas", "checks")
        for item in client.get(f"/v1/{name}").get_json()["items"]
    }
    assert cited <= listed


@pytest.mark.parametrize("name", sorted(ALLOYS))
def test_every_alloy_has_its_page_with_a_source_for_each_figure(client: FlaskClient, name: str) -> None:
    alloy = client.get(f"/v1/alloys/{name}").get_json()
    assert alloy["id"] == name
    assert alloy["properties"]
    for cell in alloy["properties"]:
        assert cell["source"]["key"] in SOURCES
        assert cell["value"]["unit"]
        assert not cell["conflicts"] or cell["choice"]


def test_an_alloy_answers_to_its_other_names(client: FlaskClient) -> None:
    assert client.get("/v1/alloys/Silicon Bronze").get_json()["id"] == "C87300"
    missing = client.get("/v1/alloys/C8730")
    assert missing.status_code == 404
    assert "did you mean 'C87300'?" in missing.get_json()["detail"]


def test_figures_come_in_the_units_asked_for(client: FlaskClient) -> None:
    def liquidus(query: str) -> object:
        cells = client.get(f"/v1/alloys/C87300{query}").get_json()["properties"]
        return next(cell["value"]["unit"] for cell in cells if cell["name"] == "liquidus")

    assert (liquidus(""), liquidus("?units=us")) == ("degC", "degF")
    assert client.get("/v1/alloys?units=old").status_code == 422


def test_health(client: FlaskClient) -> None:
    assert client.get("/healthz").get_json()["status"] == "ok"
    ready = client.get("/readyz").get_json()
    assert (ready["status"], ready["alloys"]) == ("ready", len(ALLOYS))


def test_not_ready_without_a_place_for_meshes(settings: Settings) -> None:
    settings.mesh_dir.parent.joinpath("file").write_text("")
    blocked = Settings(mesh_dir=settings.mesh_dir.parent / "file" / "meshes")
    reply = create_app(blocked).test_client().get("/readyz")
    assert (reply.status_code, reply.get_json()["type"]) == (503, "/problems/unavailable")


def test_the_index_leads_on(client: FlaskClient) -> None:
    index = client.get("/").get_json()
    for address in (index["documentation"], index["openapi"], index["problems"], index["health"]):
        assert client.get(address).status_code == 200
    assert any(call["path"] == "/v1/freezing" for call in index["calls"])


def test_the_page_needs_nothing_from_elsewhere(client: FlaskClient) -> None:
    page = client.get("/docs")
    policy = page.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "http" not in policy
    assert "unsafe" not in policy
    addresses = re.findall(r'(?:src|href)="([^"]+)"', page.text)
    assert addresses
    for address in addresses:
        assert address.startswith(("/docs/", "/openapi.json"))
        reply = client.get(address)
        assert reply.status_code == 200
        assert reply.data
    assert "<script>" not in page.text
    assert client.get("/docs/index.html").status_code == 404
    assert client.get("/docs/../app.py").status_code == 404


def test_the_openapi_document_is_served(client: FlaskClient) -> None:
    reply = client.get("/openapi.json")
    assert reply.get_json()["openapi"].startswith("3.1")
    assert client.get("/openapi.json", headers={"If-None-Match": reply.headers["ETag"]}).status_code == 304
