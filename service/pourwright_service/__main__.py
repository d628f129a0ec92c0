"""``python -m pourwright_service``: write the OpenAPI document or the SDK's models, count the
tables' figures, compile the kernels, or serve."""

import argparse
import json
from collections.abc import Sequence
from pathlib import Path

from .api.openapi import document
from .api.registry import REGISTRY
from .app import create_app
from .engine.tables.census import counts_text, doubtful_page
from .write_models import write

DOCUMENT = Path("openapi/openapi.json")
SDK = Path("sdk/pourwright")


def openapi_text() -> str:
    """The OpenAPI document of the service as it is kept in openapi/."""
    return json.dumps(document(REGISTRY), indent=1, ensure_ascii=False, sort_keys=False) + "\n"


def main(arguments: Sequence[str] | None = None) -> int:
    """The command line; returns the exit code."""
    parser = argparse.ArgumentParser(prog="pourwright-service", description=__doc__)
    commands = parser.add_subparsers(dest="command", required=True)
    openapi = commands.add_parser("openapi", help="write the OpenAPI document")
    openapi.add_argument("path", nargs="?", type=Path, default=DOCUMENT, help=f"file, default {DOCUMENT}")
    models = commands.add_parser("models", help="write the SDK's models and methods")
    models.add_argument("folder", nargs="?", type=Path, default=SDK, help=f"the SDK, default {SDK}")
    tables = commands.add_parser("tables", help="count the figures of the tables by grade")
    tables.add_argument(
        "--doubtful", action="store_true", help="list those from memory and by rule, as Markdown"
    )
    commands.add_parser("warm", help="compile the kernels, once for each machine")
    serve = commands.add_parser("serve", help="serve on this machine for development; gunicorn for the rest")
    serve.add_argument("--host", default="127.0.0.1")
    serve.add_argument("--port", type=int, default=8780)
    given = parser.parse_args(arguments)
    if given.command == "openapi":
        given.path.parent.mkdir(parents=True, exist_ok=True)
        given.path.write_text(openapi_text(), encoding="utf-8")
        print(f"written: {given.path}")
        return 0
    if given.command == "models":
        if not (given.folder / "client.py").is_file():
            parser.error(f"{given.folder} is not the folder of the SDK")
        for path in write(REGISTRY, given.folder):
            print(f"changed: {path}")
        return 0
    if given.command == "tables":
        print(doubtful_page() if given.doubtful else counts_text(), end="")
        return 0
    if given.command == "warm":
        from .engine.freeze_map.warm import warm  # here, because numba is slow to load

        warm()
        print("the kernels are ready")
        return 0
    create_app().run(given.host, given.port)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
