# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of pour time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from typing import Literal

    from .answer import Answer, Remedies, Units
    from .models.common import MouldInput, PropertiesInput
    from .models.pour_time import PotInput, PourTimeResult
    from .quantity import JsonObject, QuantityInput


class PourTimeCalls(Transport):
    """The operations of pour time."""

    def pour_time(
        self,
        *,
        alloy: str | None = None,
        family: Literal["iron", "copper", "aluminium", "zinc"] | None = None,
        properties: PropertiesInput | JsonObject | None = None,
        gravity: QuantityInput | None = None,
        poured_mass: QuantityInput | None = None,
        volume: QuantityInput | None = None,
        thickness: QuantityInput | None = None,
        thinnest: QuantityInput | None = None,
        wall_at_gate: QuantityInput | None = None,
        height: QuantityInput | None = None,
        outline: QuantityInput | None = None,
        casting_volume: QuantityInput | None = None,
        freezing_time: QuantityInput | None = None,
        mould: MouldInput | JsonObject | None = None,
        mould_constant: QuantityInput | None = None,
        pouring_temperature: QuantityInput | None = None,
        pour_time: QuantityInput | None = None,
        gate_edge: QuantityInput | None = None,
        gate_thickness: QuantityInput | None = None,
        fluidity_factor: float | None = None,
        copper_factor: float | None = None,
        rate_band: Literal["thin", "middle", "heavy"] | None = None,
        pot: PotInput | JsonObject | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[PourTimeResult]:
        """How fast to pour, how hot, and how long the pot stays hot enough.

        Puts the published laws of pour time side by side, moves their time into the window between too slow
        (the thinnest section freezes, laps form) and too fast (no room for quiet gates), and tells the
        pouring temperature by wall thickness and the cooling of the pot as an interval.

        alloy: The alloy; its properties and pouring range are looked up.
        family: The family of metals whose law of pour time applies, without an alloy.
        properties: Properties of the metal that you know better; they win.
        gravity: Gravity; left out, 9.80665 m/s^2. Printed exercises often use 9.81 or 10.
        poured_mass: Metal poured into this mould, gating and risers included.
        volume: The same as a volume of liquid, instead of its mass.
        thickness: The wall that makes up most of the casting.
        thinnest: Its thinnest section, where that is another.
        wall_at_gate: The wall that the gates meet, where that is another.
        height: How tall the casting stands in the mould.
        outline: Its whole outline at the parting: no more edge than this can be offered to gates.
        casting_volume: What the casting alone holds; left out, all that is poured counts as rising in it.
        freezing_time: Freezing time of the thinnest section.
        mould: What the mould is made of; the thinnest section's freezing time follows.
        mould_constant: Chvorinov's constant, instead of the mould.
        pouring_temperature: How hot you pour; left out, by the walls' thickness.
        pour_time: The pour time, where you have one: it is then only judged.
        gate_edge: Length of edge at the parting that is offered to gates.
        gate_thickness: Thickness of the gates; left out, 0.6 of the wall that they meet.
        fluidity_factor: K of the law by mass and wall: fluidity in inches over 40.
        copper_factor: K of the cube-root law for copper alloys, s and kg.
        rate_band: A printed step of the light-metal law (below 6 mm, 6 to 12, above 12) instead of its smooth
            form.
        pot: The pot that carries the metal; its cooling is then told.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.pour_time import PourTimeResult

        return self._ask(
            "/v1/pour-time",
            PourTimeResult,
            {
                "alloy": alloy,
                "family": family,
                "properties": properties,
                "gravity": gravity,
                "poured_mass": poured_mass,
                "volume": volume,
                "thickness": thickness,
                "thinnest": thinnest,
                "wall_at_gate": wall_at_gate,
                "height": height,
                "outline": outline,
                "casting_volume": casting_volume,
                "freezing_time": freezing_time,
                "mould": mould,
                "mould_constant": mould_constant,
                "pouring_temperature": pouring_temperature,
                "pour_time": pour_time,
                "gate_edge": gate_edge,
                "gate_thickness": gate_thickness,
                "fluidity_factor": fluidity_factor,
                "copper_factor": copper_factor,
                "rate_band": rate_band,
                "pot": pot,
            },
            units,
            working,
            remedies,
        )
