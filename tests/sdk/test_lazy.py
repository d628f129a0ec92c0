"""What is imported, and when."""

import subprocess
import sys

import pytest

import pourwright


def run(script: str) -> str:
    return subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60
    ).stdout


def test_importing_loads_next_to_nothing() -> None:
    script = (
        "import sys, pourwright; print([m for m in sys.modules if m.startswith(('pourwright', 'requests'))])"
    )
    assert run(script).strip() == "['pourwright']"


def test_a_client_loads_no_models() -> None:
    script = (
        "import sys; from pourwright import Client; Client();"
        "print([m for m in sys.modules if m.startswith('pourwright.models')])"
    )
    assert run(script).strip() == "[]"


def test_models_load_per_subject(service: str) -> None:
    script = (
        f"import sys; from pourwright import Client; Client({service!r}).list_problems();"
        "print([m for m in sys.modules if m.startswith('pourwright.models.')])"
    )
    assert run(script).strip() == "['pourwright.models.docs']"


def test_only_requests_and_the_standard_library() -> None:
    script = (
        "import sys\n"
        "import pourwright.__main__, pourwright.client\n"
        "heavy = {'numpy', 'scipy', 'flask', 'marshmallow', 'pint', 'pourwright_service'}\n"
        "print({m.partition('.')[0] for m in sys.modules} & heavy)"
    )
    assert run(script).strip() == "set()"


@pytest.mark.parametrize("name", pourwright.__all__)
def test_every_public_name_is_there(name: str) -> None:
    assert getattr(pourwright, name).__name__ == name
    assert name in dir(pourwright)


def test_no_other_name() -> None:
    with pytest.raises(AttributeError, match="no attribute 'client_of_something'"):
        pourwright.__getattr__("client_of_something")


def test_version() -> None:
    assert pourwright.__version__[0].isdigit()
