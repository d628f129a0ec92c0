"""The charge of a plan: the stock that makes what is poured and what is kept back."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ..assess.charge import assess_charge
from ..checks import Check, Verdict
from ..ledger import Ledger, MissingValue, Say
from .charge import (
    choose_charge,
    given_charge,
    lack_prices,
    lost_of,
    mend_charge,
    prepare_charge,
    unnamed_metal,
)
from .charge_answer import charge_result, charge_sentence
from .charge_case import ChargeCase
from .charge_hazards import hazards_of_charged
from .charge_stock import charged_places
from .plan_case import PlanCase


@dataclass(frozen=True, slots=True, kw_only=True)
class Melt:
    """The charge as it was chosen: ``most`` (kg) is the melt at the highest recoveries,
    ``composition`` the melt in per cent, ``lost`` what melting takes of each element (kg, expected and
    at most)."""

    result: dict[str, Any]
    checks: tuple[Check, ...]
    message: Say
    verdict: Verdict
    composition: Mapping[str, float]
    lost: Mapping[str, tuple[float, float]]
    melt_mass: float
    most: float


def charge_of(case: PlanCase, melt_mass: float, ledger: Ledger) -> Melt | None:
    """Choose the charge for ``melt_mass`` (kg); None where there is no stock or no specification."""
    if not case.stock:
        return None
    wishes = case.charge
    asked = ChargeCase(
        melt_mass=melt_mass,
        stock=case.stock,
        alloy=case.alloy,
        limits_percent=wishes.limits_percent,
        unnamed_percent=wishes.unnamed_percent,
        aim_percent=wishes.aim_percent,
        recovery_percent=wishes.recovery_percent,
        margin=wishes.margin,
        objective=wishes.objective,
        smallest_lot=wishes.smallest_lot,
        smallest_addition=wishes.smallest_addition,
        heel=case.heel,
        currency=case.currency,
    )
    here = ledger.seen_from(stock="/stock", alloy="/alloy", heel="/heel", currency="/currency", _="/charge")
    try:
        inputs = prepare_charge(asked, here)
    except MissingValue:
        return None
    decision = given_charge(asked, inputs) or choose_charge(inputs)
    if not decision.masses.any():
        return None
    hazards_of_charged(asked.stock, charged_places(inputs, decision.masses), here)
    found = assess_charge(inputs, decision)
    purchase = mend_charge(asked, inputs, decision)
    lack_prices(inputs, decision, here)
    unnamed_metal(inputs, decision, found, here)
    message, verdict = charge_sentence(inputs, decision, found, purchase)
    return Melt(
        result=charge_result(inputs, decision, found, purchase),
        checks=tuple(found.checks),
        message=message,
        verdict=verdict,
        composition={e: 100.0 * share for e, share in zip(inputs.elements, found.share, strict=True)},
        lost=lost_of(inputs, found),
        melt_mass=found.melt_mass,
        most=found.melt_mass_high,
    )
