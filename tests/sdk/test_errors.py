"""Every refusal of the real service arrives as the right error, with all that was said."""

from pathlib import Path

import pytest

from pourwright import (
    BadRequest,
    Client,
    Forbidden,
    InvalidRequest,
    NotFound,
    ProblemError,
    TooLarge,
    Unauthorised,
)
from pourwright.errors import Fault
from tests.live_service import live_service

PLATE = {"name": "plate", "shape": "plate", "length": "3 cm", "width": "1 cm", "thickness": "2 mm"}


def test_all_faults_at_once(client: Client) -> None:
    with pytest.raises(InvalidRequest) as caught:
        client.freezing(sections=[{**PLATE, "length": "25.4", "girth": 1}], mould_constant="4 mm")
    error = caught.value
    assert error.status == 422
    assert error.code == "invalid_request"
    assert error.type == "/problems/invalid_request"
    assert error.request_id
    by_place = {fault.pointer: fault for fault in error.errors}
    assert set(by_place) == {"/sections/0/length", "/sections/0/girth", "/mould_constant"}
    assert by_place["/sections/0/length"].code == "no_unit"
    assert "mm" in by_place["/sections/0/length"].accepted
    text = str(error)
    for part in ("/sections/0/girth", error.request_id, "min/cm^2"):
        assert part in text


def test_a_parameter_at_fault(client: Client) -> None:
    with pytest.raises(InvalidRequest) as caught:
        client.request("GET", "/v1/checks", params={"units": "furlongs"})
    assert caught.value.errors[0].parameter == "units"
    assert caught.value.errors[0].place == "parameter units"


def test_not_json(client: Client) -> None:
    with pytest.raises(ProblemError) as caught:
        client.request("POST", "/v1/freezing", content=b"{")
    assert (caught.value.status, caught.value.code) == (415, "media_type")
    assert caught.value.errors[0].header == "Content-Type"
    deep: dict[str, object] = {}
    for _ in range(300):
        deep = {"a": deep}
    with pytest.raises(BadRequest):
        client.request("POST", "/v1/freezing", body=deep)


def test_nothing_there(client: Client) -> None:
    with pytest.raises(NotFound) as caught:
        client.request("GET", "/v1/nothing")
    assert caught.value.code == "not_found"


def test_too_large(client: Client) -> None:
    with pytest.raises(TooLarge):
        client.freezing(sections=[{**PLATE, "name": "x" * 1_100_000}])


def test_keys(tmp_path: Path) -> None:
    with live_service(tmp_path, api_keys=("sesame",)) as url:
        with pytest.raises(Unauthorised):
            Client(url).list_checks()
        with pytest.raises(Forbidden):
            Client(url, api_key="wrong").list_checks()
        assert Client(url, api_key="sesame").list_checks().items


def test_a_fault_in_words() -> None:
    many = tuple(str(number) for number in range(32))
    text = str(Fault("not_a_choice", "no such word", many, pointer=""))
    assert text.startswith("the whole request: no such word. Accepted: 0, 1, ")
    assert text.endswith("23 and 8 more")
    assert str(Fault("not_text", "text is needed", header="X-A")) == "header X-A: text is needed"
    assert str(Fault("not_text", "text is needed")) == "the request: text is needed"


def test_a_long_list_is_left_out_where_the_word_meant_is_known() -> None:
    many = tuple(str(number) for number in range(200))
    assert str(Fault("not_a_choice", "did you mean '7'?", many, pointer="/x")) == "/x: did you mean '7'?"
