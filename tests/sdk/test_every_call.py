"""Every operation of the service through its method: examples as calls, lists, single things."""

import dataclasses
from pathlib import Path
from typing import Any

import pytest

from pourwright import Answer, Client, Quantity
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
