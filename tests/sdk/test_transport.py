"""What the client does with connections, keys, retries and bodies, beside a server that is scripted."""

import json
from email.utils import formatdate
from pathlib import Path
from time import time
from typing import Any

import pytest
import requests

from pourwright import (
    BadRequest,
    Client,
    ConnectionFailed,
    Quantity,
    ServerError,
    Timeout,
    TooManyRequests,
    UnreadableAnswer,
)
from tests.live_service import Reply, Scripted

ANSWER: dict[str, Any] = {
    "verdict": "pass",
    "message": "Fine.",
    "result": {"sections": [], "feed_path": [], "volume": {"value": 1.0, "unit": "cm^3"}},
    "checks": [],
    "missing": [],
    "defaults": [],
    "cautions": [],
    "resolved": {},
    "engine_version": "1",
    "tables_version": "1",
}
FINE = Reply(body=ANSWER)
PLATE = {"name": "plate", "shape": "plate", "length": "3 cm", "width": "1 cm", "thickness": "2 mm"}


@pytest.fixture
def waits(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Instead of sleeping between tries, write down for how long."""
    waited: list[float] = []
    monkeypatch.setattr("urllib3.util.retry.time.sleep", waited.append)
    return waited


def ask(client: Client) -> str:
    return client.freezing(sections=[PLATE]).message


@pytest.mark.parametrize("status", [429, 502, 503, 504])
def test_sent_again_with_the_same_body(script: Scripted, waits: list[float], status: int) -> None:
    script.replies = [Reply(status), Reply(status), FINE]
    assert ask(Client(script.url)) == "Fine."
    assert len(script.asked) == 3
    assert len({asked.body for asked in script.asked}) == 1
    assert json.loads(script.asked[2].body) == {"sections": [PLATE]}
    assert len(waits) == 1, "the second try is at once, the third after a wait"


def test_a_lost_connection_is_tried_again(script: Scripted, waits: list[float]) -> None:
    script.replies = [Reply(drop=True), FINE]
    assert ask(Client(script.url)) == "Fine."
    assert len(script.asked) == 2
    assert waits == []


def test_retries_come_to_an_end(script: Scripted, waits: list[float]) -> None:
    script.replies = [Reply(503)]
    with pytest.raises(ServerError) as caught:
        ask(Client(script.url, retries=1))
    assert caught.value.status == 503
    assert len(script.asked) == 2
    assert waits == []


def test_other_refusals_are_not_tried_again(script: Scripted) -> None:
    script.replies = [Reply(400)]
    with pytest.raises(BadRequest):
        ask(Client(script.url))
    assert len(script.asked) == 1


def test_retry_after_is_obeyed(script: Scripted, waits: list[float]) -> None:
    script.replies = [Reply(429, headers={"Retry-After": "7"}), FINE]
    assert ask(Client(script.url)) == "Fine."
    assert waits == [7.0]


def test_retry_after_as_a_date(script: Scripted, waits: list[float]) -> None:
    script.replies = [Reply(503, headers={"Retry-After": formatdate(time() + 30, usegmt=True)}), FINE]
    assert ask(Client(script.url)) == "Fine."
    assert len(waits) == 1
    assert 25 < waits[0] <= 30


def test_retry_after_in_words_is_passed_over(script: Scripted, waits: list[float]) -> None:
    script.replies = [Reply(503, headers={"Retry-After": "soon"}), FINE]
    assert ask(Client(script.url)) == "Fine."
    assert waits == []


def test_a_long_retry_after_is_left_to_the_caller(script: Scripted, waits: list[float]) -> None:
    script.replies = [Reply(429, headers={"Retry-After": "21600"}), FINE]
    with pytest.raises(TooManyRequests) as caught:
        ask(Client(script.url))
    assert caught.value.retry_after == 21600
    assert waits == []
    assert len(script.asked) == 1


def test_a_slow_answer_is_not_asked_for_again(script: Scripted) -> None:
    script.replies = [Reply(delay=0.5, body=ANSWER)]
    with pytest.raises(Timeout, match="did not answer in time"):
        ask(Client(script.url, timeout=(1, 0.1)))
    assert len(script.asked) == 1


def test_nobody_there() -> None:
    with pytest.raises(ConnectionFailed, match="Connection refused"):
        ask(Client("http://127.0.0.1:9", retries=0))


def test_the_key_is_not_overwritten_by_netrc(
    script: Scripted, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    netrc = tmp_path / "netrc"
    netrc.write_text("machine 127.0.0.1 login someone password else\n")
    netrc.chmod(0o600)
    monkeypatch.setenv("NETRC", str(netrc))
    script.replies = [FINE]
    requests.post(script.url, timeout=5)
    assert script.asked[0].headers["Authorization"].startswith("Basic "), "requests itself would use it"
    ask(Client(script.url, api_key="the key"))
    ask(Client(script.url))
    assert script.asked[1].headers["Authorization"] == "Bearer the key"
    assert "Authorization" not in script.asked[2].headers


def test_a_proxy_is_not_asked_for_this_machine(script: Scripted, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("NO_PROXY", "no_proxy"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("http_proxy", "http://127.0.0.1:9")
    script.replies = [FINE]
    assert ask(Client(script.url, retries=0)) == "Fine."


def test_settings_from_the_environment(script: Scripted, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("POURWRIGHT_URL", script.url + "/")
    monkeypatch.setenv("POURWRIGHT_API_KEY", "from outside")
    script.replies = [FINE]
    ask(Client())
    assert script.asked[0].path == "/v1/freezing"
    assert script.asked[0].headers["Authorization"] == "Bearer from outside"


def test_the_usual_address() -> None:
    assert Client().base_url == "http://127.0.0.1:8780"


def test_what_is_none_is_left_out(script: Scripted) -> None:
    script.replies = [FINE]
    client = Client(script.url)
    client.freezing(sections=[PLATE], alloy=None)
    client.freezing(sections=(PLATE,), curvature=False, units="us", working=True)
    assert json.loads(script.asked[0].body) == {"sections": [PLATE]}
    assert script.asked[0].path == "/v1/freezing"
    assert json.loads(script.asked[1].body) == {"sections": [PLATE], "curvature": False}
    assert script.asked[1].path == "/v1/freezing?units=us&working=true"


def test_quantities_go_out_as_value_and_unit(script: Scripted) -> None:
    script.replies = [FINE]
    Client(script.url).freezing(
        sections=[{**PLATE, "length": Quantity(25.4, "mm")}], pouring_temperature=Quantity(1100, "degC")
    )
    sent = json.loads(script.asked[0].body)
    assert sent["sections"][0]["length"] == {"value": 25.4, "unit": "mm"}
    assert sent["pouring_temperature"] == {"value": 1100, "unit": "degC"}


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_json_cannot_say_is_not_sent(script: Scripted, value: float) -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        Client(script.url).freezing(sections=[PLATE], mould_constant=Quantity(value, "s/m^2"))
    with pytest.raises(TypeError, match="cannot be sent as JSON"):
        Client(script.url).freezing(sections=[{**PLATE, "length": object()}])
    assert script.asked == []


@pytest.mark.parametrize("body", [b"<html>hello</html>", [1, 2], {"verdict": "pass"}, {"hello": 1}])
def test_something_else_answers(script: Scripted, body: Any) -> None:
    script.replies = [Reply(body=body)]
    with pytest.raises(UnreadableAnswer):
        ask(Client(script.url))


def test_a_proxy_speaks_for_a_dead_service(script: Scripted, waits: list[float]) -> None:
    script.replies = [Reply(502, body=b"<html>bad gateway</html>")]
    with pytest.raises(ServerError) as caught:
        ask(Client(script.url))
    assert caught.value.title == "Bad Gateway"
    assert caught.value.errors == ()
    assert len(waits) == 1


def test_a_session_of_ones_own(script: Scripted) -> None:
    class Watched(requests.Session):
        closed = False

        def close(self) -> None:
            self.closed = True

    script.replies = [FINE]
    session = Watched()
    session.auth = ("me", "mine")
    adapter = session.get_adapter(script.url)
    with Client(script.url, session=session) as client:
        ask(client)
    assert session.closed is False
    assert session.get_adapter(script.url) is adapter
    assert script.asked[0].headers["Authorization"].startswith("Basic ")


def test_the_clients_own_session_is_closed(script: Scripted, monkeypatch: pytest.MonkeyPatch) -> None:
    closed: list[bool] = []
    monkeypatch.setattr(requests.Session, "close", lambda _: closed.append(True))
    with Client(script.url):
        assert closed == []
    assert closed == [True]


def test_a_name_in_an_address_is_quoted(script: Scripted) -> None:
    script.replies = [Reply(404, body={"type": "/problems/not_found"})]
    with pytest.raises(Exception, match="not_found"):
        Client(script.url).get_problem(code="a/b c?")
    assert script.asked[0].path == "/problems/a%2Fb%20c%3F"
