"""Small pieces that a gating system is described by: its castings, its losses."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class CastingGates:
    """Castings of one kind on the sprue: how many, with how many gates each.

    ``volume`` (m^3) is that of one of them, None where it is not known; ``bottom`` and ``top`` are
    in m above the gate.
    """

    name: str | None
    count: int
    gates: int
    volume: float | None
    bottom: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Losses:
    """What the metal's way costs beside its lengths: the roundness of the sprue's mouth (m), the
    grain of the mould's face (m), sharp right-angled turns in the runner, and what a filter costs, in
    velocity heads of the runner, by its maker's card."""

    entry_radius: float
    roughness: float
    turns: int
    filter_loss: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """One loss: where, K velocity heads of the area (m^2) there, and its share of the whole head."""

    place: str
    coefficient: float
    area: float
    share: float
