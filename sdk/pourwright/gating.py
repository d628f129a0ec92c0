# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of gating."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Literal

    from .answer import Answer, Remedies, Units
    from .models.common import PropertiesInput
    from .models.gating import (
        FilledInput,
        GateInput,
        HungCastingInput,
        LossesInput,
        RatioInput,
        RunnerInput,
        SprueInput,
        VentsInput,
    )
    from .models.gating_result import GatingResult
    from .quantity import JsonObject, QuantityInput


class GatingCalls(Transport):
    """The operations of gating."""

    def gating(
        self,
        *,
        head: QuantityInput | None = None,
        sprue_height: QuantityInput | None = None,
        basin_depth: QuantityInput | None = None,
        entry_velocity: QuantityInput | None = None,
        gate_position: Literal["top", "bottom", "parting"] | None = None,
        gates: int | None = None,
        ratio: RatioInput | JsonObject | None = None,
        discharge_coefficient: float | None = None,
        loss_coefficient: float | None = None,
        losses: LossesInput | JsonObject | None = None,
        choke_area: QuantityInput | None = None,
        choke_diameter: QuantityInput | None = None,
        sprue: SprueInput | JsonObject | None = None,
        runner: RunnerInput | JsonObject | None = None,
        gate: GateInput | JsonObject | None = None,
        vents: VentsInput | JsonObject | None = None,
        cutters: Sequence[QuantityInput] | None = None,
        well_area_ratio: float | None = None,
        well_depth_ratio: float | None = None,
        basin_width_ratio: float | None = None,
        viscosity: QuantityInput | None = None,
        rounding_step: QuantityInput | None = None,
        alloy: str | None = None,
        properties: PropertiesInput | JsonObject | None = None,
        gravity: QuantityInput | None = None,
        poured_mass: QuantityInput | None = None,
        volume: QuantityInput | None = None,
        pour_time: QuantityInput | None = None,
        flow: QuantityInput | None = None,
        casting: FilledInput | JsonObject | None = None,
        castings: Sequence[HungCastingInput | JsonObject] | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[GatingResult]:
        """Sprue, runner and gates that fill a mould in the time wanted.

        Sizes the choke by the exact integral of the falling head, tapers the sprue, and makes the gates wide
        enough for the metal to enter quietly; or, where a ratio or sizes are given, judges them. Several
        castings may hang on one sprue; sections may change with height in any way. The discharge coefficient
        is the usual one, the caller's, or added up from the losses of the system. Vents are sized for the air
        that must leave. Metal in the gating system is told by part, and the layout draws every channel.
        Origin at the foot of the sprue, on its axis; x along the runner, away from the sprue; y from the
        runner towards the castings; z up. Points lie on the middle line of a channel. Width is level: along y
        where a channel runs along x, along x elsewhere; height is the other side; both are the diameter of a
        round one. Runner and gates lie under the foot of the sprue (z = 0); each gate ends where the runner
        steps down. Filters are not sized: no capacity of theirs is published; give the maker's loss under
        losses.

        head: Head over the gate; used as it is.
        sprue_height: From the gate to the sprue's mouth; the basin's depth is added.
        basin_depth: Metal kept over the sprue's mouth.
        entry_velocity: Speed at which metal enters the sprue's mouth, instead of a depth.
        gate_position: Where the gates meet the casting.
        gates: How many gates; with several equal castings, on each of them.
        ratio: Gating ratio; left out, the gates are sized by the critical velocity.
        discharge_coefficient: Share of the loss-free flow that passes the choke; 1 for exercises without
            losses.
        loss_coefficient: Losses by entry, bends and friction in velocity heads of the choke, instead of a
            coefficient.
        losses: Add up the losses by entry, turns and friction of this very system, instead of a coefficient.
        choke_area: Area of the narrowest place, where it is already made: then only judged.
        choke_diameter: The same as a diameter.
        sprue: What is wanted of the sprue.
        runner: What is wanted of the runner.
        gate: What is wanted of the gates.
        vents: What is wanted of the vents.
        cutters: Sizes of the drills and cutters at hand: sprue and runner are made as wide as the next one.
        well_area_ratio: Area of the well under the sprue over the sprue's foot.
        well_depth_ratio: Depth of the well, from the foot of the sprue, over the runner's height.
        basin_width_ratio: Width of the pouring cup's brim over the sprue's mouth; 0: nothing stays in it.
        viscosity: Viscosity of the liquid metal, for the Reynolds number.
        rounding_step: Sizes are rounded up to whole numbers of this; 0 leaves them.
        alloy: The alloy; its density and critical gate velocity are looked up.
        properties: Properties of the metal that you know better; they win.
        gravity: Gravity; left out, 9.80665 m/s^2. Printed exercises often use 9.81 or 10.
        poured_mass: All metal that runs through this sprue, gating included.
        volume: The same as a volume of liquid, instead of its mass.
        pour_time: Time in which the mould is to fill.
        flow: Flow at the start, instead of a time.
        casting: What is filled; left out, it fills under the full head throughout.
        castings: Several kinds on one sprue, in the order of their gates along the runner.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.gating_result import GatingResult

        return self._ask(
            "/v1/gating",
            GatingResult,
            {
                "head": head,
                "sprue_height": sprue_height,
                "basin_depth": basin_depth,
                "entry_velocity": entry_velocity,
                "gate_position": gate_position,
                "gates": gates,
                "ratio": ratio,
                "discharge_coefficient": discharge_coefficient,
                "loss_coefficient": loss_coefficient,
                "losses": losses,
                "choke_area": choke_area,
                "choke_diameter": choke_diameter,
                "sprue": sprue,
                "runner": runner,
                "gate": gate,
                "vents": vents,
                "cutters": cutters,
                "well_area_ratio": well_area_ratio,
                "well_depth_ratio": well_depth_ratio,
                "basin_width_ratio": basin_width_ratio,
                "viscosity": viscosity,
                "rounding_step": rounding_step,
                "alloy": alloy,
                "properties": properties,
                "gravity": gravity,
                "poured_mass": poured_mass,
                "volume": volume,
                "pour_time": pour_time,
                "flow": flow,
                "casting": casting,
                "castings": castings,
            },
            units,
            working,
            remedies,
        )
