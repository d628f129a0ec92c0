"""The alloys: composition, properties and what a founder must know, each number with its source."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from .reading import Cell, Lazy, Row, read_table

PROPERTIES = (
    "liquidus",
    "solidus",
    "density",
    "density_solid_hot",
    "density_liquid",
    "specific_heat",
    "specific_heat_liquid",
    "latent_heat",
    "conductivity",
    "contraction",
    "solidification_shrinkage",
    "pouring_low",
    "pouring_heavy_high",
    "pouring_light_low",
    "pouring_high",
    "surface_tension",
)
"""The columns of numbers, all SI once loaded. Heavy castings pour from ``pouring_low`` to
``pouring_heavy_high``, light ones from ``pouring_light_low`` to ``pouring_high``."""

FAMILIES = ("copper", "aluminium", "zinc", "tin", "lead", "silver", "iron")
"""The base metals of the table."""

GROUPS = (
    "copper",
    "brass",
    "red brass",
    "tin bronze",
    "silicon bronze",
    "silicon brass",
    "aluminium bronze",
    "aluminium",
    "aluminium-silicon",
    "aluminium-magnesium",
    "wrought aluminium",
    "zinc-aluminium",
    "pewter",
    "lead",
    "silver",
    "grey iron",
)
"""The groups of the table, finer than families."""

SEA_WATER = ("good", "fair", "poor")
"""How an alloy lasts in sea water."""


@dataclass(frozen=True, slots=True)
class Share:
    """What one alloy holds of one element, in per cent of mass; None where there is no figure."""

    element: str
    minimum: Cell | None
    nominal: Cell | None
    maximum: Cell | None


@dataclass(frozen=True, slots=True)
class Alias:
    """Another name: ``same`` metal, or ``near`` enough to borrow properties, never limits."""

    name: str
    relation: str
    source: str
    place: str


@dataclass(frozen=True, slots=True)
class Alloy:
    """One alloy.

    ``cells`` holds the numbers of :data:`PROPERTIES` that were found, ``shares`` the composition
    by element; ``others_each`` and ``others_total`` are the limits for elements not named.
    ``family`` says which metals may share a crucible. ``lead`` tells in words how much of it there
    is and what that forbids.
    ``near`` is set on an alloy that only borrows the properties of the one named there: it has no
    composition limits of its own.
    """

    id: str
    name: str
    designation: str
    family: str
    group: str
    freezing_class: str
    use: str
    corrosion: str
    sea_water: str
    lead: str
    melt_hazards: str
    cells: Mapping[str, Cell]
    shares: Mapping[str, Share]
    others_each: Cell | None
    others_total: Cell | None
    aliases: tuple[Alias, ...]
    near: str | None = None
    nominal: Mapping[str, float] = field(init=False)
    limits: Mapping[str, tuple[float | None, float | None]] = field(init=False)

    def __post_init__(self) -> None:
        nominal = {e: s.nominal.value for e, s in self.shares.items() if s.nominal is not None}
        limits = {
            element: (
                None if share.minimum is None else share.minimum.value,
                None if share.maximum is None else share.maximum.value,
            )
            for element, share in self.shares.items()
            if share.minimum is not None or share.maximum is not None
        }
        object.__setattr__(self, "nominal", nominal)
        object.__setattr__(self, "limits", {} if self.near else limits)

    def value(self, name: str) -> float | None:
        """The SI value of a property, or None where no figure was found."""
        cell = self.cells.get(name)
        return None if cell is None else cell.value


def _load() -> dict[str, Alloy]:
    shares: dict[str, dict[str, Share]] = {}
    others: dict[str, dict[str, Cell]] = {}
    for row in read_table("alloy_composition"):
        alloy, element = row.words["alloy"], row.words["element"]
        if element in ("others each", "others total"):
            others.setdefault(alloy, {})[element] = row.cells["maximum"]
            continue
        shares.setdefault(alloy, {})[element] = Share(
            element, row.cells.get("minimum"), row.cells.get("nominal"), row.cells.get("maximum")
        )
    names: dict[str, list[Alias]] = {}
    for row in read_table("alloy_names"):
        words = row.words
        alias = Alias(words["name"], words["relation"], words["source"], words.get("place", ""))
        names.setdefault(words["alloy"], []).append(alias)
    return {
        row.key: _alloy(row, shares[row.key], others.get(row.key, {}), tuple(names.get(row.key, ())))
        for row in read_table("alloys")
    }


def _alloy(row: Row, shares: dict[str, Share], others: dict[str, Cell], aliases: tuple[Alias, ...]) -> Alloy:
    words = row.words
    return Alloy(
        id=row.key,
        name=words["name"],
        designation=words["designation"],
        family=words["family"],
        group=words["group"],
        freezing_class=words["freezing_class"],
        use=words["use"],
        corrosion=words["corrosion"],
        sea_water=words["sea_water"],
        lead=words["lead"],
        melt_hazards=words["melt_hazards"],
        cells=row.cells,
        shares=shares,
        others_each=others.get("others each"),
        others_total=others.get("others total"),
        aliases=aliases,
    )


ALLOYS: Mapping[str, Alloy] = Lazy(_load)
"""Every alloy of the table by id. Names that are only `near` one are found by find_alloy alone."""


def plain(name: str) -> str:
    """A name without case, spaces, hyphens and the like, for comparing."""
    return "".join(letter for letter in name.casefold() if letter.isalnum())


def _load_names() -> dict[str, Alloy]:
    found: dict[str, Alloy] = {}
    for alloy in ALLOYS.values():
        for name in (alloy.id, alloy.name):
            found.setdefault(plain(name), alloy)
    for alloy in ALLOYS.values():
        for alias in alloy.aliases:
            if plain(alias.name) in found:
                raise ValueError(f"the alloy name {alias.name} is used twice")
            found[plain(alias.name)] = alloy if alias.relation == "same" else _borrowing(alloy, alias)
    return found


def _borrowing(alloy: Alloy, alias: Alias) -> Alloy:
    return replace(
        alloy,
        id=alias.name,
        name=f"{alias.name} (properties of {alloy.id})",
        designation=alias.name,
        aliases=(),
        near=alloy.id,
    )


_BY_NAME: Mapping[str, Alloy] = Lazy(_load_names)


def find_alloy(text: str) -> Alloy | None:
    """The alloy of that id, name or alias, whatever its case, spaces and hyphens; None if unknown.

    A ``near`` alias gives an alloy of its own, with borrowed properties and no limits.
    """
    return _BY_NAME.get(plain(text))


def alloy_names() -> list[str]:
    """Every id and alias that find_alloy accepts, for telling a caller."""
    names: list[str] = []
    for alloy in ALLOYS.values():
        names += [alloy.id, *(alias.name for alias in alloy.aliases)]
    return names
