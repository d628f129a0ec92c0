"""Random requests made from the document: whatever comes, the answer is as documented.

The seed is printed; ``POURWRIGHT_SEED`` repeats a run.
"""

import os
import random
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, seed, settings
from schemathesis import checks

from pourwright_service.api.registry import REGISTRY
from pourwright_service.app import create_app
from pourwright_service.settings import Settings

SEED = int(os.environ.get("POURWRIGHT_SEED") or random.SystemRandom().randrange(2**32))

CALLS = [
    pytest.param(call.path, call.method, id=f"{call.method} {call.path}")
    for call in (*REGISTRY.endpoints.values(), *REGISTRY.resources.values())
]

CHECKS = [
    checks.not_a_server_error,
    checks.status_code_conformance,
    checks.content_type_conformance,
    checks.response_schema_conformance,
]


@pytest.fixture(scope="module")
def schema(tmp_path_factory: pytest.TempPathFactory) -> Any:
    print(f"POURWRIGHT_SEED={SEED}")
    app = create_app(Settings(mesh_dir=Path(tmp_path_factory.mktemp("meshes"))))
    return schemathesis.openapi.from_wsgi("/openapi.json", app)


@pytest.mark.long
@pytest.mark.parametrize(("path", "method"), CALLS)
def test_every_answer_is_as_documented(schema: Any, path: str, method: str) -> None:
    @seed(SEED)
    @settings(
        max_examples=40,
        deadline=None,
        suppress_health_check=list(HealthCheck),
        phases=[Phase.generate],
        print_blob=True,
    )
    @given(case=schema[path][method].as_strategy())
    def ask(case: Any) -> None:
        case.call_and_validate(checks=CHECKS)

    ask()
