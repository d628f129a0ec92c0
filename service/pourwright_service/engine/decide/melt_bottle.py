"""The propane bottles of a melt: what is in them, and whether they give it."""

from typing import Any

from ..assess.bottle import BottleAssessment, BottleInputs, assess_bottle
from ..bounds import OutOfRange
from ..checks import Check
from ..formula import paused
from ..formulas import bottle as formulas
from ..ledger import Ledger, MissingValue, Say
from .shop import BottleCase

DENSITY = 503.0
"""kg/m^3, 4.20 lb/US gal at 60 degF, LP-GAS-PROPERTIES."""

LATENT_HEAT = 428e3
"""J/kg, 773 Btu/US gal at the boiling point, LP-GAS-PROPERTIES."""

BOILING_POINT = 231.0
"""K, -44 degF, LP-GAS-PROPERTIES."""

GAS_CONSTANT = 8.314462618 / 0.0440956
"""J/(kg K), CODATA 2018 over the molar mass of C3H8."""

SPECIFIC_HEAT = 2400.0
STEEL = 470.0
"""J/(kg K) of the liquid and of steel, from memory."""

TRANSFER = (8.0, 14.0)
"""W/(m^2 K), air to liquid: 11 to 12 are implied by the table of draw-offs of 100 lb cylinders; still air
and frost give less, wind gives more (from memory)."""

GAS_PRESSURE = 100e3
LARGE = 25.0
DIAMETERS = (0.31, 0.38)
"""m of bottles below and above that mass of gas, kg, from memory."""


def bottle_told(
    case: BottleCase, drawn: tuple[float, float], time: float | None, start: float, ledger: Ledger
) -> tuple[dict[str, Any] | None, list[Check]]:
    """What is said of the bottles when (likely, most) kg of gas are drawn from them in ``time`` s."""
    try:
        inputs = _inputs(case, drawn, time, start, ledger)
    except MissingValue:
        return None, []
    found = assess_bottle(inputs)
    low, high = _until_cold(found)
    over = found.over_time or (None, None)
    told = {
        "contents": found.contents,
        "count": inputs.count,
        "left": found.left,
        "draw_off": found.draw_off,
        "lasting_draw_off_low": found.lasting[0],
        "lasting_draw_off_high": found.lasting[1],
        "draw_off_low": over[0],
        "draw_off_high": over[1],
        "coldest": found.coldest,
        "too_cold_after_low": low,
        "too_cold_after_high": high,
    }
    return told, list(found.checks)


def _inputs(
    case: BottleCase, drawn: tuple[float, float], time: float | None, start: float, ledger: Ledger
) -> BottleInputs:
    contents = _contents(case, ledger)
    count = ledger.use(
        "/shop/bottle/count", case.count, 1, "count", provenance="common practice", source="COMMON-PRACTICE"
    )
    diameter = _use(
        ledger,
        "diameter",
        case.diameter,
        DIAMETERS[0] if contents <= LARGE else DIAMETERS[1],
        "length",
        note="usual for what it holds; measure around it and divide by 3.14",
    )
    low = _use(
        ledger,
        "heat_transfer_low",
        case.heat_transfer_low,
        TRANSFER[0] if case.heat_transfer_high is None else min(TRANSFER[0], case.heat_transfer_high),
        "heat_transfer",
        note="still air, frost on the wall",
    )
    high = _use(
        ledger,
        "heat_transfer_high",
        case.heat_transfer_high,
        max(TRANSFER[1], low),
        "heat_transfer",
        note="moving air; 11 to 12 are implied by the table of draw-offs",
    )
    return BottleInputs(
        contents=contents,
        count=count,
        diameter=diameter,
        shell_mass=_use(
            ledger,
            "tare",
            case.tare,
            contents,
            "mass",
            note="a steel bottle weighs about what it holds",
        ),
        start_temperature=start,
        gas_pressure=_use(
            ledger,
            "gas_pressure",
            case.gas_pressure,
            GAS_PRESSURE,
            "pressure",
            note="above the air's, before the burner; most need 0.3 to 2 bar",
        ),
        heat_transfer=(low, high),
        drawn=drawn[0],
        drawn_most=drawn[1],
        time=time,
        density=DENSITY,
        latent_heat=LATENT_HEAT,
        boiling_point=BOILING_POINT,
        gas_constant=GAS_CONSTANT,
        specific_heat=SPECIFIC_HEAT,
        shell_specific_heat=STEEL,
    )


def _use(ledger: Ledger, name: str, given: float | None, default: float, kind: str, note: str) -> float:
    """A figure of the bottle that is kept from memory."""
    return ledger.use(
        f"/shop/bottle/{name}",
        given,
        default,
        kind,
        provenance="from memory",
        source="FROM-MEMORY",
        note=note,
    )


def _contents(case: BottleCase, ledger: Ledger) -> float:
    """What one bottle holds (kg): given, or its weight less its tare."""
    if case.contents is not None:
        return case.contents
    if case.weight is None or case.tare is None:
        why = Say(
            "Weigh the bottle: its weight less the tare stamped on it is what is left in it. Give weight and "
            "tare, or contents."
        )
        place = "/shop/bottle/contents" if case.weight is None else "/shop/bottle/tare"
        raise MissingValue(ledger.lack(place, why))
    return formulas.bottle_contents(case.weight, case.tare)


def _until_cold(found: BottleAssessment) -> tuple[float | None, float | None]:
    """Time (s) until a bottle is too cold at this draw-off, (earliest, latest); None for never."""
    ends: list[float | None] = []
    for lasting, constant in zip(found.lasting, found.cooling_constant, strict=True):
        try:
            with paused():
                ends.append(
                    None
                    if found.draw_off is None
                    else formulas.time_until_cold(constant, lasting, found.draw_off)
                )
        except OutOfRange:
            ends.append(None)
    return ends[0], ends[1]
