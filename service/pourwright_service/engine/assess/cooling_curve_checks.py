"""Whether a cooling curve can be believed, and whether the metal is what it should be."""

from typing import TypeAlias

from ..checks import Check, check_kind
from ..ledger import Say
from .cooling_curve import Z95, Arrest

Parts: TypeAlias = dict[str, tuple[float, str] | str]

FEWEST = 40.0
"""Readings between liquidus and solid below which a curve is called coarse; common practice."""

FINE_ENOUGH = check_kind(
    "log-fine-enough",
    "There are enough readings while the metal freezes",
    kind="count",
    sense="at least",
    source="COMMON-PRACTICE",
    else_="warn",
)
AS_ALLOY = check_kind(
    "liquidus-as-alloy",
    "The liquidus is that of the alloy it should be",
    kind="temperature_difference",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
READS_TRUE = check_kind(
    "thermocouple-reads-true",
    "The eutectic is found at the temperature at which it is",
    kind="temperature_difference",
    sense="at most",
    source="COST507",
    else_="warn",
)


def check_fine_enough(readings: float) -> Check:
    """Judge how many readings there are between liquidus and solid."""
    parts: Parts = {"n": (round(readings), "count"), "m": (FEWEST, "count")}
    return FINE_ENOUGH.judge(
        readings,
        FEWEST,
        subject="/times",
        ok=Say("There are {n} readings while it freezes.", **parts),
        bad=Say("Log more often: {n} readings while it freezes tell arrests poorly; have {m}.", **parts),
    )


def check_as_alloy(found: Arrest, liquidus: float, alloy: str, spread: float) -> Check:
    """Judge the liquidus read against the alloy's (K); ``spread`` (K) is what is allowed beside the
    reading's own uncertainty."""
    off = abs(found.temperature - liquidus)
    parts: Parts = {
        "t": (found.temperature, "temperature"),
        "l": (liquidus, "temperature"),
        "alloy": alloy,
        "d": (off, "temperature_difference"),
    }
    return AS_ALLOY.judge(
        off,
        Z95 * found.deviation + spread,
        subject="/alloy",
        ok=Say("It starts to freeze at {t}, as {alloy} does ({l}).", **parts),
        bad=Say(
            "Do not pour it as {alloy} before it is analysed: it starts to freeze at {t}, {d} off the {l} of "
            "that alloy. Something is missing or too much, or the thermocouple reads wrong.",
            **parts,
        ),
    )


def check_reads_true(found: Arrest, eutectic: float, allowed: float) -> Check:
    """Judge the rest at a eutectic (K) whose temperature is known; ``allowed`` (K)."""
    off = abs(found.temperature - eutectic)
    parts: Parts = {
        "t": (found.temperature, "temperature"),
        "e": (eutectic, "temperature"),
        "d": (off, "temperature_difference"),
    }
    return READS_TRUE.judge(
        off,
        allowed,
        subject="/thermocouple_error",
        ok=Say("The eutectic rests at {t}; it is at {e}: the thermocouple reads true.", **parts),
        bad=Say(
            "Test the thermocouple in a pure metal: the eutectic rests at {t}, {d} off the {e} at which it "
            "is. If it is right, the metal is not of these two elements alone.",
            **parts,
        ),
    )
