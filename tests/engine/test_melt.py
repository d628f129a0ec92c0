"""Melt: second ways, limits, and what follows when one thing changes."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from pourwright_service.engine.answer import Answer
from pourwright_service.engine.assess.bottle import BottleInputs, assess_bottle
from pourwright_service.engine.assess.melt import FurnaceInputs, MetalHeat, MetalInputs, assess_melt
from pourwright_service.engine.decide.melt import MeltCase, choose_melt, decide_melt
from pourwright_service.engine.decide.metal import metal_of
from pourwright_service.engine.decide.shop import (
    BottleCase,
    CrucibleCase,
    FurnaceCase,
    IngotMouldCase,
    ShopCase,
    brim_volume_of_number,
)
from pourwright_service.engine.formulas import melt as formulas
from pourwright_service.engine.ledger import Ledger
from pourwright_service.engine.tables.alloys import ALLOYS
from pourwright_service.engine.tables.melting import (
    CRUCIBLE_MATERIALS,
    FUELS,
    SCRAP_FORMS,
    solid_heat_rise,
)
from tests.engine.table_cells import have

METAL = MetalHeat(
    mean_specific_heat=430.0,
    specific_heat_freezing=470.0,
    specific_heat_liquid=495.0,
    latent_heat=205e3,
    solidus=1139.0,
    liquidus=1189.0,
    start_temperature=293.0,
    pouring_temperature=1423.0,
)
FURNACE = FurnaceInputs(
    efficiency=(0.28, 0.15, 0.07),
    available_heat=0.4,
    cold=True,
    lining_mass=12.0,
    lining_specific_heat=1000.0,
    lining_temperature=858.0,
    start_temperature=293.0,
    crucible_mass=1.6,
    crucible_specific_heat=1000.0,
    crucible_temperature=1423.0,
    power=30e3,
    time=1500.0,
    heating_value=50.33e6,
    lump=0.5,
)
BOTTLE = BottleInputs(
    contents=8.0,
    count=1,
    diameter=0.3,
    shell_mass=10.0,
    start_temperature=288.0,
    gas_pressure=1e5,
    heat_transfer=(8.0, 14.0),
    drawn=1.5,
    drawn_most=2.5,
    time=2400.0,
    density=503.0,
    latent_heat=428e3,
    boiling_point=231.0,
    gas_constant=188.55,
    specific_heat=2400.0,
    shell_specific_heat=470.0,
)
SHOP = ShopCase(
    furnace=FurnaceCase(fuel="propane", power=30e3, lining_mass=12.0),
    crucibles=(
        CrucibleCase(name="small", brim_volume=0.8e-3, mass=1.6, condition="sound"),
        CrucibleCase(name="large", brim_volume=3e-3, mass=4.5, condition="sound"),
    ),
)
JOB = MeltCase(alloy="C87300", melt_mass=4.2, pouring_temperature=1423.15, shop=SHOP)


def verdicts(answer: Answer) -> dict[str, str]:
    return {check.kind.id: check.verdict for check in answer.checks}


def ask(**changes: Any) -> Answer:
    return decide_melt(replace(JOB, **changes))


# --- heat -------------------------------------------------------------------------------------


def test_the_heat_is_the_integral_of_the_heat_capacity() -> None:
    """Second way: the heat capacity by temperature, summed by a quadrature, and the latent heat."""

    def capacity(heat: float) -> float:
        return 430.0 if heat < METAL.solidus else 470.0 if heat < METAL.liquidus else 495.0

    area, _ = quad(capacity, 293.0, 1423.0, points=[METAL.solidus, METAL.liquidus])
    done = assess_melt(MetalInputs(mass=2.0, heats=1, heat=METAL), FURNACE)
    assert done.heat_content == pytest.approx(area + 205e3, rel=1e-9)
    assert done.metal_heat == pytest.approx(2.0 * (area + 205e3), rel=1e-9)


@given(start=st.floats(250.0, 1420.0))
def test_metal_that_starts_hotter_takes_less(start: float) -> None:
    cold, hot = (
        formulas.heat_content(430.0, 1139.0, heat, 470.0, 1189.0, 205e3, 495.0, 1423.0)
        for heat in (start, start + 1.0)
    )
    assert hot <= cold
    assert hot >= 205e3


def test_following_heats_take_no_heat_for_the_lining() -> None:
    inputs = MetalInputs(mass=4.0, heats=3, heat=METAL)
    done = assess_melt(inputs, FURNACE)
    stored = 12.0 * 1000.0 * (858.0 - 293.0) + 1.6 * 1000.0 * (1423.0 - 293.0)
    for first, following in zip(done.first, done.next, strict=True):
        assert first - following == pytest.approx(stored / 0.4, rel=1e-12)
    for every, first, following in zip(done.all, done.first, done.next, strict=True):
        assert every == pytest.approx(first + 2.0 * following, rel=1e-12)
    hot = assess_melt(inputs, replace(FURNACE, cold=False))
    assert hot.first == hot.next == done.next


def test_time_and_power_are_two_sides_of_one_heat() -> None:
    inputs = MetalInputs(mass=4.0, heats=1, heat=METAL)
    done = assess_melt(inputs, FURNACE)
    assert done.wanted_power is not None
    again = assess_melt(inputs, replace(FURNACE, power=done.wanted_power[1]))
    assert again.first_time is not None
    assert again.first_time[1] == pytest.approx(1500.0, rel=1e-12)


def test_the_last_lump_is_a_melt_when_it_is_all_and_superheat_when_it_is_none() -> None:
    for mass, wanted in ((4.0, 4.0 * 8e5), (0.0, 4.0 * 495.0 * 200.0)):
        time = formulas.last_lump_time(mass, 8e5, 4.0, 495.0, 1400.0, 1200.0, 0.15, 30e3)
        assert time == pytest.approx(wanted / (0.15 * 30e3), rel=1e-12)


def test_the_last_lump_follows_from_how_the_scrap_is_topped_up() -> None:
    """Equal shares of what does not go in at first; a tenth of the heat where nothing is known of it."""
    plain = {default.pointer: default.value for default in ask().defaults}
    assert plain["/last_lump"] == pytest.approx(0.42)
    loose = ask(form="cuttings")
    scrap = loose.result["scrap"]
    told = {default.pointer: default.value for default in loose.defaults}
    assert scrap["charges"] > 2
    assert told["/last_lump"] == pytest.approx((4.2 - scrap["first_charge"]) / (scrap["charges"] - 1))
    whole = ask(bulk_density=9000.0)
    assert whole.result["scrap"]["charges"] == 1
    assert whole.result["last_lump_to_pouring"] == pytest.approx(
        {end: whole.result["following_heat"]["time"][end] for end in ("low", "likely", "high")}
    )


def test_the_assessment_takes_arrays() -> None:
    """The sampler's way: many masses at once give what each gives alone."""
    masses: Any = np.array([1.0, 2.0, 5.0])
    many: Any = assess_melt(MetalInputs(mass=masses, heats=2, heat=METAL), FURNACE)
    for place, mass in enumerate(masses):
        one = assess_melt(MetalInputs(mass=float(mass), heats=2, heat=METAL), FURNACE)
        assert many.all[1][place] == pytest.approx(one.all[1], rel=1e-12)


# --- the bottle -------------------------------------------------------------------------------


@pytest.mark.parametrize("transfer", BOTTLE.heat_transfer)
@pytest.mark.parametrize("time", [300.0, 2400.0, 20000.0])
def test_the_interval_holds_what_a_solver_finds(transfer: float, time: float) -> None:
    """Second way: the bottle's heat balance with its liquid boiling away and its wall laid bare, stepped
    through. At the low end of what it is said to give it is not yet too cold, at the high end it is."""
    inputs = replace(BOTTLE, time=time)
    done = assess_bottle(inputs)
    assert done.over_time is not None

    def end(flow: float) -> float:
        def rate(seconds: float, now: np.ndarray) -> np.ndarray:
            liquid = 8.0 - inputs.drawn * seconds / time
            wall = transfer * (4.0 * liquid / (503.0 * 0.3) + np.pi * 0.3**2 / 4.0)
            return (wall * (288.0 - now) - flow * 428e3) / (liquid * 2400.0 + 10.0 * 470.0)

        return float(solve_ivp(rate, (0.0, time), [288.0], rtol=1e-9, atol=1e-9).y[0, -1])

    low, high = done.over_time
    assert end(low) >= done.coldest - 1e-4
    assert end(high) <= done.coldest + 1e-4


def test_a_bottle_gives_more_in_a_short_time_than_for_ever() -> None:
    flows = [assess_bottle(replace(BOTTLE, time=time)).over_time for time in (60.0, 600.0, 6e4, 6e7)]
    low = [flow[0] for flow in flows if flow is not None]
    assert low == sorted(low, reverse=True)
    assert len(low) == 4
    assert low[-1] == pytest.approx(assess_bottle(BOTTLE).lasting[0], rel=1e-6)


def test_a_bottle_in_the_cold_of_its_own_boiling_gives_nothing() -> None:
    """At -42 degC propane has the pressure of the air, and a burner gets none."""
    done = assess_bottle(replace(BOTTLE, start_temperature=230.0))
    assert done.lasting == (0.0, 0.0)
    assert {check.kind.id: check.verdict for check in done.checks}["bottle-vaporises"] == "fail"


def test_the_bottle_is_told_only_with_propane() -> None:
    bottle = BottleCase(weight=18.0, tare=12.0)
    with_gas = ask(shop=replace(SHOP, bottle=bottle))
    assert with_gas.result["bottle"]["contents"] == 6.0
    assert {"bottle-lasts", "bottle-vaporises"} <= set(verdicts(with_gas))
    coke = ask(shop=replace(SHOP, bottle=bottle, furnace=FurnaceCase(fuel="coke")))
    assert coke.result["bottle"] is None
    unknown = ask(shop=replace(SHOP, bottle=BottleCase(weight=18.0)))
    assert [missing.pointer for missing in unknown.missing] == ["/shop/bottle/tare"]
    assert unknown.verdict == "unknown"


# --- the crucible -----------------------------------------------------------------------------


@settings(max_examples=60)
@given(share=st.floats(0.03, 0.6), filling=st.floats(0.05, 0.9))
def test_topping_up_one_by_one(share: float, filling: float) -> None:
    """Second way: fill up what the melt leaves free, again and again."""
    molten, charges = 0.0, 0
    while molten < filling * (1.0 - 1e-9):
        molten += share * (1.0 - molten)
        charges += 1
    needed = formulas.charges_needed(filling, share)
    assert needed - 1e-6 <= charges <= needed + 1.0 + 1e-6


def test_the_smallest_whole_crucible_that_takes_it_is_chosen() -> None:
    assert ask().result["crucible"]["name"] == "small"
    cracked = (replace(SHOP.crucibles[0], condition="cracked"), SHOP.crucibles[1])
    assert ask(shop=replace(SHOP, crucibles=cracked)).result["crucible"]["name"] == "large"
    wanted = ask(shop=replace(SHOP, crucibles=cracked), crucible="small")
    assert verdicts(wanted)["crucible-sound"] == "fail"
    assert ask(melt_mass=60.0).result["crucible"]["name"] == "large"
    assert verdicts(ask(melt_mass=60.0))["crucible-fits"] == "fail"


@pytest.mark.parametrize(
    ("condition", "verdict"),
    [("sound", "pass"), ("glaze worn", "warn"), (None, "warn"), ("unknown", "warn"), ("cracked", "fail")],
)
def test_the_condition_decides(condition: str | None, verdict: str) -> None:
    """Common practice, no source: a cracked crucible is never used."""
    pot = replace(SHOP.crucibles[0], condition=condition)
    answer = ask(shop=replace(SHOP, crucibles=(pot,)))
    assert verdicts(answer)["crucible-sound"] == verdict
    words = next(check.message.words for check in answer.checks if check.kind.id == "crucible-sound")
    assert ("rings" in words) == (verdict == "warn")


@pytest.mark.parametrize(
    ("rated", "verdict"), [(1600.0, "pass"), (1473.15, "pass"), (1440.0, "warn"), (1400.0, "fail")]
)
def test_the_rating_is_compared_with_the_metal(rated: float, verdict: str) -> None:
    pot = replace(SHOP.crucibles[0], rated_to=rated)
    assert verdicts(ask(shop=replace(SHOP, crucibles=(pot,))))["crucible-rated"] == verdict


def test_iron_is_no_crucible_for_bronze_nor_for_induction() -> None:
    pot = replace(SHOP.crucibles[0], material="iron or steel")
    told = verdicts(
        ask(shop=replace(SHOP, crucibles=(pot,), furnace=FurnaceCase(fuel="induction", power=2e4)))
    )
    assert told["crucible-rated"] == "fail"
    assert told["crucible-suits-furnace"] == "fail"


@pytest.mark.parametrize(
    ("material", "rated_for", "verdict"),
    [
        ("clay graphite", None, "warn"),
        (None, None, "warn"),
        ("clay graphite", ("fuel", "induction"), "pass"),
        ("alumina", None, "pass"),
        ("clay graphite", ("fuel",), "fail"),
    ],
)
def test_induction_asks_for_the_maker_s_word(
    material: str | None, rated_for: tuple[str, ...] | None, verdict: str
) -> None:
    pot = replace(SHOP.crucibles[0], material=material, rated_for=rated_for)
    answer = ask(shop=replace(SHOP, crucibles=(pot,), furnace=FurnaceCase(fuel="induction")))
    assert verdicts(answer)["crucible-suits-furnace"] == verdict


@pytest.mark.parametrize(
    ("number", "means", "litres"),
    [("10", "litres", 10.0), ("#2.5", "litres", 2.5), ("A8", "kg of brass", 8 / (7.6 * 0.9))],
)
def test_a_number_by_what_it_counts(number: str, means: str, litres: float) -> None:
    assert brim_volume_of_number(number, means) == pytest.approx(litres * 1e-3, rel=1e-12)


@pytest.mark.parametrize("number", ["", "A", "8 or 10", "0", "ten", "1e3"])
def test_what_is_no_number_is_refused(number: str) -> None:
    with pytest.raises(ValueError, match=number or "^$"):
        brim_volume_of_number(number, "litres")


def test_additions_count_in_the_pot() -> None:
    plain, more = ask(), ask(addition=0.3)
    assert more.result["crucible"]["more_fits"] == pytest.approx(
        plain.result["crucible"]["more_fits"] - 0.3, abs=1e-9
    )


def test_two_may_lift_what_one_may_not_and_a_hoist_anything() -> None:
    """10 kg of metal and crucible for one: the table of hazards; two thirds of that each for two."""
    heavy = replace(JOB, melt_mass=8.0)
    told = [verdicts(decide_melt(replace(heavy, lifted_by=by))) for by in ("one", "two", "hoist")]
    assert told[0]["lift-by-hand"] == "fail"
    assert "lift-by-hand" not in told[2]
    light = replace(JOB, melt_mass=4.5)
    assert verdicts(decide_melt(light))["lift-by-hand"] == "pass"
    codes = {caution.code for caution in decide_melt(replace(heavy, lifted_by="hoist")).cautions}
    assert "heavy-lift" not in codes


# --- what is left -----------------------------------------------------------------------------


def test_ingots_take_all_that_is_left_or_it_is_said() -> None:
    moulds = (
        IngotMouldCase(name="bar", volume=0.1e-3, count=2),
        IngotMouldCase(name="muffin", volume=0.04e-3, count=3),
    )
    shop = replace(SHOP, ingot_moulds=moulds)
    answer = ask(shop=shop, poured_mass=2.2)
    rest = answer.result["rest"]
    room = sum(one["count"] * mould.volume * 0.9 for one, mould in zip(rest["ingots"], moulds, strict=True))
    density = metal_of("C87300", {}, Ledger()).get("density_liquid")
    assert density is not None
    assert rest["left"] == pytest.approx(2.0)
    assert room >= 2.0 / density
    assert rest["left_over_volume"] == 0.0
    assert verdicts(answer)["ingot-moulds-take-rest"] == "pass"
    assert "cold-ingot-mould" in {caution.code for caution in answer.cautions}
    few = ask(shop=replace(shop, ingot_moulds=moulds[1:]), poured_mass=2.2)
    assert verdicts(few)["ingot-moulds-take-rest"] == "fail"
    assert few.result["rest"]["left_over_volume"] == pytest.approx(2.0 / density - 3 * 0.9 * 0.04e-3)


def test_too_little_metal_for_the_moulds() -> None:
    assert verdicts(ask(poured_mass=5.0))["melt-enough"] == "fail"


# --- whole answers ----------------------------------------------------------------------------


@pytest.mark.parametrize("alloy", sorted(ALLOYS))
@pytest.mark.parametrize("fuel", sorted(FUELS))
def test_every_alloy_with_every_fuel(alloy: str, fuel: str) -> None:
    """A heat content that physics leaves room for, and ranges in order."""
    answer = ask(alloy=alloy, pouring_temperature=None, shop=replace(SHOP, furnace=FurnaceCase(fuel=fuel)))
    if answer.missing:
        pytest.fail(f"{alloy}: {[missing.pointer for missing in answer.missing]}")
    result = answer.result
    assert 40e3 < result["heat_content"] < 1.6e6
    energy = result["first_heat"]["energy"]
    assert result["metal_heat"] < energy["low"] <= energy["likely"] <= energy["high"]
    assert (result["first_heat"]["fuel_mass"] is None) == (fuel in ("electric", "induction"))


def test_without_a_furnace_the_heat_alone_is_told() -> None:
    answer = decide_melt(MeltCase(alloy="A356", melt_mass=2.0))
    assert answer.verdict == "pass"
    assert answer.result["metal_heat"] == pytest.approx(2.0 * answer.result["heat_content"])
    assert "first_heat" not in answer.result or answer.result["first_heat"] is None


def test_a_metal_that_nobody_knows_is_asked_for() -> None:
    answer = decide_melt(MeltCase(melt_mass=2.0))
    assert answer.verdict == "unknown"
    assert answer.missing


def test_a_fire_in_a_room_is_refused_and_glowing_fuel_is_warned_of() -> None:
    def codes(fuel: str, place: str | None) -> dict[str, str]:
        shop = replace(SHOP, furnace=FurnaceCase(fuel=fuel), place=place)
        return {caution.code: caution.severity for caution in ask(shop=shop).cautions}

    assert codes("propane", "indoors")["carbon-monoxide"] == "refuse"
    assert codes("charcoal", "outdoors")["carbon-monoxide"] == "care"
    assert "carbon-monoxide" not in codes("propane", "outdoors")
    assert "carbon-monoxide" not in codes("electric", "indoors")
    assert "combustion" not in codes("electric", "indoors")
    assert codes("propane", None)["gas-bottle"] == "care"


def test_more_power_or_more_time_is_never_worse() -> None:
    order = {"fail": 0, "warn": 1, "pass": 2}
    for key, values in (("power", (2e3, 1e4, 2e4, 5e4, 2e5)), ("time", (300.0, 900.0, 1800.0, 7200.0))):
        told = []
        for value in values:
            furnace = FurnaceCase(fuel="propane", power=value if key == "power" else 3e4)
            time = value if key == "time" else 1800.0
            told.append(verdicts(ask(time=time, shop=replace(SHOP, furnace=furnace)))["furnace-power"])
        ranks = [order[verdict] for verdict in told]
        assert ranks == sorted(ranks)
        assert len(set(told)) > 1


@pytest.mark.parametrize(
    ("price", "kind"),
    [("fuel_price", "mass"), ("fuel_volume_price", "volume"), ("fuel_energy_price", "energy")],
)
def test_cost_is_what_is_bought_times_its_price(price: str, kind: str) -> None:
    furnace = FurnaceCase(fuel="diesel", **{price: 2.0})
    result = ask(shop=replace(SHOP, furnace=furnace)).result
    bought = {
        "mass": result["all_heats"]["fuel_mass"],
        "volume": result["fuel_volume"],
        "energy": result["all_heats"]["energy"],
    }[kind]
    for end in ("low", "likely", "high"):
        assert result["cost"][end] == pytest.approx(2.0 * bought[end], rel=1e-12)


def test_a_larger_request_asks_with_its_own_places() -> None:
    """A plan may have a melt worked out with floats that it has resolved."""
    ledger = Ledger()
    metal = metal_of("C87300", {}, ledger)
    found = choose_melt(replace(JOB, properties={}), metal, ledger.seen_from(shop="/shop", _="/melt"))
    assert found.lifted_mass == pytest.approx(4.2 + 1.6 + 1.5)
    assert "/melt/start_temperature" in ledger.defaults
    assert "/shop/fullest_crucible" in ledger.defaults


# --- tables -----------------------------------------------------------------------------------


def test_fuels_are_in_order() -> None:
    for name, cells in FUELS.items():
        figures = [cells[column].value for column in ("efficiency_low", "efficiency", "efficiency_high")]
        assert figures == sorted(figures), name
        assert figures[-1] <= cells["available_heat"].value <= 1.0, name
        if "net_heating_value" in cells:
            assert 0.88 < cells["net_heating_value"].value / cells["heating_value"].value < 0.96, name


def test_scrap_lies_looser_than_the_densest_balls() -> None:
    """Equal balls fill at most pi/sqrt(18) = 74 % (Kepler; Hales 2005)."""
    for form in SCRAP_FORMS.values():
        assert 0.0 < form.bulk_share.value < np.pi / np.sqrt(18.0), form.id


def test_words_for_scrap_and_crucibles_are_used_once() -> None:
    for table in (SCRAP_FORMS, CRUCIBLE_MATERIALS):
        words = [word for one in table.values() for word in (one.id, *one.names)]
        assert len(words) == len(set(words))


def test_every_family_of_alloys_has_its_rise() -> None:
    families = {alloy.family for alloy in ALLOYS.values()}
    assert all(solid_heat_rise(family) is not None for family in families)


def test_crucibles_outlast_their_metals() -> None:
    hottest = max(have(alloy, "liquidus") for alloy in ALLOYS.values() if alloy.family in ("copper", "iron"))
    for name in ("clay graphite", "silicon carbide", "alumina"):
        assert CRUCIBLE_MATERIALS[name].rated_to.value > hottest + 100.0
