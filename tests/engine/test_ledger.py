"""The ledger of one answer: defaults, missing values, cautions, and where they belong."""

import pytest

from pourwright_service.engine.formula import recording
from pourwright_service.engine.ledger import Caution, Default, Ledger, MissingValue, Say


def caution(code: str = "zinc-fume", subject: str = "", severity: str = "care") -> Caution:
    text = Say("Zinc burns off as white smoke.")
    return Caution(
        code, "fume", severity, text, Say("The alloy holds zinc."), "you", "COMMON-PRACTICE", subject
    )


def test_a_callers_value_wins_and_leaves_no_default() -> None:
    ledger = Ledger()
    got = ledger.use("/gravity", 9.8, 9.80665, "acceleration", provenance="standard", source="S")
    assert got == 9.8
    assert ledger.defaults == {}


@pytest.mark.parametrize("given", [0.0, 0, False, ""])
def test_an_empty_looking_value_is_still_the_callers(given: object) -> None:
    ledger = Ledger()
    assert ledger.use("/x", given, 5.0, "length", provenance="rule", source="S") is given
    assert ledger.defaults == {}


def test_a_default_is_reported_where_it_could_have_been_given() -> None:
    ledger = Ledger()
    kept = {"provenance": "standard", "source": "S", "note": "mean", "spread": 0.003}
    got = ledger.use("/gravity", None, 9.80665, "acceleration", **kept)
    assert got == 9.80665
    assert ledger.defaults == {"/gravity": Default("/gravity", 9.80665, "acceleration", **kept)}


def test_the_working_knows_a_default() -> None:
    with recording() as recorder:
        Ledger().use("/gravity", None, 9.80665, "acceleration", provenance="standard", source="S")
        Ledger().use("/flag", None, True, "flag", provenance="rule", source="S")
    assert recorder.origins == {9.80665: "standard: /gravity"}


def test_a_part_of_a_larger_request_points_into_it() -> None:
    whole = Ledger()
    part = whole.seen_from(sections="/part/sections", properties="/properties", _="/riser")
    assert part.place("/sections/0/diameter") == "/part/sections/0/diameter"
    assert part.place("/sections") == "/part/sections"
    assert part.place("/sectionsize") == "/riser/sectionsize"
    assert part.place("/properties/density") == "/properties/density"
    assert part.place("/height_to_diameter") == "/riser/height_to_diameter"
    assert part.place("") == "/riser"
    part.use("/step", None, 0.001, "length", provenance="rule", source="S")
    part.lack("/sections", Say("Which sections?"))
    part.caution(caution())
    assert list(whole.defaults) == ["/riser/step"]
    assert list(whole.lacking) == ["/part/sections"]
    assert len(whole.cautions) == 1


def test_a_part_of_a_part_points_into_the_whole() -> None:
    part = Ledger().seen_from(sections="/part/sections", _="/riser")
    inner = part.seen_from(shape="/sections", _="/neck")
    assert inner.place("/shape/0") == "/part/sections/0"
    assert inner.place("/width") == "/riser/neck/width"


def test_a_view_without_a_place_of_its_own_keeps_pointers() -> None:
    assert Ledger().seen_from(sections="/part/sections").place("/gravity") == "/gravity"


def test_what_is_missing_is_named_once_with_the_first_reason() -> None:
    ledger = Ledger()
    first = ledger.lack("/alloy", Say("Which alloy?"))
    ledger.lack("/alloy", Say("Again."))
    assert list(ledger.lacking.values()) == [first]
    error = MissingValue(first)
    assert error.missing is first
    assert str(error) == "/alloy"


def test_a_caution_is_given_once_per_subject() -> None:
    ledger = Ledger()
    for subject in ("/stock/0", "/stock/0", "/stock/1"):
        ledger.caution(caution(subject=subject))
    assert [held.subject for held in ledger.cautions.values()] == ["/stock/0", "/stock/1"]


def test_sentences_join_and_keep_their_numbers() -> None:
    both = Say("Pour by {t}.", t=(4.2, "time")).then(Say("Sprue {h} tall.", h=(0.15, "length")))
    assert both.words == "Pour by {t}. Sprue {h} tall."
    assert both.parts == {"t": (4.2, "time"), "h": (0.15, "length")}


def test_sentences_that_share_a_name_for_different_numbers_do_not_mix_them() -> None:
    both = Say("Head {h}.", h=(0.15, "length")).then(Say("Sprue {h}, {hh}.", h=(0.2, "length"), hh="ok"))
    shown = both.words.format(**{k: v[0] if isinstance(v, tuple) else v for k, v in both.parts.items()})
    assert shown == "Head 0.15. Sprue 0.2, ok."
    same = Say("Head {h}.", h=(0.15, "length")).then(Say("Again {h}.", h=(0.15, "length")))
    assert same.words == "Head {h}. Again {h}."


def test_sentences_in_a_row_keep_their_own_numbers() -> None:
    first = Say("Pour in {t}.", t=(4.0, "time"))
    second = Say("It is solid after {t}, {t_} in the riser.", t=(60.0, "time"), t_=(90.0, "time"))
    both = first.then(second)
    order = both.words.replace("{", " ").replace("}", " ").split()
    numbers = [both.parts[word] for word in order if word in both.parts]
    assert numbers == [(4.0, "time"), (60.0, "time"), (90.0, "time")]
