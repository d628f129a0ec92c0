"""What someone new tries first, and what the service makes of it (common practice, no source)."""

from typing import Any

from flask.testing import FlaskClient

HUB: dict[str, Any] = {
    "name": "hub",
    "shape": "tube",
    "outer_diameter": "40 mm",
    "inner_diameter": "16 mm",
    "height": "30 mm",
}


def plan(client: FlaskClient, **more: Any) -> dict[str, Any]:
    request = {"alloy": "ZA-12", "mould": {"medium": "green sand"}, "part": {"sections": [HUB]}, **more}
    found: dict[str, Any] = client.post("/v1/plan", json=request).get_json()
    return found


def test_a_hole_of_which_nothing_is_said_is_cored(client: FlaskClient) -> None:
    told = plan(client)
    assert [core["name"] for core in told["result"]["mould"]["cores"]]
    assert "/part/sections/0/faces/inside" in [default["pointer"] for default in told["defaults"]]
    open_bore = plan(client, part={"sections": [{**HUB, "faces": {"inside": "cooling"}}]})
    assert not open_bore["result"]["mould"]["cores"]
    # A core takes less heat than mould all round, so the hub freezes later.
    assert (
        told["result"]["freezing"]["freezing_time"]["value"]
        > open_bore["result"]["freezing"]["freezing_time"]["value"]
    )


def test_metal_poured_too_hot_is_told(client: FlaskClient) -> None:
    checks = {check["id"]: check["verdict"] for check in plan(client)["checks"]}
    assert checks["pouring-not-too-hot"] == "pass"
    hot = plan(client, pouring_temperature="700 degC")
    assert {check["id"]: check["verdict"] for check in hot["checks"]}["pouring-not-too-hot"] == "warn"


def test_an_element_by_its_name_is_told_its_symbol(client: FlaskClient) -> None:
    stock = [{"name": "scrap", "composition_percent": {"tin": 10}}]
    request = {"alloy": "C90500", "melt_mass": "1 kg", "stock": stock}
    (error,) = client.post("/v1/charge", json=request).get_json()["errors"]
    assert error["code"] == "unknown_element"
    assert "'Sn'" in error["detail"]
    assert "'Ti'" not in error["detail"]
