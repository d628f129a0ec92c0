"""Reference data, health and the documentation page."""

import re

import pytest
from flask.testing import FlaskClient

from pourwright_service.app import create_app
from pourwright_service.engine.checks import CHECKS
from pourwright_service.engine.formula import FORMULAS
from pourwright_service.engine.tables.alloys import ALLOYS
from pourwright_service.engine.tables.sources import SOURCES
from pourwright_service.settings import Settings

LISTS = ["formulas", "checks", "sources", "alloys", "moulds", "elements"]


@pytest.mark.parametrize("name", LISTS)
def test_lists_are_whole_and_carry_an_etag(client: FlaskClient, name: str) -> None:
    reply = client.get(f"/v1/{name}")
    assert reply.status_code == 200
    assert reply.get_json()["items"]
    assert reply.get_json()["next"] is None
    again = client.get(f"/v1/{name}", headers={"If-None-Match": reply.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


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
        assert address.startswith("/docs/")
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
