# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""Models of alloys."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..quantity import Quantity
from .catalogue import CellResult, WordsResult
from .reference import CitedSource


@dataclass(frozen=True, slots=True)
class AliasResult:
    """Another name of an alloy."""

    name: str
    """The name."""
    relation: Literal["same", "near"]
    """near: lends its properties, never its limits."""
    source: CitedSource
    """Who says so."""


@dataclass(frozen=True, slots=True)
class FittingAlloyResult:
    """An alloy that fits what was asked for."""

    id: str
    """Its id."""
    name: str
    """Its name."""
    designation: str
    """The standard's designation."""
    family: str
    """Base metal."""
    group: str
    """Group within the family."""
    freezing_class: str
    """How wide its freezing range is: short, middle or long."""
    aliases: tuple[AliasResult, ...]
    """Other names."""
    liquidus: Quantity | None
    """Above this it is all liquid."""
    solidus: Quantity | None
    """Below this it is all solid."""
    pouring_low: Quantity | None
    """Coolest pouring temperature, for heavy castings."""
    pouring_high: Quantity | None
    """Hottest pouring temperature, for the thinnest castings."""
    pouring_provenance: str | None
    """What the pouring temperatures are: table, standard, from memory, or estimated by rule. The one that is
    worth less speaks for both."""
    sea_water: str
    """How it lasts in sea water: good, fair or poor."""
    zinc_at_most: Quantity | None
    """The most zinc that its figures let in; null: not named."""
    lead_at_most: Quantity | None
    """The most lead that its figures let in; null: not named."""
    notes: tuple[str, ...]
    """What there is to mind about it."""


@dataclass(frozen=True, slots=True)
class JudgedAlloyResult:
    """An alloy that is not among those that fit, and why."""

    id: str
    """Its id."""
    name: str
    """Its name."""
    reasons: tuple[str, ...]
    """Why not."""


@dataclass(frozen=True, slots=True)
class AlloySummaryList:
    """A list of alloys."""

    items: tuple[FittingAlloyResult, ...]
    """The alloys that fit, in the order of the table."""
    undecided: tuple[JudgedAlloyResult, ...]
    """Alloys of which the tables do not say enough."""
    left_out: tuple[JudgedAlloyResult, ...]
    """Alloys that do not fit, each with the reason."""
    next: str | None
    """Address of the rest of the list; null: the list is whole."""


@dataclass(frozen=True, slots=True)
class UsedResult:
    """A figure that calculations take and that is no figure of the alloy's own row."""

    name: str
    """What the figure is."""
    value: Quantity | float | None
    """The figure in the units asked for."""
    provenance: str
    """table, computed, estimated, from memory, common practice."""
    source: CitedSource
    """Where it comes from; the place says how."""
    spread: float | None
    """Half-width as a fraction of the value, where one is known."""


@dataclass(frozen=True, slots=True)
class ShareResult:
    """What an alloy holds of one element, per cent of mass."""

    element: str
    """Symbol of the element."""
    minimum: CellResult | None
    """Least, where there is a limit."""
    nominal: CellResult | None
    """Usual, where there is a figure."""
    maximum: CellResult | None
    """Most, where there is a limit."""


@dataclass(frozen=True, slots=True)
class HazardResult:
    """An element of the alloy that can hurt people."""

    element: str
    """Symbol of the element."""
    most_percent: float
    """The most of it that the alloy's figures let in, per cent of mass."""
    care_above: CellResult
    """Above this share the service warns."""
    refuse_above: CellResult | None
    """Above this share it will not call the job fit to do."""
    severity: Literal["none", "care", "refuse"]
    """What the share comes to."""
    hazard: str | None
    """What can hurt; null where the severity is none."""
    message: str | None
    """What to do or not to do."""
    why: str | None
    """Why it arises from this alloy."""
    decides: str | None
    """Who decides: local code, licensed practice."""
    source: CitedSource | None
    """Where the warning comes from."""


@dataclass(frozen=True, slots=True)
class AlloyResult:
    """An alloy with every figure that is known of it."""

    id: str
    """Its id."""
    name: str
    """Its name."""
    designation: str
    """The standard's designation."""
    family: str
    """Base metal."""
    group: str
    """Group within the family."""
    freezing_class: str
    """How wide its freezing range is: short, middle or long."""
    aliases: tuple[AliasResult, ...]
    """Other names."""
    liquidus: Quantity | None
    """Above this it is all liquid."""
    solidus: Quantity | None
    """Below this it is all solid."""
    pouring_low: Quantity | None
    """Coolest pouring temperature, for heavy castings."""
    pouring_high: Quantity | None
    """Hottest pouring temperature, for the thinnest castings."""
    pouring_provenance: str | None
    """What the pouring temperatures are: table, standard, from memory, or estimated by rule. The one that is
    worth less speaks for both."""
    sea_water: str
    """How it lasts in sea water: good, fair or poor."""
    zinc_at_most: Quantity | None
    """The most zinc that its figures let in; null: not named."""
    lead_at_most: Quantity | None
    """The most lead that its figures let in; null: not named."""
    near: str | None
    """The alloy whose properties this one borrows; null: it has its own."""
    properties: tuple[CellResult, ...]
    """Its properties, as the table has them."""
    lacking: tuple[str, ...]
    """Properties for which no figure was found."""
    in_use: tuple[UsedResult, ...]
    """What calculations take instead: where the table has no figure, and where figures must agree."""
    composition: tuple[ShareResult, ...]
    """Its composition."""
    others_each: CellResult | None
    """Most of any element not named."""
    others_total: CellResult | None
    """Most of all elements not named together."""
    use: str
    """What it is used for."""
    corrosion: str
    """Where it lasts and where not."""
    melt_hazards: str
    """What its melt can do to people."""
    lead: str
    """How much lead there is in it and what that forbids."""
    words: tuple[WordsResult, ...]
    """All that is said in words, with its sources."""
    hazards: tuple[HazardResult, ...]
    """Elements that can hurt, with the thresholds of caution and refusal."""
