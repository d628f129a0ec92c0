"""The house: rooms import only from floors below, and the SDK brings nothing but requests."""

import pkgutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pourwright_service
from pourwright_service import engine

ROOT = Path(__file__).resolve().parents[2]
LINTER = "import sys; from importlinter.cli import lint_imports_command; sys.exit(lint_imports_command())"


def lint(*arguments: str) -> subprocess.CompletedProcess[str]:
    """import-linter in a process of its own, without its cache."""
    command = [sys.executable, "-c", LINTER, "--no-cache", *arguments]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=120)


def run(code: str) -> str:
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False, timeout=120
    )
    assert ran.returncode == 0, ran.stderr
    return ran.stdout


def contracts() -> list[dict[str, object]]:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text())
    return settings["tool"]["importlinter"]["contracts"]


def test_the_import_contracts_are_kept() -> None:
    ran = lint()
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert f"Contracts: {len(contracts())} kept, 0 broken" in ran.stdout


def test_the_linter_would_see_a_breach(tmp_path: Path) -> None:
    """The floors upside down must be reported: the ledger does import the formula's recorder."""
    config = tmp_path / "upside_down.ini"
    config.write_text(
        "[importlinter]\nroot_package = pourwright_service\n"
        "[importlinter:contract:upside-down]\nname = upside down\ntype = layers\n"
        "layers =\n    pourwright_service.engine.formula\n    pourwright_service.engine.ledger\n"
    )
    ran = lint("--config", str(config))
    assert ran.returncode != 0
    assert "pourwright_service.engine.ledger -> pourwright_service.engine.formula" in ran.stdout


def test_every_room_of_the_service_has_a_floor() -> None:
    """A room that no contract names could import whatever it likes."""
    layers = next(found["layers"] for found in contracts() if found["type"] == "layers")
    assert isinstance(layers, list)
    named = {room.strip() for layer in layers for room in layer.replace(":", "|").split("|")}
    rooms = {
        found.name
        for package in (pourwright_service, engine)
        for found in pkgutil.iter_modules(package.__path__, package.__name__ + ".")
    }
    assert rooms - named == {"pourwright_service.engine"}


LOADED = """
import sys
before = set(sys.modules)
{imports}
names = {{name.partition('.')[0] for name in set(sys.modules) - before}}
print(*sorted(name for name in names if name not in sys.stdlib_module_names))
"""

WHOLE_SDK = """
import importlib, pkgutil, pourwright
for found in pkgutil.walk_packages(pourwright.__path__, "pourwright."):
    importlib.import_module(found.name)
"""


def test_the_sdk_imports_nothing_beyond_requests() -> None:
    """Measured in fresh interpreters: what requests itself brings may differ by machine."""
    requests = set(run(LOADED.format(imports="import requests")).split())
    assert "requests" in requests
    plain = set(run(LOADED.format(imports="import pourwright")).split())
    whole = set(run(LOADED.format(imports=WHOLE_SDK)).split())
    assert "pourwright" in plain
    assert plain - requests <= {"pourwright"}
    assert whole - requests == {"pourwright"}


def test_the_engine_needs_no_web() -> None:
    whole = """
import importlib, pkgutil
from pourwright_service import engine
for found in pkgutil.walk_packages(engine.__path__, "pourwright_service.engine."):
    importlib.import_module(found.name)
"""
    brought = set(run(LOADED.format(imports=whole)).split())
    assert "pourwright_service" in brought
    assert brought.isdisjoint({"flask", "werkzeug", "marshmallow", "apispec", "pint", "requests"})
