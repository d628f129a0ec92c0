"""Prints how long things take, as ratios measured in one run, with the times beside them.

    python tests/benchmarks/run.py             all of it, about a minute
    python tests/benchmarks/run.py charge      one of: requests, plan, charge, pieces, makes, ready, sdk

Nothing is asserted: a busy machine is slow, and only ratios within one run mean something. The
subject and its yardstick take turns, and the median of the turns is printed.
"""

import json
import math
import os
import random
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any
from unittest import mock

import numpy as np
from flask.testing import FlaskClient
from scipy import optimize
from scipy.optimize import linprog

from pourwright_service.api.registry import REGISTRY, Endpoint, Registry
from pourwright_service.app import create_app
from pourwright_service.engine.decide.charge import prepare_charge
from pourwright_service.engine.decide.charge_matrices import Program, assemble
from pourwright_service.engine.ledger import Ledger
from pourwright_service.settings import Settings

ROOT = Path(__file__).resolve().parents[2]
Work = Callable[[], object]

FREEZING = {
    "mould_constant": "4 min/cm^2",
    "sections": [
        {"name": "plate", "shape": "plate", "length": "30 cm", "width": "10 cm", "thickness": "2 cm"}
    ],
}
RISER = {
    "mould_constant": "4 min/cm^2",
    "sections": FREEZING["sections"],
    "riser": {"position": "side", "shape": "cylinder", "height_to_diameter": 1.0, "criteria": ["time"]},
}


def main(asked: list[str]) -> None:
    parts = {
        "requests": requests,
        "plan": plan,
        "charge": charge,
        "pieces": pieces,
        "makes": makes,
        "ready": ready,
        "sdk": sdk,
    }
    unknown = set(asked) - set(parts)
    if unknown:
        sys.exit(f"there is no benchmark {', '.join(sorted(unknown))}; there are {', '.join(parts)}")
    print(f"Python {sys.version.split()[0]}, {os.cpu_count()} processors")
    print(f"{'what':<58} {'measured':>12} {'aim':>12}   times")
    for name in asked or parts:
        for line in parts[name]():
            print(line, flush=True)


def line(what: str, measured: str, aim: str, times: str = "") -> str:
    return f"{what:<58} {measured:>12} {aim:>12}   {times}"


# --- measuring --------------------------------------------------------------------------------


def turns(*works: Work, seconds: float = 3.0) -> list[float]:
    """Median time of one call of each, the works taking turns for about ``seconds`` in all."""
    batches = []
    for work in works:
        work()
        began = time.perf_counter()
        work()
        once = time.perf_counter() - began
        batches.append(max(1, math.floor(0.02 / max(once, 1e-6))))
    samples: list[list[float]] = [[] for _ in works]
    end = time.perf_counter() + seconds
    while time.perf_counter() < end or len(samples[0]) < 5:
        for work, batch, taken in zip(works, batches, samples, strict=True):
            began = time.perf_counter()
            for _ in range(batch):
                work()
            taken.append((time.perf_counter() - began) / batch)
    return [statistics.median(taken) for taken in samples]


def milliseconds(seconds: float) -> str:
    return f"{1e3 * seconds:.3g} ms"


def endpoint_of(operation: str) -> Endpoint:
    return REGISTRY.endpoints[operation]


def client(folder: str, registry: Registry = REGISTRY) -> FlaskClient:
    return create_app(Settings(mesh_dir=Path(folder)), registry).test_client()


def poster(caller: FlaskClient, path: str, sent: Mapping[str, Any]) -> Work:
    """Posts one request; the first answer must be an answer."""
    body = json.dumps(sent)

    def post() -> object:
        return caller.post(path, data=body, content_type="application/json")

    reply = caller.post(path, data=body, content_type="application/json")
    if reply.status_code != 200:
        sys.exit(f"{path} answers {reply.status}: {reply.get_data(as_text=True)[:2000]}")
    return post


# --- one line or more each --------------------------------------------------------------------


def requests() -> Iterator[str]:
    """Small requests against the same schemas with nothing computed between them."""
    beside = {**RISER, "alternatives": True}
    failing = {**RISER, "riser": {"diameter": "40 mm", "height": "40 mm"}}
    for operation, sent, aim, more in (
        ("freezing", FREEZING, "<= 3", ""),
        ("riser", RISER, "<= 4", ""),
        ("riser", beside, "<= 20", ", alternatives,"),
        ("riser", failing, "<= 20", ", remedies,"),
    ):
        declared = endpoint_of(operation)
        ready_made = declared.function(declared.request.load(sent))
        passing = Registry()
        passing.endpoint(
            "POST",
            declared.path,
            operation=operation,
            tag="",
            summary="",
            description="",
            request=type(declared.request),
            answer=type(declared.answer),
            examples=declared.examples,
        )(lambda _, ready_made=ready_made: ready_made)
        with tempfile.TemporaryDirectory() as folder:
            real, through = turns(
                poster(client(folder), declared.path, sent),
                poster(client(folder, passing), declared.path, sent),
            )
        yield line(
            f"{declared.path}{more} over a pass through its schemas",
            f"{real / through:.2f}",
            aim,
            f"{milliseconds(real)} and {milliseconds(through)}",
        )


def plan() -> Iterator[str]:
    """A whole plan, from sections, with eight kinds of metal in stock."""
    sent = plan_request()
    with tempfile.TemporaryDirectory() as folder:
        (taken,) = turns(poster(client(folder), "/v1/plan", sent))
    yield line("/v1/plan from sections, 8 stock items", milliseconds(taken), "<= 25 ms")


def plan_request() -> dict[str, Any]:
    """The declared example of a plan without its mesh, its stock brought to eight items."""
    examples = endpoint_of("plan").examples.values()
    sent: dict[str, Any] = json.loads(json.dumps(next(e for e in examples if "sections" in e["part"])))
    sent["part"].pop("mesh", None)
    stock = sent.get("stock") or [{"name": "ingot", "alloy": sent["alloy"], "price": "14 /kg"}]
    while len(stock) < 8:
        extra = json.loads(json.dumps(stock[len(stock) % 3 % len(stock)]))
        extra["name"] = f"{extra['name']} {len(stock)}"
        stock.append(extra)
    return {**sent, "stock": stock[:8]}


ELEMENTS = ("Cu", "Sn", "Zn", "Pb", "Ni", "Fe", "Si", "Mn", "Al", "P", "S", "Sb", "Co", "Ag", "Bi")


def charge_request(items: int = 40, seed: int = 7) -> dict[str, Any]:
    """An invented blend of ``items`` stock items in 15 elements that can be met."""
    rng = random.Random(seed)
    stock = []
    for number in range(items):
        others = {element: round(rng.uniform(0.0, 3.0) * rng.random(), 3) for element in ELEMENTS[1:]}
        stock.append(
            {
                "name": f"lot {number}",
                "composition_percent": {"Cu": round(100.0 - sum(others.values()), 3), **others},
                "available": f"{rng.uniform(2.0, 20.0):.2f} kg",
                "price": f"{rng.uniform(2.0, 15.0):.2f} /kg",
            }
        )
    limits = {element: [None, 1.2] for element in ELEMENTS[1:]}
    return {
        "limits_percent": {"Cu": [80.0, None], **limits},
        "melt_mass": "60 kg",
        "margin": "robust",
        "stock": stock,
        "smallest_lot": "0 kg",
    }


def charge() -> Iterator[str]:
    """A charge of 40 items in 15 elements: the engine, and over HTTP, against linprog alone.

    A charge is solved with certainty and without, for the price of certainty; linprog solves what
    the engine solves, the same matrices.
    """
    sent = charge_request()
    declared = endpoint_of("charge")
    case = declared.request.load(sent)
    solves = [linear_program(program) for program in watched_programs(lambda: declared.function(case))]
    with tempfile.TemporaryDirectory() as folder:
        plain, engine, http = turns(
            lambda: [solve() for solve in solves],
            lambda: declared.function(case),
            poster(client(folder), declared.path, sent),
            seconds=8.0,
        )
    for what, taken, aim in (("engine", engine, "<= 2"), ("HTTP", http, "<= 5")):
        yield line(
            f"charge, 40 items x 15 elements: {what} over linprog",
            f"{taken / plain:.2f}",
            aim,
            f"{milliseconds(taken)} and {milliseconds(plain)}; programs: {len(solves)}",
        )


def charge_pieces_request(items: int = 20) -> dict[str, Any]:
    """An invented blend of which a third comes in pieces, with the usual smallest lots."""
    sent = charge_request(items)
    rng = random.Random(11)
    for number, item in enumerate(sent["stock"]):
        if number % 3 == 0:
            item["piece"] = f"{rng.uniform(0.4, 3.0):.3f} kg"
    del sent["smallest_lot"]
    return {**sent, "melt_mass": "30 kg", "explain": False}


def pieces() -> Iterator[str]:
    """A charge with whole pieces and smallest lots against scipy's milp on the same two models."""
    declared = endpoint_of("charge")
    case = declared.request.load(charge_pieces_request())
    inputs = prepare_charge(case, Ledger())
    models = [assemble(inputs, robust=robust) for robust in (False, True)]
    plain, engine = turns(
        lambda: [integer_program(model) for model in models],
        lambda: declared.function(case),
        seconds=8.0,
    )
    yield line(
        "charge, 20 items, pieces and lots: engine over milp",
        f"{engine / plain:.2f}",
        "<= 1.2",
        f"{milliseconds(engine)} and {milliseconds(plain)}",
    )


def integer_program(model: Program) -> object:
    """scipy's milp on the model itself, to the same gap."""
    return optimize.milp(
        c=model.costs[0],
        integrality=model.kinds,
        bounds=optimize.Bounds(model.floor, model.ceiling),
        constraints=optimize.LinearConstraint(model.rows, model.low, model.high),
        options={"mip_rel_gap": model.gap},
    )


def makes() -> Iterator[str]:
    """Which of all alloys the declared example's stock can make."""
    examples = endpoint_of("plan").examples.values()
    stock = next(example["stock"] for example in examples if "stock" in example)
    with tempfile.TemporaryDirectory() as folder:
        (taken,) = turns(poster(client(folder), "/v1/charge/makes", {"stock": stock}))
    yield line(f"/v1/charge/makes, {len(stock)} items, all alloys", milliseconds(taken), "<= 150 ms")


def watched_programs(work: Work) -> list[Mapping[str, Any]]:
    """The linear programs, unlike each other, that the engine hands to its solver."""
    programs: list[Mapping[str, Any]] = []
    solver = optimize.milp

    def watching(**program: Any) -> Any:
        if not any(same_program(program, other) for other in programs):
            programs.append(program)
        return solver(**program)

    with mock.patch.object(optimize, "milp", watching):
        work()
    return programs


def same_program(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether two programs have the same matrix and the same costs."""
    return all(
        np.array_equal(first, second)
        for first, second in (
            (one["constraints"].A, other["constraints"].A),
            (one["c"], other["c"]),
        )
    )


def linear_program(program: Mapping[str, Any]) -> Work:
    """scipy's linprog on the matrices of one of the engine's solves."""
    rows, low, high = (np.asarray(getattr(program["constraints"], part)) for part in ("A", "lb", "ub"))
    has_high, has_low = np.isfinite(high), np.isfinite(low)
    above, below = (
        np.vstack((rows[has_high], -rows[has_low])),
        np.concatenate((high[has_high], -low[has_low])),
    )
    bounds = np.column_stack((program["bounds"].lb, program["bounds"].ub))
    cost = np.asarray(program["c"])
    if linprog(cost, A_ub=above, b_ub=below, bounds=bounds).status != 0:
        sys.exit("linprog does not solve the engine's program")
    return lambda: linprog(cost, A_ub=above, b_ub=below, bounds=bounds)


GUNICORN = [
    *(sys.executable, "-m", "gunicorn", "--config", "deploy/gunicorn.conf.py", "--graceful-timeout", "1"),
    "pourwright_service.app:create_app()",
]


def ready() -> Iterator[str]:
    """From the start of gunicorn to the first good answer of /readyz."""
    samples = []
    for _ in range(5):
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            place = f"127.0.0.1:{free.getsockname()[1]}"
        with tempfile.TemporaryDirectory() as folder:
            environment = {**os.environ, "POURWRIGHT_BIND": place, "POURWRIGHT_MESH_DIR": folder}
            began = time.perf_counter()
            server = subprocess.Popen(GUNICORN, cwd=ROOT, env=environment, stderr=subprocess.DEVNULL)
            try:
                wait_for(f"http://{place}/readyz", server)
                samples.append(time.perf_counter() - began)
            finally:
                server.terminate()
                server.wait(timeout=30)
    yield line(
        "service ready", f"{statistics.median(samples):.2f} s", "<= 1.2 s", f"best {min(samples):.2f} s"
    )


def wait_for(address: str, server: subprocess.Popen[bytes]) -> None:
    opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    while server.poll() is None:
        try:
            with opener.open(address, timeout=5):
                return
        except OSError:
            time.sleep(0.005)
    sys.exit("the service stopped before it was ready")


SDK_IMPORT = """
import time
import requests
began = time.perf_counter()
from pourwright import Client
print(time.perf_counter() - began)
"""


def sdk() -> Iterator[str]:
    """Importing the SDK in a fresh interpreter that has imported requests already."""
    samples = [
        float(
            subprocess.run(
                [sys.executable, "-c", SDK_IMPORT], capture_output=True, text=True, check=True
            ).stdout
        )
        for _ in range(9)
    ]
    yield line("import of the SDK beyond requests", milliseconds(statistics.median(samples)), "<= 50 ms")


if __name__ == "__main__":
    main(sys.argv[1:])
