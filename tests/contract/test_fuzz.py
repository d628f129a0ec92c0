"""Random requests made from the document: whatever comes, the answer is as documented.

The seed is printed; ``POURWRIGHT_SEED`` repeats a run.
"""

import os
import random
import tempfile
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, seed, settings
from schemathesis import checks

from pourwright_service.app import create_app
from pourwright_service.settings import Settings

SEED = int(os.environ.get("POURWRIGHT_SEED") or random.SystemRandom().randrange(2**32))

APP = create_app(Settings(mesh_dir=Path(tempfile.gettempdir()) / "pourwright-fuzz-meshes"))
SCHEMA: Any = schemathesis.openapi.from_wsgi("/openapi.json", APP)

CHECKS = [
    checks.not_a_server_error,
    checks.status_code_conformance,
    checks.content_type_conformance,
    checks.response_schema_conformance,
]


@pytest.fixture(scope="module", autouse=True)
def _printed_seed() -> None:
    print(f"POURWRIGHT_SEED={SEED}")


@pytest.mark.long
@SCHEMA.parametrize()
@seed(SEED)
@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.generate],
    print_blob=True,
)
def test_every_answer_is_as_documented(case: Any) -> None:
    case.call_and_validate(checks=CHECKS)
