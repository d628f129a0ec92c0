"""Judgement of a pour time: too slow, too fast, and whether any time would do.

Only forward: no choices are made here. Numbers may be floats or NumPy arrays.
"""

import numpy as np

from ..checks import Check, check_kind
from ..formulas import pour_time as formulas
from ..ledger import Say
from .pour_time_window import LIGHT, PourTimeInputs, Window

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
LEAST_WALL = check_kind(
    "least-wall",
    "The thinnest section is no thinner than walls that are reported to fill",
    kind="length",
    sense="at least",
    source="LEAST-WALLS",
    else_="warn",
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


def check_slow(
    inputs: PourTimeInputs, window: Window, wanted: float, time: float, place: str = ""
) -> Check | None:
    """Judge the time in which the mould fills against the slow end; it was laid out for ``wanted``."""
    slowest = window.slowest
    if slowest is None:
        return None
    freezing = window.by_freezing
    parts: dict[str, tuple[float, str] | str] = {
        "t": (time, "time"),
        "limit": (slowest, "time"),
        "frozen": (inputs.freezing_time or slowest, "time"),
    }
    by_rise = freezing is None or bool(np.all(freezing >= time))
    if by_rise:
        bad = Say(
            "Filled in {t} the metal rises so slowly that laps "
            + ("show" if inputs.rise_binds else "may show (a rule found for iron)")
            + "; fill it within {limit}, or tilt the mould so that the casting stands steeper.",
            **parts,
        )
    else:
        bad = Say(
            "Filled in {t} the thinnest section, solid in {frozen}, would not run full; fill it within "
            "{limit}.",
            **parts,
        )
    if _only_built(wanted <= slowest, wanted, time):
        second, doubtful = (
            time,
            Say(
                "As built the mould fills in {t}, later than the {limit} by which it should be full: take a "
                "finer rounding step, or a wider sprue.",
                **parts,
            ),
        )
    else:
        # The rise is a rule of thumb found for iron: elsewhere a rise that is too slow is doubtful.
        hard = slowest if inputs.rise_binds else freezing
        second, doubtful = 1e3 * time if hard is None else hard, bad
    return SLOW.judge(
        time,
        slowest,
        warn_limit=second,
        subject=f"{place}/pour_time",
        ok=Say("Filled in {t}; it must be done within {limit}.", **parts),
        doubtful=doubtful,
        bad=bad,
    )


def check_fast(
    inputs: PourTimeInputs, window: Window, wanted: float, time: float, place: str = ""
) -> Check | None:
    """Judge the time in which the mould fills against the fast end; it was laid out for ``wanted``."""
    fastest = window.fastest
    if fastest is None or inputs.gate_edge is None:
        return None
    parts: dict[str, tuple[float, str] | str] = {
        "t": (time, "time"),
        "limit": (fastest, "time"),
    }
    edge = _more_edge(inputs, inputs.gate_edge * fastest / time)
    built = _only_built(wanted >= fastest, wanted, time)
    return FAST.judge(
        time,
        fastest,
        warn_limit=time if built else None,
        subject=f"{place}/pour_time",
        ok=Say("Filled in {t}; there is room for gates that stay quiet down to {limit}.", **parts),
        doubtful=Say(
            "As built the mould fills in {t}, sooner than the {limit} for which there is room for quiet "
            "gates: rounding made the way in a little wider. Mind the speed in the gates, or take a finer "
            "rounding step.",
            **parts,
        ),
        bad=Say(
            "Filled in {t} the metal cannot enter quietly: the casting has room for gates only for {limit} "
            "or more. Take longer.",
            **parts,
        ).then(edge),
    )


def _only_built(meant: bool, wanted: float, time: float) -> bool:
    """Whether the time that was aimed at would do, and only the one that came of rounding does not."""
    return bool(np.all(meant)) and bool(np.any(wanted != time))


def _more_edge(inputs: PourTimeInputs, edge: float) -> Say:
    """The sentence that offers more edge to the gates, as far as the casting has any."""
    if inputs.outline is None:
        return Say(
            "Or offer {edge} of edge to the gates, if its outline at the parting is as long as that.",
            edge=(edge, "length"),
        )
    parts = {"edge": (edge, "length"), "outline": (inputs.outline, "length")}
    if np.all(edge <= inputs.outline):
        return Say(
            "Or offer {edge} of edge to the gates; its whole outline at the parting is {outline}.", **parts
        )
    return Say(
        "More edge does not mend it: {edge} would be needed, and its whole outline at the parting is only "
        "{outline}. Thicker gates would, or gates on a second level.",
        **parts,
    )


def check_window(inputs: PourTimeInputs, window: Window, place: str = "") -> Check | None:
    """Judge whether the window is open, and say what would open it."""
    slowest, fastest = window.slowest, window.fastest
    if slowest is None or fastest is None or inputs.gate_edge is None or not np.all(slowest > 0.0):
        return None
    parts: dict[str, tuple[float, str] | str] = {"slow": (slowest, "time"), "fast": (fastest, "time")}
    by_rise = window.by_rise is not None and bool(np.all(window.by_rise <= slowest))
    words = "after {slow} it is too slow, before {fast} there is no room for gates wide enough to stay quiet."
    if by_rise and window.least_rise is not None:
        words += " Tilt it so that it stands at least {tall} tall, or turn it on edge."
        parts["tall"] = (fastest * inputs.casting_share * window.least_rise, "length")
    elif inputs.freezing_time is not None:
        words += (
            " See that the thinnest section takes {freeze} to freeze (thicker, a hotter pour, or a mould "
            "that insulates)."
        )
        parts["freeze"] = (fastest / inputs.freezing_share, "time")
    edge = _more_edge(inputs, inputs.gate_edge * fastest / slowest)
    # The rule of rise was found for iron: for other metals a window shut by it alone is a doubt.
    hard = slowest if inputs.rise_binds else window.by_freezing
    why = " The rule of rise was found for iron: for this metal it is a doubt." if by_rise else ""
    return WINDOW.judge(
        slowest,
        fastest,
        warn_limit=0.0 if hard is None else fastest - (hard - slowest),
        subject=f"{place}/gate_edge",
        ok=Say("Any time from {fast} to {slow} would do.", **parts),
        doubtful=Say(f"No pour time meets every rule: {words}{why}", **parts).then(edge),
        bad=Say(f"No pour time will do: {words}", **parts).then(edge),
    )


def check_walls(inputs: PourTimeInputs, place: str = "") -> Check | None:
    """Judge the thinnest section against the least wall that is reported for this metal and mould."""
    if inputs.least_wall is None or inputs.thinnest is None:
        return None
    parts: dict[str, tuple[float, str] | str] = {
        "wall": (inputs.thinnest, "length"),
        "least": (inputs.least_wall, "length"),
    }
    return LEAST_WALL.judge(
        inputs.thinnest,
        inputs.least_wall,
        subject=f"{place}/thinnest",
        ok=Say("Foundries report that walls of {least} fill; the thinnest here is {wall}.", **parts),
        bad=Say(
            "Walls of {wall} are thinner than the {least} that foundries report for this metal in sand: "
            "expect some that do not run full, or make them thicker.",
            **parts,
        ),
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
                bad=Say(
                    "The published law ends at {most}; {mass} is beyond it: take the time of a job like it "
                    "that came out well.",
                    **mass,
                ),
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
