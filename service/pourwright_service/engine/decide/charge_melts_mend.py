"""What to buy, or how much less to melt, where one stock does not make several melts."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from ..assess.charge import ChargeInputs
from ..assess.charge_intervals import Array
from .charge import choose_charge
from .charge_case import ChargeCase
from .charge_levers import COMPOSITION, GRAM, bought
from .charge_purchase import Purchase, mend_charge
from .remedies import WHOLE_ANSWER, Levers, Offer, Proposal, Slide, Trouble, given_at


def purchase_for(case: ChargeCase, inputs: ChargeInputs, left: Array) -> tuple[Purchase, ...]:
    """The smallest purchase that makes one melt from what the others leave (``left``, kg, by input row).

    ``case`` holds the stock that may be charged, ``inputs`` the same melt prepared from it, whose places
    are those of the case.
    """
    stock = tuple(
        replace(item, available=float(left[row]), pieces=None, minimum_use=None)
        if np.isfinite(left[row])
        else item
        for item, row in zip(case.stock, np.argsort(inputs.places), strict=True)
    )
    here = replace(inputs, available=left, minimum_use=np.zeros(len(left)))
    return mend_charge(replace(case, stock=stock), here, choose_charge(here))


def _melts(trouble: Trouble) -> Sequence[Any]:
    found: Sequence[Any] = trouble.answer.result.get("melts") or ()
    return found


def _bought(trouble: Trouble) -> Iterator[Offer]:
    """Buy what all failing melts lack together, or what one of them does."""
    lists = [line["purchase"] for line in _melts(trouble) if line["purchase"]]
    if len(lists) > 1:
        yield from bought([item for items in lists for item in items])
    for items in lists:
        yield from bought(items)


def _less(trouble: Trouble) -> Iterator[Slide]:
    """Melt no more of each than the stock makes."""
    for place, line in enumerate(_melts(trouble)):
        asked = given_at(trouble.case, f"/melts/{place}/melt_mass")
        if line["outcome"] == "short" and asked:
            yield Slide(
                checks=(WHOLE_ANSWER, *COMPOSITION),
                at=f"/melts/{place}/melt_mass",
                kind="mass",
                step=10 * GRAM,
                up=False,
                most=10 * GRAM,
                guess=line["melt_mass"],
                words=f"Melt {{new}} of {line['name']} instead of {{old}}: so much this stock makes.",
            )


MELTS = Levers(
    levers=(
        Proposal(checks=(*COMPOSITION, WHOLE_ANSWER), offers=_bought),
        Proposal(checks=(*COMPOSITION, WHOLE_ANSWER), offers=_less),
    ),
    cost={"money": ("money", ("cost",))},
)
