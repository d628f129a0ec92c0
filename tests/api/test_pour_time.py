"""POST /v1/pour-time: what is refused, and that every sentence is whole and every number has its unit."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from flask.testing import FlaskClient

JOB: dict[str, Any] = {
    "alloy": "356",
    "poured_mass": "1.6 kg",
    "thickness": "6 mm",
    "height": "120 mm",
    "gate_edge": "360 mm",
    "mould": {"medium": "green sand"},
    "pot": {"mouth_diameter": "160 mm", "metal_mass": "7 kg", "moulds": 4},
}
IRON = {
    "alloy": "grey iron",
    "poured_mass": "12 kg",
    "thickness": "8 mm",
    "height": "20 mm",
    "gate_edge": "60 mm",
    "outline": "300 mm",
    "mould": {"medium": "green sand"},
}
CASES = {
    "open": JOB,
    "shut by the rise": {**JOB, "height": "20 mm"},
    "shut by freezing": {**JOB, "gate_edge": "30 mm", "freezing_time": "5 s", "mould": {}},
    "iron": IRON,
    "given and too slow": {**IRON, "height": "200 mm", "pour_time": "40 s"},
    "given and too fast": {**JOB, "pour_time": "1 s"},
    "thin": {**JOB, "thickness": "2 mm"},
    "too heavy": {"family": "iron", "poured_mass": "451 kg", "thickness": "20 mm"},
    "late": {**JOB, "pot": {**JOB["pot"], "between": "10 min", "moulds": 4}},
    "short of metal": {**JOB, "pot": {**JOB["pot"], "metal_mass": "6 kg"}},
}

UNITS = r"(mm|m|in|ft|s|min|h|g|kg|oz|lb|°C|°F|K|Fahrenheit degrees|mm/s|m/s|in/s|ft/s|%|[cm]?m²|in²|cm³|L)"
NUMBER = re.compile(rf"(?<![\w.])\d++(?:\.\d++)?+(?! ?{UNITS}(?![a-z]))")
NAMED = re.compile(r"mould \d+")


def ask(client: FlaskClient, body: Any, query: str = "") -> dict[str, Any]:
    reply = client.post(f"/v1/pour-time{query}", json=body)
    assert reply.status_code == 200, reply.get_json()
    answer: dict[str, Any] = reply.get_json()
    return answer


def sentences(answer: dict[str, Any]) -> Iterator[str]:
    yield answer["message"]
    yield from (check["message"] for check in answer["checks"])
    window = answer["result"]["window"]
    yield from (rule["words"] for rule in window["rules"])
    pot = answer["result"]["pot"] or {}
    yield from (text for text in (window["in_words"], pot.get("cost_of_waiting")) if text)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("name", sorted(CASES))
def test_no_number_stands_without_its_unit(client: FlaskClient, name: str, units: str) -> None:
    answer = ask(client, CASES[name], f"?units={units}")
    told = list(sentences(answer))
    assert told
    for text in told:
        bare = [found.group() for found in NUMBER.finditer(NAMED.sub("mould", text))]
        assert not bare, f"{text}: {bare}"


@pytest.mark.parametrize("name", sorted(CASES))
def test_every_check_says_in_a_sentence_what_it_found_and_what_to_do(client: FlaskClient, name: str) -> None:
    for check in ask(client, CASES[name])["checks"]:
        text = check["message"]
        assert text.endswith("."), text
        assert "{" not in text, text
        assert len(text.split()) >= 4, text
        if check["verdict"] in ("warn", "fail"):
            assert re.search(
                r"take|fill it|offer|tilt|draw|thicker|melt more|first|expect|end is held",
                text,
                re.IGNORECASE,
            ), text


def test_the_cases_cover_every_verdict_of_the_pour(client: FlaskClient) -> None:
    verdicts: dict[str, set[str]] = {}
    for body in CASES.values():
        for check in ask(client, body)["checks"]:
            verdicts.setdefault(check["id"], set()).add(check["verdict"])
    assert verdicts["pour-window"] == {"pass", "warn", "fail"}
    assert verdicts["pour-time-slow"] == {"pass", "warn", "fail"}
    assert verdicts["pour-time-fast"] == {"pass", "fail"}
    assert verdicts["pot-holds-enough"] == {"pass", "fail"}
    assert verdicts["least-wall"] == {"pass", "warn"}


def test_a_window_shut_by_the_rise_is_a_doubt_for_aluminium_and_fails_for_iron(client: FlaskClient) -> None:
    for body, verdict in ((CASES["shut by the rise"], "warn"), (IRON, "fail")):
        (check,) = [c for c in ask(client, body)["checks"] if c["id"] == "pour-window"]
        assert check["verdict"] == verdict
    assert "found for iron" in ask(client, CASES["shut by the rise"])["result"]["window"]["rules"][1]["words"]


@pytest.mark.parametrize(
    ("pot", "pointer"),
    [
        ({"moulds": 3, "pours": [{"mass": "1 kg"}]}, "/pot/pours"),
        ({"moulds": 0}, "/pot/moulds"),
        ({"moulds": 2.5}, "/pot/moulds"),
        ({"pours": [{"mass": "0 kg"}]}, "/pot/pours/0/mass"),
        ({"pours": [{"weight": "1 kg"}]}, "/pot/pours/0/weight"),
        ({"between": "-1 s"}, "/pot/between"),
    ],
)
def test_a_pot_that_contradicts_itself_is_refused(client: FlaskClient, pot: Any, pointer: str) -> None:
    reply = client.post("/v1/pour-time", json={**JOB, "pot": {"mouth_diameter": "160 mm", **pot}})
    assert reply.status_code == 422
    assert [fault["pointer"] for fault in reply.get_json()["errors"]] == [pointer]


def test_every_law_and_rule_names_a_source_that_the_service_knows(client: FlaskClient) -> None:
    known = {source["key"]: source["grade"] for source in client.get("/v1/sources").get_json()["items"]}
    result = ask(client, JOB)["result"]
    told = [*result["published_laws"], *result["window"]["rules"], *result["pouring_practice"]]
    assert len(told) > 12
    for one in told:
        assert known[one["source"]] == one["grade"]


def test_the_resolved_request_gives_the_same_pot(client: FlaskClient) -> None:
    first = ask(client, JOB)
    again = ask(client, first["resolved"])
    assert again["result"] == first["result"]
    assert again["defaults"] == []


PLAN: dict[str, Any] = {
    "alloy": "A356",
    "mould": {"medium": "green sand"},
    "part": {
        "sections": [
            {"name": "p", "shape": "plate", "length": "200 mm", "width": "120 mm", "thickness": "15 mm"}
        ]
    },
    "shop": {"crucibles": [{"name": "pot", "brim_volume": "2 L", "mouth_diameter": "130 mm"}]},
}


def plan(client: FlaskClient, **more: Any) -> tuple[Any, dict[str, str]]:
    reply = client.post("/v1/plan", json={**PLAN, **more})
    assert reply.status_code == 200, reply.get_json()
    answer = reply.get_json()
    verdicts = {check["id"]: check["verdict"] for check in answer["checks"]}
    return answer["result"]["pour_time"]["pot"], verdicts


def test_a_plan_tells_how_long_its_crucible_stays_hot(client: FlaskClient) -> None:
    pot, verdicts = plan(client)
    assert verdicts["pot-seconds-left"] == verdicts["pot-mould-fills"] == "pass"
    assert pot["seconds_left_low"]["value"] < pot["seconds_left_high"]["value"]
    whole = client.post("/v1/plan", json=PLAN).get_json()
    (mould,) = pot["moulds"]
    assert mould["mass"]["value"] == pytest.approx(whole["result"]["masses"]["poured"]["value"])
    assert mould["pour_time"] == whole["result"]["gating"]["fill_time"]
    assert client.post("/v1/plan", json=whole["resolved"]).get_json()["result"] == whole["result"]


def test_a_plan_without_a_mouth_says_nothing_of_it_unless_asked(client: FlaskClient) -> None:
    bare = {"crucibles": [{"name": "pot", "brim_volume": "2 L"}]}
    assert plan(client, shop=bare) == (None, plan(client, shop=bare)[1])
    assert not [id for id in plan(client, shop=bare)[1] if id.startswith("pot-")]
    asked = client.post("/v1/plan", json={**PLAN, "shop": bare, "pot": {"delay": "10 s"}}).get_json()
    assert "/pot/mouth_diameter" in [one["pointer"] for one in asked["missing"]]


def test_a_slow_walk_with_a_small_pot_is_warned_in_the_plan(client: FlaskClient) -> None:
    pot = {"mouth_diameter": "300 mm", "delay": "20 min", "temperature": "760 degC"}
    _, verdicts = plan(client, pot=pot)
    assert verdicts["pot-seconds-left"] == "warn"
    reply = client.post("/v1/plan", json={**PLAN, "pot": {"moulds": 2}})
    assert reply.status_code == 422
    assert [fault["pointer"] for fault in reply.get_json()["errors"]] == ["/pot/moulds"]
