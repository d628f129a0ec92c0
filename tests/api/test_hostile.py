"""What a careless or hostile caller sends to the real calculations: a clear 4xx, quickly."""

import time
from typing import Any

import pytest
from flask.testing import FlaskClient

PLATE = {"shape": "plate", "length": "30 cm", "width": "10 cm", "thickness": "2 cm"}
CONE = {"shape": "cone", "lower_diameter": "26 mm", "upper_diameter": "22 mm", "height": "60 mm"}


def freezing(**fields: Any) -> dict[str, Any]:
    return {"mould_constant": "4 min/cm^2", "sections": [{"name": "a", **PLATE, **fields}]}


def charge(**fields: Any) -> dict[str, Any]:
    stock = [{"name": "ingot", "alloy": "C87300", "available": "5 kg", "price": "14 /kg"}]
    return {"alloy": "C87300", "melt_mass": "4.2 kg", "stock": stock, **fields}


HOSTILE: list[tuple[str, Any, str, str]] = [
    ("charge", charge(melt_mass="9**9**8 kg"), "/melt_mass", "not_a_quantity"),
    ("charge", charge(melt_mass="1,5 kg"), "/melt_mass", "decimal_comma"),
    ("charge", charge(melt_mass=25.4), "/melt_mass", "no_unit"),
    ("charge", charge(melt_mass="nan kg"), "/melt_mass", "not_a_quantity"),
    ("charge", charge(colour="red"), "/colour", "unknown_field"),
    (
        "charge",
        charge(stock=[{"name": "x", "composition_percent": {"Cu": 95}}] * 201),
        "/stock",
        "too_many_items",
    ),
    ("freezing", freezing(length="1_000 mm"), "/sections/0/length", "not_a_quantity"),
    ("freezing", freezing(length="nan mm"), "/sections/0/length", "not_a_quantity"),
    ("freezing", freezing(length="-3 mm"), "/sections/0/length", "out_of_bounds"),
    ("freezing", freezing(length=25.4), "/sections/0/length", "no_unit"),
    ("freezing", freezing(lenght="3 mm"), "/sections/0/lenght", "unknown_field"),
    ("freezing", {"sections": [{"name": "a", **PLATE}] * 201}, "/sections", "too_many_items"),
    (
        "freezing",
        {"sections": [{"name": "a", **PLATE}, {"name": "a", **CONE}]},
        "/sections/1/name",
        "inconsistent",
    ),
    (
        "freezing",
        {"sections": [{"name": "a", **CONE}, {"name": "a", **PLATE}]},
        "/sections/1/name",
        "inconsistent",
    ),
]


@pytest.mark.parametrize(("path", "body", "pointer", "code"), HOSTILE, ids=lambda value: str(value)[:50])
def test_a_clear_refusal(client: FlaskClient, path: str, body: Any, pointer: str, code: str) -> None:
    began = time.perf_counter()
    reply = client.post(f"/v1/{path}", json=body)
    assert reply.status_code == 422
    assert (pointer, code) in [(fault["pointer"], fault["code"]) for fault in reply.get_json()["errors"]]
    assert time.perf_counter() - began < 1.0
