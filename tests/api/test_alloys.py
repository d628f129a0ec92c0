"""The alloys: filters, what they refuse, and the page of one alloy."""

from typing import Any

import pytest
from flask.testing import FlaskClient

from pourwright_service.engine.decide.metal import METAL_KINDS
from pourwright_service.engine.tables.alloys import ALLOYS, PROPERTIES
from pourwright_service.engine.tables.hazards import ELEMENT_HAZARDS
from pourwright_service.engine.tables.sources import SOURCES


def asked(client: FlaskClient, **query: str) -> dict[str, Any]:
    reply = client.get("/v1/alloys", query_string=query)
    assert reply.status_code == 200, reply.text
    found: dict[str, Any] = reply.get_json()
    return found


def ids(items: list[dict[str, Any]]) -> set[str]:
    return {item["id"] for item in items}


FILTERS = [
    {},
    {"pours_below": "1100 degC"},
    {"no_lead": "true"},
    {"lead_at_most": "0.25 %"},
    {"no_zinc_fume": "true"},
    {"sea_water": "good"},
    {"freezing_class": "short"},
    {"pours_below": "2000 degF", "no_lead": "true", "no_zinc_fume": "true", "sea_water": "fair"},
]


@pytest.mark.parametrize("query", FILTERS, ids=str)
def test_no_alloy_is_dropped_in_silence(client: FlaskClient, query: dict[str, str]) -> None:
    found = asked(client, **query)
    listed = [item["id"] for name in ("items", "undecided", "left_out") for item in found[name]]
    assert sorted(listed) == sorted(ALLOYS)
    for item in (*found["undecided"], *found["left_out"]):
        assert item["reasons"]
    order = list(ALLOYS)
    assert [order.index(item["id"]) for item in found["items"]] == sorted(
        order.index(item["id"]) for item in found["items"]
    )


def test_filters_add_up(client: FlaskClient) -> None:
    one, other = {"sea_water": "good"}, {"freezing_class": "short"}
    both = asked(client, **one, **other)
    assert ids(both["items"]) == ids(asked(client, **one)["items"]) & ids(asked(client, **other)["items"])


def test_family_and_search_narrow_what_is_judged(client: FlaskClient) -> None:
    zinc = asked(client, family="zinc", pours_below="450 degC")
    assert (ids(zinc["items"]), ids(zinc["left_out"])) == ({"Zamak 3"}, {"ZA-12", "ZA-27"})
    assert ids(asked(client, search="silicon BRONZE")["items"]) == {"C65500", "C87200", "C87300", "C87600"}
    assert ids(asked(client, search="everdur")["items"]) == {"C65500", "C87300"}
    assert asked(client, search="---") == {"items": [], "undecided": [], "left_out": [], "next": None}


def test_a_name_that_is_only_near_is_said_so(client: FlaskClient) -> None:
    (found,) = asked(client, search="LM25")["items"]
    assert found["id"] == "A356"
    assert found["notes"] == [
        "LM25 is only near it: properties may be taken over, limits of composition not."
    ]
    assert asked(client, search="AlSi7Mg0.3")["items"][0]["notes"] == []


def test_reasons_come_in_the_units_asked_for(client: FlaskClient) -> None:
    metric = asked(client, pours_below="1100 degC", search="C81100")["left_out"][0]["reasons"]
    us = asked(client, pours_below="1100 degC", search="C81100", units="us")["left_out"][0]["reasons"]
    assert (metric, us) == (["Poured from 1150 °C up."], ["Poured from 2102 °F up."])


@pytest.mark.parametrize(
    ("query", "parameter", "code"),
    [
        ("pours_below=1100", "pours_below", "no_unit"),
        ("pours_below=1100+mm", "pours_below", "unknown_unit"),
        ("pours_below=1100,5+degC", "pours_below", "decimal_comma"),
        ("pours_below=-300+degC", "pours_below", "out_of_bounds"),
        ("pours_below=", "pours_below", "not_a_quantity"),
        ("no_lead=yes", "no_lead", "not_a_flag"),
        ("no_lead=True", "no_lead", "not_a_flag"),
        ("no_lead", "no_lead", "not_a_flag"),
        ("lead_at_most=120+%25", "lead_at_most", "out_of_bounds"),
        ("sea_water=splendid", "sea_water", "not_a_choice"),
        ("sea_water=poor", "sea_water", "not_a_choice"),
        ("freezing_class=Short", "freezing_class", "not_a_choice"),
        ("family=gold", "family", "not_a_choice"),
        ("search=", "search", "text_length"),
        (f"search={61 * 'x'}", "search", "text_length"),
        ("pour_below=1100+degC", "pour_below", "unknown_parameter"),
        ("working=true", "working", "unknown_parameter"),
        ("family=zinc&family=tin", "family", "repeated_parameter"),
        ("units=us&units=us", "units", "not_a_choice"),
    ],
)
def test_a_parameter_that_cannot_be_read_is_pointed_at(
    client: FlaskClient, query: str, parameter: str, code: str
) -> None:
    reply = client.get(f"/v1/alloys?{query}")
    problem = reply.get_json()
    assert (reply.status_code, reply.content_type) == (422, "application/problem+json")
    (fault,) = problem["errors"]
    assert (fault["parameter"], fault["code"]) == (parameter, code)
    assert "pointer" not in fault
    assert problem["detail"].startswith(f"{parameter}: ")


def test_all_faults_of_a_query_come_at_once(client: FlaskClient) -> None:
    problem = client.get("/v1/alloys?pours_below=hot&no_lead=1&colour=red&units=old&family=gold").get_json()
    assert {fault["parameter"] for fault in problem["errors"]} == {
        "pours_below",
        "no_lead",
        "colour",
        "units",
        "family",
    }
    unknown = next(fault for fault in problem["errors"] if fault["parameter"] == "colour")
    assert {"units", "pours_below", "no_lead"} <= set(unknown["accepted"])
    assert "did you mean 'pours_below'" in client.get("/v1/alloys?pour_below=1+K").get_json()["detail"]


@pytest.mark.parametrize("path", ["/v1/alloys/C87300", "/v1/moulds", "/v1/elements", "/v1/sources"])
def test_other_resources_take_no_filters(client: FlaskClient, path: str) -> None:
    assert client.get(f"{path}?no_lead=true").status_code == 422


# --- one alloy --------------------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(ALLOYS))
def test_the_page_of_an_alloy_is_whole(client: FlaskClient, name: str) -> None:
    page, alloy = client.get(f"/v1/alloys/{name}").get_json(), ALLOYS[name]
    cells = {cell["name"]: cell for cell in page["properties"]}
    assert set(cells) | set(page["lacking"]) == set(PROPERTIES)
    assert not set(cells) & set(page["lacking"])
    for column, cell in alloy.cells.items():
        shown = cells[column]
        assert (shown["source"]["key"], shown["source"]["place"]) == (cell.source, cell.place)
        assert (shown["source"]["grade"], shown["spread"]) == (cell.grade, cell.spread)
        assert (shown["choice"], shown["checked"]) == (cell.choice, cell.checked)
        assert [(c["printed"], c["source"]["key"]) for c in shown["conflicts"]] == [
            (other.printed, other.source) for other in cell.conflicts
        ]
    shares = {share["element"]: share for share in page["composition"]}
    assert set(shares) == set(alloy.shares)
    for symbol, share in shares.items():
        for end in ("minimum", "nominal", "maximum"):
            known = getattr(alloy.shares[symbol], end)
            assert (share[end] or {}).get("printed") == (known and known.printed)
    for words in page["words"]:
        assert words["source"]["key"] in SOURCES
        assert words["text"] == getattr(alloy, words["name"])
    for used in page["in_use"]:
        assert used["name"] in METAL_KINDS
        assert used["source"]["key"] in SOURCES
        assert used["source"]["place"]
    assert {hazard["element"] for hazard in page["hazards"]} == set(alloy.shares) & set(ELEMENT_HAZARDS)
    for hazard in page["hazards"]:
        above = hazard["most_percent"] > hazard["care_above"]["printed"]
        assert (hazard["severity"] != "none") == above == (hazard["message"] is not None)


def test_what_calculations_take_is_what_a_plan_takes(client: FlaskClient) -> None:
    """The page of an alloy and the defaults of a plan name the same figures from the same places."""
    for name in ("C87300", "ZA-27", "413"):
        page = client.get(f"/v1/alloys/{name}").get_json()
        section = {"name": "p", "shape": "plate", "length": "90 mm", "width": "60 mm", "thickness": "9 mm"}
        plan = client.post(
            "/v1/plan",
            json={"alloy": name, "mould": {"medium": "green sand"}, "part": {"sections": [section]}},
        ).get_json()
        told = {d["pointer"].removeprefix("/properties/"): d for d in plan["defaults"]}
        met = [used for used in page["in_use"] if used["name"] in told]
        assert len(met) >= 4
        for used in met:
            assert used["value"] == told[used["name"]]["value"]
            assert used["provenance"] == told[used["name"]]["provenance"]


def test_a_near_name_has_no_limits_of_its_own(client: FlaskClient) -> None:
    page = client.get("/v1/alloys/LM25").get_json()
    assert (page["id"], page["near"]) == ("LM25", "A356")
    assert page["composition"]
    assert all(share["minimum"] is share["maximum"] is None for share in page["composition"])
    assert page["others_each"] is page["others_total"] is None
    assert client.get("/v1/alloys/A356").get_json()["near"] is None


@pytest.mark.parametrize("name", ["70/30 brass", "70%2F30%20brass", "85-5-5-5", "Navy G"])
def test_every_name_is_an_address(client: FlaskClient, name: str) -> None:
    assert client.get(f"/v1/alloys/{name}").status_code == 200


def test_an_unknown_alloy_points_at_the_parameter(client: FlaskClient) -> None:
    problem = client.get("/v1/alloys/C8730").get_json()
    (fault,) = problem["errors"]
    assert (fault["parameter"], fault["code"]) == ("id", "unknown_alloy")
    assert "C87300" in fault["accepted"]
