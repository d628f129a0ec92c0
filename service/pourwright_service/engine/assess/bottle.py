"""Given bottles of propane and what is drawn from them: how much is left, how long they stay warm enough.

Forward only. What a bottle gives is an interval: at its low end, little heat comes through the wall that
what is left at the end still wets, and that liquid alone gives its own heat; at its high end much comes
through the wall of the bottle as it stands at first, and all of its liquid and steel give theirs.
"""

from dataclasses import dataclass

import numpy as np

from ..checks import Check, check_kind
from ..formulas import bottle as formulas
from ..ledger import Say

BOTTLE_LASTS = check_kind(
    "bottle-lasts",
    "There is enough gas in the bottles for all heats",
    kind="mass",
    sense="at least",
    source="DERIVED",
    margin=True,
)
BOTTLE_VAPORISES = check_kind(
    "bottle-vaporises",
    "The bottles give their gas fast enough and do not grow too cold",
    kind="mass_flow",
    sense="at most",
    source="LP-GAS-DRAW-OFF",
    margin=True,
)

ATMOSPHERE = 101325.0
LEAST_LEFT = 0.02
"""kg in a bottle that count as empty: so little is not drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BottleInputs:
    """Bottles, all alike; SI. ``drawn`` kg in all over ``time`` s of burning; ``drawn_most`` with a poor
    efficiency. ``heat_transfer`` is (low, high); ``gas_pressure`` Pa above the air's."""

    contents: float
    count: int
    diameter: float
    shell_mass: float
    start_temperature: float
    gas_pressure: float
    heat_transfer: tuple[float, float]
    drawn: float
    drawn_most: float
    time: float | None
    density: float
    latent_heat: float
    boiling_point: float
    gas_constant: float
    specific_heat: float
    shell_specific_heat: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BottleAssessment:
    """One bottle: left (kg), coldest that still gives the pressure (K), draw-off (kg/s), what it gives for
    ever and over the time, each (low, high)."""

    contents: float
    left: float
    coldest: float
    draw_off: float | None
    lasting: tuple[float, float]
    over_time: tuple[float, float] | None
    cooling_constant: tuple[float, float]
    checks: tuple[Check, ...]


def assess_bottle(inputs: BottleInputs) -> BottleAssessment:
    """What the bottles can give, and whether that is enough."""
    each = inputs.drawn / inputs.count
    left = float(np.maximum(0.0, inputs.contents - each))
    coldest = formulas.boiling_temperature(
        inputs.boiling_point,
        inputs.gas_constant,
        1.0 + inputs.gas_pressure / ATMOSPHERE,
        inputs.latent_heat,
    )
    drop = float(np.maximum(0.0, inputs.start_temperature - coldest))
    lasting, constants = [], []
    least = float(np.maximum(left, LEAST_LEFT))
    ends = ((least, 0.0), (inputs.contents, inputs.shell_mass))
    for transfer, (liquid, shell) in zip(inputs.heat_transfer, ends, strict=True):
        area = formulas.wetted_area(liquid, inputs.density, inputs.diameter)
        lasting.append(formulas.lasting_draw_off(transfer, area, drop, inputs.latent_heat))
        constants.append(
            formulas.cooling_constant(
                liquid, inputs.specific_heat, shell, inputs.shell_specific_heat, transfer, area
            )
        )
    draw_off = over = None
    checks = [_lasts(inputs)]
    if inputs.time is not None:
        draw_off = each / inputs.time
        over = (
            formulas.draw_off_for(lasting[0], inputs.time, constants[0]),
            formulas.draw_off_for(lasting[1], inputs.time, constants[1]),
        )
        checks.append(_vaporises(inputs, draw_off, over, coldest))
    return BottleAssessment(
        contents=inputs.contents,
        left=left,
        coldest=coldest,
        draw_off=draw_off,
        lasting=(lasting[0], lasting[1]),
        over_time=over,
        cooling_constant=(constants[0], constants[1]),
        checks=tuple(checks),
    )


def _lasts(inputs: BottleInputs) -> Check:
    have = inputs.count * (inputs.contents - LEAST_LEFT)
    parts: dict[str, tuple[float, str] | str] = {
        "have": (inputs.count * inputs.contents, "mass"),
        "likely": (inputs.drawn, "mass"),
        "most": (inputs.drawn_most, "mass"),
    }
    return BOTTLE_LASTS.judge(
        have,
        inputs.drawn_most,
        warn_limit=inputs.drawn,
        subject="/shop/bottle",
        ok=Say("The gas lasts: {have} is there, {likely} is likely to be burnt.", **parts),
        doubtful=Say(
            "The gas may run out: {have} is there, {likely} is likely to be burnt, up to {most} in a poor "
            "furnace. Have another bottle at hand.",
            **parts,
        ),
        bad=Say(
            "The gas does not last: {have} is there and {likely} is likely to be burnt. Start with a full "
            "bottle, or have a second one coupled up.",
            **parts,
        ),
    )


def _vaporises(inputs: BottleInputs, draw_off: float, over: tuple[float, float], coldest: float) -> Check:
    parts: dict[str, tuple[float, str] | str] = {
        "r": (3600.0 * draw_off, "mass"),
        "low": (3600.0 * over[0], "mass"),
        "high": (3600.0 * over[1], "mass"),
        "t": (inputs.time or 0.0, "time"),
        "cold": (coldest, "temperature"),
    }
    return BOTTLE_VAPORISES.judge(
        draw_off,
        over[0],
        warn_limit=over[1],
        subject="/shop/bottle",
        ok=Say(
            "A bottle stays warm enough: {r} an hour is drawn, {low} to {high} can be had for {t}.", **parts
        ),
        doubtful=Say(
            "The bottle may grow too cold: {r} an hour is drawn from it, and {low} to {high} can be had for "
            "{t} before it is at {cold}, where the pressure is no longer enough.",
            **parts,
        ),
        bad=Say(
            "The bottle grows too cold: {r} an hour is drawn from it, and only {low} to {high} can be "
            "had for {t} before it is at {cold}, where the pressure is no longer enough. Couple up a second "
            "bottle, or use a larger or fuller one; never warm it with a flame.",
            **parts,
        ),
    )
