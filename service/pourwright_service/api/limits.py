"""GET /v1/limits: what may be in the air that people breathe at work."""

from dataclasses import dataclass
from typing import Any

from ..engine.tables.exposure import (
    AVERAGING,
    KINDS,
    LIMITS,
    SUBSTANCES,
    ExposureLimit,
    find_substance,
    limits_of,
    substance_names,
)
from .catalogue import CellResult, optional_cell
from .problems import did_you_mean, refused_at
from .query import Query
from .reference import TAG, items, list_of
from .registry import resource
from .schemas import Choice, Nested, Result, Text, Texts


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitsWanted:
    """Which limits are asked for; None: all."""

    substance: str | None
    averaging: str | None


class LimitsQuery(Query):
    """Which limits are asked for."""

    makes = LimitsWanted
    substance = Text(
        "Only limits of this substance: its name (zinc oxide, lead), formula (SiO2) or the symbol of its "
        "metal (Zn)."
    )
    averaging = Choice(
        tuple(AVERAGING), "Only limits that are averaged over this time; a ceiling over no time at all."
    )

    def make(self, data: dict[str, Any]) -> LimitsWanted:
        asked = data["substance"]
        if asked is None:
            return LimitsWanted(**data)
        found = find_substance(asked)
        if found is None:
            hint = did_you_mean(asked, substance_names())
            detail = f"the tables have no limit for {asked[:60]!r}{hint}"
            raise refused_at("substance", "not_a_choice", detail, tuple(SUBSTANCES))
        return LimitsWanted(substance=found.id, averaging=data["averaging"])


class ExposureLimitResult(Result):
    """One figure of one authority. Local law and its authority come first."""

    substance = Text("What is in the air.", required=True)
    formula = Text("Its formula.", required=True)
    element = Text("The metal it is counted as or holds; may be empty.", required=True)
    names = Texts("Other names of the substance.", required=True)
    form = Text("fume, dust, fume and dust, or gas.", required=True)
    fraction = Text("What of it counts: total, inhalable, respirable, or gas.", required=True)
    authority = Text("Who set it.", required=True)
    year = Text("Year of the figure or of the page that prints it; may be empty.", required=True)
    kind = Choice(
        KINDS,
        "limit; action level: where an employer must begin to act; immediate danger: where escape itself is "
        "in doubt.",
        required=True,
    )
    averaging = Choice(tuple(AVERAGING), "Time over which it is averaged.", required=True)
    concentration = Nested(CellResult, "The figure by mass in a volume of air.")
    volume_share = Nested(CellResult, "The figure by volume, of a gas.")


def _limit(limit: ExposureLimit) -> dict[str, Any]:
    substance = SUBSTANCES[limit.substance]
    return {
        "substance": substance.id,
        "formula": substance.formula,
        "element": substance.element,
        "names": list(substance.names),
        "form": limit.form,
        "fraction": limit.fraction,
        "authority": limit.authority,
        "year": limit.year,
        "kind": limit.kind,
        "averaging": limit.averaging,
        "concentration": optional_cell("concentration", limit.concentration),
        "volume_share": optional_cell("volume share", limit.volume_share),
    }


@resource(
    "GET",
    "/v1/limits",
    operation="list_limits",
    tag=TAG,
    summary="What may be in the air at work",
    description="Exposure limits of fume, dust and gas by authority, each with its source; with a substance "
    "asked for, the lowest first. They are for comparison: the law of the place and its authority decide, "
    "and no room ventilation makes lead or cadmium fume fit to breathe.",
    answer=list_of(ExposureLimitResult, "exposure limits"),
    query=LimitsQuery,
)
def limits(wanted: LimitsWanted) -> dict[str, Any]:
    if wanted.substance is not None:
        return items(_limit(limit) for limit in limits_of(wanted.substance, wanted.averaging))
    return items(_limit(limit) for limit in LIMITS.values() if wanted.averaging in (None, limit.averaging))
