"""What in the stock, the alloy and the pour can hurt someone: cautions and refusals.

A refusal (severity ``refuse``) makes the verdict of the whole answer ``fail``.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache, partial
from typing import cast

from .. import cautions
from ..ledger import Caution, Ledger, Say
from ..tables.elements import ELEMENTS
from ..tables.hazards import ELEMENT_HAZARDS, ElementHazard, find_forms, lift_limit

Percent = float | tuple[float | None, float | None]
"""A share in per cent of mass, or an interval of it."""

STEAM_RATIO = 1600.0
"""Volumes of steam from one of water at 100 degC; Safety Committee of the American Foundry Society."""

_BY_ELEMENT: dict[str, Callable[[str, str, float | None, float], Caution]] = {
    "Be": cautions.beryllium,
    "Cd": cautions.cadmium,
    "Mg": cautions.magnesium,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPiece:
    """One stock item: its name, where the request has it (``/stock/0``), its composition in per
    cent (intervals are judged at their high end) and the words for its form."""

    name: str
    pointer: str
    composition: Mapping[str, Percent]
    form: str = ""


def hazards_of_stock(
    items: Iterable[StockPiece],
    ledger: Ledger,
    *,
    pouring_temperature: float | None = None,
    only_refusals: bool = False,
) -> None:
    """Enter the cautions of every stock item, or ``only_refusals``.

    Refusals stand one by one at their item; cautions of the same code are gathered into one, so
    that forty brass offcuts do not drown the one bad thing.
    """
    gathered: dict[str, list[_Told]] = {}
    for piece in items:
        subject = ledger.place(piece.pointer)
        ready = _of_words(piece, ledger)
        for hazard, percent in _above_care(piece.composition):
            if hazard.refuse_above is None:
                # Only the worst of its kind is spoken, so the sentence waits until that is known.
                write = partial(_of_element, hazard, subject, piece.name, percent, pouring_temperature)
                gathered.setdefault(hazard.code, []).append((percent, piece, write))
            else:
                ready.append(_of_element(hazard, subject, piece.name, percent, pouring_temperature))
        for caution in ready:
            if caution.severity == "refuse":
                ledger.caution(caution)
            else:
                told = (_share_in(caution), piece, partial(replace, caution))
                gathered.setdefault(caution.code, []).append(told)
    if only_refusals:
        return
    for several in gathered.values():
        ledger.caution(_together(several, ledger))


def hazards_of_melt(
    composition: Mapping[str, Percent],
    pouring_temperature: float | None,
    ledger: Ledger,
    *,
    name: str,
    pointer: str = "/alloy",
    lost: Mapping[str, tuple[float, float]] | None = None,
) -> None:
    """Enter the cautions of the alloy itself, composition in per cent, temperature in K.

    ``lost`` is what melting loses of an element (kg, expected and at most). What the stock was
    already cautioned for is said once, here.
    """
    for caution in _of_composition(name, pointer, composition, ledger, pouring_temperature, lost):
        ledger.caution(_once(caution, ledger))


def _once(caution: Caution, ledger: Ledger) -> Caution:
    """The melt's caution, which takes over those of the stock that say the same."""
    if caution.severity == "refuse":
        return caution
    stock = ledger.place("/stock")
    for (code, subject), told in list(ledger.cautions.items()):
        same = code == caution.code and told.severity == caution.severity
        if same and (subject == stock or subject.startswith(f"{stock}/")):
            del ledger.cautions[code, subject]
            caution = replace(caution, why=caution.why.then(told.why))
    return caution


def hazards_of_pour(
    ledger: Ledger,
    *,
    pointer: str = "",
    pouring_temperature: float | None = None,
    melt_mass: float | None = None,
    lifted_mass: float | None = None,
    fuel: str | None = None,
    electric: bool = False,
) -> None:
    """Enter the cautions of any melt and pour: K, kg. ``lifted_mass`` is metal and crucible."""
    subject = ledger.place(pointer)
    ledger.caution(cautions.molten_metal(subject, pouring_temperature, melt_mass))
    ledger.caution(cautions.moisture(subject, STEAM_RATIO))
    ledger.caution(cautions.concrete_floor(subject, melt_mass))
    if not electric:
        ledger.caution(cautions.combustion(subject, fuel))
    limit = lift_limit()
    if lifted_mass is not None and lifted_mass > limit:
        ledger.caution(cautions.heavy_lift(subject, lifted_mass, limit))


def highest(share: Percent) -> float:
    """The highest share an interval allows; an open end counts as 100 per cent."""
    if isinstance(share, tuple):
        return 100.0 if share[1] is None else share[1]
    return share


def _of_composition(
    name: str,
    pointer: str,
    composition: Mapping[str, Percent],
    ledger: Ledger,
    temperature: float | None,
    lost: Mapping[str, tuple[float, float]] | None = None,
) -> list[Caution]:
    subject = ledger.place(pointer)
    return [
        _of_element(hazard, subject, name, percent, temperature, (lost or {}).get(hazard.element))
        for hazard, percent in _above_care(composition)
    ]


def _above_care(composition: Mapping[str, Percent]) -> list[tuple[ElementHazard, float]]:
    """The elements of which there is enough to be careful, with the highest share they may have."""
    found = []
    for element, hazard in _hazards_by_element():
        if element in composition:
            percent = highest(composition[element])
            if percent > hazard.care_above:
                found.append((hazard, percent))
    return found


@cache
def _hazards_by_element() -> tuple[tuple[str, ElementHazard], ...]:
    """Every dangerous element, ready to be gone through for each item of a long stock."""
    return tuple(ELEMENT_HAZARDS.items())


def _of_element(
    hazard: ElementHazard,
    subject: str,
    name: str,
    percent: float | None,
    temperature: float | None,
    lost: tuple[float, float] | None = None,
) -> Caution:
    if hazard.refuse_above is not None:
        return _BY_ELEMENT[hazard.element](subject, name, percent, hazard.refuse_above)
    share = 0.0 if percent is None else percent
    if hazard.element == "Zn":
        boiling = ELEMENTS["Zn"].value("boiling") or 0.0
        return cautions.zinc_fume(subject, name, share, boiling, temperature, lost)
    return cautions.lead(subject, name, share, hazard.care_above)


def _of_words(piece: StockPiece, ledger: Ledger) -> list[Caution]:
    """What the item's name and form say of it."""
    subject = ledger.place(piece.pointer)
    told = f"{piece.name}, {piece.form}" if piece.form else piece.name
    found: list[Caution] = []
    for form in find_forms(told):
        if form.id in cautions.FORMS:
            severity = cast(cautions.Severity, form.severity)
            found.append(cautions.form_of_scrap(form.id, subject, piece.name, severity, told))
            continue
        hazard = next(h for h in ELEMENT_HAZARDS.values() if h.code == form.id)
        if hazard.element not in piece.composition:
            found.append(_of_element(hazard, subject, piece.name, None, None))
    return found


def _share_in(caution: Caution) -> float:
    share = caution.why.parts.get("share", 0.0)
    return share[0] if isinstance(share, tuple) else 0.0


_Told = tuple[float, StockPiece, Callable[[], Caution]]
"""A share, the item that has it, and what writes the caution."""


def _together(several: list[_Told], ledger: Ledger) -> Caution:
    """One caution for one or several items: the largest share speaks, the names are listed."""
    _, worst, write = max(several, key=lambda found: found[0])
    caution = write()
    if len(several) == 1:
        return caution
    names = ", ".join(piece.name for _, piece, _ in several[:3])
    if len(several) > 3:
        names += f" and {len(several) - 3} more"
    return replace(
        caution,
        text=_renamed(caution.text, names),
        why=_renamed(caution.why, names),
        subject=ledger.place(worst.pointer.rsplit("/", 1)[0]),
    )


def _renamed(say: Say, names: str) -> Say:
    return Say(say.words, **{**say.parts, "name": names}) if "name" in say.parts else say
