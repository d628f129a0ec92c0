"""What a gating system has to do: the caller's wishes, with every gap filled and reported."""

import math
from dataclasses import dataclass, replace

from ..assess.gating_flow import GatingInputs, Layout
from ..assess.gating_parts import CastingGates, Losses
from ..assess.layers import LEVEL, Layer
from ..formulas import channels, gating
from ..geometry.shapes import disc_area
from ..ledger import Ledger, MissingValue, Say
from ..tables.liquids import liquid_figure
from .gating_case import FilledCase, GatingWishes, RatioCase
from .metal import Metal

DISCHARGE = {"top": 0.8, "parting": 0.8, "bottom": 0.45}
"""Discharge coefficient by gate position: a simple falling fill, and a rising one through an
elaborate system (published as 0.75 to 0.9 and 0.4 to 0.5)."""

BASIN_DEPTH = 0.040
STEP = 0.001
CLEARANCE = 0.040
"""Metal kept in the basin, rounding step, sand between sprue and casting: m, common practice."""

ROUGHNESS = 0.0003
"""Grain of a sand mould's face, m, common practice."""

QUIET_FAMILIES_EXCEPT = ("iron",)
"""Families whose gates may run faster than the critical velocity: their oxide films do no harm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heads:
    """Head over the gate and its parts (m); a part is None where it does not follow."""

    head: float
    sprue_height: float | None
    basin_depth: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """How the system is to be sized: what is given is kept, the rest is chosen (SI).

    ``flow`` sizes the choke at the full head; without it the wanted time of the inputs does.
    """

    sprue_shape: str
    gate_count: int
    step: float
    ratio: RatioCase | None = None
    choke_area: float | None = None
    flow: float | None = None
    mouth_area: float | None = None
    runner_area: float | None = None
    gate_area: float | None = None
    gate_thickness: float | None = None
    cutters: tuple[float, ...] = ()


def sizing_of(wishes: GatingWishes, ledger: Ledger, flow: float | None = None) -> Sizing:
    """How to size the system; ``flow`` (m^3/s) where the caller gave one."""
    choke = wishes.choke_area
    if choke is None and wishes.choke_diameter is not None:
        choke = disc_area(wishes.choke_diameter)
    return Sizing(
        sprue_shape=ledger.use(
            "/sprue/shape",
            wishes.sprue.shape,
            "round",
            "text",
            provenance="common practice",
            source="COMMON-PRACTICE",
        ),
        gate_count=ledger.use(
            "/gates", wishes.gates, 1, "count", provenance="common practice", source="COMMON-PRACTICE"
        ),
        step=ledger.use(
            "/rounding_step",
            wishes.rounding_step,
            STEP,
            "length",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="sizes are rounded up to whole numbers of this; 0 leaves them",
        ),
        ratio=wishes.ratio,
        choke_area=choke,
        flow=flow,
        mouth_area=wishes.sprue.mouth_area,
        runner_area=wishes.runner.area,
        gate_area=wishes.gate.area,
        gate_thickness=wishes.gate.thickness,
        cutters=tuple(sorted(wishes.cutters)),
    )


def heads_of(wishes: GatingWishes, gravity: float, ledger: Ledger, flow: float | None = None) -> Heads:
    """Head over the gate. A head that the caller gives is used as it is.

    A speed at the sprue's mouth (given, or following from a flow through a mouth of given area)
    counts as the depth of metal that causes it. Raises MissingValue where no head follows.
    """
    entry = wishes.entry_velocity
    alone = wishes.head is None and wishes.basin_depth is None
    if entry is None and alone and flow is not None and wishes.sprue.mouth_area is not None:
        entry = channels.velocity_in(flow, wishes.sprue.mouth_area)
    basin = wishes.basin_depth
    if basin is None and entry is not None:
        basin = gating.velocity_head(entry, gravity)
    if basin is None and wishes.head is not None and wishes.sprue_height is not None:
        left = wishes.head - wishes.sprue_height
        basin = left if left > LEVEL else 0.0
    if basin is None and (wishes.head is None or wishes.head > BASIN_DEPTH):
        basin = ledger.use(
            "/basin_depth",
            None,
            BASIN_DEPTH,
            "length",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="metal kept over the sprue's mouth while pouring",
        )
    if wishes.head is not None:
        sprue = wishes.sprue_height
        if sprue is None and basin is not None and wishes.head > basin:
            sprue = wishes.head - basin
        return Heads(head=wishes.head, sprue_height=sprue, basin_depth=basin or None)
    if wishes.sprue_height is None or basin is None:
        raise MissingValue(
            ledger.lack(
                "/sprue_height",
                Say("Say how tall the sprue is, from the gates to its mouth: its fall drives the metal."),
            )
        )
    head = gating.head_over_gate(wishes.sprue_height, basin)
    return Heads(head=head, sprue_height=wishes.sprue_height, basin_depth=basin or None)


def position_of(wishes: GatingWishes, castings: tuple[FilledCase, ...], ledger: Ledger) -> str:
    """Where the gates lie: as said, as the castings' levels tell, or else by default."""
    default, note = "parting", "the usual place in a two-part mould"
    above = [(one.above_gate, one.tall) for one in castings if one.above_gate is not None]
    if not castings:
        default, note = "top", "nothing is said of the casting, so it fills under the full head"
    elif len(above) == len(castings):
        if all(over <= 0.0 for over, _ in above):
            default = "top"
        elif all(tall is not None and over >= tall - LEVEL for over, tall in above):
            default = "bottom"
        note = "as the levels of casting and gate tell"
    return ledger.use(
        "/gate_position",
        wishes.gate_position,
        default,
        "text",
        provenance="rule",
        source="COMMON-PRACTICE",
        note=note,
    )


def discharge_of(wishes: GatingWishes, position: str, ledger: Ledger) -> float:
    """Discharge coefficient of the choke: given, from losses, or by the way the mould fills.

    Where the losses of the system itself are to be added up, 1 to begin with.
    """
    if wishes.losses is not None:
        return 1.0
    if wishes.discharge_coefficient is None and wishes.loss_coefficient is not None:
        return gating.discharge_from_losses(wishes.loss_coefficient)
    return ledger.use(
        "/discharge_coefficient",
        wishes.discharge_coefficient,
        DISCHARGE[position],
        "ratio",
        provenance="table",
        source="DISCHARGE-LEXICON",
        note="0.75 to 0.9 for falling fill, 0.4 to 0.5 for rising fill through an elaborate system",
    )


def losses_of_wishes(
    wishes: GatingWishes, density_liquid: float | None, viscosity: float | None, ledger: Ledger
) -> Losses | None:
    """The losses to be added up, or None where a coefficient serves. Raises MissingValue."""
    given = wishes.losses
    if given is None:
        return None
    for name, value in (("density_liquid", density_liquid), ("viscosity", viscosity)):
        if value is None:
            place = "/viscosity" if name == "viscosity" else f"/properties/{name}"
            why = "How much friction takes depends on the metal: name the alloy or give its " + name + "."
            raise MissingValue(ledger.lack(place, Say(why.replace("_", " "))))
    return Losses(
        entry_radius=ledger.use(
            "/losses/entry_radius",
            given.entry_radius,
            0.0,
            "length",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="the edge of the sprue's mouth is left sharp",
        ),
        roughness=ledger.use(
            "/losses/roughness",
            given.roughness,
            ROUGHNESS,
            "length",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="grain of a sand mould's face",
        ),
        turns=given.turns,
        filter_loss=given.filter_loss,
    )


def gating_inputs(
    wishes: GatingWishes,
    heads: Heads,
    metal: Metal,
    ledger: Ledger,
    *,
    gravity: float,
    position: str,
    layers: tuple[Layer, ...],
    other_volume: float,
    volume_known: bool = True,
    wanted_time: float | None = None,
    wall_thickness: float | None = None,
    part_width: float | None = None,
    casting_span: tuple[float, float] | None = None,
    castings: tuple[CastingGates, ...] = (),
    gate_edge: float | None = None,
) -> GatingInputs:
    """Everything that gating is judged on. Raises MissingValue where losses need what is not known.

    ``casting_span`` (m above the gate) is where among the layers the casting stands. ``gate_edge``
    (m) is what each casting offers to gates where the caller did not say.
    ``part_width`` (m) is how far the casting reaches from the sprue's side, for the runner's
    length; without it the side of an equal square section is taken.
    """
    density, viscosity = metal.get("density_liquid"), _viscosity(wishes, metal, ledger)
    many = sum(one.count for one in castings) or 1
    edge = wishes.gate.edge or gate_edge
    inputs = GatingInputs(
        layers=layers,
        other_volume=other_volume,
        volume_known=volume_known,
        head=heads.head,
        sprue_height=heads.sprue_height,
        basin_depth=heads.basin_depth,
        gravity=gravity,
        discharge_coefficient=discharge_of(wishes, position, ledger),
        density_liquid=density,
        viscosity=viscosity,
        critical_velocity=metal.get("gate_velocity"),
        quiet_gates=metal.family not in QUIET_FAMILIES_EXCEPT,
        wanted_time=wanted_time,
        wall_thickness=wall_thickness,
        casting_span=casting_span,
        losses=losses_of_wishes(wishes, density, viscosity, ledger),
        castings=castings,
        gate_edge=None if edge is None else many * edge,
        cutters=tuple(sorted(wishes.cutters)),
        layout=Layout(
            runner_length=0.0,
            runner_extension=0.0,
            gate_length=0.0,
            well_area_ratio=0.0,
            well_depth_ratio=0.0,
            basin_width_ratio=0.0,
        ),
    )
    wide = part_width or _equal_width(inputs, many)
    return replace(inputs, layout=layout_of(wishes, wide, ledger, many))


def _equal_width(inputs: GatingInputs, many: int) -> float:
    """Side (m) of a square that holds one casting's section, or of a cube with its volume."""
    volume, height = inputs.volume, inputs.height
    if volume is None or volume <= 0.0:
        return 0.120
    volume /= many
    return math.cbrt(volume) if not height else math.sqrt(volume / height)


def layout_of(wishes: GatingWishes, part_width: float, ledger: Ledger, many: int = 1) -> Layout:
    """Lengths and proportions of runner, gates, well and basin; ``many`` castings stand in a row."""

    def usual(pointer: str, given: float | None, default: float, kind: str, note: str) -> float:
        return ledger.use(
            pointer, given, default, kind, provenance="common practice", source="WELL-AND-RUNNER", note=note
        )

    return Layout(
        runner_length=usual(
            "/runner/length",
            wishes.runner.length,
            (many - 0.5) * part_width + many * CLEARANCE,
            "length",
            "to the middle of the last casting, with sand between sprue and casting and between castings"
            if many > 1
            else "half the casting's width and the sand between sprue and casting",
        ),
        runner_extension=usual(
            "/runner/extension",
            wishes.runner.extension,
            0.025,
            "length",
            "the runner goes on past the last gate and keeps the first, cold metal",
        ),
        gate_length=usual("/gate/length", wishes.gate.length, 0.015, "length", "from runner to casting"),
        well_area_ratio=usual(
            "/well_area_ratio", wishes.well_area_ratio, 5.0, "ratio", "well over the sprue's foot, areas"
        ),
        well_depth_ratio=usual(
            "/well_depth_ratio", wishes.well_depth_ratio, 1.0, "ratio", "well's depth over runner's height"
        ),
        basin_width_ratio=usual(
            "/basin_width_ratio",
            wishes.basin_width_ratio,
            3.0,
            "ratio",
            "width of the pouring cup's brim over the sprue's mouth; 0: nothing stays in the basin",
        ),
    )


def _viscosity(wishes: GatingWishes, metal: Metal, ledger: Ledger) -> float | None:
    cell = liquid_figure("viscosity", metal.family, metal.group)
    if wishes.viscosity is not None or cell is None:
        return wishes.viscosity
    return ledger.use(
        "/viscosity",
        None,
        cell.value,
        "viscosity",
        provenance=cell.provenance,
        source=cell.source,
        spread=cell.spread,
    )
