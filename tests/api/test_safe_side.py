"""What nobody has said counts on the safe side: sizes told by sections, and what is offered."""

from typing import Any

import pytest
from flask.testing import FlaskClient

LUMP = {"shape": "cylinder", "diameter": "60 mm", "height": "60 mm"}
WEB = {"name": "web", "shape": "plate", "length": "80 mm", "width": "40 mm", "thickness": "6 mm"}
ENDS = [{"to": "left lump", "area": "2.4 cm^2"}, {"to": "right lump", "area": "2.4 cm^2"}]
LONG = [{**LUMP, "name": "left lump"}, {**WEB, "joins": ENDS}, {**LUMP, "name": "right lump"}]
SAND: dict[str, Any] = {"alloy": "A356", "mould": {"medium": "green sand"}}


def ask(client: FlaskClient, path: str, request: dict[str, Any]) -> dict[str, Any]:
    reply = client.post(path, json=request)
    assert reply.status_code == 200, reply.get_data(as_text=True)
    answer: dict[str, Any] = reply.get_json()
    return answer


def test_sections_beside_each_other_add_up(client: FlaskClient) -> None:
    """By hand: two discs of 60 mm and a web of 80 x 40 mm are 88.5 cm^2 and at most 200 mm long."""
    part = ask(client, "/v1/plan", {**SAND, "part": {"sections": LONG}})["result"]["part"]
    assert part["length"]["value"] == pytest.approx(200.0)
    assert part["width"]["value"] == pytest.approx(60.0)
    assert part["parting_area"]["value"] == pytest.approx(2 * 9.0 * 3.14159265 + 32.0)
    one = ask(client, "/v1/plan", {**SAND, "part": {"sections": [LONG[0]]}})["result"]["part"]
    assert one["length"]["value"] == pytest.approx(60.0)


def test_the_lift_is_never_less_for_a_part_of_more_sections(client: FlaskClient) -> None:
    more = ask(client, "/v1/plan", {**SAND, "part": {"sections": LONG}})["result"]
    less = ask(client, "/v1/plan", {**SAND, "part": {"sections": LONG[:1]}})["result"]
    assert more["mould"]["metal_lift"]["value"] > 1.5 * less["mould"]["metal_lift"]["value"]


def test_a_boss_on_a_plate_adds_nothing_to_its_outline(client: FlaskClient) -> None:
    plate = {"name": "plate", "shape": "plate", "length": "200 mm", "width": "120 mm", "thickness": "15 mm"}
    joins = [{"to": "plate", "area": "12.5 cm^2"}]
    boss = {"name": "boss", "shape": "cylinder", "diameter": "40 mm", "height": "30 mm"}
    sections = [plate, {**boss, "joins": joins}]
    part = ask(client, "/v1/plan", {**SAND, "part": {"sections": sections}})["result"]["part"]
    assert part["length"]["value"] == pytest.approx(200.0)
    assert part["parting_area"]["value"] == pytest.approx(240.0)


def test_no_riser_is_offered_that_is_wider_than_its_face(client: FlaskClient) -> None:
    bar = {"name": "bar", "shape": "bar", "length": "200 mm", "width": "40 mm", "height": "40 mm"}
    request = {**SAND, "sections": [bar], "riser": {"diameter": "30 mm", "height": "30 mm"}}
    answer = ask(client, "/v1/riser", request)
    assert answer["verdict"] == "fail"
    assert answer["remedies"][0]["message"] == "Let the riser be sized for you."
    widths = [
        change["value"]["value"]
        for remedy in answer["remedies"]
        for change in remedy["patch"]
        if change["path"] == "/riser/diameter" and "value" in change
    ]
    assert all(width <= 40.0 for width in widths)


def test_no_more_edge_is_offered_than_the_outline_has(client: FlaskClient) -> None:
    wanted = {
        "alloy": "356",
        "poured_mass": "10 kg",
        "thickness": "4 mm",
        "mould": {"medium": "green sand"},
        "gate_edge": "60 mm",
        "gate_thickness": "4 mm",
        "outline": "240 mm",
    }
    answer = ask(client, "/v1/pour-time", wanted)
    edges = {c["id"]: c["verdict"] for c in answer["checks"]}
    assert "fail" in edges.values()
    offered = [
        change["value"]["value"]
        for remedy in answer["remedies"]
        for change in remedy["patch"]
        if change["path"] == "/gate_edge"
    ]
    assert all(edge <= 240.0 for edge in offered)
    free = ask(client, "/v1/pour-time", {key: value for key, value in wanted.items() if key != "outline"})
    assert any(c["path"] == "/gate_edge" for r in free["remedies"] for c in r["patch"])


def test_a_gating_of_which_no_casting_is_told_says_how_it_is_taken_to_fill(client: FlaskClient) -> None:
    request = {"alloy": "A356", "poured_mass": "2 kg", "pour_time": "4 s", "sprue_height": "150 mm"}
    assert "from the top" in ask(client, "/v1/gating", request)["message"]
    told = {**request, "gate_position": "bottom", "casting": {"height": "40 mm", "above_gate": "40 mm"}}
    assert "from its bottom" in ask(client, "/v1/gating", told)["message"]


def test_the_documentation_page_lists_the_calls_without_scripts(client: FlaskClient) -> None:
    page = client.get("/docs").get_data(as_text=True)
    listed = page.partition("<noscript>")[2].partition("</noscript>")[0]
    for call in client.get("/").get_json()["calls"]:
        assert f"{call['method']} {call['path']}" in listed
