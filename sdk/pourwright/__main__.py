"""``python -m pourwright plan FILE``: ask the service from a terminal, and read the answer there.

``alloys`` and ``alloy NAME`` look into its tables.
"""

from __future__ import annotations

import argparse
import codecs
import json
import os
import shutil
import sys
from collections.abc import Callable, Sequence
from typing import Any, NoReturn

from .client import Client
from .errors import ConnectionFailed, PourwrightError, UnreadableAnswer
from .patch import patched
from .terminal.files import BadFile, read_job, upload_meshes, write_job
from .terminal.layout import titled
from .terminal.mesh_job import add_mesh_options, joined, map_job, write_files
from .terminal.show import alloy_page, alloys_page, answer_text
from .transport import part

SUBJECTS = {
    "plan": "the whole pour plan of a part",
    "draw": "how a pattern is drawn from the sand, and which cores it needs",
    "freezing": "which section freezes last, and when",
    "riser": "the riser that feeds a casting",
    "gating": "sprue, runner and gates",
    "pour-time": "how long the pour may take, and how hot",
    "charge": "which mix of the stock makes a melt",
    "freeze-map": "where a mesh freezes last, by conduction cell by cell",
    "makes": "which alloys the stock can make",
    "melts": "the charges of several melts from one stock",
    "melt": "heat, fuel, time and cost of a melt, and whether crucible and gas bottle do",
    "sand": "what to mix for a batch of moulding sand",
    "pattern": "how large the pattern must be",
    "calibration": "what your own trials say of mould, risers, melting and contraction",
    "cooling-curve": "liquidus and solidus from the log of a sample cup",
}
FOUND, NONE_FITS, UNDECIDED = 0, 2, 3
PATHS = {"makes": "charge/makes", "melts": "charge/melts", "freeze-map": "freeze-maps"}
"""Where a question is asked whose address is not its own name."""

EXITS = {"pass": 0, "warn": 0, "fail": 2, "unknown": 3}
_MOST_MENDED = 12
_NARROWEST, _WIDEST = 40, 110

_HELP = """
FILE holds the request as JSON or TOML ('-': standard input). In a plan part.mesh, in a draw mesh,
may say file = "part.stl" instead of an id; the file is looked for beside FILE and uploaded.

ends with 0 if it can be done (pass, warn), 2 if not (fail), 3 if something needed is missing
(unknown), and 1 on an error.
"""

_MAP_HELP = """
FILE is a mesh (STL, OBJ, PLY, 3MF), or the request as JSON or TOML ('-': standard input). Of a mesh,
pictures of three planes through what freezes last are written too.

ends with 0 if it can be done (pass, warn), 2 if not (fail), 3 if something needed is missing
(unknown), and 1 on an error.
"""

_ALLOYS_HELP = """
Filters add up. Every alloy is judged by the figures of the tables: those of which they do not say
enough are listed apart, and --left-out gives the reasons for the rest.

ends with 0 if an alloy fits, 2 if none does, 3 if none does but of some not enough is known, and
1 on an error.
"""


class _Parser(argparse.ArgumentParser):
    """Usage errors end with 1, because 2 means that the job cannot be done."""

    def error(self, message: str) -> NoReturn:
        self.print_usage(sys.stderr)
        self.exit(1, f"{self.prog}: {message}\n")


def _parser() -> argparse.ArgumentParser:
    every = _Parser(add_help=False)
    every.add_argument("--url", help="address of the service (else POURWRIGHT_URL)")
    every.add_argument("--units", choices=("metric", "us"), help="units of the answer")
    every.add_argument("--timeout", type=_seconds, default=60.0, metavar="SECONDS", help="default 60")
    every.add_argument("--json", action="store_true", help="print the answer as JSON")
    common = _Parser(add_help=False)
    common.add_argument("file", metavar="FILE", help="the request, JSON or TOML; '-' is standard input")
    common.add_argument("--defaults", action="store_true", help="list every value that was chosen for you")
    common.add_argument("--working", action="store_true", help="show every formula with its numbers")
    common.add_argument(
        "--mend", action="store_true", help="while checks fail, make the change that is offered and ask again"
    )
    common.add_argument(
        "--save",
        metavar="FILE",
        help="with --mend: write the mended request there (JSON; TOML for FILE.toml)",
    )
    parser = _Parser(
        prog="python -m pourwright",
        description="Plan a sand casting before any metal is melted.",
        epilog=_HELP,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    commands = parser.add_subparsers(dest="subject", required=True, metavar="COMMAND")
    for subject, says in SUBJECTS.items():
        command = commands.add_parser(
            subject,
            parents=[common, every],
            help=says,
            description=f"Ask for {says}.",
            epilog=_MAP_HELP if subject == "freeze-map" else _HELP,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        if subject == "freeze-map":
            add_mesh_options(command)
    _add_tables(commands, every)
    return parser


def _add_tables(commands: Any, every: argparse.ArgumentParser) -> None:
    """The commands that look into the tables."""
    alloys = commands.add_parser(
        "alloys",
        parents=[every],
        help="which alloys fit a need",
        description="List the alloys of the tables, or those that fit a need.",
        epilog=_ALLOYS_HELP,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    alloys.add_argument(
        "--below", dest="pours_below", metavar="TEMPERATURE", help="can be poured there, as '1100 degC'"
    )
    alloys.add_argument("--no-lead", action="store_true", help="no lead beyond a trace; some: --lead-at-most")
    alloys.add_argument("--lead-at-most", metavar="SHARE", help="no more lead than this, as '0.25 %%'")
    alloys.add_argument("--no-zinc-fume", action="store_true", help="no zinc beyond a trace, or poured cool")
    alloys.add_argument(
        "--sea-water", nargs="?", const="good", choices=("good", "fair"), help="lasts in sea water"
    )
    alloys.add_argument(
        "--short-freezing",
        dest="freezing_class",
        action="store_const",
        const="short",
        help="short freezing range",
    )
    alloys.add_argument("--family", metavar="METAL", help="base metal: copper, aluminium, zinc, ...")
    alloys.add_argument("--search", metavar="TEXT", help="in a name, designation, group or other name")
    alloys.add_argument("--left-out", action="store_true", help="say why the others are left out")
    alloy = commands.add_parser(
        "alloy", parents=[every], help="all that is known of one alloy", description="Show one alloy."
    )
    alloy.add_argument("name", metavar="NAME", help="its id, name or another name")


def _seconds(text: str) -> float:
    seconds = float(text)
    if not 0 < seconds < 86_400:
        raise ValueError
    return seconds


def main(arguments: Sequence[str] | None = None) -> int:
    """The command line; returns the exit code."""
    _write_anything()
    given = _parser().parse_args(joined(sys.argv[1:] if arguments is None else arguments))
    code = 1
    try:
        data, code, text = _LOOK_UPS.get(given.subject, _calculate)(given)
        _print(data, given, text)
    except (BadFile, PourwrightError) as error:
        print(_sorry(error), file=sys.stderr)
        return 1
    except BrokenPipeError:
        # whoever read the output has seen enough; keep Python from complaining as it closes
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except KeyboardInterrupt:
        return 1
    return code


_Told = tuple[dict[str, Any], int, Callable[[int], str]]
"""What came back, the exit code, and its text by the terminal's width."""


def _calculate(given: argparse.Namespace) -> _Told:
    data = _ask(given)
    code = EXITS[data["verdict"]]
    written = write_files(data, given) if given.subject == "freeze-map" else []

    def text(width: int) -> str:
        said = answer_text(given.subject, data, width, all_defaults=given.defaults)
        return "\n".join([said, *titled("written", [f"  {name}" for name in written])])

    return data, code, text


def _list_alloys(given: argparse.Namespace) -> _Told:
    wanted = {
        "pours_below": given.pours_below,
        "no_lead": "true" if given.no_lead else None,
        "lead_at_most": given.lead_at_most,
        "no_zinc_fume": "true" if given.no_zinc_fume else None,
        "sea_water": given.sea_water,
        "freezing_class": given.freezing_class,
        "family": given.family,
        "search": given.search,
        "units": given.units,
    }
    data = _look_up(given, "/v1/alloys", wanted, "items")
    code = FOUND if data["items"] else UNDECIDED if data["undecided"] else NONE_FITS
    return data, code, lambda width: alloys_page(data, width, left_out=given.left_out)


def _show_alloy(given: argparse.Namespace) -> _Told:
    data = _look_up(given, f"/v1/alloys/{part(given.name)}", {"units": given.units}, "properties")
    return data, FOUND, lambda width: alloy_page(data, width)


_LOOK_UPS = {"alloys": _list_alloys, "alloy": _show_alloy}


def _look_up(
    given: argparse.Namespace, path: str, params: dict[str, str | None], field: str
) -> dict[str, Any]:
    with Client(given.url, timeout=(5, given.timeout)) as client:
        data = client.data("GET", path, params=params)
        if field not in data:
            raise UnreadableAnswer(f"what answers at {client.base_url} is not Pourwright: no alloy came")
        return data


def _ask(given: argparse.Namespace) -> dict[str, Any]:
    job, folder = map_job(given) if given.subject == "freeze-map" else read_job(given.file)
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
        data = client.data("POST", f"/v1/{PATHS.get(given.subject, given.subject)}", body=job, params=params)
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


def _print(data: dict[str, Any], given: argparse.Namespace, text: Callable[[int], str]) -> None:
    """The answer as JSON, or as the text that suits the terminal's width."""
    if given.json:
        print(json.dumps(data, indent=1, ensure_ascii=False))
    else:
        print(text(max(_NARROWEST, min(shutil.get_terminal_size().columns, _WIDEST))))
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
