"""Alloys for a terminal: those that fit a need, and all that is known of one."""

from __future__ import annotations

from typing import Any

from ..models.alloys import AlloyResult, AlloySummaryList, FittingAlloyResult, HazardResult, JudgedAlloyResult
from ..models.catalogue import CellResult
from ..models.reference import CitedSource
from ..quantity import Quantity
from .figures import digits, shown
from .layout import pairs, paragraph, table, titled

_DASH = "-"


def alloys_text(found: AlloySummaryList, width: int, *, left_out: bool) -> str:
    """The alloys that fit as a table, with what to mind; ``left_out`` lists the others with reasons."""
    rows = [_fitting(alloy) for alloy in found.items]
    notes = [(alloy.id, " ".join(alloy.notes)) for alloy in found.items if alloy.notes]
    lines = [
        *paragraph(_counted(found), width),
        *titled(
            "alloys that fit",
            table(["alloy", "pours at", "freezes", "in sea", "zinc to", "lead to"], rows, width),
        ),
        *titled("mind", pairs(notes, width)),
        *titled("not enough is known", pairs(_reasons(found.undecided), width)),
    ]
    if left_out:
        lines += titled("left out", pairs(_reasons(found.left_out), width))
    if any(alloy.pouring_provenance == "estimated" for alloy in found.items):
        lines += ["", *paragraph("* No pouring range was found: by rule from the liquidus.", width)]
    return "\n".join(lines)


def _counted(found: AlloySummaryList) -> str:
    fit, undecided, out = len(found.items), len(found.undecided), len(found.left_out)
    if not fit + undecided + out:
        return "No alloy of the tables has that name or base metal."
    if not undecided + out:
        return f"{fit} alloy{'s' if fit > 1 else ''}."
    parts = [f"{fit} of {fit + undecided + out} alloys fit."]
    if undecided:
        parts.append(f"Of {undecided} not enough is known.")
    if out:
        parts.append(f"{out} are left out (--left-out gives the reasons).")
    return " ".join(parts)


def _reasons(judged: tuple[JudgedAlloyResult, ...]) -> list[tuple[str, str]]:
    return [(alloy.id, " ".join(alloy.reasons)) for alloy in judged]


def _fitting(alloy: FittingAlloyResult) -> list[str]:
    by_rule = " *" if alloy.pouring_provenance == "estimated" else ""
    return [
        _named(alloy.id, alloy.name),
        _range(alloy.pouring_low, alloy.pouring_high) + by_rule,
        alloy.freezing_class,
        alloy.sea_water,
        shown(alloy.zinc_at_most),
        shown(alloy.lead_at_most),
    ]


def _named(id: str, name: str) -> str:
    return id if id == name else f"{id}: {name}"


def _range(low: Quantity | None, high: Quantity | None) -> str:
    """``1010 to 1177 °C``: the unit once, where both ends have it."""
    if low is None or high is None or low.unit != high.unit:
        return f"{shown(low)} to {shown(high)}" if low or high else _DASH
    return f"{low:.0f}".split(" ", 1)[0] + f" to {shown(high)}"


# --- one alloy --------------------------------------------------------------------------------


def alloy_text(alloy: AlloyResult, width: int) -> str:
    """One alloy: in words, in figures with their grades, what other sources say, and its hazards."""
    return "\n".join(
        [
            *paragraph(_named(alloy.id, alloy.name), width),
            *pairs(_in_words(alloy), width),
            *titled(
                "figures",
                table(["figure", "value", "grade", "from"], [_figure(c) for c in alloy.properties], width),
            ),
            *titled(
                "figures that calculations take instead",
                table(
                    ["figure", "value", "grade", "how"],
                    [
                        [
                            _plain(used.name),
                            _spread(used.value, used.spread),
                            used.provenance,
                            _from(used.source),
                        ]
                        for used in alloy.in_use
                    ],
                    width,
                ),
            ),
            *titled("conflicts", _conflicts(alloy, width)),
            *titled("composition, per cent of mass", _composition(alloy, width)),
            *titled("hazards", [line for hazard in alloy.hazards for line in _hazard(hazard, width)]),
        ]
    )


def _in_words(alloy: AlloyResult) -> list[tuple[str, str]]:
    same = ", ".join(alias.name for alias in alloy.aliases if alias.relation == "same")
    near = ", ".join(alias.name for alias in alloy.aliases if alias.relation == "near")
    rows = [
        ("borrowed from", alloy.near or ""),
        ("standard", alloy.designation),
        ("kind", f"{alloy.family}, {alloy.group}" if alloy.group != alloy.family else alloy.family),
        ("also called", same),
        ("near it", f"{near} (lend its properties, not its limits)" if near else ""),
        ("pours at", _pours(alloy)),
        ("freezing range", alloy.freezing_class),
        ("use", alloy.use),
        ("corrosion", alloy.corrosion),
        ("in sea water", alloy.sea_water),
        ("lead", alloy.lead),
        ("its melt", alloy.melt_hazards),
        ("no figure for", ", ".join(_plain(name) for name in alloy.lacking)),
    ]
    return [(name, text) for name, text in rows if text]


def _pours(alloy: AlloyResult) -> str:
    told = {"table": "printed", "estimated": "by rule", None: ""}
    provenance = told.get(alloy.pouring_provenance, alloy.pouring_provenance)
    return f"{_range(alloy.pouring_low, alloy.pouring_high)}" + (f", {provenance}" if provenance else "")


def _figure(cell: CellResult) -> list[str]:
    return [_plain(cell.name), _spread(cell.value, cell.spread), cell.source.grade, _from(cell.source)]


def _spread(value: Any, spread: float | None) -> str:
    return shown(value) + (f" ± {100 * spread:.0f} %" if spread else "")


def _from(source: CitedSource) -> str:
    """A source and the place in it; the grade stands in a column of its own."""
    key = "" if _is_grade(source) else source.key
    return ": ".join(part for part in (key, source.place) if part) or _DASH


def _is_grade(source: CitedSource) -> bool:
    """Whether the key is no publication's, only the grade again: FROM-MEMORY."""
    return source.key.replace("-", " ").casefold() == source.grade


def _graded(source: CitedSource) -> str:
    """A source with its grade, where there is no column for that."""
    return ", ".join(
        part for part in (source.grade if _is_grade(source) else source.key, source.place) if part
    )


def _conflicts(alloy: AlloyResult, width: int) -> list[str]:
    rows = []
    for cell in alloy.properties:
        for other in cell.conflicts:
            rows.append((_plain(cell.name), f"{shown(other.value)}: {_graded(other.source)}"))
        if cell.conflicts:
            rows.append(("", f"chosen {shown(cell.value)}: {cell.choice}"))
    return pairs(rows, width)


def _composition(alloy: AlloyResult, width: int) -> list[str]:
    rows = [
        [
            share.element,
            *(_percent(cell) for cell in (share.minimum, share.nominal, share.maximum)),
            _sources(share.minimum, share.nominal, share.maximum),
        ]
        for share in alloy.composition
    ]
    for name, cell in (("others, each", alloy.others_each), ("others, total", alloy.others_total)):
        if cell is not None:
            rows.append([name, _DASH, _DASH, _percent(cell), _sources(cell)])
    return table(["element", "least", "usual", "most", "from"], rows, width)


def _percent(cell: CellResult | None) -> str:
    return _DASH if cell is None else digits(float(cell.printed))


def _sources(*cells: CellResult | None) -> str:
    found = (f"{cell.source.grade} ({cell.source.key})" for cell in cells if cell is not None)
    return "; ".join(dict.fromkeys(found))


def _hazard(hazard: HazardResult, width: int) -> list[str]:
    limits = f"warned of above {_percent(hazard.care_above)} %"
    if hazard.refuse_above is not None:
        limits += f", refused above {_percent(hazard.refuse_above)} %"
    refused = "REFUSED, " if hazard.severity == "refuse" else ""
    head = f"{refused}{hazard.element}, up to {digits(hazard.most_percent)} %: {limits}"
    if hazard.severity == "none":
        return paragraph(f"{head}.", width, first="    ", rest="    ")
    lines = paragraph(f"{head}. {hazard.hazard}: {hazard.message}", width, first="  ! ", rest="    ")
    return lines + paragraph(f"Who decides: {hazard.decides}", width, first="    ", rest="    ")


def _plain(name: str) -> str:
    return name.replace("_", " ")
