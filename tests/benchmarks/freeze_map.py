"""Prints what the freeze map costs, as ratios measured in one run, with the times beside them.

    python -m tests.benchmarks.freeze_map          all of it, about two minutes
    python -m tests.benchmarks.freeze_map draft    one of: accuracy, grids, draft, triad, explicit,
                                                   fipy, voxels, memory

FiPy is wanted for one line only and is no dependency: ``pip install fipy``. Nothing is asserted:
a busy machine is slow, and only ratios within one run mean something.
"""

import importlib.util
import math
import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import numba
import numpy as np
import trimesh

from pourwright_service.engine.freeze_map import heat
from pourwright_service.engine.freeze_map.heat import Conduction, freeze
from pourwright_service.engine.freeze_map.warm import warm
from pourwright_service.engine.geometry.voxel_grid import block_round
from pourwright_service.engine.geometry.voxels import voxelise
from tests.engine.freeze_cases import BRONZE, SAND, frozen, metal
from tests.engine.heat_solvers import freezing_times

BYTES = 44
"""Moved for each cell and stage: nine arrays read, two written, of 4 bytes."""


def line(what: str, found: str, aim: str = "", more: str = "") -> str:
    return f"{what:<62} {found:>12}  {aim:<12} {more}"


def best(work: Callable[[], object], times: int = 3) -> float:
    taken = []
    for _ in range(times):
        began = time.perf_counter()
        work()
        taken.append(time.perf_counter() - began)
    return min(taken)


def ball(fineness: int = 5) -> trimesh.Trimesh:
    return trimesh.creation.icosphere(subdivisions=fineness, radius=0.03)


def casting() -> trimesh.Trimesh:
    """A block with edges in no grid's directions."""
    solid = trimesh.creation.box((0.12, 0.07, 0.05))
    solid.apply_transform(trimesh.transformations.rotation_matrix(0.5, (1.0, 2.0, 3.0)))
    return solid


def accuracy() -> Iterator[str]:
    """A superheated ball of bronze against one dimension."""
    _, times = freezing_times(BRONZE, SAND, 0.03, 3)
    for cells in (40, 64):
        for how in ("draft", "normal", "fine"):
            found = frozen(ball(), cells=cells**3, accuracy=how)
            error = 100.0 * (found.end / times.max() - 1.0)
            yield line(
                f"ball, {0.03 / found.block.cell:.0f} cells to the radius, {how}",
                f"{error:+.2f} %",
                "<= 1 %",
                f"heat lost {found.imbalance:.1e}",
            )


def grids() -> Iterator[str]:
    """Whole runs, voxels and the first small map included."""
    solid = casting()
    for cells, aim in ((64, "<= 0.5 s"), (100, "<= 2 s"), (128, "<= 4 s")):
        found: list[Any] = []
        taken = best(lambda c=cells, f=found: f.append(frozen(solid, cells=c**3)), 2)
        one = found[0]
        yield line(
            f"{cells}^3 cells in all, one processor, normal",
            f"{taken:.2f} s",
            aim,
            f"{one.stages} stages, {1e9 * taken / one.stages / one.cells:.2f} ns for a cell and stage",
        )


def draft() -> Iterator[str]:
    """A draft, and how well it ranks the cells that freeze last."""
    solid = casting()
    found: list[Any] = []
    taken = best(lambda: found.append(frozen(solid, cells=40**3, accuracy="draft")), 5)
    yield line("40^3 draft", f"{1e3 * taken:.0f} ms", "<= 60 ms", f"{found[0].stages} stages")


@numba.njit(nogil=True, fastmath=True)
def _triad(to: Any, one: Any, other: Any, factor: Any) -> None:
    for n in range(to.size):
        to[n] = one[n] + factor * other[n]


def triad() -> Iterator[str]:
    """Numbers a second that a stage reads and writes, over those of the plain triad a = b + s c on
    as much memory. Above 100 % the stages taken together find their numbers in the cache."""
    for cells in (64, 100, 126):
        case, size = uniform(cells), 11 * cells**3 // 3
        arrays = [np.ones(size, np.float32) for _ in range(3)]
        work = partial(_triad, *arrays, np.float32(2.0))
        work()
        speed = 12 * size / best(work, 7) / 1e9
        began = time.perf_counter()
        done = freeze(case, "draft")
        ours = BYTES * cells**3 * done.stages / (time.perf_counter() - began) / 1e9
        yield line(
            f"{cells}^3, one processor: share of the memory's bandwidth",
            f"{100.0 * ours / speed:.0f} %",
            ">= 50 %",
            f"{ours:.1f} of {speed:.1f} GB/s",
        )


def uniform(cells: int, figures: Any = BRONZE, side: float = 0.1) -> Conduction:
    """A cube of metal in a cube of sand, on even cells: what other solvers can be given too."""
    width = side / cells
    shape = (cells, cells, cells)
    inner = slice(cells // 2 - cells // 5, cells // 2 + cells // 5)
    is_metal = np.zeros(shape, bool)
    is_metal[inner, inner, inner] = True
    substance = metal(figures)
    conductivity = np.where(is_metal, figures["conductivity"], SAND["conductivity"])
    along = []
    for axis in range(3):
        ways = 0.5 / conductivity
        link = width / (ways + np.roll(ways, -1, axis))
        for place in (0, -2, -1):
            index = [slice(None)] * 3
            index[axis] = slice(place, place + 1 or None)
            link[tuple(index)] = 0.0
        along.append(link.astype(np.float32))
    volume = np.where(is_metal, width**3, 0.0)
    rest = np.where(is_metal, 0.0, width**3 * SAND["density"] * SAND["specific_heat"])
    started = np.where(
        is_metal,
        volume * substance.heat_at(figures["start_temperature"]),
        rest * (SAND["start_temperature"] - figures["solidus"]),
    )
    first = 0.05 * width**2 * SAND["density"] * SAND["specific_heat"] / SAND["conductivity"]
    fields = [field.astype(np.float32) for field in (volume, rest, started)]
    return Conduction(substance, fields[0], fields[1], (along[0], along[1], along[2]), fields[2], first)


def explicit() -> Iterator[str]:
    """The same case by plain explicit steps: how many stages the long steps save."""
    case = uniform(64)
    done = freeze(case, "normal")
    from pourwright_service.engine.freeze_map import heat_kernels

    rate = heat_kernels.quickest(
        *case.along, case.metal, case.rest, np.float32(case.substance.least_capacity)
    )
    plain = math.ceil(done.end * rate / heat.SAFETY)
    yield line(
        "64^3: plain explicit steps over our stages",
        f"{plain / done.stages:.1f}",
        "",
        f"{plain} and {done.stages}",
    )


FIPY = """
import sys, time
import numpy as np
from fipy import CellVariable, DiffusionTerm, FaceVariable, Grid3D, TransientTerm
from fipy.solvers.scipy import LinearPCGSolver
size, width, span, metal_k, sand_k = int(sys.argv[1]), *map(float, sys.argv[2:6])
solid_c, freezing_c, liquid_c, sand_c, wide, start, cold = map(float, sys.argv[6:13])
count = size - 2
mesh = Grid3D(nx=count, ny=count, nz=count, dx=width, dy=width, dz=width)
inner = np.zeros((size,) * 3, bool)
part = slice(size // 2 - size // 5, size // 2 + size // 5)
inner[part, part, part] = True
inner = inner[1:-1, 1:-1, 1:-1].transpose(2, 1, 0).ravel()
warm = CellVariable(mesh=mesh, value=np.where(inner, start, cold), hasOld=True)
conductivity = CellVariable(mesh=mesh, value=np.where(inner, metal_k, sand_k)).harmonicFaceValue
capacity = CellVariable(mesh=mesh, value=0.0)
equation = TransientTerm(coeff=capacity) == DiffusionTerm(coeff=conductivity)
solver = LinearPCGSolver(tolerance=1e-8, iterations=500)
def heat(t):
    above = freezing_c * wide + liquid_c * (t - wide)
    return np.where(t < 0, solid_c * t, np.where(t < wide, freezing_c * t, above))
began, steps = time.perf_counter(), 0
while steps < 4:
    warm.updateOld()
    old = np.array(warm.value)
    for sweep in range(4):  # the capacity between the old and the new temperature
        now = np.array(warm.value)
        apart = np.abs(now - old) > 1e-6
        slope = np.where(now < 0, solid_c, np.where(now < wide, freezing_c, liquid_c))
        secant = np.where(apart, (heat(now) - heat(old)) / np.where(apart, now - old, 1.0), slope)
        capacity.setValue(np.where(inner, secant, sand_c))
        equation.sweep(var=warm, dt=span, solver=solver)
    steps += 1
print((time.perf_counter() - began) / steps)
"""


def fipy() -> Iterator[str]:
    """FiPy, implicit, in steps of 1 % of the freezing time: four of its steps, and the rest by count.

    Time alone is compared: its own error at that step is not measured here.
    """
    if importlib.util.find_spec("fipy") is None:
        yield line("against FiPy", "not here", "", "pip install fipy")
        return
    cells, side = 64, 0.1
    case = uniform(cells)
    done = freeze(case, "normal")
    ours = best(lambda: freeze(case, "normal"), 2)
    substance = case.substance
    figures = (
        cells,
        side / cells,
        done.end / 100.0,
        BRONZE["conductivity"],
        SAND["conductivity"],
        substance.solid_capacity,
        *substance.capacities,
        SAND["density"] * SAND["specific_heat"],
        substance.freezing_range,
        BRONZE["start_temperature"] - BRONZE["solidus"],
        SAND["start_temperature"] - BRONZE["solidus"],
    )
    ran = subprocess.run(
        [sys.executable, "-c", FIPY, *map(str, figures)], capture_output=True, text=True, check=True
    )
    theirs = 100.0 * float(ran.stdout.split()[-1])
    yield line(
        "64^3, 1 thread: FiPy's 100 implicit steps over our whole run",
        f"{theirs / ours:.0f}",
        ">= 200",
        f"{theirs:.0f} s and {ours:.2f} s",
    )


def voxels() -> Iterator[str]:
    """A ball of 1.3 million triangles on 128^3 cells; then with one in twenty missing."""
    triangles = np.ascontiguousarray(ball(8).triangles)
    block = block_round(triangles.min(axis=(0, 1)), triangles.max(axis=(0, 1)), 128**3)
    whole = voxelise([triangles], block, [36.0], 0.8)
    taken = best(lambda: voxelise([triangles], block, [36.0], 0.8))
    yield line(
        f"voxels on {block.counts[0]}^3 from {len(triangles)} triangles, links included",
        f"{taken:.2f} s",
        "<= 0.3 s",
        "for 1 million",
    )
    kept = np.ascontiguousarray(triangles[np.random.default_rng(5).random(len(triangles)) > 0.05])
    holed = voxelise([kept], block, [36.0], 0.8)
    wrong = np.count_nonzero((holed.shares > 0.5) != (whole.shares > 0.5))
    yield line(
        "  wrong cells with 5 % of the triangles missing",
        f"{100.0 * wrong / np.count_nonzero(whole.shares > 0.5):.2f} %",
        "<= 0.3 %",
    )


MEMORY = """
from pathlib import Path
from tests.benchmarks.freeze_map import casting, frozen, warm

def most():
    words = Path("/proc/self/status").read_text().split()
    return int(words[words.index("VmHWM:") + 1])

warm()
before = most()
found = frozen(casting(), cells=128**3, accuracy="draft")
print(before, most(), found.cells)
"""


def memory() -> Iterator[str]:
    """The most memory a process of its own takes (Linux)."""
    if not Path("/proc/self/status").exists():
        yield line("memory of a process", "not told here")
        return
    ran = subprocess.run([sys.executable, "-c", MEMORY], capture_output=True, text=True, check=True,
                         cwd=Path(__file__).resolve().parents[2])  # fmt: skip
    before, most, cells = map(int, ran.stdout.split())
    yield line(
        "memory of a process, 128^3",
        f"{most / 1024:.0f} MB",
        "<= 600 MB",
        f"{1024 * (most - before) / cells:.0f} B for each cell at the height of it",
    )


LINES: dict[str, Callable[[], Iterator[str]]] = {
    work.__name__: work for work in (accuracy, grids, draft, triad, explicit, fipy, voxels, memory)
}


def main(names: list[str]) -> None:
    unknown = [name for name in names if name not in LINES]
    if unknown:
        sys.exit(f"unknown: {', '.join(unknown)}; known: {', '.join(LINES)}")
    load = os.getloadavg()[0]
    print(f"{os.cpu_count()} processors, load {load:.1f} when this began; times are worth what that leaves")
    began = time.perf_counter()
    warm()
    print(
        line("kernels ready", f"{time.perf_counter() - began:.2f} s", "", "seconds more when first compiled")
    )
    for name in names or LINES:
        for text in LINES[name]():
            print(text, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
