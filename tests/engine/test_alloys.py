"""Which alloys fit a need: the rules against what the trade and the tables' sources say."""

import pytest

from pourwright_service.api.sentences import render
from pourwright_service.engine.decide.alloys import (
    QUIET_ZINC,
    AlloysCase,
    Judged,
    choose_alloys,
    figures_in_use,
    hazards_of_alloy,
    quiet_zinc,
)
from pourwright_service.engine.tables.alloys import ALLOYS
from pourwright_service.engine.tables.zinc import zinc_points


def judged(case: AlloysCase) -> dict[str, Judged]:
    return {each.alloy.id: each for each in choose_alloys(case)}


def said(each: Judged) -> str:
    return " ".join(render(say) for say in each.says)


def test_nothing_asked_leaves_nothing_out() -> None:
    found = judged(AlloysCase())
    assert list(found) == list(ALLOYS)
    assert all(each.verdict == "fits" and not each.says for each in found.values())


def test_silicon_bronze_pours_below_1100_but_not_thin() -> None:
    """The ingot maker's range: heavy castings 1850 to 1950 degF, light ones 2000 to 2150 degF."""
    silicon_bronze = judged(AlloysCase(pours_below=1373.15))["C87300"]
    assert silicon_bronze.verdict == "fits"
    assert "1177 °C" in said(silicon_bronze)
    assert judged(AlloysCase(pours_below=1283.0))["C87300"].verdict == "left out"
    hot = judged(AlloysCase(pours_below=1500.0))["C87300"]
    assert (hot.verdict, hot.says) == ("fits", ())


def test_copper_and_iron_do_not_pour_below_1100() -> None:
    """Copper melts at 1084.6 degC (chemicals 1.5.2), cast iron near 1175: common practice, no source."""
    found = judged(AlloysCase(pours_below=1373.15))
    assert found["C11000"].verdict == found["grey iron"].verdict == "left out"
    assert "Not all liquid" in said(found["grey iron"])


def test_an_alloy_without_a_range_is_undecided_with_the_range_by_rule() -> None:
    """By rule 60 to 200 K above the liquidus, for C90700 999 degC."""
    gear_bronze = judged(AlloysCase(pours_below=1373.15))["C90700"]
    assert gear_bronze.verdict == "unknown"
    assert "1059 °C to 1199 °C" in said(gear_bronze)
    assert judged(AlloysCase(pours_below=1250.0))["C90700"].verdict == "left out"


@pytest.mark.parametrize(
    ("alloy", "verdict"),
    [
        ("C83600", "left out"),  # 85-5-5-5: five per cent of lead
        ("C36000", "left out"),
        ("lead", "left out"),
        ("C87300", "left out"),  # CDA sheet: 0.2 % at most
        ("C26000", "left out"),  # ASTM B19: 0.07 % at most
        ("C22000", "fits"),  # 0.05 % at most
        ("C95400", "fits"),
        ("pewter", "fits"),  # ASTM B560: 0.05 % at most
    ],
)
def test_no_lead(alloy: str, verdict: str) -> None:
    assert judged(AlloysCase(no_lead=True))[alloy].verdict == verdict


def test_lead_that_is_let_in_is_told_from_lead_that_is_added() -> None:
    found = judged(AlloysCase(no_lead=True))
    assert said(found["C87300"]) == "Up to 0.2 % of lead is let in, though none is added."
    assert said(found["C83600"]) == "Up to 6 % of lead."
    assert said(found["C95400"]) == (
        "Lead is not named in its limits, which let in 0.5 % of unnamed elements."
    )


def test_a_limit_of_ones_own_for_lead() -> None:
    """0.25 %: what 42 U.S.C. 300g-6(d) calls lead free for wetted surfaces of pipes and fittings."""
    found = judged(AlloysCase(lead_at_most=0.0025))
    assert found["C87300"].verdict == "fits"
    assert found["C90500"].verdict == "left out"
    stricter = judged(AlloysCase(lead_at_most=0.0025, no_lead=True))
    assert stricter["C87300"].verdict == "left out"


@pytest.mark.parametrize(
    ("alloy", "verdict"),
    [
        ("C26000", "left out"),
        ("C21000", "left out"),
        ("C90500", "left out"),  # gunmetal, 1 to 3 % of zinc
        ("C87300", "fits"),  # 0.25 % at most
        ("C95400", "fits"),
        ("A356", "fits"),  # 0.1 % at most
        ("Zamak 3", "fits"),  # poured at 395 to 425 degC
        ("ZA-12", "left out"),  # up to 565 degC
        ("ZA-27", "left out"),
    ],
)
def test_no_zinc_fume(alloy: str, verdict: str) -> None:
    assert judged(AlloysCase(no_zinc_fume=True))[alloy].verdict == verdict


def test_zinc_alloys_are_never_called_harmless() -> None:
    assert "overheated, above 450 °C" in said(judged(AlloysCase(no_zinc_fume=True))["Zamak 3"])


def test_the_quiet_temperature_is_the_tables_own() -> None:
    points = zinc_points(100.0)
    assert [p.temperature for p in points if p.pressure.value <= QUIET_ZINC][-1] == quiet_zinc()
    assert any(p.pressure.value > QUIET_ZINC for p in points)


def test_boats_are_not_made_of_yellow_brass() -> None:
    """Dezincification of brass above 15 % zinc in sea water; bronzes and aluminium bronze last: common
    practice, no source."""
    found = judged(AlloysCase(sea_water="good"))
    assert all(found[name].verdict == "fits" for name in ("C87300", "C90300", "C95500", "535"))
    assert all(found[name].verdict == "left out" for name in ("C26000", "C36000", "319", "grey iron"))
    assert judged(AlloysCase(sea_water="fair"))["356"].verdict == "fits"


def test_short_freezing_ranges() -> None:
    """Pure metals and eutectics freeze short, tin bronze long: common practice, no source."""
    found = judged(AlloysCase(freezing_class="short"))
    assert all(found[name].verdict == "fits" for name in ("C11000", "lead", "413", "C95400"))
    assert all(found[name].verdict == "left out" for name in ("C90300", "C83600", "C87300"))
    assert said(found["C90300"]) == "Freezing range 146 K: long."


def test_reasons_of_several_filters_are_all_told() -> None:
    brass = judged(AlloysCase(no_lead=True, no_zinc_fume=True, sea_water="good"))["C36000"]
    assert len(brass.says) == 3


def test_an_alloy_in_doubt_is_left_out_for_what_is_certain() -> None:
    brass = judged(AlloysCase(pours_below=1373.15, no_lead=True))["C36000"]
    assert (brass.verdict, said(brass)) == ("left out", "Up to 3 % of lead.")


@pytest.mark.parametrize("alloy", ALLOYS)
def test_figures_in_use_are_not_the_tables_own(alloy: str) -> None:
    for name, found in figures_in_use(alloy).items():
        cell = ALLOYS[alloy].cells.get(name)
        assert cell is None or found is None or found.value != cell.value
        assert found is None or found.source


def test_hazards_go_by_the_most_that_is_let_in() -> None:
    """Alloy 535 may hold 6.2 to 7.5 % of magnesium (AA 535.0) and a trace of beryllium."""
    found = {each.thresholds.element: each for each in hazards_of_alloy(ALLOYS["535"])}
    assert found["Mg"].most == 7.5
    assert found["Mg"].caution is not None
    assert found["Mg"].caution.severity == "care"
    assert found["Be"].caution is not None
    assert found["Zn"].caution is None
