"""Published cases as tables: each row is one request to the service and what must come out of it.

A row has ``id``, ``source`` and ``place`` (where it is printed), ``kind`` (``printed``: the expected
number stands in the source; ``derived``: it follows from what stands there, and ``reason`` says
how), ``request``, and ``expected``: a list of ``{"at": pointer into the answer, "value", "unit",
"tolerance"}`` with a relative tolerance and, in ``reason``, why so much. ``between`` instead of
``value`` gives two ends. ``over``: ``{"at", "request"}`` divides by another number of the same
answer, or of the answer to another request. ``not`` lists numbers that are printed somewhere and
wrong: the answer must keep its distance from them.
"""

import json
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

from flask.testing import FlaskClient

from pourwright_service.app import create_app
from pourwright_service.settings import Settings

HERE = Path(__file__).parent


def rows(name: str) -> list[dict[str, Any]]:
    """The rows of ``name``.json."""
    table: dict[str, Any] = json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))
    for row in table["rows"]:
        row.setdefault("path", table["path"])
    return list(table["rows"])


@cache
def client() -> FlaskClient:
    """One service for all rows; calculations keep no state."""
    return create_app(Settings(mesh_dir=Path(tempfile.mkdtemp()))).test_client()


def pose(path: str, request: dict[str, Any]) -> dict[str, Any]:
    """The service's answer to a request that it must accept."""
    response = client().post(path, json=request)
    assert response.status_code == 200, response.get_json()
    answer: dict[str, Any] = response.get_json()
    return answer


def at(answer: Any, pointer: str) -> Any:
    """The value at a JSON pointer."""
    for part in pointer.strip("/").split("/"):
        answer = answer[int(part) if isinstance(answer, list) else part]
    return answer


PER_UNIT = {
    ("s", "min"): 60.0,
    ("s", "h"): 3600.0,
    ("mm", "cm"): 10.0,
    ("min/cm^2", "s/mm^2"): 100.0 / 60.0,
    ("min/cm^2", "s/m^2"): 1.0 / 6e5,
    ("kJ/kg", "J/kg"): 1e-3,
}
"""(unit of the answer, unit of the row): how many of the first make one of the second."""


def number(answer: Any, pointer: str, unit: str) -> float:
    """The number at a pointer in ``unit`` (empty for a bare number)."""
    found = at(answer, pointer)
    assert found is not None, f"{pointer} is null"
    if not unit:
        return float(found)
    if found["unit"] != unit:
        assert (found["unit"], unit) in PER_UNIT, f"{pointer} is in {found['unit']}, the row in {unit}"
        return float(found["value"]) / PER_UNIT[found["unit"], unit]
    return float(found["value"])


def wanted_number(row: dict[str, Any], answer: Any, wanted: dict[str, Any]) -> float:
    """The number that an entry of ``expected`` or ``not`` is about."""
    got = number(answer, wanted["at"], wanted["unit"])
    if "over" in wanted:
        over = wanted["over"]
        other = pose(row["path"], over["request"]) if "request" in over else answer
        got /= number(other, over["at"], wanted["unit"])
    return got


def check_row(row: dict[str, Any]) -> None:
    """Pose the row and compare."""
    answer = pose(row["path"], row["request"])
    for wanted in row["expected"]:
        got = wanted_number(row, answer, wanted)
        if "between" in wanted:
            low, high = wanted["between"]
            assert low <= got <= high, f"{wanted['at']}: {got} is not between {low} and {high}"
        else:
            off = abs(got / wanted["value"] - 1.0)
            assert off <= wanted["tolerance"], f"{wanted['at']}: {got}, {row['kind']} {wanted['value']}"
    for wrong in row.get("not", ()):
        got = wanted_number(row, answer, wrong)
        assert abs(got / wrong["value"] - 1.0) > wrong["away"], f"{wrong['at']}: {got}, a known misprint"
