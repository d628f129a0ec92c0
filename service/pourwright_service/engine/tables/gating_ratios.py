"""Gating ratios that the trade reports, with their sources."""

from dataclasses import dataclass

from .reading import Lazy, Row, read_table


@dataclass(frozen=True, slots=True)
class TradeRatio:
    """One reported ratio: areas of sprue, runner and gates as parts, and where it was reported."""

    id: str
    family: str
    group: str
    sprue: float
    runner: float
    gate: float
    source: str
    place: str


_ROWS: Lazy[Row] = Lazy(lambda: {row.key: row for row in read_table("gating_ratios")})


def trade_ratios(family: str | None, group: str | None = None) -> list[TradeRatio]:
    """What is reported for a family of metals, with the rows of its group first."""
    found = [row for row in _ROWS.values() if row.words["family"] == family]
    found = [row for row in found if row.words["group"] in ("any", group)]
    found.sort(key=lambda row: row.words["group"] == "any")
    return [_ratio(row) for row in found]


def every_ratio() -> list[TradeRatio]:
    """All reported ratios, in the table's order."""
    return [_ratio(row) for row in _ROWS.values()]


def _ratio(row: Row) -> TradeRatio:
    sprue = row.cells["sprue"]
    return TradeRatio(
        row.key,
        row.words["family"],
        row.words["group"],
        sprue.value,
        row.cells["runner"].value,
        row.cells["gate"].value,
        sprue.source,
        sprue.place,
    )
