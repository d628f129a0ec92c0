"""What a caller may say of gating: the system itself, and what it fills. SI, None where unsaid."""

from dataclasses import dataclass, field

POSITIONS = ("top", "bottom", "parting")
PARTS = ("sprue", "runner", "gate")

MOST_GATES = 200
"""Gates that one sprue may feed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RatioCase:
    """Areas of sprue foot, runner and gates as parts of one ratio."""

    sprue: float
    runner: float
    gate: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerCase:
    """A layer of the casting as it stands (m, m^3 or m^2)."""

    height: float
    volume: float | None = None
    section_area: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfileCase:
    """The casting's section (m^2) at a level (m) over its lowest point."""

    level: float
    area: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledCase:
    """The casting (and its risers) as it stands in the mould (m, m^2, m^3).

    ``above_gate`` is how far its highest point lies above the gate; ``layers`` and ``profile`` run from
    the bottom up. ``count`` equal ones hang on the sprue. ``name`` and ``gates`` (of each) are told
    where there are several kinds.
    """

    height: float | None = None
    above_gate: float | None = None
    section_area: float | None = None
    volume: float | None = None
    layers: tuple[LayerCase, ...] = ()
    profile: tuple[ProfileCase, ...] = ()
    wall_thickness: float | None = None
    count: int = 1
    name: str | None = None
    gates: int | None = None

    @property
    def tall(self) -> float | None:
        """How tall it stands, m; None where it is not said."""
        if self.profile:
            return self.profile[-1].level
        return sum(layer.height for layer in self.layers) if self.layers else self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class SprueCase:
    """What is wanted of the sprue (m^2)."""

    shape: str | None = None
    mouth_area: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerCase:
    """What is wanted of the runner (m^2, m)."""

    area: float | None = None
    length: float | None = None
    extension: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GateCase:
    """What is wanted of the gates: area of all together (m^2), thickness and length of each (m), and the
    edge that each casting offers to them (m)."""

    area: float | None = None
    thickness: float | None = None
    length: float | None = None
    edge: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LossesCase:
    """What is known of the losses on the metal's way (m, velocity heads)."""

    entry_radius: float | None = None
    roughness: float | None = None
    turns: int = 0
    filter_loss: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class VentCase:
    """What is wanted of the vents, and what is open anyway; SI."""

    count: int | None = None
    diameter: float | None = None
    back_pressure: float | None = None
    air_temperature: float | None = None
    coefficient: float | None = None
    open_area: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GatingWishes:
    """What a caller may say of the gating itself; SI, None leaves it to the engine."""

    gate_position: str | None = None
    gates: int | None = None
    ratio: RatioCase | None = None
    discharge_coefficient: float | None = None
    loss_coefficient: float | None = None
    losses: LossesCase | None = None
    head: float | None = None
    sprue_height: float | None = None
    basin_depth: float | None = None
    entry_velocity: float | None = None
    choke_area: float | None = None
    choke_diameter: float | None = None
    sprue: SprueCase = field(default_factory=SprueCase)
    runner: RunnerCase = field(default_factory=RunnerCase)
    gate: GateCase = field(default_factory=GateCase)
    vents: VentCase = field(default_factory=VentCase)
    cutters: tuple[float, ...] = ()
    well_area_ratio: float | None = None
    well_depth_ratio: float | None = None
    basin_width_ratio: float | None = None
    viscosity: float | None = None
    rounding_step: float | None = None
