"""Plain HTTP with curl: what anyone can ask without a library, and what a hostile caller gets."""

import hashlib
import json
import shutil
import struct
import subprocess
from pathlib import Path
from typing import Any

import pytest

CURL = shutil.which("curl")
pytestmark = pytest.mark.skipif(CURL is None, reason="curl is not on this machine")

SCENARIO = Path(__file__).parents[2] / "deploy" / "scenario"
PLATE = {"name": "plate", "shape": "plate", "length": "30 cm", "width": "10 cm", "thickness": "2 cm"}


def curl(
    url: str, *arguments: str, body: bytes | None = None, content_type: str = "application/json"
) -> tuple[int, dict[str, str], Any]:
    """Status, headers and JSON of one call."""
    command = [CURL or "curl", "-s", "-S", "--noproxy", "*", "-D", "-", "--max-time", "60", url, *arguments]
    if body is not None:
        command += ["-H", f"Content-Type: {content_type}", "-H", "Expect:", "--data-binary", "@-"]
    done = subprocess.run(command, input=body, capture_output=True, timeout=90, check=True)
    head, _, text = done.stdout.partition(b"\r\n\r\n")
    first, *rest = head.decode().split("\r\n")
    headers = {name.lower(): value for name, _, value in (line.partition(": ") for line in rest)}
    return int(first.split()[1]), headers, json.loads(text) if text.strip() else None


def test_a_textbook_posed_as_printed(service: str) -> None:
    body = json.dumps({"mould_constant": "4 min/cm^2", "sections": [PLATE]}).encode()
    status, headers, answer = curl(f"{service}/v1/freezing", body=body)
    assert status == 200
    assert headers["content-type"] == "application/json"
    assert next(iter(answer)) == "verdict"
    # Chvorinov: V = 600 cm3, A = 2 (300 + 60 + 20) = 760 cm2, t = 4 (600/760)^2 = 2.493 min
    assert answer["result"]["freezing_time"]["unit"] == "s"
    assert answer["result"]["freezing_time"]["value"] == pytest.approx(4 * (600 / 760) ** 2 * 60, rel=1e-9)


def test_a_mesh_and_its_plan(service: str) -> None:
    mesh = (SCENARIO / "fairlead.stl").read_bytes()
    name = hashlib.sha256(mesh).hexdigest()
    address = f"{service}/v1/meshes/{name}"
    assert curl(address, "-I")[0] == 404
    status, _, report = curl(address, "-X", "PUT", body=mesh, content_type="model/stl")
    assert (status, report["id"]) == (201, name)
    assert curl(address, "-I")[0] == 200
    assert curl(address)[2] == report
    job = json.loads((SCENARIO / "fairlead_plan.json").read_text("utf-8"))
    job["part"]["mesh"].pop("file")
    job["part"]["mesh"]["id"] = name
    status, _, answer = curl(f"{service}/v1/plan?units=us", body=json.dumps(job).encode())
    assert status == 200
    assert answer["verdict"] in ("pass", "warn")
    assert answer["result"]["masses"]["poured"]["unit"] == "lb"


@pytest.mark.parametrize(
    "path", ["/healthz", "/readyz", "/openapi.json", "/v1/alloys", "/v1/checks", "/problems"]
)
def test_what_can_be_looked_up(service: str, path: str) -> None:
    status, _, found = curl(service + path)
    assert status == 200
    assert found


@pytest.mark.parametrize(
    "thickness",
    [
        "9**9**8 mm",
        "1,5 mm",
        "1_000 mm",
        "nan mm",
        "-3 mm",
        "0 mm",
        "25.4",
        25.4,
        None,
        [],
        {"value": "1", "unit": "mm"},
    ],
)
def test_hostile_and_careless_sizes(service: str, thickness: Any) -> None:
    body = json.dumps(
        {"mould_constant": "4 min/cm^2", "sections": [{**PLATE, "thickness": thickness}]}
    ).encode()
    status, headers, problem = curl(f"{service}/v1/freezing", body=body)
    assert status == 422
    assert headers["content-type"] == "application/problem+json"
    assert problem["request_id"] == headers["x-request-id"]
    assert {fault["pointer"] for fault in problem["errors"]} == {"/sections/0/thickness"}


@pytest.mark.parametrize("mass", ["9**9**8 kg", "1,5 kg"])
def test_hostile_masses(service: str, mass: str) -> None:
    body = json.dumps({"poured_mass": mass, "thickness": "10 mm", "family": "iron"}).encode()
    status, _, problem = curl(f"{service}/v1/pour-time", body=body)
    assert status == 422
    assert problem["errors"][0]["pointer"] == "/poured_mass"


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        (b"[" * 900_000, 400),
        (b'{"sections": ' + b"[" * 450_000 + b"]" * 450_000 + b"}", 400),
        (b"x" * 10_000_000, 413),
        (b'{"a": NaN}', 400),
        (b'{"a": 1e400}', 400),
        (b'{"a": 1, "a": 2}', 400),
        (b'{"spoon": 1}', 422),
        (b"\xff", 400),
        (b"", 400),
    ],
)
def test_hostile_bodies(service: str, body: bytes, expected: int) -> None:
    status, headers, problem = curl(f"{service}/v1/plan", body=body)
    assert status == expected
    assert headers["content-type"] == "application/problem+json"
    assert problem["status"] == expected


def test_a_mesh_that_claims_to_be_huge(service: str) -> None:
    claim = bytes(80) + struct.pack("<I", 20_000_000) + bytes(500)
    name = hashlib.sha256(claim).hexdigest()
    status, _, problem = curl(
        f"{service}/v1/meshes/{name}", "-X", "PUT", body=claim, content_type="application/octet-stream"
    )
    assert status == 422
    assert problem["type"] == "/problems/mesh_damaged"


def test_wrong_turns(service: str) -> None:
    assert curl(f"{service}/v1/nothing")[0] == 404
    assert curl(f"{service}/v1/plan")[0] == 405
    assert curl(f"{service}/v1/plan", body=b"{}", content_type="text/plain")[0] == 415
