"""May a freezing time be believed? Checks of the metal's heat, the mould's face and the surfaces."""

from ..checks import Check, check_kind
from ..formula import paused
from ..formulas import freezing
from ..ledger import Say
from .freezing import Cooling, Frozen, MouldHeat, held

CHILL_FACE = check_kind(
    "chill-face",
    "The mould's face stays near the freezing temperature, as the formulas suppose",
    kind="ratio",
    sense="at least",
    source="CARSLAW-JAEGER",
    else_="warn",
)
SUPERHEAT = check_kind(
    "superheat-at-filled",
    "The metal is still all liquid when the mould is full",
    kind="temperature_difference",
    sense="at least",
    source="COMMON-PRACTICE",
)
TOO_HOT = check_kind(
    "pouring-not-too-hot",
    "The metal is poured no hotter than is usual for the alloy",
    kind="temperature",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
CURVATURE_HELD = check_kind(
    "curvature-in-range",
    "The surface that cools is not too sharp or too hollow for the correction",
    kind="ratio",
    sense="at most",
    source="DERIVED",
    else_="warn",
)

CONTACT = 5.0
"""Least ratio of metal to mould, as :func:`.formulas.freezing.contact_ratio`, for a face that keeps
its temperature: within 2 to 5 % of the way down to the mould's own."""


def check_curvature(cooling: Cooling, frozen: Frozen, place: str = "") -> tuple[Check, ...]:
    """A doubt where a section's curvature is beyond what the correction can tell; else nothing.

    ``place`` is the pointer of the object that holds the sections.
    """
    if not cooling.curved or cooling.heat_ratio is None:
        return ()
    shape = frozen.shape_curvature
    kept = held(cooling.heat_ratio, shape)
    if shape == kept:
        return ()
    name = frozen.body.name
    if shape < kept:
        words = (
            "{name} cools almost only through a hollow, and the mould in it is soon hot all through: it "
            "freezes later than computed. Mark that face cored, with its core."
        )
    else:
        words = (
            "{name} cools almost only by its edges (g {g}; at most {n} is put in): when it freezes is "
            "decided by what it is joined to."
        )
    return (
        CURVATURE_HELD.judge(
            abs(shape),
            abs(kept),
            subject=place + frozen.body.pointer,
            ok=Say("The correction for curved surfaces holds for {name}.", name=name),
            bad=Say(words, name=name, g=(shape, "ratio"), n=(kept, "ratio")),
        ),
    )


def check_superheat(filled_temperature: float, liquidus: float) -> Check:
    """Whether the metal (K) is above its liquidus (K) when the mould is full."""
    with paused():
        left = freezing.superheat(filled_temperature, liquidus)
    parts: dict[str, tuple[float, str] | str] = {
        "t": (filled_temperature, "temperature"),
        "l": (liquidus, "temperature"),
    }
    return SUPERHEAT.judge(
        left,
        0.0,
        subject="/pouring_temperature",
        ok=Say("The metal is all liquid when the mould is full: {t}; it begins to freeze at {l}.", **parts),
        bad=Say(
            "The metal begins to freeze before the mould is full: {t}, and it is all liquid only above {l}. "
            "Pour hotter.",
            **parts,
        ),
    )


def check_chill_face(metal: tuple[float, float, float], mould: MouldHeat, name: str) -> Check:
    """Whether the mould conducts so much worse than the metal that its face keeps its temperature.

    ``metal`` is the solid's conductivity, density and specific heat, W/(m K), kg/m^3, J/(kg K).
    """
    ratio = freezing.contact_ratio(*metal, mould.conductivity, mould.density, mould.specific_heat)
    parts: dict[str, tuple[float, str] | str] = {
        "name": name,
        "p": (ratio, "ratio"),
        "n": (CONTACT, "ratio"),
    }
    return CHILL_FACE.judge(
        ratio,
        CONTACT,
        subject="/mould",
        ok=Say("The mould ({name}) conducts so much worse than the metal that its face stays hot.", **parts),
        bad=Say(
            "The mould ({name}) draws heat too well for these formulas (ratio {p}, at least {n} is needed): "
            "its face does not stay at the freezing temperature, and the gap between metal and mould "
            "counts. The casting freezes later than computed, perhaps many times later.",
            **parts,
        ),
    )


def check_too_hot(pouring: float, usual: float) -> Check:
    """Judge a pouring temperature (K) against the top of the alloy's usual range."""
    parts: dict[str, tuple[float, str] | str] = {
        "t": (pouring, "temperature"),
        "most": (usual, "temperature"),
    }
    return TOO_HOT.judge(
        pouring,
        usual,
        subject="/pouring_temperature",
        ok=Say("The metal is poured at {t}, no hotter than is usual ({most}).", **parts),
        bad=Say(
            "{t} is hotter than this alloy is usually poured ({most}): it takes up gas, burns into the sand "
            "and shrinks more. Pour it cooler, or make thin walls thicker.",
            **parts,
        ),
    )
