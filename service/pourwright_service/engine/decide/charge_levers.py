"""What can be changed to make a charge do: buy what lacks, melt less, or leave the choice to the service."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ..ledger import Say
from .charge_purchase import Purchase
from .remedies import (
    REMOVED,
    WHOLE_ANSWER,
    Change,
    Levers,
    Offer,
    Proposal,
    Slide,
    Trouble,
    given_at,
)

COMPOSITION = (
    "charge-composition-minimum",
    "charge-composition-maximum",
    "charge-melt-mass",
    "charge-unnamed-elements",
)

GRAM = 1e-3


def _result(trouble: Trouble) -> Mapping[str, Any]:
    """The charge's own result, also inside a plan's."""
    inside = trouble.answer.result.get("charge")
    found: Mapping[str, Any] = inside if isinstance(inside, Mapping) else trouble.answer.result
    return found


def _bought(trouble: Trouble) -> Iterator[Offer]:
    """The smallest purchase that does, added to the stock."""
    purchase: Sequence[Purchase] = _result(trouble).get("purchase") or ()
    if purchase:
        yield from bought(purchase)


def bought(purchase: Sequence[Purchase]) -> Iterator[Offer]:
    """A purchase added to the stock."""
    changes, parts, words = [], {}, []
    for number, item in enumerate(purchase):
        stock = item.as_stock()
        for name in ("available", "smallest_lot"):
            stock[name] = {"value": stock[name], "unit": "kg"}
        changes.append(Change("/stock/-", stock))
        parts[f"m{number}"] = (item.mass, "mass")
        words.append(f"{{m{number}}} of {item.name}")
    listed = words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
    yield Offer(tuple(changes), Say(f"Buy {listed}, and melt it with the rest.", **parts))


def _less(trouble: Trouble) -> Iterator[Slide]:
    """Melt no more than the stock makes."""
    most = _result(trouble).get("largest_melt")
    asked = given_at(trouble.case, "/melt_mass")
    if most and asked and most < asked:
        yield Slide(
            checks=(WHOLE_ANSWER, *COMPOSITION),
            at="/melt_mass",
            kind="mass",
            step=10 * GRAM,
            up=False,
            most=10 * GRAM,
            guess=most,
            words="Melt {new} instead of {old}: so much this stock makes.",
        )


def _own_choice(trouble: Trouble) -> Iterator[Offer | Slide]:
    """A charge that the caller has decided: use no more than there is, or leave it to the service."""
    stock = given_at(trouble.case, "/stock") or ()
    decided = [index for index, item in enumerate(stock) if item.charged is not None]
    if not decided:
        return
    for check in trouble.checks:
        index = check.subject.removeprefix("/stock/").partition("/")[0]
        if check.kind.id == "charge-stock" and index.isdigit():
            yield Slide(
                checks=(check.kind.id,),
                at=f"/stock/{index}/charged",
                kind="mass",
                step=GRAM,
                up=False,
                most=0.0,
                words=f"Charge {{new}} of {stock[int(index)].name} instead of {{old}}.",
            )
    changes = tuple(Change(f"/stock/{index}/charged", REMOVED) for index in decided)
    yield Offer(changes, Say("Let the charge be chosen for you."))


def _whole_lot(trouble: Trouble) -> Iterator[Slide]:
    """Charge at least the smallest lot of what is charged."""
    for check in trouble.checks:
        index = check.subject.removeprefix("/stock/").partition("/")[0]
        item = given_at(trouble.case, f"/stock/{index}")
        if item is not None and item.charged is not None:
            yield Slide(
                checks=(check.kind.id,),
                at=f"/stock/{index}/charged",
                kind="mass",
                step=GRAM,
                up=True,
                most=10.0 * max(item.charged, math.ulp(1.0)),
                words=f"Charge {{new}} of {item.name} instead of {{old}}.",
            )


CHARGE_LEVERS = (
    Proposal(checks=(*COMPOSITION, WHOLE_ANSWER), offers=_bought),
    Proposal(checks=(*COMPOSITION, WHOLE_ANSWER), offers=_less),
    Proposal(checks=(*COMPOSITION, "charge-stock", "charge-smallest-lot"), offers=_own_choice),
    Proposal(checks=("charge-smallest-lot",), offers=_whole_lot),
)

CHARGE = Levers(
    levers=CHARGE_LEVERS,
    cost={"metal": ("mass", ("charged_mass",)), "money": ("money", ("cost",))},
)
