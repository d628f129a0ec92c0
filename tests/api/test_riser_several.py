"""Several risers over HTTP: the request resolved, what is refused, units and money."""

from typing import Any

import pytest
from flask.testing import FlaskClient

from tests.api.test_freezing_riser import ask, faults

BOSS = {
    "name": "boss",
    "shape": "cylinder",
    "diameter": "60 mm",
    "height": "60 mm",
    "joins": [{"to": "web", "area": "600 mm^2"}],
}
WEB = {"name": "web", "shape": "plate", "length": "120 mm", "width": "60 mm", "thickness": "10 mm"}
HUB = {**BOSS, "name": "hub", "diameter": "50 mm", "height": "50 mm"}
CASTING = {"mould": {"medium": "oil-bonded sand"}, "sections": [BOSS, WEB, HUB]}
NEAR = [{"section": "hub", "to": "boss", "distance": "15 mm"}]
WISHES: dict[str, dict[str, Any]] = {
    "nothing": {},
    "near": {"distances": NEAR},
    "far": {"distances": [{**NEAR[0], "distance": "50 mm"}]},
    "one only": {"several": False},
    "made": {"riser": {"diameter": "90 mm"}},
    "made, height too": {"riser": {"diameter": "80 mm", "height": "120 mm"}},
    "beside": {"riser": {"position": "side", "neck": {"length": "15 mm"}}},
    "on the web": {"riser": {"section": "web"}},
    "ball": {"riser": {"shape": "ball"}},
    "least metal": {"riser": {"least_metal": True, "shape": "domed"}},
    "listed": {"risers": [{"section": "hub"}, {"section": "boss", "position": "side", "least_metal": True}]},
    "alternatives": {"alternatives": True, "metal_price": "9 /kg", "currency": "EUR"},
    "kept free": {"sections": [{**BOSS, "keep_off": ["top"]}, WEB, {**HUB, "keep_off": ["bottom"]}]},
    "all kept free": {"sections": [{**BOSS, "keep_off": ["ends", "side"]}, WEB, HUB]},
}


@pytest.mark.parametrize("alloy", ["C95400", "A356", "C83600", "grey iron"])
@pytest.mark.parametrize("wish", list(WISHES))
def test_the_resolved_request_gives_the_same_answer(client: FlaskClient, wish: str, alloy: str) -> None:
    answer = ask(client, "/v1/riser", {**CASTING, "alloy": alloy, **WISHES[wish]})
    again = ask(client, "/v1/riser", answer["resolved"])
    for part in ("verdict", "message", "result", "checks", "resolved"):
        assert again[part] == answer[part], part
    assert again["defaults"] == []


def test_a_single_riser_is_the_first_of_the_list(client: FlaskClient) -> None:
    result = ask(client, "/v1/riser", {**CASTING, "alloy": "A356"})["result"]
    for name, value in result["risers"][0].items():
        if name in result:
            assert result[name] == value, name


@pytest.mark.parametrize(
    ("told", "pointers"),
    [
        ({"riser": {}, "risers": [{"section": "hub"}]}, ["/risers"]),
        ({"risers": []}, ["/risers"]),
        ({"risers": [{"section": "hub"}, {}]}, ["/risers/1/section"]),
        ({"risers": [{"section": "hub"}, {"section": "hub"}]}, ["/risers/1/section"]),
        ({"risers": [{"section": "hub"}, {"section": "rim"}]}, ["/risers/1/section"]),
        ({"risers": [{"section": "hub", "height": "9 mm"}]}, ["/risers/0/height"]),
        (
            {"risers": [{"section": "hub", "shape": "ball", "faces": {"top": "insulated"}}]},
            ["/risers/0/faces/top"],
        ),
        ({"distances": [{"section": "hub", "to": "rim", "distance": "9 mm"}]}, ["/distances/0/to"]),
        ({"distances": [{"section": "hub", "to": "boss", "distance": "0 mm"}]}, ["/distances/0/distance"]),
        ({"sections": [{**BOSS, "joins": [], "keep_off": ["lid"]}]}, ["/sections/0/keep_off/0"]),
        ({"return_value": "120 %"}, ["/return_value"]),
        ({"sleeve_ratio": 0.9}, ["/sleeve_ratio"]),
    ],
)
def test_what_cannot_be_is_refused(client: FlaskClient, told: dict[str, Any], pointers: list[str]) -> None:
    assert faults(client, "/v1/riser", {**CASTING, "alloy": "A356", **told}) == pointers


def test_money_has_its_name(client: FlaskClient) -> None:
    body = {**CASTING, "alloy": "A356", **WISHES["alternatives"]}
    answer = ask(client, "/v1/riser", body)
    costs = [one["metal_cost"] for one in answer["result"]["alternatives"]]
    assert {one["unit"] for one in costs if one} == {"EUR"}
    us = ask(client, "/v1/riser", body, "?units=us")
    assert [one["kind"] for one in us["result"]["alternatives"]] == [
        one["kind"] for one in answer["result"]["alternatives"]
    ]
    assert "3.27 in" in us["message"]


def test_the_working_shows_what_a_riser_of_its_own_was_reckoned_from(client: FlaskClient) -> None:
    answer = ask(client, "/v1/riser", {**CASTING, "alloy": "A356"}, "?working=true")
    own = [line for line in answer["working"] if line["scope"][:1] == ["riser for hub"]]
    times = [line["result"]["value"] for line in own if "freezing_time" in line["formula"]]
    wanted = answer["result"]["risers"][1]["freezing_time"]["value"]
    assert any(time == pytest.approx(wanted, rel=1e-12) for time in times)
