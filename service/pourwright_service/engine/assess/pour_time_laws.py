"""All published laws of pour time beside each other: what each says, and whether it speaks of this pour.

Only forward: no choices are made here.
"""

from collections.abc import Callable
from contextlib import nullcontext, suppress
from dataclasses import dataclass

from ..bounds import OutOfRange
from ..formula import FORMULAS, paused, step
from ..formulas import pour_time as formulas
from ..formulas import pour_time_laws as others
from ..ledger import Say
from .pour_time_window import COPPER, IRON, LIGHT, PourTimeInputs

Times = tuple[float, float | None] | None
"""A law's time (s), with a second where its factor is printed as a range; None: it cannot be told."""

DUCTILE = (2.5, 3.5)
BY_GATE = (1.30, 1.80)
"""Factors from memory for copper alloys: filled from the top, and from the bottom."""

HEAVY_IRON, STEPS = "cube root and wall, above 450 kg", "rate, in printed steps"
DUCTILE_IRON, STEEL = "cube root, ductile iron", "steel"
INTRICATE, COPPER_BY_GATE = "cube root, thin and intricate", "cube root, by place of the gate"


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedLaw:
    """One law: times in s, ``why`` it does not apply, or why it is only shown; None: nothing to say."""

    law: str
    expression: str
    time: float | None
    time_high: float | None
    applies: bool
    used: bool
    why: Say | None
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Law:
    """How a law is told: for which families, of which mass (kg) and wall (m), and by which formula."""

    name: str
    formula: str
    families: tuple[str, ...]
    metals: str
    times: Callable[[PourTimeInputs], Times]
    groups: tuple[str, ...] | None = None
    mass: tuple[float, float] = (0.0, float("inf"))
    wall: tuple[float, float] = (0.0, float("inf"))
    only_shown: str = ""


def published_laws(inputs: PourTimeInputs) -> tuple[PublishedLaw, ...]:
    """Every published law with its time for this pour; those that the recommendation is made of first."""
    told = [_told(law, inputs) for law in LAWS]
    return tuple(sorted(told, key=lambda law: (not law.used, not law.applies)))


def _told(law: _Law, inputs: PourTimeInputs) -> PublishedLaw:
    known = FORMULAS[law.formula]
    used = law.name in inputs.laws and not (law.name == LIGHT and inputs.rate_factor is not None)
    used = used or (law.name == STEPS and LIGHT in inputs.laws and inputs.rate_factor is not None)
    why = _why_not(law, inputs)
    times: Times = None
    # What the recommendation is made of stands in the working already, what does not apply need not.
    told = nullcontext() if why is None and not used else paused()
    with suppress(OutOfRange), told, step("law", law.name):
        times = law.times(inputs)
    if why is None and times is None:
        why = Say("it needs a wall or a factor that is not known here, or is far outside its numbers")
    applies = why is None
    if applies and not used and law.only_shown:
        why = Say(f"shown only: {law.only_shown}")
    time, high = times or (None, None)
    return PublishedLaw(
        law=law.name,
        expression=known.expression,
        time=time,
        time_high=high,
        applies=applies,
        used=used and time is not None,
        why=why,
        source=known.source,
    )


def _why_not(law: _Law, inputs: PourTimeInputs) -> Say | None:
    """Why a law does not speak of this pour; None where it does."""
    if inputs.family not in law.families:
        return Say(f"printed for {law.metals}")
    if law.groups is not None and inputs.group not in law.groups:
        return Say(f"printed for {law.metals}")
    if inputs.mass is None:
        return Say("the mass is not known")
    low, high = law.mass
    if not low < inputs.mass <= high:
        side, end = ("above", low) if inputs.mass <= low else ("up to", high)
        return Say(f"printed for pours {side} {{end}}", end=(end, "mass"))
    thin, thick = law.wall
    if (thin, thick) == (0.0, float("inf")):
        return None
    if inputs.thickness is None:
        return Say("the wall is not known")
    if not thin <= inputs.thickness <= thick:
        return Say("printed for walls of {thin} to {thick}", thin=(thin, "length"), thick=(thick, "length"))
    return None


def _iron(inputs: PourTimeInputs) -> Times:
    if inputs.mass is None or inputs.thickness is None:
        return None
    return formulas.iron_pour_time(inputs.fluidity_factor, inputs.thickness, inputs.mass), None


def _heavy_iron(inputs: PourTimeInputs) -> Times:
    if inputs.mass is None or inputs.thickness is None:
        return None
    return others.heavy_iron_pour_time(inputs.fluidity_factor, inputs.thickness, inputs.mass), None


def _ductile(inputs: PourTimeInputs) -> Times:
    if inputs.mass is None:
        return None
    low, high = (others.ductile_iron_pour_time(factor, inputs.mass) for factor in DUCTILE)
    return low, high


def _copper(inputs: PourTimeInputs) -> Times:
    if inputs.mass is None or inputs.copper_factor is None:
        return None
    return formulas.copper_pour_time(inputs.copper_factor, inputs.mass), None


def _copper_by_gate(inputs: PourTimeInputs) -> Times:
    if inputs.mass is None:
        return None
    top, bottom = (formulas.copper_pour_time(factor, inputs.mass) for factor in BY_GATE)
    return top, bottom


def _light(inputs: PourTimeInputs) -> Times:
    if inputs.mass is None or inputs.thickness is None:
        return None
    factor = formulas.light_metal_factor(inputs.thickness)
    return formulas.light_metal_pour_time(factor, inputs.mass), None


def _steps(inputs: PourTimeInputs) -> Times:
    if inputs.mass is None:
        return None
    factor = inputs.rate_factor
    if factor is None:
        if inputs.thickness is None:
            return None
        factor = others.stepped_light_metal_factor(inputs.thickness)
    return formulas.light_metal_pour_time(factor, inputs.mass), None


def _intricate(inputs: PourTimeInputs) -> Times:
    if inputs.mass is None or inputs.thickness is None:
        return None
    return others.intricate_pour_time(others.intricate_factor(inputs.thickness), inputs.mass), None


def _steel(inputs: PourTimeInputs) -> Times:
    return None if inputs.mass is None else (others.steel_pour_time(inputs.mass), None)


LAWS = (
    _Law(
        name=IRON,
        formula="pour_time.iron_pour_time",
        families=("iron", "copper"),
        metals="iron and copper alloys",
        times=_iron,
        mass=(0.0, formulas.LARGEST_POUR),
    ),
    _Law(
        name=COPPER,
        formula="pour_time.copper_pour_time",
        families=("copper",),
        metals="copper alloys",
        times=_copper,
    ),
    _Law(
        name=LIGHT,
        formula="pour_time.light_metal_pour_time",
        families=("aluminium", "zinc"),
        metals="light metals (zinc by analogy)",
        times=_light,
        only_shown="you asked for a printed step instead",
    ),
    _Law(
        name=STEPS,
        formula="pour_time.light_metal_pour_time",
        families=("aluminium", "zinc"),
        metals="light metals (zinc by analogy)",
        times=_steps,
        only_shown="the smooth form of the same law is used, for the printed one jumps by 79 % at its steps",
    ),
    _Law(
        name=COPPER_BY_GATE,
        formula="pour_time.copper_pour_time",
        families=("copper",),
        metals="copper alloys",
        times=_copper_by_gate,
        only_shown="by the place of the gate alone, whatever the alloy: from the top, and from the bottom",
    ),
    _Law(
        name=DUCTILE_IRON,
        formula="pour_time_laws.ductile_iron_pour_time",
        families=("iron",),
        groups=("ductile iron",),
        metals="ductile iron",
        times=_ductile,
        only_shown="its factor is printed as a range, and the wall does not enter",
    ),
    _Law(
        name=INTRICATE,
        formula="pour_time_laws.intricate_pour_time",
        families=("iron",),
        metals="thin and intricate iron castings",
        times=_intricate,
        mass=(0.0, formulas.LARGEST_POUR),
        wall=(0.0015, 0.015),
        only_shown="for intricate castings, and from memory",
    ),
    _Law(
        name=HEAVY_IRON,
        formula="pour_time_laws.heavy_iron_pour_time",
        families=("iron",),
        metals="iron",
        times=_heavy_iron,
        mass=(formulas.LARGEST_POUR, float("inf")),
        only_shown="where it begins it gives a third of what the law for lighter pours gives there",
    ),
    _Law(
        name=STEEL,
        formula="pour_time_laws.steel_pour_time",
        families=("steel",),
        metals="steel",
        times=_steel,
        only_shown="from memory",
    ),
)
"""The laws, in the order in which they are told."""
