# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of sand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NotRequired, TypeAlias, TypedDict

from ..quantity import FractionInput, JsonObject, Quantity, QuantityInput


class SandFlaskInput(TypedDict):
    """A flask's inside, cope and drag together."""

    length: QuantityInput
    """Length."""
    width: QuantityInput
    """Width."""
    height: QuantityInput
    """Height of all parts together."""


class MeasureInput(TypedDict):
    """A bucket or cup, rammed full and weighed."""

    mass: QuantityInput
    """Sand in it, without the bucket."""
    volume: QuantityInput
    """What it holds."""


class DriedSampleInput(TypedDict):
    """A sample weighed as it is, and again when it is dry."""

    wet_mass: QuantityInput
    """As it is."""
    dry_mass: QuantityInput
    """Dried in an oven until it loses no more."""


class SandMemberInput(TypedDict):
    """Who gets a part of the batch: a name for you alone, such as 'bench 3'; no personal data is needed."""

    name: str
    """What you call the share."""
    parts: NotRequired[float]
    """How many parts; 1 if left out."""


SandRequestSystem: TypeAlias = Literal[
    "green sand",
    "oil-bonded sand",
    "silicate sand",
    "resin sand",
    "green",
    "greensand",
    "oil",
    "oil-bonded",
    "oil sand",
    "silicate",
    "sodium silicate",
    "CO2 sand",
    "resin",
]


class SandRequest(TypedDict):
    """A batch of moulding sand."""

    system: SandRequestSystem
    """What holds the sand."""
    sand_mass: NotRequired[QuantityInput]
    """Sand as it lies; left out, what the flask takes and some to spare."""
    flask: NotRequired[SandFlaskInput | JsonObject]
    """The flask to fill."""
    pattern_volume: NotRequired[QuantityInput]
    """Volume of pattern, riser and sprue in it."""
    spare: NotRequired[FractionInput]
    """Sand to spare over what the flask takes, additions not counted."""
    bulk_density: NotRequired[QuantityInput]
    """Of rammed sand."""
    measure: NotRequired[MeasureInput | JsonObject]
    """A weighed measure, from which the bulk density follows."""
    moisture: NotRequired[FractionInput]
    """Water in the sand as it lies."""
    sample: NotRequired[DriedSampleInput | JsonObject]
    """A dried sample, from which the moisture follows."""
    dry_sand: NotRequired[QuantityInput]
    """Dry new sand mixed in; it gets its whole share of binder."""
    burnt_share: NotRequired[FractionInput]
    """Used sand: the share of its binder that was burnt and is put back; left out, the sand is new and gets
    all of its binder."""
    water_share: NotRequired[FractionInput]
    """Water wanted in the whole mix (green sand)."""
    binder_share: NotRequired[FractionInput]
    """Clay, silicate or resin, of the sand's weight."""
    oil_share: NotRequired[FractionInput]
    """Oil, of the sand's weight (oil-bonded sand)."""
    methanol_share: NotRequired[FractionInput]
    """Methanol, of the sand's weight (oil-bonded sand)."""
    catalyst_share: NotRequired[FractionInput]
    """Catalyst, of the resin's weight (resin sand)."""
    soda_share: NotRequired[FractionInput]
    """Na2O in the silicate, by its maker's card."""
    solids_share: NotRequired[FractionInput]
    """What is not water in the silicate."""
    bucket_volume: NotRequired[QuantityInput]
    """What your bucket holds."""
    members: NotRequired[Sequence[SandMemberInput | JsonObject]]
    """Who shares the batch."""


@dataclass(frozen=True, slots=True)
class SandAdditionLine:
    """One thing to put to the sand."""

    material: str
    """What."""
    mass: Quantity
    """How much."""
    share: Quantity
    """Of the whole mix."""
    volume: Quantity | None
    """Its volume, of water."""


@dataclass(frozen=True, slots=True)
class SandMemberLine:
    """One share of the batch."""

    name: str
    """Whose."""
    mass: Quantity
    """Mixed sand."""
    buckets: float
    """In buckets, rammed."""


@dataclass(frozen=True, slots=True)
class SandResult:
    """The batch, and who gets what."""

    system: str | None
    """What holds the sand."""
    sand_mass: Quantity | None
    """Sand as it lies."""
    moisture_before: Quantity | None
    """Water in it."""
    additions: tuple[SandAdditionLine, ...] | None
    """What is put to it, by weight."""
    gas_low: Quantity | None
    """Carbon dioxide that the silicate can bind."""
    gas_high: Quantity | None
    """What is blown in practice at most; the rest escapes."""
    batch_mass: Quantity | None
    """The whole mix."""
    moisture: Quantity | None
    """Water in the mix, with what the silicate brings."""
    bulk_density: Quantity | None
    """Bulk density used."""
    volume: Quantity | None
    """The mix, rammed."""
    buckets: float | None
    """The same in buckets."""
    flask_takes: Quantity | None
    """What the flask takes."""
    members: tuple[SandMemberLine, ...] | None
    """Who gets what."""
