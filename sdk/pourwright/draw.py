# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of draw."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .answer import Answer, Remedies, Units
    from .models.draw import DrawMeshInput, DrawResult
    from .quantity import JsonObject, QuantityInput


class DrawCalls(Transport):
    """The operations of draw."""

    def draw(
        self,
        *,
        mesh: DrawMeshInput | JsonObject,
        direction: Sequence[float] | None = None,
        parting_height: QuantityInput | None = None,
        draft_degrees: float | None = None,
        columns: int | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[DrawResult]:
        """How a pattern is drawn from the sand, where it parts, and which cores it needs.

        Looks through a mesh along the axes, square to its large flat faces and along your own direction: how
        much sand each draw would tear out with the best flat parting, where that sand lies and whether it
        wants a core, and which faces want draft.

        mesh: The mesh.
        direction: The draw's direction in the file's axes, instead of mesh.up.
        parting_height: Height of the flat parting above the lowest point along the draw; left out, the best.
        draft_degrees: Draft wanted, degrees: faces nearer to the draw's direction are told.
        columns: Columns of the grid along the longer side in plan.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.draw import DrawResult

        return self._ask(
            "/v1/draw",
            DrawResult,
            {
                "mesh": mesh,
                "direction": direction,
                "parting_height": parting_height,
                "draft_degrees": draft_degrees,
                "columns": columns,
            },
            units,
            working,
            remedies,
        )
