"""What a bucket of scrap can make: every alloy of the table, ranked by how much of the stock it uses.

Each alloy is a linear program with whole pieces and smallest lots left aside; the best few are then
solved again with them. Most alloys need no program: where not one item of the stock comes near a
limit, no mix of them does.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import fsum
from typing import Any

import numpy as np

from ..answer import Answer, answer
from ..assess.charge import ChargeInputs, Margin, Side
from ..assess.charge_intervals import Array
from ..assess.hazards import hazards_of_pour
from ..checks import Verdict
from ..ledger import Ledger, MissingValue, Say
from ..tables.alloys import ALLOYS
from .charge_answer import side_line
from .charge_case import ChargeCase, Ranges, StockItem
from .charge_hazards import hazards_of_charged
from .charge_matrices import PARTS, assemble, limit_of, limit_rows, tails_of, touched_limits, unnamed_row
from .charge_mend import WORTHWHILE, doubtful_limits, metal_at_hand
from .charge_relax import cost_of
from .charge_solve import LESSER, set_free, solved
from .charge_stock import known_stock, prepare_charge

WHOLE = 5
"""So many of the best are solved again with whole pieces and smallest lots."""

ENOUGH = 1e-6
"""What is lacking of a melt below this share of it is the rounding of floats."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MakesCase:
    """A stock, and how it may be used; ``melt_mass`` (kg) None for as much as it makes.

    ``alloys`` are the ones looked at, None for all; ``whole`` of the best are solved with whole
    pieces and smallest lots.
    """

    stock: tuple[StockItem, ...]
    melt_mass: float | None = None
    alloys: tuple[str, ...] | None = None
    whole: int | None = None
    margin: Margin | None = None
    recovery_percent: Ranges | None = None
    smallest_lot: float | None = None
    smallest_addition: float | None = None
    currency: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Makes:
    """One alloy that the stock makes: masses (kg) of its items, and the limits that it lies on.

    ``certain``: wherever recoveries fall. ``whole``: with whole pieces and smallest lots.
    """

    alloy: str
    inputs: ChargeInputs
    masses: Array
    binding: tuple[Side, ...]
    certain: bool
    whole: bool = False

    @property
    def melt(self) -> float:
        """The melt at middle recoveries, kg."""
        return float((self.masses @ (self.inputs.composition * self.inputs.recovery)).sum())

    @property
    def used(self) -> float:
        """What is charged, kg."""
        return float(self.masses.sum())

    @property
    def cost(self) -> float:
        """What that costs; NaN where a price is unknown."""
        return cost_of(self.inputs, self.masses)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fails:
    """One alloy that it does not make: a limit that cannot be kept, None for no single one (then often
    the elements that the alloy does not name are too many), and the nearest that any one item of the
    stock comes to it (None where a single item would, and only the mix does not)."""

    alloy: str
    inputs: ChargeInputs
    side: Side | None
    nearest: float | None


def decide_makes(case: MakesCase) -> Answer:
    """Answer what the stock can make."""
    ledger = Ledger()
    margin: Margin = ledger.use(
        "/margin", case.margin, "robust", "text", provenance="rule", source="COMMON-PRACTICE"
    )
    whole = ledger.use(
        "/whole", case.whole, WHOLE, "count", provenance="rule", source="COMMON-PRACTICE", note="the best few"
    )
    stock = known_stock(case.stock, ledger)
    hazards_of_charged(case.stock, [place for place, _ in stock], ledger)
    try:
        total = stock_mass(case, stock, ledger)
    except MissingValue as missing:
        return answer(ledger, {}, [], missing.missing.why)
    made: list[Makes] = []
    failed: list[Fails] = []
    for alloy in (ALLOYS if case.alloys is None else dict.fromkeys(case.alloys)) if stock else ():
        if ALLOYS[alloy].near or not ALLOYS[alloy].limits:
            continue
        found = _tried(case, alloy, stock, margin)
        if isinstance(found, Makes):
            made.append(found)
        else:
            failed.append(found)
    made.sort(key=lambda one: _rank(one, case.melt_mass))
    best = [_in_whole(one, case, stock, margin) for one in made[:whole]]
    made[:whole] = sorted(best, key=lambda one: _rank(one, case.melt_mass))
    hazards_of_pour(ledger, melt_mass=made[0].melt if made else None)
    result = {
        "margin": margin,
        "stock_mass": total,
        "makes": [
            _makes_line(one, total, case.melt_mass, told=place < whole) for place, one in enumerate(made)
        ],
        "cannot": [_fails_line(one) for one in sorted(failed, key=lambda one: one.alloy)],
    }
    return answer(ledger, result, [], *_sentence(case, made, len(made) + len(failed), total))


def stock_mass(case: MakesCase, stock: Sequence[tuple[int, StockItem]], ledger: Ledger) -> float | None:
    """All that lies in stock, kg; None where some item has no end.

    Raises MissingValue where then nobody says how much is wanted either.
    """
    masses = []
    for place, item in stock:
        counted = None if item.piece is None or item.pieces is None else item.piece * item.pieces
        told = [mass for mass in (item.available, counted) if mass is not None]
        if not told:
            if case.melt_mass is not None:
                return None
            why = Say(
                "Say how much {name} there is, or how much metal is wanted: without either, as much as you "
                "like can be made.",
                name=item.name,
            )
            raise MissingValue(ledger.lack(f"/stock/{place}/available", why))
        masses.append(min(told))
    return fsum(masses)


# --- one alloy ------------------------------------------------------------------------------------


def _tried(
    case: MakesCase, alloy: str, stock: Sequence[tuple[int, StockItem]], margin: Margin
) -> Makes | Fails:
    """The most of one alloy that the stock makes, or what stands in the way."""
    inputs = _inputs(case, alloy, stock, margin, case.melt_mass or 1.0)
    if case.melt_mass is None:
        inputs = replace(inputs, melt_mass=metal_at_hand(inputs))
    blocked = _blocked(alloy, inputs)
    if blocked is not None:
        return blocked
    for robust in (True, False) if margin == "robust" else (False,):
        masses = _most(inputs, robust=robust, whole=False, wanted=case.melt_mass)
        if masses is not None:
            return _made(alloy, inputs, masses, robust=robust, whole=False)
    little = WORTHWHILE * min(inputs.melt_mass, metal_at_hand(inputs))
    doubtful = doubtful_limits(inputs, robust=False, melt=little)
    return Fails(alloy=alloy, inputs=inputs, side=doubtful[0] if doubtful else None, nearest=None)


def _inputs(
    case: MakesCase, alloy: str, stock: Sequence[tuple[int, StockItem]], margin: Margin, melt_mass: float
) -> ChargeInputs:
    inputs = prepare_charge(
        ChargeCase(
            alloy=alloy,
            melt_mass=melt_mass,
            stock=tuple(item for _, item in stock),
            margin=margin,
            recovery_percent=case.recovery_percent,
            smallest_lot=case.smallest_lot,
            smallest_addition=case.smallest_addition,
        ),
        Ledger(),
        harmless=True,
    )
    return replace(inputs, places=tuple(stock[row][0] for row in inputs.places))


def _made(alloy: str, inputs: ChargeInputs, masses: Array, *, robust: bool, whole: bool) -> Makes:
    binding = touched_limits(inputs, masses, robust=robust)
    return Makes(alloy=alloy, inputs=inputs, masses=masses, binding=binding, certain=robust, whole=whole)


def _blocked(alloy: str, inputs: ChargeInputs) -> Fails | None:
    """The limit that not one item of the stock keeps, the farthest missed of several; None for none.

    A mix lies between its items, so what none of them keeps no mix keeps. An alloy whose base metal
    is only what its other limits leave has that for the base's own least share.
    """
    base = _base(alloy, inputs)
    if base is not None:
        return base
    rows, labels = limit_rows(inputs, robust=False)
    worst: tuple[float, Side, float] | None = None
    for row in np.flatnonzero((rows < 0.0).all(axis=1)).tolist():
        side = labels[row]
        own, others = tails_of(inputs, side, robust=False)
        shares = own / np.maximum(own + others, 1e-30)
        nearest = float(shares.max() if side[1] == "minimum" else shares.min())
        away = abs(nearest - limit_of(inputs, side))
        if worst is None or away > worst[0]:
            worst = (away, side, nearest)
    if worst is not None:
        return Fails(alloy=alloy, inputs=inputs, side=worst[1], nearest=worst[2])
    if np.isfinite(inputs.unnamed_limit) and (unnamed_row(inputs) < 0.0).all():
        return Fails(alloy=alloy, inputs=inputs, side=None, nearest=None)
    return None


def _base(alloy: str, inputs: ChargeInputs) -> Fails | None:
    """The base metal where it is too little in every item."""
    element = max(ALLOYS[alloy].nominal, key=lambda e: (ALLOYS[alloy].nominal[e], e))
    base = inputs.elements.index(element)
    others = inputs.named.copy()
    others[[base, -1]] = False
    metal = inputs.composition * inputs.recovery
    share = metal / np.maximum(metal.sum(axis=1), 1e-30)[:, None]
    most = float(inputs.maxima[others].sum()) + min(inputs.unnamed_limit, 1.0) + float(share[:, -1].max())
    least = max(float(inputs.minima[base]), 1.0 - most)
    nearest = float(share[:, base].max())
    if nearest >= least:
        return None
    minima = np.where(np.arange(len(inputs.minima)) == base, least, inputs.minima)
    side = (base, "minimum")
    return Fails(alloy=alloy, inputs=replace(inputs, minima=minima), side=side, nearest=nearest)


def _most(inputs: ChargeInputs, *, robust: bool, whole: bool, wanted: float | None) -> Array | None:
    """Masses (n, kg) of the cheapest charge for what is wanted, or else of the largest melt within limits;
    None where it is none worth having."""
    if wanted is not None:
        program = assemble(inputs, robust=robust)
        found = solved(program if whole else set_free(program))
        if found is not None:
            return program.masses(found.values)
    program = assemble(inputs, robust=robust, melt=0.0)
    melt = program.labels.index((-1, "melt"))
    metal = program.rows[melt]
    cost = -metal + sum(LESSER ** (k + 1) * each for k, each in enumerate(program.costs))
    high = program.high.copy()
    high[melt] = np.inf if wanted is None else PARTS
    program = replace(program, costs=(cost,), high=high)
    found = solved(program if whole else set_free(program))
    if found is None or float(metal @ found.values) < WORTHWHILE * PARTS:
        return None
    return program.masses(found.values)


def _in_whole(made: Makes, case: MakesCase, stock: Sequence[tuple[int, StockItem]], margin: Margin) -> Makes:
    """The same with whole pieces and smallest lots; as it was where that makes nothing."""
    inputs = _inputs(case, made.alloy, stock, margin, case.melt_mass or made.melt)
    masses = _most(inputs, robust=made.certain, whole=True, wanted=case.melt_mass)
    if masses is None:
        return made
    return _made(made.alloy, inputs, masses, robust=made.certain, whole=True)


# --- the answer -----------------------------------------------------------------------------------


def _rank(made: Makes, wanted: float | None) -> tuple[bool, float, float, str]:
    """Certain ones first; then the most of what is wanted, or of the stock; then the cheapest."""
    reached = made.used if wanted is None else min(made.melt / wanted, 1.0)
    cost = made.cost
    return not made.certain, -round(reached, 6), np.inf if np.isnan(cost) else round(cost, 6), made.alloy


def _makes_line(made: Makes, total: float | None, wanted: float | None, *, told: bool) -> dict[str, Any]:
    inputs = made.inputs
    return {
        "alloy": made.alloy,
        "name": ALLOYS[made.alloy].name,
        "certain": made.certain,
        "whole": made.whole,
        "enough": None if wanted is None else made.melt >= wanted * (1.0 - ENOUGH),
        "melt_mass": made.melt,
        "used_mass": made.used,
        "stock_ratio": None if total is None else made.used / total,
        "cost": made.cost,
        "cost_per_mass": made.cost / made.melt,
        "binding": [side_line(inputs, side) for side in made.binding],
        "charge": [
            {"item": inputs.items[k], "place": inputs.places[k], "mass": float(made.masses[k])}
            for k in sorted(np.flatnonzero(made.masses > 0.0), key=lambda k: inputs.places[k])
        ]
        if told
        else None,
    }


def _fails_line(failed: Fails) -> dict[str, Any]:
    known = None if failed.side is None else side_line(failed.inputs, failed.side)
    return {
        "alloy": failed.alloy,
        "name": ALLOYS[failed.alloy].name,
        **(known or {"element": None, "side": None, "limit_percent": None}),
        "nearest_percent": None if failed.nearest is None else 100.0 * failed.nearest,
    }


def _sentence(
    case: MakesCase, made: Sequence[Makes], looked_at: int, total: float | None
) -> tuple[Say, Verdict]:
    if not looked_at:
        return Say("There is nothing in this stock that may be melted."), "fail"
    if not made:
        return Say("This stock makes none of the {all} alloys.", all=(looked_at, "count")), "fail"
    best = made[0]
    told: dict[str, tuple[float, str] | str] = {
        "some": (len(made), "count"),
        "all": (looked_at, "count"),
        "alloy": best.alloy,
        "name": ALLOYS[best.alloy].name,
        "melt": (best.melt, "mass"),
    }
    words = "This stock makes {some} of the {all} alloys. First comes {alloy} ({name}): {melt} of it"
    if total is not None and case.melt_mass is None:
        words += ", from {share} of the stock"
        told["share"] = (best.used / total, "fraction")
    if best.certain:
        return Say(f"{words}, within its limits wherever the recoveries fall.", **told), "pass"
    if case.margin == "nominal":
        return Say(f"{words}, within its limits at middle recoveries.", **told), "pass"
    return Say(f"{words}, within its limits at middle recoveries only: none is certain.", **told), "warn"
