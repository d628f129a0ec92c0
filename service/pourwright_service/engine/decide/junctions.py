"""Junctions of a casting's sections: what nobody said of them is chosen, and told."""

from collections.abc import Sequence
from typing import Any

from ..assess.freezing import Frozen
from ..assess.junctions import JunctionAssessment, JunctionInputs, assess_junction
from ..checks import Check
from ..formula import paused
from ..formulas.junctions import least_fillet
from ..geometry.joins import Joint
from ..geometry.junctions import SQUARE, Meeting, meeting
from ..geometry.sections import SectionMeasure
from ..ledger import Ledger


def junctions_of(
    joints: Sequence[Joint],
    measures: Sequence[SectionMeasure],
    frozen: dict[str, Frozen] | None,
    ledger: Ledger,
    place: str = "",
) -> tuple[JunctionAssessment, ...]:
    """Every junction, by the names of its sections; ``place`` is where the sections stand.

    ``frozen`` are the sections by name, None where no time is known.
    """
    by_name = {one.name: one for one in measures}
    found = []
    for joint in joints:
        met = meeting(joint, by_name)
        inputs = _chosen(met, f"{place}{joint.pointers[0]}", ledger)
        found.append(assess_junction(inputs, frozen))
    return tuple(found)


def _chosen(met: Meeting, pointer: str, ledger: Ledger) -> JunctionInputs:
    joint = met.joint
    suggested, note = met.suggested, "a section that ends on another is a branch of it"
    if suggested == "straight":
        note = "each ends in the other with a whole face, so one is taken to go on in the other"
        if joint.angle is not None:
            suggested, note = "corner", "each ends in the other with a whole face, at an angle"
    kind = ledger.use(
        f"{pointer}/kind",
        joint.kind,
        suggested,
        "text",
        provenance="computed",
        source="DERIVED",
        note=note,
    )
    angle = SQUARE
    if kind in ("corner", "tee"):
        angle = ledger.use(
            f"{pointer}/angle",
            joint.angle,
            SQUARE,
            "angle",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="walls are taken to meet squarely",
        )
    fillet = 0.0
    if kind != "straight":
        with paused():
            least = least_fillet(met.thin)
        fillet = ledger.use(
            f"{pointer}/fillet",
            joint.fillet,
            least,
            "length",
            provenance="common practice",
            source="COMMON-PRACTICE",
            note="a third of the thinner wall",
        )
    return JunctionInputs(met=met, kind=kind, fillet=fillet, angle=angle, pointer=pointer)


def junction_results(found: Sequence[JunctionAssessment]) -> list[dict[str, Any]]:
    """The junctions as the answer's schema lays them out."""
    return [_result(one) for one in found]


def _result(one: JunctionAssessment) -> dict[str, Any]:
    inputs, met = one.inputs, one.inputs.met
    meets = inputs.kind != "straight"
    return {
        "wall": met.wall,
        "branch": met.branch,
        "kind": inputs.kind,
        "wall_thickness": met.thickness,
        "branch_thickness": met.branch_thickness,
        "angle": inputs.angle if inputs.kind in ("corner", "tee") else None,
        "fillet": inputs.fillet if meets else None,
        "circle": one.circle,
        "circle_ratio": one.ratio,
        "most_modulus": one.modulus,
        "most_time_ratio": one.time_ratio,
        "most_freezing_time": one.time,
        "least_fillet": one.least_fillet if meets else None,
        "most_fillet": one.most_fillet if meets else None,
    }


def junction_checks(found: Sequence[JunctionAssessment]) -> list[Check]:
    """The checks of all junctions."""
    return [check for one in found for check in one.checks]
