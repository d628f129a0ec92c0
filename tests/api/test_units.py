"""The conversion table against published factors and against pint's own definitions."""

import math
from fractions import Fraction
from typing import Any

import pint
import pytest

from pourwright_service.api.quantities import read
from pourwright_service.api.units import DECLARED, UNITS
from pourwright_service.engine.kinds import KINDS

# NIST Special Publication 811 (2008), appendix B.8 and B.9: exact factors in bold there are exact
# here; the others are printed to seven digits.
PUBLISHED = [
    ("length", "1 in", 0.0254),
    ("length", "1 ft", 0.3048),
    ("area", "1 in^2", 6.4516e-4),
    ("area", "1 ft^2", 9.290304e-2),
    ("volume", "1 in^3", 1.6387064e-5),
    ("volume", "1 ft^3", 2.831685e-2),
    ("volume", "1 US gal", 3.785412e-3),
    ("volume", "1 qt", 9.463529e-4),
    ("volume", "1 cup", 2.365882e-4),
    ("mass", "1 lb", 4.5359237e-1),
    ("mass", "1 oz", 2.834952e-2),
    ("mass", "1 oz t", 3.110348e-2),
    ("density", "1 lb/in^3", 2.767990e4),
    ("density", "1 lb/ft^3", 1.601846e1),
    ("specific_heat", "1 Btu/(lb degF)", 4.1868e3),
    ("specific_heat", "1 cal/(g degC)", 4.184e3),
    ("latent_heat", "1 Btu/lb", 2.326e3),
    ("latent_heat", "1 cal/g", 4.184e3),
    ("conductivity", "1 Btu/(h ft degF)", 1.730735),
    ("diffusivity", "1 ft^2/h", 2.58064e-5),
    ("force", "1 lbf", 4.448222),
    ("force", "1 kgf", 9.80665),
    ("pressure", "1 psi", 6.894757e3),
    ("pressure", "1 kgf/cm^2", 9.80665e4),
    ("pressure", "1 bar", 1e5),
    ("surface_tension", "1 dyn/cm", 1e-3),
    ("viscosity", "1 cP", 1e-3),
    ("heat_flux", "1 Btu/(h ft^2)", 3.154591),
    ("energy", "1 Btu", 1.055056e3),
    ("energy", "1 kWh", 3.6e6),
    ("power", "1 Btu/h", 2.930711e-1),
    ("angle", "180 deg", 3.141592653589793),
    ("temperature", "212 degF", 373.15),
    ("temperature", "100 degC", 373.15),
    ("temperature_difference", "9 delta degF", 5.0),
]


@pytest.mark.parametrize(("kind", "text", "si"), PUBLISHED)
def test_published_factors(kind: str, text: str, si: float) -> None:
    assert math.isclose(read(kind, text), si, rel_tol=5e-7)


def test_every_kind_has_units_or_is_bare() -> None:
    bare = {"money", "ratio", "percent", "count"}
    assert set(UNITS) | bare == set(KINDS)
    for kind, listed in UNITS.items():
        if kind != "fraction" and not kind.endswith("price"):
            assert listed.si.spelling == KINDS[kind].unit, kind
        assert (listed.si.num, listed.si.den, listed.si.off_num) == (1, 1, 0), kind


@pytest.fixture(scope="module")
def registry() -> Any:
    """Pint with its own definitions, in fractions; the service gives it only a few of its own."""
    return pint.UnitRegistry(non_int_type=Fraction)


@pytest.mark.parametrize("kind", sorted(DECLARED))
def test_exactly_as_pint_has_it(kind: str, registry: Any) -> None:
    si, _, _, declared = DECLARED[kind]
    names = dict(entry.split(" = ") for entry in declared.split(" | "))
    for spelling, name in names.items():
        unit = UNITS[kind].units[spelling]
        for number in (Fraction(0), Fraction(1), Fraction("37.5")):
            theirs = registry.Quantity(number, name).to(names[si]).magnitude
            assert number * Fraction(unit.num, unit.den) + Fraction(unit.off_num, unit.off_den) == theirs
            assert read(kind, f"{float(number)} {spelling}") == float(theirs)
