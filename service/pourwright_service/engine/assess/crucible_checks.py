"""Given a crucible as it is: whether it is sound, stands the heat and the fire, and can be lifted."""

from ..checks import Check, check_kind
from ..ledger import Say

CRUCIBLE_SOUND = check_kind(
    "crucible-sound",
    "The crucible has no crack and its glaze is whole",
    kind="ratio",
    sense="at least",
    source="COMMON-PRACTICE",
)
CRUCIBLE_RATED = check_kind(
    "crucible-rated",
    "The crucible is rated for the temperature of the metal",
    kind="temperature",
    sense="at most",
    source="COMMON-PRACTICE",
)
CRUCIBLE_SUITS_FURNACE = check_kind(
    "crucible-suits-furnace",
    "The crucible may be heated in this way",
    kind="ratio",
    sense="at least",
    source="COMMON-PRACTICE",
)
LIFT_BY_HAND = check_kind(
    "lift-by-hand",
    "Crucible, metal and tongs can be lifted as intended",
    kind="mass",
    sense="at most",
    source="COMMON-PRACTICE",
)
MELT_ENOUGH = check_kind(
    "melt-enough",
    "The melt is as much as the moulds take",
    kind="mass",
    sense="at least",
    source="DERIVED",
)
INGOTS_TAKE_REST = check_kind(
    "ingot-moulds-take-rest",
    "The ingot moulds take what is left in the pot",
    kind="volume",
    sense="at least",
    source="DERIVED",
)

SOUND = {"sound": 1.0, "glaze worn": 0.75, "unknown": 0.5, "cracked": 0.0}
"""Conditions of a crucible as numbers; below the half it fails."""

RING_TEST = (
    "Cold and empty, hang it on a finger or a rod and tap its rim with a piece of wood: a sound one rings, a "
    "cracked one gives a dull knock. Look for cracks, soft spots, thin walls and glaze eaten away"
)


def check_sound(condition: str, name: str, subject: str) -> Check:
    """Judge the crucible's condition, a key of :data:`SOUND`."""
    bad = Say(
        "Do not melt in {name}: a cracked crucible breaks when it is lifted full. Break it up so that nobody "
        "uses it again.",
        name=name,
    )
    doubtful = Say(
        f"Nobody has said whether {{name}} is sound. {RING_TEST}. In doubt do not use it.",
        name=name,
    )
    if condition == "glaze worn":
        doubtful = Say(
            f"The glaze of {{name}} is worn, so that its wall burns away and weakens. {RING_TEST}. Replace "
            "it soon.",
            name=name,
        )
    return CRUCIBLE_SOUND.judge(
        SOUND[condition],
        1.0,
        warn_limit=0.5,
        subject=subject,
        ok=Say("{name} is sound, as you say; ring it again before each day's melting.", name=name),
        bad=bad,
        doubtful=doubtful,
    )


NEAR_RATING = 50.0
"""K below its rating within which a crucible is warned of: the fire is hotter than the metal."""


def check_rated(hottest: float, rated_to: float, name: str, subject: str) -> Check:
    """Judge the hottest metal (K) by the crucible's rating (K)."""
    parts: dict[str, tuple[float, str] | str] = {
        "name": name,
        "t": (hottest, "temperature"),
        "r": (rated_to, "temperature"),
    }
    return CRUCIBLE_RATED.judge(
        hottest,
        rated_to - NEAR_RATING,
        warn_limit=rated_to,
        subject=subject,
        ok=Say("{name} stands {r}; the metal comes to {t}.", **parts),
        doubtful=Say(
            "{name} is close to its limit: it stands about {r}, the metal comes to {t}, its wall is hotter. "
            "Look up its maker's card, and do not overheat.",
            **parts,
        ),
        bad=Say("{name} does not stand the heat: the metal comes to {t}, and it is rated to {r}.", **parts),
    )


def check_suits(suits: bool | None, heating: str, name: str, subject: str) -> Check:
    """Judge whether a crucible may be heated so; None where nobody knows."""
    value = 0.5 if suits is None else 1.0 if suits else 0.0
    return CRUCIBLE_SUITS_FURNACE.judge(
        value,
        1.0,
        warn_limit=0.5,
        subject=subject,
        ok=Say("{name} may be heated by {how}.", name=name, how=heating),
        doubtful=Say(
            "Whether {name} may be heated by {how} depends on its make: the field may heat its wall unevenly "
            "and crack it. Ask its maker, and say so in rated_for.",
            name=name,
            how=heating,
        ),
        bad=Say("{name} is not made to be heated by {how}: use another crucible.", name=name, how=heating),
    )


def check_lift(lifted: float, limit: float, people: str, subject: str) -> Check:
    """Judge the whole mass lifted (kg) by what one or two people may hold at arm's length (kg)."""
    parts: dict[str, tuple[float, str] | str] = {
        "m": (lifted, "mass"),
        "limit": (limit, "mass"),
        "who": people,
    }
    return LIFT_BY_HAND.judge(
        lifted,
        limit,
        subject=subject,
        ok=Say("{m} hang in the tongs, and {who} may hold {limit} at arm's length.", **parts),
        bad=Say(
            "Too heavy: crucible, metal and tongs are {m}, and {who} should hold at most {limit} at arm's "
            "length over molten metal. Lift by two with a ring shank, by a hoist, or melt in several lots.",
            **parts,
        ),
    )


def check_enough(melt: float, poured: float) -> Check:
    """Judge whether a heat (kg) holds what the moulds take (kg)."""
    parts: dict[str, tuple[float, str] | str] = {"m": (melt, "mass"), "p": (poured, "mass")}
    return MELT_ENOUGH.judge(
        melt,
        poured,
        subject="/poured_mass",
        ok=Say("{m} are molten and {p} poured.", **parts),
        bad=Say("Too little metal: {m} are molten, and the moulds take {p}.", **parts),
    )


def check_ingots(room: float, left: float, subject: str) -> Check:
    """Judge the room in the ingot moulds (m^3) by the metal left (m^3)."""
    parts: dict[str, tuple[float, str] | str] = {"room": (room, "volume"), "left": (left, "volume")}
    return INGOTS_TAKE_REST.judge(
        room,
        left,
        subject=subject,
        ok=Say("The ingot moulds hold {room}, and {left} of metal is left.", **parts),
        bad=Say(
            "The ingot moulds are too few: they hold {room}, and {left} of metal is left. What freezes in "
            "the crucible cracks it.",
            **parts,
        ),
    )
