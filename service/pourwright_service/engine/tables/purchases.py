"""What a founder can buy to mend a charge: pure metals and master alloys, without prices."""

from collections.abc import Mapping
from dataclasses import dataclass

from .reading import Lazy, read_table


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing to buy: ``kind`` as a stock item's, composition in per cent of mass."""

    name: str
    kind: str
    form: str
    composition: Mapping[str, float]


def _load() -> dict[str, Offer]:
    found: dict[str, Offer] = {}
    shares: dict[str, dict[str, float]] = {}
    for row in read_table("purchases"):
        words = row.words
        shares.setdefault(words["name"], {})[words["element"]] = row.cells["share"].value
        found[words["name"]] = Offer(
            words["name"], words["kind"], words.get("form", ""), shares[words["name"]]
        )
    return found


PURCHASES: Mapping[str, Offer] = Lazy(_load)
"""Every offer by name."""
