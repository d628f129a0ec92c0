"""Given a pot of metal: how fast it cools, how long it stays fit to pour, how hot it must be drawn.

Only forward: no choices are made here. Numbers may be floats or NumPy arrays. Every result is an
interval, because nobody knows how clean the metal's surface is, nor how much heat the wall gives back:
at the slow end a thick crucible, as hot as its metal, cools along with it; at the fast end the wall
is thin and holds no heat of its own. While a mould is poured the pot counts as holding the mean of what
it holds before and after.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..bounds import OutOfRange
from ..formula import step
from ..formulas import pot as formulas

CLEAN, OXIDE = 0, 1
"""Places in a pair of emissivities; the metal under oxide cools faster."""

CRUCIBLE_DENSITY, CRUCIBLE_SPECIFIC_HEAT = 2000.0, 1100.0
"""kg/m^3 and J/(kg K) of clay-graphite or silicon carbide crucibles at heat, from memory."""


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
    (low, high). ``wall_thickness`` is that of a wall which gives its heat, at the slow end alone;
    ``pours`` are the moulds in their order; ``hottest`` is how hot metal may be drawn at most.
    """

    mass: float
    specific_heat_liquid: float
    mouth_area: float
    wall_area: float
    emissivity: tuple[float, float]
    wall_emissivity: tuple[float, float]
    wall_thickness: float
    stefan_boltzmann: float
    start_temperature: float
    lowest_temperature: float
    pouring_temperature: float
    hottest: float | None = None
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
    longest_delay: tuple[float, float] | None
    needed: float
    moulds: tuple[MouldReached, ...]


@dataclass(frozen=True, slots=True)
class _Heat:
    """What a pot loses and holds: m^2 of black area that radiates, kg of metal that holds as much heat."""

    area: float
    mass: float


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


def _heat(inputs: PotInputs, end: int, held: float) -> _Heat:
    """The pot at one end of the interval while it holds so much metal (kg)."""
    touched = formulas.touched_wall_area(inputs.mouth_area, inputs.wall_area, held / inputs.mass)
    area = formulas.radiating_area(
        inputs.emissivity[end], inputs.mouth_area, inputs.wall_emissivity[end], touched
    )
    if end == OXIDE:
        return _Heat(area, held)
    mass = formulas.mass_with_wall(
        held,
        touched,
        inputs.wall_thickness,
        CRUCIBLE_DENSITY,
        CRUCIBLE_SPECIFIC_HEAT,
        inputs.specific_heat_liquid,
    )
    return _Heat(area, mass)


def assess_pot(inputs: PotInputs) -> PotAssessment:
    """How fast the pot cools, with clean and with oxidised metal."""
    rates, seconds, taps, firsts, reached = [], [], [], [], []
    stages = _stages(inputs)
    needed = (inputs.delay if inputs.drawn else 0.0) + sum(stage.time for stage in stages)
    for index, name in ((CLEAN, "clean metal"), (OXIDE, "metal covered with oxide")):
        with step("pot", name):
            full = _heat(inputs, index, inputs.mass)
            rates.append(
                formulas.pot_cooling_rate(
                    inputs.stefan_boltzmann,
                    full.area,
                    inputs.start_temperature,
                    full.mass,
                    inputs.specific_heat_liquid,
                )
            )
            met = _met(inputs, stages, index)
            reached.append(met)
            begun = met[-1][0] if met else inputs.start_temperature
            seconds.append(_seconds(inputs, stages, index, begun, needed))
            tapped, first = _tapping(inputs, stages, index)
            taps.append(tapped)
            firsts.append(first)
    return PotAssessment(
        cooling_rate=(rates[CLEAN], rates[OXIDE]),
        seconds_left=_in_order(seconds[CLEAN], seconds[OXIDE]),
        tapping_temperature=(taps[CLEAN], taps[OXIDE]),
        first=(firsts[CLEAN], firsts[OXIDE]),
        longest_delay=None
        if inputs.hottest is None
        else (_longest(inputs, OXIDE, firsts[OXIDE]), _longest(inputs, CLEAN, firsts[CLEAN])),
        needed=needed,
        moulds=tuple(
            MouldReached(pour=pour, begun=(cold[0], hot[0]), full=(cold[1], hot[1]))
            for pour, hot, cold in zip(inputs.pours, reached[CLEAN], reached[OXIDE], strict=True)
        ),
    )


def _cooled(inputs: PotInputs, end: int, start: float, time: float, held: float) -> float:
    heat = _heat(inputs, end, held)
    return formulas.pot_cooled_temperature(
        start, inputs.stefan_boltzmann, heat.area, time, heat.mass, inputs.specific_heat_liquid
    )


def _in_order(one: float, other: float) -> tuple[float, float]:
    """Low and high. Far too late the ends may change places: a pot nearly empty cools by other shares
    than a full one."""
    low, high = np.minimum(one, other), np.maximum(one, other)
    return (low, high) if np.ndim(low) else (float(low), float(high))


def _before(inputs: PotInputs, end: int, after: float, time: float, held: float) -> float:
    """Temperature (K) so much earlier; OutOfRange where none would do."""
    heat = _heat(inputs, end, held)
    return formulas.tapping_temperature(
        after, inputs.stefan_boltzmann, heat.area, time, heat.mass, inputs.specific_heat_liquid
    )


def _met(inputs: PotInputs, stages: list[_Stage], end: int) -> list[tuple[float, float]]:
    """Temperatures (K) at which each mould is begun and full."""
    now, met = inputs.start_temperature, []
    if inputs.drawn and stages:
        now = _cooled(inputs, end, now, inputs.delay, inputs.mass)
    for stage in stages:
        begun = now
        now = _cooled(inputs, end, begun, stage.time, stage.mass)
        if stage.pour is not None:
            met.append((begun, now))
    return met


def _seconds(inputs: PotInputs, stages: list[_Stage], end: int, begun: float, needed: float) -> float:
    """Time (s) until the last mould would be full of metal too cold, had it waited for its pour;
    ``begun`` is the temperature (K) at which that pour begins, or the full pot's without pours."""
    held, coldest = inputs.mass, inputs.lowest_temperature
    for pour in inputs.pours[:-1]:
        held = held - pour.mass
    if stages:
        try:
            coldest = _before(inputs, end, coldest, stages[-1].time, stages[-1].mass)
        except OutOfRange:
            return 0.0
    heat = _heat(inputs, end, held)
    more = formulas.pot_cooling_time(
        heat.mass, inputs.specific_heat_liquid, inputs.stefan_boltzmann, heat.area, begun, coldest
    )
    left: Any = np.maximum(needed + more if stages else more, 0.0)
    return left if np.ndim(left) else float(left)


def _tapping(inputs: PotInputs, stages: list[_Stage], end: int) -> tuple[float | None, float | None]:
    """Heat (K) on leaving the furnace at which the last mould is still begun at the pouring
    temperature, and the heat at which the first is then begun."""

    first = inputs.pouring_temperature
    try:
        for stage in reversed(stages[:-1]):
            first = _before(inputs, end, first, stage.time, stage.mass)
        return _before(inputs, end, first, inputs.delay, inputs.mass), first
    except OutOfRange:
        return None, None


def _longest(inputs: PotInputs, end: int, first: float | None) -> float:
    """Time (s) in which the full pot falls from the hottest it may be drawn to what the first mould wants."""
    if inputs.hottest is None or first is None or first >= inputs.hottest:
        return 0.0
    heat = _heat(inputs, end, inputs.mass)
    return formulas.pot_cooling_time(
        heat.mass, inputs.specific_heat_liquid, inputs.stefan_boltzmann, heat.area, inputs.hottest, first
    )
