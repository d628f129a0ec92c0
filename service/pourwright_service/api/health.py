"""For the operator: is the process alive, and can it serve?"""

from typing import Any

from ..engine.tables.alloys import ALLOYS
from ..engine.tables.reading import tables_version
from ..engine.tables.sources import SOURCES
from .envelope import ENGINE_VERSION
from .meshes import store
from .problems import Problem
from .registry import resource
from .schemas import Choice, Count, Result, Text


class HealthResult(Result):
    """A sign of life."""

    status = Choice(("ok",), "The process answers.", required=True)
    engine_version = Text("Version of the engine.", required=True)


class ReadyResult(Result):
    """What a request needs is there."""

    status = Choice(("ready",), "Requests can be served.", required=True)
    tables_version = Text("Changes when any figure of the tables does.", required=True)
    alloys = Count("Alloys in the tables.", required=True)
    sources = Count("Sources that the tables and formulas name.", required=True)


@resource(
    "GET",
    "/healthz",
    operation="health",
    tag="Operator",
    summary="Whether the process is alive",
    description="Answers as long as the process does; needs no key.",
    answer=HealthResult,
)
def healthz() -> dict[str, Any]:
    return {"status": "ok", "engine_version": ENGINE_VERSION}


@resource(
    "GET",
    "/readyz",
    operation="ready",
    tag="Operator",
    summary="Whether the service can serve",
    description="The tables are loaded and meshes can be stored; needs no key. 503 otherwise.",
    answer=ReadyResult,
    problems=("unavailable",),
)
def readyz() -> dict[str, Any]:
    if not store().writable():
        raise Problem("unavailable", "the folder for meshes cannot be written to")
    return {
        "status": "ready",
        "tables_version": tables_version(),
        "alloys": len(ALLOYS),
        "sources": len(SOURCES),
    }
