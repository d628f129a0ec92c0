"""Exposure limits: units, orderings, and the figures that public pages print twice."""

from itertools import groupby

import pytest

from pourwright_service.engine.tables.elements import ELEMENTS
from pourwright_service.engine.tables.exposure import (
    AVERAGING,
    EVERY_FORM,
    KINDS,
    LIMITS,
    SUBSTANCES,
    ExposureLimit,
    find_substance,
    limit_for,
    limits_of,
    substance_names,
)
from pourwright_service.engine.tables.hazards import ELEMENT_HAZARDS
from pourwright_service.engine.tables.reading import to_si

AUTHORITIES = {"OSHA", "NIOSH", "ACGIH"}
MEMORY = {"carbon monoxide/NIOSH/immediate danger", "sulphur dioxide/ACGIH/limit"}


def lowest(substance: str, averaging: str, **more: str) -> float:
    found = limit_for(substance, averaging, **more)
    assert found is not None, (substance, averaging, more)
    return found.cell.printed


@pytest.mark.parametrize("limit", LIMITS.values(), ids=list(LIMITS))
def test_a_limit_is_told_in_the_words_of_the_table(limit: ExposureLimit) -> None:
    assert limit.substance in SUBSTANCES
    assert limit.authority in AUTHORITIES
    assert limit.kind in KINDS
    assert limit.averaging in AVERAGING
    assert limit.averaging_time == {"8 h": 8 * 3600.0, "15 min": 15 * 60.0, "ceiling": None}[limit.averaging]
    gas = limit.form == limit.fraction == "gas"
    assert gas or (limit.form in ("fume", "dust", EVERY_FORM))
    assert gas or limit.fraction in ("total", "inhalable", "respirable")
    assert (limit.volume_share is not None) == gas == (limit.concentration is None)
    assert limit.cell.place
    assert limit.year == "" or 1970 <= int(limit.year) <= 2026


def test_every_substance_has_a_limit_for_a_working_day() -> None:
    for substance in SUBSTANCES:
        assert limit_for(substance, "8 h") is not None, substance


def test_what_the_stock_is_refused_or_warned_for_has_limits() -> None:
    elements = {substance.element for substance in SUBSTANCES.values()}
    assert {"Zn", "Pb", "Cd", "Be"} <= elements
    assert set(ELEMENT_HAZARDS) - elements == {"Mg"}
    assert elements - {""} <= set(ELEMENTS)


def test_what_is_from_memory_is_little_and_marked() -> None:
    found = {
        f"{x.substance}/{x.authority}/{x.kind}" for x in LIMITS.values() if x.cell.grade == "from memory"
    }
    assert found == MEMORY


def test_a_longer_time_or_a_coarser_kind_allows_no_more() -> None:
    """For one substance, form, fraction and authority: action level <= day <= quarter hour <= ceiling <=
    what is dangerous at once (the definitions of the three authorities)."""

    def order(limit: ExposureLimit) -> tuple[int, int]:
        return KINDS.index(limit.kind) if limit.kind != "action level" else -1, list(AVERAGING).index(
            limit.averaging
        )

    def whose(limit: ExposureLimit) -> tuple[str, ...]:
        return limit.substance, limit.form, limit.fraction, limit.authority

    pairs = 0
    for _, group in groupby(sorted(LIMITS.values(), key=whose), key=whose):
        ordered = [limit.cell.value for limit in sorted(group, key=order)]
        assert ordered == sorted(ordered)
        pairs += len(ordered) - 1
    assert pairs > 20


def test_a_part_of_the_dust_may_be_no_more_than_the_whole() -> None:
    for limit in LIMITS.values():
        for other in LIMITS.values():
            same = ("substance", "form", "authority", "kind", "averaging")
            if all(getattr(limit, name) == getattr(other, name) for name in same):
                rank = ("respirable", "inhalable", "total", "gas").index
                if rank(limit.fraction) < rank(other.fraction):
                    assert limit.cell.value < other.cell.value


@pytest.mark.parametrize(
    ("gas", "grams", "ppm", "milligrams"),
    [
        # one page prints both of each pair; 24.45 L/mol at 25 degC and 760 torr (29 CFR 1910.1000, note a)
        ("CO", 28.01, 35, 40),  # NIOSH, May 1994
        ("CO", 28.01, 200, 229),
        ("CO", 28.01, 25, 29),
        ("SO2", 64.06, 2, 5.2),  # NIOSH, May 1994, ACGIH
        ("SO2", 64.06, 5, 13),
    ],
)
def test_shares_and_concentrations_against_pairs_that_one_page_prints(
    gas: str, grams: float, ppm: float, milligrams: float
) -> None:
    share = to_si(ppm, "ppm")
    assert share * grams / 1000 / 0.02445 == pytest.approx(to_si(milligrams, "mg/m3"), rel=0.02), gas


def test_lead_in_micrograms_is_lead_in_milligrams() -> None:
    """50 micrograms per cubic metre (OSHA, interpretation of 1990) is 0.05 mg/m3."""
    found = limit_for("lead", "8 h")
    assert found is not None
    assert found.cell.value == pytest.approx(to_si(0.05, "mg/m3"))


def test_the_lowest_limit_of_a_substance() -> None:
    """OSHA's pages on zinc oxide fume, copper fume and manganese; 29 CFR 1910.1048."""
    assert lowest("zinc oxide", "8 h") == 2
    assert lowest("zinc oxide", "8 h", authority="OSHA", form="fume") == 5
    assert lowest("zinc oxide", "15 min") == 10
    assert lowest("zinc oxide", "8 h", form="dust", authority="NIOSH") == 5
    assert lowest("copper", "8 h", form="fume") == 0.1
    assert lowest("copper", "8 h", form="dust") == 1
    assert lowest("cadmium", "8 h", form="fume") == 5
    assert lowest("manganese", "8 h") == 0.02
    assert lowest("manganese", "ceiling") == 5
    assert lowest("formaldehyde", "8 h", authority="OSHA") == 0.75
    assert limit_for("lead", "15 min") is None
    assert limit_for("cheese", "8 h") is None


def test_action_levels_and_dangers_are_no_limits() -> None:
    assert lowest("lead", "8 h") == 50
    assert limits_of("lead", "8 h")[0].kind == "action level"
    assert limit_for("copper", "ceiling") is None
    assert [x.kind for x in limits_of("copper", "ceiling")] == ["immediate danger"]


def test_substances_are_found_by_every_name() -> None:
    for name in substance_names():
        assert find_substance(name) is not None, name
    assert all(name.count(";") == 0 for name in substance_names())
    for text, id_ in (("Zn", "zinc oxide"), ("ZnO", "zinc oxide"), ("SiO2", "silica"), ("LEAD", "lead")):
        found = find_substance(text)
        assert found is not None
        assert found.id == id_
    assert find_substance("Co") is None  # cobalt is no carbon monoxide
    assert find_substance("") is None
    assert find_substance("cheese") is None
