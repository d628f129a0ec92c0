"""Remedies over HTTP: made in the request and sent again, the check passes; one step less, it fails."""

import copy
from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from flask.testing import FlaskClient

from pourwright.patch import patched
from pourwright_service.api.quantities import read, write_exact
from pourwright_service.api.registry import REGISTRY
from pourwright_service.engine.decide.remedies import WHOLE_ANSWER, Proposal, Slide, Switch

from .failing_jobs import FAILING
from .plan_requests import Requests

Json = dict[str, Any]


@pytest.fixture
def client(yard: FlaskClient) -> FlaskClient:
    """Some of the failing jobs name the boat yard's mesh."""
    return yard


def ask(client: FlaskClient, path: str, request: Mapping[str, Any], which: str = "all") -> Json:
    response = client.post(f"{path}?remedies={which}", json=request)
    assert response.status_code == 200, response.get_json()
    answer: Json = response.get_json()
    return answer


def passing(answer: Json, remedy: Json) -> bool:
    """Whether all checks that a remedy mends pass in an answer."""
    mends = {(check["check"], check["subject"]) for check in remedy["mends"]}
    left = [check for check in answer["checks"] if (check["id"], check["subject"]) in mends]
    return all(check["verdict"] == "pass" for check in left)


def written(remedy: Json) -> tuple[str, Any]:
    """Pointer and value of the last change of a remedy, told apart from the objects made on the way."""
    pointer, value = remedy["patch"][-1]["path"], remedy["patch"][-1].get("value")
    while isinstance(value, dict) and "unit" not in value and len(value) == 1:
        ((name, value),) = value.items()
        pointer += f"/{name}"
    return pointer, value


def mends(remedy: Json, lever: Slide | Switch | Proposal) -> bool:
    """Whether a lever is for the checks that a remedy mends."""
    ids = {check["check"] for check in remedy["mends"]}
    return bool(ids & set(lever.checks)) or (not ids and WHOLE_ANSWER in lever.checks)


def si(lever: Slide, value: Any) -> float:
    """A remedy's value as an SI number."""
    return read(lever.kind, value) if isinstance(value, dict) else float(value)


def slides(path: str, remedy: Json) -> Iterator[Slide]:
    """The sliding levers that can have made a remedy."""
    pointer, value = written(remedy)
    if isinstance(value, str) or value is None:
        return
    for endpoint in REGISTRY.endpoints.values():
        for lever in endpoint.levers.levers if endpoint.path == path else ():
            if isinstance(lever, Slide) and lever.at == pointer and mends(remedy, lever):
                yield lever


@pytest.mark.parametrize("name", FAILING)
def test_a_remedy_sent_again_passes_and_one_step_less_does_not(client: FlaskClient, name: str) -> None:
    path, request = FAILING[name]
    before = copy.deepcopy(request)
    answer = ask(client, path, request)
    assert answer["remedies"]
    for remedy in answer["remedies"]:
        mended = patched(request, remedy["patch"])
        after = ask(client, path, mended, "none")
        assert after["verdict"] == remedy["verdict"], remedy
        assert passing(after, remedy), remedy
        assert not passing(answer, remedy)
        for lever in slides(path, remedy):
            _, value = written(remedy)
            less = si(lever, value) - (lever.step if lever.up else -lever.step)
            change = [*remedy["patch"][:-1], _instead(remedy["patch"][-1], write_exact(lever.kind, less))]
            response = client.post(f"{path}?remedies=none", json=patched(request, change))
            if response.status_code == 200:
                assert not passing(response.get_json(), remedy), (remedy, less)
    assert request == before


def _instead(operation: Json, value: Any) -> Json:
    """The operation with another innermost value."""
    inner = operation["value"]
    if not isinstance(inner, dict) or "unit" in inner:
        return {**operation, "value": value}
    ((name, deeper),) = inner.items()
    return {**operation, "value": {name: _instead({"value": deeper}, value)["value"]}}


def test_every_lever_is_of_use(client: FlaskClient) -> None:
    """A lever that mends nothing in any of the jobs would be a promise nobody has tried."""
    used: set[tuple[str, int]] = set()
    for path, request in FAILING.values():
        levers = next(e.levers.levers for e in REGISTRY.endpoints.values() if e.path == path)
        for remedy in ask(client, path, request)["remedies"]:
            used |= {(path, number) for number, lever in enumerate(levers) if _made(lever, remedy)}
    unused = {
        (endpoint.path, str(getattr(lever, "at", None) or getattr(lever, "words", None) or lever.checks))
        for endpoint in REGISTRY.endpoints.values()
        if endpoint.path != "/v1/plan"
        for number, lever in enumerate(endpoint.levers.levers)
        if (endpoint.path, number) not in used and not _shared(endpoint.path, lever)
    }
    assert not sorted(unused)


def _made(lever: Any, remedy: Json) -> bool:
    """Whether a lever can have made a remedy."""
    if not mends(remedy, lever):
        return False
    if isinstance(lever, Slide):
        return lever.at == written(remedy)[0]
    return isinstance(lever, Proposal) or remedy["message"] == lever.words


def _shared(path: str, lever: Any) -> bool:
    """The freezing levers are tried with /v1/freezing."""
    freezing = next(e.levers.levers for e in REGISTRY.endpoints.values() if e.path == "/v1/freezing")
    return path != "/v1/freezing" and lever in freezing


def test_remedies_are_looked_for_as_asked(client: FlaskClient) -> None:
    path, request = FAILING["sprue too low"]
    failed, everything, none = (ask(client, path, request, which) for which in ("failed", "all", "none"))
    assert not none["remedies"]
    mended = {check["check"] for remedy in failed["remedies"] for check in remedy["mends"]}
    assert mended == {"gating-head-left", "gate-velocity"}
    assert len(everything["remedies"]) >= len(failed["remedies"])
    response = client.post(path, json=request)
    assert response.get_json() == failed
    odd = client.post(f"{path}?remedies=some", json=request)
    assert odd.status_code == 422
    assert odd.get_json()["errors"][0]["parameter"] == "remedies"


def test_a_remedy_does_not_depend_on_the_reader(client: FlaskClient) -> None:
    path, request = FAILING["riser too small"]
    metric = ask(client, path, request)["remedies"]
    response = client.post(f"{path}?remedies=all&units=us", json=request)
    inches = response.get_json()["remedies"]
    assert [remedy["mends"] for remedy in inches] == [remedy["mends"] for remedy in metric]
    for ours, theirs in zip(metric, inches, strict=True):
        (_, mine), (_, other) = written(ours), written(theirs)
        if isinstance(mine, dict):
            assert read("length", mine) == pytest.approx(read("length", other), rel=1e-12)
    assert any(" in " in remedy["message"] for remedy in inches)


def test_the_working_is_that_of_the_answer_alone(client: FlaskClient) -> None:
    path, request = FAILING["riser too small"]
    shown = client.post(f"{path}?working=true", json=request).get_json()
    plain = client.post(f"{path}?working=true&remedies=none", json=request).get_json()
    assert shown["working"] == plain["working"]
    assert shown["remedies"]
    assert not plain["remedies"]


@pytest.mark.long
@pytest.mark.parametrize("seed", range(3))
def test_remedies_of_random_plans_do_what_they_say(client: FlaskClient, seed: int) -> None:
    requests = Requests(100 + seed)
    for _ in range(60):
        request = requests.plan()
        response = client.post("/v1/plan?remedies=all", json=request)
        assert response.status_code < 500, request
        for remedy in response.get_json().get("remedies", [])[:4]:
            after = ask(client, "/v1/plan", patched(request, remedy["patch"]), "none")
            assert after["verdict"] == remedy["verdict"], (request, remedy)
            assert passing(after, remedy), (request, remedy)
