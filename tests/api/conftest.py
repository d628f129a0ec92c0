import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from pourwright_service.app import create_app
from pourwright_service.settings import Settings

from .toy import TOYS

Ask = Callable[..., TestResponse]


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(mesh_dir=tmp_path / "meshes")


@pytest.fixture
def client(settings: Settings) -> FlaskClient:
    """The service itself."""
    return create_app(settings).test_client()


@pytest.fixture
def yard(client: FlaskClient) -> FlaskClient:
    """The service with the invented boat yard's fairlead stored, under the id that examples name."""
    mesh = (Path(__file__).parents[2] / "deploy" / "scenario" / "fairlead.stl").read_bytes()
    client.put(f"/v1/meshes/{hashlib.sha256(mesh).hexdigest()}", data=mesh)
    return client


@pytest.fixture
def toy_client(settings: Settings) -> FlaskClient:
    """A service that offers nothing but the toy."""
    return create_app(settings, TOYS).test_client()


@pytest.fixture
def ask(toy_client: FlaskClient) -> Ask:
    """Ask the toy: ``ask(depth="1 mm")``; the query goes into ``query``."""

    def asking(query: str = "", **fields: Any) -> TestResponse:
        return toy_client.post(f"/v1/toy{query}", json={"depth": "25.4 mm", **fields})

    return asking
