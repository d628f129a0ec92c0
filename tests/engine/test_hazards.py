"""Cautions and refusals: what in the stock, the alloy and the pour can hurt someone."""

import string

import pytest

from pourwright_service.engine import cautions
from pourwright_service.engine.answer import answer
from pourwright_service.engine.assess.hazards import (
    STEAM_RATIO,
    Percent,
    StockPiece,
    hazards_of_melt,
    hazards_of_pour,
    hazards_of_stock,
)
from pourwright_service.engine.ledger import Caution, Ledger, Say
from pourwright_service.engine.tables.alloys import ALLOYS
from pourwright_service.engine.tables.hazards import FORM_HAZARDS
from pourwright_service.engine.tables.sources import SOURCES


def of_stock(*items: tuple[str, dict[str, Percent], str], temperature: float | None = None) -> list[Caution]:
    ledger = Ledger()
    pieces = [
        StockPiece(name=name, pointer=f"/stock/{i}", composition=composition, form=form)
        for i, (name, composition, form) in enumerate(items)
    ]
    hazards_of_stock(pieces, ledger, pouring_temperature=temperature)
    return list(ledger.cautions.values())


def codes(found: list[Caution]) -> dict[str, str]:
    return {caution.code: caution.severity for caution in found}


def number(say: Say, part: str) -> float:
    value = say.parts[part]
    assert isinstance(value, tuple)
    return value[0]


# --- by element -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("composition", "expected"),
    [
        ({"Cu": 98.0, "Be": 1.9}, {"beryllium": "refuse"}),
        ({"Cu": 99.989, "Be": 0.011}, {"beryllium": "refuse"}),
        ({"Al": 99.0, "Be": 0.005}, {"beryllium": "care"}),
        ({"Zn": 99.0, "Cd": 0.02}, {"cadmium": "refuse", "zinc-fume": "care"}),
        ({"Cu": 99.0, "Cd": 0.01}, {"cadmium": "care"}),
        ({"Mg": 90.0, "Al": 9.0}, {"magnesium": "refuse"}),
        ({"Al": 90.0, "Mg": 10.0}, {"magnesium": "care"}),
        ({"Al": 93.0, "Si": 7.0, "Mg": 0.35}, {}),
        ({"Cu": 61.5, "Zn": 35.5, "Pb": 2.8}, {"zinc-fume": "care", "lead": "care"}),
        ({"Cu": 96.0, "Si": 3.0, "Mn": 0.9}, {}),
        ({}, {}),
    ],
)
def test_elements_of_the_stock(composition: dict[str, Percent], expected: dict[str, str]) -> None:
    """Refused above 0.01 % of beryllium or cadmium and 10 % of magnesium: thresholds of the house."""
    assert codes(of_stock(("offcuts", composition, ""))) == expected


def test_an_interval_is_judged_at_its_high_end() -> None:
    assert codes(of_stock(("springs", {"Be": (0.0, 2.0)}, ""))) == {"beryllium": "refuse"}
    assert codes(of_stock(("springs", {"Be": (0.001, None)}, ""))) == {"beryllium": "refuse"}
    assert codes(of_stock(("wire", {"Be": (0.0, 0.0)}, ""))) == {}


def test_a_caution_gives_the_numbers_of_this_request() -> None:
    (zinc,) = of_stock(("taps", {"Cu": 95.0, "Zn": 5.0}, ""), temperature=1450.0)
    assert number(zinc.why, "share") == 0.05
    assert number(zinc.why, "boiling") == pytest.approx(907.0 + 273.15)  # CRC tables, chemicals 1.5.2
    assert number(zinc.why, "hot") == 1450.0
    assert "hotter than that" in zinc.why.words
    (cool,) = of_stock(("ingot", {"Zn": 88.0}, ""), temperature=780.0)
    assert "below that" in cool.why.words


# --- by form ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "form", "expected"),
    [
        ("bucket", "galvanised sheet", {"galvanised": "refuse"}),
        ("chrome-plated taps", "", {"plated": "refuse"}),
        ("tube ends", "sealed", {"sealed": "refuse", "hollow": "care"}),
        ("swarf", "damp", {"damp": "refuse", "oily": "care"}),
        ("copper pipe", "open-ended", {"hollow": "care"}),
        ("gutters", "painted", {"painted": "care"}),
        ("beryllium copper springs", "", {"beryllium": "refuse"}),
        ("cadmium-plated bolts", "", {"cadmium": "refuse", "plated": "refuse"}),
        ("bolts", "not plated, dry", {}),
    ],
)
def test_words_of_the_stock(name: str, form: str, expected: dict[str, str]) -> None:
    assert codes(of_stock((name, {"Cu": 99.0}, form))) == expected


def test_an_analysis_says_more_than_a_name() -> None:
    assert codes(of_stock(("beryllium-free springs", {"Cu": 99.0, "Be": 0.0}, ""))) == {}


def test_every_form_of_the_table_has_a_builder() -> None:
    by_element = {"beryllium", "cadmium"}
    assert set(FORM_HAZARDS) - by_element == set(cautions.FORMS)


# --- gathering, subjects, verdicts --------------------------------------------------------------


def test_refusals_stand_alone_and_cautions_are_gathered() -> None:
    pieces: list[tuple[str, dict[str, Percent], str]] = [
        (f"brass {i}", {"Cu": 70.0, "Zn": 20.0 + i}, "") for i in range(5)
    ]
    found = of_stock(*pieces, ("springs", {"Be": 2.0}, ""), ("contacts", {"Be": 0.5}, ""))
    assert [(c.code, c.subject) for c in found] == [
        ("beryllium", "/stock/5"),
        ("beryllium", "/stock/6"),
        ("zinc-fume", "/stock"),
    ]
    zinc = found[-1]
    assert number(zinc.why, "share") == 0.24
    assert zinc.why.parts["name"] == "brass 0, brass 1, brass 2 and 2 more"


def test_one_item_keeps_its_own_place() -> None:
    ledger = Ledger()
    piece = StockPiece(name="taps", pointer="/stock/3", composition={"Zn": 30.0})
    hazards_of_stock([piece], ledger.seen_from(stock="/melt/stock"))
    assert [caution.subject for caution in ledger.cautions.values()] == ["/melt/stock/3"]


def test_a_refusal_fails_the_answer_and_speaks_first() -> None:
    ledger = Ledger()
    hazards_of_stock([StockPiece(name="springs", pointer="/stock/0", composition={"Be": 2.0})], ledger)
    closed = answer(ledger, {}, [], Say("All is well."))
    assert closed.verdict == "fail"
    assert closed.message.words.startswith("Do not melt")


@pytest.mark.parametrize("name", ALLOYS)
def test_no_alloy_of_the_table_is_refused(name: str) -> None:
    ledger = Ledger()
    alloy = ALLOYS[name]
    hazards_of_melt(alloy.nominal, alloy.value("pouring_high"), ledger, name=alloy.name)
    found = codes(list(ledger.cautions.values()))
    assert "refuse" not in found.values()
    assert ("zinc-fume" in found) == (alloy.nominal.get("Zn", 0.0) > 0.5)
    assert ("lead" in found) == (alloy.nominal.get("Pb", 0.0) > 0.05)


def test_an_alloy_of_beryllium_is_refused() -> None:
    ledger = Ledger()
    hazards_of_melt({"Cu": 98.0, "Be": 2.0}, 1400.0, ledger, name="C17200")
    assert codes(list(ledger.cautions.values())) == {"beryllium": "refuse"}


# --- the pour ---------------------------------------------------------------------------------


def test_every_pour_carries_the_common_cautions() -> None:
    ledger = Ledger()
    hazards_of_pour(ledger, pouring_temperature=1400.0, melt_mass=4.2, fuel="propane", lifted_mass=6.0)
    found = list(ledger.cautions.values())
    assert codes(found) == dict.fromkeys(("molten-metal", "moisture", "concrete-floor", "combustion"), "care")
    by_code = {caution.code: caution for caution in found}
    assert number(by_code["molten-metal"].why, "mass") == 4.2
    assert number(by_code["molten-metal"].why, "hot") == 1400.0
    assert by_code["combustion"].why.parts["fuel"] == "propane"


def test_an_electric_furnace_burns_nothing_and_a_heavy_pot_is_said() -> None:
    ledger = Ledger()
    hazards_of_pour(ledger, electric=True, lifted_mass=14.0)
    found = {caution.code: caution for caution in ledger.cautions.values()}
    assert "combustion" not in found
    assert number(found["heavy-lift"].why, "mass") == 14.0
    assert number(found["heavy-lift"].why, "limit") < 14.0


def test_steam_ratio() -> None:
    """958.37 and 0.5977 kg/m3 at 100 degC and 1 atm: IAPWS-95 as in chemicals 1.5.2."""
    assert pytest.approx(958.37 / 0.5977, rel=0.005) == STEAM_RATIO


def every_caution() -> list[Caution]:
    bad: dict[str, Percent] = {"Be": 0.005, "Cd": 0.005, "Mg": 5.0, "Zn": 5.0, "Pb": 5.0}
    worse: dict[str, Percent] = {"Be": 5.0, "Cd": 5.0, "Mg": 50.0}
    found = of_stock(("alpha", bad, ""), temperature=1500.0)
    found += of_stock(("beta", worse, " ".join(form.words[0] for form in FORM_HAZARDS.values())))
    found += of_stock(("beryllium and cadmium", {}, ""))
    for known in (1500.0, None):
        ledger = Ledger()
        hazards_of_pour(ledger, pouring_temperature=known, melt_mass=known, lifted_mass=50.0)
        found += ledger.cautions.values()
    return found


@pytest.mark.parametrize("caution", every_caution(), ids=lambda c: f"{c.code}-{c.severity}")
def test_a_caution_is_whole(caution: Caution) -> None:
    assert caution.severity in ("refuse", "care")
    assert caution.hazard
    assert "code" in caution.decides or "practice" in caution.decides or "authorit" in caution.decides
    assert caution.source in SOURCES
    for say in (caution.text, caution.why):
        named = {part[1] for part in string.Formatter().parse(say.words) if part[1]}
        assert named <= set(say.parts)
        assert say.words.endswith(".")
    assert caution.severity == "care" or caution.text.words.startswith(("Do not", "Before"))


def test_every_kind_of_caution_was_seen() -> None:
    assert {caution.code for caution in every_caution()} == {
        *("zinc-fume", "lead", "beryllium", "cadmium", "magnesium", "molten-metal", "moisture"),
        *("concrete-floor", "combustion", "heavy-lift", *cautions.FORMS),
    }
