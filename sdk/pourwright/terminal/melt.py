"""A melt, for a terminal: heat and fuel, time, crucible, gas bottle, what is left."""

from __future__ import annotations

from typing import Protocol

from ..models.melt import MeltHeatResult, MeltResult
from ..quantity import Quantity
from .figures import shown
from .layout import pairs, table, titled
from .rows import Rows


class Span(Protocol):
    """Least, likely, most."""

    @property
    def low(self) -> Quantity: ...
    @property
    def likely(self) -> Quantity: ...
    @property
    def high(self) -> Quantity: ...


def melt_lines(melt: MeltResult, width: int) -> list[str]:
    """The tables of a melt."""
    return [
        *titled("melt", pairs(_metal(melt), width)),
        *titled("fuel and time", _heats(melt, width)),
        *titled("what that takes", pairs(_needs(melt), width)),
        *titled("crucible", pairs(_crucible(melt), width)),
        *titled("gas bottle", pairs(_bottle(melt), width)),
        *titled("after pouring", pairs(_rest(melt), width)),
    ]


def span(found: Span | None) -> str:
    """What is likely, and its ends where they differ."""
    if found is None:
        return "-"
    if found.low == found.high:
        return shown(found.likely)
    return f"{shown(found.likely)} ({shown(found.low)} to {shown(found.high)})"


def _metal(melt: MeltResult) -> Rows:
    rows = Rows()
    rows.say("metal of a heat", "{}, from {}", melt.heat_mass, melt.start_temperature)
    rows.say("leaves the furnace at", "{}", melt.pouring_temperature)
    rows.say("takes up", "{}, {}", melt.metal_heat, melt.heat_content)
    if melt.lining_heat is not None and melt.lining_heat.value:
        rows.say("a cold lining takes up", "{}", melt.lining_heat)
    if melt.crucible_heat is not None and melt.crucible_heat.value:
        rows.say("a cold crucible takes up", "{}", melt.crucible_heat)
    if melt.efficiency is not None:
        rows.say("of the heat paid for, the metal gets", "{}", span(melt.efficiency))
    return rows


def _heats(melt: MeltResult, width: int) -> list[str]:
    listed: list[tuple[str, MeltHeatResult | None]] = [("first heat", melt.first_heat)]
    listed.append(("following heat", melt.following_heat))
    if melt.heats is not None and melt.heats > 1:
        listed.append((f"all {melt.heats} heats", melt.all_heats))
    cells = [
        [name, span(heat.energy), span(heat.fuel_mass), span(heat.time)]
        for name, heat in listed
        if heat is not None
    ]
    heads = ["", "heat paid for", melt.fuel or "fuel", "time"]
    kept = [place for place in range(len(heads)) if any(row[place] != "-" for row in cells)]
    return table([heads[place] for place in kept], [[row[place] for place in kept] for row in cells], width)


def _needs(melt: MeltResult) -> Rows:
    named = {
        "volume of the fuel": span(melt.fuel_volume),
        "cost": span(melt.cost),
        "power for the time wanted": span(melt.power_needed),
        "last lump to pouring heat": span(melt.last_lump_to_pouring),
    }
    return Rows([(name, words) for name, words in named.items() if words != "-"])


def _crucible(melt: MeltResult) -> Rows:
    rows = Rows()
    if melt.scrap is not None:
        rows.say("charge as it lies", "{}, {}", melt.scrap.bulk_volume, melt.scrap.bulk_density)
        rows.say("filled up", "{} times, {} at first", melt.scrap.charges, melt.scrap.first_charge)
    pot = melt.crucible
    if pot is not None:
        rows.say("crucible", "{}, {} to the brim, {}", pot.name, pot.brim_volume, pot.condition)
        rows.say("filled to", "{} with {} of metal", pot.filling, pot.volume)
        rows.say("more fits", "{} (it holds {})", pot.more_fits, pot.holds)
        rows.say("rated to", "{}", pot.rated_to)
        rows.say("lifted", "{}, tongs included", pot.lifted_mass)
    return rows


def _bottle(melt: MeltResult) -> Rows:
    rows = Rows()
    bottle = melt.bottle
    if bottle is None:
        return rows
    rows.say("in a bottle", "{}; {} left ({} coupled)", bottle.contents, bottle.left, bottle.count)
    rows.say("drawn from one", "{}", _hourly(bottle.draw_off))
    rows.say(
        "it gives for this time", "{} to {}", _hourly(bottle.draw_off_low), _hourly(bottle.draw_off_high)
    )
    rows.say(
        "it gives for ever",
        "{} to {}",
        _hourly(bottle.lasting_draw_off_low),
        _hourly(bottle.lasting_draw_off_high),
    )
    rows.say("too cold below", "{}", bottle.coldest)
    rows.say("it is so cold after", "{} at the earliest", bottle.too_cold_after_low)
    return rows


def _hourly(flow: Quantity | None) -> str | None:
    """A flow of gas by the hour."""
    if flow is None or flow.value is None:
        return None
    mass, _, _ = flow.unit.partition("/")
    return f"{shown(Quantity(flow.value * 3600.0, mass))} an hour"


def _rest(melt: MeltResult) -> Rows:
    rows = Rows()
    rest = melt.rest
    if rest is None:
        return rows
    rows.say("left in the pot", "{}", rest.left)
    for ingot in rest.ingots:
        rows.say(f"ingot mould {ingot.name}", "{} filled", ingot.count)
    if rest.left_over_volume.value:
        rows.say("no mould takes", "{}", rest.left_over_volume)
    return rows
