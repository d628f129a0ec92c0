"""The cores of a plan's part: those that the caller names, or those that stand in its cored bores."""

import math

from ..assess.mould import CoreInputs
from ..geometry.sections import Section, bore_volume
from ..ledger import Ledger, Say
from .plan_case import CoreCase, PartCase, ShopCase

CORE_DENSITY = 1600.0
"""kg/m^3 of bonded core sand, as the worked core-lift examples use."""


def cores_of(case: PartCase, shop: ShopCase, ledger: Ledger) -> tuple[CoreInputs, ...]:
    """Every core in the metal. Named cores replace those of the sections, which may be the same.

    A core whose size nobody gave is noted as missing and left out.
    """
    if not case.cores:
        _ask(case, ledger)
        if not any(_bores(section) for section in case.sections):
            return ()
    density = ledger.use(
        "/shop/core_density",
        shop.core_density,
        CORE_DENSITY,
        "density",
        provenance="table",
        source="ARCHIMEDES",
        note="bonded core sand as the worked examples use",
    )
    if case.cores:
        told = (_core(core, index, density, ledger) for index, core in enumerate(case.cores))
        return tuple(core for core in told if core is not None)
    return tuple(
        CoreInputs(name=f"bore of {section.name}", volume=volume, density=density, lying=lying)
        for section in case.sections
        for volume, lying in _bores(section)
    )


def _ask(case: PartCase, ledger: Ledger) -> None:
    """Cored faces tell of a core, but not how large it is."""
    names = [
        section.name
        for section in case.sections
        if "cored" in (state for face, state in section.faces.items() if face != "inside")
    ]
    if names:
        ledger.lack(
            "/part/cores",
            Say(
                "How hard the core of {names} lifts depends on its size: name it in part.cores, with its "
                "volume within the metal.",
                names=", ".join(names),
            ),
        )


def named_cores(case: PartCase) -> float:
    """Volume (m^3) of the cores that a part speaks of; infinite where one of them has no size."""
    if case.cores:
        sizes = [_size(core) for core in case.cores]
        return math.inf if None in sizes else sum(size or 0.0 for size in sizes)
    faces = (face for section in case.sections for face in section.faces.items())
    if any(state == "cored" and name != "inside" for name, state in faces):
        return math.inf
    return sum(volume for section in case.sections for volume, _ in _bores(section))


def _size(core: CoreCase) -> float | None:
    if core.volume is None and core.diameter is not None and core.length is not None:
        return math.pi / 4.0 * core.diameter**2 * core.length
    return core.volume


def _bores(section: Section) -> list[tuple[float, bool]]:
    """The cored holes of a section: their volume (m^3, every piece counted), and whether they lie."""
    found = [(bore_volume(section, bore), bore.axis != "height") for bore in section.bores if bore.cored]
    sizes = section.dimensions
    if section.faces.get("inside") == "cored":
        inner = sizes.get("inner_diameter") or sizes["mean_diameter"] - sizes["section_width"]
        height = sizes.get("height") or sizes["section_height"]
        found.append((math.pi / 4.0 * inner**2 * height, False))
    return [(section.count * volume, lying) for volume, lying in found]


def _core(core: CoreCase, index: int, density: float, ledger: Ledger) -> CoreInputs | None:
    place = f"/part/cores/{index}"
    volume = _size(core)
    if volume is None:
        ledger.lack(
            f"{place}/volume",
            Say("Give the volume of {name} within the metal, or diameter and length.", name=core.name),
        )
        return None
    lies = ledger.use(
        f"{place}/lies",
        core.lies,
        "lying",
        "text",
        provenance="common practice",
        source="COMMON-PRACTICE",
        note="the safe side: metal gets under it",
    )
    return CoreInputs(
        name=core.name,
        volume=volume,
        density=density if core.density is None else core.density,
        lying=lies == "lying",
    )
