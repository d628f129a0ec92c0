"""What a riser is judged on: the caller's wishes, with every gap filled and reported."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..assess.freezing import Cooling
from ..assess.riser import RiserInputs
from ..formulas import riser as formulas
from ..formulas.freezing import superheat
from ..ledger import Ledger, MissingValue, Say
from .freezing import Order, Sections
from .metal import Metal

CRITERIA = ("time", "modulus", "volume")
"""What a riser is sized by unless the caller chooses."""

EFFICIENCY = {"cylinder": 0.14, "domed": 0.16, "ball": 0.14}
"""Share of itself that a riser can give, by shape; from memory."""

SLEEVE_EFFICIENCY = 0.30


@dataclass(frozen=True, slots=True, kw_only=True)
class SleeveCase:
    """An insulating sleeve: how many times it raises the riser's modulus."""

    modulus_ratio: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NeckCase:
    """The channel between a side riser and the casting (m)."""

    length: float | None = None
    thickness: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CastingCase:
    """A casting of which only the figures are known, no sections: m^3, m, s."""

    volume: float
    modulus: float | None = None
    freezing_time: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RiserShape:
    """What the caller wants of the riser; None leaves it to the engine."""

    position: str | None = None
    section: str | None = None
    face: str | None = None
    shape: str | None = None
    height_to_diameter: float | None = None
    diameter: float | None = None
    height: float | None = None
    faces: Mapping[str, str] = field(default_factory=dict)
    sleeve: SleeveCase | None = None
    neck: NeckCase | None = None
    feeding_efficiency: float | None = None
    time_ratio: float | None = None
    modulus_ratio: float | None = None
    criteria: tuple[str, ...] | None = None
    rounding_step: float | None = None


def riser_inputs(
    shape: RiserShape,
    cooling: Cooling,
    sections: Sections | None,
    casting: CastingCase | None,
    order: Order | None,
    metal: Metal,
    filled_temperature: float | None,
    ledger: Ledger,
) -> RiserInputs:
    """Resolve what the riser is judged on.

    A criterion that cannot be computed for want of a value is reported as missing and left out.
    """
    position = _text(ledger, "/riser/position", shape.position, "top")
    kind = _text(ledger, "/riser/shape", shape.shape, "cylinder")
    criteria = shape.criteria
    if criteria is None:
        criteria = ledger.use(
            "/riser/criteria",
            None,
            CRITERIA,
            "text",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="the largest riser of the three is taken",
        )
    stand, face, area, width = _stand(shape, position, kind, sections, order, ledger)
    shrinkage, spread = _shrinkage(metal, filled_temperature, "volume" in criteria, ledger)
    sleeve = shape.sleeve.modulus_ratio if shape.sleeve else 1.0
    efficiency = ledger.use(
        "/riser/feeding_efficiency",
        shape.feeding_efficiency,
        SLEEVE_EFFICIENCY if shape.sleeve else EFFICIENCY[kind],
        "fraction",
        provenance="from memory",
        source="RISER-EFFICIENCY",
        note="sleeves 20 to 45 %" if shape.sleeve else "",
    )
    neck_needed, neck_ratio = _neck(shape, position)
    contraction = metal.get("contraction")
    volume = sections.volume if sections else (casting.volume if casting else 0.0)
    return RiserInputs(
        cooling=cooling,
        bodies=sections.bodies if sections else (),
        casting_volume=volume,
        casting_modulus=casting.modulus if casting else None,
        casting_time=casting.freezing_time if casting else None,
        stands_on=stand,
        face=face,
        face_area=area,
        face_width=width,
        shrinkage=shrinkage,
        shrinkage_spread=spread,
        feeding_efficiency=efficiency,
        sleeve_ratio=sleeve,
        time_ratio=_number(ledger, "/riser/time_ratio", shape.time_ratio, 1.25, "RISER-TIME"),
        modulus_ratio=_number(ledger, "/riser/modulus_ratio", shape.modulus_ratio, 1.2, "RISER-STEPS"),
        shape=kind,
        position=position,
        cooling_ends=_cooling_ends(shape, kind, position, ledger),
        density=metal.get("density"),
        density_liquid=metal.get("density_liquid"),
        cavity_factor=1.0 if contraction is None else (1.0 + contraction) ** 3,
        neck_ratio=neck_ratio,
        neck_needed=neck_needed,
        criteria=tuple(name for name in criteria if name != "volume" or shrinkage is not None),
    )


def _text(ledger: Ledger, pointer: str, given: str | None, default: str) -> str:
    return ledger.use(pointer, given, default, "text", provenance="common practice", source="COMMON-PRACTICE")


def _number(ledger: Ledger, pointer: str, given: float | None, default: float, source: str) -> float:
    return ledger.use(pointer, given, default, "ratio", provenance="common practice", source=source)


def _stand(
    shape: RiserShape,
    position: str,
    kind: str,
    sections: Sections | None,
    order: Order | None,
    ledger: Ledger,
) -> tuple[str | None, str | None, float | None, float | None]:
    """Which section and face a top riser stands on, the flat area there and its width."""
    if position != "top" or sections is None or order is None or kind == "ball":
        return None, None, None, None
    section = _text(ledger, "/riser/section", shape.section, order.target)
    one = next((each for each in sections.measures if each.name == section), None)
    if one is None:
        raise MissingValue(
            ledger.lack(
                "/riser/section",
                Say("No section is called {name}: the riser must stand on one.", name=section),
            )
        )
    face = _text(ledger, "/riser/face", shape.face, "top")
    flat = next((each for each in one.faces if each.name == face and each.width is not None), None)
    if flat is None or flat.cooling_area <= 0.0:
        raise MissingValue(
            ledger.lack(
                "/riser/face",
                Say(
                    "{name} offers no flat {face} for a riser to stand on: choose another face "
                    "(riser.face) or section (riser.section), or a side riser (riser.position).",
                    name=section,
                    face=face,
                ),
            )
        )
    return section, face, flat.cooling_area, flat.width


def _shrinkage(
    metal: Metal, filled: float | None, wanted: bool, ledger: Ledger
) -> tuple[float | None, float | None]:
    """Shrinkage to feed, from the full mould on, and the half-width of b where it is estimated."""
    b = metal.get("solidification_shrinkage")
    if b is None:
        if wanted:
            ledger.lack(
                "/properties/solidification_shrinkage",
                Say(
                    "How much metal the riser must give depends on the metal's shrinkage on freezing: "
                    "name the alloy or give properties.solidification_shrinkage."
                ),
            )
        return None, None
    relative = metal.spread("solidification_shrinkage")
    spread = None if relative is None else abs(b) * relative
    contraction, liquidus = metal.get("liquid_contraction"), metal.get("liquidus")
    if filled is None or contraction is None or liquidus is None:
        return b, spread
    return formulas.fed_shrinkage(b, contraction, superheat(filled, liquidus)), spread


def _cooling_ends(shape: RiserShape, kind: str, position: str, ledger: Ledger) -> float:
    """How many flat ends of the riser lose heat; each is a switch."""
    default = {"top": "cooling", "bottom": "cooling" if position == "side" else "joined"}
    ends = 0.0
    for end in ("top", "bottom") if kind == "cylinder" else (("bottom",) if kind == "domed" else ()):
        state = _text(ledger, f"/riser/faces/{end}", shape.faces.get(end), default[end])
        ends += 1.0 if state == "cooling" else 0.0
    return ends


def _neck(shape: RiserShape, position: str) -> tuple[float | None, float | None]:
    """Least modulus ratio of the neck, and the ratio it is made to; None without a neck."""
    if shape.neck is None and position == "top":
        return None, None
    neck = shape.neck or NeckCase()
    short = neck.length is not None and neck.thickness is not None and neck.length < neck.thickness / 2
    if short:
        return 0.6, 0.75
    return 1.1, 1.1
