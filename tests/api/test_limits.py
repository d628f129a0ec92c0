"""The limits, allowances and practice as they are served."""

import pytest
from flask.testing import FlaskClient

from pourwright_service.engine.tables.exposure import AVERAGING, LIMITS
from pourwright_service.engine.tables.sources import SOURCES


@pytest.mark.parametrize("path", ["/v1/limits", "/v1/allowances", "/v1/practice"])
def test_reference_data_carry_an_etag(client: FlaskClient, path: str) -> None:
    reply = client.get(path)
    assert reply.status_code == 200
    again = client.get(path, headers={"If-None-Match": reply.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_all_limits_with_their_sources(client: FlaskClient) -> None:
    items = client.get("/v1/limits").get_json()["items"]
    assert len(items) == len(LIMITS)
    for item in items:
        cell = item["concentration"] or item["volume_share"]
        assert cell["source"]["key"] in SOURCES
        assert cell["source"]["place"]
        assert cell["value"]["unit"] in ("mg/m^3", "%")


def test_limits_of_one_substance_the_lowest_first(client: FlaskClient) -> None:
    """OSHA's page on zinc oxide fume: 2 mg/m3 ACGIH, 5 OSHA and NIOSH, 10 for a short time."""
    for name in ("Zn", "ZnO", "zinc oxide", "Zinc"):
        items = client.get("/v1/limits", query_string={"substance": name}).get_json()["items"]
        assert {item["substance"] for item in items} == {"zinc oxide"}
    values = [item["concentration"]["value"]["value"] for item in items]
    assert values == sorted(values)
    assert (items[0]["authority"], items[0]["fraction"], values[0]) == ("ACGIH", "respirable", 2.0)


@pytest.mark.parametrize("averaging", AVERAGING)
def test_limits_of_one_averaging_time(client: FlaskClient, averaging: str) -> None:
    items = client.get("/v1/limits", query_string={"averaging": averaging}).get_json()["items"]
    assert len(items) == sum(limit.averaging == averaging for limit in LIMITS.values())
    both = client.get("/v1/limits", query_string={"averaging": averaging, "substance": "CO"}).get_json()
    assert {item["averaging"] for item in both["items"]} <= {averaging}


def test_no_limit_is_an_empty_list_and_an_unknown_substance_a_problem(client: FlaskClient) -> None:
    assert client.get("/v1/limits?substance=Pb&averaging=15 min").get_json()["items"] == []
    for query, parameter in (
        ("substance=zink", "substance"),
        ("averaging=9 h", "averaging"),
        ("substanse=Zn", "substanse"),
    ):
        reply = client.get(f"/v1/limits?{query}")
        assert reply.status_code == 422
        (fault,) = reply.get_json()["errors"]
        assert fault["parameter"] == parameter
        assert fault["accepted"]
    assert "did you mean 'zinc'?" in client.get("/v1/limits?substance=zink").get_json()["detail"]


def test_allowances(client: FlaskClient) -> None:
    """Total tolerance of grade 12 from 63 to 100 mm: 6 mm; machining G: 1.4 mm (ISO 8062:1994 as printed)."""
    found = client.get("/v1/allowances").get_json()
    for table, grade, figure in (("casting_tolerances", "12", 6.0), ("machining_allowances", "G", 1.4)):
        step = next(step for step in found[table] if step["over"]["value"] == 63.0)
        cell = next(cell for cell in step["grades"] if cell["name"] == grade)
        assert cell["value"] == {"value": figure, "unit": "mm"}
    hand = found["casting_grades"][2]
    assert (hand["family"], hand["usual"], hand["usual_machining"]) == ("copper", 14, "G")
    bronze = next(row for row in found["contraction"] if row["group"] == "tin bronze")
    assert (bronze["low"]["value"], bronze["high"]["value"]) == (1.05, 2.1)
    assert bronze["used"]["printed"] == 1.5
    outside = found["draft"][0]
    assert (outside["id"], outside["low"]["value"]["unit"]) == ("outside", "deg")
    assert outside["low"]["value"]["value"] == pytest.approx(1.0)
    us = client.get("/v1/allowances?units=us").get_json()
    assert us["draft_by_depth"][0]["draw"] == {"value": 1.0, "unit": "in"}
    parting = [line for line in us["foundry_tolerances"] if line["area_over"]]
    assert parting[0]["area_to"] == {"value": 10.0, "unit": "in^2"}


def test_practice(client: FlaskClient) -> None:
    """Pure zinc boils at 907 degC: its pressure there is 1 atm, within the table's 3 %."""
    found = client.get("/v1/practice").get_json()
    boiling = next(
        point
        for point in found["zinc_pressures"]
        if point["zinc_percent"] == 100 and point["temperature"]["value"] == 907.0
    )
    assert boiling["pressure"]["value"]["value"] == pytest.approx(101.325, rel=0.03)
    assert {row["family"] for row in found["pouring"]} == {"copper", "iron", "aluminium"}
    assert len(found["gating_ratios"]) == 14
    assert {(row["medium"], row["family"]) for row in found["least_walls"]} >= {("green sand", "iron")}
