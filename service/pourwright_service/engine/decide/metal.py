"""What is known of the metal and of the mould: the caller's number, else a table's, else a rule's.

Every value the caller did not give is entered in the ledger the first time it is used, at the
place where the caller could have given it, with its source and how far it may be off.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from ..formula import known_number
from ..formulas.properties import (
    critical_velocity,
    density_liquid_by_rule,
    density_liquid_from_shrinkage,
    pouring_temperature_by_rule,
    shrinkage_from_densities,
    specific_heat_while_freezing,
)
from ..ledger import Ledger, MissingValue, Say
from ..tables.alloys import Alloy, find_alloy
from ..tables.elements import ELEMENTS
from ..tables.families import family_figure
from ..tables.moulds import Mould, find_mould
from ..tables.reading import Cell

STANDARD_GRAVITY = 9.80665

METAL_KINDS: dict[str, str] = {
    "liquidus": "temperature",
    "solidus": "temperature",
    "density": "density",
    "density_liquid": "density",
    "specific_heat": "specific_heat",
    "specific_heat_liquid": "specific_heat",
    "specific_heat_freezing": "specific_heat",
    "latent_heat": "latent_heat",
    "conductivity": "conductivity",
    "contraction": "fraction",
    "solidification_shrinkage": "fraction",
    "liquid_contraction": "expansion_per_kelvin",
    "pouring_low": "temperature",
    "pouring_high": "temperature",
    "surface_tension": "surface_tension",
    "gate_velocity": "velocity",
}
"""The properties of a metal and their physical kinds."""

MEDIUM_KINDS: dict[str, str] = {
    "conductivity": "conductivity",
    "density": "density",
    "specific_heat": "specific_heat",
    "start_temperature": "temperature",
}
"""The properties of a mould and their physical kinds."""

UNKNOWN_SHARE = 0.05
"""Elements without a figure are left out of a weighted mean as long as they are no more than this
share of the alloy."""

DERIVED_SHRINKAGE_POINTS = 0.02
"""How far a shrinkage computed from two densities may be off, as a share of volume."""

SHORT_BELOW, LONG_ABOVE = 50.0, 110.0
"""Freezing ranges in kelvin: short below the first, long above the second; from memory."""


@dataclass(frozen=True, slots=True)
class Found:
    """A value and where it came from; ``spread`` is a half-width as a fraction of the value."""

    value: float
    provenance: str
    source: str
    note: str = ""
    spread: float | None = None


class _Lookup:
    """Looks values up once, the caller's first, and owns up to the others in the ledger."""

    def __init__(
        self, base: str, kinds: Mapping[str, str], given: Mapping[str, float | None], ledger: Ledger
    ) -> None:
        self._base = base
        self._kinds = kinds
        self._given = given
        self._ledger = ledger
        self._found: dict[str, Found | None] = {}

    @property
    def given_any(self) -> bool:
        """Whether the caller gave any value."""
        return any(value is not None for value in self._given.values())

    def get(self, name: str) -> float | None:
        """The value in SI, or None where neither caller, table nor rule has one.

        Raises KeyError for a name that is no property.
        """
        found = self.found(name)
        return None if found is None else found.value

    def found(self, name: str) -> Found | None:
        """The value with its provenance ('given' where it is the caller's)."""
        kind = self._kinds[name]
        if name not in self._found:
            given = self._given.get(name)
            if given is not None:
                known_number(given, f"given: {self._ledger.place(f'{self._base}/{name}')}")
                self._found[name] = Found(given, "given", "CALLER")
                return self._found[name]
            found = self._look(name)
            self._found[name] = found
            if found is not None:
                self._ledger.use(
                    f"{self._base}/{name}",
                    None,
                    found.value,
                    kind,
                    provenance=found.provenance,
                    source=found.source,
                    note=found.note,
                    spread=found.spread,
                )
        return self._found[name]

    def need(self, name: str, why: Say) -> float:
        """The value in SI; raises MissingValue, noted in the ledger, where there is none."""
        value = self.get(name)
        if value is None:
            raise MissingValue(self._ledger.lack(self._missing_pointer(name), why))
        return value

    def spread(self, name: str) -> float | None:
        """Half-width of the value as a fraction of it; None where the caller gave the value or
        nobody knows."""
        found = self.found(name)
        return None if found is None else found.spread

    def _look(self, name: str) -> Found | None:
        raise NotImplementedError

    def _missing_pointer(self, name: str) -> str:
        raise NotImplementedError


class Metal(_Lookup):
    """One metal; see :func:`metal_of`. ``family`` and the rest are None where no alloy is named."""

    def __init__(
        self, alloy: Alloy | None, given: Mapping[str, float | None], ledger: Ledger, gravity: float
    ) -> None:
        super().__init__("/properties", METAL_KINDS, given, ledger)
        self.alloy = alloy
        self.id = alloy.id if alloy else None
        self.name = alloy.name if alloy else "the metal"
        self.family = alloy.family if alloy else None
        self.group = alloy.group if alloy else None
        self.composition: Mapping[str, float] | None = alloy.nominal if alloy else None
        self._gravity = gravity
        self._rules: dict[str, Callable[[], Found | None]] = {
            "density_liquid": self._density_liquid,
            "solidification_shrinkage": self._shrinkage,
            "latent_heat": self._latent_heat,
            "specific_heat_liquid": self._specific_heat_liquid,
            "specific_heat_freezing": self._specific_heat_freezing,
            "contraction": lambda: self._family("contraction"),
            "liquid_contraction": lambda: self._family("liquid_contraction"),
            "pouring_low": lambda: self._pouring(60.0, "heavy castings"),
            "pouring_high": lambda: self._pouring(200.0, "the thinnest castings"),
            "gate_velocity": self._gate_velocity,
        }

    @property
    def freezing_class(self) -> str | None:
        """short, middle or long: the caller's own liquidus and solidus decide where both are given and
        are not the table's, the table otherwise; None where neither is known."""
        liquidus, solidus = self._given.get("liquidus"), self._given.get("solidus")
        printed = [cell.value if cell else None for cell in map(self._cell, ("liquidus", "solidus"))]
        if liquidus is not None and solidus is not None and printed != [liquidus, solidus]:
            gap = liquidus - solidus
            return "short" if gap < SHORT_BELOW else "long" if gap > LONG_ABOVE else "middle"
        return self.alloy.freezing_class if self.alloy else None

    def _missing_pointer(self, name: str) -> str:
        return f"/properties/{name}" if self.alloy else "/alloy"

    def _look(self, name: str) -> Found | None:
        account = name in ("density_liquid", "solidification_shrinkage")
        cell = None if account else self._cell(name)
        if cell is not None:
            found = self._of(cell)
            # a place that only repeats what the figure is tells the reader nothing
            plain = name.replace("_", " ")
            return replace(found, note="") if cell.place in (plain, f"thermal {plain}") else found
        rule = self._rules.get(name)
        return rule() if rule else None

    def _cell(self, name: str) -> Cell | None:
        return self.alloy.cells.get(name) if self.alloy else None

    def _of(self, cell: Cell) -> Found:
        note = cell.place
        if self.alloy and self.alloy.near:
            note = f"{note}; borrowed from {self.alloy.near}".lstrip("; ")
        return Found(cell.value, cell.provenance, cell.source, note, cell.spread)

    # --- one account: density, density_liquid, contraction, solidification_shrinkage ---------

    def _density_liquid(self) -> Found | None:
        density, contraction = self.get("density"), self.get("contraction")
        shrinkage = None
        cell = self._cell("solidification_shrinkage")
        if self._given.get("solidification_shrinkage") is not None or cell is not None:
            shrinkage = self.found("solidification_shrinkage")
        if shrinkage is not None and density is not None and contraction is not None:
            value = density_liquid_from_shrinkage(density, shrinkage.value, contraction)
            spread = abs(shrinkage.value) * (shrinkage.spread or 0.0) / (1.0 - shrinkage.value)
            spread += 3.0 * abs(contraction) * (self.spread("contraction") or 0.0) / (1.0 + contraction)
            note = "from the shrinkage on freezing, the density at 20 degC and the contraction"
            return Found(value, "computed", "DERIVED", note, spread or None)
        own = self._cell("density_liquid")
        if own is not None:
            return self._of(own)
        liquid, solid = self._mixed_density("density_liquid"), self._mixed_density("density")
        if liquid is None or solid is None or density is None:
            return None
        known_number(liquid, "elements: liquid densities, volumes added")
        known_number(solid, "elements: densities, volumes added")
        value = density_liquid_by_rule(liquid, density, solid)
        note = "the elements' liquid densities mixed, corrected by what the solid alloy departs from its mix"
        return Found(value, "estimated", "ESTIMATED-BY-RULE", note, 0.02)

    def _shrinkage(self) -> Found | None:
        cell = self._cell("solidification_shrinkage")
        if cell is not None and self._given.get("density_liquid") is None:
            return self._of(cell)
        if self._given.get("density_liquid") is None and self.alloy is None:
            return None
        liquid, density, contraction = (
            self.get("density_liquid"),
            self.get("density"),
            self.get("contraction"),
        )
        if liquid is None or density is None or contraction is None:
            return None if cell is None else self._of(cell)
        value = shrinkage_from_densities(liquid, contraction, density)
        spread = DERIVED_SHRINKAGE_POINTS / abs(value) if value else None
        note = "from the density at 20 degC, that of the liquid and the contraction; 2 points either way"
        return Found(value, "computed", "DERIVED", note, spread)

    # --- rules over the elements ---------------------------------------------------------------

    def _shares(self, column: str) -> list[tuple[float, float]] | None:
        """(share of mass, figure) of every element that has a figure, shares adding up to 1."""
        if not self.composition:
            return None
        total = sum(self.composition.values())
        pairs: list[tuple[float, float]] = []
        for element, percent in self.composition.items():
            known = ELEMENTS.get(element)
            figure = known.value(column) if known else None
            if figure is not None:
                pairs.append((percent / total, figure))
        covered = sum(share for share, _ in pairs)
        if covered < 1.0 - UNKNOWN_SHARE:
            return None
        return [(share / covered, figure) for share, figure in pairs]

    def _weighted(self, column: str) -> float | None:
        shares = self._shares(column)
        return None if shares is None else sum(share * figure for share, figure in shares)

    def _mixed_density(self, column: str) -> float | None:
        shares = self._shares(column)
        return None if shares is None else 1.0 / sum(share / figure for share, figure in shares)

    def _latent_heat(self) -> Found | None:
        value = self._weighted("heat_of_fusion")
        note = "the elements' heats of fusion by mass"
        return None if value is None else Found(value, "estimated", "ESTIMATED-BY-RULE", note, 0.2)

    def _specific_heat_liquid(self) -> Found | None:
        value = self._weighted("specific_heat_liquid")
        note = "the liquid elements' specific heats (from memory) by mass"
        return None if value is None else Found(value, "estimated", "ESTIMATED-BY-RULE", note, 0.1)

    def _specific_heat_freezing(self) -> Found | None:
        liquid, solid = self.get("specific_heat_liquid"), self.get("specific_heat")
        if liquid is None or solid is None:
            return None
        value = specific_heat_while_freezing(liquid, solid)
        note = "the mean of the liquid's and of 1.15 times the solid's at 20 degC"
        return Found(value, "estimated", "ESTIMATED-BY-RULE", note, 0.1)

    # --- rules by family -------------------------------------------------------------------------

    def _family(self, column: str) -> Found | None:
        if self.alloy is None:
            return None
        cell = family_figure(column, self.alloy.family, self.alloy.group)
        return None if cell is None else self._of(cell)

    def _pouring(self, superheat: float, castings: str) -> Found | None:
        liquidus = self.get("liquidus")
        if liquidus is None:
            return None
        value = pouring_temperature_by_rule(liquidus, superheat)
        fahrenheit = superheat * 9.0 / 5.0
        note = f"{superheat:.0f} K ({fahrenheit:.0f} Fahrenheit degrees) above the liquidus, for {castings}"
        return Found(value, "estimated", "ESTIMATED-BY-RULE", note)

    def _gate_velocity(self) -> Found | None:
        tension = self.get("surface_tension")
        liquid = self.get("density_liquid") if tension is not None else None
        if tension is not None and liquid is not None:
            value = critical_velocity(tension, self._gravity, liquid)
            return Found(value, "computed", "DERIVED", "from the surface tension")
        return self._family("gate_velocity")


class Medium(_Lookup):
    """One moulding medium; see :func:`medium_of`. ``id`` is None where none is named.

    ``insulating`` is false for a metal chill, whose face does not stay at the freezing temperature.
    """

    def __init__(self, mould: Mould | None, given: Mapping[str, float | None], ledger: Ledger) -> None:
        super().__init__("/mould", MEDIUM_KINDS, given, ledger)
        self.mould = mould
        self.id = mould.id if mould else None
        self.name = mould.name if mould else "the mould"
        self.insulating = mould.insulating if mould else True

    def _missing_pointer(self, name: str) -> str:
        return f"/mould/{name}" if self.mould else "/mould/medium"

    def _look(self, name: str) -> Found | None:
        cell = self.mould.cells.get(name) if self.mould else None
        if cell is not None:
            return Found(cell.value, cell.provenance, cell.source, cell.place, cell.spread)
        if name == "start_temperature":
            return Found(293.15, "common practice", "COMMON-PRACTICE", "a mould at room temperature")
        return None


def metal_of(
    alloy_id: str | None,
    given: Mapping[str, float | None],
    ledger: Ledger,
    *,
    gravity: float = STANDARD_GRAVITY,
) -> Metal:
    """The metal of a request: the alloy of that id or alias, and what the caller says of it.

    ``given`` maps property names (:data:`METAL_KINDS`) to SI values or None. Raises LookupError for
    an alloy that no table knows.
    """
    alloy = None
    if alloy_id is not None:
        alloy = find_alloy(alloy_id)
        if alloy is None:
            raise LookupError(f"no alloy is called {alloy_id}")
    return Metal(alloy, given, ledger, gravity)


def medium_of(medium_id: str | None, given: Mapping[str, float | None], ledger: Ledger) -> Medium:
    """The moulding medium of a request, and what the caller says of it.

    ``given`` maps property names (:data:`MEDIUM_KINDS`) to SI values or None. Raises LookupError
    for a medium that no table knows.
    """
    mould = None
    if medium_id is not None:
        mould = find_mould(medium_id)
        if mould is None:
            raise LookupError(f"no moulding medium is called {medium_id}")
    return Medium(mould, given, ledger)
