"""The part of a plan: how large it is, how it lies in the mould, which cores it has."""

from dataclasses import dataclass, replace

from ..assess.plan import check_mesh_sound, check_sections_match
from ..checks import Check
from ..formula import known_number
from ..formulas.pattern import pattern_scale
from ..geometry.levels import lift_integral, section_profile
from ..geometry.mesh import MeshReport
from ..geometry.sections import Section
from ..ledger import Ledger, MissingValue, Say
from .freezing import Sections, read_sections
from .metal import Metal
from .plan_case import MeshUse, PartCase
from .plan_draw import drawn
from .plan_extent import largest_size, plan_area, straight_edge
from .plan_wall import wall_for_filling

PART = "/part"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """The part as the plan uses it; SI, of the cold casting.

    ``straight_edge`` is the longest side that gates may be cut along. ``parting_area`` is the part's
    section in the parting plane, ``above_parting`` its volume in the cope. ``wall`` is the thinnest wall,
    None where nobody can tell. ``scale`` is the pattern over the part, None where the contraction is not
    known. ``factor`` is m of the cold casting per unit of the mesh. ``sections``, ``mesh`` and ``report``
    are None where there is none.
    """

    volume: float
    height: float
    length: float
    width: float
    wall: float | None
    height_in_cope: float
    straight_edge: float
    parting_area: float
    above_parting: float
    scale: float | None
    factor: float
    sections: Sections | None
    mesh: MeshUse | None
    report: MeshReport | None
    checks: tuple[Check, ...]


def with_cores(case: PartCase, ledger: Ledger) -> PartCase:
    """The part with a core in every hole of which nothing is said."""
    return replace(
        case, sections=tuple(_cored(section, index, ledger) for index, section in enumerate(case.sections))
    )


def _cored(section: Section, index: int, ledger: Ledger) -> Section:
    """A hole of which nothing is said is made by a core: a bore of sand warms through and cools less."""
    if section.shape not in ("tube", "ring") or "inside" in section.faces:
        return section
    state = ledger.use(
        f"/part/sections/{index}/faces/inside",
        None,
        "cored",
        "text",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="the hole is taken to be made by a core",
    )
    return replace(section, faces={**section.faces, "inside": state})


def read_part(case: PartCase, gate_position: str, metal: Metal, ledger: Ledger) -> Part:
    """Measure the part. Raises SectionFault, MeshFault, and MissingValue where nothing is told."""
    here = ledger.seen_from(sections="/part/sections")
    sections = read_sections(case.sections, here) if case.sections else None
    scale = _scale(metal, ledger)
    use = case.mesh
    report = use.mesh.report() if use else None
    factor = _to_part(use, scale, ledger)
    drawable = drawn(case, factor)
    volume = _volume(case, sections, report, factor, ledger)
    height, length, width = _sizes(case, sections, use, factor, ledger)
    in_cope = ledger.use(
        "/part/height_in_cope",
        case.height_in_cope,
        height if gate_position == "bottom" else 0.0,
        "length",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="filled from the bottom, the part stands in the cope"
        if gate_position == "bottom"
        else "the part lies in the drag, its face at the parting",
    )
    in_cope = min(in_cope, height)
    area, above = _at_parting(case, sections, use, factor, height - in_cope, (volume, height), ledger)
    checks: list[Check] = [] if drawable is None else [drawable]
    if report is not None:
        checks.append(check_mesh_sound(report))
    if sections is not None and report is not None:
        checks.append(check_sections_match(sections.volume, report.volume * factor**3))
    return Part(
        volume=volume,
        height=height,
        length=length,
        width=width,
        straight_edge=min(length, straight_edge(sections)) if sections and use is None else length,
        wall=_wall(case, sections, use, report, factor, ledger),
        height_in_cope=in_cope,
        parting_area=area,
        above_parting=above,
        scale=scale,
        factor=factor,
        sections=sections,
        mesh=use,
        report=report,
        checks=tuple(checks),
    )


def _scale(metal: Metal, ledger: Ledger) -> float | None:
    """How much larger the pattern is than the part."""
    contraction = metal.get("contraction")
    if contraction is not None:
        return pattern_scale(contraction)
    if metal.id or metal.given_any:
        ledger.lack(
            "/properties/contraction",
            Say("The pattern must be larger than the casting: give the metal's contraction."),
        )
    else:
        ledger.lack(
            "/alloy",
            Say(
                "Name the alloy (or give its properties): how hot it is poured, how it freezes, what it "
                "weighs and how much larger the pattern must be all follow from it."
            ),
        )
    return None


def _to_part(use: MeshUse | None, scale: float | None, ledger: Ledger) -> float:
    """Metres of the cold casting per unit of the mesh."""
    if use is None or use.represents == "part":
        return 1.0 if use is None else use.metres
    if scale is None:
        raise MissingValue(
            ledger.lack(
                "/properties/contraction",
                Say(
                    "The mesh shows the pattern: how large the casting is follows from "
                    "the metal's contraction."
                ),
            )
        )
    return use.metres / scale


def _volume(
    case: PartCase, sections: Sections | None, report: MeshReport | None, factor: float, ledger: Ledger
) -> float:
    if case.volume is not None:
        return case.volume
    if report is not None:
        value = report.volume * factor**3
        known_number(value, "mesh: volume")
        return value
    if sections is not None:
        known_number(sections.volume, "sections: volume")
        return sections.volume
    raise MissingValue(
        ledger.lack(
            PART, Say("Describe the part: sections, a mesh, or at least its volume (part.volume) and size.")
        )
    )


def _sizes(
    case: PartCase, sections: Sections | None, use: MeshUse | None, factor: float, ledger: Ledger
) -> tuple[float, float, float]:
    """Height, length and width of the part as it lies in the mould."""
    found: dict[str, float | None] = {"height": None, "length": None, "width": None}
    notes, source = dict.fromkeys(_SIZES, "from the mesh"), "DERIVED"
    if use is not None:
        extents = use.mesh.extents(use.up)
        found = {
            "height": extents.height * factor,
            "length": extents.length * factor,
            "width": extents.width * factor,
        }
    elif sections is not None:
        found = largest_size(sections)
        notes, source = _SIZES, "COMMON-PRACTICE"
    given = {"height": case.height, "length": case.length, "width": case.width}
    lacking = [
        ledger.lack(f"/part/{name}", Say("Give the part's {name} as it lies in the mould.", name=name))
        for name, value in given.items()
        if value is None and found[name] is None
    ]
    if lacking:
        raise MissingValue(lacking[0])
    sizes = {
        name: ledger.use(
            f"/part/{name}",
            given[name],
            found[name] or 0.0,
            "length",
            provenance="computed" if source == "DERIVED" else "estimated",
            source=source,
            note=notes[name],
        )
        for name in given
    }
    return sizes["height"], sizes["length"], sizes["width"]


_SIZES = {
    "height": "the tallest section, or the tallest two that are joined, one on the other",
    "length": "at most: the sections that do not rest on a larger one, laid in a row",
    "width": "the widest section",
}
"""What the sizes of a part are taken from that is told by its sections."""


def _at_parting(
    case: PartCase,
    sections: Sections | None,
    use: MeshUse | None,
    factor: float,
    parting: float,
    size: tuple[float, float],
    ledger: Ledger,
) -> tuple[float, float]:
    """Metal in the parting plane (m^2), and the part's volume above it (m^3); exact from a mesh.

    ``size`` is volume and height; ``parting`` the parting's height over the part's lowest point.
    """
    volume, height = size
    if use is not None:
        level = parting / factor
        # Just below the parting a flat-backed part shows its whole back.
        edge = max(level - 1e-6 * height / factor, 0.0)
        area = float(section_profile(use.mesh, use.up, [edge])[0]) * factor**2
        lift = lift_integral(use.mesh, use.up, level, height / factor) * factor**3
        # The integral of (H - z) n_z over the cope is (H - z_parting) A less the volume above.
        above = max(0.0, (height - parting) * area - lift)
        note = above_note = "from the mesh"
    else:
        area = plan_area(sections) if sections else volume / height
        above = volume * (height - parting) / height
        note = "volume over height"
        if sections is not None:
            note = "the level faces of all sections that do not rest on a larger one, at most"
        above_note = "the part's volume by the share of its height that stands in the cope"
    return (
        _size(ledger, "/part/parting_area", case.parting_area, area, "area", note),
        _size(ledger, "/part/volume_in_cope", case.volume_in_cope, above, "volume", above_note),
    )


def _size(ledger: Ledger, pointer: str, given: float | None, default: float, kind: str, note: str) -> float:
    return ledger.use(pointer, given, default, kind, provenance="computed", source="DERIVED", note=note)


def _wall(
    case: PartCase,
    sections: Sections | None,
    use: MeshUse | None,
    report: MeshReport | None,
    factor: float,
    ledger: Ledger,
) -> float | None:
    """The thinnest wall (m): it says how hot and how fast to pour, never how large a riser must be."""
    if case.wall is not None:
        return case.wall
    if sections is not None:
        return sections.thinnest
    if use is None or report is None:
        return None
    return wall_for_filling(use, report, factor, ledger)
