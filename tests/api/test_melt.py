"""Melt over HTTP: what is refused and where it points, units, and that an answer can be asked again."""

from typing import Any

import pytest
from flask.testing import FlaskClient

from pourwright_service.api.melt import MeltRequest
from pourwright_service.api.registry import REGISTRY

POT: dict[str, Any] = {"name": "pot", "brim_volume": "0.8 L", "mass": "1.6 kg", "condition": "sound"}
REQUEST: dict[str, Any] = {
    "alloy": "C87300",
    "melt_mass": "4.2 kg",
    "pouring_temperature": "1150 degC",
    "currency": "EUR",
    "shop": {
        "furnace": {"fuel": "propane", "power": "30 kW", "lining_mass": "12 kg", "fuel_price": "3.2 /kg"},
        "bottle": {"weight": "18.5 kg", "tare": "12 kg"},
        "crucibles": [POT],
    },
}


def post(client: FlaskClient, request: dict[str, Any], query: str = "") -> Any:
    return client.post(f"/v1/melt{query}", json=request)


def shop(**changes: Any) -> dict[str, Any]:
    """The request with other things in its shop."""
    return {**REQUEST, "shop": {**REQUEST["shop"], **changes}}


def faults(client: FlaskClient, request: dict[str, Any]) -> list[tuple[str, str]]:
    reply = post(client, request)
    assert reply.status_code == 422, reply.get_json()
    return [(fault["pointer"], fault["code"]) for fault in reply.get_json()["errors"]]


def test_the_answer_can_be_asked_again(client: FlaskClient) -> None:
    answer = post(client, REQUEST).get_json()
    again = post(client, answer["resolved"]).get_json()
    assert again["result"] == answer["result"]
    assert [check["verdict"] for check in again["checks"]] == [check["verdict"] for check in answer["checks"]]
    assert answer["result"]["cost"]["likely"]["unit"] == "EUR"
    assert "EUR" in answer["message"]


def test_pounds_and_kilograms_are_one_answer(client: FlaskClient) -> None:
    metric, us = (
        post(client, REQUEST, f"?units={system}").get_json()["result"] for system in ("metric", "us")
    )
    assert us["heat_mass"]["unit"] == "lb"
    assert us["heat_mass"]["value"] * 0.45359237 == pytest.approx(metric["heat_mass"]["value"])
    ours, theirs = (one["first_heat"]["energy"]["likely"] for one in (metric, us))
    assert (ours["unit"], theirs["unit"]) == ("kJ", "Btu")
    assert theirs["value"] * 1.05505585262 == pytest.approx(ours["value"])


@pytest.mark.parametrize("number", ["A8", "10", "#16"])
def test_a_bare_crucible_number_is_refused_with_what_it_may_mean(client: FlaskClient, number: str) -> None:
    request = shop(crucibles=[{"name": "old", "number": number}])
    reply = post(client, request).get_json()
    assert [fault["pointer"] for fault in reply["errors"]] == ["/shop/crucibles/0/number"]
    for meaning in ("kg of brass", "lb of aluminium", "litres"):
        assert meaning in reply["errors"][0]["detail"]


def test_a_number_without_quotation_marks_is_told_the_same(client: FlaskClient) -> None:
    reply = post(client, shop(crucibles=[{"name": "old", "number": 10}])).get_json()
    (fault,) = reply["errors"]
    assert fault["pointer"] == "/shop/crucibles/0/number"
    assert fault["accepted"] == ["kg of brass", "lb of aluminium", "litres"]


def test_a_number_with_its_meaning_is_a_default_that_owns_up(client: FlaskClient) -> None:
    pot = {"name": "old", "number": "A8", "number_means": "kg of brass"}
    answer = post(client, shop(crucibles=[pot])).get_json()
    (told,) = [one for one in answer["defaults"] if one["pointer"] == "/shop/crucibles/0/brim_volume"]
    assert told["provenance"] == "estimated"
    assert "water" in told["note"]
    better = post(client, shop(crucibles=[{**pot, "brim_volume": "2 L"}])).get_json()
    assert better["result"]["crucible"]["brim_volume"]["value"] == pytest.approx(2000.0)


def test_the_plan_takes_the_same_shop(client: FlaskClient) -> None:
    """One object of a workshop for every subject: a plan is not put off by furnace, bottle and number."""
    plate = {"name": "plate", "shape": "plate", "length": "80 mm", "width": "60 mm", "thickness": "12 mm"}
    request = {
        "alloy": "C87300",
        "mould": {"medium": "green sand"},
        "part": {"sections": [plate]},
        "stock": [{"name": "ingot", "alloy": "C87300", "price": "14 /kg"}],
        "shop": {
            **REQUEST["shop"],
            "crucibles": [POT, {"name": "old", "number": "A8", "number_means": "kg of brass"}],
            "place": "outdoors",
            "ingot_moulds": [{"name": "bar", "volume": "0.1 L"}],
        },
    }
    reply = client.post("/v1/plan?remedies=none", json=request)
    assert reply.status_code == 200, reply.get_json()
    assert reply.get_json()["result"]["crucible"]["name"] in ("pot", "old")


REFUSED: list[tuple[dict[str, Any], tuple[str, str]]] = [
    ({**REQUEST, "melt_mass": 4.2}, ("/melt_mass", "no_unit")),
    ({**REQUEST, "crucible": "blue one"}, ("/crucible", "inconsistent")),
    ({**REQUEST, "last_lump": "5 kg"}, ("/last_lump", "inconsistent")),
    ({**REQUEST, "heats": 0}, ("/heats", "out_of_bounds")),
    (shop(crucibles=[{"name": "a"}]), ("/shop/crucibles/0/brim_volume", "missing_field")),
    (
        shop(crucibles=[{"name": "a", "number": "pot", "number_means": "litres"}]),
        ("/shop/crucibles/0/number", "inconsistent"),
    ),
    (shop(furnace={"fuel": "peat"}), ("/shop/furnace/fuel", "not_a_choice")),
    (
        shop(furnace={"efficiency_low": 0.5, "efficiency": 0.2}),
        ("/shop/furnace/efficiency_low", "inconsistent"),
    ),
    (
        shop(furnace={"fuel_price": "1 /kg", "fuel_energy_price": "0.1 /kWh"}),
        ("/shop/furnace/fuel_energy_price", "inconsistent"),
    ),
    (
        shop(bottle={"heat_transfer_low": "20 W/(m^2 K)", "heat_transfer_high": "10 W/(m^2 K)"}),
        ("/shop/bottle/heat_transfer_low", "inconsistent"),
    ),
]


@pytest.mark.parametrize(("request_", "fault"), REFUSED, ids=[fault[0] for _, fault in REFUSED])
def test_what_is_refused(client: FlaskClient, request_: dict[str, Any], fault: tuple[str, str]) -> None:
    assert fault in faults(client, request_)


def test_a_bottle_colder_than_its_burner_needs_is_an_answer(client: FlaskClient) -> None:
    request = {**shop(bottle={"contents": "5 kg", "gas_pressure": "5 bar"}), "start_temperature": "-20 degC"}
    answer = post(client, request).get_json()
    assert answer["result"]["bottle"]["lasting_draw_off_high"]["value"] == 0.0
    assert answer["result"]["bottle"]["too_cold_after_low"] == {"value": 0.0, "unit": "s"}
    assert answer["verdict"] == "fail"


@pytest.mark.parametrize("mass", ["0.001 g", "1 g", "1000 t"])
@pytest.mark.parametrize("power", ["1 W", "1e9 W"])
def test_odd_sizes_are_answered(client: FlaskClient, mass: str, power: str) -> None:
    request = shop(furnace={"fuel": "propane", "power": power})
    reply = post(client, {**request, "melt_mass": mass, "form": "turnings", "poured_mass": "1 kg"})
    assert reply.status_code == 200, reply.get_json()


def test_every_price_is_read_in_its_own_unit(client: FlaskClient) -> None:
    """3.6 MJ are a kilowatt-hour, a thousand litres a cubic metre: both ways of asking cost the same."""
    costs = []
    for prices in (
        {"fuel_volume_price": "1.5 /L"},
        {"fuel_volume_price": "1500 /m^3"},
        {"fuel_energy_price": "0.36 /kWh"},
        {"fuel_energy_price": "0.1 /MJ"},
    ):
        answer = post(client, shop(furnace={"fuel": "diesel", **prices})).get_json()
        costs.append(answer["result"]["cost"]["likely"]["value"])
    assert costs[0] == pytest.approx(costs[1])
    assert costs[2] == pytest.approx(costs[3])


def test_the_examples_show_a_pass_a_fail_and_a_remedy(client: FlaskClient) -> None:
    answers = [post(client, request).get_json() for request in REGISTRY.endpoints["melt"].examples.values()]
    assert {answer["verdict"] for answer in answers} >= {"pass", "fail"}
    assert any(answer["remedies"] for answer in answers)
    assert MeltRequest.__doc__
