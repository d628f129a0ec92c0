"""Given a pour time: does it lie between too slow (laps, misruns) and too fast (broken surface).

Only forward: no choices are made here. Numbers may be floats or NumPy arrays.
"""

from dataclasses import dataclass

import numpy as np

from ..checks import Check, check_kind
from ..formula import paused, step
from ..formulas import pour_time as formulas
from ..ledger import Say

SLOW = check_kind(
    "pour-time-slow",
    "The mould is full before the thinnest section freezes and before laps form",
    kind="time",
    sense="at most",
    source="COMMON-PRACTICE",
    margin=True,
)
FAST = check_kind(
    "pour-time-fast",
    "The casting has room for gates wide enough for this time",
    kind="time",
    sense="at least",
    source="COMMON-PRACTICE",
    margin=True,
)
WINDOW = check_kind(
    "pour-window",
    "There is a time between too slow and too fast",
    kind="time",
    sense="at least",
    source="COMMON-PRACTICE",
)
LAW_MASS = check_kind(
    "pour-law-mass",
    "The published law covers a pour of this mass",
    kind="mass",
    sense="at most",
    source="POUR-TIME-SHEET",
    else_="warn",
)
LAW_THIN = check_kind(
    "pour-law-thin",
    "The published law covers walls this thin",
    kind="length",
    sense="at least",
    source="POUR-TIME-RATES",
    else_="warn",
)
LAW_HEAVY = check_kind(
    "pour-law-heavy",
    "The published law covers walls this heavy",
    kind="length",
    sense="at most",
    source="POUR-TIME-RATES",
    else_="warn",
)

IRON, COPPER, LIGHT = "square root and wall", "cube root", "rate"
"""The laws: by the root of the mass and the wall (iron, copper alloys), by the cube root of the mass
(copper alloys), by a rate (aluminium, zinc)."""

SOURCES = {IRON: "POUR-TIME-SHEET", COPPER: "POUR-TIME-COPPER", LIGHT: "POUR-TIME-RATES"}


@dataclass(frozen=True, slots=True, kw_only=True)
class PourTimeInputs:
    """What a pour time is judged on; SI. None: not known, and left out of the judgement.

    ``laws`` names the published laws that apply to this metal and mass; ``largest_pour`` is the
    mass at which the law of this metal ends. ``rate_factor`` replaces the factor that the
    light-metal law takes from the wall. ``height`` is the casting's, which holds
    ``casting_volume`` of the ``volume`` poured (None: all of it).
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

    @property
    def casting_share(self) -> float:
        """Share of the metal that rises in the casting; 1 where it is not told apart."""
        if self.casting_volume is None or self.volume is None:
            return 1.0
        share: float = np.minimum(1.0, self.casting_volume / self.volume)
        return share if np.ndim(share) else float(share)


@dataclass(frozen=True, slots=True, kw_only=True)
class PourTimeDecision:
    """The pour time chosen or given, s."""

    pour_time: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Law:
    """A published law and the time it gives (s)."""

    name: str
    time: float
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


@dataclass(frozen=True, slots=True, kw_only=True)
class PourTimeAssessment:
    """Laws, window and judgement of a pour time; rise in m/s, rate in kg/s."""

    laws: tuple[Law, ...]
    by_laws: float | None
    window: Window
    rise_velocity: float | None
    pouring_rate: float | None
    checks: tuple[Check, ...]


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


def assess_pour_time(
    inputs: PourTimeInputs, decision: PourTimeDecision, place: str = ""
) -> PourTimeAssessment:
    """Judge a pour time. ``place`` is the pointer of the object in the request that holds it."""
    laws = pour_laws(inputs)
    window = pour_window(inputs)
    time = decision.pour_time
    rise = None
    if inputs.height is not None:
        rise = formulas.mean_rise_velocity(inputs.height, inputs.casting_share, time)
    rate = None if inputs.mass is None else formulas.pouring_rate(inputs.mass, time)
    with paused():
        found = (
            _slow(inputs, window, time, place),
            _fast(inputs, window, time, place),
            check_window(inputs, window, place),
            *law_checks(inputs, place),
        )
    return PourTimeAssessment(
        laws=laws,
        by_laws=time_by_laws(laws),
        window=window,
        rise_velocity=rise,
        pouring_rate=rate,
        checks=tuple(check for check in found if check is not None),
    )


def _slow(inputs: PourTimeInputs, window: Window, time: float, place: str) -> Check | None:
    slowest = window.slowest
    if slowest is None:
        return None
    freezing = window.by_freezing
    parts: dict[str, tuple[float, str] | str] = {
        "t": (time, "time"),
        "limit": (slowest, "time"),
        "frozen": (inputs.freezing_time or slowest, "time"),
    }
    laps = Say(
        "Filled in {t} the metal rises so slowly that laps may show; fill it within {limit}, or tilt "
        "the mould so that the casting stands steeper.",
        **parts,
    )
    misrun = Say(
        "Filled in {t} the thinnest section, solid in {frozen}, would not run full; fill it within {limit}.",
        **parts,
    )
    # The rise is a rule of thumb found for iron: where it alone is broken, that is doubtful.
    second = 1e3 * time if freezing is None else freezing
    return SLOW.judge(
        time,
        slowest,
        warn_limit=second,
        subject=f"{place}/pour_time",
        ok=Say("Filled in {t}; it must be done within {limit}.", **parts),
        doubtful=laps,
        bad=misrun,
    )


def _fast(inputs: PourTimeInputs, window: Window, time: float, place: str) -> Check | None:
    fastest = window.fastest
    if fastest is None or inputs.gate_edge is None:
        return None
    parts: dict[str, tuple[float, str] | str] = {
        "t": (time, "time"),
        "limit": (fastest, "time"),
        "edge": (inputs.gate_edge * fastest / time, "length"),
    }
    return FAST.judge(
        time,
        fastest,
        subject=f"{place}/pour_time",
        ok=Say("Filled in {t}; there is room for gates that stay quiet down to {limit}.", **parts),
        bad=Say(
            "Filled in {t} the metal cannot enter quietly: the casting has room for gates only for {limit} "
            "or more. Take longer, or offer {edge} of edge to the gates.",
            **parts,
        ),
    )


def check_window(inputs: PourTimeInputs, window: Window, place: str = "") -> Check | None:
    """Judge whether the window is open, and say what would open it."""
    slowest, fastest = window.slowest, window.fastest
    if slowest is None or fastest is None or inputs.gate_edge is None or not np.all(slowest > 0.0):
        return None
    parts: dict[str, tuple[float, str] | str] = {
        "slow": (slowest, "time"),
        "fast": (fastest, "time"),
        "edge": (inputs.gate_edge * fastest / slowest, "length"),
    }
    words = (
        "No pour time will do: after {slow} it is too slow, before {fast} there is no room for gates wide "
        "enough. Offer {edge} of edge to the gates (gate it from more sides)"
    )
    if window.by_rise is not None and window.least_rise is not None and np.all(window.by_rise <= slowest):
        words += ", or tilt it so that it stands at least {tall} tall"
        parts["tall"] = (fastest * inputs.casting_share * window.least_rise, "length")
    elif inputs.freezing_time is not None:
        words += ", or see that the thinnest section takes {freeze} to freeze (thicker, or insulated)"
        parts["freeze"] = (fastest / inputs.freezing_share, "time")
    hard = window.by_freezing
    return WINDOW.judge(
        slowest,
        fastest,
        # A rise that is too slow is doubtful, a section that freezes first is not.
        warn_limit=0.0 if hard is None else fastest - (hard - slowest),
        subject=f"{place}/gate_edge",
        ok=Say("Any time from {fast} to {slow} would do.", **parts),
        doubtful=Say(f"{words.replace('No pour time will do', 'No pour time meets every rule')}.", **parts),
        bad=Say(f"{words}.", **parts),
    )


def law_checks(inputs: PourTimeInputs, place: str = "") -> tuple[Check, ...]:
    """Whether mass and wall lie where the published laws were printed for."""
    found = []
    if inputs.mass is not None and inputs.largest_pour is not None:
        mass: dict[str, tuple[float, str] | str] = {
            "mass": (inputs.mass, "mass"),
            "most": (inputs.largest_pour, "mass"),
        }
        found.append(
            LAW_MASS.judge(
                inputs.mass,
                inputs.largest_pour,
                subject=f"{place}/poured_mass",
                ok=Say("The published law covers {mass}.", **mass),
                bad=Say("The published law ends at {most}; {mass} is beyond it.", **mass),
            )
        )
    if LIGHT in inputs.laws and inputs.thickness is not None and inputs.rate_factor is None:
        found += _light_checks(inputs.thickness, place)
    return tuple(found)


def _light_checks(thickness: float, place: str) -> list[Check]:
    parts: dict[str, tuple[float, str] | str] = {
        "wall": (thickness, "length"),
        "thin": (formulas.THIN_LAW, "length"),
        "heavy": (formulas.HEAVY_LAW, "length"),
    }
    subject = f"{place}/thickness"
    ok = Say("The published law covers walls of {wall}.", **parts)
    bad = "The law of pour time is known for walls of {thin} to {heavy}; for {wall} the nearest end is held."
    return [
        LAW_THIN.judge(thickness, formulas.THIN_LAW, subject=subject, ok=ok, bad=Say(bad, **parts)),
        LAW_HEAVY.judge(thickness, formulas.HEAVY_LAW, subject=subject, ok=ok, bad=Say(bad, **parts)),
    ]
