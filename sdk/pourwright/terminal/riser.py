"""Risers: where they stand and how large they are, how the casting is fed, and what else would do."""

from __future__ import annotations

from ..models.riser import AlternativeResult, FeedingResult, RiserEntry, RiserResult
from .figures import shown
from .layout import pairs, paragraph, stacked, table, titled

_CRITERIA = {
    "time": "longer liquid",
    "modulus": "chunkier (modulus)",
    "volume": "enough metal",
    "volume_x3": "three times the shrinkage",
}
_OTHERWISE = {
    "chosen": "as chosen",
    "least_metal": "least metal",
    "domed": "half-ball top",
    "ball": "ball",
    "sleeve": "in a sleeve",
    "top": "on top",
    "top_with_neck": "on top, necked",
    "side_with_neck": "beside, necked",
}


def riser_lines(result: RiserResult, width: int) -> list[str]:
    """Every riser, how the casting is fed, the criteria side by side, and the alternatives."""
    listed = list(result.risers)
    main = listed[0] if listed else None
    rows = [[_place(one), *_size(one), shown(one.riser_mass), ", ".join(one.feeds) or "-"] for one in listed]
    heads = ["riser", "across", "tall", "neck", "to cut off", "poured", "feeds"]
    why = [(one.section or one.subject, one.why or one.why_not or "") for one in listed]
    lines = [
        *titled("risers" if len(listed) > 1 else "riser", table(heads, rows, width)),
        *titled("why", pairs([row for row in why if row[1]], width)),
        *titled("must outlast", _outlast(result, main, width)),
        *titled("criteria side by side", _criteria(result, width)),
    ]
    if result.feeding is not None:
        lines += titled("how it is fed", _feeding(result.feeding, width))
    beside = [_alternative(one) for one in result.alternatives]
    heads = ["instead", "across", "tall", "neck", "to cut off", "poured", "yield", "cost"]
    lines += titled("beside each other", table(heads, [row for row in beside if row], width))
    cannot = [(_OTHERWISE[one.kind], one.why_not or "") for one in result.alternatives if not one.serves]
    return [*lines, *titled("would not do", pairs(cannot, width))]


def _place(one: RiserEntry) -> str:
    if one.position == "side":
        return f"beside {one.section or 'the casting'}"
    if one.section is None:
        return "on the casting"
    return f"{one.face or 'top'} of {one.section}"


def _size(one: RiserEntry) -> list[str]:
    return [shown(one.diameter), shown(one.height), shown(one.neck), shown(one.cut_off_area)]


def _outlast(result: RiserResult, main: RiserEntry | None, width: int) -> list[str]:
    rows = []
    if main is not None and main.casting_time is not None:
        rows.append(("time", f"{shown(main.freezing_time)} against {shown(main.casting_time)}"))
    if main is not None and main.casting_modulus is not None:
        rows.append(("modulus", f"{shown(main.modulus)} against {shown(main.casting_modulus)}"))
    if result.last_section:
        rows.append(("last to freeze", result.last_section))
    if result.shrinkage is not None:
        given = shown(result.feeding_efficiency)
        rows.append(("to be fed", f"{shown(result.shrinkage)} of what is poured; the riser can give {given}"))
    return pairs(rows, width)


def _criteria(result: RiserResult, width: int) -> list[str]:
    rows = []
    for one in result.criteria:
        used = "governs" if one.criterion == result.governs else "used" if one.used else "shown only"
        rows.append([_CRITERIA.get(one.criterion, one.criterion), shown(one.diameter), used])
    return table(["criterion", "across", ""], rows, width)


def _feeding(feeding: FeedingResult, width: int) -> list[str]:
    said = [feeding.reason, feeding.distance, *feeding.advice]
    rows = [
        (name, shown(value))
        for name, value in (
            ("casting", feeding.casting_mass),
            ("all risers", feeding.riser_mass),
            ("yield", feeding.yield_ratio),
            ("metal costs", feeding.metal_cost),
        )
        if value is not None
    ]
    return stacked(
        [line for one in said for line in paragraph(one, width, first="  ", rest="  ")], pairs(rows, width)
    )


def _alternative(one: AlternativeResult) -> list[str]:
    if not one.serves:
        return []
    return [
        _OTHERWISE[one.kind],
        shown(one.diameter),
        shown(one.height),
        shown(one.neck),
        shown(one.cut_off_area),
        shown(one.riser_mass),
        shown(one.yield_ratio),
        shown(one.metal_cost),
    ]
