"""Given a pour time: does it lie between too slow (laps, misruns) and too fast (broken surface).

Only forward: no choices are made here. Numbers may be floats or NumPy arrays.
"""

from dataclasses import dataclass

from ..checks import Check
from ..formula import paused, step
from ..formulas import pour_time as formulas
from .pour_time_checks import check_fast, check_slow, check_walls, check_window, law_checks
from .pour_time_window import (
    Law,
    PourTimeInputs,
    Window,
    pour_laws,
    pour_window,
    time_by_laws,
    wall_that_fills,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PourTimeDecision:
    """The pour time chosen or given, s; ``built_time`` that of a gating already laid out for it."""

    pour_time: float
    built_time: float | None = None

    @property
    def real_time(self) -> float:
        """The time in which the mould will fill, as far as it is known."""
        return self.pour_time if self.built_time is None else self.built_time


@dataclass(frozen=True, slots=True, kw_only=True)
class PourTimeAssessment:
    """Laws, window and judgement of a pour time; rise in m/s, rate in kg/s."""

    laws: tuple[Law, ...]
    by_laws: float | None
    window: Window
    rise_velocity: float | None
    pouring_rate: float | None
    thinnest_wall: float | None
    checks: tuple[Check, ...]


def assess_pour_time(
    inputs: PourTimeInputs, decision: PourTimeDecision, place: str = ""
) -> PourTimeAssessment:
    """Judge a pour time. ``place`` is the pointer of the object in the request that holds it."""
    laws = pour_laws(inputs)
    window = pour_window(inputs)
    time = decision.pour_time
    with step("walls", "thinnest that fills"):
        wall = wall_that_fills(inputs, decision.real_time)
    rise = None
    if inputs.height is not None:
        rise = formulas.mean_rise_velocity(inputs.height, inputs.casting_share, time)
    rate = None if inputs.mass is None else formulas.pouring_rate(inputs.mass, time)
    with paused():
        found = (
            check_slow(inputs, window, time, decision.real_time, place),
            check_fast(inputs, window, time, decision.real_time, place),
            check_window(inputs, window, place),
            check_walls(inputs, place),
            *law_checks(inputs, place),
        )
    return PourTimeAssessment(
        laws=laws,
        by_laws=time_by_laws(laws),
        window=window,
        rise_velocity=rise,
        pouring_rate=rate,
        thinnest_wall=wall,
        checks=tuple(check for check in found if check is not None),
    )
