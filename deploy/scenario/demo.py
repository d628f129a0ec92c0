"""Plans the invented boat-yard castings through the SDK and prints the plans.

Everything here is made up: a community boat yard recasts a lost bow fairlead in silicon bronze, from
salvaged bolts and some ingot, and casts a pulley cheek with a cored hub in aluminium. The service's
address is taken from POURWRIGHT_URL. Ends with 0 if every plan can be done, 1 if not.
"""

import json
import shutil
import sys
from pathlib import Path

from pourwright import Client
from pourwright.terminal.show import plan_text

HERE = Path(__file__).parent
JOBS = ("fairlead_plan.json", "pulley_cheek_plan.json")


def main() -> int:
    """Send each job, print its plan, and say whether all can be done."""
    width = min(max(shutil.get_terminal_size().columns, 60), 110)
    undone = 0
    with Client() as service:
        for name in JOBS:
            job = json.loads((HERE / name).read_text(encoding="utf-8"))
            title = job.pop("title")
            mesh = job["part"]["mesh"]
            file = mesh.pop("file")
            mesh["id"] = service.upload_mesh(HERE / file).id
            answer = service.plan(**job)
            print("=" * width, f"{title} (invented; {file})", "=" * width, sep="\n")
            print(plan_text(answer.data, width))
            print()
            undone += answer.verdict not in ("pass", "warn")
    return 1 if undone else 0


if __name__ == "__main__":
    sys.exit(main())
