"""Given a pot of metal: how fast it cools, how long it stays fit to pour, how hot it must be drawn.

Only forward: no choices are made here. Numbers may be floats or NumPy arrays. Every result is an
interval, because nobody knows how clean the metal's surface is.
"""

from dataclasses import dataclass

from ..bounds import OutOfRange
from ..checks import Check, check_kind
from ..formula import step
from ..formulas import pot as formulas
from ..ledger import Say

SECONDS_LEFT = check_kind(
    "pot-seconds-left",
    "The metal is poured before it has lost half of its superheat",
    kind="time",
    sense="at least",
    source="EMISSIVITY",
    else_="warn",
    margin=True,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PotInputs:
    """A pot between furnace and mould; SI.

    ``start_temperature`` is the metal's when the seconds begin to count, ``delay`` the time from the
    furnace to the last mould. Emissivities are (low, high).
    """

    mass: float
    specific_heat_liquid: float
    mouth_area: float
    wall_area: float
    emissivity: tuple[float, float]
    wall_emissivity: tuple[float, float]
    stefan_boltzmann: float
    start_temperature: float
    lowest_temperature: float
    pouring_temperature: float
    delay: float
    drawn: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PotAssessment:
    """Cooling (K/s), seconds left, and temperature on leaving the furnace (K), each (low, high).

    A tapping temperature of None means that no temperature would do.
    """

    cooling_rate: tuple[float, float]
    seconds_left: tuple[float, float]
    tapping_temperature: tuple[float | None, float | None]


def assess_pot(inputs: PotInputs) -> PotAssessment:
    """How fast the pot cools, with clean and with oxidised metal."""
    rates, seconds, taps = [], [], []
    for index, name in enumerate(("clean metal", "metal covered with oxide")):
        with step("pot", name):
            area = formulas.radiating_area(
                inputs.emissivity[index], inputs.mouth_area, inputs.wall_emissivity[index], inputs.wall_area
            )
            heat = inputs.mass, inputs.specific_heat_liquid
            sigma = inputs.stefan_boltzmann
            rates.append(formulas.pot_cooling_rate(sigma, area, inputs.start_temperature, *heat))
            seconds.append(
                formulas.pot_cooling_time(
                    *heat, sigma, area, inputs.start_temperature, inputs.lowest_temperature
                )
            )
            taps.append(_tapping(inputs, area))
    return PotAssessment(
        cooling_rate=(rates[0], rates[1]),
        seconds_left=(seconds[1], seconds[0]),
        tapping_temperature=(taps[0], taps[1]),
    )


def _tapping(inputs: PotInputs, area: float) -> float | None:
    try:
        return formulas.tapping_temperature(
            inputs.pouring_temperature,
            inputs.stefan_boltzmann,
            area,
            inputs.delay,
            inputs.mass,
            inputs.specific_heat_liquid,
        )
    except OutOfRange:
        return None


def check_pot(inputs: PotInputs, pot: PotAssessment, pour_time: float, place: str = "") -> Check:
    """Whether carrying (where the metal's temperature was told in the furnace) and pouring fit in."""
    needed = pour_time + (inputs.delay if inputs.drawn else 0.0)
    short, long = pot.seconds_left
    parts: dict[str, tuple[float, str] | str] = {
        "short": (short, "time"),
        "long": (long, "time"),
        "needed": (needed, "time"),
        "cold": (inputs.lowest_temperature, "temperature"),
    }
    return SECONDS_LEFT.judge(
        short,
        needed,
        subject=f"{place}/pot",
        ok=Say("You have {short} to {long} until the metal is down to {cold}; {needed} are needed.", **parts),
        bad=Say(
            "The metal may be too cold before the mould is full: it falls to {cold} in {short} to {long}, "
            "and {needed} are needed. Draw it hotter, carry it faster, or cover the pot.",
            **parts,
        ),
    )
