"""The service, and a scripted server, for the SDK's tests."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from pourwright import Client
from tests.live_service import Scripted, live_service, scripted_server


@pytest.fixture(scope="session")
def mesh_dir(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("meshes")


@pytest.fixture(scope="session")
def service(mesh_dir: Path) -> Iterator[str]:
    with live_service(mesh_dir) as url:
        yield url


@pytest.fixture
def client(service: str) -> Iterator[Client]:
    with Client(service, retries=0) as client:
        yield client


@pytest.fixture
def script() -> Iterator[Scripted]:
    with scripted_server() as script:
        yield script


@pytest.fixture(autouse=True)
def _no_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing of the machine's own settings reaches a test."""
    for name in ("POURWRIGHT_URL", "POURWRIGHT_API_KEY", "NETRC", "HTTP_PROXY", "http_proxy", "ALL_PROXY"):
        monkeypatch.delenv(name, raising=False)
