"""The alloys of the tables: which of them fit a need, and all that is known of one."""

from typing import Any

from ..engine.decide.alloys import (
    AlloyHazard,
    AlloysCase,
    Judged,
    choose_alloys,
    figures_in_use,
    hazards_of_alloy,
    most_of,
    pouring_range,
    quiet_zinc,
)
from ..engine.decide.metal import LONG_ABOVE, METAL_KINDS, SHORT_BELOW, Found
from ..engine.tables.alloys import FAMILIES, PROPERTIES, Alloy, Share, alloy_names, find_alloy
from ..engine.tables.hazards import ELEMENT_HAZARDS
from .catalogue import (
    CellResult,
    ShownValue,
    WordsResult,
    cell_of,
    cells_of,
    lacking_of,
    optional_cell,
    words_of,
)
from .problems import Fault, Problem, did_you_mean
from .query import Query
from .reference import TAG, CitedSource, cited
from .registry import resource
from .schemas import Choice, Flag, Nested, Number, Quantity, Result, Text, Texts, within
from .sentences import render


class AliasResult(Result):
    """Another name of an alloy."""

    name = Text("The name.", required=True)
    relation = Choice(("same", "near"), "near: lends its properties, never its limits.", required=True)
    source = Nested(CitedSource, "Who says so.", required=True)


class AlloySummaryResult(Result):
    """An alloy in brief."""

    id = Text("Its id.", required=True)
    name = Text("Its name.", required=True)
    designation = Text("The standard's designation.", required=True)
    family = Text("Base metal.", required=True)
    group = Text("Group within the family.", required=True)
    freezing_class = Text("How wide its freezing range is: short, middle or long.", required=True)
    aliases = Nested(AliasResult, "Other names.", many=True, required=True)
    liquidus = Quantity("temperature", "Above this it is all liquid.")
    solidus = Quantity("temperature", "Below this it is all solid.")
    pouring_low = Quantity("temperature", "Coolest pouring temperature, for heavy castings.")
    pouring_high = Quantity("temperature", "Hottest pouring temperature, for the thinnest castings.")
    pouring_provenance = Text(
        "What the pouring temperatures are: table, standard, from memory, or estimated by rule. The one that "
        "is worth less speaks for both."
    )
    sea_water = Text("How it lasts in sea water: good, fair or poor.", required=True)
    zinc_at_most = Quantity("fraction", "The most zinc that its figures let in; null: not named.")
    lead_at_most = Quantity("fraction", "The most lead that its figures let in; null: not named.")


class FittingAlloyResult(AlloySummaryResult):
    """An alloy that fits what was asked for."""

    notes = Texts("What there is to mind about it.", required=True)


class JudgedAlloyResult(Result):
    """An alloy that is not among those that fit, and why."""

    id = Text("Its id.", required=True)
    name = Text("Its name.", required=True)
    reasons = Texts("Why not.", required=True)


class AlloySummaryList(Result):
    """A list of alloys."""

    items = Nested(
        FittingAlloyResult, "The alloys that fit, in the order of the table.", many=True, required=True
    )
    undecided = Nested(
        JudgedAlloyResult, "Alloys of which the tables do not say enough.", many=True, required=True
    )
    left_out = Nested(
        JudgedAlloyResult, "Alloys that do not fit, each with the reason.", many=True, required=True
    )
    next = Text("Address of the rest of the list; null: the list is whole.")


class AlloysQuery(Query):
    """Which alloys are wanted. Filters add up; none asks for all alloys."""

    makes = AlloysCase
    pours_below = Quantity(
        "temperature",
        "Alloys that can be poured at or below this temperature: the coolest of the pouring range, which is "
        "for heavy castings, decides, and a note says if thin ones want more. An alloy without a pouring "
        "range of its own is in undecided, with the range by rule, unless it is not even liquid there.",
    )
    no_lead = Flag(
        f"true: alloys whose figures let in no more than {ELEMENT_HAZARDS['Pb'].care_above:g} % of lead, the "
        "share from which this service warns of it. Limits count, so an alloy to which none is added may be "
        "left out. Where lead is not named, it counts as none, and a note says what unnamed elements may "
        "come to.",
    )
    lead_at_most = Quantity(
        "fraction", "As no_lead, with a share of your own, such as 0.25 %.", bound=within(0.0, 1.0)
    )
    no_zinc_fume = Flag(
        f"true: alloys whose figures let in no more than {ELEMENT_HAZARDS['Zn'].care_above:g} % of zinc, or "
        f"that are poured no hotter than {quiet_zinc() - 273.15:.0f} degC, where the vapour pressure of pure "
        "zinc stays below a thousandth of an atmosphere. Scrap of another alloy and plated scrap bring zinc "
        "of their own.",
    )
    sea_water = Choice(
        ("good", "fair"), "Alloys that last at least as well as this in sea water, by the corrosion notes."
    )
    freezing_class = Choice(
        ("short", "middle", "long"),
        f"Alloys with a freezing range of this class: short below about {SHORT_BELOW:.0f} K, long above "
        f"about {LONG_ABOVE:.0f} K.",
    )
    family = Choice(FAMILIES, "Alloys of this base metal only; the others are not listed at all.")
    search = Text(
        "Alloys with this in their id, name, designation, group or one of their other names, whatever its "
        "case, spaces and hyphens; the others are not listed at all.",
        longest=60,
    )


class ShareResult(Result):
    """What an alloy holds of one element, per cent of mass."""

    element = Text("Symbol of the element.", required=True)
    minimum = Nested(CellResult, "Least, where there is a limit.")
    nominal = Nested(CellResult, "Usual, where there is a figure.")
    maximum = Nested(CellResult, "Most, where there is a limit.")


class UsedResult(Result):
    """A figure that calculations take and that is no figure of the alloy's own row."""

    name = Text("What the figure is.", required=True)
    value = ShownValue("The figure in the units asked for.", required=True)
    provenance = Text("table, computed, estimated, from memory, common practice.", required=True)
    source = Nested(CitedSource, "Where it comes from; the place says how.", required=True)
    spread = Number("Half-width as a fraction of the value, where one is known.")


class HazardResult(Result):
    """An element of the alloy that can hurt people."""

    element = Text("Symbol of the element.", required=True)
    most_percent = Number("The most of it that the alloy's figures let in, per cent of mass.", required=True)
    care_above = Nested(CellResult, "Above this share the service warns.", required=True)
    refuse_above = Nested(CellResult, "Above this share it will not call the job fit to do.")
    severity = Choice(("none", "care", "refuse"), "What the share comes to.", required=True)
    hazard = Text("What can hurt; null where the severity is none.")
    message = Text("What to do or not to do.")
    why = Text("Why it arises from this alloy.")
    decides = Text("Who decides: local code, licensed practice.")
    source = Nested(CitedSource, "Where the warning comes from.")


class AlloyResult(AlloySummaryResult):
    """An alloy with every figure that is known of it."""

    near = Text("The alloy whose properties this one borrows; null: it has its own.")
    properties = Nested(CellResult, "Its properties, as the table has them.", many=True, required=True)
    lacking = Texts("Properties for which no figure was found.", required=True)
    in_use = Nested(
        UsedResult,
        "What calculations take instead: where the table has no figure, and where figures must agree.",
        many=True,
        required=True,
    )
    composition = Nested(ShareResult, "Its composition.", many=True, required=True)
    others_each = Nested(CellResult, "Most of any element not named.")
    others_total = Nested(CellResult, "Most of all elements not named together.")
    use = Text("What it is used for.", required=True)
    corrosion = Text("Where it lasts and where not.", required=True)
    melt_hazards = Text("What its melt can do to people.", required=True)
    lead = Text("How much lead there is in it and what that forbids.", required=True)
    words = Nested(WordsResult, "All that is said in words, with its sources.", many=True, required=True)
    hazards = Nested(
        HazardResult,
        "Elements that can hurt, with the thresholds of caution and refusal.",
        many=True,
        required=True,
    )


def _summary(alloy: Alloy) -> dict[str, Any]:
    low, high = pouring_range(alloy.id)
    return {
        "id": alloy.id,
        "name": alloy.name,
        "designation": alloy.designation,
        "family": alloy.family,
        "group": alloy.group,
        "freezing_class": alloy.freezing_class,
        "aliases": [
            {"name": a.name, "relation": a.relation, "source": cited(a.source, a.place)}
            for a in alloy.aliases
        ],
        "liquidus": alloy.value("liquidus"),
        "solidus": alloy.value("solidus"),
        "pouring_low": low and low.value,
        "pouring_high": high and high.value,
        "pouring_provenance": _worse(low, high),
        "sea_water": alloy.sea_water,
        "zinc_at_most": _fraction(alloy.shares.get("Zn")),
        "lead_at_most": _fraction(alloy.shares.get("Pb")),
    }


_WORTH = ("estimated", "from memory", "common practice", "computed")
"""Provenances from the least; anything else was read somewhere."""


def _worse(*found: Found | None) -> str | None:
    words = [each.provenance for each in found if each is not None]
    return min(words, key=lambda word: _WORTH.index(word) if word in _WORTH else len(_WORTH), default=None)


def _fraction(share: Share | None) -> float | None:
    most = most_of(share)
    return None if most is None else most / 100.0


def _judged(judged: Judged) -> dict[str, Any]:
    reasons = [render(say) for say in judged.says]
    return {"id": judged.alloy.id, "name": judged.alloy.name, "reasons": reasons}


def _used(name: str, found: Found) -> dict[str, Any]:
    return {
        "name": name,
        "value": (METAL_KINDS[name], found.value),
        "provenance": found.provenance,
        "source": cited(found.source, found.note),
        "spread": found.spread,
    }


def _hazard(found: AlloyHazard) -> dict[str, Any]:
    known, caution = found.thresholds, found.caution
    return {
        "element": known.element,
        "most_percent": found.most,
        "care_above": cell_of("care above", known.cells["care_above"]),
        "refuse_above": optional_cell("refuse above", known.cells.get("refuse_above")),
        "severity": caution.severity if caution else "none",
        "hazard": caution and caution.hazard,
        "message": caution and render(caution.text),
        "why": caution and render(caution.why),
        "decides": caution and caution.decides,
        "source": caution and cited(caution.source),
    }


@resource(
    "GET",
    "/v1/alloys",
    operation="list_alloys",
    tag=TAG,
    summary="The alloys of the tables, or those that fit a need",
    description="Names, groups, temperatures and what to mind; each alloy's own page has the figures. With "
    "filters, every alloy that is asked about is in one of three lists: items fit, undecided lack a figure, "
    "left_out do not fit, each with its reasons.",
    answer=AlloySummaryList,
    query=AlloysQuery,
)
def alloys(wanted: AlloysCase) -> dict[str, Any]:
    judged = choose_alloys(wanted)
    return {
        "items": [
            {**_summary(each.alloy), "notes": [render(say) for say in each.says]}
            for each in judged
            if each.verdict == "fits"
        ],
        "undecided": [_judged(each) for each in judged if each.verdict == "unknown"],
        "left_out": [_judged(each) for each in judged if each.verdict == "left out"],
        "next": None,
    }


@resource(
    "GET",
    "/v1/alloys/{id}",
    operation="get_alloy",
    tag=TAG,
    summary="One alloy",
    description="Every figure that is known of one alloy, by id, name or alias, with its source, its grade "
    "and what other sources say; what calculations take where there is none; its hazards.",
    answer=AlloyResult,
    parameters={"id": "Id, name or alias of the alloy."},
    problems=("not_found",),
)
def alloy(id: str) -> dict[str, Any]:
    found = find_alloy(id)
    if found is None:
        names = alloy_names()
        detail = f"the tables have no alloy {id[:60]!r}{did_you_mean(id, names)}"
        raise Problem("not_found", detail, [Fault("unknown_alloy", detail, tuple(names), parameter="id")])
    own = found.near is None
    words = ("family", "group", "freezing_class", "use", "corrosion", "sea_water", "lead", "melt_hazards")
    used = figures_in_use(found.id)
    return {
        **_summary(found),
        "near": found.near,
        "properties": cells_of(found.cells),
        "lacking": lacking_of(PROPERTIES, found.cells),
        "in_use": [_used(name, figure) for name, figure in used.items() if figure is not None],
        "composition": [
            {
                "element": share.element,
                "minimum": optional_cell("minimum", share.minimum if own else None),
                "nominal": optional_cell("nominal", share.nominal),
                "maximum": optional_cell("maximum", share.maximum if own else None),
            }
            for share in found.shares.values()
            if own or share.nominal is not None
        ],
        "others_each": optional_cell("others each", found.others_each if own else None),
        "others_total": optional_cell("others total", found.others_total if own else None),
        "use": found.use,
        "corrosion": found.corrosion,
        "melt_hazards": found.melt_hazards,
        "lead": found.lead,
        "words": words_of("alloys", {word: getattr(found, word) for word in words}),
        "hazards": [_hazard(each) for each in hazards_of_alloy(found)],
    }
