"""Whether a furnace melts the metal in the time there is."""

from ..checks import Check, check_kind
from ..ledger import Say
from .melt import LIKELY, MOST, Thrice

FURNACE_POWER = check_kind(
    "furnace-power",
    "The furnace is strong enough for the time wanted",
    kind="power",
    sense="at least",
    source="DERIVED",
    margin=True,
)
FURNACE_BIG_ENOUGH = check_kind(
    "furnace-big-enough",
    "The furnace melts a heat before its losses eat up the fire",
    kind="time",
    sense="at most",
    source="COMMON-PRACTICE",
    margin=True,
)

LONG, TOO_LONG = 2.0 * 3600.0, 6.0 * 3600.0
"""A first heat that takes longer than the first is slow, longer than the second hopeless (common practice):
a furnace so weak for its metal stands still where its walls lose what the fire gives."""


def check_power(power: float, wanted: Thrice, time: float) -> Check:
    """Judge the furnace's power (W) by what keeps the time wanted (s)."""
    parts: dict[str, tuple[float, str] | str] = {
        "p": (power, "power"),
        "likely": (wanted[LIKELY], "power"),
        "most": (wanted[MOST], "power"),
        "t": (time, "time"),
    }
    return FURNACE_POWER.judge(
        power,
        wanted[MOST],
        warn_limit=wanted[LIKELY],
        subject="/shop/furnace",
        ok=Say("{p} melt it within {t}, in a poor furnace too.", **parts),
        doubtful=Say(
            "{p} are likely to melt it within {t}, which takes {likely}; a poor furnace wants {most}.",
            **parts,
        ),
        bad=Say(
            "{p} do not melt it within {t}: it takes about {likely}, in a poor furnace {most}. Give it more "
            "time, or a stronger burner.",
            **parts,
        ),
    )


def check_time(first: Thrice) -> Check:
    """Judge the time of the first heat (s) where none is wanted."""
    parts: dict[str, tuple[float, str] | str] = {"t": (first[LIKELY], "time"), "long": (LONG, "time")}
    return FURNACE_BIG_ENOUGH.judge(
        first[LIKELY],
        LONG,
        warn_limit=TOO_LONG,
        subject="/shop/furnace",
        ok=Say("The furnace melts it in about {t}.", **parts),
        doubtful=Say(
            "The furnace is weak for so much metal: about {t}. Beyond {long} its walls lose so much that it "
            "may never come to heat, and the metal gasses and burns.",
            **parts,
        ),
        bad=Say(
            "The furnace is too small: it would take about {t}, and what its walls lose so long keeps it "
            "from ever coming to heat. Melt less at a time, or use a stronger burner.",
            **parts,
        ),
    )
