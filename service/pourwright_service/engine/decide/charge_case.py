"""A charge as a caller states it, and the specification that it has to meet."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf
from typing import TypeAlias

from ..assess.charge import Margin
from ..ledger import Ledger, MissingValue, Say
from ..tables.alloys import Alloy, find_alloy

Ranges: TypeAlias = Mapping[str, tuple[float | None, float | None]]
"""Per cent by element, low and high; None where that end is open. ``*`` stands for every element."""

BASES = {"copper": "Cu", "aluminium": "Al", "zinc": "Zn", "iron": "Fe"}

UNNAMED = 0.5
"""Per cent: what all elements together may make that the alloy's limits do not name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockItem:
    """One kind of metal in stock. Masses kg, price money per kg; None where nobody said.

    ``piece`` is the mass of one piece and ``pieces`` their number: such an item is charged in whole
    pieces. ``charged`` is what the caller has decided to charge.
    """

    name: str
    composition_percent: Ranges | None = None
    alloy: str | None = None
    available: float | None = None
    price: float | None = None
    piece: float | None = None
    pieces: int | None = None
    kind: str | None = None
    form: str | None = None
    condition: tuple[str, ...] = ()
    minimum_use: float | None = None
    all_or_nothing: bool = False
    smallest_lot: float | None = None
    recovery_percent: Ranges | None = None
    charged: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Heel:
    """Metal already molten in the pot, which stays in the melt without further loss."""

    mass: float
    composition_percent: Ranges | None = None
    alloy: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeCase:
    """What is to be melted, from which stock. ``melt_mass`` is molten, after loss, heel included.

    ``explain``: say of each item why no more of it is charged. ``relaxation``: say what each limit
    costs, by widening it.
    """

    melt_mass: float
    stock: tuple[StockItem, ...]
    alloy: str | None = None
    limits_percent: Ranges | None = None
    unnamed_percent: float | None = None
    aim_percent: Mapping[str, float] | None = None
    recovery_percent: Ranges | None = None
    margin: Margin | None = None
    objective: str | None = None
    smallest_lot: float | None = None
    smallest_addition: float | None = None
    heel: Heel | None = None
    currency: str | None = None
    explain: bool | None = None
    relaxation: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """The specification: limits and aim in per cent, the family of metal, the elements it names."""

    limits: Ranges
    aim: Mapping[str, float]
    family: str | None
    named: frozenset[str]
    unnamed: float
    each_unnamed: float


def target_of(case: ChargeCase, ledger: Ledger) -> Target:
    """The specification of the melt; raises MissingValue where there is none."""
    alloy = find_alloy(case.alloy) if case.alloy else None
    limits = case.limits_percent
    if limits is None:
        if alloy is None or not alloy.limits:
            why = Say("Say which alloy is wanted, or give its limits: without them no charge can be chosen.")
            raise MissingValue(ledger.lack("/limits_percent", why))
        provenance, source = told_by(alloy)
        limits = ledger.use(
            "/limits_percent",
            None,
            dict(alloy.limits),
            "map",
            provenance=provenance,
            source=source,
            note=f"composition limits of {alloy.id}",
        )
    if alloy is None:
        unnamed = inf if case.unnamed_percent is None else case.unnamed_percent
        return Target(
            limits=limits,
            aim=case.aim_percent or {},
            family=_family(limits),
            named=frozenset(limits) | frozenset(case.aim_percent or {}),
            unnamed=unnamed,
            each_unnamed=inf,
        )
    total = alloy.others_total
    unnamed = ledger.use(
        "/unnamed_percent",
        case.unnamed_percent,
        UNNAMED if total is None else total.value,
        "percent",
        provenance="common practice" if total is None else total.provenance,
        source="COMMON-PRACTICE" if total is None else total.source,
    )
    return Target(
        limits=limits,
        aim=case.aim_percent if case.aim_percent is not None else alloy.nominal,
        family=alloy.family,
        named=frozenset(limits) | frozenset(alloy.shares),
        unnamed=unnamed,
        each_unnamed=inf if alloy.others_each is None else alloy.others_each.value,
    )


def told_by(alloy: Alloy) -> tuple[str, str]:
    """Provenance and source of an alloy's composition: of its weakest figure, so that one from memory
    is not hidden behind the others."""
    cells = [
        cell
        for share in alloy.shares.values()
        for cell in (share.minimum, share.nominal, share.maximum)
        if cell is not None
    ]
    weakest = next((cell for cell in cells if cell.grade == "from memory"), cells[0])
    return weakest.provenance, weakest.source


def _family(limits: Ranges) -> str | None:
    """The base metal, where a lower limit makes one element half of the melt."""
    for family, element in BASES.items():
        least = limits.get(element, (None, None))[0]
        if least is not None and least >= 50.0:
            return family
    return None
