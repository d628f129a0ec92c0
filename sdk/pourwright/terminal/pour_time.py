"""A pour time, told as a caster would: the window in a line, then how hot, by which laws, from which pot."""

from __future__ import annotations

from collections.abc import Sequence

from ..models.pour_time import (
    PotResult,
    PourTimeResult,
    PublishedLawResult,
    RuleResult,
    ThinnestWallResult,
    TradePouringResult,
)
from ..quantity import Quantity
from .figures import shown
from .layout import pairs, paragraph, stacked, table, titled
from .rows import Rows

_RULES = {
    "freezing": "thinnest section freezes",
    "rise": "metal rises too slowly",
    "gates": "gates too small",
}
_NOT_CHECKED = {
    "freezing": "freezing (say what the mould is made of)",
    "rise": "the rise of the metal (say how tall the casting stands: height)",
    "gates": "room for gates (say how much edge they may have: gate_edge)",
}


def pour_time_lines(pour: PourTimeResult, width: int) -> list[str]:
    """The tables of a pour time; what was not computed is left out."""
    return [
        *titled("window", _window(pour, width)),
        *titled("pouring", pairs(_pouring(pour), width)),
        *titled("walls that fill", pairs(_walls(pour.thinnest_wall), width)),
        *titled("published laws", _laws(pour.published_laws, width)),
        *titled("pot", _pot(pour.pot, width)),
        *titled("how hot the trade pours such metals", _practice(pour.pouring_practice, width)),
    ]


def time_rows(pour: PourTimeResult) -> Rows:
    """The pour time between its two ends, for a plan."""
    rows = Rows()
    rows.say("pour in", "{}", pour.pour_time)
    if pour.built_time != pour.pour_time:
        rows.say("as built, it fills in", "{}", pour.built_time)
    rows.say("no faster than", "{} (gates stay quiet)", pour.window.fastest)
    why = {"freezing": "the thinnest part freezes", "rise": "metal must rise fast enough to leave no laps"}
    rows.say("no slower than", "{} ({})", pour.window.slowest, why.get(pour.window.governs or ""))
    rows.say("that is", "{}", pour.pouring_rate)
    return rows


def _window(pour: PourTimeResult, width: int) -> list[str]:
    window = pour.window
    line = paragraph(window.in_words, width, first="  ", rest="  ") if window.in_words else []
    cells = [_rule(rule) for rule in window.rules]
    lines = table(["end", "rule", "by it", "sets the end", "known from"], cells, width)
    reasons = pairs([(rule.rule, rule.words) for rule in window.rules], width)
    rows = Rows()
    if window.not_checked:
        rows.append(("not looked at", ", ".join(_NOT_CHECKED.get(name, name) for name in window.not_checked)))
    return stacked(line, lines, reasons, pairs(rows, width))


def _rule(rule: RuleResult) -> list[str]:
    end = {"slow": "no slower", "fast": "no faster"}.get(rule.end, rule.end)
    name = _RULES.get(rule.rule, rule.rule)
    return [end, name, shown(rule.time), shown(rule.governs), rule.grade]


def _pouring(pour: PourTimeResult) -> Rows:
    rows = Rows()
    rows.say("pour in", "{}", pour.pour_time)
    rows.say("the laws alone say", "{}", pour.by_laws)
    rows.say("that is", "{} of {}", pour.pouring_rate, pour.poured_mass)
    rows.say("metal climbs at", "{}", pour.rise_velocity)
    rows.say("pour at", "{}", pour.pouring_temperature)
    rows.say("usual for the alloy", "{} to {}", pour.pouring_low, pour.pouring_high)
    hot = [f"{shown(one.thickness)} {shown(one.temperature)}" for one in pour.pouring_by_thickness]
    if hot:
        rows.append(("by wall", ", ".join(hot)))
    return rows


def _walls(walls: ThinnestWallResult | None) -> Rows:
    rows = Rows()
    if walls is not None:
        rows.say("just filled in this time", "{}", walls.fills)
        rows.say("thinnest section here", "{}", walls.thinnest)
        rows.say("least reported to fill", "{} ({})", walls.published_least, walls.published_for)
        rows.say("usual least, up to", "{}", walls.published_usual)
    return rows


def _laws(laws: Sequence[PublishedLawResult], width: int) -> list[str]:
    cells = [
        [law.law, _span(law.time, law.time_high), "used" if law.used else law.why or "", law.grade]
        for law in laws
    ]
    return table(["law", "gives", "", "known from"], cells, width)


def _span(low: Quantity | None, high: Quantity | None) -> str:
    return shown(low) if high is None or shown(low) == shown(high) else f"{shown(low)} to {shown(high)}"


def _pot(pot: PotResult | None, width: int) -> list[str]:
    if pot is None:
        return []
    rows = Rows()
    rows.say("leaves the furnace at", "{} to {}", pot.tapping_temperature_low, pot.tapping_temperature_high)
    if len(pot.moulds) > 1:
        rows.say("then meets the first mould at", "{} to {}", pot.first_mould_low, pot.first_mould_high)
    rows.say("too cold to pour after", "{} to {}", pot.seconds_left_low, pot.seconds_left_high)
    rows.say("carrying and pouring take", "{}", pot.seconds_needed)
    rows.say("too cold means", "{}", pot.lowest_temperature)
    rows.say("flows from its nozzle at", "{}", pot.nozzle_mass_flow or pot.nozzle_flow)
    rows.say("runs empty in", "{}", pot.emptying_time)
    rows.say("being late", "{}", pot.cost_of_waiting)
    cells = [
        [
            mould.name,
            _span(mould.begun_low, mould.begun_high),
            _span(mould.full_low, mould.full_high),
            shown(mould.needed_temperature),
            shown(mould.thinnest_wall),
        ]
        for mould in pot.moulds
    ]
    heads = ["mould", "begun at", "full at", "its wall needs", "fills walls down to"]
    return stacked(pairs(rows, width), table(heads, cells, width))


def _practice(reports: Sequence[TradePouringResult], width: int) -> list[str]:
    rows = Rows()
    for report in reports:
        said = []
        if report.heavy_low == report.light_high and report.heavy_low is not None:
            said.append(shown(report.heavy_low))
        else:
            for name, low, high in (
                ("heavy", report.heavy_low, report.heavy_high),
                ("light", report.light_low, report.light_high),
            ):
                ends = [shown(end) for end in (low, high) if end is not None]
                if ends:
                    said.append(f"{name} castings {' to '.join(ends)}")
        if report.superheat_low is not None and report.superheat_high is not None:
            said.append(f"{shown(report.superheat_low)} to {shown(report.superheat_high)} over the liquidus")
        rows.append((report.metal, f"{', '.join(said)} ({report.source})"))
    return pairs(rows, width)
