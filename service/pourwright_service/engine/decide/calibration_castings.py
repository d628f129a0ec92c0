"""What castings tell: the mould constant from freezing times, the feeding efficiency from drained
risers, the contraction from lengths. Fills gaps, reports them, and hands readings to assess."""

import math
from dataclasses import replace

from ..assess.calibration import EstimateInputs, Reading, middle_of
from ..assess.freezing import Body, Cooling, cooling_of, plane_constant
from ..formula import paused, step
from ..formulas import calibration as formulas
from ..geometry.sections import SectionFault
from ..ledger import Ledger, MissingValue
from .calibration_case import CalibrationCase, LengthReading, RiserReading, TrialReading
from .freezing import TrialCase, trial_body
from .heat import Heat, HeatCase, heat_of
from .metal import Metal
from .riser_inputs import EFFICIENCY, SLEEVE_EFFICIENCY

TIME_SPREAD, MODULUS_SPREAD = 0.10, 0.02
"""How far the end of freezing and the modulus of a trial casting may be off; common practice."""

CONSTANT_SPREAD, CONSTANT_SCATTER = 0.30, 0.10
"""Published mould constants of iron and steel in sand differ by 33 %; one shop's castings by less."""

EFFICIENCY_SPREAD, SLEEVE_SPREAD, EFFICIENCY_SCATTER = 0.30, 0.50, 0.20
"""Of plain risers, from memory; sleeves are told as 20 to 45 %."""

BY_DEPTH, BY_VOLUME = 0.15, 0.05
"""How far a drained share may be off, by a depth gauge and by filling the hollow with water or sand."""

FULLNESS = {"cone": 1.0 / 3.0, "bowl": 0.5, "flat": 1.0}
"""Share of the cylinder round it that the hollow takes."""

LENGTH_SPREAD, CONTRACTION_SPREAD, CONTRACTION_SCATTER = 0.0003, 0.003, 0.001
"""m for a calliper on a sand face; points of contraction by which reports for one metal differ, and by
which lengths of one casting do."""


def _spread(
    ledger: Ledger,
    pointer: str,
    given: float | None,
    default: float,
    note: str,
    *,
    kind: str = "fraction",
    provenance: str = "common practice",
    source: str = "COMMON-PRACTICE",
) -> float:
    return ledger.use(pointer, given, default, kind, provenance=provenance, source=source, note=note)


# --- mould constant ----------------------------------------------------------------------------


def constant_inputs(case: CalibrationCase, metal: Metal, ledger: Ledger) -> tuple[EstimateInputs, str] | None:
    """What the mould constant is estimated from, on its logarithm, and the method (``bare``,
    ``curvature``). None without trials."""
    if not case.trials:
        return None
    bodies = [_body(trial, f"/trials/{place}", ledger) for place, trial in enumerate(case.trials)]
    heat = _heat(case, metal, bodies, ledger)
    cooling = cooling_of(heat.inputs) if heat else None
    tables = case.mould_constant is None
    readings = []
    flat = Cooling(mould_constant=1.0)
    for place, (trial, body) in enumerate(zip(case.trials, bodies, strict=True)):
        where, name = f"/trials/{place}", _name(trial.name, "trial", place)
        with step("trial", name):
            constant = plane_constant(cooling or flat, body, trial.freezing_time)
            readings.append(
                Reading(
                    value=math.log(constant),
                    deviation=_trial_deviation(trial, where, ledger),
                    pointer=where,
                    name=name,
                )
            )
    prior = None
    if heat is not None and cooling is not None:
        given = case.spreads.mould_constant
        spread = _constant_spread(heat, metal, cooling) if tables else CONSTANT_SPREAD
        used = _spread(
            ledger,
            "/spreads/mould_constant",
            given,
            spread,
            "from the spreads of the mould's and the metal's figures"
            if tables
            else "published mould constants for one pair of metal and sand differ by as much",
            provenance="estimated",
            source="ESTIMATED-BY-RULE",
        )
        prior = (math.log(cooling.mould_constant), formulas.log_deviation(used))
    scatter = _spread(
        ledger,
        "/scatter/mould_constant",
        case.scatter.mould_constant,
        CONSTANT_SCATTER,
        "from one mould to the next: ramming, moisture, heat of the metal",
    )
    inputs = EstimateInputs(
        name="mould constant",
        readings=tuple(readings),
        prior=prior,
        scatter=formulas.log_deviation(scatter),
    )
    return inputs, "curvature" if cooling is not None and cooling.curved else "bare"


def _trial_deviation(trial: TrialReading, where: str, ledger: Ledger) -> float:
    time = _spread(
        ledger,
        f"{where}/time_spread",
        trial.time_spread,
        TIME_SPREAD,
        "when a casting is solid is hard to see",
    )
    modulus = _spread(
        ledger, f"{where}/modulus_spread", trial.modulus_spread, MODULUS_SPREAD, "sizes as cast"
    )
    return formulas.constant_deviation(formulas.log_deviation(time), formulas.log_deviation(modulus))


def _body(trial: TrialReading, where: str, ledger: Ledger) -> Body:
    """The trial casting as the mould saw it; one known by its modulus counts as flat."""
    if trial.section is None:
        return Body(name="trial", volume=trial.modulus or 0.0, cooling_area=1.0, curvature=0.0)
    told = TrialCase(section=trial.section, freezing_time=trial.freezing_time)
    try:
        found = trial_body(told, ledger.seen_from(trial=where))
    except SectionFault as error:
        inside = "/trial/section/0"
        raise SectionFault(
            tuple(
                replace(fault, pointer=f"{where}/section{fault.pointer.removeprefix(inside)}")
                for fault in error.faults
            )
        ) from None
    return found[0] if found else Body(name="trial", volume=0.0, cooling_area=1.0, curvature=0.0)


def _heat(case: CalibrationCase, metal: Metal, bodies: list[Body], ledger: Ledger) -> Heat | None:
    """How the trials cooled, as the tables or the caller have it; None where nobody can tell."""
    told = case.mould.says_anything() and (metal.id is not None or metal.given_any)
    if case.mould_constant is None and not told:
        return None
    thickness = 2.0 * min(body.volume / body.cooling_area for body in bodies if body.cooling_area > 0.0)
    with paused():
        try:
            return heat_of(
                HeatCase(
                    mould=case.mould,
                    mould_constant=case.mould_constant,
                    pouring_temperature=case.pouring_temperature,
                    temperature_fall=case.temperature_fall,
                    curvature=case.curvature,
                ),
                metal,
                thickness,
                ledger,
            )
        except MissingValue:
            return None


def _constant_spread(heat: Heat, metal: Metal, cooling: Cooling) -> float:
    """Half-width of a mould constant from properties: C goes with 1/(k rho c) and with H squared."""
    medium = heat.medium
    spreads = [medium.spread(name) for name in ("conductivity", "density", "specific_heat")] if medium else []
    parts = [formulas.log_deviation(spread) for spread in spreads if spread]
    latent, spread = metal.get("latent_heat"), metal.spread("latent_heat")
    if latent is not None and spread and cooling.heat:
        parts.append(2.0 * latent / cooling.heat * formulas.log_deviation(spread))
    return formulas.half_width(math.hypot(*parts)) if parts else CONSTANT_SPREAD


# --- feeding efficiency ------------------------------------------------------------------------


def efficiency_inputs(
    case: CalibrationCase, ledger: Ledger
) -> tuple[EstimateInputs | None, list[tuple[float, str, str]]]:
    """What the feeding efficiency is estimated from, on its logarithm, and of risers that had metal
    left: what they gave, their name and their place. None where no riser was drained."""
    readings, least = [], []
    for place, riser in enumerate(case.risers):
        where, name = f"/risers/{place}", _name(riser.name, "riser", place)
        with step("riser", name):
            share = formulas.drained_share(_piped(riser, where, ledger), _poured(riser))
        left = ledger.use(
            f"{where}/had_metal_left",
            riser.had_metal_left,
            False,
            "flag",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="taken as drained as far as it could be: the safe side, for it asks for larger risers",
        )
        if left:
            least.append((share, name, where))
            continue
        measured = BY_DEPTH if riser.piped_volume is None else BY_VOLUME
        spread = _spread(ledger, f"{where}/spread", riser.spread, measured, "of the drained share")
        readings.append(
            Reading(value=math.log(share), deviation=formulas.log_deviation(spread), pointer=where, name=name)
        )
    if not readings:
        return None, least
    sleeved = bool(case.riser.sleeved)
    efficiency = ledger.use(
        "/riser/feeding_efficiency",
        case.riser.feeding_efficiency,
        SLEEVE_EFFICIENCY if sleeved else EFFICIENCY[case.riser.shape or "cylinder"],
        "fraction",
        provenance="from memory",
        source="RISER-EFFICIENCY",
    )
    spread = _spread(
        ledger,
        "/spreads/feeding_efficiency",
        case.spreads.feeding_efficiency,
        SLEEVE_SPREAD if sleeved else EFFICIENCY_SPREAD,
        "of what is told of such risers",
        provenance="from memory",
        source="RISER-EFFICIENCY",
    )
    scatter = _spread(
        ledger,
        "/scatter/feeding_efficiency",
        case.scatter.feeding_efficiency,
        EFFICIENCY_SCATTER,
        "from one riser to the next",
    )
    inputs = EstimateInputs(
        name="feeding efficiency",
        readings=tuple(readings),
        prior=(math.log(efficiency), formulas.log_deviation(spread)),
        scatter=formulas.log_deviation(scatter),
        ceiling=0.0,
    )
    return inputs, least


def _poured(riser: RiserReading) -> float:
    """The riser's volume (m^3): given, or a cylinder's."""
    if riser.volume is not None:
        return riser.volume
    return formulas.pipe_volume(1.0, riser.diameter or 0.0, riser.height or 0.0)


def _piped(riser: RiserReading, where: str, ledger: Ledger) -> float:
    """Volume of the hollow (m^3): measured, or from its depth and mouth."""
    if riser.piped_volume is not None:
        return riser.piped_volume
    shape = ledger.use(
        f"{where}/pipe_shape",
        riser.pipe_shape,
        "cone",
        "text",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="fill the hollow with water or dry sand to be sure (piped_volume)",
    )
    mouth = riser.pipe_diameter
    if mouth is None:
        mouth = ledger.use(
            f"{where}/pipe_diameter",
            None,
            riser.diameter or 0.0,
            "length",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="the hollow is as wide as the riser",
        )
    return formulas.pipe_volume(FULLNESS[shape], mouth, riser.pipe_depth or 0.0)


# --- contraction -------------------------------------------------------------------------------


def contraction_inputs(case: CalibrationCase, metal: Metal, ledger: Ledger) -> EstimateInputs | None:
    """What the contraction is estimated from; None without lengths."""
    if not case.lengths:
        return None
    readings = []
    for place, length in enumerate(case.lengths):
        where, name = f"/lengths/{place}", _name(length.name, "length", place)
        with step("length", name):
            readings.append(_length_reading(length, where, name, ledger))
    expected = metal.get("contraction")
    relative, prior = metal.spread("contraction"), None
    if expected is not None:
        spread = _spread(
            ledger,
            "/spreads/contraction",
            case.spreads.contraction,
            abs(expected) * relative if relative else CONTRACTION_SPREAD,
            "points; reports for one metal differ by as much, and cores and long ribs hold castings back",
            provenance="estimated",
            source="ESTIMATED-BY-RULE",
        )
        prior = middle_of(expected - spread, expected + spread)
    scatter = _spread(
        ledger,
        "/scatter/contraction",
        case.scatter.contraction,
        CONTRACTION_SCATTER,
        "points, from one length to the next",
    )
    return EstimateInputs(
        name="contraction",
        readings=tuple(readings),
        prior=prior,
        scatter=middle_of(-scatter, scatter)[1],
    )


def _length_reading(length: LengthReading, where: str, name: str, ledger: Ledger) -> Reading:
    off = _spread(
        ledger,
        f"{where}/length_spread",
        length.length_spread,
        LENGTH_SPREAD,
        "of either length",
        kind="length",
    )
    deviation = middle_of(-off, off)[1]
    return Reading(
        value=formulas.contraction_from_lengths(length.pattern, length.casting),
        deviation=formulas.contraction_deviation(length.pattern, length.casting, deviation),
        pointer=where,
        name=name,
    )


def _name(given: str | None, kind: str, place: int) -> str:
    """What to call one reading."""
    return given or f"{kind} {place + 1}"
