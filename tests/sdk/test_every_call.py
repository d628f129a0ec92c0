"""Every operation of the service through its method: examples as calls, lists, single things."""

import dataclasses
from pathlib import Path
from typing import Any

import pytest

from pourwright import Answer, Client, Quantity
from pourwright.errors import InvalidRequest
from pourwright_service.api.registry import REGISTRY

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"

EXAMPLES = [
    pytest.param(name, request, id=f"{name}: {title}")
    for name, endpoint in REGISTRY.endpoints.items()
    for title, request in endpoint.examples.items()
]


@pytest.mark.parametrize(("operation", "request_"), EXAMPLES)
def test_examples(client: Client, operation: str, request_: dict[str, Any]) -> None:
    if "mesh" in request_:
        client.upload_mesh(SCENARIO / "fairlead.stl")
    answer: Answer[Any] = getattr(client, operation)(**request_, working=True)
    assert answer.verdict in ("pass", "warn", "fail", "unknown")
    assert answer.working is not None
    _matches(answer.result, answer.data["result"])
    for check in answer.checks:
        assert check.message
    again: Answer[Any] = getattr(client, operation)(**answer.resolved)
    assert again.result == answer.result


def _matches(read: Any, data: Any) -> None:
    """What was read holds every figure of the JSON, none lost and none turned."""
    if dataclasses.is_dataclass(read) and not isinstance(read, Quantity):
        for field in dataclasses.fields(read):
            _matches(getattr(read, field.name), data.get(field.name))
        assert set(data) <= {field.name for field in dataclasses.fields(read)}
    elif isinstance(read, Quantity):
        assert {"value": read.value, "unit": read.unit} == data
    elif isinstance(read, tuple):
        assert len(read) == len(data)
        for one, other in zip(read, data, strict=True):
            _matches(one, other)
    else:
        assert read == data


@pytest.mark.parametrize(
    "operation",
    [name for name, call in REGISTRY.resources.items() if call.method == "GET" and not call.parameters],
)
def test_lists(client: Client, operation: str) -> None:
    found = getattr(client, operation)(units="us")
    assert dataclasses.is_dataclass(found)


@pytest.mark.parametrize(
    "limit", ["1100 degC", Quantity(1100, "degC"), {"value": 2012.0, "unit": "degF"}], ids=str
)
def test_alloys_by_need(client: Client, limit: Any) -> None:
    found = client.list_alloys(pours_below=limit, no_lead=True, no_zinc_fume=False, sea_water="good")
    assert {alloy.id for alloy in found.items} >= {"535", "pewter"}
    reasons = {alloy.id: alloy.reasons for alloy in found.left_out}
    assert reasons["C87300"] == ("Up to 0.2 % of lead is let in, though none is added.",)
    for alloy in found.items:
        assert isinstance(alloy.pouring_low, Quantity)
        assert alloy.pouring_low.to("degC").value <= 1100
    assert client.list_alloys(lead_at_most="0.25 %", search="everdur").items[-1].id == "C87300"


def test_a_wrong_filter_is_pointed_at(client: Client) -> None:
    with pytest.raises(InvalidRequest) as caught:
        client.list_alloys(pours_below="1100")
    assert [(fault.parameter, fault.code) for fault in caught.value.errors] == [("pours_below", "no_unit")]


def test_a_name_with_a_slash(client: Client) -> None:
    assert client.get_alloy(id="70/30 brass").id == "C26000"


def test_one_alloy_in_either_system(client: Client) -> None:
    metric = client.get_alloy(id="C87300")
    us = client.get_alloy(id="C87300", units="us")
    liquidus, liquidus_us = (
        next(cell.value for cell in alloy.properties if cell.name == "liquidus") for alloy in (metric, us)
    )
    assert isinstance(liquidus, Quantity)
    assert isinstance(liquidus_us, Quantity)
    assert liquidus_us.unit == "degF"
    assert liquidus.to("degF").value == pytest.approx(liquidus_us.value, abs=1e-9)


def test_limits_of_one_substance(client: Client) -> None:
    """OSHA, interpretation of 1990: lead in air, 50 micrograms per cubic metre over 8 hours."""
    limits = client.list_limits(substance="Pb", averaging="8 h").items
    (lead,) = (limit for limit in limits if limit.kind == "limit")
    assert lead.concentration is not None
    assert isinstance(lead.concentration.value, Quantity)
    assert lead.concentration.value.to("mg/m^3").value == pytest.approx(0.05)


def test_draft_is_an_angle(client: Client) -> None:
    """A job foundry's guide: pockets in the cope 3 to 7 degrees."""
    (cope,) = (draft for draft in client.get_allowances().draft if draft.id == "cope pocket")
    assert cope.high is not None
    assert isinstance(cope.high.value, Quantity)
    assert cope.high.value.to("rad").value == pytest.approx(0.12217, abs=1e-5)
