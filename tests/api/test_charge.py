"""The charge over HTTP: what is refused, and that an answer can be asked again."""

from typing import Any

import pytest
from flask.testing import FlaskClient

from pourwright_service.api.charge import CONDITIONS, FORMS
from pourwright_service.engine.tables.hazards import find_forms

REQUEST: dict[str, Any] = {
    "alloy": "C87300",
    "melt_mass": "4.2 kg",
    "currency": "EUR",
    "stock": [
        {
            "name": "salvaged bolts",
            "composition_percent": {"Cu": 96.0, "Si": 3.0, "Mn": 0.9, "Fe": 0.1},
            "available": "4.2 kg",
            "price": "2 /kg",
        },
        {"name": "ingot", "alloy": "C87300", "piece": "1.5 kg", "pieces": 3, "price": "14 /kg"},
        {
            "name": "silicon lumps",
            "composition_percent": {"Si": 98.5, "Fe": 0.5},
            "available": "0.2 kg",
            "price": "9 /kg",
            "form": "lumps",
        },
        {
            "name": "manganese copper",
            "composition_percent": {"Cu": [69, 71], "Mn": [29, 31]},
            "kind": "master alloy",
            "price": "25 /kg",
        },
    ],
    "heel": {"mass": "300 g", "alloy": "C87300"},
    "recovery_percent": {"Si": [90, 98]},
}


def ask(client: FlaskClient, query: str = "", **changed: Any) -> Any:
    body = {key: value for key, value in {**REQUEST, **changed}.items() if value is not None}
    reply = client.post(f"/v1/charge{query}", json=body)
    assert reply.status_code == 200, reply.text
    return reply.get_json()


def test_resolved_posted_again_gives_the_same_answer(client: FlaskClient) -> None:
    first = ask(client)
    assert first["verdict"] == "pass"
    again = client.post("/v1/charge", json=first["resolved"]).get_json()
    assert again["result"] == first["result"]
    assert again["checks"] == first["checks"]
    assert again["defaults"] == []


def test_pounds_or_kilograms_make_the_same_charge(client: FlaskClient) -> None:
    pounds = ask(client, "?units=us")
    kilograms = ask(client)
    for mine, other in zip(pounds["result"]["charge"], kilograms["result"]["charge"], strict=True):
        assert mine["mass"]["unit"] == "lb"
        assert mine["mass"]["value"] * 0.45359237 == pytest.approx(other["mass"]["value"], rel=1e-12)


def test_costs_carry_the_callers_money(client: FlaskClient) -> None:
    result = ask(client)["result"]
    assert result["cost"]["unit"] == "EUR"
    assert result["price_of_certainty"]["value"] == pytest.approx(
        result["cost_for_certain"]["value"] - result["cost_at_middle"]["value"]
    )


def test_working_shows_every_element_and_the_cost_of_every_item(client: FlaskClient) -> None:
    answer = ask(client, "?working=true")
    lines = [(line["formula"], *line["scope"]) for line in answer["working"]]
    assert ("charge.share_of_melt", "element Si") in lines
    assert ("charge.metal_cost", "item salvaged bolts") in lines
    assert ("charge.pig_left",) in lines


def test_a_cost_that_is_not_known_is_null(client: FlaskClient) -> None:
    stock = [{key: value for key, value in item.items() if key != "price"} for item in REQUEST["stock"]]
    answer = ask(client, stock=stock)
    assert answer["verdict"] == "pass"
    assert answer["result"]["cost"] is None
    answer = ask(client, stock=[stock[0], *REQUEST["stock"][1:]])
    used = {line["item"] for line in answer["result"]["charge"] if line["mass"]["value"]}
    assert "salvaged bolts" not in used


@pytest.mark.parametrize(
    ("changed", "pointer", "code"),
    [
        ({"melt_mass": None}, "/melt_mass", "missing_field"),
        ({"stock": []}, "/stock", "too_few_items"),
        ({"stock": REQUEST["stock"] * 51}, "/stock", "too_many_items"),
        (
            {"stock": [{"name": "x", "composition_percent": {"Cu": 90, "Zn": 11}}]},
            "/stock/0/composition_percent",
            "out_of_bounds",
        ),
        (
            {"stock": [{"name": "x", "composition_percent": {"Qq": 9}}]},
            "/stock/0/composition_percent/Qq",
            "unknown_element",
        ),
        (
            {"stock": [{"name": "x", "composition_percent": {"Cu": [70, 60]}}]},
            "/stock/0/composition_percent/Cu",
            "out_of_bounds",
        ),
        ({"stock": [{"name": "x", "alloy": "unobtainium"}]}, "/stock/0/alloy", "unknown_alloy"),
        ({"stock": [{"name": "x", "pieces": 3}]}, "/stock/0/piece", "inconsistent"),
        ({"stock": [{"name": "x", "all_or_nothing": True}]}, "/stock/0/available", "inconsistent"),
        (
            {"stock": [{"name": "x", "available": "1 kg", "minimum_use": "2 kg"}]},
            "/stock/0/minimum_use",
            "inconsistent",
        ),
        ({"stock": [{"name": "x", "form": "blob"}]}, "/stock/0/form", "not_a_choice"),
        ({"heel": {"mass": "5 kg", "alloy": "C87300"}}, "/heel/mass", "inconsistent"),
        ({"limits_percent": {"Cu": [60, None], "Zn": [50, None]}}, "/limits_percent", "inconsistent"),
        ({"recovery_percent": {"Si": 0}}, "/recovery_percent/Si", "out_of_bounds"),
        ({"recovery_percent": 120}, "/recovery_percent", "out_of_bounds"),
        ({"melt_mass": 4.2}, "/melt_mass", "no_unit"),
        ({"margin": "sure"}, "/margin", "not_a_choice"),
    ],
)
def test_what_does_not_fit_is_refused_where_it_stands(
    client: FlaskClient, changed: dict[str, Any], pointer: str, code: str
) -> None:
    body = {key: value for key, value in {**REQUEST, **changed}.items() if value is not None}
    reply = client.post("/v1/charge", json=body)
    assert reply.status_code == 422
    assert (pointer, code) in {(e["pointer"], e["code"]) for e in reply.get_json()["errors"]}


def test_two_hundred_items_are_answered(client: FlaskClient) -> None:
    stock = [{**REQUEST["stock"][k % 4], "name": f"item {k}"} for k in range(200)]
    assert ask(client, stock=stock)["verdict"] == "pass"


def test_every_dangerous_condition_is_one_that_the_tables_know() -> None:
    for condition in CONDITIONS:
        known = {form.id: form.severity for form in find_forms(condition)}
        assert (condition in known) == (condition != "clean")
    assert {form.id for form in find_forms(", ".join(FORMS))} == {"hollow", "oily"}
