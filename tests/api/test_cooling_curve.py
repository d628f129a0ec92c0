"""POST /v1/cooling-curve over HTTP: units, what it gives to later requests, and what is refused."""

from typing import Any

import pytest
from flask.testing import FlaskClient

from pourwright_service.api.registry import REGISTRY

(EXAMPLE,) = REGISTRY.endpoints["cooling_curve"].examples.values()


def job(**changed: Any) -> dict[str, Any]:
    return {**EXAMPLE, **changed}


def test_fahrenheit_and_minutes_tell_the_same(client: FlaskClient) -> None:
    us = job(
        times={"values": [value / 60.0 for value in EXAMPLE["times"]["values"]], "unit": "min"},
        temperatures={
            "values": [value * 1.8 + 32.0 for value in EXAMPLE["temperatures"]["values"]],
            "unit": "degF",
        },
    )
    first, second = (
        client.post("/v1/cooling-curve", json=body).get_json()["result"] for body in (EXAMPLE, us)
    )
    for name in ("liquidus", "solidus", "freezing_time"):
        assert second[name]["value"]["value"] == pytest.approx(first[name]["value"]["value"], rel=1e-6)


def test_later_requests_take_it(client: FlaskClient) -> None:
    plate = {"name": "p", "shape": "plate", "length": "200 mm", "width": "120 mm", "thickness": "15 mm"}
    request: dict[str, Any] = {"alloy": "A356", "mould": {"medium": "green sand"}, "sections": [plate]}
    result = client.post("/v1/cooling-curve", json=EXAMPLE).get_json()["result"]
    for use in result["use"]:
        assert "freezing" in use["calls"]
        for name, value in use["merge"].items():
            request[name] = {**request.get(name, {}), **value} if name == "properties" else value
    reply = client.post("/v1/freezing", json=request)
    assert reply.status_code == 200
    assert reply.get_json()["result"]["mould_constant"] == result["mould_constant"]["value"]
    assert request["properties"]["liquidus"] == result["liquidus"]["value"]


SHORT = {"values": [1.0, 2.0], "unit": "s"}
HOSTILE = [
    (job(times=SHORT), "/times", "too_few_items"),
    (job(times={"values": list(range(6000)), "unit": "s"}), "/times", "too_many_items"),
    (job(times=[1, 2, 3]), "/times", "not_an_object"),
    (job(times={"values": [float(n) for n in range(40)], "unit": "s"}), "/temperatures", "inconsistent"),
    (job(times={**EXAMPLE["times"], "values": EXAMPLE["times"]["values"][::-1]}), "/times", "inconsistent"),
    (job(temperatures={**EXAMPLE["temperatures"], "unit": "mm"}), "/temperatures", "unknown_unit"),
    (job(times={"values": ["1"] * 40, "unit": "s"}), "/times/0", "not_a_number"),
    (job(ladder="Pb-Sn"), "/ladder", "not_a_choice"),
    (job(thermocouple_error="0 K"), "/thermocouple_error", "out_of_bounds"),
    (job(smoothing="-1 s"), "/smoothing", "out_of_bounds"),
]


@pytest.mark.parametrize(("body", "pointer", "code"), HOSTILE)
def test_a_clear_refusal(client: FlaskClient, body: Any, pointer: str, code: str) -> None:
    reply = client.post("/v1/cooling-curve", json=body)
    assert reply.status_code == 422
    assert (pointer, code) in [(fault["pointer"], fault["code"]) for fault in reply.get_json()["errors"]]


@pytest.mark.parametrize("smoothing", ["0.001 s", "1 h"])
def test_any_smoothing_is_answered(client: FlaskClient, smoothing: str) -> None:
    assert client.post("/v1/cooling-curve", json=job(smoothing=smoothing)).status_code == 200


def test_a_clock_in_strange_steps(client: FlaskClient) -> None:
    values = [1e-9 * n for n in range(75)] + [1e9 + n for n in range(75)]
    body = job(times={"values": values, "unit": "s"})
    assert client.post("/v1/cooling-curve", json=body).status_code == 200
