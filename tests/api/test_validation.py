"""Requests against their schema: every fault at once, each at its place."""

from typing import Any

import pytest

from .conftest import Ask

ONE_FAULT = [
    ({"depth": "-3 mm"}, "/depth", "out_of_bounds"),
    ({"depth": "0 mm"}, "/depth", "out_of_bounds"),
    ({"depth": 25.4}, "/depth", "no_unit"),
    ({"depth": "1,5 mm"}, "/depth", "decimal_comma"),
    ({"depth": None}, "/depth", "null"),
    ({"lift": "-1 mm"}, "/lift", "out_of_bounds"),
    ({"lift": "30 mm"}, "/lift", "inconsistent"),
    ({"temperature": "-274 degC"}, "/temperature", "out_of_bounds"),
    ({"temperature": "20 C"}, "/temperature", "unknown_unit"),
    ({"loss": "101 %"}, "/loss", "out_of_bounds"),
    ({"loss": 5}, "/loss", "out_of_bounds"),
    ({"loss": -0.1}, "/loss", "out_of_bounds"),
    ({"ratio": "2"}, "/ratio", "not_a_number"),
    ({"ratio": True}, "/ratio", "not_a_number"),
    ({"ratio": 0}, "/ratio", "out_of_bounds"),
    ({"ratio": 1e31}, "/ratio", "out_of_bounds"),
    ({"ratio": 1e-31}, "/ratio", "out_of_bounds"),
    ({"ratio": 10**35}, "/ratio", "out_of_bounds"),
    ({"temperature": "1e31 K"}, "/temperature", "out_of_bounds"),
    ({"ratio": None}, "/ratio", "null"),
    ({"count": 1.5}, "/count", "not_a_count"),
    ({"count": 1e300}, "/count", "out_of_bounds"),
    ({"count": "1"}, "/count", "not_a_count"),
    ({"count": True}, "/count", "not_a_count"),
    ({"count": 13}, "/count", "out_of_bounds"),
    ({"loud": "yes"}, "/loud", "not_a_flag"),
    ({"loud": 1}, "/loud", "not_a_flag"),
    ({"face": "bottom"}, "/face", "not_a_choice"),
    ({"face": ["top"]}, "/face", "not_text"),
    ({"sides": "left"}, "/sides", "not_an_array"),
    ({"sides": ["left", "up"]}, "/sides/1", "not_a_choice"),
    ({"name": ""}, "/name", "text_length"),
    ({"name": "x" * 21}, "/name", "text_length"),
    ({"name": 3}, "/name", "not_text"),
    ({"names": ["a", ""]}, "/names/1", "text_length"),
    ({"names": ["a", "b", "c", "d"]}, "/names", "too_many_items"),
    ({"heights": "75 mm"}, "/heights", "not_an_array"),
    ({"heights": []}, "/heights", "too_few_items"),
    ({"heights": ["75 mm", "x"]}, "/heights/1", "not_a_quantity"),
    ({"tools": {"name": "saw"}}, "/tools", "not_an_array"),
    ({"tools": [{"name": "saw"}]}, "/tools/0/length", "missing_field"),
    ({"tools": ["saw"]}, "/tools/0", "not_an_object"),
    ({"tools": [{"name": "saw", "length": "1 mm"}] * 4}, "/tools", "too_many_items"),
    ({"shapes": [{"width": "1 mm"}]}, "/shapes/0/shape", "missing_field"),
    ({"shapes": [{"shape": "oval", "width": "1 mm"}]}, "/shapes/0/shape", "not_a_choice"),
    ({"shapes": [{"shape": ["round"], "width": "1 mm"}]}, "/shapes/0/shape", "not_a_choice"),
    ({"shapes": [{"shape": "square", "width": "1 mm"}]}, "/shapes/0/height", "missing_field"),
    (
        {"shapes": [{"shape": "round", "width": "1 mm", "height": "1 mm"}]},
        "/shapes/0/height",
        "unknown_field",
    ),
    ({"shapes": [3]}, "/shapes/0", "not_an_object"),
    ({"alloy": "unobtainium"}, "/alloy", "unknown_alloy"),
    ({"alloy": ""}, "/alloy", "text_length"),
    ({"element": "Xx"}, "/element", "unknown_element"),
    ({"element": "cu"}, "/element", "unknown_element"),
    ({"properties": {"liquidus": 900}}, "/properties/liquidus", "no_unit"),
    ({"properties": {"colour": "red"}}, "/properties/colour", "unknown_field"),
    ({"properties": []}, "/properties", "not_an_object"),
    ({"mould": {"medium": "cheese"}}, "/mould/medium", "unknown_medium"),
    ({"mould": "green sand"}, "/mould", "not_an_object"),
    ({"composition_percent": {"Cu": "95"}}, "/composition_percent/Cu", "not_a_number"),
    ({"composition_percent": {"Cu": 101}}, "/composition_percent/Cu", "out_of_bounds"),
    ({"composition_percent": {"Zz": 5}}, "/composition_percent/Zz", "unknown_element"),
    ({"composition_percent": [95]}, "/composition_percent", "not_an_object"),
    ({"limits_percent": {"Cu": [95, 94]}}, "/limits_percent/Cu", "out_of_bounds"),
    ({"limits_percent": {"Cu": [95]}}, "/limits_percent/Cu", "not_a_number"),
    ({"limits_percent": {"Cu": None}}, "/limits_percent/Cu", "not_a_number"),
    ({"limits_percent": {"Cu": ["94", 96]}}, "/limits_percent/Cu", "not_a_number"),
    ({"recovery_percent": {"Cu": [None, 96]}}, "/recovery_percent/Cu", "not_a_number"),
    ({"recovery_percent": 101}, "/recovery_percent", "out_of_bounds"),
    ({"parts": {"sprue": 1, "gates": 4}}, "/parts/gates", "unknown_field"),
    ({"parts": {"sprue": 0}}, "/parts/sprue", "out_of_bounds"),
    ({"parts": "1:4:4"}, "/parts", "not_an_object"),
    ({"price": 2}, "/price", "no_unit"),
    ({"dept": "1 mm"}, "/dept", "unknown_field"),
    ({"a/b~c": 1}, "/a~1b~0c", "unknown_field"),
]


@pytest.mark.parametrize(("fields", "pointer", "code"), ONE_FAULT, ids=lambda value: str(value)[:40])
def test_one_fault(ask: Ask, fields: dict[str, Any], pointer: str, code: str) -> None:
    reply = ask(**fields)
    assert reply.status_code == 422
    assert reply.content_type == "application/problem+json"
    problem = reply.get_json()
    assert [(fault["pointer"], fault["code"]) for fault in problem["errors"]] == [(pointer, code)]
    assert problem["errors"][0]["detail"]
    assert problem["type"] == "/problems/invalid_request"


def test_all_faults_of_a_request_come_at_once(ask: Ask) -> None:
    reply = ask(
        "?units=imperial&colour=red",
        depth=25.4,
        tools=[{"name": "saw", "length": "1 mm"}, {"length": "x"}],
        composition_percent={"Cu": 101, "Zz": 1},
        nonsense=1,
    )
    places = {
        (fault.get("pointer") or fault.get("parameter"), fault["code"])
        for fault in reply.get_json()["errors"]
    }
    assert places == {
        ("units", "not_a_choice"),
        ("colour", "unknown_parameter"),
        ("/depth", "no_unit"),
        ("/tools/1/name", "missing_field"),
        ("/tools/1/length", "not_a_quantity"),
        ("/composition_percent/Cu", "out_of_bounds"),
        ("/composition_percent/Zz", "unknown_element"),
        ("/nonsense", "unknown_field"),
    }


def test_an_unknown_field_names_the_one_that_was_meant(ask: Ask) -> None:
    fault = ask(temprature="20 degC").get_json()["errors"][0]
    assert "did you mean 'temperature'?" in fault["detail"]
    assert "temperature" in fault["accepted"]


def test_an_unknown_name_lists_what_is_known(ask: Ask) -> None:
    fault = ask(alloy="C8730").get_json()["errors"][0]
    assert "did you mean 'C87300'?" in fault["detail"]
    assert {"C87300", "356", "A356"} <= set(fault["accepted"])


def test_a_bound_is_told_in_a_unit_people_use(ask: Ask) -> None:
    told = ask(temperature="-300 degC").get_json()["errors"][0]["detail"]
    assert told == "must be at least -272.15 degC and at most 5726.85 degC"
    assert ask(loss="150 %").get_json()["errors"][0]["detail"] == "must be at least 0 % and at most 100 %"


@pytest.mark.parametrize("body", ["[]", '"text"', "3", "null", "true"])
def test_a_body_that_is_not_an_object(toy_client: Any, body: str) -> None:
    problem = toy_client.post("/v1/toy", data=body, content_type="application/json").get_json()
    assert [(fault["pointer"], fault["code"]) for fault in problem["errors"]] == [("", "not_an_object")]


def test_accepted_spellings_reach_the_calculation(ask: Ask) -> None:
    reply = ask(
        count=2.0,
        face="upper",
        sides=["left", "left"],
        alloy="silicon bronze",
        mould={"medium": "Oil Bonded Sand"},
        limits_percent={"Cu": [94, None], "Si": 4},
        recovery_percent=[95, 100],
        parts={"sprue": 1, "runner": 4.5},
        price="2 /kg",
        currency="EUR",
        names=["one", "two"],
    )
    assert reply.status_code == 200
    result = reply.get_json()["result"]
    assert result["limits_percent"] == {"Cu": [94.0, None], "Si": [4.0, 4.0]}
    assert result["parts"] == {"sprue": 1.0, "runner": 4.5}
    assert result["cost"] == {"value": 4.0, "unit": "EUR"}
    assert result["names"] == ["one", "two"]
