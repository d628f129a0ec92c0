"""Where a casting's cooling comes from: a given constant, a trial casting, or properties.

Shared by freezing, riser, pour time and plan. Looks values up, reports every default, and hands
plain floats to assess.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..assess.freezing import Body, HeatInputs, MetalHeat, MouldHeat, cooling_of, plane_constant
from ..assess.freezing_checks import check_chill_face, check_superheat, check_too_hot
from ..checks import Check
from ..formula import paused
from ..formulas.freezing import mould_constant_from_trial, section_modulus
from ..formulas.pour_time import pouring_temperature_for_thickness
from ..ledger import Ledger, MissingValue, Say
from .metal import Medium, Metal, medium_of

CURVED_FAMILIES = ("aluminium", "copper", "zinc")
"""Metals for which the correction for curved surfaces was found to hold; in iron the heat stored
in the solid cancels it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldCase:
    """The mould as the caller describes it; properties given win over the medium's (SI)."""

    medium: str | None = None
    conductivity: float | None = None
    density: float | None = None
    specific_heat: float | None = None
    start_temperature: float | None = None

    def given(self) -> Mapping[str, float | None]:
        """The properties that the caller gave."""
        return {
            "conductivity": self.conductivity,
            "density": self.density,
            "specific_heat": self.specific_heat,
            "start_temperature": self.start_temperature,
        }

    def says_anything(self) -> bool:
        """Whether there is enough to look a mould up."""
        return self.medium is not None or any(value is not None for value in self.given().values())


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatCase:
    """What a request may say about cooling.

    ``trial`` is a trial casting as the mould saw it, and the time (s) in which it froze.
    """

    mould: MouldCase = field(default_factory=MouldCase)
    mould_constant: float | None = None
    trial: tuple[Body, float] | None = None
    pouring_temperature: float | None = None
    temperature_fall: float | None = None
    curvature: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Heat:
    """Inputs for assess, how the constant came about (``given``, ``trial``, ``properties``), and doubts."""

    inputs: HeatInputs
    constant_from: str
    pouring_temperature: float | None
    medium: Medium | None
    checks: tuple[Check, ...] = ()


def heat_of(case: HeatCase, metal: Metal, thickness: float | None, ledger: Ledger) -> Heat:
    """Resolve how the casting cools. ``thickness`` (m) sets a pouring temperature nobody gave.

    Raises MissingValue where neither a constant nor the properties can be had.
    """
    medium = medium_of(case.mould.medium, case.mould.given(), ledger) if case.mould.says_anything() else None
    calibrated = case.mould_constant is not None or case.trial is not None
    if calibrated and case.curvature is not True and not _known(metal, medium):
        constant, origin = _bare_constant(case)
        return Heat(
            inputs=HeatInputs(
                mould_constant=constant, metal=None, mould=None, filled_temperature=None, curved=False
            ),
            constant_from=origin,
            pouring_temperature=case.pouring_temperature,
            medium=None,
        )
    if medium is None:
        raise MissingValue(
            ledger.lack(
                "/mould/medium",
                Say(
                    "How fast the casting freezes depends on the mould: say what it is made of "
                    "(mould.medium), or give a mould_constant from a trial of your own."
                ),
            )
        )
    metal_heat = _metal_heat(metal)
    pouring = pouring_temperature_of(case, metal, thickness, ledger)
    filled = pouring - _fall(case, ledger)
    inputs = HeatInputs(
        mould_constant=case.mould_constant,
        metal=metal_heat,
        mould=_mould_heat(medium),
        filled_temperature=filled,
        curved=_curved(case.curvature, metal, ledger),
    )
    checks = [check_superheat(filled, metal_heat.liquidus)]
    if metal.id is not None:
        usual = metal.get("pouring_high")
        if usual is not None:
            checks.append(check_too_hot(pouring, usual))
    origin = "given"
    if case.mould_constant is None and case.trial is not None:
        with paused():
            cooling = cooling_of(inputs)
        inputs = replace(inputs, mould_constant=plane_constant(cooling, *case.trial))
        origin = "trial"
    elif case.mould_constant is None:
        checks += _face(metal, medium, ledger)
        origin = "properties"
    return Heat(
        inputs=inputs,
        constant_from=origin,
        pouring_temperature=pouring,
        medium=medium,
        checks=tuple(checks),
    )


_HEAT = (
    "density_liquid",
    "latent_heat",
    "specific_heat_liquid",
    "specific_heat_freezing",
    "liquidus",
    "solidus",
)


def _known(metal: Metal, medium: Medium | None) -> bool:
    """Whether metal and mould are known well enough for more than the bare rule."""
    if medium is None or not (metal.id or metal.given_any):
        return False
    return all(metal.get(name) is not None for name in _HEAT) and all(
        medium.get(name) is not None for name in ("conductivity", "density", "specific_heat")
    )


def _bare_constant(case: HeatCase) -> tuple[float | None, str]:
    """The constant as given, or from the trial as if it were flat, which is all that is known."""
    if case.mould_constant is not None or case.trial is None:
        return case.mould_constant, "given"
    body, time = case.trial
    return mould_constant_from_trial(time, section_modulus(body.volume, body.cooling_area)), "trial"


def _face(metal: Metal, medium: Medium, ledger: Ledger) -> list[Check]:
    """Whether this mould's face keeps its temperature against this metal."""
    solid = metal.get("conductivity"), metal.get("density"), metal.get("specific_heat")
    if solid[0] is not None and solid[1] is not None and solid[2] is not None:
        return [check_chill_face((solid[0], solid[1], solid[2]), _mould_heat(medium), medium.name)]
    if not medium.insulating:
        ledger.lack(
            "/properties/conductivity",
            Say(
                "{name} is a chill: whether these formulas hold depends on how well the solid metal "
                "conducts. Give its conductivity, density and specific_heat.",
                name=medium.name,
            ),
        )
    return []


def _metal_heat(metal: Metal) -> MetalHeat:
    why = Say("The freezing time follows from the metal's heat: name the alloy or give its properties.")
    return MetalHeat(
        density_liquid=metal.need("density_liquid", why),
        latent_heat=metal.need("latent_heat", why),
        specific_heat_liquid=metal.need("specific_heat_liquid", why),
        specific_heat_freezing=metal.need("specific_heat_freezing", why),
        liquidus=metal.need("liquidus", why),
        solidus=metal.need("solidus", why),
    )


def _mould_heat(medium: Medium) -> MouldHeat:
    why = Say("The freezing time follows from the mould's properties: name its medium or give them.")
    return MouldHeat(
        conductivity=medium.need("conductivity", why),
        density=medium.need("density", why),
        specific_heat=medium.need("specific_heat", why),
        start_temperature=medium.need("start_temperature", why),
    )


def _fall(case: HeatCase, ledger: Ledger) -> float:
    return ledger.use(
        "/temperature_fall",
        case.temperature_fall,
        0.0,
        "temperature_difference",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="fall from the crucible's lip to the full mould; 0 keeps the risers on the safe side",
    )


def filled_temperature_of(case: HeatCase, metal: Metal, thickness: float | None, ledger: Ledger) -> float:
    """The metal's temperature (K) when the mould is full; see :func:`pouring_temperature_of`."""
    pouring = pouring_temperature_of(case, metal, thickness, ledger)
    return pouring - _fall(case, ledger)


def pouring_temperature_of(case: HeatCase, metal: Metal, thickness: float | None, ledger: Ledger) -> float:
    """The pouring temperature (K): given, or by the casting's thickness within the alloy's range."""
    if case.pouring_temperature is not None:
        return case.pouring_temperature
    why = Say("Say how hot you pour (pouring_temperature), or name an alloy whose range is known.")
    low, high = metal.need("pouring_low", why), metal.need("pouring_high", why)
    if thickness is None:
        raise MissingValue(
            ledger.lack(
                "/pouring_temperature",
                Say("Say how hot you pour: without a thickness the range of the alloy leaves it open."),
            )
        )
    chosen = pouring_temperature_for_thickness(thickness=thickness, pouring_low=low, pouring_high=high)
    return ledger.use(
        "/pouring_temperature",
        None,
        chosen,
        "temperature",
        provenance="rule",
        source="COMMON-PRACTICE",
        note="by the thinnest section within the alloy's pouring range, hotter for thin walls",
    )


def _curved(asked: bool | None, metal: Metal, ledger: Ledger) -> bool:
    on = metal.family in CURVED_FAMILIES
    note = (
        "curved surfaces cool faster than flat ones; the correction holds for this metal"
        if on
        else "left off: in iron the heat stored in the solid cancels it, for other metals it is not verified"
    )
    return ledger.use("/curvature", asked, on, "flag", provenance="computed", source="DERIVED", note=note)
