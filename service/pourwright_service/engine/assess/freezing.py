"""Given a casting's sections, a metal and a mould: when does each section freeze, and in what order.

Only forward: no choices are made here. Numbers may be floats or NumPy arrays; the shape of the
casting (names, joins, which face is cored) is fixed.
"""

from dataclasses import dataclass
from heapq import heappop, heappush
from typing import Any

import numpy as np

from ..checks import Check, check_kind
from ..formula import paused, step
from ..formulas import core_heat, curvature, freezing
from ..ledger import Say
from .crossing import falls_to_zero

FEED_STEP = check_kind(
    "feed-step",
    "Each section on the way to the riser freezes later than the one before it",
    kind="ratio",
    sense="at least",
    source="RISER-STEPS",
    margin=True,
)

SHARPEST = 2.0
"""Greatest shape curvature that is put in: most of the heat then leaves by edges."""

_CORE_SHAPES = {
    # shape: (uptake, length in the Fourier number over the modulus)
    "slab": (core_heat.slab_uptake, 1.0),
    "cylinder": (core_heat.cylinder_uptake, 2.0),
    "sphere": (core_heat.sphere_uptake, 3.0),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalHeat:
    """What the metal gives up: kg/m^3, J/kg, J/(kg K), K."""

    density_liquid: float
    latent_heat: float
    specific_heat_liquid: float
    specific_heat_freezing: float
    liquidus: float
    solidus: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldHeat:
    """What the mould takes: W/(m K), kg/m^3, J/(kg K), K."""

    conductivity: float
    density: float
    specific_heat: float
    start_temperature: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatInputs:
    """Either a mould constant (s/m^2), or the properties of metal and mould, or both.

    ``filled_temperature`` (K) is the metal's when the mould is full. ``curved`` asks for the
    correction for curved surfaces, which needs the properties.
    """

    mould_constant: float | None
    metal: MetalHeat | None
    mould: MouldHeat | None
    filled_temperature: float | None
    curved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Cooling:
    """How this metal in this mould cools: s/m^2, and for curved surfaces lambda and m^2/s."""

    mould_constant: float
    heat: float | None = None
    freezing_temperature: float | None = None
    heat_ratio: float | None = None
    diffusivity: float | None = None
    curved: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CoredFace:
    """Surface of a section that touches one core (m^2); the core's modulus in m, None if not known."""

    area: float
    shape: str
    modulus: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """One section as the mould sees it: m^3, m^2, K in m, and the cores that it touches."""

    name: str
    volume: float
    cooling_area: float
    curvature: float
    cores: tuple[CoredFace, ...] = ()
    pointer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frozen:
    """When one section freezes: moduli in m, times in s, g without unit.

    ``core_factor`` is how well its cored faces cool compared with the mould, by the mean of their
    area (None: no core that can be reckoned with).
    """

    body: Body
    modulus: float
    shape_curvature: float
    bare_time: float
    time: float
    core_factor: float | None


def cooling_of(inputs: HeatInputs) -> Cooling:
    """Mould constant and, where properties are known, what curved surfaces and cores need."""
    metal, mould, filled = inputs.metal, inputs.mould, inputs.filled_temperature
    if metal is None or mould is None or filled is None:
        if inputs.mould_constant is None:
            raise ValueError("neither a mould constant nor properties")
        return Cooling(mould_constant=inputs.mould_constant)
    heat = freezing.heat_to_freeze(
        metal.specific_heat_liquid,
        filled,
        metal.liquidus,
        metal.latent_heat,
        metal.specific_heat_freezing,
        metal.solidus,
    )
    at = freezing.freezing_temperature(metal.solidus, metal.liquidus)
    constant = inputs.mould_constant
    if constant is None:
        constant = freezing.mould_constant(
            metal.density_liquid,
            heat,
            at,
            mould.start_temperature,
            mould.conductivity,
            mould.density,
            mould.specific_heat,
        )
    ratio = freezing.mould_heat_ratio(
        at, mould.start_temperature, mould.density, mould.specific_heat, metal.density_liquid, heat
    )
    alpha = freezing.diffusivity(mould.conductivity, mould.density, mould.specific_heat)
    return Cooling(
        mould_constant=constant,
        heat=heat,
        freezing_temperature=at,
        heat_ratio=ratio,
        diffusivity=alpha,
        curved=inputs.curved,
    )


def time_to_freeze(cooling: Cooling, modulus: float, shape: float) -> float:
    """Freezing time (s) of a section of this modulus (m) and shape curvature g.

    A g beyond what two terms can tell is held there; see :func:`held`.
    """
    if not cooling.curved or cooling.heat_ratio is None:
        return freezing.bare_freezing_time(cooling.mould_constant, modulus)
    beta = curvature.freezing_number(cooling.heat_ratio, held(cooling.heat_ratio, shape))
    return curvature.curved_freezing_time(cooling.mould_constant, modulus, cooling.heat_ratio, beta)


def held(heat_ratio: float, shape: float) -> float:
    """The shape curvature that is put in for g: g itself unless it is too hollow or too sharp."""
    if np.ndim(shape) == 0 and 0.0 <= shape <= SHARPEST:
        return shape
    with paused():
        low = np.maximum(curvature.hollowest_curvature(heat_ratio), -0.3)
    return plain(np.clip(shape, low, SHARPEST))


def plain(value: Any) -> Any:
    """A float for what NumPy made of floats; arrays stay as they are."""
    return value if np.ndim(value) else float(value)


def plane_constant(cooling: Cooling, body: Body, time: float) -> float:
    """Mould constant (s/m^2) for flat surfaces, from a trial body that froze in this time (s)."""
    modulus = freezing.section_modulus(body.volume, body.cooling_area)
    if cooling.curved and cooling.heat_ratio is not None:
        shape = curvature.shape_curvature(body.curvature, body.volume, body.cooling_area)
        beta = curvature.freezing_number(cooling.heat_ratio, held(cooling.heat_ratio, shape))
        modulus = curvature.plane_modulus(cooling.heat_ratio, modulus, beta)
    return freezing.mould_constant_from_trial(time, modulus)


def freeze(cooling: Cooling, body: Body) -> Frozen:
    """When one section freezes. A cored face counts for as much as its core can still take."""
    with step("section", body.name):
        cores = _reckoned(cooling, body)
        factors = _core_factors(cooling, body, cores) if cores else ()
        area = body.cooling_area + _drawing(cores, factors)
        modulus = freezing.section_modulus(body.volume, area)
        shape = curvature.shape_curvature(body.curvature, body.volume, area)
        time = time_to_freeze(cooling, modulus, shape)
        if cooling.curved:
            with paused():
                bare = freezing.bare_freezing_time(cooling.mould_constant, modulus)
        else:
            bare = time
    return Frozen(
        body=body,
        modulus=modulus,
        shape_curvature=shape,
        bare_time=bare,
        time=time,
        core_factor=_drawing(cores, factors) / sum(core.area for core in cores) if cores else None,
    )


SOAKED = 1e9
"""A Fourier number at which a core has long been hot all through."""

LONGEST = 30.0
"""For a section that only cores cool: logarithm of how many times longer than with perfect cores
it may take."""

SURPLUS = 1.02
"""Cores that alone must freeze a section can hold at least this many times the section's heat."""


def cores_suffice(cooling: Cooling, body: Body) -> bool:
    """Whether the section can freeze: it cools to the mould, or its cores can hold all its heat.

    Cores count only where their size and the mould's properties are known.
    """
    if body.cooling_area > 0.0:
        return True
    if cooling.heat_ratio is None:
        return False
    room = sum(core.area * core.modulus for core in body.cores if core.modulus is not None)
    return cooling.heat_ratio * room >= SURPLUS * body.volume


def _reckoned(cooling: Cooling, body: Body) -> tuple[CoredFace, ...]:
    """The cores whose uptake of heat can be told; none where the mould's properties are not known."""
    if cooling.diffusivity is None:
        return ()
    return tuple(core for core in body.cores if core.modulus is not None and np.any(core.area > 0.0))


def _drawing(cores: tuple[CoredFace, ...], factors: tuple[float, ...]) -> float:
    """Surface (m^2) of the mould that would draw as much heat as these cores do."""
    return sum(factor * core.area for core, factor in zip(cores, factors, strict=True))


def _core_factors(cooling: Cooling, body: Body, cores: tuple[CoredFace, ...]) -> tuple[float, ...]:
    """Factors on the cored faces at the time at which the section freezes.

    The section's time follows from the factors and they from the time. The map from time to
    time rises more slowly than the time itself, so there is one fixed point; it lies between the
    time with perfect cores (factor 1) and with none (factor 0), and is looked for on the
    logarithm. A section that only cores cool has no upper end of that kind; see
    :func:`cores_suffice`.
    """

    def factors(time: float) -> tuple[float, ...]:
        return tuple(_core_factor(cooling, core, time) for core in cores)

    def section_time(drawing: float) -> float:
        area = body.cooling_area + drawing
        shape = curvature.shape_curvature(body.curvature, body.volume, area)
        return time_to_freeze(cooling, freezing.section_modulus(body.volume, area), shape)

    def late(log_time: float) -> float:
        return np.log(section_time(_drawing(cores, factors(np.exp(log_time))))) - log_time

    with paused():
        low = np.log(section_time(_drawing(cores, (1.0,) * len(cores))))
        only_cores = np.all(body.cooling_area == 0.0)
        high = low + LONGEST if only_cores else np.log(section_time(0.0))
        time = np.exp(falls_to_zero(late, low, high))
    return factors(plain(time))


def _core_factor(cooling: Cooling, core: CoredFace, time: float) -> float:
    """How well one core's face cools beside the mould's, after this time (s)."""
    uptake, length = _CORE_SHAPES[core.shape]
    alpha, modulus = cooling.diffusivity, core.modulus
    if alpha is None or modulus is None:
        return 0.0
    load = core_heat.core_load(alpha, time, modulus)
    fourier = plain(np.minimum(core_heat.core_fourier(alpha, time, length * modulus), SOAKED))
    return core_heat.core_face_factor(uptake(fourier), load)


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedStep:
    """One step of the way that feed metal takes, from a section to its neighbour."""

    start: str
    end: str
    ratio: float


def feed_steps(
    frozen: dict[str, Frozen], joins: frozenset[tuple[str, str]], *targets: str
) -> tuple[FeedStep, ...]:
    """For every section the best first step towards one of ``targets`` (the sections under risers).

    The best way is the one whose smallest step is greatest; the walk starts at the targets and
    always takes on the section that can be reached with the greatest smallest step. Sections
    that no join connects to a target have no step. Ties go to the name first in order.
    """
    neighbours: dict[str, list[str]] = {name: [] for name in frozen}
    for a, b in joins:
        neighbours[a].append(b)
        neighbours[b].append(a)
    reached: dict[str, float] = {}
    steps: list[FeedStep] = []
    # Smallest step on the way, then this step, both the greatest first; then the names.
    firsts = [(-np.inf, -np.inf, target, "") for target in sorted(targets)]
    waiting: list[tuple[float, float, str, str]] = firsts
    while waiting:
        along, _, start, end = heappop(waiting)
        if start in reached:
            continue
        reached[start] = -along
        if end:
            ratio = freezing.feed_step(frozen[start].time, frozen[end].time)
            steps.append(FeedStep(start=start, end=end, ratio=ratio))
        with paused():
            for other in neighbours[start]:
                if other not in reached:
                    ratio = freezing.feed_step(frozen[other].time, frozen[start].time)
                    heappush(waiting, (-min(-along, ratio), -ratio, other, start))
    return tuple(steps)


FEEDS_WELL, FEEDS_AT_ALL = 1.1, 0.8
"""Steps at which a section feeds its neighbour well, and below which it cuts it off."""


def feeds(ratio: float) -> str:
    """What a step is worth: ``well``, ``doubtful`` or ``cut off``."""
    if ratio >= FEEDS_WELL:
        return "well"
    return "doubtful" if ratio >= FEEDS_AT_ALL else "cut off"


def check_feed_step(taken: FeedStep, pointer: str, *, under_riser: bool = False) -> Check:
    """Judge one step: at least 1.1 passes, 0.8 to 1.1 is doubtful, below that it is cut off.

    A step into a section ``under_riser`` is doubtful at worst: right under the riser that section
    stays open as long as the riser does, so where the riser stands decides, and sections do not
    tell that.
    """
    names = {"a": taken.start, "b": taken.end}
    if under_riser:
        return FEED_STEP.judge(
            taken.ratio,
            FEEDS_WELL,
            warn_limit=0.0,
            subject=pointer,
            ok=Say("{a} can draw metal from {b} while it freezes: {b} stays liquid longer.", **names),
            bad=Say(
                "{a} is fed through {b}, which freezes no later than it, but for the part right under the "
                "riser (step {s}, good is 1.1). Stand the riser over the join with {a}, no farther off than "
                "twice the thickness of {b}.",
                s=(taken.ratio, "ratio"),
                **names,
            ),
        )
    return FEED_STEP.judge(
        taken.ratio,
        FEEDS_WELL,
        warn_limit=FEEDS_AT_ALL,
        subject=pointer,
        ok=Say("{a} can draw metal from {b} while it freezes: {b} stays liquid longer.", **names),
        doubtful=Say(
            "{a} may be starved: {b}, which must feed it, freezes at about the same time "
            "(step {s}, good is 1.1). Taper it or put a fillet at the join.",
            s=(taken.ratio, "ratio"),
            **names,
        ),
        bad=Say(
            "{a} is an isolated heavy section: {b}, the only way for feed metal, freezes well before it "
            "(step {s}, needed 1.1). Give {a} its own riser, or thicken {b}.",
            s=(taken.ratio, "ratio"),
            **names,
        ),
    )
