from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from pourwright_service.api.openapi import document as make_document
from pourwright_service.api.registry import REGISTRY
from pourwright_service.app import create_app
from pourwright_service.settings import Settings


@pytest.fixture(scope="session")
def document() -> dict[str, Any]:
    """The OpenAPI document of the service as it is now."""
    return make_document(REGISTRY)


@pytest.fixture(scope="session")
def client(tmp_path_factory: pytest.TempPathFactory) -> FlaskClient:
    settings = Settings(mesh_dir=Path(tmp_path_factory.mktemp("meshes")))
    return create_app(settings).test_client()
