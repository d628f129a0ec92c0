"""What a riser is judged on: the caller's wishes, with every gap filled and reported."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..assess.freezing import Cooling
from ..assess.riser import RiserInputs
from ..assess.riser_checks import check_face
from ..checks import Check
from ..formulas import riser as formulas
from ..formulas.freezing import superheat
from ..geometry.sections import FaceMeasure, Fault, SectionFault, SectionMeasure
from ..ledger import Ledger, MissingValue, Say
from .freezing import Order, Sections
from .metal import Metal

CRITERIA = ("time", "modulus", "volume")
"""What a riser is sized by unless the caller chooses."""

EFFICIENCY = {"cylinder": 0.14, "domed": 0.16, "ball": 0.14}
"""Share of itself that a riser can give, by shape; from memory."""

SLEEVE_EFFICIENCY = 0.30

TIME_RATIO = 1.25
"""Freezing time of the riser over the casting's."""

MODULUS_RATIO, THROUGH_RATIO = 1.2, 1.4
"""Modulus of the riser over that of what it feeds: next to it, and through a lighter section."""


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
    """A casting by its figures: m^3, m, s. Beside sections they replace what follows from those."""

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
    least_metal: bool | None = None
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
    shrinkage_spread: float | None = None


class NoFace(Exception):
    """The faces that a riser could stand on must stay free; ``check`` says so, with what is left."""

    def __init__(self, check: Check) -> None:
        self.check = check
        super().__init__(check.bad.words)


def riser_inputs(
    shape: RiserShape,
    cooling: Cooling,
    sections: Sections | None,
    casting: CastingCase | None,
    order: Order | None,
    metal: Metal,
    filled_temperature: float | None,
    ledger: Ledger,
    *,
    volume: float | None = None,
    timed: bool = True,
    through: float = 0.0,
) -> RiserInputs:
    """Resolve what the riser is judged on; ``volume`` (m^3) is fed instead of that of the sections.

    ``through`` is the modulus of the heaviest section that is fed through a lighter one, over that of
    the last to freeze; 0 where there is none. ``timed`` is False where ``cooling`` only
    stands in and no time can be told. A criterion that cannot be computed for want of a value is
    reported as missing and left out. Raises MissingValue where none is left, NoFace where the faces
    must stay free, and SectionFault for faces that this riser has not.
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
    necked = shape.neck is not None or position == "side" or kind == "ball"
    b, fed, spread = _shrinkage(shape, metal, filled_temperature, "volume" in criteria, ledger)
    efficiency = ledger.use(
        "/riser/feeding_efficiency",
        shape.feeding_efficiency,
        SLEEVE_EFFICIENCY if shape.sleeve else EFFICIENCY[kind],
        "fraction",
        provenance="from memory",
        source="RISER-EFFICIENCY",
        note="sleeves 20 to 45 %" if shape.sleeve else "",
    )
    first = _first(shape, position, sections, order, ledger)
    face = _stand(shape, position, first, ledger)
    contraction = metal.get("contraction")
    if volume is None:
        volume = casting.volume if casting else sections.volume if sections else None
    if volume is None:
        raise MissingValue(
            ledger.lack("/sections", Say("Describe the casting: its sections, or its figures (casting)."))
        )
    neck = shape.neck or NeckCase()
    states = _end_states(shape, kind, necked, ledger)
    return RiserInputs(
        cooling=cooling,
        bodies=sections.bodies if sections else (),
        casting_volume=volume,
        casting_modulus=casting.modulus if casting else None,
        casting_time=casting.freezing_time if casting else None,
        stands_on=first.name if first and face else None,
        feeds_first=first.name if first else "",
        kept_off=_kept_off(first) if first else (),
        free_faces=_free(first) if first else (),
        face=face.name if face else None,
        face_area=face.cooling_area if face else None,
        face_edges=face.edge_curvature if face else 0.0,
        face_width=face.width if face else None,
        face_share=face.solid_share if face else 1.0,
        face_across=face.across if face else None,
        shrinkage=fed,
        freezing_shrinkage=b,
        shrinkage_spread=spread,
        shrinkage_given=b is not None and spread is None,
        iron=metal.family == "iron",
        feeding_efficiency=efficiency,
        sleeve_ratio=shape.sleeve.modulus_ratio if shape.sleeve else 1.0,
        time_ratio=_number(ledger, "/riser/time_ratio", shape.time_ratio, TIME_RATIO, "RISER-TIME"),
        modulus_ratio=_modulus_ratio(shape, order, through, ledger),
        shape=kind,
        position=position,
        cooling_ends=float(states.count("cooling")),
        foot_joined=states[-1:] == ["joined"] and not necked,
        density=metal.get("density"),
        density_liquid=metal.get("density_liquid"),
        cavity_factor=1.0 if contraction is None else (1.0 + contraction) ** 3,
        necked=necked,
        neck_length=neck.length,
        neck_thickness=neck.thickness,
        criteria=_criteria(criteria, sections, casting, fed, timed, ledger),
        unreached=_unreached(order),
    )


def _criteria(
    asked: tuple[str, ...],
    sections: Sections | None,
    casting: CastingCase | None,
    fed: float | None,
    timed: bool,
    ledger: Ledger,
) -> tuple[str, ...]:
    """The criteria that can be computed; what the others lack is noted."""
    modulus = sections is not None or (casting is not None and casting.modulus is not None)
    time = timed and (modulus or (casting is not None and casting.freezing_time is not None))
    can = {"modulus": modulus, "time": time, "volume": fed is not None}
    if not modulus and ("modulus" in asked or ("time" in asked and timed and not time)):
        ledger.lack(
            "/casting/modulus",
            Say("A riser must outlast the casting's heaviest part: give its modulus, or the sections."),
        )
    left = tuple(name for name in asked if can[name])
    if not left:
        first = next(iter(ledger.lacking.values()), None)
        raise MissingValue(first or ledger.lack("/riser/criteria", Say("No criterion is left to size by.")))
    return left


def _unreached(order: Order | None) -> tuple[str, ...]:
    """Sections from which no join leads to the one that the riser feeds."""
    if order is None:
        return ()
    reached = {order.target, *(step.start for step in order.steps)}
    return tuple(sorted(order.frozen.keys() - reached))


def _modulus_ratio(shape: RiserShape, order: Order | None, through: float, ledger: Ledger) -> float:
    """Modulus of the riser over the casting's: more where a heavy part is fed through another."""
    if order is not None and order.target != order.last:
        through = 1.0
    return ledger.use(
        "/riser/modulus_ratio",
        shape.modulus_ratio,
        max(MODULUS_RATIO, THROUGH_RATIO * through),
        "ratio",
        provenance="common practice",
        source="RISER-STEPS",
        note="a heavy section is fed through a lighter one" if through > 0.0 else "",
    )


def _text(ledger: Ledger, pointer: str, given: str | None, default: str) -> str:
    return ledger.use(pointer, given, default, "text", provenance="common practice", source="COMMON-PRACTICE")


def _number(ledger: Ledger, pointer: str, given: float | None, default: float, source: str) -> float:
    return ledger.use(pointer, given, default, "ratio", provenance="common practice", source=source)


def _first(
    shape: RiserShape, position: str, sections: Sections | None, order: Order | None, ledger: Ledger
) -> SectionMeasure | None:
    """The section that the riser is next to: a top riser stands on it."""
    if sections is None or order is None:
        return None
    name = shape.section or order.target
    if position == "top":
        name = _text(ledger, "/riser/section", shape.section, order.target)
    one = next((each for each in sections.measures if each.name == name), None)
    if one is None:
        raise MissingValue(
            ledger.lack(
                "/riser/section",
                Say("No section is called {name}: the riser must stand on one.", name=name),
            )
        )
    return one


def _kept_off(one: SectionMeasure) -> tuple[str, ...]:
    return tuple(face.name for face in one.faces if face.kept_off)


def _free(one: SectionMeasure) -> tuple[str, ...]:
    """Faces that may bear a riser or take a neck: some of them cools, and they need not stay free."""
    return tuple(face.name for face in one.faces if face.cooling_area > 0.0 and not face.kept_off)


def flat_faces(one: SectionMeasure) -> dict[str, FaceMeasure]:
    """Faces that a riser can stand on, the one it would take first: top, bottom, then the largest."""
    flat = [each for each in one.faces if each.width is not None and each.cooling_area > 0.0]
    rank = {"top": 0, "bottom": 1}
    flat.sort(key=lambda face: (rank.get(face.name, 2), -face.cooling_area, face.name))
    return {each.name: each for each in flat if not each.kept_off}


def _stand(
    shape: RiserShape, position: str, first: SectionMeasure | None, ledger: Ledger
) -> FaceMeasure | None:
    """The face that a top riser stands on. Raises NoFace where those that would do must stay free."""
    if first is None:
        return None
    kept, free, flat = _kept_off(first), _free(first), flat_faces(first)
    if kept and not free:
        raise NoFace(check_face(first.name, None, free, kept, found=False))
    if position != "top":
        return None
    face = shape.face
    if face is None and "top" in kept:
        if not flat:
            raise NoFace(check_face(first.name, None, free, kept, found=False))
        face = ledger.use(
            "/riser/face",
            None,
            next(iter(flat)),
            "text",
            provenance="computed",
            source="COMMON-PRACTICE",
            note="the top must stay free: the casting lies with this face up",
        )
    face = _text(ledger, "/riser/face", face, "top")
    if face in kept:
        raise NoFace(check_face(first.name, face, free, kept, found=False))
    if face not in flat:
        raise MissingValue(
            ledger.lack(
                "/riser/face",
                Say(
                    "{name} offers no flat {face} for a riser to stand on: choose another face "
                    "(riser.face: {flat}) or section (riser.section), or a side riser (riser.position).",
                    name=first.name,
                    face=face,
                    flat=", ".join(flat) or "it has none",
                ),
            )
        )
    return flat[face]


def _shrinkage(
    shape: RiserShape, metal: Metal, filled: float | None, wanted: bool, ledger: Ledger
) -> tuple[float | None, float | None, float | None]:
    """Shrinkage on freezing, what is fed from the full mould on, and the half-width of the first."""
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
        return None, None, None
    relative, spread = metal.spread("solidification_shrinkage"), shape.shrinkage_spread
    if spread is None and relative is not None:
        spread = ledger.use(
            "/riser/shrinkage_spread",
            None,
            abs(b) * relative,
            "fraction",
            provenance="estimated",
            source="ESTIMATED-BY-RULE",
            note="points by which the metal's shrinkage on freezing may be off, either way",
        )
    contraction, liquidus = metal.get("liquid_contraction"), metal.get("liquidus")
    if filled is None or contraction is None or liquidus is None:
        return b, b, spread
    return b, formulas.fed_shrinkage(b, contraction, superheat(filled, liquidus)), spread


_ENDS = {"cylinder": ("top", "bottom"), "domed": ("bottom",), "ball": ()}


def _end_states(shape: RiserShape, kind: str, necked: bool, ledger: Ledger) -> list[str]:
    """What the riser's flat ends do, its foot last; each is a switch.

    The foot of a riser without a neck is one with the casting; on a neck it rests on sand.
    """
    for end in sorted(shape.faces.keys() - set(_ENDS[kind])):
        detail = f"a {kind} riser has no flat {end}"
        place = ledger.place(f"/riser/faces/{end}")
        raise SectionFault((Fault(place, "not_possible", detail, _ENDS[kind]),))
    default = {"top": "cooling", "bottom": "cooling" if necked else "joined"}
    return [_text(ledger, f"/riser/faces/{end}", shape.faces.get(end), default[end]) for end in _ENDS[kind]]
