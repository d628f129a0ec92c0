"""A whole job through the SDK: mesh, plan, its figures in other units, sent again, changed, compared."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from pourwright import Answer, Client, InvalidRequest, Quantity, VerdictError
from pourwright.models.plan_result import PlanResult

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"
"""The invented boat-yard castings."""


@pytest.fixture(scope="module")
def client(service: str) -> Iterator[Client]:
    with Client(service) as client:
        yield client


@pytest.fixture(scope="module")
def job(client: Client) -> dict[str, Any]:
    job: dict[str, Any] = json.loads((SCENARIO / "fairlead_plan.json").read_text("utf-8"))
    mesh = job["part"]["mesh"]
    mesh["id"] = client.upload_mesh(SCENARIO / mesh.pop("file")).id
    return job


@pytest.fixture(scope="module")
def plan(client: Client, job: dict[str, Any]) -> Answer[PlanResult]:
    return client.plan(**job).require()


def test_a_plan_hangs_together(plan: Answer[PlanResult]) -> None:
    masses, crucible = plan.result.masses, plan.result.crucible
    assert masses is not None
    assert crucible is not None
    parts = masses.cavity.to("g").value + masses.riser.to("g").value + masses.gating.to("g").value
    assert masses.poured.to("g").value == pytest.approx(parts, rel=1e-9)
    assert 0 < crucible.filling.to("").value <= 1
    assert plan.failed == ()


def test_the_resolved_request_gives_the_same_plan(client: Client, plan: Answer[PlanResult]) -> None:
    again = client.plan(**plan.resolved)
    assert again.result == plan.result
    assert again.verdict == plan.verdict


def test_units_change_no_decision(client: Client, job: dict[str, Any], plan: Answer[PlanResult]) -> None:
    us = client.plan(**job, units="us")
    assert us.verdict == plan.verdict
    assert [check.verdict for check in us.checks] == [check.verdict for check in plan.checks]
    riser, riser_us = plan.result.riser, us.result.riser
    assert riser is not None
    assert riser_us is not None
    assert riser.diameter is not None
    assert riser_us.diameter is not None
    assert riser_us.diameter.unit == "in"
    assert riser_us.diameter.to("mm").value == pytest.approx(riser.diameter.value, rel=1e-12)


def test_a_riser_that_is_too_small_fails_aloud(client: Client, job: dict[str, Any]) -> None:
    own = {**job["riser"], "diameter": Quantity(32, "mm"), "height": "32 mm"}
    own.pop("height_to_diameter", None)
    answer = client.plan(**{**job, "riser": own})
    assert answer.verdict == "fail"
    assert answer.failed
    with pytest.raises(VerdictError) as caught:
        answer.require()
    assert answer.failed[0].message in str(caught.value)


def test_a_mistake_is_placed(client: Client, job: dict[str, Any]) -> None:
    with pytest.raises(InvalidRequest) as caught:
        client.plan(**{**job, "alloy": "unobtainium"})
    assert [fault.pointer for fault in caught.value.errors] == ["/alloy"]


def test_sources_of_what_was_used(client: Client, plan: Answer[PlanResult]) -> None:
    known = {source.key for source in client.list_sources().items}
    assert {default.source.key for default in plan.defaults} - {"CALLER"} <= known
    ids = {check.id for check in client.list_checks().items}
    assert {check.id for check in plan.checks} <= ids


def test_the_working_names_known_formulas(client: Client) -> None:
    plate = {"name": "plate", "shape": "plate", "length": "30 cm", "width": "10 cm", "thickness": "2 cm"}
    answer = client.freezing(mould_constant="4 min/cm^2", sections=[plate], working=True)
    known = {formula.id for formula in client.list_formulas().items}
    assert answer.working
    assert {line.formula for line in answer.working} <= known


def test_a_remedy_is_applied_and_sent_again(client: Client, job: dict[str, Any]) -> None:
    small = {**job, "riser": {**job["riser"], "diameter": "32 mm", "height": "32 mm"}}
    wrong = client.plan(**small)
    assert wrong.verdict == "fail"
    whole = [remedy for remedy in wrong.remedies if remedy.verdict != "fail"]
    assert whole
    assert client.plan(**whole[0].applied(small)).require().verdict == whole[0].verdict
    assert small["riser"]["diameter"] == "32 mm"
