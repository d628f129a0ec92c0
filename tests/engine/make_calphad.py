"""Makes calphad.json: equilibrium liquidus and solidus from an independent CALPHAD run.

Run by hand, never by the test suite, and only when a point is added or pycalphad is upgraded:

    python3 -m venv calphad-venv
    calphad-venv/bin/pip install pycalphad
    calphad-venv/bin/python tests/engine/make_calphad.py

pycalphad is deliberately no dependency of the project (it brings some 600 MB): the tests read the
fixture. The thermodynamic databases are the two that pycalphad ships inside its own wheel for its own
tests: COST507.tdb (European light-metal database, round II) and alzn_mey.tdb (an Al-Zn assessment).

What is computed: the liquidus is the lowest temperature at which the whole alloy is liquid, the solidus
the highest at which no liquid is left, both at equilibrium and one atmosphere, each found by bisection
on the mole fraction of liquid to 0.001 K and written to 0.01 C. An equilibrium solidus is an upper bound
for a real casting of that very composition: coring (Scheil) keeps some liquid down to the last eutectic or
peritectic. A handbook's solidus may lie on either side of it, for it describes an alloy with more in it.

Why the phases are named one by one: with every phase of COST507 in the list, phases that the database
does not assess for the binary in hand can win and give nonsense. In Cu-Zn the ternary phase ALCUZN_T does
so: with it a 5 % Zn alloy is not wholly liquid even at 1300 C. Each list holds the liquid and the solids
that truly meet it near the composition; the whole list, tried once on one or more alloys of every system
but Cu-Zn, gave the same temperatures to 0.02 K. Of the choices:

- Cu-Zn up to 15 % needs only fcc; 30 % Zn also gets beta (BCC_B2), gamma and the zinc-rich hcp, which
  turn out not to matter there.
- Cu-Al gets the bcc beta, which decides the solidus from about 7.7 % Al on and the liquidus beyond the
  eutectic at about 8.6 %. Left out, the run gives 1043.5/1031.2 C at 8 % and 1032.0/1015.8 C at 9 %: fcc
  carried on past the point where beta freezes.
- Zn-27Al has no copper in alzn_mey, so it is not ZA-27 (which carries 2 % Cu); it is kept as a caution.
- Cu-Sn is not computed at all: COST507 has no assessed Cu-Sn and returns a smooth, wrong answer.
"""

import json
import sys
import warnings
from datetime import date
from importlib.metadata import version
from pathlib import Path

import numpy as np
import pycalphad
from pycalphad import Database, Workspace
from pycalphad import variables as v

OUT = Path(__file__).with_name("calphad.json")
DATABASES = Path(pycalphad.__file__).parent / "tests" / "databases"
ZERO_C_K = 273.15
ATMOSPHERE_PA = 101325.0
TOLERANCE_K = 0.001
SMALL_FRACTION = 1e-7

COST507 = "COST507.tdb"
ALZN = "alzn_mey.tdb"

# (system as it is written, database, balance element, other elements in weight per cent, phases,
#  bracket in C: wholly solid at the first, wholly liquid at the second)
Point = tuple[str, str, str, dict[str, float], list[str], tuple[float, float]]

FCC = ["LIQUID", "FCC_A1"]
CU_ZN_RICH = ["LIQUID", "FCC_A1", "BCC_B2", "CUZN_GAMMA", "HCP_ZN"]
CU_AL = ["LIQUID", "FCC_A1", "BCC_A2"]
AL_SI = ["LIQUID", "FCC_A1", "DIAMOND_A4"]
AL_SI_MG = [*AL_SI, "MG2SI"]
AL_SI_CU = [*AL_SI, "ALCU_THETA"]
AL_MG = ["LIQUID", "FCC_A1", "ALMG_BETA"]
AL_CU = ["LIQUID", "FCC_A1", "ALCU_THETA"]
AL_ZN = ["LIQUID", "FCC_A1", "HCP_A3"]

MOLAR_MASS = {"CU": 63.546, "ZN": 65.38, "SI": 28.085, "AL": 26.9815, "MG": 24.305}

COPPER_C = (600.0, 1150.0)
ALUMINIUM_C = (400.0, 720.0)
ZINC_C = (300.0, 600.0)

POINTS: list[Point] = [
    ("Cu", COST507, "CU", {}, FCC, COPPER_C),
    ("Cu-5Zn", COST507, "CU", {"ZN": 5.0}, FCC, COPPER_C),
    ("Cu-10Zn", COST507, "CU", {"ZN": 10.0}, FCC, COPPER_C),
    ("Cu-15Zn", COST507, "CU", {"ZN": 15.0}, FCC, COPPER_C),
    ("Cu-30Zn", COST507, "CU", {"ZN": 30.0}, CU_ZN_RICH, COPPER_C),
    ("Cu-3Si", COST507, "CU", {"SI": 3.0}, FCC, COPPER_C),
    ("Cu-5Al", COST507, "CU", {"AL": 5.0}, CU_AL, COPPER_C),
    ("Cu-8Al", COST507, "CU", {"AL": 8.0}, CU_AL, COPPER_C),
    ("Cu-9Al", COST507, "CU", {"AL": 9.0}, CU_AL, COPPER_C),
    ("Al", COST507, "AL", {}, FCC, ALUMINIUM_C),
    ("Al-1Si", COST507, "AL", {"SI": 1.0}, AL_SI, ALUMINIUM_C),
    ("Al-3Si", COST507, "AL", {"SI": 3.0}, AL_SI, ALUMINIUM_C),
    ("Al-5Si", COST507, "AL", {"SI": 5.0}, AL_SI, ALUMINIUM_C),
    ("Al-7Si", COST507, "AL", {"SI": 7.0}, AL_SI, ALUMINIUM_C),
    ("Al-9Si", COST507, "AL", {"SI": 9.0}, AL_SI, ALUMINIUM_C),
    ("Al-11Si", COST507, "AL", {"SI": 11.0}, AL_SI, ALUMINIUM_C),
    ("Al-12Si", COST507, "AL", {"SI": 12.0}, AL_SI, ALUMINIUM_C),
    ("Al-7Si-0.35Mg", COST507, "AL", {"SI": 7.0, "MG": 0.35}, AL_SI_MG, ALUMINIUM_C),
    ("Al-6Si-3.5Cu", COST507, "AL", {"SI": 6.0, "CU": 3.5}, AL_SI_CU, ALUMINIUM_C),
    ("Al-8.5Si-3.5Cu", COST507, "AL", {"SI": 8.5, "CU": 3.5}, AL_SI_CU, ALUMINIUM_C),
    ("Al-2Mg", COST507, "AL", {"MG": 2.0}, AL_MG, ALUMINIUM_C),
    ("Al-4Mg", COST507, "AL", {"MG": 4.0}, AL_MG, ALUMINIUM_C),
    ("Al-6.8Mg", COST507, "AL", {"MG": 6.8}, AL_MG, ALUMINIUM_C),
    ("Al-4.5Cu", COST507, "AL", {"CU": 4.5}, AL_CU, ALUMINIUM_C),
    ("Zn-4Al", ALZN, "ZN", {"AL": 4.0}, AL_ZN, ZINC_C),
    ("Zn-11.4Al", ALZN, "ZN", {"AL": 11.4}, AL_ZN, ZINC_C),
    ("Zn-27Al", ALZN, "ZN", {"AL": 27.0}, AL_ZN, ZINC_C),
]


class LiquidFraction:
    """The mole fraction of liquid of one alloy over temperature, each temperature computed once."""

    def __init__(self, database: Database, balance: str, others: dict[str, float], phases: list[str]) -> None:
        # Mole fractions, not v.W: with weight fractions pycalphad 0.11.2 misses some equilibria.
        self.fixed = {v.P: ATMOSPHERE_PA, v.N: 1.0}
        moles = {element: per_cent / MOLAR_MASS[element] for element, per_cent in others.items()}
        total = sum(moles.values()) + (100.0 - sum(others.values())) / MOLAR_MASS[balance]
        self.fixed |= {v.X(element): amount / total for element, amount in moles.items()}
        components = [balance, *others, "VA"]
        start = {**self.fixed, v.T: 1000.0}
        self.workspace = Workspace(database=database, components=components, phases=phases, conditions=start)
        self.known: dict[float, float] = {}

    def at(self, celsius: float) -> float:
        if celsius not in self.known:
            self.workspace.conditions = {**self.fixed, v.T: celsius + ZERO_C_K}
            names = np.asarray(self.workspace.eq.Phase).ravel()
            amounts = np.asarray(self.workspace.eq.NP).ravel()
            total = float(np.nansum(amounts))
            if abs(total - 1.0) > 1e-6:
                raise RuntimeError(f"no equilibrium at {celsius} C: phase amounts add up to {total}")
            self.known[celsius] = float(np.nansum(amounts[names == "LIQUID"]))
        return self.known[celsius]


def bisect(fraction: LiquidFraction, bracket: tuple[float, float], threshold: float) -> float:
    """The temperature (C) at which the fraction of liquid passes the threshold, rising with temperature."""
    low, high = bracket
    if fraction.at(low) > SMALL_FRACTION or fraction.at(high) < 1.0 - SMALL_FRACTION:
        raise RuntimeError(f"bracket {bracket} does not reach from wholly solid to wholly liquid")
    while high - low > TOLERANCE_K:
        middle = (low + high) / 2.0
        if fraction.at(middle) > threshold:
            high = middle
        else:
            low = middle
    return (low + high) / 2.0


def main() -> None:
    warnings.filterwarnings("ignore", category=UserWarning, module="pycalphad")
    databases = {name: Database(str(DATABASES / name)) for name in (COST507, ALZN)}
    points = []
    for system, name, balance, others, phases, bracket in POINTS:
        fraction = LiquidFraction(databases[name], balance, others, phases)
        liquidus = bisect(fraction, bracket, 1.0 - SMALL_FRACTION)
        solidus = bisect(fraction, bracket, SMALL_FRACTION)
        rest = round(100.0 - sum(others.values()), 6)
        composition = {balance: rest, **others}
        points.append(
            {
                "system": system,
                "composition_percent": {el.capitalize(): share for el, share in composition.items()},
                "liquidus_C": round(liquidus, 2),
                "solidus_C": round(solidus, 2),
                "database": name,
                "phases": phases,
            }
        )
        print(f"{system:16} {liquidus:8.2f} {solidus:8.2f}", file=sys.stderr)
    document = {
        "command": "python tests/engine/make_calphad.py",
        "pycalphad": version("pycalphad"),
        "database": f"{COST507} and {ALZN}, both from pycalphad's own wheel (pycalphad/tests/databases)",
        "date": date.today().isoformat(),
        "points": points,
    }
    OUT.write_text(json.dumps(document, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
