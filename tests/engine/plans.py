"""Plans for tests: a request made short, and what of an answer is compared."""

from collections.abc import Mapping
from dataclasses import fields, replace
from typing import Any

import trimesh

from pourwright_service.engine.answer import Answer
from pourwright_service.engine.decide.charge_case import StockItem
from pourwright_service.engine.decide.gating_case import GatingWishes
from pourwright_service.engine.decide.heat import MouldCase
from pourwright_service.engine.decide.plan import decide_plan
from pourwright_service.engine.decide.plan_case import MeshUse, PartCase, PlanCase, PlanRiser, ShopCase
from pourwright_service.engine.decide.pour_time import PourTimeWishes
from pourwright_service.engine.geometry.mesh import read_stl
from pourwright_service.engine.geometry.sections import Bore, Section
from tests.engine.castings import section

PLATE = section("plate", "plate", length=200.0, width=120.0, thickness=15.0)
BLOCK = section("bar", "block", length=60.0, width=50.0, height=80.0, bores=(Bore(diameter=0.030),))
SAND = MouldCase(medium="oil-bonded sand")

_GROUPS: Mapping[str, Any] = {
    "part": PartCase,
    "gating": GatingWishes,
    "pour": PourTimeWishes,
    "riser": PlanRiser,
    "shop": ShopCase,
}


def case(*sections: Section, alloy: str | None = "C87300", mould: MouldCase = SAND, **told: Any) -> PlanCase:
    """A plan request; the groups (part, gating, pour, riser, shop) as dicts of their fields."""
    part = PartCase(sections=sections, **told.pop("part", {}))
    groups = {name: _GROUPS[name](**told.pop(name)) for name in [*told] if name in _GROUPS}
    return PlanCase(part=part, alloy=alloy, mould=mould, **groups, **told)


def box(length: float, width: float, height: float, represents: str = "part") -> MeshUse:
    """A mesh of a block (mm)."""
    mesh = read_stl(trimesh.creation.box((length, width, height)).export(file_type="stl"))
    return MeshUse(id="", mesh=mesh, length_unit="mm", metres=1e-3, represents=represents, up="+z")


def plan(*sections: Section, **told: Any) -> Answer:
    """The answer to a plan request."""
    return decide_plan(case(*sections, **told))


def verdicts(answer: Answer) -> dict[str, str]:
    """The worst verdict of each kind of check."""
    worst: dict[str, str] = {}
    for check in answer.checks:
        if worst.get(check.kind.id) in (None, "pass"):
            worst[check.kind.id] = check.verdict
    return worst


def only(name: str, percent: float = 100.0, **told: Any) -> StockItem:
    """Stock of one element, its name the element's."""
    return StockItem(name=name, composition_percent={name: (percent, percent)}, **told)


def as_made(answer: Answer, asked: PlanCase) -> PlanCase:
    """The request again with the answer's own gating and pour time given as they are."""
    gating = answer.result["gating"]
    return replace(
        asked,
        gating=replace(
            asked.gating,
            choke_area=gating["sprue"]["exit_area"],
            sprue=replace(asked.gating.sprue, mouth_area=gating["sprue"]["mouth_area"]),
            runner=replace(asked.gating.runner, area=gating["runner"]["areas"][0]),
            gate=replace(
                asked.gating.gate, area=gating["gates"]["area"], thickness=gating["gates"]["thickness"]
            ),
        ),
        pour=replace(asked.pour, pour_time=answer.result["pour_time"]["pour_time"]),
    )


assert {field.name for field in fields(PlanCase)} > set(_GROUPS)
