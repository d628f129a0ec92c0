"""The answer's envelope: verdict, checks, defaults, resolved request, working, units."""

import json
import math
from typing import Any

import pytest
from flask.testing import FlaskClient

from pourwright_service.api.envelope import put
from pourwright_service.api.quantities import read
from pourwright_service.engine.formula import FORMULAS

from .conftest import Ask


def test_an_answer_begins_with_its_verdict(ask: Ask) -> None:
    reply = ask(price="2 /kg")
    assert list(reply.get_json()) == [
        "verdict",
        "message",
        "result",
        "checks",
        "remedies",
        "missing",
        "defaults",
        "cautions",
        "resolved",
        "engine_version",
        "tables_version",
    ]
    assert reply.get_json()["verdict"] == "pass"
    assert reply.get_json()["message"] == "It takes 2.5 min."


def test_a_check_shows_both_sides_and_the_slack(ask: Ask) -> None:
    heat = ask(temperature="120 degC").get_json()["checks"][1]
    assert heat == {
        "id": "toy-heat",
        "subject": "/temperature",
        "verdict": "pass",
        "message": "Cool.",
        "value": {"value": 120.0, "unit": "degC"},
        "limit": {"value": 126.85, "unit": "degC"},
        "slack": {"value": pytest.approx(6.85), "unit": "K"},
        "margin": None,
        "source": {"key": "FROM-MEMORY", "grade": "from memory"},
    }


def test_a_failed_check_decides_the_verdict_and_the_message(ask: Ask) -> None:
    answer = ask(depth="0.1 mm", price="2 /kg").get_json()
    assert answer["verdict"] == "fail"
    assert answer["message"] == "0.0023 s is short."
    assert answer["checks"][0]["margin"] == pytest.approx(0.7e6 / 3 * 1e-8)


def test_what_is_missing_is_pointed_at(ask: Ask) -> None:
    answer = ask().get_json()
    assert answer["verdict"] == "unknown"
    assert answer["missing"] == [{"pointer": "/price", "message": "The cost needs a price."}]
    assert answer["result"]["cost"] is None


def test_a_refusing_caution_fails_the_job(ask: Ask) -> None:
    answer = ask("?units=us", mood="hurt", price="2 /kg").get_json()
    assert answer["verdict"] == "fail"
    assert answer["message"] == "Stop."
    caution = answer["cautions"][0]
    assert (caution["code"], caution["severity"], caution["decides"]) == ("toy-hot", "refuse", "you")
    assert caution["why"] == "It is 140 °F."


def test_a_default_says_where_it_comes_from(ask: Ask) -> None:
    defaults = {default["pointer"]: default for default in ask().get_json()["defaults"]}
    assert defaults["/constant"]["provenance"] == "from memory"
    assert defaults["/constant"]["spread"] == 0.3
    assert defaults["/constant"]["value"]["unit"] == "min/cm^2"
    assert defaults["/loud"] == {
        "pointer": "/loud",
        "value": False,
        "provenance": "rule",
        "source": {"key": "DERIVED", "grade": "derived"},
        "note": "quiet",
        "spread": None,
    }
    assert defaults["/mould/medium"]["value"] == "green sand"
    assert defaults["/loss"]["value"] == {"value": 3.0, "unit": "%"}


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_resolved_request_gives_the_same_answer(toy_client: FlaskClient, units: str) -> None:
    sent = {
        "depth": "1 in",
        "tools": [{"name": "saw", "length": "2 1/2 in"}],
        "mould": {"density": "1600 kg/m^3"},
    }
    first = toy_client.post(f"/v1/toy?units={units}", json=sent).get_json()
    resolved = first["resolved"]
    assert resolved["depth"] == "1 in", "what was sent stays as it was sent"
    assert resolved["mould"] == {"density": "1600 kg/m^3", "medium": "green sand"}
    assert read("mould_constant", resolved["constant"]) == 0.7e6 / 3
    assert read("temperature", resolved["temperature"]) == 1000.0 / 3
    assert read("mass", resolved["tools"][0]["weight"]) == 0.1 + 0.2
    second = toy_client.post(f"/v1/toy?units={units}", json=resolved).get_json()
    assert second["defaults"] == []
    assert second["result"] == first["result"]
    assert second["resolved"] == resolved


def test_put_never_replaces_what_was_sent() -> None:
    document: dict[str, Any] = {"a": {"b": 1}, "list": [{"x": 1}], "text": "t"}
    assert put(document, "/a/b", 2)
    assert put(document, "/a/c~1d", 3)
    assert put(document, "/list/0/y", 4)
    assert put(document, "/new/deep/er", 5)
    assert not put(document, "/list/1/y", 6)
    assert not put(document, "/list/x", 6)
    assert not put(document, "/text/y", 6)
    assert not put(document, "", 6)
    assert document == {
        "a": {"b": 1, "c/d": 3},
        "list": [{"x": 1, "y": 4}],
        "text": "t",
        "new": {"deep": {"er": 5}},
    }


def test_units_change_the_numbers_shown_and_nothing_else(ask: Ask) -> None:
    metric, us = ask("?units=metric").get_json(), ask("?units=us").get_json()
    assert metric["result"]["depth"] == {"value": 25.4, "unit": "mm"}
    assert us["result"]["depth"] == {"value": 1.0, "unit": "in"}
    assert us["result"]["heads"] == {"values": [1.0, 2.0], "unit": "in"}
    assert [c["verdict"] for c in metric["checks"]] == [c["verdict"] for c in us["checks"]]
    for kind, name in (("time", "time"), ("temperature", "temperature")):
        assert math.isclose(read(kind, metric["result"][name]), read(kind, us["result"][name]))


def test_an_answer_never_holds_nan(ask: Ask) -> None:
    reply = ask(mood="nan")
    assert reply.get_json()["result"]["temperature"] is None
    assert "NaN" not in reply.text


def test_the_working_is_shown_on_request_only(ask: Ask) -> None:
    assert "working" not in ask().get_json()
    assert "working" not in ask("?working=false").get_json()
    line = ask("?working=true").get_json()["working"][0]
    assert line["scope"] == ["toy one"]
    assert line["formula"] == "freezing.bare_freezing_time"
    assert line["expression"] == FORMULAS["freezing.bare_freezing_time"].expression
    assert line["numbers"]["M"] == {
        "value": 0.0254,
        "unit": "m",
        "name": "modulus",
        "origin": "given: /depth",
    }
    assert line["numbers"]["C"]["origin"] == "from memory: /constant"
    assert line["result"]["value"] == line["numbers"]["C"]["value"] * 0.0254**2
    assert line["source"]["key"] == FORMULAS["freezing.bare_freezing_time"].source


def test_given_numbers_are_found_wherever_they_stand(ask: Ask) -> None:
    reply = ask(
        "?working=true",
        depth="50 mm",
        constant="3 min/cm^2",
        heights=["75 mm"],
        tools=[{"name": "saw", "length": "0.3 m"}],
        shapes=[{"shape": "round", "width": "10 mm"}],
        ratio=2,
        limits_percent={"Cu": [94, None]},
        recovery_percent=98,
        composition_percent={"Cu": 95},
        parts={"sprue": 1},
    )
    numbers = reply.get_json()["working"][0]["numbers"]
    assert numbers["C"]["origin"] == "given: /constant"
    assert numbers["M"]["origin"] == "given: /depth"


def test_the_working_is_valid_json(ask: Ask) -> None:
    assert json.loads(ask("?working=true").data)["working"]
