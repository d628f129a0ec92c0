import hashlib
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from pourwright_service.api.openapi import document as make_document
from pourwright_service.api.registry import REGISTRY
from pourwright_service.app import create_app
from pourwright_service.settings import Settings

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"


@pytest.fixture(scope="session")
def document() -> dict[str, Any]:
    """The OpenAPI document of the service as it is now."""
    return make_document(REGISTRY)


@pytest.fixture(scope="session")
def client(tmp_path_factory: pytest.TempPathFactory) -> FlaskClient:
    """The service, with the meshes of the invented boat yard that examples speak of."""
    settings = Settings(mesh_dir=Path(tmp_path_factory.mktemp("meshes")))
    asking = create_app(settings).test_client()
    for path in SCENARIO.glob("*.stl"):
        body = path.read_bytes()
        asking.put(f"/v1/meshes/{hashlib.sha256(body).hexdigest()}", data=body)
    return asking
