"""One running service for all ways of use."""

from collections.abc import Iterator

import pytest

from tests.live_service import live_service


@pytest.fixture(scope="session")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with live_service(tmp_path_factory.mktemp("meshes")) as url:
        yield url
