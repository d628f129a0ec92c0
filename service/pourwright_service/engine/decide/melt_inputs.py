"""Metal and furnace of a melt with every default filled in."""

from ..assess.melt import FurnaceInputs, MetalHeat, MetalInputs, Thrice
from ..bounds import OutOfRange
from ..ledger import Ledger, MissingValue, Say
from ..tables.melting import FUELS, solid_heat_rise
from .melt_case import MeltCase
from .metal import Metal
from .shop import FurnaceCase

ROOM = 293.15
REFRACTORY_HEAT = 1000.0
"""J/(kg K) of lining and crucible, 900 to 1100, from memory."""

CURRENT = ("electric", "induction")
"""Heating that burns nothing."""


def heats_of(case: MeltCase, ledger: Ledger) -> int:
    """In how many equal heats it is melted."""
    return ledger.use(
        "/heats", case.heats, 1, "count", provenance="common practice", source="COMMON-PRACTICE"
    )


def start_of(case: MeltCase, ledger: Ledger) -> float:
    """Temperature of everything before melting (K)."""
    return ledger.use(
        "/start_temperature",
        case.start_temperature,
        ROOM,
        "temperature",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="charge, lining, crucible, bottle and air before melting",
    )


def pouring_of(case: MeltCase, metal: Metal, ledger: Ledger) -> float | None:
    """How hot the metal leaves the furnace (K): given, or the middle of the alloy's range; None where
    only its heat content is given."""
    if case.pouring_temperature is not None or case.heat_content is not None:
        return case.pouring_temperature
    why = Say("Say how hot the metal is to be (pouring_temperature), or name an alloy whose range is known.")
    low, high = metal.need("pouring_low", why), metal.need("pouring_high", why)
    return ledger.use(
        "/pouring_temperature",
        None,
        0.5 * (low + high),
        "temperature",
        provenance="rule",
        source="COMMON-PRACTICE",
        note="middle of the alloy's pouring range",
    )


def metal_inputs(
    case: MeltCase, metal: Metal, heats: int, start: float, pouring: float | None, ledger: Ledger
) -> MetalInputs:
    """The metal of one heat. Raises MissingValue where a property lacks."""
    heat: MetalHeat | float
    if case.heat_content is not None:
        heat = case.heat_content
    elif pouring is None:
        raise MissingValue(ledger.lack("/pouring_temperature", Say("Say how hot the metal is to be.")))
    else:
        heat = _heat(case, metal, start, pouring, ledger)
    return MetalInputs(mass=case.melt_mass / heats, heats=heats, heat=heat)


def _heat(case: MeltCase, metal: Metal, start: float, pouring: float, ledger: Ledger) -> MetalHeat:
    why = Say("The heat to melt it follows from the metal's properties: name the alloy or give them.")
    liquidus = metal.need("liquidus", why)
    solidus = metal.get("solidus")
    if solidus is None:
        solidus = ledger.use(
            "/properties/solidus",
            None,
            liquidus,
            "temperature",
            provenance="rule",
            source="DERIVED",
            note="a metal that melts at one temperature",
        )
    if pouring < liquidus:
        raise OutOfRange("pouring_temperature", pouring, f"at least the liquidus, {liquidus:.6g}", "a melt")
    if start > solidus:
        raise OutOfRange("start_temperature", start, f"at most the solidus, {solidus:.6g}", "a cold charge")
    return MetalHeat(
        mean_specific_heat=_mean_heat(case, metal, ledger),
        specific_heat_freezing=metal.need("specific_heat_freezing", why) if solidus < liquidus else 0.0,
        specific_heat_liquid=metal.need("specific_heat_liquid", why) if pouring > liquidus else 0.0,
        latent_heat=metal.need("latent_heat", why),
        solidus=solidus,
        liquidus=liquidus,
        start_temperature=start,
        pouring_temperature=pouring,
    )


def _mean_heat(case: MeltCase, metal: Metal, ledger: Ledger) -> float:
    """Mean specific heat of the solid, J/(kg K)."""
    if case.mean_specific_heat is not None:
        return case.mean_specific_heat
    cold = metal.need(
        "specific_heat", Say("Heating the solid takes its specific heat: name the alloy, or give it.")
    )
    rise = solid_heat_rise(metal.family)
    if rise is None:
        return cold
    return ledger.use(
        "/mean_specific_heat",
        None,
        cold * rise.value,
        "specific_heat",
        provenance="estimated",
        source=rise.source,
        note=f"{rise.value:g} times that at 20 degC: {rise.place}",
        spread=rise.spread,
    )


def furnace_inputs(
    case: MeltCase,
    furnace: FurnaceCase,
    fuel: str,
    start: float,
    pouring: float | None,
    crucible_mass: float,
    lump: float,
    ledger: Ledger,
) -> FurnaceInputs:
    """The furnace. Raises MissingValue where the temperature of a heavy lining is not known."""
    efficiency = _efficiency(furnace, fuel, ledger)
    stays = _figure(ledger, "available_heat", furnace.available_heat, fuel, "available_heat", "fraction")
    hot = ledger.use(
        "/furnace_hot",
        case.furnace_hot,
        False,
        "flag",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="the first heat begins in a cold furnace",
    )
    lining = ledger.use(
        "/shop/furnace/lining_mass",
        furnace.lining_mass,
        0.0,
        "mass",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="a light lining that takes up next to nothing; weigh or estimate a heavy one",
    )
    lining_heat, lining_temperature = REFRACTORY_HEAT, start
    if lining > 0.0 and not hot:
        lining_heat = ledger.use(
            "/shop/furnace/lining_specific_heat",
            furnace.lining_specific_heat,
            REFRACTORY_HEAT,
            "specific_heat",
            provenance="from memory",
            source="FROM-MEMORY",
            note="refractories 900 to 1100",
            spread=0.1,
        )
        lining_temperature = _lining_temperature(furnace, start, pouring, ledger)
    return FurnaceInputs(
        efficiency=efficiency,
        available_heat=max(stays, efficiency[0]),
        cold=not hot,
        lining_mass=lining,
        lining_specific_heat=lining_heat,
        lining_temperature=lining_temperature,
        start_temperature=start,
        crucible_mass=crucible_mass,
        crucible_specific_heat=REFRACTORY_HEAT,
        crucible_temperature=start if pouring is None else pouring,
        power=furnace.power,
        time=case.time,
        heating_value=None
        if fuel in CURRENT
        else _figure(ledger, "heating_value", furnace.heating_value, fuel, "heating_value", "heating_value"),
        lump=lump,
    )


def fuel_of(furnace: FurnaceCase, ledger: Ledger) -> str:
    """What the furnace burns."""
    return ledger.use(
        "/shop/furnace/fuel",
        furnace.fuel,
        "propane",
        "text",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="what most small furnaces burn",
    )


def _efficiency(furnace: FurnaceCase, fuel: str, ledger: Ledger) -> Thrice:
    """Best, likely and poorest share of the heat paid for that reaches the metal."""
    likely, high, low = furnace.efficiency, furnace.efficiency_high, furnace.efficiency_low
    if likely is not None:
        return likely if high is None else high, likely, likely if low is None else low
    middle = _figure(ledger, "efficiency", None, fuel, "efficiency", "fraction")
    best = _figure(ledger, "efficiency_high", high, fuel, "efficiency_high", "fraction")
    worst = _figure(ledger, "efficiency_low", low, fuel, "efficiency_low", "fraction")
    return max(best, middle), middle, min(worst, middle)


def _figure(ledger: Ledger, name: str, given: float | None, fuel: str, column: str, kind: str) -> float:
    """The caller's figure of the furnace or the fuel, else the table's."""
    cell = FUELS[fuel][column]
    return ledger.use(
        f"/shop/furnace/{name}",
        given,
        cell.value,
        kind,
        provenance=cell.provenance,
        source=cell.source,
        note=cell.place,
        spread=cell.spread,
    )


def fuel_density(furnace: FurnaceCase, fuel: str, ledger: Ledger) -> float | None:
    """kg/m^3 of what is sold by volume; None for coal and current."""
    if furnace.fuel_density is not None or "density" not in FUELS[fuel]:
        return furnace.fuel_density
    return _figure(ledger, "fuel_density", None, fuel, "density", "density")


def _lining_temperature(furnace: FurnaceCase, start: float, pouring: float | None, ledger: Ledger) -> float:
    """Mean temperature of the hot lining: halfway between cold and the metal's."""
    if furnace.lining_temperature is not None:
        return furnace.lining_temperature
    if pouring is None:
        why = Say("Say how hot the lining gets on the mean, or how hot the metal is to be.")
        raise MissingValue(ledger.lack("/shop/furnace/lining_temperature", why))
    return ledger.use(
        "/shop/furnace/lining_temperature",
        None,
        0.5 * (start + pouring),
        "temperature",
        provenance="rule",
        source="COMMON-PRACTICE",
        note="mean of a lining that is as hot as the metal inside and cold outside",
    )
