"""The invented boat yard's bench at the terminal: what the bucket makes, what stays out and why."""

import json
import re
from typing import Any

import pytest

from .test_terminal import SCENARIO, pourwright

PLAN = json.loads((SCENARIO / "fairlead_plan.json").read_text(encoding="utf-8"))
BENCH: dict[str, Any] = {"currency": "EUR", "stock": PLAN["stock"]}


def ask(service: str, subject: str, **job: Any) -> str:
    done = pourwright(subject, "-", given=json.dumps({**BENCH, **job}), columns=100, POURWRIGHT_URL=service)
    assert done.returncode == 0, done.stdout + done.stderr
    assert max(map(len, done.stdout.splitlines())) <= 100
    return done.stdout


def part(printed: str, heading: str) -> str:
    """What stands under a heading."""
    found = re.search(rf"^{heading}\n(.*?)(?=^[A-Z][^a-z\n]*$)", printed, re.MULTILINE | re.DOTALL)
    assert found, f"no {heading} in {printed}"
    return re.sub(r"\s+", " ", found[1])


def test_why_the_fittings_stay_on_the_shelf(service: str) -> None:
    printed = ask(service, "charge", alloy="C87300", melt_mass="4.2 kg")
    reasons = part(printed, "WHY NO MORE OF")
    assert "fittings one lot, 84 g, would bring Zn to 0.702 %, and the melt may hold 0.25 %" in reasons
    assert "ingot too dear: 1.5 kg of it would make the charge dearer by" in reasons


def test_what_certainty_and_every_limit_cost(service: str) -> None:
    printed = ask(service, "charge", alloy="C87300", melt_mass="4.2 kg", relaxation=True)
    charge = part(printed, "CHARGE")
    cost = re.search(r" cost (\d+\.\d\d) EUR", charge)
    certainty = re.search(r"of that for certainty (\d+\.\d\d) EUR", charge)
    assert cost
    assert certainty
    assert 0.0 < float(certainty[1]) < float(cost[1])
    limits = part(printed, "WHAT LIMITS COST")
    assert re.search(r"Mn minimum 0\.8 % 0\.72 % \d+\.\d\d EUR \d+\.\d\d EUR", limits)


def test_what_the_bucket_makes(service: str) -> None:
    printed = ask(service, "makes")
    makes = part(printed, "MAKES")
    assert makes.index("C87300") < makes.index("C11000")
    uses = re.search(r" C87300 (\d.*?) C65500 \d", part(printed, "CHARGE"))
    assert uses
    assert "bolts" in uses[1]
    assert "fittings" not in uses[1]
    assert re.search(r"C90500 Sn minimum 9 % 0 %", part(printed, "CANNOT MAKE"))


def test_two_castings_from_one_bench(service: str) -> None:
    melts = [
        {"name": "fairlead", "alloy": "C87300", "melt_mass": "3 kg"},
        {"name": "plate", "alloy": "C81100", "melt_mass": "1 kg"},
    ]
    printed = ask(service, "melts", melts=melts)
    assert "salvaged bolts" in part(printed, "FAIRLEAD")
    assert "copper pipe" in part(printed, "PLATE")
    assert "cost of all" in part(printed, "TOGETHER")
    assert "fittings 800 g" in part(printed, "LEFT")


@pytest.mark.parametrize("subject", ["makes", "melts"])
def test_help_names_the_question(subject: str) -> None:
    done = pourwright(subject, "--help")
    assert done.returncode == 0
    assert "FILE holds the request" in done.stdout
