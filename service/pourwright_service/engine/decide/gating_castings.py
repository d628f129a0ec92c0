"""The castings on one sprue: what each holds at which level, and how the gates are shared out."""

from dataclasses import dataclass

from ..assess.gating_parts import CastingGates
from ..assess.layers import Layer, joined_layers, profile_layers, stacked_layers
from ..bounds import OutOfRange
from ..ledger import Ledger, MissingValue, Say
from .gating_case import MOST_GATES, FilledCase

MOST_DEFAULT_GATES = 4
"""More gates than this on one casting only the caller chooses."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """All castings as one stack of layers, and metal beside them (m^3).

    ``gates`` is how many there are in all, None where the castings do not say. Where ``known`` is
    false the volumes of the layers tell only their proportions.
    """

    layers: tuple[Layer, ...] = ()
    other_volume: float = 0.0
    known: bool = True
    castings: tuple[CastingGates, ...] = ()
    gates: int | None = None
    wall_thickness: float | None = None


def fill_of(
    castings: tuple[FilledCase, ...],
    several: bool,
    position: str,
    gates: int | None,
    volume: float | None,
    ledger: Ledger,
    poured_mass: float | None = None,
) -> Filled:
    """What is filled.

    ``several``: the castings came as a list, each with its own gates; otherwise there is one kind at
    most, and ``gates`` are on each of them. Raises MissingValue where a casting's height or section is
    needed, OutOfRange where the castings hold more than is poured.
    """
    if not castings:
        return Filled(other_volume=volume or 0.0, known=volume is not None, gates=gates)
    many = sum(one.count for one in castings)
    stacks, volumes, tops = [], [], []
    for index, one in enumerate(castings):
        place = f"/castings/{index}" if several else "/casting"
        spare = None if several or volume is None else volume / many
        layers, held = _layers(one, place, position, spare, ledger, needs_volume=several)
        stacks.append(layers)
        volumes.append(held)
        tops.append((layers[0].bottom, layers[-1].top))
    each = _shared_gates(castings, volumes, ledger) if several else (gates or 1,)
    kinds = tuple(
        CastingGates(name=one.name, count=one.count, gates=count, volume=held, bottom=low, top=high)
        for one, count, held, (low, high) in zip(castings, each, volumes, tops, strict=True)
    )
    walls = [one.wall_thickness for one in castings if one.wall_thickness is not None]
    known = None not in volumes
    held = sum(one.count * (one.volume or 0.0) for one in kinds)
    if known and volume is not None and held > volume * (1.0 + 1e-6):
        name, poured = ("volume", volume) if poured_mass is None else ("poured_mass", poured_mass)
        raise OutOfRange(name, poured, f"the {held / volume * poured:.4g} that the casting holds", "gating")
    return Filled(
        layers=joined_layers([(one.count, stack) for one, stack in zip(kinds, stacks, strict=True)]),
        other_volume=max(volume - held, 0.0) if known and volume is not None else 0.0,
        known=known,
        castings=kinds,
        gates=sum(one.count * one.gates for one in kinds) if several else (gates or 1) * many,
        wall_thickness=min(walls, default=None),
    )


def _layers(
    casting: FilledCase,
    place: str,
    position: str,
    spare: float | None,
    ledger: Ledger,
    *,
    needs_volume: bool,
) -> tuple[tuple[Layer, ...], float | None]:
    """Layers of one casting, and what it holds (m^3); ``spare`` where its section is not said."""
    tall = casting.tall
    if tall is None:
        raise MissingValue(
            ledger.lack(f"{place}/height", Say("Say how tall the casting stands in the mould."))
        )
    above = casting.above_gate
    if above is None:
        above = ledger.use(
            f"{place}/above_gate",
            None,
            {"top": 0.0, "bottom": tall, "parting": 0.5 * tall}[position],
            "length",
            provenance="rule",
            source="COMMON-PRACTICE",
            note="by the gate's position; at the parting, half of the casting lies above it",
        )
    if casting.profile:
        layers = profile_layers([(one.level, one.area) for one in casting.profile], above)
        return layers, sum(layer.volume for layer in layers)
    if casting.layers:
        parts = tuple(
            (one.height, one.volume if one.volume is not None else (one.section_area or 0.0) * one.height)
            for one in casting.layers
        )
        return stacked_layers(parts, above), sum(part for _, part in parts)
    held = casting.volume
    if held is None:
        held = spare if casting.section_area is None else casting.section_area * tall
    if held is None and needs_volume:
        raise MissingValue(
            ledger.lack(
                f"{place}/volume", Say("Say what each casting holds, or its section: they share the metal.")
            )
        )
    return stacked_layers(((tall, 1.0 if held is None else held),), above), held


def _shared_gates(
    castings: tuple[FilledCase, ...], volumes: list[float | None], ledger: Ledger
) -> tuple[int, ...]:
    """Gates of one casting of each kind: as said, or by the metal it takes."""
    least = min(volume or 0.0 for volume in volumes)
    fair = [round((volume or 0.0) / least) if least > 0.0 else 1 for volume in volumes]
    fair = [min(max(number, 1), MOST_DEFAULT_GATES) for number in fair]
    if (
        sum(one.count * (one.gates or number) for one, number in zip(castings, fair, strict=True))
        > MOST_GATES
    ):
        fair = [1] * len(fair)
    found = []
    for index, (one, number) in enumerate(zip(castings, fair, strict=True)):
        found.append(
            ledger.use(
                f"/castings/{index}/gates",
                one.gates,
                number,
                "count",
                provenance="rule",
                source="COMMON-PRACTICE",
                note="by the metal that each casting takes",
            )
        )
    return tuple(found)
