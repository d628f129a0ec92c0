"""Given a pot of metal: how fast it cools, how long it stays fit to pour, how hot it must be drawn.

Only forward: no choices are made here. Numbers may be floats or NumPy arrays. Every result is an
interval, because nobody knows how clean the metal's surface is. While a mould is poured the pot
counts as holding the mean of what it holds before and after.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..bounds import OutOfRange
from ..formula import step
from ..formulas import pot as formulas

CLEAN, OXIDE = 0, 1
"""Places in a pair of emissivities; the metal under oxide cools faster."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldPour:
    """One mould poured from the pot: kg, s; ``wait`` lies between the pour before it and this one.

    ``thinnest`` is the thinnest section of its casting (m), ``pointer`` where the request has it.
    """

    name: str
    mass: float
    pour_time: float
    wait: float = 0.0
    thinnest: float | None = None
    pointer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PotInputs:
    """A pot between furnace and mould; SI.

    ``start_temperature`` is the metal's when the seconds begin to count, ``delay`` the time from the
    furnace to the first mould (of which they count only what was ``drawn`` for). Emissivities are
    (low, high). ``pours`` are the moulds in their order.
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
    pours: tuple[MouldPour, ...] = ()

    @property
    def poured(self) -> float:
        """All that the moulds take, kg."""
        return sum(pour.mass for pour in self.pours)


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldReached:
    """The metal as it meets one mould: K when its pour begins and when it is full, each (low, high)."""

    pour: MouldPour
    begun: tuple[float, float]
    full: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class PotAssessment:
    """Cooling (K/s), seconds left, and temperature on leaving the furnace (K), each (low, high).

    ``seconds_left`` ends when the last mould would be filled with metal just too cold, had it waited
    for its pour; without pours, when the full pot is too cold. ``needed`` is what carrying, waiting
    and pouring take (s). ``first`` is the heat at which the first mould is met by metal drawn at the
    tapping temperature. A temperature of None means that none would do.
    """

    cooling_rate: tuple[float, float]
    seconds_left: tuple[float, float]
    tapping_temperature: tuple[float | None, float | None]
    first: tuple[float | None, float | None]
    needed: float
    moulds: tuple[MouldReached, ...]


@dataclass(frozen=True, slots=True)
class _Stage:
    """A while in which the pot holds ``mass`` (kg): s; ``pour`` is the mould that is then poured."""

    time: float
    mass: float
    pour: MouldPour | None = None


def _stages(inputs: PotInputs) -> list[_Stage]:
    """Waiting and pouring in their order, from the first mould on; the delay is not among them."""
    held, found = inputs.mass, []
    for pour in inputs.pours:
        if pour.wait:
            found.append(_Stage(pour.wait, held))
        found.append(_Stage(pour.pour_time, held - 0.5 * pour.mass, pour))
        held = held - pour.mass
    return found


def assess_pot(inputs: PotInputs) -> PotAssessment:
    """How fast the pot cools, with clean and with oxidised metal."""
    rates, seconds, taps, firsts, reached = [], [], [], [], []
    stages = _stages(inputs)
    needed = (inputs.delay if inputs.drawn else 0.0) + sum(stage.time for stage in stages)
    for index, name in ((CLEAN, "clean metal"), (OXIDE, "metal covered with oxide")):
        with step("pot", name):
            area = formulas.radiating_area(
                inputs.emissivity[index], inputs.mouth_area, inputs.wall_emissivity[index], inputs.wall_area
            )
            rates.append(
                formulas.pot_cooling_rate(
                    inputs.stefan_boltzmann,
                    area,
                    inputs.start_temperature,
                    inputs.mass,
                    inputs.specific_heat_liquid,
                )
            )
            met, end = _met(inputs, stages, area)
            reached.append(met)
            seconds.append(_seconds(inputs, stages, area, end, needed))
            tapped, first = _tapping(inputs, stages, area)
            taps.append(tapped)
            firsts.append(first)
    return PotAssessment(
        cooling_rate=(rates[CLEAN], rates[OXIDE]),
        seconds_left=(seconds[OXIDE], seconds[CLEAN]),
        tapping_temperature=(taps[CLEAN], taps[OXIDE]),
        first=(firsts[CLEAN], firsts[OXIDE]),
        needed=needed,
        moulds=tuple(
            MouldReached(pour=pour, begun=(cold[0], hot[0]), full=(cold[1], hot[1]))
            for pour, hot, cold in zip(inputs.pours, reached[CLEAN], reached[OXIDE], strict=True)
        ),
    )


def _cooled(inputs: PotInputs, area: float, start: float, time: float, mass: float) -> float:
    return formulas.pot_cooled_temperature(
        start, inputs.stefan_boltzmann, area, time, mass, inputs.specific_heat_liquid
    )


def _met(inputs: PotInputs, stages: list[_Stage], area: float) -> tuple[list[tuple[float, float]], float]:
    """Temperatures (K) at which each mould is begun and full, and the last of them."""
    now, met = inputs.start_temperature, []
    if inputs.drawn and stages:
        now = _cooled(inputs, area, now, inputs.delay, inputs.mass)
    for stage in stages:
        begun = now
        now = _cooled(inputs, area, begun, stage.time, stage.mass)
        if stage.pour is not None:
            met.append((begun, now))
    return met, now


def _seconds(inputs: PotInputs, stages: list[_Stage], area: float, end: float, needed: float) -> float:
    """Time (s) until the last mould would be full of metal too cold, had it waited for its pour."""
    mass = inputs.mass
    for pour in inputs.pours[:-1]:
        mass = mass - pour.mass
    more = formulas.pot_cooling_time(
        mass,
        inputs.specific_heat_liquid,
        inputs.stefan_boltzmann,
        area,
        end,
        inputs.lowest_temperature,
    )
    left: Any = np.maximum(needed + more if stages else more, 0.0)
    return left if np.ndim(left) else float(left)


def _tapping(inputs: PotInputs, stages: list[_Stage], area: float) -> tuple[float | None, float | None]:
    """Heat (K) on leaving the furnace at which the last mould is still begun at the pouring
    temperature, and the heat at which the first is then begun."""

    def before(end: float, time: float, mass: float) -> float:
        return formulas.tapping_temperature(
            end, inputs.stefan_boltzmann, area, time, mass, inputs.specific_heat_liquid
        )

    first = inputs.pouring_temperature
    try:
        for stage in reversed(stages[:-1]):
            first = before(first, stage.time, stage.mass)
        return before(first, inputs.delay, inputs.mass), first
    except OutOfRange:
        return None, None
