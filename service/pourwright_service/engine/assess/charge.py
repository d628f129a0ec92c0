"""What a charge gives: the melt, its composition as it may fall out, its loss and its cost.

Forward only: the masses charged are given, nothing is chosen here. ``composition`` and
``recovery`` may carry leading sample axes; everything computed from them then carries them too.
"""

from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from ..checks import Check, CheckKind, check_kind
from ..formula import step
from ..formulas.charge import element_mass_lost, melt_loss, metal_cost, pig_left, share_of_melt
from ..ledger import Say
from .charge_intervals import Array, Extremes, Flags

Margin = Literal["robust", "nominal"]
Outcome = Literal["robust", "nominal", "nearest", "given"]
Side = tuple[int, str]
"""A limit: the element's index, and "minimum" or "maximum"."""

ELEMENT_LEAST = check_kind(
    "charge-composition-minimum",
    "an element reaches its lower limit in the melt",
    kind="fraction",
    sense="at least",
    source="DERIVED",
)
ELEMENT_MOST = check_kind(
    "charge-composition-maximum",
    "an element stays under its upper limit in the melt",
    kind="fraction",
    sense="at most",
    source="DERIVED",
)
UNNAMED = check_kind(
    "charge-unnamed-elements",
    "elements that the alloy's limits do not name stay few",
    kind="fraction",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
MELT = check_kind(
    "charge-melt-mass",
    "the charge melts down to the metal asked for",
    kind="mass",
    sense="at least",
    source="DERIVED",
    margin=True,
)
STOCK = check_kind(
    "charge-stock",
    "no item is used beyond what lies in stock",
    kind="ratio",
    sense="at most",
    source="DERIVED",
)
SEARCH = check_kind(
    "charge-search",
    "no other charge is much better than this one",
    kind="fraction",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
TRACE = 1e-12
"""A mass (kg) that stands for nothing where something is divided by it."""

NEAR_ENOUGH = 1e-3
"""A charge within a tenth of a per cent of the best is as good."""

LOT = check_kind(
    "charge-smallest-lot",
    "no item is used in a smaller lot than can be weighed or is worth handling",
    kind="ratio",
    sense="at least",
    source="COMMON-PRACTICE",
    else_="warn",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeInputs:
    """A charge to be chosen or judged: n items (a heel among them, last) and E elements.

    Masses kg, shares and recoveries ratios, prices money per kg (NaN: unknown). ``elements`` ends
    with ``rest``. ``composition`` and ``recovery`` are (n, E), at the middle of their intervals;
    ``ends`` holds what the intervals allow. ``minima`` and ``maxima`` (E): 0 and 1 where there is
    no limit. ``aim`` (E): NaN where none. ``named`` (E): elements that the specification names.
    ``told`` (n, E): elements that the item's own analysis names. ``family``: the base metal, by
    which recoveries are looked up.
    ``piece`` (n): mass of one piece, 0 where the item can be divided. ``all_or_nothing``,
    ``usable`` (n): flags. ``lot`` (n): an item is used not at all or in at least this mass; 0 for
    what comes in pieces, and no more than there is.
    ``new_metal`` (n): bought metal, as against scrap and returns.
    """

    items: tuple[str, ...]
    places: tuple[int, ...]
    kinds: tuple[str, ...]
    elements: tuple[str, ...]
    composition: Array
    recovery: Array
    ends: Extremes
    minima: Array
    maxima: Array
    aim: Array
    named: Flags
    told: Flags
    family: str | None
    unnamed_limit: float
    price: Array
    available: Array
    minimum_use: Array
    lot: Array
    piece: Array
    all_or_nothing: Flags
    usable: Flags
    new_metal: Flags
    heel: int
    melt_mass: float
    margin: Margin
    objective: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeDecision:
    """The masses charged (n, kg; the heel's own mass at its place).

    ``outcome`` says what they keep: the limits for certain (``robust``) or at middle recoveries
    (``nominal``), as much of them as can be had (``nearest``), or what the caller decided
    (``given``). ``certain`` and ``middle`` are the cheapest masses that keep the limits for
    certain and at middle recoveries, None where there are none. ``doubtful``: limits, as (element
    index, side), that no charge keeps for certain. ``binding``: limits that hold the charge where
    it is. ``gap``: the share by which a better charge may beat this one, 0 where the search for
    whole pieces and lots was finished.
    """

    masses: Array
    outcome: Outcome = "given"
    certain: Array | None = None
    middle: Array | None = None
    doubtful: tuple[Side, ...] = ()
    binding: tuple[Side, ...] = ()
    gap: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeAssessment:
    """What comes of a charge. Masses kg, shares ratios by element, money NaN where unknown."""

    charged_mass: float
    heel_mass: float
    melt_mass: float
    melt_mass_low: float
    melt_mass_high: float
    loss: float
    pig: float
    cost: float
    item_costs: tuple[float, ...]
    share: tuple[float, ...]
    share_low: tuple[float, ...]
    share_high: tuple[float, ...]
    lost: tuple[float, ...]
    lost_low: tuple[float, ...]
    lost_high: tuple[float, ...]
    checks: tuple[Check, ...]


def assess_charge(inputs: ChargeInputs, decision: ChargeDecision) -> ChargeAssessment:
    """Melt the charge on paper.

    Raises OutOfRange where nothing at all is charged.
    """
    x, ends = decision.masses, inputs.ends
    heel_mass = float(x[inputs.heel :].sum())
    charged = float(x[: inputs.heel].sum())
    masses = x @ (inputs.composition * inputs.recovery)
    melt: Any = masses.sum(axis=-1)
    own_low, own_high = x @ ends.own_low, x @ ends.own_high
    whole_low = (own_low + x @ ends.others_high).tolist()
    whole_high = (own_high + x @ ends.others_low).tolist()
    own_low, own_high, middle = own_low.tolist(), own_high.tolist(), np.moveaxis(masses, -1, 0)
    if not melt.ndim:
        melt, middle = float(melt), middle.tolist()
    put_in = np.moveaxis(x @ inputs.composition, -1, 0)
    total = charged + heel_mass
    share, low, high, lost = [], [], [], []
    for e, element in enumerate(inputs.elements):
        with step("element", element):
            share.append(share_of_melt(part=middle[e], whole=melt))
            low.append(share_of_melt(part=own_low[e], whole=whole_low[e]))
            high.append(share_of_melt(part=own_high[e], whole=whole_high[e]))
            gone = element_mass_lost(charged_mass=total, element_share=put_in[e] / total, part=middle[e])
            lost.append(gone if np.ndim(gone) else max(float(gone), 0.0))
    costs = [0.0] * len(inputs.items)
    for k in np.flatnonzero(x[: inputs.heel]).tolist():
        with step("item", inputs.items[k]):
            price = float(inputs.price[k])
            costs[k] = metal_cost(mass=float(x[k]), price=price) if price == price else np.nan
    melt_low = float(x @ ends.metal_low)
    found = ChargeAssessment(
        charged_mass=charged,
        heel_mass=heel_mass,
        melt_mass=melt,
        melt_mass_low=melt_low,
        melt_mass_high=float(x @ ends.metal_high),
        loss=melt_loss(melt_mass=melt, charged_mass=charged + heel_mass),
        pig=pig_left(melt_mass=melt, wanted_mass=inputs.melt_mass),
        cost=float(sum(costs)),
        item_costs=tuple(costs),
        share=tuple(share),
        share_low=tuple(low),
        share_high=tuple(high),
        lost=tuple(lost),
        lost_low=tuple((x @ ends.loss_low).tolist()),
        lost_high=tuple((x @ ends.loss_high).tolist()),
        checks=(),
    )
    return _with_checks(inputs, decision, found)


def _with_checks(inputs: ChargeInputs, decision: ChargeDecision, found: ChargeAssessment) -> ChargeAssessment:
    robust = inputs.margin == "robust"
    checks = [_melt_check(inputs, found, robust)]
    for e, element in enumerate(inputs.elements):
        least, most = float(inputs.minima[e]), float(inputs.maxima[e])
        middle = found.share[e]
        if least > 0.0:
            value = found.share_low[e] if robust else middle
            checks.append(_element_check(ELEMENT_LEAST, element, value, least, middle))
        if most < 1.0:
            value = found.share_high[e] if robust else middle
            checks.append(_element_check(ELEMENT_MOST, element, value, most, middle))
    if np.isfinite(inputs.unnamed_limit):
        checks.append(_unnamed_check(inputs, found))
    checks.extend(_stock_checks(inputs, decision))
    if decision.gap > 0.0:
        told = {"gap": (decision.gap, "fraction")}
        checks.append(
            SEARCH.judge(
                decision.gap,
                NEAR_ENOUGH,
                subject="/stock",
                ok=Say("No other charge is better by more than {gap}.", **told),
                bad=Say(
                    "The search for whole pieces stopped early: a charge better by {gap} may exist.", **told
                ),
            )
        )
    return ChargeAssessment(
        **{name: getattr(found, name) for name in ChargeAssessment.__slots__ if name != "checks"},
        checks=tuple(checks),
    )


def _element_check(kind: CheckKind, element: str, value: float, limit: float, middle: float) -> Check:
    """``middle`` is the share at middle recoveries: inside the limit it turns fail into warn."""
    sign = 1.0 if kind.sense == "at least" else -1.0
    told = {"value": (value, "fraction"), "limit": (limit, "fraction"), "middle": (middle, "fraction")}
    if kind.sense == "at least":
        ok = "{element} reaches {value}, at least {limit} is wanted."
        bad = "Too little {element}: {value}, at least {limit} is wanted."
        doubtful = (
            "{element} may fall short: {value} at worst, {middle} at middle recoveries, "
            "at least {limit} is wanted."
        )
    else:
        ok = "{element} stays at {value}, at most {limit} is allowed."
        bad = "Too much {element}: {value}, at most {limit} is allowed."
        doubtful = (
            "{element} may come out too high: {value} at worst, {middle} at middle recoveries, "
            "at most {limit} is allowed."
        )
    return Check(
        kind,
        f"/limits_percent/{element}",
        value,
        limit,
        sign * (value - limit),
        sign * (middle - limit),
        Say(ok, element=element, **told),
        Say(bad, element=element, **told),
        Say(doubtful, element=element, **told),
    )


def _melt_check(inputs: ChargeInputs, found: ChargeAssessment, robust: bool) -> Check:
    value = found.melt_mass_low if robust else found.melt_mass
    told = {
        "value": (value, "mass"),
        "middle": (found.melt_mass, "mass"),
        "limit": (inputs.melt_mass, "mass"),
    }
    return Check(
        MELT,
        "/melt_mass",
        value,
        inputs.melt_mass,
        value - inputs.melt_mass,
        found.melt_mass - inputs.melt_mass,
        Say("The charge melts down to at least {value}; {limit} is wanted.", **told),
        Say("Not enough metal: the charge melts down to {value}, and {limit} is wanted.", **told),
        Say("The melt may fall short: {value} at worst, {middle} at middle recoveries.", **told),
    )


def _unnamed_check(inputs: ChargeInputs, found: ChargeAssessment) -> Check:
    strange = [e for e, named in enumerate(inputs.named) if not named and inputs.elements[e] != "rest"]
    total = sum((found.share[e] for e in strange), 0.0)
    names = ", ".join(inputs.elements[e] for e in strange if inputs.composition[..., e].max() > 0.0)
    told = {"value": (total, "fraction"), "limit": (inputs.unnamed_limit, "fraction")}
    return UNNAMED.judge(
        total,
        inputs.unnamed_limit,
        subject="/stock",
        ok=Say("Elements that the alloy's limits do not name make {value} of the melt.", **told),
        bad=Say(
            "Elements that the alloy's limits do not name ({names}) make {value} of the melt; more than "
            "{limit} is a different metal: have it analysed.",
            names=names,
            **told,
        ),
    )


def _stock_checks(inputs: ChargeInputs, decision: ChargeDecision) -> list[Check]:
    """The item used most of what there is of it, and the smallest lot, each as one check."""
    x = decision.masses[: inputs.heel]
    used = x > 0.0
    checks: list[Check] = []
    there = np.where(used, inputs.available[: inputs.heel], 1.0)
    drawn = np.where(used, x, 0.0) / np.maximum(there, TRACE)
    if drawn.any():
        worst = int(drawn.argmax())
        checks.append(
            STOCK.judge(
                float(drawn[worst]),
                1.0,
                subject=f"/stock/{inputs.places[worst]}/available",
                ok=Say("The stock suffices."),
                bad=Say(
                    "Not enough {name}: {value} is charged and {limit} lies in stock.",
                    name=inputs.items[worst],
                    value=(float(x[worst]), "mass"),
                    limit=(float(inputs.available[worst]), "mass"),
                ),
            )
        )
    least = inputs.lot[: inputs.heel]
    ratio = np.where(used & (least > 0.0), x, np.inf) / np.where(least > 0.0, least, 1.0)
    if np.isfinite(ratio).any():
        worst = int(ratio.argmin())
        checks.append(
            LOT.judge(
                float(ratio[worst]),
                1.0,
                subject=f"/stock/{inputs.places[worst]}/smallest_lot",
                ok=Say("Every lot is large enough to weigh and handle."),
                bad=Say(
                    "{value} of {name} is less than its smallest lot, {limit}.",
                    name=inputs.items[worst],
                    value=(float(x[worst]), "mass"),
                    limit=(float(inputs.lot[worst]), "mass"),
                ),
            )
        )
    return checks
