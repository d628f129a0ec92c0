# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of alloys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport, part

if TYPE_CHECKING:
    from typing import Literal

    from .answer import Units
    from .models.alloys import AlloyResult, AlloySummaryList
    from .quantity import QuantityInput


class AlloysCalls(Transport):
    """The operations of alloys."""

    def list_alloys(
        self,
        *,
        pours_below: QuantityInput | None = None,
        no_lead: bool | None = None,
        lead_at_most: QuantityInput | None = None,
        no_zinc_fume: bool | None = None,
        sea_water: Literal["good", "fair"] | None = None,
        freezing_class: Literal["short", "middle", "long"] | None = None,
        family: Literal["copper", "aluminium", "zinc", "tin", "lead", "silver", "iron"] | None = None,
        search: str | None = None,
        units: Units | None = None,
    ) -> AlloySummaryList:
        """The alloys of the tables, or those that fit a need.

        Names, groups, temperatures and what to mind; each alloy's own page has the figures. With filters,
        every alloy that is asked about is in one of three lists: items fit, undecided lack a figure, left_out
        do not fit, each with its reasons.

        pours_below: Alloys that can be poured at or below this temperature: the coolest of the pouring range,
            which is for heavy castings, decides, and a note says if thin ones want more. An alloy without a
            pouring range of its own is in undecided, with the range by rule, unless it is not even liquid
            there.
        no_lead: true: alloys whose figures let in no more than 0.05 % of lead, the share from which this
            service warns of it. Limits count, so an alloy to which none is added may be left out. Where lead
            is not named, it counts as none, and a note says what unnamed elements may come to.
        lead_at_most: As no_lead, with a share of your own, such as 0.25 %.
        no_zinc_fume: true: alloys whose figures let in no more than 0.5 % of zinc, or that are poured no
            hotter than 450 degC, where the vapour pressure of pure zinc stays below a thousandth of an
            atmosphere. Scrap of another alloy and plated scrap bring zinc of their own.
        sea_water: Alloys that last at least as well as this in sea water, by the corrosion notes.
        freezing_class: Alloys with a freezing range of this class: short below about 50 K, long above about
            110 K.
        family: Alloys of this base metal only; the others are not listed at all.
        search: Alloys with this in their id, name, designation, group or one of their other names, whatever
            its case, spaces and hyphens; the others are not listed at all.
        units: System of units of the answer; it never changes a decision.
        """
        from .models.alloys import AlloySummaryList

        return self._fetch(
            "GET",
            "/v1/alloys",
            AlloySummaryList,
            query={
                "pours_below": pours_below,
                "no_lead": no_lead,
                "lead_at_most": lead_at_most,
                "no_zinc_fume": no_zinc_fume,
                "sea_water": sea_water,
                "freezing_class": freezing_class,
                "family": family,
                "search": search,
            },
            units=units,
        )

    def get_alloy(
        self,
        *,
        id: str,
        units: Units | None = None,
    ) -> AlloyResult:
        """One alloy.

        Every figure that is known of one alloy, by id, name or alias, with its source, its grade and what
        other sources say; what calculations take where there is none; its hazards.

        id: Id, name or alias of the alloy.
        units: System of units of the answer; it never changes a decision.
        """
        from .models.alloys import AlloyResult

        return self._fetch(
            "GET",
            f"/v1/alloys/{part(id)}",
            AlloyResult,
            units=units,
        )
