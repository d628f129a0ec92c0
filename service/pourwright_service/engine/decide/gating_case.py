"""What a caller may say of gating: the system itself, and what it fills. SI, None where unsaid."""

from dataclasses import dataclass, field

POSITIONS = ("top", "bottom", "parting")
PARTS = ("sprue", "runner", "gate")


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
class FilledCase:
    """The casting (and its risers) as it stands in the mould (m, m^2).

    ``above_gate`` is how far its highest point lies above the gate; ``layers`` run from the bottom up.
    """

    height: float | None = None
    above_gate: float | None = None
    section_area: float | None = None
    layers: tuple[LayerCase, ...] = ()
    wall_thickness: float | None = None


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
    """What is wanted of the gates: area of all together (m^2), thickness and length of each (m)."""

    area: float | None = None
    thickness: float | None = None
    length: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GatingWishes:
    """What a caller may say of the gating itself; SI, None leaves it to the engine."""

    gate_position: str | None = None
    gates: int | None = None
    ratio: RatioCase | None = None
    discharge_coefficient: float | None = None
    loss_coefficient: float | None = None
    head: float | None = None
    sprue_height: float | None = None
    basin_depth: float | None = None
    entry_velocity: float | None = None
    choke_area: float | None = None
    choke_diameter: float | None = None
    sprue: SprueCase = field(default_factory=SprueCase)
    runner: RunnerCase = field(default_factory=RunnerCase)
    gate: GateCase = field(default_factory=GateCase)
    well_area_ratio: float | None = None
    well_depth_ratio: float | None = None
    basin_width_ratio: float | None = None
    viscosity: float | None = None
    rounding_step: float | None = None
