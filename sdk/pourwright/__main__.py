"""``python -m pourwright plan FILE``: ask the service from a terminal, and read the answer there."""

from __future__ import annotations

import argparse
import codecs
import json
import os
import shutil
import sys
from collections.abc import Sequence
from typing import Any, NoReturn

from .client import Client
from .errors import ConnectionFailed, PourwrightError, UnreadableAnswer
from .patch import patched
from .terminal.files import BadFile, read_job, upload_meshes, write_job
from .terminal.show import answer_text

SUBJECTS = {
    "plan": "the whole pour plan of a part",
    "draw": "how a pattern is drawn from the sand, and which cores it needs",
    "freezing": "which section freezes last, and when",
    "riser": "the riser that feeds a casting",
    "gating": "sprue, runner and gates",
    "pour-time": "how long the pour may take, and how hot",
    "charge": "which mix of the stock makes a melt",
}
EXITS = {"pass": 0, "warn": 0, "fail": 2, "unknown": 3}
_MOST_MENDED = 12
_NARROWEST, _WIDEST = 40, 110

_HELP = """
FILE holds the request as JSON or TOML ('-': standard input). In a plan part.mesh, in a draw mesh,
may say file = "part.stl" instead of an id; the file is looked for beside FILE and uploaded.

ends with 0 if it can be done (pass, warn), 2 if not (fail), 3 if something needed is missing
(unknown), and 1 on an error.
"""


class _Parser(argparse.ArgumentParser):
    """Usage errors end with 1, because 2 means that the job cannot be done."""

    def error(self, message: str) -> NoReturn:
        self.print_usage(sys.stderr)
        self.exit(1, f"{self.prog}: {message}\n")


def _parser() -> argparse.ArgumentParser:
    common = _Parser(add_help=False)
    common.add_argument("file", metavar="FILE", help="the request, JSON or TOML; '-' is standard input")
    common.add_argument("--url", help="address of the service (else POURWRIGHT_URL)")
    common.add_argument("--units", choices=("metric", "us"), help="units of the answer")
    common.add_argument("--timeout", type=_seconds, default=60.0, metavar="SECONDS", help="default 60")
    common.add_argument("--defaults", action="store_true", help="list every value that was chosen for you")
    common.add_argument("--working", action="store_true", help="show every formula with its numbers")
    common.add_argument(
        "--mend", action="store_true", help="while checks fail, make the change that is offered and ask again"
    )
    common.add_argument("--save", metavar="FILE", help="with --mend: write the mended request there")
    common.add_argument("--json", action="store_true", help="print the answer as JSON")
    parser = _Parser(
        prog="python -m pourwright",
        description="Plan a sand casting before any metal is melted.",
        epilog=_HELP,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    commands = parser.add_subparsers(dest="subject", required=True, metavar="COMMAND")
    for subject, says in SUBJECTS.items():
        commands.add_parser(
            subject,
            parents=[common],
            help=says,
            description=f"Ask for {says}.",
            epilog=_HELP,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
    return parser


def _seconds(text: str) -> float:
    seconds = float(text)
    if not 0 < seconds < 86_400:
        raise ValueError
    return seconds


def main(arguments: Sequence[str] | None = None) -> int:
    """The command line; returns the exit code."""
    _write_anything()
    given = _parser().parse_args(arguments)
    try:
        data = _ask(given)
        _print(data, given)
    except (BadFile, PourwrightError) as error:
        print(_sorry(error), file=sys.stderr)
        return 1
    except BrokenPipeError:
        # whoever read the output has seen enough; keep Python from complaining as it closes
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except KeyboardInterrupt:
        return 1
    return EXITS[data["verdict"]]


def _ask(given: argparse.Namespace) -> dict[str, Any]:
    job, folder = read_job(given.file)
    with Client(given.url, timeout=(5, given.timeout)) as client:
        upload_meshes(job, folder, client)
        data = _answered(client, given, job)
        for _ in range(_MOST_MENDED if given.mend else 0):
            remedy = _best(data)
            if remedy is None:
                break
            print(f"mended: {remedy['message']}", file=sys.stderr)
            job = patched(job, remedy["patch"])
            data = _answered(client, given, job)
        if given.save:
            write_job(job, given.save)
        return data


def _answered(client: Client, given: argparse.Namespace, job: dict[str, Any]) -> dict[str, Any]:
    params = {"units": given.units, "working": "true" if given.working else None}
    try:
        data = client.data("POST", f"/v1/{given.subject}", body=job, params=params)
    except (TypeError, ValueError) as error:
        raise BadFile(f"the request holds what JSON cannot say: {error}") from error
    if data.get("verdict") not in EXITS:
        raise UnreadableAnswer(f"what answers at {client.base_url} is not Pourwright: no verdict came")
    return data


def _best(data: dict[str, Any]) -> dict[str, Any] | None:
    """The remedy after which the answer stands best; the first of equals. None where none is offered."""
    order = ["pass", "warn", "unknown", "fail"]
    offered: list[dict[str, Any]] = data.get("remedies") or []
    return min(offered, key=lambda remedy: order.index(remedy["verdict"]), default=None)


def _print(data: dict[str, Any], given: argparse.Namespace) -> None:
    if given.json:
        print(json.dumps(data, indent=1, ensure_ascii=False))
    else:
        width = max(_NARROWEST, min(shutil.get_terminal_size().columns, _WIDEST))
        print(answer_text(given.subject, data, width, all_defaults=given.defaults))
    sys.stdout.flush()


def _sorry(error: Exception) -> str:
    if not isinstance(error, ConnectionFailed):
        return str(error)
    return (
        f"{error}\n"
        "Is the service running? Start it in another window with deploy/serve (in a clone of Pourwright),\n"
        "or say where it is: --url http://HOST:PORT, or the variable POURWRIGHT_URL."
    )


_LETTERS = {"°": "deg ", "²": "^2", "³": "^3", "⁴": "^4", "±": "+/-", "×": "x", "≥": ">=", "≤": "<="}


def _write_anything() -> None:
    """A terminal that lacks a letter gets the nearest plain one instead of a failure."""

    def nearest(error: UnicodeError) -> tuple[str, int]:
        if not isinstance(error, UnicodeEncodeError):
            raise error
        lost = error.object[error.start : error.end]
        return "".join(_LETTERS.get(letter, "?") for letter in lost), error.end

    codecs.register_error("nearest", nearest)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="nearest")


if __name__ == "__main__":
    sys.exit(main())
