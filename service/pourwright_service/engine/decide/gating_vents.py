"""Vents: how many holes of which width let the air out of a mould."""

import math
from dataclasses import dataclass

from ..assess.gating_flow import GatingFlow, GatingInputs
from ..assess.gating_vents import VentAssessment, VentDecision, VentInputs, area_needed, assess_vents
from ..formula import paused
from ..formulas.gating_vents import allowed_back_pressure
from ..geometry.shapes import disc_area
from ..ledger import Ledger
from .gating_case import VentCase
from .metal import Metal

DIAMETERS = (0.003, 0.005, 0.008, 0.012, 0.020)
"""Vent wires and rods, m (common practice); the thinnest with which few enough vents do."""

MOST_VENTS = 8

SHARE_OF_HEAD = 0.02
"""Share of the metal's head that pent-up air may take: the fill slows by half of it (common practice)."""

COEFFICIENT = 0.6
"""Sharp-edged hole (textbook hydraulics)."""

ROOM_TEMPERATURE = 293.15


@dataclass(frozen=True, slots=True, kw_only=True)
class Vents:
    """Vents as decided, and what they do."""

    inputs: VentInputs
    decision: VentDecision
    assessment: VentAssessment


def vents_of(
    wishes: VentCase,
    inputs: GatingInputs,
    flow: GatingFlow,
    metal: Metal,
    ledger: Ledger,
    *,
    open_area: float = 0.0,
    place: str = "",
) -> Vents | None:
    """The fewest vents that let the air out, or the caller's; None where nothing can be told.

    ``open_area`` (m^2) is what is known to be open where the caller said nothing: an open riser.
    """
    if wishes.back_pressure is None and inputs.density_liquid is None:
        return None
    needs = VentInputs(
        metal_flow=flow.flow_start,
        coefficient=_use(
            ledger, "coefficient", wishes.coefficient, COEFFICIENT, "ratio", "a sharp-edged hole"
        ),
        air_temperature=_air_temperature(wishes, metal, ledger),
        back_pressure=_back_pressure(wishes, inputs, ledger),
        open_area=_use(ledger, "open_area", wishes.open_area, open_area, "area", "open risers and flow-offs"),
    )
    with paused():
        _, _, needed = area_needed(needs)
        lacking = max(needed - needs.open_area, 0.0)
        few = [size for size in DIAMETERS if _count(lacking, size) <= MOST_VENTS]
        diameter = _use(
            ledger,
            "diameter",
            wishes.diameter,
            min(few, default=DIAMETERS[-1]),
            "length",
            "a vent wire or rod",
        )
        count = _count(lacking, diameter) if wishes.count is None else wishes.count
    decision = VentDecision(count=count, diameter=diameter)
    return Vents(inputs=needs, decision=decision, assessment=assess_vents(needs, decision, place))


def _count(area: float, diameter: float) -> int:
    """Vents of a diameter (m) that open an area (m^2)."""
    return math.ceil(area / disc_area(diameter) - 1e-9)


def _use(ledger: Ledger, name: str, given: float | None, default: float, kind: str, note: str) -> float:
    source = "ORIFICE" if name == "coefficient" else "COMMON-PRACTICE"
    provenance = "table" if name == "coefficient" else "common practice"
    return ledger.use(f"/vents/{name}", given, default, kind, provenance=provenance, source=source, note=note)


def _air_temperature(wishes: VentCase, metal: Metal, ledger: Ledger) -> float:
    """As hot as the metal at most: the safe side, because hot air takes more room."""
    liquidus = metal.get("liquidus")
    return ledger.use(
        "/vents/air_temperature",
        wishes.air_temperature,
        liquidus if liquidus is not None else ROOM_TEMPERATURE,
        "temperature",
        provenance="rule",
        source="DERIVED",
        note="the air leaves no hotter than the metal"
        if liquidus is not None
        else "the metal is not known, so the air is taken to leave cold",
    )


def _back_pressure(wishes: VentCase, inputs: GatingInputs, ledger: Ledger) -> float:
    if wishes.back_pressure is not None:
        return wishes.back_pressure
    with paused():
        usual = allowed_back_pressure(
            SHARE_OF_HEAD, inputs.density_liquid or 0.0, inputs.gravity, inputs.head
        )
    return ledger.use(
        "/vents/back_pressure",
        None,
        usual,
        "pressure",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="two hundredths of the metal's own pressure at the gate: the fill slows by one",
    )
