"""Quantities of the SDK. The exact factors are those of NIST SP 811, appendix B.8."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from pourwright import Client, Quantity, Series
from pourwright.units import UNITS
from pourwright_service.api.registry import REGISTRY


@pytest.mark.parametrize(
    ("value", "unit", "wanted", "expected"),
    [
        # NIST SP 811 (2008), appendix B.8: exact by definition
        (1.0, "in", "mm", 25.4),
        (1.0, "ft", "m", 0.3048),
        (1.0, "lb", "kg", 0.45359237),
        (1.0, "oz t", "g", 31.1034768),
        (1.0, "US gal", "L", 3.785411784),
        (1.0, "in^2", "mm^2", 645.16),
        (1.0, "lbf", "N", 4.4482216152605),
        (1.0, "kgf", "N", 9.80665),
        (1.0, "bar", "kPa", 100.0),
        # temperatures and their differences, by definition
        (0.0, "degC", "K", 273.15),
        (100.0, "degC", "degF", 212.0),
        (-40.0, "degF", "degC", -40.0),
        (9.0, "delta degF", "K", 5.0),
        # by definition of per cent and of the minute
        (5.0, "%", "", 0.05),
        (1.0, "min/cm^2", "s/m^2", 600_000.0),
    ],
)
def test_exact_factors(value: float, unit: str, wanted: str, expected: float) -> None:
    assert Quantity(value, unit).to(wanted) == Quantity(expected, wanted)


_PAIRS = [(kind, a, b) for kind, units in UNITS.items() for a in units for b in units]


@given(some.sampled_from(_PAIRS), some.floats(-1e6, 1e6, allow_subnormal=False))
def test_there_and_back(pair: tuple[str, str, str], value: float) -> None:
    _, unit, wanted = pair
    back = Quantity(value, unit).to(wanted).to(unit).value
    # a temperature near zero on one scale is hundreds on another
    slack = 1e-9 if unit in ("degC", "degF", "K") else 1e-290
    assert math.isclose(back, value, rel_tol=1e-14, abs_tol=slack)


@pytest.mark.parametrize(
    ("unit", "wanted"),
    [("mm", "kg"), ("degC", "delta degC"), ("delta degF", "degF"), ("mm", "furlong"), ("furlong", "mm")],
)
def test_no_way_between_kinds(unit: str, wanted: str) -> None:
    with pytest.raises(ValueError, match="no way from"):
        Quantity(1.0, unit).to(wanted)


def test_the_refusal_names_what_can_be_had() -> None:
    with pytest.raises(ValueError, match="mm can be had in cm, m, in, ft"):
        Quantity(1.0, "mm").to("kg")


def test_as_text() -> None:
    assert str(Quantity(25.4, "mm")) == "25.4 mm"
    assert f"{Quantity(25.4321, 'mm'):.1f}" == "25.4 mm"
    assert f"{Quantity(25.4, 'mm')}" == "25.4 mm"


def test_not_finite_stays_so() -> None:
    assert math.isnan(Quantity(math.nan, "mm").to("in").value)


def test_is_frozen_and_comparable() -> None:
    quantity = Quantity(1.0, "mm")
    with pytest.raises(AttributeError):
        object.__getattribute__(quantity, "__setattr__")("value", 2.0)
    assert quantity == Quantity(1.0, "mm")
    assert hash(quantity) == hash(Quantity(1.0, "mm"))


def test_series() -> None:
    series = Series((25.4, None), "mm").to("in")
    assert series == Series((1.0, None), "in")
    assert len(series) == 2


def test_a_series_can_be_sent(client: Client) -> None:
    (request,) = REGISTRY.endpoints["cooling_curve"].examples.values()
    times, temperatures = (
        Series(tuple(request[name]["values"]), request[name]["unit"]) for name in ("times", "temperatures")
    )
    told = client.cooling_curve(times=times, temperatures=temperatures, ladder="Al-Si")
    assert told.result.liquidus is not None
    assert told.result.liquidus.value.to("degC").value == pytest.approx(614.0, abs=2.0)
