"""A plan, laid out in the order in which it is worked through at the bench."""

from __future__ import annotations

from ..models.charge import ChargeResult
from ..models.freezing import FreezingResult
from ..models.plan_result import (
    CrucibleResult,
    MassesResult,
    PartResult,
    PatternResult,
    PlanMouldResult,
    PlanResult,
)
from ..models.pour_time import PourTimeResult
from ..models.riser import RiserResult
from ..quantity import Quantity
from .figures import percent_range, shown
from .freeze_map import map_lines
from .freezing import feed_lines, junction_lines
from .gating import gating_lines
from .layout import pairs, stacked, table, titled
from .pour_time import time_rows
from .rows import Rows as _Rows
from .rows import by as _by


def plan_lines(plan: PlanResult, width: int) -> list[str]:
    """The tables of a plan; what was not computed is left out."""
    return [
        *titled("casting", pairs(_casting(plan, plan.part, plan.masses), width)),
        *titled("charge", charge_table(plan.charge, width)),
        *titled("pouring", pairs(_pouring(plan, plan.pour_time), width)),
        *titled("pattern", pairs(_pattern(plan.pattern), width)),
        *titled("freezing", _freezing(plan.freezing, width)),
        *titled("what freezes last on the map", map_lines(plan.freeze_map, width)),
        *titled("riser", _riser(plan.riser, width)),
        *titled("gating", gating_lines(plan.gating, width) if plan.gating is not None else []),
        *titled("crucible", pairs(_crucible(plan.crucible), width)),
        *titled("mould", _mould(plan.mould, width)),
    ]


def _casting(plan: PlanResult, part: PartResult | None, masses: MassesResult | None) -> _Rows:
    rows = _Rows()
    rows.say("job", "{}", plan.title)
    rows.say("alloy", "{}", plan.alloy)
    if masses is not None:
        rows.say("casting", "{} cold", masses.casting)
        rows.say(
            "poured",
            "{}: {} into the casting, {} into the riser, {} into the gating",
            masses.poured,
            masses.cavity,
            masses.riser,
            masses.gating,
        )
        rows.say("to be molten", "{}", masses.melt_wanted)
        rows.say("yield", "{} of what is poured becomes casting", masses.yield_ratio)
    if part is not None:
        rows.say("size", "{}", _by(part.length, part.width, part.height))
        rows.say("volume", "{}", part.volume)
        rows.say("above parting", "{} of its height", part.height_in_cope)
    return rows


def charge_table(charge: ChargeResult | None, width: int, *, left_out: bool = True) -> list[str]:
    """A charge: what is put in, what is left out and why, what it melts to and costs, the melt."""
    if charge is None:
        return []
    used = [line for line in charge.charge or () if line.mass.value]
    unused = [line for line in charge.charge or () if left_out and not line.mass.value]
    cells = [
        [line.item, shown(line.mass), shown(line.pieces), shown(line.share), shown(line.cost)]
        for line in used
    ]
    lines = table(["put in", "mass", "pieces", "share", "cost"], cells, width)
    rows = _Rows()
    rows.say("left out", "{}", "; ".join(f"{line.item} ({line.why})" for line in unused) or None)
    rows.say("heel", "{}", _positive(charge.heel_mass))
    rows.say("melts to", "{} ({} to {})", charge.melt_mass, charge.melt_mass_low, charge.melt_mass_high)
    rows.say("lost in melting", "{}, {}", charge.loss, charge.loss_ratio)
    for loss in charge.losses or ():
        if loss.element == "Zn":
            rows.say("of that zinc, as fume", "{} ({} to {})", loss.mass, loss.mass_low, loss.mass_high)
    rows.say("left for the pig", "{}", _positive(charge.pig))
    rows.say("lacking", "{}", _positive(charge.shortfall))
    rows.say("cost", "{}", charge.cost)
    rows.say("of that for certainty", "{}", _positive(charge.price_of_certainty))
    rows.say("all the stock makes", "{}", charge.metal_at_hand)
    rows.say("most within limits", "{}", charge.largest_melt)
    for line in charge.purchase or ():
        rows.say("would do", "buy {} of {} ({})", line.mass, line.name, line.kind)
    melt = [
        [
            line.element,
            shown(line.nominal_percent, percent=True),
            percent_range(line.low_percent, line.high_percent),
            percent_range(line.minimum_percent, line.maximum_percent),
        ]
        for line in charge.composition or ()
        if line.high_percent or line.minimum_percent
    ]
    elements = table(["melt", "expected", "may come out", "allowed"], melt, width)
    return stacked(lines, pairs(rows, width), elements)


def _positive(quantity: Quantity | None) -> Quantity | None:
    return quantity if quantity is not None and quantity.value > 0 else None


def _pouring(plan: PlanResult, pour: PourTimeResult | None) -> _Rows:
    rows = _Rows()
    rows.say("pour at", "{}", plan.pouring_temperature)
    if pour is None:
        return rows
    rows.say("usual for the alloy", "{} to {}", pour.pouring_low, pour.pouring_high)
    pot = pour.pot
    if pot is not None:
        rows.say(
            "leaves the furnace at", "{} to {}", pot.tapping_temperature_low, pot.tapping_temperature_high
        )
        rows.say("too cold to pour after", "{} to {}", pot.seconds_left_low, pot.seconds_left_high)
    rows += time_rows(pour)
    return rows


def _pattern(pattern: PatternResult | None) -> _Rows:
    rows = _Rows()
    if pattern is not None:
        rows.append(
            ("scale", f"{pattern.scale:.4f} times the casting ({shown(pattern.contraction)} contraction)")
        )
        rows.say("size", "{}", _by(pattern.length, pattern.width, pattern.height))
        rows.append(("to be added", "draft, machining and rapping"))
    return rows


def _freezing(freezing: FreezingResult | None, width: int) -> list[str]:
    if freezing is None:
        return []
    cells = [
        [line.name, shown(line.volume), shown(line.modulus), shown(line.freezing_time), shown(line.rank)]
        for line in sorted(freezing.sections, key=lambda line: line.rank or 0)
    ]
    lines = table(["section", "volume", "modulus", "solid after", "order"], cells, width)
    last = [("last to freeze", freezing.last_to_freeze)] if freezing.last_to_freeze else []
    return stacked(lines, pairs(last, width), feed_lines(freezing, width), junction_lines(freezing, width))


def _riser(riser: RiserResult | None, width: int) -> list[str]:
    if riser is None:
        return []
    rows = _Rows()
    rows.say("place", "{}", _riser_place(riser))
    rows.say("size", "{} across, {} tall ({})", riser.diameter, riser.height, riser.shape)
    rows.say("neck", "{}", riser.neck)
    rows.say("to cut off", "{}", riser.cut_off_area)
    rows.say("solid after", "{}; {} after {}", riser.freezing_time, riser.last_section, riser.casting_time)
    rows.say("mass", "{} poured, {} left after feeding", riser.riser_mass, riser.riser_left_mass)
    names = {
        "time": "freezes long enough after",
        "modulus": "modulus large enough",
        "volume": "metal enough to give",
        "volume_x3": "three times the shrinkage (rule of thumb)",
    }
    cells = [
        [names[line.criterion], shown(line.diameter), _weight(riser, line.criterion, line.used)]
        for line in riser.criteria
    ]
    return stacked(pairs(rows, width), table(["asked by", "diameter", ""], cells, width))


def _weight(riser: RiserResult, criterion: str, used: bool) -> str:
    if criterion == riser.governs:
        return "decides"
    return "counts" if used else "for comparison"


def _riser_place(riser: RiserResult) -> str | None:
    if riser.position == "side":
        return "beside the casting"
    where = " of ".join(word for word in (riser.face, riser.section) if word)
    return f"on {where}" if where else riser.position


def _crucible(crucible: CrucibleResult | None) -> _Rows:
    rows = _Rows()
    if crucible is not None:
        rows.say("take", "{}", crucible.name)
        rows.say("filled to", "{} of its brim ({} of melt)", crucible.filling, crucible.melt_volume)
        counted = "with" if crucible.crucible_counted else "without"
        rows.say("to be lifted", f"{{}}, {counted} the crucible itself", crucible.lifted_mass)
    return rows


def _mould(mould: PlanMouldResult | None, width: int) -> list[str]:
    if mould is None:
        return []
    rows = _Rows()
    rows.say("flask", "{}", _by(mould.flask_length, mould.flask_width))
    rows.say("needed in plan", "{}", _by(mould.length_needed, mould.width_needed))
    rows.say("height of the cope", "{}", mould.cope_height)
    rows.say("height of the drag", "{}", mould.drag_height)
    rows.say("mass of the cope", "{}", mould.cope_mass)
    rows.say("lift", "{}", mould.lift)
    for core in mould.cores:
        held = "held by the cope" if core.counted else "seated in its print"
        rows.say(f"core: {core.name}", f"floats up with {{}} if metal gets under it; {held}", core.net_lift)
    rows.say("lay on the cope", "{}", mould.weight)
    return pairs(rows, width)
