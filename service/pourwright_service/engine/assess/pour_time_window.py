"""Which pour time the published laws give, and the ends between which it must lie.

Only forward: no choices are made here. Numbers may be floats or NumPy arrays.
"""

from dataclasses import dataclass

import numpy as np

from ..formula import step
from ..formulas import pour_time as formulas
from ..formulas.freezing import mould_constant_from_trial
from ..formulas.pour_time_laws import thinnest_wall
from ..ledger import Say

IRON, COPPER, LIGHT = "square root and wall", "cube root", "rate"
"""The laws: by the root of the mass and the wall (iron, copper alloys), by the cube root of the mass
(copper alloys), by a rate (aluminium, zinc)."""

SOURCES = {IRON: "POUR-TIME-SHEET", COPPER: "POUR-TIME-COPPER", LIGHT: "POUR-TIME-RATES"}


@dataclass(frozen=True, slots=True, kw_only=True)
class PourTimeInputs:
    """What a pour time is judged on; SI. None: not known, and left out of the judgement.

    ``laws`` names the published laws that the recommendation is made of; ``largest_pour`` is the
    mass at which the law of this metal ends. ``outline`` is the length of the casting's whole
    outline at the parting, the most edge that could ever be offered to gates. ``mould_constant``
    is that of a flat wall; without it the thinnest section's freezing time speaks for flat walls.
    ``rate_factor`` replaces the factor that the light-metal law takes from the wall. ``height`` is the
    casting's, which holds ``casting_volume`` of the ``volume`` poured (None: all of it).
    """

    laws: tuple[str, ...]
    mass: float | None
    largest_pour: float | None = None
    volume: float | None = None
    thickness: float | None = None
    thinnest: float | None = None
    freezing_time: float | None = None
    freezing_share: float = 0.2
    height: float | None = None
    casting_volume: float | None = None
    critical_velocity: float | None = None
    gate_edge: float | None = None
    gate_thickness: float | None = None
    edge_share: float = 1.0 / 3.0
    fluidity_factor: float = 1.0
    copper_factor: float | None = None
    rate_factor: float | None = None
    family: str | None = None
    group: str | None = None
    outline: float | None = None
    mould_constant: float | None = None
    least_wall: float | None = None

    @property
    def rise_binds(self) -> bool:
        """Whether a rise that is too slow fails: the rule was found for iron, elsewhere it is a doubt."""
        return self.family == "iron"

    @property
    def casting_share(self) -> float:
        """Share of the metal that rises in the casting; 1 where it is not told apart."""
        if self.casting_volume is None or self.volume is None:
            return 1.0
        share: float = np.minimum(1.0, self.casting_volume / self.volume)
        return share if np.ndim(share) else float(share)


@dataclass(frozen=True, slots=True, kw_only=True)
class Law:
    """A published law and the time it gives (s)."""

    name: str
    time: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One rule that sets an end of the window: its name, which end, the time (s), and the rule in words."""

    name: str
    end: str
    time: float
    words: Say
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """Ends between which a pour time should lie (s), and what sets them; None: not known.

    ``slowest`` is the nearer of freezing and rise; ``fastest`` comes from the room for gates.
    """

    by_freezing: float | None
    by_rise: float | None
    least_rise: float | None
    fastest: float | None
    gate_area: float | None

    @property
    def slowest(self) -> float | None:
        """The slow end."""
        if self.by_freezing is None or self.by_rise is None:
            return self.by_rise if self.by_freezing is None else self.by_freezing
        ends: float = np.minimum(self.by_freezing, self.by_rise)
        return ends if np.ndim(ends) else float(ends)


def pour_laws(inputs: PourTimeInputs) -> tuple[Law, ...]:
    """The published laws side by side; those that need what is not known are left out."""
    found = []
    for name in inputs.laws:
        with step("law", name):
            time = _law(name, inputs)
        if time is not None:
            found.append(Law(name=name, time=time, source=SOURCES[name]))
    return tuple(found)


def _law(name: str, inputs: PourTimeInputs) -> float | None:
    if inputs.mass is None:
        return None
    if name == IRON:
        if inputs.thickness is None:
            return None
        return formulas.iron_pour_time(inputs.fluidity_factor, inputs.thickness, inputs.mass)
    if name == COPPER:
        if inputs.copper_factor is None:
            return None
        return formulas.copper_pour_time(inputs.copper_factor, inputs.mass)
    factor = inputs.rate_factor
    if factor is None and inputs.thickness is not None:
        factor = formulas.light_metal_factor(inputs.thickness)
    return None if factor is None else formulas.light_metal_pour_time(factor, inputs.mass)


def time_by_laws(laws: tuple[Law, ...]) -> float | None:
    """The one time that the laws give: theirs, or the middle of two."""
    if not laws:
        return None
    if len(laws) == 1:
        return laws[0].time
    return formulas.middle_pour_time(laws[0].time, laws[1].time)


def pour_window(inputs: PourTimeInputs) -> Window:
    """The ends of the window, each where its inputs are known."""
    by_freezing = by_rise = least_rise = fastest = area = None
    with step("window", "slow end"):
        if inputs.freezing_time is not None:
            by_freezing = formulas.slowest_time_before_freezing(inputs.freezing_share, inputs.freezing_time)
        if inputs.height is not None and inputs.thickness is not None:
            least_rise = formulas.least_rise_velocity(inputs.thickness)
            by_rise = formulas.slowest_time_by_rise(inputs.height, inputs.casting_share, least_rise)
    with step("window", "fast end"):
        if inputs.gate_edge is not None and inputs.gate_thickness is not None:
            area = formulas.largest_gate_area(inputs.edge_share, inputs.gate_thickness, inputs.gate_edge)
            if inputs.critical_velocity is not None and inputs.volume is not None:
                fastest = formulas.fastest_time_by_gates(inputs.volume, inputs.critical_velocity, area)
    return Window(
        by_freezing=by_freezing, by_rise=by_rise, least_rise=least_rise, fastest=fastest, gate_area=area
    )


def window_rules(inputs: PourTimeInputs, window: Window) -> tuple[Rule, ...]:
    """Every rule that sets an end of the window, in words."""
    found = []
    if window.by_freezing is not None and inputs.freezing_time is not None:
        found.append(
            Rule(
                name="freezing",
                end="slow",
                time=window.by_freezing,
                words=Say(
                    "the thinnest section is solid after {frozen}; it runs full for certain only within "
                    "{share} of that",
                    frozen=(inputs.freezing_time, "time"),
                    share=(inputs.freezing_share, "fraction"),
                ),
                source="COMMON-PRACTICE",
            )
        )
    if window.by_rise is not None and window.least_rise is not None and inputs.thickness is not None:
        found.append(
            Rule(
                name="rise",
                end="slow",
                time=window.by_rise,
                words=Say(
                    "on walls of {wall} the metal must climb the casting at {rise} or faster, or laps show"
                    + ("" if inputs.rise_binds else " (found for iron: for other metals a doubt, no limit)"),
                    wall=(inputs.thickness, "length"),
                    rise=(window.least_rise, "velocity"),
                ),
                source="RISE-VELOCITY",
            )
        )
    if window.fastest is not None and window.gate_area is not None and inputs.critical_velocity is not None:
        found.append(
            Rule(
                name="gates",
                end="fast",
                time=window.fastest,
                words=Say(
                    "there is room for {area} of gates, and through them the metal stays quiet up to {speed}",
                    area=(window.gate_area, "area"),
                    speed=(inputs.critical_velocity, "velocity"),
                ),
                source="COMMON-PRACTICE",
            )
        )
    return tuple(found)


def wall_that_fills(inputs: PourTimeInputs, time: float) -> float | None:
    """Thinnest flat wall (m) that is still filled in this time; None where nothing says how it freezes."""
    constant = inputs.mould_constant
    if constant is None:
        if inputs.freezing_time is None or inputs.thinnest is None:
            return None
        modulus = 0.5 * inputs.thinnest
        constant = mould_constant_from_trial(inputs.freezing_time, modulus)
    return thinnest_wall(time, inputs.freezing_share, constant)
