"""Sentences round the way people do."""

import math

import pytest

from pourwright_service.api.quantities import View
from pourwright_service.api.sentences import render, say_quantity
from pourwright_service.engine.ledger import Say

METRIC = [
    (0.0254, "length", "25.4 mm"),
    (0.123456, "length", "123 mm"),
    (1.5, "length", "1500 mm"),
    (12.3, "length", "12.3 m"),
    (0.0, "length", "0 mm"),
    (-0.0031, "length", "-3.1 mm"),
    (2.9e-4, "area", "2.9 cm²"),
    (5e-5, "area", "50 mm²"),
    (6e-4, "volume", "600 cm³"),
    (1.2e-3, "volume", "1.2 L"),
    (3.8, "mass", "3.8 kg"),
    (0.0451, "mass", "45.1 g"),
    (12345.0, "mass", "12300 kg"),
    (4.234, "time", "4.2 s"),
    (4.0, "time", "4 s"),
    (0.25, "time", "0.25 s"),
    (45.67, "time", "45.7 s"),
    (149.6, "time", "2.5 min"),
    (720.0, "time", "12 min"),
    (5400.0, "time", "90 min"),
    (3600.0 * 5.2, "time", "5.2 h"),
    (1423.15, "temperature", "1150 °C"),
    (283.15, "temperature_difference", "283 K"),
    (0.5, "velocity", "0.5 m/s"),
    (0.016, "velocity", "16 mm/s"),
    (8523.0, "density", "8520 kg/m³"),
    (2.4e6, "mould_constant", "4 min/cm²"),
    (0.05, "fraction", "5 %"),
    (95.62, "percent", "95.6 %"),
    (1.2345, "ratio", "1.23"),
    (3.0, "count", "3"),
    (43.4, "money", "43.40 EUR"),
    (2.0, "price", "2.00 EUR/kg"),
    (1.5e-9, "ratio", "1.50e-09"),
    (math.nan, "length", "an unknown amount"),
]


@pytest.mark.parametrize(("value", "kind", "words"), METRIC)
def test_metric(value: float, kind: str, words: str) -> None:
    assert say_quantity(value, kind, View("metric", "EUR")) == words


US = [
    (0.0254, "length", "1 in"),
    (0.3048, "length", "12 in"),
    (6.096, "length", "20 ft"),
    (0.45359237, "mass", "1 lb"),
    (0.1, "mass", "3.53 oz"),
    (1423.15, "temperature", "2102 °F"),
    (10.0, "temperature_difference", "18 Fahrenheit degrees"),
    (0.5, "velocity", "1.64 ft/s"),
    (2.0, "price", "0.91/lb"),
    (3.785411784e-3, "volume", "231 in³"),
]


@pytest.mark.parametrize(("value", "kind", "words"), US)
def test_us(value: float, kind: str, words: str) -> None:
    assert say_quantity(value, kind, View("us")) == words


def test_a_sentence_takes_text_and_numbers() -> None:
    said = Say("Make {what} {height} tall.", what="the sprue", height=(0.1501, "length"))
    assert render(said) == "Make the sprue 150 mm tall."
    assert render(said, "us") == "Make the sprue 5.91 in tall."


def test_a_sentence_without_parts_is_left_alone() -> None:
    assert render(Say("Braces { and } stay.")) == "Braces { and } stay."
