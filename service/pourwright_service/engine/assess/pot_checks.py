"""Judgement of a pot: is the metal hot enough for the last mould, not too hot for the first, enough of it.

Only forward: no choices are made here. Numbers may be floats or NumPy arrays.
"""

from dataclasses import dataclass, replace

from ..checks import Check, check_kind
from ..formula import paused, step
from ..formulas.pour_time_laws import temperature_that_fills, thinnest_wall
from ..ledger import Say
from .freezing import HeatInputs, cooling_of
from .pot import MouldReached, PotAssessment, PotInputs

SECONDS_LEFT = check_kind(
    "pot-seconds-left",
    "The metal is poured before it has lost half of its superheat",
    kind="time",
    sense="at least",
    source="EMISSIVITY",
    else_="warn",
    margin=True,
)
ENOUGH = check_kind(
    "pot-holds-enough",
    "The pot holds what the moulds take",
    kind="mass",
    sense="at least",
    source="DERIVED",
    margin=True,
)
STILL_FILLS = check_kind(
    "pot-mould-fills",
    "The metal is still hot enough to fill the mould's thinnest wall when its turn comes",
    kind="temperature",
    sense="at least",
    source="EMISSIVITY",
)
FIRST_HEAT = check_kind(
    "pot-first-too-hot",
    "Metal drawn hot enough for the last mould is not too hot for the first",
    kind="temperature",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)


WAIT = check_kind(
    "pot-waits-too-long",
    "Metal may be drawn hot enough to outlast the way to the first mould",
    kind="time",
    sense="at most",
    source="EMISSIVITY",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ThinWall:
    """A flat wall and how it freezes: m, s. ``heat`` tells how that changes with the metal's heat."""

    thickness: float
    freezing_time: float
    freezing_share: float
    heat: HeatInputs | None


def needed_temperature(wall: ThinWall, thickness: float, pour_time: float) -> float | None:
    """Lowest temperature (K) at which a wall of this thickness (m) still fills; None where unknown."""
    heat = wall.heat
    if heat is None or heat.metal is None or heat.mould is None or heat.filled_temperature is None:
        return None
    with paused():
        cooling = cooling_of(heat)
    if cooling.heat is None:
        return None
    return temperature_that_fills(
        heat.metal.liquidus,
        heat.filled_temperature,
        cooling.heat,
        pour_time,
        wall.freezing_share,
        wall.freezing_time * (thickness / wall.thickness) ** 2,
        heat.metal.specific_heat_liquid,
    )


def wall_at(wall: ThinWall, temperature: float, pour_time: float) -> float | None:
    """Thinnest wall (m) that metal of this temperature (K) fills; at the liquidus and below it none."""
    heat = wall.heat
    if heat is None or heat.metal is None or heat.mould is None or temperature <= heat.metal.liquidus:
        return None
    with paused():
        cooling = cooling_of(replace(heat, filled_temperature=temperature))
        return thinnest_wall(pour_time, wall.freezing_share, cooling.mould_constant)


def check_pot(inputs: PotInputs, pot: PotAssessment, place: str = "") -> Check:
    """Whether carrying (where the metal's temperature was told in the furnace) and pouring fit in."""
    short, long = pot.seconds_left
    parts: dict[str, tuple[float, str] | str] = {
        "short": (short, "time"),
        "long": (long, "time"),
        "needed": (pot.needed, "time"),
        "cold": (inputs.lowest_temperature, "temperature"),
    }
    last = "the mould is" if len(inputs.pours) < 2 else "the last mould is"
    return SECONDS_LEFT.judge(
        short,
        pot.needed,
        subject=f"{place}/pot",
        ok=Say("You have {short} to {long} until the metal is down to {cold}; {needed} are needed.", **parts),
        bad=Say(
            f"The metal may be too cold before {last} full: "
            "it falls to {cold} in {short} to {long}, and {needed} are needed. Draw it hotter, carry it "
            "faster, or cover the pot.",
            **parts,
        ),
    )


def check_wait(inputs: PotInputs, pot: PotAssessment, place: str = "") -> Check | None:
    """Whether metal drawn as hot as it may be still has its pouring heat at the first mould; None where its
    heat in the furnace is told, which is judged by what is left of it."""
    if inputs.drawn or inputs.hottest is None or pot.longest_delay is None:
        return None
    short, long = pot.longest_delay
    parts: dict[str, tuple[float, str] | str] = {
        "delay": (inputs.delay, "time"),
        "short": (short, "time"),
        "long": (long, "time"),
        "hot": (inputs.hottest, "temperature"),
        "pouring": (inputs.pouring_temperature, "temperature"),
    }
    return WAIT.judge(
        inputs.delay,
        short,
        warn_limit=long,
        subject=f"{place}/pot/delay",
        ok=Say("The way of {delay} to the first mould is short enough.", **parts),
        doubtful=Say(
            "Drawn at {hot} at most, the metal falls to {pouring} in {short} to {long}, and the way to the "
            "first mould takes {delay}: be faster, or cover the pot.",
            **parts,
        ),
        bad=Say(
            "The way to the first mould takes {delay}, and metal drawn at {hot}, the hottest there should "
            "be, has its pouring heat of {pouring} for {short} to {long} only: it would be too cold.",
            **parts,
        ),
    )


def check_enough(held: float, poured: float, place: str = "") -> Check:
    """Whether the pot holds what the moulds take (kg)."""
    parts: dict[str, tuple[float, str] | str] = {"held": (held, "mass"), "poured": (poured, "mass")}
    return ENOUGH.judge(
        held,
        poured,
        subject=f"{place}/pot/metal_mass",
        ok=Say("The pot holds {held}; {poured} are poured from it.", **parts),
        bad=Say(
            "The pot holds {held}, but {poured} shall be poured from it: melt more, or pour fewer moulds.",
            **parts,
        ),
    )


def check_still_fills(met: MouldReached, wall: ThinWall, place: str = "") -> Check | None:
    """Whether one mould's thinnest wall still fills with the metal as it then is."""
    thickness = met.pour.thinnest or wall.thickness
    with step("pot", f"what {met.pour.name} needs"):
        needed = needed_temperature(wall, thickness, met.pour.pour_time)
    if needed is None:
        return None
    cold, hot = met.full
    parts: dict[str, tuple[float, str] | str] = {
        "name": met.pour.name,
        "cold": (cold, "temperature"),
        "hot": (hot, "temperature"),
        "needed": (needed, "temperature"),
        "wall": (thickness, "length"),
    }
    # Two ends that a reader would see as one are told as one.
    span = "{cold} to {hot}" if hot - cold >= 1.0 else "about {cold}"
    words = f"When {{name}} is full the metal is at {span}"
    mend = "Draw the metal hotter, fill this mould faster or earlier, or cover the pot."
    return STILL_FILLS.judge(
        cold,
        needed,
        # Not even the slower of the two coolings leaves it hot enough: then it fails.
        warn_limit=needed - (hot - cold),
        subject=f"{place}{met.pour.pointer}",
        ok=Say(f"{words}, and its wall of {{wall}} needs no more than {{needed}}.", **parts),
        doubtful=Say(
            f"{words}, but its wall of {{wall}} needs {{needed}}: it may not run full. {mend}", **parts
        ),
        bad=Say(
            f"{words}, too cold for its wall of {{wall}}, which needs {{needed}}: it will not run full. "
            f"{mend}",
            **parts,
        ),
    )


def check_first(first: float, hottest: float, place: str = "") -> Check:
    """Whether metal drawn for the last of several moulds is not too hot for the first (K)."""
    parts: dict[str, tuple[float, str] | str] = {
        "first": (first, "temperature"),
        "most": (hottest, "temperature"),
    }
    return FIRST_HEAT.judge(
        first,
        hottest,
        subject=f"{place}/pot/moulds",
        ok=Say("Drawn for the last mould, the metal meets the first at {first} at most.", **parts),
        bad=Say(
            "Drawn hot enough for the last mould, the metal may meet the first at {first}, hotter than the "
            "{most} that is usual for the alloy: pour the thin-walled moulds first and the heavy ones last, "
            "or fewer moulds from one pot.",
            **parts,
        ),
    )
