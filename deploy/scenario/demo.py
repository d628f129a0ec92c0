"""Plans the invented boat-yard castings through the SDK and prints the plans.

Everything here is made up: a community boat yard recasts a lost bow fairlead in silicon bronze, from
salvaged bolts and some ingot, and casts a pulley cheek with a cored hub in aluminium. The service's
address is taken from POURWRIGHT_URL. Then the fairlead is planned from its mesh alone, and one plan is
spoilt by a riser that is too small, and mended with the remedies that its answer offers. Ends with 0 if
every plan can be done, 1 if not.
"""

import json
import shutil
import sys
from pathlib import Path
from typing import Any

from pourwright import Client
from pourwright.terminal.envelope import mend_lines, remedy_lines
from pourwright.terminal.figures import shown
from pourwright.terminal.freeze_map import map_lines
from pourwright.terminal.layout import paragraph
from pourwright.terminal.show import plan_text

HERE = Path(__file__).parent
JOBS = ("fairlead_plan.json", "pulley_cheek_plan.json")


def main() -> int:
    """Send each job, print its plan, and say whether all can be done."""
    width = min(max(shutil.get_terminal_size().columns, 60), 110)
    undone = 0
    sent: list[dict[str, Any]] = []
    with Client() as service:
        for name in JOBS:
            job = json.loads((HERE / name).read_text(encoding="utf-8"))
            title = job.pop("title")
            mesh = job["part"]["mesh"]
            file = mesh.pop("file")
            mesh["id"] = service.upload_mesh(HERE / file).id
            sent.append(job)
            answer = service.plan(**job)
            print("=" * width, f"{title} (invented; {file})", "=" * width, sep="\n")
            print(plan_text(answer.data, width))
            print()
            undone += answer.verdict not in ("pass", "warn")
        undone += not from_the_mesh_alone(service, sent[0], width)
        undone += not mended(service, sent[0], width)
    return 1 if undone else 0


def from_the_mesh_alone(service: Client, job: dict[str, Any], width: int) -> bool:
    """The first plan without its sections, and what the pocket under the foot does to its riser."""
    print(
        "=" * width,
        "The same from the mesh alone, then with a cored pocket (invented)",
        "=" * width,
        sep="\n",
    )
    done = True
    for file in ("fairlead.stl", "fairlead_pocket.stl"):
        mesh = {**job["part"]["mesh"], "id": service.upload_mesh(HERE / file).id}
        plan = service.plan(**{**job, "part": {"mesh": mesh}, "riser": {}})
        print(*paragraph(f"{file}: {plan.message}", width), sep="\n")
        print(*map_lines(plan.result.freeze_map, width), sep="\n")
        if plan.result.riser is not None and plan.result.masses is not None:
            riser, masses = plan.result.riser, plan.result.masses
            poured = f"{shown(masses.riser)} of {shown(masses.poured)} poured"
            print(f"  riser {shown(riser.diameter)} across, {poured}\n")
        done = done and plan.verdict in ("pass", "warn")
    return done


def mended(service: Client, job: dict[str, Any], width: int) -> bool:
    """The first plan with a riser as small as the whole mesh's V/A would make it, then put right.

    Says each failed check with what would mend it, and makes the change after which the plan stands best.
    """
    print("=" * width, "What if the riser were 32 mm across? (invented)", "=" * width, sep="\n")
    job = {**job, "riser": {**job["riser"], "diameter": "32 mm", "height": "32 mm"}}
    order = ("pass", "warn", "unknown", "fail")
    while True:
        answer = service.plan(**job)
        print(*paragraph(answer.message, width, first=f"{answer.verdict.upper()}: "), sep="\n")
        if answer.verdict in ("pass", "warn") or not answer.remedies:
            return answer.verdict in ("pass", "warn")
        failed = [check for check in answer.data["checks"] if check["verdict"] == "fail"]
        print(*mend_lines(failed, answer.message, width), sep="\n")
        print(*remedy_lines(answer.data["remedies"], width), sep="\n")
        best = min(answer.remedies, key=lambda remedy: order.index(remedy.verdict))
        print(f"\nMade: {best.message}")
        job = best.applied(job)


if __name__ == "__main__":
    sys.exit(main())
