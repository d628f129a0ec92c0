"""The charge as an answer: lines, composition, costs, and the sentence a beginner needs first."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ..assess.charge import ChargeAssessment, ChargeDecision, ChargeInputs, Side
from ..checks import Verdict
from ..ledger import Say
from .charge_matrices import limit_of
from .charge_mend import largest_melt, metal_at_hand
from .charge_purchase import Purchase
from .charge_relax import Relaxed, cost_of
from .charge_stock import ADDITIONS
from .charge_why import aim_distance

DUST = 1e-9
"""Share of the melt below which something lacking is the rounding of floats."""

NAMED = 4
"""So many lines of the charge are named in the sentence."""


def charge_result(
    inputs: ChargeInputs,
    decision: ChargeDecision,
    found: ChargeAssessment,
    purchase: Sequence[Purchase],
    *,
    why: Mapping[int, Say] | None = None,
    relaxed: Sequence[Relaxed] | None = None,
) -> dict[str, Any]:
    """The result as the answer's schema lays it out; lines in the order of the request.

    ``why``: of each item, why no more of it is charged, where that was worked out. ``relaxed``: what
    each limit costs, where that was asked for.
    """
    certain, middle = cost_of(inputs, decision.certain), cost_of(inputs, decision.middle)
    lines = charge_lines(inputs, decision, found, why)
    nearest = decision.outcome == "nearest"
    return {
        "outcome": decision.outcome,
        "margin": inputs.margin,
        "objective": inputs.objective,
        "charge": sorted(lines, key=lambda line: line["place"]),
        "composition": composition_lines(inputs, found),
        "scrap_ratio": _scrap(inputs, decision) / found.charged_mass if found.charged_mass else None,
        "aim_distance": aim_distance(inputs, decision.masses),
        "charged_mass": found.charged_mass,
        "heel_mass": found.heel_mass,
        "melt_mass": found.melt_mass,
        "melt_mass_low": found.melt_mass_low,
        "melt_mass_high": found.melt_mass_high,
        "loss": found.charged_mass + found.heel_mass - found.melt_mass,
        "loss_ratio": found.loss,
        "losses": _losses(inputs, found),
        "pig": max(found.pig, 0.0),
        "shortfall": -found.pig if -found.pig > DUST * found.melt_mass else 0.0,
        "cost": found.cost,
        "pig_cost": found.cost * max(found.pig, 0.0) / found.melt_mass,
        "cost_for_certain": certain,
        "cost_at_middle": middle,
        "price_of_certainty": certain - middle,
        "binding": [side_line(inputs, side) for side in decision.binding],
        "doubtful": [side_line(inputs, side) for side in decision.doubtful],
        "relaxation": None if relaxed is None else [_relaxed_line(inputs, one) for one in relaxed],
        "largest_melt": largest_melt(inputs, robust=inputs.margin == "robust") if nearest else None,
        "metal_at_hand": metal_at_hand(inputs) if nearest else None,
        "purchase": list(purchase),
    }


def _scrap(inputs: ChargeInputs, decision: ChargeDecision) -> float:
    """Mass of scrap and returns in the charge, kg."""
    return float(decision.masses[: inputs.heel] @ ~inputs.new_metal[: inputs.heel])


def _relaxed_line(inputs: ChargeInputs, relaxed: Relaxed) -> dict[str, Any]:
    return {
        **side_line(inputs, relaxed.side),
        "widened_percent": _percent(relaxed.widened),
        "keeps": relaxed.keeps,
        "cost": relaxed.cost,
        "saving": relaxed.saving,
    }


def charge_lines(
    inputs: ChargeInputs,
    decision: ChargeDecision,
    found: ChargeAssessment,
    why: Mapping[int, Say] | None = None,
) -> list[dict[str, Any]]:
    """Every stock item: what is charged of it, and why no more is, or nothing."""
    masses, pieces = decision.masses.tolist(), inputs.piece.tolist()
    facts = _why_not(inputs) if decision.outcome != "given" else [None] * inputs.heel
    reasons = [None if mass else fact for mass, fact in zip(masses, facts, strict=False)]
    told = why or {}
    return [
        {
            "place": inputs.places[k],
            "item": inputs.items[k],
            "kind": inputs.kinds[k],
            "mass": masses[k],
            "pieces": round(masses[k] / pieces[k]) if pieces[k] else None,
            "share": masses[k] / found.charged_mass if found.charged_mass else 0.0,
            "cost": found.item_costs[k],
            "why": told.get(k, reasons[k]),
        }
        for k in range(inputs.heel)
    ]


def _why_not(inputs: ChargeInputs) -> list[str | None]:
    """What about each item, by its own composition, speaks against it: a word where nothing was solved."""
    own = inputs.composition * inputs.recovery
    share = own / np.maximum(own.sum(axis=1), 1e-30)[:, None]
    unwanted = (inputs.maxima < 1.0) & (inputs.minima <= 0.0)
    excess = np.where(unwanted, share / np.maximum(inputs.maxima, 1e-6), 0.0)
    worst = excess.argmax(axis=1)
    unpriced = np.isnan(inputs.price[: inputs.heel])
    reasons: list[str | None] = []
    for k in range(inputs.heel):
        e = worst[k]
        if not inputs.usable[k]:
            reasons.append("refused, or of unknown composition")
        elif excess[k, e] > 1.0 and inputs.kinds[k] not in ADDITIONS:
            reasons.append(
                f"brings {100.0 * share[k, e]:.3g} % {inputs.elements[e]}, "
                f"and the melt may hold {100.0 * inputs.maxima[e]:.3g} %"
            )
        elif unpriced[k] and not unpriced.all():
            reasons.append("has no price, so it is the last resort")
        else:
            reasons.append("not needed")
    return reasons


def composition_lines(inputs: ChargeInputs, found: ChargeAssessment) -> list[dict[str, Any]]:
    """The melt by element, the richest first."""
    minima, maxima, aims = inputs.minima.tolist(), inputs.maxima.tolist(), inputs.aim.tolist()
    rows = [
        {
            "element": element,
            "nominal_percent": _percent(found.share[e]),
            "low_percent": _percent(found.share_low[e]),
            "high_percent": _percent(found.share_high[e]),
            "minimum_percent": _percent(minima[e]) if minima[e] > 0.0 else None,
            "maximum_percent": _percent(maxima[e]) if maxima[e] < 1.0 else None,
            "aim_percent": _percent(aims[e]) if aims[e] == aims[e] else None,
        }
        for e, element in enumerate(inputs.elements)
    ]
    return sorted(rows, key=lambda row: (-row["nominal_percent"], row["element"]))


def _losses(inputs: ChargeInputs, found: ChargeAssessment) -> list[dict[str, Any]]:
    """What is lost of each element, the most first."""
    rows = [
        {"element": element, "mass": lost, "mass_low": low, "mass_high": high}
        for element, lost, low, high in zip(
            inputs.elements, found.lost, found.lost_low, found.lost_high, strict=True
        )
        if high > 0.0
    ]
    return sorted(rows, key=lambda row: (-row["mass"], row["element"]))


def side_line(inputs: ChargeInputs, side: Side) -> dict[str, Any]:
    """A limit of the melt, as the answer's schema lays it out."""
    return {
        "element": inputs.elements[side[0]],
        "side": side[1],
        "limit_percent": _percent(limit_of(inputs, side)),
    }


def _percent(share: float) -> float:
    """A share in per cent, as it was typed: 0.035 is 3.5 and not 3.5000000000000004."""
    return round(100.0 * share, 12)


def charge_sentence(
    inputs: ChargeInputs, decision: ChargeDecision, found: ChargeAssessment, purchase: Sequence[Purchase]
) -> tuple[Say, Verdict]:
    """The first sentence, and the verdict that it adds to the checks'."""
    used = [(float(decision.masses[k]), inputs.items[k]) for k in range(inputs.heel)]
    lines = listed("Charge", sorted((pair for pair in used if pair[0] > 0.0), reverse=True), "m")
    if decision.outcome == "given":
        return Say("Your charge melts down to {melt}.", melt=(found.melt_mass, "mass")), "pass"
    if decision.outcome == inputs.margin:
        if decision.certain is decision.middle:
            return lines.then(Say("Every limit is kept.")), "pass"
        if inputs.margin == "robust":
            return lines.then(Say("Every limit is kept even where the recoveries fall out badly.")), "pass"
        return lines.then(Say("Every limit is kept at middle recoveries.")), "pass"
    buy = listed("To mend that, buy", [(bought.mass, bought.name) for bought in purchase], "b")
    if decision.outcome == "nominal":
        names = ", ".join(f"{inputs.elements[e]} ({side})" for e, side in decision.doubtful)
        sure = Say(
            "At middle recoveries every limit is kept, but no charge from this stock is certain to keep "
            "{doubtful}.",
            doubtful=names or "all of them at once",
        )
        return lines.then(sure).then(buy if purchase else _no_purchase(inputs, decision, found)), "warn"
    say = Say("This stock cannot make the melt.")
    for check in found.checks:
        if check.verdict == "fail":
            say = say.then(check.message)
            break
    return (say.then(buy) if purchase else say), "fail"


def _no_purchase(inputs: ChargeInputs, decision: ChargeDecision, found: ChargeAssessment) -> Say:
    """Why nothing that can be bought makes it certain: an element that strays farther than its limits."""
    sample = Say("Nothing that can be bought would be certain to: take a sample before you pour.")
    for e, _ in decision.doubtful:
        least, most = float(inputs.minima[e]), float(inputs.maxima[e])
        low, high = found.share_low[e], found.share_high[e]
        if high - low > most - least:
            wide = Say(
                "What melting takes moves {element} anywhere from {low} to {high}, and the limits leave only "
                "{least} to {most}.",
                element=inputs.elements[e],
                low=(low, "fraction"),
                high=(high, "fraction"),
                least=(least, "fraction"),
                most=(most, "fraction"),
            )
            return wide.then(sample)
    return sample


def listed(verb: str, pairs: Sequence[tuple[float, str]], letter: str) -> Say:
    """``verb`` 1.2 kg of this, 0.3 kg of that."""
    words = [f"{{{letter}{k}}} of {{{letter}{k}_name}}" for k in range(min(len(pairs), NAMED))]
    if len(pairs) > NAMED:
        words.append(f"{len(pairs) - NAMED} more")
    parts: dict[str, tuple[float, str] | str] = {}
    for k, (mass, name) in enumerate(pairs[:NAMED]):
        parts[f"{letter}{k}"] = (mass, "mass")
        parts[f"{letter}{k}_name"] = name
    joined = words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1] if words else ""
    return Say(f"{verb} {joined}.", **parts)
