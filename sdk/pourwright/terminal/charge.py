"""Charges: one melt, several from one stock, and what a bucket of scrap can make."""

from __future__ import annotations

from collections.abc import Iterable

from ..models.charge import ChargeResult, LimitLine
from ..models.charge_makes import MakesLine, MakesResult
from ..models.charge_melts import MeltLine, MeltsResult
from .figures import percent_range, shown
from .layout import pairs, stacked, table, titled
from .plan import charge_table


def charge_lines(charge: ChargeResult, width: int) -> list[str]:
    """One charge, then why no more of each item, and what its limits cost where that was asked."""
    more = [(line.item, line.why) for line in charge.charge or () if line.why]
    relaxed = [
        [
            f"{line.element} {line.side}",
            shown(line.limit_percent, percent=True),
            shown(line.widened_percent, percent=True),
            shown(line.cost) if line.keeps else "still out of reach",
            shown(line.saving),
        ]
        for line in charge.relaxation or ()
    ]
    return [
        *titled("charge", charge_table(charge, width, left_out=False)),
        *titled("why no more of", pairs(more, width)),
        *titled("held by", pairs(_held(charge.binding), width)),
        *titled("what limits cost", table(["limit", "is", "widened", "cost", "saves"], relaxed, width)),
    ]


def makes_lines(result: MakesResult, width: int) -> list[str]:
    """What the stock makes, the best first, what is charged for the best, and what it does not make."""
    made = [
        [
            line.alloy,
            "yes" if line.certain else "at middle only",
            shown(line.melt_mass),
            shown(line.stock_ratio),
            shown(line.cost),
            ", ".join(name for name, _ in _held(line.binding)) or "-",
        ]
        for line in result.makes or ()
    ]
    cannot = [
        [
            line.alloy,
            f"{line.element} {line.side}" if line.element else "what it does not name",
            shown(line.limit_percent, percent=True),
            shown(line.nearest_percent, percent=True),
        ]
        for line in result.cannot or ()
    ]
    heads = ["alloy", "certain", "melt", "of the stock", "cost", "held by"]
    return [
        *titled("makes", table(heads, made, width)),
        *titled("charge", pairs(_charged(result.makes or ()), width)),
        *titled("cannot make", table(["alloy", "because of", "limit", "nearest item"], cannot, width)),
    ]


def melts_lines(result: MeltsResult, width: int) -> list[str]:
    """Every melt with its charge, and what is left."""
    lines: list[str] = []
    for melt in result.melts or ():
        lines += titled(melt.name, _melt(melt, width))
    totals = [
        ("cost of all", shown(result.cost)),
        ("of that for certainty", shown(result.price_of_certainty)),
    ]
    left = [(line.item, shown(line.mass)) for line in result.left or () if line.mass.value]
    lines += titled("together", pairs([row for row in totals if row[1] != "-"], width))
    return [*lines, *titled("left", pairs(left, width))]


_OUTCOMES = {
    "robust": "within its limits for certain",
    "nominal": "within its limits at middle recoveries",
    "short": "too little of it",
    "nearest": "out of its limits; this is the nearest",
    "none": "nothing to charge",
}


def _melt(melt: MeltLine, width: int) -> list[str]:
    cells = [
        [line.item, shown(line.mass), shown(line.pieces), shown(line.cost)] for line in melt.charge or ()
    ]
    rows = [
        ("melts to", f"{shown(melt.melt_mass)} of {shown(melt.wanted)}, {_OUTCOMES[melt.outcome]}"),
        ("cost", shown(melt.cost)),
        ("held by", ", ".join(name for name, _ in _held(melt.binding)) or "-"),
    ]
    elements = [
        [
            line.element,
            shown(line.nominal_percent, percent=True),
            percent_range(line.low_percent, line.high_percent),
            percent_range(line.minimum_percent, line.maximum_percent),
        ]
        for line in melt.composition or ()
        if line.high_percent or line.minimum_percent
    ]
    return stacked(
        table(["put in", "mass", "pieces", "cost"], cells, width),
        pairs([row for row in rows if row[1] != "-"], width),
        table(["melt", "expected", "may come out", "allowed"], elements, width),
    )


def _charged(made: Iterable[MakesLine]) -> list[tuple[str, str]]:
    """What goes into each alloy, of which that is told."""
    return [
        (line.alloy, ", ".join(f"{shown(use.mass)} of {use.item}" for use in line.charge))
        for line in made
        if line.charge
    ]


def _held(limits: Iterable[LimitLine] | None) -> list[tuple[str, str]]:
    return [(f"{line.element} {line.side}", shown(line.limit_percent, percent=True)) for line in limits or ()]
