"""The charge over HTTP: what is refused, and that an answer can be asked again."""

from typing import Any

import pytest
from flask.testing import FlaskClient

from pourwright.patch import patched
from pourwright_service.api.charge import CONDITIONS, FORMS, ChargeRequest
from pourwright_service.engine.decide.charge import ChargeCase, decide_charge
from pourwright_service.engine.tables.hazards import find_forms

from .failing_jobs import FAILING

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


def charge_case(sent: dict[str, Any]) -> ChargeCase:
    """A request as the engine gets it."""
    case = ChargeRequest().load(sent)
    assert isinstance(case, ChargeCase)
    return case


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


# --- reasons, limits, purchases -----------------------------------------------------------------------


def test_reasons_are_written_in_the_readers_units(client: FlaskClient) -> None:
    lean = {**REQUEST["stock"][1], "name": "second ingot", "price": "15 /kg"}
    stock = [*REQUEST["stock"], lean]
    metric = {line["item"]: line["why"] for line in ask(client, stock=stock)["result"]["charge"]}
    pounds = {line["item"]: line["why"] for line in ask(client, "?units=us", stock=stock)["result"]["charge"]}
    assert "1.5 kg" in metric["second ingot"]
    assert "EUR" in metric["second ingot"]
    assert "3.31 lb" in pounds["second ingot"]
    assert " kg" not in pounds["second ingot"]


def test_what_limits_cost_is_told_on_request(client: FlaskClient) -> None:
    assert ask(client)["result"]["relaxation"] is None
    first = ask(client, relaxation=True)
    (line, *_) = first["result"]["relaxation"]
    assert line["saving"]["unit"] == "EUR"
    assert line["saving"]["value"] > 0.0
    again = client.post("/v1/charge", json=first["resolved"]).get_json()
    assert again["result"]["relaxation"] == first["result"]["relaxation"]


@pytest.mark.parametrize("alloy", ["C87300", "C65500", "C87500", "356", "443"])
def test_a_resolved_request_is_told_to_buy_the_same(client: FlaskClient, alloy: str) -> None:
    """Silicon comes in lumps, which lose more of it; filling in the recoveries must not hide that."""
    base = {"Al": 93.5, "Si": 4.0} if alloy in ("356", "443") else {"Cu": 97.5, "Si": 1.5, "Mn": 1.0}
    stock = [{"name": "scrap", "composition_percent": base, "price": "3 /kg"}]
    first = ask(client, alloy=alloy, stock=stock, heel=None, recovery_percent=None)
    assert first["result"]["purchase"]
    again = client.post("/v1/charge", json=first["resolved"]).get_json()
    assert again["result"]["purchase"] == first["result"]["purchase"]


def test_a_purchase_added_to_the_stock_mends_the_charge(client: FlaskClient) -> None:
    """The engine's own dictionary, its mass with a unit and a price given, posted as one more item."""
    stock = [{"name": "scrap", "composition_percent": {"Cu": 97.5, "Si": 1.5, "Mn": 1.0}, "price": "3 /kg"}]
    case = charge_case({"alloy": "C87300", "melt_mass": "4.2 kg", "stock": stock})
    bought = [purchase.as_stock() for purchase in decide_charge(case).result["purchase"]]
    assert bought
    more = [
        {**item, "available": f"{item['available']} kg", "smallest_lot": "0 kg", "price": "9 /kg"}
        for item in bought
    ]
    mended = ask(client, stock=stock + more, heel=None, recovery_percent=None)
    assert mended["verdict"] == "pass"
    assert mended["result"]["outcome"] == "robust"


# --- makes and melts ------------------------------------------------------------------------------------

BUCKET: dict[str, Any] = {"currency": "EUR", "stock": REQUEST["stock"][:3]}
MELTS: dict[str, Any] = {
    **BUCKET,
    "stock": REQUEST["stock"],
    "melts": [
        {"name": "fairlead", "alloy": "C87300", "melt_mass": "3 kg"},
        {"alloy": "C65500", "melt_mass": "1 kg"},
    ],
}


def post(client: FlaskClient, path: str, sent: dict[str, Any], status: int = 200) -> Any:
    reply = client.post(path, json=sent)
    assert reply.status_code == status, reply.text
    return reply.get_json()


@pytest.mark.parametrize(("path", "sent"), [("/v1/charge/makes", BUCKET), ("/v1/charge/melts", MELTS)])
def test_resolved_makes_and_melts_give_the_same_answer(
    client: FlaskClient, path: str, sent: dict[str, Any]
) -> None:
    first = post(client, path, sent)
    assert first["verdict"] == "pass"
    again = post(client, path, first["resolved"])
    assert again["result"] == first["result"]
    assert again["checks"] == first["checks"]
    assert again["defaults"] == []


def test_alloys_may_be_named_as_they_are_called(client: FlaskClient) -> None:
    answer = post(client, "/v1/charge/makes", {**BUCKET, "alloys": ["C87300", "cast copper"]})
    told = [line["alloy"] for line in (*answer["result"]["makes"], *answer["result"]["cannot"])]
    assert sorted(told) == ["C81100", "C87300"]


@pytest.mark.parametrize(
    ("path", "changed", "pointer", "code"),
    [
        ("/v1/charge/makes", {"alloys": ["unobtainium"]}, "/alloys/0", "unknown_alloy"),
        ("/v1/charge/makes", {"alloys": []}, "/alloys", "too_few_items"),
        ("/v1/charge/makes", {"whole": 21}, "/whole", "out_of_bounds"),
        (
            "/v1/charge/makes",
            {"stock": [{"name": "x", "alloy": "C87300", "charged": "1 kg"}]},
            "/stock/0/charged",
            "inconsistent",
        ),
        ("/v1/charge/melts", {"melts": []}, "/melts", "too_few_items"),
        ("/v1/charge/melts", {"melts": [MELTS["melts"][0]] * 11}, "/melts", "too_many_items"),
        (
            "/v1/charge/melts",
            {"stock": REQUEST["stock"] * 50 + REQUEST["stock"][:1]},
            "/stock",
            "too_many_items",
        ),
        (
            "/v1/charge/melts",
            {"melts": [MELTS["melts"][0]] * 9, "stock": REQUEST["stock"] * 12},
            "/melts",
            "too_many_items",
        ),
        ("/v1/charge/melts", {"melts": [{"alloy": "C87300"}]}, "/melts/0/melt_mass", "missing_field"),
    ],
)
def test_makes_and_melts_refuse_where_it_stands(
    client: FlaskClient, path: str, changed: dict[str, Any], pointer: str, code: str
) -> None:
    sent = {**(BUCKET if path.endswith("makes") else MELTS), **changed}
    refusal = post(client, path, sent, 422)
    assert (pointer, code) in {(error["pointer"], error["code"]) for error in refusal["errors"]}


def test_melts_say_what_to_buy_and_what_is_within_reach(client: FlaskClient) -> None:
    path, request = FAILING["two melts and too little for the first"]
    answer = client.post(path, json=request).get_json()
    assert answer["verdict"] == "fail"
    assert answer["result"]["melts"][0]["purchase"]
    assert not answer["result"]["melts"][1]["purchase"]
    assert "To mend that, buy" in answer["message"]
    for remedy in answer["remedies"]:
        again = client.post(path, json=patched(request, remedy["patch"])).get_json()
        assert again["verdict"] in ("pass", "warn", "unknown"), remedy["message"]
    paths = [remedy["patch"][0]["path"] for remedy in answer["remedies"]]
    assert {"/stock/-", "/melts/0/melt_mass"} <= set(paths)


def test_a_neighbours_composition_is_never_taken_for_ones_own(client: FlaskClient) -> None:
    stock = [{"name": "window frames", "alloy": "6063", "available": "2 kg"}]
    answer = client.post("/v1/charge", json={"alloy": "6061", "melt_mass": "1 kg", "stock": stock}).get_json()
    assert answer["missing"][0]["pointer"] == "/stock/0/composition_percent"
    assert "6061" in answer["missing"][0]["message"]


def test_the_best_that_a_stock_makes_come_with_their_charge(client: FlaskClient) -> None:
    frames = {"Al": 98.6, "Mg": 0.6, "Si": 0.4, "Fe": 0.2}
    stock = [
        {"name": "taps", "alloy": "C36000", "available": "4 kg"},
        {"name": "frames", "composition_percent": frames, "available": "2 kg"},
    ]
    answer = client.post("/v1/charge/makes", json={"stock": stock}).get_json()
    made = {line["alloy"]: line for line in answer["result"]["makes"]}
    assert not made["C36000"]["certain"]
    assert made["C36000"]["charge"][0]["item"] == "taps"
    assert all(line["charge"] for line in answer["result"]["makes"][:5])


def test_stock_that_stays_on_the_shelf_brings_no_fume(client: FlaskClient) -> None:
    """Brass fittings that the alloy cannot hold are not melted: no zinc and no lead is spoken of."""
    taps = {"name": "taps", "alloy": "C36000", "available": "4 kg"}
    bronze = {"name": "ingot", "alloy": "C87300", "available": "4 kg"}
    request = {"alloy": "C87300", "melt_mass": "1 kg", "stock": [taps, bronze]}
    answer = client.post("/v1/charge", json=request).get_json()
    codes = {caution["code"] for caution in answer["cautions"]}
    assert answer["result"]["charge"][0]["mass"]["value"] == 0.0
    assert not codes & {"zinc-fume", "lead"}
    forced = {**request, "stock": [{**taps, "charged": "50 g"}, {**bronze, "charged": "1 kg"}]}
    told = client.post("/v1/charge", json=forced).get_json()
    assert {"zinc-fume", "lead"} <= {caution["code"] for caution in told["cautions"]}
    melts = {"melts": [{"alloy": "C87300", "melt_mass": "1 kg"}], "stock": request["stock"]}
    together = client.post("/v1/charge/melts", json=melts).get_json()
    assert not {caution["code"] for caution in together["cautions"]} & {"zinc-fume", "lead"}


def test_what_is_refused_is_said_of_the_shelf_too(client: FlaskClient) -> None:
    bad = {"name": "bolts", "condition": ["plated"], "composition_percent": {"Fe": 99.5, "Cd": 0.5}}
    bronze = {"name": "ingot", "alloy": "C87300", "available": "4 kg"}
    answer = client.post(
        "/v1/charge", json={"alloy": "C87300", "melt_mass": "1 kg", "stock": [bad, bronze]}
    ).get_json()
    assert answer["verdict"] == "fail"
    assert any(caution["severity"] == "refuse" for caution in answer["cautions"])
