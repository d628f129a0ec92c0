"""A caller's own script, as mypy must find it without fault in strict mode. It is never run."""

from collections.abc import Sequence

from pourwright import Answer, Client, ProblemError, Quantity, VerdictError
from pourwright.models.charge import StockInput
from pourwright.models.freezing import FreezingResult
from pourwright.models.plan_result import PlanResult
from pourwright.models.sections import PlateSection


def weakest(answer: Answer[FreezingResult]) -> tuple[str, float]:
    first = min(answer.result.sections, key=lambda section: section.rank or 0)
    time: Quantity | None = first.freezing_time
    return first.name, time.to("min").value if time is not None else 0.0


def main() -> None:
    plate: PlateSection = {
        "name": "plate",
        "shape": "plate",
        "length": "200 mm",
        "width": Quantity(120, "mm"),
        "thickness": {"value": 0.5, "unit": "in"},
    }
    loose = {"name": "boss", "shape": "cylinder", "diameter": "40 mm", "height": "30 mm"}
    stock: Sequence[StockInput] = [{"name": "sprues", "alloy": "A356", "available": "4 kg", "price": "2 /kg"}]
    with Client("http://127.0.0.1:8780", api_key=None, timeout=(5, 60), retries=2) as client:
        try:
            answer = client.freezing(
                alloy="A356",
                mould={"medium": "green sand"},
                sections=[plate, loose],
                units="us",
                working=True,
            ).require()
            name, minutes = weakest(answer)
            print(f"{name} freezes first, after {minutes:.1f} min")
            plan: Answer[PlanResult] = client.plan(
                alloy="A356", part={"sections": [plate]}, stock=stock, shop={"crucibles": []}
            )
            masses = plan.result.masses
            if masses is not None and masses.poured is not None:
                print(f"{masses.poured.to('lb'):.2f}")
            for check in (*plan.failed, *plan.warnings):
                print(check.id, check.message, check.value)
            again = client.plan(**plan.resolved)
            assert again.result == plan.result
            mesh = client.upload_mesh("part.stl")
            print(mesh.id, mesh.volume, mesh.watertight)
            fitting = client.list_alloys(pours_below=Quantity(1100, "degC"), no_lead=True, sea_water="good")
            for alloy in (*fitting.undecided, *fitting.left_out):
                print(alloy.id, alloy.reasons)
            for fit in fitting.items:
                cells = client.get_alloy(id=fit.id).properties
                print(fit.pouring_low, [cell.source.grade for cell in cells if cell.conflicts])
            for formula in client.list_formulas().items:
                print(formula.id, formula.source.key)
        except VerdictError as error:
            print(error.answer.verdict)
        except ProblemError as error:
            print(error.status, error.request_id, [fault.pointer for fault in error.errors])
